"""The measures of one shot: what a record says about the span between two timestamps of its source."""

from __future__ import annotations

from functools import cached_property

import numpy as np

from ..film import Source
from .action import room, spread, steadied
from .exposure import flicker, jumps
from .focus import reference, softness
from .lean import lean
from .level import roll
from .movement import Movement, movement
from .record import Record
from .series import EMPTY, EVERY, Series
from .sound import clipping, near_voices, quiet, wind
from .steadiness import shake


class Passage:
    """A span of a source. All series count seconds from the source's first picture.

    ``usual_voice`` is the usual level of speech over the film in decibels.
    """

    def __init__(self, source: Source, record: Record, start: int, end: int, *, usual_voice: float = 0.0) -> None:
        self._source, self.record = source, record
        self._tick = float(source.time_base)
        self.start, self.end = self.seconds_of(start), self.seconds_of(end)
        self._usual_voice = usual_voice
        first, last = np.searchsorted(record.pts, (start, end))
        self._times = (record.pts[first:last] - source.start_pts) * self._tick
        self._motion = record.motion[first:last].astype(float)
        self._gain = record.gain[first:last].astype(float)
        if len(self._motion):       # how the first picture differs from the shot before says nothing
            self._motion[0], self._gain[0] = np.nan, np.nan
        self._looks = slice(*np.searchsorted(record.look_pts, (start, end)))
        self._actions = slice(*np.searchsorted(record.action_pts, (start + 1, end)))
        begins, ends = round(self.start / EVERY), round(self.end / EVERY)
        self._upright = slice(*np.searchsorted(record.upright_pts, (start, end)))
        self._sound = record.sound[begins:ends].astype(float)
        self._sound_times = (begins + np.arange(len(self._sound)) + 0.5) * EVERY

    def seconds_of(self, pts: int) -> float:
        """Seconds from the source's first picture to a timestamp."""
        return (pts - self._source.start_pts) * self._tick

    def pts(self, seconds: float) -> int:
        """The timestamp at seconds from the source's first picture."""
        return self._source.start_pts + round(seconds / self._tick)

    @property
    def seconds(self) -> float:
        """How long it lasts."""
        return self.end - self.start

    @property
    def is_measured(self) -> bool:
        """Whether anything of it was looked at."""
        return len(self._times) > 2

    @cached_property
    def shake(self) -> Series:
        """Thousandths of the picture's width."""
        motion = self._motion
        return shake(self._times, motion[:, 2], motion[:, 3], motion[:, 1])

    @cached_property
    def movement(self) -> Movement:
        """Pans and zooms."""
        motion = self._motion
        return movement(self._times, motion[:, 0], motion[:, 2], motion[:, 3])

    @cached_property
    def roll(self) -> Series:
        """Degrees against the shot's usual."""
        motion = self._motion
        return roll(self._times, motion[:, 0], motion[:, 2], motion[:, 3], motion[:, 1])

    @cached_property
    def lean(self) -> Series:
        """How far upright things are tilted, in degrees: one value for the whole shot, none where it is not clear."""
        value = lean(self.record.upright[self._upright])
        times = np.arange(self.start, self.end, EVERY)
        return Series(times, np.full(len(times), value)) if np.isfinite(value) else EMPTY

    @property
    def _look_times(self) -> np.ndarray:
        return np.asarray((self.record.look_pts[self._looks] - self._source.start_pts) * self._tick)

    @cached_property
    def sharpest(self) -> np.ndarray | None:
        """The spectrum of the shot's sharpest pictures."""
        return reference(self.record.spectra[self._looks])

    @property
    def thousandth(self) -> float:
        """A thousandth of the picture's width in pixels."""
        return float(self.record.size[0]) / 1000

    @cached_property
    def softness(self) -> Series:
        """Blur beyond that of the shot's best, in thousandths of the width."""
        return softness(self._look_times, self.record.spectra[self._looks], self.sharpest, self.thousandth)

    @property
    def black(self) -> Series:
        """The share of the picture that is black."""
        return Series(self._look_times, self.record.clipped[self._looks, 0].astype(float))

    @property
    def burnt(self) -> Series:
        """The share of the picture that is burnt out."""
        return Series(self._look_times, self.record.clipped[self._looks, 1].astype(float))

    @cached_property
    def jumps(self) -> Series:
        """The share by which the light changes within 0.4 s."""
        return jumps(self._times, self._gain)

    @cached_property
    def flicker(self) -> Series:
        """The share by which the light trembles."""
        return flicker(self._times, self._gain)

    @property
    def _action_times(self) -> np.ndarray:
        return np.asarray((self.record.action_pts[self._actions] - self._source.start_pts) * self._tick)

    @cached_property
    def _figures(self) -> np.ndarray:
        return steadied(self._action_times, self.record.figures[self._actions].astype(float))

    @cached_property
    def room(self) -> Series:
        """The room between the action and the nearest edge, as a share of the picture."""
        return room(self._action_times, self._figures)

    @cached_property
    def spread(self) -> Series:
        """The share of the picture's width that what moves takes up."""
        return spread(self._action_times, self._figures)

    @property
    def has_sound(self) -> bool:
        """Whether there is any sound stream over the span."""
        return len(self._sound) > 0

    @property
    def clipping(self) -> Series:
        """The share of samples that are cut off."""
        return clipping(self._sound_times, self._sound)

    @property
    def wind(self) -> Series:
        """Decibels of the lowest sounds over all others."""
        return wind(self._sound_times, self._sound)

    @property
    def quiet(self) -> Series:
        """Decibels below full scale."""
        return quiet(self._sound_times, self._sound)

    @property
    def near_voices(self) -> Series:
        """Decibels of speech over its usual level."""
        return near_voices(self._sound_times, self._sound, self._usual_voice)
