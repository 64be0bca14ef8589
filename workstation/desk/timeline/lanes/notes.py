"""The lane of notes and drawings."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRectF, Qt

from ....film.time import spoken_time
from ..blocks import Block, Blocks, blocks
from ..canvas import Canvas
from .lane import Basis, Lane


class NotesLane(Lane):
    """An item's id is ("note" or "drawing", its id); ``look`` is 1 for a drawing."""

    key = name = "notes"
    item = "notes"
    weight, least, need = 20, 16, 2
    slack = 8
    is_marks = True

    def blocks_of(self, basis: Basis) -> Blocks:
        """Return a block for each note."""
        rows = []
        for note in basis.game.notes:
            if not basis.places.knows(note.at):
                continue
            start = basis.places.time(note.at)
            end = basis.places.time(note.until) if note.until and basis.places.knows(note.until) else start
            rows.append(Block(start, end, ("note", note.id), 0, False, note.text, note.text,
                         f"Note at {spoken_time(start)}\n{note.text}"))
        for drawing in basis.game.drawings:
            if not basis.places.knows(drawing.at):
                continue
            start = basis.places.time(drawing.at)
            end = basis.places.time(drawing.until) if drawing.until and basis.places.knows(drawing.until) else start
            text = drawing.text or drawing.kind.value
            rows.append(Block(start, end, ("drawing", drawing.id), 1, False, text, text,
                         f"Drawing at {spoken_time(start)}\n{text}"))
        return blocks(rows)

    def paint(self, canvas: Canvas, top: float, tall: float) -> None:
        """Draw the lane."""
        painter, look, scale = canvas.painter, canvas.look, canvas.scale
        notes = self.items
        seen = canvas.visible(notes, before=200)
        left, right = (edge.tolist() for edge in canvas.edges(notes, seen))
        size = 10
        for i, (x0, x1) in enumerate(zip(left, right, strict=True)):
            index = seen.start + i
            following = left[i + 1] if i + 1 < len(left) else scale.width + 300
            if x1 - x0 > 2:
                painter.fillRect(QRectF(x0, top + tall - 2, x1 - x0, 2), look.text)
            painter.setPen(Qt.PenStyle.NoPen)
            painter.setBrush(look.text)
            canvas.glyph("drawing" if notes.look[index] else "text", x0, top + 3, size)
            words = canvas.fitting((notes.long[index],), min(following, scale.width) - x0 - size - 8, elide=True)
            if words:
                painter.setPen(look.text)
                painter.drawText(QPointF(x0 + size + 4, top + look.ascent + 1), words)
