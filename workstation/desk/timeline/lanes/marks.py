"""A lane of marks with words, each of which may last for a while: notes and drawings, remarks."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter

from ....film.time import Instant
from ..canvas import Canvas, Inks
from .lane import Basis, Lane

_SIZE = 11          # pixels of a mark


class MarksLane(Lane):
    """Paints a glyph for each item, a line while it lasts, and its words as far as there is room; marks that lie on one
    another are counted. A subclass says which glyph, in :meth:`glyph`."""

    weight, least, need = 20, 16, 2
    slack = 8
    is_marks = True

    def glyph(self, looks: Sequence[int], look: Inks) -> tuple[str, QColor]:
        """The glyph and the ink of marks that lie on one another, by the ``look`` of each."""
        raise NotImplementedError

    @staticmethod
    def span(basis: Basis, at: Instant, until: Instant | None) -> tuple[float, float] | None:
        """From when until when something lasts, in film time; None if its place is not in the film."""
        if not basis.places.knows(at):
            return None
        start = basis.places.time(at)
        return start, max(start, basis.places.time(until)) if until and basis.places.knows(until) else start

    def paint(self, canvas: Canvas, top: float, tall: float) -> None:
        """Draw the lane."""
        painter, look, scale, marks = canvas.painter, canvas.look, canvas.scale, self.items
        seen = canvas.visible(marks, before=200)
        left, right = (edge.tolist() for edge in canvas.edges(marks, seen))
        chosen = canvas.chosen.get(self.key)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        i = 0
        while i < len(left):
            x0, x1, index, crowd = left[i], right[i], seen.start + i, 1
            while i + crowd < len(left) and left[i + crowd] - x0 < _SIZE:     # zooming tells them apart
                crowd += 1
            i += crowd
            glyph, ink = self.glyph(marks.look[index:index + crowd].tolist(), look)
            following = left[i] if i < len(left) else scale.width + 300
            if x1 - x0 > 2:
                painter.fillRect(QRectF(x0, top + tall - 2, x1 - x0, 2), ink)
            if marks.ids[index] == chosen:
                painter.fillRect(QRectF(x0 - 2, top + 1, _SIZE + 4, tall - 2), look.selected)
            painter.setPen(Qt.PenStyle.NoPen)
            painter.setBrush(ink)
            canvas.glyph(glyph, x0, top + 2, _SIZE)
            candidates = (marks.long[index], marks.short[index]) if crowd == 1 else (f"{crowd} here", f"{crowd}")
            words = canvas.fitting(candidates, min(following, scale.width) - x0 - _SIZE - 8, elide=crowd == 1)
            if words:
                painter.setPen(look.text)
                painter.drawText(QPointF(x0 + _SIZE + 4, top + look.ascent + 1), words)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing, False)
