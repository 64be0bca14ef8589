"""Short sequences, each filmed right and wrong. Filmed right nothing is found, filmed wrong exactly what was
done wrong, where it belonged. What counts as right is common practice, no source."""

from __future__ import annotations

import pytest

from tests.coverage.camera_filming import FAULTS
from tests.coverage.filming import PROFILE, Filming, places
from workstation.coverage.profile import load_profile
from workstation.football.field import Team
from workstation.football.plays import Foul, FoulDecision, Outcome, PlayKind, Side
from workstation.football.situation import Next
from workstation.tagging.model import Framing, MomentKind, ShotKind

HOLDING = (Foul("holding", Side.OFFENSE, decision=FoulDecision.ACCEPTED),)
GRASPING = (Foul("facemask", Side.DEFENSE, decision=FoulDecision.ACCEPTED),)
PULLED_OUT = {"opens_on": ShotKind.DOWN_MARKER, "framing": Framing.CLOSE_TO_WIDE}

SEQUENCES = {}


def sequence(play_it):
    SEQUENCES[play_it.__name__] = play_it
    return play_it


# -- marker shot expected ----------------------------------------------------------------------------------------------


@sequence
def a_penalty_repeats_the_down(film: Filming, right: bool) -> None:
    film.at(2, 8, 40)
    film.run(6, fouls=HOLDING)
    film.signal()
    if right:
        film.marker()
    else:
        film.expect("marker shot expected")
    film.run(3)


@sequence
def a_run_ends_a_yard_short(film: Filming, right: bool) -> None:
    film.at(2, 6, 40)
    film.run(5)
    if right:
        film.marker()
    else:
        film.expect("marker shot expected")
    film.run(4)


@sequence
def a_run_just_makes_it(film: Filming, right: bool) -> None:
    film.at(2, 6, 40)
    film.run(6)
    if right:
        film.shot(ShotKind.SCOREBOARD, shows={"down", "score", "clock"})
    else:
        film.expect("marker shot expected")
    film.run(4)


@sequence
def a_measurement_comes_up_short(film: Filming, right: bool) -> None:
    film.at(2, 6, 40)
    film.play(PlayKind.PASS, Outcome.COMPLETE, gain=5.7)
    shot = film.shot(ShotKind.MEASUREMENT, 10, [(MomentKind.CHAINS_SET, 1), (MomentKind.RESULT_SHOWN, 5)],
                     Framing.CLOSE_TO_WIDE)
    film.event(PlayKind.MEASUREMENT, Outcome.SHORT, shot=shot)
    if right:
        film.marker()
    else:
        film.expect("marker shot expected")
    film.run(3)


@sequence
def a_timeout_on_second_down(film: Filming, right: bool) -> None:
    """Cut from the film it is no break for whoever watches."""
    film.at(1, 10, 40)
    film.run(3)
    film.event(PlayKind.TIMEOUT, team=Team.HOME)
    if not right:
        film.expect("marker shot not needed")
        film.marker()
    film.run(2)


@sequence
def a_timeout_left_on_the_film(film: Filming, right: bool) -> None:
    film.at(1, 10, 40)
    film.run(3)
    film.event(PlayKind.TIMEOUT, team=Team.HOME)
    if not right:
        film.expect("dead footage")
        film.shot(ShotKind.EXTRA, 90)
        film.expect("marker shot expected")
    film.run(2)


@sequence
def the_quarter_ends_on_second_down(film: Filming, right: bool) -> None:
    film.at(1, 10, 40)
    film.run(3)
    film.event(PlayKind.END_OF_PERIOD)
    film.scoreboard()
    if right:
        film.marker()
    else:
        film.expect("marker shot expected")
    film.run(2)


@sequence
def a_long_delay_for_an_injury(film: Filming, right: bool) -> None:
    film.at(1, 10, 40)
    film.run(3)
    if right:
        film.shot(ShotKind.INJURY, 8)
    else:
        film.expect("injury")
        film.shot(ShotKind.INJURY, 70)
        film.expect("marker shot expected")
    film.run(2)


# -- marker shot not needed --------------------------------------------------------------------------------------------


@sequence
def first_down_then_a_short_run(film: Filming, right: bool) -> None:
    film.at(1, 10, 30)
    film.run(3)
    if not right:
        film.expect("marker shot not needed")
        film.marker()
    film.run(2)


