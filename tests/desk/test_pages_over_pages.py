"""A page may be opened over another; leaving it leads back to that one, and to what had the focus there."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication

from tests.desk.driver import press

PAGES = ("files", "practice", "plays", "words", "season", "guide", "keys")


def show(qtbot, window, id: str):
    press(window, f"desk.{id}")
    qtbot.waitUntil(lambda: window.overlays.is_shown(id), timeout=30000)
    return window.stack.currentWidget()


def leave(qtbot) -> None:
    qtbot.keyClick(QApplication.focusWidget(), Qt.Key.Key_Escape)


@pytest.mark.parametrize("id", PAGES)
def test_every_page_gives_the_focus_back_to_what_had_it(qtbot, opened, id):
    opened.ask_for("Review")
    qtbot.waitUntil(lambda: opened.room.name == "Review", timeout=30000)
    had = opened.room.timeline
    had.setFocus()
    assert had.hasFocus()
    show(qtbot, opened, id)
    leave(qtbot)
    assert opened.stack.currentWidget() is opened.room
    assert QApplication.focusWidget() is had


def test_a_page_opened_from_a_page_leads_back_to_it(qtbot, opened):
    sheet = show(qtbot, opened, "plays")
    words = show(qtbot, opened, "words")
    show(qtbot, opened, "guide")
    show(qtbot, opened, "keys")
    leave(qtbot)
    assert opened.stack.currentWidget() is opened.overlays.page("guide")
    leave(qtbot)
    assert opened.stack.currentWidget() is words
    assert QApplication.focusWidget() is words.words
    leave(qtbot)
    assert opened.stack.currentWidget() is sheet
    assert QApplication.focusWidget() is sheet.sheet
    leave(qtbot)
    assert opened.stack.currentWidget() is opened.room
    assert QApplication.focusWidget() is opened.room.line


def test_the_key_of_a_page_that_is_covered_leads_back_to_it(qtbot, opened):
    sheet = show(qtbot, opened, "plays")
    show(qtbot, opened, "words")
    assert show(qtbot, opened, "plays") is sheet
    leave(qtbot)
    assert opened.stack.currentWidget() is opened.room


def test_a_room_entered_from_a_page_is_left_for_no_page(qtbot, opened):
    show(qtbot, opened, "plays")
    press(opened, "desk.review")
    qtbot.waitUntil(lambda: opened.room.name == "Review" and opened.stack.currentWidget() is opened.room, timeout=30000)
    show(qtbot, opened, "words")
    leave(qtbot)
    assert opened.stack.currentWidget() is opened.room
