"""Small things the tracker must get right that no table of rulings is about: how a result is called, what is certain,
how series and drives are counted, what follows where a tag was left out.

Found by putting faults into the rules and seeing which went unnoticed (``python -m tests.mutation``).
"""

from __future__ import annotations

from dataclasses import replace

import pytest

from workstation.football.field import Team
from workstation.football.plays import (
    BallEvent,
    EnforcedAt,
    EventKind,
    Foul,
    FoulDecision,
    Outcome,
    Play,
    PlayKind,
    Score,
    Side,
    SituationOverride,
)
from workstation.football.reading import try_spot
from workstation.football.rulebook import load_rulebook
from workstation.football.situation import Next, Situation
from workstation.football.step import Certainty
from workstation.football.tracker import fold, track

K, O, OFF, DEF, E = PlayKind, Outcome, Side.OFFENSE, Side.DEFENSE, EventKind
NFHS, NCAA, NFL = load_rulebook("nfhs"), load_rulebook("ncaa"), load_rulebook("professional", 2013)
PLAYOFFS, CANADIAN = load_rulebook("professional_playoffs", 2013), load_rulebook("canadian_amateur")
HOME, VISITORS = Team.HOME, Team.VISITORS


def snap(down=2, to_gain=8.0, on=40.0, **more) -> Situation:
    return Situation(Next.SCRIMMAGE, HOME, down, min(to_gain, 100 - on), on, to_gain >= 100 - on, series=1, drive=1,
                     **more)


def due(next_: Next, book=NFHS, **more) -> Situation:
    on = {Next.KICKOFF: book.kickoff_spot, Next.TRY: book.field_length - book.try_spot_kick}[next_]
    return Situation(next_, HOME, ball_on=on, series=1, drive=1, second_half_kicker=HOME, **more)


def told(step) -> tuple:
    now = step.after
    return now.next.value, now.offense, now.down, now.yards_to_gain, now.ball_on


def fumble(at, recovered=None, by=OFF) -> tuple[BallEvent, ...]:
    lost = BallEvent(E.FUMBLE, at)
    return (lost,) if recovered is None else (lost, BallEvent(E.RECOVERY, recovered, by))


@pytest.mark.parametrize(("play", "result"), [
    (Play(K.RUN, gain=8), "first down"), (Play(K.RUN, gain=5), "gain of 5"), (Play(K.RUN, gain=-5), "loss of 5"),
    (Play(K.RUN, gain=0), "no gain"), (Play(K.PASS, O.INCOMPLETE), "incomplete"),
    (Play(K.PASS, O.INTERCEPTED, spot=60), "turnover, intercepted"),
    (Play(K.RUN, events=fumble(45, 46, DEF)), "turnover, fumble lost"),
    (Play(K.PUNT, kick_to=80, spot=80), "punt"), (Play(K.PUNT, O.RETURNED, kick_to=80, spot=70), "punt returned"),
    (Play(K.PUNT, O.DOWNED, kick_to=80), "punt dead"), (Play(K.PUNT, O.FAIR_CATCH, kick_to=80), "fair catch"),
    (Play(K.FIELD_GOAL, O.BLOCKED, possession=DEF), "field goal stopped"),
    (Play(K.RUN, score=Score.TOUCHDOWN, fouls=(Foul("holding", OFF, spot=60),)), "first down"),
], ids=lambda value: value if isinstance(value, str) else "")
def test_how_a_down_is_called(play, result):
    assert fold(NFHS, snap(), play).result == result


def test_how_a_kickoff_and_a_try_are_called():
    kick, try_ = due(Next.KICKOFF), due(Next.TRY)
    assert fold(NFHS, kick, Play(K.KICKOFF, kick_to=80, spot=80)).result == "received"
    assert fold(NFHS, kick, Play(K.KICKOFF, O.RETURNED, kick_to=90, spot=70)).result == "returned"
    assert fold(NFHS, try_, Play(K.TRY_RUN, O.GOOD)).result == "two-point try good"
    assert fold(NFHS, try_, Play(K.TRY_KICK, O.NO_GOOD)).result == "try no good"


