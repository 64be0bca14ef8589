"""What the timeline is painted with: the theme's inks and type, marks kept as pixels, and words that fit."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass

import numpy as np
from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QFont, QFontMetricsF, QImage, QPainter, QPen, QPixmap

from ..theme import Theme
from .blocks import Blocks
from .glyphs import glyph
from .scale import Scale

GUTTER = 92          # pixels left of the lanes, for their names
OPEN, AGREED, WAIVED = range(3)     # states of a mark


class Inks:
    """Inks and type of a theme."""

    def __init__(self, theme: Theme):
        colour = theme.colour
        self.ground, self.panel, self.raised = colour("ground"), colour("panel"), colour("raised")
        self.well, self.line, self.edge = colour("well"), colour("line"), colour("edge")
        self.text, self.quiet, self.accent = colour("text"), colour("quiet"), colour("accent")
        self.teams = (colour("home"), colour("visitors"), colour("quiet"))
        self.severities = (colour("bad"), colour("warn"), colour("quiet"))
        self.good, self.focus, self.on_accent = colour("good"), colour("focus"), colour("on_accent")
        self.selected, self.on_selected = colour("selected"), colour("on_selected")
        self.font: QFont = theme.font("small")
        self.bold: QFont = theme.font("small", bold=True)
        self.metrics, self.bold_metrics = QFontMetricsF(self.font), QFontMetricsF(self.bold)
        self.wide = self.metrics.averageCharWidth() * 1.12
        self.ascent, self.tall = self.metrics.ascent(), self.metrics.height()
        self.stamps: dict[tuple, QPixmap] = {}      # marks by what they look like, for the next repaint


@dataclass
class Canvas:
    """One repaint of the lanes: the painter, whose origin is the left end of the lanes, and all that it depends on."""

    painter: QPainter
    look: Inks
    scale: Scale
    boxes: Mapping[str, tuple[int, int]]            # top and height of each lane, by its key
    chosen: Mapping[str, object]                    # id of the item that is chosen in a lane, by the lane's key
    thumbnail: Callable[[float], QImage | None]     # the picture at a film time, if it is there

    def edges(self, blocks: Blocks, seen: slice) -> tuple[np.ndarray, np.ndarray]:
        """Left and right ends of blocks in pixels."""
        left = (blocks.start[seen] - self.scale.start) / self.scale.per_pixel
        right = (blocks.end[seen] - self.scale.start) / self.scale.per_pixel
        # far outside coordinates cost time and precision in the rasteriser
        return np.clip(left, -5000, self.scale.width + 5000), np.clip(right, -5000, self.scale.width + 5000)

    def visible(self, blocks: Blocks, before: float = 0.0) -> slice:
        """The blocks on screen, and those that begin up to *before* pixels left of it."""
        return blocks.visible(self.scale.start - before * self.scale.per_pixel, self.scale.end)

    def say(self, top: float, tall: float, words: str) -> None:
        """Words in the place of what a lane has nothing of."""
        self.painter.setPen(self.look.quiet)
        self.painter.drawText(QPointF(6, top + tall / 2 + self.look.ascent / 2 - 1), words)

    def glyph(self, name: object, x: float, y: float, size: int) -> None:
        """A mark with the painter's pen and brush."""
        self.painter.translate(x, y)
        self.painter.drawPath(glyph(name, size))
        self.painter.translate(-x, -y)

    def stamp(self, name: str, colour: QColor, state: int, size: int) -> QPixmap:
        """A mark as pixels, kept: hundreds of them are drawn in one repaint."""
        ratio = self.painter.device().devicePixelRatioF()
        key = (name, colour.rgba(), state, size, ratio)
        if key not in self.look.stamps:
            stamp = QPixmap(round((size + 2) * ratio), round((size + 2) * ratio))
            stamp.setDevicePixelRatio(ratio)
            stamp.fill(Qt.GlobalColor.transparent)
            inner = QPainter(stamp)
            inner.setRenderHint(QPainter.RenderHint.Antialiasing)
            inner.translate(1, 1)
            inner.setPen(QPen(colour, 1.5) if state == WAIVED else QPen(self.look.panel, 1))
            inner.setBrush(Qt.BrushStyle.NoBrush if state == WAIVED else colour)
            inner.drawPath(glyph(name, size))
            if state == AGREED:
                inner.setPen(QPen(self.look.panel, 2))
                inner.drawPolyline([QPointF(size * 0.28, size * 0.6), QPointF(size * 0.45, size * 0.76),
                                    QPointF(size * 0.72, size * 0.42)])
            elif state == WAIVED:
                inner.setPen(QPen(colour, 1.5))
                inner.drawLine(QPointF(0, size), QPointF(size, 0))
            inner.end()
            self.look.stamps[key] = stamp
        return self.look.stamps[key]

    # -- words that fit ----------------------------------------------------------------------------

    def width(self, words: str) -> float:
        """About how wide *words* are; measuring takes too long for hundreds."""
        return len(words) * self.look.wide

    def fitting(self, candidates: tuple[str, ...], room: float, elide: bool = False) -> str:
        """The first of the candidates that fits; measured only when a guess from its length is near."""
        for words in candidates:
            guess = self.width(words)
            if guess * 0.75 <= room and (guess * 1.15 <= room or self.look.metrics.horizontalAdvance(words) <= room):
                return words
        if elide and room > 5 * self.look.wide:
            return candidates[-1][:int(room / self.look.wide) - 1] + "…"
        return ""


def row_of_blocks(painter: QPainter, starts: np.ndarray, ends: np.ndarray, colour: QColor, box: QRectF) -> None:
    """Hundreds of narrow blocks of one colour, as high as *box*, from *starts* to *ends* in its pixels. They are one
    row of pixels drawn high: to make as many rectangles takes ten times as long."""
    if not len(starts):
        return
    ratio = painter.device().devicePixelRatioF()
    wide = round(box.width() * ratio)
    first = np.ceil(starts * ratio - 0.5).astype(np.int64)
    after = np.maximum(np.ceil(ends * ratio - 0.5).astype(np.int64), first + 1)
    steps = np.zeros(wide + 1, np.int32)
    np.add.at(steps, np.clip(first, 0, wide), 1)
    np.add.at(steps, np.clip(after, 0, wide), -1)
    pixels = np.where(np.cumsum(steps[:-1]) > 0, np.uint32(colour.rgba()), np.uint32(0))
    painter.drawImage(box, QImage(pixels.data, wide, 1, 4 * wide, QImage.Format.Format_ARGB32_Premultiplied))
