from __future__ import annotations

import os
import shutil
from pathlib import Path

import pytest
from PySide6.QtCore import QEvent, QSettings
from PySide6.QtWidgets import QApplication

from tests.desk.small_game import make_film, make_game

if not (os.environ.get("DISPLAY") or os.environ.get("WAYLAND_DISPLAY")):
    os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")


@pytest.fixture(scope="session")
def small_film(tmp_path_factory):
    return make_film(tmp_path_factory.mktemp("small_film"))


@pytest.fixture(scope="session")
def small_game_made(small_film, tmp_path_factory):
    return make_game(tmp_path_factory.mktemp("small_game"), small_film)


@pytest.fixture
def small_game(small_game_made, tmp_path) -> Path:
    """A copy of the small game, to be changed at will."""
    return Path(shutil.copy(small_game_made, tmp_path))


@pytest.fixture
def window(qtbot, tmp_path):
    """The whole desk, with settings of its own."""
    from workstation.desk.theme import Theme
    from workstation.desk.window import MainWindow
    theme = Theme(QApplication.instance())
    theme.apply(dark=True, scale=1)
    window = MainWindow(QSettings(str(tmp_path / "desk.ini"), QSettings.Format.IniFormat), theme)
    window.resize(1280, 800)
    window.show()
    window.activateWindow()
    qtbot.waitUntil(window.isActiveWindow)
    yield window
    window.close()
    window.deleteLater()
    QApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)     # every style sheet polishes all there are
    QApplication.processEvents()


@pytest.fixture
def opened(qtbot, window, small_game):
    """The desk with the small game open in the Tag room and its first picture on show."""
    window.opening.open_game(small_game)
    qtbot.waitUntil(lambda: window.session is not None, timeout=30000)
    qtbot.waitUntil(lambda: not window.session.player.frame.isNull(), timeout=30000)
    return window
