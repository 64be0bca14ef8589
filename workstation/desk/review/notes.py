"""Notes at a time of the film: written while watching, found again by their words."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QListWidgetItem, QWidget

from ...film.time import Instant, spoken_time
from ...tagging.model import Game, Note
from ..room import Desk
from ..widgets import Field
from .searched_list import SearchedList, said_with


def found(game: Game, words: str) -> list[Note]:
    """The notes that contain all of *words*, in film order."""
    return said_with(words, game.film, game.notes, lambda note: note.text)


class NoteList(SearchedList):
    """Search over the notes."""

    def __init__(self, desk: Desk, parent: QWidget | None = None):
        super().__init__("notes", desk, parent)

    def _shown(self) -> list[Note]:
        return found(self._game, self.words.text())

    def _item(self, each: Note) -> QListWidgetItem:
        return QListWidgetItem(f"{spoken_time(float(self._game.film.time_of(each.at)))}   {each.text}")

    def _when_empty(self) -> str:
        return ("No note contains these words." if self._game.notes else
                "No notes yet. Type one while the film runs; it stays with this moment.")


class NoteEntry(Field):
    """One line for a note. The time it belongs to is the one at which writing began, or that of the
    note that is being changed."""

    written = Signal(object, str)       # Instant, the Note to change, or None while the place is not known; text
    ended = Signal()

    def __init__(self, parent: QWidget | None = None):
        super().__init__(parent, name="Note at this moment", act=self._take, give_up=self._end)
        self._about: Instant | Note | None = None
        self.hide()

    def begin(self, about: Instant | Note | None, time: float, words: str = "") -> None:
        """Write a note at an instant, or change the words of one, at film time *time*. With None the place is not known
        yet: the next one that is told by :meth:`place` counts, and the letters go into the note all the same."""
        self._about = about
        self.setText(about.text if isinstance(about, Note) else words)
        self.selectAll()
        self._tell(time)
        self.show()
        self.setFocus(Qt.FocusReason.ShortcutFocusReason)

    def place(self, at: Instant | None, time: float) -> None:
        """Where the film stands now, if that is known."""
        if self._about is None and at is not None and self.isVisible():
            self._about = at
            self._tell(time)

    def _tell(self, time: float) -> None:
        where = "Note here" if self._about is None else f"Note at {spoken_time(time)}"
        self.setPlaceholderText(f"{where}. Enter keeps it, Esc gives up")

    def _take(self) -> None:
        words = self.text().strip()
        self.hide()
        if words:
            self.written.emit(self._about, words)
        self.ended.emit()

    def _end(self) -> None:
        self.hide()
        self.ended.emit()
