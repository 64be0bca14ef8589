"""The timeline: the whole game on one strip, from three hours down to single pictures."""

from __future__ import annotations

from bisect import bisect_right
from dataclasses import replace
from typing import TYPE_CHECKING

from PySide6.QtCore import QEvent, QPointF, QSize, Qt, QTimer, Signal
from PySide6.QtGui import QKeyEvent, QMouseEvent, QPainter, QPen, QPixmap, QWheelEvent
from PySide6.QtWidgets import QSizePolicy, QToolTip, QWidget

from ...film.film import Film
from ...film.time import Instant
from ...tagging.layout import Places, frame_start, shot_of, snapped
from ...tagging.model import Shot
from ...tagging.operations import ChangeShots
from ..jobs import Job
from ..room import Desk
from ..session_holder import SessionHolder
from .lanes import Blocks, Lanes, Sound
from .painter import GUTTER, OVERVIEW, Lane, Picture, TimelinePainter, arrange, spells_moments
from .scale import Scale, spoken_time
from .sound import kept_sound, measure_sound
from .thumbnails import Thumbnails

if TYPE_CHECKING:
    from ..session import Session
    from ..suggesting import Suggestions

_GRAB = 5           # pixels either side of a shot's edge that take hold of it
_ZOOM = 1.25        # one notch of the wheel
_STILL = 150        # milliseconds without scrolling before thumbnails are fetched
_MARKED = 15        # milliseconds: behind what else is shown of a play
_AFTER = 30         # milliseconds behind a change to the game, so that what changed it is painted first


