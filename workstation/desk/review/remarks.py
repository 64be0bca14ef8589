"""The remarks on the filming: listed, found, changed and removed."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QHBoxLayout, QListWidget, QListWidgetItem, QVBoxLayout, QWidget

from ...film.time import spoken_time
from ...tagging.model import Game, Remark
from ..keys import KeyButton
from ..remark_entry import OfferedWord
from ..room import Desk
from ..widgets import Field, label

_REMARK = Qt.ItemDataRole.UserRole


def found(game: Game, words: str) -> list[Remark]:
    """The remarks that contain all of *words*, in film order; ``praise`` finds the praise."""
    wanted = words.casefold().split()
    known = {source.id for source in game.film.sources}

    def text(remark: Remark) -> str:
        return f"{'praise' if remark.praise else 'remark'} {remark.word} {remark.comment}".casefold()
    remarks = [each for each in game.remarks if each.at.source in known and all(word in text(each) for word in wanted)]
    return sorted(remarks, key=lambda each: game.film.time_of(each.at))


class RemarkList(QWidget):
    """Search over the remarks. ``chosen`` carries a remark, ``changing`` one that is to be changed, ``removed`` the id of
    one to remove."""

    chosen = Signal(object)
    changing = Signal(object)
    removed = Signal(int)

    def __init__(self, desk: Desk, parent: QWidget | None = None):
        super().__init__(parent)
        self._desk = desk
        self._game = Game()
        self.list = QListWidget()
        self.list.setAccessibleName("Remarks")
        self.list.setWordWrap(True)
        self.list.currentItemChanged.connect(self._on_current)
        self.list.itemClicked.connect(self._on_current)
        self.list.itemDoubleClicked.connect(lambda _: self._change())
        self.words = Field(placeholderText="Find words in remarks")
        self.words.setAccessibleName("Find words in remarks")
        self.words.setClearButtonEnabled(True)
        self.words.textChanged.connect(self._refill)
        self.words.returnPressed.connect(lambda: self.list.count() and self.list.setCurrentRow(0))
        row = QHBoxLayout()
        row.setSpacing(5)
        self._buttons = []
        for id, text, act in (("review.change_note", "Change", self._change), ("review.remove_note", "Remove", self._remove)):
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
        """List the remarks of this game."""
        if game.remarks == self._game.remarks and game.film == self._game.film and game.remarks:
            self._game = game
            return
        self._game = game
        self._refill()

    def choose(self, id: object) -> None:
        """Choose the remark of that id and go to it."""
        if all(self.list.item(row).data(_REMARK).id != id for row in range(self.list.count())):
            self.words.clear()
        for row in range(self.list.count()):
            if self.list.item(row).data(_REMARK).id == id:
                self.list.setCurrentRow(row)

    def _refill(self, *_: object) -> None:
        shown, time_of = found(self._game, self.words.text()), self._game.film.time_of
        kept = self.current.id if self.current is not None else None
        self.list.blockSignals(True)
        self.list.clear()
        for remark in shown:
            until = f" – {spoken_time(float(time_of(remark.until)))}" if remark.until is not None else ""
            word = OfferedWord(remark.word, remark.praise).shown
            item = QListWidgetItem(f"{spoken_time(float(time_of(remark.at)))}{until}   {word}"
                                   + (f"\n{remark.comment}" if remark.comment else ""))
            item.setData(_REMARK, remark)
            item.setData(Qt.ItemDataRole.AccessibleTextRole, f"{'Praise' if remark.praise else 'Remark'}: {item.text()}")
            self.list.addItem(item)
            if remark.id == kept:
                self.list.setCurrentItem(item)
        self.list.blockSignals(False)
        for button in self._buttons:
            button.setEnabled(bool(shown))
        self.list.setVisible(bool(shown))
        self._empty.setVisible(not shown)
        key = self._desk.keys.shown("review.remark")
        self._empty.setText("No remark contains these words." if self._game.remarks else
                            f"No remarks yet. {key} says one at the place on show, in the crew's own words.")

    def _on_current(self, item: QListWidgetItem | None, *_: object) -> None:
        if item is not None:
            self.chosen.emit(item.data(_REMARK))

    @property
    def current(self) -> Remark | None:
        """The remark that is chosen, None if there is none."""
        item = self.list.currentItem()
        return item.data(_REMARK) if item is not None else None

    def _change(self) -> None:
        if self.current is not None:
            self.changing.emit(self.current)

    def _remove(self) -> None:
        if self.current is not None:
            self.removed.emit(self.current.id)
