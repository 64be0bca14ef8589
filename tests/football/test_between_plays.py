"""Between the plays, to the last detail: tosses, timeouts, ends of periods, what a person sets by hand, corrections.

Rules are named beside the checks; what stands without one is how this tracker speaks of what it does not know.
"""

from __future__ import annotations

from dataclasses import replace

import pytest

from workstation.football.field import Team
from workstation.football.plays import Foul, FoulDecision, Outcome, Play, PlayKind, Score, Side, SituationOverride
from workstation.football.rulebook import load_rulebook
from workstation.football.situation import Next, Situation
from workstation.football.step import Certainty
from workstation.football.tracker import fold, track

K, O, OFF, DEF = PlayKind, Outcome, Side.OFFENSE, Side.DEFENSE
NFHS, NCAA, NFL = load_rulebook("nfhs"), load_rulebook("ncaa"), load_rulebook("professional", 2013)
SUDDEN, PLAYOFFS = load_rulebook("professional", 2011), load_rulebook("professional_playoffs", 2013)
CANADIAN = load_rulebook("canadian_amateur")
HOME, VISITORS = Team.HOME, Team.VISITORS
END, TIMEOUT = Play(K.END_OF_PERIOD), Play(K.TIMEOUT, team=HOME)


def snap(down=2, to_gain=8.0, on=40.0, **more) -> Situation:
    return Situation(Next.SCRIMMAGE, HOME, down, to_gain, on, to_gain >= 100 - on, series=4, drive=3,
                     **{"second_half_kicker": VISITORS} | more)


def kickoff(book=NFHS, **more) -> Situation:
    return Situation(Next.KICKOFF, HOME, ball_on=book.kickoff_spot, series=4, drive=3, second_half_kicker=VISITORS,
                     **more)


def told(step) -> tuple:
    now = step.after
    return now.next.value, now.offense, now.down, now.yards_to_gain, now.ball_on


# Tosses


@pytest.mark.parametrize(("choice", "kicks", "second"), [
    ("receive", VISITORS, HOME), ("ball", VISITORS, HOME), ("offense", VISITORS, HOME),
    ("defer", HOME, VISITORS),
    ("kick", HOME, HOME), ("defend", HOME, HOME), ("defense", HOME, HOME),
])
def test_who_kicks_off_in_each_half(choice, kicks, second):
    """NFHS 3-2-3, NCAA 3-1-1, NFL 4-2-2. Who neither defers nor takes the ball leaves it to the other team in both
    halves."""
    (step,) = track(NFHS, [Play(K.COIN_TOSS, team=HOME, choice=choice)])
    assert told(step) == ("kickoff", kicks, None, None, 40) and not step.problems
    assert step.after.second_half_kicker is second
    assert ("in the second half" in step.explanation) == (kicks is second)
    assert step.certainty is (Certainty.ASSUMED if kicks is second else Certainty.CERTAIN)


def test_a_toss_half_said():
    (nobody,) = track(NFHS, [Play(K.COIN_TOSS, choice="receive")])
    assert nobody.problems == ("a coin toss needs the team that won it",) and nobody.after.offense is VISITORS
    (nothing,) = track(NFHS, [Play(K.COIN_TOSS, team=HOME)])
    assert "the choice was not said" in nothing.explanation and not nothing.problems
    assert nothing.after.offense is VISITORS and nothing.certainty is Certainty.ASSUMED
    (wrong,) = track(NFHS, [Play(K.COIN_TOSS, team=HOME, choice="punt")])
    assert "'punt' is no choice" in wrong.problems[0] and "not said" not in wrong.explanation


