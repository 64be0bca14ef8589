"""The mentor's summary: the game on one page, with pictures, and the trend across games."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QVBoxLayout, QWidget

from ..room import Desk


class SummaryPage(QWidget):
    asked = Signal(str)

    def __init__(self, desk: Desk, parent: QWidget | None = None):
        super().__init__(parent)
        QVBoxLayout(self)

    def show_session(self, session) -> None:
        self._session = session

    def refresh(self) -> None:
        pass
