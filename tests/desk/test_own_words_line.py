"""Own words typed into the line of the Tag room with real keys. Expectations were written down before the first run."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt

from workstation.football.plays import Play, PlayKind
from workstation.tagging.own_words.definition import Vocabulary, WordSaid

CTRL = Qt.KeyboardModifier.ControlModifier
LAST = 11       # plays of the small game


@pytest.fixture
def room(opened):
    return opened.room


def type_line(qtbot, room, text):
    qtbot.keyClicks(room.line, text)
    qtbot.keyClick(room.line, Qt.Key.Key_Return)


def said(tag):
    return {each.word: each.text for each in tag.words}


def test_words_are_kept_with_the_play_in_one_action(qtbot, room):
    session = room.session
    room.go_to_row(LAST)
    qtbot.keyClicks(room.line, "r4, trips right, 11, lt")
    assert room.panel.answer.text().startswith("✓ run for 4 yards")
    assert "formation trips; strength right; personnel 11; left hash" in room.panel.answer.text()
    qtbot.keyClick(room.line, Qt.Key.Key_Return)
    new = session.game.plays[-1]
    assert new.play == Play(PlayKind.RUN, gain=4)
    assert said(new) == {"formation": "trips", "strength": "right", "personnel": "11", "hash": "left hash"}
    assert session.game.vocabulary.word("formation") is not None        # the game keeps what it was said by
    plays = room.plays.plays
    assert plays.words(LAST) == "trips · 11 · right · left hash" and "trips · 11" in plays.data(plays.index(LAST))
    session.undo()
    assert len(session.game.plays) == LAST and session.game.vocabulary == Vocabulary()


def test_words_are_said_before_the_play_is_known(qtbot, room):
    session = room.session
    room.go_to_row(LAST)
    type_line(qtbot, room, "trips right, 11")
    assert len(session.game.plays) == LAST and room.line.text() == ""
    assert {each.word: each.text for each in session.game.coming} == {
        "formation": "trips", "strength": "right", "personnel": "11"}
    assert room.row == LAST and room.is_new
    qtbot.waitUntil(lambda: "formation trips (said before)" in room.panel.also.text())
    assert room.state.taker("tag.toggle", "Space").name == "ROOM"       # the film can be played on
    type_line(qtbot, room, "d")         # a second thought
    assert {each.word: each.text for each in session.game.coming}["formation"] == "doubles"
    type_line(qtbot, room, "r4, lt")
    assert said(session.game.plays[-1]) == {"formation": "doubles", "strength": "right", "personnel": "11",
                                            "hash": "left hash"}
    assert session.game.coming == ()
    session.undo()
    assert len(session.game.plays) == LAST and len(session.game.coming) == 3


def test_words_of_a_kept_play_change_and_the_play_stays(qtbot, room):
    session = room.session
    room.go_to_row(1)
    before = session.game.plays[1].play
    type_line(qtbot, room, "trips, x7")
    assert session.game.plays[1].play == before and said(session.game.plays[1]) == {"formation": "trips",
                                                                                    "box count": "7"}
    room.go_to_row(1)
    assert room.line.text() == room.reading.written(session.game.plays[1])      # the play; its words stand below
    qtbot.waitUntil(lambda: room.panel.also.text() == "formation trips · box count 7")
    type_line(qtbot, room, "r5")                        # the play again; what was said in words stays
    assert session.game.plays[1].play.gain == 5 and said(session.game.plays[1])["formation"] == "trips"
    room.go_to_row(1)
    type_line(qtbot, room, "no formation")
    assert session.game.plays[1].words == (WordSaid("box count", ("7",)), WordSaid("formation"))


def test_what_is_carried_on_shows_at_the_next_play(qtbot, room):
    room.go_to_row(1)
    type_line(qtbot, room, "11, no huddle")
    room.go_to_row(2)
    qtbot.waitUntil(lambda: room.panel.also.text() == "personnel 11 (carried on) · tempo no huddle (carried on)")
    assert room.session.game.plays[2].words == ()


def test_tab_completes_the_word(qtbot, room):
    room.go_to_row(LAST)
    qtbot.keyClicks(room.line, "r4, wish")
    qtbot.keyClick(room.line, Qt.Key.Key_Tab)
    assert room.line.text() == "r4, wishbone" and room.line.hasFocus()
    qtbot.keyClicks(room.line, " le")
    qtbot.keyClick(room.line, Qt.Key.Key_Tab)
    assert room.line.text() == "r4, wishbone left"
    qtbot.keyClick(room.line, Qt.Key.Key_Return)
    assert said(room.session.game.plays[-1]) == {"formation": "wishbone", "strength": "left"}
    room.go_to_row(LAST + 1)
    qtbot.keyClick(room.line, Qt.Key.Key_Tab)           # nothing to complete: on to the next control, as ever
    assert not room.line.hasFocus()


def test_the_words_that_can_come_next_are_offered(qtbot, room):
    room.go_to_row(LAST)
    qtbot.keyClicks(room.line, "r4, ")
    shown = [button.word for button in room.panel._word_buttons if button.isVisible()]
    assert shown[:3] == ["doubles", "trips", "empty"]
    room.panel._word_buttons[1].click()
    assert room.line.text() == "r4, trips"
    qtbot.keyClicks(room.line, ", ")
    shown = [button.word for button in room.panel._word_buttons if button.isVisible()]
    assert shown[:2] == ["10", "11"]


def test_what_has_two_meanings_is_asked_and_one_key_takes_the_next(qtbot, room):
    room.go_to_row(LAST)
    qtbot.keyClicks(room.line, "r4, power")
    assert room.panel.answer.text().startswith("? run for 4 yards") and "play call power" in room.panel.answer.text()
    qtbot.keyClick(room.line, Qt.Key.Key_Return, CTRL)
    assert "run (power) for 4 yards" in room.panel.answer.text()
    qtbot.keyClick(room.line, Qt.Key.Key_Return)
    assert room.session.game.plays[-1].play.manner == "power" and room.session.game.plays[-1].words == ()


def test_what_is_not_understood_is_pointed_out_and_not_kept(qtbot, room):
    room.go_to_row(LAST)
    type_line(qtbot, room, "r4, trpis")
    assert len(room.session.game.plays) == LAST
    assert room.line.selectedText() == "trpis" and "near it: trips" in room.panel.answer.text()


def test_a_comment_keeps_its_commas(qtbot, room):
    room.go_to_row(LAST)
    type_line(qtbot, room, 'r4 "trips right, 11", bunch')
    assert room.session.game.plays[-1].play.comment == "trips right, 11"
    assert said(room.session.game.plays[-1]) == {"formation": "bunch"}


def test_words_of_a_play_that_they_are_not_about_are_pointed_out_once(qtbot, room):
    session = room.session
    row = next(row for row, tag in enumerate(session.game.plays) if tag.play.kind is PlayKind.PUNT)
    room.go_to_row(row)
    type_line(qtbot, room, "trips")
    assert "formation is said about offense's plays, and this is: punt" in room.panel.answer.text()
    assert session.game.plays[row].words == ()
    qtbot.keyClick(room.line, Qt.Key.Key_Return)
    assert said(session.game.plays[row]) == {"formation": "trips"}
    room.go_to_row(row)
    type_line(qtbot, room, "lh")                        # the hash is said about every snap
    assert said(session.game.plays[row])["hash"] == "left hash"