@sequence
def a_kick_changes_possession(film: Filming, right: bool) -> None:
    film.at(4, 8, 30)
    film.punt()
    if not right:
        film.expect("marker shot not needed")
        film.marker()
    film.run(2)


# -- pull-out opportunity ----------------------------------------------------------------------------------------------


@sequence
def a_fourth_down_attempt(film: Filming, right: bool) -> None:
    film.at(3, 6, 60)
    film.run(2)
    if right:
        film.run(5, wide=4.0, snap=8.5, **PULLED_OUT)
    else:
        film.expect("pull-out opportunity")
        film.run(5)


@sequence
def a_fourth_down_attempt_in_two_shots(film: Filming, right: bool) -> None:
    film.at(3, 6, 60)
    film.run(2)
    if right:
        film.run(5, wide=4.0, snap=8.5, **PULLED_OUT)
    else:
        film.expect("pull-out opportunity")
        film.marker()
        film.run(5)


@sequence
def a_pull_out_after_the_snap(film: Filming, right: bool) -> None:
    film.at(3, 6, 60)
    film.run(2)
    if not right:
        film.expect("pull-out opportunity", earlier=-5.0)
    film.run(5, wide=4.0 if right else 5.5, snap=8.5 if right else 5.0, **PULLED_OUT)


@sequence
def a_pull_out_that_leaves_no_time(film: Filming, right: bool) -> None:
    film.at(3, 6, 60)
    film.run(2)
    if not right:
        film.expect("pull-out opportunity", earlier=-6.5)
    film.run(5, wide=4.0 if right else 6.5, snap=8.5, **PULLED_OUT)


@sequence
def a_pull_out_much_too_early(film: Filming, right: bool) -> None:
    film.at(3, 6, 60)
    film.run(2)
    if not right:
        film.expect("pull-out opportunity", earlier=-1.0)
    film.run(5, wide=4.0 if right else 1.0, snap=8.5, **PULLED_OUT)


@sequence
def third_down_late_and_close(film: Filming, right: bool) -> None:
    film.at(2, 6, 60, period=4, score=(14, 17))
    film.run(2)
    if right:
        film.run(5, clock=100, wide=4.0, snap=8.5, **PULLED_OUT)
    else:
        film.expect("pull-out opportunity")
        film.run(5, clock=100)


# -- ready before the snap, longer hold ------------------------------------------------------------


@sequence
def wide_in_time(film: Filming, right: bool) -> None:
    film.at()
    if not right:
        film.expect("ready before the snap")
    film.run(3, wide=2.0 if right else 3.2)


@sequence
def wide_after_the_snap(film: Filming, right: bool) -> None:
    film.at()
    if not right:
        film.expect("ready before the snap", earlier=-4.0)
    film.run(3, wide=2.0 if right else 4.5)


@sequence
def a_shot_that_begins_at_the_snap(film: Filming, right: bool) -> None:
    film.at()
    if not right:
        film.expect("ready before the snap")
    film.run(3, wide=2.0 if right else None, snap=4.0 if right else 0.3)


@sequence
def the_camera_holds(film: Filming, right: bool) -> None:
    film.at()
    film.run(3, hold=2.0 if right else 0.8)
    if not right:
        film.expect("longer hold expected")
    film.run(3)


@sequence
def players_still_confront_each_other(film: Filming, right: bool) -> None:
    film.at()
    over = ((MomentKind.CONFRONTATION_OVER, 7.0),) if right else ()
    film.run(3, hold=9.0 if right else 4.0, more=((MomentKind.CONFRONTATION, 1.0), *over))
    if not right:
        film.expect("longer hold expected")
    film.run(3)


# -- the play in the picture -----------------------------------------------------------------------


@sequence
def the_snap_is_on_film(film: Filming, right: bool) -> None:
    film.at()
    if right:
        film.run(3)
    else:
        film.expect("snap not on film")
        film.run(3, wide=None, snap=None, lasts=None, hold=8.0, more=((MomentKind.SNAP_NOT_ON_FILM, 0.0),
                                                                    (MomentKind.DEAD_BALL, 4.0)))
    film.run(3)


@sequence
def the_shot_holds_the_whole_play(film: Filming, right: bool) -> None:
    film.at()
    if right:
        film.run(3)
    else:
        film.run(3, lasts=None, hold=3.0, more=((MomentKind.CUT_WHILE_LIVE, 2.8),))
        film.expect("cut while live", earlier=0.2)
    film.run(3)


