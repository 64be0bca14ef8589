"""The tracker on ordinary plays and between them: downs, periods, tosses, timeouts, overtime, a person's word.

Rules are named beside the checks: NFHS and NCAA football rules books, Official Playing Rules of the NFL.
The tables of rulings are in tests/outside/rulebook_cases, the real games in tests/outside/real_games.
"""

from __future__ import annotations

import pytest

from workstation.football.field import Team
from workstation.football.plays import (
    BallEvent,
    EventKind,
    Foul,
    Outcome,
    Play,
    PlayKind,
    Score,
    Side,
    SituationOverride,
)
from workstation.football.rulebook import load_rulebook
from workstation.football.situation import Next
from workstation.football.step import Certainty
from workstation.football.tracker import fold, track

K, O = PlayKind, Outcome
NFHS = load_rulebook("nfhs")
NCAA = load_rulebook("ncaa")
OPENING = [Play(K.COIN_TOSS, team=Team.VISITORS, choice="receive"), Play(K.KICKOFF, O.TOUCHBACK)]


def after(*plays: Play, rulebook=NFHS, opening=OPENING):
    """The last step of a game that begins with the visitors' ball on their own 20 (25 in college)."""
    return track(rulebook, [*opening, *plays])[-1]


def told(step) -> tuple:
    now = step.after
    return now.next.value, now.offense, now.down, now.yards_to_gain, now.ball_on


# Downs


def test_a_series_is_counted_until_the_line_is_reached():
    assert told(after(Play(K.RUN, gain=4))) == ("scrimmage", Team.VISITORS, 2, 6, 24)
    assert told(after(Play(K.RUN, gain=4), Play(K.PASS, O.INCOMPLETE)))[2:] == (3, 6, 24)
    made = after(Play(K.RUN, gain=4), Play(K.PASS, O.COMPLETE, gain=6))
    assert told(made)[2:] == (1, 10, 30) and made.first_down and made.result == "first down"


def test_stopped_short_and_over_on_downs():
    short = after(Play(K.RUN, gain=3), Play(K.RUN, gain=3), Play(K.RUN, gain=3.9))
    assert short.result == "stopped short, gain of 3.9" and told(short)[2] == 4
    assert short.after.yards_to_gain == pytest.approx(0.1)
    lost = after(*[Play(K.RUN, gain=2)] * 4)
    assert lost.result == "turnover on downs" and lost.possession_changed
    assert told(lost) == ("scrimmage", Team.HOME, 1, 10, 72)


def test_goal_to_go_is_measured_to_the_goal():
    step = after(Play(K.PASS, O.COMPLETE, gain=72), Play(K.RUN, gain=-3))
    assert step.before.goal_to_go and step.before.yards_to_gain == 8
    assert told(step)[2:] == (2, 11, 89) and step.after.goal_to_go


def test_series_and_drives_are_numbered():
    steps = track(NFHS, [*OPENING, Play(K.RUN, gain=12), Play(K.PUNT, kick_to=80), Play(K.RUN, gain=1)])
    assert [(s.after.series, s.after.drive) for s in steps] == [(0, 0), (1, 1), (2, 1), (3, 2), (3, 2)]


def test_a_touchdown_brings_a_try_and_the_try_a_kickoff_by_the_scorers():
    scored = after(Play(K.RUN, gain=80))
    assert told(scored)[:2] == ("try", Team.VISITORS) and scored.points_visitors == 6
    kicked = after(Play(K.RUN, score=Score.TOUCHDOWN), Play(K.TRY_KICK, O.GOOD))
    assert told(kicked)[:2] == ("kickoff", Team.VISITORS) and kicked.after.score_visitors == 7


@pytest.mark.parametrize(("play", "team", "spot"), [
    (Play(K.PASS, O.INTERCEPTED, spot=35), Team.HOME, 65),
    (Play(K.RUN, gain=5, events=(BallEvent(EventKind.FUMBLE, 25), BallEvent(EventKind.RECOVERY, 22, Side.DEFENSE))),
     Team.HOME, 78),
    (Play(K.RUN, gain=5, events=(BallEvent(EventKind.FUMBLE, 25), BallEvent(EventKind.RECOVERY, 28, Side.OFFENSE))),
     Team.VISITORS, 28),
    (Play(K.PUNT, O.FAIR_CATCH, kick_to=60), Team.HOME, 40),
    (Play(K.PUNT, O.TOUCHBACK), Team.HOME, 20),
    (Play(K.PUNT, O.MUFFED, kick_to=60, events=(BallEvent(EventKind.MUFF, 60),
                                                BallEvent(EventKind.RECOVERY, 58, Side.OFFENSE))), Team.VISITORS, 58),
])
def test_who_has_the_ball_and_where(play, team, spot):
    assert told(after(play))[1::3] == (team, spot)


