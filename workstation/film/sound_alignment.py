"""How far apart two recordings of the same event lie, by what both microphones heard.

A recording becomes a trace: for each hop of time, how much louder than just before and after each of some bands is.
Steady sound (wind, hum, an even crowd) leaves little in it; whistles, claps, hits and shouts much. Two traces are
correlated at every lag at which they overlap enough. Sound takes a third of a second over the length of a field: what
the trace of a far microphone shows is that much late, which nothing in the sound tells.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import NamedTuple

import numpy as np
from scipy.ndimage import uniform_filter1d

from ..cancelling import Cancelled
from .film import Source
from .filtering import correlation
from .mono_sound import RATE, mono_samples

HOP = 80                        # samples: 5 ms, well below the length of a picture
_WINDOW = 512                   # samples: 32 ms
_BANDS = np.geomspace(350, 7000, 11)    # Hz; wind on a microphone lies below
_NEAR, _FAR = 100, 400          # hops: 0.5 s against which loudness is measured, 2 s over which it is evened out
_LOUDEST = 4.0                  # times the usual: a knock on the one microphone must not outweigh all else
LEAST_OVERLAP = 3.0             # seconds in which two recordings must both run to be compared


class Lag(NamedTuple):
    """``seconds``: where the second recording begins on the first one's clock. ``likeness``: correlation, -1 to 1, of
    what overlaps. ``clear``: how far it stands above all other lags, in their own spread; chance gives some 4 to 5."""

    seconds: float
    likeness: float
    clear: float


def sound_trace(source: Source, *, progress: Callable[[float], None] = lambda share: None,
                cancelled: Callable[[], bool] = lambda: False) -> np.ndarray:
    """The trace of a source from its first picture on: hops x bands. Empty where it has no sound.

    Raises Cancelled, and what reading the file raises (av.FFmpegError, OSError).
    """
    if source.audio_codec is None:
        return trace_of(np.zeros(0, np.float32))
    pieces, heard = [], 0
    for piece in mono_samples(source):
        if cancelled():
            raise Cancelled("Listening was stopped.")
        pieces.append(piece)
        heard += len(piece)
        progress(min(heard / RATE / max(float(source.duration), 0.1), 1.0))
    return trace_of(np.concatenate(pieces) if pieces else np.zeros(0, np.float32))


def trace_of(samples: np.ndarray) -> np.ndarray:
    """The trace of mono samples (-1 to 1) at 16 kHz: hops x bands."""
    bands = len(_BANDS) - 1
    if len(samples) < _WINDOW:
        return np.zeros((0, bands), np.float32)
    edges = np.searchsorted(np.fft.rfftfreq(_WINDOW, 1 / RATE), _BANDS)
    window = np.hanning(_WINDOW).astype(np.float32)
    loud = []
    for start in range(0, len(samples) - _WINDOW + 1, HOP * 4096):      # a piece at a time: spectra are large
        part = samples[start:start + HOP * 4095 + _WINDOW]
        frames = np.lib.stride_tricks.sliding_window_view(part, _WINDOW)[::HOP]
        power = np.abs(np.fft.rfft(frames * window, axis=1)) ** 2
        loud.append(np.log(np.add.reduceat(power, edges[:-1], axis=1)[:, :bands] + 1e-7))
    trace = np.concatenate(loud).astype(np.float32)
    trace -= uniform_filter1d(trace, _NEAR, axis=0, mode="nearest")
    usual = np.sqrt(uniform_filter1d(trace ** 2, _FAR, axis=0, mode="nearest")) + 0.05
    return np.asarray(np.clip(trace / usual, -1.0, _LOUDEST), np.float32)


def lag_of(first: np.ndarray, second: np.ndarray) -> Lag | None:
    """Where the second trace lies on the first one's clock; None where they overlap too little or one is silent."""
    least = round(LEAST_OVERLAP * RATE / HOP)
    if min(len(first), len(second)) < least:
        return None
    first, second = first - first.mean(0), second - second.mean(0)
    together = sum(correlation(first[:, band], second[:, band]) for band in range(first.shape[1]))
    lags = np.arange(-len(second) + 1, len(first))
    power = [np.concatenate([[0.0], np.cumsum((trace ** 2).sum(1))]) for trace in (first, second)]
    begin, end = np.maximum(lags, 0), np.minimum(lags + len(second), len(first))
    energy = (power[0][end] - power[0][begin]) * (power[1][end - lags] - power[1][begin - lags])
    enough = (end - begin >= least) & (energy > 0)
    if not enough.any():
        return None
    likeness = np.where(enough, together / np.sqrt(np.where(enough, energy, 1.0)), 0.0)
    weighed = likeness * np.sqrt(end - begin)       # a long overlap that is alike says more than a short one
    spread = float(np.median(np.abs(weighed[enough]))) / 0.6745
    if spread == 0:
        return None
    best = int(np.where(enough, weighed, -np.inf).argmax())
    return Lag((lags[best] + _between_hops(weighed, best)) * HOP / RATE, float(likeness[best]),
               float(weighed[best] / spread))


def _between_hops(values: np.ndarray, best: int) -> float:
    """Where the top of a parabola through the best value and its neighbours lies, in hops from it."""
    if not 0 < best < len(values) - 1:
        return 0.0
    left, top, right = values[best - 1:best + 2]
    bend = left - 2 * top + right
    return float(0.5 * (left - right) / bend) if bend < 0 else 0.0
