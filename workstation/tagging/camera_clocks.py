"""How the clock of one camera runs against that of another: a constant offset, and a drift where enough is known.

A camera writes into each file when it began to record, usually in whole seconds, by a clock that nobody set. Two
cameras' clocks differ by minutes or hours. The difference is found from sound that both recorded, or from the pattern
of starts and stops.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime

import numpy as np

from ..film.film import Film, Source
from ..film.filtering import correlation

WITHIN = 1.5
"""Seconds by which an event may lie off the line that relates two clocks, both of which count whole seconds."""
LEAST_SPANS = 6
"""Fewest recordings of each camera from which an offset is taken."""
LEAST_ALIKE, LEAST_LEAD = 0.45, 1.4
"""Least correlation of two patterns at which an offset is accepted, and how many times that of any offset farther
away than FAR it must be. Set on synthetic games: right offsets reached at least 0.6, wrong ones at most 0.35."""
FAR = 10.0
_STEP = 0.25        # seconds
MOST_DRIFT = 200e-6
"""Greatest drift that is accepted. Camera clocks drift by tens of millionths."""


class RecordedTimes:
    """When each film time was recorded by its camera's clock, in seconds of an arbitrary day, if that is known."""

    def __init__(self, film: Film):
        self._starts = [float(film.starts_at(source.id)) for source in film.sources]
        began = [_began(source) for source in film.sources]
        self._began = [float("nan") if each is None else each for each in began]

    @property
    def known(self) -> bool:
        """Whether any source says when it was recorded."""
        return any(each == each for each in self._began)

    def at(self, time: float) -> float | None:
        """The camera's clock at a film time in seconds; None where that is not known."""
        place = max(int(np.searchsorted(self._starts, time, side="right")) - 1, 0)
        if not self._starts or self._began[place] != self._began[place]:
            return None
        return self._began[place] + time - self._starts[place]


    def spans(self, spans: Iterable[tuple[float, float]]) -> list[tuple[float, float]]:
        """Spans of film (from, to) by the camera's clock, without those whose time is not known."""
        begun = [(self.at(begin), end - begin) for begin, end in spans]
        return [(begin, begin + length) for begin, length in begun if begin is not None]


@dataclass(frozen=True, slots=True)
class ClockLine:
    """The further clock shows ``offset + drift * (first - origin)`` seconds more than the first one. ``spread``:
    seconds by which known events lie off the line."""

    offset: float
    drift: float
    origin: float
    spread: float

    def further(self, first: float) -> float:
        """What the further clock shows when the first one shows ``first``."""
        return first + self.offset + self.drift * (first - self.origin)

    def __str__(self) -> str:
        ahead = "ahead of" if self.offset > 0 else "behind"
        said = f"its clock is {abs(self.offset):.1f} s {ahead} the first camera's"
        return said + (f" and drifts by {self.drift * 1e6:+.0f} millionths" if self.drift else "")


def line_through(ties: Iterable[tuple[float, float]]) -> ClockLine | None:
    """The line through moments known on both clocks, without outliers; None for fewer than three that agree."""
    known = np.array(sorted(ties), float).reshape(-1, 2)
    if len(known) < 3:
        return None
    apart = known[:, 1] - known[:, 0]
    near = np.abs(apart - np.median(apart)) <= WITHIN + MOST_DRIFT * np.ptp(known[:, 0])
    if near.sum() < 3:
        return None
    at, apart = known[near, 0], apart[near]
    origin = float(at.mean())
    drift = 0.0
    if np.ptp(at) > 600:        # a clock of whole seconds shows no drift within ten minutes
        drift = float(np.polyfit(at - origin, apart, 1)[0])
        drift = drift if abs(drift) <= MOST_DRIFT else 0.0
    offset = float(np.median(apart - drift * (at - origin)))
    return ClockLine(offset, drift, origin, float(np.std(apart - offset - drift * (at - origin))))


def line_by_pattern(first: Sequence[tuple[float, float]], further: Sequence[tuple[float, float]]) -> ClockLine | None:
    """The one offset at which two cameras recorded and paused together; spans (from, to) by each one's own clock.

    Both pause between plays, which differ in length, so that the pattern of one game fits only once. None where no
    offset fits well, or another one nearly as well.
    """
    if min(len(first), len(further)) < LEAST_SPANS:
        return None
    one, from_one = _pattern(first)
    other, from_other = _pattern(further)
    power = float((one ** 2).sum() * (other ** 2).sum())
    if power == 0:              # a camera that never paused has no pattern
        return None
    alike = correlation(other, one) / np.sqrt(power)
    offsets = (np.arange(len(alike)) - len(one) + 1) * _STEP + from_other - from_one
    best = int(alike.argmax())
    elsewhere = alike[np.abs(offsets - offsets[best]) > FAR]
    if alike[best] < LEAST_ALIKE or (len(elsewhere) and alike[best] < LEAST_LEAD * elsewhere.max()):
        return None
    return ClockLine(float(offsets[best]), 0.0, 0.0, WITHIN)


def _pattern(spans: Sequence[tuple[float, float]]) -> tuple[np.ndarray, float]:
    """Samples at even steps, high while a camera recorded, with mean 0; and the time of the first."""
    begin = min(start for start, _ in spans)
    recorded = np.zeros(round((max(end for _, end in spans) - begin) / _STEP) + 1)
    for start, end in spans:
        recorded[round((start - begin) / _STEP):round((end - begin) / _STEP) + 1] = 1.0
    return recorded - recorded.mean(), begin


def _began(source: Source) -> float | None:
    if source.created:
        try:
            when = datetime.fromisoformat(source.created)
        except ValueError:
            when = None
        if when is not None:
            return (when if when.tzinfo else when.replace(tzinfo=UTC)).timestamp()
    if source.timecode and (found := re.fullmatch(r"(\d+):(\d\d):(\d\d)[:;.](\d+)", source.timecode)):
        hours, minutes, seconds, frames = map(int, found.groups())
        return hours * 3600 + minutes * 60 + seconds + frames / float(source.frame_rate)
    return None
