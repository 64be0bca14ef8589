"""Paints the timeline: ruler, lanes, their names, the strip with the whole film, the playhead. Only what is visible is
touched, and detail grows with the room there is."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field

import numpy as np
from PySide6.QtCore import QLineF, QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QFont, QFontMetricsF, QImage, QPainter, QPen, QPixmap

from ...film.time import spoken_time
from ..theme import Theme
from .canvas import GUTTER, Canvas, Inks
from .lanes import Lane
from .lanes.lane import ALWAYS
from .scale import Scale, tick_step

OVERVIEW = 14        # pixels at the bottom for the whole film


def arrange(height: int, lanes: Sequence[Lane | type[Lane]], ruler: int = 22,
            type_scale: float = 1.0) -> dict[str, tuple[int, int]]:
    """Top and height of every lane by its key. Where there is too little room, for large type too, the least needed
    lanes go first; those that always stay share what there is."""
    room = height - ruler - OVERVIEW - 4
    kept = list(lanes)
    for lane in sorted(lanes, key=lambda lane: lane.need):
        if room >= type_scale * sum(each.least for each in kept) or lane.need >= ALWAYS:
            break
        kept.remove(lane)
    needed = sum(lane.least for lane in kept)
    times = min(max(room / needed, 1.0), type_scale)
    spare = max(int(room - times * needed), 0)
    total = sum(lane.weight - lane.least for lane in kept)
    placed, top = {}, ruler
    for lane in kept:
        tall = int(times * lane.least) + spare * (lane.weight - lane.least) // total
        placed[lane.key] = (top, tall)
        top += tall
    return placed


Measure = Callable[[str], float]       # width of words in pixels


def period_names(periods: Sequence[tuple[float, str]], scale: Scale,
                 measure: Measure) -> list[tuple[float, str, float]]:
    """Left end, name and width of the names of periods on the ruler, in pixels; one that would lie on the one before it
    is left out."""
    placed: list[tuple[float, str, float]] = []
    for time, name in periods:
        x, wide = scale.x(time), measure(name) + 12
        if x + wide > 0 and x < scale.width and (not placed or x >= placed[-1][0] + placed[-1][2]):
            placed.append((x, name, wide))
    return placed


def time_labels(ticks: Sequence[float], tenths: bool, scale: Scale, measure: Measure,
                taken: Sequence[tuple[float, float]]) -> list[tuple[float, str]]:
    """Left end and words of the times on the ruler, in pixels. One that would lie on another, or on a stretch that is
    *taken*, is left out."""
    placed: list[tuple[float, str]] = []
    free = float("-inf")
    for time in ticks:
        x, words = scale.x(time) + 4, spoken_time(time, tenths)
        end = x + measure(words)
        if x >= free and not any(low < end + 4 and x < high for low, high in taken):
            placed.append((x, words))
            free = end + 6
    return placed


@dataclass
class TimelinePicture:
    """Everything one repaint depends on."""

    lanes: Sequence[Lane]
    version: int                                # another whenever the lanes were prepared anew
    scale: Scale
    ruler: int                                  # pixels
    boxes: Mapping[str, tuple[int, int]]
    chosen: Mapping[str, object] = field(default_factory=dict)
    sources: np.ndarray = field(default_factory=lambda: np.zeros(0))    # film time of every source's first picture
    periods: Sequence[tuple[float, str]] = ()
    frame: float = 1 / 30                       # seconds a picture lasts at the middle of the window
    thumbnail: Callable[[float], QImage | None] = field(default=lambda time: None)
    hint: str = ""                              # what a click on the corner does, and its key

    @property
    def bottom(self) -> int:
        """Where the lowest lane ends, in pixels."""
        return max((top + tall for top, tall in self.boxes.values()), default=self.ruler)


class TimelinePainter:
    """Paints a :class:`TimelinePicture` in the colours of a theme."""

    def __init__(self, theme: Theme):
        self._theme = theme
        self.refresh()

    def refresh(self) -> None:
        """Take colours and fonts from the theme again."""
        self.look = Inks(self._theme)
        self.names = QFont(self.look.font)      # the column of names is as wide at every text size
        while QFontMetricsF(self.names).horizontalAdvance("whole  Ctrl+0") > GUTTER - 14:
            self.names.setPixelSize(self.names.pixelSize() - 1)
        # What one repaint leaves for the next: the column of names, and the strip with the whole film.
        self._column: tuple[tuple, QPixmap] | None = None
        self._film: tuple[tuple, QPixmap] | None = None

    # -- the whole ---------------------------------------------------------------------------

    def paint(self, painter: QPainter, picture: TimelinePicture) -> None:
        """Paint everything but the playhead."""
        scale, bottom = picture.scale, picture.bottom
        canvas = Canvas(painter, self.look, scale, picture.boxes, picture.chosen, picture.thumbnail)
        painter.fillRect(painter.window(), self.look.panel)
        painter.setFont(self.look.font)
        painter.save()
        painter.setClipRect(QRectF(GUTTER, 0, scale.width, bottom))
        painter.translate(GUTTER, 0)
        self._film_ends(painter, picture, bottom)
        for lane in picture.lanes:
            lane.paint_under(canvas, bottom)
        self._ruler(painter, picture)
        seen = [lane for lane in picture.lanes if lane.key in picture.boxes]
        for lane in sorted(seen, key=lambda lane: lane.is_marks):      # marks reach over the edges of their lane
            top, tall = picture.boxes[lane.key]
            painter.setPen(self.look.line)
            painter.drawLine(QPointF(0, top + 0.5), QPointF(scale.width, top + 0.5))
            lane.paint(canvas, top + 2, tall - 3)
        for lane in picture.lanes:
            lane.paint_over(canvas)
        painter.restore()
        self._names(painter, picture, bottom)
        self._overview(canvas, picture, bottom + 2)

    def playhead(self, painter: QPainter, picture: TimelinePicture, time: float) -> None:
        """The line at the current picture, with its time, over everything else."""
        x = picture.scale.x(time)
        if not -1 <= x <= picture.scale.width + 1:
            return
        bottom = picture.bottom
        x += GUTTER
        painter.setPen(QPen(self.look.panel, 4))
        painter.drawLine(QPointF(x, 2), QPointF(x, bottom))
        painter.setPen(QPen(self.look.accent, 2))
        painter.drawLine(QPointF(x, 0), QPointF(x, bottom))
        label = spoken_time(time, True)
        wide = self.look.bold_metrics.horizontalAdvance(label) + 10
        left = min(max(x - wide / 2, GUTTER), GUTTER + picture.scale.width - wide)
        tall = picture.ruler
        covered = []        # names of periods that the time would lie on move out from under it, where there is room
        names = period_names(picture.periods, picture.scale, self.look.bold_metrics.horizontalAdvance)
        for x_name, name, length in names:
            begins = GUTTER + x_name
            if left < begins + length and begins < left + wide:
                covered.append(name)
                painter.fillRect(QRectF(begins + 2, 0, length - 2, tall - 6), self.look.panel)
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(self.look.accent)
        painter.drawRoundedRect(QRectF(left, 1, wide, tall - 4), 3, 3)
        painter.setPen(self.look.on_accent)
        painter.setFont(self.look.bold)
        painter.drawText(QPointF(left + 5, 1 + (tall - 4 + self.look.ascent) / 2 - 1), label)
        if covered:
            moved = left + wide + 1
            length = self.look.bold_metrics.horizontalAdvance(covered[-1]) + 12
            if not any(GUTTER + begins < moved + length and moved < GUTTER + begins + long
                       for begins, name, long in names if name not in covered):
                for at, words in self._labels(picture, names):      # those it would lie on give way
                    begins, long = GUTTER + at, self.look.metrics.horizontalAdvance(words)
                    if begins < moved + length and moved < begins + long:
                        painter.fillRect(QRectF(begins, 0, long + 1, tall - 7), self.look.panel)
                self._period(painter, picture, moved, covered[-1])

    def _period(self, painter: QPainter, picture: TimelinePicture, x: float, name: str) -> None:
        tall = picture.ruler
        painter.setFont(self.look.bold)
        painter.fillRect(QRectF(x, 0, self.look.bold_metrics.horizontalAdvance(name) + 12, tall - 6), self.look.raised)
        painter.setPen(self.look.text)
        painter.drawText(QPointF(x + 6, self.look.ascent + 2), name)

    def overview_playhead(self, painter: QPainter, picture: TimelinePicture, time: float) -> None:
        """Draw the playhead at this time into the overview."""
        top = picture.bottom + 2
        x = GUTTER + picture.scale.width * time / max(picture.scale.duration, 1e-9)
        painter.fillRect(QRectF(x - 1, top, 2, OVERVIEW), self.look.accent)

    def _film_ends(self, painter: QPainter, picture: TimelinePicture, bottom: int) -> None:
        scale = picture.scale
        first, last = scale.x(0.0), scale.x(picture.scale.duration)
        if first > 0:
            painter.fillRect(QRectF(0, 0, first, bottom), self.look.ground)
        if last < scale.width:
            painter.fillRect(QRectF(last, 0, scale.width - last, bottom), self.look.ground)

    def _ruler(self, painter: QPainter, picture: TimelinePicture) -> None:
        scale, tall = picture.scale, picture.ruler
        per_frame = picture.frame / scale.per_pixel
        base = self.look.ascent + 2
        if per_frame >= 8:
            first = max(int(scale.start / picture.frame), 0)
            last = int(min(scale.end, picture.scale.duration) / picture.frame) + 1
            painter.setPen(self.look.edge)
            painter.drawLines([QLineF(scale.x(n * picture.frame), tall - 5, scale.x(n * picture.frame), tall)
                               for n in range(first, last + 1)])
        ticks, _ = self._ticks(picture)
        painter.setPen(self.look.edge)
        painter.drawLines([QLineF(scale.x(t), tall - 7, scale.x(t), tall) for t in ticks])
        painter.setPen(self.look.quiet)
        periods = period_names(picture.periods, scale, self.look.bold_metrics.horizontalAdvance)
        for x, words in self._labels(picture, periods):
            painter.drawText(QPointF(x, base), words)
        if len(picture.sources):
            lo, hi = np.searchsorted(picture.sources, (scale.start, scale.end))
            if 0 < hi - lo < scale.width / 10:      # where a new camera file begins
                painter.setPen(QPen(self.look.edge, 1, Qt.PenStyle.DotLine))
                painter.drawLines([QLineF(x, tall - 4, x, tall) for x in
                                   ((picture.sources[lo:hi] - scale.start) / scale.per_pixel).tolist()])
        painter.setFont(self.look.bold)
        for x, name, _ in periods:
            self._period(painter, picture, x, name)
        for time, _ in picture.periods:
            painter.fillRect(QRectF(scale.x(time), 0, 2, tall), self.look.text)
        painter.setFont(self.look.font)

    def _ticks(self, picture: TimelinePicture) -> tuple[list[float], bool]:
        """The film times that are marked on the ruler, and whether they are told in tenths of a second."""
        scale = picture.scale
        step = tick_step(scale.per_pixel)
        tenths = step <= 1 and scale.per_pixel * 90 < 0.5
        if tenths:
            step = 0.1 if scale.per_pixel * 70 < 0.1 else 0.5
        first = int(max(scale.start, 0.0) / step)
        last = int(min(scale.end, picture.scale.duration) / step) + 1
        ticks = [n * step for n in range(first, last + 1) if n * step <= picture.scale.duration]
        return ticks, tenths

    def _labels(self, picture: TimelinePicture, periods: Sequence[tuple[float, str, float]]) -> list[tuple[float, str]]:
        """The times on the ruler beside the names of periods that lie there."""
        return time_labels(*self._ticks(picture), picture.scale, self.look.metrics.horizontalAdvance,
                           [(x, x + wide) for x, _, wide in periods])

    # -- around the lanes ------------------------------------------------------------------------

    def _names(self, painter: QPainter, picture: TimelinePicture, bottom: int) -> None:
        key = (tuple(picture.boxes.items()), picture.ruler, picture.hint, painter.device().devicePixelRatioF())
        if self._column is None or self._column[0] != key:
            column, inner = self._blank(painter, GUTTER, bottom, self.look.panel)
            inner.fillRect(QRectF(GUTTER - 1, 0, 1, bottom), self.look.line)
            inner.setFont(self.names)
            rows = [(picture.hint, 0, picture.ruler)]
            rows += [(lane.name, *picture.boxes[lane.key]) for lane in picture.lanes if lane.key in picture.boxes]
            for name, top, tall in rows:
                inner.setPen(self.look.line)
                inner.drawLine(QPointF(0, top + 0.5), QPointF(GUTTER, top + 0.5))
                inner.setPen(self.look.quiet)
                inner.drawText(QRectF(8, top, GUTTER - 14, tall),
                               Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignLeft, name)
            inner.end()
            self._column = key, column
        painter.drawPixmap(0, 0, self._column[1])

    def _overview(self, canvas: Canvas, picture: TimelinePicture, top: int) -> None:
        """The whole film in one thin strip, with the window on it: the scroll bar."""
        painter, scale = canvas.painter, picture.scale
        key = (picture.version, scale.width, painter.device().devicePixelRatioF())
        if self._film is None or self._film[0] != key:
            strip, inner = self._blank(painter, scale.width, OVERVIEW, self.look.well)
            if scale.duration > 0:
                for lane in picture.lanes:
                    lane.paint_overview(inner, canvas, scale.width / scale.duration, scale.width)
            inner.end()
            self._film = key, strip
        painter.drawPixmap(GUTTER, top, self._film[1])
        if scale.duration <= 0:
            return
        factor = scale.width / scale.duration
        x0 = max(scale.start, 0.0) * factor
        x1 = min(scale.end, scale.duration) * factor
        painter.setPen(QPen(self.look.focus, 2))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawRect(QRectF(GUTTER + x0 + 1, top + 1, max(x1 - x0 - 2, 4), OVERVIEW - 2))

    @staticmethod
    def _blank(painter: QPainter, width: int, height: int, colour: QColor) -> tuple[QPixmap, QPainter]:
        """A pixmap for the device that is painted on, full of one colour, and a painter on it."""
        ratio = painter.device().devicePixelRatioF()
        made = QPixmap(round(width * ratio), round(height * ratio))
        made.setDevicePixelRatio(ratio)
        made.fill(colour)
        return made, QPainter(made)
