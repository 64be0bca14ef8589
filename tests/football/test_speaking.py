"""Situations as people say them, in the field of each rulebook."""

from __future__ import annotations

import pytest

from workstation.football.field import Team, parse_spot, spoken_spot
from workstation.football.rulebook import load_rulebook, rulebook_names
from workstation.football.situation import Next, Situation
from workstation.football.speaking import spoken_situation

# Goal line to goal line, from the books: 80 yards in six-man, 110 in Canada, 100 elsewhere.
LENGTHS = {"nfhs_six_man": 80, "canadian_amateur": 110}


@pytest.mark.parametrize("name", rulebook_names())
def test_a_spot_is_told_from_the_nearer_goal_line_of_its_own_field(name: str):
    length = LENGTHS.get(name, 100)
    book = load_rulebook(name)
    assert book.field_length == length
    on_ten = Situation(Next.SCRIMMAGE, Team.HOME, 2, 7.0, length - 10.0)
    assert spoken_situation(on_ten, book.field_length) == "2nd & 7 at opp 10"
    middle = Situation(Next.SCRIMMAGE, Team.HOME, 1, 10.0, length / 2)
    assert spoken_situation(middle, book.field_length) == f"1st & 10 at {length // 2}"
    short = Situation(Next.SCRIMMAGE, Team.HOME, 1, 10.0, length / 2 - 1)
    assert spoken_situation(short, book.field_length) == f"1st & 10 at own {length // 2 - 1}"
    assert parse_spot(spoken_spot(length - 3, length), length) == length - 3


@pytest.mark.parametrize(("ball_on", "said"), [
    (0.5, "1st & 10 at own 1"), (1 / 36, "1st & 10 at own 1"), (1.4, "1st & 10 at own 1"), (1.6, "1st & 10 at own 2"),
    (99.5, "1st & 10 at opp 1"), (99.97, "1st & 10 at opp 1"), (98.6, "1st & 10 at opp 1"), (98.4, "1st & 10 at opp 2"),
])
def test_a_ball_inside_the_one_is_on_the_one_and_never_on_the_goal_line(ball_on: float, said: str):
    assert spoken_situation(Situation(Next.SCRIMMAGE, Team.HOME, 1, 10.0, ball_on), 100) == said
