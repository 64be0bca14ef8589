"""The key map on screen: find an action, give it another key, print it all."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeySequence
from PySide6.QtWidgets import QHeaderView, QKeySequenceEdit, QLineEdit, QTableWidgetItem, QWidget

from ..film.writing import written_whole
from ..football.notation.guide import listed
from .asking import ask_to_save
from .keys import KeyMap
from .widgets import EscCloses, fill_row, in_column, in_row, label, push_button, say, table


class KeyPage(EscCloses, QWidget):
    """A page of its own, not a dialog; ``closed`` is sent when the person is through with it."""

    closed = Signal()

    def __init__(self, keys: KeyMap):
        super().__init__()
        self.setObjectName("ground")
        self.setAccessibleName("Keys")
        self._keys = keys
        self._first = ""        # the group whose actions come first
        self._said = label(wrap=True)
        self.search = QLineEdit(placeholderText="Find: an action, a room, a key, or a word of the entry line")
        self.search.setAccessibleName("Find an action")
        self.search.textChanged.connect(self._fill)
        self.table = table(["What it does", "Where", "Keys"], "Actions and their keys", by_row=True)
        self.table.horizontalHeader().setSectionResizeMode(0, QHeaderView.ResizeMode.Stretch)
        self.table.horizontalHeader().setSectionResizeMode(1, QHeaderView.ResizeMode.ResizeToContents)
        self.table.setColumnWidth(2, 260)
        self.table.currentCellChanged.connect(lambda *_: self._choose())
        self.words = table(["Word of the entry line", "Short", "Also said"], "Words of the entry line")
        self.words.horizontalHeader().setSectionResizeMode(2, QHeaderView.ResizeMode.Stretch)
        self.words.setColumnWidth(0, 220)
        self.edit = QKeySequenceEdit()
        self.edit.setMaximumSequenceLength(1)
        self.edit.setAccessibleName("New key: press it")
        self.edit.keySequenceChanged.connect(lambda *_: self._said.clear())
        self.give = push_button("Give this key", lambda: self._give(False))
        self.add = push_button("Add this key", lambda: self._give(True))
        self.take = push_button("No key", lambda: self._set([]))
        self.reset = push_button("All as delivered", keys.reset)
        self.print = push_button("Print on one page…", lambda: ask_to_save(
            self, "Print the keys", Path("keys.pdf"), self.print_to, "PDF (*.pdf);;HTML (*.html)"))
        self.close_button = push_button("Back", self.closed.emit, role="main")
        self._chosen = label()
        in_column(in_row(label("Keys", "title"), (self.search, 1), self.print, self.reset, self.close_button),
                  (self.table, 3), in_row((self._chosen, 1), self.edit, self.give, self.add, self.take),
                  (self.words, 2), self._said, on=self, margins=(18, 14, 18, 14))
        keys.changed.connect(self._fill)

    def showEvent(self, event) -> None:
        """Fill the page with the keys as they are now."""
        super().showEvent(event)
        self._fill()
        self.search.setFocus()
        self.search.selectAll()

    def begin_with(self, group: str) -> None:
        """Let the actions of *group* come first the next time the page is shown, and everything else after them."""
        self._first = group
        self.search.clear()

    def _fill(self) -> None:
        if not self.isVisible():
            return
        chosen = self.chosen
        actions = sorted(self._keys.search(self.search.text()), key=lambda action: action.group != self._first)
        self.table.setRowCount(len(actions))
        for row, action in enumerate(actions):
            for column, text in enumerate((action.text, action.group, "   ".join(self._keys.spelled(action.id)))):
                item = QTableWidgetItem(text)
                item.setData(Qt.ItemDataRole.UserRole, action.id)
                self.table.setItem(row, column, item)
        words = listed(self.search.text())
        self.words.setRowCount(len(words))
        for row, cells in enumerate(words):
            fill_row(self.words, row, cells)
        row = next((row for row, action in enumerate(actions) if action.id == chosen), 0)
        self.table.setCurrentCell(row, 0)
        self._choose()

    @property
    def chosen(self) -> str | None:
        """The id of the action on the current row."""
        item = self.table.item(self.table.currentRow(), 0)
        return item.data(Qt.ItemDataRole.UserRole) if item is not None else None

    def _choose(self) -> None:
        item = self.table.item(self.table.currentRow(), 0)
        self._chosen.setText(f"New key for “{item.text()}”:" if item is not None else "Nothing is called that.")
        for widget in (self.edit, self.give, self.add, self.take):
            widget.setEnabled(item is not None)
        self.edit.clear()

    def _give(self, more: bool) -> None:
        key = self.edit.keySequence().toString(QKeySequence.SequenceFormat.PortableText)
        if key and self.chosen:
            self._set([*self._keys.keys(self.chosen), key] if more else [key])

    def _set(self, keys: list[str]) -> None:
        if not self.chosen:
            return
        id = self.chosen
        try:
            holder = self._keys.give(id, dict.fromkeys(keys))
        except ValueError as error:
            say(self._said, str(error), "bad")
            return
        if holder is not None:
            say(self._said, f"That key belongs to “{holder.text}” ({holder.group}). Give that another key first.",
                "bad")
        else:
            say(self._said, f"Kept: {self._keys.shown(id) or 'no key'}", "good")

    def print_to(self, path: Path) -> None:
        """Write the map as PDF or HTML, and say where it is or why it could not be written."""
        try:
            if path.suffix.lower() == ".html":
                with written_whole(path) as temporary:
                    temporary.write_text(self._keys.as_html(), encoding="utf-8")
            else:
                self._keys.print_to(path)
        except OSError as error:
            say(self._said, f"{path} cannot be written: {error.strerror or error}. Choose another folder.", "bad")
        else:
            say(self._said, f"Written: {path}", "good")
