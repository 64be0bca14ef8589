"""Drawing on the picture: arrows, circles, lines and words, pinned to a moment or a span of film."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from math import atan2, cos, hypot, pi, sin

from PySide6.QtCore import QObject, QPointF, QRectF, Qt, Signal
from PySide6.QtGui import QColor, QFont, QPainter, QPainterPath, QPen

from ...delivery.overlay import EDGE, INK
from ...film.time import Instant
from ...tagging.drawn import shown_at, spans_of
from ...tagging.model import Drawing, DrawingKind, Game
from ...tagging.operations import AddRecord, ChangeRecord, RemoveRecord
from ...tagging.records import Kind
from ..picture import PictureView
from ..session import Session
from ..session_holder import SessionHolder
from ..widgets import Field
from .drawing_grip import Held

_LEAST = 0.012      # fractions of the picture; anything shorter was a click by mistake
_STEP = 0.02        # how far an arrow key moves the pencil; with Shift a quarter of that


def paint_drawing(painter: QPainter, rect: QRectF, drawing: Drawing) -> None:
    """Paint one drawing over a picture that lies in *rect*: light ink with a dark edge, for any ground."""
    points = [QPointF(rect.x() + x * rect.width(), rect.y() + y * rect.height()) for x, y in drawing.points]
    if not points:
        return
    stroke = max(3.0, rect.height() / 180)
    path = QPainterPath(points[0])
    if drawing.kind is DrawingKind.TEXT:
        font = QFont(painter.font())
        font.setPixelSize(max(12, round(rect.height() / 24)))
        font.setBold(True)
        path.addText(points[0] + QPointF(0, font.pixelSize()), font, drawing.text)
        painter.setBrush(QColor(*INK))
        painter.strokePath(path, QPen(QColor(*EDGE), 4))
        painter.fillPath(path, QColor(*INK))
        return
    if len(points) < 2:
        return
    if drawing.kind is DrawingKind.CIRCLE:
        radius = max(2.0, hypot(points[-1].x() - points[0].x(), points[-1].y() - points[0].y()))
        path = QPainterPath()
        path.addEllipse(points[0], radius, radius)
    else:
        for point in points[1:]:
            path.lineTo(point)
        if drawing.kind is DrawingKind.ARROW:
            tail, tip = points[-2:]
            heading, length = atan2(tip.y() - tail.y(), tip.x() - tail.x()), rect.height() / 28
            for turn in (pi * 0.85, -pi * 0.85):
                path.moveTo(tip)
                path.lineTo(tip + QPointF(length * cos(heading + turn), length * sin(heading + turn)))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    for colour, thick in ((EDGE, stroke + 4), (INK, stroke)):
        painter.strokePath(path, QPen(QColor(*colour), thick, Qt.PenStyle.SolidLine, Qt.PenCapStyle.RoundCap,
                                      Qt.PenJoinStyle.RoundJoin))


class DrawingLayer(SessionHolder, QObject):
    """Lies on a :class:`PictureView`: shows the game's drawings and takes new ones.

    ``tool`` is what the next stroke makes, None while nobody draws. ``hold`` is how many seconds a
    new drawing stays; None gives it to the one moment. No drawing outlasts its shot. Everything works with the mouse,
    and with the arrow keys and Enter: Enter puts the pencil down and, once moved, lifts it. A drawing that is there
    already can be changed (:meth:`change`) and is kept where it is released.
    """

    tool_changed = Signal(object)

    def __init__(self, picture: PictureView):
        super().__init__(picture)
        self._picture = picture
        self.tool: DrawingKind | None = None
        self.hold: float | None = None
        self._points: list[tuple[float, float]] = []
        self._pencil: tuple[float, float] | None = None     # where the keyboard's pencil is
        self._held: Held | None = None                      # a drawing that is being changed
        self._dragged: tuple[float, float] | None = None    # where the mouse has it
        self._game = Game()                                 # whose drawings' spans are cached
        self._spans: dict[int, tuple[Fraction, Fraction]] = {}
        self._writing = Field(picture, name="Words on the picture", hint="Words, then Enter", act=self._write,
                              give_up=self._stop_writing)
        self._writing.hide()
        picture.overlay = self._paint
        picture.pressed.connect(self._press)
        picture.moved.connect(self._move)
        picture.released.connect(self._release)

    def show_session(self, session: Session | None) -> None:
        """Take in another session and put the tool away."""
        self._session = session
        self.take(None)

    def take(self, tool: DrawingKind | None) -> None:
        """Take up a tool (the film rests meanwhile), or put it away."""
        self.tool = tool
        self._points.clear()
        self._pencil = self._held = self._dragged = None
        self._writing.hide()
        if tool is not None:
            self.session.pause()
        self._picture.setCursor(Qt.CursorShape.ArrowCursor if tool is None else Qt.CursorShape.CrossCursor)
        self._picture.update()
        self.tool_changed.emit(tool)

    def shown(self) -> list[Drawing]:
        """The game's drawings on the current picture."""
        if not self.has_session or self.session.position is None:
            return []
        game = self.session.game
        if game is not self._game:
            self._game, self._spans = game, spans_of(game)
        return shown_at(self._spans, game.drawings, self.session.time)

    def remove_last(self) -> bool:
        """Remove the newest drawing on the current picture; False if there is none."""
        shown = self.shown()
        if not shown:
            return False
        self.session.do(RemoveRecord(Kind.DRAWING, max(drawing.id for drawing in shown)))
        self._picture.update()
        return True

    def change(self) -> bool:
        """Take the newest drawing on the current picture in hand, and from there the one before it: its words to be
        written anew, or its points to be moved. False if there is none."""
        shown = sorted(self.shown(), key=lambda drawing: drawing.id, reverse=True)
        if not shown:
            return False
        older = [drawing for drawing in shown if self._held is not None and drawing.id < self._held.drawing.id]
        drawing = (older or shown)[0]
        self.take(drawing.kind)
        self._held = Held.of(drawing)
        if drawing.kind is DrawingKind.TEXT:
            self._begin_writing(*drawing.points[0], drawing.text)
        return True

    def _keep_held(self) -> None:
        """Keep the drawing in hand as it is now."""
        held, self._held, self._dragged = self._held, None, None
        if held is None:
            return
        self._writing.hide()
        before = next((each for each in self.session.game.drawings if each.id == held.drawing.id), None)
        if before is not None and before != held.drawing:
            self.session.do(ChangeRecord(held.drawing))
        self._picture.update()

    # -- the keyboard's pencil -------------------------------------------------------------------------

    def key(self, key: int, fine: bool = False) -> bool:
        """Move (arrow keys) or put down and lift (Enter) the pencil; False if the key means nothing here."""
        ways: dict[int, tuple[int, int]] = {Qt.Key.Key_Left: (-1, 0), Qt.Key.Key_Right: (1, 0),
                                            Qt.Key.Key_Up: (0, -1), Qt.Key.Key_Down: (0, 1)}
        if self.tool is None or key not in (*ways, Qt.Key.Key_Return, Qt.Key.Key_Enter):
            return False
        step = _STEP / 4 if fine else _STEP
        if self._held is not None:
            if key in ways:
                self._held = self._held.moved(*(way * step for way in ways[key]))
                self._picture.update()
            else:
                self._keep_held()
            return True
        if self._pencil is None:
            self._pencil = (0.5, 0.5)
        if key in ways:
            x, y = (min(max(at + way * step, 0.0), 1.0) for at, way in zip(self._pencil, ways[key], strict=True))
            self._pencil = (x, y)
            if self._points:
                self._move(x, y)
        elif self._points:
            self._release(*self._pencil)
        else:
            self._press(*self._pencil)
        self._picture.update()
        return True

    # -- strokes ------------------------------------------------------------------------------------------

    def _press(self, x: float, y: float) -> None:
        if self.tool is None or self.session.position_to_mark() is None:
            return
        self.session.pause()
        if self._held is not None:
            self._held, self._dragged = self._held.taken_at(x, y), (x, y)
            self._picture.update()
            return
        self._points = [(min(max(x, 0.0), 1.0), min(max(y, 0.0), 1.0))]
        if self.tool is DrawingKind.TEXT:
            self._begin_writing(x, y)

    def _begin_writing(self, x: float, y: float, words: str = "") -> None:
        rect = self._picture.picture_rect()
        self._writing.setGeometry(round(rect.x() + x * rect.width()), round(rect.y() + y * rect.height()), 220,
                                  self._writing.sizeHint().height())
        self._writing.setText(words)
        self._writing.selectAll()
        self._writing.show()
        self._writing.setFocus(Qt.FocusReason.OtherFocusReason)

    def _move(self, x: float, y: float) -> None:
        if self._held is not None and self._dragged is not None:
            self._held, self._dragged = self._held.moved(x - self._dragged[0], y - self._dragged[1]), (x, y)
            self._picture.update()
            return
        if not self._points or self.tool is DrawingKind.TEXT:
            return
        point = (min(max(x, 0.0), 1.0), min(max(y, 0.0), 1.0))
        if self.tool is DrawingKind.FREEHAND:
            last = self._points[-1]
            if hypot(point[0] - last[0], point[1] - last[1]) >= 0.004:
                self._points.append(point)
        else:
            self._points[1:] = [point]
        self._picture.update()

    def _release(self, x: float, y: float) -> None:
        if self._held is not None and self._dragged is not None:
            self._move(x, y)
            self._keep_held()
            return
        if not self._points or self.tool is DrawingKind.TEXT:
            return
        self._move(x, y)
        points = tuple(self._points)
        if max(hypot(px - points[0][0], py - points[0][1]) for px, py in points) < _LEAST:
            return      # not moved yet: the pencil stays down
        self._points.clear()
        if self.tool is not None:
            self._keep(self.tool, points)

    def _write(self) -> None:
        words, points, held = self._writing.text().strip(), tuple(self._points), self._held
        self._stop_writing()
        if words and held is not None:
            self._held = Held(replace(held.drawing, text=words))
            self._keep_held()
        elif words and points:
            self._keep(DrawingKind.TEXT, points, words)

    def _stop_writing(self) -> None:
        self._points.clear()
        self._held = None
        self._writing.hide()
        self._picture.setFocus(Qt.FocusReason.OtherFocusReason)

    def _keep(self, kind: DrawingKind, points: tuple[tuple[float, float], ...], words: str = "") -> None:
        at = self.session.position_to_mark()
        if at is not None:
            self.session.do(AddRecord(Drawing(0, kind, at, points, self._until(), words)))
        self._picture.update()

    def _until(self) -> Instant | None:
        if self.hold is None:
            return None
        film = self.session.film
        end = self.session.time + Fraction(self.hold)
        return film.sources[-1].end if end >= film.duration else film.instant_at(end)

    # -- painting ----------------------------------------------------------------------------------------

    def _paint(self, painter: QPainter, rect: QRectF) -> None:
        for drawing in self.shown():
            held = self._held if self._held is not None and self._held.drawing.id == drawing.id else None
            paint_drawing(painter, rect, held.drawing if held is not None else drawing)
            if held is not None:
                self._paint_grips(painter, rect, held)
        if self._points and self.tool is not None:
            paint_drawing(painter, rect, Drawing(0, self.tool, Instant("", 0), tuple(self._points)))
        if self._pencil is not None and self.tool is not None:
            at = QPointF(rect.x() + self._pencil[0] * rect.width(), rect.y() + self._pencil[1] * rect.height())
            for colour, thick in ((QColor(*EDGE), 4), (QColor("white"), 2)):
                painter.setPen(QPen(colour, thick))
                painter.drawLine(at - QPointF(11, 0), at + QPointF(11, 0))
                painter.drawLine(at - QPointF(0, 11), at + QPointF(0, 11))

    @staticmethod
    def _paint_grips(painter: QPainter, rect: QRectF, held: Held) -> None:
        """Squares where the drawing in hand can be taken, light where it moves."""
        for x, y in held.grips or (held.at,):
            painter.setPen(QPen(QColor(*EDGE), 2))
            painter.setBrush(QColor("white") if held.point is None or (x, y) == held.at else QColor(*EDGE))
            painter.drawRect(QRectF(rect.x() + x * rect.width() - 6, rect.y() + y * rect.height() - 6, 12, 12))
