"""Copied segments: the camera's own pictures, not encoded again, and still exact in what is shown.

A copy has to begin at a picture that can be decoded by itself. It begins at the one before the
segment, and the MP4 edit list hides the run-up; in the same way pictures after the end that
earlier ones are decoded from stay in the file but are not shown.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from pathlib import Path
from typing import Any

import av
import numpy as np
from av.audio.frame import AudioFrame
from av.packet import Packet

from .. import targets
from ..film import sources
from ..film.faults import FilmError, NoPicture
from ..film.film import Source
from ..film.index import index_of
from ..film.probe import Container, find_picture_stream, open_container
from ..film.writing import DISK_ERRORS, disk_error, written_whole
from .decoding import SAMPLE_RATE, sound
from .edit_box import limit_shown
from .nal_units import CannotJoin
from .reading import Placed, once_each, packets_from
from .run_up import without_run_up
from .segment import Part
from .timecode import timecode_at

#: Codecs, by the names of their standards, that the MP4 family of files has a registered entry for and that players
#: expect there.
_PICTURES = {".mp4": {"h264", "hevc", "mpeg4", "mpeg2video", "mjpeg", "av1", "vp9"},
             ".mov": {"h264", "hevc", "mpeg4", "mpeg2video", "mjpeg", "prores", "dnxhd", "dvvideo"}}
_SOUNDS = {".mp4": {"aac", "ac3", "eac3", "mp3", "mp2", "alac", "opus", "flac"},
           ".mov": {"aac", "ac3", "eac3", "mp3", "mp2", "alac", "pcm_s16le", "pcm_s16be", "pcm_s24le", "pcm_s24be",
                    "pcm_s32le", "pcm_s32be", "pcm_f32le", "pcm_f32be", "pcm_u8", "pcm_alaw", "pcm_mulaw"}}
_INTERLEAVED = 2   # seconds by which sound may lie behind the pictures it belongs to in a file


def suffix_for(source: Source) -> str:
    """Of the file that carries a source's pictures and sound as they are: ``.mp4``, or ``.mov`` where that cannot."""
    pictures, sound = source.video_codec, source.audio_codec or "aac"
    fits = [suffix for suffix, known in _PICTURES.items() if pictures in known]
    return next((suffix for suffix in fits if sound in _SOUNDS[suffix]), fits[0] if fits else ".mp4")


class CannotCopy(FilmError):
    """This footage cannot be copied; the message says why and what to do."""


@dataclass(frozen=True, slots=True)
class Copied:
    """``hidden_before`` and ``hidden_after`` count pictures in the file that the edit list hides."""

    path: Path
    hidden_before: int
    hidden_after: int
    note: str = ""


def copy_part(part: Part, to: Path, every_player: bool = False) -> Copied:
    """Write the pictures of ``part`` (and the sound with them) to the file ``to``, an MP4 file or by its name
    (``.mov``) a QuickTime one, without encoding. Sound that the file cannot carry is encoded as AAC, and said.

    ``every_player`` is for players that do not honour edit lists: the pictures of the group that the part begins in,
    and of the one that it ends in if need be, are encoded again, so that nothing has to be hidden. It is not the
    default: what is handed on as the camera's own should be that to the last bit.

    Raises CannotCopy when the footage is not there any more or not the one that was tagged, when the
    codec has no place in such a file or no picture is found;
    OSError when the disk says no. Nothing is left at ``to`` then.
    """
    targets.protect((part.source.path,))
    try:
        with written_whole(to) as temporary:
            return _remux(part, temporary, to, every_player)
    except NoPicture as error:
        raise CannotCopy(str(error)) from error
    except av.FFmpegError as error:
        if error.errno in DISK_ERRORS:
            raise disk_error(to, error.errno) from error
        raise CannotCopy(f"{part.source.path.name}: {error.strerror or error}; export it rendered instead.") from error


