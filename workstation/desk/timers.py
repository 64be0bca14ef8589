"""Acting later, in the UI thread."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QObject, QTimer


def timer(parent: QObject, milliseconds: int, act: Callable[[], object], repeats: bool = False) -> QTimer:
    """A timer that calls *act* so long after it is started, once or again and again."""
    made = QTimer(parent)
    made.setSingleShot(not repeats)
    made.setInterval(milliseconds)
    made.timeout.connect(act)
    return made


def in_another_turn(owner: QObject, act: Callable[[], object]) -> None:
    """Call *act* in another turn of the event loop, as long as *owner* lives. Without any waiting time at all Qt would
    take it for an event of this turn."""
    QTimer.singleShot(1, owner, act)
