"""Level: how far the picture is turned against its usual place.

The turn between pictures adds up to the roll of the camera. A camera that looks down and pans also turns what it shows,
in proportion to the pan; that share is taken off first. It is found by what most pictures of the film agree on.
"""

from __future__ import annotations

import numpy as np
from scipy import ndimage

from .series import EVERY, Series, evenly, thinned

_SMOOTH = 0.4               # seconds; quicker turns are shake
_PANS = 0.002               # picture widths from one picture to the next: enough of a pan to tell its turn
_MOST = 0.8                 # radians a picture width: a camera that looks straight down would turn more
_ENOUGH = 60                # pictures of a pan


def turn_of_pans(right: np.ndarray, turn: np.ndarray) -> float:
    """How far a pan by a picture's width turns the picture (radians); 0 where too little was panned to tell."""
    use = np.isfinite(right) & np.isfinite(turn) & (np.abs(right) > _PANS)
    if use.sum() < _ENOUGH:
        return 0.0
    # the median of ratios weighs by the length of the pan, so that slow movement does not decide
    ratios, weights = turn[use] / right[use], np.abs(right[use])
    order = np.argsort(ratios)
    middle = np.searchsorted(np.cumsum(weights[order]), weights.sum() / 2)
    return float(np.clip(ratios[order][min(middle, len(order) - 1)], -_MOST, _MOST))


def roll(times: np.ndarray, right: np.ndarray, turn: np.ndarray, pan_turns: float = 0.0) -> Series:
    """The picture's turn against the usual one of its shot, in degrees (positive: clockwise on the screen)."""
    every = float(np.median(np.diff(times))) if len(times) > 2 else 0.0
    if not every or times[-1] - times[0] < 1.0:
        return Series(times[:0], times[:0])
    own = turn - pan_turns * right
    at, path = evenly(times, np.where(np.isfinite(own), np.cumsum(np.nan_to_num(own)), np.nan), every)
    if not len(at):
        return Series(at, path)
    path = ndimage.uniform_filter1d(path, max(round(_SMOOTH / every), 1), mode="nearest")
    return thinned(at, np.degrees(path - np.median(path)), EVERY)
