"""A snap in maps of what moves, made by hand: what starts it, and what must not be taken for one."""

from __future__ import annotations

import numpy as np
import pytest

from workstation.film.finding.snap import find_snap

LOOKS, TALL, WIDE = 100, 20, 36         # ten looks a second
SNAP = 5.0


def looks() -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Ten seconds of a calm camera with nothing but faint noise."""
    at = np.arange(1, LOOKS + 1) / 10
    noise = np.random.default_rng(3).integers(0, 4, (LOOKS, TALL, WIDE)).astype(np.uint8)
    return at, np.zeros((LOOKS, 3)), noise


def line_starts(groups: np.ndarray, at: np.ndarray, begins: float, ends: float = 99, strength: int = 140) -> None:
    """A line of scrimmage in the middle of the frame is on the move."""
    groups[(at > begins) & (at <= ends), 7:12, 12:22] = strength


def test_a_line_that_starts_at_once_is_the_snap():
    at, camera, groups = looks()
    line_starts(groups, at, SNAP)
    snap = find_snap(at, camera, groups)
    assert snap is not None and snap.at == pytest.approx(SNAP, abs=0.15) and snap.confidence > 0.8


def test_backs_in_motion_before_are_no_snap():
    at, camera, groups = looks()
    for look in range(30, 50):          # a runner, small, crosses the backfield
        groups[look, 11:13, look - 20:look - 18] = 120
    line_starts(groups, at, SNAP)
    snap = find_snap(at, camera, groups)
    assert snap is not None and snap.at == pytest.approx(SNAP, abs=0.15)


def test_a_shift_that_ends_is_no_snap():
    at, camera, groups = looks()
    line_starts(groups, at, 2.0, ends=2.6)
    line_starts(groups, at, SNAP)
    snap = find_snap(at, camera, groups)
    assert snap is not None and snap.at == pytest.approx(SNAP, abs=0.15)


def test_what_moves_while_the_camera_pans_or_zooms_is_no_snap():
    at, camera, groups = looks()
    line_starts(groups, at, SNAP)
    panning, zooming = camera.copy(), camera.copy()
    panning[(at > 3) & (at < 9), 1] = 0.3
    zooming[(at > 4) & (at < 9), 0] = -0.5
    assert find_snap(at, panning, groups) is None and find_snap(at, zooming, groups) is None


def test_two_that_are_alike_are_less_sure_than_one():
    at, camera, groups = looks()
    line_starts(groups, at, SNAP, strength=18)
    alone = find_snap(at, camera, groups)
    line_starts(groups, at, SNAP, ends=7, strength=18)
    groups[(at > 7) & (at <= 8)] = 0
    line_starts(groups, at, 8.0, strength=18)
    both = find_snap(at, camera, groups)
    assert alone is not None and (both is None or both.confidence < alone.confidence)


def test_it_comes_before_the_time_by_which_it_must():
    at, camera, groups = looks()
    line_starts(groups, at, SNAP)
    assert find_snap(at, camera, groups, until=4.0) is None


@pytest.mark.parametrize("count", [0, 1, 5])
def test_shots_too_short_have_none(count):
    at, camera, groups = looks()
    assert find_snap(at[:count], camera[:count], groups[:count]) is None
