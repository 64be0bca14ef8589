"""What the Tag room shows, and that it stays where it is, in the whole window at 1280x800."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt

from tests.desk.small_game import PLAYS
from workstation.desk.timeline.lanes import LANES

LINES = ("", "run", "run 4", "pass 12 touchdown holding declined", "measurement short 2:05", "nonsense", "pu 20",
         "pass 12 fumble lost own 30 holding on the offense declined 4:15")


@pytest.mark.parametrize("size", [(1280, 800), (1600, 950)])
def test_the_picture_stays_as_it_is_while_plays_are_typed(qtbot, opened, size):
    room = opened.room
    opened.resize(*size)
    room.go_to_row(len(PLAYS))
    qtbot.waitUntil(lambda: not room._showing.isActive() and opened.size().toTuple() == size)
    before = room.picture.geometry()
    words = room.panel._words_holder.geometry()
    for text in LINES:
        room.line.clear()
        for character in text:
            qtbot.keyClicks(room.line, character)
            qtbot.wait(1)
            assert room.picture.geometry() == before, room.line.text()
            assert room.panel._words_holder.geometry() == words, room.line.text()


def test_all_lanes_are_there_on_a_small_screen(qtbot, opened):
    """As under a window manager, whose frame takes some of the 800 lines, and with something to tell."""
    room = opened.room
    opened.resize(1280, 770)
    opened.message.fail("Two of the film's files cannot be shown: one.mp4, two.mp4.", "The tags are safe.")
    qtbot.waitUntil(lambda: room.timeline.height() > 100)
    for text in LINES:
        room.line.clear()
        qtbot.keyClicks(room.line, text)
        qtbot.wait(1)
        shown = [lane.key for lane in room.timeline.lanes if lane.key in room.timeline._boxes]
        assert shown == [lane.key for lane in LANES], text
    assert room.picture.height() > 250
