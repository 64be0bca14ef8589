"""The lane of shots: what was filmed, with its moments, and what was found in the film that nobody has taken."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QBrush, QPainter, QPen

from ....film.time import spoken_time
from ....tagging.model import MomentKind, ShotKind
from ..blocks import Block, Blocks, blocks
from ..canvas import Canvas, row_of_blocks
from ..scale import Scale
from .lane import Basis, Grip, Lane, Timeline
from .shot_edges import ShotEdges

_LOW = 30            # pixels of the lane in which a shot's name and its moments share one line
_MOMENTS = 14        # pixels at the foot of the shots for their moments, once they are spelled out
_KINDS = (None, *ShotKind)
_MOMENT_KINDS = tuple(MomentKind)


def _spells_moments(scale: Scale) -> bool:
    """Is there room for moments?"""
    return scale.per_pixel < 0.25


class ShotsLane(Lane):
    """``look`` of an item is the place of its kind in :data:`_KINDS`; ``flag`` marks a shot that is not confirmed."""

    key = name = "shots"
    item = "shots"
    weight, least = 50, 22
    shows_choice = False

    def __init__(self, timeline: Timeline):
        super().__init__(timeline)
        self._moments = self._found = blocks(())        # flag of a moment: only suggested
        self._dark: tuple[tuple[float, float], ...] = ()        # film whose files cannot be shown
        self._edges = ShotEdges(timeline)

    def prepare(self, basis: Basis | None) -> None:
        """Compute the blocks and pass the layout to the edges."""
        super().prepare(basis)
        self._edges.take(None if basis is None else basis.places)
        self._moments, self._found, self._dark = blocks(()), blocks(()), ()
        if basis is not None:
            film = basis.game.film
            self._moments, self._found = _moments(basis), _found(basis)
            self._dark = tuple((float(film.starts_at(source.id)), float(film.starts_at(source.id) + source.duration))
                               for source in film.sources if source.problem)

    def blocks_of(self, basis: Basis) -> Blocks:
        """Return a block for each shot."""
        rows = []
        for shot in basis.game.shots:
            filmed = basis.places.shots.get(shot.id)
            if filmed is None:
                continue
            start, end = filmed.start, filmed.end
            kind = shot.kind.value if shot.kind else "not named"
            full = f"{shot.opens_on.value}, then {kind}" if shot.opens_on else kind
            tooltip = (f"Shot {shot.id}: {full}\n"
                       f"{spoken_time(start, True)} to {spoken_time(end, True)}, {end - start:.1f} s")
            if not shot.confirmed:
                tooltip += "\nfound in the film, not confirmed yet"
            problem = basis.game.film.source(shot.start.source).problem
            tooltip += f"\n{problem}" if problem else ""
            rows.append(Block(start, end, shot.id, _KINDS.index(shot.kind), not shot.confirmed, kind, full, tooltip))
        return blocks(rows)

    # -- the mouse and the keys ------------------------------------------------------------------
    def tooltip(self, time: float, scale: Scale) -> str:
        """Say which moment or shot is here."""
        near = self._moments.at(time, 6 * scale.per_pixel) if _spells_moments(scale) else None
        if near is not None and (self._moments.flag[near] or "\n" in self._moments.tooltip[near]):
            return self._moments.tooltip[near]
        found = self._found.at(time)
        return self._found.tooltip[found] if found is not None else super().tooltip(time, scale)

    def actions(self) -> dict[str, Callable[[], object]]:
        """What moves the edges of a shot to the playhead."""
        return {"timeline.shot_starts": lambda: self._edges.set_here(is_start=True),
                "timeline.shot_ends": lambda: self._edges.set_here(is_start=False)}

    def grip_at(self, time: float, scale: Scale) -> Grip | None:
        """Return the edge of a shot near this time, None if there is none."""
        return self._edges.grip_at(self.items, time, scale)

    # -- painting ------------------------------------------------------------------------------
    def paint(self, canvas: Canvas, top: float, tall: float) -> None:
        """Draw the lane."""
        painter, look, scale = canvas.painter, canvas.look, canvas.scale
        shots = self.items
        self._paint_found(canvas, top, tall)
        seen = canvas.visible(shots)
        left, right = canvas.edges(shots, seen)
        trim = self._edges.trim
        if trim and (trimmed := shots.index(trim[0])) is not None and seen.start <= trimmed < seen.stop:
            left[trimmed - seen.start], right[trimmed - seen.start] = scale.x(trim[1]), scale.x(trim[2])
        narrow, plays = right - left < 10, shots.look[seen] == _KINDS.index(ShotKind.PLAY)
        ends = left + np.maximum(right - left - 0.6, 0.8)
        # plays stand the lane's full height, everything else hangs from the top half
        for which, colour, high in ((narrow & plays, look.edge, tall),
                                    (narrow & ~plays, look.text, round(tall * 0.55))):
            row_of_blocks(painter, left[which], ends[which], colour, QRectF(0, top, scale.width, high))
        for i in np.flatnonzero(~narrow).tolist():
            self._paint_shot(canvas, seen.start + i, QRectF(left[i] + 0.5, top, right[i] - left[i] - 1, tall),
                       bool(shots.flag[seen.start + i]))
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(QBrush(look.severities[0], Qt.BrushStyle.DiagCrossPattern))
        painter.drawRects([QRectF(scale.x(start), top, max(scale.x(end) - scale.x(start), 2), tall)
                           for start, end in self._dark if end > scale.start and start < scale.end])
        if _spells_moments(scale):
            self._paint_moments(canvas, top + tall)

    def _paint_found(self, canvas: Canvas, top: float, tall: float) -> None:
        """Shots that were found and that nobody has taken: outlines, nothing more."""
        painter, look, scale, found = canvas.painter, canvas.look, canvas.scale, self._found
        seen = canvas.visible(found)
        painter.setBrush(Qt.BrushStyle.NoBrush)
        for n, (x0, x1) in enumerate(zip(*(edge.tolist() for edge in canvas.edges(found, seen)), strict=True)):
            painter.setPen(QPen(look.quiet, 1, Qt.PenStyle.DashLine))
            painter.drawRect(QRectF(x0 + 0.5, top, max(x1 - x0 - 1, 1), tall))
            index, left, right = seen.start + n, max(x0, 0.0) + 4, min(x1, scale.width) - 4
            if tall <= _LOW and _spells_moments(scale):
                right = min(right, self._first_moment(scale, scale.time(max(x0, 0.0))) - 2)
            size = 9
            if found.look[index] and right - left >= size:
                painter.setPen(QPen(look.text, 1))
                canvas.glyph(_KINDS[found.look[index]], left, top + 5, size)
                left += size + 3
            if words := canvas.fitting((found.long[index], found.short[index]), right - left):
                painter.setPen(look.text)
                painter.drawText(QPointF(left, top + look.ascent + 3), words)

    def _paint_shot(self, canvas: Canvas, index: int, box: QRectF, unsure: bool) -> None:
        painter, look, scale, shots = canvas.painter, canvas.look, canvas.scale, self.items
        chosen = shots.ids[index] == canvas.chosen.get(self.key)
        pen = QPen(look.focus if chosen else look.edge, 2 if chosen else 1)
        if unsure:
            pen.setStyle(Qt.PenStyle.DashLine)
        painter.setPen(pen)
        painter.setBrush(look.selected if chosen else look.raised)
        painter.drawRect(box)
        left, right = max(box.left(), 0.0), min(box.right(), scale.width)
        x = left + 4
        if box.height() <= _LOW and _spells_moments(scale):
            right = min(right, self._first_moment(scale, scale.time(left)) - 2)
        tall = box.height() - (_MOMENTS if _spells_moments(scale) else 0)
        if right - left >= 96 and tall >= 22:
            image = canvas.thumbnail((shots.start[index] + shots.end[index]) / 2)
            if image is not None and not image.isNull():
                wide = (tall - 2) * image.width() / image.height()
                painter.drawImage(QRectF(box.left() + 1, box.top() + 1, wide, tall - 2), image)
                x = max(box.left() + wide + 6, left + 4)
        size = 9
        if right - x >= size + 2:
            painter.setPen(Qt.PenStyle.NoPen)
            painter.setBrush(look.accent if unsure else look.text)
            middle = box.top() + 4 if box.height() > _LOW else box.center().y() - size / 2
            canvas.glyph(_KINDS[shots.look[index]], x, middle, size)
            words = canvas.fitting((shots.long[index], shots.short[index]), right - x - size - 8)
            if words:
                painter.setPen(look.on_selected if chosen else look.text)
                painter.drawText(QPointF(x + size + 4, middle + look.ascent - 1), words)

    def _first_moment(self, scale: Scale, time: float) -> float:
        """Where the first moment from a film time on is drawn, in pixels."""
        first = int(np.searchsorted(self._moments.start, time))
        return scale.x(float(self._moments.start[first])) if first < len(self._moments) else np.inf

    def ends_of_names(self, scale: Scale, xs: list[float]) -> list[float]:
        """Up to where the name of each moment at *xs* may reach: the next moment, or where another shot begins that is
        in the game or was found; all in pixels."""
        starts = np.sort(np.concatenate((self.items.start, self._found.start)))
        following = np.searchsorted(starts, [scale.time(x) for x in xs], side="right")
        return [min(after, scale.x(float(starts[place])) if place < len(starts) else np.inf)
                for after, place in zip([*xs[1:], xs[-1] + 200 if xs else 0], following.tolist(), strict=False)]

    def _paint_moments(self, canvas: Canvas, base: float) -> None:
        """Those that are only suggested are hollow, on a broken line."""
        painter, look, scale, moments = canvas.painter, canvas.look, canvas.scale, self._moments
        broken = QPen(look.text, 1, Qt.PenStyle.DotLine)
        seen = canvas.visible(moments)
        xs = ((moments.start[seen] - scale.start) / scale.per_pixel).tolist()
        kinds = moments.look[seen].tolist()
        ends = self.ends_of_names(scale, xs)
        last = -100.0
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        for n, (x, kind, is_suggested) in enumerate(zip(xs, kinds, moments.flag[seen].tolist(), strict=True)):
            painter.setPen(broken if is_suggested else look.accent)
            painter.drawLine(QPointF(x, base - 12), QPointF(x, base))
            if x - last < 12:
                continue
            last = x
            if is_suggested:
                painter.setPen(look.text)
                painter.setBrush(Qt.BrushStyle.NoBrush)
            else:
                painter.setPen(Qt.PenStyle.NoPen)
                painter.setBrush(look.accent)
            canvas.glyph(_MOMENT_KINDS[kind], x + 2, base - 10, 8)
            room = ends[n] - x - 14
            word = moments.short[seen.start + n]
            if canvas.width(word) < room:
                painter.setPen(look.text)
                painter.drawText(QPointF(x + 13, base - 2), word)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing, False)


def _moments(basis: Basis) -> Blocks:
    rows = [Block(time, time, moment.id, _MOMENT_KINDS.index(moment.kind), False, moment.kind.value, moment.kind.value,
             f"{moment.kind.value.capitalize()} at {spoken_time(time, True)}"
             + (f"\ntaken from a suggestion, not looked at yet: up to {moment.uncertainty:g} s off"
                if moment.uncertainty else ""))
            for time, moment in basis.places.moments_between(-1.0, basis.places.duration + 1)]
    rows += [Block(time, time, None, _MOMENT_KINDS.index(kind), True, f"{kind.value}?", f"{kind.value}?",
              f"Suggested: {kind.value} at {spoken_time(time, True)}") for time, kind, _ in basis.suggested]
    return blocks(rows)


def _found(basis: Basis) -> Blocks:
    rows = []
    for shot in basis.found:
        if basis.places.knows(shot.start):
            start, end = basis.places.time(shot.start), basis.places.time(shot.end)
            kind = shot.kind.value if shot.kind else "shot"
            rows.append(Block(start, end, None, _KINDS.index(shot.kind), False, "?", f"{kind}?",
                              f"Found, not taken: {kind}, {end - start:.1f} s"))
    return blocks(rows)
