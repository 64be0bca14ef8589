"""Yards between two spots: lines drawn by a known camera, and the painted film, whose camera and spots are known."""

from __future__ import annotations

from itertools import accumulate

import cv2
import numpy as np
import pytest
from workstation.demo.camera import aims
from workstation.demo.choreography import stage
from workstation.demo.film_it import film_demo, picture_at, pictures_in
from workstation.demo.script import SCENES

from workstation.film.index import index_of
from workstation.film.probe import probe
from workstation.film.yard_lines import find_yard_lines
from workstation.film.yards_between import GroundSpot, yards_between
from workstation.tagging.model import MomentKind

WIDE, TALL = 640, 360
BACK, UP = 35.0, 15.0       # yards from the near sideline, and above it


def seen(x: float, y: float, turned: float, tilted: float, focal: float) -> tuple[float, float]:
    """The pixel at which a turned and tilted camera sees a spot of the ground, in yards from where it stands."""
    turn, tilt = np.radians(turned), np.radians(tilted)
    right = x * np.cos(turn) - y * np.sin(turn)
    ahead = x * np.sin(turn) + y * np.cos(turn)
    deep, low = ahead * np.cos(tilt) + UP * np.sin(tilt), UP * np.cos(tilt) - ahead * np.sin(tilt)
    return WIDE / 2 + focal * right / deep, TALL / 2 + focal * low / deep


def drawn(turned: float, focal: float) -> np.ndarray:
    """A field with yard lines only, as that camera sees it."""
    picture = np.full((TALL, WIDE), 90, np.uint8)
    for number in range(-12, 13):
        ends = [seen(5.0 * number, BACK + y, turned, 14, focal) for y in (0, 53)]
        a, b = (tuple(round(value * 16) for value in end) for end in ends)
        cv2.line(picture, a, b, 190, 2, cv2.LINE_AA, 4)
    noise = np.random.default_rng(1).normal(0, 3, picture.shape)
    return np.clip(picture + noise, 0, 255).astype(np.float32)


@pytest.mark.parametrize("turned", [0, 12, -25])
@pytest.mark.parametrize("focal", [500, 800])
def test_lines_drawn_by_a_known_camera_are_read(turned, focal):
    lines = find_yard_lines(drawn(turned, focal), np.ones((TALL, WIDE), bool))
    assert lines is not None
    middle = np.tan(np.radians(turned)) * (BACK + 25)
    spots = [(middle + dx, BACK + dy) for dx, dy in ((-9, 10), (-3.7, 30), (0, 20), (4.2, 40), (8.8, 25))]
    yards = [lines.yards(*seen(x, y, turned, 14, focal)) for x, y in spots]
    for (x, _), told in zip(spots, yards, strict=True):
        assert told - yards[0] == pytest.approx(x - spots[0][0], abs=0.4)


def test_no_lines_are_read_in_noise_or_other_lines():
    chance = np.random.default_rng(2)
    assert find_yard_lines(chance.normal(90, 8, (TALL, WIDE)).astype(np.float32), np.ones((TALL, WIDE), bool)) is None
    picture = np.full((TALL, WIDE), 90, np.uint8)
    for _ in range(9):
        a, b = (tuple(int(value) for value in chance.integers(0, (WIDE, TALL))) for _ in range(2))
        cv2.line(picture, a, b, 190, 2, cv2.LINE_AA)
    lines = find_yard_lines(picture.astype(np.float32), np.ones((TALL, WIDE), bool))
    assert lines is None or lines.count < 5         # four lines may agree by chance, not more


PLAYED = (2, 4, 9, 15, 23, 33)      # of the script's scenes: runs, a pass, a kick, a long pan


@pytest.fixture(scope="module")
def painted(tmp_path_factory):
    return film_demo(tmp_path_factory.mktemp("demo"), layout="one file", width=640, scenes=PLAYED)[0]


def test_gains_of_the_painted_film_are_measured_within_half_a_yard(painted):
    source = probe(painted, "film")
    pts = index_of(source).pts
    begins = [0, *accumulate(pictures_in(SCENES[number]) for number in PLAYED)]
    right = 0
    for begin, number in zip(begins, PLAYED, strict=False):
        scene, moves = SCENES[number], stage(SCENES[number], number)
        looks = aims(scene, moves, number)
        spots, places = [], []
        for kind in (MomentKind.SNAP, MomentKind.DEAD_BALL):
            at = picture_at(scene.at(kind))
            x, y, _ = next(moves.ball[before] for before in range(at, 0, -1) if not np.isnan(moves.ball[before]).any())
            spots.append(GroundSpot(int(pts[begin + at]), *looks[at].pixel(x, y, 0, 0.5)))
            places.append(x)
        told = yards_between(source, *spots)
        right += told.yards is not None and abs(told.yards - (places[1] - places[0])) <= 0.5
    assert right >= 0.95 * len(PLAYED)


def test_a_spot_that_comes_first_must_be_first(painted):
    source = probe(painted, "film")
    with pytest.raises(ValueError, match="earlier one first"):
        yards_between(source, GroundSpot(int(index_of(source).pts[30]), 1, 1), GroundSpot(source.start_pts, 1, 1))
