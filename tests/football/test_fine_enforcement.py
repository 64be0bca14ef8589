"""Single mechanisms of enforcement and of force, one sheet each.

Expectations: NCAA football rules and approved rulings 2016-17, 3-4-4, 7-3-7, 8-5-1, 8-6-1, 10-1-4; Official Playing
Rules of the NFL 14-5 (from memory).
"""

from __future__ import annotations

from dataclasses import replace

import pytest

from workstation.football.field import Team
from workstation.football.rulebook import load_rulebook
from workstation.football.sheet import read_rows
from workstation.football.situation import Next, Situation
from workstation.football.speaking import spoken_situation
from workstation.football.step import Step
from workstation.football.tracker import fold

SECOND_DOWN = Situation(Next.SCRIMMAGE, Team.HOME, 2, 8.0, 40.0, period=4, series=3, drive=2)


def folded(book_name: str, before: Situation = SECOND_DOWN, **row: str) -> Step:
    book = load_rulebook(book_name)
    if row["kind"] == "kickoff":
        before = replace(before, next=Next.KICKOFF, down=None, yards_to_gain=None, ball_on=book.kickoff_spot)
    return fold(book, before, read_rows([row], book)[0].play)


def told(step: Step) -> str:
    return f"{'offense' if step.after.offense is Team.HOME else 'defense'} {spoken_situation(step.after, 100)}"


