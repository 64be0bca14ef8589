"""The fine points of kicks, one sheet each.

Expectations: NCAA football rules and approved rulings 2016-17, 6-1-3, 6-2, 6-3-1 to 6-3-13, 8-4-2, 8-5-1, 8-6-1, 8-7-2;
NFHS football rules 4-2-2, 6-1-6 to 6-1-9, 6-2-3 to 6-2-6, 8-5-2 and 8-5-3 (from memory).
"""

from __future__ import annotations

import pytest

from workstation.football.field import Team
from workstation.football.rulebook import load_rulebook
from workstation.football.sheet import read_rows
from workstation.football.situation import Next, Situation
from workstation.football.speaking import spoken_situation
from workstation.football.step import Step
from workstation.football.tracker import fold


def folded(book_name: str, where: float, number: int = 4, season: int | None = None, **row: str) -> Step:
    book = load_rulebook(book_name, season)
    free = row["kind"] == "kickoff"
    before = Situation(Next.KICKOFF, Team.HOME, ball_on=book.kickoff_spot) if free else Situation(
        Next.SCRIMMAGE, Team.HOME, number, 8.0, where, series=1, drive=1)
    return fold(book, before, read_rows([row], book)[0].play)


def told(step: Step) -> str:
    who = "kickers" if step.after.offense is Team.HOME else "receivers"
    return f"{who} {spoken_situation(step.after, 100)}"