@pytest.mark.parametrize(("play", "certain"), [
    (Play(K.PASS, O.INTERCEPTED, spot=60), True), (Play(K.PASS, O.INTERCEPTED), False),
    (Play(K.RUN, events=fumble(45, 46)), True), (Play(K.RUN, events=fumble(45)), False), (Play(K.RUN), False),
    (Play(K.FIELD_GOAL, O.BLOCKED, possession=DEF), False), (Play(K.FIELD_GOAL, O.NO_GOOD), True),
    (Play(K.RUN, gain=20, fouls=(Foul("defensive holding", DEF, decision=FoulDecision.DECLINED),)), True),
])
def test_what_was_not_said_is_assumed_and_told(play, certain):
    step = fold(NFHS, snap(), play)
    assert step.certainty is (Certainty.CERTAIN if certain else Certainty.ASSUMED)
    assert certain or "(" in step.explanation


def test_a_turnover_that_ends_in_the_end_zone_changes_possession():
    for play in (Play(K.PASS, O.TOUCHBACK), Play(K.RUN, O.TOUCHBACK, events=fumble(95))):
        step = fold(NFHS, snap(), play)
        assert told(step) == ("scrimmage", VISITORS, 1, 10, 20) and step.possession_changed
        assert step.result == "touchback" and step.after.drive == 2


def test_a_blocked_field_goal_is_taken_from_the_holder_seven_yards_behind():
    """Common practice, no source: the holder kneels seven yards behind the line."""
    assert told(fold(NFHS, snap(4, 8, 70), Play(K.FIELD_GOAL, O.BLOCKED, possession=DEF))) == (
        "scrimmage", VISITORS, 1, 10, 37)


def test_a_free_kick_belongs_to_the_kickers_from_the_tenth_yard_on():
    """NFHS 6-1-6, 6-1-7; NCAA 6-1-3: it must travel ten yards or be touched by the receivers."""
    def muffed(at):
        events = (BallEvent(E.MUFF, at, OFF), BallEvent(E.RECOVERY, at, OFF))
        return fold(NFHS, due(Next.KICKOFF), Play(K.KICKOFF, kick_to=at, events=events))

    assert told(muffed(49)) == ("scrimmage", VISITORS, 1, 10, 51) and not muffed(49).choices
    assert told(muffed(50)) == ("scrimmage", HOME, 1, 10, 50) and not muffed(50).choices


def test_a_run_try_has_its_own_spot_where_the_kick_was_moved_back():
    """Official Playing Rules of the NFL 2015, 11-3-1: kick from the 15, run or pass from the 2."""
    book = load_rulebook("professional", 2015)
    spots = [try_spot(book, replace(due(Next.TRY, book), ball_on=on), K.TRY_RUN) for on in (80, 85, 90, 98, 99)]
    assert spots == [93, 98, 99, 98, 99]
    assert try_spot(book, replace(due(Next.TRY, book), ball_on=90), K.TRY_KICK) == 90


def test_a_persons_word_on_the_score():
    single = fold(CANADIAN, due(Next.KICKOFF, CANADIAN), Play(K.KICKOFF, score=Score.SINGLE))
    assert single.points_home == 1 and single.result == "single point"
    none = Play(K.PASS, O.INTERCEPTED, spot=100, score=Score.NONE)      # downed in the end zone, NFHS 8-5-3
    assert told(fold(NFHS, snap(), none))[1:] == (VISITORS, 1, 10, 20)
    assert told(fold(NFHS, snap(), replace(none, spot=90)))[1:] == (VISITORS, 1, 10, 10)


# Where a tag was left out


