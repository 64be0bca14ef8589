"""The Review room in the whole window, by keys: a room by itself has no window around it that acts on keys too."""

from __future__ import annotations

import shutil
from dataclasses import replace
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QAccessible
from PySide6.QtWidgets import QApplication, QComboBox, QFileDialog, QPushButton, QScrollArea, QWidget

from tests.footage import run
from workstation.coverage.summary import summarise
from workstation.desk.actions import ACTIONS
from workstation.desk.keys import KeyMap
from workstation.football.field import Team
from workstation.football.situation import Situation, goes_right_on_film
from workstation.tagging.gamefile import GameFile
from workstation.tagging.model import Decision, Remark, Verdict
from workstation.tagging.operations import AddRecord, SetHeading


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
    qtbot.waitUntil(lambda: "waadc" in [note.text for note in review.session.game.notes], timeout=20000)
    assert review.session.game.decisions == ()


@pytest.mark.parametrize(("room", "action"), [(1, "Mark: snap"), (2, "Next finding"), (3, "Find words")])
def test_the_keys_of_the_room_at_hand_come_first(qtbot, review, room, action):
    press(qtbot, getattr(Qt.Key, f"Key_{room}"), Qt.KeyboardModifier.ControlModifier)
    name = ("Tag", "Review", "Sequence")[room - 1]
    qtbot.waitUntil(lambda: review.room.name == name, timeout=20000)
    press(qtbot, Qt.Key.Key_F1, Qt.KeyboardModifier.ShiftModifier)
    assert review.stack.currentWidget() is review.overlays.page("keys")
    assert review.overlays.page("keys").table.item(0, 0).text() == action
    assert review.overlays.page("keys").table.item(0, 1).text() == name


def test_a_letter_or_sign_means_the_same_in_every_room(window):
    keys: KeyMap = window.keys
    meant: dict[str, set[str]] = {}
    for action in ACTIONS:
        for key in keys.keys(action.id):
            if len(key) == 1 and not key.isdigit():
                meant.setdefault(key, set()).add(action.text)
    assert {key: texts for key, texts in meant.items() if len(texts) > 1} == {
        "/": {"Find a note", "Find words", "Only plays of which words were said"}}      # finding, wherever one is


def resized(qtbot, window, width, height):
    window.resize(width, height)
    qtbot.waitUntil(lambda: window.size().toTuple() == (width, height), timeout=5000)
    QApplication.processEvents()


@pytest.mark.parametrize(("width", "height"), [(1280, 800), (1600, 950), (800, 480)])
def test_the_summary_in_large_type_is_cut_off_nowhere_and_has_the_focus(qtbot, review, width, height):
    resized(qtbot, review, width, height)
    with qtbot.waitSignal(review.theme.changed, timeout=10000):
        press(qtbot, Qt.Key.Key_G)
    press(qtbot, Qt.Key.Key_S)
    page = review.room.summary
    assert page.isVisible() and QApplication.focusWidget() is page
    QApplication.processEvents()
    shown = page.viewport().width()
    for widget in page.widget().findChildren(QWidget):
        if widget.isVisible() and not any(isinstance(around, QScrollArea) and around is not page
                                          for around in ancestors(widget, page)):
            right = widget.mapTo(page.widget(), widget.rect().topRight()).x()
            assert right < max(shown, page.widget().minimumSizeHint().width()), widget
    assert page.widget().width() <= shown or page.horizontalScrollBar().maximum() > 0
    before = page.verticalScrollBar().value()
    press(qtbot, Qt.Key.Key_PageDown)
    assert page.verticalScrollBar().value() > before


def ancestors(widget, until):
    while widget is not None and widget is not until:
        yield widget
        widget = widget.parentWidget()


@pytest.mark.parametrize(("width", "height"), [(1280, 800), (1600, 920), (800, 480)])
def test_the_explanation_keeps_its_lines_and_the_list_has_no_empty_room(qtbot, review, width, height):
    resized(qtbot, review, width, height)
    room = review.room
    rows = room.findings.list
    needed = rows.sizeHintForRow(0) * len(room.findings.model.findings)
    qtbot.waitUntil(lambda: rows.viewport().height() >= needed or room.explanation.height() <= 240, timeout=5000)
    press(qtbot, Qt.Key.Key_N)
    lines = room.explanation.findChild(QScrollArea)
    assert lines.height() >= 110
    assert room.timeline.height() <= max(0.31 * room.height(), room.timeline.minimumSizeHint().height())
    spare = room.findings.list.height() - room.findings.height_of_all
    assert spare <= 12 or lines.verticalScrollBar().maximum() == 0        # nothing is empty while something is hidden


def boxes_that_do_not_say_what_they_are_for(window):
    """A screen reader tells a box by the label that belongs to it; what is chosen in it does not say what it's for."""
    wrong = []
    for box in window.findChildren(QComboBox):
        interface = QAccessible.queryAccessibleInterface(box)
        labels = [related.text(QAccessible.Text.Name) for related, how in interface.relations()
                  if how & QAccessible.RelationFlag.Label]
        if not labels or not labels[0] or box.currentText() in labels:
            wrong.append((box.accessibleName(), box.currentText(), labels))
    return wrong


def test_every_box_of_every_room_and_page_says_what_it_is_for(qtbot, review):
    press(qtbot, Qt.Key.Key_B)                                              # two plays side by side
    press(qtbot, Qt.Key.Key_Escape)
    press(qtbot, Qt.Key.Key_3, Qt.KeyboardModifier.ControlModifier)
    qtbot.waitUntil(lambda: review.room is not None and review.room.name == "Sequence", timeout=20000)
    press(qtbot, Qt.Key.Key_1, Qt.KeyboardModifier.ControlModifier)
    qtbot.waitUntil(lambda: review.room is not None and review.room.name == "Tag", timeout=20000)
    press(qtbot, Qt.Key.Key_F3)                                             # teams and rules
    assert len(review.findChildren(QComboBox)) >= 12
    assert boxes_that_do_not_say_what_they_are_for(review) == []


