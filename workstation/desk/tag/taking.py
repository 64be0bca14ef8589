"""Takes what is suggested for the shot at hand, and shows each part of it on the film."""

from __future__ import annotations

from collections import deque
from collections.abc import Callable

from PySide6.QtCore import QObject, Signal

from ...film.time import Instant, spoken_time
from ...tagging.model import MomentKind, Shot
from ...tagging.suggestions import Offered
from ..jobs import Job, Jobs
from ..session import Session
from ..session_holder import SessionHolder
from ..suggesting import Suggestions
from ..timers import timer
from .filming import Filming

MOMENT, SHOT = 700, 1500        # milliseconds that a moment, and an extra shot, stay on show


class Taking(SessionHolder, QObject):
    """One key takes all that is suggested here; each part is shown in film order, then the film stands where it stood.
    Whatever moves the film meanwhile ends the showing. While the film plays it goes on, and nothing but the words of
    ``shown`` tells what was taken."""

    taken_shots = Signal()          # the game has shots now
    shown = Signal(str, object)     # what is on show, and its kind if it is a moment; empty when it is over

    def __init__(self, filming: Filming, suggestions: Suggestions, jobs: Jobs, parent: QObject | None = None):
        super().__init__(parent)
        self._filming, self._suggestions, self._jobs = filming, suggestions, jobs
        self.is_showing = False
        self._looking: Job | None = None        # what looks through the film now
        self._left: deque[Offered] = deque()
        self._at: Instant | None = None         # what is on show
        self._back: Instant | None = None       # where the film stood
        self._next = timer(self, MOMENT, self._show_next)

    def show_session(self, session: Session | None) -> None:
        """End what is under way and take in another session."""
        self._end()
        super().show_session(session)

    def _follows(self, session: Session) -> list:
        return [(session.position_changed, self._moved)]

    def look_through(self, looked: Callable[[], object]) -> None:
        """Look through the film in the background, then call *looked*, if the game is still open."""
        session = self.session
        if not session.film.sources:
            return

        def succeeded(_: object) -> None:
            if self._session is session:
                self._suggestions.show_film(session.film, session.game.heading.profile)
                looked()

        def ended() -> None:
            if self._session is session:
                self.shown.emit("", None)

        self._looking = self._jobs.start(
            "Looking through the film", self._suggestions.look_through, succeeded,
            lambda why: session.failed.emit(f"The film was not looked through: {why}",
                                            "Mark shots and moments yourself."))
        self._looking.ended.connect(ended)
        if not self.is_showing:
            self.shown.emit("", None)       # what one key takes is another now

    @property
    def is_looking(self) -> bool:
        """Whether the film is being looked through."""
        return self._looking is not None and self._looking in self._jobs.running

    def take_with(self, shot: Shot | None, keep: Callable[[], object]) -> None:
        """Take what is suggested for *shot*, if anything is, and *keep* the play; then show what was taken, and leave
        the film where keeping the play has left it."""
        offer = None if shot is None else self._suggestions.found.offer(self.session.game, shot)
        if offer is None or self.session.do(offer.operation) is None:
            keep()
        else:
            keep()
            self._show(offer.parts)

    def take(self) -> None:
        """Take the found shots where there are none, or what is suggested for the shot that the film stands in."""
        session, found = self.session, self._suggestions.found
        shot, shots = self._filming.shot, found.shots(session.game)
        if shots is not None:
            if session.do(shots) is not None:
                session.notice.emit(f"{len(shots.shots)} found shots taken; each waits for a look."
                                    f"{self._filming.film_in_order()}")
                self.taken_shots.emit()
        elif not session.game.shots:
            if self.is_looking:
                session.notice.emit("The film is still being looked through; what is found can be taken when that is "
                                    "done.")
            elif len(session.film.sources) > 1:
                self._filming.take_files()
        elif shot is None:
            session.notice.emit("No shot lies here, so that nothing is suggested.")
        elif (offer := found.offer(session.game, shot)) is None:
            session.notice.emit("Nothing more is suggested for this shot.")
        elif session.do(offer.operation) is not None:
            self._show(offer.parts)

    def _show(self, parts: tuple[Offered, ...]) -> None:
        session = self.session
        self._end()
        self.is_showing = True
        if session.playing:
            words = ", ".join(self._words(part) for part in parts)
            self.shown.emit(words, None)
            self._next.start(SHOT)
            return
        self._left.extend(parts)
        self._at = self._back = session.position
        self._show_next()

    def _words(self, part: Offered) -> str:
        at = spoken_time(float(self.session.film.time_of(part.at)), tenths=True)
        return f"{part.kind.value} {at}" if isinstance(part.kind, MomentKind) else f"this shot: {part.kind.value}"

    def _show_next(self) -> None:
        if not self.has_session:
            return
        session = self.session
        if session.position != self._at or session.playing:        # the person went to another place
            self._end()
        elif self._left:
            part = self._left.popleft()
            self._go(part.at)
            is_moment = isinstance(part.kind, MomentKind)
            self.shown.emit(self._words(part), part.kind if is_moment else None)
            self._next.start(MOMENT if is_moment else SHOT)
        else:
            if self._back is not None:
                self._go(self._back)
            self._end()

    def _go(self, at: Instant) -> None:
        self._at = at
        self.session.seek(at)

    def _moved(self, instant: Instant | None) -> None:
        """If this did not move the film, the showing is over."""
        if self._at is not None and instant != self._at:
            self._end()

    def _end(self) -> None:
        was_showing, self.is_showing = self.is_showing, False
        self._next.stop()
        self._left.clear()
        self._at = self._back = None
        if was_showing:
            self.shown.emit("", None)
