"""The remarks on the filming: listed, found, changed and removed."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QListWidgetItem, QWidget

from ...film.time import spoken_time
from ...tagging.model import Game, Remark
from ..remark_entry import OfferedWord
from ..room import Desk
from .searched_list import SearchedList, said_with


def found(game: Game, words: str) -> list[Remark]:
    """The remarks that contain all of *words*, in film order; ``praise`` finds the praise."""
    return said_with(words, game.film, game.remarks,
                     lambda each: f"{'praise' if each.praise else 'remark'} {each.word} {each.comment}")


class RemarkList(SearchedList):
    """Search over the remarks; the one that was chosen stays so while others come and go."""

    def __init__(self, desk: Desk, parent: QWidget | None = None):
        super().__init__("remarks", desk, parent)

    def show_game(self, game: Game) -> None:
        """List the remarks of this game."""
        if game.remarks == self._game.remarks and game.film == self._game.film and game.remarks:
            self._game = game
            return
        super().show_game(game)

    def choose(self, id: object) -> None:
        """Choose the remark of that id and go to it."""
        if self._row_of(id) is None:
            self.words.clear()
        row = self._row_of(id)
        if row is not None:
            self.list.setCurrentRow(row)

    def _row_of(self, id: object) -> int | None:
        rows = range(self.list.count())
        return next((row for row in rows if self.list.item(row).data(Qt.ItemDataRole.UserRole).id == id), None)

    def _refill(self, *_: object) -> None:
        kept = self.current.id if self.current is not None else None
        super()._refill()
        row = self._row_of(kept)
        if row is not None:
            self.list.blockSignals(True)
            self.list.setCurrentRow(row)
            self.list.blockSignals(False)

    def _shown(self) -> list[Remark]:
        return found(self._game, self.words.text())

    def _item(self, each: Remark) -> QListWidgetItem:
        time_of = self._game.film.time_of
        until = f" – {spoken_time(float(time_of(each.until)))}" if each.until is not None else ""
        word = OfferedWord(each.word, each.praise).shown
        item = QListWidgetItem(f"{spoken_time(float(time_of(each.at)))}{until}   {word}"
                               + (f"\n{each.comment}" if each.comment else ""))
        item.setData(Qt.ItemDataRole.AccessibleTextRole, f"{'Praise' if each.praise else 'Remark'}: {item.text()}")
        return item

    def _when_empty(self) -> str:
        key = self._desk.keys.shown("review.remark")
        return ("No remark contains these words." if self._game.remarks else
                f"No remarks yet. {key} says one at the place on show, in the crew's own words.")
