"""A game that is half tagged, opened again from inside the window, by keys and clicks."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QPushButton

from tests.desk.driver import press
from workstation.tagging.gamefile import GameFile
from workstation.tagging.model import MomentKind
from workstation.tagging.operations import RemovePlay, several


@pytest.fixture
def half_tagged(small_game):
    """The small game with the last six of its plays not tagged yet; the first shot without one begins at 47 s."""
    with GameFile.open(small_game) as file:
        file.do(several("take plays away", [RemovePlay(tag.id) for tag in reversed(file.game.plays[5:])]))
    return small_game


def wait_for_picture(qtbot, window):
    qtbot.waitUntil(lambda: window.session is not None and window.room is not None
                    and not window.session.player.frame.isNull(), timeout=30000)


@pytest.fixture
def reopened(qtbot, window, half_tagged):
    """Opened, closed by its key, and opened again from the list of the games opened last."""
    window.opening.open_game(half_tagged)
    wait_for_picture(qtbot, window)
    press(window, "desk.close")
    assert window.session is None and window.stack.currentWidget() is window.welcome
    again = next(button for button in window.welcome.findChildren(QPushButton)
                 if button.accessibleName() == f"Open {half_tagged.stem}")
    qtbot.mouseClick(again, Qt.MouseButton.LeftButton)
    wait_for_picture(qtbot, window)
    return window


def test_a_game_that_is_opened_again_plays_on_from_its_first_untagged_shot(qtbot, reopened):
    session = reopened.session
    assert session.shot_at(session.position).id == 6
    qtbot.waitUntil(lambda: not session.player.waiting, timeout=10000)
    before = session.time
    press(reopened, "tag.toggle")
    qtbot.waitUntil(lambda: session.time > before + 1, timeout=20000)
    shown = reopened.room.strip.clock.text()
    qtbot.waitUntil(lambda: reopened.room.strip.clock.text() != shown, timeout=10000)
    press(reopened, "tag.mark.snap")
    marked = session.game.moments[-1] if session.game.moments else None
    new = [moment for moment in session.game.moments if moment.kind is MomentKind.SNAP]
    assert marked is not None and any(session.film.time_of(moment.at) > before + 1 for moment in new)


def test_nothing_is_marked_while_the_film_plays_and_nobody_knows_where(qtbot, opened):
    session, before = opened.session, opened.session.game
    session.play()
    qtbot.waitUntil(lambda: session.playing)
    session.seek(session.game.shots[8].start)
    assert session.player.waiting
    press(opened, "tag.mark.snap")
    press(opened, "tag.split_shot")
    assert session.game == before
    assert "picture" in opened.toast.text()
    qtbot.waitUntil(lambda: not session.player.waiting, timeout=20000)
    press(opened, "tag.mark.signal")
    assert len(session.game.moments) == len(before.moments) + 1
