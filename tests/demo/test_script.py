"""The script is consistent with itself, and holds everything that a demo of the job must show."""

from __future__ import annotations

import pytest
from workstation.demo.script import FINAL_SCORE, MISTAKES, RIGHT, SCENES, plays, scene

from workstation.football.field import Team
from workstation.football.plays import Outcome, PlayKind, Side
from workstation.football.situation import Next
from workstation.tagging.model import MomentKind, ShotKind


def test_names_of_scenes_are_unique():
    names = [one.name for one in SCENES]
    assert len(names) == len(set(names))


@pytest.mark.parametrize("one", SCENES, ids=lambda one: one.name)
def test_moments_lie_inside_their_shot_and_in_order(one):
    for kind, seconds in one.moments:
        assert 0 < seconds < one.seconds, f"{kind} at {seconds} in a shot of {one.seconds} s"
    wide, snap, dead = (one.at(kind) for kind in (MomentKind.FULL_WIDE, MomentKind.SNAP, MomentKind.DEAD_BALL))
    if one.kind is ShotKind.PLAY:
        assert wide < snap < dead
    start, over = one.at(MomentKind.CONFRONTATION), one.at(MomentKind.CONFRONTATION_OVER)
    if start:
        assert dead < start < over


def test_mistakes_and_right_scenes_exist():
    for mistake in MISTAKES:
        assert scene(mistake.scene).name == mistake.scene
    for name, _ in RIGHT:
        assert scene(name).name == name
    with pytest.raises(KeyError):
        scene("a scene that nobody wrote")


def test_score_kept_by_hand_adds_up():
    """Points as the rulebooks give them: touchdown 6, try by kick 1, field goal 3."""
    points = {Team.HOME: 0, Team.VISITORS: 0}
    for play, _, truth in plays():
        if truth is None:
            continue
        assert (truth.score_home, truth.score_visitors) == (points[Team.HOME], points[Team.VISITORS]), truth
        if play.kind is PlayKind.FIELD_GOAL and play.outcome is Outcome.GOOD:
            points[truth.offense] += 3
        elif play.kind is PlayKind.TRY_KICK and play.outcome is Outcome.GOOD:
            points[truth.offense] += 1
        elif truth.next is Next.SCRIMMAGE and truth.ball_on + (play.gain or 0) >= 100:
            points[truth.offense] += 6
    assert points == FINAL_SCORE


def test_clock_never_runs_backwards():
    last = {}
    for one in SCENES:
        period, clock = one.truth.period, one.truth.clock
        assert clock <= last.get(period, clock), one.name
        last[period] = clock
    assert list(last) == [1, 2, 3, 4]


def _filmed(kind: PlayKind):
    return [(play, one, truth) for play, one, truth in plays() if play.kind is kind]


def test_everything_a_demo_must_show_is_there():
    snaps = [truth for play, one, truth in plays() if one and one.kind is ShotKind.PLAY]
    assert 23 <= len(snaps) <= 32
    assert {truth.offense for truth in snaps} == {Team.HOME, Team.VISITORS}
    assert _filmed(PlayKind.COIN_TOSS) and _filmed(PlayKind.PUNT) and _filmed(PlayKind.FIELD_GOAL)
    assert any(play.gain == 50 and play.outcome is Outcome.COMPLETE for play, *_ in _filmed(PlayKind.PASS))
    assert any(truth.ball_on + play.gain == 100 for play, _, truth in _filmed(PlayKind.PASS) if play.gain)
    assert _filmed(PlayKind.TRY_KICK)
    fouls = {foul.name: foul.by for play, *_ in plays() for foul in play.fouls}
    assert fouls == {"holding": Side.OFFENSE, "roughing the passer": Side.DEFENSE}
    assert [play.outcome for play, *_ in _filmed(PlayKind.MEASUREMENT)] == [Outcome.SHORT]
    assert any(truth.down == 4 for _, _, truth in _filmed(PlayKind.RUN)), "a fourth-down attempt"
    kinds = [one.kind for one in SCENES]
    assert kinds[0] is ShotKind.COIN_TOSS and kinds[-2:] == [ShotKind.SCOREBOARD, ShotKind.HANDSHAKE]
    assert {ShotKind.INJURY, ShotKind.DOWN_MARKER, ShotKind.PENALTY_SIGNAL} <= set(kinds)
    assert any(one.at(MomentKind.CONFRONTATION) for one in SCENES)
    assert any(one.opens_on is ShotKind.DOWN_MARKER for one in SCENES)


def test_after_the_penalties_the_ball_is_where_the_rules_put_it():
    """NFHS: holding 10 yards and the down again; roughing the passer 15 and an automatic first down (9-4-4; from
    memory)."""
    held, rough = scene("holding").truth, scene("roughing the passer").truth
    after_holding, after_roughing = scene("pass out of trouble").truth, scene("marker after roughing").truth
    assert (after_holding.down, after_holding.ball_on) == (held.down, held.ball_on - 10)
    assert (after_roughing.down, after_roughing.ball_on) == (1, rough.ball_on + 15)
