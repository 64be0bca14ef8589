"""Follow the camera from picture to picture: shift, zoom and turn, to a few hundredths of a cell.

The earlier picture is the template: its gradients are computed once, and only its best cells, spread over the picture,
are compared (inverse compositional alignment, Baker and Matthews 2004; robust weights against what moves by itself).
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from scipy import ndimage

from .finding.frame_difference import half_size

_TILE = 8                   # cells across and down; the best cells of each are compared, so that no corner decides
_PER_TILE = 10
_SMOOTH = 1.4               # cells; finer detail than that lies between cells and makes small movements seem larger
_ROUNDS = 5                 # at each level, at the most
_ENOUGH = 2e-5              # picture widths; a smaller step changes nothing that is measured
_LEAST_TEXTURE = 2.0        # luma levels a cell: below, nothing in the picture says how it moved


class Motion(NamedTuple):
    """How the content moved from one picture to the next. ``zoom`` is the natural logarithm of the magnification
    (positive: closer), ``turn`` radians (positive: clockwise on the screen), ``right`` and ``down`` picture widths at
    the picture's middle. ``left`` is what the movement does not explain, in luma levels (median)."""

    zoom: float
    turn: float
    right: float
    down: float
    left: float

    @property
    def factor(self) -> complex:
        """Zoom and turn as one complex factor: a place ``z`` goes to ``factor * z + shift``."""
        return complex(np.exp(complex(self.zoom, self.turn)))

    @property
    def shift(self) -> complex:
        """The shift as a complex number, down as the imaginary part."""
        return complex(self.right, self.down)

    def then(self, later: Motion) -> Motion:
        """This movement and a later one, as one; of ``left``, the later."""
        factor, shift = later.factor * self.factor, later.factor * self.shift + later.shift
        return Motion(float(np.log(abs(factor))), float(np.angle(factor)), shift.real, shift.imag, later.left)


UNKNOWN = Motion(np.nan, np.nan, np.nan, np.nan, np.nan)
AT_REST = Motion(0.0, 0.0, 0.0, 0.0, 0.0)


