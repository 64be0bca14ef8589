"""The ends of one play in a sequence, as handles over the film around it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction

from PySide6.QtCore import QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QMouseEvent, QPainter, QPen
from PySide6.QtWidgets import QSizePolicy, QWidget

from ...film.film import Film
from ...film.time import Instant, spoken_time
from ...tagging.layout import snapped
from ...tagging.model import MomentKind, SequenceItem
from ..room import Desk
from ..timeline.glyphs import glyph

_AROUND = 6         # seconds of film shown on either side
_GRAB = 10


class TrimStrip(QWidget):
    """Shows a play's shot, its marks and what the sequence takes of it. Dragging a handle snaps to pictures;
    ``trimmed`` carries the item with its new handles, ``looked_at`` the instant under the dragged one."""

    trimmed = Signal(object)
    looked_at = Signal(object)

    def __init__(self, desk: Desk):
        super().__init__()
        self._theme = desk.theme
        self._film = Film()
        self._item: SequenceItem | None = None
        self._shot = (Fraction(0), Fraction(0))
        self._span = (Fraction(0), Fraction(0))
        self._marks: list[tuple[float, MomentKind]] = []
        self._window = (0.0, 1.0)
        self._grip: int | None = None
        self._nothing = ""
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.setMouseTracking(True)
        self.setAccessibleName("Ends of the chosen play")
        desk.theme.changed.connect(self.update)

    def sizeHint(self) -> QSize:
        """260 by 62 pixels."""
        return QSize(260, 62)

    def show_item(self, film: Film, item: SequenceItem | None, shot: tuple[Instant, Instant] | None = None,
                  span: tuple[Instant, Instant] | None = None,
                  marks: Sequence[tuple[float, MomentKind]] = ()) -> None:
        """Show an item: its shot, the span with handles, and (film time, moment kind) marks. No item, or one
        without a span, shows nothing but why."""
        self._nothing = "Choose a play to trim its ends." if item is None else "This play was not filmed."
        self._film, self._item = film, item if shot is not None and span is not None else None
        if shot is not None and span is not None:
            self._shot = (film.time_of(shot[0]), film.time_of(shot[1]))
            self._span = (film.time_of(span[0]), film.time_of(span[1]))
            self._marks = list(marks)
            self._window = (float(max(min(self._shot[0], self._span[0]) - _AROUND, Fraction(0))),
                            float(min(max(self._shot[1], self._span[1]) + _AROUND, film.duration)))
            self.setAccessibleDescription(f"from {spoken_time(float(self._span[0]), True)} "
                                          f"to {spoken_time(float(self._span[1]), True)}")
        self.update()

    def _x(self, time: float | Fraction) -> float:
        start, end = self._window
        return 8 + (float(time) - start) / max(end - start, 0.1) * (self.width() - 16)

    def _time(self, x: float) -> float:
        start, end = self._window
        return start + (x - 8) / max(self.width() - 16, 1) * (end - start)

    def paintEvent(self, event) -> None:
        """Draw the strip with its two edges."""
        painter, theme = QPainter(self), self._theme
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setFont(theme.font("small"))
        if self._item is None:
            painter.setPen(theme.colour("quiet"))
            painter.drawText(self.rect(), Qt.AlignmentFlag.AlignCenter, self._nothing)
            return
        tall = self.height() - 20
        painter.fillRect(QRectF(0, 0, self.width(), tall), theme.colour("well"))
        shot = QRectF(self._x(self._shot[0]), 8, self._x(self._shot[1]) - self._x(self._shot[0]), tall - 16)
        painter.setPen(QPen(theme.colour("edge"), 1, Qt.PenStyle.DashLine))
        painter.drawRect(shot)
        left, right = self._x(self._span[0]), self._x(self._span[1])
        painter.fillRect(QRectF(left, 3, right - left, tall - 6), theme.colour("selected"))
        for time, kind in self._marks:
            x = self._x(time)
            painter.setPen(Qt.PenStyle.NoPen)
            painter.setBrush(theme.colour("accent"))
            painter.translate(x - 5, tall / 2 - 5)
            painter.drawPath(glyph(kind, 10))
            painter.translate(5 - x, 5 - tall / 2)
        for x, way in ((left, 1), (right, -1)):
            painter.setPen(QPen(theme.colour("focus"), 3))
            painter.drawLine(QPointF(x, 2), QPointF(x, tall - 2))
            painter.drawLine(QPointF(x, 3), QPointF(x + 7 * way, 3))
            painter.drawLine(QPointF(x, tall - 3), QPointF(x + 7 * way, tall - 3))
        painter.setPen(theme.colour("quiet"))
        words = (f"{spoken_time(float(self._span[0]), True)} to {spoken_time(float(self._span[1]), True)}"
                 f"  ·  {float(self._span[1] - self._span[0]):.2f} s")
        painter.drawText(QRectF(0, tall + 2, self.width(), 18), Qt.AlignmentFlag.AlignCenter, words)
        painter.end()

    def _grip_at(self, x: float) -> int | None:
        costs = [abs(self._x(time) - x) for time in self._span]
        nearest = costs.index(min(costs))
        return nearest if self._item is not None and costs[nearest] <= _GRAB else None

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Take hold of the edge under the pointer."""
        self._grip = self._grip_at(event.position().x())

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """Move the edge that is held, or show that one can be."""
        if self._grip is None:
            self.setCursor(Qt.CursorShape.SizeHorCursor if self._grip_at(event.position().x()) is not None
                           else Qt.CursorShape.ArrowCursor)
            return
        time = min(max(self._time(event.position().x()), 0.0), float(self._film.duration))
        edge = snapped(self._film, self._film.instant_at(time), nearest=True)
        picture = 1 / self._film.source(edge.source).frame_rate
        span = list(self._span)
        span[self._grip] = self._film.time_of(edge)
        if span[1] - span[0] >= picture:
            self._span = (span[0], span[1])
            self.looked_at.emit(edge if self._grip == 0 else self._film.instant_at(max(span[1] - picture, span[0])))
            self.update()

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """Keep the edge where it is released."""
        if self._grip is None or self._item is None:
            return
        self._grip = None
        trimmed = replace(self._item, lead_in=float(self._shot[0] - self._span[0]),
                          lead_out=float(self._span[1] - self._shot[1]))
        if trimmed != self._item:
            self.trimmed.emit(trimmed)
