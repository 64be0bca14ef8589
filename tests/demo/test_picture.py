"""The picture shows what the tags say, worked out from where people and camera are."""

from __future__ import annotations

import math

import numpy as np
import pytest
from workstation.demo.camera import aims
from workstation.demo.choreography import stage
from workstation.demo.figures import HOME_LOOK, VISITORS_LOOK
from workstation.demo.film_it import picture_at, pictures_in
from workstation.demo.script import MISTAKES, SCENES, scene
from workstation.demo.view import HEIGHT, WIDTH

from workstation.football.plays import Outcome, PlayKind
from workstation.tagging.model import MomentKind, ShotKind

_FILMED = [one for one in SCENES if one.kind is ShotKind.PLAY]


def _staged(one):
    seed = SCENES.index(one)
    worked_out = stage(one, seed)
    return worked_out, aims(one, worked_out, seed)


def _players(worked_out):
    return [person for person in worked_out.people if person.look in (HOME_LOOK, VISITORS_LOOK)]


def _in_picture(people, aim, picture):
    inside = 0
    for person in people:
        x, y = aim.pixel(person.x[picture], person.y[picture], 0.9, 1.0)
        inside += 0 <= x < WIDTH and 0 <= y < HEIGHT
    return inside


@pytest.mark.parametrize("one", _FILMED, ids=lambda one: one.name)
def test_from_full_wide_to_the_snap_all_players_are_in_the_picture(one):
    worked_out, looks = _staged(one)
    people = _players(worked_out)
    assert len(people) == 22
    for picture in range(picture_at(one.at(MomentKind.FULL_WIDE)), picture_at(one.at(MomentKind.SNAP)) + 1):
        assert _in_picture(people, looks[picture], picture) == 22, f"picture {picture}"


@pytest.mark.parametrize("one", [one for one in _FILMED if one.play.kind is not PlayKind.KICKOFF],
                         ids=lambda one: one.name)
def test_before_the_snap_everybody_stands_still(one):
    worked_out, _ = _staged(one)
    snap = picture_at(one.at(MomentKind.SNAP))
    for person in _players(worked_out):
        moved = math.hypot(person.x[snap - 3] - person.x[snap - 12], person.y[snap - 3] - person.y[snap - 12])
        assert moved < 0.35, (person.number, moved)


def test_the_late_one_is_not_wide_before_it_says_so():
    one = scene(next(mistake.scene for mistake in MISTAKES if mistake.rule == "ready before the snap"))
    worked_out, looks = _staged(one)
    early = picture_at(one.at(MomentKind.FULL_WIDE) - 1)
    assert _in_picture(_players(worked_out), looks[early], early) < 22


def test_the_attempt_opens_close_on_the_marker():
    one = scene("fourth-down attempt")
    worked_out, looks = _staged(one)
    box = next(holder for holder, what in worked_out.rods if what == "box")
    x, y = looks[0].pixel(box.x[0], box.y[0], 1.9, 1.0)
    assert looks[0].zoom > 8 and WIDTH * 0.3 < x < WIDTH * 0.7 and 0 < y < HEIGHT * 0.6
    assert looks[-1].zoom < 1.6


@pytest.mark.parametrize("one", [one for one in _FILMED if one.play.kind in (PlayKind.RUN, PlayKind.PASS)
                                 and one.play.outcome is not Outcome.INCOMPLETE], ids=lambda one: one.name)
def test_the_ball_is_dead_where_the_play_says(one):
    worked_out, looks = _staged(one)
    dead = picture_at(one.at(MomentKind.DEAD_BALL))
    spot = one.truth.ball_on + one.play.gain
    expected = spot if one.offense_faces_right else 100 - spot
    x, y, _ = worked_out.ball[dead]
    if spot < 100:
        assert abs(x - expected) < 1.0
    else:
        assert (x > 100) if one.offense_faces_right else (x < 0)
    right, down = looks[dead].pixel(x, y, 0.5, 1.0)
    assert 0 <= right < WIDTH and 0 <= down < HEIGHT


@pytest.mark.parametrize("one", SCENES, ids=lambda one: one.name)
def test_every_scene_has_a_place_for_everybody_in_every_picture(one):
    worked_out, looks = _staged(one)
    assert len(looks) == pictures_in(one)
    for person in worked_out.people:
        assert len(person.x) == len(person.pose) == len(looks)
        assert np.isfinite(person.x).all() and np.isfinite(person.heading).all()


@pytest.mark.parametrize("one", SCENES, ids=lambda one: one.name)
def test_nobody_runs_faster_than_people_can(one):
    """10.5 yards a second is a 10.4-second hundred metres at full speed: beyond any school player in pads."""
    worked_out, _ = _staged(one)
    for person in worked_out.people:
        speed = np.hypot(np.diff(person.x), np.diff(person.y)) * 30000 / 1001
        assert speed.max() < 10.5, person.number