def test_the_toss_of_an_extra_period():
    """NFHS resolving tied games 3, NCAA 3-1-3, NFL 16-1-2."""
    for book in (NFL, SUDDEN):
        step = fold(book, Situation(Next.COIN_TOSS, None, period=5, second_half_kicker=HOME),
                    Play(K.COIN_TOSS, team=HOME, choice="receive"))
        assert told(step) == ("kickoff", VISITORS, None, None, 35)
        assert (step.after.extra_first, step.after.second_half_kicker) == (HOME, HOME)
    series = fold(NFHS, Situation(Next.COIN_TOSS, None, period=5, series=9, drive=7),
                  Play(K.COIN_TOSS, team=HOME, choice="defense"))
    assert told(series) == ("scrimmage", VISITORS, 1, 10, 90) and series.after.goal_to_go
    now = series.after
    assert (now.extra_first, now.extra_turn, now.series, now.drive, now.kickoff_moved) == (VISITORS, 1, 10, 8, 0)
    # In the last of four periods the choice may be deferred, as in the first; in an extra period it may not.
    deferred = fold(NFHS, Situation(Next.COIN_TOSS, None, period=4), Play(K.COIN_TOSS, team=HOME, choice="defer"))
    assert not deferred.problems


def test_who_kicks_off_the_second_half_follows_from_who_kicked_off_the_first():
    opened = fold(NFHS, Situation(), Play(K.KICKOFF, O.TOUCHBACK, team=VISITORS))
    assert opened.after.second_half_kicker is HOME
    known = fold(NFHS, kickoff(), Play(K.KICKOFF, O.TOUCHBACK))
    assert known.after.second_half_kicker is VISITORS       # as the toss had settled it


# Extra periods


def test_the_order_of_extra_series():
    """NCAA 3-1-3, NFHS resolving tied games 5: a series each, then the next period the other way round; from the third
    college period on only tries."""
    stop = Play(K.PASS, O.INTERCEPTED, spot=80)
    end = fold(NCAA, replace(snap(), period=4, score_home=3, score_visitors=3), END)
    toss = Play(K.COIN_TOSS, team=HOME, choice="offense")
    steps = track(NCAA, [toss, stop, stop, stop, stop, Play(K.TRY_RUN, O.NO_GOOD)], end)
    seen = [(s.after.period, s.after.offense, s.after.extra_first, s.after.extra_turn, s.after.drive) for s in steps]
    assert seen == [(5, HOME, HOME, 1, 4), (5, VISITORS, HOME, 2, 5), (6, VISITORS, VISITORS, 1, 6),
                    (6, HOME, VISITORS, 2, 7), (7, HOME, HOME, 1, 8), (7, VISITORS, HOME, 2, 9)]
    assert [step.after.series for step in steps[:4]] == [5, 6, 7, 8]
    assert (steps[3].after.timeouts_home, steps[4].after.kickoff_moved) == (1, 0)
    assert steps[4].after.next is steps[5].after.next is Next.TRY and steps[4].after.ball_on == 97


def test_the_first_score_ends_sudden_death():
    """NFL 16-1-1, until 2011."""
    tied = replace(snap(), period=5, extra_first=HOME)
    on = fold(SUDDEN, tied, Play(K.RUN, gain=3))
    assert told(on) == ("scrimmage", HOME, 3, 5, 43) and on.explanation.endswith("3rd & 5 at own 43")
    over = fold(SUDDEN, tied, Play(K.FIELD_GOAL, O.GOOD))
    assert over.after.next is Next.OVER and over.explanation == "field goal; first score; the game is over"


def test_whose_turn_it_is_where_both_may_have_the_ball():
    """NFL 16-1-3, from 2012."""
    kick = replace(kickoff(NFL), period=5)
    untouched = fold(NFL, kick, Play(K.KICKOFF, O.TOUCHBACK))
    assert (untouched.after.extra_first, untouched.after.extra_turn) == (VISITORS, 1)
    repeated = fold(NFL, kick, Play(K.NO_PLAY, fouls=(Foul("delay of game", OFF),)))
    assert (repeated.after.next, repeated.after.extra_turn) == (Next.KICKOFF, 0)
    taken = fold(NFL, kick, Play(K.KICKOFF, kick_to=50, possession=OFF))
    assert (taken.after.offense, taken.after.extra_turn) == (HOME, 2)       # the visitors had their chance, 16-1-5
    lost = fold(NFL, untouched.after, Play(K.PASS, O.INTERCEPTED, spot=50))
    assert (lost.after.offense, lost.after.extra_turn) == (HOME, 2)
    punted = fold(NFL, lost.after, Play(K.PUNT, O.DOWNED, kick_to=80))
    assert punted.after.extra_turn == 3 and "the next score wins" in punted.explanation
    scored = fold(NFL, untouched.after, Play(K.FIELD_GOAL, O.GOOD))
    assert scored.after.extra_turn == 2 and "now the turn of the home team" in scored.explanation
    assert fold(NFL, scored.after, Play(K.KICKOFF, O.TOUCHBACK)).after.extra_turn == 2