@sequence
def the_play_is_framed_wide(film: Filming, right: bool) -> None:
    film.at()
    if not right:
        film.expect("framed too close")
    film.run(3, wide=0.5 if right else None, framing=Framing.WIDE if right else Framing.CLOSE)
    film.incomplete()


@sequence
def everybody_is_in_the_picture(film: Filming, right: bool) -> None:
    film.at()
    if not right:
        film.expect("not all in frame", earlier=-3.0)
    film.run(3, more=() if right else ((MomentKind.NOT_ALL_IN_FRAME, -5.0),))
    film.run(3)


@sequence
def the_ball_stays_in_the_picture(film: Filming, right: bool) -> None:
    film.at()
    if not right:
        film.expect("ball lost", earlier=-7.0)
    film.run(3, more=() if right else ((MomentKind.BALL_LOST, -1.0),))
    film.run(3)


@sequence
def the_zoom_is_settled(film: Filming, right: bool) -> None:
    film.at()
    if not right:
        film.expect("zoom not settled", earlier=-4.0)
    film.run(3, more=() if right else ((MomentKind.ZOOM_NOT_SETTLED, -4.0),))
    film.run(3)


@sequence
def the_board_is_kept_for_what_changed(film: Filming, right: bool) -> None:
    film.at()
    film.run(3)
    film.scoreboard()                   # one look is nothing to speak of
    film.run(2)
    if not right:
        film.expect("board too often")
        film.scoreboard()
    film.run(12)


# -- altercation -----------------------------------------------------------------------------------


WHOLE = [(MomentKind.CONFRONTATION, 1.0), (MomentKind.CONFRONTATION_OVER, 15.0)]


@sequence
def an_altercation_is_framed(film: Filming, right: bool) -> None:
    film.at(1, 10, 30)
    film.run(3)
    if not right:
        film.expect("altercation")
    film.shot(ShotKind.ALTERCATION, 18, WHOLE, Framing.WIDE if right else Framing.CLOSE)
    film.marker()
    film.run(2)


@sequence
def an_altercation_is_cut_in_two(film: Filming, right: bool) -> None:
    film.at(1, 10, 30)
    film.run(3)
    if right:
        film.shot(ShotKind.ALTERCATION, 18, WHOLE, Framing.WIDE)
    else:
        film.shot(ShotKind.ALTERCATION, 8, WHOLE[:1], Framing.WIDE)
        film.expect("altercation")
        film.shot(ShotKind.ALTERCATION, 8, WHOLE[1:0], Framing.WIDE)
    film.marker()
    film.run(2)


@sequence
def an_altercation_from_the_middle(film: Filming, right: bool) -> None:
    film.at(1, 10, 30)
    film.run(3)
    if not right:
        film.expect("altercation")
    film.shot(ShotKind.ALTERCATION, 18, WHOLE if right else WHOLE[1:], Framing.WIDE)
    film.marker()
    film.run(2)


@sequence
def an_altercation_cut_off(film: Filming, right: bool) -> None:
    film.at(1, 10, 30)
    film.run(3)
    film.shot(ShotKind.ALTERCATION, 18, WHOLE if right else WHOLE[:1], Framing.WIDE)
    if not right:
        film.expect("altercation")
    film.marker()
    film.run(2)


@sequence
def a_fight_nobody_filmed(film: Filming, right: bool) -> None:
    film.at(1, 10, 30)
    seen = ((MomentKind.CONFRONTATION, 1.0), (MomentKind.CONFRONTATION_OVER, 6.0)) if right else ()
    film.run(3, hold=8.0, more=seen, fouls=(Foul("fighting", Side.DEFENSE, decision=FoulDecision.ACCEPTED),))
    if not right:
        film.expect("altercation")
    film.signal()
    film.marker()
    film.run(2)


# -- injury ----------------------------------------------------------------------------------------


@sequence
def a_player_is_hurt(film: Filming, right: bool) -> None:
    film.at(1, 10, 30)
    hold = 5.0 if right else 20.0
    film.run(3, hold=hold, more=((MomentKind.CARE, 3.0),))
    if not right:
        film.expect("injury", earlier=hold - 3.0)
    film.marker()
    film.run(2)