def test_a_safety_is_kicked_off_by_the_team_scored_upon():  # NFHS 6-1-3, 8-5-2
    step = after(Play(K.SACK, gain=-20))
    assert (step.result, step.points_home) == ("safety", 2)
    assert told(step) == ("safety free kick", Team.VISITORS, None, None, 20)


def test_a_forward_fumble_out_of_bounds_follows_its_own_code():  # NCAA 7-2-4 a; Canadian 1-11-3
    play = Play(K.RUN, gain=5, events=(BallEvent(EventKind.FUMBLE), BallEvent(EventKind.OUT_OF_BOUNDS, 33)))
    assert told(after(play, rulebook=NCAA))[4] == 30  # the 25 and five yards


@pytest.mark.parametrize(("recovered", "spot"), [(28, 25), (22, 22)])
def test_on_last_down_only_the_fumbler_gains_by_his_fumble(recovered, spot):  # NCAA 7-2-2; NFL 8-7-5
    fumble = BallEvent(EventKind.FUMBLE, 25)
    teammate = Play(K.RUN, gain=5, events=(fumble, BallEvent(EventKind.RECOVERY, recovered, Side.OFFENSE)), spot=40)
    himself = Play(K.RUN, gain=5, events=(fumble, BallEvent(EventKind.OWN_RECOVERY, recovered)), spot=40)
    short = [Play(K.RUN, gain=0)] * 3
    nfl = load_rulebook("professional", 2013)
    lost = after(*short, teammate, rulebook=nfl)
    assert told(lost)[1::3] == (Team.HOME, 100 - spot) and lost.certainty is Certainty.ASSUMED
    assert told(after(*short, himself, rulebook=nfl))[1::3] == (Team.VISITORS, 40)
    assert told(after(*short, teammate, rulebook=NFHS))[1::3] == (Team.VISITORS, 40)  # anyone may, in high school


# Between the plays


def test_the_toss_settles_both_halves():
    deferred = track(NFHS, [Play(K.COIN_TOSS, team=Team.HOME, choice="defer")])[-1]
    assert told(deferred)[:2] == ("kickoff", Team.HOME)
    assert deferred.after.second_half_kicker is Team.VISITORS
    second = after(Play(K.END_OF_PERIOD), Play(K.END_OF_PERIOD))
    assert told(second)[:2] == ("kickoff", Team.VISITORS) and second.after.period == 3


def test_the_teams_change_ends_after_the_first_and_third_periods():  # NFHS 3-2-5
    facing = Play(K.RUN, gain=1, override=SituationOverride(home_faces_right=True))
    steps = track(NFHS, [*OPENING, facing, Play(K.END_OF_PERIOD), Play(K.RUN, gain=1)])
    assert [s.after.home_faces_right for s in steps[2:]] == [True, False, False]
    half = after(facing, Play(K.END_OF_PERIOD), Play(K.END_OF_PERIOD))
    assert half.certainty is Certainty.ASSUMED  # the second half's ends are chosen


def test_timeouts_are_counted_and_renewed_at_the_half():
    step = after(Play(K.TIMEOUT, team=Team.HOME), Play(K.TIMEOUT, team=Team.HOME))
    assert (step.after.timeouts_home, step.after.timeouts_visitors) == (1, 3)
    gone = after(*[Play(K.TIMEOUT, team=Team.HOME)] * 4)
    assert gone.problems and gone.after.timeouts_home == 0
    assert after(Play(K.TIMEOUT, team=Team.HOME), *[Play(K.END_OF_PERIOD)] * 2).after.timeouts_home == 3


def test_a_measurement_decides_between_a_first_down_and_inches():
    short = after(Play(K.RUN, gain=10), Play(K.MEASUREMENT, O.SHORT))
    assert told(short)[2] == 2 and 0 < short.after.yards_to_gain < 1
    made = after(Play(K.RUN, gain=9.9), Play(K.MEASUREMENT, O.MADE))
    assert told(made)[2:] == (1, 10, 30) and made.first_down
    exact = after(Play(K.RUN, gain=10), Play(K.MEASUREMENT, O.SHORT, spot=29.5))
    assert exact.after.yards_to_gain == 0.5


def test_a_clock_said_with_a_measurement_counts_from_there_on():
    short = after(Play(K.RUN, gain=10, clock=131), Play(K.MEASUREMENT, O.SHORT, clock=125))
    assert short.after.clock == 125
    assert after(Play(K.RUN, gain=10, clock=131), Play(K.MEASUREMENT, O.SHORT)).after.clock == 131


