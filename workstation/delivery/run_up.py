"""Pictures of a copy that begins at its first wanted picture and ends at its last, hidden ones neither before nor
after.

Not every player honours an edit list wholly. Here the group that the copy begins in is encoded again from the first
wanted picture on, and the group that it ends in if its last pictures are decoded from later ones; all groups between
are copied. Both kinds stand in one stream of H.264 or HEVC (:mod:`.nal_units`).
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import cast

import av
from av.codec.context import Flags
from av.packet import Packet
from av.video.codeccontext import VideoCodecContext
from av.video.frame import PictureType

from ..film.decoder import is_bottom_first
from .decoding import pictures
from .nal_units import AvcStream, CannotJoin, HevcStream, packed, units
from .reading import Placed
from .segment import Part

_STREAMS: dict[str, type[AvcStream] | type[HevcStream]] = {"h264": AvcStream, "hevc": HevcStream}
_QUALITY = "12"                 # the rate factor of x264 and x265: not told from the original by eye


@dataclass(frozen=True, slots=True)
class JoinedPackets:
    """Packets in decoding order with their times, the stream's header, and how many pictures were encoded."""

    packets: list[Placed]
    header: bytes
    encoded: int


def without_run_up(part: Part, video: av.VideoStream, packets: list[Placed]) -> JoinedPackets:
    """Exactly the pictures of ``part``, of packets from the keyframe before it on. Raises CannotJoin."""
    context = video.codec_context
    made_for = _STREAMS.get(context.codec.canonical_name)
    if made_for is None:
        raise CannotJoin("only H.264 and HEVC pictures can be joined so")
    stream = made_for(bytes(context.extradata or b""))
    if context.pix_fmt not in stream.forms:
        raise CannotJoin(f"{context.pix_fmt} pictures cannot be encoded again here")
    keys = [number for number, packet in enumerate(packets) if packet.is_keyframe
            and part.start <= packet.pts < part.end and stream.begins_group(bytes(packet))]
    begin = packets[keys[0]].pts if keys else part.end
    first = keys[0] if keys else len(packets)
    last = len(packets)
    if any(packet.pts >= part.end for packet in packets):       # what ends it leans on pictures that are not wanted
        last = keys[-1] if keys else first
    finish = max(begin, min((packet.pts for packet in packets[last:]), default=part.end))
    copied = [packet for packet in packets[first:last] if begin <= packet.pts]
    if any(packet.pts >= finish for packet in copied):
        raise CannotJoin("its groups of pictures overlap")
    head, tail = _Encoded(Part(part.source, part.start, begin), video, stream), _Encoded(
        Part(part.source, finish, part.end), video, stream)
    if head.packets and copied and (ending := stream.ending()):
        head.append(ending)
    joined = head.packets + copied + tail.packets
    _retime(joined)
    return JoinedPackets(joined, stream.with_sets(head.header or tail.header, bool(copied)),
                  len(head.packets) + len(tail.packets))


class _Encoded:
    """The pictures of a part, encoded with the stream's own form and tags; none if it is empty."""

    def __init__(self, part: Part, video: av.VideoStream, stream: AvcStream | HevcStream) -> None:
        self.packets: list[Placed] = []
        self.header = b""
        self._stream = stream
        if part.end > part.start:
            self._encode(part, video)

    def append(self, unit: bytes) -> None:
        """Put one more unit behind the last picture's."""
        last = self.packets.pop()
        data = packed([*units(bytes(last), self._stream.wide), unit], self._stream.wide)
        self.packets.append(_placed(data, last.pts, last.duration, last.is_keyframe, last.time_base))

    def _encode(self, part: Part, video: av.VideoStream) -> None:
        source, theirs, stream = part.source, video.codec_context, self._stream
        encoder = cast(VideoCodecContext, av.CodecContext.create(stream.encoder, "w"))
        encoder.width, encoder.height, encoder.pix_fmt = theirs.width, theirs.height, theirs.pix_fmt
        encoder.time_base, encoder.framerate = source.time_base, source.frame_rate
        encoder.color_range, encoder.colorspace = theirs.color_range, theirs.colorspace
        encoder.color_primaries, encoder.color_trc = theirs.color_primaries, theirs.color_trc
        if theirs.sample_aspect_ratio:
            encoder.sample_aspect_ratio = theirs.sample_aspect_ratio
        encoder.flags |= Flags.global_header
        scan = "" if not source.interlaced else "bff" if is_bottom_first(video) else "tff"
        encoder.options = stream.options(_QUALITY, scan)
        made: list[Placed] = []
        times: list[int] = []
        with pictures(part) as decoded:
            for frame in decoded:
                times.append(int(frame.pts or 0))
                frame.time_base = source.time_base
                frame.pict_type = PictureType.NONE
                made += encoder.encode(frame)
        made += encoder.encode(None)
        for packet, until in zip(made, [*times[1:], part.end], strict=True):
            own = [numbered for unit in units(bytes(packet), 0) if (numbered := stream.numbered(unit)) is not None]
            self.packets.append(_placed(packed(own, stream.wide), packet.pts, until - packet.pts, packet.is_keyframe,
                                        source.time_base))
        self.header = bytes(encoder.extradata or b"")


def _placed(data: bytes, pts: int, duration: int, is_keyframe: bool, time_base: object) -> Placed:
    packet: Placed = Packet(data)
    packet.pts = packet.dts = pts
    packet.time_base, packet.duration, packet.is_keyframe = time_base, duration, is_keyframe
    return packet


def _retime(packets: list[Placed]) -> None:
    """Give decoding times that rise and never lie after the showing times."""
    shown = sorted(packet.pts for packet in packets)
    late = max(time - packet.pts for time, packet in zip(shown, packets, strict=True))
    for time, packet in zip(shown, packets, strict=True):
        packet.dts = time - max(late, 0)
