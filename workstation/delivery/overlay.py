"""What is painted into rendered pictures: the caption strip, drawings from review, freeze frames."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import cached_property, lru_cache
from math import atan2, cos, hypot, pi, sin

import av
import numpy as np
from PIL import Image, ImageDraw, ImageFont

from ..film.film import Film
from ..film.time import Instant
from ..tagging.drawn import drawn_span, shown_at
from ..tagging.model import Drawing, DrawingKind, Game, Shot
from .picture_places import RIM, PicturePlace
from .segment import Part
from .still import Still

INK = (255, 221, 64, 255)       # reads on grass, sky and both kinds of jersey
EDGE = (0, 0, 0, 255)
STRIP_GROUND = (16, 20, 26)
STRIP_TEXT = (245, 245, 240)
_EDGE_LUMA = 193        # of the line around a small picture on a large one, of 16 to 235
LUMA_SHARES = {1: (0.2126, 0.0722), 5: (0.299, 0.114), 9: (0.2627, 0.0593)}     # of red and blue; H.273, table 4


@lru_cache(64)
def caption_strip(text: str, width: int, height: int) -> np.ndarray:
    """One line of text on a dark strip, RGB, shape (height, width, 3); shrunk until it fits."""
    image = Image.new("RGB", (width, height), STRIP_GROUND)
    size = max(6, height * 6 // 10)
    while size > 6 and ImageFont.load_default(size).getlength(text) > width * 0.96:
        size -= 1
    ImageDraw.Draw(image).text((width * 0.02, height / 2), text, STRIP_TEXT, ImageFont.load_default(size), anchor="lm")
    return np.asarray(image)


@dataclass(frozen=True)
class Marks:
    """Drawings to paint in; each ends with its shot of ``shots``. ``freezes`` are seconds for which the film stands
    still at each drawing of one moment, 0 to draw on the running film."""

    film: Film
    drawings: tuple[Drawing, ...]
    freezes: Fraction = Fraction(0)
    shots: tuple[Shot, ...] = ()

    @cached_property
    def _spans(self) -> dict[int, tuple[Fraction, Fraction]]:
        return {drawing.id: span for drawing in self.drawings if (span := drawn_span(self.film, self.shots, drawing))}

    def in_parts(self, parts: Iterable[Part]) -> list[Drawing]:
        """The drawings that show in footage of these parts."""
        film = self.film
        times = [(film.time_of(Instant(part.source.id, part.start)), film.time_of(Instant(part.source.id, part.end)))
                 for part in parts]
        return [drawing for drawing in self.drawings if (span := self._spans.get(drawing.id))
                and any(span[0] < end and start < span[1] for start, end in times)]

    def frozen(self, parts: Iterable[Part]) -> int:
        """How many times the film stands still in these parts. A drawing in two of them counts where it begins."""
        if not self.freezes:
            return 0
        return len({(part.source.id, part.start, drawing.at.pts) for part in parts for drawing in self.drawings
                    if drawing.until is None and drawing.at.source == part.source.id
                    and part.start <= drawing.at.pts < part.end})

    def over(self, source: str, pts: int) -> tuple[Drawing, ...]:
        """The drawings that show on this picture."""
        here = self.film.source(source)
        now = self.film.starts_at(source) + (pts - here.start_pts) * here.time_base
        return tuple(shown_at(self._spans, self.drawings, now))

    def freeze(self, source: str, at: int, until: int) -> Fraction:
        """Seconds to hold the picture that shows from ``at`` to ``until``."""
        pinned = any(drawing.until is None and drawing.at.source == source and at <= drawing.at.pts < until
                     for drawing in self.drawings)
        return self.freezes if pinned else Fraction(0)


def marks_of(game: Game, freezes: Fraction = Fraction(0)) -> Marks | None:
    """The drawings of all angles; None if there are none."""
    drawings = tuple(drawing for recording in game.recordings for drawing in recording.drawings)
    shots = tuple(shot for recording in game.recordings for shot in recording.shots)
    return Marks(Film(game.sources), drawings, freezes, shots) if drawings else None


def spoken_freezes(marks: Marks | None, parts: Sequence[Part]) -> str:
    """Where the film stands still and how much longer it is for it, in a sentence; empty where it does not."""
    times = marks.frozen(parts) if marks else 0
    if marks is None or not times:
        return ""
    return (f"The film stands still {'once' if times == 1 else f'{times} times'}, {float(marks.freezes):g} seconds "
            f"each, at a drawing; it is {float(times * marks.freezes):g} seconds longer than what was filmed.")


def drawn_on(taken: Still, marks: Marks) -> Still | None:
    """A still with its drawings painted in; None if nothing was drawn there."""
    height, width = taken.image.shape[:2]
    shown = marks.over(taken.source.id, taken.at.pts)
    if not shown:
        return None
    over = draw(shown, width, height)
    alpha = over[:, :, 3:].astype(np.uint16)
    mixed = (taken.image.astype(np.uint16) * (255 - alpha) + over[:, :, :3].astype(np.uint16) * alpha) // 255
    return replace(taken, image=mixed.astype(np.uint8))


@lru_cache(32)
def draw(drawings: tuple[Drawing, ...], width: int, height: int) -> np.ndarray:
    """Paint drawings on a transparent picture, RGBA, shape (height, width, 4)."""
    image = Image.new("RGBA", (width, height), (0, 0, 0, 0))
    pen = ImageDraw.Draw(image)
    stroke = max(3, height // 180)
    for drawing in drawings:
        points = [(x * width, y * height) for x, y in drawing.points]
        for colour, thick in ((EDGE, stroke + 4), (INK, stroke)):
            _stroke(pen, drawing, points, colour, thick, height)
    return np.asarray(image)


def _stroke(pen: ImageDraw.ImageDraw, drawing: Drawing, points: list[tuple[float, float]],
            colour: tuple[int, int, int, int], thick: int, height: int) -> None:
    if drawing.kind is DrawingKind.TEXT:
        if points and colour is INK:
            pen.text(points[0], drawing.text, INK, ImageFont.load_default(max(12, height // 24)),
                     stroke_width=2, stroke_fill=EDGE)
        return
    if len(points) < 2:
        return
    if drawing.kind is DrawingKind.CIRCLE:
        (x, y), (rim_x, rim_y) = points[0], points[-1]
        radius = max(2.0, hypot(rim_x - x, rim_y - y))
        pen.ellipse((x - radius, y - radius, x + radius, y + radius), outline=colour, width=thick)
        return
    pen.line(points, fill=colour, width=thick, joint="curve")
    if drawing.kind is DrawingKind.ARROW:
        (x, y), (tip_x, tip_y) = points[-2:]
        heading, length = atan2(tip_y - y, tip_x - x), height / 28
        for turn in (pi * 0.85, -pi * 0.85):
            pen.line([(tip_x, tip_y), (tip_x + length * cos(heading + turn), tip_y + length * sin(heading + turn))],
                     fill=colour, width=thick)


@dataclass(frozen=True)
class Layer:
    """Something to paint into pictures of one form: samples of luma and of both colour differences (a quarter as many)
    in studio range, each with what share of the picture it covers."""

    samples: tuple[np.ndarray, np.ndarray, np.ndarray]
    cover: tuple[np.ndarray, np.ndarray, np.ndarray]


@lru_cache(32)
def drawn_layer(drawings: tuple[Drawing, ...], width: int, height: int, matrix: int, bits: int) -> Layer:
    """Drawings as a layer over the picture."""
    return layer(draw(drawings, width, height), matrix, bits)


@lru_cache(8)
def strip_layer(text: str, width: int, height: int, matrix: int, bits: int) -> Layer:
    """A caption strip as a layer."""
    return layer(caption_strip(text, width, height), matrix, bits)


def layer(pixels: np.ndarray, matrix: int, bits: int) -> Layer:
    """RGB or RGBA pixels (even width and height) as samples in the studio range, by H.273's equations for a matrix."""
    red_share, blue_share = LUMA_SHARES[matrix]
    red, green, blue = (pixels[:, :, channel] / 255 for channel in range(3))
    luma = red_share * red + (1 - red_share - blue_share) * green + blue_share * blue
    cover = pixels[:, :, 3] / 255 if pixels.shape[2] == 4 else np.ones(luma.shape)
    unit = 1 << (bits - 8)
    differences = [(128 + 224 * (primary - luma) / (2 * (1 - share))) * unit
                   for primary, share in ((blue, blue_share), (red, red_share))]
    thin = _quartered(cover)
    weight = np.where(thin > 0, thin, 1)
    # what is clear has none
    blue_chroma, red_chroma = (_quartered(difference * cover) / weight for difference in differences)
    return Layer(((16 + 219 * luma) * unit, blue_chroma, red_chroma), (cover, thin, thin))