class TimelineView(SessionHolder, QWidget):
    """Shows a session's film, shots, plays, findings, certainty, sound and notes.

    A click seeks and chooses; the wheel zooms around the pointer; a sideways wheel, Shift and the wheel, or
    the middle button pans; a shot's edges can be dragged, and snap to pictures.
    """

    seeked = Signal(object)             # Instant
    shot_chosen = Signal(int)
    play_chosen = Signal(int)
    finding_chosen = Signal(str)
    note_chosen = Signal(int)

    def __init__(self, desk: Desk, parent: QWidget | None = None):
        super().__init__(parent)
        self._desk = desk
        self._thumbnails: Thumbnails | None = None
        self._painter = TimelinePainter(desk.theme)
        self._lanes = Lanes.empty()
        self._places: Places | None = None
        self._scale = Scale()
        self._boxes = arrange(200)
        self._sound: Sound | None = None
        self._suggestions: Suggestions | None = None
        self._heard_film: Film | None = None        # whose sound was asked for
        self._finding: str | None = None
        self._play: int | None = None
        self._play_span: tuple[float, float] | None = None      # where it lay when it was marked
        self._shot: int | None = None
        self._time = 0.0
        self._layer = QPixmap()
        self._stale = True
        self._behind = False        # the game has changed while the timeline was out of sight
        self._told: object = None
        self._grip: tuple[Shot, bool] | None = None      # the shot whose start (True) or end is being dragged
        self._trim: tuple[int, Instant, Instant] | None = None
        self._drag: tuple[str, float] | None = None
        self._listening = False
        self._rebuild = QTimer(self, singleShot=True, interval=_AFTER, timeout=self._take_game)
        self._still = QTimer(self, singleShot=True, interval=_STILL, timeout=self._redraw)
        # Whoever marks another play or shot shows more of it at the same time, and each needs a turn of the event loop.
        self._marking = QTimer(self, singleShot=True, interval=_MARKED, timeout=self._redraw)
        self.setMouseTracking(True)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setAttribute(Qt.WidgetAttribute.WA_OpaquePaintEvent)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Preferred)
        self.setMinimumSize(GUTTER + 200, 22 + OVERVIEW)
        self.setAccessibleName("Timeline")
        desk.theme.changed.connect(self._retheme)
        for id, act in {
            "timeline.closer": lambda: self.zoom(_ZOOM ** 2), "timeline.wider": lambda: self.zoom(_ZOOM ** -2),
            "timeline.whole": self.show_whole,
            "timeline.back": lambda: self._move(self._scale.panned(-self._scale.width / 4)),
            "timeline.ahead": lambda: self._move(self._scale.panned(self._scale.width / 4)),
            "timeline.shot_starts": lambda: self._trim_here(True), "timeline.shot_ends": lambda: self._trim_here(False),
            "timeline.listen": self.listen,
        }.items():
            desk.keys.bind(id, self, act)

    def sizeHint(self) -> QSize:
        return QSize(1200, round(220 * min(max(self._desk.theme.scale, 1.0), 1.3)))     # the picture needs the rest

    # -- what is shown -----------------------------------------------------------------------------

    def show_session(self, session: Session | None) -> None:
        """Follow *session* from now on; None shows an empty timeline."""
        if self._session is session:
            return
        if self.has_session:
            self.session.game_changed.disconnect(self._later)
            self.session.derived_changed.disconnect(self._later)
            self.session.position_changed.disconnect(self._follow)
            self._thumbnails.ready.disconnect(self._thumbnail_ready)
            self._thumbnails.leave()
        self._session = session
        self._sound = None
        self._finding = self._play = self._play_span = self._shot = None
        if session is None:
            self._thumbnails = None
            self._rebuild.stop()
            self._behind = False
            self._show(Lanes.empty(), None)
            return
        self._thumbnails = Thumbnails.of(session)
        self._thumbnails.ready.connect(self._thumbnail_ready)
        session.game_changed.connect(self._later)
        session.derived_changed.connect(self._later)
        session.position_changed.connect(self._follow)
        self._time = float(session.time)
        self._scale = Scale(width=self._scale.width)
        self._take_game()
        self.refresh_sound()

    def show_suggestions(self, suggestions: Suggestions) -> None:
        """Show what is suggested, as long as nobody has taken it."""
        self._suggestions = suggestions
        suggestions.changed.connect(self._later)

    def show_sound(self, sound: Sound | None) -> None:
        """Loudness and suggested whistles, once they have been measured."""
        self._sound = sound
        self._redraw()

    def refresh_sound(self) -> None:
        """Take up what is kept of the film's sound; call it after the film was surveyed."""
        if self.has_session and self.session.film.sources:
            film = self._heard_film = self.session.film
            # A damaged cache costs the lane, not the timeline.
            Job("reading kept sound", lambda progress: kept_sound(film), lambda sound: self._on_sound(film, sound),
                parent=self).start()

    def listen(self) -> None:
        """Measure the sound of the whole film, away from the UI thread."""
        if not self.has_session or self._listening or not self.session.film.sources:
            return
        film = self.session.film
        self._listening = True
        job = self._desk.jobs.start("Listening to the film", lambda progress: measure_sound(film, progress),
                                    succeeded=lambda sound: self._on_sound(film, sound))
        job.ended.connect(self._heard_all)

    def _heard_all(self) -> None:
        self._listening = False
        self.refresh_sound()        # also of a job that was stopped half-way something is kept

    def _on_sound(self, film: Film, sound: Sound | None) -> None:
        if self.has_session and film is self.session.film and sound is not None:
            self.show_sound(sound)

    def show_finding(self, key: str | None) -> None:
        """Select a finding and show what was expected where; None selects nothing."""
        self._finding = key
        index = self._lanes.findings.index(key) if key is not None else None
        if index is not None:
            self._bring(self._lanes.findings, index)
        self._redraw()

    def show_play(self, play: int | None) -> None:
        """Mark a play, and bring it into view if it is another one or lies elsewhere now. As long as it is the same,
        whoever has scrolled away stays there."""
        if self._rebuild.isActive():        # what is prepared then is not what is shown now; once is enough to paint
            if play != self._play:
                self._play, self._play_span = play, None
            return
        index = self._lanes.plays.index(play) if play is not None else None
        span = self._span(self._lanes.plays, index) if index is not None else None
        if (play, span) == (self._play, self._play_span):
            return
        self._play, self._play_span = play, span
        if index is not None:
            self._bring(self._lanes.plays, index)
        self._marking.start()

    @staticmethod
    def _span(items: Blocks, index: int) -> tuple[float, float]:
        return float(items.start[index]), float(items.end[index])

    def show_shot(self, shot: int | None) -> None:
        if shot != self._shot:
            self._shot = shot
            self._marking.start()

    def _bring(self, items: Blocks, index: int) -> None:
        self._move(self._scale.showing(*self._span(items, index)))

    @property
    def scale(self) -> Scale:
        return self._scale

    @property
    def lanes(self) -> Lanes:
        return self._lanes

    def _later(self, *_: object) -> None:
        if self.has_session:
            if self.isVisible():        # out of sight it costs nothing
                self._rebuild.start()
            else:
                self._behind = True

    def showEvent(self, event) -> None:
        super().showEvent(event)
        if self._behind:
            self._take_game()

    def _take_game(self) -> None:
        self._behind = False
        game = self.session.game
        places = Places(game)
        if game.film is not self._heard_film:
            self.refresh_sound()
        suggestions, found = self._suggestions, self._suggestions.shots(game) if self._suggestions else None
        self._show(Lanes.of(game, self.session.steps, self.session.coverage, places, found=found.shots if found else (),
                            suggested=suggestions.unmarked(places) if suggestions else ()), places)
        self.show_play(self._play)

    def _show(self, lanes: Lanes, places: Places | None) -> None:
        self._lanes, self._places = lanes, places
        self._scale = self._scale.resized(self.width() - GUTTER, lanes.duration)
        self._describe()
        self._redraw()

    def _describe(self) -> None:
        lanes = self._lanes
        self.setAccessibleDescription(
            f"{spoken_time(self._time)} of {spoken_time(lanes.duration)}; {len(lanes.shots)} shots, "
            f"{len(lanes.plays)} plays, {len(lanes.findings)} findings, {len(lanes.notes)} notes")

    # -- where we look ----------------------------------------------------------------------------

    def zoom(self, factor: float, around_x: float | None = None) -> None:
        """Zoom around a pixel of the lanes, by default around the current picture if it is in view."""
        if around_x is None:
            around_x = self._scale.x(self._time)
            if not 0 <= around_x <= self._scale.width:
                around_x = self._scale.width / 2
        self._move(self._scale.zoomed(factor, around_x))

    def show_whole(self) -> None:
        self._move(self._scale.whole())

    def show_span(self, start: float, end: float) -> None:
        """Look at film time *start* to *end* (seconds)."""
        room = max(end - start, 0.5) * 1.3
        self._move(self._scale.zoomed(self._scale.per_pixel * self._scale.width / room, 0)
                   .starting((start + end - room) / 2))

    def _move(self, scale: Scale) -> None:
        if scale != self._scale:
            self._scale = scale
            self._still.start()
            self._redraw()

    def _follow(self, instant: Instant | None) -> None:
        if self._places is None or instant is None or not self._places.knows(instant):
            return
        before, self._time = self._time, self._places.time(instant)
        was_in_view = self._scale.start <= before <= self._scale.end     # whoever has panned away wants to stay there
        is_in_view = self._scale.start <= self._time <= self._scale.end
        if was_in_view and not is_in_view and self._drag is None:
            self._move(self._scale.starting(self._time - 0.1 * (self._scale.end - self._scale.start)))
        self.update()

    def _redraw(self) -> None:
        self._stale = True
        self.update()

    def _retheme(self) -> None:
        self._painter.refresh()
        self._boxes = self._arranged()
        self.updateGeometry()
        self._redraw()

    def _arranged(self) -> dict[Lane, tuple[int, int]]:
        return arrange(self.height(), ruler=round(self._painter.metrics.height()) + 8)

    # -- drawing ------------------------------------------------------------------------------------

    def _picture(self) -> Picture:
        trim = None
        if self._trim is not None and self._places is not None:
            trim = (self._trim[0], self._places.time(self._trim[1]), self._places.time(self._trim[2]))
        return Picture(self._lanes, self._scale, self._boxes, self._sound, self._finding, self._play, self._shot,
                       trim, self._frame_length(), self._thumbnail,
                       f"whole  {self._desk.keys.shown('timeline.whole')}",
                       "listening…" if self._listening else
                       f"not measured yet: click, or {self._desk.keys.shown('timeline.listen')}")

    def _frame_length(self) -> float:
        if self._places is None or not len(self._lanes.sources):
            return 1 / 30
        middle = (self._scale.start + self._scale.end) / 2
        position = max(bisect_right(self._lanes.sources.tolist(), middle) - 1, 0)
        return float(1 / self._places.game.film.sources[position].frame_rate)

    def _thumbnail(self, time: float):
        film = self.session.film
        instant = film.instant_at(time)
        return self._thumbnails.have(instant) if self._still.isActive() else self._thumbnails.get(instant)

    def _thumbnail_ready(self, instant: Instant) -> None:
        if self._places is not None and self._places.knows(instant) \
                and self._scale.start - 60 <= self._places.time(instant) <= self._scale.end:
            self._redraw()

    def render_layer(self) -> QPixmap:
        """Everything but the playhead, at the current window."""
        ratio = self.devicePixelRatioF()
        if self._layer.isNull() or self._layer.size() != self.size() * ratio:
            self._layer = QPixmap(self.size() * ratio)
            self._layer.setDevicePixelRatio(ratio)
        painter = QPainter(self._layer)
        self._painter.paint(painter, self._picture())
        painter.end()
        self._stale = False
        return self._layer

    def paintEvent(self, event) -> None:
        if self._stale:
            self.render_layer()
        painter = QPainter(self)
        painter.drawPixmap(0, 0, self._layer)
        if self._lanes.duration > 0:
            picture = self._picture()
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            self._painter.playhead(painter, picture, self._time)
            self._painter.overview_playhead(painter, picture, self._time)
        else:
            painter.setPen(self._painter.quiet)
            painter.drawText(self.rect(), Qt.AlignmentFlag.AlignCenter,
                             "No film yet. The shots, plays and findings of a game appear here.")
        if self.hasFocus():
            painter.setPen(QPen(self._painter.focus, 2))
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.drawRect(self.rect().adjusted(1, 1, -1, -1))
        painter.end()

    def resizeEvent(self, event) -> None:
        self._boxes = self._arranged()
        self._scale = self._scale.resized(self.width() - GUTTER, self._lanes.duration)
        self._stale = True

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() in (QEvent.Type.StyleChange, QEvent.Type.FontChange):
            self._stale = True

    # -- the mouse ------------------------------------------------------------------------------------

    def _lane_at(self, y: float) -> Lane | None:
        return next((lane for lane, (top, tall) in self._boxes.items() if top <= y < top + tall), None)

    def _blocks(self, lane: Lane | None) -> Blocks | None:
        return {Lane.SHOTS: self._lanes.shots, Lane.PLAYS: self._lanes.plays, Lane.FINDINGS: self._lanes.findings,
                Lane.NOTES: self._lanes.notes}.get(lane)

    def _hit(self, point: QPointF) -> tuple[Lane | None, Blocks | None, int | None]:
        lane = self._lane_at(point.y())
        items = self._blocks(lane)
        if items is None or not len(items) or point.x() < GUTTER:
            return lane, items, None
        time = self._scale.time(point.x() - GUTTER)
        slack = (8 if lane in (Lane.FINDINGS, Lane.NOTES) else 2) * self._scale.per_pixel
        return lane, items, items.at(time, slack)

    def _edge_at(self, point: QPointF) -> tuple[Shot, bool] | None:
        """The shot edge under the pointer; none while shots are too narrow to take hold of."""
        if self._lane_at(point.y()) is not Lane.SHOTS or self._places is None:
            return None
        shots, time = self._lanes.shots, self._scale.time(point.x() - GUTTER)
        slack = _GRAB * self._scale.per_pixel
        seen = shots.visible(time - slack, time + slack)
        best = None
        for i in range(seen.start, seen.stop):
            if shots.end[i] - shots.start[i] < 4 * slack:
                continue
            for edge, is_start in ((shots.start[i], True), (shots.end[i], False)):
                # where one shot ends as the next begins, the pointer's side decides
                inside = time >= edge if is_start else time < edge
                cost = abs(edge - time) + (0 if inside else slack / 100)
                if abs(edge - time) <= slack and (best is None or cost < best[0]):
                    best = (cost, shots.ids[i], is_start)
        if best is None:
            return None
        shot = shot_of(self._places.game, best[1])
        return (shot, best[2]) if shot else None

    def mousePressEvent(self, event: QMouseEvent) -> None:
        self.setFocus(Qt.FocusReason.MouseFocusReason)
        point = event.position()
        if self._places is None or self._lanes.duration <= 0:
            return
        if event.button() == Qt.MouseButton.MiddleButton or (
                event.button() == Qt.MouseButton.LeftButton and event.modifiers() & Qt.KeyboardModifier.ShiftModifier):
            self._drag = ("pan", point.x())
            self.setCursor(Qt.CursorShape.ClosedHandCursor)
            return
        if event.button() != Qt.MouseButton.LeftButton:
            return
        if point.x() < GUTTER - _GRAB:
            self.show_whole()
            return
        if point.y() >= self.height() - OVERVIEW - 4:
            self._drag = ("overview", point.x())
            self._pan_to(point.x())
            return
        self._grip = self._edge_at(point)
        if self._grip is not None:
            shot = self._grip[0]
            self._trim = (shot.id, shot.start, shot.end)
            self._drag = ("trim", point.x())
            return
        lane, items, index = self._hit(point)
        if lane is Lane.SOUND and self._sound is None:
            self.listen()
            return
        if items is not None and index is not None and lane in (Lane.FINDINGS, Lane.NOTES):
            if lane is Lane.FINDINGS:
                index = self._next_of_crowd(items, index)
            self._choose(lane, items, index)
            self._seek(float(items.start[index]))
            return
        self._drag = ("scrub", point.x())
        self._seek(self._scale.time(point.x() - GUTTER))
        if items is not None and index is not None:
            self._choose(lane, items, index)

    def _next_of_crowd(self, items: Blocks, index: int) -> int:
        """Marks that lie on each other are chosen one after the other, click by click."""
        near = 8 * self._scale.per_pixel
        crowd = [i for i in range(len(items)) if abs(items.start[i] - items.start[index]) <= near]
        chosen = next((n for n, i in enumerate(crowd) if items.ids[i] == self._finding), None)
        return index if chosen is None else crowd[(chosen + 1) % len(crowd)]

    def _choose(self, lane: Lane | None, items: Blocks, index: int) -> None:
        chosen = items.ids[index]
        if lane is Lane.SHOTS:
            self._shot = chosen
            self.shot_chosen.emit(chosen)
        elif lane is Lane.PLAYS:
            self._play, self._play_span = chosen, self._span(items, index)
            self.play_chosen.emit(chosen)
        elif lane is Lane.FINDINGS:
            self._finding = chosen
            self.finding_chosen.emit(chosen)
        elif lane is Lane.NOTES and chosen[0] == "note":
            self.note_chosen.emit(chosen[1])
        self._redraw()

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        point = event.position()
        if self._drag is None:
            self._hover(point, event.globalPosition().toPoint())
            return
        what, x = self._drag
        if what == "pan":
            self._move(self._scale.panned(x - point.x()))
            self._drag = (what, point.x())
        elif what == "overview":
            self._pan_to(point.x())
        elif what == "scrub":
            self._seek(self._scale.time(point.x() - GUTTER))
        elif what == "trim":
            self._drag_edge(self._scale.time(point.x() - GUTTER), event.globalPosition().toPoint())

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        what = self._drag[0] if self._drag else None
        self._drag = None
        self.unsetCursor()
        if what == "trim" and self._grip is not None and self._trim is not None:
            shot, trim = self._grip[0], self._trim
            self._grip = self._trim = None
            self._redraw()
            if (shot.start, shot.end) != trim[1:]:
                self._do_trim(*trim)

    def mouseDoubleClickEvent(self, event: QMouseEvent) -> None:
        _, items, index = self._hit(event.position())
        if items is not None and index is not None:
            self.show_span(*self._span(items, index))

    def wheelEvent(self, event: QWheelEvent) -> None:
        turn = event.pixelDelta() if not event.pixelDelta().isNull() else event.angleDelta()
        sideways = turn.x() if abs(turn.x()) > abs(turn.y()) else 0
        if not sideways and event.modifiers() & Qt.KeyboardModifier.ShiftModifier:
            sideways = turn.y()
        if sideways:
            self._move(self._scale.panned(-sideways))
        elif turn.y():
            self._move(self._scale.zoomed(_ZOOM ** (turn.y() / 120), event.position().x() - GUTTER))
        event.accept()

    def leaveEvent(self, event) -> None:
        self._told = None
        QToolTip.hideText()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Escape and self._trim is not None:
            self._grip = self._trim = self._drag = None
            self.unsetCursor()
            self._redraw()
            return
        super().keyPressEvent(event)

    def _pan_to(self, x: float) -> None:
        time = (x - GUTTER) / max(self._scale.width, 1) * self._lanes.duration
        self._move(self._scale.starting(time - (self._scale.end - self._scale.start) / 2))

    def _seek(self, time: float) -> None:
        film = self._places.game.film
        time = min(max(time, 0.0), max(self._lanes.duration - 1e-6, 0.0))
        instant = frame_start(film, time)
        self._time = self._places.time(instant)
        self.update()
        self.session.seek(instant)
        self.seeked.emit(instant)

    def _hover(self, point: QPointF, where) -> None:
        edge = self._edge_at(point)
        self.setCursor(Qt.CursorShape.SizeHorCursor if edge else Qt.CursorShape.ArrowCursor)
        words = self.told_at(point)
        if words != self._told:
            self._told = words
            if words:
                QToolTip.showText(where, words, self)
            else:
                QToolTip.hideText()

    def told_at(self, point: QPointF) -> str:
        """What hovering at a point of the widget tells; empty where there is nothing."""
        if self._places is None:
            return ""
        if point.x() < GUTTER:
            return self._keys_told()
        lane, items, index = self._hit(point)
        time = self._scale.time(point.x() - GUTTER)
        if lane is Lane.SHOTS and (suggested := self._suggested_at(time)):
            return suggested
        if items is not None:
            return items.told[index] if index is not None else ""
        if lane is Lane.SURE and len(self._lanes.sure_at):
            position = bisect_right(self._lanes.sure_at.tolist(), time) - 1
            if position >= 0:
                return f"Here a viewer is {self._lanes.sure[position]:.0%} sure of the down"
        if lane is Lane.SOUND and self._sound is None:
            return f"Click to measure the sound ({self._desk.keys.shown('timeline.listen')}); whistles are suggested then"
        if lane is Lane.SOUND and self._sound is not None and len(self._sound.whistles):
            nearest = float(min(self._sound.whistles, key=lambda whistle: abs(whistle - time)))
            if abs(nearest - time) <= 8 * self._scale.per_pixel:
                return f"Sounds like a whistle at {spoken_time(nearest, True)}"
        return spoken_time(time, True) if 0 <= time <= self._lanes.duration and lane is Lane.RULER else ""

    def _suggested_at(self, time: float) -> str:
        moments, found = self._lanes.moments, self._lanes.found
        near = moments.at(time, 6 * self._scale.per_pixel) if spells_moments(self._scale) else None
        if near is not None and moments.flag[near]:
            return moments.told[near]
        return found.told[shot] if (shot := found.at(time)) is not None else ""

    def _keys_told(self) -> str:
        """What the mouse and the keys do here."""
        shown = self._desk.keys.shown
        return (f"Closer, wider: the wheel, or {shown('timeline.closer')} and {shown('timeline.wider')}\n"
                f"Back, ahead: Shift and the wheel, or {shown('timeline.back')} and {shown('timeline.ahead')}\n"
                f"Whole film: click here, or {shown('timeline.whole')}\n"
                f"Trim the shot to this picture: drag its edge, or {shown('timeline.shot_starts')} "
                f"and {shown('timeline.shot_ends')}")

    # -- trimming ---------------------------------------------------------------------------------------

    def _drag_edge(self, time: float, where) -> None:
        shot, is_start = self._grip
        film = self._places.game.film
        source = film.source(shot.start.source)
        begins = self._places.time(source.first)
        pts = source.start_pts + round((time - begins) / float(source.time_base))
        start, end = self._held(shot, snapped(film, Instant(source.id, pts), nearest=True), is_start)
        self._trim = (shot.id, start, end)
        seconds = self._places.time(end) - self._places.time(start)
        QToolTip.showText(where, f"{'starts' if is_start else 'ends'} at "
                                 f"{spoken_time(self._places.time(start if is_start else end), True)}, "
                                 f"{seconds:.2f} s long", self)
        self._redraw()

    def _held(self, shot: Shot, edge: Instant, is_start: bool) -> tuple[Instant, Instant]:
        """The shot with one edge moved, kept inside its source, off its neighbours and at least a picture long."""
        film = self._places.game.film
        source = film.source(shot.start.source)
        frame = max(round(source.frame_ticks), 1)
        low, high = source.start_pts, source.start_pts + source.duration_pts
        for other in self._places.game.shots:
            if other.id == shot.id or other.start.source != source.id:
                continue
            if other.end.source == source.id and other.end.pts <= shot.start.pts:
                low = max(low, other.end.pts)
            elif other.start.pts >= shot.end.pts:
                high = min(high, other.start.pts)
        if is_start:
            return Instant(source.id, min(max(edge.pts, low), shot.end.pts - frame)), shot.end
        return shot.start, Instant(source.id, max(min(edge.pts, high), shot.start.pts + frame))

    def _trim_here(self, is_start: bool) -> None:
        """The keyboard's way: the shot at the current picture starts (or ends before the next picture) here."""
        if not self.has_session or self._places is None or self.session.position is None:
            return
        here = self.session.position
        found = None
        for shot_id, (start, end) in self._places.shots.items():
            if start <= self._time < end:
                found = shot_of(self._places.game, shot_id)
        if found is None and self._shot is not None:
            found = shot_of(self._places.game, self._shot)
        if found is None or found.start.source != here.source:
            self.session.told.emit("No shot here to trim")
            return
        edge = snapped(self._places.game.film, here)
        if not is_start:
            frame = round(self._places.game.film.source(here.source).frame_ticks)
            edge = snapped(self._places.game.film, Instant(edge.source, edge.pts + frame), nearest=True)
        start, end = self._held(found, edge, is_start)
        if (start, end) != (found.start, found.end):
            self._do_trim(found.id, start, end)

    def _do_trim(self, shot_id: int, start: Instant, end: Instant) -> None:
        shot = shot_of(self.session.game, shot_id)
        if shot is not None:
            self.session.do(ChangeShots((replace(shot, start=start, end=end),)))
