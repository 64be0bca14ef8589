"""Notes at a time of the film: written while watching, found again by their words."""

from __future__ import annotations

from PySide6.QtCore import QEvent, Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QHBoxLayout, QListWidget, QListWidgetItem, QVBoxLayout, QWidget

from ...film.time import Instant, spoken_time
from ...tagging.model import Game, Note
from ..keys import KeyButton
from ..room import Desk
from ..widgets import Field, label

_NOTE = Qt.ItemDataRole.UserRole


def found(game: Game, words: str) -> list[Note]:
    """The notes that contain all of *words*, in film order."""
    wanted = words.casefold().split()
    known = {source.id for source in game.film.sources}
    notes = [note for note in game.notes
             if note.at.source in known and all(word in note.text.casefold() for word in wanted)]
    return sorted(notes, key=lambda note: game.film.time_of(note.at))


class NoteList(QWidget):
    """Search over the notes. ``chosen`` carries a note, ``changing`` one whose words are to be changed,
    ``removed`` the id of one to remove."""

    chosen = Signal(object)
    changing = Signal(object)
    removed = Signal(int)

    def __init__(self, desk: Desk, parent: QWidget | None = None):
        super().__init__(parent)
        self._game = Game()
        self.list = QListWidget()
        self.words = Field(placeholderText="Find words in notes")
        self.words.setAccessibleName("Find words in notes")
        self.words.setClearButtonEnabled(True)
        self.words.textChanged.connect(self._refill)
        self.words.returnPressed.connect(lambda: self.list.count() and self.list.setCurrentRow(0))
        self.list.setAccessibleName("Notes")
        self.list.setWordWrap(True)
        self.list.currentItemChanged.connect(self._on_current)
        self.list.itemClicked.connect(self._on_current)
        self.list.itemDoubleClicked.connect(lambda _: self._change())
        row = QHBoxLayout()
        row.setSpacing(5)
        self._buttons = []
        for id, text, act in (("review.change_note", "Change", self._change),
                              ("review.remove_note", "Remove", self._remove)):
            button = KeyButton(desk.keys, id, text)
            button.clicked.connect(act)
            desk.keys.bind(id, self.list, act)
            self._buttons.append(button)
            row.addWidget(button)
        row.addStretch(1)
        self._empty = label("", "lead", "quiet", wrap=True)
        self._empty.setAlignment(Qt.AlignmentFlag.AlignTop)
        self._empty.setContentsMargins(12, 12, 12, 12)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(5)
        layout.addWidget(self.words)
        layout.addWidget(self.list, 1)
        layout.addWidget(self._empty, 1)
        layout.addLayout(row)

    def show_game(self, game: Game) -> None:
        """List the notes of this game."""
        self._game = game
        self._refill()

    def _refill(self, *_: object) -> None:
        shown = found(self._game, self.words.text())
        self.list.blockSignals(True)
        self.list.clear()
        for note in shown:
            item = QListWidgetItem(f"{spoken_time(float(self._game.film.time_of(note.at)))}   {note.text}")
            item.setData(_NOTE, note)
            self.list.addItem(item)
        self.list.blockSignals(False)
        for button in self._buttons:
            button.setEnabled(bool(shown))
        self.list.setVisible(bool(shown))
        self._empty.setVisible(not shown)
        self._empty.setText("No note contains these words." if self._game.notes else
                            "No notes yet. Type one while the film runs; it stays with this moment.")

    def _on_current(self, item: QListWidgetItem | None, *_: object) -> None:
        if item is not None:
            self.chosen.emit(item.data(_NOTE))

    @property
    def current(self) -> Note | None:
        """The note that is chosen, None if there is none."""
        item = self.list.currentItem()
        return item.data(_NOTE) if item is not None else None

    def _change(self) -> None:
        if self.current is not None:
            self.changing.emit(self.current)

    def _remove(self) -> None:
        if self.current is not None:
            self.removed.emit(self.current.id)


class NoteEntry(Field):
    """One line for a note. The time it belongs to is the one at which writing began, or that of the
    note that is being changed."""

    written = Signal(object, str)       # Instant or the Note to change, text
    ended = Signal()

    def __init__(self, parent: QWidget | None = None):
        super().__init__(parent)
        self._about: Instant | Note | None = None
        self.setAccessibleName("Note at this moment")
        self.returnPressed.connect(self._take)
        self.hide()

    def begin(self, about: Instant | Note, time: float) -> None:
        """Write a note at an instant, or change the words of one, at film time *time*."""
        self._about = about
        self.setText(about.text if isinstance(about, Note) else "")
        self.selectAll()
        self.setPlaceholderText(f"Note at {spoken_time(time)}. Enter keeps it, Esc gives up")
        self.show()
        self.setFocus(Qt.FocusReason.ShortcutFocusReason)

    def _take(self) -> None:
        words = self.text().strip()
        self.hide()
        if words:
            self.written.emit(self._about, words)
        self.ended.emit()

    def event(self, event: QEvent) -> bool:
        """Claim Esc before it acts as a shortcut."""
        if isinstance(event, QKeyEvent) and event.type() != QEvent.Type.KeyRelease and event.key() == Qt.Key.Key_Escape:
            if event.type() == QEvent.Type.KeyPress:
                self.hide()
                self.ended.emit()
            event.accept()
            return True
        return super().event(event)
