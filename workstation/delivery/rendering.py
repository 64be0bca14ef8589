"""Rendered segments and sequences: decoded, brought to one form, encoded as H.264 and AAC.

Sources of any size, rate, codec and scanning join into one film. One segment alone keeps the
timestamps of its own pictures; several are brought to one constant rate, each picture shown
for the output pictures whose middle falls into its time.
"""

from __future__ import annotations

import os
import threading
from collections.abc import Callable, Iterable, Iterator, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise
from math import ceil
from pathlib import Path

import av
import numpy as np
from av.audio.frame import AudioFrame
from av.filter import Graph
from av.packet import Packet
from av.video.frame import PictureType, VideoFrame

from ..film.faults import Cancelled
from ..film.film import Source
from .captions import add_chapters
from .decoding import CHANNELS, SAMPLE_RATE, Unreadable, pictures, sound
from .naming import beside
from .overlay import Marks, caption_strip, paint_over
from .segment import Cue, Part, Segment, refuse_source


@dataclass(frozen=True, slots=True)
class Settings:
    """How to render. ``width``, ``height`` (pixels, even) and ``rate`` (pictures a second) default to the
    first source's; ``quality`` is x264's constant rate factor (0 lossless to 51; lower is better)."""

    width: int | None = None
    height: int | None = None
    rate: Fraction | None = None
    quality: int = 18
    preset: str = "veryfast"
    captions: bool = False


Progress = Callable[[float], None]
_STRIP_SHARE = 14  # the caption strip is 1/14 of the picture's height: readable, and off the picture


def shown_size(source: Source) -> tuple[int, int]:
    """Width and height as shown, after rotation, made even for 4:2:0 sampling."""
    width, height = source.display_size
    return max(2, width + width % 2), max(2, height + height % 2)


def render(segments: Sequence[Segment], to: Path, settings: Settings = Settings(), marks: Marks | None = None,
           progress: Progress | None = None, cancelled: Callable[[], bool] | None = None) -> tuple[Cue, ...]:
    """Render ``segments``, joined, to the MP4 file ``to``; written beside it and renamed when complete.

    Several segments are chapters of the file. Returns where each lies in it, freeze frames counted.

    ``marks`` are the drawings and freeze frames to paint in. ``progress`` is told a share from 0 to 1.
    Raises Unreadable for footage that cannot be decoded, Cancelled, OSError for the disk, and
    ValueError for no segments.
    """
    if not any(segment.parts for segment in segments):
        raise ValueError("There is nothing to render: no segment was given.")
    refuse_source(to, (part for segment in segments for part in segment.parts))
    temporary = beside(to)
    try:
        with av.open(str(temporary), "w", format="mp4", options={"movflags": "+faststart"}) as out:
            cues = _Renderer(out, segments, settings, marks, progress, cancelled).run()
        if len(cues) > 1:
            add_chapters(temporary, cues)
        os.replace(temporary, to)
    except av.FFmpegError as error:
        raise OSError(error.errno, f"{to.name} could not be written: {error.strerror or error}") from error
    finally:
        temporary.unlink(missing_ok=True)
    return cues


