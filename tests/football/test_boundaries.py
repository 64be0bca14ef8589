"""Spots on a line, an inch before it and an inch behind it, and what else lets two rulings part.

Each row says the rule that it comes from; NFHS, NCAA and NFL articles. Without a source: how this tracker speaks.
"""

from __future__ import annotations

from dataclasses import replace

import pytest

from tests.outside.rulebook_cases.test_rulebook_cases import rule_case, ruling, spoken
from workstation.football.enforcement import worth
from workstation.football.field import Team
from workstation.football.plays import Outcome, Play, PlayKind, Side, SituationOverride
from workstation.football.rulebook import load_rulebook
from workstation.football.ruling import Ruling
from workstation.football.situation import Next, Situation
from workstation.football.step import Step
from workstation.football.tracker import fold


def ruled(book: str, before: str, play: dict, **more) -> tuple[Step, object]:
    steps, rules = rule_case(book, {"before": before, "play": play} | more)
    return steps[-1], rules


def check(book: str, before: str, play: dict, after: str, **more) -> Step:
    step, rules = ruled(book, before, play, **more)
    wanted = ruling(after, rules)
    found = spoken(step.after, rules)
    assert {key: found[key] for key in wanted} == wanted, step.explanation
    return step


# Kicks: the goal lines, the line of scrimmage


PUNT, FOURTH = {"kind": "punt"}, "4th & 8 at own 30"
GOAL = {"kind": "field goal", "outcome": "no good"}


@pytest.mark.parametrize(("book", "play", "after"), [
    # who has it at the end, with and without the event in which he got it
    ("ncaa", PUNT | {"kick_to": "opp 18", "events": "muff at opp 20 by defense", "possession": "offense"},
     "offense 1st & 10 at opp 18"),
    ("ncaa", PUNT | {"events": "muff at opp 20 by defense; recovery at opp 18 by offense", "possession": "offense"},
     "offense 1st & 10 at opp 18"),
    # in or behind the neutral zone the kickers may have it and advance it (NFHS 6-2-3, NCAA 6-3-1)
    ("nfhs", PUNT | {"kick_to": "own 30", "possession": "offense"}, "defense 1st & 10 at opp 30"),
    ("nfhs", PUNT | {"kick_to": "own 30", "events": "recovery at own 30 by offense"}, "defense 1st & 10 at opp 30"),
    ("ncaa", PUNT | {"kick_to": "own 30", "events": "recovery at own 30 by offense", "spot": "own 38"},
     "offense 1st & 10 at own 38"),
    ("ncaa", PUNT | {"kick_to": "own 25", "events": "recovery by offense", "spot": "own 37"},
     "defense 1st & 10 at opp 37"),
    ("ncaa", PUNT | {"events": "landing at own 45; recovery at own 25 by offense", "spot": "own 41"},
     "offense 1st & 10 at own 41"),
    ("ncaa", PUNT | {"spot": "own 45", "possession": "offense"}, "defense 1st & 10 at opp 45"),
    ("ncaa", PUNT | {"outcome": "blocked", "events": "block at own 25; recovery at own 34 by offense"},
     "defense 1st & 10 at opp 34"),
    ("ncaa", PUNT | {"outcome": "blocked", "events": "block at own 22; out of bounds at own 18"},
     "defense 1st & 10 at opp 18"),
    # the goal line is in the end zone (NFHS 8-5-3, NCAA 8-6-1)
    ("nfhs", PUNT | {"events": "catch at opp 0 by defense", "spot": "opp 12"}, "defense 1st & 10 at own 20"),
    ("nfhs", PUNT | {"events": "muff at opp 5 by defense; recovery at opp 0 by offense"}, "defense 1st & 10 at own 20"),
    ("nfhs", PUNT | {"events": "muff at opp 5 by defense; recovery at opp 0.5 by offense"},
     "offense 1st & goal at opp 0.5"),
    ("nfhs", PUNT | {"outcome": "returned", "kick_to": "opp end zone 2", "spot": "opp 12"},
     "defense 1st & 10 at own 20"),
    ("ncaa", PUNT | {"events": "catch at opp 0 by defense", "spot": "opp end zone 2"}, "defense 1st & 10 at own 20"),
    ("ncaa", PUNT | {"events": "catch at opp 0.5 by defense", "spot": "opp end zone 2"},
     "safety free kick by defense at own 20"),
    # of two of the receivers' muffs the first counts for the fair catch (NCAA 6-4-1-VII)
    ("ncaa", PUNT | {"outcome": "fair catch", "kick_to": "opp 30", "events": "muff at opp 30 by defense; muff at opp "
                     "28 by defense; own recovery at opp 27 by defense"}, "defense 1st & 10 at own 30"),
    # touched first where it became dead
    ("ncaa", PUNT | {"kick_to": "opp 20", "events": "muff at opp 24 by offense; recovery at opp 26 by defense"},
     "defense 1st & 10 at own 26"),
    # field goals (NFHS 6-3-1, NCAA 8-4-2)
    ("nfhs", GOAL | {"events": "landing at opp 7; out of bounds at opp 5"}, "defense 1st & 10 at own 5"),
    ("nfhs", GOAL | {"kick_to": "opp 0"}, "defense 1st & 10 at own 20"),
    ("nfhs", GOAL | {"kick_to": "opp 10", "spot": "opp 10"}, "defense 1st & 10 at own 10"),
    ("nfhs", GOAL | {"kick_to": "opp 10", "spot": "opp 25"}, "defense 1st & 10 at own 25"),
    ("ncaa", GOAL | {"events": "landing at own 32; recovery at own 30 by offense", "spot": "own 39"},
     "offense 1st & 10 at own 39"),
])
def test_scrimmage_kicks(book: str, play: dict, after: str):
    check(book, FOURTH, play, after)


