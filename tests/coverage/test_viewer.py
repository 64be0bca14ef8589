"""What a viewer believes: the sequences that need a marker and those that do not (common practice, no source)."""

from __future__ import annotations

import dataclasses

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.coverage.filming import PROFILE, RULEBOOK, Filming, rules
from workstation.coverage.checker import check
from workstation.coverage.finding import Cause
from workstation.football.field import Team
from workstation.football.plays import Foul, FoulDecision, Outcome, PlayKind, Side
from workstation.football.rulebook import load_rulebook
from workstation.football.tracker import track
from workstation.tagging.model import Framing, MomentKind, ShotKind

SURE, UNSURE = PROFILE.viewer.sure_from, PROFILE.viewer.unsure_below


def beliefs(film: Filming):
    return film.check().beliefs


def test_an_ordinary_series_needs_no_marker():
    """First down, a short run, another short run, an incomplete pass, a punt; then the other team's first down."""
    film = Filming()
    film.at(1, 10, 30)
    film.run(3)
    film.run(2)
    film.incomplete()
    film.punt()
    film.run(4)
    coverage = film.check()
    assert [belief.down for belief in coverage.beliefs] == [1, 2, 3, 4, 1]
    assert all(belief.sure >= SURE for belief in coverage.beliefs)
    assert coverage.findings == ()


def test_after_a_fifty_yard_pass_it_is_first_down():
    film = Filming()
    film.at(3, 5, 20)
    film.play(PlayKind.PASS, Outcome.COMPLETE, gain=50)
    film.run(4)
    assert beliefs(film)[1].down == 1
    assert beliefs(film)[1].sure >= SURE


@pytest.mark.parametrize("kick", [
    {"kind": PlayKind.PUNT, "outcome": Outcome.RETURNED, "kick_to": 70, "spot": 62},
    {"kind": PlayKind.PUNT, "outcome": Outcome.TOUCHBACK},
    {"kind": PlayKind.FIELD_GOAL, "outcome": Outcome.NO_GOOD},
], ids=str)
def test_after_a_kick_it_is_first_down(kick):
    film = Filming()
    film.at(4, 8, 65)
    film.play(**kick)
    film.run(4)
    assert (beliefs(film)[1].down, beliefs(film)[1].sure >= SURE) == (1, True)


def test_a_turnover_begins_a_series():
    film = Filming()
    film.at(2, 8, 40)
    film.play(PlayKind.PASS, Outcome.INTERCEPTED, spot=60)
    film.run(4)
    assert (beliefs(film)[1].down, beliefs(film)[1].sure >= SURE) == (1, True)


@pytest.mark.parametrize("gain", [5, 5.5, 6, 6.2])
def test_close_to_the_line_to_gain_the_viewer_doubts(gain):
    film = Filming()
    film.at(2, 6, 40)
    film.run(gain)
    film.run(3)
    assert beliefs(film)[1].sure < UNSURE
    assert beliefs(film)[1].cause is Cause.NEAR_LINE_TO_GAIN


@pytest.mark.parametrize("gain", [-3, 0, 2, 3, 9, 15])
def test_far_from_the_line_to_gain_the_viewer_does_not_doubt(gain):
    film = Filming()
    film.at(2, 6, 40)
    film.run(gain)
    film.run(3)
    assert beliefs(film)[1].sure >= 0.9


def test_without_lines_to_measure_by_a_gain_is_hard_to_see():
    def sure(framing):
        film = Filming()
        film.at(2, 8, 40)
        film.run(6, framing=framing)
        film.run(3)
        return beliefs(film)[1].sure

    assert sure(Framing.CLOSE) < UNSURE < sure(Framing.WIDE)


def test_at_the_goal_line_there_is_no_first_down_to_be_had():
    film = Filming()
    film.at(1, 4, 96)
    film.run(3)
    film.run(0)
    assert all(belief.sure >= SURE for belief in beliefs(film))


def test_an_incomplete_pass_leaves_no_doubt_however_short_it_is():
    film = Filming()
    film.at(2, 1, 40)
    film.incomplete()
    film.run(3)
    assert beliefs(film)[1].sure >= SURE


def test_a_signal_helps_but_does_not_settle_a_penalty_on_a_live_ball():
    def sure(signalled):
        film = Filming()
        film.at(2, 8, 40)
        film.run(6, fouls=(Foul("holding", Side.OFFENSE, decision=FoulDecision.ACCEPTED),))
        if signalled:
            film.signal()
        film.run(3)
        return beliefs(film)[1].sure

    assert sure(False) < sure(True) < UNSURE


def test_a_signalled_false_start_needs_no_marker_and_an_encroachment_that_is_not_does():
    film = Filming()
    film.at(1, 10, 40)
    film.run(2)
    film.foul_before_snap()
    film.signal()
    film.run(3)
    assert rules(film.check()) == []
    film = Filming()
    film.at(1, 10, 40)
    film.run(2)
    film.foul_before_snap("encroachment", Side.DEFENSE)
    film.run(3)
    assert rules(film.check()) == ["marker shot expected", "penalty signal expected"]


