"""Packets of a part, from the keyframe that its first picture is decoded from."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Any

import av
from av.packet import Packet

from ..film.film import Source
from ..film.index import FrameIndex, index_of
from ..film.probe import BYTE_SEEKING, Container

Placed = Any
"""A packet or frame whose timestamps are set: PyAV types them as optional on every one."""


def packets_from(container: Container, streams: Any, source: Source,
                 pts: int) -> Iterator[Placed]:
    """Yield packets of ``streams`` (the picture stream first) in file order, beginning with the keyframe for the
    picture shown at ``pts`` and the sound that lies just before it. Picture packets carry their true timestamps.

    Raises NoPicture (film.faults) if the source cannot be indexed, av.FFmpegError if reading fails.
    """
    video, index = streams[0], index_of(source)
    key = index.key_for(pts)
    for landing in range(key, -1, -1):      # containers seek near a keyframe, not always before it
        _land(container, video, index, landing)
        packets = (packet for packet in container.demux(streams) if packet.size)
        before: list[Packet[Any]] = []
        for packet in packets:
            if packet.stream is not video:
                before.append(packet)
            elif _is_key(packet, index, key):
                yield from before
                yield _timed(packet, index)
                for later in packets:
                    yield _timed(later, index) if later.stream is video else later
                return
            elif (ticks := packet.pts if packet.dts is None else packet.dts) is None or (
                    packet.is_keyframe and ticks > index.key_dts[key]):
                break
    raise av.InvalidDataError(0, f"no keyframe found for the picture at {float(pts * source.time_base):.3f} s",
                              str(source.path))


def land_before(container: Container, video: av.VideoStream, source: Source, pts: int) -> None:
    """Put the container at or before a keyframe shown at or before ``pts``, for what lies beside the pictures."""
    index = index_of(source)
    _land(container, video, index, index.key_for(pts))


def once_each(packets: Iterable[Placed]) -> Iterator[Placed]:
    """Packets of one sound track with each its own time: where two in a program stream begin in one piece of it,
    libavformat gives both the later one's."""
    held: Placed = None
    for packet in packets:
        if held is not None:
            if held.pts is not None and packet.pts is not None and held.pts == packet.pts and held.duration:
                held.pts = held.dts = packet.pts - held.duration
            yield held
        held = packet
    if held is not None:
        yield held


def _land(container: Container, video: av.VideoStream, index: FrameIndex, key: int) -> None:
    if container.format.name in BYTE_SEEKING:
        container.seek(max(int(index.key_pos[key]), 0) if key else 0, unsupported_byte_offset=True)
    else:
        container.seek(int(index.key_dts[key]), stream=video)


def _is_key(packet: Packet[Any], index: FrameIndex, key: int) -> bool:
    """Whether a packet is that keyframe, whole: after a seek into the middle of it a rest may carry its timestamps."""
    by_dts = index.retimed is not None or packet.pts is None
    same = packet.dts == index.key_dts[key] if by_dts else packet.pts == index.key_pts[key]
    return bool(same and packet.size == index.key_size[key])


def _timed(packet: Packet[Any], index: FrameIndex) -> Placed:
    if index.retimed is not None:
        packet.pts = index.retimed.get(packet.dts) if packet.dts is not None else None
    elif packet.pts is None:
        packet.pts = packet.dts
    return packet
