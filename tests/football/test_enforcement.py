"""Penalties as mechanisms: where from, how far, what it does to the down, and who would take it.

Each code's own rulings are in tests/outside/rulebook_cases; here the mechanisms that they share.
"""

from __future__ import annotations

from dataclasses import replace

import pytest

from workstation.football.field import Team
from workstation.football.plays import EnforcedAt, Foul, FoulDecision, FoulTime, Outcome, Play, PlayKind, Score, Side
from workstation.football.rulebook import load_rulebook
from workstation.football.situation import Next, Situation
from workstation.football.tracker import fold

K, O, OFF, DEF = PlayKind, Outcome, Side.OFFENSE, Side.DEFENSE
NFHS, NCAA, NFL = load_rulebook("nfhs"), load_rulebook("ncaa"), load_rulebook("professional", 2013)


def before(down=2, to_gain=8.0, on=40.0, **more) -> Situation:
    goal = to_gain >= 100 - on
    return Situation(Next.SCRIMMAGE, Team.HOME, down, min(to_gain, 100 - on), on, goal, series=1, drive=1, **more)


def step(play: Play, *fouls: Foul, rulebook=NFHS, situation=None):
    return fold(rulebook, situation or before(), replace(play, fouls=fouls))


def told(step) -> tuple:
    now = step.after
    return now.offense, now.down, now.yards_to_gain, now.ball_on


RUN = Play(K.RUN, gain=5)
FALL = Play(K.PASS, O.INCOMPLETE)


@pytest.mark.parametrize("rulebook", [NFHS, NCAA, NFL], ids=["nfhs", "ncaa", "professional"])
def test_before_the_snap_the_down_is_the_same_and_five_yards_go(rulebook):
    result = step(Play(K.NO_PLAY), Foul("false start", OFF), rulebook=rulebook)
    assert told(result) == (Team.HOME, 2, 13, 35) and result.down_repeated
    assert told(step(Play(K.NO_PLAY), Foul("encroachment", DEF), rulebook=NFHS)) == (Team.HOME, 2, 3, 45)


def test_half_the_distance():
    near = before(1, 10, 8)
    assert told(step(Play(K.NO_PLAY), Foul("false start", OFF), situation=near)) == (Team.HOME, 1, 14, 4)
    goal = before(1, 6, 94)
    assert told(step(Play(K.NO_PLAY), Foul("encroachment", DEF), situation=goal)) == (Team.HOME, 1, 3, 97)


def test_all_but_one():  # NFHS 10-4, NCAA 10-2-2: behind the end of the run the offense's foul is its own spot
    assert told(step(RUN, Foul("holding", OFF, spot=43)))[2:] == (15, 33)
    assert told(step(RUN, Foul("holding", OFF, spot=50)))[2:] == (13, 35)


def test_the_line_may_be_reached_all_the_same():
    long = step(Play(K.RUN, gain=40), Foul("holding", OFF, spot=70))
    assert told(long) == (Team.HOME, 1, 10, 60) and long.first_down


def test_loss_of_down_counts_and_on_the_last_down_turns_it_over():
    spot = Foul("illegal forward pass", OFF, spot=42)
    assert told(step(Play(K.PASS, O.COMPLETE, gain=9), spot))[1:] == (3, 11, 37)
    over = step(FALL, Foul("illegal forward pass", OFF, spot=42), situation=before(4))
    assert over.after.offense is Team.VISITORS and over.result == "turnover on downs"


def test_interference_differs_from_code_to_code():  # NFHS 7-5-10; NCAA 7-3-8; NFL 8-5
    foul = Foul("defensive pass interference", DEF, spot=68)
    long = before(3, 20)
    assert told(step(FALL, foul, rulebook=NFHS, situation=long)) == (Team.HOME, 3, 5, 55)
    assert told(step(FALL, foul, rulebook=NCAA, situation=long)) == (Team.HOME, 1, 10, 55)
    assert told(step(FALL, foul, rulebook=NFL, situation=long)) == (Team.HOME, 1, 10, 68)


def test_dead_ball_fouls_follow_the_play():
    made = step(Play(K.RUN, gain=9), Foul("unsportsmanlike conduct", OFF))
    assert told(made) == (Team.HOME, 1, 10, 34)
    short = step(RUN, Foul("unsportsmanlike conduct", OFF))
    assert told(short) == (Team.HOME, 3, 18, 30)
    lost = step(Play(K.RUN, gain=2), Foul("unsportsmanlike conduct", DEF), situation=before(4))
    assert told(lost) == (Team.VISITORS, 1, 10, 43)  # their own ball, fifteen back


def test_fouls_by_both_offset_and_the_down_is_played_again():
    both = step(RUN, Foul("holding", OFF, spot=41), Foul("face mask", DEF, spot=44))
    assert told(both) == (Team.HOME, 2, 8, 40) and both.down_repeated
    said = step(RUN, Foul("holding", OFF, decision=FoulDecision.OFFSET),
                Foul("face mask", DEF, decision=FoulDecision.OFFSET))
    assert told(said) == (Team.HOME, 2, 8, 40)