def test_a_penalty_that_carries_the_ball_well_beyond_the_line_is_a_first_down():
    film = Filming()
    film.at(2, 5, 40)
    film.incomplete(fouls=(Foul("defensive pass interference", Side.DEFENSE, spot=55, decision=FoulDecision.ACCEPTED),))
    film.run(3)
    assert (beliefs(film)[1].down, beliefs(film)[1].sure >= UNSURE) == (1, True)


@pytest.mark.parametrize("help_", ["marker", "pull-out", "board", "announcement in the play's shot",
                                   "announcement after the play before"])
def test_what_clears_a_doubt_up(help_):
    film = Filming()
    film.at(2, 6, 40)
    film.run(5, more=((MomentKind.ANNOUNCEMENT, 2.0),) if help_.endswith("before") else ())
    if help_ == "marker":
        film.marker()
    elif help_ == "board":
        film.shot(ShotKind.SCOREBOARD, shows={"down"})
    film.run(3, **{"opens_on": ShotKind.DOWN_MARKER, "wide": 3.0} if help_ == "pull-out" else {},
             more=((MomentKind.ANNOUNCEMENT, -6.0),) if help_.endswith("shot") else ())
    belief = beliefs(film)[1]
    assert belief.helped
    assert belief.unaided < UNSURE <= belief.sure


def test_a_board_without_the_down_does_not_help():
    film = Filming()
    film.at(2, 6, 40)
    film.run(5)
    film.scoreboard()
    film.run(3)
    assert not beliefs(film)[1].helped


def test_a_marker_filmed_before_the_ruling_shows_what_no_longer_holds():
    film = Filming()
    film.at(2, 8, 40)
    film.run(6, fouls=(Foul("holding", Side.OFFENSE, decision=FoulDecision.ACCEPTED),))
    film.marker()
    film.signal()
    film.run(3)
    assert beliefs(film)[1].sure < UNSURE


def test_one_missing_marker_is_one_finding_though_the_viewer_stays_lost():
    film = Filming()
    film.at(1, 6, 40)
    film.run(5)
    film.incomplete()
    film.run(-2)
    coverage = film.check()
    assert [belief.sure < UNSURE for belief in coverage.beliefs] == [False, True, True]
    assert rules(coverage) == ["marker shot expected"]
    assert any("stays unsure for 2 snaps" in line for line in coverage.findings[0].evidence)


def test_a_punt_formation_gives_a_lost_viewer_the_down_back():
    film = Filming()
    film.at(2, 6, 40)
    film.run(5)
    film.incomplete()
    film.punt()
    last = beliefs(film)[-1]
    assert (last.down, last.sure >= UNSURE) == (4, True)


def test_going_for_it_makes_a_viewer_doubt():
    def sure(**last):
        film = Filming()
        film.at(3, 3, 40)
        film.run(1.2)
        film.play(**last)
        return beliefs(film)[1].sure

    assert sure(kind=PlayKind.RUN, gain=3) < sure(kind=PlayKind.PUNT, outcome=Outcome.FAIR_CATCH, kick_to=75)


def test_a_play_that_is_not_on_film_leaves_the_viewer_guessing():
    film = Filming()
    film.at(1, 10, 30)
    film.run(3)
    film.event(PlayKind.RUN, gain=2)
    film.run(1)
    last = beliefs(film)[-1]
    assert (last.down, last.cause) == (3, Cause.MISSING_PLAY)
    assert last.sure < UNSURE


def test_a_film_that_begins_in_the_middle_of_a_series_leaves_the_viewer_guessing():
    film = Filming(whole=True)
    film.at(3, 5, 40)
    film.run(2)
    film.untagged()
    assert beliefs(film)[0].sure < UNSURE


def test_the_score_and_the_time_fade_until_the_board_is_shown():
    film = Filming()
    film.at(1, 10, 90)
    film.run(10)
    film.play(PlayKind.TRY_KICK, Outcome.GOOD)
    film.play(PlayKind.KICKOFF, Outcome.RETURNED, kick_to=90, spot=70)
    film.scoreboard()
    film.run(3)
    first, tried, kicked, ran = beliefs(film)
    assert first.knows_score > tried.knows_score > kicked.knows_score < ran.knows_score
    assert first.knows_clock > tried.knows_clock > kicked.knows_clock < ran.knows_clock


def test_a_score_that_is_not_on_film_is_counted_by_few():
    film = Filming()
    film.at(1, 10, 80)
    film.run(3)
    film.at(1, 10, 25, offense=Team.VISITORS, score=(7, 0))
    film.run(2)
    assert beliefs(film)[1].knows_score < 0.3


def test_with_three_downs_a_kick_comes_on_third():
    """Canadian rules give three downs (Football Canada rulebook, 1-10)."""
    rulebook = load_rulebook("canadian_amateur")
    film = Filming()
    film.at(1, 10, 30)
    film.run(3)
    film.incomplete()
    film.play(PlayKind.PUNT, Outcome.RETURNED, kick_to=80, spot=75)
    film.run(3)
    steps = track(rulebook, [tag.play for tag in film.plays])
    coverage = check(film.game, steps, PROFILE, rulebook)
    assert [belief.down for belief in coverage.beliefs] == [1, 2, 3, 1]
    assert all(belief.sure >= SURE for belief in coverage.beliefs)
    assert all(belief.probabilities[3] < 0.02 for belief in coverage.beliefs)


