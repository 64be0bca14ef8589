"""Run a call in the Qt application's thread from another one."""

from __future__ import annotations

from collections.abc import Callable
from concurrent.futures import Future
from typing import TypeVar

from PySide6.QtCore import QCoreApplication, QMetaObject, Qt, QThread, QTimer

T = TypeVar("T")
PATIENCE = 30.0         # seconds; an application that has ended does nothing any more


def in_application_thread(work: Callable[[], T]) -> T:
    """Do something in the application's thread; returns what it returns and raises what it raises.

    So are modules read whose classes stand on Qt's: PySide looks up the class of an object without holding the
    interpreter, and while another thread makes such a class the application's may find none, which ends the process.
    Raises RuntimeError without an application, and if it does not get to it.
    """
    application = QCoreApplication.instance()
    if application is None:
        raise RuntimeError("the player built into Qt needs the desk")
    if application.thread() == QThread.currentThread():
        return work()
    done: Future[T] = Future()
    timer = QTimer(singleShot=True)

    def do() -> None:
        try:
            done.set_result(work())
        except Exception as error:
            done.set_exception(error)
        timer.deleteLater()     # not released before: this thread must be the one that ends it

    timer.timeout.connect(do)
    timer.moveToThread(application.thread())
    QMetaObject.invokeMethod(timer, "start", Qt.ConnectionType.QueuedConnection)
    try:
        return done.result(PATIENCE)
    except TimeoutError:
        raise RuntimeError("the desk did not get to the player built into Qt") from None
