"""Plan which frames to decode while nobody waits: those the next steps forward and back will request."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from .film_indexes import FilmIndexes, FramePlace
from .frame_cache import FrameCache

MOST_AHEAD = 240                # frames; small ones would otherwise be decoded ahead for minutes

LARGE = 1440                    # lines from which film is kept small; half of them is still high definition
SMALLEST = 4                    # parts of its width and height
GROUPS = 2.2                    # groups of pictures that are to fit, so that one is decoded before it is stepped into
FORWARD_SHARE = 0.85            # of what is kept small lies in the direction of the last move
AGAINST = 5.0                   # how much farther away, for keeping, what lies against it


@dataclass(frozen=True, slots=True)
class Batch:
    """Frames ``first`` to ``last`` of the source at ``position``; None where they are not known yet and its index
    is to be made first. ``direction`` is that of the last move when it was planned: 1 or -1."""

    position: int
    frames: tuple[int, int] | None
    direction: int


class Prefetch:
    """Follows the playhead. ``failed`` are sources not to be decoded ahead. Not locked."""

    def __init__(self, indexes: FilmIndexes, cache: FrameCache, keep_small: bool = False) -> None:
        self._keep_small = keep_small
        self._factors: dict[int, int] = {}
        self.playhead: FramePlace | None = None
        self.paused = True
        self.failed: set[int] = set()
        self.direction = 1              # of the last move: -1 back
        self._indexes, self._cache = indexes, cache

    def move(self, place: FramePlace) -> None:
        """Put the playhead at a frame and go on prefetching."""
        if self.playhead is not None and place != self.playhead:
            self.direction = 1 if place > self.playhead else -1
        self.playhead, self.paused = place, False

    def distance(self, place: FramePlace) -> float:
        """Seconds from the playhead; more where what is kept small lies against the direction of the last move."""
        away = self._indexes.seconds(place) - (self._indexes.seconds(self.playhead) if self.playhead else 0.0)
        return abs(away) * (AGAINST if away * self.direction < 0 and self.small(place[0]) > 1 else 1.0)

    def span(self, position: int) -> int:
        """How many frames around the playhead are worth having: what fits into the cache."""
        return min(max(self._cache.capacity(self._size(position) // self.small(position) ** 2), 4), 2 * MOST_AHEAD)

    def small(self, position: int) -> int:
        """The part (a half: 2) of their width and height at which frames that are not asked for yet are kept; 1 where
        they are kept whole. Small enough for :data:`GROUPS` groups of pictures, if that is enough."""
        source = self._indexes.film.sources[position]
        if not self._keep_small or source.height < LARGE or source.interlaced:
            return 1
        if position not in self._factors:
            index = self._indexes.get(position)
            if index is None:
                return 2
            keys = np.unique([index.at(int(pts)) for pts in index.key_pts])
            group = int(np.median(np.diff([*keys, len(index)])))
            self._factors[position] = next(
                (factor for factor in range(2, SMALLEST)
                 if self._cache.limit * factor ** 2 >= GROUPS * group * self._size(position)), SMALLEST)
        return self._factors[position]

    def _size(self, position: int) -> int:
        source = self._indexes.film.sources[position]
        return source.width * source.height * 3 // 2

    def next_batch(self) -> Batch | None:
        """What to decode next, mostly in the direction of the last move. Of what is kept small, going back, the nearest
        missing frames of one group of pictures as soon as the whole group fits: it is there before its last frame is
        needed."""
        if self.paused or self.playhead is None:
            return None
        span, by_groups = self.span(self.playhead[0]), self.small(self.playhead[0]) > 1
        ahead = int(span * FORWARD_SHARE) if by_groups else span * 6 // 10
        for way, reach in ((self.direction, ahead), (-self.direction, span - ahead)):
            missing = self._missing(self.playhead, way, reach)
            if not missing:
                continue
            steps, (position, number) = missing[0]
            is_near, index = steps <= max(reach // 2, 1), self._indexes.get(position)
            if number is None or index is None:
                if by_groups or is_near:
                    return Batch(position, None, self.direction)
            elif by_groups and way < 0:
                key = index.at(int(index.key_pts[index.key_for(int(index.pts[number]))]))
                if is_near or steps + number - key <= reach:
                    return Batch(position, (max(key, number - (reach - steps)), number), self.direction)
            elif is_near:
                numbers = [n for _, (at, n) in missing if at == position and n is not None]
                return Batch(position, (min(numbers), max(numbers)), self.direction)
        return None

    def _missing(self, start: FramePlace, way: int, reach: int) -> list[tuple[int, tuple[int, int | None]]]:
        """Frames not in the cache within ``reach`` steps one way, with their number of steps."""
        missing: list[tuple[int, tuple[int, int | None]]] = []
        indexes, sources = self._indexes, self._indexes.film.sources
        position, number = start
        for steps in range(1, reach + 1):
            number += way
            index = indexes.get(position)
            if index is None or not 0 <= number < len(index):
                position += way
                if not 0 <= position < len(sources) or position in indexes.indexing:
                    break
                index = indexes.get(position)
                if index is None:
                    if position not in self.failed and not sources[position].problem:
                        missing.append((steps, (position, None)))
                    break
                number = 0 if way > 0 else len(index) - 1
            if position in self.failed or sources[position].problem:
                break
            place = position, number
            if place not in self._cache and place not in indexes.lost:
                missing.append((steps, place))
        return missing