class PyramidLevel:
    """One size of a picture, prepared as a template."""

    __slots__ = ("_places", "_slopes", "_values", "grid")

    def __init__(self, grid: np.ndarray) -> None:
        self.grid = grid
        self._places: np.ndarray | None = None

    def _prepare(self) -> None:
        grid = self.grid
        tall, wide = grid.shape
        slope_right = np.zeros_like(grid)
        slope_down = np.zeros_like(grid)
        slope_right[:, 1:-1] = (grid[:, 2:] - grid[:, :-2]) / 2
        slope_down[1:-1] = (grid[2:] - grid[:-2]) / 2
        strength = slope_right * slope_right + slope_down * slope_down
        strength[[0, -1]] = 0
        strength[:, [0, -1]] = 0
        rows, columns = tall // _TILE, wide // _TILE
        if rows * columns >= 12:
            tiles = strength[:rows * _TILE, :columns * _TILE].reshape(rows, _TILE, columns, _TILE)
            tiles = tiles.transpose(0, 2, 1, 3).reshape(rows * columns, _TILE * _TILE)
            best = np.argpartition(tiles, -_PER_TILE, axis=1)[:, -_PER_TILE:]
            tile = np.arange(rows * columns)[:, None]
            down = (tile // columns * _TILE + best // _TILE).ravel()
            right = (tile % columns * _TILE + best % _TILE).ravel()
        else:
            down, right = (part.ravel() for part in np.mgrid[1:tall - 1, 1:wide - 1])
        self._values = grid[down, right]
        x = (right - (wide - 1) / 2) / wide
        y = (down - (tall - 1) / 2) / wide
        self._places = x + 1j * y
        a, b = slope_right[down, right] * wide, slope_down[down, right] * wide
        self._slopes = np.stack([a * x + b * y, b * x - a * y, a, b])

    def texture(self) -> float:
        """The median strength of what is compared, in luma levels a cell."""
        if self._places is None:
            self._prepare()
        return float(np.median(np.hypot(self._slopes[2], self._slopes[3])) / self.grid.shape[1])

    def fit(self, after: np.ndarray, factor: complex, shift: complex, rounds: int) -> tuple[complex, complex, float]:
        """Improve a movement so that *after* shows this picture moved by it; also what is left."""
        if self._places is None:
            self._prepare()
        assert self._places is not None
        places, values, slopes = self._places, self._values, self._slopes
        tall, wide = after.shape
        flat = after.ravel()
        left = np.inf
        for _ in range(rounds):
            moved = factor * places + shift
            x = moved.real * wide + (wide - 1) / 2
            y = moved.imag * wide + (tall - 1) / 2
            known = (x >= 0) & (x < wide - 1) & (y >= 0) & (y < tall - 1)
            if known.sum() < 40:
                return factor, shift, np.inf
            x, y = x[known], y[known]
            column, row = x.astype(np.intp), y.astype(np.intp)
            x, y = x - column, y - row
            at = row * wide + column
            upper = flat[at] * (1 - x) + flat[at + 1] * x
            lower = flat[at + wide] * (1 - x) + flat[at + wide + 1] * x
            result = upper * (1 - y) + lower * y - values[known]
            size = np.abs(result - np.median(result))
            left = float(np.median(size))
            scale = max(2.0 * left, 1.0)
            weights = 1 / (1 + (size / scale) ** 2)
            weights *= weights
            inner = slopes[:, known]
            weighted = inner * weights
            middle = float((weights * result).sum() / weights.sum())       # light that changed as a whole
            normal = weighted @ inner.T + np.eye(4) * 1e-2
            step = np.linalg.solve(normal, weighted @ (result - middle))
            step = np.clip(step, -0.1, 0.1)
            factor = factor / (1 + complex(step[0], step[1]))
            shift = shift - factor * complex(step[2], step[3])
            if np.abs(step).max() < _ENOUGH:
                break
        return factor, shift, left


class Prepared:
    """A picture at all sizes, for :func:`follow`. *grid* is mean luma, as :func:`luma_grid` gives it; ``half`` is half
    of that, not smoothed."""

    def __init__(self, grid: np.ndarray) -> None:
        self.half = half_size(grid) if min(grid.shape) >= 4 else grid
        self.levels = [PyramidLevel(ndimage.gaussian_filter(grid, _SMOOTH))]
        while min(self.levels[-1].grid.shape) >= 20 and len(self.levels) < 4:
            self.levels.append(PyramidLevel(half_size(self.levels[-1].grid)))

    @property
    def grid(self) -> np.ndarray:
        """The picture at its full size, smoothed."""
        return self.levels[0].grid


def follow(before: Prepared, after: Prepared, guess: Motion = UNKNOWN) -> Motion:
    """Return how the content moved from one picture to the next; ``UNKNOWN`` if nothing in them tells.

    *guess* is the movement between the pictures before: a pan goes on.
    """
    if before.grid.shape != after.grid.shape or min(before.grid.shape) < 8:
        return UNKNOWN
    gain = (float(before.grid.mean()) + 1) / (float(after.grid.mean()) + 1)
    starts: list[tuple[complex, complex]] = [(1 + 0j, 0j)]
    if np.isfinite(guess.right) and abs(guess.shift) > 0.002:
        starts.append((guess.factor, guess.shift))
    coarse = before.levels[-1], after.levels[-1].grid * gain
    factor, shift, _ = min((coarse[0].fit(coarse[1], *start, _ROUNDS) for start in starts), key=lambda fit: fit[2])
    left = np.inf
    for one, other in zip(before.levels[-2::-1], after.levels[-2::-1], strict=True):
        factor, shift, left = one.fit(other.grid * gain, factor, shift, _ROUNDS)
    if not np.isfinite(left) or before.levels[0].texture() < _LEAST_TEXTURE:
        return UNKNOWN
    return Motion(float(np.log(max(abs(factor), 1e-3))), float(np.angle(factor)), shift.real, shift.imag, left)


def moved(before: np.ndarray, motion: Motion) -> np.ndarray:
    """The earlier picture as the camera saw it after *motion*; NaN where it was not in the picture."""
    tall, wide = before.shape
    back = 1 / motion.factor
    turned = np.array([[back.real, back.imag], [-back.imag, back.real]])        # down before right
    middle = np.array([tall - 1, wide - 1]) / 2
    offset = middle - turned @ (middle + np.array([motion.down, motion.right]) * wide)
    result: np.ndarray = ndimage.affine_transform(before, turned, offset, order=1, cval=np.nan)
    return result