@pytest.mark.parametrize(("book", "row", "wanted"), [
    # dead where the kickers recover the muff: what follows cannot count
    ("ncaa", {"outcome": "muffed", "kick_to": "opp 30", "spot": "opp 28",
              "events": "muff at opp 30 by defense; recovery at opp 28 by offense; fumble at opp 20 by offense; "
                        "recovery at opp 19 by defense"}, "kickers 1st & 10 at opp 28"),
    # short of the line, never touched by the receivers: the kickers' down goes on
    ("ncaa", {"events": "muff at own 25 by offense; recovery at own 20 by offense"}, "receivers 1st & 10 at opp 20"),
    ("nfhs", {"kick_to": "own 27", "possession": "offense"}, "receivers 1st & 10 at opp 27"),
    ("nfhs", {"kick_to": "own 27", "possession": "offense", "spot": "own 39"}, "kickers 1st & 10 at own 39"),
    # nobody of the receivers touched it: theirs where the kickers stopped it, with or without the event
    ("nfhs", {"kick_to": "opp 30", "possession": "offense"}, "receivers 1st & 10 at own 30"),
    ("nfhs", {"outcome": "downed", "kick_to": "opp 30", "possession": "offense"}, "receivers 1st & 10 at own 30"),
    ("nfhs", {"outcome": "downed", "spot": "opp 33", "possession": "offense"}, "receivers 1st & 10 at own 33"),
    # muffed without further word, and by a receiver: the kickers may have it
    ("nfhs", {"outcome": "muffed", "kick_to": "opp 30", "possession": "offense"}, "kickers 1st & 10 at opp 30"),
    ("nfhs", {"outcome": "muffed", "kick_to": "opp 30", "events": "recovery at opp 29 by offense"},
     "kickers 1st & 10 at opp 29"),
    # muffed by a kicker alone: it stays the receivers'
    ("nfhs",
     {"outcome": "muffed", "kick_to": "opp 30", "events": "muff at opp 30 by offense; recovery at opp 29 by offense"},
     "receivers 1st & 10 at own 30"),
    # blocked and out of bounds behind the kickers' goal line, and in the field
    ("ncaa", {"outcome": "blocked", "events": "block at own 5; out of bounds at own end zone 2"},
     "kickers free kick after a safety from own 20"),
    ("ncaa", {"outcome": "blocked", "events": "block at own 25; out of bounds at own 12"},
     "receivers 1st & 10 at opp 12"),
    # blocked without a word on who has it: the defense, at the line
    ("ncaa", {"outcome": "blocked"}, "receivers 1st & 10 at opp 30"),
    # across the goal line on the fly or by a muff: dead in high school, alive in college
    ("nfhs", {"outcome": "returned", "kick_to": "opp end zone 2", "spot": "opp 40"}, "receivers 1st & 10 at own 20"),
    ("nfhs", {"events": "muff at opp 8 by offense; recovery at opp end zone 1 by offense"},
     "receivers 1st & 10 at own 20"),
    ("ncaa", {"outcome": "returned", "kick_to": "opp end zone 2", "spot": "opp 40"}, "receivers 1st & 10 at own 40"),
    ("ncaa", {"outcome": "muffed", "kick_to": "opp 3",
              "events": "muff at opp 3 by defense; recovery at opp end zone 2 by defense"},
     "receivers 1st & 10 at own 20"),
    ("nfhs", {"events": "muff at opp end zone 0 by defense; recovery at opp 2 by offense"},
     "receivers 1st & 10 at own 20"),
    # caught in the field and carried back over the own goal line: his own force
    ("ncaa", {"kick_to": "opp 8", "events": "catch at opp 8 by defense", "spot": "opp end zone 2"},
     "receivers free kick after a safety from own 20"),
    ("ncaa", {"outcome": "returned", "kick_to": "opp 8", "spot": "opp end zone 2"},
     "receivers free kick after a safety from own 20"),
    # caught in the end zone, run out, back in and down: his own force since he left it
    ("ncaa", {"kick_to": "opp end zone 3", "events": "catch at opp end zone 3 by defense; fumble at opp 2 by defense; "
              "recovery at opp end zone 1 by defense"}, "receivers free kick after a safety from own 20"),
    ("ncaa",
     {"kick_to": "opp end zone 3", "events": "catch at opp end zone 3 by defense; fumble at opp end zone 1 by defense; "
              "recovery at opp end zone 2 by defense"}, "receivers 1st & 10 at own 20"),
    # a momentum of the other team's runner is none of the holder's
    ("ncaa", {"kick_to": "opp 3", "events": "catch at opp 3 by defense; momentum at opp 2", "spot": "opp end zone 2"},
     "receivers 1st & 10 at own 2"),
    ("ncaa", {"kick_to": "opp 3", "events": "catch at opp 3 by defense; momentum", "spot": "opp 9"},
     "receivers 1st & 10 at own 9"),
    # fair catch
    ("ncaa",
     {"outcome": "fair catch", "kick_to": "opp 30", "events": "muff at opp 30 by defense; catch at opp 28 by defense"},
     "receivers 1st & 10 at own 28"),
    ("ncaa", {"outcome": "fair catch", "kick_to": "opp 30",
              "events": "muff at opp 30 by defense; own recovery at opp 28 by defense"},
     "receivers 1st & 10 at own 30"),
    # a kicker's touch and the receivers' better end of the play
    ("ncaa",
     {"outcome": "returned", "kick_to": "opp 20", "events": "muff at opp 24 by offense; catch at opp 20 by defense",
              "spot": "opp 40"}, "receivers 1st & 10 at own 40"),
    ("ncaa",
     {"outcome": "returned", "kick_to": "opp 20", "events": "muff at opp 24 by offense; catch at opp 20 by defense",
              "spot": "opp 22"}, "receivers 1st & 10 at own 24"),
])
def test_punts(book: str, row: dict, wanted: str):
    assert told(folded(book, 30.0, kind="punt", **row)) == wanted


