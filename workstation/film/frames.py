"""Decode the exact frame at any instant of a film, with a cache and prefetch.

One thread decodes: first what somebody waits for, then, while nobody does, what the next
steps forward and back will ask for. Pictures are kept as the decoder gave them (a third of
the size of RGB) and turned into pixels when they are shown.
"""

from __future__ import annotations

import logging
import threading
from collections import OrderedDict
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from typing import Self

import av

from .decoder import Decoder
from .faults import NoPicture, reason_for
from .film import Film, Source
from .index import BackgroundIndexer, FrameIndex, cached_index, index_of
from .memory import release_freed_memory
from .picture import Picture
from .probe import open_container, picture_stream
from .time import Instant

MEMORY_LIMIT = 600 << 20        # bytes by which the process may grow
CACHE_SHARE = 0.55              # of it for pictures; the rest is for the decoders' own
MOST_AHEAD = 240                # pictures; small ones would otherwise be decoded ahead for minutes
INDEXED_AT_ONCE = 48 << 20      # bytes; reading so much takes about as long as finding the way without an index
OPEN_DECODERS = 2               # the one at work and the neighbour across a file boundary
REST = 0.5                      # seconds without anything to do after which memory is tidied up

log = logging.getLogger(__name__)

_Place = tuple[int, int]        # position of the source in the film, number of the picture in the source


@dataclass(slots=True)
class _Job:
    """Decode pictures ``first`` to ``last`` of the source at ``position`` and keep them; where they are
    not known yet (None), make its index first."""

    position: int
    first: int | None
    last: int | None


@dataclass(slots=True)
class _Request:
    instant: Instant
    done: Callable[[Picture | NoPicture], None]


