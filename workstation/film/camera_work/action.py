"""The action in the frame: where what moves by itself lies in the picture, and how much room is around it."""

from __future__ import annotations

import numpy as np
from scipy import ndimage

from ..camera_motion import Motion, moved
from .series import EVERY, Series

APART = 0.1                     # seconds between the two pictures that are compared
FIGURES = 7                     # numbers that describe where the action is
_NOISE = 5.0                    # luma levels: less is noise and the coding
_EDGE = 0.02                    # of the width: the outermost cells have no neighbour to be compared with
_LEAST = 0.0015                 # of the picture; less is no person
_STEADY = 0.9                   # seconds: a figure that flashes up for less is noise
_AT_EDGE = 0.1                  # of the picture: from there the action may have left it
_TENTH = 0.1                    # of what moves may lie outside the box around the action


def moving(before: np.ndarray, after: np.ndarray, motion: Motion) -> np.ndarray:
    """Where the action lies in *after*: left, middle, right, top, middle, bottom (shares of the picture's width and
    height; the box holds four fifths of what moves) and the share of the picture that moves."""
    result = np.full(FIGURES, np.nan)
    tall, wide = after.shape
    if before.shape != after.shape or not np.isfinite(motion.right):
        return result
    left = after - moved(before, motion)
    left -= np.nanmedian(left) if np.isfinite(left).any() else 0.0
    # an edge that lies a fraction of a cell off is no movement: what a quarter of a cell would change is forgiven
    slope = np.abs(ndimage.sobel(after, 0)) + np.abs(ndimage.sobel(after, 1))
    strength = np.nan_to_num(np.abs(left) - _NOISE - slope * 0.04).clip(0)
    margin = max(round(_EDGE * wide), 1)
    strength[:margin] = strength[-margin:] = 0
    strength[:, :margin] = strength[:, -margin:] = 0
    strength = ndimage.minimum_filter(ndimage.maximum_filter(strength, 3), 2) if strength.any() else strength
    share = float((strength > 0).mean())
    result[6] = share
    if share < _LEAST:
        return result
    strength = np.minimum(strength, 40.0)       # one bright shirt is not the action
    for place, sums, size in ((0, strength.sum(0), wide), (3, strength.sum(1), tall)):
        steps = np.cumsum(sums) / sums.sum()
        result[place:place + 3] = np.interp((_TENTH, 0.5, 1 - _TENTH), steps, (np.arange(size) + 0.5) / size)
    return result


def steadied(times: np.ndarray, figures: np.ndarray) -> np.ndarray:
    """The figures as they are over most of a second: each the median of its neighbours."""
    if len(times) < 3:
        return figures
    width = max(round(_STEADY / EVERY) // 2 * 2 + 1, 1)
    padded = np.pad(figures, ((width // 2, width // 2), (0, 0)), mode="edge")
    windows = np.lib.stride_tricks.sliding_window_view(padded, width, axis=0)
    with np.errstate(all="ignore"):
        import warnings
        with warnings.catch_warnings():
            warnings.simplefilter("ignore", RuntimeWarning)     # windows in which nothing moves
            result: np.ndarray = np.nanmedian(windows, axis=2)
    return result


def room(times: np.ndarray, figures: np.ndarray) -> Series:
    """The room between the action and the nearest edge of the picture, as a share of it: the mean of the distances of
    its middle and of its outermost tenth. What is cut in half by the edge has its middle still inside; its outermost
    tenth lies at the edge. Where nothing moves any more after it was at an edge, it is out, and no room is left."""
    if not len(times):
        return Series(times, np.zeros(0))
    sides = [(figures[:, middle] + figures[:, first], 2 - figures[:, middle] - figures[:, last])
             for first, middle, last in ((0, 1, 2), (3, 4, 5))]
    values = np.min([side for both in sides for side in both], axis=0) / 2
    known = np.isfinite(values)
    last = np.maximum.accumulate(np.where(known, np.arange(len(values)), -1))
    values[~known & (last >= 0) & (values[last] < _AT_EDGE)] = 0.0
    return Series(times, values)


def spread(times: np.ndarray, figures: np.ndarray) -> Series:
    """How much of the picture's width what moves takes up."""
    return Series(times, figures[:, 2] - figures[:, 0]) if len(times) else Series(times, np.zeros(0))