@sequence
def care_filmed_on_its_own(film: Filming, right: bool) -> None:
    film.at(1, 10, 30)
    film.run(3)
    if right:
        film.shot(ShotKind.INJURY, 8)       # walks off, nothing of the care
    else:
        film.expect("injury", earlier=-1.0)
        film.shot(ShotKind.INJURY, 12, [(MomentKind.CARE, 1.0)])
    film.marker()
    film.run(2)


@sequence
def a_player_walks_off(film: Filming, right: bool) -> None:
    film.at(1, 10, 30)
    film.run(3)
    if not right:
        film.expect("injury")
    film.shot(ShotKind.INJURY, 8 if right else 25)
    film.marker()
    film.run(2)


# -- penalty signal --------------------------------------------------------------------------------


@sequence
def a_penalty_is_signalled(film: Filming, right: bool) -> None:
    film.at(2, 8, 40)
    film.run(2, fouls=GRASPING)
    if right:
        film.signal()
    else:
        film.expect("penalty signal expected")
    film.marker()
    film.run(3)


@sequence
def the_camera_keeps_rolling_for_the_signal(film: Filming, right: bool) -> None:
    film.at(2, 8, 40)
    film.run(2, fouls=GRASPING, hold=9.0, more=((MomentKind.SIGNAL, 6.0),) if right else ())
    if not right:
        film.expect("dead footage", earlier=9.0)
        film.expect("penalty signal expected")
    film.marker()
    film.run(3)


@sequence
def a_false_start_is_signalled(film: Filming, right: bool) -> None:
    film.at(1, 10, 30)
    film.run(3)
    film.foul_before_snap()
    if right:
        film.signal()
    else:
        film.expect("penalty signal expected")
    film.marker()
    film.run(2)


@sequence
def the_officials_confer(film: Filming, right: bool) -> None:
    film.at(2, 8, 40)
    film.run(2, fouls=GRASPING)
    if not right:
        film.expect("penalty signal expected")
    film.signal(after=2.0 if right else 25.0)
    film.marker()
    film.run(3)


# -- measurement -----------------------------------------------------------------------------------


def _measured(film: Filming, moments, framing=Framing.CLOSE_TO_WIDE, seconds=10.0, filmed=True) -> None:
    film.at(2, 6, 40)
    film.play(PlayKind.PASS, Outcome.COMPLETE, gain=6)
    start = film.now
    shot = film.shot(ShotKind.MEASUREMENT, seconds, moments, framing) if filmed else None
    film.event(PlayKind.MEASUREMENT, Outcome.MADE, shot=shot)
    film.start = start


def _after_measurement(film: Filming) -> None:
    """A first down that was seen to be made needs no marker; one whose result is not on film does."""
    if not any(moment.kind is MomentKind.RESULT_SHOWN for moment in film.moments):
        film.marker()
    film.run(3)


FIRST_STICK, RESULT = (MomentKind.CHAINS_SET, 1.0), (MomentKind.RESULT_SHOWN, 5.0)


@sequence
def a_measurement_is_filmed(film: Filming, right: bool) -> None:
    _measured(film, [FIRST_STICK, RESULT], filmed=right)
    if not right:
        film.expect("measurement")
    _after_measurement(film)


@sequence
def the_chains_come_onto_the_field(film: Filming, right: bool) -> None:
    planted = 1.0 if right else 12.0
    _measured(film, [(MomentKind.CHAINS_SET, planted), (MomentKind.RESULT_SHOWN, planted + 4)], seconds=planted + 9)
    if not right:
        film.expect("measurement", earlier=film.now - film.start)
    _after_measurement(film)


@sequence
def the_first_stick_is_missed(film: Filming, right: bool) -> None:
    _measured(film, [FIRST_STICK, RESULT] if right else [RESULT])
    if not right:
        film.expect("measurement", earlier=10.0)
    _after_measurement(film)


@sequence
def the_result_is_cut_off(film: Filming, right: bool) -> None:
    _measured(film, [FIRST_STICK, RESULT] if right else [FIRST_STICK])
    if not right:
        film.expect("measurement")
    _after_measurement(film)


@sequence
def the_measurement_is_seen_close(film: Filming, right: bool) -> None:
    _measured(film, [FIRST_STICK, RESULT], Framing.CLOSE_TO_WIDE if right else Framing.WIDE)
    if not right:
        film.expect("measurement", earlier=10.0)
    _after_measurement(film)


