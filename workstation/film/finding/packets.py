"""Read a source's packet sizes and decode its keyframes, in one pass."""

from __future__ import annotations

import os
import threading
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise
from typing import Self

import av
import numpy as np

from ...cancelling import Cancelled
from ..faults import NoPicture, reason_for
from ..film import Source
from ..index import FrameIndex
from ..probe import Container, Packet, open_container, picture_stream
from .frame_difference import compensated_difference, half_size
from .luma_grid import luma_grid
from .packet_frames import packet_frame_numbers

WORKERS = min(os.cpu_count() or 1, 4)


@dataclass(frozen=True)
class Packets:
    """A source's packets: of every frame in display order the size of its packets and whether it comes after all that
    were before it in the file (``anchor``); the keyframes' numbers and, by number, their grids. ``key_differences``:
    how much each keyframe but the last differs from the next, beyond what movement explains, in luma levels."""

    size: np.ndarray
    anchor: np.ndarray
    keys: np.ndarray
    grids: dict[int, np.ndarray]

    @cached_property
    def key_differences(self) -> np.ndarray:
        """The mean difference of each keyframe from the one before it, camera movement compensated."""
        small = [half_size(grid) for grid in self.grids.values()]
        return np.array([compensated_difference(before, after).mean for before, after in pairwise(small)])

    @cached_property
    def regular(self) -> np.ndarray:
        """Whether the next keyframe came when most do, of each but the last; of none if there is no such time."""
        lengths = np.diff(self.keys)
        values, times = np.unique(lengths, return_counts=True)
        if not len(values) or times.max() <= len(lengths) / 2:
            return np.zeros(len(lengths), bool)
        return np.asarray(lengths == values[times.argmax()])

    @cached_property
    def unexplained(self) -> np.ndarray:
        """How much each keyframe but the last differs from the next, against what the packets between account for:
        movement costs bits, a new recording comes free with its keyframe."""
        size, keys = self.size, self.keys
        paid = np.array([np.sort(size[before + 1:after])[:-3].sum() for before, after in pairwise(keys)])
        return np.asarray(self.key_differences / (paid / np.maximum(size[keys[1:]], size[keys[:-1]]) + 0.1))


def read_packets(source: Source, index: FrameIndex, progress: Callable[[float], None] = lambda share: None,
                 cancelled: Callable[[], bool] = lambda: False) -> Packets:
    """Read all packets of a source once and decode its keyframes."""
    size = np.zeros(len(index), np.int64)
    anchor = np.zeros(len(index), bool)
    number_of = packet_frame_numbers(index)
    latest = -1
    key: tuple[int, list[Packet]] | None = None      # a picture and its packets: two if coded by fields
    try:
        with open_container(source.path) as container, _KeyframeDecoder(source) as keyframes:
            for count, packet in enumerate(container.demux(picture_stream(container))):
                if count % 256 == 0:
                    if cancelled():
                        raise Cancelled("Finding shots was stopped.")
                    progress(min(max(latest, 0) / len(index), 1.0))
                number = number_of(packet)
                if key is not None and number != key[0]:
                    keyframes.decode(*key)
                    key = None
                if number is None:
                    continue
                size[number] += packet.size
                if number >= latest:                    # shown after all that came before it in the file
                    anchor[number], latest = True, number
                if key is not None:
                    key[1].append(packet)
                elif packet.is_keyframe:
                    key = number, [packet]
            if key is not None:
                keyframes.decode(*key)
            grids = keyframes.grids()
    except (av.FFmpegError, OSError) as error:
        if latest < 0:
            raise NoPicture(source.id, reason_for(error, source.path)) from error
        grids = keyframes.grids()                       # what came before the damage can be judged
    keys = sorted(grids)
    return Packets(size, anchor, np.array(keys, int), {key: grids[key] for key in keys})


class _KeyframeDecoder:
    """Decodes keyframes in several threads, each by itself: a decoder that is only given keyframes would wait for
    the pictures between them before it gives one away."""

    def __init__(self, source: Source) -> None:
        self._source = source
        self._own = threading.local()
        self._containers: list[Container] = []
        self._room = threading.Semaphore(8 * WORKERS)      # packets held in memory
        self._pool = ThreadPoolExecutor(WORKERS, "keyframes", self._prepare)
        self._grids: dict[int, np.ndarray] = {}

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_: object) -> None:
        self._pool.shutdown(cancel_futures=True)
        for container in self._containers:
            container.close()

    def decode(self, number: int, packets: list[Packet]) -> None:
        self._room.acquire()
        self._pool.submit(self._decode, number, packets)

    def grids(self) -> dict[int, np.ndarray]:
        """Wait for all and return grids by picture number; those that cannot be decoded are missing."""
        self._pool.shutdown()
        return self._grids

    def _prepare(self) -> None:
        container = open_container(self._source.path)       # for its decoder, set up as the file says
        self._containers.append(container)
        context = picture_stream(container).codec_context
        context.thread_type = "NONE"
        context.options = {"skip_loop_filter": "all"}
        self._own.context = context

    def _decode(self, number: int, packets: list[Packet]) -> None:
        context = self._own.context
        try:
            frames = [frame for packet in packets for frame in context.decode(packet)] + context.decode(None)
            if frames:
                self._grids[number] = luma_grid(frames[-1])
        except av.FFmpegError:
            pass                                            # damage costs its own picture only
        finally:
            context.flush_buffers()
            self._room.release()
