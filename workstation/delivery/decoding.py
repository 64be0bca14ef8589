"""Pictures and sound of a part, decoded in order for rendering."""

from __future__ import annotations

import heapq
import queue
import threading
from collections.abc import Generator, Iterable, Iterator
from contextlib import contextmanager
from itertools import chain

import av
import numpy as np

from ..film import sources
from ..film.decoder import Decoder
from ..film.faults import FilmError
from ..film.index import index_of
from ..film.probe import open_container
from .segment import Part

SAMPLE_RATE = 48_000
CHANNELS = 2

_QUEUED = 12  # pictures decoded ahead; enough to keep the encoder busy, small enough for 4K
_JITTER = SAMPLE_RATE // 500    # samples; containers that count milliseconds place sound that runs on a little too early or late


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
def pictures(part: Part) -> Iterator[Iterator[av.VideoFrame]]:
    """The pictures with ``part.start <= pts < part.end``, in showing order, decoded ahead in a thread.

    Raises CannotDecode, while iterating, if the file cannot be read, is not the one that was tagged, or has no such picture.
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
            for frame in _decode(part):
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


def sound(part: Part) -> Generator[np.ndarray, None, None]:
    """The sound of a part as int16 at 48 kHz, in step with its first picture: pieces of shape (samples, 2), a second at
    most, that together are as long as the part.

    Silence where the source has no sound, or where it cannot be decoded: a broken sound track
    is no reason to withhold the picture.
    """
    wanted, given = round(part.duration * SAMPLE_RATE), 0
    for at, samples in _in_order(_decoded(part)):
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


def _decoded(part: Part) -> Iterator[tuple[int, np.ndarray]]:
    """What can be decoded of a part's sound, and around it, with the part's sample at which each piece begins."""
    start = part.start * part.source.time_base
    try:
        with open_container(part.source.path) as container:
            if not container.streams.audio:
                return
            audio = container.streams.audio[0]
            container.seek(max(0, int((start - 1) * 1_000_000)) if start > 1 else 0)
            resampler = av.AudioResampler("s16", "stereo", SAMPLE_RATE)
            follows = None
            for frame in chain(container.decode(audio), [None]):        # at the end the resampler gives what it holds
                if frame is not None and (frame.pts is None or not isinstance(frame, av.AudioFrame)):
                    continue
                for piece in resampler.resample(frame):
                    if piece.pts is None or piece.time_base is None:
                        continue
                    at = round((piece.pts * piece.time_base - start) * SAMPLE_RATE)
                    if follows is not None and abs(at - follows) <= _JITTER:
                        at = follows
                    samples = piece.to_ndarray().reshape(-1, CHANNELS)
                    yield at, samples
                    follows = at + len(samples)
    except (av.FFmpegError, ValueError):
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
