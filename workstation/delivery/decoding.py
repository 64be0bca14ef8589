"""Pictures and sound of a part, decoded in order for rendering."""

from __future__ import annotations

import queue
import threading
from collections.abc import Iterator
from contextlib import contextmanager

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


class Unreadable(FilmError):
    """The footage of a part cannot be decoded; the message says where and why."""


def _decode(part: Part) -> Iterator[av.VideoFrame]:
    sources.require(part.source)
    index = index_of(part.source)
    decoder = Decoder(part.source, index)
    try:
        decoder.seek(min(int(np.searchsorted(index.pts, part.start)), len(index) - 1))
        while (decoded := decoder.read()) is not None:
            frame = decoded[1]
            if frame.pts >= part.end:
                return
            if frame.pts >= part.start:
                yield frame
    finally:
        decoder.close()


@contextmanager
def pictures(part: Part) -> Iterator[Iterator[av.VideoFrame]]:
    """The pictures with ``part.start <= pts < part.end``, in showing order, decoded ahead in a thread.

    Raises Unreadable, while iterating, if the file cannot be read, is not the one that was tagged, or has no such picture.
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
        except Exception as error:  # noqa: BLE001 - handed to the thread that asked
            put(error)

    def read() -> Iterator[av.VideoFrame]:
        any_picture = False
        while (item := ahead.get()) is not None:
            if isinstance(item, FilmError):
                raise Unreadable(str(item)) from item
            if isinstance(item, BaseException):
                raise Unreadable(f"{part.source.path.name}: {item}") from item
            any_picture = True
            yield item
        if not any_picture:
            raise Unreadable(f"{part.source.path.name} has no picture in the span asked for.")

    worker = threading.Thread(target=work, name="decode ahead", daemon=True)
    worker.start()
    try:
        yield read()
    finally:
        stop.set()
        worker.join()


def sound(part: Part) -> np.ndarray:
    """The sound of a part as int16, shape (samples, 2) at 48 kHz, in step with its first picture.

    Silence where the source has no sound, or where it cannot be decoded: a broken sound track
    is no reason to withhold the picture.
    """
    wanted = round(part.duration * SAMPLE_RATE)
    out = np.zeros((wanted, CHANNELS), np.int16)
    start = part.start * part.source.time_base
    try:
        with open_container(part.source.path) as container:
            if not container.streams.audio:
                return out
            audio = container.streams.audio[0]
            container.seek(max(0, int((start - 1) * 1_000_000)) if start > 1 else 0)
            resampler = av.AudioResampler("s16", "stereo", SAMPLE_RATE)
            for frame in container.decode(audio):
                if frame.pts is None:
                    continue
                at = round((frame.pts * frame.time_base - start) * SAMPLE_RATE)
                if at >= wanted:
                    break
                for piece in resampler.resample(frame):
                    samples = piece.to_ndarray().reshape(-1, CHANNELS)
                    begin, skip = max(at, 0), max(-at, 0)
                    take = samples[skip:skip + wanted - begin]
                    out[begin:begin + len(take)] = take
                    at += len(samples)
    except (av.FFmpegError, ValueError):
        return out
    return out