def test_a_kickoff_in_the_middle_of_the_second_quarter_begins_the_second_half():
    late = snap(period=2, second_half_kicker=VISITORS)
    step = fold(NFHS, late, Play(K.KICKOFF, O.TOUCHBACK))
    assert step.after.period == 3 and step.after.offense is HOME and step.problems
    step = fold(NFHS, replace(late, period=1), Play(K.KICKOFF, O.TOUCHBACK))
    assert step.after.period == 1 and step.after.offense is VISITORS and step.problems
    step = fold(NFHS, due(Next.TRY, period=2), Play(K.KICKOFF, O.TOUCHBACK))
    assert step.after.period == 2 and step.after.offense is VISITORS


def test_a_run_where_the_kickoff_was_left_out_begins_the_receivers_drive():
    step = fold(NFHS, due(Next.KICKOFF), Play(K.RUN, gain=3))
    assert told(step) == ("scrimmage", VISITORS, 2, 7, 23) and step.problems
    assert (step.after.series, step.after.drive) == (2, 2)
    step = fold(CANADIAN, due(Next.KICKOFF, CANADIAN), Play(K.RUN, gain=3))     # its choice after a field goal
    assert told(step) == ("scrimmage", VISITORS, 2, 7, 38) and not step.problems and step.after.drive == 2


def test_a_game_without_its_toss():
    (step,) = track(NFHS, [Play(K.KICKOFF, O.TOUCHBACK, team=VISITORS)])
    assert step.before.offense is None or step.before.offense is VISITORS
    assert step.after.offense is HOME and not step.problems and step.after.extra_first is None
    (step,) = track(NFHS, [Play(K.KICKOFF, O.TOUCHBACK)])
    assert step.after.offense is VISITORS and "toss" in step.problems[0]
    (step,) = track(NFHS, [Play(K.RUN, gain=2, team=VISITORS)])
    assert told(step) == ("scrimmage", VISITORS, 2, 8, 22) and (step.after.series, step.after.drive) == (1, 1)
    extra = Situation(Next.COIN_TOSS, None, period=5)
    assert fold(NFL, extra, Play(K.KICKOFF, O.TOUCHBACK, team=VISITORS)).after.extra_first is HOME
    assert told(fold(NCAA, extra, Play(K.RUN, gain=2, team=VISITORS))) == ("scrimmage", VISITORS, 2, 8, 77)


def test_a_team_set_by_hand_keeps_the_place_of_the_ball():
    step = fold(NFHS, snap(), Play(K.RUN, gain=0, override=SituationOverride(offense=VISITORS)))
    assert step.after.offense is VISITORS and step.after.ball_on == 60
    step = fold(NFHS, snap(1, 6, 94), Play(K.RUN, gain=0, override=SituationOverride(ball_on=96)))
    assert (step.before.goal_to_go, step.after.goal_to_go, step.after.yards_to_gain) == (True, True, 4)
    step = fold(NFHS, due(Next.KICKOFF), Play(K.TRY_KICK, O.GOOD, override=SituationOverride(next=Next.TRY)))
    assert step.before.ball_on == 97 and step.points_home == 1


# Penalties


def test_what_is_said_of_a_foul():
    declined = fold(NFHS, snap(), Play(K.RUN, gain=20, fouls=(
        Foul("defensive holding", DEF, decision=FoulDecision.DECLINED),)))
    assert "defensive holding declined" in declined.explanation and told(declined)[2:] == (1, 10, 60)
    better = fold(NFHS, snap(2, 8, 5), Play(K.PASS, O.INCOMPLETE, fouls=(Foul("holding", OFF, spot=2),)))
    assert told(better)[2:] == (3, 8, 5) and better.certainty is Certainty.ASSUMED
    assert any("accepted" in choice for choice in better.choices)
    automatic = fold(NFHS, snap(), Play(K.RUN, gain=30, fouls=(Foul("defensive holding", DEF, spot=42),)))
    assert automatic.result == "first down by penalty" and automatic.first_down
    dead = fold(NFHS, snap(), Play(K.RUN, gain=3, fouls=(Foul("unsportsmanlike conduct", OFF),)))
    assert told(dead)[2:] == (3, 20, 28) and "15 from the succeeding spot at own 43" in dead.explanation
    elsewhere = Foul("unsportsmanlike conduct", OFF, enforced_from=60)
    assert told(fold(NFHS, snap(), Play(K.RUN, gain=3, fouls=(elsewhere,))))[2:] == (3, 3, 45)


