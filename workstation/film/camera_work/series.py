"""A measured value over time, and the spans in which it is out of bounds."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

EVERY = 0.1             # seconds between two values of a series


@dataclass(frozen=True, slots=True)
class Stretch:
    """From ``start`` to ``end`` seconds something was measured; ``worst`` is the value furthest out, at ``at``."""

    start: float
    end: float
    at: float
    worst: float

    @property
    def seconds(self) -> float:
        """How long it lasts."""
        return self.end - self.start


@dataclass(frozen=True, slots=True, eq=False)
class Series:
    """``values`` at ``times`` (seconds, ascending); not a number where nothing could be measured."""

    times: np.ndarray
    values: np.ndarray

    def __len__(self) -> int:
        return len(self.times)

    @property
    def known(self) -> np.ndarray:
        """The values that could be measured."""
        return np.asarray(self.values[np.isfinite(self.values)])

    def typical(self) -> float | None:
        """The median of what was measured; None if nothing was."""
        return float(np.median(self.known)) if len(self.known) else None

    def worst(self) -> float | None:
        """What one twentieth of the time exceeds; None if nothing was measured."""
        return float(np.quantile(self.known, 0.95)) if len(self.known) else None

    def shifted(self, seconds: float) -> Series:
        """The same, counted from another beginning."""
        return Series(self.times + seconds, self.values)

    def between(self, start: float, end: float) -> Series:
        """What was measured from ``start`` up to ``end``."""
        first, last = np.searchsorted(self.times, (start, end))
        return Series(self.times[first:last], self.values[first:last])

    def above(self, threshold: float, least: float = 0.0, gap: float = 0.0) -> Iterator[Stretch]:
        """The stretches of at least ``least`` seconds in which the value exceeds the threshold; stretches no further
        apart than ``gap`` seconds are one."""
        high = np.flatnonzero(np.nan_to_num(self.values, nan=-np.inf) > threshold)
        if not len(high):
            return
        step = self.step
        for run in np.split(high, np.flatnonzero(np.diff(self.times[high]) > gap + 1.5 * step) + 1):
            start, end = float(self.times[run[0]]) - step / 2, float(self.times[run[-1]]) + step / 2
            if end - start >= least - 1e-9:
                peak = run[np.argmax(self.values[run])]
                yield Stretch(max(start, 0.0), end, float(self.times[peak]), float(self.values[peak]))

    def returns(self, threshold: float) -> int:
        """How often it rises above a threshold and comes back to half of it."""
        times, is_low = 0, True
        for value in self.known:
            if is_low and value > threshold:
                is_low = False
            elif not is_low and value < threshold / 2:
                times, is_low = times + 1, True
        return times

    @property
    def step(self) -> float:
        """Seconds from one value to the next."""
        return float(np.median(np.diff(self.times))) if len(self) > 1 else EVERY


EMPTY = Series(np.zeros(0), np.zeros(0))


def evenly(times: np.ndarray, values: np.ndarray, every: float) -> tuple[np.ndarray, np.ndarray]:
    """Values at evenly spaced times; where nothing was measured, between its neighbours."""
    known = np.isfinite(values)
    if known.sum() < 2:
        return np.zeros(0), np.zeros(0)
    at = np.arange(times[0], times[-1] + every / 2, every)
    return at, np.interp(at, times[known], values[known])


def thinned(times: np.ndarray, values: np.ndarray, every: float = EVERY) -> Series:
    """A dense signal as a series with a value each *every* seconds."""
    if len(times) < 2:
        return EMPTY
    at = np.arange(times[0], times[-1] + every / 2, every)
    return Series(at, np.interp(at, times, values))
