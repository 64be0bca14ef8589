"""Teams in the colours of their jerseys, in the whole window; and sides told apart without any colour."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QColor
from PySide6.QtWidgets import QColorDialog

from workstation.desk.theme import DARK, GROUNDS, LIGHT, contrast, readable


def choose(qtbot, window, action, colour):
    window.act(action)
    dialog = next(widget for widget in window.findChildren(QColorDialog) if widget.isVisible())
    with qtbot.waitSignal(window.theme.changed, timeout=20000):
        dialog.colorSelected.emit(QColor(colour))
    dialog.close()


def test_a_team_wears_its_colour_and_keeps_it_for_its_next_game(qtbot, opened):
    before = opened.theme.colours
    choose(qtbot, opened, "desk.visitors_colour", "#7a0019")
    now = opened.theme.colours
    assert now.home == before.home and now.visitors != before.visitors
    red, green, blue, _ = QColor(now.visitors).getRgb()
    assert red > max(green, blue)       # still a red, light enough to be read
    path = opened.session.file.path
    opened.close_game()
    opened.opening.open_game(path)
    qtbot.waitUntil(lambda: opened.session is not None, timeout=30000)
    assert opened.theme.colours.visitors == now.visitors
    opened.act("desk.team_colours")
    assert opened.theme.colours.visitors == before.visitors


@pytest.mark.parametrize("colours", [DARK, LIGHT])
@pytest.mark.parametrize("colour", ["#000000", "#ffffff", "#7a0019", "#ffff00", "#0000ff", "#00ff00", "#808080"])
def test_every_colour_can_be_read_on_every_ground(colours, colour):
    made = readable(colour, colours)
    assert all(contrast(made, getattr(colours, ground)) >= 4.5 for ground in GROUNDS)


def test_lists_say_whose_ball_it_is(qtbot, opened):
    heading, session = opened.session.game.heading, opened.session
    model = opened.room.plays.plays
    names = {"home": heading.home, "visitors": heading.visitors}
    for row, step in enumerate(session.steps):
        if step.before.offense is not None:
            assert names[str(step.before.offense)] in model.data(model.index(row), Qt.ItemDataRole.DisplayRole)
    opened.ask_for("Sequence")
    qtbot.waitUntil(lambda: opened.room.name == "Sequence" and bool(opened.room.results.model_.cards), timeout=20000)
    for card in opened.room.results.model_.cards:
        assert names[str(session.step_of(card.play).before.offense)] in card.line
