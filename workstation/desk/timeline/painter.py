"""Draws the prepared lanes. Only what is visible is touched, and detail grows with the room there is."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from enum import IntEnum

import numpy as np
from PySide6.QtCore import QLineF, QPointF, QRectF, Qt
from PySide6.QtGui import QBrush, QColor, QFont, QFontMetricsF, QImage, QPainter, QPen, QPixmap

from ...tagging.model import ShotKind
from ..theme import Theme
from .glyphs import glyph
from .lanes import AGREED, HOME, MOMENTS, NEITHER, OPEN, SEVERITIES, SHOT_KINDS, VISITORS, WAIVED, Blocks, Lanes, Sound
from .scale import Scale, spoken_time, tick_step


class Lane(IntEnum):
    RULER = 0
    SHOTS = 1
    PLAYS = 2
    FINDINGS = 3
    SURE = 4
    SOUND = 5
    NOTES = 6


LANE_NAMES = {Lane.SHOTS: "shots", Lane.PLAYS: "plays", Lane.FINDINGS: "expected", Lane.SURE: "viewer sure",
              Lane.SOUND: "sound", Lane.NOTES: "notes"}
GUTTER = 92          # pixels left of the lanes, for their names
OVERVIEW = 14        # pixels at the bottom for the whole film
_LOW = 30            # pixels of the lane of shots in which a shot's name and its moments share one line
_MOMENTS = 14        # pixels at the foot of the shots for their moments, once they are spelled out
_WEIGHT = {Lane.SHOTS: 50, Lane.PLAYS: 30, Lane.FINDINGS: 26, Lane.SURE: 34, Lane.SOUND: 26, Lane.NOTES: 20}
_LEAST = {Lane.SHOTS: 22, Lane.PLAYS: 20, Lane.FINDINGS: 18, Lane.SURE: 18, Lane.SOUND: 16, Lane.NOTES: 16}
_FIRST_TO_GO = (Lane.SOUND, Lane.NOTES, Lane.SURE)


def arrange(height: int, ruler: int = 22) -> dict[Lane, tuple[int, int]]:
    """Top and height of every lane. Where there is too little room the least needed lanes go first."""
    lanes = dict(_WEIGHT)
    room = height - ruler - OVERVIEW - 4
    for lane in _FIRST_TO_GO:
        if room >= sum(_LEAST[kept] for kept in lanes):
            break
        del lanes[lane]
    spare = max(room - sum(_LEAST[lane] for lane in lanes), 0)
    wanted = {lane: _WEIGHT[lane] - _LEAST[lane] for lane in lanes}
    total = sum(wanted.values())
    placed, top = {Lane.RULER: (0, ruler)}, ruler
    for lane in lanes:
        tall = _LEAST[lane] + spare * wanted[lane] // total
        placed[lane] = (top, tall)
        top += tall
    return placed


def spells_moments(scale: Scale) -> bool:
    """Is there room for moments in the lane of shots?"""
    return scale.per_pixel < 0.25


@dataclass
class Picture:
    """Everything one repaint depends on."""

    lanes: Lanes
    scale: Scale
    boxes: dict[Lane, tuple[int, int]]
    sound: Sound | None = None
    finding: str | None = None                 # key of the selected finding
    play: int | None = None
    shot: int | None = None
    trim: tuple[int, float, float] | None = None     # shot id and its ends while an edge is being dragged
    frame: float = 1 / 30                      # seconds a picture lasts at the middle of the window
    thumbnail: Callable[[float], QImage | None] = field(default=lambda time: None)
    hint: str = ""                             # what a click on the corner does, and its key
    no_sound: str = ""                         # said where the sound was not measured


class TimelinePainter:
    """Paints a :class:`Picture` in the colours of a theme."""

    def __init__(self, theme: Theme):
        self._theme = theme
        self.refresh()

    def refresh(self) -> None:
        """Take colours and fonts from the theme again."""
        colour = self._theme.colour
        self.ground, self.panel, self.raised = colour("ground"), colour("panel"), colour("raised")
        self.well, self.line, self.edge = colour("well"), colour("line"), colour("edge")
        self.text, self.quiet, self.accent = colour("text"), colour("quiet"), colour("accent")
        self.teams = (colour("home"), colour("visitors"), colour("quiet"))
        self.severities = (colour("bad"), colour("warn"), colour("quiet"))
        self.good, self.focus, self.on_accent = colour("good"), colour("focus"), colour("on_accent")
        self.selected, self.on_selected = colour("selected"), colour("on_selected")
        self.font: QFont = self._theme.font("small")
        self.bold: QFont = self._theme.font("small", bold=True)
        metrics = QFontMetricsF(self.font)
        self._wide, self._ascent, self._tall = metrics.averageCharWidth() * 1.12, metrics.ascent(), metrics.height()
        self.metrics, self.bold_metrics = metrics, QFontMetricsF(self.bold)
        self.names = QFont(self.font)       # the column of names is as wide at every text size
        while QFontMetricsF(self.names).horizontalAdvance("whole  Ctrl+0") > GUTTER - 14:
            self.names.setPixelSize(self.names.pixelSize() - 1)
        # What one repaint leaves for the next: marks by what they look like, the column of names, the strip with the
        # whole film, and the loudness in groups of levels.
        self._stamps: dict[tuple, QPixmap] = {}
        self._column: tuple[tuple, QPixmap] | None = None
        self._film: tuple[Lanes, tuple, QPixmap] | None = None
        self._loud: tuple[Sound, int, np.ndarray] | None = None

    # -- the whole ---------------------------------------------------------------------------

    def paint(self, painter: QPainter, picture: Picture) -> None:
        """Paint everything but the playhead."""
        scale = picture.scale
        bottom = max(top + tall for top, tall in picture.boxes.values())
        painter.fillRect(painter.window(), self.panel)
        painter.setFont(self.font)
        painter.save()
        painter.setClipRect(QRectF(GUTTER, 0, scale.width, bottom))
        painter.translate(GUTTER, 0)
        self._film_ends(painter, picture, bottom)
        self._finding_band(painter, picture, bottom)
        self._ruler(painter, picture)
        for lane, draw in ((Lane.SHOTS, self._shots), (Lane.PLAYS, self._plays), (Lane.SURE, self._sure),
                           (Lane.SOUND, self._sound), (Lane.NOTES, self._notes), (Lane.FINDINGS, self._findings)):
            if lane in picture.boxes:
                top, tall = picture.boxes[lane]
                painter.setPen(self.line)
                painter.drawLine(QPointF(0, top + 0.5), QPointF(scale.width, top + 0.5))
                draw(painter, picture, top + 2, tall - 3)
        self._expected(painter, picture)
        painter.restore()
        self._names(painter, picture, bottom)
        self._overview(painter, picture, bottom + 2)

    def playhead(self, painter: QPainter, picture: Picture, time: float) -> None:
        """The line at the current picture, with its time, over everything else."""
        x = picture.scale.x(time)
        if not -1 <= x <= picture.scale.width + 1:
            return
        bottom = max(top + tall for top, tall in picture.boxes.values())
        x += GUTTER
        painter.setPen(QPen(self.panel, 4))
        painter.drawLine(QPointF(x, 2), QPointF(x, bottom))
        painter.setPen(QPen(self.accent, 2))
        painter.drawLine(QPointF(x, 0), QPointF(x, bottom))
        label = spoken_time(time, True)
        wide = self.bold_metrics.horizontalAdvance(label) + 10
        left = min(max(x - wide / 2, GUTTER), GUTTER + picture.scale.width - wide)
        tall = picture.boxes[Lane.RULER][1]
        covered = []        # names of periods that the time would lie on move out from under it
        for at, name in picture.lanes.periods:
            begins, length = GUTTER + picture.scale.x(at), self.bold_metrics.horizontalAdvance(name) + 12
            if left < begins + length and begins < left + wide:
                covered.append(name)
                painter.fillRect(QRectF(begins + 2, 0, length - 2, tall - 6), self.panel)
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(self.accent)
        painter.drawRoundedRect(QRectF(left, 1, wide, tall - 4), 3, 3)
        painter.setPen(self.on_accent)
        painter.setFont(self.bold)
        painter.drawText(QPointF(left + 5, 1 + (tall - 4 + self._ascent) / 2 - 1), label)
        if covered:
            self._period(painter, picture, left + wide + 1, covered[-1])

    def _period(self, painter: QPainter, picture: Picture, x: float, name: str) -> None:
        tall = picture.boxes[Lane.RULER][1]
        painter.setFont(self.bold)
        painter.fillRect(QRectF(x, 0, self.bold_metrics.horizontalAdvance(name) + 12, tall - 6), self.raised)
        painter.setPen(self.text)
        painter.drawText(QPointF(x + 6, self._ascent + 2), name)

    def overview_playhead(self, painter: QPainter, picture: Picture, time: float) -> None:
        top = max(t + tall for t, tall in picture.boxes.values()) + 2
        x = GUTTER + picture.scale.width * time / max(picture.lanes.duration, 1e-9)
        painter.fillRect(QRectF(x - 1, top, 2, OVERVIEW), self.accent)

    # -- lanes ---------------------------------------------------------------------------------

    def _film_ends(self, painter: QPainter, picture: Picture, bottom: int) -> None:
        scale = picture.scale
        first, last = scale.x(0.0), scale.x(picture.lanes.duration)
        if first > 0:
            painter.fillRect(QRectF(0, 0, first, bottom), self.ground)
        if last < scale.width:
            painter.fillRect(QRectF(last, 0, scale.width - last, bottom), self.ground)

    def _ruler(self, painter: QPainter, picture: Picture) -> None:
        scale, (_, tall) = picture.scale, picture.boxes[Lane.RULER]
        per_frame = picture.frame / scale.per_pixel
        base = self._ascent + 2
        if per_frame >= 8:
            first = max(int(scale.start / picture.frame), 0)
            last = int(min(scale.end, picture.lanes.duration) / picture.frame) + 1
            painter.setPen(self.edge)
            painter.drawLines([QLineF(scale.x(n * picture.frame), tall - 5, scale.x(n * picture.frame), tall)
                               for n in range(first, last + 1)])
        step = tick_step(scale.per_pixel)
        tenths = step <= 1 and scale.per_pixel * 90 < 0.5
        if tenths:
            step = 0.1 if scale.per_pixel * 70 < 0.1 else 0.5
        first = int(max(scale.start, 0.0) / step)
        last = int(min(scale.end, picture.lanes.duration) / step) + 1
        ticks = [n * step for n in range(first, last + 1) if n * step <= picture.lanes.duration]
        painter.setPen(self.edge)
        painter.drawLines([QLineF(scale.x(t), tall - 7, scale.x(t), tall) for t in ticks])
        painter.setPen(self.quiet)
        taken = [(scale.x(at) - 60, scale.x(at) + 110) for at, _ in picture.lanes.periods]
        for time in ticks:
            if not any(low < scale.x(time) < high for low, high in taken):
                painter.drawText(QPointF(scale.x(time) + 4, base), spoken_time(time, tenths))
        if len(picture.lanes.sources):
            lo, hi = np.searchsorted(picture.lanes.sources, (scale.start, scale.end))
            if 0 < hi - lo < scale.width / 10:      # where a new camera file begins
                painter.setPen(QPen(self.edge, 1, Qt.PenStyle.DotLine))
                painter.drawLines([QLineF(x, tall - 4, x, tall) for x in
                                   ((picture.lanes.sources[lo:hi] - scale.start) / scale.per_pixel).tolist()])
        painter.setFont(self.bold)
        for time, name in picture.lanes.periods:
            x = scale.x(time)
            if -120 < x < scale.width:
                self._period(painter, picture, x, name)
                painter.fillRect(QRectF(x, 0, 2, tall), self.text)
        painter.setFont(self.font)

    def _shots(self, painter: QPainter, picture: Picture, top: float, tall: float) -> None:
        scale, shots = picture.scale, picture.lanes.shots
        self._found(painter, picture, top, tall)
        seen = shots.visible(scale.start, scale.end)
        left, right = _edges(shots, seen, scale)
        if picture.trim and (trimmed := shots.index(picture.trim[0])) is not None and seen.start <= trimmed < seen.stop:
            left[trimmed - seen.start], right[trimmed - seen.start] = scale.x(picture.trim[1]), scale.x(picture.trim[2])
        narrow, plays = right - left < 10, shots.look[seen] == SHOT_KINDS.index(ShotKind.PLAY)
        ends = left + np.maximum(right - left - 0.6, 0.8)
        # plays stand the lane's full height, everything else hangs from the top half
        for which, colour, high in ((narrow & plays, self.edge, tall), (narrow & ~plays, self.text, round(tall * 0.55))):
            self._row(painter, left[which], ends[which], colour, QRectF(0, top, scale.width, high))
        for i in np.flatnonzero(~narrow).tolist():
            self._shot(painter, picture, seen.start + i, QRectF(left[i] + 0.5, top, right[i] - left[i] - 1, tall),
                       bool(shots.flag[seen.start + i]))
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(QBrush(self.severities[0], Qt.BrushStyle.DiagCrossPattern))
        painter.drawRects([QRectF(scale.x(start), top, max(scale.x(end) - scale.x(start), 2), tall)
                           for start, end in picture.lanes.dark if end > scale.start and start < scale.end])
        if spells_moments(scale):
            self._moments(painter, picture, top + tall)

    def _found(self, painter: QPainter, picture: Picture, top: float, tall: float) -> None:
        """Shots that were found and that nobody has taken: outlines, nothing more."""
        found, scale = picture.lanes.found, picture.scale
        seen = found.visible(scale.start, scale.end)
        painter.setBrush(Qt.BrushStyle.NoBrush)
        for n, (x0, x1) in enumerate(zip(*(edge.tolist() for edge in _edges(found, seen, scale)), strict=True)):
            painter.setPen(QPen(self.quiet, 1, Qt.PenStyle.DashLine))
            painter.drawRect(QRectF(x0 + 0.5, top, max(x1 - x0 - 1, 1), tall))
            index, left, right = seen.start + n, max(x0, 0.0) + 4, min(x1, scale.width) - 4
            size = 9
            if found.look[index] and right - left >= size:
                painter.setPen(QPen(self.text, 1))
                painter.translate(left, top + 5)
                painter.drawPath(glyph(SHOT_KINDS[found.look[index]], size))
                painter.translate(-left, -top - 5)
                left += size + 3
            if words := self._fitting((found.long[index], found.short[index]), right - left):
                painter.setPen(self.text)
                painter.drawText(QPointF(left, top + self._ascent + 3), words)

    def _shot(self, painter: QPainter, picture: Picture, index: int, box: QRectF, unsure: bool) -> None:
        shots, scale = picture.lanes.shots, picture.scale
        chosen = shots.ids[index] == picture.shot
        pen = QPen(self.focus if chosen else self.edge, 2 if chosen else 1)
        if unsure:
            pen.setStyle(Qt.PenStyle.DashLine)
        painter.setPen(pen)
        painter.setBrush(self.selected if chosen else self.raised)
        painter.drawRect(box)
        left, right = max(box.left(), 0.0), min(box.right(), scale.width)
        x = left + 4
        if box.height() <= _LOW and spells_moments(scale):
            right = min(right, self._first_moment(picture, scale.time(left)) - 2)
        tall = box.height() - (_MOMENTS if spells_moments(scale) else 0)
        if right - left >= 96 and tall >= 22:
            image = picture.thumbnail((shots.start[index] + shots.end[index]) / 2)
            if image is not None and not image.isNull():
                wide = (tall - 2) * image.width() / image.height()
                painter.drawImage(QRectF(box.left() + 1, box.top() + 1, wide, tall - 2), image)
                x = max(box.left() + wide + 6, left + 4)
        size = 9
        if right - x >= size + 2:
            painter.setPen(Qt.PenStyle.NoPen)
            painter.setBrush(self.accent if unsure else self.text)
            middle = box.top() + 4 if box.height() > _LOW else box.center().y() - size / 2
            painter.translate(x, middle)
            painter.drawPath(glyph(SHOT_KINDS[shots.look[index]], size))
            painter.translate(-x, -middle)
            words = self._fitting((shots.long[index], shots.short[index]), right - x - size - 8)
            if words:
                painter.setPen(self.on_selected if chosen else self.text)
                painter.drawText(QPointF(x + size + 4, middle + self._ascent - 1), words)

    @staticmethod
    def _first_moment(picture: Picture, time: float) -> float:
        """Where the first moment from a film time on is drawn, in pixels."""
        starts = picture.lanes.moments.start
        first = int(np.searchsorted(starts, time))
        return picture.scale.x(starts[first]) if first < len(starts) else np.inf

    def _moments(self, painter: QPainter, picture: Picture, base: float) -> None:
        """Those that are only suggested are hollow, on a broken line."""
        scale, moments = picture.scale, picture.lanes.moments
        broken = QPen(self.text, 1, Qt.PenStyle.DotLine)
        seen = moments.visible(scale.start, scale.end)
        xs = ((moments.start[seen] - scale.start) / scale.per_pixel).tolist()
        looks = moments.look[seen].tolist()
        last = -100.0
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        for n, (x, look, is_suggested) in enumerate(zip(xs, looks, moments.flag[seen].tolist(), strict=True)):
            painter.setPen(broken if is_suggested else self.accent)
            painter.drawLine(QPointF(x, base - 12), QPointF(x, base))
            if x - last < 12:
                continue
            last = x
            if is_suggested:
                painter.setPen(self.text)
                painter.setBrush(Qt.BrushStyle.NoBrush)
            else:
                painter.setPen(Qt.PenStyle.NoPen)
                painter.setBrush(self.accent)
            painter.translate(x + 2, base - 10)
            painter.drawPath(glyph(MOMENTS[look], 8))
            painter.translate(-x - 2, 10 - base)
            room = (xs[n + 1] if n + 1 < len(xs) else x + 200) - x - 14
            word = moments.short[seen.start + n]
            if self._width(word) < room:
                painter.setPen(self.text)
                painter.drawText(QPointF(x + 13, base - 2), word)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing, False)

    def _plays(self, painter: QPainter, picture: Picture, top: float, tall: float) -> None:
        scale, plays = picture.scale, picture.lanes.plays
        seen = plays.visible(scale.start, scale.end)
        left, right = _edges(plays, seen, scale)
        look = plays.look[seen]
        half = tall / 2
        # home's plays sit high, the visitors' low, so that a possession reads as a step
        steps = {HOME: top, VISITORS: top + half, NEITHER: top + half / 2}
        missing, tiny = look >= 3, right - left < 14
        for team, y in steps.items():
            which = tiny & (look == team)
            self._row(painter, left[which], left[which] + np.maximum((right - left)[which] - 0.6, 1.0), self.teams[team],
                      QRectF(0, y, scale.width, half - 1))
        bars: tuple[list[QRectF], ...] = ([], [], [])
        boxes, words, chosen = [], [], None
        for i in np.flatnonzero(~tiny & ~missing).tolist():
            index, team, x0, x1 = seen.start + i, int(look[i]), float(left[i]), float(right[i])
            boxes.append(QRectF(x0 + 0.5, top, x1 - x0 - 1, tall))
            bars[team].append(QRectF(x0 + 1, steps[team] + (half - 3 if team == VISITORS else 0), x1 - x0 - 2, 3))
            start, following = max(x0, 0.0), float(left[i + 1]) if i + 1 < len(left) else scale.width
            said = (plays.long[index], plays.short[index])
            down = said[1].split(" &")[0] if "&" in said[1] else ""
            text = self._fitting((*said, down), min(x1, scale.width) - start - 6)
            if not text:        # beside the play, where the next one leaves room
                start, text = max(x1, 0.0), self._fitting((*said, down), min(following, scale.width) - max(x1, 0.0) - 8)
            if text:
                words.append((start + 4, text))
            if plays.ids[index] == picture.play:
                chosen = boxes[-1]
        painter.setPen(self.edge)
        painter.setBrush(self.raised)
        painter.drawRects(boxes)
        painter.setPen(Qt.PenStyle.NoPen)
        for colour, rects in zip(self.teams, bars, strict=True):
            painter.setBrush(colour)
            painter.drawRects(rects)
        base = top + half + self._ascent / 2 - 1
        painter.setPen(self.text)
        for x, text in words:
            painter.drawText(QPointF(x, base), text)
        if chosen is not None:
            painter.setPen(QPen(self.focus, 2))
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.drawRect(chosen)
        painter.setPen(QPen(self.text, 1, Qt.PenStyle.DashLine))
        painter.drawLines([QLineF(x, top, x, top + tall) for x in left[missing].tolist()])
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(self.severities[0])
        for x in left[plays.flag[seen]].tolist():
            painter.translate(x, top + tall - 9)
            painter.drawPath(glyph("error", 9))
            painter.translate(-x, 9 - top - tall)

    def _findings(self, painter: QPainter, picture: Picture, top: float, tall: float) -> None:
        scale, findings = picture.scale, picture.lanes.findings
        seen = findings.visible(scale.start - 20 * scale.per_pixel, scale.end)
        left, right = (edge.tolist() for edge in _edges(findings, seen, scale))
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
            index, look = seen.start + i, min(looks[i:i + crowd], key=lambda look: (look % 3 != OPEN, look))
            i += crowd
            severity, state = divmod(look, 3)
            colour = self.severities[severity]
            following = min(left[i] if i < len(left) else scale.width, scale.width)
            if x1 - x0 > size:
                painter.fillRect(QRectF(x0, top + tall - 3, x1 - x0, 2), colour)
            if look not in stamps:
                stamps[look] = self._stamp(painter, SEVERITIES[severity], colour, state, size)
            painter.drawPixmap(QPointF(x0 - size / 2 - 1, y - 1), stamps[look])
            room = following - x0 - size * 1.5 - 6
            words = self._fitting((findings.long[index], findings.short[index]), room) if crowd == 1 else \
                self._fitting((f"{crowd} here", f"{crowd}"), room + 6)
            if words and (crowd > 1 or following - x0 > 60):
                painter.setPen(self.quiet if state else self.text)
                painter.drawText(QPointF(x0 + size / 2 + 4, top + tall / 2 + self._ascent / 2 - 1), words)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing, False)

    def _finding_band(self, painter: QPainter, picture: Picture, bottom: float) -> None:
        findings = picture.lanes.findings
        index = findings.index(picture.finding) if picture.finding else None
        if index is None:
            return
        x0, x1 = picture.scale.x(findings.start[index]), picture.scale.x(findings.end[index])
        band = QColor(self.severities[findings.look[index] // 3])
        band.setAlpha(40)
        painter.fillRect(QRectF(x0 - 3, 0, max(x1 - x0, 6) , bottom), band)

    def _expected(self, painter: QPainter, picture: Picture) -> None:
        """The selected finding: a ghost of what was expected, in the lane of what was filmed."""
        findings = picture.lanes.findings
        index = findings.index(picture.finding) if picture.finding else None
        if index is None or Lane.SHOTS not in picture.boxes:
            return
        scale, (top, tall) = picture.scale, picture.boxes[Lane.SHOTS]
        x0, x1 = scale.x(findings.start[index]), scale.x(findings.end[index])
        if x1 < -200 or x0 > scale.width + 200:
            return
        words = f"expected here: {findings.short[index]}"
        wide = max(x1 - x0, min(self.bold_metrics.horizontalAdvance(words) + 16, 320.0))
        left = min(max(x0, 1.0), max(scale.width - wide - 1, 1.0))
        box = QRectF(left, top + 3, wide, tall - 6)
        fill = QColor(self.panel)
        fill.setAlpha(225)
        painter.setBrush(fill)
        painter.setPen(QPen(self.severities[findings.look[index] // 3], 2, Qt.PenStyle.DashLine))
        painter.drawRoundedRect(box, 4, 4)
        painter.setPen(self.text)
        painter.setFont(self.bold)
        painter.drawText(box.adjusted(6, 0, -4, 0), Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignLeft,
                         self.bold_metrics.elidedText(words, Qt.TextElideMode.ElideRight, wide - 10))
        painter.setFont(self.font)
        base = picture.boxes[Lane.FINDINGS][0] if Lane.FINDINGS in picture.boxes else top + tall
        painter.setPen(QPen(self.severities[findings.look[index] // 3], 1, Qt.PenStyle.DashLine))
        painter.drawLine(QPointF(x0, box.bottom()), QPointF(x0, base + 4))

    def _sure(self, painter: QPainter, picture: Picture, top: float, tall: float) -> None:
        lanes, scale = picture.lanes, picture.scale
        if not len(lanes.sure_at):
            self._said(painter, picture, top, tall, "no plays yet, so nothing to be sure of")
            return
        lo = max(int(np.searchsorted(lanes.sure_at, scale.start)) - 1, 0)
        hi = int(np.searchsorted(lanes.sure_at, scale.end)) + 1
        xs = (lanes.sure_at[lo:hi] - scale.start) / scale.per_pixel
        ys = top + 1 + (1 - lanes.sure[lo:hi]) * (tall - 2)
        painter.setPen(QPen(self.line, 1, Qt.PenStyle.DotLine))
        painter.drawLine(QPointF(0, top + tall / 2), QPointF(scale.width, top + tall / 2))
        # the belief holds from one snap to the next: a stair, with everything the viewer did not know hatched
        stair_x = np.repeat(xs, 2)[1:]
        stair_y = np.repeat(ys, 2)[:-1]
        if not len(stair_x):
            stair_x, stair_y = np.array([xs[0], scale.width]), np.array([ys[0], ys[0]])
        points = [QPointF(x, y) for x, y in zip(stair_x.tolist(), stair_y.tolist(), strict=True)]
        last = min(scale.x(lanes.duration), scale.width + 10)
        points.append(QPointF(max(last, points[-1].x()), points[-1].y()))
        ends = [*xs.tolist()[1:], points[-1].x()]
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(QBrush(self.severities[0], Qt.BrushStyle.BDiagPattern))
        painter.drawRects([QRectF(x, top, end - x, y - top)
                           for x, end, y in zip(xs.tolist(), ends, ys.tolist(), strict=True)])
        painter.setPen(QPen(self.text, 1.5 if len(points) < 200 else 1))
        painter.drawPolyline(points)
        if scale.width / max(len(xs), 1) > 46:
            painter.setPen(self.text)
            ends = [*xs.tolist()[1:], scale.width]
            for x, y, sure, end in zip(xs.tolist(), ys.tolist(), lanes.sure[lo:hi].tolist(), ends, strict=True):
                if end - max(x, 0) < 36:
                    continue
                low = y > top + tall / 2
                painter.drawText(QPointF(max(x, 0) + 4, y - 3 if low else y + self._ascent + 1), f"{sure:.0%}")

    def _sound(self, painter: QPainter, picture: Picture, top: float, tall: float) -> None:
        sound, scale = picture.sound, picture.scale
        if sound is None:
            self._said(painter, picture, top, tall, picture.no_sound)
            return
        if sound.silent:
            self._said(painter, picture, top, tall, "no sound on this film")
            return
        painter.drawImage(QPointF(0, top), self._loudness(sound, scale, int(tall)))
        lo, hi = np.searchsorted(sound.whistles, (scale.start, scale.end))
        xs = ((sound.whistles[lo:hi] - scale.start) / scale.per_pixel).tolist()
        spell = scale.width / max(len(xs), 1) > 90
        before = -20.0
        whistle = self._stamp(painter, "whistle", self.good, OPEN, 10)
        for x in xs:
            if x - before < 12:
                continue
            before = x
            painter.drawPixmap(QPointF(x - 6, top - 1), whistle)
            if spell:
                painter.fillRect(QRectF(x + 6, top, self._width("whistle?") + 6, self._tall - 2), self.panel)
                painter.setPen(self.text)
                painter.drawText(QPointF(x + 8, top + self._ascent), "whistle?")

    def _loudness(self, sound: Sound, scale: Scale, tall: int) -> QImage:
        """Loudness as columns of pixels. Levels that share a pixel give the loudest, in groups that are
        fixed to the film so that nothing flickers while scrolling."""
        group = max(int(scale.per_pixel / sound.every), 1)
        if self._loud is None or self._loud[0] is not sound or self._loud[1] != group:
            whole = len(sound.levels) // group * group
            self._loud = sound, group, sound.levels[:whole].reshape(-1, group).max(axis=1)
        levels = self._loud[2]
        at = np.floor((scale.start + np.arange(scale.width) * scale.per_pixel) / sound.every).astype(int) // group
        inside = (at >= 0) & (at < len(levels))
        columns = np.zeros(scale.width)
        columns[inside] = np.clip((levels[at[inside]] + 60) / 60, 0.02, 1.0) * (tall - 2)
        begins = np.ceil(tall - columns).astype(np.int16)
        pixels = np.where(np.arange(tall, dtype=np.int16)[:, None] >= begins, np.uint32(self.edge.rgba()), np.uint32(0))
        return QImage(pixels.data, scale.width, tall, 4 * scale.width,
                      QImage.Format.Format_ARGB32_Premultiplied).copy()

    def _notes(self, painter: QPainter, picture: Picture, top: float, tall: float) -> None:
        scale, notes = picture.scale, picture.lanes.notes
        seen = notes.visible(scale.start - 200 * scale.per_pixel, scale.end)
        left, right = (edge.tolist() for edge in _edges(notes, seen, scale))
        size = 10
        for i, (x0, x1) in enumerate(zip(left, right, strict=True)):
            index = seen.start + i
            following = left[i + 1] if i + 1 < len(left) else scale.width + 300
            if x1 - x0 > 2:
                painter.fillRect(QRectF(x0, top + tall - 2, x1 - x0, 2), self.text)
            painter.setPen(Qt.PenStyle.NoPen)
            painter.setBrush(self.text)
            painter.translate(x0, top + 3)
            painter.drawPath(glyph("drawing" if notes.look[index] else "text", size))
            painter.translate(-x0, -top - 3)
            words = self._fitting((notes.long[index],), min(following, scale.width) - x0 - size - 8, elide=True)
            if words:
                painter.setPen(self.text)
                painter.drawText(QPointF(x0 + size + 4, top + self._ascent + 1), words)

    def _said(self, painter: QPainter, picture: Picture, top: float, tall: float, words: str) -> None:
        painter.setPen(self.quiet)
        painter.drawText(QPointF(6, top + tall / 2 + self._ascent / 2 - 1), words)

    # -- around the lanes ------------------------------------------------------------------------

    def _names(self, painter: QPainter, picture: Picture, bottom: int) -> None:
        key = (tuple(picture.boxes.items()), picture.hint, painter.device().devicePixelRatioF())
        if self._column is None or self._column[0] != key:
            column, inner = self._blank(painter, GUTTER, bottom, self.panel)
            inner.fillRect(QRectF(GUTTER - 1, 0, 1, bottom), self.line)
            inner.setFont(self.names)
            for lane, (top, tall) in picture.boxes.items():
                name = LANE_NAMES.get(lane, picture.hint if lane is Lane.RULER else "")
                if name:
                    inner.setPen(self.line)
                    inner.drawLine(QPointF(0, top + 0.5), QPointF(GUTTER, top + 0.5))
                    inner.setPen(self.quiet)
                    inner.drawText(QRectF(8, top, GUTTER - 14, tall),
                                   Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignLeft, name)
            inner.end()
            self._column = key, column
        painter.drawPixmap(0, 0, self._column[1])

    def _overview(self, painter: QPainter, picture: Picture, top: int) -> None:
        """The whole film in one thin strip, with the window on it: the scroll bar."""
        lanes, scale = picture.lanes, picture.scale
        key = (scale.width, painter.device().devicePixelRatioF())
        if self._film is None or self._film[0] is not lanes or self._film[1] != key:
            self._film = lanes, key, self._film_strip(painter, lanes, scale.width)
        painter.drawPixmap(GUTTER, top, self._film[2])
        if lanes.duration <= 0:
            return
        factor = scale.width / lanes.duration
        x0 = max(scale.start, 0.0) * factor
        x1 = min(scale.end, lanes.duration) * factor
        painter.setPen(QPen(self.focus, 2))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawRect(QRectF(GUTTER + x0 + 1, top + 1, max(x1 - x0 - 2, 4), OVERVIEW - 2))

    def _film_strip(self, painter: QPainter, lanes: Lanes, width: int) -> QPixmap:
        strip, inner = self._blank(painter, width, OVERVIEW, self.well)
        if lanes.duration > 0:
            factor = width / lanes.duration
            self._row(inner, np.floor(lanes.plays.start * factor), np.floor(lanes.plays.end * factor) + 1, self.edge,
                      QRectF(0, 8, width, 4))
            marks = np.floor(lanes.findings.start[~lanes.findings.flag] * factor)
            self._row(inner, marks, marks + 2, self.severities[1], QRectF(0, 2, width, 4))
        inner.end()
        return strip

    @staticmethod
    def _blank(painter: QPainter, width: int, height: int, colour: QColor) -> tuple[QPixmap, QPainter]:
        """A pixmap for the device that is painted on, full of one colour, and a painter on it."""
        ratio = painter.device().devicePixelRatioF()
        made = QPixmap(round(width * ratio), round(height * ratio))
        made.setDevicePixelRatio(ratio)
        made.fill(colour)
        return made, QPainter(made)

    @staticmethod
    def _row(painter: QPainter, starts: np.ndarray, ends: np.ndarray, colour: QColor, box: QRectF) -> None:
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

    def _stamp(self, painter: QPainter, name: str, colour: QColor, state: int, size: int) -> QPixmap:
        """A mark as pixels, kept: hundreds of them are drawn in one repaint."""
        ratio = painter.device().devicePixelRatioF()
        key = (name, colour.rgba(), state, size, ratio)
        if key not in self._stamps:
            stamp = QPixmap(round((size + 2) * ratio), round((size + 2) * ratio))
            stamp.setDevicePixelRatio(ratio)
            stamp.fill(Qt.GlobalColor.transparent)
            inner = QPainter(stamp)
            inner.setRenderHint(QPainter.RenderHint.Antialiasing)
            inner.translate(1, 1)
            inner.setPen(QPen(colour, 1.5) if state == WAIVED else QPen(self.panel, 1))
            inner.setBrush(Qt.BrushStyle.NoBrush if state == WAIVED else colour)
            inner.drawPath(glyph(name, size))
            if state == AGREED:
                inner.setPen(QPen(self.panel, 2))
                inner.drawPolyline([QPointF(size * 0.28, size * 0.6), QPointF(size * 0.45, size * 0.76),
                                    QPointF(size * 0.72, size * 0.42)])
            elif state == WAIVED:
                inner.setPen(QPen(colour, 1.5))
                inner.drawLine(QPointF(0, size), QPointF(size, 0))
            inner.end()
            self._stamps[key] = stamp
        return self._stamps[key]

    # -- words that fit ----------------------------------------------------------------------------

    def _width(self, words: str) -> float:
        return len(words) * self._wide

    def _fitting(self, candidates: tuple[str, ...], room: float, elide: bool = False) -> str:
        """The first of the candidates that fits; measured only when a guess from its length is near."""
        for words in candidates:
            guess = len(words) * self._wide
            if guess * 0.75 <= room and (guess * 1.15 <= room or self.metrics.horizontalAdvance(words) <= room):
                return words
        if elide and room > 5 * self._wide:
            return candidates[-1][:int(room / self._wide) - 1] + "…"
        return ""


def _edges(blocks: Blocks, seen: slice, scale: Scale) -> tuple[np.ndarray, np.ndarray]:
    left = (blocks.start[seen] - scale.start) / scale.per_pixel
    right = (blocks.end[seen] - scale.start) / scale.per_pixel
    # far outside coordinates cost time and precision in the rasteriser
    return np.clip(left, -5000, scale.width + 5000), np.clip(right, -5000, scale.width + 5000)


__all__ = ["GUTTER", "OVERVIEW", "Lane", "Picture", "TimelinePainter", "arrange", "spells_moments"]