def test_a_no_play_has_no_dead_ball_spot():
    step = fold(NFHS, snap(), Play(K.NO_PLAY, fouls=(Foul("false start", OFF),)))
    assert step.dead_ball_on is None and step.result == "down repeated" and step.down_repeated


def test_a_hold_on_the_own_goal_line_is_a_safety():
    """NFHS 8-5-2c: the goal line is part of the end zone (2-17-1)."""
    for spot in (0.0, -1.0):
        step = fold(NFHS, snap(2, 8, 5), Play(K.PASS, O.INCOMPLETE, fouls=(Foul("holding", OFF, spot=spot),)))
        assert step.points_visitors == 2 and step.after.next is Next.SAFETY_FREE_KICK


def test_a_foul_after_a_touchdown_on_the_try_or_the_kickoff():
    """NFHS 8-2-4, 8-2-5; half the distance: 10-1-5."""
    def touchdown(*fouls):
        return fold(NFHS, snap(), Play(K.RUN, score=Score.TOUCHDOWN, fouls=fouls)).after

    ours, theirs = Foul("unsportsmanlike conduct", OFF), Foul("unsportsmanlike conduct", DEF)
    assert touchdown(replace(ours, at=EnforcedAt.TRY)).ball_on == 82
    assert touchdown(replace(theirs, at=EnforcedAt.TRY)).ball_on == 98.5
    assert (touchdown(ours).ball_on, touchdown(ours).kickoff_moved) == (97, -15)
    assert touchdown(theirs).kickoff_moved == 15
    assert touchdown(ours, ours).kickoff_moved == -27.5     # from the 25 only half the way to the goal line


# Corrections


def test_what_a_measurement_shows():
    played = fold(NFHS, snap(), Play(K.TIMEOUT, team=HOME))
    short = track(NFHS, [Play(K.RUN, gain=8), Play(K.MEASUREMENT, spot=47.9)], played)[-1]
    assert short.result == "measured: short" and short.after.down == 3 and not short.first_down
    made = track(NFHS, [Play(K.RUN, gain=7.9), Play(K.MEASUREMENT, spot=48)], played)[-1]
    assert made.result == "measured: first down" and made.first_down and made.after.series == 2


def test_a_reversal_keeps_what_it_does_not_name():
    played = fold(NFHS, snap(), Play(K.TIMEOUT, team=HOME))
    first, reversed_ = track(NFHS, [
        Play(K.RUN, gain=8, fouls=(Foul("holding", OFF, spot=44),)), Play(K.REPLAY_REVERSAL, spot=46)], played)
    assert told(first) == told(reversed_) == ("scrimmage", HOME, 2, 14, 34)
    run, challenge, corrected = track(NFHS, [
        Play(K.RUN, gain=8), Play(K.TIMEOUT, team=HOME),
        Play(K.REPLAY_REVERSAL, spot=46, override=SituationOverride(down=3))], played)
    assert challenge.about is run
    assert told(corrected)[2:] == (3, 2, 46) and corrected.certainty is Certainty.CONTRADICTED
    assert corrected.after.timeouts_home == challenge.after.timeouts_home


# Extra periods


def extra_period(book, *plays):
    end = fold(book, snap(period=4, second_half_kicker=HOME), Play(K.END_OF_PERIOD))
    toss = Play(K.COIN_TOSS, team=HOME, choice="receive")
    return track(book, [toss, Play(K.KICKOFF, O.TOUCHBACK), *plays], end)


