"""Full wide is where the camera stops zooming out before the snap, and nowhere else."""

from __future__ import annotations

import numpy as np
import pytest

from workstation.film.finding.moments import ShotMotion, find_full_wide


def zooming_out(begins: float, ends: float) -> ShotMotion:
    at = np.arange(1, 100) / 10
    rates = np.zeros((len(at), 3))
    rates[(at > begins) & (at <= ends), 0] = -0.5
    return ShotMotion(at, rates, np.zeros((len(at), 1, 1), np.uint8))


def test_the_zoom_before_the_snap_ends_there():
    found = find_full_wide(zooming_out(1, 2), snap=5.0)
    assert found is not None and found[0] == pytest.approx(2, abs=0.15)


def test_a_zoom_after_the_snap_is_none():
    assert find_full_wide(zooming_out(6, 8), snap=5.0) is None


def test_without_a_snap_a_late_zoom_may_follow_the_play():
    assert find_full_wide(zooming_out(6, 8), snap=None) is None
    found = find_full_wide(zooming_out(1, 2), snap=None)
    assert found is not None and found[0] == pytest.approx(2, abs=0.15)
