"""Practice in the whole window, by keys, on a film that plays."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication

from tests.desk.small_game import PLAYS
from workstation.coverage.answer import PracticeAnswer
from workstation.coverage.practice import read_sessions, sessions_path

ALT = Qt.KeyboardModifier.AltModifier


def press(qtbot, key, modifiers=Qt.KeyboardModifier.NoModifier):
    qtbot.keyClick(QApplication.focusWidget(), key, modifiers)


@pytest.fixture
def page(qtbot, opened):
    press(qtbot, Qt.Key.Key_F8)
    page = opened.overlays.page("practice")
    assert opened.stack.currentWidget() is page
    qtbot.waitUntil(lambda: page.exercise is not None, timeout=20000)
    return page


@pytest.fixture
def begun(qtbot, page):
    qtbot.keyClicks(page.trainee, "Kim 1")
    press(qtbot, Qt.Key.Key_Return)
    assert page.pages.currentWidget() is page.run and page.exercise.asking
    return page


def kept(page):
    return read_sessions(sessions_path(page.session.file.path))


def test_it_tells_first_what_it_is_and_asks_for_a_name(qtbot, page, opened):
    assert f"each of the {len(PLAYS) + 1} gaps" in page.told.text() and page.trainee.hasFocus()
    press(qtbot, Qt.Key.Key_Escape)
    assert opened.stack.currentWidget() is opened.room and kept_none(opened)


def kept_none(window):
    return not sessions_path(window.session.file.path).exists()


def test_the_film_stops_by_itself_where_the_play_ends(qtbot, begun):
    begun.session.player.set_rate(4)
    press(qtbot, Qt.Key.Key_0)
    assert not begun.exercise.asking and begun.exercise.place == 1
    press(qtbot, Qt.Key.Key_1)                  # no answer while it is watched
    assert begun.exercise.place == 1
    qtbot.waitUntil(lambda: begun.session.playing, timeout=20000)
    qtbot.waitUntil(lambda: begun.exercise.asking, timeout=20000)
    end = begun.session.film.time_of(begun.exercise.passage[1])
    assert not begun.session.playing and abs(float(end - begun.session.time)) < 0.35
    assert "What do you film now?" in begun.asked.text()


def test_ten_gaps_by_key_and_the_answers_beside_what_was_needed(qtbot, begun, opened):
    before = begun.session.game
    for number in range(10):
        if not begun.exercise.asking:
            press(qtbot, Qt.Key.Key_Return)     # to the gap
        assert begun.exercise.asking and begun.exercise.place == number
        press(qtbot, (Qt.Key.Key_0, Qt.Key.Key_1, Qt.Key.Key_2)[number % 3])
        assert len(kept(begun)[-1].answers) == number + 1       # on disk at once
    press(qtbot, Qt.Key.Key_Escape)
    assert begun.pages.currentWidget() is begun.outcome
    table = begun.table
    assert table.rowCount() == 10
    differing = [row for row in range(10) if table.item(row, 0).text().startswith("≠")]
    result = begun.exercise.result()
    assert len(differing) == len({difference.gap for difference in result.differences}) > 0
    for row in differing:
        assert "needed:" in table.item(row, 3).text()
    assert begun.summary.text().startswith(f"{10 - len(differing)} of 10 gaps")
    (session,) = kept(begun)
    assert session.trainee == "Kim 1" and begun.session.game == before
    press(qtbot, Qt.Key.Key_Escape)
    assert opened.stack.currentWidget() is opened.room and len(kept(begun)) == 1


def test_several_answers_and_one_taken_back(qtbot, begun):
    press(qtbot, Qt.Key.Key_1, ALT)
    press(qtbot, Qt.Key.Key_2, ALT)
    assert begun.answers[PracticeAnswer.MARKER].isChecked() and begun.answers[PracticeAnswer.BOARD].isChecked()
    press(qtbot, Qt.Key.Key_Return)
    (given,) = kept(begun)[-1].answers.values()
    assert given == {PracticeAnswer.MARKER, PracticeAnswer.BOARD}
    press(qtbot, Qt.Key.Key_Backspace)
    assert begun.exercise.place == 0 and begun.exercise.asking and kept(begun)[-1].answers == {}
    press(qtbot, Qt.Key.Key_Return)             # without an answer it does not go on
    assert begun.exercise.place == 0


def test_going_to_a_room_and_coming_back_goes_on_with_the_run(qtbot, begun, opened):
    press(qtbot, Qt.Key.Key_0)
    press(qtbot, Qt.Key.Key_Return)
    press(qtbot, Qt.Key.Key_3)
    press(qtbot, Qt.Key.Key_F8)
    assert opened.stack.currentWidget() is opened.room and not opened.session.playing
    press(qtbot, Qt.Key.Key_F8)
    assert begun.pages.currentWidget() is begun.run and begun.exercise.place == 2 and len(begun.exercise.answers) == 2


def test_enter_on_a_row_goes_to_the_gap_on_the_film(qtbot, begun, opened):
    press(qtbot, Qt.Key.Key_0)
    press(qtbot, Qt.Key.Key_Return)
    press(qtbot, Qt.Key.Key_2)
    press(qtbot, Qt.Key.Key_Escape)
    begun.table.setCurrentCell(1, 0)
    at = begun.exercise.gaps[1].at
    press(qtbot, Qt.Key.Key_Return)
    assert opened.stack.currentWidget() is opened.room and opened.session.position == at


def test_answers_that_cannot_be_kept_are_said_and_tried_again(qtbot, begun, opened):
    path = sessions_path(begun.session.file.path)
    path.write_text("{", encoding="utf-8")
    press(qtbot, Qt.Key.Key_0)
    assert begun.wrong.isVisible() and "move it away" in begun.wrong.text()
    press(qtbot, Qt.Key.Key_Escape)
    assert begun.pages.currentWidget() is begun.outcome
    press(qtbot, Qt.Key.Key_Escape)
    assert begun.isVisible() and "gives the answers up" in begun.wrong.text() and path.read_text() == "{"
    path.unlink()
    press(qtbot, Qt.Key.Key_Escape)
    assert not begun.isVisible() and len(kept(begun)[0].answers) == 1


def test_the_same_answer_key_is_shown_on_each_button(page):
    shown = [page._desk.keys.shown(button._id) for button in page.answers.values()]
    assert shown == list("0123456789")
