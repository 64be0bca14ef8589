"""Level: how far the picture is turned against its usual place in a shot.

The turn between pictures adds up to the roll of the camera. A camera that looks down and pans also turns what it shows,
in proportion to the pan. What most pictures of the pan agree on is taken off; and since tilt and perspective are not
the same all along, a place far from the usual one leaves doubt, which is taken off as well: level is judged well where
the camera rests or pans little, and hardly at all at the end of a long pan.
"""

from __future__ import annotations

import numpy as np
from scipy import ndimage

from .series import EVERY, Series, evenly, thinned

_SMOOTH = 0.4               # seconds; quicker turns are shake
_PANS = 0.002               # picture widths from one picture to the next: enough of a pan to tell its turn
_MOST = 0.9                 # radians a picture width: a camera that looks steeply down
_ENOUGH = 20                # pictures of a pan
_DOUBT = 0.25               # radians for each picture width away from the usual place: real pans of level cameras


def turn_of_pans(zoom: np.ndarray, right: np.ndarray, turn: np.ndarray) -> np.ndarray:
    """How far a pan by a picture's width turns the picture, at each picture (radians); 0 where too little was panned.

    ``zoom`` is the way of the zoom so far: the closer, the less of an angle a picture's width is.
    """
    angle = right * np.exp(-zoom)
    use = np.isfinite(angle) & np.isfinite(turn) & (np.abs(right) > _PANS)
    if use.sum() < _ENOUGH:
        return np.zeros(len(right))
    # the median of ratios weighs by the length of the pan, so that slow movement does not decide
    ratios, weights = turn[use] / angle[use], np.abs(right[use])
    order = np.argsort(ratios)
    middle = np.searchsorted(np.cumsum(weights[order]), weights.sum() / 2)
    usual = float(np.clip(ratios[order][min(middle, len(order) - 1)], -_MOST, _MOST))
    result: np.ndarray = usual * np.exp(-zoom)
    return result


def roll(times: np.ndarray, zoom: np.ndarray, right: np.ndarray, down: np.ndarray, turn: np.ndarray) -> Series:
    """The picture's turn against the usual one of its shot, in degrees (positive: clockwise on the screen)."""
    every = float(np.median(np.diff(times))) if len(times) > 2 else 0.0
    if not every or times[-1] - times[0] < 1.0:
        return Series(times[:0], times[:0])
    magnified = np.cumsum(np.nan_to_num(zoom))
    own = turn - turn_of_pans(magnified, right, turn) * right
    at, path = evenly(times, np.where(np.isfinite(own), np.cumsum(np.nan_to_num(own)), np.nan), every)
    if not len(at):
        return Series(at, path)
    across, along = (evenly(times, np.cumsum(np.nan_to_num(part * np.exp(-magnified))), every)[1]
                     for part in (right, down))
    away = np.hypot(across - np.median(across), along - np.median(along))
    path = ndimage.uniform_filter1d(path, max(round(_SMOOTH / every), 1), mode="nearest")
    path = path - np.median(path)
    certain = np.maximum(np.abs(path) - _DOUBT * away, 0) * np.sign(path)
    return thinned(at, np.degrees(certain), EVERY)
