"""The lane of camera work: where a measure is out of bounds, and on demand a line for each measure."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QBrush, QColor, QPainter, QPen, QPolygonF

from ....coverage.camera_work import MeasuredLine
from ....coverage.finding import Severity
from ....coverage.severities import SEVERITIES
from ....film.film import Film
from ....film.film_camera_work import measure_camera_work
from ....film.time import spoken_time
from ...jobs import Progress
from ...speech import first_few
from ..blocks import Block, Blocks, blocks
from ..canvas import Canvas, row_of_blocks
from ..scale import Scale
from .lane import Basis, Lane, Timeline

_ROWS = 3           # troubles that lie on each other are drawn in rows, so many at the most
_LINE = 11          # pixels a measure's line needs
_EVERY = 0.5        # seconds from one value of a line to the next
_NEED = 60          # of the lane while it shows lines: then other lanes go first


class CameraWorkLane(Lane):
    """Trouble by default; the key, or a click where nothing was measured, has the film measured. ``look`` of an item is
    its severity, ``flag`` marks a waived one."""

    key, name = "camera work", "camera"
    weight, least, need = 22, 14, 0
    is_marks = True

    def __init__(self, timeline: Timeline):
        super().__init__(timeline)
        self._film: Film | None = None
        self._is_measuring = False
        self._is_measured = False
        self._is_missing = self._was_tried = False      # some shots were not measured; measuring was asked for
        self._lines: tuple[MeasuredLine, ...] = ()
        self._row: list[int] = []           # of each item, where items lie on each other
        self.shows_lines = False

    # -- what is shown -------------------------------------------------------------------------
    def prepare(self, basis: Basis | None) -> None:
        """Take up what was measured, and what the rules say of it."""
        work = basis.coverage.camera_work if basis is not None and basis.coverage is not None else None
        self._is_measured, self._lines = work is not None, work.lines if work is not None else ()
        self._is_missing = work is not None and work.missing > 0
        super().prepare(basis)

    def blocks_of(self, basis: Basis) -> Blocks:
        """Return a block for each place where a measure is out of bounds."""
        decisions = basis.game.decision_by_finding
        rows = []
        for finding in basis.coverage.findings if basis.coverage else ():
            decision = decisions.get(finding.key)
            waived = decision is not None and decision.verdict is not None and finding.waived
            for start, end in finding.spans:
                if basis.places.knows(start) and basis.places.knows(end):
                    said = finding.evidence[0] if finding.evidence else ""
                    rows.append(Block(basis.places.time(start), basis.places.time(end), finding.key,
                                      SEVERITIES.index(finding.severity), waived, finding.expected,
                                      finding.title.split(",")[0], f"{finding.title}\n{said}"))
        made = blocks(rows)
        self._row = _in_rows(made.start, made.end)
        return made

    def take_film(self, film: Film | None) -> None:
        """Remember the film that would be measured."""
        if film is not self._film:
            self._was_tried = False
        self._film = film

    # -- measuring -----------------------------------------------------------------------------
    def actions(self) -> dict[str, Callable[[], object]]:
        """What measures the film, and shows the lines."""
        return {"timeline.camera_work": self.measure_or_show}

    def measure_or_show(self) -> None:
        """Have the film measured; once it is, show a line for each measure, or only trouble again."""
        if not self._is_measured or (self._is_missing and not self._was_tried):
            self.measure()
            return
        self.shows_lines = not self.shows_lines
        own = type(self)
        self.weight, self.least, self.need = own.weight, own.least, own.need
        if self.shows_lines:
            least = min(len(self._lines) * _LINE + 4, self.timeline.room_for(self))
            self.weight, self.least, self.need = least + 8, max(least, own.least), _NEED
        self.timeline.arrange_again()

    def measure(self) -> None:
        """Measure the camera work of the whole film, in the background."""
        film = self._film
        if film is None or self._is_measuring or not film.sources:
            return
        self._is_measuring = self._was_tried = True
        self.timeline.redraw()
        session = self.timeline.session

        def work(progress: Progress) -> tuple[str, ...]:
            return measure_camera_work(film, progress.report, progress.cancelled)

        def tell(unread: tuple[str, ...]) -> None:
            if unread:
                session.notice.emit(f"Not measured: {first_few(unread, 1)}")

        job = self.timeline.desk.jobs.start("Measuring the camera work", work, succeeded=tell)
        job.ended.connect(self._on_ended)

    def _on_ended(self) -> None:
        self._is_measuring = False
        if self.timeline.has_session:           # also of a job that was stopped half-way something is kept
            self.timeline.session.measured_again()
        self.timeline.redraw()

    def press(self) -> bool:
        """Start measuring if nothing was measured yet; return whether the press is used up."""
        if self._is_measured:
            return False
        self.measure()
        return True

    # -- saying --------------------------------------------------------------------------------
    def tooltip(self, time: float, scale: Scale) -> str:
        """Say what is wrong here, or what was measured here."""
        key = self.timeline.desk.keys.shown("timeline.camera_work")
        if not self._is_measured:
            return f"Click to measure steadiness, focus, exposure and more ({key})"
        said = super().tooltip(time, scale)
        if self.shows_lines:
            values = []
            for line in self._lines:
                place = int(np.searchsorted(line.times, time))
                near = [at for at in (place - 1, place) if 0 <= at < len(line.times)
                        and abs(line.times[at] - time) <= 1.0 and np.isfinite(line.values[at])]
                if near:
                    values.append(f"{line.measure.name}: {line.measure.said(float(line.values[near[0]]))}")
            return "\n".join(filter(None, [said, f"At {spoken_time(time, True)}", *values]))
        return said or f"Nothing out of bounds here. {key}: a line for each measure"

    def _hint(self) -> str:
        key = self.timeline.desk.keys.shown("timeline.camera_work")
        return "measuring…" if self._is_measuring else f"not measured yet: click, or {key}"

    # -- painting ------------------------------------------------------------------------------
    def paint(self, canvas: Canvas, top: float, tall: float) -> None:
        """Draw the lane."""
        if not self._is_measured:
            canvas.say(top, tall, self._hint())
        elif self.shows_lines:
            self._paint_lines(canvas, top, tall)
        elif not len(self.items):
            canvas.say(top, tall, "nothing out of bounds, but not all was measured" if self._is_missing else
                       "nothing out of bounds")
        else:
            self._paint_trouble(canvas, top, tall)

    def _paint_trouble(self, canvas: Canvas, top: float, tall: float) -> None:
        painter, look, items = canvas.painter, canvas.look, self.items
        seen = canvas.visible(items)
        left, right = (edge.tolist() for edge in canvas.edges(items, seen))
        rows = self._row[seen]
        count = max(rows, default=0) + 1
        high = tall / count
        chosen = canvas.chosen.get("findings")
        for offset, (x0, x1, row) in enumerate(zip(left, right, rows, strict=True)):
            index = seen.start + offset
            ink = QColor(look.severities[int(items.look[index])])
            box = QRectF(x0, top + row * high, max(x1 - x0, 3), high - 1)
            painter.fillRect(box, QBrush(ink, Qt.BrushStyle.Dense5Pattern if items.flag[index] else
                                         Qt.BrushStyle.Dense3Pattern))
            painter.fillRect(QRectF(box.left(), box.bottom() - 1, box.width(), 2), ink)
            if items.ids[index] == chosen:
                painter.setPen(QPen(look.focus, 2))
                painter.setBrush(Qt.BrushStyle.NoBrush)
                painter.drawRect(box.adjusted(1, 1, -1, -1))
            if high < look.tall - 1:
                continue
            following = min([at for at, other in zip(left[offset + 1:], rows[offset + 1:], strict=True)
                             if other == row], default=float(canvas.scale.width))
            words = canvas.fitting((items.long[index], items.short[index]), following - max(x0, 0) - 10)
            if words:
                wide = look.metrics.horizontalAdvance(words) + 6
                room = QRectF(max(x0, 0) + 3, top + row * high + 1, wide, min(high - 3, look.tall))
                painter.fillRect(room, look.panel)
                painter.setPen(look.text)
                painter.drawText(QPointF(max(x0, 0) + 6, top + row * high + (high + look.ascent) / 2 - 2), words)

    def _paint_lines(self, canvas: Canvas, top: float, tall: float) -> None:
        painter, look, scale = canvas.painter, canvas.look, canvas.scale
        count = min(len(self._lines), max(int(tall // _LINE), 1))
        high = tall / count
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        for row, line in enumerate(self._lines[:count]):
            base = top + (row + 1) * high - 1
            painter.setPen(QPen(look.line, 1))
            painter.drawLine(QPointF(0, base), QPointF(scale.width, base))
            lo, hi = np.searchsorted(line.times, (scale.start - 1, scale.end + 1))
            known = line.values[np.isfinite(line.values)]
            least, most = (float(known.min()), float(known.max())) if len(known) else (0.0, 1.0)
            least = min(least, 0.0) if line.measure.unit.strip() != "dB" else least
            room = max(most - least, 1e-9)
            times, values = line.times[lo:hi], line.values[lo:hi]
            together = int(scale.per_pixel / _EVERY)        # values that share a pixel are drawn as one
            if together > 1 and len(times):
                first = np.arange(0, len(times), together)
                times, values = times[first], np.fmax.reduceat(values, first)
            xs = (times - scale.start) / scale.per_pixel
            ys = base - (values - least) / room * (high - 3)
            painter.setPen(QPen(look.accent, 1))
            for part in np.split(np.arange(len(ys)), np.flatnonzero(~np.isfinite(ys)) + 1):
                part = part[np.isfinite(ys[part])]
                if len(part) > 1:
                    painter.drawPolyline(QPolygonF([QPointF(x, y) for x, y in
                                                    zip(xs[part].tolist(), ys[part].tolist(), strict=True)]))
            words = f"{line.measure.name}, up to {line.measure.said(most if len(known) else None)}"
            wide = look.metrics.horizontalAdvance(words) + 6
            ground = QColor(look.panel)
            ground.setAlpha(210)
            painter.fillRect(QRectF(2, base - high + 1, wide, high - 1), ground)
            painter.setPen(look.quiet)
            painter.drawText(QPointF(5, base - max((high - look.ascent) / 2, 1)), words)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing, False)

    def paint_overview(self, painter: QPainter, canvas: Canvas, factor: float, width: int) -> None:
        """Draw warnings into the overview, below the findings."""
        grave = (self.items.look == SEVERITIES.index(Severity.WARNING)) & ~self.items.flag
        if grave.any():
            row_of_blocks(painter, np.floor(self.items.start[grave] * factor),
                          np.ceil(self.items.end[grave] * factor) + 1, canvas.look.severities[1],
                          QRectF(0, 11, width, 2))


def _in_rows(starts: np.ndarray, ends: np.ndarray) -> list[int]:
    """A row for each span, in order of their starts, so that few lie on each other."""
    free = [-np.inf] * _ROWS
    rows = []
    for start, end in zip(starts.tolist(), ends.tolist(), strict=True):
        row = next((number for number, until in enumerate(free) if until <= start),
                   min(range(_ROWS), key=free.__getitem__))
        free[row] = max(free[row], end)
        rows.append(row)
    return rows