KICKOFF = {"kind": "kickoff"}


@pytest.mark.parametrize(("book", "play", "after"), [
    # out of bounds on the goal line is behind it, an inch before it is in the field (NFHS 6-1-9, NCAA 6-2-1)
    ("nfhs", KICKOFF | {"outcome": "out of bounds", "kick_to": "opp 0"}, "defense 1st & 10 at own 20"),
    ("nfhs", KICKOFF | {"outcome": "out of bounds", "kick_to": "opp 0.1"}, "defense 1st & 10 at own 35"),
    ("nfhs", KICKOFF | {"events": "catch at opp 0 by defense", "spot": "opp 30"}, "defense 1st & 10 at own 20"),
    # fifteen yards beyond the kick for a foul that was enforced there by hand, or five from where it went out
    ("nfhs", KICKOFF | {"fouls": "kickoff out of bounds by offense, enforced at fixed spot", "kick_to": "opp 45"},
     "defense 1st & 10 at own 35"),
    ("nfhs", KICKOFF | {"fouls": "kickoff out of bounds by offense, accepted", "kick_to": "opp 45"},
     "defense 1st & 10 at 50"),
    # kick catching interference on the goal line: from the touchback spot (NFHS 6-5-6, 10-4)
    ("nfhs", KICKOFF | {"outcome": "muffed", "kick_to": "opp 0", "fouls": "kick catching interference by offense at "
                        "opp 0, accepted"}, "defense 1st & 10 at own 35"),
    # a block after a fair catch signal: from its spot (NCAA 6-5-4)
    ("ncaa", KICKOFF | {"outcome": "muffed", "kick_to": "opp 20", "events": "muff at opp 20 by defense; recovery at "
                        "opp 18 by defense", "fouls": "blocking after a fair catch signal by defense at opp 30, during "
                        "the kick, accepted"}, "defense 1st & 10 at own 20"),
    # a wedge: from the foul, or from the dead ball behind it; none on a touchback (NCAA 6-1-10, with the bulletin of
    # August 2019 for the muff out of bounds)
    ("ncaa", KICKOFF | {"events": "muff at opp 3 by defense; out of bounds at opp 10",
                        "fouls": "illegal wedge by defense at opp 40"}, "defense 1st & 10 at own 5"),
    ("ncaa", KICKOFF | {"outcome": "out of bounds", "kick_to": "opp 2", "fouls": "illegal wedge by defense at opp 40"},
     "defense 1st & 10 at own 35"),
    ("ncaa", KICKOFF | {"outcome": "touchback", "fouls": "illegal wedge by defense at opp 20"},
     "defense 1st & 10 at own 25"),
    ("ncaa", KICKOFF | {"outcome": "fair catch", "kick_to": "opp 30", "fouls": "illegal wedge by defense at opp 35"},
     "defense 1st & 10 at own 30"),
    ("ncaa", KICKOFF | {"outcome": "returned", "kick_to": "opp 5", "spot": "opp 40",
                        "fouls": "illegal wedge by defense at opp 30"}, "defense 1st & 10 at own 15"),
    ("ncaa", KICKOFF | {"outcome": "returned", "kick_to": "opp 5", "spot": "opp 18",
                        "fouls": "illegal wedge by defense at opp 30"}, "defense 1st & 10 at own 9"),
    ("ncaa", KICKOFF | {"events": "muff at opp 20 by defense; recovery at opp 18 by offense",
                        "fouls": "illegal wedge by defense at opp 30, accepted"}, "kickoff by offense at 50"),
])
def test_kickoffs(book: str, play: dict, after: str):
    check(book, "kickoff", play, after)