@pytest.mark.parametrize(("book", "row", "wanted"), [
    # of several fouls by one team the accepted one counts
    ("ncaa", {"kind": "run", "gain": "2", "fouls": "offside by defense, accepted; face mask by defense"},
     "offense 2nd & 3 at own 45"),
    # an illegal pass that falls, declined: where it was thrown
    ("ncaa", {"kind": "pass", "outcome": "incomplete", "fouls": "illegal forward pass by offense at own 45, declined"},
     "offense 3rd & 3 at own 45"),
    ("ncaa",
     {"kind": "pass", "outcome": "incomplete", "fouls": "illegal forward pass by offense at own end zone 2, declined"},
     "offense 3rd & 8 at own 40"),
    ("professional",
     {"kind": "pass", "outcome": "incomplete", "fouls": "illegal forward pass by offense at own 45, declined"},
     "offense 3rd & 8 at own 40"),
    # five against fifteen, ten against fifteen
    ("professional", {"kind": "pass", "outcome": "incomplete",
                      "fouls": "illegal formation by offense; roughing the passer by defense"},
     "offense 1st & 10 at opp 45"),
    ("professional",
     {"kind": "pass", "outcome": "incomplete", "fouls": "holding by offense; roughing the passer by defense"},
     "offense 2nd & 8 at own 40"),
    ("ncaa",
     {"kind": "pass", "outcome": "incomplete", "fouls": "illegal formation by offense; roughing the passer by defense"},
     "offense 2nd & 8 at own 40"),
    # both foul after the change: kept where it is in professional rules, no farther than a foul; the down again in
    # college
    ("professional",
     {"kind": "pass", "outcome": "intercepted", "events": "interception at opp 30 by defense", "spot": "own 45",
                      "fouls": "clipping by defense at opp 40, after change of possession, offset; "
                               "face mask by offense at 50, after change of possession, offset"},
     "defense 1st & 10 at own 40"),
    ("professional",
     {"kind": "pass", "outcome": "intercepted", "events": "interception at opp 30 by defense", "spot": "own 45",
                      "fouls": "clipping by defense at own 42, after change of possession, offset; "
                               "face mask by offense at own 43, after change of possession, offset"},
     "defense 1st & 10 at opp 45"),
    ("ncaa", {"kind": "pass", "outcome": "intercepted", "events": "interception at opp 30 by defense", "spot": "own 45",
              "fouls": "clipping by defense at opp 40, after change of possession, offset; "
                       "face mask by offense at 50, after change of possession, offset"}, "offense 2nd & 8 at own 40"),
    # another foul on a kickoff out of bounds, measured from where a person says
    ("ncaa", {"kind": "kickoff", "outcome": "out of bounds", "kick_to": "opp 20",
              "fouls": "offside on free kick by offense, accepted, from opp 40, enforced at dead-ball spot"},
     "defense 1st & 10 at own 45"),
    # force: who left the end zone with the ball, or did not
    ("ncaa", {"kind": "pass", "outcome": "intercepted", "events": "interception at opp end zone 5 by defense; "
              "lateral at opp 2 by defense; recovery at opp end zone 1 by defense"},
     "defense free kick after a safety from own 20"),
    ("ncaa", {"kind": "run", "spot": "opp end zone 3", "possession": "defense"}, "defense 1st & 10 at own 20"),
    ("ncaa", {"kind": "run", "spot": "own end zone 0"}, "offense free kick after a safety from own 20"),
    ("ncaa", {"kind": "run", "events": "fumble at own 3 by offense; recovery at own end zone 2 by offense"},
     "offense free kick after a safety from own 20"),
    ("ncaa", {"kind": "pass", "outcome": "intercepted",
              "events": "interception at own 45 by defense; fumble at own 4 by defense; "
              "recovery at own end zone 2 by offense"}, "offense 1st & 10 at own 20"),
    ("ncaa", {"kind": "run", "events": "fumble at opp 4 by offense; bat at opp 2 by defense; recovery at opp end zone "
                                       "1 by defense"},
     "defense free kick after a safety from own 20"),
    ("ncaa", {"kind": "pass", "outcome": "intercepted", "spot": "opp end zone 4"}, "defense 1st & 10 at own 20"),
    # a wedge of the receivers on a kick that the kickers recovered: the kick again (NCAA 6-1-10 PENALTY)
    ("ncaa", {"kind": "kickoff", "outcome": "muffed", "kick_to": "opp 20",
              "events": "muff at opp 20 by defense; recovery at opp 18 by offense",
              "fouls": "illegal wedge by defense at opp 30, accepted"},
     "offense kickoff from 50"),
    ("ncaa", {"kind": "run", "gain": "50", "possession": "defense", "spot": "opp end zone 2"},
     "defense free kick after a safety from own 20"),
    # momentum of the team that then lost the ball is nobody's: the fumble goes out of its end zone
    ("ncaa", {"kind": "pass", "outcome": "intercepted", "events": "interception at opp 3 by defense; momentum; "
              "fumble at opp end zone 1 by defense; recovery at opp 2 by offense", "spot": "opp 2"},
     "offense 1st & goal at opp 2"),
    ("ncaa", {"kind": "pass", "outcome": "intercepted", "events": "interception at opp 3 by defense; momentum; "
              "fumble at opp end zone 1 by defense; recovery at opp end zone 2 by offense"}, "offense try"),
    # a backward pass out of the opponents' end zone is a touchback, out of the own one a safety
    ("ncaa", {"kind": "run", "events": "lateral at opp 4 by offense; out of bounds at opp end zone 1"},
     "defense 1st & 10 at own 20"),
    ("ncaa", {"kind": "run", "events": "lateral at own 4 by offense; out of bounds at own end zone 1"},
     "offense free kick after a safety from own 20"),
    # the fourth period is no extra period: a foul during the kick counts from its end
    ("ncaa", {"kind": "punt", "outcome": "downed", "kick_to": "opp 20",
              "fouls": "defensive holding by defense at opp 40, during the kick, accepted"},
     "defense 1st & 10 at own 10"),
    # intercepted short of the goal line, however little, and carried behind it: a safety; on the line: a touchback
    ("ncaa", {"kind": "pass", "outcome": "intercepted", "gain": "59.5", "spot": "opp end zone 2"},
     "defense free kick after a safety from own 20"),
    ("ncaa", {"kind": "pass", "outcome": "intercepted", "gain": "60", "spot": "opp end zone 2"},
     "defense 1st & 10 at own 20"),
    ("ncaa", {"kind": "run", "events": "fumble at opp 4 by offense; muff at opp end zone 0 by defense",
              "possession": "defense"}, "defense 1st & 10 at own 20"),
    # the goal line is part of the end zone that momentum carries him into (2-31-3, 8-5-1)
    ("ncaa", {"kind": "pass", "outcome": "intercepted", "events": "interception at opp 3 by defense; momentum",
              "spot": "opp end zone 0"}, "defense 1st & 10 at own 3"),
    ("ncaa", {"kind": "pass", "outcome": "intercepted", "events": "interception at opp 3 by defense; momentum",
              "spot": "opp 1"}, "defense 1st & 10 at own 1"),
    # kept by hand
    ("ncaa", {"kind": "punt", "kick_to": "opp 30", "possession": "offense", "events": "muff at opp 30 by offense"},
     "defense 1st & 10 at own 30"),
])
def test_one_mechanism(book: str, row: dict, wanted: str):
    assert told(folded(book, **row)) == wanted


