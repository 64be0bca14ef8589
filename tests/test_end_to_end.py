"""The main job in the real window: film, tag by keys and clicks, see the situation change, check, export."""

from __future__ import annotations

import json

import pytest
from PySide6.QtCore import QSettings, Qt
from PySide6.QtTest import QTest

from tests.desk.turns import Turns
from tests.footage import run
from workstation.desk.window import MainWindow
from workstation.football.situation import Next
from workstation.tagging.gamefile import GameFile


def type_in(line, text):
    """A key at a time, as a person does: a turn of the event loop after each."""
    for character in text:
        QTest.keyClicks(line, character)
        QTest.qWait(1)


def press(widget, key):
    QTest.keyClick(widget, key)
    QTest.qWait(1)


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
        window.opening.take_paths([path])
    qtbot.waitUntil(lambda: window.room is not None and window.room.session is not None, timeout=10_000)
    return window.session


def test_tag_check_export(window, qtbot, untagged, tmp_path):
    with Turns() as turns:
        path = tag_and_close(window, qtbot, untagged)
    assert not turns.complaints()
    print(f"the busiest turn of the event loop made {turns.most} calls")

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


def tag_and_close(window, qtbot, untagged):
    """Tag three plays, correct the first, and close the game in the middle of the fourth. Returns the game file."""
    session = open_in(window, qtbot, untagged)
    room = window.room
    assert session.situation.next is Next.COIN_TOSS
    line = room.line
    line.setFocus()

    type_in(line, "visitors defer")
    press(line, Qt.Key.Key_Return)
    assert session.situation.next is Next.KICKOFF
    type_in(line, "kickoff 8 27")
    press(line, Qt.Key.Key_Return)
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
    type_in(line, "kickoff 8 20")
    press(line, Qt.Key.Key_Return)
    assert (session.situation.down, session.situation.ball_on) == (2, 24)

    qtbot.waitUntil(lambda: session.coverage is not None, timeout=10_000)
    assert len(session.game.plays) == 3

    window.undo()
    qtbot.wait(50)
    window.redo()
    session.play()
    qtbot.wait(500)
    session.pause()
    for name in ("Review", "Sequence", "Tag"):      # what was missed, what to pass on, and back to work
        window.go_to(name)
        qtbot.wait(100)
    window.toggle_look()
    qtbot.wait(100)

    # Closing in the middle of typing loses nothing, not even the half-typed play.
    line.setFocus()
    room.go_to_row(3)
    type_in(line, "pass 1")
    qtbot.wait(700)
    path = session.file.path
    window.close_game()
    return path