@pytest.mark.parametrize(("season", "after"), [(2010, "defense 1st & 10 at 50"), (2015, "defense 1st & 10 at 50"),
                                               (2023, "defense 1st & 10 at 50")])
def test_a_free_kick_after_a_safety_out_of_bounds_is_thirty_yards_on(season: int, after: str):
    """NFL 6-2-3: thirty yards beyond the spot of the kick, the 20; a kickoff from the 35 since 2011 only 25."""
    check("professional", "safety free kick", {"kind": "safety free kick", "outcome": "out of bounds",
                                               "kick_to": "opp 30"}, after, season=season)
    check("professional", "kickoff", KICKOFF | {"outcome": "out of bounds", "kick_to": "opp 20"},
          "defense 1st & 10 at own 40", season=season)


def test_what_the_receivers_may_choose_says_where():
    step = check("ncaa", FOURTH, PUNT | {"kick_to": "opp 20", "events": "muff at opp 24 by offense; catch at opp 20 by "
                                         "defense", "spot": "opp 40", "outcome": "returned"},
                 "defense 1st & 10 at own 40")
    assert "the receivers' ball where it was touched first, own 24" in step.choices
    same = check("ncaa", FOURTH, PUNT | {"outcome": "downed", "kick_to": "opp 6", "events": "muff at opp 6 by offense"},
                 "defense 1st & 10 at own 6")
    assert not same.choices and same.result == "punt dead"


@pytest.mark.parametrize(("spot", "offered"), [("opp 6", False), ("opp 5", True), ("opp 1", True), ("opp 0", False)])
def test_momentum_is_offered_from_the_five_yard_line_on(spot: str, offered: bool):
    """NCAA 8-5-1, NFHS 8-5-2: gained between the five-yard line and the goal line."""
    step, _ = ruled("ncaa", "2nd & 8 at opp 40", {"kind": "pass", "events": f"interception at {spot} by defense",
                                                  "spot": "opp end zone 2", "outcome": "intercepted"})
    assert any("momentum" in words for words in step.choices) is offered
    assert (step.after.next is Next.SAFETY_FREE_KICK) is (spot != "opp 0")
    lost, _ = ruled("ncaa", "2nd & 8 at opp 40", {"kind": "run", "gain": "36", "possession": "defense",
                                                  "spot": "opp end zone 1"})
    assert "momentum took him into the end zone: the ball at own 4" in lost.choices


# Fumbles


@pytest.mark.parametrize(("book", "play", "after"), [
    # nobody is named: the fumbling team keeps it
    ("ncaa", {"kind": "run", "events": "fumble at own 45; recovery at own 44"}, "offense 3rd & 4 at own 44"),
    # pulled back from the end zone by his own team on the goal line: safety or touchback by whose force put it there
    ("ncaa", {"kind": "pass", "outcome": "intercepted", "events": "interception at own 20 by defense; fumble at own 2 "
              "by defense; recovery at own 0 by offense"}, "offense 1st & 10 at own 20"),
    ("ncaa", {"kind": "pass", "outcome": "intercepted", "events": "interception at opp 0 by defense",
              "spot": "opp end zone 3"}, "defense 1st & 10 at own 20"),
    ("ncaa", {"kind": "pass", "outcome": "intercepted", "events": "interception at opp 0.5 by defense",
              "spot": "opp end zone 3"}, "safety free kick by defense at own 20"),
    # forward and out of bounds: back to the fumble, in whose end zone it counts as before it (NCAA 7-2-4)
    ("ncaa", {"kind": "run", "events": "fumble at own 45 by offense; out of bounds at own 49"},
     "offense 3rd & 3 at own 45"),
    ("ncaa", {"kind": "run", "events": "fumble at own end zone 2 by offense; out of bounds at own 3"},
     "safety free kick by offense at own 20"),
    ("ncaa", {"kind": "pass", "outcome": "intercepted", "events": "interception at opp end zone 5 by defense; fumble "
              "at opp end zone 2 by defense; out of bounds at opp 3"}, "defense 1st & 10 at own 20"),
    ("ncaa", {"kind": "pass", "outcome": "intercepted", "events": "interception at own 30 by defense; fumble at own 3 "
              "by defense; out of bounds at own end zone 2"}, "offense 1st & 10 at own 20"),
])
def test_fumbles_and_interceptions(book: str, play: dict, after: str):
    check(book, "2nd & 8 at own 40", play, after)


