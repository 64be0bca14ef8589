"""What the Tag room shows, and that it stays where it is, in the whole window at 1280x800."""

from __future__ import annotations

import pytest

from tests.desk.driver import press
from tests.desk.small_game import PLAYS
from workstation.desk.theme import contrast
from workstation.desk.timeline.lanes import LANES
from workstation.tagging.model import MomentKind

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
    """As under a window manager, whose frame takes some of the 800 lines, and with something to tell. The lane of
    camera work is for reviewing, and the first to go where there is little room."""
    lanes = [lane.key for lane in LANES if lane.need > 0]
    assert len(lanes) == len(LANES) - 1
    room = opened.room
    opened.resize(1280, 770)
    opened.message.fail("Two of the film's files cannot be shown: one.mp4, two.mp4.", "The tags are safe.")
    qtbot.waitUntil(lambda: room.timeline.height() > 100)
    for text in LINES:
        room.line.clear()
        qtbot.keyClicks(room.line, text)
        qtbot.wait(1)
        shown = [lane.key for lane in room.timeline.lanes if lane.need > 0 and lane.key in room.timeline._boxes]
        assert shown == lanes, text
    assert room.picture.height() > 250


def contrast_in(image, ground):
    """The strongest contrast of any pixel with *ground*."""
    colours = {image.pixelColor(x, y).name() for x in range(image.width()) for y in range(image.height())}
    return max(contrast(colour, ground) for colour in colours)


@pytest.mark.parametrize("dark", [True, False])
def test_what_stands_in_an_empty_line_can_be_read(qtbot, opened, dark):
    room = opened.room
    opened.theme.apply(dark=dark)
    qtbot.waitUntil(lambda: room.isVisible() and room.updatesEnabled())
    room.go_to_row(len(PLAYS))
    room.picture.setFocus()
    room.line.clearFocus()
    ground = opened.theme.colours.well
    grabbed = room.line.grab(room.line.rect().adjusted(12, 8, -12, -8)).toImage()
    assert room.line.text() == "" and contrast_in(grabbed, ground) >= 4.5


def test_every_mark_says_what_it_means(opened):
    for kind, button in opened.room.marks.items():
        told = button.toolTip().splitlines()
        assert len(told) == 2 and len(told[1].split()) > 4, kind
        assert told[1] == button.accessibleDescription()


def test_the_clock_parts_of_a_yard_and_comments_are_told_before_anything_is_typed(qtbot, opened):
    room = opened.room
    room.go_to_row(len(PLAYS))
    qtbot.waitUntil(lambda: not room._showing.isActive())
    for words in ("4:05 the game clock", "6.5 parts of a yard", '"a comment"'):
        assert words in room.panel.answer.text()
    assert "comment" in room.line.toolTip()
    qtbot.keyClicks(room.line, 'run 6.5 4:05 "good block"')
    play = room.reading.step.play
    assert (play.gain, play.clock, play.comment) == (6.5, 245, "good block")


def test_on_a_low_screen_the_marks_about_the_filming_are_in_a_menu_and_their_keys_act(qtbot, opened):
    room, session = opened.room, opened.session
    assert all(button.isVisible() for button in room.marks.values())
    opened.resize(800, 450)
    qtbot.waitUntil(lambda: not room.marks[MomentKind.CUT_WHILE_LIVE].isVisible())
    entries = {entry.text().partition("\t")[0]: entry for entry in room.strip._more.menu().actions()}
    hidden = {kind for kind, button in room.marks.items() if not button.isVisible()}
    assert {kind.value.capitalize() for kind in hidden} == set(entries)
    assert all(entry.text().partition("\t")[2] for entry in entries.values())
    before = len(session.game.moments)
    entries["Ball lost"].trigger()
    press(opened, "tag.mark.cut_while_live")
    assert {moment.kind for moment in session.game.moments} >= {MomentKind.BALL_LOST, MomentKind.CUT_WHILE_LIVE}
    assert len(session.game.moments) == before + 2
    opened.resize(1280, 800)
    qtbot.waitUntil(lambda: all(button.isVisible() for button in room.marks.values()))


def test_a_clock_needs_no_colon_and_undo_takes_a_wrong_one_out(qtbot, opened):
    room = opened.room
    room.go_to_row(len(PLAYS))
    qtbot.keyClicks(room.line, "r4 251")
    assert room.line.text() == "r4 2:51" and room.reading.taken.play.clock == 171
    press(opened, "desk.undo")
    assert room.line.text() == "r4 251"
    room.line.clear()
    qtbot.keyClicks(room.line, "r4 1151")
    assert room.line.text() == "r4 11:51" and room.reading.taken.play.gain == 4
