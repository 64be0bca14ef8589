"""What plays count for, in the cases that official accounts show: each was played in a real game, whose scorer gave it
these yards (``tests/outside/real_games``; the row is named). 1st and 10 on the own 30 here, whatever it was there."""

from __future__ import annotations

import pytest

from tests.season.season_games import game
from workstation.football.counting import thrown_beyond_line
from workstation.football.field import Team
from workstation.football.plays import BallEvent, EventKind, Foul, FoulDecision, Outcome, Play, PlayKind, Score, Side
from workstation.football.rulebook import load_rulebook
from workstation.football.situation import Next, Situation
from workstation.football.tracker import fold, track
from workstation.season.facts import frame_of, rows_of

BOOK = load_rulebook("professional", 2013)
BEFORE = Situation(next=Next.SCRIMMAGE, offense=Team.HOME, down=1, yards_to_gain=10.0, ball_on=30.0, clock=600)
OFFENSE, DEFENSE = Side.OFFENSE, Side.DEFENSE


def gained(*events: BallEvent, gain: float, **said) -> float | None:
    return fold(BOOK, BEFORE, Play(PlayKind.RUN, gain=gain, events=events, **said)).gain


def lost(at: float) -> BallEvent:
    return BallEvent(EventKind.FUMBLE, at, OFFENSE)


def touched(at: float) -> BallEvent:
    return BallEvent(EventKind.MUFF, at)


def recovered(at: float, by: Side) -> BallEvent:
    return BallEvent(EventKind.RECOVERY, at, by)


def himself(at: float) -> BallEvent:
    return BallEvent(EventKind.OWN_RECOVERY, at, OFFENSE)


@pytest.mark.parametrize(("events", "gain", "counts"), [
    pytest.param((lost(34), recovered(34, DEFENSE)), 4, 4, id="lost where it was fumbled"),
    pytest.param((lost(34), touched(35), recovered(29, DEFENSE)), 4, 4, id="touched ahead: 2009112201"),
    pytest.param((lost(31), touched(23), recovered(20, DEFENSE)), 1, -7, id="back to where it was touched: 2013100610"),
    pytest.param((lost(27), recovered(30, DEFENSE)), -3, 0, id="ahead behind the line: 2009092001"),
    pytest.param((lost(27), recovered(36, DEFENSE)), -3, 0, id="no farther than the line: 2013090812"),
    pytest.param((lost(28), touched(28), recovered(25, DEFENSE)), -2, -2, id="touched where it fell: 2009091307"),
    pytest.param((lost(29), recovered(23, OFFENSE)), -1, -3, id="a teammate gained on behind the line: 2013100602"),
    pytest.param((lost(23), himself(23), lost(21), recovered(18, DEFENSE)), -7, -12, id="fumbled twice: 2009121302"),
    pytest.param((lost(34), touched(34), himself(35)), 4, 5, id="his own, after a touch: 2013092213"),
])
def test_a_fumble(events, gain, counts):
    dead = {"spot": 27.0} if events[-1].by is OFFENSE and events[-1].kind is EventKind.RECOVERY else {}
    assert gained(*events, gain=gain, **dead) == counts


def test_a_fumble_out_of_the_opponents_end_zone_keeps_its_yards():
    near = Situation(next=Next.SCRIMMAGE, offense=Team.HOME, down=1, yards_to_gain=9.0, ball_on=91.0, clock=600,
                     goal_to_go=True)
    step = fold(BOOK, near, Play(PlayKind.PASS, Outcome.COMPLETE, gain=8, events=(
        lost(99), BallEvent(EventKind.OUT_OF_BOUNDS, 100))))
    assert step.gain == 8 and step.possession_changed       # 2012090906


def test_a_loss_ends_at_the_own_goal_line():
    near = Situation(next=Next.SCRIMMAGE, offense=Team.HOME, down=1, yards_to_gain=10.0, ball_on=1.0, clock=600)
    step = fold(BOOK, near, Play(PlayKind.RUN, gain=-2, events=(lost(-1), recovered(-1, DEFENSE))))
    assert step.gain == -1                                  # 2010010305


def test_a_touchdown_after_a_lateral_counts_to_the_goal_line():
    step = fold(BOOK, BEFORE, Play(PlayKind.PASS, Outcome.COMPLETE, gain=-6, score=Score.TOUCHDOWN,
                                   events=(BallEvent(EventKind.LATERAL, 24.0, OFFENSE),)))
    assert step.gain == 70                                  # 2016111304


def test_a_gain_that_was_said_is_the_gain_though_the_ball_lay_between_two_lines():
    near = Situation(next=Next.SCRIMMAGE, offense=Team.HOME, down=1, yards_to_gain=2.5, ball_on=97.5, clock=600,
                     goal_to_go=True)
    step = fold(BOOK, near, Play(PlayKind.RUN, gain=1, events=(lost(99), recovered(99, DEFENSE))))
    assert step.gain == 1                                   # 2014092806


def illegal(at: float) -> Foul:
    return Foul("illegal forward pass", OFFENSE, spot=at, decision=FoulDecision.ACCEPTED)


@pytest.mark.parametrize(("play", "run", "counts"), [
    (Play(PlayKind.PASS, Outcome.INCOMPLETE, fouls=(illegal(33),)), True, 3.0),             # 2009101807 KC
    (Play(PlayKind.PASS, Outcome.COMPLETE, gain=11, fouls=(illegal(33),)), True, 3.0),
    (Play(PlayKind.PASS, Outcome.COMPLETE, gain=7, fouls=(illegal(37),)), False, 7.0),      # 2009102510, the catcher's
    (Play(PlayKind.PASS, Outcome.INCOMPLETE, fouls=(illegal(27),)), False, 0.0),            # behind the line
])
def test_a_pass_thrown_beyond_the_line_is_a_run_to_there(play, run, counts):
    step = fold(BOOK, BEFORE, play)
    assert (thrown_beyond_line(step.before, step.play, step.dead_ball_on), step.gain) == (run, counts)


def test_the_facts_call_it_a_run():
    made = game([Play(PlayKind.PASS, Outcome.INCOMPLETE, clock=700, fouls=(illegal(33),))])
    book = load_rulebook(made.heading.rulebook, made.heading.season)
    frame = frame_of(rows_of(made, track(book, [tag.play for tag in made.plays]), book))
    assert frame.iloc[-1]["run_pass_kick"] == "run"