def test_a_review_that_gives_the_ball_back_leaves_the_viewer_guessing():
    film = Filming()
    film.at(2, 8, 40)
    film.play(PlayKind.PASS, Outcome.INTERCEPTED, spot=60)
    film.event(PlayKind.REPLAY_REVERSAL, Outcome.INCOMPLETE)
    film.run(4)
    last = beliefs(film)[1]
    assert (last.down, last.cause) == (3, Cause.STOPPAGE)
    assert last.sure < UNSURE


def test_the_other_team_in_the_middle_of_a_series_is_taken_for_first_down():
    film = Filming()
    film.at(3, 8, 40)
    film.run(2)
    film.at(2, 7, 30, offense=Team.VISITORS)
    film.run(4)
    last = beliefs(film)[1]
    assert last.down == 2 and last.probabilities[0] > 0.5 and last.sure < UNSURE
    assert "would take it for 1st down" in film.check().findings[0].why + film.check().findings[1].why


PLAYS = st.sampled_from([
    lambda film: film.run(3), lambda film: film.run(6), lambda film: film.run(-2), lambda film: film.run(10),
    lambda film: film.run(60), lambda film: film.incomplete(), lambda film: film.punt(), lambda film: film.marker(),
    lambda film: film.event(PlayKind.TIMEOUT, team=Team.HOME), lambda film: film.event(PlayKind.END_OF_PERIOD),
    lambda film: film.event(PlayKind.RUN, gain=4), lambda film: film.foul_before_snap(), lambda film: film.untagged(),
    lambda film: film.signal(), lambda film: film.scoreboard(), lambda film: film.at(2, 7, 55),
    lambda film: film.at(1, 10, 20, offense=Team.VISITORS), lambda film: film.unshot(10),
    lambda film: film.play(PlayKind.PASS, Outcome.INTERCEPTED, spot=60),
    lambda film: film.play(PlayKind.FIELD_GOAL, Outcome.GOOD), lambda film: film.play(PlayKind.TRY_KICK, Outcome.GOOD),
    lambda film: film.play(PlayKind.KICKOFF, Outcome.RETURNED, kick_to=90, spot=70),
    lambda film: film.run(6, fouls=(Foul("holding", Side.OFFENSE, decision=FoulDecision.ACCEPTED),)),
    lambda film: film.run(6, fouls=(Foul("facemask", Side.DEFENSE, decision=FoulDecision.DECLINED),)),
    lambda film: film.event(PlayKind.MEASUREMENT, Outcome.SHORT), lambda film: film.event(PlayKind.REPLAY_REVERSAL),
    lambda film: film.play(wide=None, snap=None, lasts=None, gain=2),
])


@given(st.lists(PLAYS, max_size=25), st.booleans())
@settings(max_examples=80, deadline=None)
def test_whatever_is_tagged_the_belief_is_a_belief(shots, whole):
    film = Filming(whole=whole)
    film.at()
    for shot in shots:
        shot(film)
    coverage = film.check()
    assert len(coverage.beliefs) == sum(tag.shot is not None and tag.play.kind not in (
        PlayKind.NO_PLAY, PlayKind.MEASUREMENT) for tag in film.plays)
    for belief in coverage.beliefs:
        assert 0 <= belief.sure <= 1 and 0 <= belief.unaided <= 1 and 0 <= belief.served <= 1
        assert 0 <= belief.knows_score <= 1 and 0 <= belief.knows_clock <= 1
        if belief.probabilities:
            assert sum(belief.probabilities) == pytest.approx(1)
            assert belief.sure == pytest.approx(belief.probabilities[belief.down - 1])
    keys = [finding.key for finding in coverage.findings]
    assert len(keys) == len(set(keys))
    assert all(finding.title and finding.why and finding.habit and finding.expected for finding in coverage.findings)
    assert [finding.time for finding in coverage.findings] == sorted(finding.time for finding in coverage.findings)


def test_more_doubt_never_makes_a_viewer_surer():
    """Each assumption that blurs, made stronger, may only lower what the viewer knows in a plain sequence."""
    film = Filming()
    film.at(1, 10, 40)
    film.run(4)
    film.event(PlayKind.TIMEOUT, team=Team.HOME)
    film.shot(ShotKind.EXTRA, 45)
    film.run(5)
    film.run(2)
    plain = film.check().beliefs
    for name, value in {"stoppage_forgets": 0.6, "line_error": 3.0, "miscount": 0.2}.items():
        viewer = dataclasses.replace(PROFILE.viewer, **{name: value})
        blurred = check(film.game, film.steps(), dataclasses.replace(PROFILE, viewer=viewer), RULEBOOK).beliefs
        assert sum(belief.sure for belief in blurred) < sum(belief.sure for belief in plain), name