# Ends of periods


def test_the_ends_of_the_quarters():
    """NFHS 3-1, NCAA 3-2-1: ends are changed after the first and third, timeouts are renewed at the half."""
    used = replace(snap(on=40), timeouts_home=1, timeouts_visitors=0, clock=0, home_faces_right=True)
    first = fold(NFHS, used, END).after
    assert (first.period, first.clock, first.home_faces_right, first.timeouts_home) == (2, None, False, 1)
    half = fold(NFHS, replace(used, period=2), END)
    assert told(half) == ("kickoff", VISITORS, None, None, 40) and half.after.period == 3
    assert (half.after.timeouts_home, half.after.timeouts_visitors, half.after.goal_to_go) == (3, 3, False)
    assert half.after.home_faces_right is True and "towards the same end" in half.explanation
    unsaid = fold(NFHS, replace(used, period=2, home_faces_right=None), END)
    assert unsaid.certainty is Certainty.CERTAIN and unsaid.result == "end of the half; the visitors kick off"
    untossed = fold(NFHS, replace(used, period=2, second_half_kicker=None, home_faces_right=None), END)
    assert untossed.after.offense is HOME and "not known" in untossed.explanation


def test_the_end_of_the_game():
    """NFHS 3-1-1, NCAA 3-2-1: tied, an extra period follows; NFL 16-1-3: only one, but for the playoffs (16-1-4)."""
    led = replace(snap(), period=4, score_home=3, clock=5)
    over = fold(NFHS, led, END)
    assert (over.after.next, over.after.clock, over.result) == (Next.OVER, 0, "end of the game")
    late = fold(NFHS, over.after, END)
    assert late.after == over.after and late.result == "the game is over"
    tied = replace(snap(2, 8, 92), period=4, kickoff_moved=-15.0)
    toss = fold(NFHS, tied, END).after
    assert (toss.next, toss.period, toss.offense, toss.ball_on, toss.down) == (Next.COIN_TOSS, 5, None, None, None)
    assert (toss.timeouts_home, toss.timeouts_visitors, toss.kickoff_moved, toss.goal_to_go) == (1, 1, 0, False)
    assert (toss.extra_first, toss.extra_turn, toss.clock) == (None, 0, None)
    last = fold(NFL, replace(snap(), period=5, extra_turn=3), END)
    assert (last.after.next, last.after.clock, last.result) == (Next.OVER, 0, "end of the game, tied")
    on = fold(PLAYOFFS, replace(snap(), period=5, extra_turn=3, home_faces_right=True, clock=4), END)
    assert on.result == "end of extra period 1, still tied; played on"
    assert (on.after.period, on.after.home_faces_right, on.after.clock, on.after.ball_on) == (6, False, None, 40)
    between = fold(NFHS, replace(snap(), period=5, extra_turn=1, extra_first=HOME), END).after
    assert (between.next, between.extra_first, between.extra_turn) == (Next.COIN_TOSS, None, 0)


def test_timeouts():
    step = fold(NFHS, snap(timeouts_visitors=1), Play(K.TIMEOUT, team=VISITORS))
    assert step.result == "timeout visitors, 0 left" and not step.problems
    none = fold(NFHS, step.after, Play(K.TIMEOUT, team=VISITORS))
    assert none.result == "timeout visitors, 0 left" and none.problems == ("visitors has no timeout left",)
    officials = fold(NFHS, snap(), Play(K.TIMEOUT))
    assert officials.after == snap() and officials.explanation == "officials' timeout; 2nd & 8 at own 40"


