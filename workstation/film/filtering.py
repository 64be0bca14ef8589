"""Butterworth filters without delay, and the correlation of two signals at every lag.

scipy.signal would do the same and be a line each; it brings all of scipy and a second BLAS library, 60 MB, into the
packaged program. ``tests/film/test_filtering.py`` compares the two.
"""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
from scipy import fft

_SETTLED = 6        # periods of the lowest frequency after which a filter's answer to a step has died away
_NONE = 1e-12       # in the place of frequency 0, which cannot divide
_MARGIN = 3         # samples a pole that the signal goes on beyond its ends before it is taken as constant


def lowpass(values: np.ndarray, hertz: float, rate: float, order: int, ends: str = "reflect") -> np.ndarray:
    """What is slower than *hertz* in *values*, *rate* a second: a Butterworth filter of *order*, run forward and
    backward. *ends* is how the signal goes on for a few samples beyond its ends, as ``numpy.pad`` names it."""
    limit = _warped(hertz, rate)
    return _filtered(values, lambda at: 1 / (1 + (at / limit) ** (2 * order)), hertz, rate, order, ends)


def highpass(values: np.ndarray, hertz: float, rate: float, order: int, ends: str = "reflect") -> np.ndarray:
    """What is faster than *hertz*; else as :func:`lowpass`."""
    limit = _warped(hertz, rate)
    return _filtered(values, lambda at: 1 / (1 + (limit / np.maximum(at, _NONE)) ** (2 * order)), hertz, rate, order,
                     ends)


def bandpass(values: np.ndarray, low: float, high: float, rate: float, order: int) -> np.ndarray:
    """What lies between two frequencies; each end goes on turned about its last value. Else as :func:`lowpass`."""
    from_, to = _warped(low, rate), _warped(high, rate)

    def gain(at: np.ndarray) -> np.ndarray:
        across = (at ** 2 - from_ * to) / (np.maximum(at, _NONE) * (to - from_))
        return np.asarray(1 / (1 + across ** (2 * order)))

    return _filtered(values, gain, low, rate, 2 * order, "odd")


def correlation(first: np.ndarray, second: np.ndarray) -> np.ndarray:
    """The sum of products of *first* and *second* moved by -(len(second) - 1) to len(first) - 1 samples."""
    length = len(first) + len(second) - 1
    size = fft.next_fast_len(length, real=True)
    products = fft.irfft(fft.rfft(first, size) * np.conj(fft.rfft(second, size)), size)
    return np.asarray(np.roll(products, len(second) - 1)[:length])


def _warped(hertz: float, rate: float) -> float:
    """The analogue frequency that the bilinear transform makes *hertz* of."""
    return float(np.tan(np.pi * hertz / rate))


def _filtered(values: np.ndarray, gain: Callable[[np.ndarray], np.ndarray], lowest: float, rate: float, order: int,
              ends: str) -> np.ndarray:
    """*values* with each frequency times *gain* of its analogue one, as passing a filter there and back makes it."""
    near = min(_MARGIN * (order + 1), len(values) - 1)
    far = int(_SETTLED * rate / lowest) + 1
    if ends == "odd":
        padded = np.pad(values, near, mode="reflect", reflect_type="odd")
    else:
        padded = np.pad(values, near, mode=ends)                    # type: ignore[call-overload]
    padded = np.pad(padded, (far, fft.next_fast_len(len(padded) + 2 * far) - len(padded) - far), mode="edge")
    around = np.concatenate([padded, padded[::-1]])                 # ends where it begins, so that nothing leaks around
    gains = gain(np.tan(np.pi * np.minimum(fft.rfftfreq(len(around)), 0.4999999)))      # its tangent has no end
    begin = far + near
    return np.asarray(fft.irfft(fft.rfft(around) * gains, len(around))[begin:begin + len(values)])