class _Renderer:
    def __init__(self, out: av.container.OutputContainer, segments: Sequence[Segment], settings: Settings,
                 marks: Marks | None, progress: Progress | None, cancelled: Callable[[], bool] | None) -> None:
        parts = [part for segment in segments for part in segment.parts]
        first = parts[0].source
        width, height = shown_size(first)
        self.width = settings.width or width
        self.height = settings.height or height
        self.strip = -(-self.height // _STRIP_SHARE // 2) * 2 if settings.captions else 0
        self.segments, self.settings, self.marks = segments, settings, marks
        self.total = sum((part.duration for part in parts), Fraction(0))
        self.progress, self.cancelled = progress, cancelled
        self.may_freeze = bool(marks and marks.freezes)
        self.own_times = len(parts) == 1 and settings.rate is None and not self.may_freeze
        self.rate = settings.rate or first.frame_rate
        self.tick = first.time_base if self.own_times else 1 / self.rate
        self.video = out.add_stream("libx264", rate=self.rate, options={
            "crf": str(settings.quality), "preset": settings.preset, "threads": "auto"})
        self.video.thread_type = "FRAME"                  # slices, the default here, would leave cores waiting
        self.video.width, self.video.height = self.width, self.height + self.strip
        self.video.pix_fmt = "yuv420p"
        self.video.codec_context.time_base = self.tick
        self.video.time_base = self.tick
        self.audio = out.add_stream("aac", rate=SAMPLE_RATE, layout="stereo")
        self.out = out
        self.ticks = 0               # of `self.tick`, written so far
        self.samples = 0             # of sound, written so far
        self.done = Fraction(0)      # seconds of the parts finished
        self.muxing = threading.Lock()

    def run(self) -> tuple[Cue, ...]:
        self.out.start_encoding()                           # opens both encoders, before two threads use them
        with ThreadPoolExecutor(1, "sound") as sounds:      # beside the pictures, part after part
            written, cues = [], []
            for segment in self.segments:
                begun = self.ticks
                for part in segment.parts:
                    if not self.may_freeze:                # how long the part gets is known before it is drawn
                        written.append(sounds.submit(self._sound, part, [], self.ticks + self._own_ticks(part)))
                    pauses = self._part(segment, part)
                    if self.may_freeze:
                        written.append(sounds.submit(self._sound, part, pauses, self.ticks))
                    self.done += part.duration
                cues.append(Cue(begun * self.tick, self.ticks * self.tick, segment))
            for each in written:
                each.result()
        for stream in (self.video, self.audio):
            self._mux(stream.encode(None))
        return tuple(cues)

    def _own_ticks(self, part: Part) -> int:
        """How many ticks the part's pictures take without freeze frames."""
        if self.own_times:
            return part.end - part.start
        return ceil(part.duration / self.tick - Fraction(1, 2))

    def _mux(self, packets: list[Packet]) -> None:
        with self.muxing:
            self.out.mux(packets)

    def _part(self, segment: Segment, part: Part) -> list[tuple[Fraction, Fraction]]:
        """Write the part's pictures; returns its freeze frames."""
        strip = caption_strip(segment.caption, self.width, self.strip) if self.strip else None
        shown = 0                                         # output pictures for the part's own time
        pauses: list[tuple[Fraction, Fraction]] = []      # freeze frames: when in the part, how long
        with pictures(part) as decoded:
            for frame, at, until in _spans(self._filtered(part, decoded), part):
                if self.cancelled and self.cancelled():
                    raise Cancelled
                frame = self._painted(part, frame, at, strip)
                end = (until - part.start) * part.source.time_base
                if self.own_times:
                    self._write(frame, at - part.start)
                    self.ticks = until - part.start
                else:
                    while (shown + Fraction(1, 2)) * self.tick < end:
                        self._write(frame, self.ticks)
                        self.ticks += 1
                        shown += 1
                    pause = self.marks.freeze(part.source.id, at, until) if self.marks else Fraction(0)
                    if pause:
                        pauses.append((end, pause))
                        for _ in range(round(pause / self.tick)):
                            self._write(frame, self.ticks)
                            self.ticks += 1
                if self.progress:
                    self.progress(float(min(1, (self.done + end) / self.total)))
        return pauses

    def _filtered(self, part: Part, decoded: Iterable[VideoFrame]) -> Iterator[VideoFrame]:
        """Deinterlace, turn, scale and pad; timestamps are kept."""
        graph: Graph | None = None
        as_it_is = (not part.source.interlaced and not part.source.rotation and part.source.pixel_aspect == 1
                    and not self.strip)
        for frame in decoded:
            if as_it_is and (frame.width, frame.height, frame.format.name) == (self.width, self.height, "yuv420p"):
                yield frame
                continue
            if graph is None:
                graph = _graph(part.source, frame, self.width, self.height, self.strip)
            graph.push(frame)
            yield from _pull(graph, part.source.time_base)
        if graph is not None:
            graph.push(None)
            yield from _pull(graph, part.source.time_base)

    def _painted(self, part: Part, frame: VideoFrame, at: int, strip: np.ndarray | None) -> VideoFrame:
        over = self.marks.over(part.source.id, at, self.width, self.height) if self.marks else None
        return frame if strip is None and over is None else paint_over(frame, over, strip)

    def _write(self, frame: VideoFrame, pts: int) -> None:
        frame.pts, frame.time_base = pts, self.tick
        frame.pict_type = PictureType.NONE                # else the encoder would follow the camera's choice of keyframes
        self._mux(self.video.encode(frame))

    def _sound(self, part: Part, pauses: list[tuple[Fraction, Fraction]], ticks: int) -> None:
        """Write the part's sound, silent in its pauses, up to where the picture stands after ``ticks``."""
        try:
            samples = self._heard(part, pauses, ticks)
        except MemoryError as error:
            raise Unreadable(f"{part.source.path.name}: the sound of {float(part.duration) / 3600:.1f} hours in one piece does "
                             "not fit into memory. Hand it on in shorter pieces.") from error
        for begin in range(0, len(samples), SAMPLE_RATE):
            piece = samples[begin:begin + SAMPLE_RATE]
            frame = AudioFrame.from_ndarray(np.ascontiguousarray(piece).reshape(1, -1), "s16", "stereo")
            frame.sample_rate, frame.pts, frame.time_base = SAMPLE_RATE, self.samples, Fraction(1, SAMPLE_RATE)
            self._mux(self.audio.encode(frame))
            self.samples += len(piece)

    def _heard(self, part: Part, pauses: list[tuple[Fraction, Fraction]], ticks: int) -> np.ndarray:
        pieces, taken = [], 0
        heard = sound(part)
        for when, length in pauses:
            upto = round(when * SAMPLE_RATE)
            pieces += [heard[taken:upto], np.zeros((round(length * SAMPLE_RATE), CHANNELS), np.int16)]
            taken = upto
        samples = np.concatenate([*pieces, heard[taken:]])
        wanted = round(ticks * self.tick * SAMPLE_RATE) - self.samples
        return np.pad(samples[:wanted], ((0, max(0, wanted - len(samples))), (0, 0)))


def _spans(frames: Iterable[VideoFrame], part: Part) -> Iterator[tuple[VideoFrame, int, int]]:
    """Each picture with the ticks at which it appears and is replaced."""
    held: VideoFrame | None = None
    for frame in frames:
        if held is not None:
            yield held, held.pts, frame.pts
        held = frame
    if held is not None:
        yield held, held.pts, part.end


def _graph(source: Source, frame: VideoFrame, width: int, height: int, strip: int) -> Graph:
    graph = Graph()
    chain = [graph.add_buffer(width=frame.width, height=frame.height, format=frame.format, time_base=frame.time_base)]
    steps: list[tuple[str, str]] = []
    if source.interlaced:
        steps.append(("bwdif", "mode=send_frame:deint=interlaced"))
    turn = source.rotation % 360
    if turn == 180:
        steps += [("hflip", ""), ("vflip", "")]
    elif turn:
        steps.append(("transpose", "clock" if turn == 90 else "cclock"))
    if (frame.width, frame.height) != (width, height) or turn % 180 or source.pixel_aspect != 1:
        if source.pixel_aspect != 1:
            shown = source.display_size if not turn % 180 else source.display_size[::-1]
            steps.append(("scale", f"{shown[0]}:{shown[1]}"))
        steps += [("setsar", "1"), ("scale", f"{width}:{height}:force_original_aspect_ratio=decrease:force_divisible_by=2"),
                  ("pad", f"{width}:{height}:(ow-iw)/2:(oh-ih)/2")]
    if strip:
        steps.append(("pad", f"{width}:{height + strip}:0:0"))
    steps += [("setsar", "1"), ("format", "yuv420p")]
    for name, arguments in steps:
        chain.append(graph.add(name, arguments))
    chain.append(graph.add("buffersink"))
    for one, other in pairwise(chain):
        one.link_to(other)
    graph.configure()
    return graph


def _pull(graph: Graph, tick: Fraction) -> Iterator[VideoFrame]:
    while True:
        try:
            frame = graph.vpull()
        except (av.BlockingIOError, av.EOFError):
            return
        frame.pts = round(frame.pts * frame.time_base / tick)   # the deinterlacer counts in half ticks
        frame.time_base = tick
        yield frame
