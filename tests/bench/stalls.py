"""How long the turns of the event loop take; for the benchmarks.

A timer asks for a turn every 5 ms. Wall time counts what other programs took away. Without them a turn lasts at
least the thread's own processor time, and, but for waiting for a disk, at most that of the whole program, as if
all its threads took turns: the truth on an idle machine lies between.
"""

from __future__ import annotations

from time import perf_counter, process_time, thread_time

from PySide6.QtCore import QTimer


class Watch:
    """While open, measures the turns of the event loop of the thread that opened it."""

    def __init__(self, name: str):
        self.name, self.longest, self.least, self.most = name, 0.0, 0.0, 0.0     # seconds, as above
        self._timer = QTimer(interval=5, timeout=self._turn)

    def _turn(self) -> None:
        now, used, program = perf_counter(), thread_time(), process_time()
        self.longest = max(self.longest, now - self._last)
        self.least = max(self.least, used - self._used)
        self.most = max(self.most, min(now - self._last, program - self._program))
        self._last, self._used, self._program = now, used, program

    def __enter__(self) -> Watch:
        self._last, self._used, self._program = perf_counter(), thread_time(), process_time()
        self._timer.start()
        return self

    def __exit__(self, *_) -> None:
        self._turn()
        self._timer.stop()
