"""The Sequence room in the whole window, by keys."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication

from tests.desk.test_review_in_the_window import press, write
from workstation.tagging.model import MomentKind
from workstation.tagging.operations import AddMoment


@pytest.fixture
def sequence(qtbot, opened):
    qtbot.waitUntil(lambda: opened.session.coverage is not None, timeout=20000)
    press(qtbot, Qt.Key.Key_3, Qt.KeyboardModifier.ControlModifier)
    qtbot.waitUntil(lambda: opened.room is not None and opened.room.name == "Sequence", timeout=20000)
    return opened


def test_letters_typed_into_a_search_stay_letters(qtbot, sequence):
    room, before = sequence.room, sequence.session.game
    press(qtbot, Qt.Key.Key_Slash)
    write(qtbot, "zebra")
    press(qtbot, Qt.Key.Key_Return)     # nothing is found
    for _ in range(5):
        press(qtbot, Qt.Key.Key_Backspace)
    write(qtbot, "run789x")             # plays are found again while it is typed
    assert QApplication.focusWidget() is room.sentence.words
    assert room.sentence.words.text() == "run789x"
    assert sequence.session.game == before and not sequence.jobs.running


def test_enter_goes_from_the_words_to_the_plays_and_adds_none(qtbot, sequence):
    press(qtbot, Qt.Key.Key_Slash)
    write(qtbot, "run")
    press(qtbot, Qt.Key.Key_Return)
    assert QApplication.focusWidget() is sequence.room.results
    assert sequence.session.game.sequences == ()
    press(qtbot, Qt.Key.Key_Return)
    assert len(sequence.session.game.sequences) == 1


def test_a_confrontation_is_found_and_its_notice_told_before_anything_is_written(qtbot, sequence):
    session = sequence.session
    session.do(AddMoment(MomentKind.CONFRONTATION, session.film.instant_at(26)))        # in the third play's shot
    press(qtbot, Qt.Key.Key_Slash)
    write(qtbot, "altercation")
    qtbot.waitUntil(lambda: [card.play for card in sequence.room.results.model_.cards] == [3, 11], timeout=5000)
    for key in (Qt.Key.Key_Return, Qt.Key.Key_Home, Qt.Key.Key_Return):
        press(qtbot, key)
    assert "an altercation (play 3)" in sequence.room.exporting._caution.text()
    assert sequence.room.exporting._caution.isVisible()
