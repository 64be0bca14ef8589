"""Moving about the film in the whole window: by keys, and by the wheel over the picture."""

from __future__ import annotations

import threading
from fractions import Fraction

import pytest
from PySide6.QtCore import QPoint, QPointF, Qt
from PySide6.QtGui import QWheelEvent
from PySide6.QtWidgets import QApplication

from tests.desk.driver import press
from tests.desk.small_game import PLAYS, RATE
from workstation.tagging.operations import RemovePlay


def turn(widget, angle, modifiers=Qt.KeyboardModifier.NoModifier):
    middle = QPointF(widget.rect().center())
    QApplication.sendEvent(widget, QWheelEvent(middle, widget.mapToGlobal(middle), QPoint(), QPoint(0, angle),
                                               Qt.MouseButton.NoButton, modifiers, Qt.ScrollPhase.NoScrollPhase, False))


def stands_at(qtbot, session, seconds):
    qtbot.waitUntil(lambda: abs(float(session.time) - seconds) < 0.5 / RATE and not session.player.waiting
                    and session.player.is_placed, timeout=10000)


def test_there_are_steps_between_one_picture_and_five_seconds(qtbot, opened):
    room, session = opened.room, opened.session
    room.go_to_row(len(PLAYS))
    session.seek_time(20)
    stands_at(qtbot, session, 20)
    press(opened, "tag.second_ahead")
    stands_at(qtbot, session, 21)
    press(opened, "tag.second_back")
    press(opened, "tag.second_back")
    stands_at(qtbot, session, 19)
    assert room.line.text() == ""


def test_keys_go_to_the_films_start_and_to_the_first_shot_without_its_play(qtbot, opened):
    room, session = opened.room, opened.session
    session.do(RemovePlay(session.game.plays[3].id))
    press(opened, "tag.first_untagged")
    assert session.shot_at(session.position).id == 4 and room.is_new and room.row == 3
    press(opened, "tag.film_start")
    assert session.time == 0
    qtbot.keyClicks(room.line, "r2")
    press(opened, "tag.film_start")
    assert session.time == 0 and room.line.text() == "r2"


def test_the_wheel_over_the_picture_steps_by_pictures_and_with_shift_by_seconds(qtbot, opened):
    picture, session = opened.room.picture, opened.session
    session.seek_time(20)
    stands_at(qtbot, session, 20)
    turn(picture, -120)
    stands_at(qtbot, session, 20 + 1 / RATE)
    turn(picture, 120)
    stands_at(qtbot, session, 20)
    for _ in range(4):          # a fine wheel turns a quarter of a notch at a time
        turn(picture, -30)
    stands_at(qtbot, session, 20 + 1 / RATE)
    turn(picture, -240, Qt.KeyboardModifier.ShiftModifier)
    stands_at(qtbot, session, 22 + 1 / RATE)


def test_a_mark_right_after_a_step_is_not_stored_at_the_picture_before(qtbot, opened):
    session = opened.session
    session.seek_time(20)
    stands_at(qtbot, session, 20)
    before = session.game
    press(opened, "tag.clear")
    opened.room.line.clear()
    press(opened, "tag.frame_ahead")
    if not session.player.is_placed:        # its picture is still on its way, as it nearly always is
        press(opened, "tag.mark.signal")
        assert session.game == before
    stands_at(qtbot, session, 20 + 1 / RATE)
    press(opened, "tag.mark.signal")
    new = [moment for moment in session.game.moments if moment not in before.moments]
    assert [float(session.film.time_of(moment.at)) for moment in new] == [20 + 1 / RATE]


def test_a_late_picture_of_the_place_before_does_not_take_the_film_back(qtbot, opened):
    """The picture before the one asked for arrives while the playing thread has not come to the request."""
    session, player = opened.session, opened.session.player
    session.seek_time(20)
    stands_at(qtbot, session, 20)
    before, late = session.position, []
    player._playback.open_reader(player.film, lambda reader: reader.fetch(before, late.append))
    qtbot.waitUntil(lambda: bool(late))
    free = threading.Event()
    player._playback._call(free.wait)
    wanted = session.film.instant_at(20 + Fraction(1, RATE))
    try:
        session.seek(wanted)
        player._on_picture(late[0], True)
        QApplication.processEvents()
        assert (session.position, player.waiting) == (wanted, True)
        session.step(1)                 # nor does it answer a step
        player._on_picture(late[0], True)
        QApplication.processEvents()
        assert session.position == wanted and not player.is_placed
    finally:
        free.set()
    stands_at(qtbot, session, 20 + 2 / RATE)


@pytest.mark.parametrize("room", ["Review", "Sequence"])
def test_space_on_the_button_that_plays_plays_and_pauses(qtbot, opened, room):
    opened.ask_for(room)
    qtbot.waitUntil(lambda: opened.room.name == room, timeout=30000)
    button = opened.room._play
    button.setFocus()
    for playing in (True, False):
        qtbot.keyClick(button, Qt.Key.Key_Space)
        qtbot.waitUntil(lambda playing=playing: opened.session.playing is playing, timeout=10000)
