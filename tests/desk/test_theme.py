"""Contrast of both palettes, as WCAG 2.2 measures it (https://www.w3.org/TR/WCAG22/#contrast-minimum)."""

from __future__ import annotations

import re
from importlib.resources import files

import pytest
from PySide6.QtCore import QTimer
from PySide6.QtWidgets import QApplication, QWidget

from workstation.desk.room import Room
from workstation.desk.theme import DARK, GRAPHIC_PAIRS, LIGHT, TEXT_PAIRS, contrast
from workstation.desk.timeline.thumbnails import Thumbnails
from workstation.desk.timeline.view import TimelineView


def test_contrast_agrees_with_published_values():
    # Black on white is 21:1 by definition; #767676 on white is the well-known lightest AA grey, 4.54:1
    # (WebAIM, https://webaim.org/articles/contrast/).
    assert contrast("#000000", "#ffffff") == pytest.approx(21)
    assert contrast("#767676", "#ffffff") == pytest.approx(4.54, abs=0.01)
    assert contrast("#ffffff", "#767676") == contrast("#767676", "#ffffff")


@pytest.mark.parametrize("colours", [DARK, LIGHT], ids=["dark", "light"])
def test_palette_reaches_aa(colours):
    weak = {(ink, ground): round(contrast(getattr(colours, ink), getattr(colours, ground)), 2)
            for pairs, least in ((TEXT_PAIRS, 4.5), (GRAPHIC_PAIRS, 3.0)) for ink, ground in pairs
            if contrast(getattr(colours, ink), getattr(colours, ground)) < least}
    assert not weak


@pytest.mark.parametrize("colours", [DARK, LIGHT], ids=["dark", "light"])
def test_the_arrow_of_choices_is_seen(colours):
    (ink,) = re.findall(r'fill="(#\w{6})"', files("workstation.resources").joinpath("look", "down.svg").read_text())
    assert contrast(ink, colours.well) >= 3 and contrast(ink, colours.raised) >= 3


def change(qtbot, theme, **look) -> None:
    with qtbot.waitSignal(theme.changed):
        theme.apply(**look)


def at_rest(qtbot, window):
    """The window once no thumbnail is on its way and nothing is put off any more."""
    def rests():
        waiting = [timer for timer in window.findChildren(QTimer)
                   if timer.isActive() and timer.isSingleShot() and timer.interval() < 1000]
        return not waiting and not any(each._decoding for each in window.session.findChildren(Thumbnails))
    for _ in range(3):                          # laying out and painting put off more, and ask for thumbnails
        QApplication.processEvents()
        qtbot.waitUntil(rests, timeout=20000)
        window.grab()
    return window.grab().toImage()


@pytest.mark.parametrize("name", ["Tag", "Review", "Sequence"])
def test_a_room_looks_the_same_after_larger_text_and_back(qtbot, opened, name):
    flash = QApplication.cursorFlashTime()
    QApplication.setCursorFlashTime(0)          # else the line's cursor comes and goes
    try:
        opened.go_to(name)
        qtbot.waitUntil(lambda: opened.session.coverage is not None, timeout=10000)
        before = at_rest(qtbot, opened)
        change(qtbot, opened.theme, scale=1.4)
        assert at_rest(qtbot, opened) != before
        change(qtbot, opened.theme, scale=1.0)
        assert at_rest(qtbot, opened) == before
    finally:
        QApplication.setCursorFlashTime(flash)


def test_the_names_of_the_rooms_fit_at_every_text_size(qtbot, opened):
    for scale in (0.8, 1.0, 1.6, 2.5):
        change(qtbot, opened.theme, scale=scale)
        for button in opened._room_buttons.values():
            assert button.height() >= button.sizeHint().height()


@pytest.mark.parametrize("name", ["Tag", "Review", "Sequence"])
def test_a_room_that_is_entered_while_the_look_changes_wears_the_new_one(qtbot, opened, monkeypatch, name):
    for each in ("Tag", "Review", "Sequence"):
        opened.go_to(each)
        at_rest(qtbot, opened)
    opened.act("desk.keys")
    theme = opened.theme
    room = next(each for each in opened.findChildren(Room) if each.name == name)

    def worn() -> dict[str, object]:
        return {"type": [each.font().pixelSize() for each in room.findChildren(QWidget)],
                "timelines": [each._painter.look.font for each in room.findChildren(TimelineView)],
                "columns": [column.minimumWidth() for column, _ in room._columns]}

    change(qtbot, theme, scale=2.0)
    at_rest(qtbot, opened)
    wanted = worn()
    change(qtbot, theme, scale=1.0)
    at_rest(qtbot, opened)
    assert worn() != wanted
    with monkeypatch.context() as held:
        held.setattr(theme._next, "start", lambda: None)        # the turns of all but the first page are yet to come
        theme.apply(scale=2.0)
        opened.go_to(name)
        assert room.isVisible() and worn() == wanted
    with qtbot.waitSignal(theme.changed):
        theme._next.start()
    assert worn() == wanted
