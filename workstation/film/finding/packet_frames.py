"""Map packets to frame numbers."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Callable

from ..index import FrameIndex
from ..probe import Packet


def packet_frame_numbers(index: FrameIndex) -> Callable[[Packet], int | None]:
    """Return a function that maps a packet to its frame's number in display order, None if it belongs to none.

    Both fields of a picture that was coded by fields belong to it. Made for a whole film's packets one by one, where
    asking the index itself would take longer than reading them.
    """
    times = index.pts.tolist()
    retimed = index.retimed

    def number(packet: Packet) -> int | None:
        if not packet.size:
            return None
        if retimed is not None:
            pts = None if packet.dts is None else retimed.get(packet.dts)
        else:
            pts = packet.dts if packet.pts is None else packet.pts
        return None if pts is None else max(bisect_right(times, pts) - 1, 0)

    return number
