"""A list of what people said on the film, with a search above it and buttons to change and remove below."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import Any, TypeVar

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QListWidget, QListWidgetItem, QWidget

from ...film.film import Film
from ...tagging.model import Game, Note, Remark
from ..keys import KeyButton
from ..room import Desk
from ..widgets import Field, in_column, in_row, label

Said = TypeVar("Said", Note, Remark)


def said_with(words: str, film: Film, said: Iterable[Said], text: Callable[[Said], str]) -> list[Said]:
    """What was *said* on the film in a *text* that contains all of *words*, in film order."""
    wanted, known = words.casefold().split(), {source.id for source in film.sources}
    found = [each for each in said if each.at.source in known and all(word in text(each).casefold() for word in wanted)]
    return sorted(found, key=lambda each: film.time_of(each.at))


class SearchedList(QWidget):
    """Search over *what* ("notes", "remarks"); subclasses say what is shown and how.

    ``chosen`` carries one of them, ``changing`` one that is to be changed, ``removed`` the id of one to remove.
    """

    chosen = Signal(object)
    changing = Signal(object)
    removed = Signal(int)

    def __init__(self, what: str, desk: Desk, parent: QWidget | None = None):
        super().__init__(parent)
        self._desk = desk
        self._game = Game()
        self.list = QListWidget()
        self.list.setAccessibleName(what.capitalize())
        self.list.setWordWrap(True)
        self.list.currentItemChanged.connect(self._on_current)
        self.list.itemClicked.connect(self._on_current)
        self.list.itemDoubleClicked.connect(lambda _: self._change())
        self.words = Field(name=f"Find words in {what}", hint=f"Find words in {what}", is_search=True,
                           act=lambda: self.list.count() and self.list.setCurrentRow(0))
        self.words.textChanged.connect(self._refill)
        self._buttons = [KeyButton(desk.keys, id, text, None, act, self.list) for id, text, act in (
            ("review.change_note", "Change", self._change), ("review.remove_note", "Remove", self._remove))]
        self._empty = label("", "lead", "quiet", wrap=True)
        self._empty.setAlignment(Qt.AlignmentFlag.AlignTop)
        self._empty.setContentsMargins(12, 12, 12, 12)
        in_column(self.words, (self.list, 1), (self._empty, 1), in_row(*self._buttons, 1, spacing=5), on=self,
                  margins=0, spacing=5)

    def show_game(self, game: Game) -> None:
        """List what was said of this game."""
        self._game = game
        self._refill()

    def _shown(self) -> list[Any]:
        """What contains the words that are searched for, in film order."""
        raise NotImplementedError

    def _item(self, each: Any) -> QListWidgetItem:
        """One of them as it is listed."""
        raise NotImplementedError

    def _when_empty(self) -> str:
        """The words where nothing is listed."""
        raise NotImplementedError

    def _refill(self, *_: object) -> None:
        shown = self._shown()
        self.list.blockSignals(True)
        self.list.clear()
        for each in shown:
            item = self._item(each)
            item.setData(Qt.ItemDataRole.UserRole, each)
            self.list.addItem(item)
        self.list.blockSignals(False)
        for button in self._buttons:
            button.setEnabled(bool(shown))
        self.list.setVisible(bool(shown))
        self._empty.setVisible(not shown)
        self._empty.setText(self._when_empty())

    def _on_current(self, item: QListWidgetItem | None, *_: object) -> None:
        if item is not None:
            self.chosen.emit(item.data(Qt.ItemDataRole.UserRole))

    @property
    def current(self) -> Any:
        """The one that is chosen, None if there is none."""
        item = self.list.currentItem()
        return item.data(Qt.ItemDataRole.UserRole) if item is not None else None

    def _change(self) -> None:
        if self.current is not None:
            self.changing.emit(self.current)

    def _remove(self) -> None:
        if self.current is not None:
            self.removed.emit(self.current.id)