def test_the_run_up_is_chosen_and_stays_chosen(qtbot, review):
    room, session = review.room, review.session
    for _ in range(3):
        press(qtbot, Qt.Key.Key_N)
    assert room.run_up.currentData() == 4
    asked = []
    session.player.play_span, play = lambda *span, **how: asked.append(
        session.film.time_of(span[0])), session.player.play_span
    for seconds in (8, 0, 2):
        press(qtbot, Qt.Key.Key_R, Qt.KeyboardModifier.ShiftModifier)
        assert room.run_up.currentData() == seconds
        assert asked[-1] == max(session.film.time_of(room.findings.current.at) - seconds, 0)
    session.player.play_span = play
    assert review.settings.value("review/run_up") in (2, "2")


def test_the_field_points_the_way_the_teams_go_on_film():
    for faces_right, offense, right in ((None, Team.HOME, True), (True, Team.HOME, True), (False, Team.HOME, False),
                                        (True, Team.VISITORS, False), (False, Team.VISITORS, True)):
        assert goes_right_on_film(Situation(offense=offense, home_faces_right=faces_right)) is right


def test_games_without_a_date_come_last_in_the_trend(qtbot, review, small_game, tmp_path):
    for name, date in (("undated", ""), ("later", "2027-01-01"), ("earlier", "2020-01-01")):
        other = Path(shutil.copy(small_game, tmp_path / f"{name}.game"))
        with GameFile.open(other) as file:
            file.do(SetHeading(replace(file.game.heading, title=name, date=date)))
    press(qtbot, Qt.Key.Key_S)
    review.room.summary.add_games([tmp_path / f"{name}.game" for name in ("undated", "later", "earlier")])
    qtbot.waitUntil(lambda: bool(review.room.summary._trend.games), timeout=20000)
    assert [head.split(" · ")[-1] for head in review.room.summary._trend.games] == [
        "earlier", "Harbor at Summit", "later", "undated"]


def test_the_last_summary_goes_home_on_one_page(qtbot, review, small_game, tmp_path):
    session = review.session
    session.do(AddRecord(Remark(0, "steady pan", session.film.instant_at(20), praise=True)))
    with qtbot.waitSignal(session.derived_changed, timeout=20000):
        pass
    other = Path(shutil.copy(small_game, tmp_path / "earlier.game"))
    press(qtbot, Qt.Key.Key_S)
    page = review.room.summary
    page.add_games([other])
    qtbot.waitUntil(lambda: bool(page._trend.games), timeout=20000)
    button = next(each for each in page.findChildren(QPushButton) if "take home" in each.text())
    qtbot.mouseClick(button, Qt.MouseButton.LeftButton)
    dialog = next(each for each in page.findChildren(QFileDialog) if each.isVisible())
    with qtbot.waitSignal(review.jobs.finished, timeout=60000):
        dialog.fileSelected.emit(str(tmp_path / "home.pdf"))
    dialog.close()
    assert "Pages:           1\n" in run("pdfinfo", str(tmp_path / "home.pdf"))
    read = " ".join(run("pdftotext", "-layout", str(tmp_path / "home.pdf"), "-").split())
    habits = summarise(session.coverage).habits
    assert len(habits) == 3
    for habit in habits:
        assert set(habit.advice.split()) <= set(read.split()) and habit.example.rule[:12] in read
    assert "steady pan" in read and "done well" in read
    assert run("pdfimages", "-list", str(tmp_path / "home.pdf")).count("image") >= 3


def test_nothing_is_stored_for_a_picture_that_is_still_on_its_way(qtbot, review, monkeypatch):
    """As right after a step: the place in the film isn't known yet, so a drawing or a note would belong to another."""
    session = review.session
    game = session.game
    session.seek_time(20)
    qtbot.waitUntil(lambda: session.player.is_placed and not session.player.waiting, timeout=20000)
    press(qtbot, Qt.Key.Key_D)
    press(qtbot, Qt.Key.Key_Return)                 # the pencil is down
    press(qtbot, Qt.Key.Key_Right)
    press(qtbot, Qt.Key.Key_Right)
    monkeypatch.setattr(session.player, "_stepping", True)
    press(qtbot, Qt.Key.Key_Return)
    assert session.game == game and "still coming" in review.toast.text()
    press(qtbot, Qt.Key.Key_Escape)
    press(qtbot, Qt.Key.Key_T)
    write(qtbot, "waited")                          # goes into the note, and never acts on the room
    press(qtbot, Qt.Key.Key_Return)
    assert session.game == game and "as soon as the picture is there" in review.toast.text()
    monkeypatch.setattr(session.player, "_stepping", False)
    session.step(1)
    qtbot.waitUntil(lambda: any(note.text == "waited" for note in session.game.notes), timeout=20000)
    assert [note.at for note in session.game.notes if note.text == "waited"] == [session.position]


def test_a_note_belongs_to_the_first_place_that_is_known_once_it_was_begun(qtbot, review):
    room, session = review.room, review.session
    at = session.position
    room.note_entry.begin(None, 0.0)
    room._on_position(at)
    write(qtbot, "seen")
    session.seek_time(60)
    qtbot.waitUntil(lambda: session.position != at, timeout=20000)
    press(qtbot, Qt.Key.Key_Return)
    assert [note.at for note in session.game.notes if note.text == "seen"] == [at]