@pytest.mark.parametrize("book", [NFL, PLAYOFFS], ids=["season", "playoffs"])
def test_after_a_field_goal_each_the_next_score_wins(book):
    """Official Playing Rules of the NFL 2013, 16-1-3 and 16-1-4."""
    goal, kickoff = Play(K.FIELD_GOAL, O.GOOD), Play(K.KICKOFF, O.TOUCHBACK)
    steps = extra_period(book, goal, kickoff, goal, kickoff, Play(K.RUN, gain=3), goal)
    assert [step.after.next for step in steps[2:]] == [
        Next.KICKOFF, Next.SCRIMMAGE, Next.KICKOFF, Next.SCRIMMAGE, Next.SCRIMMAGE, Next.OVER]
    assert [step.after.extra_turn for step in steps[1:5]] == [1, 2, 2, 3]
    held = extra_period(book, goal, kickoff, Play(K.PASS, O.INTERCEPTED, spot=60))
    assert held[-1].after.next is Next.OVER and held[-1].after.score_home == 3


def test_a_safety_on_the_first_possession_ends_the_game():
    """Official Playing Rules of the NFL 2013, 16-1-3a."""
    assert extra_period(NFL, Play(K.SACK, score=Score.SAFETY))[-1].after.next is Next.OVER


def test_a_touchdown_on_the_second_possession_ends_the_game():
    steps = extra_period(NFL, Play(K.FIELD_GOAL, O.GOOD), Play(K.KICKOFF, O.TOUCHBACK),
                         Play(K.RUN, score=Score.TOUCHDOWN))
    assert steps[-1].after.next is Next.OVER and steps[-1].after.score_visitors == 6


def test_a_playoff_still_tied_is_played_on_into_the_next_period():
    tied = snap(period=5, extra_turn=3, extra_first=HOME)
    assert fold(PLAYOFFS, tied, Play(K.END_OF_PERIOD)).after.period == 6
    assert fold(NFL, tied, Play(K.END_OF_PERIOD)).after.next is Next.OVER


def test_a_hold_before_an_interception_is_declined():
    step = fold(NCAA, snap(), Play(K.PASS, O.INTERCEPTED, spot=60, fouls=(Foul("holding", OFF, spot=35),)))
    assert step.after.offense is VISITORS and step.after.ball_on == 40      # declined: the interception is worth more


# More of what faults put into the rules went unnoticed in


def test_a_try_or_a_kick_of_which_nothing_is_said():
    unsaid, missed = (fold(NFHS, due(Next.TRY), Play(K.TRY_KICK, outcome)) for outcome in (None, O.NO_GOOD))
    assert unsaid.certainty is Certainty.ASSUMED and missed.certainty is Certainty.CERTAIN
    assert unsaid.after == missed.after and missed.points_home == 0
    # NFHS 8-5-3: a kick across the goal line is dead there; in college it may be returned, so nothing said is a guess.
    deep = Play(K.KICKOFF, kick_to=102)
    assert fold(NFHS, due(Next.KICKOFF), deep).certainty is Certainty.CERTAIN
    assert fold(NCAA, due(Next.KICKOFF, NCAA), deep).certainty is Certainty.ASSUMED
    assert "cannot count" in fold(NFHS, due(Next.KICKOFF), replace(deep, spot=70)).problems[0]
    assert not fold(NFHS, due(Next.KICKOFF), deep).problems


@pytest.mark.parametrize(("period", "clock", "down", "at"), [
    (2, 100, 2, 45), (4, 119, 2, 45), (2, 121, 2, 50), (1, 100, 2, 50), (3, 100, 2, 50), (2, None, 2, 50),
    (1, 500, 4, 45),
])
def test_only_the_fumbler_advances_late_in_a_half_and_on_fourth_down(period, clock, down, at):
    """Official Playing Rules of the NFL 2013, 8-7-5 and 8-7-6: after the two-minute warning, and on fourth down."""
    step = fold(NFL, snap(down, 4, period=period, clock=clock), Play(K.RUN, events=fumble(45, 50)))
    assert step.dead_ball_on == at


