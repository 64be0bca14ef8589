"""The sheet of all plays through the whole window, with real keys and clicks. Expected before the first run."""

from __future__ import annotations

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QApplication

from workstation.tagging.layout import FilmLayout
from workstation.tagging.own_words.definition import Vocabulary

CTRL, SHIFT = Qt.KeyboardModifier.ControlModifier, Qt.KeyboardModifier.ShiftModifier


@pytest.fixture
def page(qtbot, opened):
    qtbot.keyClick(opened.room.line, Qt.Key.Key_F9)
    page = opened.overlays.page("plays")
    qtbot.waitUntil(lambda: page.isVisible() and page.sheet.hasFocus())
    return page


def column(page, name):
    return [each.name for each in page.model.columns].index(name)


def go(page, row, name):
    page.sheet.setCurrentIndex(page.model.index(row, column(page, name)))


def type_cell(qtbot, page, text, end=Qt.Key.Key_Return):
    """Type into the cell at hand as a person does: the first letter opens the editor."""
    qtbot.keyClick(page.sheet, text[0])
    editor = page.sheet.indexWidget(page.sheet.currentIndex())
    qtbot.keyClicks(editor, text[1:])
    qtbot.keyClick(editor, end)
    qtbot.waitUntil(lambda: page.sheet.indexWidget(page.sheet.currentIndex()) is not editor)
    assert QApplication.activePopupWidget() is None


def said(page, row):
    return {each.word: each.text for each in page.session.game.plays[row].words}


def cells(page, name):
    return [page.model.cell(row, column(page, name)) for row in range(page.model.rowCount())]


def test_the_sheet_has_all_plays_and_begins_in_the_play_at_hand(page):
    assert page.model.rowCount() == 11 and page.title.text() == "11 plays"
    assert page.model.columns[page.sheet.currentIndex().column()].name == "formation"
    assert cells(page, "line")[:3] == ["kick 10 25", "run 3", "incomplete"] or cells(page, "line")[1] == "run 3"


def test_typing_goes_from_cell_to_cell_and_each_is_one_action(qtbot, page):
    go(page, 1, "formation")
    type_cell(qtbot, page, "trips")
    assert page.sheet.currentIndex().row() == 2
    type_cell(qtbot, page, "d")
    assert said(page, 1) == {"formation": "trips"} and said(page, 2) == {"formation": "doubles"}
    assert page.session.file.can_undo == "say formation of play 3"
    qtbot.keyClick(page.sheet, Qt.Key.Key_Z, CTRL)
    assert said(page, 2) == {} and page.model.cell(2, column(page, "formation")) == ""
    qtbot.keyClick(page.sheet, Qt.Key.Key_Z, CTRL)
    assert page.session.game.vocabulary == Vocabulary()


def test_a_beginning_is_completed_from_the_list(qtbot, page):
    go(page, 1, "formation")
    type_cell(qtbot, page, "wish")
    go(page, 1, "coverage")
    type_cell(qtbot, page, "c3")        # a short form, which begins no value
    assert said(page, 1) == {"formation": "wishbone", "coverage": "cover 3"}


def test_what_cannot_be_read_is_said_and_not_written(qtbot, page):
    go(page, 1, "formation")
    type_cell(qtbot, page, "spread")
    assert said(page, 1) == {}
    assert "play 2, formation: 'spread' is not in its list" in page.said.text()
    qtbot.waitUntil(lambda: page.sheet.indexWidget(page.sheet.currentIndex()) is not None)     # to be mended
    editor = page.sheet.indexWidget(page.sheet.currentIndex())
    assert page.sheet.currentIndex().row() == 1 and editor.text() == "spread"
    qtbot.keyClick(editor, Qt.Key.Key_A, CTRL)
    qtbot.keyClicks(editor, "empty")
    qtbot.keyClick(editor, Qt.Key.Key_Return)
    qtbot.waitUntil(lambda: said(page, 1) == {"formation": "empty"})
    qtbot.waitUntil(lambda: page.sheet.currentIndex().row() == 2)


