"""What is painted into rendered pictures: the caption strip, drawings from review, freeze frames."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache
from math import atan2, cos, hypot, pi, sin

import av
import numpy as np
from PIL import Image, ImageDraw, ImageFont

from ..film.film import Film
from ..tagging.model import Drawing, DrawingKind

INK = (255, 221, 64, 255)       # reads on grass, sky and both kinds of jersey
EDGE = (0, 0, 0, 255)
STRIP_GROUND = (16, 20, 26)
STRIP_TEXT = (245, 245, 240)
MOMENT_SHOWN = Fraction(2)      # seconds that a drawing pinned to one moment stays when the film is not frozen for it


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
    """Drawings to paint in. ``freezes`` are seconds to hold the picture at each drawing pinned to a moment."""

    film: Film
    drawings: tuple[Drawing, ...]
    freezes: Fraction = Fraction(0)

    def over(self, source: str, pts: int, width: int, height: int) -> np.ndarray | None:
        """The drawings that show on this picture, RGBA, or None."""
        shown = tuple(drawing for drawing in self.drawings if self._shows(drawing, source, pts))
        return draw(shown, width, height) if shown else None

    def freeze(self, source: str, at: int, until: int) -> Fraction:
        """Seconds to hold the picture that shows from ``at`` to ``until``."""
        pinned = any(drawing.until is None and drawing.at.source == source and at <= drawing.at.pts < until
                     for drawing in self.drawings)
        return self.freezes if pinned else Fraction(0)

    def _shows(self, drawing: Drawing, source: str, pts: int) -> bool:
        if drawing.until is not None:
            one, other = self.film.time_of(drawing.at), self.film.time_of(drawing.until)
        else:
            one = self.film.time_of(drawing.at)
            other = one + MOMENT_SHOWN
        here = self.film.source(source)
        now = self.film.starts_at(source) + (pts - here.start_pts) * here.time_base
        # The picture shown at the pinned instant may have begun up to one picture before it.
        return one - 1 / here.frame_rate < now < other


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


def paint_over(frame: av.VideoFrame, over: np.ndarray | None, strip: np.ndarray | None) -> av.VideoFrame:
    """Return a copy of the picture with ``over`` blended in at the top left and ``strip`` along the bottom."""
    rgb = frame.to_ndarray(format="rgb24")
    if over is not None:
        height, width = over.shape[:2]
        alpha = over[:, :, 3:].astype(np.uint16)
        under = rgb[:height, :width].astype(np.uint16)
        rgb[:height, :width] = (under * (255 - alpha) + over[:, :, :3].astype(np.uint16) * alpha) // 255
    if strip is not None:
        rgb[-strip.shape[0]:] = strip
    painted = av.VideoFrame.from_ndarray(rgb, format="rgb24").reformat(format="yuv420p")
    painted.pts, painted.time_base = frame.pts, frame.time_base
    return painted