def test_a_lost_fumble_begins_a_drive():
    step = fold(NFHS, snap(), Play(K.RUN, events=fumble(45, 46, DEF)))
    assert step.possession_changed and (step.after.series, step.after.drive) == (2, 2) and not step.first_down


def test_what_a_toss_may_be():
    toss = Play(K.COIN_TOSS, team=HOME, choice="defer")
    (first,) = track(NFHS, [toss])
    assert not first.problems and first.result == "toss to the home team, who defer" and first.after.offense is HOME
    (other,) = track(NFHS, [replace(toss, team=VISITORS, choice="receive")])
    assert other.result == "toss to the visitors, who receive" and other.after.second_half_kicker is VISITORS
    extra = fold(NFHS, Situation(Next.COIN_TOSS, None, period=5), toss)
    assert "cannot be deferred" in extra.problems[0]        # NCAA 3-1-3, NFHS 3-1 (both from memory)
    again = fold(NFHS, snap(), toss)
    assert again.after == again.before and again.problems


def test_what_is_tagged_after_the_end_is_told():
    over = fold(NFHS, replace(snap(period=4), score_home=7), Play(K.END_OF_PERIOD))
    assert over.after.next is Next.OVER
    assert "the game is over" in fold(NFHS, over.after, Play(K.RUN, gain=5)).problems[0]
    step = fold(NFHS, over.after, Play(K.NO_PLAY, fouls=(Foul("false start", OFF),)))
    assert "the game is over" in step.problems[0] and step.after == over.after


def test_the_ends_are_changed_between_quarters():
    """NFHS 3-1-5, NCAA 3-2-1: at the end of the first and third periods the teams change goals."""
    for faces, turned in ((True, False), (False, True), (None, None)):
        step = fold(NFHS, snap(home_faces_right=faces), Play(K.END_OF_PERIOD))
        assert step.after.home_faces_right is turned and step.after.period == 2
        assert told(step)[1:] == (HOME, 2, 8, 40)


def test_what_a_hand_sets_and_what_it_leaves():
    moved = replace(due(Next.KICKOFF), ball_on=25, kickoff_moved=-15)
    assert fold(NFHS, moved, Play(K.TIMEOUT, override=SituationOverride(score_home=3))).before.ball_on == 25
    due_try = Play(K.TIMEOUT, override=SituationOverride(next=Next.TRY, ball_on=90))
    assert fold(NFHS, snap(), due_try).before.ball_on == 90
    kickoff = fold(NFHS, replace(snap(), offense=VISITORS),
                   Play(K.TIMEOUT, override=SituationOverride(next=Next.KICKOFF))).before
    assert (kickoff.offense, kickoff.ball_on, kickoff.down, kickoff.goal_to_go) == (VISITORS, 40, None, False)
    near = fold(NFHS, snap(), Play(K.TIMEOUT, override=SituationOverride(ball_on=96, yards_to_gain=10))).before
    assert (near.yards_to_gain, near.goal_to_go) == (4, True)
    toss = fold(NFHS, snap(1, 6, 94), Play(K.TIMEOUT, override=SituationOverride(next=Next.COIN_TOSS))).before
    assert (toss.down, toss.yards_to_gain, toss.goal_to_go) == (None, None, False)


def test_a_penalty_on_the_try_after_a_return():
    """NFHS 8-2-4: half the distance for whoever is to try, whichever way they go."""
    theirs = Foul("unsportsmanlike conduct", OFF, at=EnforcedAt.TRY)
    step = fold(NFHS, snap(), Play(K.PASS, O.INTERCEPTED, score=Score.TOUCHDOWN, fouls=(theirs,)))
    assert told(step) == ("try", VISITORS, None, None, 98.5) and step.points_visitors == 6
    later = fold(NFHS, snap(), Play(K.RUN, score=Score.TOUCHDOWN, fouls=(Foul("unsportsmanlike conduct", DEF),)))
    assert any("on the try" in choice for choice in later.choices)


