"""Small grey pictures to compare: a grid of mean luma, straight from the decoder's own plane.

Nothing is scaled: each cell averages a few samples of the decoded luma plane, which costs a
tenth of a millisecond for a 720p picture, where scaling the picture would cost more than decoding it.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import closing

import av
import numpy as np

from ..decoder import Decoder
from ..film import Source
from ..index import FrameIndex

ACROSS = 160                # cells across a grid, at most
_SAMPLES = 4                # samples per cell and direction
_HELD_BACK = 17             # pictures a decoder may have read ahead of the one it gives (H.264 and HEVC reorder 16)

_EIGHT_BIT = frozenset({"yuv420p", "yuvj420p", "yuv422p", "yuvj422p", "yuv444p", "yuvj444p", "nv12", "gray"})
_DEEPER = {"yuv420p10le": 2, "yuv422p10le": 2, "yuv444p10le": 2, "yuv420p12le": 4, "yuv422p12le": 4}


def cell_across(width: int) -> int:
    """Return how many pixels a cell is wide and high in a picture of that width."""
    return max(-(-width // ACROSS), 1)


def grid_of(frame: av.VideoFrame) -> np.ndarray:
    """Return the mean luma (0 to 255, float32) of a picture's cells, at most :data:`ACROSS` in a row."""
    deeper = _DEEPER.get(frame.format.name)
    if deeper is None and frame.format.name not in _EIGHT_BIT:
        frame = frame.reformat(format="gray")
    plane = frame.planes[0]
    kind = np.uint8 if deeper is None else np.dtype("<u2")
    luma = np.frombuffer(plane, kind).reshape(-1, plane.line_size // np.dtype(kind).itemsize)
    cell = cell_across(frame.width)
    tall, wide = frame.height // cell * cell, frame.width // cell * cell
    step = max(cell // _SAMPLES, 1)
    total = np.zeros((tall // cell, wide // cell), np.uint32 if deeper else np.uint16)
    samples = 0
    for down in range(0, cell, step):
        for right in range(0, cell, step):
            total += luma[down:tall:cell, right:wide:cell]
            samples += 1
    return total.astype(np.float32) / (samples << (deeper or 0))


class Skimmer(Decoder):
    """A decoder that passes quickly over the pictures nobody asked for.

    Pictures that no other leans on are dropped undecoded, unless they are asked for.
    """

    def __init__(self, source: Source, index: FrameIndex) -> None:
        super().__init__(source, index)
        self._wanted = range(0)
        self._until_key: int | None = None
        # One thread each: several skimmers work side by side. Blocks' means do not need the deblocking filter.
        self._stream.thread_type = "NONE"
        self._stream.codec_context.options = {"skip_loop_filter": "all"}

    def _land(self, key: int) -> Iterator[av.Packet]:
        context = self._stream.codec_context
        retimed = self.index.retimed
        for packet in super()._land(key):
            pts = packet.pts if retimed is None else retimed.get(packet.dts)
            number = None if pts is None else self.index.at(pts)
            if self._until_key is not None and packet.is_keyframe and number is not None and number >= self._until_key:
                break
            context.skip_frame = "DEFAULT" if number is None or number in self._wanted else "NONREF"
            yield packet
        if self._until_key is not None:
            last = av.Packet()              # asks the decoder for what it still holds back
            last.stream = self._stream
            yield last

    def grids(self, wanted: range) -> Iterator[tuple[int, np.ndarray]]:
        """Give (number, grid) of the wanted pictures that can be decoded, in order."""
        if self._until_key is not None or self.next is None or wanted.start < self.next + _HELD_BACK:
            self.next = None                # some of what is wanted now was passed over
        self._until_key = None
        return self._read(wanted)

    def grids_before(self, key: int, count: int) -> Iterator[tuple[int, np.ndarray]]:
        """Give (number, grid) of up to ``count`` pictures before a keyframe, without decoding the keyframe. The
        leading pictures of an open group, which lean on it, are left out."""
        self.next, self._until_key = None, key
        return self._read(range(max(key - count, 0), key))

    def glances(self, apart: int) -> Iterator[tuple[int, np.ndarray]]:
        """Give (number, grid) from the first picture to the last, at least ``apart`` ticks from one to the next,
        of pictures that others lean on."""
        self.next, self._until_key = None, None
        self._wanted = range(0)
        self.seek(0)
        due = None
        while (read := self.read()) is not None:
            pts = int(self.index.pts[read[0]])
            if due is None or pts >= due:
                due = pts + apart
                yield read[0], grid_of(read[1])

    def _read(self, wanted: range) -> Iterator[tuple[int, np.ndarray]]:
        self._wanted = wanted
        self.seek(wanted.start)
        while (read := self.read()) is not None and read[0] < wanted.stop:
            if read[0] >= wanted.start:
                yield read[0], grid_of(read[1])


def skimming(source: Source, index: FrameIndex) -> closing[Skimmer]:
    """A :class:`Skimmer` for a with statement."""
    return closing(Skimmer(source, index))