def _remux(part: Part, temporary: Path, to: Path, every_player: bool) -> Copied:
    sources.require_readable(part.source)
    name = part.source.path.name
    with open_container(part.source.path) as container:
        video = find_picture_stream(container)
        if video is None:
            raise CannotCopy(f"{name} has no picture.")
        suffix = ".mov" if to.suffix.lower() == ".mov" else ".mp4"
        codec = video.codec_context.codec.canonical_name
        if codec not in _PICTURES[suffix]:
            raise CannotCopy(f"{name}: {codec} pictures have no place in an {suffix[1:].upper()} file; export it "
                             "rendered instead.")
        tracks = [(number, stream) for number, stream in enumerate(container.streams.audio) if stream.codec_context]
        carried = [stream for _, stream in tracks if stream.codec_context.codec.canonical_name in _SOUNDS[suffix]]
        encoded = [(number, stream) for number, stream in tracks if stream not in carried]
        pictures, sounds = _collect(container, video, carried, part)
        hidden_before = sum(packet.pts < part.start for packet in pictures)
        hidden_after = sum(packet.pts >= part.end for packet in pictures)
        if hidden_before + hidden_after == len(pictures):
            raise CannotCopy(f"{name} has no picture between {float(part.start * part.source.time_base):.3f} s and "
                             f"{float(part.end * part.source.time_base):.3f} s.")
        if not _stands_alone(video, pictures[:1]):
            # A camera that codes fields gives a picture in two packets, of which the index lists the first.
            by_fields = len(pictures) > 1 and pictures[1].pts not in index_of(part.source).pts
            if by_fields and _stands_alone(video, pictures[:2]):
                hidden_before, hidden_after = hidden_before // 2, hidden_after // 2
            else:
                raise CannotCopy(f"{name}: its pictures are refreshed bit by bit and none can be decoded by itself, so "
                                 "a copy could not begin exactly; export it rendered instead.")
        notes, header = _note(encoded, suffix), None
        if every_player:
            try:
                joined = without_run_up(part, video, pictures)
            except CannotJoin as why:
                if hidden_before or hidden_after:
                    notes.append(f"Its {hidden_before} pictures of run-up and {hidden_after} after the end are hidden "
                                 f"by the edit list, since {why}.")
            else:
                pictures, header, hidden_before, hidden_after = joined.packets, joined.header, 0, 0
                if joined.encoded:
                    notes.append(f"{joined.encoded} pictures at the ends were encoded again, so that every player "
                                 "shows exactly the play; the others are the camera's own.")
        # Where the container has no showing times, true ones may lie before its decoding times.
        early = max(0, max((packet.dts - packet.pts for packet in pictures if packet.dts is not None), default=0))
        options = {"movie_timescale": str(part.source.time_base.denominator), "use_editlist": "1"}
        label = timecode_at(part.source, part.start)
        if label:
            options["write_tmcd"] = "1"
        # Written once, then patched: `faststart` would move the boxes but copy the whole file.
        with av.open(str(temporary), "w", format=suffix[1:], options=options) as out:
            out_video = out.add_stream_from_template(video, opaque=True)
            out_video.time_base = video.time_base
            if header is not None:
                out_video.codec_context.extradata = header
            if codec == "hevc":
                out_video.codec_context.codec_tag = "hvc1"      # without it some players take the file for broken
            if label:
                out_video.codec_context.framerate = part.source.frame_rate      # its count is by this
                out_video.metadata["timecode"] = label
            streams = {video.index: out_video}
            for stream in carried:
                if any(packet.stream is stream for packet in sounds):
                    streams[stream.index] = out.add_stream_from_template(stream, opaque=True)
                    streams[stream.index].time_base = stream.time_base
            encoders = [(number, out.add_stream("aac", rate=SAMPLE_RATE, layout="stereo")) for number, _ in encoded]
            for number, encoder in encoders:
                _encode_sound(part, number, out, encoder)
            written = [*((packet, out_video) for packet in pictures),
                       *((packet, streams[packet.stream.index]) for packet in sounds)]
            for packet, stream in sorted(written, key=lambda pair: _decoded_at(pair[0])):
                shift = round(part.start * part.source.time_base / packet.time_base)
                packet.pts -= shift
                if packet.dts is not None:
                    packet.dts -= shift + (early if stream is out_video else 0)
                packet.stream = stream
                out.mux(packet)
    tracks_written = len(streams) + len(encoders)
    limit_shown(temporary, dict.fromkeys(range(tracks_written + bool(label)), part.duration), {tracks_written})
    if codec == "av1" and hidden_before:
        notes.append(f"Players built on FFmpeg 5 show the {hidden_before} pictures of run-up that the file hides.")
    return Copied(to, hidden_before, hidden_after, " ".join(notes))


