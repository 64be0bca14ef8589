"""Lighter copies of footage that a machine cannot play at its rate: half the size or less, quick to decode.

They lie in the cache folder under the fingerprint of their original, are given to a player only, and to nothing else:
paused pictures, stills and exports are decoded from the original. They may be deleted at any time.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import replace
from fractions import Fraction
from pathlib import Path
from typing import Any, cast

import av
from av.filter import Graph
from av.video.reformatter import ColorRange

from ..cancelling import Cancelled
from . import cache
from .colour import colours_in
from .faults import NoPicture, reason_for
from .film import Film, Source
from .fingerprint import fingerprint
from .probe import open_container, picture_stream
from .sources import require_readable
from .writing import written_whole

LARGE = 1440            # lines of the shorter side from which a copy is worth having; half of them is still HD
LINES = 1080            # of the copy's shorter side at most
GROUP = 30              # pictures from keyframe to keyframe: a seek is to be quick
QUALITY = 23            # x264's constant rate factor
SOUND_RATE = 48_000
CODEC, SOUND_CODEC = "libx264", "aac"
_OPTIONS = {"preset": "ultrafast", "tune": "fastdecode", "crf": str(QUALITY), "g": str(GROUP), "bf": "0"}


def folder() -> Path:
    """Where the copies lie."""
    return cache.folder() / "playing"


def has_lighter(source: Source) -> bool:
    """Whether a lighter copy of a source would be smaller than it. Those of interlaced footage are not made."""
    return not source.problem and not source.interlaced and min(source.display_size) >= LARGE


def lighter(source: Source) -> Source | None:
    """The lighter copy to play instead of a source, under the same id and with the same clock; None if there is none,
    or the original is not as it was any more. Reads a little of the original's file: not for the UI thread."""
    path = _path(source)
    try:
        if not source.fingerprint or not path.stat().st_size or fingerprint(source.path) != source.fingerprint:
            return None
    except OSError:
        return None
    width, height = _size(source)
    return replace(source, path=path, width=width, height=height, rotation=0, mirrored=False,
                   pixel_aspect=_upright_aspect(source), video_codec="h264",
                   audio_codec=source.audio_codec and SOUND_CODEC)


def lightened(film: Film) -> tuple[Source, ...]:
    """The sources of a film that have a lighter copy."""
    return tuple(source for source in film.sources if source.fingerprint and _path(source).exists())


def make_lighter(sources: Iterable[Source], report: Callable[[float, float], object] = lambda done, of: None,
                 cancelled: Callable[[], bool] = lambda: False) -> int:
    """Make the copies that are not there yet, and return how many. ``report(done, of)`` is told seconds of film.

    What was finished before a stop is kept. Raises NoPicture, OSError for the disk, and Cancelled.
    """
    wanted = [source for source in sources if has_lighter(source) and not _path(source).exists()]
    total, done = float(sum(source.duration for source in wanted)) or 1.0, 0.0
    for source in wanted:
        require_readable(source)
        folder().mkdir(parents=True, exist_ok=True)

        def tell(seconds: float, before: float = done) -> None:
            report(before + seconds, total)
            if cancelled():
                raise Cancelled("The lighter copy was stopped.")

        try:
            with written_whole(_path(source)) as temporary, open_container(source.path) as container, \
                    av.open(str(temporary), "w", format="mp4") as out:
                _CopyWriter(source, container, out).write(tell)
        except av.FFmpegError as error:
            raise NoPicture(source.id, reason_for(error, source.path)) from error
        done += float(source.duration)
    return len(wanted)


def space_taken(sources: Iterable[Source] | None = None) -> int:
    """How many bytes the copies of sources take, or all that there are."""
    return sum(path.stat().st_size for path in _copies(sources))


def delete_lighter(sources: Iterable[Source] | None = None) -> int:
    """Delete the copies of sources, or all that there are, and return how many bytes that freed. Raises OSError."""
    freed = 0
    for path in _copies(sources):
        freed += path.stat().st_size
        path.unlink()
    return freed


def _copies(sources: Iterable[Source] | None) -> list[Path]:
    paths = folder().glob("*.mp4") if sources is None else (_path(source) for source in sources if source.fingerprint)
    return [path for path in paths if path.exists()]


def _path(source: Source) -> Path:
    return folder() / f"{source.fingerprint}.mp4"


