"""Map packets to frame numbers."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Callable

import av

from ..index import FrameIndex


def packet_frame_numbers(index: FrameIndex) -> Callable[[av.Packet], int | None]:
    """Return a function that tells a packet's picture by its number in display order, None if it belongs to none.

    Both fields of a picture that was coded by fields belong to it. Made for a whole film's packets one by one, where
    asking the index itself would take longer than reading them.
    """
    times = index.pts.tolist()
    retimed = index.retimed

    def number(packet: av.Packet) -> int | None:
        if not packet.size:
            return None
        if retimed is not None:
            pts = retimed.get(packet.dts)
        else:
            pts = packet.dts if packet.pts is None else packet.pts
        return None if pts is None else max(bisect_right(times, pts) - 1, 0)

    return number