def _decoded_at(packet: Placed) -> Fraction:
    """When a packet is decoded, in seconds."""
    at: Fraction = (packet.pts if packet.dts is None else packet.dts) * packet.time_base
    return at


def _note(encoded: list[tuple[int, av.AudioStream]], suffix: str) -> list[str]:
    if not encoded:
        return []
    names = ", ".join(dict.fromkeys(stream.codec_context.codec.canonical_name for _, stream in encoded))
    return [f"The sound ({names}) has no place in an {suffix[1:].upper()} file; it was encoded as AAC. The pictures "
            "are untouched."]


def _encode_sound(part: Part, track: int, out: av.container.OutputContainer, encoder: av.AudioStream) -> None:
    at = 0
    for piece in sound(part, track):
        frame = AudioFrame.from_ndarray(np.ascontiguousarray(piece).reshape(1, -1), "s16", "stereo")
        frame.sample_rate, frame.pts, frame.time_base = SAMPLE_RATE, at, Fraction(1, SAMPLE_RATE)
        out.mux(encoder.encode(frame))
        at += len(piece)
    out.mux(encoder.encode(None))


def _stands_alone(video: av.VideoStream, packets: list[Placed]) -> bool:
    """Whether the packets of a picture that is called a keyframe give it whole without any other."""
    decoder: Any = av.CodecContext.create(video.codec_context.name, "r")     # of pictures, but typed as any codec's
    decoder.extradata = video.codec_context.extradata
    try:
        frames = [frame for packet in packets for frame in decoder.decode(Packet(bytes(packet)))] + decoder.decode(None)
    except av.FFmpegError:
        return False
    return any(not frame.is_corrupt for frame in frames)


def _collect(container: Container, video: av.VideoStream, carried: list[av.AudioStream],
             part: Part) -> tuple[list[Placed], list[Placed]]:
    """Packets from the keyframe at or before the start to the last one that the end needs, in decoding order."""
    tick = part.source.time_base
    start, end = part.start * tick, part.end * tick
    pictures: list[Placed] = []
    sounds: list[Placed] = []
    for packet in packets_from(container, [video, *carried], part.source, part.start):
        ticks = packet.dts if packet.dts is not None else packet.pts
        if ticks is None:       # damage; a packet that says no time cannot be placed
            continue
        at = ticks * packet.time_base
        if at > end + _INTERLEAVED:
            break
        if packet.stream is video:
            if packet.pts is not None:
                pictures.append(packet)
        elif packet.pts is not None:
            length = (packet.duration or 0) * packet.time_base
            # One packet of run-up, because transform codecs overlap; hidden like the pictures'.
            if start < packet.pts * packet.time_base + 2 * length and packet.pts * packet.time_base < end:
                sounds.append(packet)
    while pictures and pictures[-1].pts >= part.end:
        pictures.pop()
    _fill_in_decoding_times(pictures)
    return pictures, [packet for stream in carried
                      for packet in once_each(each for each in sounds if each.stream is stream)]


def _fill_in_decoding_times(pictures: list[Placed]) -> None:
    """Matroska keeps none; they are found out while reading, but not those of the first packets after a seek."""
    later: int | None = None
    for packet in reversed(pictures):
        if packet.dts is None and later is not None:
            packet.dts = later - (packet.duration or 1)
        later = packet.dts