@sequence
def the_referee_calls_the_measurement(film: Filming, right: bool) -> None:
    """Close or not: the call is seen if the shot holds for it."""
    _measured(film, [FIRST_STICK, RESULT], Framing.CLOSE, seconds=10.0 if right else 5.5)
    if not right:
        film.expect("measurement")
    _after_measurement(film)


@sequence
def the_chains_walk_home(film: Filming, right: bool) -> None:
    _measured(film, [FIRST_STICK, RESULT], seconds=10.0 if right else 30.0)
    if not right:
        film.expect("measurement", earlier=25.0)
    _after_measurement(film)


# -- scoreboard ------------------------------------------------------------------------------------


@sequence
def a_touchdown_is_put_up(film: Filming, right: bool) -> None:
    film.at(1, 10, 90)
    film.run(10)
    film.play(PlayKind.TRY_KICK, Outcome.GOOD)
    if right:
        film.scoreboard()
    else:
        film.expect("scoreboard expected")
    film.play(PlayKind.KICKOFF, Outcome.RETURNED, kick_to=90, spot=70)
    film.run(3)


@sequence
def a_field_goal_is_put_up_a_play_later(film: Filming, right: bool) -> None:
    film.at(4, 8, 80)
    film.play(PlayKind.FIELD_GOAL, Outcome.GOOD)
    if not right:
        film.expect("scoreboard expected")
    film.play(PlayKind.KICKOFF, Outcome.RETURNED, kick_to=90, spot=70)
    if right:
        film.scoreboard()
    film.run(3)


@sequence
def the_quarter_ends(film: Filming, right: bool) -> None:
    film.at(1, 10, 30)
    film.run(3)
    film.event(PlayKind.END_OF_PERIOD)
    if right:
        film.scoreboard()
    else:
        film.expect("scoreboard expected")
    film.marker()
    film.run(2)


# -- missing play ----------------------------------------------------------------------------------


@sequence
def a_play_got_away(film: Filming, right: bool) -> None:
    film.at(1, 10, 30)
    film.run(3)
    if right:
        film.run(2)
    else:
        film.event(PlayKind.RUN, gain=2)
        film.expect("missing play")
        film.marker()
    film.run(1)


@sequence
def a_stop_and_the_other_teams_ball(film: Filming, right: bool) -> None:
    film.at(3, 8, 30)
    film.run(3)
    if right:
        film.punt()
    else:
        film.expect("missing play")
        film.marker()
        film.at(1, 10, 25, offense=Team.VISITORS)
    film.run(2)


@sequence
def a_score_out_of_nothing(film: Filming, right: bool) -> None:
    film.at(1, 10, 60)
    film.run(3)
    if not right:
        film.expect("missing play")
        film.at(1, 10, 25, offense=Team.VISITORS, score=(7, 0))
        film.marker()
    film.run(2)


# -- dead footage ----------------------------------------------------------------------------------


@sequence
def the_huddle_is_not_filmed(film: Filming, right: bool) -> None:
    film.at()
    if not right:
        film.expect("dead footage")
    film.run(3, snap=8.0 if right else 30.0)


@sequence
def the_shot_ends_after_the_play(film: Filming, right: bool) -> None:
    film.at()
    film.run(3, hold=5.0 if right else 25.0)
    if not right:
        film.expect("dead footage", earlier=25.0)
    film.run(3)


@sequence
def an_extra_in_the_middle_of_a_series(film: Filming, right: bool) -> None:
    film.at(3, 8, 30)
    film.run(3)
    if not right:
        film.expect("dead footage")
        film.shot(ShotKind.EXTRA, 6)
    film.punt()
    if right:
        film.shot(ShotKind.EXTRA, 6)
    film.run(2)


@pytest.mark.parametrize("name", SEQUENCES)
def test_filmed_right(name):
    film = Filming()
    SEQUENCES[name](film, True)
    assert places(film.check()) == []


@pytest.mark.parametrize("name", SEQUENCES)
def test_filmed_wrong(name):
    film = Filming()
    SEQUENCES[name](film, False)
    assert film.expected, "a wrong filming says what is wrong with it"
    assert places(film.check()) == sorted(film.expected, key=lambda place: place[1])


