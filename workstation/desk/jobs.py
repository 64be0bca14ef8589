"""Long work, off the UI thread, with progress, time left and a way to stop it."""

from __future__ import annotations

import logging
import time
from collections.abc import Callable

from PySide6.QtCore import QObject, QThread, Signal

from ..cancelling import Cancelled
from ..film.memory import give_back

LONG = 5.0      # seconds; what has worked that long, an export say, has freed much

log = logging.getLogger(__name__)


def spoken_left(seconds: float) -> str:
    """How long a job still takes, as far as is known; negative *seconds* are not known."""
    if seconds < 0:
        return ""
    minutes, seconds = divmod(round(seconds), 60)
    return f"about {minutes}:{seconds:02d} left"


class Job(QThread):
    """Runs ``work(progress)`` in a thread. ``progress(done, of)`` reports, and raises :class:`Cancelled`
    after :meth:`cancel`; work that gets it must leave nothing half-written behind."""

    progressed = Signal(float, float)   # fraction done, seconds left (negative: not known yet)
    succeeded = Signal(object)
    failed = Signal(str)
    cancelled = Signal()

    def __init__(self, title: str, work: Callable[[Callable[[float, float], None]], object],
                 parent: QObject | None = None):
        super().__init__(parent)
        self.title = title
        self._work = work
        self._stop = False
        self._started = 0.0
        self._told = 0.0

    def cancel(self) -> None:
        self._stop = True

    def run(self) -> None:
        self._started = time.monotonic()
        try:
            result = self._work(self._progress)
        except Cancelled:
            self.cancelled.emit()
        except Exception as error:
            log.exception("job failed: %s", self.title)
            self.failed.emit(str(error) or type(error).__name__)
        else:
            self.succeeded.emit(result)
        if time.monotonic() - self._started > LONG:
            give_back()

    def _progress(self, done: float, of: float = 1.0) -> None:
        if self._stop:
            raise Cancelled
        now = time.monotonic()
        if now - self._told < 0.1:
            return
        self._told = now
        fraction = min(max(done / of, 0.0), 1.0) if of else 0.0
        self.progressed.emit(fraction, (now - self._started) * (1 - fraction) / fraction if fraction > 0.02 else -1.0)


class Jobs(QObject):
    """The jobs that run now; the window shows them."""

    started = Signal(object)
    finished = Signal(object)

    def __init__(self, parent: QObject | None = None):
        super().__init__(parent)
        self.running: list[Job] = []

    def start(self, title: str, work: Callable[[Callable[[float, float], None]], object],
              succeeded: Callable[[object], None] | None = None,
              failed: Callable[[str], None] | None = None) -> Job:
        """Start *work* (see :class:`Job`); the callbacks are called on the UI thread."""
        job = Job(title, work, self)
        if succeeded is not None:
            job.succeeded.connect(succeeded)
        if failed is not None:
            job.failed.connect(failed)
        self.running.append(job)
        job.finished.connect(lambda: self._end(job))
        self.started.emit(job)
        job.start()
        return job

    def _end(self, job: Job) -> None:
        if job in self.running:
            self.running.remove(job)
            self.finished.emit(job)
            job.deleteLater()

    def close(self) -> None:
        """Stop all jobs and wait for them."""
        for job in list(self.running):
            job.cancel()
        for job in list(self.running):
            job.wait(10000)
