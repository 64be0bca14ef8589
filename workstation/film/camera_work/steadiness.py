"""Steadiness: how much the picture shakes beyond what a pan itself moves.

The path of the picture is passed through a high pass at 0.9 Hz; what is left is shake. It is the median of a second and
a half: of a sine that is its root mean square, and the lurch with which a pan starts or stops, which is over sooner,
leaves the median alone. What a pan still leaves goes with its acceleration below 0.8 Hz; so much is taken off. A second
high pass at 2.2 Hz, in which pans leave next to nothing, still sees quick shake while a pan starts. Of a movement to
and fro at 1 Hz two thirds count, from 1.5 Hz on all of it.
"""

from __future__ import annotations

import numpy as np
from scipy import ndimage

from ..filtering import highpass, lowpass
from .series import EVERY, Series, evenly, thinned

_BANDS = ((0.9, 0.015), (2.2, 0.002))   # hertz; seconds squared of a pan's acceleration that is let pass
# Set so that pans of a picture's width in two seconds, with a third of a second to start and stop, leave nothing.
_SLOW = 0.8                     # hertz; below is what the camera person means to do
_WINDOW = 1.5                   # seconds over which shake is judged
_SWING = 0.2                    # seconds of which the mean is taken first: pictures meet a swing at few places
_KNOCK = 1.5                    # seconds; what does not last so long is a knock or a lurch, and another thing
_ARM = 0.3                      # picture widths from the middle to where a turn is felt, on average


def shake(times: np.ndarray, right: np.ndarray, down: np.ndarray, turn: np.ndarray) -> Series:
    """How far the picture is off its smooth path, root mean square, in thousandths of its width.

    The movements are those from each picture to the next, in widths and radians.
    """
    if len(times) < 3:
        return Series(times[:0], times[:0])
    every = float(np.median(np.diff(times)))
    rate = 1 / every
    if rate < 12 or times[-1] - times[0] < 2 * _WINDOW:
        return Series(times[:0], times[:0])
    paths = [evenly(times, np.where(np.isfinite(part), np.cumsum(np.nan_to_num(part)), np.nan), every)[1]
             for part in (right, down, turn * _ARM)]
    if not all(len(path) for path in paths):
        return Series(times[:0], times[:0])
    window = round(rate * _WINDOW)
    meant = 0.0
    for path in paths:
        smooth = lowpass(path, _SLOW, rate, 4, ends="edge")
        meant = meant + np.gradient(np.gradient(smooth)) ** 2 * rate ** 4
    pushed = np.sqrt(ndimage.maximum_filter1d(
        np.maximum(ndimage.uniform_filter1d(meant, round(rate), mode="nearest"), 0), round(rate * 0.8)))
    result = np.zeros(len(paths[0]))
    for hertz, leaks in _BANDS:
        square = sum(highpass(path, hertz, rate, 3) ** 2 for path in paths)
        mean = np.maximum(ndimage.uniform_filter1d(square, max(round(rate * _SWING), 1), mode="nearest"), 0)
        usual = ndimage.median_filter(mean, window, mode="nearest")
        result = np.maximum(result, np.sqrt(np.maximum(usual - (leaks * pushed) ** 2, 0)))
    result = ndimage.grey_opening(result, round(rate * _KNOCK))
    at = times[0] + np.arange(len(result)) * every
    return thinned(at, result * 1000, EVERY)