def test_a_good_kick_is_kept_in_spite_of_a_foul_by_the_defense():
    """Common practice, no source: the point is kept; NFHS 8-3-5 (from memory) leaves the choice to the offended
    team."""
    step = fold(NFHS, due(Next.TRY), Play(K.TRY_KICK, O.GOOD, fouls=(Foul("defensive holding", DEF),)))
    assert step.points_home == 1 and step.after.next is Next.KICKOFF


def test_who_takes_a_penalty_on_a_try():
    missed = fold(NFHS, due(Next.TRY), Play(K.TRY_KICK, O.NO_GOOD, fouls=(Foul("roughing the kicker", DEF),)))
    assert told(missed) == ("try", HOME, None, None, 98.5) and missed.down_repeated
    lost = fold(NFHS, due(Next.TRY), Play(K.TRY_PASS, O.GOOD, fouls=(Foul("illegal forward pass", OFF, spot=97),)))
    assert lost.points_home == 0 and lost.after.next is Next.KICKOFF        # NFHS 8-3-5: loss of down ends the try
    assert lost.result == "try no good"


def test_a_block_in_the_back_during_the_return_of_a_punt():
    """NFHS 10-4-4c with 10-4-6: behind the end of the return the returners' foul is its own spot."""
    block = Foul("illegal block in the back", DEF, spot=75)
    step = fold(NFHS, snap(4), Play(K.PUNT, O.RETURNED, kick_to=80, spot=70, fouls=(block,)))
    assert told(step) == ("scrimmage", VISITORS, 1, 10, 15)


def test_first_touching_is_a_choice_where_the_play_was_better():
    """NFHS 6-1-7: the receivers may take the ball at the spot of first touching."""
    events = (BallEvent(E.MUFF, 49, OFF), BallEvent(E.RECOVERY, 48, DEF))
    step = fold(NFHS, due(Next.KICKOFF), Play(K.KICKOFF, kick_to=49, spot=30, events=events))
    assert told(step) == ("scrimmage", VISITORS, 1, 10, 70)
    assert any("touched first" in choice for choice in step.choices)


def test_a_measurement_after_a_reversal_is_about_the_corrected_play():
    played = fold(NFHS, snap(), Play(K.TIMEOUT, team=HOME))
    *_, measured = track(NFHS, [Play(K.RUN, gain=8), Play(K.REPLAY_REVERSAL, spot=46),
                                Play(K.MEASUREMENT, O.SHORT)], played)
    assert measured.dead_ball_on == 46 and told(measured)[2:] == (3, 2, 46)


def test_a_reversed_score_comes_off_what_there_was():
    """NCAA 12-3-1: what replay reverses is corrected; the points before the play stay."""
    played = fold(NFHS, snap(score_home=7, score_visitors=3), Play(K.TIMEOUT, team=HOME))
    reversal = Play(K.REPLAY_REVERSAL, spot=99, score=Score.NONE)
    *_, corrected = track(NFHS, [Play(K.RUN, score=Score.TOUCHDOWN), reversal], played)
    assert (corrected.points_home, corrected.after.score_home, corrected.points_visitors) == (-6, 7, 0)
    lost = Play(K.PASS, O.INTERCEPTED, score=Score.TOUCHDOWN)
    *_, corrected = track(NFHS, [lost, Play(K.REPLAY_REVERSAL, spot=45, score=Score.NONE)], played)
    assert (corrected.points_visitors, corrected.after.score_visitors, corrected.points_home) == (-6, 3, 0)


def test_a_reversal_of_the_clock_alone_leaves_the_play():
    """NCAA 12-3-6: replay may correct the clock alone."""
    played = fold(NFHS, snap(), Play(K.TIMEOUT, team=HOME))
    run, corrected = track(NFHS, [Play(K.RUN, gain=5, clock=130), Play(K.REPLAY_REVERSAL, clock=125)], played)
    assert told(run) == told(corrected) == ("scrimmage", HOME, 3, 3, 45)