class FrameReader:
    """Gives the exact picture shown at any instant of a film.

    ``memory_limit`` bounds, in bytes, what reading adds to the process. All methods may be
    called from any thread; :meth:`close` must be called in the end.
    """

    def __init__(self, film: Film, memory_limit: int = MEMORY_LIMIT) -> None:
        self.film = film
        self._position = {source.id: position for position, source in enumerate(film.sources)}
        self._starts = [float(film.starts_at(source.id)) for source in film.sources]
        self._cache_limit = int(memory_limit * CACHE_SHARE)
        self._cache: dict[_Place, Picture] = {}
        self._cache_bytes = 0
        self._indexes: dict[int, FrameIndex] = {}
        self._indexings: dict[int, BackgroundIndexer] = {}
        self._decoders: OrderedDict[int, Decoder] = OrderedDict()
        self._lost: set[_Place] = set()         # pictures that the index has and no decode gives
        self._failed: set[int] = set()          # sources not to be decoded ahead
        self._changed = threading.Condition()
        self._urgent: list[_Request] = []
        self._latest: _Request | None = None
        self._playhead: _Place | None = None
        self._direction = 1
        self._resting = True
        self._closed = False
        self._thread = threading.Thread(target=self._run, name="frame reader", daemon=True)
        self._thread.start()

    # What others ask

    def frame_at(self, instant: Instant) -> Picture:
        """Return the picture shown at an instant (before the source's first picture: the first).

        Waits for the decoder if need be. Raises NoPicture if the source cannot be shown, with
        the reason; KeyError if the film has no such source.
        """
        picture = self.cached(instant)
        if picture is not None:
            return picture
        answer: list[Picture | NoPicture] = []
        arrived = threading.Event()

        def done(result: Picture | NoPicture) -> None:
            answer.append(result)
            arrived.set()

        with self._changed:
            self._check_open()
            self._urgent.append(_Request(instant, done))
            self._changed.notify_all()
        arrived.wait()
        if isinstance(answer[0], NoPicture):
            raise answer[0]
        return answer[0]

    def fetch(self, instant: Instant, done: Callable[[Picture | NoPicture], None]) -> None:
        """Ask for the picture shown at an instant without waiting.

        ``done`` is called in the reading thread. A later call takes the place of an earlier one that
        has not been served: a dragged playhead gets the picture it rests on and as many between as
        there is time for.
        """
        with self._changed:
            self._check_open()
            self._latest = _Request(instant, done)
            self._changed.notify_all()

    def cached(self, instant: Instant) -> Picture | None:
        """Return the picture shown at an instant if it is decoded already, else None at once."""
        position = self._position[instant.source]
        with self._changed:
            index = self._indexes.get(position)
            if index is None:
                return None
            place = self._given((position, index.at(instant.pts)))
            picture = self._cache.get(place)
            if picture is not None:
                self._move(place)
                self._changed.notify_all()
            return picture

    def around(self, instant: Instant, behind: int, ahead: int) -> list[Picture]:
        """The pictures of the same source that are decoded already, from ``behind`` pictures before the one
        shown at an instant to ``ahead`` after it."""
        position = self._position[instant.source]
        with self._changed:
            index = self._indexes.get(position)
            if index is None:
                return []
            number = index.at(instant.pts)
            pictures = (self._cache.get((position, n)) for n in range(number - behind, number + ahead + 1))
            return [picture for picture in pictures if picture is not None]

    def index(self, id: str) -> FrameIndex | None:
        """The index of a source if it is known, else None at once."""
        return self._indexes.get(self._position[id])

    def step(self, instant: Instant, n: int) -> Instant:
        """Return the timestamp of the picture ``n`` pictures after (before, if negative) the one shown at
        ``instant``, across source boundaries, clamped to the film. Sources that cannot be shown are
        stepped over. Waits for a source's index if it is not made yet."""
        position = self._position[instant.source]
        index = self._index_or_none(position)
        if index is None:
            if n == 0:
                return instant
            place = None
        else:
            place = (position, index.at(instant.pts))
        way = 1 if n > 0 else -1
        left = abs(n)
        if place is None:
            place = self._neighbour(position, way)
            if place is None:
                return instant
            left -= 1
        while left:
            position, number = place
            index = self._index_or_none(position)
            room = len(index) - 1 - number if way > 0 else number
            take = min(left, room)
            number, left = number + way * take, left - take
            place = (position, number)
            if left:
                beyond = self._neighbour(position, way)
                if beyond is None:
                    break
                place, left = beyond, left - 1
        return self._instant(place)

    def add_index(self, source: Source, index: FrameIndex | NoPicture) -> None:
        """Take an index that somebody else has made (see :class:`workstation.film.index.BackgroundIndexer`)."""
        position = self._position.get(source.id)
        if position is not None and isinstance(index, FrameIndex):
            with self._changed:
                self._indexes[position] = index
                self._changed.notify_all()

    def rest(self, resting: bool = True) -> None:
        """Stop (or go on) decoding ahead, for as long as a player needs the processor."""
        with self._changed:
            self._resting = resting
            self._changed.notify_all()

    def close(self) -> None:
        """Stop reading and let go of all files and pictures."""
        with self._changed:
            if self._closed:
                return
            self._closed = True
            waiting, self._urgent = self._urgent, []
            indexings = list(self._indexings.values())
            self._changed.notify_all()
        for request in waiting:
            request.done(NoPicture(request.instant.source, "The film was closed."))
        for indexing in indexings:
            indexing.cancel()
        if threading.current_thread() is not self._thread:
            self._thread.join()

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_: object) -> None:
        self.close()

    # Places and indexes

    def _check_open(self) -> None:
        if self._closed:
            raise ValueError("This frame reader is closed.")

    def _instant(self, place: _Place) -> Instant:
        position, number = place
        return Instant(self.film.sources[position].id, int(self._indexes[position].pts[number]))

    def _index_or_none(self, position: int) -> FrameIndex | None:
        """The index of a source that can be shown, made now if need be."""
        index = self._indexes.get(position)
        source = self.film.sources[position]
        if index is not None or source.problem:
            return index
        try:
            index = index_of(source)
        except NoPicture:
            return None
        self.add_index(source, index)
        return index

    def _neighbour(self, position: int, way: int) -> _Place | None:
        """The first (last, going back) picture of the next source that can be shown."""
        position += way
        while 0 <= position < len(self.film.sources):
            index = self._index_or_none(position)
            if index is not None:
                return (position, 0 if way > 0 else len(index) - 1)
            position += way
        return None

    def _given(self, place: _Place) -> _Place:
        """The place whose picture stands on the screen at ``place``: damage leaves the one before standing."""
        position, number = place
        while number > 0 and (position, number) in self._lost:
            number -= 1
        return (position, number)

    def _move(self, place: _Place) -> None:
        if self._playhead is not None and place != self._playhead:
            self._direction = 1 if place > self._playhead else -1
        self._playhead = place
        self._resting = False

    # The reading thread

    def _run(self) -> None:
        job, untidy = None, False
        try:
            while True:
                with self._changed:
                    while not (self._closed or self._urgent or self._latest):
                        job = self._next_job()
                        if job is not None:
                            break
                        may_tidy = untidy and not self._resting     # while a player is at work it needs its time
                        if not self._changed.wait(REST if may_tidy else None) and may_tidy:
                            break
                    if self._closed:
                        return
                    request = self._take()
                untidy = request is not None or job is not None
                if request is not None:
                    self._answer(request, self._serve(request))
                elif job is not None:
                    self._work(job)
                else:
                    self._tidy()
        finally:
            with self._changed:
                self._closed = True
                waiting = [*self._urgent, *([self._latest] if self._latest else [])]
                self._urgent, self._latest = [], None
                self._cache.clear()
            for request in waiting:
                self._answer(request, NoPicture(request.instant.source, "The film was closed."))
            for decoder in self._decoders.values():
                decoder.close()
            self._decoders.clear()

    def _tidy(self) -> None:
        """Let go of what is not needed here. A decoder keeps the memory of every picture it gave, as much as all that
        are kept have: the one across a file boundary does it for nothing."""
        here = self._playhead[0] if self._playhead is not None else None
        for position in [position for position in self._decoders if position != here]:
            self._drop_decoder(position)
        release_freed_memory()

    def _answer(self, request: _Request, result: Picture | NoPicture) -> None:
        try:
            request.done(result)
        except Exception:       # of whoever asked; others still wait
            log.exception("showing a picture")

    def _take(self) -> _Request | None:
        if self._urgent:
            return self._urgent.pop(0)
        request, self._latest = self._latest, None
        return request

    def _serve(self, request: _Request) -> Picture | NoPicture:
        position = self._position[request.instant.source]
        source = self.film.sources[position]
        if source.problem:
            return NoPicture(source.id, source.problem)
        try:
            index = self._ready_index(position)
            if index is None:
                return self._look(position, request.instant.pts)
            place = (position, index.at(request.instant.pts))
            with self._changed:
                self._move(place)
                self._failed.discard(position)
                picture = self._cache.get(self._given(place))
            return picture or self._decode_one(place)
        except NoPicture as error:
            return error
        except Exception as error:      # whatever it is: somebody waits for the answer
            if not isinstance(error, av.FFmpegError | OSError):
                log.exception("reading %s", source.path)
            self._drop_decoder(position)
            with self._changed:
                self._failed.add(position)
            return NoPicture(source.id, reason_for(error, source.path))

    def _ready_index(self, position: int) -> FrameIndex | None:
        """An index that is there or quick to make; for a long file it is begun, and None returned."""
        index = self._indexes.get(position)
        if index is not None:
            return index
        source = self.film.sources[position]
        index = cached_index(source)
        if index is None and (source.size <= INDEXED_AT_ONCE or source.path.suffix.lower() == ".avi"):
            index = index_of(source)
        if index is not None:
            self.add_index(source, index)
        elif position not in self._indexings:
            self._indexings[position] = BackgroundIndexer([source], on_index=self.add_index)
        return index

    def _look(self, position: int, pts: int) -> Picture:
        """Find a picture without an index: decode from a keyframe shown at or before it."""
        source = self.film.sources[position]
        back = 0
        while True:
            aim = pts - back
            with open_container(source.path) as container:
                stream = picture_stream(container)
                stream.thread_type = "AUTO"
                if aim > source.start_pts:
                    container.seek(aim, stream=stream, backward=True)
                found = _decoded_to(container.demux(stream), pts, from_start=aim <= source.start_pts)
            if found is not None:
                return self._picture(source, found)
            if aim <= source.start_pts:
                raise NoPicture(source.id, f"{source.path.name}: no picture could be decoded here.")
            back = max(back * 2, int(2 / source.time_base))

    def _decode_one(self, place: _Place) -> Picture:
        position, number = place
        index = self._indexes[position]
        key = index.at(int(index.key_pts[index.key_for(int(index.pts[number]))]))
        first = max(number - self._span(position) // 2, key)
        self._read(_Job(position, first, number), number, lambda: self._closed)
        with self._changed:
            picture = self._cache.get(self._given(place))
        if picture is None:
            source = self.film.sources[position]
            raise NoPicture(source.id, f"{source.path.name} is damaged here: no picture can be decoded.")
        return picture

    def _work(self, job: _Job) -> None:
        try:
            if job.first is None:
                self._ready_index(job.position)
                return
            self._read(job, job.first, lambda: bool(self._closed or self._urgent or self._latest or self._resting))
        except Exception as error:      # said when somebody asks for such a picture  # noqa: BLE001
            log.info("decoding ahead in %s: %s", self.film.sources[job.position].path, error)
            self._drop_decoder(job.position)
            with self._changed:
                self._failed.add(job.position)

    def _read(self, job: _Job, needed: int, stop: Callable[[], bool]) -> None:
        """Decode a job's pictures, from wherever is quickest for the first one ``needed``."""
        decoder = self._decoder(job.position)
        decoder.seek(needed)
        expected = decoder.next
        while not stop():
            got = decoder.read()
            number = got[0] if got else len(decoder.index)
            with self._changed:
                if expected is not None and number > expected:
                    self._lost.update((job.position, missing) for missing in range(expected, number))
                if got and job.first <= number:
                    self._keep((job.position, number), self._picture(decoder.source, got[1]))
            if got is None or number >= job.last:
                return
            expected = number + 1

    def _decoder(self, position: int) -> Decoder:
        decoder = self._decoders.pop(position, None)
        if decoder is None:
            while len(self._decoders) >= OPEN_DECODERS:
                self._drop_decoder(next(iter(self._decoders)))
            decoder = Decoder(self.film.sources[position], self._indexes[position])
        self._decoders[position] = decoder
        return decoder

    def _drop_decoder(self, position: int) -> None:
        decoder = self._decoders.pop(position, None)
        if decoder is None:
            return
        decoder.close()
        # As long as one of its pictures is kept, so is the memory of all that it ever gave (libavutil, buffer pools).
        with self._changed:
            here = self._playhead[0] if self._playhead is not None else position
            near = self._span(here) / float(self.film.sources[here].frame_rate)
            for place in [place for place in self._cache if place[0] == position and self._distance(place) > near]:
                self._forget(place)

    def _picture(self, source: Source, frame: av.VideoFrame) -> Picture:
        return Picture(Instant(source.id, frame.pts), frame, source.rotation, source.pixel_aspect,
                       bool(frame.interlaced_frame))

    # The cache and what to decode ahead

    def _keep(self, place: _Place, picture: Picture) -> None:
        if place in self._cache:
            return
        size = _bytes(picture.frame)
        while self._cache and (self._cache_bytes + size > self._cache_limit or len(self._cache) >= 3 * MOST_AHEAD):
            self._forget(max(self._cache, key=self._distance))
        self._cache[place] = picture
        self._cache_bytes += size

    def _forget(self, place: _Place) -> None:
        self._cache_bytes -= _bytes(self._cache.pop(place).frame)

    def _distance(self, place: _Place) -> float:
        return abs(self._seconds(place) - (self._seconds(self._playhead) if self._playhead else 0.0))

    def _seconds(self, place: _Place) -> float:
        position, number = place
        index = self._indexes[position]
        return self._starts[position] + int(index.pts[number] - index.pts[0]) * float(
            self.film.sources[position].time_base)

    def _span(self, position: int) -> int:
        """How many pictures around the playhead are worth having: what fits with some air."""
        source = self.film.sources[position]
        size = max(source.width * source.height * 3 // 2, 1)
        if self._cache:
            size = max(size, self._cache_bytes // len(self._cache))
        return min(max(int(self._cache_limit / size * 0.9), 4), 2 * MOST_AHEAD)

    def _next_job(self) -> _Job | None:
        """What to decode while nobody waits: mostly the way the person is going."""
        if self._resting or self._playhead is None:
            return None
        span = self._span(self._playhead[0])
        with_way = span * 6 // 10
        for way, reach in ((self._direction, with_way), (-self._direction, span - with_way)):
            missing = self._missing(way, reach)
            if missing and missing[0][0] <= max(reach // 2, 1):
                position, number = missing[0][1]
                if number is None:
                    return _Job(position, None, None)
                numbers = [number for _, (at, number) in missing if at == position]
                return _Job(position, min(numbers), max(numbers))
        return None

    def _missing(self, way: int, reach: int) -> list[tuple[int, tuple[int, int | None]]]:
        """Pictures not in the cache within ``reach`` steps one way, with their number of steps."""
        missing = []
        position, number = self._playhead
        for steps in range(1, reach + 1):
            number += way
            index = self._indexes.get(position)
            if index is None or not 0 <= number < len(index):
                position += way
                if not 0 <= position < len(self.film.sources) or position in self._indexings:
                    break
                index = self._indexes.get(position)
                if index is None and position not in self._failed and not self.film.sources[position].problem:
                    missing.append((steps, (position, None)))
                if index is None:
                    break
                number = 0 if way > 0 else len(index) - 1
            place = (position, number)
            if position in self._failed or self.film.sources[position].problem:
                break
            if place not in self._cache and place not in self._lost:
                missing.append((steps, place))
        return missing


def _bytes(frame: av.VideoFrame) -> int:
    return sum(plane.buffer_size for plane in frame.planes)


def _decoded_to(packets: Iterable[av.Packet], pts: int, from_start: bool) -> av.VideoFrame | None:
    """The picture shown at ``pts``, decoding from the first keyframe that comes, or None if that keyframe is
    shown after it. At the source's beginning the first picture serves before its time, too."""
    floor = shown = None
    for packet in packets:
        if floor is None:
            if packet.size and not packet.is_keyframe:
                continue
            floor = packet.pts
            if not from_start and (floor is None or floor > pts):
                return None
        for frame in packet.decode():
            if frame.pts is None or not from_start and frame.pts < floor:
                continue
            if frame.pts > pts:
                return shown or (frame if from_start else None)
            shown = frame
    return shown