def _quartered(plane: np.ndarray) -> np.ndarray:
    quarter: np.ndarray = (plane[0::2, 0::2] + plane[0::2, 1::2] + plane[1::2, 0::2] + plane[1::2, 1::2]) / 4
    return quarter


def paint_over(frame: av.VideoFrame, over: Layer | None, strip: Layer | None) -> av.VideoFrame:
    """Copy a 4:2:0 picture, with ``over`` blended in and ``strip`` below it; the rest keeps its own samples."""
    below = strip.samples[0].shape[0] if strip else 0
    painted = av.VideoFrame(frame.width, frame.height + below, frame.format.name)
    for number, (old, new) in enumerate(zip(_planes(frame), _planes(painted), strict=True)):
        height = len(old)
        new[:height] = old
        if over is not None:
            cover, samples = over.cover[number], over.samples[number]
            rows, columns = np.flatnonzero(cover.any(1)), np.flatnonzero(cover.any(0))
            if len(rows):
                box = np.s_[rows[0]:rows[-1] + 1, columns[0]:columns[-1] + 1]
                new[:height][box] = np.rint(old[box] + cover[box] * (samples[box] - old[box]))
        if strip is not None:
            new[height:] = np.rint(strip.samples[number])
    painted.pts, painted.time_base = frame.pts, frame.time_base
    painted.colorspace, painted.color_range = frame.colorspace, frame.color_range
    return painted


