"""The frame indexes of a film's sources, and steps from frame to frame across sources."""

from __future__ import annotations

import threading
from collections.abc import Callable

from .faults import NoPicture
from .film import Film, Source
from .index import BackgroundIndexer, FrameIndex, cached_index, index_of
from .time import Instant

INDEXED_AT_ONCE = 48 << 20      # bytes; reading so much takes about as long as a seek without an index

FramePlace = tuple[int, int]    # position of the source in the film, number of the frame in the source


class FilmIndexes:
    """Indexes by the sources' positions in the film, as far as they are known.

    ``lost`` are frames that an index has and no decode gives, ``indexing`` the long files being indexed in the
    background. ``changed`` is notified of each index."""

    def __init__(self, film: Film, changed: threading.Condition) -> None:
        self.film = film
        self.lost: set[FramePlace] = set()
        self.indexing: dict[int, BackgroundIndexer] = {}
        self._behind: BackgroundIndexer | None = None
        self._changed = changed
        self._positions = {source.id: position for position, source in enumerate(film.sources)}
        self._starts = [float(film.starts_at(source.id)) for source in film.sources]
        self._indexes: dict[int, FrameIndex] = {}

    def position(self, source_id: str) -> int:
        """Raises KeyError if the film has no such source."""
        return self._positions[source_id]

    def get(self, position: int) -> FrameIndex | None:
        """Return the index of the source at this position of the film, None while it is not ready."""
        return self._indexes.get(position)

    def add(self, source: Source, index: FrameIndex | NoPicture) -> None:
        """Take in the index of a source; one without a picture, or not in the film, is left out."""
        position = self._positions.get(source.id)
        if position is not None and isinstance(index, FrameIndex):
            with self._changed:
                self._indexes[position] = index
                self._changed.notify_all()

    def ready(self, position: int) -> FrameIndex | None:
        """An index that is there or quick to make; for a long file it is begun, and None returned."""
        index = self._indexes.get(position)
        if index is not None:
            return index
        source = self.film.sources[position]
        index = cached_index(source)
        if index is None and (source.size <= INDEXED_AT_ONCE or source.path.suffix.lower() == ".avi"):
            index = index_of(source)
        if index is not None:
            self.add(source, index)
        elif position not in self.indexing:
            self.indexing[position] = BackgroundIndexer([source], on_index=self.add)
        return index

    def index_all(self, choose: Callable[[list[int]], int | None]) -> None:
        """Index every source in the background. ``choose`` picks a position of those that are left, None to end."""
        sources = self.film.sources

        def pick(left: list[Source]) -> Source | None:
            done = [source for source in left if self._positions[source.id] in self._indexes]
            left[:] = [source for source in left if source not in done]
            position = choose([self._positions[source.id] for source in left]) if left else None
            return None if position is None else sources[position]

        self._behind = BackgroundIndexer(sources, choose=pick, on_index=self.add)

    def close(self) -> None:
        """Cancel all indexing that still runs."""
        for indexer in [*self.indexing.values(), *([self._behind] if self._behind else [])]:
            indexer.cancel()

    def place(self, instant: Instant) -> FramePlace | None:
        """The frame shown at an instant, the first that can be decoded whole at least; None without an index yet."""
        position = self._positions[instant.source]
        index = self._indexes.get(position)
        return None if index is None else (position, max(index.at(instant.pts), index.whole_from))

    def decodable(self, place: FramePlace) -> FramePlace:
        """The frame that stands on the screen at a place: damage leaves the one before standing."""
        position, number = place
        while number > 0 and (position, number) in self.lost:
            number -= 1
        return position, number

    def seconds(self, place: FramePlace) -> float:
        """Film time of a frame."""
        position, number = place
        pts = self._indexes[position].pts
        return self._starts[position] + int(pts[number] - pts[0]) * float(self.film.sources[position].time_base)

    def step(self, instant: Instant, n: int) -> Instant:
        """See :meth:`workstation.film.frames.FrameReader.step`."""
        position, way, left = self._positions[instant.source], 1 if n > 0 else -1, abs(n)
        index = self._make(position)
        if index is not None:
            at = index, (position, index.at(instant.pts))
        else:
            beyond = self._neighbour(position, way) if n else None
            if beyond is None:
                return instant
            at, left = beyond, left - 1
        while True:
            index, (position, number) = at
            take = min(left, len(index) - 1 - number if way > 0 else number)
            number, left = number + way * take, left - take
            beyond = self._neighbour(position, way) if left else None
            if beyond is None:
                return Instant(self.film.sources[position].id, int(index.pts[number]))
            at, left = beyond, left - 1

    def _make(self, position: int) -> FrameIndex | None:
        """The index of a source that can be shown, made now if need be."""
        index, source = self._indexes.get(position), self.film.sources[position]
        if index is not None or source.problem:
            return index
        try:
            index = index_of(source)
        except NoPicture:
            return None
        self.add(source, index)
        return index

    def _neighbour(self, position: int, way: int) -> tuple[FrameIndex, FramePlace] | None:
        """The first (last, going back) frame of the next source that can be shown."""
        position += way
        while 0 <= position < len(self.film.sources):
            index = self._make(position)
            if index is not None:
                return index, (position, 0 if way > 0 else len(index) - 1)
            position += way
        return None
