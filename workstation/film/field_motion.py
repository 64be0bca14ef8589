"""The camera's movement over a field of yard lines, from every cell of two pictures.

A similarity transform (shift, zoom, turn), fitted by Gauss and Newton's method from coarse to fine (Lucas and Kanade
1981, Baker and Matthews 2004). Lines repeat every few cells: :func:`.camera_motion.follow`, which compares the best
cells alone, took one line for the next on real pictures that were blurred by a pan. Its template, made of every cell,
refused two real measurements of 31 that are right here.
"""

from __future__ import annotations

from functools import lru_cache

import numpy as np

from .camera_motion import Motion, moved
from .finding.frame_difference import half_size

_LEVELS = 4
_ROUNDS = 4                     # at each level
_OUTLIER = 12.0                 # luma levels: larger differences count as something that moved


def fit_field(before: np.ndarray, after: np.ndarray) -> np.ndarray:
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


def _warped(before: np.ndarray, fit: np.ndarray) -> np.ndarray:
    """The earlier picture as the later camera would show it; NaN where it was not in the picture."""
    factor = complex(1 + fit[0], fit[1])
    return moved(before, Motion(float(np.log(abs(factor))), float(np.angle(factor)), fit[2], fit[3], 0.0))


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
    """Return a movement as :func:`fit_field` gives it, made to fit two grids that may be larger."""
    right, down = _places(after.shape)
    wide = after.shape[1]
    for _ in range(_ROUNDS):
        result = _warped(before, fit)
        known = ~np.isnan(result)
        if np.count_nonzero(known) < 30:
            break
        np.copyto(result, after, where=~known)
        slope_down, slope_right = _slopes((result + after) * np.float32(wide / 2))
        difference = after - result
        weight = known / (1 + (difference / _OUTLIER) ** 2)
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
