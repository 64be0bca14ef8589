"""Decode only the requested frames of a source, skipping the others as far as the codec allows."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterable, Iterator
from contextlib import closing
from functools import cached_property
from typing import Literal, cast

import av
import numpy as np

from ..decoder import Decoder
from ..film import Source
from ..index import FrameIndex
from ..probe import Packet
from .luma_grid import luma_grid
from .packet_frames import packet_frame_numbers


class SelectiveDecoder(Decoder):
    """A decoder that skips frames nobody requested.

    Non-reference frames are dropped undecoded unless requested. The frames of one request are read in one pass, so that
    no group of pictures is decoded twice. Unless ``deblock``, blocks' edges are not smoothed, which saves a fifth:
    frames drift from what was filmed, further from frame to frame, and a keyframe sets them right.
    """

    def __init__(self, source: Source, index: FrameIndex, *, deblock: bool = False) -> None:
        super().__init__(source, index)
        self._number = packet_frame_numbers(index)
        self._wanted: frozenset[int] = frozenset()
        self._until_key: int | None = None
        self._skip: Literal["NONREF", "BIDIR"] = "NONREF"
        self._stream.thread_type = "NONE"       # several decoders work side by side
        self._one_by_one = True                 # so no second look where frames are missing, as before ``until_key``
        if not deblock:
            self._stream.codec_context.options = {"skip_loop_filter": "all"}

    @cached_property
    def deblocking(self) -> SelectiveDecoder:
        """Another of the same source, which does not drift."""
        return SelectiveDecoder(self.source, self.index, deblock=True)

    def close(self) -> None:
        """Close the file; no frame follows."""
        super().close()
        if "deblocking" in vars(self):
            self.deblocking.close()

    def _land(self, key: int) -> Iterator[Packet]:
        context = self._stream.codec_context
        for packet in super()._land(key):
            number = self._number(packet)
            if self._until_key is not None and packet.is_keyframe and number is not None and number >= self._until_key:
                break
            context.skip_frame = "DEFAULT" if number is None or number in self._wanted else self._skip
            yield packet
        if self._until_key is not None:
            last = cast("Packet", av.Packet())    # asks the decoder for what it still holds back
            last.stream = self._stream
            yield last

    def grids(self, wanted: Iterable[int], until_key: int | None = None, *,
              coarse: bool = False) -> Iterator[tuple[int, np.ndarray]]:
        """Yield (number, grid) of the wanted frames that can be decoded, in order.

        With ``until_key`` this ends before that keyframe, without decoding it. The leading pictures of an open group,
        which lean on it, are left out then. ``coarse`` skips every frame coded in both directions: a third
        less to decode, and a picture may look wrong where it leans on one of those.
        """
        self._wanted, self._until_key = frozenset(wanted), until_key
        self._skip = "BIDIR" if coarse else "NONREF"
        self.next = None                    # of what was read ahead, other frames were skipped
        asked = sorted(self._wanted)
        at = 0
        while at < len(asked):
            due = asked[at]
            self.seek(due)                  # goes on, or leaps to a later keyframe
            while (read := self.read()) is not None:
                number, frame = read
                if number < due:            # also after a leap that had to begin further back
                    continue
                if number in self._wanted:
                    yield number, luma_grid(frame)
                at = bisect_right(asked, number, at)
                if at == len(asked) or asked[at] != number + 1:
                    break
                due = asked[at]
            else:
                return

    def sample(self, apart: int) -> Iterator[tuple[int, av.VideoFrame]]:
        """Yield (number, frame) from the first frame to the last, at least ``apart`` ticks from one to the next,
        of pictures that others lean on."""
        self.next, self._until_key, self._wanted, self._skip = None, None, frozenset(), "NONREF"
        self.seek(0)
        due = None
        while (read := self.read()) is not None:
            pts = int(self.index.pts[read[0]])
            if due is None or pts >= due:
                due = pts + apart
                yield read


def selective_decoder(source: Source, index: FrameIndex) -> closing[SelectiveDecoder]:
    """A :class:`SelectiveDecoder` for a with statement."""
    return closing(SelectiveDecoder(source, index))
