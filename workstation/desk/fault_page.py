"""The page on which what helps to find a fault is seen before it is copied."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QCheckBox, QHBoxLayout, QPlainTextEdit, QPushButton, QVBoxLayout, QWidget

from .. import log
from ..fault_facts import fault_facts
from .widgets import Wrapping, label


class FaultPage(Wrapping):
    """``closed`` is sent when the person is through with it. Nothing leaves the machine but by the person's hand."""

    closed = Signal()

    def __init__(self, parent: QWidget | None = None):
        super().__init__(parent)
        self.setObjectName("ground")
        self.setAccessibleName("What helps to find a fault")
        self._more: tuple[str, ...] = ()
        self.text = QPlainTextEdit()
        self.text.setReadOnly(True)
        self.text.setTabChangesFocus(True)
        self.text.setAccessibleName("What will be copied")
        self.named = QCheckBox("With names and files: errors may then name people, games and folders")
        self.named.toggled.connect(self._fill)
        self.copy = QPushButton("Copy")
        self.copy.setProperty("role", "main")
        self.copy.clicked.connect(self._copy)
        self.back = QPushButton("Back")
        self.back.clicked.connect(self.closed)
        self.said = label("", "body", "good", wrap=True)
        top = QHBoxLayout()
        top.addWidget(label("What helps to find a fault", "title"), 1)
        top.addWidget(self.copy)
        top.addWidget(self.back)
        column = QVBoxLayout(self)
        column.setContentsMargins(18, 14, 18, 14)
        column.addLayout(top)
        column.addWidget(label("Copy this and send it to whoever looks after the program, with a line about what you "
                               "did and what happened. Nothing is sent by itself.", wrap=True))
        column.addWidget(self.named)
        column.addWidget(self.text, 1)
        column.addWidget(label(f"The whole log is in {log.folder()}; only you can read it.", ink="quiet", wrap=True))
        column.addWidget(self.said)

    def show_facts(self, more: tuple[str, ...]) -> None:
        """Gather it anew, without names, with these lines about the desk."""
        self._more = more
        self.said.clear()
        self.named.setChecked(False)
        self._fill()
        self.copy.setFocus()

    def keyPressEvent(self, event) -> None:
        """Close the page on Esc."""
        if event.key() == Qt.Key.Key_Escape:
            self.closed.emit()
        else:
            super().keyPressEvent(event)

    def _fill(self) -> None:
        self.text.setPlainText(fault_facts(self._more, self.named.isChecked()))
        self.said.clear()

    def _copy(self) -> None:
        QGuiApplication.clipboard().setText(self.text.toPlainText())
        self.said.setText(f"Copied: {self.text.document().blockCount()} lines. "
                          "Paste them wherever you write to whoever helps.")
