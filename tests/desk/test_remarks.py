"""Remarks on the filming, by keys in the whole window."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication

from workstation.coverage.profile import load_profile
from workstation.desk.remark_entry import OfferedWord, meant, words_of
from workstation.film.time import Instant
from workstation.tagging.model import Remark

WORDS = words_of(load_profile())


def press(qtbot, key, modifiers=Qt.KeyboardModifier.NoModifier):
    qtbot.keyClick(QApplication.focusWidget(), key, modifiers)


def write(qtbot, words):
    for letter in words:
        qtbot.keyClicks(QApplication.focusWidget(), letter)


@pytest.fixture
def review(qtbot, opened):
    qtbot.waitUntil(lambda: opened.session.coverage is not None, timeout=20000)
    press(qtbot, Qt.Key.Key_2, Qt.KeyboardModifier.ControlModifier)
    qtbot.waitUntil(lambda: opened.room is not None and opened.room.name == "Review", timeout=20000)
    return opened


def stand(qtbot, window, seconds) -> Instant:
    window.session.seek_time(seconds)
    qtbot.waitUntil(lambda: window.session.player.is_placed and not window.session.player.waiting, timeout=20000)
    return window.session.position


@pytest.mark.parametrize(("typed", "words"), [
    ("tool", ["too loose"]), ("tl", ["too loose"]), ("sh", ["shaky"]), ("w", ["well done", "well framed"]),
    ("too t", ["too tight"]), ("GP", ["good pan"]), ("xq", []),
])
def test_what_letters_mean(typed, words):
    assert [word.text for word in meant(WORDS, typed)] == words


def test_a_word_at_a_place(qtbot, review):
    at = stand(qtbot, review, 14)
    press(qtbot, Qt.Key.Key_R, Qt.KeyboardModifier.ControlModifier)
    entry = review.room.remark_entry
    assert entry.isVisible() and entry.hasFocus() and "0:14.0" in entry.where.text()
    write(qtbot, "sh")
    assert entry.chosen == OfferedWord("shaky")
    press(qtbot, Qt.Key.Key_Return)
    (remark,) = review.session.game.remarks
    assert (remark.word, remark.at, remark.until, remark.praise) == ("shaky", at, None, False)
    assert not entry.isVisible() and review.room.picture.hasFocus()
    assert review.session.game.decisions == () and len(review.session.game.notes) == 2     # no letter acted on the room
    press(qtbot, Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier)
    assert review.session.game.remarks == ()


def test_a_span_from_the_first_press_to_the_second_whichever_is_earlier(qtbot, review):
    late = stand(qtbot, review, 20)
    press(qtbot, Qt.Key.Key_R, Qt.KeyboardModifier.ControlModifier)
    early = stand(qtbot, review, 15)
    press(qtbot, Qt.Key.Key_R, Qt.KeyboardModifier.ControlModifier)
    assert "from 0:15.0 to 0:20.0" in review.room.remark_entry.where.text()
    press(qtbot, Qt.Key.Key_1)
    press(qtbot, Qt.Key.Key_Return)
    (remark,) = review.session.game.remarks
    assert (remark.word, remark.at, remark.until) == ("too tight", early, late)


def test_the_film_runs_on_under_the_list(qtbot, review):
    stand(qtbot, review, 14)
    press(qtbot, Qt.Key.Key_R, Qt.KeyboardModifier.ControlModifier)
    press(qtbot, Qt.Key.Key_Space)
    assert review.session.playing
    press(qtbot, Qt.Key.Key_Space)
    assert not review.session.playing and review.room.remark_entry.isVisible()


def test_praise_is_praise_by_shape_and_word(qtbot, review):
    stand(qtbot, review, 14)
    press(qtbot, Qt.Key.Key_R, Qt.KeyboardModifier.ControlModifier)
    write(qtbot, "well")
    entry = review.room.remark_entry
    assert entry.chosen == OfferedWord("well done", True)
    assert "★ well done" in entry.buttons[entry.chosen].text() and "praise" in entry._help.text()
    press(qtbot, Qt.Key.Key_Return)
    (remark,) = review.session.game.remarks
    assert remark.praise
    room = review.room
    qtbot.waitUntil(lambda: len(room.timeline.lane("remarks").items) == 1)
    items = room.timeline.lane("remarks").items
    assert (items.look[0] == 1 and items.tooltip[0] == "Praise at 0:14\nwell done"
            and items.long[0] == "praise: well done")
    assert "★ well done" in room.remarks.list.item(0).text()
    assert room._tabs.button(2).text() == "Remarks (1)"


def test_escape_and_an_empty_enter_keep_nothing(qtbot, review):
    stand(qtbot, review, 14)
    press(qtbot, Qt.Key.Key_R, Qt.KeyboardModifier.ControlModifier)
    press(qtbot, Qt.Key.Key_Return)
    assert review.room.remark_entry.isVisible()
    write(qtbot, "zz")                  # means nothing, chooses nothing
    assert review.room.remark_entry.chosen is None
    press(qtbot, Qt.Key.Key_Escape)
    assert not review.room.remark_entry.isVisible() and review.session.game.remarks == ()


def test_digits_choose_among_what_the_letters_mean(qtbot, review):
    stand(qtbot, review, 14)
    press(qtbot, Qt.Key.Key_R, Qt.KeyboardModifier.ControlModifier)
    write(qtbot, "t")
    shown = [word.text for word in meant(WORDS, "t")]
    press(qtbot, Qt.Key.Key_3)
    assert review.room.remark_entry.chosen.text == shown[2]
    press(qtbot, Qt.Key.Key_Down)
    assert review.room.remark_entry.chosen.text == shown[3]


def test_a_comment_goes_along(qtbot, review):
    stand(qtbot, review, 14)
    press(qtbot, Qt.Key.Key_R, Qt.KeyboardModifier.ControlModifier)
    write(qtbot, "sh")
    review.room.remark_entry.comment.setFocus()
    write(qtbot, "wind' 1")
    press(qtbot, Qt.Key.Key_Return)
    (remark,) = review.session.game.remarks
    assert (remark.word, remark.comment) == ("shaky", "wind' 1")


def test_a_remark_is_found_changed_and_removed_as_a_note_is(qtbot, review):
    for seconds, word in ((14, "sh"), (30, "well")):
        stand(qtbot, review, seconds)
        press(qtbot, Qt.Key.Key_R, Qt.KeyboardModifier.ControlModifier)
        write(qtbot, word)
        press(qtbot, Qt.Key.Key_Return)
    kept = review.session.game.remarks
    press(qtbot, Qt.Key.Key_M, Qt.KeyboardModifier.ShiftModifier)
    assert review.room.remarks.list.hasFocus() and review.session.position == kept[0].at
    press(qtbot, Qt.Key.Key_Down)
    assert review.session.position == kept[1].at
    press(qtbot, Qt.Key.Key_Up)
    press(qtbot, Qt.Key.Key_T, Qt.KeyboardModifier.ShiftModifier)
    assert review.room.remark_entry.chosen == OfferedWord("shaky")
    write(qtbot, "sof")
    press(qtbot, Qt.Key.Key_Return)
    assert [remark.word for remark in review.session.game.remarks] == ["soft", "well done"]
    assert review.session.game.remarks[0].at == kept[0].at
    press(qtbot, Qt.Key.Key_M, Qt.KeyboardModifier.ShiftModifier)
    press(qtbot, Qt.Key.Key_Delete)
    assert [remark.word for remark in review.session.game.remarks] == ["well done"]
    press(qtbot, Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier)
    assert [remark.word for remark in review.session.game.remarks] == ["soft", "well done"]


def test_a_click_on_the_lane_chooses_the_remark(qtbot, review):
    at = stand(qtbot, review, 14)
    press(qtbot, Qt.Key.Key_R, Qt.KeyboardModifier.ControlModifier)
    write(qtbot, "sh")
    press(qtbot, Qt.Key.Key_Return)
    stand(qtbot, review, 60)
    view = review.room.timeline
    qtbot.waitUntil(lambda: len(view.lane("remarks").items) == 1)
    view.item_chosen.emit("remarks", view.lane("remarks").items.ids[0])
    assert review.session.position == at and review.room.remarks.current.word == "shaky"


def test_a_word_that_the_crew_gave_up_stays_in_its_remark(qtbot, review):
    at = stand(qtbot, review, 14)
    review.room.remark_entry.begin(Remark(0, "crooked", at))
    assert review.room.remark_entry.chosen == OfferedWord("crooked")
    press(qtbot, Qt.Key.Key_Return)
    assert review.session.game.remarks[0].word == "crooked"


def test_a_word_while_watching_in_the_tag_room(qtbot, opened):
    room = opened.room
    room.line.setText("run 4")
    at = stand(qtbot, opened, 14)
    press(qtbot, Qt.Key.Key_R, Qt.KeyboardModifier.ControlModifier)
    assert room.remark_entry.hasFocus()
    write(qtbot, "sh")
    later = stand(qtbot, opened, 16)
    press(qtbot, Qt.Key.Key_R, Qt.KeyboardModifier.ControlModifier)
    press(qtbot, Qt.Key.Key_Return)
    (remark,) = opened.session.game.remarks
    assert (remark.word, remark.at, remark.until) == ("shaky", at, later)
    assert room.line.hasFocus() and room.line.text() == "run 4" and len(opened.session.game.plays) == 11
    press(qtbot, Qt.Key.Key_Escape)


def test_escape_leaves_the_list_and_not_the_line(qtbot, opened):
    opened.room.line.setText("run 4")
    stand(qtbot, opened, 14)
    press(qtbot, Qt.Key.Key_R, Qt.KeyboardModifier.ControlModifier)
    press(qtbot, Qt.Key.Key_Escape)
    assert (not opened.room.remark_entry.isVisible() and opened.room.line.text() == "run 4"
            and opened.room.line.hasFocus())


def test_letters_after_the_key_are_the_lists_also_while_the_picture_is_on_its_way(qtbot, review, monkeypatch):
    session, entry = review.session, review.room.remark_entry
    game = session.game
    monkeypatch.setattr(session.player, "_stepping", True)
    press(qtbot, Qt.Key.Key_R, Qt.KeyboardModifier.ControlModifier)
    press(qtbot, Qt.Key.Key_1)
    press(qtbot, Qt.Key.Key_Return)
    assert entry.isVisible() and session.game == game and "still coming" in review.toast.text()
    monkeypatch.setattr(session.player, "_stepping", False)
    press(qtbot, Qt.Key.Key_Return)
    assert [remark.at for remark in session.game.remarks] == [session.position] and not entry.isVisible()
