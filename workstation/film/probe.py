"""Probe one camera file: streams, timestamps, damage.

The first picture is decoded and the last packets are read, so that a source's first and last timestamps are facts and
not a header's claim. See :mod:`workstation.film.faults` for why this happens in the program's own process.
"""

from __future__ import annotations

import math
import struct
from collections.abc import Iterator
from fractions import Fraction
from itertools import pairwise
from pathlib import Path
from typing import Any, Self, TypeAlias, TypeVar, cast

import av
import av.container
from av.audio.stream import AudioStream
from av.video.stream import VideoStream

from . import cache
from .avchd import recorded
from .faults import MissingFile, reason_for
from .film import Source
from .fingerprint import fingerprint

Packet: TypeAlias = "av.Packet[VideoStream]"
S = TypeVar("S", VideoStream, AudioStream)

_NARROWEST, _WIDEST = Fraction(1, 4), Fraction(4)      # pixels; H.264's own list (Table E-1) goes from 10:11 to 2:1
TAIL_BYTES = 4 << 20            # enough for several GOPs at camera bit rates
BYTE_SEEKING = frozenset({"mpegts", "mpeg"})   # containers without an index of their own


def probe(path: Path | str, id: str) -> Source:
    """Return the source that a file is, under ``id``.

    A file that cannot be shown gives a source with a ``problem``. Raises MissingFile if there is no file at ``path``.
    """
    path = Path(path)
    if not path.is_file():
        raise MissingFile(path)
    try:
        size = path.stat().st_size
        print_ = fingerprint(path)
    except OSError as error:
        return _bad(path, id, 0, "", reason_for(error, path))
    if size == 0:
        return _bad(path, id, size, print_, f"{path.name} is empty. Copy it from the card again.")
    facts = cache.load_facts(print_)
    if facts is None:
        if cache.attempts(print_) >= 2:
            return _bad(path, id, size, print_,
                        f"{path.name} ended the program twice while it was being read and is left alone. "
                        "Copy it from the card again, or convert it.")
        cache.begin_attempt(print_)
        try:
            facts = _examine(path)
        finally:
            cache.end_attempt(print_)
        if facts.get("problem") is None:
            cache.save_facts(print_, facts)
    return _source(path, id, size, print_, facts)


def picture_stream(container: Container) -> VideoStream:
    """The stream that holds the film. Raises OSError if there is none."""
    stream = find_picture_stream(container)
    if stream is None:
        raise OSError("no pictures")
    return stream


def find_picture_stream(container: Container) -> VideoStream | None:
    """The largest video stream that is not a cover picture."""
    streams = [s for s in container.streams.video if not s.disposition & av.stream.Disposition.attached_pic]
    return max(streams, key=lambda s: s.codec_context.width * s.codec_context.height if s.codec_context else 0,
               default=None)


class Container:
    """A file open for reading. PyAV's own does not expect streams that appear in the middle, as damage makes them."""

    def __init__(self, opened: av.container.InputContainer) -> None:
        self._opened = opened

    def __getattr__(self, name: str) -> Any:
        return getattr(self._opened, name)

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_: object) -> None:
        self._opened.close()

    def demux(self, *streams: S) -> Iterator[av.Packet[S]]:
        """The packets of streams, or of all, and an empty one of each in the end."""
        try:
            yield from cast("Iterator[av.Packet[S]]", self._opened.demux(*streams))
        except IndexError:      # after the last packet it looks for the new ones among those that it knew
            return

    def decode(self, *streams: Any) -> Iterator[Any]:
        """What the packets of streams, or of all, hold."""
        for packet in self.demux(*streams):
            yield from packet.decode()


def open_container(path: Path | str) -> Container:
    """Open a media file; text in it that is no UTF-8 is replaced, not refused."""
    return Container(av.open(str(path), metadata_errors="replace"))


def _examine(path: Path) -> dict[str, Any]:
    try:
        with open_container(path) as container:
            stream = find_picture_stream(container)
            if stream is None:
                what = "sound but no picture" if container.streams.audio else "neither picture nor sound"
                return {"problem": f"{path.name} holds {what}. Leave it out of the film."}
            if stream.codec_context is None:
                return {"problem": f"{path.name}: no decoder for its kind of picture. "
                                   "Convert it to H.264 and replace it."}
            return _facts(path, container, stream)
    except (av.FFmpegError, OSError, ValueError) as error:
        return {"problem": reason_for(error, path)}