@pytest.mark.parametrize(("spot", "doubted"), [("own 45", False), ("own 46", True), ("own 44", True)])
def test_a_spot_beside_where_a_fumble_belongs_is_doubted(spot: str, doubted: bool):
    step, _ = ruled("ncaa", "2nd & 8 at own 40", {"kind": "run", "events": "fumble at own 45 by offense; out of bounds "
                                                  "at own 49", "spot": spot})
    assert bool(step.problems) is doubted


@pytest.mark.parametrize(("gain", "spot", "doubted"), [("5", "own 45", False), ("5", "own 46", True),
                                                       ("5", "own 45.5", False)])
def test_a_gain_and_a_spot_a_yard_apart_are_doubted(gain: str, spot: str, doubted: bool):
    step, _ = ruled("ncaa", "2nd & 8 at own 40", {"kind": "run", "gain": gain, "spot": spot})
    assert bool(step.problems) is doubted


# Penalties on the lines


SECOND = "2nd & 8 at own 40"


@pytest.mark.parametrize(("book", "before", "play", "after"), [
    # an illegal pass from the goal line is one from the end zone: declined, the previous spot (NCAA 7-3-7)
    ("ncaa", SECOND, {"kind": "pass", "outcome": "incomplete", "fouls": "illegal forward pass by offense at own 0, "
                      "declined"}, "offense 3rd & 8 at own 40"),
    # interference in the end zone: the 2, and half the distance from the 2 or nearer (NCAA 7-3-8)
    ("ncaa", "2nd & goal at opp 3", {"kind": "pass", "outcome": "incomplete", "fouls": "defensive pass interference by "
                                     "defense at opp end zone 1, accepted"}, "offense 1st & goal at opp 2"),
    ("ncaa", "2nd & goal at opp 2", {"kind": "pass", "outcome": "incomplete", "fouls": "defensive pass interference by "
                                     "defense at opp end zone 1, accepted"}, "offense 1st & goal at opp 1"),
    ("ncaa", "2nd & 8 at opp 14", {"kind": "pass", "outcome": "incomplete", "fouls": "defensive pass interference by "
                                   "defense at opp 2, accepted"}, "offense 1st & goal at opp 2"),
    # taunting on the goal line is in the end zone: the touchdown stands; a yard before it does not (NCAA 9-2-1)
    ("ncaa", "2nd & 8 at opp 20", {"kind": "run", "score": "touchdown", "fouls": "taunting by offense at opp 0, during "
                                   "the down"}, "try by offense"),
    ("ncaa", "2nd & 8 at opp 20", {"kind": "run", "score": "touchdown", "fouls": "taunting by offense at opp 0.5, "
                                   "during the down"}, "offense 2nd & 3.5 at opp 15.5"),
    # bats or kicks on the line: not beyond it, so the down is lost too (NCAA 9-4-4)
    ("ncaa", "4th & 8 at own 40", {"kind": "punt", "kick_to": "opp 30", "spot": "opp 30",
                                   "fouls": "illegal kicking by offense at own 40, accepted, enforced at previous "
                                            "spot"},
     "defense 1st & 10 at opp 30"),
    ("ncaa", "4th & 8 at own 40", {"kind": "punt", "kick_to": "opp 30", "spot": "opp 30",
                                   "fouls": "illegal kicking by offense, accepted, enforced at previous spot"},
     "offense 4th & 18 at own 30"),
    # holding on the own goal line before the kick: a safety (NCAA 10-2-4)
    ("ncaa", "4th & 8 at own 4", {"kind": "punt", "kick_to": "50", "spot": "50", "fouls": "holding by offense at own "
                                  "0, during the down, accepted"}, "safety free kick by offense at own 20"),
    # the offense's personal foul and a turnover: told as before it, from its spot; untold, added to the return
    ("ncaa", SECOND, {"kind": "pass", "outcome": "intercepted", "spot": "50", "fouls": "clipping by offense at own 38, "
                      "during the down, accepted"}, "offense 2nd & 23 at own 25"),
    ("ncaa", SECOND, {"kind": "pass", "outcome": "intercepted", "spot": "50", "fouls": "clipping by offense, accepted"},
     "defense 1st & 10 at opp 35"),
    # held behind the line before the catch: from the previous spot, for it is no personal foul (NCAA 10-2-2)
    ("ncaa", SECOND, {"kind": "pass", "gain": "5", "fouls": "defensive holding by defense at own 38, during the down, "
                      "accepted"}, "offense 1st & 10 at 50"),
    # half a yard before the own goal line is not yet in the end zone (NFL 14-3-6)
    ("professional", "2nd & 8 at own 10", {"kind": "pass", "gain": "5", "fouls": "holding by offense at own 0.5, "
                                           "accepted"}, "offense 2nd & 13 at own 5"),
    # a touchback by a pass or by a run, and a foul of the defense before it: the down again from where it belongs
    ("ncaa", SECOND, {"kind": "pass", "outcome": "touchback", "fouls": "roughing the passer by defense, accepted"},
     "offense 1st & 10 at opp 45"),
    # a place of enforcement by hand after a change of possession
    ("ncaa", SECOND, {"kind": "pass", "outcome": "intercepted", "spot": "50", "fouls": "face mask by offense, after "
                      "change of possession, from own 30"}, "defense 1st & 10 at opp 15"),
    # the interceptors hold on their way to the other goal line: no farther than the goal line
    ("ncaa", SECOND, {"kind": "pass", "outcome": "intercepted", "spot": "own end zone 3", "score": "touchdown",
                      "possession": "defense", "fouls": "holding by defense, after change of possession, accepted, "
                      "enforced at end of run"}, "defense 1st & goal at opp 10"),
    # three fouls marked off one after another
    ("nfhs", SECOND, {"kind": "run", "gain": "2", "fouls": "illegal formation by offense, accepted; unsportsmanlike "
                      "conduct by offense, accepted; unsportsmanlike conduct by offense, accepted"},
     "offense 2nd & 38 at own 10"),
])
def test_penalties(book: str, before: str, play: dict, after: str):
    check(book, before, play, after)


