"""Starts the desk."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from PySide6.QtWidgets import QApplication


_SWITCH = 0.0005        # seconds
_TENDING = 30_000       # milliseconds from one look at the size of the log to the next


def make_application() -> QApplication:
    """The application, as the desk needs it."""
    from PySide6.QtWidgets import QApplication

    from ..film.memory import limit_arenas
    limit_arenas()
    app = QApplication.instance()
    if not isinstance(app, QApplication):
        app = QApplication(sys.argv[:1])
    app.setStyle("Fusion")
    # Each of the many small calls from Qt into Python may wait this long for the interpreter while another thread
    # works in it (the check, a thumbnail, an import). Beside one busy thread a repaint of the window takes two to
    # four times its own work with the usual 5 ms, and little more than its own work with this.
    sys.setswitchinterval(_SWITCH)
    return app


def run(game: Path | None = None, also: tuple[Path, ...] = ()) -> int:
    """Open the desk, on *game* (a game file, or footage) if one is given; returns the exit status."""
    from .. import log
    log.start()     # before anything can say anything
    from PySide6.QtCore import QCoreApplication, QSettings, QTimer

    from .qt_messages import log_qt_messages
    log_qt_messages()
    QCoreApplication.setOrganizationName("film-workstation")
    QCoreApplication.setApplicationName("film-workstation")
    app = make_application()
    tending = QTimer(app)
    tending.timeout.connect(log.tend)
    tending.start(_TENDING)
    from .window import MainWindow
    window = MainWindow(QSettings(QSettings.Format.IniFormat, QSettings.Scope.UserScope, "film-workstation", "desk"))
    window.show_as_left()
    if game is not None:
        QTimer.singleShot(0, lambda: window.opening.take_paths([Path(game), *also]))
    return app.exec()
