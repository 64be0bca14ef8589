"""A sheet in somebody else's words: columns matched one by one, cells mended in place, in the whole window."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QLineEdit

from tests.desk.driver import press
from workstation.football.plays import Outcome, PlayKind
from workstation.tagging.operations import RemovePlay

FOREIGN = ("What was played,Result,Yds,Weather,Type\n"
           "A,,4,dry,rush\n"
           "B,caught,\"5,7\",dry,pass\n"
           "C,,six,wet,run\n"
           "D,dropped,,wet,pass\n")


@pytest.fixture
def sheet(qtbot, opened):
    """The page for sheets, over a game without plays."""
    session = opened.session
    for tag in session.game.plays:
        session.do(RemovePlay(tag.id))
    opened.room.line.setFocus()
    press(opened, "tag.sheet")
    return opened.room.pages.sheet


def read(qtbot, opened, page, text):
    path = opened.session.file.path.parent / "theirs.csv"
    path.write_text(text)
    page.read(path)
    settled(qtbot, opened)


def settled(qtbot, opened):
    QApplication.processEvents()        # what a cell or a box says when its editor closes comes a turn later
    qtbot.waitUntil(lambda: not opened.jobs.running, timeout=20000)
    QApplication.processEvents()


def chosen(page):
    return [box.currentData() for box in page.columns.boxes]


def choose(qtbot, opened, page, index, column):
    """By the keyboard, as the box is left and gone to by Tab."""
    box = page.columns.boxes[index]
    box.setFocus()
    steps = box.findData(column) - box.currentIndex()
    for _ in range(abs(steps)):
        qtbot.keyClick(box, Qt.Key.Key_Down if steps > 0 else Qt.Key.Key_Up)
        settled(qtbot, opened)


def mend(qtbot, opened, page, row, text):
    page.columns.cells.setFocus()
    page.columns.cells.setCurrentCell(row, 2)
    qtbot.keyClicks(page.columns.cells, text[0])            # the first letter begins the cell anew
    editor = QApplication.focusWidget()
    assert isinstance(editor, QLineEdit)
    qtbot.keyClicks(editor, text[1:])
    qtbot.keyClick(editor, Qt.Key.Key_Return)
    settled(qtbot, opened)


def bad(page):
    cells = page.columns.cells
    return [(cells.item(row, 0).text(), cells.item(row, 1).text(), cells.item(row, 2).text())
            for row in range(cells.rowCount())]


def test_columns_are_matched_and_cells_mended_before_anything_is_taken_in(qtbot, opened, sheet):
    session = opened.session
    before = session.game
    read(qtbot, opened, sheet, FOREIGN)
    assert sheet.columns.isVisible() and not sheet.take.isVisible()
    # near ones are proposed, the others kept as own words
    assert chosen(sheet) == ["own word", "outcome", "own word", "own word", "kind"]
    assert "4 · 5,7 · six" in sheet.columns.columns.item(2, 1).text()
    assert bad(sheet) == [("2", "kind", "rush"), ("3", "outcome", "caught"), ("5", "outcome", "dropped")]
    choose(qtbot, opened, sheet, 2, "gain")
    assert ("4", "gain", "six") in bad(sheet) and ("3", "gain", "5,7") in bad(sheet)
    assert not sheet.go_on.isEnabled()
    qtbot.mouseClick(sheet.mend, Qt.MouseButton.LeftButton)
    settled(qtbot, opened)
    assert bad(sheet) == [("4", "gain", "six")] and not sheet.mend.isVisible()
    mend(qtbot, opened, sheet, 0, "6")
    assert bad(sheet) == [] and "4 plays" in sheet.said.text() and session.game == before
    qtbot.mouseClick(sheet.go_on, Qt.MouseButton.LeftButton)
    assert sheet.table.rowCount() >= 4 and "4 rows" in sheet.said.text()
    qtbot.mouseClick(sheet.take, Qt.MouseButton.LeftButton)
    plays = [tag.play for tag in session.game.plays]
    assert [(play.kind, play.outcome, play.gain) for play in plays] == [
        (PlayKind.RUN, None, 4), (PlayKind.PASS, Outcome.COMPLETE, 5.7), (PlayKind.RUN, None, 6),
        (PlayKind.PASS, Outcome.INCOMPLETE, None)]
    assert [[(each.word, each.text) for each in tag.words] for tag in session.game.plays] == [
        [("Weather", "dry"), ("What was played", "A")], [("Weather", "dry"), ("What was played", "B")],
        [("Weather", "wet"), ("What was played", "C")], [("Weather", "wet"), ("What was played", "D")]]
    opened.room.line.setFocus()
    press(opened, "desk.undo")                  # the whole sheet is one action
    assert session.game.plays == () and session.game.shots == before.shots


def test_two_columns_of_one_name_and_none_that_says_the_play_are_told(qtbot, opened, sheet):
    read(qtbot, opened, sheet, FOREIGN)
    choose(qtbot, opened, sheet, 0, "kind")
    assert "Two columns are “kind”" in sheet.said.text() and not sheet.go_on.isEnabled()
    choose(qtbot, opened, sheet, 4, None)
    choose(qtbot, opened, sheet, 0, None)
    assert "what was played" in sheet.said.text() and not sheet.go_on.isEnabled()


def test_a_sheet_of_our_own_words_asks_nothing_and_its_columns_can_be_looked_at(qtbot, opened, sheet):
    read(qtbot, opened, sheet, "kind,gain,down,findings\nrun,4,1,\nrun,2,2,none\n")
    assert sheet.table.isVisible() and sheet.take.isEnabled() and not sheet.go_on.isVisible()
    qtbot.mouseClick(sheet.back_to_columns, Qt.MouseButton.LeftButton)
    assert sheet.columns.isVisible() and chosen(sheet) == ["kind", "gain", None, None]
    choose(qtbot, opened, sheet, 1, None)
    qtbot.mouseClick(sheet.go_on, Qt.MouseButton.LeftButton)
    qtbot.mouseClick(sheet.take, Qt.MouseButton.LeftButton)
    assert [tag.play.gain for tag in opened.session.game.plays] == [None, None]


def test_a_cell_without_a_heading_is_not_lost_in_silence(qtbot, opened, sheet):
    read(qtbot, opened, sheet, "kind,gain,\nrun,4,blitz\n")
    assert sheet.columns.isVisible() and "without a heading" in sheet.columns.columns.item(2, 0).text()
    choose(qtbot, opened, sheet, 2, "comment")
    qtbot.mouseClick(sheet.go_on, Qt.MouseButton.LeftButton)
    qtbot.mouseClick(sheet.take, Qt.MouseButton.LeftButton)
    assert [tag.play.comment for tag in opened.session.game.plays] == ["blitz"]


def test_a_spoken_line_is_mended_as_it_is_typed_elsewhere(qtbot, opened, sheet):
    read(qtbot, opened, sheet, "line,clock\nkickoff touchback,12:00\nrun zebra,11:50\n")
    assert bad(sheet) == [("3", "line", "run zebra")]
    mend(qtbot, opened, sheet, 0, "run 6")
    qtbot.mouseClick(sheet.go_on, Qt.MouseButton.LeftButton)
    qtbot.mouseClick(sheet.take, Qt.MouseButton.LeftButton)
    assert [tag.play.gain for tag in opened.session.game.plays] == [None, 6]


def test_what_is_no_table_is_told_and_the_page_stays(qtbot, opened, sheet):
    read(qtbot, opened, sheet, "")
    assert "no headings" in sheet.said.text() and not sheet.take.isEnabled()
    assert opened.session.game.plays == ()


def test_arrows_choose_in_the_boxes_of_a_page_and_do_not_act_in_the_room_around(qtbot, opened, sheet):
    room = opened.room
    room.pages.back()
    room.line.setFocus()
    press(opened, "tag.heading")
    box, row = room.pages.heading.rulebook, room.row
    box.setFocus()
    before = box.currentIndex()
    qtbot.keyClick(box, Qt.Key.Key_Down)
    assert box.currentIndex() == before + 1 and room.row == row
