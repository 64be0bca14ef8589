"""Where on the film things are: instants, shots and plays as film time in seconds.

Film time is exact in :mod:`workstation.film`; the screen only needs it to a pixel, so floats
do here, and thousands of instants are placed in a few milliseconds.
"""

from __future__ import annotations

from bisect import bisect_left
from dataclasses import dataclass
from fractions import Fraction

import numpy as np

from ..film.film import Film, Source
from ..film.index import cached_index
from ..film.time import Instant
from .model import Game, Moment, MomentKind, PlayTag, Shot


@dataclass(frozen=True, slots=True)
class PlayPlace:
    """A play on the film. ``start`` and ``end`` are its shot; ``snap`` and ``dead`` are None if not marked;
    ``opens`` is exactly where the action begins."""

    start: float
    end: float
    opens: Instant
    snap: float | None = None
    dead: float | None = None

    @property
    def action(self) -> tuple[float, float]:
        """From snap to dead ball as far as they are marked, else the ends of the shot."""
        first = self.start if self.snap is None else self.snap
        last = self.end if self.dead is None else self.dead
        return first, max(first, last)


class Places:
    """Film times of everything in one game snapshot."""

    def __init__(self, game: Game):
        self.game = game
        film = game.film
        self._clocks = {source.id: (float(film.starts_at(source.id)), float(source.time_base), source.start_pts)
                        for source in film.sources}
        self.duration = float(film.duration)
        shots = [shot for shot in game.shots if self.knows(shot.start)]
        self.shots: dict[int, tuple[float, float]] = {
            shot.id: (self.time(shot.start), self.time(shot.end)) for shot in shots}
        self._starts = {shot.id: shot.start for shot in shots}
        self._moments = sorted((self.time(moment.at), moment.id, moment)
                               for moment in game.moments if self.knows(moment.at))
        self._moment_times = [time for time, _, _ in self._moments]
        self.plays: dict[int, PlayPlace] = {tag.id: place for tag in game.plays if (place := self._place(tag))}

    def knows(self, instant: Instant) -> bool:
        """False if the instant's source is no longer part of the film."""
        return instant.source in self._clocks

    def time(self, instant: Instant) -> float:
        """Film time in seconds; KeyError if the source is not part of the film."""
        start, tick, first = self._clocks[instant.source]
        return start + (instant.pts - first) * tick

    def moments_between(self, start: float, end: float) -> list[tuple[float, Moment]]:
        """The moments from ``start`` up to, not including, ``end``, in film order."""
        first, last = bisect_left(self._moment_times, start), bisect_left(self._moment_times, end)
        return [(time, moment) for time, _, moment in self._moments[first:last]]

    def play_at(self, time: float) -> int | None:
        """The id of the play whose shot runs at ``time``, or ran last (what is filmed after a play is about it);
        None before the first."""
        begun = [(place.start, play) for play, place in self.plays.items() if place.start <= time]
        return max(begun)[1] if begun else None

    def _place(self, tag: PlayTag) -> PlayPlace | None:
        span = self.shots.get(tag.shot) if tag.shot is not None else None
        if span is None:
            return None
        snap = dead = None
        opens = self._starts[tag.shot]
        for time, moment in self.moments_between(*span):
            if moment.kind is MomentKind.SNAP and snap is None:
                snap, opens = time, moment.at
            elif moment.kind is MomentKind.DEAD_BALL and snap is not None:
                dead = time
        return PlayPlace(span[0], span[1], opens, snap, dead)


def shot_of(game: Game, shot_id: int) -> Shot | None:
    return next((shot for shot in game.shots if shot.id == shot_id), None)


def frame_start(film: Film, time: float) -> Instant:
    """The instant of the picture on screen at a film time."""
    instant = film.instant_at(Fraction(time).limit_denominator(1_000_000) if time > 0 else Fraction(0))
    return snapped(film, instant)


def snapped(film: Film, instant: Instant, nearest: bool = False) -> Instant:
    """Move an instant to the first tick of its picture, or to the *nearest* edge of a picture.

    The pictures are those of the source's frame index once that is made; until then they are taken
    to come at the nominal rate.
    """
    source = film.source(instant.source)
    edges = _edges(source)
    if edges is not None:
        after = int(np.searchsorted(edges, instant.pts, side="right"))
        before = max(after - 1, 0)
        if nearest and after < len(edges) and edges[after] - instant.pts <= instant.pts - edges[before]:
            before = after
        return Instant(source.id, int(edges[before]))
    ticks = source.frame_ticks
    frames = Fraction(instant.pts - source.start_pts) / ticks
    number = int(frames + Fraction(1, 2)) if nearest else int(frames)
    last = int(Fraction(source.duration_pts) / ticks)
    return Instant(source.id, source.start_pts + int(min(max(number, 0), last) * ticks + Fraction(1, 2)))


_kept_edges: dict[str, np.ndarray] = {}


def _edges(source: Source) -> np.ndarray | None:
    """First ticks of a source's pictures and the tick after the last one; None while there is no index."""
    edges = _kept_edges.get(source.fingerprint)
    if edges is None and (index := cached_index(source)) is not None:
        edges = _kept_edges[source.fingerprint] = np.append(index.pts, index.end)
    return edges
