"""Where recordings were joined, told by a clock that is even otherwise."""

from __future__ import annotations

from itertools import accumulate, pairwise

import numpy as np
import pytest

from workstation.film.finding.concatenation import concatenation_keyframes
from workstation.film.finding.early_keyframes import early_keyframes
from workstation.film.finding.packets import Packets
from workstation.film.index import FrameIndex

TICKS = 1001
RECORDINGS = (75, 100, 60, 82, 90)
BEGIN = list(accumulate(RECORDINGS))[:-1]


def said(odd: dict[int, int], lengths: tuple[int, ...] = RECORDINGS, group: int = 30) -> set[int]:
    """Of recordings so long, with keyframes every ``group`` pictures, where some pictures come so many ticks late."""
    begin = [0, *accumulate(lengths)]
    keys = np.array([key for first, last in pairwise(begin) for key in range(first, last, group)])
    steps = np.full(begin[-1] - 1, TICKS)
    for picture, late in odd.items():
        steps[picture - 1] += late
    pts = np.concatenate([[0], np.cumsum(steps)])
    index = FrameIndex(pts, int(pts[-1]) + TICKS, pts[keys], pts[keys], keys, keys)
    packets = Packets(np.ones(len(pts), int), np.ones(len(pts), bool), keys,
                      {int(key): np.zeros((9, 16)) for key in keys})
    return concatenation_keyframes(index, packets, early_keyframes(packets))


def test_keyframes_that_come_late_or_early_on_an_even_clock():
    assert said(dict(zip(BEGIN, (23, 544, -210, 38), strict=True))) == set(BEGIN)


def test_one_that_comes_when_a_keyframe_is_due():
    assert said(dict.fromkeys((60, 160, 235), 300), (60, 100, 75, 90)) == {60, 160, 235}


@pytest.mark.parametrize("odd", [{}, dict.fromkeys(BEGIN, 1)], ids=["even", "rounded"])
def test_an_even_clock_tells_nothing(odd):
    assert said(odd) == set()


def test_a_camera_whose_own_clock_is_uneven_tells_nothing():
    chance = np.random.default_rng(4)
    assert said({picture: int(late) for picture, late in enumerate(chance.integers(-300, 300, 406), 1)}) == set()


def test_pictures_that_were_dropped_tell_nothing():
    assert said({BEGIN[0]: 500, 88: TICKS, 141: TICKS, 290: TICKS}) == set()


def test_a_recorder_that_stumbles_at_its_keyframes_has_not_begun_anew():
    assert said(dict.fromkeys(range(30, 407, 30), 400), (407,)) == set()


def test_one_picture_has_no_clock():
    assert said({}, (1,)) == set()