def test_a_failed_try_on_the_second_possession_leaves_the_first_team_ahead():
    """Official Playing Rules of the NFL 2025, 16-1-3 (from memory): both teams possess; then whoever is ahead wins."""
    book = load_rulebook("professional", 2025)
    ours = [Play(K.RUN, score=Score.TOUCHDOWN), Play(K.TRY_KICK, O.GOOD), Play(K.KICKOFF, O.TOUCHBACK),
            Play(K.RUN, score=Score.TOUCHDOWN)]
    failed = extra_period(book, *ours, Play(K.TRY_KICK, O.NO_GOOD))[-1].after
    assert failed.next is Next.OVER and abs(failed.score_home - failed.score_visitors) == 1
    assert extra_period(book, *ours, Play(K.TRY_KICK, O.GOOD))[-1].after.next is Next.KICKOFF
    assert extra_period(book, *ours, Play(K.TRY_RUN, O.GOOD))[-1].after.next is Next.OVER


def test_nobody_scores_with_a_ball_that_nobody_holds():
    """NCAA 8-2-1: a touchdown takes a ball in possession; a muff is none (2-11-2)."""
    loose = (BallEvent(E.LATERAL, 96, OFF), BallEvent(E.MUFF, 101, OFF))
    assert fold(NCAA, snap(), Play(K.RUN, events=loose)).points_home == 0
    held = (*loose, BallEvent(E.RECOVERY, 101, OFF))
    assert fold(NCAA, snap(), Play(K.RUN, events=held)).points_home == 6


def test_a_foul_of_five_yards_is_disregarded_beside_one_of_fifteen():
    """NFL 14-5-1 (from memory): the fifteen are marked off, the five are not."""
    fouls = (Foul("illegal formation", OFF), Foul("roughing the passer", DEF))
    step = fold(NFL, snap(), Play(K.PASS, O.INCOMPLETE, fouls=fouls))
    assert "illegal formation disregarded" in step.explanation
    assert "roughing the passer disregarded" not in step.explanation


def test_a_blocked_punt_that_is_kept_where_it_lies_is_no_return():
    """NCAA 2-23 and 7-2-5: a ball that is dead where it was recovered was not advanced."""
    kept = Play(K.PUNT, O.BLOCKED, kick_to=30, possession=DEF)
    assert fold(NCAA, snap(3), kept).result == "punt"
    assert fold(NCAA, snap(3), replace(kept, spot=20)).result == "punt returned"


def test_the_momentum_of_the_team_that_won_the_ball_back():
    """NCAA 8-5-1 (the exception, from memory): the ball stays where it was gained only if it dies in the end zone."""
    def won_back(end):
        events = (BallEvent(E.INTERCEPTION, 45, DEF), BallEvent(E.FUMBLE, 20, DEF), BallEvent(E.RECOVERY, 3, OFF),
                  BallEvent(E.MOMENTUM, 3, OFF))
        return fold(NCAA, snap(), Play(K.PASS, O.INTERCEPTED, events=events, spot=end))

    assert [told(won_back(end)) for end in (-2, 0, .5)] == [("scrimmage", HOME, 1, 10, spot) for spot in (3, 3, .5)]


def test_momentum_is_a_choice_within_five_yards_of_the_goal_line():
    """NCAA 8-5-1, NFHS 8-5-2: between the five-yard line and the goal line; from farther out it is a safety."""
    def offered(book, gained):
        events = (BallEvent(E.INTERCEPTION, gained, DEF),)
        step = fold(book, snap(), Play(K.PASS, O.INTERCEPTED, events=events, spot=102))
        assert step.points_home == 2
        return any("momentum" in choice for choice in step.choices)

    assert [[offered(book, gained) for gained in (94, 94.5, 95.5, 99)] for book in (NCAA, NFHS)] == [
        [False, False, True, True]] * 2
