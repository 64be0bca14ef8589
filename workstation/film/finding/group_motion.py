"""Measure how much moves by itself in each part of the frame that is as large as a group of players.

The earlier frame is moved as the camera moved. What differs then, also after a shift by a cell in any direction (so
that a fit that is off by a fraction of a cell moves no stand and no line), has moved by itself.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from scipy import ndimage

from ..camera_motion import AT_REST, Motion, moved
from .settings import SNAPS

_BLOCK = 4              # cells of the grid across and down in which a movement counts once
_STRIDE = 2             # blocks from the middle of one group to that of the next


class GroupMotion(NamedTuple):
    """``zoom``, ``right`` and ``down`` are the camera's, as in :class:`~workstation.film.camera_motion.Motion`.
    ``moving`` says of each group how much of it moves, 0 to 255."""

    zoom: float
    right: float
    down: float
    moving: np.ndarray


def group_motion(before: np.ndarray, after: np.ndarray, camera: Motion) -> GroupMotion:
    """Return which groups moved between two fine grids (:data:`.luma_grid.FINE` cells across) when the camera moved so.
    What is not known of the camera counts as rest."""
    if min(before.shape) < 8 * _BLOCK:       # damage made the pictures too flat to tell
        return GroupMotion(0.0, 0.0, 0.0, np.zeros((1, 1), np.uint8))
    camera = camera if np.isfinite(camera.right) else AT_REST
    after = after + (before.mean() - after.mean())
    earlier = moved(before, camera)
    earlier = np.where(np.isnan(earlier), after, earlier)
    share = np.clip((_least_difference(earlier, after) - SNAPS.moves) / (SNAPS.surely_moves - SNAPS.moves), 0, 1)
    across = round(SNAPS.group_across * before.shape[1] / _BLOCK)
    down = round(SNAPS.group_down * before.shape[1] / _BLOCK)
    groups = ndimage.uniform_filter(share, (down, across), mode="constant")[::_STRIDE, ::_STRIDE]
    return GroupMotion(camera.zoom, camera.right, camera.down, np.round(groups * 255).astype(np.uint8))


def _least_difference(before: np.ndarray, after: np.ndarray) -> np.ndarray:
    """The least mean difference around the middle of each block, over shifts by up to a cell."""
    tall, wide = after.shape
    padded = np.pad(before, 1, mode="edge")
    least: np.ndarray | None = None
    for y in range(3):
        for x in range(3):
            mean = _block_means(np.abs(padded[y:y + tall, x:x + wide] - after))
            least = mean if least is None else np.minimum(least, mean, out=least)
    assert least is not None
    return least


def _block_means(values: np.ndarray) -> np.ndarray:
    """The mean around the middle of each block, over a cell more than the block either way."""
    half = _BLOCK // 2
    around = np.pad(values, half, mode="symmetric")             # so the middle of a block is where its mean begins
    tall, wide = values.shape
    rows = around[half:tall:_BLOCK].copy()
    for one in range(1, _BLOCK + 1):
        rows += around[half + one:tall + one:_BLOCK]
    means = rows[:, half:wide:_BLOCK].copy()
    for one in range(1, _BLOCK + 1):
        means += rows[:, half + one:wide + one:_BLOCK]
    means /= (_BLOCK + 1) ** 2
    return means
