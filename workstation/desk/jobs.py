"""Background work: one kind of job.

A :class:`Job` runs ``work(progress)`` in a thread of its own. What comes of it is delivered on the UI thread: the
result to ``succeeded``, an error's words to ``failed``, a cancelling to ``cancelled``. No other module of the desk
starts a thread. :class:`Jobs` are those that the window shows, with a bar and a button that stops them.

A thread never touches a job, which the UI thread may be deleting that very moment: an object that sends a signal while
it is deleted takes the interpreter along. It leaves what it has to say with :class:`UiThread`, which is never deleted;
so do the threads that play and read films.

Which thread may touch what is in DEVELOPERS.md.
"""

from __future__ import annotations

import logging
import threading
import time
from collections import deque
from collections.abc import Callable
from functools import cache, partial
from typing import TypeVar

from PySide6.QtCore import QObject, Qt, Signal
from shiboken6 import isValid

from ..cancelling import Cancelled
from ..film.memory import release_freed_memory

_LONG = 5.0         # seconds; work that took as long, such as an export, leaves much memory to give back
_BETWEEN = 0.1      # seconds from one report of progress to the next

log = logging.getLogger(__name__)
T = TypeVar("T")


def spoken_left(seconds: float) -> str:
    """How long a job still takes, as far as is known; negative *seconds* are not known."""
    if seconds < 0:
        return ""
    minutes, rest = divmod(round(seconds), 60)
    return f"about {minutes}:{rest:02d} left"


class Progress:
    """What work reports through, and how it learns that it was cancelled. Work must leave nothing half-written.

    ``progress(done, of)`` reports and raises :class:`Cancelled` once the job was cancelled. Work that asks instead of
    being interrupted uses :meth:`report` and :meth:`cancelled`.
    """

    def __init__(self, reported: Callable[[float, float], object] = lambda fraction, left: None):
        """*reported* is called, in the thread that works, with the fraction done and the seconds left (-1: unknown)."""
        self._reported = reported
        self._cancelled = threading.Event()
        self._began = time.monotonic()
        self._last = 0.0

    def __call__(self, done: float, of: float = 1.0) -> None:
        """Report progress; raise Cancelled if the job is cancelled."""
        if self._cancelled.is_set():
            raise Cancelled
        self.report(done, of)

    def report(self, done: float, of: float = 1.0) -> None:
        """Pass on that `done` of `of` is done, not more often than the screen can show."""
        now = time.monotonic()
        if now - self._last < _BETWEEN:
            return
        self._last = now
        fraction = min(max(done / of, 0.0), 1.0) if of else 0.0
        self._reported(fraction, (now - self._began) * (1 - fraction) / fraction if fraction > 0.02 else -1.0)

    def cancelled(self) -> bool:
        """Whether the job was asked to stop."""
        return self._cancelled.is_set()

    def cancel(self) -> None:
        """Ask the job to stop; it does at its next report."""
        self._cancelled.set()


class UiThread(QObject):
    """Calls on the UI thread, in order and each in a turn of its own, what any thread asks it to."""

    _asked = Signal()

    def __init__(self) -> None:
        super().__init__()
        self._calls: deque[Callable[[], object]] = deque()
        self._asked.connect(self._call, Qt.ConnectionType.QueuedConnection)

    def call(self, act: Callable[[], object]) -> None:
        """Call *act* in a later turn of the event loop; from any thread."""
        self._calls.append(act)     # not carried by the signal: PySide now and then keeps what a signal carries
        self._asked.emit()

    def call_for(self, owner: QObject, act: Callable[[], object]) -> None:
        """Like :meth:`call`, unless *owner* was deleted meanwhile."""
        def if_there() -> None:
            if isValid(owner):
                act()

        self.call(if_there)

    def _call(self) -> None:
        self._calls.popleft()()


@cache
def ui_thread() -> UiThread:
    """The one there is; first asked for on the UI thread."""
    return UiThread()


class Job(QObject):
    """One piece of work in a thread of its own. Its *parent* keeps it until its end was delivered; a parent that is
    deleted before hears nothing of it. *abandoned* work does not keep the process from ending."""

    progressed = Signal(float, float)       # fraction done, seconds left (negative: not known yet)
    ended = Signal()                        # after its result or error was delivered, or it was cancelled

    def __init__(self, title: str, work: Callable[[Progress], T], succeeded: Callable[[T], object] | None = None,
                 failed: Callable[[str], object] | None = None, cancelled: Callable[[], object] | None = None, *,
                 parent: QObject, abandoned: bool = False):
        super().__init__(parent)
        self.title = title
        self._progress = Progress(self._report)
        self._ui = ui_thread()
        self._thread = threading.Thread(target=self._run, args=(work, succeeded, failed, cancelled), name=title,
                                        daemon=abandoned)

    def start(self) -> Job:
        """Start the thread and return the job."""
        self._thread.start()
        return self

    def cancel(self) -> None:
        """Ask the job to stop; returns at once."""
        self._progress.cancel()

    def wait(self, seconds: float) -> None:
        """Wait until the work is done; its end is delivered in a later turn of the event loop."""
        self._thread.join(seconds)

    def _run(self, work: Callable[[Progress], T], succeeded: Callable[[T], object] | None,
             failed: Callable[[str], object] | None, cancelled: Callable[[], object] | None) -> None:
        began = time.monotonic()
        delivery: Callable[[], object] | None = None
        try:
            result = work(self._progress)
        except Cancelled:
            delivery = cancelled
        except Exception as error:
            log.exception("job failed: %s", self.title)
            if failed is not None:
                delivery = partial(failed, str(error) or type(error).__name__)
        else:
            if succeeded is not None:
                delivery = partial(succeeded, result)
        self._ui.call_for(self, lambda: self._deliver(delivery))
        if time.monotonic() - began > _LONG:
            release_freed_memory()

    def _report(self, fraction: float, left: float) -> None:
        if not isValid(self):       # the parent was deleted: nobody waits for this
            raise Cancelled
        self._ui.call_for(self, lambda: self.progressed.emit(fraction, left))

    def _deliver(self, delivery: Callable[[], object] | None) -> None:
        try:
            if delivery is not None:
                delivery()
        finally:
            if isValid(self):       # what was delivered may have had the parent deleted
                self.ended.emit()
                self.deleteLater()


class Jobs(QObject):
    """The jobs that run now and that the window shows."""

    started = Signal(object)
    finished = Signal(object)
    failed = Signal(str, str)       # title and reason of a job that tells nobody else

    def __init__(self, parent: QObject | None = None):
        super().__init__(parent)
        self.running: list[Job] = []

    def start(self, title: str, work: Callable[[Progress], T], succeeded: Callable[[T], object] | None = None,
              failed: Callable[[str], object] | None = None, cancelled: Callable[[], object] | None = None) -> Job:
        """Start *work* (see :class:`Job`) and show it; the callbacks are called on the UI thread."""
        def tell(why: str) -> None:
            self.failed.emit(title, why)

        job = Job(title, work, succeeded, failed or tell, cancelled, parent=self)
        self.running.append(job)
        job.ended.connect(lambda: self._end(job))
        self.started.emit(job)
        return job.start()

    def _end(self, job: Job) -> None:
        if job in self.running:
            self.running.remove(job)
            self.finished.emit(job)

    def close(self) -> None:
        """Cancel all jobs and wait for them."""
        for job in self.running:
            job.cancel()
        for job in list(self.running):
            job.wait(10)

