"""Pictures of a copy that begins at its first wanted picture and ends at its last, hidden ones neither before nor
after.

Not every player honours an edit list wholly. Here the group that the copy begins in is encoded again from the first
wanted picture on, and the group that it ends in if its last pictures are decoded from later ones; all groups between
are copied. Both kinds stand in one H.264 stream: each IDR picture says by which of several parameter sets it is coded
(ITU-T H.264, 7.4.1.2.1), and the file's header holds all of them (ISO/IEC 14496-15, 5.3.3).
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

import av
from av.codec.context import Flags
from av.packet import Packet
from av.video.codeccontext import VideoCodecContext
from av.video.frame import PictureType

from ..film.decoder import is_bottom_first
from .decoding import pictures
from .reading import Placed
from .segment import Part

IDR, SPS, PPS = 5, 7, 8         # types of NAL unit
_QUALITY = "12"                 # x264's rate factor: not told from the original by eye


class CannotJoin(Exception):
    """This footage cannot be joined with newly encoded pictures; the message says why."""


@dataclass(frozen=True, slots=True)
class JoinedPackets:
    """Packets in decoding order with their times, the stream's header, and how many pictures were encoded."""

    packets: list[Placed]
    header: bytes
    encoded: int


def without_run_up(part: Part, video: av.VideoStream, packets: list[Placed]) -> JoinedPackets:
    """Exactly the pictures of ``part``, of packets from the keyframe before it on. Raises CannotJoin."""
    context = video.codec_context
    if context.codec.canonical_name != "h264" or context.pix_fmt not in ("yuv420p", "yuvj420p", "yuv422p", "yuv444p",
                                                                         "yuv420p10le", "yuv422p10le"):
        raise CannotJoin("only H.264 pictures can be joined so")
    header = bytes(context.extradata or b"")
    counted = header[:1] == b"\1"
    wide = (header[4] & 3) + 1 if counted else 0
    keys = [packet.pts for packet in packets if packet.is_keyframe and part.start <= packet.pts < part.end
            and any(unit[0] & 31 == IDR for unit in _units(bytes(packet), wide))]
    begin = keys[0] if keys else part.end
    finish = part.end if all(packet.pts < part.end for packet in packets) else keys[-1] if keys else part.end
    head, tail = Part(part.source, part.start, begin), Part(part.source, max(begin, finish), part.end)
    copied = [packet for packet in packets if begin <= packet.pts < finish]
    sets = _sets(header, counted)
    first, first_sets = _encoded(head, video, wide, sets) if head.end > head.start else ([], [])
    last, last_sets = _encoded(tail, video, wide, sets) if tail.end > tail.start else ([], [])
    joined = first + copied + last
    _retime(joined)
    header = _with_sets(header, counted, first_sets or last_sets, bool(copied))
    return JoinedPackets(joined, header, len(first) + len(last))


def _encoded(part: Part, video: av.VideoStream, wide: int, sets: list[bytes]) -> tuple[list[Placed], list[bytes]]:
    """The pictures of a part, encoded with the stream's own form and tags, and their parameter sets."""
    source = part.source
    encoder: VideoCodecContext = av.CodecContext.create("libx264", "w")
    theirs = video.codec_context
    encoder.width, encoder.height, encoder.pix_fmt = theirs.width, theirs.height, theirs.pix_fmt
    encoder.time_base, encoder.framerate = source.time_base, source.frame_rate
    encoder.color_range, encoder.colorspace = theirs.color_range, theirs.colorspace
    encoder.color_primaries, encoder.color_trc = theirs.color_primaries, theirs.color_trc
    if theirs.sample_aspect_ratio:
        encoder.sample_aspect_ratio = theirs.sample_aspect_ratio
    encoder.flags |= Flags.global_header
    taken = {_set_number(unit) for unit in sets if unit[0] & 31 == SPS}
    number = next(each for each in range(31, -1, -1) if each not in taken)
    scan = "" if not source.interlaced else ":bff=1" if is_bottom_first(video) else ":tff=1"
    encoder.options = {"preset": "fast", "crf": _QUALITY,
                       "x264-params": f"sps-id={number}:bframes=0:keyint=infinite:force-cfr=1{scan}"}
    made: list[Placed] = []
    times: list[int] = []
    with pictures(part) as decoded:
        for frame in decoded:
            times.append(int(frame.pts or 0))
            frame.time_base = source.time_base
            frame.pict_type = PictureType.NONE
            made += encoder.encode(frame)
    made += encoder.encode(None)
    out = []
    for packet, until in zip(made, [*times[1:], part.end], strict=True):
        data = bytes(packet)
        new: Placed = Packet(b"".join(len(unit).to_bytes(wide, "big") + unit for unit in _units(data, 0)) if wide
                             else data)
        new.pts, new.dts, new.time_base = packet.pts, packet.pts, source.time_base
        new.is_keyframe = packet.is_keyframe
        new.duration = until - packet.pts
        out.append(new)
    return out, _sets(bytes(encoder.extradata or b""), False)


