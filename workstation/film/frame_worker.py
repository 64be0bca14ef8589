"""The thread that decodes a film's frames: first what is requested, then what the prefetch plan says."""

from __future__ import annotations

import logging
import threading
from collections import OrderedDict
from collections.abc import Callable, Iterable
from dataclasses import dataclass

import av

from .decoder import Decoder, is_bottom_first, timestamp
from .faults import NoPicture, reason_for
from .film import Source
from .film_indexes import FilmIndexes, FramePlace
from .frame_cache import FrameCache
from .memory import release_freed_memory
from .picture import Picture
from .prefetch import Batch, Prefetch
from .probe import Packet, open_container, picture_stream
from .time import Instant

OPEN_DECODERS = 2               # the one at work and the neighbour across a file boundary
REST = 0.5                      # seconds without anything to do after which memory is released

log = logging.getLogger(__name__)


@dataclass(slots=True)
class Request:
    """``done`` is called in the worker's thread with the frame shown at an instant, or why there is none. A small one
    that is there already serves unless it has to be ``whole``."""

    instant: Instant
    done: Callable[[Picture | NoPicture], None]
    whole: bool = True


class FrameWorker:
    """``changed`` guards the cache, the prefetch plan and the requests, and is notified of every change to them."""

    def __init__(self, indexes: FilmIndexes, cache: FrameCache, prefetch: Prefetch,
                 changed: threading.Condition) -> None:
        self._indexes, self._cache, self._prefetch, self._changed = indexes, cache, prefetch, changed
        self._decoders: OrderedDict[int, Decoder] = OrderedDict()
        self._urgent: list[Request] = []
        self._latest: Request | None = None
        self._closed = False
        self._thread = threading.Thread(target=self._run, name="frame reader", daemon=True)
        self._thread.start()

    def request(self, request: Request, urgent: bool) -> None:
        """Queue a request; one that is not urgent replaces an earlier one not served yet. ValueError once closed."""
        with self._changed:
            if self._closed:
                raise ValueError("This frame reader is closed.")
            if urgent:
                self._urgent.append(request)
            else:
                self._latest = request
            self._changed.notify_all()

    @property
    def closed(self) -> bool:
        """Whether it answers no more."""
        return self._closed

    def close(self) -> None:
        """Stop, answer what waits, and release all files and frames."""
        with self._changed:
            if self._closed:
                return
            self._closed = True
            waiting, self._urgent = self._urgent, []
            self._changed.notify_all()
        for request in waiting:
            request.done(NoPicture(request.instant.source, "The film was closed."))
        self._indexes.close()
        if threading.current_thread() is not self._thread:
            self._thread.join()

    def _run(self) -> None:
        batch, untidy = None, False
        try:
            while True:
                with self._changed:
                    while not (self._closed or self._urgent or self._latest):
                        batch = self._prefetch.next_batch()
                        if batch is not None:
                            break
                        may_tidy = untidy and not self._prefetch.paused     # a player at work needs the time
                        if not self._changed.wait(REST if may_tidy else None) and may_tidy:
                            break
                    if self._closed:
                        return
                    request = self._take()
                untidy = request is not None or batch is not None
                if request is not None:
                    self._answer(request, self._serve(request))
                elif batch is not None:
                    self._decode_ahead(batch)
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

    def _take(self) -> Request | None:
        if self._urgent:
            return self._urgent.pop(0)
        request, self._latest = self._latest, None
        return request

    def _answer(self, request: Request, result: Picture | NoPicture) -> None:
        try:
            request.done(result)
        except Exception:       # of whoever asked; others still wait
            log.exception("showing a picture")

    def _tidy(self) -> None:
        """Release what is not needed here. A decoder holds the memory of every frame it gave, as much as the whole
        cache: the one across a file boundary does it for nothing."""
        here = self._prefetch.playhead[0] if self._prefetch.playhead is not None else None
        for position in [position for position in self._decoders if position != here]:
            self._drop_decoder(position)
        release_freed_memory()

    def _serve(self, request: Request) -> Picture | NoPicture:
        position = self._indexes.position(request.instant.source)
        source = self._indexes.film.sources[position]
        if source.problem:
            return NoPicture(source.id, source.problem)
        try:
            index = self._indexes.ready(position)
            if index is None:
                return _seek_without_index(source, request.instant.pts)
            place = position, max(index.at(request.instant.pts), index.whole_from)
            with self._changed:
                self._prefetch.move(place)
                self._prefetch.failed.discard(position)
                picture = self._cache.get(self._indexes.decodable(place))
                self._changed.notify_all()
            if picture is not None and not (picture.small and request.whole):
                return picture
            return self._decode_one(place)
        except NoPicture as error:
            return error
        except Exception as error:      # whatever it is: somebody waits for the answer
            if not isinstance(error, av.FFmpegError | OSError):
                log.exception("reading %s", source.path)
            self._give_up(position)
            return NoPicture(source.id, reason_for(error, source.path))

    def _decode_one(self, place: FramePlace) -> Picture:
        position, number = place
        decoder = self._decoder(position)
        first = max(number - self._prefetch.span(position) // 2, decoder.keyframe(number))
        self._decode(decoder, position, (first, number), number, lambda: self._closed, number)
        with self._changed:
            picture = self._cache.get(self._indexes.decodable(place))
        self._make_others_small(picture)
        if picture is None:
            source = decoder.source
            raise NoPicture(source.id, f"{source.path.name} is damaged here: no picture can be decoded.")
        return picture

    def _make_others_small(self, asked_for: Picture | None) -> None:
        """Of large film one whole frame is kept, the one asked for last."""
        with self._changed:
            whole = [(place, picture) for place, picture in self._cache.whole() if picture is not asked_for
                     and self._prefetch.small(place[0]) > 1]
        for place, picture in whole:
            small = picture.made_small(self._prefetch.small(place[0]))
            with self._changed:
                self._cache.replace(place, small)

    def _decode_ahead(self, batch: Batch) -> None:
        try:
            if batch.frames is None:
                self._indexes.ready(batch.position)
                return
            decoder, (first, last) = self._decoder(batch.position), batch.frames
            # once the playhead turned, a group of pictures the other way takes longer than it takes to step there
            self._decode(decoder, batch.position, (first, last), first,
                         lambda: bool(self._closed or self._urgent or self._latest or self._prefetch.paused
                                      or self._prefetch.direction != batch.direction))
        except Exception as error:      # said when somebody asks for such a picture
            log.info("decoding ahead in %s: %s", self._indexes.film.sources[batch.position].path, error)
            self._give_up(batch.position)

    def _decode(self, decoder: Decoder, position: int, frames: tuple[int, int], needed: int,
                stop: Callable[[], bool], whole: int | None = None) -> None:
        """Decode frames into the cache, from wherever is quickest for the first one ``needed``. Where large film is
        kept small, the frame ``whole`` is not (or what stands on the screen in its place)."""
        first, last = frames
        decoder.seek(needed)
        expected = decoder.next
        while not stop():
            got = decoder.read()
            number = got[0] if got else len(decoder.index)
            picture = None
            if got and first <= number:
                picture = _picture(decoder.source, got[1], decoder.bottom_first)
                factor = self._prefetch.small(position)
                if factor > 1 and number != whole:
                    picture = picture.made_small(factor)
            with self._changed:
                if expected is not None and number > expected:
                    self._indexes.lost.update((position, missing) for missing in range(expected, number))
                if picture is not None:
                    self._cache.add((position, number), picture, self._prefetch.distance)
            if got is None or number >= last:
                return
            expected = number + 1

    def _decoder(self, position: int) -> Decoder:
        decoder = self._decoders.pop(position, None)
        if decoder is None:
            while len(self._decoders) >= OPEN_DECODERS:
                self._drop_decoder(next(iter(self._decoders)))
            index = self._indexes.get(position)
            if index is None:
                raise LookupError("a source is decoded only after it is indexed")
            decoder = Decoder(self._indexes.film.sources[position], index)
        self._decoders[position] = decoder
        return decoder

    def _give_up(self, position: int) -> None:
        self._drop_decoder(position)
        with self._changed:
            self._prefetch.failed.add(position)

    def _drop_decoder(self, position: int) -> None:
        decoder = self._decoders.pop(position, None)
        if decoder is None:
            return
        decoder.close()
        # As long as one of its frames is cached, so is the memory of all that it ever gave (libavutil, buffer pools).
        with self._changed:
            here = self._prefetch.playhead[0] if self._prefetch.playhead is not None else position
            near = self._prefetch.span(here) / float(self._indexes.film.sources[here].frame_rate)
            self._cache.evict_source(position, self._prefetch.distance, near)


def _picture(source: Source, frame: av.VideoFrame, bottom_first: bool) -> Picture:
    return Picture(Instant(source.id, timestamp(frame)), frame, source.rotation, source.pixel_aspect,
                   bool(frame.interlaced_frame), bottom_first, source.mirrored)


def _seek_without_index(source: Source, pts: int) -> Picture:
    """Decode the frame shown at a timestamp from a keyframe shown at or before it."""
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
            return _picture(source, found, is_bottom_first(stream))
        if aim <= source.start_pts:
            raise NoPicture(source.id, f"{source.path.name}: no picture could be decoded here.")
        back = max(back * 2, int(2 / source.time_base))


def _decoded_to(packets: Iterable[Packet], pts: int, from_start: bool) -> av.VideoFrame | None:
    """The frame shown at ``pts``, decoding from the first keyframe that comes, or None if that keyframe is
    shown after it. At the source's beginning the first frame serves before its time, too."""
    floor = shown = None
    for packet in packets:
        if floor is None:
            if packet.size and not packet.is_keyframe:
                continue
            floor = packet.pts
            if not from_start and (floor is None or floor > pts):
                return None
        for frame in packet.decode():
            if frame.pts is None or (not from_start and floor is not None and frame.pts < floor):
                continue
            if frame.pts > pts:
                return shown or (frame if from_start else None)
            shown = frame
    return shown