# By hand


def hear(situation, book=NFHS, **words):
    return fold(book, situation, replace(TIMEOUT, team=None, override=SituationOverride(**words)))


def test_a_period_set_by_hand():
    half = hear(snap(), period=3)
    assert (half.before.period, half.before.next, half.before.offense) == (3, Next.KICKOFF, VISITORS)
    assert half.certainty is Certainty.CERTAIN      # the ends between follow; nothing contradicts them
    back = hear(snap(period=3), period=2)
    assert back.before.period == 2 and "period 2 was set by hand, 3 follows" in back.explanation
    assert back.certainty is Certainty.CONTRADICTED
    beyond = hear(snap(score_home=7, period=4), period=6)
    assert beyond.before.period == 6 and "period 6 was set by hand, 4 follows" in beyond.explanation
    assert hear(snap(), period=1).explanation == "officials' timeout; 2nd & 8 at own 40"


def test_a_situation_set_by_hand():
    same = hear(snap(), ball_on=40.0, down=2, yards_to_gain=8.0000001, offense=HOME)
    assert same.certainty is Certainty.CERTAIN and same.before == snap()
    moved = hear(snap(), ball_on=42.0)
    assert "ball on own 42 was set by hand, own 40 follows" in moved.explanation
    assert (moved.before.yards_to_gain, moved.before.goal_to_go) == (8, False)
    assert "yards to gain 3.0 was set by hand, 8.0 follows" in hear(snap(), yards_to_gain=3.0).explanation
    goal = hear(snap(2, 8, 92), ball_on=95.0)
    assert (goal.before.yards_to_gain, goal.before.goal_to_go) == (5, True)
    farther = hear(snap(2, 8, 92), ball_on=90.0).before
    assert (farther.yards_to_gain, farther.goal_to_go) == (10, True)
    nearly = hear(snap(2, 8, 92), yards_to_gain=7.5).before
    assert (nearly.yards_to_gain, nearly.goal_to_go) == (7.5, False)
    short = hear(snap(2, 8, 92), ball_on=95.0, yards_to_gain=2.0)
    assert (short.before.yards_to_gain, short.before.goal_to_go) == (2, False)
    first = hear(Situation(), next=Next.SCRIMMAGE)
    now = first.before
    assert (now.offense, now.down, now.yards_to_gain, now.ball_on, now.goal_to_go) == (HOME, 1, 10, 20, False)
    assert first.certainty is Certainty.CONTRADICTED    # a toss was due
    known = hear(Situation(), offense=VISITORS)
    assert known.certainty is Certainty.CERTAIN         # nothing was known that it could contradict


@pytest.mark.parametrize(("due", "spot"), [(Next.KICKOFF, 40), (Next.SAFETY_FREE_KICK, 20), (Next.TRY, 97)])
def test_what_comes_next_set_by_hand(due, spot):
    now = hear(snap(2, 8, 92), next=due).before
    assert (now.next, now.offense, now.ball_on) == (due, HOME, spot)
    assert (now.down, now.yards_to_gain, now.goal_to_go) == (None, None, False)
    assert hear(snap(), next=due, ball_on=50.0).before.ball_on == 50
    assert hear(Situation(), next=due, offense=VISITORS).before.ball_on == spot


def test_a_fair_catch_kick_set_by_hand_is_from_where_the_ball_lies():
    """NFHS 6-5-4, NFL 10-2-4: a free kick from the spot of the catch."""
    now = hear(snap(1, 10, 55), next=Next.FAIR_CATCH_KICK)
    assert (now.before.ball_on, now.before.down) == (55, None)
    good = fold(NFHS, now.after, Play(K.FIELD_GOAL, O.GOOD))
    assert good.points_home == 3 and not good.problems
    run = fold(NFHS, now.after, Play(K.RUN, gain=3))
    assert run.problems == ("a run cannot come here; a fair catch kick is due",)