def _retime(packets: list[Placed]) -> None:
    """Give decoding times that rise and never lie after the showing times."""
    shown = sorted(packet.pts for packet in packets)
    late = max(time - packet.pts for time, packet in zip(shown, packets, strict=True))
    for time, packet in zip(shown, packets, strict=True):
        packet.dts = time - max(late, 0)


def _units(data: bytes, wide: int) -> Iterator[bytes]:
    """The NAL units of a packet: behind their lengths in so many bytes, or behind start codes if 0 (annex B)."""
    if wide:
        at = 0
        while at + wide < len(data):
            size = int.from_bytes(data[at:at + wide], "big")
            if size:
                yield data[at + wide:at + wide + size]
            at += wide + size
        return
    for piece in data.split(b"\0\0\1"):
        unit = piece.rstrip(b"\0")
        if unit:
            yield unit


def _sets(header: bytes, counted: bool) -> list[bytes]:
    """The parameter sets of a stream's header: of the form of MP4 files, or units behind start codes."""
    if not counted:
        return [unit for unit in _units(header, 0) if unit[0] & 31 in (SPS, PPS)]
    return [unit for units in _counted(header)[:2] for unit in units]


def _counted(header: bytes) -> tuple[list[bytes], list[bytes], bytes]:
    """SPS, PPS and what follows them in an AVCDecoderConfigurationRecord."""
    at, lists = 5, []
    for mask in (31, 255):
        units, count = [], header[at] & mask
        at += 1
        for _ in range(count):
            size = int.from_bytes(header[at:at + 2], "big")
            units.append(header[at + 2:at + 2 + size])
            at += 2 + size
        lists.append(units)
    return lists[0], lists[1], header[at:]


def _with_sets(header: bytes, counted: bool, more: Iterable[bytes], keep: bool) -> bytes:
    """A stream's header with more parameter sets, or with those only unless its own are to be kept."""
    more = list(more)
    if not counted:
        return (header if keep else b"") + b"".join(b"\0\0\0\1" + unit for unit in more)
    sequences, pictures_, rest = _counted(header)
    if not keep:
        sequences, pictures_ = [], []
    sequences = sequences + [unit for unit in more if unit[0] & 31 == SPS]
    pictures_ = pictures_ + [unit for unit in more if unit[0] & 31 == PPS]
    return (header[:5] + bytes([0xE0 | len(sequences)])
            + b"".join(len(unit).to_bytes(2, "big") + unit for unit in sequences)
            + bytes([len(pictures_)]) + b"".join(len(unit).to_bytes(2, "big") + unit for unit in pictures_) + rest)


def _set_number(unit: bytes) -> int:
    """seq_parameter_set_id: an Exp-Golomb number behind three bytes of profile and level."""
    bits = "".join(f"{byte:08b}" for byte in unit[4:12])
    zeros = len(bits) - len(bits.lstrip("0"))
    return int(bits[zeros:2 * zeros + 1], 2) - 1
