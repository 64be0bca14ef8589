"""Pans and zooms: how fast, how jerky, whether they overshoot; the pull-out and how even it is; hunting."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from ..filtering import lowpass
from .series import EVERY, Series, evenly, thinned

_SMOOTH = 2.0               # hertz; faster movement is shake
_ZOOMS = 0.04               # natural logarithm of the magnification a second: slower is breathing of the lens
_PULLS_OUT = 0.25           # natural logarithm: a picture a quarter wider is a pull-out
_PAUSE = 0.6                # seconds that a zoom may rest and still be the same
_TENTHS = 0.1, 0.9          # of the zoom's way: what lies between is judged, for it has to start and to stop
_COUNTS = 0.02              # natural logarithm: smaller movements to and fro are not made by hand
_OVERSHOT = 0.01            # picture widths
_SWINGS = 0.04              # picture widths: a pan that goes back by less follows a step, or trembles
_SOON = 1.5                 # seconds before and behind a turn in which it goes so far: else it only drifts
_TO_AND_FRO = 3.0           # seconds within which what a pan goes back counts: plays are followed one way for longer


@dataclass(frozen=True, slots=True)
class ZoomMove:
    """One zoom. ``magnification`` is that at its end against its beginning: below 1 it pulls out. ``speed`` is the
    mean over its middle part in natural logarithms a second, ``unevenness`` the greatest there against that: 1 is
    perfectly even."""

    start: float
    end: float
    magnification: float
    speed: float
    unevenness: float
    fastest_at: float

    @property
    def seconds(self) -> float:
        """How long it takes."""
        return self.end - self.start

    @property
    def pulls_out(self) -> bool:
        """Whether the picture becomes wider, and enough to speak of a pull-out."""
        return self.magnification < float(np.exp(-_PULLS_OUT))


@dataclass(frozen=True, slots=True, eq=False)
class Movement:
    """How the camera moves through a shot. ``pan`` is in picture widths a second, ``jerk`` the change of its
    acceleration (widths a second, cubed), ``zoom`` in natural logarithms a second (positive: in), ``back`` how far the
    pan goes back on its way within three seconds, in widths: half of what its way is longer than what it gets on."""

    pan: Series
    jerk: Series
    zoom: Series
    back: Series
    zooms: tuple[ZoomMove, ...]
    reversals: tuple[float, ...]        # seconds at which the zoom turns round
    turns: tuple[float, ...]            # seconds at which the pan turns round
    overshoots: tuple[float, ...]       # seconds at which a pan that has arrived goes back


def movement(times: np.ndarray, zoom: np.ndarray, right: np.ndarray, down: np.ndarray) -> Movement:
    """The movement of the camera, from the movements between its pictures."""
    nothing = Series(times[:0], times[:0])
    every = float(np.median(np.diff(times))) if len(times) > 2 else 0.0
    if not every or times[-1] - times[0] < 1.0 or 1 / every < 4 * _SMOOTH:
        return Movement(nothing, nothing, nothing, nothing, (), (), (), ())
    at, path = evenly(times, np.where(np.isfinite(zoom), np.cumsum(np.nan_to_num(zoom)), np.nan), every)
    _, x = evenly(times, np.where(np.isfinite(right), np.cumsum(np.nan_to_num(right)), np.nan), every)
    _, y = evenly(times, np.where(np.isfinite(down), np.cumsum(np.nan_to_num(down)), np.nan), every)
    if not len(at) or len(at) < 12:
        return Movement(nothing, nothing, nothing, nothing, (), (), (), ())
    path, x, y = (lowpass(part, _SMOOTH, 1 / every, 2) for part in (path, x, y))
    speed_x, speed_y, speed_zoom = (np.gradient(part) / every for part in (x, y, path))
    jerk = np.hypot(np.gradient(np.gradient(speed_x)), np.gradient(np.gradient(speed_y))) / every ** 2
    return Movement(thinned(at, np.hypot(speed_x, speed_y)), thinned(at, jerk), thinned(at, speed_zoom),
                    thinned(at, _gone_back(x, round(_TO_AND_FRO / every))), tuple(_zooms(at, path, speed_zoom)),
                    tuple(_turning_points(at, path, _COUNTS)), tuple(_turns(at, x)),
                    tuple(_overshoots(at, x)))


def _gone_back(path: np.ndarray, window: int) -> np.ndarray:
    """How far a path goes back within a window around each place."""
    longer = np.pad(path, (window // 2, window - window // 2), mode="edge")
    way = np.cumsum(np.abs(np.diff(longer, prepend=longer[0])))
    result: np.ndarray = (way[window:] - way[:-window] - np.abs(longer[window:] - longer[:-window])) / 2
    return result


def _zooms(at: np.ndarray, path: np.ndarray, speed: np.ndarray) -> list[ZoomMove]:
    """The zooms: movement one way, with short rests."""
    found = []
    for way in (-1, 1):
        moves = np.flatnonzero(speed * way > _ZOOMS)
        if not len(moves):
            continue
        for run in np.split(moves, np.flatnonzero(np.diff(at[moves]) > _PAUSE) + 1):
            first, last = run[0], run[-1]
            total = path[last] - path[first]
            if abs(total) < _COUNTS or last - first < 3:
                continue
            done = (path[first:last + 1] - path[first]) / total
            inner = np.flatnonzero((done >= _TENTHS[0]) & (done <= _TENTHS[1])) + first
            inner = np.arange(inner[0], inner[-1] + 1) if len(inner) > 2 else np.arange(first, last + 1)
            seconds = max(at[inner[-1]] - at[inner[0]], EVERY)
            mean = abs(path[inner[-1]] - path[inner[0]]) / seconds
            fastest = inner[np.argmax(np.abs(speed[inner]))]
            found.append(ZoomMove(float(at[first]), float(at[last]), float(np.exp(total)), float(mean),
                                  float(abs(speed[fastest]) / max(mean, 1e-6)), float(at[fastest])))
    return sorted(found, key=lambda move: move.start)


def _turning_points(at: np.ndarray, path: np.ndarray, least: float) -> list[float]:
    """Where a path turns round, by at least ``least`` either side."""
    found: list[float] = []
    way, extreme, where = 0, path[0], 0
    low, high = path[0], path[0]
    for number, value in enumerate(path):
        if way == 0:
            low, high = min(low, value), max(high, value)
            if value - low >= least:
                way, extreme, where = 1, value, number
            elif high - value >= least:
                way, extreme, where = -1, value, number
        elif (value - extreme) * way > 0:
            extreme, where = value, number
        elif (extreme - value) * way >= least:
            found.append(float(at[where]))
            way, extreme, where = -way, value, number
    return found


def _turns(at: np.ndarray, path: np.ndarray) -> list[float]:
    """Where a pan turns round, and soon goes somewhere on both sides."""
    found = []
    for turn in _turning_points(at, path, _SWINGS):
        first, here, last = np.searchsorted(at, (turn - _SOON, turn, turn + _SOON))
        if min(np.ptp(path[first:here + 1]), np.ptp(path[here:last + 1])) >= _SWINGS:
            found.append(turn)
    return found


def _overshoots(at: np.ndarray, path: np.ndarray) -> list[float]:
    """Where a pan of some length goes back by a twentieth to a third of its way and rests."""
    found: list[float] = []
    turns = _turning_points(at, path, _OVERSHOT)
    places = [0, *(int(np.searchsorted(at, turn)) for turn in turns), len(at) - 1]
    was_one = False
    for before, turn, after in zip(places, places[1:], places[2:], strict=False):
        there, back = abs(path[turn] - path[before]), abs(path[after] - path[turn])
        # what goes back is no pan of its own
        was_one = not was_one and there > 0.1 and 0.05 * there < back < 0.34 * there
        if was_one:
            found.append(float(at[turn]))
    return found
