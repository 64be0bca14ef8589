"""Exposure: what is burnt out or black, and light that jumps or flickers because the camera makes it so."""

from __future__ import annotations

import numpy as np
from scipy import ndimage

from ..camera_motion import Motion, Prepared
from ..filtering import bandpass
from .series import EVERY, Series, evenly, thinned

BURNT, BLACK = 0.985, 0.015     # shares of the range of luma: beyond, no detail is left
_LIFT = 2.0                     # luma levels added before ratios are taken, so that noise in the dark does not count
_USABLE = 12.0, 243.0           # luma levels: what is clipped does not follow the light
_JUMP = 0.4                     # seconds: what takes longer is an iris that follows the light
_FLICKER = 1.5, 12.0            # hertz: lamps at twice the mains' frequency, beating with the pictures
_WINDOW = 1.0                   # seconds over which flicker is judged


def clipped_shares(luma: np.ndarray, full_range: bool) -> tuple[float, float]:
    """The shares of a picture that are black and that are burnt out."""
    seen = luma[::8, ::8]
    low, high = (0.0, 255.0) if full_range else (16.0, 235.0)
    return (float((seen <= low + BLACK * (high - low)).mean()), float((seen >= low + BURNT * (high - low)).mean()))


def gain_between(before: Prepared, after: Prepared, motion: Motion, full_range: bool) -> float:
    """By how many doublings the same things became brighter from one picture to the next."""
    first, second = (each.half if full_range else (each.half - 16) * (255 / 219) for each in (before, after))
    if np.isfinite(motion.right):
        tall, wide = first.shape
        down, right = np.mgrid[1:tall - 1:2, 1:wide - 1:2]
        places = ((right - (wide - 1) / 2) + 1j * (down - (tall - 1) / 2)) / wide
        moved = motion.factor * places + motion.shift
        column = np.rint(moved.real * wide + (wide - 1) / 2).astype(int)
        row = np.rint(moved.imag * wide + (tall - 1) / 2).astype(int)
        inside = (column >= 0) & (column < wide) & (row >= 0) & (row < tall)
        one, other = first[down[inside], right[inside]], second[row[inside], column[inside]]
    else:
        one, other = first.ravel(), second.ravel()
    usable = (one > _USABLE[0]) & (one < _USABLE[1]) & (other > _USABLE[0] / 2) & (other < 254)
    if usable.sum() < 50:
        return np.nan
    return float(np.median(np.log2((other[usable] + _LIFT) / (one[usable] + _LIFT))))


def jumps(times: np.ndarray, gains: np.ndarray) -> Series:
    """By how much the picture's light changes within 0.4 s, as a share (0.2: a fifth brighter or darker)."""
    at, path = _path(times, gains)
    if len(at) < 4:
        return Series(at, np.zeros(len(at)))
    reach = max(round(_JUMP / (at[1] - at[0])), 1)
    # the medians of what lies before and behind, so that flicker is no jump
    padded = np.pad(path, (reach, reach), mode="edge")
    windows = np.lib.stride_tricks.sliding_window_view(padded, reach)
    before, behind = np.median(windows[:len(path)], axis=1), np.median(windows[reach + 1:reach + 1 + len(path)], axis=1)
    return thinned(at, np.exp2(np.abs(behind - before)) - 1, EVERY)


def flicker(times: np.ndarray, gains: np.ndarray) -> Series:
    """How much the light trembles, root mean square over a second, as a share of itself."""
    at, path = _path(times, gains)
    rate = 1 / (at[1] - at[0]) if len(at) > 1 else 0.0
    if rate < 8 or len(at) < 2 * rate * _WINDOW:
        return Series(at[:0], path[:0])
    # one jump rings in any filter; where its steps stand alone they are taken out first
    steps = np.diff(path, prepend=path[0])
    usual = 6 * np.median(np.abs(steps)) + 0.01
    lone = np.abs(steps) > usual
    crowded = np.convolve(lone, np.ones(round(rate)), "same") > 2
    steps[lone & ~crowded] = 0
    trembling = bandpass(np.cumsum(steps), _FLICKER[0], min(_FLICKER[1], rate * 0.45), rate, 2)
    return thinned(at, _moving_rms(trembling, round(rate * _WINDOW)) * np.log(2), EVERY)


def _path(times: np.ndarray, gains: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    if len(times) < 3:
        return np.zeros(0), np.zeros(0)
    return evenly(times, np.cumsum(np.nan_to_num(gains)), float(np.median(np.diff(times))))


def _moving_rms(values: np.ndarray, width: int) -> np.ndarray:
    """The root of the mean square over *width* values around each."""
    mean = ndimage.uniform_filter1d(values * values, max(width, 1), mode="nearest")
    result: np.ndarray = np.sqrt(np.maximum(mean, 0))     # it may round to below 0
    return result
