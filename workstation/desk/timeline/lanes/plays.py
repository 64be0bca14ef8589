"""The lane of plays: whose ball, the situation before each, and what came of it."""

from __future__ import annotations

import numpy as np
from PySide6.QtCore import QLineF, QPointF, QRectF, Qt
from PySide6.QtGui import QPainter, QPen

from ....delivery.segment import field_length
from ....football.field import Team, spoken_spot
from ....football.speaking import spoken_down
from ..blocks import Block, Blocks, blocks
from ..canvas import Canvas, row_of_blocks
from .lane import Basis, Lane

HOME, VISITORS, NEITHER = range(3)
_LOOKS: dict[Team | None, int] = {Team.HOME: HOME, Team.VISITORS: VISITORS}


class PlaysLane(Lane):
    """``look`` of an item is the team, and 3 more where nobody filmed the play; ``flag`` marks a doubt."""

    key = name = "plays"
    item = "plays"
    weight, least = 30, 20

    def blocks_of(self, basis: Basis) -> Blocks:
        """Return a block for each play that is filmed."""
        rows = []
        last_end = 0.0
        game = basis.game
        names = game.heading.names
        length = field_length(game)
        for tag, step in zip(game.plays, basis.steps, strict=False):
            place = basis.places.plays.get(tag.id)
            start, end = place.action if place else (last_end, last_end)
            last_end = place.end if place else last_end
            before = step.before
            look = _LOOKS.get(before.offense, NEITHER)
            down = spoken_down(before) if before.down is not None else ""
            kind = tag.play.kind.value
            parts = [down or kind]
            if before.ball_on is not None and down:
                parts.append(spoken_spot(before.ball_on, length))
            if down:
                parts.append(kind)
            if step.result:
                parts.append(step.result)
            tooltip = " · ".join(([names[before.offense]] if before.offense is not None else []) + parts)
            tooltip += f"\n{step.explanation}" if step.explanation else ""
            tooltip += "" if place else "\nnot filmed"
            tooltip += "".join(f"\n{problem}" for problem in step.problems)
            troubled = step.is_disputed
            rows.append(Block(start, end, tag.id, look + (0 if place else 3), troubled, down or kind, " · ".join(parts),
                              tooltip))
        return blocks(rows)

    def paint(self, canvas: Canvas, top: float, tall: float) -> None:
        """Draw the lane."""
        painter, look, scale = canvas.painter, canvas.look, canvas.scale
        plays = self.items
        seen = canvas.visible(plays)
        left, right = canvas.edges(plays, seen)
        looks = plays.look[seen]
        half = tall / 2
        # home's plays sit high, the visitors' low, so that a possession reads as a step
        steps = {HOME: top, VISITORS: top + half, NEITHER: top + half / 2}
        missing, tiny = looks >= 3, right - left < 14
        for team, y in steps.items():
            which = tiny & (looks == team)
            row_of_blocks(painter, left[which], left[which] + np.maximum((right - left)[which] - 0.6, 1.0),
                          look.teams[team], QRectF(0, y, scale.width, half - 1))
        bars: tuple[list[QRectF], ...] = ([], [], [])
        boxes, words, chosen = [], [], None
        for i in np.flatnonzero(~tiny & ~missing).tolist():
            index, team, x0, x1 = seen.start + i, int(looks[i]), float(left[i]), float(right[i])
            boxes.append(QRectF(x0 + 0.5, top, x1 - x0 - 1, tall))
            bars[team].append(QRectF(x0 + 1, steps[team] + (half - 3 if team == VISITORS else 0), x1 - x0 - 2, 3))
            start, following = max(x0, 0.0), float(left[i + 1]) if i + 1 < len(left) else scale.width
            said = (plays.long[index], plays.short[index])
            down = said[1].split(" &")[0] if "&" in said[1] else ""
            text = canvas.fitting((*said, down), min(x1, scale.width) - start - 6)
            if not text:        # beside the play, where the next one leaves room
                start = max(x1, 0.0)
                text = canvas.fitting((*said, down), min(following, scale.width) - start - 8)
            if text:
                words.append((start + 4, text))
            if plays.ids[index] == canvas.chosen.get(self.key):
                chosen = boxes[-1]
        painter.setPen(look.edge)
        painter.setBrush(look.raised)
        painter.drawRects(boxes)
        painter.setPen(Qt.PenStyle.NoPen)
        for colour, rects in zip(look.teams, bars, strict=True):
            painter.setBrush(colour)
            painter.drawRects(rects)
        base = top + half + look.ascent / 2 - 1
        painter.setPen(look.text)
        for x, text in words:
            painter.drawText(QPointF(x, base), text)
        if chosen is not None:
            painter.setPen(QPen(look.focus, 2))
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.drawRect(chosen)
        painter.setPen(QPen(look.text, 1, Qt.PenStyle.DashLine))
        painter.drawLines([QLineF(x, top, x, top + tall) for x in left[missing].tolist()])
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(look.severities[0])
        for x in left[plays.flag[seen]].tolist():
            canvas.glyph("error", x, top + tall - 9, 9)

    def paint_overview(self, painter: QPainter, canvas: Canvas, factor: float, width: int) -> None:
        """Draw the plays into the overview."""
        row_of_blocks(painter, np.floor(self.items.start * factor), np.floor(self.items.end * factor) + 1,
                      canvas.look.edge, QRectF(0, 8, width, 4))