def test_derived_cells_take_nothing(qtbot, page):
    go(page, 1, "down")
    qtbot.keyClick(page.sheet, "3")
    assert page.sheet.indexWidget(page.sheet.currentIndex()) is None
    qtbot.keyClick(page.sheet, Qt.Key.Key_Delete)
    assert "cannot be typed" in page.said.text() and page.session.file.can_undo == "take in a whole game"


def test_filling_down(qtbot, page):
    go(page, 1, "formation")
    type_cell(qtbot, page, "trips")
    go(page, 1, "formation")
    for _ in range(3):
        qtbot.keyClick(page.sheet, Qt.Key.Key_Down, SHIFT)
    qtbot.keyClick(page.sheet, Qt.Key.Key_D, CTRL)
    # corrected after trying it: a punt has no formation, so filling passes over it
    assert cells(page, "formation")[:6] == ["", "trips", "trips", "trips", "", ""]
    assert "takes it back" in page.said.text()
    qtbot.keyClick(page.sheet, Qt.Key.Key_Z, CTRL)
    assert cells(page, "formation")[:4] == ["", "trips", "", ""] and page.said.text() == ""


def test_copying_and_pasting_a_block(qtbot, page):
    QGuiApplication.clipboard().setText("trips\t11\r\nd\t12\r\n")
    go(page, 1, "formation")
    qtbot.keyClick(page.sheet, Qt.Key.Key_V, CTRL)
    assert said(page, 1) == {"formation": "trips", "personnel": "11"}
    assert said(page, 2) == {"formation": "doubles", "personnel": "12"}
    qtbot.keyClick(page.sheet, Qt.Key.Key_C, CTRL)      # what was pasted is chosen
    assert QGuiApplication.clipboard().text() == "trips\t11\ndoubles\t12\n"
    go(page, 5, "formation")
    qtbot.keyClick(page.sheet, Qt.Key.Key_V, CTRL)
    assert said(page, 5) == {"formation": "trips", "personnel": "11"}
    page.session.undo()
    page.session.undo()
    assert said(page, 1) == {} and said(page, 5) == {}


def test_a_block_with_a_bad_cell_or_beyond_the_sheet_changes_nothing(qtbot, page):
    QGuiApplication.clipboard().setText("trips\t11\nnobody\t12\n")
    go(page, 1, "formation")
    qtbot.keyClick(page.sheet, Qt.Key.Key_V, CTRL)
    assert said(page, 1) == {} and "play 3, formation: 'nobody'" in page.said.text()
    QGuiApplication.clipboard().setText("\n".join(["trips"] * 9))
    go(page, 5, "formation")
    qtbot.keyClick(page.sheet, Qt.Key.Key_V, CTRL)
    assert said(page, 5) == {} and "goes beyond the sheet" in page.said.text()
    QGuiApplication.clipboard().setText("1st & 10\ttrips")
    go(page, 1, "ball_on")
    qtbot.keyClick(page.sheet, Qt.Key.Key_V, CTRL)
    assert "follows from the rules and cannot be typed" in page.said.text()


def test_one_cell_fills_what_is_chosen(qtbot, page):
    QGuiApplication.clipboard().setText("11")
    go(page, 1, "personnel")
    for _ in range(2):
        qtbot.keyClick(page.sheet, Qt.Key.Key_Down, SHIFT)
    qtbot.keyClick(page.sheet, Qt.Key.Key_V, CTRL)
    assert [said(page, row).get("personnel") for row in range(5)] == [None, "11", "11", "11", None]


def test_what_is_carried_on_shows_and_looks_other_than_what_was_said(qtbot, page):
    go(page, 1, "personnel")
    type_cell(qtbot, page, "11")
    assert page.model.cell(2, column(page, "personnel")) == "11"
    assert page.model.how(2, column(page, "personnel")) == "carried on"
    assert page.model.how(1, column(page, "personnel")) == ""
    assert page.model.how(1, column(page, "down")) == "follows from the rules"
    go(page, 1, "personnel")
    qtbot.keyClick(page.sheet, Qt.Key.Key_Delete)
    assert page.model.cell(2, column(page, "personnel")) == "" and said(page, 1) == {}


