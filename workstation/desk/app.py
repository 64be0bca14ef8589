"""Starts the desk."""

from __future__ import annotations

import sys
from pathlib import Path


def run(game: Path | None = None, also: tuple[Path, ...] = ()) -> int:
    """Open the desk, on *game* (a game file, or footage) if one is given; returns the exit status."""
    from PySide6.QtCore import QCoreApplication, QSettings, QTimer
    from PySide6.QtWidgets import QApplication

    QCoreApplication.setOrganizationName("film-workstation")
    QCoreApplication.setApplicationName("film-workstation")
    app = QApplication.instance() or QApplication(sys.argv[:1])
    app.setStyle("Fusion")
    from .window import MainWindow
    window = MainWindow(QSettings(QSettings.Format.IniFormat, QSettings.Scope.UserScope,
                                  "film-workstation", "desk"))
    window.show()
    if game is not None:
        QTimer.singleShot(0, lambda: window.take_paths([Path(game), *also]))
    return app.exec()
