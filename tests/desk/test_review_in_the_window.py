"""The Review room in the whole window, by keys: a room by itself has no window around it that acts on keys too."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication

from workstation.desk.keys import KeyMap
from workstation.tagging.model import Decision, Verdict


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


def test_a_waiver_stays_a_waiver_with_its_reason(qtbot, review):
    press(qtbot, Qt.Key.Key_N)
    press(qtbot, Qt.Key.Key_W)
    write(qtbot, "the board was dark")
    press(qtbot, Qt.Key.Key_Return)
    key = review.room.findings.current.key
    assert review.session.game.decisions == (Decision(key, Verdict.WAIVED, "the board was dark"),)
    press(qtbot, Qt.Key.Key_N)      # and the keys go on to the next finding
    assert review.room.findings.current.key != key


def test_a_comment_decides_nothing(qtbot, review):
    press(qtbot, Qt.Key.Key_N)
    press(qtbot, Qt.Key.Key_C)
    write(qtbot, "look again")
    press(qtbot, Qt.Key.Key_Return)
    assert review.session.game.decisions == (Decision(review.room.findings.current.key, None, "", "look again"),)


def test_a_note_is_written_without_acting_on_the_room(qtbot, review):
    press(qtbot, Qt.Key.Key_N)
    press(qtbot, Qt.Key.Key_T)
    write(qtbot, "waadc")
    press(qtbot, Qt.Key.Key_Return)
    assert "waadc" in [note.text for note in review.session.game.notes]
    assert review.session.game.decisions == ()


@pytest.mark.parametrize(("room", "action"), [(1, "Mark: snap"), (2, "Next finding"), (3, "Find words")])
def test_the_keys_of_the_room_at_hand_come_first(qtbot, review, room, action):
    press(qtbot, getattr(Qt.Key, f"Key_{room}"), Qt.KeyboardModifier.ControlModifier)
    name = ("Tag", "Review", "Sequence")[room - 1]
    qtbot.waitUntil(lambda: review.room.name == name, timeout=20000)
    press(qtbot, Qt.Key.Key_F1)
    assert review.stack.currentWidget() is review.key_page
    assert review.key_page.table.item(0, 0).text() == action
    assert review.key_page.table.item(0, 1).text() == name


def test_a_letter_means_the_same_in_every_room(window):
    keys: KeyMap = window.keys
    meant: dict[str, set[str]] = {}
    for action in keys.actions():
        for key in keys.keys(action.id):
            if len(key) == 1 and (key.isalpha() or key in ",."):
                meant.setdefault(key, set()).add(action.text)
    assert {key: texts for key, texts in meant.items() if len(texts) > 1} == {}