def _facts(path: Path, container: Container, stream: VideoStream) -> dict[str, Any]:
    stream.thread_type = "SLICE"    # one picture is wanted; frame threads would only add delay
    first, created, timecode = _first_picture(container, stream)
    if first is None or first.pts is None:
        return {"problem": f"{path.name}: not one picture could be decoded. Copy it from the card again."}
    rate = stream.guessed_rate or stream.average_rate or Fraction(25)
    time_base = stream.time_base or Fraction(1, 90000)
    if first.interlaced_frame and _by_fields(container, stream, first, rate * time_base):
        rate /= 2
    ticks = max(round(1 / (rate * time_base)), 1)
    end, damaged = _end(container, stream, path.stat().st_size, first.pts, ticks)
    context = stream.codec_context
    sound = next(iter(container.streams.audio), None)
    pixel = stream.sample_aspect_ratio or context.sample_aspect_ratio or Fraction(1)
    rotation, mirrored = _standing(first)
    warning = None
    claimed = (stream.duration or 0) * time_base
    have = (end - first.pts) * time_base
    if damaged or claimed - have > max(Fraction(1), claimed / 50):
        warning = (f"{path.name} ends early: {float(have):.1f} of {float(max(claimed, have)):.1f} seconds can be "
                   "shown. Copy it from the card again if more was filmed.")
    return {
        "time_base": str(time_base),
        "start_pts": first.pts,
        "duration_pts": end - first.pts,
        "frame_rate": str(rate),
        "width": first.width,
        "height": first.height,
        "rotation": rotation,
        "mirrored": mirrored,
        "interlaced": bool(first.interlaced_frame),
        "video_codec": context.codec.canonical_name,
        "audio_codec": sound.codec_context.codec.canonical_name if sound and sound.codec_context else None,
        "timecode": _metadata("timecode", container) or timecode,
        "created": _metadata("com.apple.quicktime.creationdate", container) or _metadata("creation_time", container)
                   or created,
        "pixel_aspect": str(pixel if _NARROWEST <= pixel <= _WIDEST else Fraction(1)),
        "warning": warning,
    }


def _standing(frame: av.VideoFrame) -> tuple[int, bool]:
    """How a picture is to stand: clockwise degrees, and whether left and right are to be swapped before it is turned.

    The matrix takes a place (x, y) to (ax + cy, bx + dy) (ISO/IEC 14496-12, 6.2.2); one that mirrors has a negative
    determinant."""
    said: Any = frame.side_data.get("DISPLAYMATRIX")
    if said is not None:
        a, b, _, c, d = struct.unpack("=5i", bytes(said)[:20])
        if a * d - b * c < 0:
            return round(math.degrees(math.atan2(-b, -a)) / 90) * 90 % 360, True
    return -frame.rotation % 360, False


def _first_picture(container: Container, stream: VideoStream) -> tuple[av.VideoFrame | None, str | None, str | None]:
    """Decode the first picture, and read what an AVCHD camera wrote into the first ones: when, and the timecode."""
    created = timecode = None
    for packet in container.demux(stream):
        if created is None and container.format.name == "mpegts" and packet.size:
            created, timecode = recorded(bytes(packet))
        try:
            frames = packet.decode()
        except av.error.InvalidDataError:
            continue                # a bad beginning does not spoil the rest
        if frames:
            return frames[0], created, timecode
    return None, None, None


def _by_fields(container: Container, stream: VideoStream, first: av.VideoFrame, ticks_rate: Fraction) -> bool:
    """Whether the rate counts fields: the pictures that follow the first lie two of its lengths apart.
    ``ticks_rate`` is the rate times the time base."""
    times = [first.pts]
    try:
        for packet in container.demux(stream):
            times += [frame.pts for frame in packet.decode()]
            if len(times) > 8:
                break
    except av.FFmpegError:
        pass
    shown = sorted(time for time in times if time is not None)
    return len(shown) > 2 and all(Fraction(3, 2) < (later - one) * ticks_rate < Fraction(5, 2)
                                  for one, later in pairwise(shown))


def _end(container: Container, stream: VideoStream, size: int, first: int, ticks: int) -> tuple[int, bool]:
    """Return one past the last picture, and whether the end of the file is damaged."""
    by_bytes = container.format.name in BYTE_SEEKING
    reach = TAIL_BYTES if by_bytes else 0
    damaged = False
    while True:
        if by_bytes:
            container.seek(max(size - reach, 0), unsupported_byte_offset=True)
        else:
            last = (stream.start_time or 0) + (stream.duration or 0)
            try:
                container.seek(max(last - reach, first), stream=stream, backward=True)
            except av.FFmpegError:
                damaged = True
                container.seek(first, stream=stream, backward=True)
                reach = last
        end = None
        try:
            for packet in container.demux(stream):
                if packet.pts is not None and packet.size and not packet.is_discard:
                    end = max(end or first, packet.pts + (packet.duration or ticks))
        except (av.FFmpegError, OSError, ValueError):
            damaged = True
        if end is not None and end > first:
            return end, damaged
        whole = size if by_bytes else max((stream.duration or 0), 1)
        if reach >= whole:
            return first + ticks, True
        damaged = damaged or not by_bytes
        reach = min(max(reach * 8, 16 * ticks), whole)


def _metadata(key: str, container: Container) -> str | None:
    for holder in (container, *container.streams):
        if value := holder.metadata.get(key):
            return str(value)
    return None


def _source(path: Path, id: str, size: int, print_: str, facts: dict[str, Any]) -> Source:
    if facts.get("problem"):
        return _bad(path, id, size, print_, facts["problem"])
    values = dict(facts)
    for name in ("time_base", "frame_rate", "pixel_aspect"):
        values[name] = Fraction(values[name])
    values.pop("problem", None)
    return Source(id=id, path=path, size=size, fingerprint=print_, **values)


def _bad(path: Path, id: str, size: int, print_: str, problem: str) -> Source:
    return Source(id=id, path=path, size=size, fingerprint=print_, time_base=Fraction(1, 90000), start_pts=0,
                  duration_pts=0, frame_rate=Fraction(25), width=0, height=0, problem=problem)