def test_a_challenge_timeout_may_come_between():
    step = after(Play(K.PASS, O.COMPLETE, gain=80), Play(K.TIMEOUT, team=Team.HOME),
                 Play(K.REPLAY_REVERSAL, O.INCOMPLETE))
    assert told(step)[2:] == (2, 10, 20) and step.after.timeouts_home == 2


def test_a_reversal_makes_the_play_before_it_what_it_was():
    reversed_ = after(Play(K.PASS, O.COMPLETE, gain=80), Play(K.REPLAY_REVERSAL, O.INCOMPLETE, gain=0))
    assert told(reversed_)[2:] == (2, 10, 20) and reversed_.after.score_visitors == 0
    assert reversed_.points_visitors == -6
    became = after(
        Play(K.SACK, gain=-8, events=(BallEvent(EventKind.FUMBLE), BallEvent(EventKind.RECOVERY, 12, Side.DEFENSE))),
        Play(K.REPLAY_REVERSAL, O.INCOMPLETE, stands_as=K.PASS))
    assert told(became)[1:] == (Team.VISITORS, 2, 10, 20)


def test_an_inadvertent_whistle_repeats_the_down_or_takes_the_spot():  # NFHS 4-2-3
    assert told(after(Play(K.INADVERTENT_WHISTLE, gain=6)))[2:] == (1, 10, 20)
    assert told(after(Play(K.INADVERTENT_WHISTLE, gain=6, choice="take the spot")))[2:] == (2, 4, 26)


# Overtime


def tied(rulebook):
    return [*OPENING, *[Play(K.END_OF_PERIOD)] * rulebook.periods]


def overtime(rulebook, *plays):
    return track(rulebook, [*tied(rulebook), Play(K.COIN_TOSS, team=Team.HOME, choice="defense"), *plays])[-1]


def test_high_school_overtime_is_a_series_each_from_the_ten():  # NFHS resolving tied games, 5-1-1
    assert told(overtime(NFHS)) == ("scrimmage", Team.VISITORS, 1, 10, 90)
    second = overtime(NFHS, Play(K.FIELD_GOAL, O.GOOD))
    assert told(second) == ("scrimmage", Team.HOME, 1, 10, 90)
    assert overtime(NFHS, Play(K.FIELD_GOAL, O.GOOD), Play(K.RUN, gain=10)).after.next is Next.OVER
    again = overtime(NFHS, Play(K.FIELD_GOAL, O.GOOD), Play(K.FIELD_GOAL, O.GOOD))
    assert again.after.period == 6 and again.after.next is Next.SCRIMMAGE


def test_in_high_school_overtime_the_defense_cannot_score():  # NFHS resolving tied games, 5-1-2
    step = overtime(NFHS, Play(K.PASS, O.INTERCEPTED, score=Score.TOUCHDOWN))
    assert step.points_home == 0 and told(step) == ("scrimmage", Team.HOME, 1, 10, 90)


def test_college_overtime_ends_in_two_point_tries():  # NCAA 3-1-3
    pair = [Play(K.PASS, O.INTERCEPTED, spot=90)] * 2
    assert told(overtime(NCAA)) == ("scrimmage", Team.VISITORS, 1, 10, 75)
    third = overtime(NCAA, *pair, *pair)
    assert third.after.period == 7 and third.after.next is Next.TRY
    decided = overtime(NCAA, *pair, *pair, Play(K.TRY_RUN, O.GOOD), Play(K.TRY_PASS, O.NO_GOOD))
    assert decided.after.next is Next.OVER
    assert overtime(NCAA, Play(K.PASS, O.INTERCEPTED, score=Score.TOUCHDOWN)).after.next is Next.OVER


@pytest.mark.parametrize(("season", "ends"), [(2011, True), (2013, False)])
def test_professional_sudden_death_until_2011(season, ends):  # NFL 16-1-3, edition of 2012
    rulebook = load_rulebook("professional", season)
    scored = overtime(rulebook, Play(K.KICKOFF, O.TOUCHBACK), Play(K.FIELD_GOAL, O.GOOD))
    assert (scored.after.next is Next.OVER) is ends


def test_professional_overtime_gives_each_team_its_turn():  # NFL 16-1-3
    rulebook = load_rulebook("professional", 2013)
    start = [Play(K.KICKOFF, O.TOUCHBACK)]
    assert overtime(rulebook, *start, Play(K.RUN, gain=80)).after.next is Next.OVER
    answered = [*start, Play(K.FIELD_GOAL, O.GOOD), Play(K.KICKOFF, O.TOUCHBACK), Play(K.FIELD_GOAL, O.GOOD)]
    assert overtime(rulebook, *answered).after.next is Next.KICKOFF
    lost = [*start, Play(K.FIELD_GOAL, O.GOOD), Play(K.KICKOFF, O.TOUCHBACK), Play(K.PASS, O.INTERCEPTED, spot=50)]
    assert overtime(rulebook, *lost).after.next is Next.OVER
    sudden = [*answered, Play(K.KICKOFF, O.TOUCHBACK), Play(K.FIELD_GOAL, O.GOOD)]
    assert overtime(rulebook, *sudden).after.next is Next.OVER


