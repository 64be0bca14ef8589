"""The lane of remarks: a mentor's own words on the filming, and their praise."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QPainter

from ....film.time import spoken_time
from ..blocks import Block, Blocks, blocks
from ..canvas import Canvas
from .lane import Basis, Lane

_SIZE = 11          # pixels of a mark
_PLAIN, _PRAISE = range(2)


class RemarksLane(Lane):
    """An item's id is the remark's; ``look`` is 1 for praise, which has a shape of its own and is called praise."""

    key = name = "remarks"
    item = "remarks"
    weight, least, need = 20, 16, 2
    slack = 8
    is_marks = True

    def blocks_of(self, basis: Basis) -> Blocks:
        """Return a block for each remark."""
        rows = []
        for remark in basis.game.remarks:
            if not basis.places.knows(remark.at):
                continue
            start = basis.places.time(remark.at)
            end = basis.places.time(remark.until) if remark.until and basis.places.knows(remark.until) else start
            where = f"at {spoken_time(start)}" if end <= start else f"from {spoken_time(start)} to {spoken_time(end)}"
            told = "\n".join(part for part in (f"{'Praise' if remark.praise else 'Remark'} {where}", remark.word,
                                               remark.comment) if part)
            words = f"praise: {remark.word}" if remark.praise else remark.word
            rows.append(Block(start, max(start, end), remark.id, _PRAISE if remark.praise else _PLAIN, False,
                              remark.word,
                              words, told))
        return blocks(rows)

    def paint(self, canvas: Canvas, top: float, tall: float) -> None:
        """Draw the lane."""
        painter, look, scale, remarks = canvas.painter, canvas.look, canvas.scale, self.items
        seen = canvas.visible(remarks, before=200)
        left, right = (edge.tolist() for edge in canvas.edges(remarks, seen))
        chosen = canvas.chosen.get(self.key)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        i = 0
        while i < len(left):
            x0, x1, index, crowd = left[i], right[i], seen.start + i, 1
            while i + crowd < len(left) and left[i + crowd] - x0 < _SIZE:     # zooming tells them apart
                crowd += 1
            i += crowd
            # What is to be mended never lies under a star.
            praised = all(each == _PRAISE for each in remarks.look[index:index + crowd])
            ink = look.good if praised else look.text
            following = left[i] if i < len(left) else scale.width + 300
            if x1 - x0 > 2:
                painter.fillRect(QRectF(x0, top + tall - 2, x1 - x0, 2), ink)
            if remarks.ids[index] == chosen:
                painter.fillRect(QRectF(x0 - 2, top + 1, _SIZE + 4, tall - 2), look.selected)
            painter.setPen(Qt.PenStyle.NoPen)
            painter.setBrush(ink)
            canvas.glyph("praise" if praised else "remark", x0, top + 2, _SIZE)
            candidates = (remarks.long[index], remarks.short[index]) if crowd == 1 else (f"{crowd} here", f"{crowd}")
            words = canvas.fitting(candidates, min(following, scale.width) - x0 - _SIZE - 8, elide=crowd == 1)
            if words:
                painter.setPen(look.text)
                painter.drawText(QPointF(x0 + _SIZE + 4, top + look.ascent + 1), words)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing, False)
