"""Where the UI thread stands while a turn of the event loop takes long; for the benchmarks.

A timer asks for a turn every 5 ms; a thread looks, every 3 ms, whether the turn under way is older than
*patience*, and if so writes down the stack of the UI thread. Wall time counts what other programs took away.
Without them a turn lasts at least the thread's own processor time, and, but for waiting for a disk, at most that
of the whole program, as if all its threads took turns: the truth on an idle machine lies between.
"""

from __future__ import annotations

import sys
import threading
from collections import Counter
from time import perf_counter, process_time, sleep, thread_time
from types import FrameType

from PySide6.QtCore import QTimer


def _spoken(frame: FrameType | None, depth: int = 7) -> str:
    """The innermost calls, without reading any source: that would let the looked-at thread run on meanwhile."""
    calls = []
    while frame is not None and len(calls) < depth:
        calls.append(f"{frame.f_code.co_filename.rsplit('/', 1)[-1]}:{frame.f_lineno} {frame.f_code.co_name}")
        frame = frame.f_back
    return " < ".join(calls)


class Watch:
    """While open, measures the turns of the event loop of the thread that opened it."""

    def __init__(self, name: str, stacks: bool = False, patience: float = 0.025):
        self.name, self.longest, self.least, self.most = name, 0.0, 0.0, 0.0     # seconds, as above
        self.stacks: Counter[str] = Counter()
        self._stacks, self._patience = stacks, patience
        self._timer = QTimer(interval=5, timeout=self._turn)
        self._open = False

    def _turn(self) -> None:
        now, used, program = perf_counter(), thread_time(), process_time()
        self.longest = max(self.longest, now - self._last)
        self.least = max(self.least, used - self._used)
        self.most = max(self.most, min(now - self._last, program - self._program))
        self._last, self._used, self._program = now, used, program

    def _look(self, thread: int) -> None:
        while self._open:
            sleep(0.003)
            if perf_counter() - self._last > self._patience:
                self.stacks[_spoken(sys._current_frames()[thread])] += 1

    def __enter__(self) -> Watch:
        self._last, self._used, self._program, self._open = perf_counter(), thread_time(), process_time(), True
        self._timer.start()
        if self._stacks:
            threading.Thread(target=self._look, args=(threading.get_ident(),), daemon=True).start()
        return self

    def __exit__(self, *_) -> None:
        self._turn()
        self._timer.stop()
        self._open = False
