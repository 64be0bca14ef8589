"""The main job in the real window: film, tag by keys and clicks, see the situation change, check, export."""

from __future__ import annotations

import json
import time

import pytest
from PySide6.QtCore import QSettings, Qt, QTimer
from PySide6.QtTest import QTest

from tests.footage import run
from workstation.desk.window import MainWindow
from workstation.football.situation import Next
from workstation.tagging.gamefile import GameFile


class _Watch:
    """Measures how long the event loop was away, by a timer that should tick every 5 ms."""

    def __init__(self) -> None:
        self.longest = 0.0
        self._last = time.perf_counter()
        self._timer = QTimer()
        self._timer.setInterval(5)
        self._timer.timeout.connect(self._tick)
        self._timer.start()

    def _tick(self) -> None:
        now = time.perf_counter()
        self.longest = max(self.longest, now - self._last)
        self._last = now


@pytest.fixture
def untagged(demo_game_file):
    """The demo's film with its shots, and none of its plays."""
    from workstation.tagging.operations import RemovePlay, several

    with GameFile.open(demo_game_file) as file:
        file.do(several("take all plays away", [RemovePlay(tag.id) for tag in reversed(file.game.plays)]))
    return demo_game_file


@pytest.fixture
def window(qtbot, tmp_path, monkeypatch):
    monkeypatch.setenv("FILM_WORKSTATION_VLC", "--aout=dummy")
    made = MainWindow(QSettings(str(tmp_path / "desk.ini"), QSettings.Format.IniFormat))
    qtbot.addWidget(made)
    made.resize(1280, 800)
    made.show()
    qtbot.waitExposed(made)
    yield made
    made.close()


def open_in(window, qtbot, path):
    with qtbot.waitSignal(window.game_opened, timeout=20_000):
        window.take_paths([path])
    qtbot.waitUntil(lambda: window.room is not None and window.room.session is not None, timeout=10_000)
    return window.session


def test_tag_check_export(window, qtbot, untagged, tmp_path):
    session = open_in(window, qtbot, untagged)
    room = window.room
    watch = _Watch()
    assert session.situation.next is Next.COIN_TOSS
    line = room.line
    line.setFocus()

    QTest.keyClicks(line, "visitors defer")
    QTest.keyClick(line, Qt.Key.Key_Return)
    assert session.situation.next is Next.KICKOFF
    QTest.keyClicks(line, "kickoff 8 27")
    QTest.keyClick(line, Qt.Key.Key_Return)
    first_and_ten = session.situation
    assert (first_and_ten.next, first_and_ten.down, first_and_ten.ball_on) == (Next.SCRIMMAGE, 1, 27)

    # By mouse: the word "run", the digit 4, and Keep.
    from PySide6.QtWidgets import QPushButton
    def click(text):
        button = next(button for button in room.panel.findChildren(QPushButton)
                      if button.isVisible() and button.text().replace("&", "").strip().split("·")[0].strip() == text)
        QTest.mouseClick(button, Qt.MouseButton.LeftButton)
    click("run")
    click("4")
    QTest.mouseClick(room.panel.commit, Qt.MouseButton.LeftButton)
    assert (session.situation.down, session.situation.yards_to_gain, session.situation.ball_on) == (2, 6, 31)

    # Correct the play before: everything after it follows.
    room.go_to_row(1)
    line.selectAll()
    QTest.keyClicks(line, "kickoff 8 20")
    QTest.keyClick(line, Qt.Key.Key_Return)
    assert (session.situation.down, session.situation.ball_on) == (2, 24)

    qtbot.waitUntil(lambda: session.coverage is not None, timeout=10_000)
    assert len(session.game.plays) == 3

    # Closing in the middle of typing loses nothing, not even the half-typed play.
    line.setFocus()
    room.go_to_row(3)
    QTest.keyClicks(line, "pass 1")
    qtbot.wait(700)
    path = session.file.path
    window.close_game()
    session = open_in(window, qtbot, path)
    assert len(session.game.plays) == 3
    assert window.room.line.text() == "pass 1"

    from workstation.commands import run as command
    assert command(["export", str(path), "--to", str(tmp_path / "out")]) == 0
    shots = {shot.id: shot for shot in session.game.shots}
    made = sorted((tmp_path / "out").glob("*.mp4"))
    assert len(made) == 3
    for file, tag in zip(made, session.game.plays, strict=True):
        shot = shots[tag.shot]
        told = json.loads(run("ffprobe", "-v", "error", "-show_format", "-of", "json", str(file)))
        length = float(session.film.time_of(shot.end) - session.film.time_of(shot.start))
        assert abs(float(told["format"]["duration"]) - length) <= 1001 / 30000
        run("ffmpeg", "-v", "error", "-xerror", "-i", str(file), "-f", "null", "-")
    print(f"longest absence of the event loop: {watch.longest * 1000:.0f} ms")
