"""Sheets that contradict themselves or the rules: each raises a doubt that says why, and is never certain.

Expectations: NCAA football rules 4-1-2, 6-1-4, 6-3-6, 7-2-4; NFHS football rules 4-2-2, 4-3-1, 6-1-6, 6-2-6, 7-1-7;
Canadian amateur rules 3-2-3 (all from memory).
"""

from __future__ import annotations

import pytest

from workstation.football.field import Team, parse_spot
from workstation.football.rulebook import load_rulebook
from workstation.football.sheet import read_rows
from workstation.football.situation import Next, Situation
from workstation.football.step import Certainty
from workstation.football.tracker import fold, track

CONTRADICTIONS = [
    ("nfhs", "punt",
     {"outcome": "muffed", "kick_to": "opp 30", "events": "muff at opp 30 by defense; recovery at opp 28 by offense",
                      "spot": "opp 12"}, "may not advance"),
    ("ncaa", "punt",
     {"outcome": "muffed", "kick_to": "opp 30", "events": "muff at opp 30 by defense; recovery at opp 28 by offense",
                      "score": "touchdown", "possession": "offense"}, "may not advance"),
    ("ncaa", "kickoff", {"kick_to": "own 47", "events": "recovery at own 47 by offense", "spot": "opp 40"},
     "may not advance"),
    ("professional", "kickoff", {"kick_to": "own 49", "events": "recovery at own 49 by offense", "spot": "opp 40"},
     "may not advance"),
    ("nfhs", "run", {"gain": "8", "fouls": "false start by offense"}, "false start"),
    ("nfhs", "run", {"gain": "8", "fouls": "encroachment by defense"}, "encroachment"),
    ("ncaa", "pass", {"outcome": "complete", "gain": "30", "fouls": "false start by offense, accepted"}, "false start"),
    ("ncaa", "run", {"score": "touchdown", "fouls": "false start by offense"}, "false start"),
    ("ncaa", "pass", {"outcome": "incomplete", "score": "touchdown"}, "incomplete"),
    ("ncaa", "run", {"gain": "5", "spot": "own 48"}, "own 45"),
    ("nfhs", "pass", {"outcome": "complete", "gain": "12", "spot": "own 44"}, "opp 48"),
    ("canadian_amateur", "punt", {"outcome": "touchback"}, "touchback"),
    ("ncaa", "kickoff", {"outcome": "returned", "kick_to": "own 20", "spot": "own 10"}, "behind"),
    ("nfhs", "run", {"events": "fumble at own 45 by offense; out of bounds at own 49", "spot": "own 49"}, "own 45"),
    ("ncaa", "run", {"events": "fumble at own 45 by offense; out of bounds at own 49", "spot": "own 49"}, "own 45"),
]

PLAIN = [
    ("nfhs", "punt",
     {"outcome": "muffed", "kick_to": "opp 30", "events": "muff at opp 30 by defense; recovery at opp 28 by offense",
                      "spot": "opp 28"}),
    ("canadian_amateur", "kickoff", {"kick_to": "opp 54", "events": "recovery at opp 54 by offense", "spot": "opp 44"}),
    ("ncaa", "run", {"gain": "5", "spot": "own 45"}),
    ("ncaa", "run", {"gain": "5", "fouls": "false start by offense, declined"}),
    ("ncaa", "kickoff", {"outcome": "touchback"}),
    ("ncaa", "kickoff", {"kick_to": "own 35", "events": "muff at own 35 by defense; recovery at own 36 by offense"}),
    ("nfhs", "run", {"events": "fumble at own 45 by offense; out of bounds at own 43", "spot": "own 43"}),
]


def folded(book_name: str, kind: str, row: dict):
    book = load_rulebook(book_name)
    if kind == "kickoff":
        before = Situation(Next.KICKOFF, Team.HOME, ball_on=book.kickoff_spot)
    else:
        down = book.downs if kind == "punt" else 2
        before = Situation(Next.SCRIMMAGE, Team.HOME, down, 8.0, parse_spot("own 40", book.field_length), series=1,
                           drive=1)
    return fold(book, before, read_rows([{"kind": kind} | row], book)[0].play)


@pytest.mark.parametrize(("book", "kind", "row", "why"), CONTRADICTIONS)
def test_a_contradiction_is_doubted_with_its_reason(book: str, kind: str, row: dict, why: str):
    step = folded(book, kind, row)
    assert any(why in problem for problem in step.problems), (step.explanation, step.problems)
    assert step.certainty is not Certainty.CERTAIN


@pytest.mark.parametrize(("book", "kind", "row"), PLAIN)
def test_what_agrees_is_not_doubted(book: str, kind: str, row: dict):
    assert not folded(book, kind, row).problems


@pytest.mark.parametrize("after", [
    {"kind": "kickoff", "outcome": "returned", "kick_to": "opp 5", "spot": "opp 30"},
    {"kind": "punt", "outcome": "fair catch", "kick_to": "opp 20"},
    {"kind": "run", "gain": "60", "score": "touchdown"},
    {"kind": "pass", "outcome": "intercepted", "spot": "own 35"},
])
def test_only_a_scrimmage_down_can_be_measured(after: dict):
    book = load_rulebook("nfhs")
    step = folded("nfhs", after["kind"], {key: cell for key, cell in after.items() if key != "kind"})
    measured, = track(book, [read_rows([{"kind": "measurement", "outcome": "made"}], book)[0].play], step)
    assert measured.problems and "measure" in measured.problems[0]
    assert (measured.points_home, measured.points_visitors) == (0, 0)
    assert measured.after.next is step.after.next and measured.after.ball_on == step.after.ball_on