def test_every_rule_is_broken_by_some_sequence():
    """The first and last shots and the whole film's length have games of their own below; what is measured has its own
    in :mod:`tests.coverage.test_camera_rules`."""
    broken = set()
    for play_it in SEQUENCES.values():
        film = Filming()
        play_it(film, False)
        broken |= {rule for rule, _ in film.expected}
    apart = {"coin toss expected", "final scoreboard expected", "handshake expected", "film length",
             "marker before every play", *(fault.rule for fault in FAULTS.values()), "even pull-out"}
    assert broken | apart == {rule.name for rule in PROFILE.rules}


# -- whole games: first and last shots -------------------------------------------------------------


def whole_game(*, toss="first", board=True, handshake=True, eased=True, hold=5.0, order="board first",
               wait=4.0) -> Filming:
    """A very short game, filmed from the coin toss to the handshake."""
    film = Filming(whole=True)
    if toss == "first":
        shot = film.shot(ShotKind.COIN_TOSS, 8)
    else:
        film.expect("coin toss expected")
    film.event(PlayKind.COIN_TOSS, team=Team.VISITORS, choice="receive", shot=shot if toss == "first" else None)
    film.play(PlayKind.KICKOFF, Outcome.RETURNED, kick_to=90, spot=70)
    if toss == "late":
        film.shot(ShotKind.COIN_TOSS, 8)
    film.play(PlayKind.FIELD_GOAL, Outcome.GOOD, snap=wait)
    for _ in range(3):
        film.event(PlayKind.END_OF_PERIOD)
        film.scoreboard()
        if film.steps()[-1].after.next is Next.KICKOFF:
            film.play(PlayKind.KICKOFF, Outcome.RETURNED, kick_to=90, spot=70)
        else:
            film.marker()
            film.run(12, clock=600)
    film.event(PlayKind.END_OF_PERIOD)

    def shake():
        film.shot(ShotKind.HANDSHAKE, 4 + hold, [(MomentKind.FULL_WIDE, 4.0)],
                  Framing.CLOSE_TO_WIDE if eased else Framing.CLOSE)

    if order == "board first":
        if board:
            film.scoreboard()
        else:
            film.expect("final scoreboard expected")
        if handshake:
            if not eased:
                film.expect("handshake expected")
            shake()
            if hold < 3 and eased:
                film.expect("handshake expected")
        elif board:                     # neither of the two is told once
            film.expect("handshake expected")
    else:                               # in which order they come is nobody's concern
        shake()
        film.scoreboard()
    return film


@pytest.mark.parametrize("wrong", [
    {}, {"toss": "none"}, {"toss": "late"}, {"board": False}, {"handshake": False},
    {"board": False, "handshake": False}, {"eased": False}, {"hold": 1.0}, {"order": "handshake first"},
], ids=lambda wrong: ", ".join(f"{key} {value}" for key, value in wrong.items()) or "right")
def test_first_and_last_shots(wrong):
    film = whole_game(**wrong)
    expected = sorted((place for place in film.expected), key=lambda place: (place[1], place[0]))
    assert places(film.check()) == expected


@pytest.mark.parametrize(("closing", "severities"), [
    ({"board": False, "handshake": False}, ["warning"]), ({"board": False}, ["note"]), ({"handshake": False}, ["note"]),
], ids=["neither", "handshake alone", "board alone"])
def test_how_grave_it_is_that_a_film_just_stops(closing, severities):
    found = whole_game(**closing).check().findings
    assert [finding.severity for finding in found] == severities
    assert ("does not know that the game is over" in found[0].why) == (len(closing) == 2)


def test_a_coach_who_does_not_want_the_coin_toss(tmp_path):
    wish = tmp_path / "coach.toml"
    wish.write_text('based_on = "default"\n[rules.coin_toss_expected]\nenabled = false\n')
    assert places(whole_game(toss="none").check(load_profile(wish, folders=()))) == []


def test_a_film_that_runs_over_an_hour(tmp_path):
    strict = tmp_path / "strict.toml"
    strict.write_text('based_on = "default"\n[rules.film_length]\nminutes = 1.0\n')
    film = whole_game(wait=12.0)
    assert places(film.check()) == []
    found = film.check(load_profile(strict, folders=())).findings
    assert [finding.rule for finding in found] == ["film length"]
    assert len(found[0].evidence) >= 2, "it says where the surplus lies"