def _factor(source: Source) -> int:
    return -(-min(source.display_size) // LINES) if min(source.display_size) > 0 else 1


def _size(source: Source) -> tuple[int, int]:
    """Of the copy as stored, upright, even."""
    width, height = (source.height, source.width) if source.rotation % 180 else (source.width, source.height)
    return tuple(max(side // _factor(source) // 2 * 2, 2) for side in (width, height))  # type: ignore[return-value]


def _upright_aspect(source: Source) -> Fraction:
    return 1 / source.pixel_aspect if source.rotation % 180 else source.pixel_aspect


class _CopyWriter:
    """One copy being written. Pictures keep their timestamps, counted from the source's first."""

    def __init__(self, source: Source, container: Any, out: av.container.OutputContainer) -> None:
        self.source, self.out, self.container = source, out, container
        self.picture = picture_stream(container)
        self.picture.thread_type = "AUTO"
        self.heard = next(iter(container.streams.audio), None)
        self.video = cast(Any, out.add_stream(CODEC, rate=source.frame_rate, options=_OPTIONS))
        self.video.width, self.video.height = _size(source)
        self.video.pix_fmt = "yuv420p"
        self.video.time_base = self.video.codec_context.time_base = source.time_base
        colours = colours_in(source)
        context: Any = self.video.codec_context
        context.colorspace, context.color_range = colours.matrix, ColorRange.JPEG if colours.full else ColorRange.MPEG
        context.color_primaries, context.color_trc = colours.primaries, colours.transfer
        self.range = "full" if colours.full else "limited"
        self.audio: Any = None
        if self.heard is not None and self.heard.codec_context is not None:
            self.audio = out.add_stream(SOUND_CODEC, rate=SOUND_RATE, layout="stereo")
        self.resampler = av.AudioResampler("fltp", "stereo", SOUND_RATE)
        self.graph: Graph | None = None
        self.shown = -1                 # timestamp written last
        self.samples = 0

    def write(self, tell: Callable[[float], None]) -> None:
        streams = [self.picture, *([self.heard] if self.audio is not None else [])]
        for packet in self.container.demux(*streams):
            try:
                frames = packet.decode()
            except av.error.InvalidDataError:
                continue                # damaged: the picture or sound before it stands
            for frame in frames:
                if isinstance(frame, av.VideoFrame):
                    self._take_picture(frame, tell)
                else:
                    self._take_sound(frame)
        self.out.mux(self.video.encode(None))
        if self.audio is not None:
            self.out.mux(self.audio.encode(None))

    def _take_picture(self, frame: av.VideoFrame, tell: Callable[[float], None]) -> None:
        if frame.pts is None or frame.pts - self.source.start_pts <= self.shown:
            return
        if self.graph is None:
            self.graph = self._made_graph(frame)
        self.shown = frame.pts - self.source.start_pts
        self.graph.push(frame)
        made: Any = self.graph.vpull()
        made.pts, made.time_base, made.pict_type = self.shown, self.source.time_base, av.video.frame.PictureType.NONE
        self.out.mux(self.video.encode(made))
        tell(float(self.shown * self.source.time_base))

    def _take_sound(self, frame: Any) -> None:
        begins = Fraction(frame.pts or 0) * frame.time_base - self.source.start_pts * self.source.time_base
        for piece in self.resampler.resample(frame):
            at = round(begins * SOUND_RATE)
            if at < 0 or at + piece.samples <= self.samples:
                continue
            piece.pts = max(at, self.samples) if abs(at - self.samples) > SOUND_RATE // 50 else self.samples
            piece.time_base = Fraction(1, SOUND_RATE)
            self.samples = piece.pts + piece.samples
            begins += Fraction(piece.samples, SOUND_RATE)
            self.out.mux(self.audio.encode(piece))

    def _made_graph(self, frame: av.VideoFrame) -> Graph:
        graph = Graph()
        turn = self.source.rotation % 360
        width, height = _size(self.source)
        across, down = (height, width) if turn % 180 else (width, height)
        steps = [("scale", f"{across}:{down}:flags=area:in_range={self.range}:out_range={self.range}")]
        turns = {90: [("transpose", "clock")], 270: [("transpose", "cclock")], 180: [("hflip", ""), ("vflip", "")]}
        steps += [("hflip", ""), *turns.get(turn, [])] if self.source.mirrored else turns.get(turn, [])
        chain = [graph.add_buffer(template=self.picture, width=frame.width, height=frame.height, format=frame.format,
                                  time_base=self.source.time_base)]
        chain += [graph.add(name, words) for name, words in (*steps, ("format", "yuv420p"))]
        chain.append(graph.add("buffersink"))
        graph.link_nodes(*chain).configure()
        return graph
