"""Adds the film of a further camera to the open game and matches it, in jobs, and says what came of it."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject

from .jobs import Job, Progress
from .room import Desk
from .widgets import MessageBar

if TYPE_CHECKING:
    from ..film.film import Film
    from ..tagging.angle_matching import Proposal
    from ..tagging.model import Angle
    from ..tagging.operations import AddShots
    from .session import Session


class AngleAdder(QObject):
    """*rows* shows which shots of the angles film which plays."""

    def __init__(self, desk: Desk, message: MessageBar, rows: Callable[[], object], parent: QObject):
        super().__init__(parent)
        self._desk, self._message, self._rows = desk, message, rows
        self._matching: Job | None = None

    def add(self, session: Session, paths: Sequence[Path], angle: Angle) -> None:
        """Look at the files, add them as a further angle, and match it."""
        game = session.whole
        self._message.hide()

        def look(progress: Progress) -> Film:
            from ..tagging.new_angle import read_angle
            return read_angle(game, list(paths), progress.report, progress.cancelled)

        self._desk.jobs.start(f"Looking at the film of {angle.name}", look,
                              lambda film: self._take(session, angle, film),
                              lambda why: self._message.fail(f"The film of {angle.name} was not added: {why}",
                                                             "Nothing was changed. Choose other files."))

    def _take(self, session: Session, angle: Angle, film: Film) -> None:
        from ..tagging.new_angle import begin_angle
        if session.closed or session.do_on_whole(begin_angle(session.file, angle, film)) is None:
            return
        bad = [source.path.name for source in film.sources if source.problem]
        if bad:
            session.notice.emit(f"{len(bad)} of its files cannot be read: {', '.join(bad[:3])}")
        self.match(session, session.file.game.angles[-1].angle.id)

    def match(self, session: Session, number: int) -> None:
        """Propose again which shots of an angle film which plays; what a person matched stays."""
        if self._matching is not None:
            session.notice.emit("An angle is being matched already.")
            return
        game, name = session.whole, session.name_of(number)
        if not any(each.angle.id == number and each.shots for each in game.angles):
            self._find_shots(session, number)
            return

        def listen(progress: Progress) -> Proposal:
            from ..tagging.new_angle import match_angle
            return match_angle(game, number, lambda share: progress(share), progress.cancelled)

        self._start(f"Matching {name}", listen, lambda found: self._matched(session, number, found), name)

    def _start(self, title: str, work: Callable, then: Callable[..., object], name: str) -> None:
        def ended(act: Callable[..., object], *told: object) -> None:
            self._matching = None
            act(*told)

        self._matching = self._desk.jobs.start(
            title, work, lambda found: ended(then, found),
            lambda why: ended(self._message.fail, f"{name} was not matched: {why}",
                              "The angle is kept; match it again from the menu."),
            lambda: ended(self._message.offer, f"{name} is added, and not matched yet.", "See the rows", self._rows))

    def _find_shots(self, session: Session, number: int) -> None:
        game, name = session.whole, session.name_of(number)

        def find(progress: Progress) -> AddShots | None:
            from ..tagging.new_angle import found_shots
            return found_shots(game, number, lambda share: progress(share), progress.cancelled)

        def found(shots: AddShots | None) -> None:
            if session.closed:
                return
            if shots is None:
                self._message.fail(f"{name}: no shot was found, so nothing can be matched.",
                                   "Look at its files (F7): can they be read?")
            elif session.do_on_whole(shots) is not None:
                self.match(session, number)

        self._start(f"Finding the shots of {name}", find, found, name)

    def _matched(self, session: Session, number: int, found: Proposal) -> None:
        if session.closed or number not in session.numbers:
            return
        from ..tagging.new_angle import take, told
        game = session.file.game
        operation = take(found, game)
        if operation is not None and session.do_on_whole(operation) is None:
            return
        self._message.offer(told(game, number, found), "See the rows", self._rows)
