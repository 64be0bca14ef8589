"""The entry line itself: letters and digits type, everything else acts."""

from __future__ import annotations

from PySide6.QtCore import QCoreApplication, QEvent, Qt
from PySide6.QtGui import QFocusEvent, QInputMethodEvent, QKeyEvent, QKeySequence, QTextCharFormat
from PySide6.QtWidgets import QLineEdit, QWidget

from ..actions import TAG, TYPED
from ..keys import KeyMap
from .entry_state import EntryState, Standing, Taker, with_colon


class EntryLine(QLineEdit):
    """A line edit that lets the room's keys through."""

    def __init__(self, keys: KeyMap, parent: QWidget | None = None):
        super().__init__(parent)
        self._keys = keys
        self.state = EntryState()
        self.setObjectName("entry")
        self.setAccessibleName("The play, as you would call it")
        self.setMaxLength(300)
        self._underlined = (0, 0)

    @property
    def in_comment(self) -> bool:
        """The cursor is inside a comment, where every character is text."""
        return self.text()[:self.cursorPosition()].count('"') % 2 == 1

    def begin_clause(self, word: str) -> None:
        """Write *word* at the end, if it is not there yet, and a space behind it."""
        text = self.text().rstrip()
        if f" {word}" not in f" {text}":
            self.end(False)
            self.insert(f"{'' if self.text().endswith(' ') or not text else ' '}{word} ")
        self.setFocus()

    def underline(self, start: int, end: int) -> None:
        """Draw a line under the part of the text that is not understood; under nothing where both are the same."""
        if (start, end) == self._underlined:
            return
        self._underlined = start, end
        form = QTextCharFormat()
        form.setUnderlineStyle(QTextCharFormat.UnderlineStyle.SpellCheckUnderline)
        form.setUnderlineColor(Qt.GlobalColor.red)
        marks = [QInputMethodEvent.Attribute(QInputMethodEvent.AttributeType.TextFormat, start - self.cursorPosition(),
                                             end - start, form)] if end > start else []
        QCoreApplication.sendEvent(self, QInputMethodEvent("", marks))

    def event(self, event: QEvent) -> bool:
        """Leave the keys that act in the room to their shortcuts."""
        if event.type() == QEvent.Type.ShortcutOverride and isinstance(event, QKeyEvent):
            if self._lets_through(event):
                event.ignore()
                return False
            if self._is_typing(event):
                event.accept()
                return True
        return super().event(event)

    def focusInEvent(self, event: QFocusEvent) -> None:
        """A kept play is selected again on coming back, for the line lost that as it lost the focus."""
        super().focusInEvent(event)
        is_kept = self.state.standing in (Standing.KEPT, Standing.OPENED)
        if is_kept and event.reason() == Qt.FocusReason.OtherFocusReason:
            self.selectAll()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Type the key, unless it acts in the room."""
        # A key that acts in the room but found no shortcut (the room is not the active window) must not type.
        if event.text() and not self._is_typing(event) and self._lets_through(event):
            event.ignore()
            return
        super().keyPressEvent(event)
        if event.text().isdigit() and self.cursorPosition() == len(self.text()):
            self._part_clock()

    def _part_clock(self) -> None:
        """Write the colon that was left out of a game clock; undo takes it out again."""
        text, parted = self.text(), with_colon(self.text())
        if parted != text:
            same = text.rindex(" ") + 2         # the first digit stays
            self.setSelection(same, len(text) - same)
            self.insert(parted[same:])

    def _is_typing(self, event: QKeyEvent) -> bool:
        text = event.text()
        return bool(text) and text.isprintable() and (
            self.in_comment or text.isalnum() or text in TYPED or self._in_clock(text))

    def _in_clock(self, text: str) -> bool:
        """A colon behind a digit belongs to the time on the game clock."""
        return text == ":" and self.text()[:self.cursorPosition()][-1:].isdigit()

    def _lets_through(self, event: QKeyEvent) -> bool:
        id = self._keys.matches(event, TAG)
        if id is None or ((self.in_comment or self._in_clock(event.text())) and self._is_typing(event)):
            return False
        self.state.is_selected = bool(self.text()) and self.selectedText() == self.text()
        pressed = QKeySequence(event.keyCombination()).toString(QKeySequence.SequenceFormat.PortableText)
        if self._keys.types(id, pressed) and self._is_typing(event):        # kept from before such keys were refused
            return False
        return self.state.taker(id, pressed) is Taker.ROOM
