"""Decode the exact frame at any instant of a film, with a cache and prefetch."""

from __future__ import annotations

import threading
from collections.abc import Callable, Iterable
from concurrent.futures import Future
from typing import Self

from .faults import NoPicture
from .film import Film
from .film_indexes import FilmIndexes
from .frame_cache import FrameCache
from .frame_worker import FrameWorker, Request
from .index import FrameIndex
from .picture import Picture
from .prefetch import LARGE, Prefetch
from .time import Instant

MEMORY_LIMIT = 600 << 20        # bytes by which the process may grow
# of it for frames kept small: the decoder's own buffers come on top, instead of being them
SMALL_SHARE = 0.36
CACHE_SHARE = 0.55              # of it for frames; the rest is for the decoders' own


class FrameReader:
    """Gives the exact frame shown at any instant of a film.

    ``memory_limit`` bounds, in bytes, what reading adds to the process. With ``keep_small``, frames of very large film
    that nobody asked for yet are kept at half their size, so that stepping finds them. All methods may be
    called from any thread; :meth:`close` must be called in the end.
    """

    def __init__(self, film: Film, memory_limit: int = MEMORY_LIMIT, keep_small: bool = False) -> None:
        self.film = film
        self._changed = threading.Condition()
        self._indexes = FilmIndexes(film, self._changed)
        small = keep_small and any(source.height >= LARGE for source in film.sources)
        self._share = SMALL_SHARE if small else CACHE_SHARE
        self._cache = FrameCache(int(memory_limit * self._share))
        self._prefetch = Prefetch(self._indexes, self._cache, keep_small)
        self._worker = FrameWorker(self._indexes, self._cache, self._prefetch, self._changed)
        self._in_view: tuple[int, ...] = ()

    def limit_memory(self, memory_limit: int) -> None:
        """Change how many bytes reading may add to the process; frames beyond that are evicted at once."""
        with self._changed:
            self._cache.limit = int(memory_limit * self._share)
            self._cache.shrink(self._prefetch.distance)

    def index_all(self) -> None:
        """Index every source in the background, the most needed first: the one on show, the one that plays next, those
        :meth:`in_view`, then in order; while a player needs the processor, the first two only."""
        self._indexes.index_all(self._most_needed)

    def in_view(self, ids: Iterable[str]) -> None:
        """Say which sources can be seen (on a timeline, say), so that they are indexed before others."""
        positions = {source.id: position for position, source in enumerate(self.film.sources)}
        self._in_view = tuple(positions[id] for id in ids if id in positions)

    def _most_needed(self, left: list[int]) -> int | None:
        with self._changed:
            while True:
                if self._worker.closed:
                    return None
                playhead = self._prefetch.playhead
                here = playhead[0] if playhead is not None else 0
                plays = (here, here + 1)
                if playhead is not None and not self._prefetch.paused:
                    return next((position for position in (*plays, *self._in_view) if position in left), left[0])
                needed = next((position for position in plays if position in left), None)
                if needed is not None and playhead is not None:
                    return needed
                self._changed.wait()

    def frame_at(self, instant: Instant, whole: bool = True) -> Picture:
        """Return the frame shown at an instant (before the source's first frame: the first). A small one that is there
        already serves unless it has to be ``whole``.

        Waits for the decoder if need be. Raises NoPicture if the source cannot be shown, with the reason; KeyError if
        the film has no such source.
        """
        picture = self.cached(instant, whole)
        if picture is not None:
            return picture
        answer: Future[Picture | NoPicture] = Future()
        self._worker.request(Request(instant, answer.set_result, whole), urgent=True)
        result = answer.result()
        if isinstance(result, NoPicture):
            raise result
        return result

    def fetch(self, instant: Instant, done: Callable[[Picture | NoPicture], None], whole: bool = True) -> None:
        """Request the frame shown at an instant without waiting. A small one that is there already serves unless it has
        to be ``whole``.

        ``done`` is called in the reading thread. A later call takes the place of an earlier one that has not been
        served: a dragged playhead gets the frame it rests on and as many between as there is time for.
        """
        self._worker.request(Request(instant, done, whole), urgent=False)

    def cached(self, instant: Instant, whole: bool = True) -> Picture | None:
        """The frame shown at an instant if it is decoded already, a small one unless ``whole``; else None at once."""
        with self._changed:
            place = self._indexes.place(instant)
            if place is None:
                return None
            place = self._indexes.decodable(place)
            picture = self._cache.get(place)
            if picture is not None and picture.small and whole:
                return None
            if picture is not None:
                self._prefetch.move(place)
                self._changed.notify_all()
            return picture

    def around(self, instant: Instant, behind: int, ahead: int) -> list[Picture]:
        """The frames of the same source that are decoded already, from ``behind`` frames before the one
        shown at an instant to ``ahead`` after it."""
        with self._changed:
            place = self._indexes.place(instant)
            if place is None:
                return []
            position, number = place
            frames = (self._cache.get((position, n)) for n in range(number - behind, number + ahead + 1))
            return [frame for frame in frames if frame is not None]

    def index(self, id: str) -> FrameIndex | None:
        """The index of a source if it is known, else None at once."""
        return self._indexes.get(self._indexes.position(id))

    def step(self, instant: Instant, n: int) -> Instant:
        """Return the timestamp of the frame ``n`` frames after (before, if negative) the one shown at
        ``instant``, across source boundaries, clamped to the film. Sources that cannot be shown are
        stepped over. Waits for a source's index if it is not made yet."""
        return self._indexes.step(instant, n)

    def rest(self, resting: bool = True) -> None:
        """Pause (or resume) prefetching, for as long as a player needs the processor."""
        with self._changed:
            self._prefetch.paused = resting
            self._changed.notify_all()

    def close(self) -> None:
        """Stop reading and release all files and frames."""
        self._worker.close()

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_: object) -> None:
        self.close()
