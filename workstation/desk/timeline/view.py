"""The timeline: the whole game on one strip, from three hours down to single pictures."""

from __future__ import annotations

from bisect import bisect_right

import numpy as np
from PySide6.QtCore import QEvent, QPoint, QPointF, QSize, Qt, Signal
from PySide6.QtGui import QImage, QKeyEvent, QMouseEvent, QPainter, QPen, QPixmap, QWheelEvent
from PySide6.QtWidgets import QSizePolicy, QToolTip, QWidget

from ...film.film import Film
from ...film.time import Instant, spoken_time
from ...football.speaking import spoken_period
from ...tagging.layout import FilmLayout, frame_start, layout_of
from ..room import Desk
from ..session import Session
from ..session_holder import SessionHolder
from ..suggesting import Suggestions
from ..timers import timer
from .canvas import GUTTER
from .lanes import LANES, Basis, Lane
from .lanes.lane import ALWAYS, Grip
from .painter import OVERVIEW, TimelinePainter, TimelinePicture, arrange
from .scale import Scale
from .thumbnails import Thumbnails, thumbnails_of

LEAST_HEIGHT = 22 + OVERVIEW      # pixels, without any lane
_SPARE = 5          # pixels left of the lanes in which their first edge can be taken
_ZOOM = 1.25        # one notch of the wheel
_STILL = 150        # milliseconds without scrolling before thumbnails are fetched
_MARKED = 15        # milliseconds: behind what else is shown of a play
_AFTER = 30         # milliseconds behind a change to the game, so that what changed it is painted first


