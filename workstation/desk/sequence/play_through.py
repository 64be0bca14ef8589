"""Playing a sequence through as if it were one film."""

from __future__ import annotations

from collections.abc import Callable
from typing import Protocol

from PySide6.QtCore import QObject, QTimer, Signal, SignalInstance

from ...film.time import Instant


class PlaysSpans(Protocol):
    """What plays a span of film and says when it stops: a session, say."""

    @property
    def playing_changed(self) -> SignalInstance:
        """Sent with whether it plays."""
        ...

    def play_span(self, start: Instant, end: Instant) -> None:
        """Play from ``start`` to ``end``."""
        ...


class PlayThrough(QObject):
    """Plays spans one after the other. ``reached`` carries the place of the one that begins; -1 at the end.

    A film that stops by itself has come to the end of its span, or cannot be shown: either way the next
    one follows. Call :meth:`stop` before the film is used otherwise. ``finished`` is sent after the last one.
    """

    reached = Signal(int)
    finished = Signal()

    def __init__(self, parent: QObject | None = None):
        super().__init__(parent)
        self._session: PlaysSpans | None = None
        self._spans: list[tuple[int, Instant, Instant]] = []
        self._prepare: Callable[[int], object] = int
        self._at = -1
        self._starting = False

    @property
    def running(self) -> bool:
        """Whether the sequence is played."""
        return self._at >= 0

    def start(self, session: PlaysSpans, spans: list[tuple[int, Instant, Instant]],
              prepare: Callable[[int], object] = int) -> None:
        """Play (place, start, end) in this order; *prepare* is called with the number of each before it begins."""
        self.stop()
        if not spans:
            return
        self._session, self._spans, self._prepare = session, spans, prepare
        session.playing_changed.connect(self._on_playing)
        self._begin(0)

    def stop(self) -> None:
        """Stop playing the sequence."""
        session, self._session = self._session, None
        if session is not None:
            session.playing_changed.disconnect(self._on_playing)
        if self.running:
            self._at = -1
            self.reached.emit(-1)

    def _begin(self, at: int) -> None:
        if self._session is None:
            return
        self._at = at
        place, start, end = self._spans[at]
        self.reached.emit(place)
        self._starting = True
        self._prepare(at)
        self._session.play_span(start, end)
        self._starting = False

    def _on_playing(self, playing: bool) -> None:
        if playing or self._starting or not self.running:
            return
        if self._at + 1 < len(self._spans):
            QTimer.singleShot(0, lambda at=self._at: self._go_on(at))
        else:
            self.stop()
            self.finished.emit()

    def _go_on(self, at: int) -> None:
        if self._session is not None and self._at == at:
            self._begin(at + 1)
