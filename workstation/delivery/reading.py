"""Packets of a part, from the keyframe that its first picture is decoded from."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

import av
from av.packet import Packet

from ..film.film import Source
from ..film.index import FrameIndex, index_of

# Seeking lands near, not on: in some containers before, in some after. Seconds to step back until it is before.
_STEPS_BACK = (Fraction(0), Fraction(1), Fraction(4), Fraction(16))


def packets_from(container: av.container.InputContainer, streams: list[av.stream.Stream], source: Source,
                 pts: int) -> Iterator[Packet]:
    """Yield packets of ``streams`` (the picture stream first) in file order, beginning no later than the keyframe
    for the picture shown at ``pts``. Picture packets carry their true timestamps and begin with that keyframe.

    Raises NoPicture (film.faults) if the source cannot be indexed, av.FFmpegError if reading fails.
    """
    video = streams[0]
    index = index_of(source)
    key = int(index.key_dts[index.key_for(pts)])
    for back in (*_STEPS_BACK, None):
        container.seek(key - round(back / video.time_base) if back is not None else video.start_time or 0, stream=video)
        held: list[Packet] = []
        for packet in container.demux(streams):
            if not packet.size:
                continue
            if packet.stream is not video:
                held.append(packet)
                continue
            dts = packet.dts if packet.dts is not None else packet.pts
            if dts is None or dts < key:
                continue
            if dts > key:
                break                               # landed after it: step back further
            yield from held
            yield _timed(packet, index)
            for later in container.demux(streams):
                if later.size:
                    yield _timed(later, index) if later.stream is video else later
            return
    raise av.InvalidDataError(0, f"no keyframe found for the picture at {float(pts * source.time_base):.3f} s",
                              str(source.path))


def _timed(packet: Packet, index: FrameIndex) -> Packet:
    if index.retimed is not None:
        packet.pts = index.retimed.get(packet.dts)
    elif packet.pts is None:
        packet.pts = packet.dts
    return packet