def test_a_foul_with_its_spot_on_a_play_that_did_not_count():
    """NFHS 10-4-2 until 2022: a hold behind the line costs from its spot."""
    check("nfhs", SECOND, {"kind": "no play", "fouls": "holding by offense at own 36"}, "offense 2nd & 22 at own 26",
          season=2016)


def test_a_foul_at_the_end_of_the_run_is_told_from_there():
    step, _ = ruled("ncaa", SECOND, {"kind": "run", "gain": "6", "fouls": "holding by offense at own 46, accepted"})
    assert "10 from the end of the run at own 46" in step.explanation


def test_interference_is_told_in_yards_from_where_the_down_began():
    far, _ = ruled("ncaa", SECOND, {"kind": "pass", "outcome": "incomplete", "fouls": "defensive pass interference by "
                                    "defense at opp 48, accepted"})
    assert "defensive pass interference, 12 from" in far.explanation
    near, _ = ruled("ncaa", "try", {"kind": "try pass", "outcome": "no good", "fouls": "defensive pass interference by "
                                    "defense at opp end zone 2, accepted"})
    assert "defensive pass interference, 1.5 from" in near.explanation


def test_what_an_extra_period_does_to_a_foul_after_the_change_is_told():
    """NCAA 3-1-3-g: it takes its own team's score away, else nothing follows."""
    extra = {"period": 5, "extra_turn": 1, "extra_first": "offense"}
    play = {"kind": "pass", "outcome": "intercepted", "events": "interception at opp 10 by defense"}
    void, _ = ruled("ncaa", "2nd & 7 at opp 22", play | {"score": "touchdown", "possession": "defense", "fouls":
                    "clipping by defense at 50, after change of possession, accepted"}, **extra)
    assert "clipping: no score, the penalty declined by rule" in void.explanation
    plain, _ = ruled("ncaa", "2nd & 7 at opp 22", play | {"spot": "50", "fouls": "clipping by defense at opp 40, after "
                                                          "change of possession, accepted"}, **extra)
    assert "clipping declined by rule" in plain.explanation


def test_a_kick_on_the_goal_line_that_nobody_ran_out_is_taken_for_a_touchback():
    step, _ = ruled("ncaa", FOURTH, PUNT | {"kick_to": "opp 0"})
    assert "not returned from the end zone; a touchback" in step.explanation
    short, _ = ruled("ncaa", FOURTH, PUNT | {"kick_to": "opp 0.5", "spot": "opp 0.5"})
    assert "touchback" not in short.explanation


