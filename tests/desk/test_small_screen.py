"""At 200 % on a screen of 1280x800 the desk has 640x400 of its own pixels, at 1920x1080 it has 960x540.

Then pages may scroll, and lists and long names are shortened, but no word on a button or a label is cut off,
nothing reaches out of its page, and a page that scrolls can be scrolled to all of it.
"""

from __future__ import annotations

from collections.abc import Callable
from contextlib import suppress

import pytest
from PySide6.QtCore import QPoint, QRect, Qt
from PySide6.QtGui import QFontMetrics
from PySide6.QtWidgets import QAbstractButton, QApplication, QCheckBox, QComboBox, QLabel, QScrollArea, QWidget

from tests.desk.driver import press
from workstation.coverage.answer import PracticeAnswer
from workstation.desk.keys import KeyButton
from workstation.desk.widgets import Elided

SIZES = ((640, 400), (960, 540), (1280, 800))


def words_of(widget: QWidget) -> str:
    return widget.text().replace("&", "") if isinstance(widget, (QAbstractButton, QLabel)) else ""


def cut_off(page: QWidget) -> list[str]:
    """Buttons and labels in sight that have less room than their words need."""
    found = []
    for widget in page.findChildren(QWidget):
        words = words_of(widget)
        if not words or not widget.isVisible() or isinstance(widget, Elided):
            continue
        metrics = QFontMetrics(widget.font())
        if isinstance(widget, QLabel) and widget.wordWrap():
            needs = metrics.boundingRect(QRect(0, 0, widget.contentsRect().width(), 10_000), 0x1000, words).height()
            has = widget.contentsRect().height()
        else:
            needs, has = metrics.horizontalAdvance(words), widget.contentsRect().width()
            if isinstance(widget, KeyButton):
                needs += widget._cap()[-1]
            elif isinstance(widget, QCheckBox):
                needs += 20
        if has < needs:
            found.append(f"{type(widget).__name__} {words!r} needs {needs} and has {has}")
    return found


def outside(page: QWidget) -> list[str]:
    """What reaches out of the widget it stands in, other than in something that scrolls."""
    found = []
    for widget in page.findChildren(QWidget):
        parent = widget.parentWidget()
        if not widget.isVisible() or widget.isWindow() or parent is None or not (
                words_of(widget) or isinstance(widget, QComboBox)):
            continue
        if isinstance(parent.parentWidget(), QScrollArea):
            continue
        if not QRect(QPoint(0, 0), parent.size()).contains(widget.geometry()):
            found.append(f"{type(widget).__name__} {words_of(widget)!r} at {widget.geometry().getRect()} "
                         f"in {parent.size().toTuple()}")
    return found


def settled(qtbot, wrong: Callable[[], list[str]]) -> list[str]:
    """What is still wrong once the layouts have come to rest."""
    with suppress(qtbot.TimeoutError):
        qtbot.waitUntil(lambda: not wrong(), timeout=3000)
    return wrong()


def unreachable(window) -> list[str]:
    """A page that is squeezed below its least size, or cannot be scrolled to its end."""
    around = window.stack.parentWidget().parentWidget()
    least, has, view = window.stack.minimumSizeHint(), window.stack.size(), around.viewport().size()
    found = [] if has.expandedTo(least) == has else [f"needs {least.toTuple()}, has {has.toTuple()}"]
    if (around.horizontalScrollBar().maximum(), around.verticalScrollBar().maximum()) != (has - view).toTuple():
        found.append("the scroll bars do not reach its end")
    return found


@pytest.mark.parametrize(("size", "scale"), [*((size, 1.0) for size in SIZES), ((1280, 800), 1.6), ((1920, 1080), 2.0)])
def test_nothing_is_cut_off(qtbot, opened, size, scale):
    opened.theme.apply(scale=scale)
    opened.resize(*size)
    assert opened.size().toTuple() == size
    wrong = []

    def look(what: str) -> None:
        page = opened.stack.currentWidget()
        wrong.extend(f"{what}: {each}" for each in
                     settled(qtbot, lambda: cut_off(opened) + outside(page) + unreachable(opened)))
        assert opened.size().toTuple() == size, what        # no page makes the window larger than the screen
        if size == (1280, 800) and scale == 1:
            assert opened.stack.size() == opened.stack.parentWidget().size(), f"{what} scrolls"

    for name in ("Review", "Sequence", "Tag"):
        opened.go_to(name)
        look(name)
    opened.room.go_to_row(0)
    for text in ("pass 12 touchdown holding declined", "measurement short 2:05", "nonsense"):
        opened.room.line.setText(text)
        look(text)
    opened.room.set_heading()
    look("heading")
    opened.act("desk.keys")
    look("keys")
    opened.act("desk.keys")
    opened.act("desk.plays")
    look("sheet of plays")
    opened.act("desk.plays")
    opened.act("desk.words")
    look("own words")
    opened.act("desk.words")
    opened.act("desk.practice")
    page = opened.overlays.page("practice")
    qtbot.waitUntil(lambda: page.exercise is not None, timeout=20000)
    look("practice")
    page.go_on()
    look("a gap")
    for answer in (PracticeAnswer.MARKER, PracticeAnswer.BOARD, PracticeAnswer.NOTHING):
        page.go_on()
        page.answer(answer)
    page.leave()
    look("the result")
    page.leave()
    opened.go_to("Review")
    qtbot.waitUntil(lambda: bool(opened.room.findings.model.findings), timeout=20000)
    press(opened, "review.next")
    look("a finding")
    opened.session.pause()
    qtbot.waitUntil(lambda: opened.session.player.is_placed and not opened.session.playing, timeout=20000)
    opened.room.remark()
    assert opened.room.remark_entry.isVisible()
    look("words to remark")
    assert not wrong


@pytest.mark.parametrize("size", SIZES)
def test_the_welcome_is_whole(qtbot, window, size):
    window.resize(*size)
    assert not settled(qtbot, lambda: cut_off(window) + outside(window.welcome))


def test_the_split_stays_where_it_is_while_plays_are_typed(qtbot, opened):
    room = opened.room
    before = room.situation.width()
    for text in ("run 3", "measurement short 2:05", "pass 12 fumble lost own 30 holding declined 4:15", ""):
        room.line.setText(text)
        qtbot.waitUntil(lambda: not room._showing.isActive())
        assert room.situation.width() == before


def test_what_has_the_focus_is_in_sight(qtbot, opened):
    opened.resize(640, 400)
    view = opened.stack.parentWidget()
    for name in ("Tag", "Review", "Sequence"):
        opened.go_to(name)
        qtbot.waitUntil(lambda name=name: opened.room.name == name and opened.stack.updatesEnabled())
        for _ in range(50):
            qtbot.keyClick(QApplication.focusWidget() or opened, Qt.Key.Key_Tab)
            focused = QApplication.focusWidget()
            if focused is not None and opened.stack.isAncestorOf(focused):
                place = QRect(focused.mapTo(view, QPoint(0, 0)), focused.size())
                assert view.rect().intersects(place), f"{name}: {focused.accessibleName()}"
