"""Rendered segments and sequences: decoded, brought to one form, encoded as H.264 and AAC.

Sources of any size, rate, codec, colours and scanning join into one film. One segment alone keeps the
timestamps of its own pictures; several are brought to one constant rate, each picture shown
for the output pictures whose middle falls into its time.
"""

from __future__ import annotations

import threading
from collections import defaultdict
from collections.abc import Callable, Generator, Iterable, Iterator, Sequence
from concurrent.futures import Future, ThreadPoolExecutor
from contextlib import ExitStack, closing
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import partial
from pathlib import Path
from typing import Any

import av
import numpy as np
from av.audio.frame import AudioFrame
from av.filter import Graph
from av.packet import Packet
from av.video.frame import PictureType, VideoFrame
from av.video.reformatter import ColorRange
from av.video.stream import VideoStream

from .. import targets
from ..cancelling import Cancelled
from ..film.colour import colours_of
from ..film.film import Source
from ..film.writing import disk_error, written_whole
from .captions import add_chapters
from .decoding import CHANNELS, SAMPLE_RATE, CannotDecode, pictures, silence, sound
from .form import VideoFormat, form_of, tag
from .overlay import Layer, Marks, drawn_layer, paint_over, set_in_one, strip_layer
from .picture_places import PicturePlace, corners, tiles
from .reading import Placed
from .segment import AngleSpan, Cue, Part, Segment
from .timecode import timecode_at


@dataclass(frozen=True, slots=True)
class Settings:
    """How to render. ``width``, ``height`` (pixels, even) and ``rate`` (pictures a second) default to those of
    most of the film; ``quality`` is x264's constant rate factor (0 lossless to 51; lower is better). ``sound_track``
    counts from 0; a source with fewer gives its last."""

    width: int | None = None
    height: int | None = None
    rate: Fraction | None = None
    quality: int = 18
    preset: str = "veryfast"
    captions: bool = False
    sound_track: int = 0


@dataclass(frozen=True, slots=True)
class Rendered:
    """Where each segment lies in the file, freeze frames counted, and what a person should know of it."""

    cues: tuple[Cue, ...]
    encoder: str = "H.264 (x264)"
    notes: tuple[str, ...] = ()


Progress = Callable[[float], None]
Joiner = Callable[[Fraction, Part, VideoFrame, int], VideoFrame]
_SAME_INSTANT = Fraction(1, 2000)       # seconds that ticks of two clocks may round one instant apart
LONGEST_PICTURE = 1800          # seconds; a recorder may pause through a break between halves, more is a damaged clock
_SCALED = {1: "bt709", 4: "fcc", 5: "bt601", 7: "smpte240m", 9: "bt2020"}       # the scaler's words for matrices
_STRIP_SHARE = 14  # the caption strip is 1/14 of the picture's height: readable, and off the picture


def shown_size(source: Source) -> tuple[int, int]:
    """Width and height as shown, after rotation, made even for 4:2:0 sampling."""
    width, height = source.display_size
    return max(2, width + width % 2), max(2, height + height % 2)


def common_form(parts: Iterable[Part]) -> tuple[tuple[int, int], Fraction]:
    """The size and the rate of most of the film, by time; of equally much, the larger."""
    sizes: dict[tuple[int, int], Fraction] = defaultdict(Fraction)
    rates: dict[Fraction, Fraction] = defaultdict(Fraction)
    for part in parts:
        sizes[shown_size(part.source)] += part.duration
        rates[part.source.frame_rate] += part.duration
    return (max(sizes, key=lambda size: (sizes[size], size[0] * size[1])),
            max(rates, key=lambda rate: (rates[rate], rate)))


def render(segments: Sequence[Segment], to: Path, settings: Settings = Settings(), marks: Marks | None = None,
           progress: Progress | None = None, cancelled: Callable[[], bool] | None = None) -> Rendered:
    """Render ``segments``, joined, to the MP4 file ``to``; written beside it and renamed when complete.

    Several segments are chapters of the file.

    ``marks`` are the drawings and freeze frames to paint in. ``progress`` is told a share from 0 to 1.
    Raises CannotDecode for footage that cannot be decoded, Cancelled, OSError for the disk, and
    ValueError for no segments.
    """
    if not any(segment.parts for segment in segments):
        raise ValueError("There is nothing to render: no segment was given.")
    targets.protect(part.source.path for segment in segments for part in segment.used)
    try:
        with written_whole(to) as temporary:
            with av.open(str(temporary), "w", format="mp4",
                         options={"movflags": "+faststart", "write_tmcd": "1"}) as out:
                rendered = _Renderer(out, segments, settings, marks, progress, cancelled).run()
            if len(rendered.cues) > 1:
                add_chapters(temporary, rendered.cues)
    except av.FFmpegError as error:
        raise disk_error(to, error.errno) from error
    return rendered


