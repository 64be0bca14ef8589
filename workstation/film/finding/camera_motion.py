"""Estimate the camera's motion between two frames.

The camera's movement is a similarity transform (shift, zoom, turn), fitted to the pictures
themselves by Gauss and Newton's method from coarse to fine (Lucas and Kanade 1981, Baker and
Matthews 2004). What is left when the earlier picture has been moved onto the later one is
what moved by itself: players.
"""

from __future__ import annotations

from functools import lru_cache

import numpy as np
from scipy import ndimage

from .frame_difference import half_size
from .settings import MOMENTS

_LEVELS = 4
_ROUNDS = 4                     # at each level


def fit_camera(before: np.ndarray, after: np.ndarray) -> np.ndarray:
    """Return the camera's movement between two grids of equal brightness: magnification - 1, turn, and the shift right
    and down in picture widths."""
    pyramid = [(before, after)]
    while len(pyramid) < _LEVELS and min(pyramid[-1][0].shape) >= 20:
        pyramid.append((half_size(pyramid[-1][0]), half_size(pyramid[-1][1])))
    fit = np.zeros(4)
    for small_before, small_after in reversed(pyramid):
        fit = refined(fit, small_before, small_after)
    return fit


@lru_cache(16)
def _places(shape: tuple[int, int]) -> tuple[np.ndarray, np.ndarray]:
    """Right and down of every cell from the picture's middle, in picture widths."""
    tall, wide = shape
    down, right = np.mgrid[0:tall, 0:wide].astype(np.float32)
    return (right - (wide - 1) / 2) / wide, (down - (tall - 1) / 2) / wide


def warped(before: np.ndarray, fit: np.ndarray) -> np.ndarray:
    """The earlier picture as the later camera would show it; NaN where it was not in the picture."""
    tall, wide = before.shape
    larger, turn = 1 + fit[0], fit[1]
    scale = larger * larger + turn * turn
    back = np.array([[larger, -turn], [turn, larger]]) / scale             # down and right, from the later picture
    middle = np.array([(tall - 1) / 2, (wide - 1) / 2])
    moved: np.ndarray = ndimage.affine_transform(before, back, middle - back @ (middle + fit[[3, 2]] * wide), order=1,
                                                 cval=np.nan)
    return moved


def _slopes(grid: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Down and right, as ``np.gradient`` gives them, at a third of the time."""
    down, right = np.empty_like(grid), np.empty_like(grid)
    np.subtract(grid[2:], grid[:-2], out=down[1:-1])
    np.subtract(grid[:, 2:], grid[:, :-2], out=right[:, 1:-1])
    down[1:-1] *= 0.5
    right[:, 1:-1] *= 0.5
    down[0], down[-1] = grid[1] - grid[0], grid[-1] - grid[-2]
    right[:, 0], right[:, -1] = grid[:, 1] - grid[:, 0], grid[:, -1] - grid[:, -2]
    return down, right


def refined(fit: np.ndarray, before: np.ndarray, after: np.ndarray) -> np.ndarray:
    """Return a movement as :func:`fit_camera` gives it, made to fit two grids that may be larger."""
    right, down = _places(after.shape)
    wide = after.shape[1]
    for _ in range(_ROUNDS):
        result = warped(before, fit)
        known = ~np.isnan(result)
        if np.count_nonzero(known) < 30:
            break
        np.copyto(result, after, where=~known)
        slope_down, slope_right = _slopes((result + after) * np.float32(wide / 2))
        difference = after - result
        weight = known / (1 + (difference / MOMENTS.outlier) ** 2)
        columns = np.stack([slope_right * right + slope_down * down, slope_down * right - slope_right * down,
                            slope_right, slope_down]).reshape(4, -1)
        weighted = columns * weight.ravel()
        normal = weighted @ columns.T + np.eye(4) * 1e-3
        step = np.linalg.solve(normal, -weighted @ difference.ravel())
        fit = fit + np.clip(step, -0.2, 0.2)
        fit[0] = np.clip(fit[0], -0.6, 1.5)
        if np.abs(step).max() < 2e-4:
            break
    return fit