@pytest.mark.parametrize(("book", "row", "wanted"), [
    ("ncaa", {"kick_to": "own 44", "possession": "offense"}, "receivers 1st & 10 at opp 44"),
    ("ncaa", {"kick_to": "own 45", "possession": "offense"}, "kickers 1st & 10 at own 45"),
    ("ncaa", {"kick_to": "own 44", "events": "bat at own 44 by defense; recovery at own 43 by offense"},
     "kickers 1st & 10 at own 43"),
    ("ncaa", {"kick_to": "own 44", "events": "forced touching at own 44 by defense; recovery at own 43 by offense"},
     "receivers 1st & 10 at opp 43"),
    ("ncaa", {"events": "landing at opp 20; out of bounds at opp 12"}, "receivers 1st & 10 at own 35"),
    ("ncaa", {"events": "muff at opp 20 by defense; out of bounds at opp 12"}, "receivers 1st & 10 at own 12"),
    ("ncaa", {"outcome": "out of bounds", "kick_to": "opp end zone 4"}, "receivers 1st & 10 at own 25"),
    ("nfhs", {"outcome": "out of bounds", "kick_to": "opp 45"}, "receivers 1st & 10 at 50"),
    ("ncaa", {"events": "muff at opp end zone 2 by offense; recovery at opp end zone 4 by defense"},
     "receivers 1st & 10 at own 25"),
    ("ncaa", {"kick_to": "opp 10", "events": "catch at opp 10 by defense; fumble at opp 15 by defense; recovery at opp "
                                             "12 by offense",
              "score": "touchdown", "possession": "offense"}, "kickers try"),
    ("professional", {"outcome": "downed", "kick_to": "opp 19"}, "receivers 1st & 10 at own 19"),
    ("professional", {"outcome": "downed", "kick_to": "opp 24"}, "receivers 1st & 10 at own 40"),
    ("professional", {"kick_to": "opp 45", "events": "recovery at opp 45 by offense"}, "kickers 1st & 10 at opp 45"),
])
def test_kickoffs(book: str, row: dict, wanted: str):
    assert told(folded(book, 0.0, kind="kickoff", **row)) == wanted


@pytest.mark.parametrize(("book", "row", "wanted"), [
    ("ncaa", {"outcome": "no good", "kick_to": "opp 7"}, "receivers 1st & 10 at own 40"),
    ("ncaa", {"outcome": "no good", "events": "muff at opp 10 by offense; recovery at opp 8 by offense"},
     "receivers 1st & 10 at own 40"),
    ("ncaa", {"outcome": "no good", "events": "muff at opp 10 by defense; recovery at opp 8 by offense"},
     "kickers 1st & goal at opp 8"),
    ("nfhs", {"outcome": "no good", "kick_to": "opp 7"}, "receivers 1st & 10 at own 7"),
    ("ncaa", {"outcome": "no good", "events": "landing at opp 36; recovery at opp 44 by offense", "spot": "opp 33"},
     "receivers 1st & 10 at own 33"),
    ("ncaa", {"outcome": "no good", "events": "landing at opp 36; recovery at opp 44 by offense", "spot": "opp 31"},
     "kickers 1st & 10 at opp 31"),
    ("ncaa", {"outcome": "blocked", "events": "block at opp 46; recovery at opp 38 by offense"},
     "receivers 1st & 10 at own 38"),
    ("ncaa", {"outcome": "blocked", "kick_to": "opp 48"}, "receivers 1st & 10 at own 48"),
    ("nfhs", {"outcome": "no good", "kick_to": "opp end zone 0"}, "receivers 1st & 10 at own 20"),
    ("ncaa", {"outcome": "returned", "kick_to": "opp 3", "spot": "opp 25"}, "receivers 1st & 10 at own 25"),
    ("ncaa", {"outcome": "returned", "kick_to": "opp 3", "spot": "opp end zone 1"},
     "receivers free kick after a safety from own 20"),
    ("ncaa", {"outcome": "returned", "kick_to": "opp end zone 3", "spot": "opp end zone 1"},
     "receivers 1st & 10 at own 20"),
    ("ncaa", {"outcome": "returned", "score": "touchdown"}, "receivers try"),
])
def test_field_goals(book: str, row: dict, wanted: str):
    assert told(folded(book, 60.0, kind="field goal", **row)) == wanted
