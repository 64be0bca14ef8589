"""Measure what differs between two frames beyond what motion explains."""

from __future__ import annotations

from functools import cache
from typing import NamedTuple

import numpy as np
from scipy import fft

from .settings import CUTS


class FrameDifference(NamedTuple):
    """What is new in a picture, in levels of luma: the mean over it, the mean of its worst blocks, the worst
    block of all, and what at least a quarter of the blocks reach."""

    mean: float
    worst: float
    most: float
    spread: float


def half_size(grid: np.ndarray) -> np.ndarray:
    """Return a grid of half as many cells across and down."""
    tall, wide = grid.shape[0] // 2 * 2, grid.shape[1] // 2 * 2
    half: np.ndarray = (grid[0:tall:2, 0:wide:2] + grid[1:tall:2, 0:wide:2]
                        + grid[0:tall:2, 1:wide:2] + grid[1:tall:2, 1:wide:2]) / 4
    return half


def global_shift(before: np.ndarray, after: np.ndarray) -> tuple[int, int]:
    """Return (down, right), the whole cells by which ``after`` shows the content of ``before`` moved, by
    phase correlation (Kuglin and Hines 1975)."""
    tall, wide = before.shape
    window = _window(tall, wide)
    cross = fft.rfft2((after - after.mean()) * window) * np.conj(fft.rfft2((before - before.mean()) * window))
    peak = int(fft.irfft2(cross / (np.abs(cross) + 1e-3), s=before.shape).argmax())
    down, right = divmod(peak, wide)
    return (down - tall if down > tall // 2 else down), (right - wide if right > wide // 2 else right)


@cache
def _window(tall: int, wide: int) -> np.ndarray:
    return np.outer(np.hanning(tall), np.hanning(wide)).astype(np.float32)


_ALL = FrameDifference(255.0, 255.0, 255.0, 255.0)       # pictures of different size, as in a damaged file


def plain_difference(before: np.ndarray, after: np.ndarray) -> FrameDifference:
    """Return the change if nothing may move; never less than :func:`compensated_difference`."""
    if before.shape != after.shape:
        return _ALL
    return _summarise(_least_block_differences(before - before.mean(), after - after.mean(), 0, 0, 0))


def compensated_difference(before: np.ndarray, after: np.ndarray) -> FrameDifference:
    """Return what is new in ``after`` once the camera and everything in the picture may have moved a
    little, and the light as a whole may have changed."""
    if before.shape != after.shape:
        return _ALL
    before, after = before - before.mean(), after - after.mean()
    best = _least_block_differences(before, after, 0, 0, CUTS.block_reach)
    down, right = global_shift(before, after)
    if down or right:
        best = np.minimum(best, _least_block_differences(before, after, down, right, CUTS.block_reach))
    return _summarise(best)


def _least_block_differences(before: np.ndarray, after: np.ndarray, down: int, right: int, reach: int) -> np.ndarray:
    """Mean absolute difference of each block if ``before`` moved so, or up to ``reach`` cells otherwise, whichever is
    least; infinite where every such movement leaves the picture."""
    tall, wide = after.shape
    block = CUTS.block if min(tall, wide) >= CUTS.block else 1
    tall, wide = tall // block * block, wide // block * block
    result = _shifted(before, down, right, reach)
    side = 2 * reach + 1
    difference = np.empty((side, tall, wide), np.float32)
    rows = np.empty((side, side, tall // block, wide), np.float32)
    below, beside = result.strides
    for y in range(side):               # all movements to the side at once, as views of the same cells
        views = np.ndarray(difference.shape, np.float32, result.data, y * below, (beside, below, beside))
        np.subtract(after[:tall, :wide], views, out=difference)
        np.abs(difference, out=difference)
        np.einsum("abcd->abd", difference.reshape(side, -1, block, wide), out=rows[y])
    total = rows[..., 0::block].copy()
    for one in range(1, block):             # cheaper than a sum along the last axis, which is short
        total += rows[..., one::block]
    least: np.ndarray = total.reshape(side * side, tall // block, wide // block).min(0)
    return least / (block * block)


def _shifted(before: np.ndarray, down: int, right: int, margin: int) -> np.ndarray:
    """A picture with its content moved and a margin around it; infinite where nothing is known."""
    tall, wide = before.shape
    moved = np.full((tall + 2 * margin, wide + 2 * margin), np.inf, np.float32)
    down, right = down + margin, right + margin
    top, left = max(down, 0), max(right, 0)
    bottom, end = min(tall + down, moved.shape[0]), min(wide + right, moved.shape[1])
    if top < bottom and left < end:
        moved[top:bottom, left:end] = before[top - down:bottom - down, left - right:end - right]
    return moved


def _summarise(blocks: np.ndarray) -> FrameDifference:
    values = np.sort(blocks[np.isfinite(blocks)])
    worst = values[-max(len(values) // CUTS.worst_share, 1):]
    return FrameDifference(float(values.mean()), float(worst.mean()), float(values[-1]),
                           float(values[len(values) * 3 // 4]))
