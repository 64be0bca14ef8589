"""How long the turns of the event loop take; for the benchmarks.

A timer asks for a turn every 5 ms. A turn's wall time is made of three: the thread's own work, its waiting for what
it asked for (the disk, a lock, the interpreter), and its waiting for a free processor while others have them. The
last says how busy the machine is, not what the desk does, so it is told apart, where the kernel counts it (Linux).
"""

from __future__ import annotations

from contextlib import suppress
from pathlib import Path
from time import perf_counter, thread_time
from typing import Self

from PySide6.QtCore import QTimer

_SCHEDULED = Path("/proc/thread-self/schedstat")        # nanoseconds run, nanoseconds runnable but not run, turns


def _queued() -> float:
    """Seconds that this thread has waited for a processor so far; 0 where nobody counts them."""
    with suppress(OSError, ValueError, IndexError):
        return int(_SCHEDULED.read_text().split()[1]) / 1e9
    return 0.0


class Watch:
    """While open, measures the turns of the event loop of the thread that opened it, in seconds: the longest by the
    clock on the wall (``wall``), with a processor always free (``free``), and by its own work (``own``)."""

    def __init__(self, name: str):
        self.name, self.wall, self.free, self.own = name, 0.0, 0.0, 0.0
        self._timer = QTimer(interval=5, timeout=self._turn)

    def _turn(self) -> None:
        now, queued, used = perf_counter(), _queued(), thread_time()
        wall = now - self._now
        self.wall = max(self.wall, wall)
        self.free = max(self.free, wall - (queued - self._queued))
        self.own = max(self.own, used - self._used)
        self._now, self._queued, self._used = now, queued, used

    def __enter__(self) -> Self:
        self._now, self._queued, self._used = perf_counter(), _queued(), thread_time()
        self._timer.start()
        return self

    def __exit__(self, *_) -> None:
        self._turn()
        self._timer.stop()