def test_of_two_fouls_by_one_team_the_dearer_is_taken():
    result = step(FALL, Foul("illegal formation", OFF), Foul("holding", OFF, spot=36))
    assert "holding, 10" in result.explanation and "illegal formation declined" in result.explanation


def test_what_a_captain_would_take_is_taken_and_the_other_choice_is_told():
    long = step(Play(K.RUN, gain=30), Foul("illegal formation", OFF))
    assert told(long) == (Team.HOME, 2, 13, 35) and long.choices
    taken = step(Play(K.PASS, O.INTERCEPTED, spot=60), Foul("holding", OFF, spot=38))
    assert taken.after.offense is Team.VISITORS and taken.choices
    assert "declined" in taken.explanation
    points = step(Play(K.FIELD_GOAL, O.GOOD), Foul("offside", DEF), situation=before(4, 3, 80), rulebook=NCAA)
    assert points.after.next is Next.KICKOFF


def test_a_persons_decision_and_enforcement_stand():
    declined = step(FALL, Foul("holding", OFF, decision=FoulDecision.DECLINED))
    assert told(declined) == (Team.HOME, 3, 8, 40)
    by_hand = step(RUN, Foul("holding", OFF, yards=7, enforced_from=44, decision=FoulDecision.ACCEPTED))
    assert told(by_hand)[3] == 37
    unknown = step(RUN, Foul("local rule", DEF, yards=5, automatic_first_down=True, decision=FoulDecision.ACCEPTED))
    assert told(unknown) == (Team.HOME, 1, 10, 45) and not unknown.problems


def test_a_foul_in_the_end_zone_is_a_safety():  # NFHS 8-5-2 c; NCAA 8-5-1
    result = step(RUN, Foul("holding", OFF, spot=-2), situation=before(2, 8, 4))
    assert result.after.next is Next.SAFETY_FREE_KICK and result.points_visitors == 2


def test_post_scrimmage_kick():  # NFHS 2-16-2 h, NCAA 10-2-3
    punt = Play(K.PUNT, O.FAIR_CATCH, kick_to=75)
    held = Foul("holding", DEF, spot=70, when=FoulTime.DURING_KICK)
    assert told(step(punt, held, situation=before(4))) == (Team.VISITORS, 1, 10, 15)
    behind = Foul("holding", DEF, spot=84, when=FoulTime.DURING_KICK)
    assert told(step(punt, behind, situation=before(4))) == (Team.VISITORS, 1, 10, 8)


def test_the_kickers_foul_is_added_or_the_kick_is_repeated():
    punt = Play(K.PUNT, O.RETURNED, kick_to=75, spot=60)
    foul = Foul("illegal formation", OFF, decision=FoulDecision.ACCEPTED)
    assert told(step(punt, foul, situation=before(4))) == (Team.VISITORS, 1, 10, 45)
    again = Foul("illegal formation", OFF, decision=FoulDecision.ACCEPTED, at=EnforcedAt.PREVIOUS_SPOT)
    assert told(step(punt, again, situation=before(4))) == (Team.HOME, 4, 13, 35)


def test_a_foul_by_the_team_scored_upon_is_carried_over():  # NFHS 8-2-2; NCAA 10-2-5
    scored = step(Play(K.RUN, gain=60), Foul("face mask", DEF, spot=60))
    assert scored.after.next is Next.TRY and scored.choices
    assert fold(NFHS, scored.after, Play(K.TRY_KICK, O.GOOD)).after.ball_on == 55
    on_try = step(Play(K.RUN, gain=60), Foul("face mask", DEF, spot=60, at=EnforcedAt.TRY))
    assert on_try.after.ball_on == 98.5


def test_a_foul_on_the_return_is_the_returners_own():
    back = Play(K.PASS, O.INTERCEPTED, spot=30, score=None)
    foul = Foul("illegal block in the back", DEF, spot=50, when=FoulTime.AFTER_POSSESSION_CHANGE)
    assert told(step(back, foul)) == (Team.VISITORS, 1, 10, 40)
    called = Play(K.PASS, O.INTERCEPTED, score=Score.TOUCHDOWN, possession=DEF)
    result = step(called, foul)
    assert told(result) == (Team.VISITORS, 1, 10, 40) and result.points_visitors == 0


def test_the_explanation_says_yards_spot_and_what_follows():
    line = step(RUN, Foul("holding", OFF, spot=41)).explanation
    assert line == "holding, 10 from the spot of foul at own 41; again 2nd & 17 at own 31"


def test_a_foul_the_rules_do_not_know_costs_nothing_wherever_it_is_said_to_be_enforced():
    foul = Foul("local rule", DEF, spot=44, at=EnforcedAt.SPOT_OF_FOUL, decision=FoulDecision.ACCEPTED)
    result = step(RUN, foul)
    assert told(result) == (Team.HOME, 2, 4, 44) and "no foul called 'local rule'" in result.problems[0]
