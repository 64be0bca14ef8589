"""The watch over the UI thread sees what it is there to see."""

from __future__ import annotations

from PySide6.QtWidgets import QApplication

from tests.desk.turns import MOST, Turns
from workstation.coverage.checker import check
from workstation.coverage.profile import load_profile
from workstation.football.rulebook import load_rulebook
from workstation.tagging.model import Game, Heading


def test_a_check_on_the_ui_thread_is_told(qtbot):
    with Turns() as turns:
        check(Game(Heading()), (), load_profile("default"), load_rulebook("nfhs"))
    assert any("checker.py" in complaint for complaint in turns.complaints())


def test_a_turn_of_too_many_calls_is_told(qtbot):
    with Turns() as turns:
        for number in range(MOST + 1):
            str(number).upper()
    assert any(f"{turns.most} calls" in complaint for complaint in turns.complaints())


def test_the_same_calls_in_many_turns_are_not(qtbot):
    with Turns() as turns:
        for _ in range(20):
            for number in range(MOST // 20):
                str(number).upper()
            QApplication.processEvents()
    assert not turns.complaints()