def test_kickers_cannot_score_with_what_they_touched_too_early():
    step = folded("ncaa", kind="punt", events="muff at opp 20 by offense; recovery at opp 18 by offense",
                  score="touchdown", possession="offense")
    assert any("cannot score" in problem for problem in step.problems), step.problems
    assert step.points_visitors == 0 and step.after.offense is Team.VISITORS


@pytest.mark.parametrize("row", [
    {"kind": "punt", "events": "recovery at opp 18 by offense", "score": "touchdown", "possession": "offense"},
    {"kind": "kickoff", "events": "recovery at own 43 by offense", "score": "touchdown"},
])
def test_kickers_cannot_score_with_what_they_took_too_early(row: dict):
    step = folded("ncaa", **row)
    assert any("cannot score" in problem for problem in step.problems), step.problems
    assert (step.points_home, step.points_visitors) == (0, 0) and step.after.offense is Team.VISITORS


def test_a_reversal_that_tells_the_gain_keeps_it():
    book = load_rulebook("ncaa")
    ran = folded("ncaa", kind="run", gain="5")
    reversed_to = fold(book, ran.after, read_rows([{"kind": "replay reversal", "gain": "3"}], book)[0].play, ran)
    assert told(reversed_to) == "offense 3rd & 5 at own 43"


def test_timeouts_of_the_last_extra_periods_are_not_added_to():
    """NCAA 3-1-3-h from 2025: one for everything from the third extra period on."""
    before = replace(SECOND_DOWN, down=4, ball_on=80.0, period=7, extra_first=Team.VISITORS, extra_turn=2,
                     timeouts_home=0, timeouts_visitors=1, next=Next.TRY, yards_to_gain=None)
    before = replace(before, down=None, ball_on=97.0)
    after = folded("ncaa", before, kind="try run", outcome="no good").after
    assert (after.period, after.timeouts_home, after.timeouts_visitors) == (8, 0, 1)


def test_a_runoff_is_doubted_where_there_is_none():
    step = folded("nfhs", kind="no play", fouls="false start by offense, ten-second runoff")
    assert any("runoff" in problem for problem in step.problems)


def test_a_runoff_takes_ten_seconds_or_ends_the_game():
    row = {"kind": "no play", "fouls": "false start by offense, accepted, ten-second runoff"}
    late = replace(SECOND_DOWN, score_home=3)
    assert folded("ncaa", replace(late, clock=24), **row).after.clock == 14
    over = folded("ncaa", replace(late, clock=9), **row)
    assert over.after.next is Next.OVER and (over.after.series, over.after.drive) == (3, 2)
    assert folded("ncaa", late, **row).after.clock is None
    assert folded("nfhs", replace(late, clock=24), **row).after.clock == 24
    half = folded("ncaa", replace(late, clock=9, period=2), **row)
    assert half.after.period == 3 and half.after.next is Next.KICKOFF and not half.down_repeated
