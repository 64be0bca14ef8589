"""Offer a lighter copy of footage that this machine cannot play at its rate, and make it in the background."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject

from ..film.cards import spoken_size
from ..film.film import Source
from .jobs import Jobs, Progress
from .widgets import MessageBar, Toast

if TYPE_CHECKING:
    from .session import Session

BUTTON = "Make a lighter copy to play"


class Lightening(QObject):
    """Follows one session after the other. A source is spoken of once."""

    def __init__(self, jobs: Jobs, message: MessageBar, toast: Toast, parent: QObject):
        super().__init__(parent)
        self._jobs, self._message, self._toast = jobs, message, toast
        self._told: set[str] = set()
        self._on_show: tuple[str, Source] | None = None     # the words in the message, and what they are about

    def follow(self, session: Session) -> None:
        """Offer what the player of *session* needs."""
        session.slow.connect(lambda source, share: self._offer(session, source, share))
        session.game_changed.connect(lambda _: self._withdraw(session))

    def _withdraw(self, session: Session) -> None:
        """Take the message away with the film that it is about; it comes again with the film."""
        if self._on_show is None or self._on_show[1] in session.film.sources:
            return
        (words, source), self._on_show = self._on_show, None
        if self._message.text == words:
            self._message.hide()
            self._told.discard(source.fingerprint)

    def _offer(self, session: Session, id: str, share: float) -> None:
        source = next((each for each in session.film.sources if each.id == id), None)
        if source is None or source.fingerprint in self._told or self._message.text:
            return
        self._told.add(source.fingerprint)
        from ..film.playing_copy import has_lighter
        what = (f"This machine shows about {share:.0%} of the pictures of {source.path.name} while it plays. "
                "Paused, stepped and exported pictures are all there.")
        heavy = [each for each in session.film.sources if has_lighter(each)]
        self._on_show = what, source
        self._message.offer(what, BUTTON if source in heavy else "", lambda: self.make(heavy))

    def make(self, sources: list[Source], then: Callable[[], object] = lambda: None) -> None:
        """Make lighter copies, as a job that can be stopped; call *then* when they are there."""
        from ..film.playing_copy import make_lighter

        def work(progress: Progress) -> int:
            return make_lighter(sources, progress.report, progress.cancelled)

        def told(made: int) -> None:
            self._toast.tell("The film plays from a lighter copy from now on. Paused pictures, stills and exports are "
                             "the original's.")
            then()

        self._jobs.start("Making a lighter copy to play", work, told,
            lambda why: self._message.fail(f"No lighter copy was made: {why}", "The original plays as before."))

    def delete(self, sources: tuple[Source, ...] | None, then: Callable[[], object]) -> None:
        """Delete the copies of sources, or those of every film, as a job; call *then* when they are gone."""
        from ..film.playing_copy import delete_lighter

        def told(freed: int) -> None:
            self._toast.tell(f"The lighter copies are deleted; {spoken_size(freed)} are free again. The originals are "
                             "untouched.")
            then()

        self._jobs.start("Deleting lighter copies", lambda _: delete_lighter(sources), told,
                         lambda why: self._message.fail(f"Not every lighter copy could be deleted: {why}",
                                                        "The originals are untouched."))