def test_the_play_itself_can_be_typed_and_later_ones_follow(qtbot, page):
    go(page, 1, "line")
    before = page.model.cell(2, column(page, "down"))
    type_cell(qtbot, page, "run 12")
    assert page.session.game.plays[1].play.gain == 12 and page.session.game.plays[1].play.clock == 700
    assert page.model.cell(2, column(page, "down")) != before


def test_the_picture_follows_the_cell(qtbot, page):
    session = page.session
    for row in (4, 7):
        go(page, row, "formation")
        layout = FilmLayout(session.game)
        snap = layout.plays[session.game.plays[row].id].snap.at
        qtbot.waitUntil(lambda snap=snap: session.position == snap, timeout=10000)


def test_sorting_by_a_column_and_back(qtbot, page):
    go(page, 2, "formation")
    type_cell(qtbot, page, "trips")
    go(page, 5, "formation")
    type_cell(qtbot, page, "doubles")
    head = page.sheet.horizontalHeader()
    place = column(page, "formation")
    page.sheet.scrollTo(page.model.index(0, place))
    at = QPoint(head.sectionViewportPosition(place) + 5, head.height() // 2)
    qtbot.mouseClick(head.viewport(), Qt.MouseButton.LeftButton, pos=at)
    assert cells(page, "formation")[:3] == ["doubles", "trips", ""] and cells(page, "number")[:2] == ["6", "3"]
    qtbot.mouseClick(head.viewport(), Qt.MouseButton.LeftButton, pos=at)
    assert cells(page, "formation")[:3] == ["trips", "doubles", ""]
    qtbot.mouseClick(head.viewport(), Qt.MouseButton.LeftButton, pos=at)
    assert cells(page, "number") == [str(number) for number in range(1, 12)]
    go(page, 0, "number")
    qtbot.keyClick(page.sheet, Qt.Key.Key_E, CTRL)
    qtbot.keyClick(page.sheet, Qt.Key.Key_E, CTRL)
    assert cells(page, "number") == [str(number) for number in range(11, 0, -1)]        # as numbers, not as text
    go(page, 0, "formation")
    type_cell(qtbot, page, "bunch")
    assert said(page, 10) == {"formation": "bunch"} and cells(page, "number")[0] == "11"


def test_filtering_and_typing_into_what_is_left(qtbot, page):
    qtbot.keyClick(page.sheet, Qt.Key.Key_F, CTRL)
    qtbot.keyClicks(page.search, "run")
    runs = [row for row, tag in enumerate(page.session.game.plays) if tag.play.kind.value == "run"]
    assert page.title.text() == f"{len(runs)} of 11 plays" and cells(page, "number") == [str(row + 1) for row in runs]
    qtbot.keyClick(page.search, Qt.Key.Key_Return)
    go(page, 1, "formation")
    type_cell(qtbot, page, "trips")
    assert said(page, runs[1]) == {"formation": "trips"}
    page.within.setCurrentIndex(column(page, "formation") + 1)
    qtbot.keyClick(page.sheet, Qt.Key.Key_F, CTRL)
    qtbot.keyClicks(page.search, "trips")
    assert cells(page, "number") == [str(runs[1] + 1)]
    qtbot.keyClick(page.search, Qt.Key.Key_Escape)
    assert page.model.rowCount() == 11 and page.isVisible()
    qtbot.keyClick(page.sheet, Qt.Key.Key_Escape)
    assert not page.isVisible()


def test_another_change_of_the_game_shows(qtbot, opened, page):
    from workstation.tagging.operations import RemovePlay
    opened.session.do(RemovePlay(opened.session.game.plays[0].id))
    assert page.model.rowCount() == 10
    opened.session.undo()
    assert page.model.rowCount() == 11


def test_the_menu_leads_to_it(qtbot, opened):
    texts = [action.text() for action in opened.menu_button.menu().actions()]
    assert "The sheet of all plays…\tF9" in texts and "Own words…\tF10" in texts