def test_who_kicks_set_in_the_play():
    """Only where the code leaves the choice to the team scored upon (NFHS 8-3-9) nothing contradicts it."""
    point, kick = Play(K.TRY_KICK, O.GOOD), Play(K.KICKOFF, O.TOUCHBACK, team=VISITORS)
    try_ = Situation(Next.TRY, HOME, ball_on=97, series=4, drive=3, second_half_kicker=HOME)
    for between in ((), (Play(K.TIMEOUT, team=HOME),)):
        for book, certain in ((NFHS, True), (NCAA, False)):
            step = track(book, [*between, kick], fold(book, try_, point))[-1]
            assert step.after.offense is HOME
            assert step.certainty is (Certainty.CERTAIN if certain else Certainty.CONTRADICTED)
    half = fold(NFHS, snap(period=2), END)      # the visitors kick off
    other = track(NFHS, [replace(kick, team=HOME)], half)[-1]
    assert other.certainty is Certainty.CONTRADICTED and other.after.offense is VISITORS


# Where a tag was left out


@pytest.mark.parametrize(("due", "play", "problem", "offense", "spot"), [
    (Next.SCRIMMAGE, Play(K.TRY_KICK, O.GOOD), "a try kick cannot come here; a down from scrimmage is due", HOME, 40),
    (Next.SCRIMMAGE, Play(K.SAFETY_FREE_KICK, O.TOUCHBACK),
     "a safety free kick cannot come here; a down from scrimmage is due", VISITORS, 20),
    (Next.TRY, Play(K.KICKOFF, O.TOUCHBACK), "a kickoff cannot come here; a try is due", VISITORS, 20),
    (Next.TRY, Play(K.RUN, gain=4), "a run cannot come here; a try is due", HOME, 24),
    (Next.KICKOFF, Play(K.RUN, gain=4), "a run cannot come here; a kickoff is due", VISITORS, 24),
    (Next.SAFETY_FREE_KICK, Play(K.RUN, gain=4), "a run cannot come here; a safety free kick is due", VISITORS, 24),
])
def test_what_was_left_out_is_named_and_made_up_for(due, play, problem, offense, spot):
    before = replace(snap(2, 8, 92), next=due)
    step = fold(NFHS, before, play)
    assert step.problems == (problem,) and (step.after.offense, step.after.ball_on) == (offense, spot)
    assert step.certainty is Certainty.ASSUMED and not step.before.goal_to_go
    if play.kind is K.RUN:
        assert (step.after.down, step.after.series, step.after.drive) == (2, 5, 4)


def test_a_field_goal_where_a_try_is_due():
    try_ = Situation(Next.TRY, HOME, ball_on=97, series=4, drive=3)
    step = fold(NFHS, try_, Play(K.FIELD_GOAL, O.GOOD))
    assert step.problems == ("a try is due; tag it as a try by kick",)
    assert step.points_home == 1 and step.after.next is Next.KICKOFF


def test_a_foul_before_anything_is_known():
    step = fold(NFHS, Situation(), Play(K.NO_PLAY, fouls=(Foul("false start", OFF),)))
    assert step.problems == ("a no play cannot come here; a coin toss is due",) and step.after == step.before
    whistle = fold(NFHS, Situation(), Play(K.INADVERTENT_WHISTLE))
    assert whistle.problems == ("an inadvertent whistle cannot come here; a coin toss is due",)
    nothing = fold(NFHS, snap(), Play(K.NO_PLAY))
    assert nothing.problems == ("no play without a foul says nothing",) and nothing.down_repeated
    assert nothing.result == "no play"
    repeated = fold(NFHS, snap(), Play(K.INADVERTENT_WHISTLE))
    assert repeated.result == "inadvertent whistle, down repeated" and not repeated.problems


