"""The lane of findings: what was expected where, and what was decided about it."""

from __future__ import annotations

import numpy as np
from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPen, QPixmap

from ....coverage.finding import Direction
from ....coverage.severities import SEVERITIES, WORDS
from ....tagging.model import Verdict
from ..blocks import Block, Blocks, blocks
from ..canvas import AGREED, OPEN, WAIVED, Canvas, row_of_blocks
from ..scale import Scale
from .lane import Basis, Lane, Timeline
from .shots import ShotsLane


def beside(x: float, wide: float, room: float) -> float:
    """Where words *wide* pixels wide stand that speak of the place *x*: right of it, or left of it where there is no
    more room, so that they never seem to begin before it."""
    if x + 4 + wide <= room or x < wide + 4:
        return x + 4
    return x - 4 - wide


class FindingsLane(Lane):
    """``look`` of an item is 3 * severity + decision; ``flag`` marks a waived one."""

    key, name = "findings", "findings"
    item = "findings"
    weight, least = 26, 18
    slack = 8
    is_marks = True

    def __init__(self, timeline: Timeline):
        super().__init__(timeline)
        self._is_missed: dict[object, bool] = {}        # by finding: something belonged there

    def blocks_of(self, basis: Basis) -> Blocks:
        """Return a block for each finding."""
        decisions = basis.game.decision_by_finding
        rows = []
        self._is_missed = {}
        for finding in basis.coverage.findings if basis.coverage else ():
            if not basis.places.knows(finding.at):
                continue
            self._is_missed[finding.key] = finding.direction is Direction.MISSED
            start = basis.places.time(finding.at)
            end = basis.places.time(finding.until) if finding.until and basis.places.knows(finding.until) else start
            decision = decisions.get(finding.key)
            verdict = decision.verdict if decision else None
            state = AGREED if verdict is Verdict.AGREED else WAIVED if verdict is Verdict.WAIVED else OPEN
            severity = SEVERITIES.index(finding.severity)
            words = ("open", "agreed", "waived")[state]
            tooltip = f"{finding.title} ({WORDS[finding.severity].lower()}, {words})\n{finding.why}"
            rows.append(Block(start, max(start, end), finding.key, 3 * severity + state, state == WAIVED,
                         finding.expected, finding.title, tooltip))
        return blocks(rows)

    def pick(self, index: int, scale: Scale) -> int:
        """Marks that lie on each other are chosen one after the other, click by click."""
        items, near = self.items, self.slack * scale.per_pixel
        crowd = [i for i in range(len(items)) if abs(items.start[i] - items.start[index]) <= near]
        chosen = self.timeline.chosen.get(self.key)
        place = next((n for n, i in enumerate(crowd) if items.ids[i] == chosen), None)
        return index if place is None else crowd[(place + 1) % len(crowd)]

    def paint(self, canvas: Canvas, top: float, tall: float) -> None:
        """Draw the lane."""
        painter, look, scale = canvas.painter, canvas.look, canvas.scale
        findings = self.items
        seen = canvas.visible(findings, before=20)
        left, right = (edge.tolist() for edge in canvas.edges(findings, seen))
        looks = findings.look[seen].tolist()
        size = int(min(tall - 6, 14))
        y = top + (tall - size) / 2
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        near = size * 0.55
        stamps: dict[int, QPixmap] = {}
        i = 0
        while i < len(left):
            x0, x1 = left[i], right[i]
            crowd = 1       # one mark and a number for marks that lie on each other; zooming tells them apart
            while i + crowd < len(left) and left[i + crowd] - x0 < near:
                crowd += 1
            index, mark = seen.start + i, min(looks[i:i + crowd], key=lambda mark: (mark % 3 != OPEN, mark))
            i += crowd
            severity, state = divmod(mark, 3)
            colour = look.severities[severity]
            following = min(left[i] if i < len(left) else scale.width, scale.width)
            if x1 - x0 > size:
                painter.fillRect(QRectF(x0, top + tall - 3, x1 - x0, 2), colour)
            if mark not in stamps:
                stamps[mark] = canvas.stamp(SEVERITIES[severity], colour, state, size)
            painter.drawPixmap(QPointF(x0 - size / 2 - 1, y - 1), stamps[mark])
            room = following - x0 - size * 1.5 - 6
            words = canvas.fitting((findings.long[index], findings.short[index]), room) if crowd == 1 else \
                canvas.fitting((f"{crowd} here", f"{crowd}"), room + 6)
            if words and (crowd > 1 or following - x0 > 60):
                painter.setPen(look.quiet if state else look.text)
                painter.drawText(QPointF(x0 + size / 2 + 4, top + tall / 2 + look.ascent / 2 - 1), words)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing, False)

    def paint_under(self, canvas: Canvas, bottom: float) -> None:
        """Draw the span of the chosen finding under the lane."""
        painter, look, findings = canvas.painter, canvas.look, self.items
        index = findings.index(canvas.chosen.get(self.key))
        if index is None:
            return
        x0, x1 = canvas.scale.x(findings.start[index]), canvas.scale.x(findings.end[index])
        band = QColor(look.severities[findings.look[index] // 3])
        band.setAlpha(40)
        painter.fillRect(QRectF(x0 - 3, 0, max(x1 - x0, 6), bottom), band)

    def words_over(self, index: int) -> str:
        """What is said at the place of a finding: what belonged there, or what is too much there."""
        words = self.items.short[index]
        return f"expected here: {words}" if self._is_missed.get(self.items.ids[index]) else words

    def paint_over(self, canvas: Canvas) -> None:
        """The selected finding: a ghost of what was expected, in the lane of what was filmed."""
        painter, look, findings = canvas.painter, canvas.look, self.items
        index = findings.index(canvas.chosen.get(self.key))
        if index is None or ShotsLane.key not in canvas.boxes:
            return
        scale, (top, tall) = canvas.scale, canvas.boxes[ShotsLane.key]
        x0, x1 = scale.x(findings.start[index]), scale.x(findings.end[index])
        if x1 < -200 or x0 > scale.width + 200:
            return
        words = self.words_over(index)
        wide = min(look.bold_metrics.horizontalAdvance(words) + 16, 320.0)
        ink = look.severities[findings.look[index] // 3]
        if x1 - x0 > 3:         # drawn to its exact length
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.setPen(QPen(ink, 2, Qt.PenStyle.DashLine))
            painter.drawRoundedRect(QRectF(x0, top + 2, x1 - x0, tall - 4), 4, 4)
        box = QRectF(beside(x0, wide, scale.width), top + 2, wide, min(tall - 4, look.tall + 4))
        fill = QColor(look.panel)
        fill.setAlpha(225)
        painter.fillRect(box, fill)
        painter.setPen(look.text)
        painter.setFont(look.bold)
        painter.drawText(box.adjusted(6, 0, -4, 0), Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignLeft,
                         look.bold_metrics.elidedText(words, Qt.TextElideMode.ElideRight, wide - 10))
        painter.setFont(look.font)
        base = canvas.boxes[self.key][0] if self.key in canvas.boxes else top + tall
        painter.setPen(QPen(ink, 2))
        painter.drawLine(QPointF(x0, top + 1), QPointF(x0, base + 4))

    def paint_overview(self, painter: QPainter, canvas: Canvas, factor: float, width: int) -> None:
        """Draw the open findings into the overview."""
        marks = np.floor(self.items.start[~self.items.flag] * factor)
        row_of_blocks(painter, marks, marks + 2, canvas.look.severities[1], QRectF(0, 2, width, 4))
