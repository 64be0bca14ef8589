"""How much of a picture cannot be explained by the one before it having moved."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from scipy import fft

_BLOCK = 8                  # cells
_REACH = 2                  # cells that each block may have moved beside the movement of the whole
_WORST = 20                 # one block in so many counts as worst


class Change(NamedTuple):
    """What is new in a picture, in levels of luma: the mean over it, the mean of its worst blocks, the worst
    block of all, and what at least a quarter of the blocks reach."""

    mean: float
    worst: float
    most: float
    spread: float


def halved(grid: np.ndarray) -> np.ndarray:
    """Return a grid of half as many cells across and down."""
    tall, wide = grid.shape[0] // 2 * 2, grid.shape[1] // 2 * 2
    return (grid[0:tall:2, 0:wide:2] + grid[1:tall:2, 0:wide:2]
            + grid[0:tall:2, 1:wide:2] + grid[1:tall:2, 1:wide:2]) / 4


def shift_between(before: np.ndarray, after: np.ndarray) -> tuple[int, int]:
    """Return (down, right), the whole cells by which ``after`` shows the content of ``before`` moved, by
    phase correlation (Kuglin and Hines 1975)."""
    tall, wide = before.shape
    window = np.outer(np.hanning(tall), np.hanning(wide)).astype(np.float32)
    cross = fft.rfft2((after - after.mean()) * window) * np.conj(fft.rfft2((before - before.mean()) * window))
    peak = int(fft.irfft2(cross / (np.abs(cross) + 1e-3), s=before.shape).argmax())
    down, right = divmod(peak, wide)
    return (down - tall if down > tall // 2 else down), (right - wide if right > wide // 2 else right)


_ALL = Change(255.0, 255.0, 255.0, 255.0)       # pictures of different size, as in a damaged file


def plain_change(before: np.ndarray, after: np.ndarray) -> Change:
    """Return the change if nothing may move; never less than :func:`change`."""
    if before.shape != after.shape:
        return _ALL
    return _told(_blocks(before - before.mean(), after - after.mean(), 0, 0))


def change(before: np.ndarray, after: np.ndarray) -> Change:
    """Return what is new in ``after`` once the camera and everything in the picture may have moved a
    little, and the light as a whole may have changed."""
    if before.shape != after.shape:
        return _ALL
    before, after = before - before.mean(), after - after.mean()
    down, right = shift_between(before, after)
    tall, wide = before.shape
    around = {(y, x) for y in range(-_REACH, _REACH + 1) for x in range(-_REACH, _REACH + 1)}
    tried = around | {(down + y, right + x) for y, x in around
                      if abs(down + y) < tall // 2 and abs(right + x) < wide // 2}
    best = None
    for y, x in tried:
        blocks = _blocks(before, after, y, x)
        best = blocks if best is None else np.minimum(best, blocks)
    return _told(best)


def _blocks(before: np.ndarray, after: np.ndarray, down: int, right: int) -> np.ndarray:
    """Mean absolute difference of each block if ``before`` moved so; infinite where that leaves the picture."""
    tall, wide = after.shape
    difference = np.full((tall // _BLOCK * _BLOCK or tall, wide // _BLOCK * _BLOCK or wide), np.inf, np.float32)
    rows = slice(max(down, 0), min(tall + down, difference.shape[0]))
    columns = slice(max(right, 0), min(wide + right, difference.shape[1]))
    difference[rows, columns] = after[rows, columns]
    difference[rows, columns] -= before[rows.start - down:rows.stop - down, columns.start - right:columns.stop - right]
    np.abs(difference, out=difference)
    if min(difference.shape) < _BLOCK:
        return difference
    return difference.reshape(difference.shape[0] // _BLOCK, _BLOCK, -1, _BLOCK).mean((1, 3))


def _told(blocks: np.ndarray) -> Change:
    values = np.sort(blocks[np.isfinite(blocks)])
    worst = values[-max(len(values) // _WORST, 1):]
    return Change(float(values.mean()), float(worst.mean()), float(values[-1]), float(values[len(values) * 3 // 4]))