def test_what_was_declined_is_told_by_the_name_in_the_book():
    one, _ = ruled("nfhs", SECOND, {"kind": "run", "gain": "2", "fouls": "late hit by defense, accepted; face mask by "
                                    "defense"})
    assert "face mask declined" in one.explanation
    both, _ = ruled("nfhs", SECOND, {"kind": "run", "gain": "2", "fouls": "block in the back by defense; late hit by "
                                     "defense"})
    assert "illegal block in the back declined" in both.explanation


def test_a_dead_ball_foul_that_gives_a_first_down():
    """NCAA 5-2-3, 10-2-6."""
    step = check("ncaa", SECOND, {"kind": "run", "gain": "2", "fouls": "unsportsmanlike conduct by defense"},
                 "offense 1st & 10 at opp 43")
    assert step.first_down and not step.down_repeated
    again = check("ncaa", SECOND, {"kind": "no play", "fouls": "false start by offense, accepted; unsportsmanlike "
                                   "conduct by defense, after the down, accepted"}, "offense 1st & 10 at 50")
    assert again.first_down and not again.down_repeated


def test_two_personal_fouls_on_a_good_try_cost_fifteen_once():
    """NCAA 8-3-3-b: one of them is accepted."""
    step = check("ncaa", "try", {"kind": "try kick", "outcome": "good", "fouls": "personal foul by defense; roughing "
                                 "the kicker by defense"}, "kickoff by offense at 50")
    assert step.points_home == 1


def test_yards_by_hand_on_a_kickoff_are_not_halved():
    check("nfhs", "4th & 3 at opp 20", {"kind": "field goal", "outcome": "good", "fouls": "unsportsmanlike conduct by "
                                        "offense, 25 yards"}, "kickoff by offense at own 15")


def test_only_a_touchdown_leaves_the_choice_of_the_try():
    """NFHS 8-2-4, 8-4: after a field goal there is only the kickoff."""
    conduct = "unsportsmanlike conduct by defense"
    goal, _ = ruled("nfhs", "4th & 3 at opp 20", {"kind": "field goal", "outcome": "good", "fouls": conduct})
    run, _ = ruled("nfhs", "4th & 3 at opp 20", {"kind": "run", "score": "touchdown", "fouls": conduct})
    offered = "unsportsmanlike conduct on the try instead of the kickoff"
    assert offered in run.choices and offered not in goal.choices
    assert not goal.after.goal_to_go


def test_a_foul_of_the_receivers_leaves_the_choice_of_when_it_was():
    """NFHS 6-1, 10-4: during the kick from the previous spot, after it from the end of the run."""
    offered = "illegal block in the back during the kick: from the previous spot, and kick again"
    untold, _ = ruled("nfhs", "kickoff", KICKOFF | {"outcome": "returned", "kick_to": "opp 10", "spot": "opp 30",
                                                    "fouls": "illegal block in the back by defense at opp 20"})
    told, _ = ruled("nfhs", "kickoff", KICKOFF | {"outcome": "returned", "kick_to": "opp 10", "spot": "opp 30", "fouls":
                                                  "illegal block in the back by defense at opp 20, after change of "
                                                  "possession"})
    assert offered in untold.choices and offered not in told.choices


# Tries


@pytest.mark.parametrize(("book", "season", "play", "after", "points"), [
    # the run has its own spot, and a hold is marked off for both (NFL 11-3-1)
    ("professional", 2016, {"kind": "try run", "outcome": "good", "fouls": "holding by offense, accepted"},
     "try by offense at opp 25", 0),
    # the tackler's face mask is added to the run (NCAA 8-3-3, 10-2-2)
    ("ncaa", 2016, {"kind": "try run", "spot": "opp 2", "fouls": "face mask by defense, accepted"},
     "try by offense at opp 1", 0),
    # a hold for the runner who intercepted takes his points away (NFL 11-3-2)
    ("professional", 2016, {"kind": "try pass", "outcome": "returned",
                            "fouls": "holding by defense at own 40, after change of possession, accepted"},
     "kickoff by offense at own 35", 0),
    ("ncaa", 2016, {"kind": "try run", "score": "touchdown"}, "kickoff by offense at own 35", 2),
    ("ncaa", 2016, {"kind": "try kick", "score": "field goal"}, "kickoff by offense at own 35", 1),
    ("ncaa", 2016, {"kind": "try run", "score": "touchdown", "possession": "defense"},
     "kickoff by offense at own 35", 0),
])
def test_tries(book: str, season: int, play: dict, after: str, points: int):
    step = check(book, "try", play, after, season=season)
    assert step.points_home == points
    assert step.points_visitors == (2 if play.get("possession") == "defense" else 0)


