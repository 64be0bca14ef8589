"""Notices cards with footage while the start page is on show."""

from __future__ import annotations

import importlib

from PySide6.QtCore import QObject, Signal

from .jobs import Job
from .timers import timer

_BETWEEN = 3000     # milliseconds from the end of one look to the next
_FIRST = 600        # until the first, after the page came up: the window's own start goes before


class CardWatch(QObject):
    """Looks for cards in a job, one at a time, from :meth:`start` to :meth:`stop`."""

    found = Signal(list)        # of film.cards.Card; sent when they are others than before

    def __init__(self, parent: QObject):
        super().__init__(parent)
        self._known: list = []
        self._looks: Job | None = None
        self._next = timer(self, _BETWEEN, self._look)
        self._is_on = False

    def start(self) -> None:
        """Look again and again."""
        self._is_on = True
        if self._looks is None:
            self._next.start(_FIRST)

    def stop(self) -> None:
        """Look no more."""
        self._is_on = False
        self._next.stop()

    def _look(self) -> None:
        def look(_) -> list:
            return importlib.import_module("workstation.film.cards").find_cards()      # reads film modules

        self._looks = Job("looking for cards", look, self._take, lambda _: None, parent=self, abandoned=True)
        self._looks.ended.connect(self._ended)
        self._looks.start()

    def _take(self, cards: list) -> None:
        if cards != self._known and self._is_on:
            self._known = cards
            self.found.emit(cards)

    def _ended(self) -> None:
        self._looks = None
        if self._is_on:
            self._next.start(_BETWEEN)
