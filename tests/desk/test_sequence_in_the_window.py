"""The Sequence room in the whole window, by keys."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication

from tests.desk.test_review_in_the_window import press, write
from workstation.tagging.model import Moment, MomentKind
from workstation.tagging.operations import AddRecord


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
    in_third_play = session.film.instant_at(26)
    session.do(AddRecord(Moment(0, MomentKind.CONFRONTATION, in_third_play)))
    press(qtbot, Qt.Key.Key_Slash)
    write(qtbot, "altercation")
    qtbot.waitUntil(lambda: [card.play for card in sequence.room.results.model_.cards] == [3, 11], timeout=5000)
    for key in (Qt.Key.Key_Return, Qt.Key.Key_Home, Qt.Key.Key_Return):
        press(qtbot, key)
    assert "an altercation (play 3)" in sequence.room.exporting._caution.text()
    assert sequence.room.exporting._caution.isVisible()


def buttons_of(window):
    """Words, count and place on the screen of every filter to be seen."""
    return {each: (button.text(), button.mapTo(window, button.rect().topLeft()), button.width())
            for each, button in window.room.filters.buttons.items() if button.isVisible()}


def test_filters_count_with_what_is_chosen_and_none_moves_under_the_mouse(qtbot, sequence):
    room = sequence.room
    qtbot.waitUntil(lambda: bool(room.filters.buttons) and not room._counting.isActive(), timeout=5000)
    QApplication.processEvents()            # laid out
    before = buttons_of(sequence)
    fourth = next(each for each in before if each.words == "on 4th down")
    qtbot.mouseClick(room.filters.buttons[fourth], Qt.MouseButton.LeftButton)
    qtbot.waitUntil(lambda: buttons_of(sequence).keys() == before.keys()
                    and buttons_of(sequence) != before, timeout=5000)
    QApplication.processEvents()
    after = buttons_of(sequence)
    assert {each: place[1:] for each, place in after.items()} == {each: place[1:] for each, place in before.items()}
    facts = room._facts
    for each, (text, *_) in after.items():
        if each.group is not fourth.group:
            fits = sum({each, fourth} <= fact.filters for fact in facts)
            assert text.split()[-1].strip("\u2007") == str(fits), each


def test_the_caption_names_the_play_on_the_picture(qtbot, sequence):
    room = sequence.room
    press(qtbot, Qt.Key.Key_Home)
    press(qtbot, Qt.Key.Key_Return)         # the first play
    press(qtbot, Qt.Key.Key_Right)
    press(qtbot, Qt.Key.Key_Return)         # the second
    assert room._line.text().startswith("2 ·")
    press(qtbot, Qt.Key.Key_Q)              # to the sequence
    press(qtbot, Qt.Key.Key_End)
    press(qtbot, Qt.Key.Key_Home)
    assert room._line.text().startswith("1 ·")
    press(qtbot, Qt.Key.Key_7)              # trims it, which changes the game and so the lists
    qtbot.waitUntil(lambda: not room._refresh.isActive(), timeout=5000)
    assert room._line.text().startswith("1 ·")