# Downs, series, and what is told


@pytest.mark.parametrize(("spot", "after"), [
    ("own 48", "offense 1st & 10 at own 48"), ("own 47.97", "offense 3rd & 0.03 at own 47.97"),
    ("opp 10", "offense 1st & goal at opp 10"), ("opp 10.1", "offense 1st & 10 at opp 10.1"),
    ("opp 0.03", "offense 1st & goal at opp 0.03"),
])
def test_the_line_to_gain_and_the_ten_yard_line(spot: str, after: str):
    """NFHS 5-2, NCAA 5-1: the foremost point of the ball on the line is enough."""
    for book in ("nfhs", "ncaa", "professional"):
        check(book, SECOND, {"kind": "run", "spot": spot}, after)


def test_a_kick_won_back_in_the_fourth_period_begins_a_new_drive():
    step = check("ncaa", FOURTH, PUNT | {"kick_to": "opp 20", "events": "muff at opp 20 by defense; recovery at opp 18 "
                                         "by offense"}, "offense 1st & 10 at opp 18", period=4)
    assert not step.first_down and step.after.drive == step.before.drive + 1


def test_who_kicks_off_may_be_chosen_to_the_end_of_the_fourth_period():
    """NFHS 8-3-9."""
    for period, offered in ((4, True), (5, False)):
        step, _ = ruled("nfhs", "try", {"kind": "try kick", "outcome": "good"}, period=period, extra_turn=1)
        assert ("the team scored upon kicks off itself" in step.choices) is offered


def test_what_the_end_of_the_game_says():
    book = load_rulebook("nfhs")
    late = Situation(Next.SCRIMMAGE, Team.HOME, 2, 8.0, 40.0, period=4, score_home=3)
    assert fold(book, late, Play(PlayKind.END_OF_PERIOD)).explanation == "end of the game"
    tied = fold(book, replace(late, score_home=0), Play(PlayKind.END_OF_PERIOD))
    assert tied.explanation == "end of regulation, tied; toss for the extra period"
    ended = fold(book, late, Play(PlayKind.TIMEOUT, override=SituationOverride(next=Next.OVER))).before
    assert (ended.ball_on, ended.down, ended.goal_to_go) == (40.0, None, False)


def test_a_touchdown_that_the_rules_do_not_give_is_named():
    """NFHS 6-1-6: a kickoff is not the kickers' before it went ten yards."""
    step, _ = ruled("nfhs", "kickoff", KICKOFF | {"kick_to": "own 44", "events": "recovery at own 44 by offense",
                                                  "score": "touchdown"})
    assert any("the rules give none here (received)" in problem for problem in step.problems)


def test_who_recovered_a_blocked_kick_is_asked_where_only_the_block_was_told():
    step, _ = ruled("ncaa", FOURTH, PUNT | {"outcome": "blocked", "kick_to": "own 24",
                                            "events": "block at own 25 by defense"})
    assert "who recovered was not said; the defense taken" in step.explanation


def test_a_runoff_leaves_a_first_down_its_series():
    """NCAA 3-4-4: the penalty is marked off as always."""
    step = check("ncaa", "3rd & 4 at own 40", {"kind": "no play", "fouls": "offside by defense, accepted, ten-second "
                                               "runoff"}, "offense 1st & 10 at own 45", clock=30, period=2)
    assert (step.after.series, step.after.clock) == (step.before.series + 1, 20)


def test_the_winner_of_the_toss_receives():
    step = fold(load_rulebook("nfhs"), Situation(), Play(PlayKind.COIN_TOSS, team=Team.HOME, choice="ball"))
    assert step.explanation.startswith("toss to the home team, who receive;")


# Extra periods


def test_the_second_team_must_answer_a_field_goal():
    """NFL 16-1-3, from 2012: the first team's field goal leaves the other its possession, each down of it."""
    book = load_rulebook("professional", 2013)
    led = Situation(Next.SCRIMMAGE, Team.VISITORS, 2, 8.0, 40.0, period=5, extra_first=Team.HOME, extra_turn=2,
                    score_home=3, series=4, drive=3)
    on = fold(book, led, Play(PlayKind.RUN, gain=3))
    assert (on.after.next, on.after.extra_turn) == (Next.SCRIMMAGE, 2)
    assert fold(book, led, Play(PlayKind.PASS, Outcome.INTERCEPTED, spot=60)).after.next is Next.OVER
    tie = fold(book, led, Play(PlayKind.FIELD_GOAL, Outcome.GOOD))
    assert (tie.after.next, tie.after.extra_turn) == (Next.KICKOFF, 3)
    level = fold(book, replace(led, score_home=0), Play(PlayKind.RUN, gain=3))
    assert (level.after.next, level.after.extra_turn) == (Next.SCRIMMAGE, 2)


