"""The lane that says how sure a viewer of the film can be of the down."""

from __future__ import annotations

from bisect import bisect_right

import numpy as np
from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QBrush, QPen

from ..canvas import Canvas
from ..scale import Scale
from .lane import Basis, Lane, Timeline


class CertaintyLane(Lane):
    """A stair from snap to snap: the viewer's belief in the actual down, 0 to 1."""

    key, name = "certainty", "viewer sure"
    weight, least, need = 34, 18, 3

    def __init__(self, timeline: Timeline):
        super().__init__(timeline)
        self._at, self._sure = np.zeros(0), np.zeros(0)         # film times of snaps, and the belief there

    def prepare(self, basis: Basis | None) -> None:
        """Compute the certainty at each snap."""
        pairs: list[tuple[float, float]] = []
        if basis is not None and basis.coverage is not None:
            pairs = sorted((basis.places.time(belief.at), belief.sure) for belief in basis.coverage.beliefs
                           if belief.at is not None and basis.places.knows(belief.at))
        self._at, self._sure = np.array([time for time, _ in pairs]), np.array([sure for _, sure in pairs])

    def tooltip(self, time: float, scale: Scale) -> str:
        """Say how sure a viewer is of the down here."""
        position = bisect_right(self._at.tolist(), time) - 1
        return f"Here a viewer is {self._sure[position]:.0%} sure of the down" if position >= 0 else ""

    def paint(self, canvas: Canvas, top: float, tall: float) -> None:
        """Draw the lane."""
        painter, look, scale = canvas.painter, canvas.look, canvas.scale
        if not len(self._at):
            canvas.say(top, tall, "no plays yet, so nothing to be sure of")
            return
        lo = max(int(np.searchsorted(self._at, scale.start)) - 1, 0)
        hi = int(np.searchsorted(self._at, scale.end)) + 1
        xs = (self._at[lo:hi] - scale.start) / scale.per_pixel
        ys = top + 1 + (1 - self._sure[lo:hi]) * (tall - 2)
        painter.setPen(QPen(look.line, 1, Qt.PenStyle.DotLine))
        painter.drawLine(QPointF(0, top + tall / 2), QPointF(scale.width, top + tall / 2))
        # the belief holds from one snap to the next: a stair, with everything the viewer did not know hatched
        stair_x = np.repeat(xs, 2)[1:]
        stair_y = np.repeat(ys, 2)[:-1]
        if not len(stair_x):
            stair_x, stair_y = np.array([xs[0], scale.width]), np.array([ys[0], ys[0]])
        points = [QPointF(x, y) for x, y in zip(stair_x.tolist(), stair_y.tolist(), strict=True)]
        last = min(scale.x(scale.duration), scale.width + 10)
        points.append(QPointF(max(last, points[-1].x()), points[-1].y()))
        ends = [*xs.tolist()[1:], points[-1].x()]
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(QBrush(look.severities[0], Qt.BrushStyle.BDiagPattern))
        painter.drawRects([QRectF(x, top, end - x, y - top)
                           for x, end, y in zip(xs.tolist(), ends, ys.tolist(), strict=True)])
        painter.setPen(QPen(look.text, 1.5 if len(points) < 200 else 1))
        painter.drawPolyline(points)
        wide = max(canvas.width("100%") + 4, 36.0)
        if scale.width / max(len(xs), 1) > wide + 10:
            painter.setPen(look.text)
            ends = [*xs.tolist()[1:], scale.width]
            for x, y, sure, end in zip(xs.tolist(), ys.tolist(), self._sure[lo:hi].tolist(), ends, strict=True):
                if end - max(x, 0) < wide:
                    continue
                low = y > top + tall / 2
                painter.drawText(QPointF(max(x, 0) + 4, y - 3 if low else y + look.ascent + 1), f"{sure:.0%}")