def test_who_has_the_ball_first_where_the_toss_was_left_out():
    first = fold(NFHS, Situation(), Play(K.RUN, gain=3, team=VISITORS))
    assert told(first) == ("scrimmage", VISITORS, 2, 7, 23) and not first.problems
    assert (first.after.series, first.after.drive) == (1, 1)
    fourth = fold(NFL, Situation(period=4), Play(K.KICKOFF, O.TOUCHBACK, team=VISITORS))
    assert fourth.after.extra_first is None
    wrong = fold(NFHS, Situation(), Play(K.TRY_KICK, O.GOOD))
    assert wrong.problems == ("the toss was not tagged, so who has the ball is not known; home taken",
                              "a try kick cannot come here; a kickoff is due")


# Corrections


def test_a_measurement_says_what_it_rests_on():
    played = fold(NFHS, snap(to_gain=8), Play(K.RUN, gain=8))
    short = fold(NFHS, played.after, Play(K.MEASUREMENT, O.SHORT), played)
    assert short.after.yards_to_gain == pytest.approx(1 / 6) and "6 inches" in short.explanation
    assert short.certainty is Certainty.ASSUMED
    far = fold(NFHS, snap(), Play(K.RUN, gain=6))
    clearly = fold(NFHS, far.after, Play(K.MEASUREMENT, O.SHORT), far)
    assert clearly.after.yards_to_gain == 2 and clearly.certainty is Certainty.CERTAIN
    silent = fold(NFHS, far.after, Play(K.MEASUREMENT), far)
    assert "what it showed was not said" in silent.explanation and silent.after == far.after
    timeout = fold(NFHS, snap(), TIMEOUT)
    early = fold(NFHS, timeout.after, Play(K.MEASUREMENT, O.MADE), timeout)
    assert early.problems == ("a measurement needs a play before it",) and early.after == timeout.after
    flagged = fold(NFHS, snap(), Play(K.NO_PLAY, fouls=(Foul("false start", OFF),)))
    assert fold(NFHS, flagged.after, Play(K.MEASUREMENT, O.MADE), flagged).problems


def test_a_reversal_needs_a_play_and_keeps_its_certainty():
    alone = fold(NFHS, snap(), Play(K.REPLAY_REVERSAL, spot=45))
    assert alone.problems == ("a replay reversal needs a play before it",) and alone.after == snap()
    played = fold(NFHS, snap(), Play(K.RUN, gain=9))
    short = fold(NFHS, played.after, Play(K.REPLAY_REVERSAL, spot=47.0), played)
    assert short.certainty is Certainty.CERTAIN and short.explanation.startswith("reversed: gain of 7; 3rd & 1")
    against = fold(NFHS, played.after, Play(K.REPLAY_REVERSAL, spot=47.0, override=SituationOverride(down=4)), played)
    assert against.certainty is Certainty.CONTRADICTED and "down 4 was set by hand, 1 follows" in against.explanation


# Doubts


@pytest.mark.parametrize(("play", "doubt"), [
    (Play(K.RUN, gain=60), None), (Play(K.RUN, gain=70), None), (Play(K.RUN, gain=70.5), "ends off the field"),
    (Play(K.RUN, gain=-50), None), (Play(K.RUN, gain=-50.5), "ends off the field"),
    (Play(K.PUNT, kick_to=110), None), (Play(K.PUNT, kick_to=110.5), "is off the field"),
    (Play(K.RUN, spot=-10.0), None), (Play(K.RUN, spot=-10.5), "is off the field"),
    (Play(K.RUN, gain=1, clock=720), None), (Play(K.RUN, gain=1, clock=721), "more than 12 minutes"),
])
def test_the_edges_of_field_and_clock(play, doubt):
    """NFHS 1-2-1: 100 yards and two end zones of ten; 3-1-1: four periods of twelve minutes."""
    problems = fold(NFHS, snap(), play).problems
    assert not problems if doubt is None else any(doubt in problem for problem in problems)