def set_in_one(pictures: Sequence[av.VideoFrame | None], places: Sequence[PicturePlace], width: int, height: int,
               pixels: str) -> av.VideoFrame:
    """One 4:2:0 picture in the studio range with others set into it at even places, later ones over earlier ones and
    with an edge there; black around them, and where there is none."""
    made = av.VideoFrame(width, height, pixels)
    unit = 1 << (made.format.components[0].bits - 8)
    planes = _planes(made)
    for number, plane in enumerate(planes):
        plane[:] = (16 if number == 0 else 128) * unit
    for at, (picture, (left, top, across, down)) in enumerate(zip(pictures, places, strict=True)):
        if picture is None:
            continue
        edge = RIM if any(_overlap(places[at], each) for each in places[:at]) else 0
        for number, (old, new) in enumerate(zip(_planes(picture), planes, strict=True)):
            share, ink = (1, _EDGE_LUMA) if number == 0 else (2, 128)
            if edge:
                new[(top - edge) // share:(top + down + edge) // share,
                    (left - edge) // share:(left + across + edge) // share] = ink * unit
            new[top // share:(top + down) // share, left // share:(left + across) // share] = old
    return made


def _overlap(one: PicturePlace, other: PicturePlace) -> bool:
    return (one.left < other.left + other.width and other.left < one.left + one.width
            and one.top < other.top + other.height and other.top < one.top + one.height)


def _planes(frame: av.VideoFrame) -> list[np.ndarray]:
    """The planes of a 4:2:0 picture, to read and to write."""
    form = np.uint16 if frame.format.components[0].bits > 8 else np.uint8
    return [np.frombuffer(memoryview(plane), form).reshape(plane.height, -1)[:, :plane.width] for plane in frame.planes]
