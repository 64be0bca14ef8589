"""The guide in the whole window: it comes with F1, is searched, leads to the keys, and is kept as files."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QGuiApplication

from tests.desk.driver import press


@pytest.fixture
def guide(qtbot, window):
    qtbot.keyClick(window, Qt.Key.Key_F1)
    qtbot.waitUntil(lambda: window.overlays.page("guide").contents.count() == 9, timeout=30000)
    return window.overlays.page("guide")


def titles(page):
    return [page.contents.item(row).text() for row in range(page.contents.count())]


def test_f1_shows_the_guide_and_leads_back(qtbot, window, guide):
    assert window.stack.currentWidget() is guide
    assert titles(guide)[0] == "The first ten minutes" and "See the demo game" in guide.text.toPlainText()
    qtbot.keyClick(guide.search, Qt.Key.Key_Escape)
    assert window.stack.currentWidget() is window.welcome


def test_a_search_leaves_the_chapters_that_say_it_and_goes_from_place_to_place(qtbot, guide):
    qtbot.keyClicks(guide.search, "false start")
    assert titles(guide) == ["How a play is typed"]
    assert guide.text.textCursor().selectedText().lower() == "false start"
    guide.search.clear()
    qtbot.keyClicks(guide.search, "scoreboard")
    assert len(titles(guide)) > 1
    seen = set()
    for _ in range(30):
        qtbot.keyClick(guide.search, Qt.Key.Key_Return)
        seen.add(guide.contents.currentRow())
        assert guide.text.textCursor().selectedText().lower() == "scoreboard"
    assert seen == set(range(len(titles(guide))))


def test_a_question_goes_to_the_passage_that_answers_it_marks_it_and_enter_goes_to_the_next(qtbot, window, guide):
    guide.search.setText("how do I send clips")
    qtbot.wait(300)             # the page may be made anew for another width
    assert guide.contents.currentItem().text() == "For the coach: find it and hand it on"
    assert guide.text.textCursor().selectedText().startswith("Hand on") and "come nearest" in guide._said.text()
    qtbot.keyClick(guide.search, Qt.Key.Key_Return)
    assert guide.text.textCursor().selectedText() and not guide.text.textCursor().selectedText().startswith("Hand on")
    window.resize(1000, 700)
    qtbot.wait(300)
    assert guide.text.textCursor().selectedText()


def test_what_no_chapter_says_is_told_with_where_else_to_look(qtbot, guide):
    qtbot.keyClicks(guide.search, "zeppelin")
    assert titles(guide) == [] and "zeppelin" in guide._said.text() and "Keys" in guide._said.text()


def test_the_keys_are_a_button_away_and_a_changed_key_is_in_the_guide(qtbot, window, guide):
    qtbot.mouseClick(guide.keys_button, Qt.MouseButton.LeftButton)
    assert window.stack.currentWidget() is window.overlays.page("keys")
    window.keys.give("desk.undo", ["Ctrl+Shift+F9"])
    press(window, "desk.guide")
    qtbot.waitUntil(lambda: "Ctrl+Shift+F9" in guide.text.toPlainText(), timeout=30000)


def test_every_chapter_shows_its_pictures_no_wider_than_the_page(qtbot, window, guide):
    window.resize(900, 600)
    for row in range(guide.contents.count()):
        guide.contents.setCurrentRow(row)
        qtbot.waitUntil(lambda: guide.text.horizontalScrollBar().maximum() == 0)


def test_the_guide_is_kept_as_html_and_pdf(qtbot, guide, tmp_path):
    guide.keep_in(tmp_path)
    qtbot.waitUntil(lambda: "Written" in guide._said.text(), timeout=60000)
    assert sorted(path.suffix for path in tmp_path.iterdir() if "guide" in path.name) == [".html", ".pdf"]
    guide.keep_in(tmp_path)
    qtbot.waitUntil(lambda: "cannot be written" in guide._said.text(), timeout=60000)


def test_what_helps_to_find_a_fault_is_copied_from_the_menu_without_names(qtbot, opened):
    opened.act("desk.fault")
    page = opened.overlays.page("fault")
    assert opened.stack.currentWidget() is page and page.copy.hasFocus() and not page.named.isChecked()
    qtbot.keyClick(page.copy, Qt.Key.Key_Return)
    text = QGuiApplication.clipboard().text()
    heading = opened.session.game.heading
    assert "film workstation" in text and "plays through" in text and "window 1280 x 800" in text
    for name in (heading.home, heading.visitors, str(opened.session.file.path.parent)):
        assert name not in text
    qtbot.keyClick(page.copy, Qt.Key.Key_Escape)
    assert opened.stack.currentWidget() is opened.room


def test_the_page_comes_to_rest_at_every_text_size(qtbot, window, guide):
    widths = []
    guide.text.resized.connect(lambda: widths.append(guide.text.viewport().width()))
    for scale in (1.6, 2.0, 2.5):
        with qtbot.waitSignal(window.theme.changed):
            window.theme.apply(scale=scale)
        qtbot.wait(800)
        before = len(widths)
        qtbot.wait(800)
        assert len(widths) == before, (scale, widths[-4:])