def test_a_fair_catch_where_there_is_none():
    """Canadian amateur 5-3-1 (from memory): no fair catch at all; NFL since 2024, 6-1-2: none of a kickoff."""
    punt, kick = Play(K.PUNT, O.FAIR_CATCH, kick_to=80), Play(K.KICKOFF, O.FAIR_CATCH, kick_to=80)
    assert fold(CANADIAN, snap(), punt).problems == ("these rules know no fair catch of a punt",)
    now = load_rulebook("professional", 2024)
    assert fold(now, kickoff(now), kick).problems and not fold(now, snap(), punt).problems
    assert not fold(NFL, kickoff(NFL), kick).problems


def test_the_clock_may_stand_still():
    assert not fold(NFHS, snap(clock=300), Play(K.RUN, gain=1, clock=300)).problems
    assert fold(NFHS, snap(clock=300), Play(K.RUN, gain=1, clock=301)).problems


@pytest.mark.parametrize(("period", "doubted"), [(4, False), (5, False), (6, True), (7, True)])
def test_from_the_second_extra_period_a_try_must_be_run_or_passed(period, doubted):
    """NCAA 3-1-3."""
    step = fold(NCAA, Situation(Next.TRY, HOME, ball_on=97, period=period, extra_turn=1, extra_first=HOME),
                Play(K.TRY_KICK, O.GOOD))
    assert bool(step.problems) == doubted


# What a step says


@pytest.mark.parametrize(("play", "explanation"), [
    (Play(K.RUN, gain=3), "gain of 3; 3rd & 5 at own 43"),
    (Play(K.RUN, gain=1), "gain of 1; 3rd & 7 at own 41"),
    (Play(K.RUN, gain=-1), "loss of 1; 3rd & 9 at own 39"),
    (Play(K.RUN, gain=0), "no gain; 3rd & 8 at own 40"),
    (Play(K.RUN, gain=3, fouls=(Foul("holding", OFF, spot=42),)),
     "holding, 10 from the spot of foul at own 42; again 2nd & 16 at own 32"),
    (Play(K.RUN, score=Score.TOUCHDOWN), "touchdown; try"),
])
def test_the_line_of_a_down(play, explanation):
    assert fold(NFHS, snap(), play).explanation == explanation


def test_the_line_of_a_kick_that_is_repeated():
    again = fold(NFHS, kickoff(), Play(K.NO_PLAY, fouls=(Foul("delay of game", OFF),)))
    assert again.explanation == "delay of game, 5 from the previous spot at own 40; kickoff from own 35 again"


def test_on_third_down_a_gain_short_of_the_line_is_stopped_short():
    assert fold(NFHS, snap(3), Play(K.RUN, gain=3)).result == "stopped short, gain of 3"
    assert fold(NFHS, snap(2), Play(K.RUN, gain=3)).result == "gain of 3"


def test_choices_without_a_foul_are_kept_where_the_foul_is_declined():
    """NFHS 6-5-4: after a fair catch a free kick for goal may be taken."""
    catch = Play(K.PUNT, O.FAIR_CATCH, kick_to=60)
    fouled = replace(catch, fouls=(Foul("holding", OFF, spot=45),))
    assert any("free kick for goal" in choice for choice in fold(NFHS, snap(4), catch).choices)
    taken = fold(NFHS, snap(4), fouled)
    assert not any("free kick for goal" in choice for choice in taken.choices)


@pytest.mark.parametrize(("play", "foul"), [
    (Play(K.RUN, gain=3), Foul("holding", OFF, spot=42, decision=FoulDecision.ACCEPTED)),
    (Play(K.PUNT, kick_to=80, spot=70),
     Foul("illegal block in the back", DEF, spot=75, decision=FoulDecision.ACCEPTED)),
    (Play(K.PASS, O.INTERCEPTED, spot=60), Foul("face mask", OFF, decision=FoulDecision.ACCEPTED)),
])
def test_what_was_decided_leaves_no_choice(play, foul):
    assert fold(NFHS, snap(4), replace(play, fouls=(foul,))).choices == ()


