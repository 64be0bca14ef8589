"""What the empty line shows as examples is read, in each situation that it is shown in."""

from __future__ import annotations

import pytest

from workstation.football.field import Team
from workstation.football.notation import Answer, read
from workstation.football.notation.examples import examples
from workstation.football.rulebook import load_rulebook, rulebook_names
from workstation.football.situation import Next, Situation


def situations(book):
    yield Situation()
    yield Situation(Next.KICKOFF, Team.HOME, ball_on=book.kickoff_spot)
    yield Situation(Next.SAFETY_FREE_KICK, Team.HOME, ball_on=20)
    yield Situation(Next.TRY, Team.HOME, ball_on=book.field_length - 3)
    for down in range(1, book.downs + 1):
        yield Situation(Next.SCRIMMAGE, Team.HOME, down, 7, 30)
        yield Situation(Next.SCRIMMAGE, Team.HOME, down, 4, book.field_length - 4, goal_to_go=True)


@pytest.mark.parametrize("name", rulebook_names())
def test_every_example_is_understood(name):
    book = load_rulebook(name)
    wrong = [(before, line) for before in situations(book) for line in examples(before, book.downs)
             if read(line, before, book).answer is not Answer.CERTAIN]
    assert wrong == []
    assert all(examples(before, book.downs) for before in situations(book))


def test_none_where_nothing_is_left_to_say():
    assert examples(Situation(Next.OVER, Team.HOME), 4) == ()
