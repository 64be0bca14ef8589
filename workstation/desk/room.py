"""The base of the rooms, and what a room may use of its window."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING

from PySide6.QtCore import QSettings
from PySide6.QtWidgets import QSplitter, QWidget

from .jobs import Jobs
from .keys import KeyMap
from .session_holder import SessionHolder
from .theme import Theme

if TYPE_CHECKING:
    from .session import Session


@dataclass(frozen=True)
class Desk:
    """What a room may use of the window it stands in."""

    keys: KeyMap
    theme: Theme
    jobs: Jobs
    settings: QSettings


class Room(SessionHolder, QWidget):
    """One view of the open game. Subclasses set ``name`` and ``purpose`` and implement ``_building`` and ``enter``.

    A room consists of some hundred widgets. With *whole* false it is built in parts: :meth:`build_on` is called until
    it returns false, with turns of the event loop in between.
    """

    name = ""
    purpose = ""
    is_built = False        # all of its parts are there; the window may be resized before

    def __init__(self, desk: Desk, parent: QWidget | None = None, whole: bool = True):
        super().__init__(parent)
        self.desk = desk
        desk.theme.dress(self)
        self._columns: list[tuple[QWidget, int]] = []
        self._shares: dict[tuple[QSplitter, float], list[int]] = {}     # how parts were shared out at each text size
        desk.theme.changing.connect(self._note_shares)
        desk.theme.changed.connect(self._widen)
        self.setAccessibleName(f"{self.name} room")
        self._remaining = self._making()
        if whole:
            self.build()

    def _making(self) -> Iterator[None]:
        yield from self._building()
        self.is_built = True
        yield
        # Laid out here, not in the turn that first shows the room.
        around, layout = self.parentWidget(), self.layout()
        if around is not None:
            self.resize(around.size())
        if layout is not None:
            layout.activate()

    def _building(self) -> Iterator[None]:
        """Build the room, yielding after each part of about 10 ms.

        Every widget is created in its final parent: reparenting makes Qt style all of it again.
        """
        yield from ()

    def build_on(self) -> bool:
        """Build the next part; false once all are built."""
        return next(self._remaining, self) is not self

    def build(self) -> None:
        """Build all parts that are left."""
        for _ in self._remaining:
            pass

    def keep_wide(self, column: QWidget, pixels: int) -> None:
        """Let *column* never be narrower than so many pixels at the normal text size, and more with larger text."""
        self._columns.append((column, pixels))
        self._widen()

    def _note_shares(self) -> None:
        for split in self.findChildren(QSplitter):
            self._shares[split, self.desk.theme.scale] = split.sizes()

    def _widen(self) -> None:
        """Restore the splitter sizes that were left at this text size."""
        for column, pixels in self._columns:
            column.setMinimumWidth(round(pixels * self.desk.theme.scale))
        for split in self.findChildren(QSplitter):
            shares = self._shares.get((split, self.desk.theme.scale))
            if shares is not None and sum(shares) == sum(split.sizes()):
                split.setSizes(shares)

    def enter(self, session: Session) -> None:
        """The room comes into view with *session*; called each time."""
        self.show_session(session)

    def begin(self) -> None:
        """The game that was entered is a new one: ask what has to be known first."""

    def taken_to(self, play: int) -> None:
        """A page took the film to a play while the room lay behind it."""

    def leave(self) -> None:
        """Another room comes into view, or the game closes."""

    def forget(self) -> None:
        """The session is about to close; give it up."""
        self.show_session(None)
