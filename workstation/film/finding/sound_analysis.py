"""Measure a source's loudness and find referees' whistles in its sound.

A whistle is one narrow, strong tone, roughly 3 to 4.5 kHz (common practice, no source), that
starts at once, trembles with the pea or the beating of its chambers, and stands far above the
crowd around it. Voices, bands and loudspeakers have their strong tones lower, or many of them.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import NamedTuple

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
_NARROW = 4                     # lines to a narrower band
_BESIDE = 5                     # hops compared either side of a jump


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


class _Tones(NamedTuple):
    """For every 10 ms: how far the strongest lines of a whistle's band stand above its middle level, in decibels; where
    they lie on average, in Hz; the decibels of what lies in the lines; and, a column each, of what lies in narrower
    bands below."""

    stands_out: np.ndarray
    hertz: np.ndarray
    loud: np.ndarray
    below: np.ndarray

    @property
    def low(self) -> np.ndarray:
        """The decibels of all that lies below the band."""
        summed: np.ndarray = 10 * np.log10((10 ** (self.below / 10)).sum(1))
        return summed


def _tones(samples: np.ndarray) -> np.ndarray:
    """The columns of :class:`_Tones` side by side."""
    frames = np.lib.stride_tricks.sliding_window_view(samples, _WINDOW)[::_HOP]
    power = np.abs(np.fft.rfft(frames * np.hanning(_WINDOW).astype(np.float32), axis=1)) ** 2 + 1e-9
    hertz = np.fft.rfftfreq(_WINDOW, 1 / RATE)
    band = np.flatnonzero((hertz >= WHISTLES.band[0]) & (hertz <= WHISTLES.band[1]))
    inside = power[:, band]
    ranked = np.sort(inside, axis=1)
    floor = np.median(inside, axis=1, keepdims=True)
    least = ranked[:, -WHISTLES.lines][:, None]
    lines = np.where(inside >= least, inside, 0)
    loud = lines.sum(1)
    first, last = (int(np.searchsorted(hertz, edge)) for edge in (300, WHISTLES.band[0] - 300))
    below = np.add.reduceat(power[:, first:last], np.arange(0, last - first, _NARROW), axis=1)
    return np.column_stack([10 * np.log10(loud / (floor[:, 0] * WHISTLES.lines)), (lines * hertz[band]).sum(1) / loud,
                            10 * np.log10(loud), 10 * np.log10(below)]).astype(np.float32)


def _whistles(columns: np.ndarray) -> Iterator[Whistle]:
    """Merge pieces of whistles and judge each: long enough, steady, and not part of a sound that begins below, too."""
    tones = _Tones(columns[:, 0], columns[:, 1], columns[:, 2], columns[:, 3:])
    hop = _HOP / RATE
    at = np.flatnonzero((tones.stands_out >= WHISTLES.stands_out) & (tones.loud - tones.low >= WHISTLES.above_low))
    if not len(at):
        return
    runs = [run for whole in np.split(at, np.flatnonzero(np.diff(at) > WHISTLES.gap / hop) + 1)
            for run in _split_at_jumps(whole, tones) if _is_tone(run, tones)]
    for pieces in _merged(runs, tones):
        run = np.concatenate(pieces)
        lasts = (run[-1] - run[0] + 1) * hop
        middle = float(np.median(tones.hertz[run]))
        if (max(len(piece) for piece in pieces) < WHISTLES.shortest / hop or lasts > WHISTLES.longest
                or not WHISTLES.lowest <= middle <= WHISTLES.highest
                or tones.hertz[run].std() < WHISTLES.steadiest * middle or _is_overtone(pieces[0], tones)):
            continue
        clear = float(np.median(tones.stands_out[run]))
        confidence = min(max((clear - WHISTLES.stands_out) / 15, 0) * 0.6 + min(lasts / 0.4, 1) * 0.4, 1.0)
        yield Whistle(float(run[0] * hop + _WINDOW / 2 / RATE), float(lasts), float(confidence))


def _split_at_jumps(run: np.ndarray, tones: _Tones) -> list[np.ndarray]:
    """Part a run where its loudness jumps, or its frequency from one steady tone to another: a whistle begins while
    another tone sounds."""
    if len(run) < 2 * _BESIDE:
        return [run]
    loud, pitch = (np.lib.stride_tricks.sliding_window_view(values[run], _BESIDE)
                   for values in (tones.loud, np.log(tones.hertz)))
    flat = np.ptp(pitch, axis=1) <= WHISTLES.higher
    level, height = np.median(loud, axis=1), np.median(pitch, axis=1)
    jump = np.zeros(len(run))
    jump[_BESIDE:1 - _BESIDE] = np.maximum(
        np.abs(level[_BESIDE:] - level[:-_BESIDE]) / WHISTLES.louder,
        np.abs(height[_BESIDE:] - height[:-_BESIDE]) / WHISTLES.higher * (flat[_BESIDE:] & flat[:-_BESIDE]))
    least = int(WHISTLES.piece * RATE / _HOP)       # less is how a tone sets in or ends
    places = [at for at in np.flatnonzero(jump >= 1) if least <= at <= len(run) - least
              and jump[at] >= jump[max(at - _BESIDE, 0):at + _BESIDE + 1].max()]
    return np.split(run, places)


def _is_tone(run: np.ndarray, tones: _Tones) -> bool:
    """Is a run long enough, loud enough against what is below the band, and steady?"""
    return (len(run) >= WHISTLES.piece * RATE / _HOP and _is_steady(tones.hertz[run])
            and float(np.median(tones.loud[run] - tones.low[run])) >= WHISTLES.piece_above_low)


def _is_steady(hertz: np.ndarray) -> bool:
    """Does the tone stay where it is, but for its tremble and how it is blown and ends? Voices, birds and brakes
    sweep."""
    smooth = np.convolve(hertz, np.full(5, 0.2), "valid")
    ends = min(4, len(smooth) // 4)
    body = smooth[ends:len(smooth) - ends]
    if body.std() > WHISTLES.sweeps * body.mean():
        return False
    at = np.linspace(-1, 1, len(body))
    course, weights = body, np.ones(len(body))
    for _ in range(3 if len(body) > 3 else 0):      # what sounds beside it for a moment does not count
        course = np.polyval(np.polyfit(at, body, 2, w=weights), at)
        away = np.abs(body - course)
        weights = 1 / (1 + away / max(float(np.median(away)), 1.0))
    return bool(np.ptp(course) <= WHISTLES.glides * body.mean())


def _merged(runs: list[np.ndarray], tones: _Tones) -> Iterator[list[np.ndarray]]:
    """Put together the pieces of one whistle: its own, where something drowned it, and its echo. A piece that is louder
    than what comes just before it, at another height, begins another."""
    pieces: list[np.ndarray] = []
    for run in runs:
        apart = abs(np.median(tones.hertz[run]) / np.median(tones.hertz[pieces[0]]) - 1) if pieces else 0.0
        alike = apart <= WHISTLES.alike
        sets_in = (pieces and run[0] - pieces[-1][-1] <= _BESIDE and apart > WHISTLES.same
                   and np.median(tones.loud[run]) - np.median(tones.loud[pieces[-1]]) >= WHISTLES.louder)
        if pieces and alike and not sets_in and run[0] - pieces[-1][-1] <= WHISTLES.merged * RATE / _HOP:
            pieces.append(run)
        else:
            if pieces:
                yield pieces
            pieces = [run]
    if pieces:
        yield pieces


def _is_overtone(run: np.ndarray, tones: _Tones) -> bool:
    """Does more begin below the band when the tone begins, as with voices, horns and instruments?"""
    length = int(WHISTLES.beside * RATE / _HOP)
    before = slice(max(run[0] - length - 3, 0), max(run[0] - 3, 0))
    if before.stop <= before.start:
        return False
    grown = 10 ** (np.median(tones.below[run], axis=0) / 10) - (10 ** (tones.below[before] / 10)).mean(0)
    tone = 10 ** (float(np.median(tones.loud[run])) / 10)
    return bool(tone < WHISTLES.over_below * grown.clip(0).sum())