class _Renderer:
    def __init__(self, out: av.container.OutputContainer, segments: Sequence[Segment], settings: Settings,
                 marks: Marks | None, progress: Progress | None, cancelled: Callable[[], bool] | None) -> None:
        parts = [part for segment in segments for part in segment.parts]
        (width, height), rate = common_form(parts)
        self.width, self.height = settings.width or width, settings.height or height
        self.strip = -(-self.height // _STRIP_SHARE // 2) * 2 if settings.captions else 0
        self.form = form_of([part for segment in segments for part in segment.used], self.width, self.height,
                            self.strip)
        self.segments, self.settings, self.marks = segments, settings, marks
        self.total = sum((part.duration for part in parts), Fraction(0))
        self.progress, self.cancelled = progress, cancelled
        self.may_freeze = bool(marks and marks.freezes)
        self.own_times = len(parts) == 1 and settings.rate is None and not self.may_freeze
        self.rate = settings.rate or rate
        self.tick = parts[0].source.time_base if self.own_times else 1 / self.rate
        options = {"crf": str(settings.quality), "preset": settings.preset, "threads": "auto"}
        self.video: VideoStream
        if self.form.colours.bits > 8:
            self.encoder = "HEVC (x265)"
            self.video = out.add_stream("libx265", rate=self.rate,
                                        options={**options, "x265-params": "log-level=error"})
            self.video.codec_context.codec_tag = "hvc1"       # without it some players take the file for broken
        else:
            self.encoder = "H.264 (x264)"
            self.video = out.add_stream("libx264", rate=self.rate, options=options)
        self.video.thread_type = "FRAME"                  # slices, the default here, would leave cores waiting
        self.video.width, self.video.height = self.width, self.height + self.strip
        self.video.pix_fmt = self.form.pixels
        context, colours = self.video.codec_context, self.form.colours
        context.color_range, context.colorspace = ColorRange.MPEG, tag(colours)
        context.color_primaries, context.color_trc = colours.primaries, colours.transfer
        context.time_base = self.tick
        self.video.time_base = self.tick
        label = timecode_at(parts[0].source, parts[0].start)
        if label and len(parts) == 1 and self.rate == parts[0].source.frame_rate and not self.may_freeze:
            # one track has one beginning: a film joined of several has none
            self.video.metadata["timecode"] = label
        self.audio = out.add_stream("aac", rate=SAMPLE_RATE, layout="stereo")
        self.out = out
        self.ticks = 0               # of `self.tick`, written so far
        self.samples = 0             # of sound, written so far
        self.done = Fraction(0)      # seconds of the parts finished
        self.lost: dict[str, Fraction] = {}         # seconds of sound that could not be decoded, by the source's name
        self.muxing = threading.Lock()
        self.sounding: Future[None] = Future()      # what the sound's thread was last given to do
        self.sounding.set_result(None)

    def run(self) -> Rendered:
        self.out.start_encoding()                           # opens both encoders, before two threads use them
        with ThreadPoolExecutor(1, "sound") as self.sounds:
            cues = []
            for segment in self.segments:
                begun = self.ticks
                with ExitStack() as open_:
                    picture = self._joined(segment, open_)
                    heard = open_.enter_context(closing(_Heard(_sound_along(
                        segment.heard, self.settings.sound_track, self._lose)))) if segment.heard else None
                    at = Fraction(0)
                    for part in segment.parts:
                        self._part(segment, part, picture and partial(picture, at), heard)
                        self.done += part.duration
                        at += part.duration
                    self.sounding.result()
                cues.append(Cue(begun * self.tick, self.ticks * self.tick, segment))
            self.sounding.result()
        for stream in (self.video, self.audio):
            self._mux(stream.encode(None))
        lost = [f"{name}: {float(seconds):.2f} s of its sound could not be decoded and are silent."
                for name, seconds in self.lost.items()]
        return Rendered(tuple(cues), self.encoder, (*self.form.notes, *lost))

    def _lose(self, part: Part, seconds: Fraction) -> None:
        name = part.source.path.name
        self.lost[name] = self.lost.get(name, Fraction(0)) + seconds

    def _mux(self, packets: list[Packet[Any]]) -> None:
        with self.muxing:
            self.out.mux(packets)

    def _joined(self, segment: Segment, open_: ExitStack) -> Joiner | None:
        """What makes one picture of a segment's own and those of the angles beside it; None where it is alone."""
        if not segment.beside:
            return None
        places = self._places(segment)
        form, *forms = (replace(self.form, width=place.width, height=place.height) for place in places)
        along = [open_.enter_context(closing(_Along(self, *each))) for each in zip(segment.beside, forms, strict=True)]

        def picture(begun: Fraction, part: Part, frame: VideoFrame, at: int) -> VideoFrame:
            seconds = begun + (at - part.start) * part.source.time_base
            frames = [self.drawn(part, frame, at, form), *(each.at(seconds) for each in along)]
            return set_in_one(frames, places, self.width, self.height, self.form.pixels)

        return picture

    def _places(self, segment: Segment) -> list[PicturePlace]:
        """Where a segment's picture stands, and those of the angles beside it."""
        return (corners if segment.inset else tiles)(1 + len(segment.beside), self.width, self.height)

    def _part(self, segment: Segment, part: Part, joined: Callable[[Part, VideoFrame, int], VideoFrame] | None,
              along: _Heard | None) -> None:
        """Write the part's pictures, and its sound beside them, never further than they have got: all of it at once
        would fill the memory. ``joined`` sets other angles beside a picture, ``along`` is the sound of another one."""
        matrix, bits = self.form.colours.matrix, self.form.colours.bits
        strip = strip_layer(segment.caption, self.width, self.strip, matrix, bits) if self.strip else None
        shown = 0                                         # output pictures for the part's own time
        if along is not None:
            self.sounding.result()
            along.taken = 0
        heard = along or _Heard(sound(part, self.settings.sound_track, partial(self._lose, part)))
        form = self.form
        if joined is not None:
            own = self._places(segment)[0]
            form = replace(form, width=own.width, height=own.height)
        asked = end = Fraction(0)
        try:
            with pictures(part, partial(self.filtered, part, form)) as decoded:
                for frame, at, until in _spans(decoded, part):
                    if self.cancelled and self.cancelled():
                        raise Cancelled
                    before, end = end, (until - part.start) * part.source.time_base
                    if end - before > LONGEST_PICTURE:
                        raise CannotDecode(f"{part.source.path.name}: by its clock one picture stands for "
                                         f"{float(end - before) / 3600:.1f} hours, so the clock is damaged there. Hand "
                                         "on what comes before that picture and what comes after it by themselves.")
                    if joined is not None:
                        frame = joined(part, frame, at)
                        frame.pts, frame.time_base = at, part.source.time_base
                        frame = frame if strip is None else paint_over(frame, None, strip)
                    else:
                        frame = self.drawn(part, frame, at, form, strip)
                    pause = Fraction(0)
                    if self.own_times:
                        self._write(frame, at - part.start)
                        self.ticks = until - part.start
                    else:
                        while (shown + Fraction(1, 2)) * self.tick < end:
                            self._write(frame, self.ticks)
                            self.ticks += 1
                            shown += 1
                        pause = self.marks.freeze(part.source.id, at, until) if self.marks else pause
                        for _ in range(round(pause / self.tick)):
                            self._write(frame, self.ticks)
                            self.ticks += 1
                    if pause or end - asked >= 1:
                        self._sound_to(heard, end, silent=bool(pause))
                        asked = end
                    if self.progress:
                        self.progress(min(1.0, float((self.done + end) / self.total)))
            self._sound_to(heard, part.duration, silent=True)
        finally:
            if along is None:
                self.sounds.submit(heard.close)

    @staticmethod
    def filtered(part: Part, form: VideoFormat, decoded: Iterable[VideoFrame]) -> Iterator[VideoFrame]:
        """Deinterlace, turn, scale and pad; timestamps are kept."""
        graph: Graph | None = None
        source = part.source
        as_it_is = not (source.interlaced or source.rotation or source.mirrored) and source.pixel_aspect == 1
        for frame in decoded:
            if as_it_is and (frame.width, frame.height, frame.format.name) == (form.width, form.height, form.pixels):
                colours = colours_of(frame)
                if colours.matrix == form.colours.matrix and not colours.full:
                    yield frame
                    continue
            if graph is None:
                graph = _graph(part.source, frame, form)
            graph.push(frame)
            yield from _pull(graph, part.source.time_base)
        if graph is not None:
            graph.push(None)
            yield from _pull(graph, part.source.time_base)

    def drawn(self, part: Part, frame: VideoFrame, at: int, form: VideoFormat, strip: Layer | None = None
              ) -> VideoFrame:
        """The picture with what was drawn on it, if anything was, and the caption strip below it."""
        shown = self.marks.over(part.source.id, at) if self.marks else ()
        colours = form.colours
        over = drawn_layer(shown, form.width, form.height, colours.matrix, colours.bits) if shown else None
        return frame if strip is None and over is None else paint_over(frame, over, strip)

    def _write(self, frame: VideoFrame, pts: int) -> None:
        frame.pts, frame.time_base = pts, self.tick
        frame.colorspace, frame.color_range = tag(self.form.colours), ColorRange.MPEG
        frame.color_primaries, frame.color_trc = self.form.colours.primaries, self.form.colours.transfer
        # else the encoder would follow the camera's choice of keyframes
        frame.pict_type = PictureType.NONE
        self._mux(self.video.encode(frame))

    def _sound_to(self, heard: _Heard, end: Fraction, silent: bool) -> None:
        """Have the part's sound written up to ``end`` (seconds of the part), but not further than the pictures stand,
        and silence from there to where they stand if ``silent``. Raises what went wrong with the sound before."""
        self.sounding.result()
        self.sounding = self.sounds.submit(self._sound, heard, round(end * SAMPLE_RATE),
                                           round(self.ticks * self.tick * SAMPLE_RATE), silent)

    def _sound(self, heard: _Heard, end: int, pictures: int, silent: bool) -> None:
        for piece in heard.take(min(end - heard.taken, pictures - self.samples)):
            self._write_sound(piece)
        if silent:
            for piece in silence(pictures - self.samples):
                self._write_sound(piece)

    def _write_sound(self, piece: np.ndarray) -> None:
        frame = AudioFrame.from_ndarray(np.ascontiguousarray(piece).reshape(1, -1), "s16", "stereo")
        frame.sample_rate, frame.pts, frame.time_base = SAMPLE_RATE, self.samples, Fraction(1, SAMPLE_RATE)
        self._mux(self.audio.encode(frame))
        self.samples += len(piece)


class _Along:
    """The pictures of another angle while a segment runs, each as its tie says. For one thread."""

    def __init__(self, renderer: _Renderer, along: AngleSpan, form: VideoFormat) -> None:
        self._renderer, self._along, self._form = renderer, along, form
        self._end = along.lead + sum((part.duration for part in along.parts), Fraction(0))
        self._frames = self._decoded()
        self._shown: VideoFrame | None = None
        self._next = next(self._frames, None)

    def at(self, seconds: Fraction) -> VideoFrame | None:
        """The picture so long after the segment's first, never going back; None before the first and after the last."""
        while self._next is not None and self._next[0] <= seconds + _SAME_INSTANT:
            self._shown = self._next[1]
            self._next = next(self._frames, None)
        return self._shown if seconds < self._end else None

    def close(self) -> None:
        """Close the file."""
        self._frames.close()

    def _decoded(self) -> Generator[tuple[Fraction, VideoFrame], None, None]:
        begun = self._along.lead
        for part in self._along.parts:
            with pictures(part, partial(self._renderer.filtered, part, self._form)) as decoded:
                for frame in decoded:
                    at: Placed = frame
                    yield (begun + (at.pts - part.start) * part.source.time_base,
                           self._renderer.drawn(part, frame, at.pts, self._form))
            begun += part.duration


def _sound_along(along: AngleSpan, track: int,
                 lost: Callable[[Part, Fraction], None]) -> Generator[np.ndarray, None, None]:
    """The sound of another angle from a segment's first picture on."""
    over = round(-along.lead * SAMPLE_RATE)
    yield from silence(-over)
    for part in along.parts:
        for piece in sound(part, track, partial(lost, part)):
            if over > 0:
                piece, over = piece[over:], max(over - len(piece), 0)
            if len(piece):
                yield piece


class _Heard:
    """The sound of a part, taken bit by bit. ``taken`` counts the samples."""

    def __init__(self, pieces: Generator[np.ndarray, None, None]) -> None:
        self._pieces = pieces
        self._held = np.zeros((0, CHANNELS), np.int16)
        self.taken = 0

    def take(self, samples: int) -> Iterator[np.ndarray]:
        """Yield the next so many samples in pieces, or what there is of them; none if negative."""
        while samples > 0:
            held = self._held if len(self._held) else next(self._pieces, self._held)
            if not len(held):
                return
            piece, self._held = held[:samples], held[samples:]
            samples -= len(piece)
            self.taken += len(piece)
            yield piece

    def close(self) -> None:
        self._pieces.close()


def _spans(frames: Iterable[Placed], part: Part) -> Iterator[tuple[VideoFrame, int, int]]:
    """Each picture with the ticks at which it appears and is replaced."""
    held: Placed = None
    for frame in frames:
        if held is not None:
            yield held, held.pts, frame.pts
        held = frame
    if held is not None:
        yield held, held.pts, part.end


def _graph(source: Source, frame: VideoFrame, form: VideoFormat) -> Graph:
    graph = Graph()
    chain = [graph.add_buffer(width=frame.width, height=frame.height, format=frame.format, time_base=frame.time_base)]
    steps: list[tuple[str, str]] = []
    if source.interlaced:
        steps.append(("bwdif", "mode=send_frame:deint=interlaced"))
    if source.mirrored:
        steps.append(("hflip", ""))
    turn = source.rotation % 360
    if turn == 180:
        steps += [("hflip", ""), ("vflip", "")]
    elif turn:
        steps.append(("transpose", "clock" if turn == 90 else "cclock"))
    theirs, ours = colours_of(frame), form.colours
    across, down = source.display_size
    share = min(Fraction(form.width, across), Fraction(form.height, down))
    width, height = (min(2 * round(side * share / 2), most)
                     for side, most in ((across, form.width), (down, form.height)))
    way = "bilinear" if (width, height) == (across, down) else "bicubic"
    read = f"in_color_matrix={_SCALED[theirs.matrix]}:in_range={'full' if theirs.full else 'limited'}"
    write = f"out_color_matrix={_SCALED[ours.matrix]}:out_range=limited"
    flags = f"flags={way}+accurate_rnd+full_chroma_int+full_chroma_inp"
    # Converted in one go to 8 bit, colours would come out up to a step off; so by way of 16.
    if theirs.matrix != ours.matrix:
        steps += [("scale", f"{width}:{height}:{read}:{flags}"), ("format", "gbrp16le"),
                  ("scale", f"{write}:sws_dither=none:{flags}")]
    elif theirs.full:
        steps += [("scale", f"{width}:{height}:{read}:{write}:{flags}"), ("format", "yuv420p16le"),
                  ("scale", f"in_range=limited:out_range=limited:sws_dither=none:{flags}")]
    else:
        steps.append(("scale", f"{width}:{height}:{read}:{write}:{flags}"))
    steps.append(("format", form.pixels))
    if (width, height) != (form.width, form.height):
        steps.append(("pad", f"{form.width}:{form.height}:(ow-iw)/2:(oh-ih)/2"))
    steps.append(("setsar", "1"))
    for name, arguments in steps:
        chain.append(graph.add(name, arguments))
    chain.append(graph.add("buffersink"))
    graph.link_nodes(*chain).configure()
    return graph


def _pull(graph: Graph, tick: Fraction) -> Iterator[VideoFrame]:
    while True:
        try:
            frame: Placed = graph.vpull()
        except (av.BlockingIOError, av.EOFError):
            return
        frame.pts = round(frame.pts * frame.time_base / tick)   # the deinterlacer counts in half ticks
        frame.time_base = tick
        yield frame