def test_an_extra_series_whose_turn_was_not_said_is_the_first():
    book = load_rulebook("ncaa")
    before = Situation(Next.SCRIMMAGE, Team.HOME, 4, 8.0, 80.0, period=5, series=4, drive=3)
    good = fold(book, before, Play(PlayKind.FIELD_GOAL, Outcome.GOOD))
    assert (good.after.next, good.after.offense, good.after.extra_turn) == (Next.SCRIMMAGE, Team.VISITORS, 2)
    kept = fold(book, replace(before, down=1), Play(PlayKind.RUN, gain=3))
    assert (kept.after.offense, kept.after.down) == (Team.HOME, 2)


def test_fouls_that_offset_after_an_interception_end_an_extra_series():
    """NCAA 3-1-3-g: the down is not played again."""
    step, _ = ruled("ncaa", "2nd & 8 at opp 20", {"kind": "pass", "outcome": "intercepted", "spot": "50", "fouls":
                    "illegal shift by offense, offset; clipping by defense at opp 40, after change of possession, "
                    "offset"}, period=5, extra_turn=1, extra_first="offense")
    assert (step.after.offense, step.after.extra_turn, step.result) == (Team.VISITORS, 2, "series over")


# What a captain would rather have


def test_the_worth_of_a_ruling():
    """As the function says: six points from goal line to goal line, about a third of a point a down, a sixteenth a
    yard to gain, twenty-five yards of a kickoff a point, one and a half for the free kick after a safety."""
    book = load_rulebook("nfhs")

    def down(number: int, to_gain: float, on: float, side: Side = Side.OFFENSE) -> float:
        ruling = Ruling(side, on)
        ruling.next_down, ruling.line = number, on + to_gain
        return worth(book, ruling)

    def kick(due: Next, moved: float = 0.0, side: Side = Side.OFFENSE) -> float:
        ruling = Ruling(side)
        ruling.next, ruling.kickoff_moved = due, moved
        return worth(book, ruling)

    assert down(2, 5, 70) - down(2, 5, 20) == pytest.approx(3)
    assert down(1, 5, 40) - down(2, 5, 40) == pytest.approx(0.35)
    assert down(2, 4, 40) - down(2, 12, 40) == pytest.approx(0.5)
    assert kick(Next.KICKOFF, 25) - kick(Next.KICKOFF) == pytest.approx(1)
    assert kick(Next.KICKOFF, 25, Side.DEFENSE) == pytest.approx(-1)
    assert kick(Next.SAFETY_FREE_KICK) == pytest.approx(-1.5)
    fresh = Ruling(Side.OFFENSE, 50.0).begin_series("first down")
    assert worth(book, fresh) == pytest.approx(2)
    theirs = Ruling(Side.DEFENSE, 75.0).begin_series("turnover")
    assert worth(book, theirs) == pytest.approx(-0.5)


# What a run counts for


@pytest.mark.parametrize(("events", "spot", "gain"), [
    ("fumble at own 45; recovery at own 43 by offense", "own 49", 3),
    ("fumble at own 45; recovery at own 47 by offense", "own 49", 5),
    ("fumble at own 45; own recovery at own 47 by offense", "own 49", 9),
    ("lateral at own 45; fumble at own 44; recovery at own 43 by defense", "own 43", 3),
])
def test_what_a_run_with_a_fumble_counts_for(events: str, spot: str, gain: int):
    """Statisticians' manuals, from memory: what a fumble loses is lost, what it gains is his who recovers."""
    step, _ = ruled("nfhs", "2nd & 8 at own 40", {"kind": "run", "events": events, "spot": spot})
    assert step.gain == gain


def test_a_hold_ahead_of_the_end_of_a_run_cuts_what_it_counts_for():
    step, _ = ruled("nfhs", "2nd & 8 at own 40", {"kind": "run", "gain": "20", "fouls": "holding by offense at own 45, "
                                                  "accepted"})
    assert step.gain == 5
    repeated, _ = ruled("nfhs", "2nd & 8 at own 40", {"kind": "run", "gain": "20", "fouls": "illegal motion by "
                                                      "offense, accepted"})
    assert repeated.gain is None
