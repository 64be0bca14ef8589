"""The page on which what helps to find a fault is seen before it is copied."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QCheckBox, QPlainTextEdit

from .. import log
from ..fault_facts import fault_facts
from .widgets import EscCloses, Wrapping, in_column, in_row, label, push_button


class FaultPage(EscCloses, Wrapping):
    """``closed`` is sent when the person is through with it. Nothing leaves the machine but by the person's hand."""

    closed = Signal()

    def __init__(self):
        super().__init__()
        self.setObjectName("ground")
        self.setAccessibleName("What helps to find a fault")
        self._more: tuple[str, ...] = ()
        self.text = QPlainTextEdit()
        self.text.setReadOnly(True)
        self.text.setTabChangesFocus(True)
        self.text.setAccessibleName("What will be copied")
        self.named = QCheckBox("With names and files: errors may then name people, games and folders")
        self.named.toggled.connect(self._fill)
        self.copy = push_button("Copy", self._copy, role="main")
        self.back = push_button("Back", self.closed.emit)
        self.said = label("", "body", "good", wrap=True)
        in_column(in_row((label("What helps to find a fault", "title"), 1), self.copy, self.back),
                  label("Copy this and send it to whoever looks after the program, with a line about what you did and "
                        "what happened. Nothing is sent by itself.", wrap=True),
                  self.named, (self.text, 1),
                  label(f"The whole log is in {log.folder()}; only you can read it.", ink="quiet", wrap=True),
                  self.said, on=self, margins=(18, 14, 18, 14))

    def show_facts(self, more: tuple[str, ...]) -> None:
        """Gather it anew, without names, with these lines about the desk."""
        self._more = more
        self.said.clear()
        self.named.setChecked(False)
        self._fill()
        self.copy.setFocus()

    def _fill(self) -> None:
        self.text.setPlainText(fault_facts(self._more, self.named.isChecked()))
        self.said.clear()

    def _copy(self) -> None:
        QGuiApplication.clipboard().setText(self.text.toPlainText())
        self.said.setText(f"Copied: {self.text.document().blockCount()} lines. "
                          "Paste them wherever you write to whoever helps.")
