"""Measure a source's loudness and find referees' whistles in its sound.

A whistle is one narrow, strong tone, roughly 3 to 4.5 kHz (common practice, no source), that
starts at once, trembles with the pea or the beating of its chambers, and stands far above the
crowd around it. Voices, bands and loudspeakers have their strong tones lower, or many of them.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass

import av
import numpy as np

from ...cancelling import Cancelled
from ..faults import NoPicture, reason_for
from ..film import Source
from ..mono_sound import RATE, mono_samples
from .settings import WHISTLES

EVERY = 0.1                     # seconds between two levels
FLOOR = -90.0                   # decibels, said where there is no sound

_HOP = 160                      # samples: 10 ms
_WINDOW = 512                   # samples: 32 ms, 31 Hz to a line


@dataclass(frozen=True, slots=True)
class Whistle:
    """A suspected whistle: seconds from the first picture of its source, and how sure, 0 to 1."""

    at: float
    lasts: float
    confidence: float


@dataclass(frozen=True, slots=True, eq=False)
class SoundAnalysis:
    """Loudness in decibels relative to full scale, one for every :data:`EVERY` seconds from the source's first
    picture, and whistles in order. A silent source has neither."""

    levels: np.ndarray
    whistles: tuple[Whistle, ...]


def analyse_sound(source: Source, *, progress: Callable[[float], None] = lambda share: None,
           cancelled: Callable[[], bool] = lambda: False) -> SoundAnalysis:
    """Hear a source from its first picture to its last. Raises NoPicture if it cannot be read, Cancelled."""
    if source.audio_codec is None:
        return SoundAnalysis(np.zeros(0, np.float32), ())
    levels, spectra = [], []
    rest = np.zeros(0, np.float32)
    step = int(RATE * EVERY)
    seconds = max(float(source.duration), EVERY)
    heard = 0
    try:
        for samples in mono_samples(source):
            if cancelled():
                raise Cancelled("Listening was stopped.")
            rest = np.concatenate([rest, samples])
            whole = (len(rest) - _WINDOW) // step * step
            if whole < step * 20:
                continue
            levels.append(_levels(rest[:whole], step))
            spectra.append(_tones(rest[:whole + _WINDOW - _HOP]))
            rest = rest[whole:]
            heard += whole
            progress(min(heard / RATE / seconds, 1.0))
    except (av.FFmpegError, OSError, ValueError) as error:
        raise NoPicture(source.id, reason_for(error, source.path)) from error
    if len(rest):
        levels.append(_levels(np.pad(rest, (0, -len(rest) % step)), step))
        spectra.append(_tones(np.pad(rest, (0, _WINDOW))))
    if not levels:
        return SoundAnalysis(np.zeros(0, np.float32), ())
    return SoundAnalysis(np.concatenate(levels)[:int(np.ceil(seconds / EVERY))],
                         tuple(_whistles(np.concatenate(spectra))))


def find_whistles(samples: np.ndarray) -> tuple[Whistle, ...]:
    """Return the whistles in mono samples (-1 to 1) at 16 kHz."""
    return tuple(_whistles(_tones(np.pad(samples.astype(np.float32), (0, _WINDOW)))))


def _levels(samples: np.ndarray, step: int) -> np.ndarray:
    power = (samples.reshape(-1, step) ** 2).mean(1)
    return np.asarray(np.maximum(10 * np.log10(power + 1e-12), FLOOR), np.float32)


def _tones(samples: np.ndarray) -> np.ndarray:
    """For every 10 ms: the frequency of the strongest tone of the band, and its decibels over the rest of the
    band, over what lies below the band, and absolutely."""
    frames = np.lib.stride_tricks.sliding_window_view(samples, _WINDOW)[::_HOP]
    power = np.abs(np.fft.rfft(frames * np.hanning(_WINDOW).astype(np.float32), axis=1)) ** 2 + 1e-9
    hertz = np.fft.rfftfreq(_WINDOW, 1 / RATE)
    band = np.flatnonzero((hertz >= WHISTLES.band[0]) & (hertz <= WHISTLES.band[1]))
    inside = power[:, band]
    width = round(WHISTLES.half_width / hertz[1])
    summed = np.cumsum(np.pad(inside, ((0, 0), (width + 1, width))), axis=1)
    near = summed[:, 2 * width + 1:] - summed[:, :-2 * width - 1]
    best = near.argmax(1)
    tone = near[np.arange(len(near)), best]
    lines = np.arange(len(band))
    weight = inside * (np.abs(lines - best[:, None]) <= width)
    frequency = (weight * hertz[band]).sum(1) / weight.sum(1)
    rest = (inside.sum(1) - tone).clip(1e-9) / max(len(band) - 2 * width - 1, 1) * (2 * width + 1)
    low = power[:, (hertz >= 300) & (hertz < WHISTLES.band[0])].sum(1)
    return np.stack([frequency, 10 * np.log10(tone / rest), 10 * np.log10(tone / low), 10 * np.log10(tone)], 1)


def _whistles(tones: np.ndarray) -> Iterator[Whistle]:
    hop = _HOP / RATE
    sounding = (tones[:, 1] >= WHISTLES.above_band) & (tones[:, 2] >= WHISTLES.above_low)
    at = np.flatnonzero(sounding)
    if not len(at):
        return
    for run in np.split(at, np.flatnonzero(np.diff(at) > WHISTLES.gap / hop) + 1):
        lasts = (run[-1] - run[0] + 1) * hop
        if not WHISTLES.shortest <= lasts <= WHISTLES.longest or len(run) * hop < 0.6 * lasts:
            continue
        frequency = tones[run, 0]
        middle = float(np.median(frequency))
        swing = float(frequency.std() / middle)
        if not WHISTLES.steadiest <= swing <= WHISTLES.swing or not 2900 <= middle <= 4600:
            continue
        clear = float(np.median(tones[run, 1]))
        confidence = min(max((clear - WHISTLES.above_band) / 15, 0) * 0.6 + min(lasts / 0.4, 1) * 0.4, 1.0)
        yield Whistle(float(run[0] * hop + _WINDOW / 2 / RATE), float(lasts), float(confidence))