class TimelineView(SessionHolder, QWidget):
    """Shows a session's film and what the lanes (see :mod:`.lanes`) have to say about it.

    A click seeks and chooses; the wheel zooms around the pointer; a sideways wheel, Shift and the wheel, or
    the middle button pans; a shot's edges can be dragged, and snap to pictures.
    """

    seeked = Signal(object)             # Instant
    item_chosen = Signal(str, object)   # a lane's key and the id of its item

    def __init__(self, desk: Desk, parent: QWidget | None = None):
        super().__init__(parent)
        self.desk = desk
        self._thumbnails: Thumbnails | None = None
        self._painter = TimelinePainter(desk.theme)
        self.lanes: list[Lane] = [make(self) for make in LANES]
        self._version = 0           # of what the lanes show
        self._places: FilmLayout | None = None
        self._sources = np.zeros(0)
        self._periods: tuple[tuple[float, str], ...] = ()
        self.scale = Scale()        # which times are shown at which pixels
        self._boxes: dict[str, tuple[int, int]] = {}
        self._ruler = 22
        self._arrange()
        self._suggestions: Suggestions | None = None
        self._film: Film | None = None      # the one that the lanes were told of
        self.chosen: dict[str, object] = {}         # ids of chosen items, by the keys of their lanes
        self._brought: dict[str, tuple[object, tuple[float, float] | None]] = {}    # and where they lay when brought
        self.time = 0.0             # film time on show, in seconds
        self._layer = QPixmap()
        self._stale = True
        self._behind = False        # the game has changed while the timeline was out of sight
        self._tooltip: str | None = None
        self._grip: Grip | None = None
        self._drag: tuple[str, float] | None = None
        self._rebuild = timer(self, _AFTER, self._take_game)
        self._still = timer(self, _STILL, self._rest)
        # Another play or shot is shown in several places at once; each gets its own turn of the event loop.
        self._marking = timer(self, _MARKED, self.redraw)
        self.setMouseTracking(True)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setAttribute(Qt.WidgetAttribute.WA_OpaquePaintEvent)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Preferred)
        self.setMinimumSize(GUTTER + 200, LEAST_HEIGHT)
        self.setAccessibleName("Timeline")
        desk.theme.changed.connect(self._retheme)
        desk.keys.bind_all(self, {
            "timeline.closer": lambda: self.zoom(_ZOOM ** 2), "timeline.wider": lambda: self.zoom(_ZOOM ** -2),
            "timeline.whole": self.show_whole,
            "timeline.back": lambda: self._move(self.scale.panned(-self.scale.width / 4)),
            "timeline.ahead": lambda: self._move(self.scale.panned(self.scale.width / 4)),
            **{id: act for lane in self.lanes for id, act in lane.actions().items()},
        })

    def sizeHint(self) -> QSize:
        """The preferred size; the height grows with the type, up to 1.3 times."""
        return QSize(1200, round(220 * min(max(self.desk.theme.scale, 1.0), 1.3)))     # the picture needs the rest

    @property
    def height_of_all(self) -> int:
        """The least height, in pixels, with room for every lane that is not the first to go."""
        least = sum(lane.least for lane in self.lanes if lane.need > 0)
        return self._ruler + round(least * self._type_scale) + OVERVIEW + 4

    @property
    def _type_scale(self) -> float:
        """How many times its usual height a lane needs for its words."""
        return max(self.desk.theme.scale, 1.0)

    # -- what is shown -----------------------------------------------------------------------------

    def show_session(self, session: Session | None) -> None:
        """Follow *session* from now on; None shows an empty timeline."""
        if self._session is session:
            return
        self._thumbnails = thumbnails_of(session, self._thumbnails, self._thumbnail_ready)
        super().show_session(session)
        self.chosen.clear()
        self._brought.clear()
        if session is None:
            self._rebuild.stop()
            self._behind = False
            self._tell_film(None)
            self._show(None)
            return
        self.time = float(session.time)
        self.scale = Scale(width=self.scale.width)
        self._take_game()

    def _follows(self, session: Session) -> list:
        return [(session.game_changed, self._later), (session.derived_changed, self._later),
                (session.position_changed, self._follow)]

    def show_suggestions(self, suggestions: Suggestions) -> None:
        """Show what is suggested, as long as nobody has taken it."""
        self._suggestions = suggestions
        suggestions.changed.connect(self._later)

    def film_surveyed(self) -> None:
        """More is known of the film than before: it was looked through."""
        if self.has_session:
            self._tell_film(self.session.film)

    def _tell_film(self, film: Film | None) -> None:
        self._film = film
        for lane in self.lanes:
            lane.take_film(film)

    def choose(self, key: str, id: object) -> None:
        """Choose an item in the lane of that key, None for none. A lane that shows its choice brings it into view if it
        is another or lies elsewhere now: as long as it is the same, the timeline stays where it was scrolled to."""
        lane = self.lane(key)
        if not lane.shows_choice:
            if id != self.chosen.get(key):
                self.chosen[key] = id
                self._marking.start()
            return
        if self._rebuild.isActive():        # what is prepared then is not what is shown now; once is enough to paint
            if id != self.chosen.get(key):
                self.chosen[key] = id
                self._brought.pop(key, None)
            return
        index = lane.items.index(id) if id is not None else None
        span = lane.items.span(index) if index is not None else None
        if (id, span) == self._brought.get(key, (None, None)):
            return
        self.chosen[key], self._brought[key] = id, (id, span)
        if span is not None:
            self._move(self.scale.showing(*span))
        self.redraw() if lane.is_marks else self._marking.start()

    def lane(self, key: str) -> Lane:
        """Return the lane with this key."""
        return next(lane for lane in self.lanes if lane.key == key)

    def _later(self, *_: object) -> None:
        if self.has_session:
            if self.isVisible():        # out of sight it costs nothing
                self._rebuild.start()
            else:
                self._behind = True

    def showEvent(self, event) -> None:
        """Take in what changed while the timeline was hidden."""
        super().showEvent(event)
        if self._behind:
            self._take_game()

    def _take_game(self) -> None:
        self._behind = False
        game = self.session.game
        places = layout_of(game)
        if game.film is not self._film:
            self._tell_film(game.film)
        suggestions = self._suggestions.found if self._suggestions else None
        found = suggestions.shots(game) if suggestions else None
        self._show(Basis(game, self.session.steps, self.session.coverage, places, found.shots if found else (),
                         suggestions.unmarked(places) if suggestions else ()))
        self._follow(self.session.position)     # told already, maybe, when the film shown was another angle's
        for lane in self.lanes:
            if lane.shows_choice:
                self.choose(lane.key, self.chosen.get(lane.key))

    def _show(self, basis: Basis | None) -> None:
        for lane in self.lanes:
            lane.prepare(basis)
        self._version += 1
        self._places = None if basis is None else basis.places
        self._sources, self._periods = np.zeros(0), ()
        if basis is not None:
            film = basis.game.film
            self._sources = np.array([float(film.starts_at(source.id)) for source in film.sources])
            self._periods = _periods(basis)
        duration = basis.places.duration if basis is not None else 0.0
        self.scale = self.scale.resized(self.width() - GUTTER, duration)
        counted = ", ".join(f"{len(lane.items)} {lane.item}" for lane in self.lanes if lane.item)
        self.setAccessibleDescription(f"{spoken_time(self.time)} of {spoken_time(duration)}; {counted}")
        self.redraw()

    # -- where we look ----------------------------------------------------------------------------

    def zoom(self, factor: float, around_x: float | None = None) -> None:
        """Zoom around a pixel of the lanes, by default around the current picture if it is in view."""
        if around_x is None:
            around_x = self.scale.x(self.time)
            if not 0 <= around_x <= self.scale.width:
                around_x = self.scale.width / 2
        self._move(self.scale.zoomed(factor, around_x))

    def show_whole(self) -> None:
        """Show the whole film."""
        self._move(self.scale.whole())

    def show_span(self, start: float, end: float) -> None:
        """Look at film time *start* to *end* (seconds)."""
        room = max(end - start, 0.5) * 1.3
        self._move(self.scale.zoomed(self.scale.per_pixel * self.scale.width / room, 0)
                   .starting((start + end - room) / 2))

    def _move(self, scale: Scale) -> None:
        if scale != self.scale:
            self.scale = scale
            self._still.start()
            self.redraw()

    def _rest(self) -> None:
        """Scrolling has ended: draw what waited for it, and have what is in view indexed first."""
        if self._film is not None and len(self._sources):
            first, end = np.searchsorted(self._sources, (self.scale.start, self.scale.end), side="right")
            self.session.player.in_view([source.id for source in self._film.sources[max(first - 1, 0):end]])
        self.redraw()

    def _follow(self, instant: Instant | None) -> None:
        if self._places is None or instant is None or not self._places.knows(instant):
            return
        before, self.time = self.time, self._places.time(instant)
        was_in_view = self.scale.start <= before <= self.scale.end     # else the timeline was scrolled elsewhere
        is_in_view = self.scale.start <= self.time <= self.scale.end
        if was_in_view and not is_in_view and self._drag is None:
            self._move(self.scale.starting(self.time - 0.1 * (self.scale.end - self.scale.start)))
        self.update()

    def redraw(self) -> None:
        """Draw all lanes again."""
        self._stale = True
        self.update()

    def _retheme(self) -> None:
        self._painter.refresh()
        self.arrange_again()

    # -- drawing ------------------------------------------------------------------------------------

    def _arrange(self) -> None:
        self._ruler = round(self._painter.look.tall) + 8
        self._boxes = arrange(self.height(), self.lanes, self._ruler, self._type_scale)

    def room_for(self, lane: Lane) -> int:
        """Pixels that a lane could have if only those stayed that always do."""
        others = sum(each.least for each in self.lanes if each is not lane and each.need >= ALWAYS)
        return self.height() - self._ruler - OVERVIEW - 4 - others

    def arrange_again(self) -> None:
        """Share the height out anew: a lane needs more or less."""
        self._arrange()
        self.updateGeometry()
        self.redraw()

    def _picture(self) -> TimelinePicture:
        return TimelinePicture(self.lanes, self._version, self.scale, self._ruler, self._boxes, self.chosen,
                               self._sources, self._periods, self._frame_length(), self._thumbnail,
                               f"whole  {self.desk.keys.shown('timeline.whole')}")

    def _frame_length(self) -> float:
        if self._places is None or not len(self._sources):
            return 1 / 30
        middle = (self.scale.start + self.scale.end) / 2
        position = max(bisect_right(self._sources.tolist(), middle) - 1, 0)
        return float(1 / self._places.game.film.sources[position].frame_rate)

    def _thumbnail(self, time: float) -> QImage | None:
        if self._thumbnails is None:
            return None
        instant = self.session.film.instant_at(time)
        return self._thumbnails.have(instant) if self._still.isActive() else self._thumbnails.get(instant)

    def _thumbnail_ready(self, instant: Instant) -> None:
        if self._places is not None and self._places.knows(instant) \
                and self.scale.start - 60 <= self._places.time(instant) <= self.scale.end:
            self.redraw()

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
        """Draw the lanes if they are stale, then the playhead."""
        if self._stale:
            self.render_layer()
        painter = QPainter(self)
        painter.drawPixmap(0, 0, self._layer)
        if self.scale.duration > 0:
            picture = self._picture()
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            self._painter.playhead(painter, picture, self.time)
            self._painter.overview_playhead(painter, picture, self.time)
        else:
            painter.setPen(self._painter.look.quiet)
            painter.drawText(self.rect(), Qt.AlignmentFlag.AlignCenter,
                             "No film yet. The shots, plays and findings of a game appear here.")
        if self.hasFocus():
            painter.setPen(QPen(self._painter.look.focus, 2))
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.drawRect(self.rect().adjusted(1, 1, -1, -1))
        painter.end()

    def resizeEvent(self, event) -> None:
        """Fit lanes and scale to the new size."""
        self._arrange()
        self.scale = self.scale.resized(self.width() - GUTTER, self.scale.duration)
        self._stale = True

    def changeEvent(self, event: QEvent) -> None:
        """Fit the lanes to the new font or style."""
        super().changeEvent(event)
        if event.type() in (QEvent.Type.StyleChange, QEvent.Type.FontChange):
            self._stale = True

    # -- the mouse ------------------------------------------------------------------------------------

    def _lane_at(self, y: float) -> Lane | None:
        return next((lane for lane in self.lanes if lane.key in self._boxes
                     and self._boxes[lane.key][0] <= y < sum(self._boxes[lane.key])), None)

    def _hit(self, point: QPointF) -> tuple[Lane | None, int | None]:
        """The lane under a point, and the item of it."""
        lane = self._lane_at(point.y())
        if lane is None or point.x() < GUTTER:
            return lane, None
        return lane, lane.at(self.scale.time(point.x() - GUTTER), self.scale)

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Take hold of an edge, choose a block or move the playhead."""
        self.setFocus(Qt.FocusReason.MouseFocusReason)
        point = event.position()
        if self._places is None or self.scale.duration <= 0:
            return
        if event.button() == Qt.MouseButton.MiddleButton or (
                event.button() == Qt.MouseButton.LeftButton and event.modifiers() & Qt.KeyboardModifier.ShiftModifier):
            self._drag = ("pan", point.x())
            self.setCursor(Qt.CursorShape.ClosedHandCursor)
            return
        if event.button() != Qt.MouseButton.LeftButton:
            return
        if point.x() < GUTTER - _SPARE:
            self.show_whole()
            return
        if point.y() >= self.height() - OVERVIEW - 4:
            self._drag = ("overview", point.x())
            self._pan_to(point.x())
            return
        lane, index = self._hit(point)
        time = self.scale.time(point.x() - GUTTER)
        self._grip = lane.grip_at(time, self.scale) if lane is not None else None
        if self._grip is not None:
            self._drag = ("grip", point.x())
            return
        if lane is not None and lane.press():
            return
        if lane is not None and index is not None and lane.is_marks:
            index = lane.pick(index, self.scale)
            self._pick(lane, index)
            self._seek(float(lane.items.start[index]))
            return
        self._drag = ("scrub", point.x())
        self._seek(time)
        if lane is not None and index is not None:
            self._pick(lane, lane.pick(index, self.scale))

    def _pick(self, lane: Lane, index: int) -> None:
        id = lane.items.ids[index]
        self.chosen[lane.key], self._brought[lane.key] = id, (id, lane.items.span(index))
        self.item_chosen.emit(lane.key, id)
        self.redraw()

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """Drag what is held, or tell what is under the pointer."""
        point = event.position()
        if self._drag is None:
            self._hover(point, event.globalPosition().toPoint())
            return
        what, x = self._drag
        if what == "pan":
            self._move(self.scale.panned(x - point.x()))
            self._drag = (what, point.x())
        elif what == "overview":
            self._pan_to(point.x())
        elif what == "scrub":
            self._seek(self.scale.time(point.x() - GUTTER))
        elif what == "grip" and self._grip is not None:
            words = self._grip.drag(self.scale.time(point.x() - GUTTER))
            QToolTip.showText(event.globalPosition().toPoint(), words, self)

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """Keep what was dragged."""
        grip, self._grip, self._drag = self._grip, None, None
        self.unsetCursor()
        if grip is not None:
            grip.release()

    def mouseDoubleClickEvent(self, event: QMouseEvent) -> None:
        """Show the span of the block under the pointer."""
        lane, index = self._hit(event.position())
        if lane is not None and index is not None:
            self.show_span(*lane.items.span(index))

    def wheelEvent(self, event: QWheelEvent) -> None:
        """Zoom, or scroll sideways."""
        turn = event.pixelDelta() if not event.pixelDelta().isNull() else event.angleDelta()
        sideways = turn.x() if abs(turn.x()) > abs(turn.y()) else 0
        if not sideways and event.modifiers() & Qt.KeyboardModifier.ShiftModifier:
            sideways = turn.y()
        if sideways:
            self._move(self.scale.panned(-sideways))
        elif turn.y():
            self._move(self.scale.zoomed(_ZOOM ** (turn.y() / 120), event.position().x() - GUTTER))
        event.accept()

    def leaveEvent(self, event) -> None:
        """Hide the tooltip."""
        self._tooltip = None
        QToolTip.hideText()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Cancel the dragging on Esc."""
        if event.key() == Qt.Key.Key_Escape and self._grip is not None:
            self._grip.cancel()
            self._grip = self._drag = None
            self.unsetCursor()
            return
        super().keyPressEvent(event)

    def _pan_to(self, x: float) -> None:
        time = (x - GUTTER) / max(self.scale.width, 1) * self.scale.duration
        self._move(self.scale.starting(time - (self.scale.end - self.scale.start) / 2))

    def _seek(self, time: float) -> None:
        film = self.session.film
        time = min(max(time, 0.0), max(self.scale.duration - 1e-6, 0.0))
        instant = frame_start(film, time)
        self.time = float(film.time_of(instant))
        self.update()
        self.session.seek(instant)
        self.seeked.emit(instant)

    def _hover(self, point: QPointF, where: QPoint) -> None:
        lane = self._lane_at(point.y())
        grip = lane.grip_at(self.scale.time(point.x() - GUTTER), self.scale) if lane is not None else None
        self.setCursor(Qt.CursorShape.SizeHorCursor if grip is not None else Qt.CursorShape.ArrowCursor)
        words = self.tooltip_at(point)
        if words != self._tooltip:
            self._tooltip = words
            if words:
                QToolTip.showText(where, words, self)
            else:
                QToolTip.hideText()

    def tooltip_at(self, point: QPointF) -> str:
        """What hovering at a point of the widget says; empty where there is nothing."""
        if self._places is None:
            return ""
        if point.x() < GUTTER:
            return self._tooltip_of_names()
        time = self.scale.time(point.x() - GUTTER)
        lane = self._lane_at(point.y())
        if lane is not None:
            return lane.tooltip(time, self.scale)
        return spoken_time(time, True) if 0 <= time <= self.scale.duration and point.y() < self._ruler else ""

    def _tooltip_of_names(self) -> str:
        """What the mouse and the keys do here."""
        shown = self.desk.keys.shown
        return (f"Closer, wider: the wheel, or {shown('timeline.closer')} and {shown('timeline.wider')}\n"
                f"Back, ahead: Shift and the wheel, or {shown('timeline.back')} and {shown('timeline.ahead')}\n"
                f"Whole film: click here, or {shown('timeline.whole')}\n"
                f"Trim the shot to this picture: drag its edge, or {shown('timeline.shot_starts')} "
                f"and {shown('timeline.shot_ends')}")


def _periods(basis: Basis) -> tuple[tuple[float, str], ...]:
    """Where each period begins in the film, and its name."""
    found: list[tuple[float, str]] = []
    current: int | None = None
    for tag, step in zip(basis.game.plays, basis.steps, strict=False):
        place = basis.places.plays.get(tag.id)
        if place and step.before.period != current:
            current = step.before.period
            found.append((place.start, spoken_period(current)))
    return tuple(found)
