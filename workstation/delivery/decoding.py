"""Pictures and sound of a part, decoded in order for rendering."""

from __future__ import annotations

import heapq
import queue
import threading
from collections.abc import Callable, Generator, Iterable, Iterator
from contextlib import contextmanager
from fractions import Fraction

import av
import numpy as np

from ..film import sources
from ..film.decoder import Decoder
from ..film.faults import FilmError
from ..film.index import index_of
from ..film.probe import open_container, picture_stream
from .reading import land_before, once_each
from .segment import Part

SAMPLE_RATE = 48_000
CHANNELS = 2

_QUEUED = 12  # pictures decoded ahead; enough to keep the encoder busy, small enough for 4K
# samples; containers that count milliseconds place sound that runs on a little too early or late
_JITTER = SAMPLE_RATE // 500


class CannotDecode(FilmError):
    """The footage of a part cannot be decoded; the message says where and why."""


def _decode(part: Part) -> Iterator[av.VideoFrame]:
    sources.require_readable(part.source)
    index = index_of(part.source)
    decoder = Decoder(part.source, index)
    try:
        decoder.seek(min(int(np.searchsorted(index.pts, part.start)), len(index) - 1))
        while (decoded := decoder.read()) is not None:
            frame = decoded[1]
            if frame.pts is None or frame.pts < part.start:
                continue
            if frame.pts >= part.end:
                return
            yield frame
    finally:
        decoder.close()


@contextmanager
def pictures(part: Part, through: Callable[[Iterator[av.VideoFrame]], Iterable[av.VideoFrame]] = iter,
             ) -> Iterator[Iterator[av.VideoFrame]]:
    """The pictures with ``part.start <= pts < part.end``, in showing order, decoded ahead in a thread, and made into
    others there by ``through``.

    Raises CannotDecode, while iterating, if the file cannot be read, is not the one that was tagged, or has no such
    picture.
    """
    ahead: queue.Queue[av.VideoFrame | BaseException | None] = queue.Queue(_QUEUED)
    stop = threading.Event()

    def put(item: av.VideoFrame | BaseException | None) -> bool:
        while not stop.is_set():
            try:
                ahead.put(item, timeout=0.1)
                return True
            except queue.Full:
                continue
        return False

    def work() -> None:
        try:
            for frame in through(_decode(part)):
                if not put(frame):
                    return
            put(None)
        except Exception as error:
            put(error)

    def read() -> Iterator[av.VideoFrame]:
        any_picture = False
        while (item := ahead.get()) is not None:
            if isinstance(item, FilmError):
                raise CannotDecode(str(item)) from item
            if isinstance(item, BaseException):
                raise CannotDecode(f"{part.source.path.name}: {item}") from item
            any_picture = True
            yield item
        if not any_picture:
            raise CannotDecode(f"{part.source.path.name} has no picture in the span asked for.")

    worker = threading.Thread(target=work, name="decode ahead", daemon=True)
    worker.start()
    try:
        yield read()
    finally:
        stop.set()
        worker.join()


def sound(part: Part, track: int = 0,
          lost: Callable[[Fraction], None] | None = None) -> Generator[np.ndarray, None, None]:
    """The sound of a part as int16 at 48 kHz, in step with its first picture: pieces of shape (samples, 2), a second at
    most, that together are as long as the part. ``track`` counts the source's sound tracks from 0.

    Silence where the source has no sound, or where it cannot be decoded: a broken sound track
    is no reason to withhold the picture. ``lost`` is told the seconds of each packet that could not be decoded.
    """
    wanted, given = round(part.duration * SAMPLE_RATE), 0
    for at, samples in _in_order(_decoded(part, track, lost)):
        if at >= wanted:
            break
        yield from silence(at - given)
        given = max(given, at)
        for begin in range(given - at, min(len(samples), wanted - at), SAMPLE_RATE):
            yield (piece := samples[begin:min(begin + SAMPLE_RATE, wanted - at)])
            given += len(piece)
    yield from silence(wanted - given)


def silence(samples: int) -> Iterator[np.ndarray]:
    """So many samples without sound (none, if negative), in pieces like those of :func:`sound`."""
    for begin in range(0, samples, SAMPLE_RATE):
        yield np.zeros((min(SAMPLE_RATE, samples - begin), CHANNELS), np.int16)


def _decoded(part: Part, track: int, lost: Callable[[Fraction], None] | None) -> Iterator[tuple[int, np.ndarray]]:
    """What can be decoded of a part's sound, and around it, with the part's sample at which each piece begins."""
    start = part.start * part.source.time_base
    follows: int | None = None
    for piece in _resampled(_sound_frames(part, track, lost)):
        if piece.pts is None or piece.time_base is None:
            if follows is None:
                continue
            at = follows
        else:
            at = round((piece.pts * piece.time_base - start) * SAMPLE_RATE)
            if follows is not None and abs(at - follows) <= _JITTER:
                at = follows
        samples = piece.to_ndarray().reshape(-1, CHANNELS)
        yield at, samples
        follows = at + len(samples)


def _resampled(frames: Iterable[av.AudioFrame]) -> Iterator[av.AudioFrame]:
    """Sound in the one form that is worked with; a track may change its own in the middle."""
    resampler, form = None, None
    for frame in frames:
        here = frame.format.name, frame.layout.name, frame.sample_rate, frame.time_base
        if here != form:
            if resampler is not None:
                yield from resampler.resample(None)
            resampler, form = av.AudioResampler("s16", "stereo", SAMPLE_RATE), here
        assert resampler is not None
        yield from resampler.resample(frame)
    if resampler is not None:
        yield from resampler.resample(None)         # gives what it holds


def _sound_frames(part: Part, track: int, lost: Callable[[Fraction], None] | None) -> Iterator[av.AudioFrame]:
    """A packet that cannot be decoded costs its own sound only."""
    source = part.source
    try:
        with open_container(source.path) as container:
            if not container.streams.audio:
                return
            audio = container.streams.audio[min(track, len(container.streams.audio) - 1)]
            try:
                land_before(container, picture_stream(container), source, part.start - round(1 / source.time_base))
            except av.FFmpegError:      # damage to its list of places
                container.seek(0)
            for packet in once_each(container.demux(audio)):
                try:
                    for frame in packet.decode():
                        if isinstance(frame, av.AudioFrame):
                            yield frame
                except av.FFmpegError:
                    if lost is not None and packet.pts is not None and packet.time_base is not None:
                        begin = packet.pts * packet.time_base
                        end = begin + (packet.duration or 0) * packet.time_base
                        inside = min(end, part.end * source.time_base) - max(begin, part.start * source.time_base)
                        if inside > 0:
                            lost(inside)
    except (av.FFmpegError, FilmError, OSError, ValueError):
        return


def _in_order(pieces: Iterable[tuple[int, np.ndarray]]) -> Iterator[tuple[int, np.ndarray]]:
    """The pieces by where they begin, as far as holding a second of them back allows: in damaged footage some are late,
    and some claim a time far ahead that must not keep the others away."""
    held: list[tuple[int, int, np.ndarray]] = []
    samples = 0
    for number, (at, piece) in enumerate(pieces):
        heapq.heappush(held, (at, number, piece))
        samples += len(piece)
        while samples > SAMPLE_RATE:
            at, _, piece = heapq.heappop(held)
            samples -= len(piece)
            yield at, piece
    while held:
        at, _, piece = heapq.heappop(held)
        yield at, piece