def test_a_game_without_overtime_may_end_tied():
    rulebook = load_rulebook("professional", 2013)
    over = track(rulebook, [*tied(rulebook), Play(K.COIN_TOSS, team=Team.HOME, choice="kick"),
                            Play(K.KICKOFF, O.TOUCHBACK), Play(K.END_OF_PERIOD)])[-1]
    assert over.after.next is Next.OVER


# A person's word, and tags that cannot be right


def test_a_persons_word_wins_and_the_contradiction_shows():
    step = after(Play(K.RUN, gain=4), Play(K.RUN, gain=2, override=SituationOverride(down=3, ball_on=30)))
    assert step.certainty is Certainty.CONTRADICTED and "set by hand" in step.explanation
    assert step.before.down == 3 and told(step)[2] == 4 and told(step)[4] == 32
    agreed = after(Play(K.RUN, gain=4), Play(K.RUN, gain=2, override=SituationOverride(down=2)))
    assert agreed.certainty is Certainty.CERTAIN


def test_who_kicks_off_may_be_said():
    first = track(NFHS, [Play(K.KICKOFF, O.TOUCHBACK, team=Team.HOME)])[-1]
    assert told(first)[1] is Team.VISITORS and not first.problems
    other = after(Play(K.END_OF_PERIOD), Play(K.END_OF_PERIOD), Play(K.KICKOFF, O.TOUCHBACK, team=Team.HOME))
    assert other.certainty is Certainty.CONTRADICTED and told(other)[1] is Team.VISITORS


def test_what_was_left_out_is_said_and_the_fold_goes_on():
    forgotten = after(Play(K.RUN, gain=80), Play(K.KICKOFF, O.TOUCHBACK))
    assert forgotten.problems == ("a kickoff cannot come here; a try is due",)
    assert told(forgotten)[:2] == ("scrimmage", Team.HOME)
    untagged = track(NFHS, [Play(K.RUN, gain=3)])[-1]
    assert untagged.problems and untagged.certainty is Certainty.ASSUMED
    assert after(Play(K.RUN, gain=1, fouls=(Foul("mopery", Side.OFFENSE),))).problems


@pytest.mark.parametrize(("play", "doubt"), [
    (Play(K.RUN, O.GOOD, gain=1), "a run cannot be good"),
    (Play(K.PASS, O.INCOMPLETE, gain=7), "an incomplete pass gains nothing"),
    (Play(K.PUNT, kick_to=140), "end of the kick at opp end zone 40 is off the field"),
    (Play(K.RUN, gain=-60), "a gain of -60 from own 20 ends off the field"),
    (Play(K.RUN, gain=1, clock=1200), "the clock cannot show more than 12 minutes"),
])
def test_a_tag_that_cannot_be_right_says_why(play, doubt):
    assert doubt in after(play).problems


def test_the_clock_does_not_run_backwards():
    step = after(Play(K.RUN, gain=1, clock=300), Play(K.RUN, gain=1, clock=310))
    assert step.problems == ("the clock shows more than at the play before; was the end of a period left out?",)
    assert not after(Play(K.RUN, gain=1, clock=300), Play(K.END_OF_PERIOD), Play(K.RUN, gain=1, clock=700)).problems


def test_a_kickoff_out_of_bounds_offers_its_choices():  # NFHS 6-1-9, NCAA 6-2-1
    step = after(rulebook=NFHS, opening=[OPENING[0], Play(K.KICKOFF, O.OUT_OF_BOUNDS, kick_to=80)])
    assert step.after.ball_on == 35 and step.choices == ("the receivers' ball at own 25", "kicked again from 5 back")


def test_what_was_not_said_is_assumed_and_says_so():
    step = after(Play(K.RUN))
    assert step.certainty is Certainty.ASSUMED and "no gain was said" in step.explanation
    assert after(Play(K.RUN, gain=0)).certainty is Certainty.CERTAIN


def test_folding_goes_on_from_any_step():
    plays = [*OPENING, Play(K.RUN, gain=10), Play(K.MEASUREMENT, O.SHORT), Play(K.RUN, gain=3)]
    whole = track(NFHS, plays)
    for cut in range(1, len(plays)):
        first = track(NFHS, plays[:cut])
        assert first + track(NFHS, plays[cut:], last=first[-1]) == whole
    assert fold(NFHS, whole[1].after, plays[2]) == whole[2]