def test_the_kickers_foul_leaves_the_receivers_the_choice_of_another_kick():
    """NFHS 10-4-2: at the end of the play, or from the previous spot and kicked again."""
    foul = Foul("holding", OFF, spot=45, decision=FoulDecision.ACCEPTED)
    (choice,) = fold(NFHS, snap(4), Play(K.PUNT, kick_to=80, spot=70, fouls=(foul,))).choices
    assert choice == "holding from the previous spot, and kick again"


@pytest.mark.parametrize(("book", "play", "doubt"), [
    (NFHS, Play(K.PASS, O.INCOMPLETE, score=Score.TOUCHDOWN), "an incomplete pass cannot be a touchdown"),
    (NFHS, Play(K.RUN, gain=5, spot=52.0), "a gain of 5 ends at own 45, and opp 48 was said"),
    (NFHS, Play(K.RUN, gain=5, spot=45.0), None),
    (NFHS, Play(K.RUN, gain=5, fouls=(Foul("false start", Side.OFFENSE),)), "keeps the ball dead"),
    (NFHS, Play(K.RUN, gain=5, fouls=(Foul("encroachment", Side.DEFENSE),)), "keeps the ball dead"),
    (NFHS, Play(K.RUN, gain=5, fouls=(Foul("false start", Side.OFFENSE, decision=FoulDecision.DECLINED),)), None),
    (NFHS, Play(K.NO_PLAY, fouls=(Foul("false start", Side.OFFENSE, runoff=True),)), "no runoff"),
    (NCAA, Play(K.NO_PLAY, fouls=(Foul("false start", Side.OFFENSE, runoff=True),)), None),
    (CANADIAN, Play(K.PUNT, O.TOUCHBACK), "no touchback of a punt"),
    (NFHS, Play(K.FIELD_GOAL, O.GOOD, score=Score.TOUCHDOWN), "a touchdown was said, and the rules give none here"),
])
def test_two_things_said_that_cannot_both_be_so(book, play, doubt):
    """NFHS 7-1-7 and 7-1-5: dead at once; 3-4-7 (from memory): no runoff. NCAA 3-4-4: one of ten seconds."""
    problems = fold(book, snap(clock=100), play).problems
    assert not problems if doubt is None else any(doubt in problem for problem in problems), problems


def test_a_kickoff_that_comes_down_behind_its_spot():
    assert "behind where it was kicked" in fold(NFHS, kickoff(), Play(K.KICKOFF, kick_to=30)).problems[0]


def test_only_a_run_or_a_catch_is_measured():
    """NFHS 5-3-2 (from memory): where the ball became dead in its team's possession."""
    kicked = fold(NFHS, kickoff(), Play(K.KICKOFF, O.RETURNED, kick_to=90, spot=70))
    for before in (kicked, fold(NFHS, snap(), Play(K.PASS, O.INTERCEPTED, spot=45))):
        measured = fold(NFHS, before.after, Play(K.MEASUREMENT, O.MADE), before)
        assert measured.problems and measured.after == before.after and not measured.points_visitors
    short = fold(NFHS, snap(4, 2), Play(K.RUN, gain=1))
    assert fold(NFHS, short.after, Play(K.MEASUREMENT, O.MADE), short).after.offense is Team.HOME


def test_from_2025_one_timeout_serves_all_college_extra_periods_from_the_third_on():
    """NCAA 3-1-3-h."""
    for season, left in ((2024, 1), (2025, 0)):
        book = load_rulebook("ncaa", season)
        last = Situation(Next.TRY, Team.VISITORS, ball_on=97, period=7, timeouts_home=0, timeouts_visitors=1,
                         extra_first=Team.HOME, extra_turn=2)
        after = fold(book, last, Play(K.TRY_RUN, O.NO_GOOD)).after
        assert (after.period, after.timeouts_home, after.timeouts_visitors) == (8, left, 1)
        third = replace(last, next=Next.SCRIMMAGE, down=4, yards_to_gain=5, ball_on=80, period=6, timeouts_visitors=0)
        after = fold(book, third, Play(K.RUN, gain=1)).after
        assert (after.period, after.timeouts_home, after.timeouts_visitors) == (7, 1, 1)
