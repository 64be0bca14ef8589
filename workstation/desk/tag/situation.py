"""The situation before the snap, large enough for the other end of the room, and what comes of the play."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QFont, QFontMetrics, QPainter, QPainterPath, QPen, QPolygonF
from PySide6.QtWidgets import QSizePolicy, QWidget

from ...football.field import Team
from ...football.rulebook import Rulebook
from ...football.situation import Next, Situation, goes_right_on_film
from ...football.speaking import spoken_clock, spoken_down, spoken_period, spoken_situation, spoken_yard_line
from ...football.step import Certainty, Step
from ...tagging.model import Heading
from ..theme import Theme

_EXPLAINED_LINES = 3
LARGEST = 1.3       # times its normal size
_MARK = {Certainty.CERTAIN: "✓", Certainty.ASSUMED: "?", Certainty.CONTRADICTED: "✗"}
_INK = {Certainty.CERTAIN: "good", Certainty.ASSUMED: "warn", Certainty.CONTRADICTED: "bad"}


class SituationView(QWidget):
    """Paints a situation like a sideline would show it: the down on its marker, the ball on its field."""

    def __init__(self, theme: Theme, parent: QWidget | None = None):
        super().__init__(parent)
        self._theme = theme
        self._before = Situation()
        self._step: Step | None = None
        self._heading = Heading()
        self._length, self._periods = 100.0, 4
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Fixed)
        theme.changed.connect(self._resized)

    def _resized(self) -> None:
        self.updateGeometry()
        self.update()

    def sizeHint(self) -> QSize:
        """The size at which every line fits in the present font."""
        p = self._pixels
        return QSize(p("down") * 7, round(p("down") * 1.35 + p("title") * 3.1 + p("call") + p("lead") * 2.9 + 52)
            + self._explained_room())

    def minimumSizeHint(self) -> QSize:
        """The same height, and the width that the down needs."""
        return QSize(self._pixels("down") * 5, self.sizeHint().height())

    def show_game(self, heading: Heading, rulebook: Rulebook) -> None:
        """Take in the names, the field's length and the periods."""
        self._heading, self._length, self._periods = heading, rulebook.field_length, rulebook.periods
        self.update()

    def show_situation(self, before: Situation, step: Step | None = None) -> None:
        """Show what holds before the play and, if it is being typed, what follows from it."""
        self._before, self._step = before, step
        said = spoken_situation(before, self._length)
        score = f"{self._heading.visitors} {before.score_visitors}, {self._heading.home} {before.score_home}"
        self.setAccessibleName(f"Situation: {said}. {score}. {self._period(before)}")
        after = f"{step.result}: then {spoken_situation(step.after, self._length)}. {_others(step)}" if step else ""
        self.setAccessibleDescription(after.removesuffix(". "))
        self.update()

    def _explained_room(self) -> int:
        """The height of what explains the play, in whole lines."""
        return _EXPLAINED_LINES * QFontMetrics(self._font("body")).lineSpacing()

    def _pixels(self, size: str) -> int:
        return self._font(size).pixelSize()

    def _font(self, size: str, bold: bool = False, condensed: bool = False) -> QFont:
        """The theme's type, which is large here already and grows only a little with it."""
        font = self._theme.font(size, bold, condensed)
        font.setPixelSize(round(font.pixelSize() * min(1.0, LARGEST / self._theme.scale)))
        return font

    @property
    def text(self) -> str:
        """What a person reads here, top to bottom."""
        lines = [self.accessibleName(), self.accessibleDescription()]
        return "\n".join(line for line in lines if line)

    def _period(self, situation: Situation) -> str:
        return f"{spoken_period(situation.period, self._periods)}  {spoken_clock(situation.clock)}".strip()

    # -- painting -----------------------------------------------------------------------------
    def paintEvent(self, event) -> None:
        """Draw the situation."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        before = self._before
        margin, width, y = 12, self.width(), 10.0
        y = self._paint_score(painter, margin, y, width - 2 * margin)
        y = self._paint_call(painter, margin, y, width - 2 * margin, before)
        y = self._paint_field(painter, QRectF(margin, y + 4, width - 2 * margin, self._pixels("call")))
        self._paint_after(painter, margin, y + 8, width - 2 * margin)
        painter.end()

    def _paint_score(self, painter: QPainter, x: float, y: float, width: float) -> float:
        theme, before = self._theme, self._before
        small, line = self._font("body"), self._pixels("body") * 1.5
        painter.setFont(small)
        painter.setPen(theme.colour("quiet"))
        painter.drawText(QRectF(x, y, width, line), Qt.AlignmentFlag.AlignVCenter, self._period(before))
        if before.offense is not None:
            kicks = before.next in (Next.KICKOFF, Next.SAFETY_FREE_KICK)
            painter.drawText(QRectF(x, y, width, line), Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignRight,
                             f"{self._heading.name_of(before.offense)} {'kicks' if kicks else 'ball'}")
        y += line
        height = self._pixels("title") * 1.5
        font = self._font("title", bold=True, condensed=True)
        painter.setFont(font)
        metrics = QFontMetrics(font)
        gap = 18
        half = (width - gap) / 2
        for place, (team, score, ink) in enumerate(((Team.VISITORS, before.score_visitors, "visitors"),
                                                    (Team.HOME, before.score_home, "home"))):
            left = x + place * (half + gap)
            points = str(score)
            points_width = metrics.horizontalAdvance(points)
            painter.setPen(theme.colour("text"))
            painter.drawText(QRectF(left + half - points_width, y, points_width, height),
                             Qt.AlignmentFlag.AlignVCenter, points)
            ball = 18 if before.offense is team else 0
            if ball:        # the team with the ball is marked by a ball, not by a colour alone
                painter.setBrush(theme.colour("accent"))
                painter.setPen(Qt.PenStyle.NoPen)
                painter.drawEllipse(QPointF(left + 7, y + height / 2), 7, 5)
            painter.setPen(theme.colour(ink))
            name = metrics.elidedText(self._heading.name_of(team), Qt.TextElideMode.ElideRight,
                                      int(half - points_width - ball - 8))
            painter.drawText(QRectF(left + ball, y, half - points_width, height), Qt.AlignmentFlag.AlignVCenter, name)
        return y + height + 4

    def _paint_call(self, painter: QPainter, x: float, y: float, width: float, before: Situation) -> float:
        """``3`` on its marker, ``& 7``, and where; or the one thing that comes next."""
        theme = self._theme
        side = self._pixels("down") * 1.35
        if before.next is Next.SCRIMMAGE and before.down is not None:
            box = QRectF(x, y, side * 0.86, side)
            painter.setPen(Qt.PenStyle.NoPen)
            painter.setBrush(theme.colour("accent"))
            painter.drawRoundedRect(box, 5, 5)
            painter.setPen(theme.colour("on_accent"))
            painter.setFont(self._font("down", bold=True))
            painter.drawText(box, Qt.AlignmentFlag.AlignCenter, str(before.down))
            rest = spoken_down(before).partition("&")[2].strip()
            text = f"& {rest}" if rest else ""
            at = x + side * 0.86 + 12
            where = spoken_yard_line(before.ball_on, self._length) if before.ball_on is not None else ""
            half = (x + width - at - 12) / 2
            self._fit(painter, QRectF(at, y, half, side), text, "down")
            self._fit(painter, QRectF(at + half + 12, y, half, side), where, "call", Qt.AlignmentFlag.AlignRight)
        else:
            self._fit(painter, QRectF(x, y, width, side), spoken_situation(before, self._length).capitalize(), "call")
        return y + side

    def _fit(self, painter: QPainter, box: QRectF, text: str, size: str,
             align: Qt.AlignmentFlag = Qt.AlignmentFlag.AlignLeft) -> None:
        font = self._font(size, bold=True, condensed=True)
        while font.pixelSize() > 12 and QFontMetrics(font).horizontalAdvance(text) > box.width():
            font.setPixelSize(font.pixelSize() - 1)
        painter.setFont(font)
        painter.setPen(self._theme.colour("text"))
        painter.drawText(box, align | Qt.AlignmentFlag.AlignVCenter, text)

    def _paint_field(self, painter: QPainter, box: QRectF) -> float:
        """The field from goal line to goal line, with ball and line to gain; the offense goes the way it goes on the
        film, as far as that was said, else to the right. A wedge stands at the goal that it attacks."""
        theme, before = self._theme, self._before
        goes_right = goes_right_on_film(before)
        zone = box.width() * 0.06
        field = box.adjusted(zone, 0, -zone, 0)
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(theme.colour("raised"))
        painter.drawRoundedRect(box, 3, 3)
        painter.setPen(QPen(theme.colour("line"), 1))
        for yard in range(0, int(self._length) + 1, 10):
            x = field.x() + field.width() * yard / self._length
            painter.drawLine(QPointF(x, box.top()), QPointF(x, box.bottom()))
        painter.setFont(self._font("small", condensed=True))
        painter.setPen(theme.colour("quiet"))
        for yard in range(20, int(self._length) - 19, 20):
            shown = yard if yard <= self._length / 2 else self._length - yard
            x = field.x() + field.width() * yard / self._length
            painter.drawText(QRectF(x - 20, box.top(), 40, box.height()), Qt.AlignmentFlag.AlignCenter, f"{shown:g}")
        if before.ball_on is None:
            return box.bottom()

        def place(spot: float) -> float:
            share = min(max(spot, -9), self._length + 9) / self._length
            return field.x() + field.width() * (share if goes_right else 1 - share)

        goal, back = (box.right() - 3, -1) if goes_right else (box.left() + 3, 1)
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(theme.colour("accent"))
        painter.drawPolygon(QPolygonF([QPointF(goal, box.center().y()), QPointF(goal + 8 * back, box.center().y() - 5),
                                       QPointF(goal + 8 * back, box.center().y() + 5)]))
        ball = place(before.ball_on)
        if before.yards_to_gain is not None and not before.goal_to_go:
            gain = place(before.ball_on + before.yards_to_gain)
            painter.setPen(QPen(theme.colour("warn"), 2, Qt.PenStyle.DashLine))
            painter.drawLine(QPointF(gain, box.top() + 2), QPointF(gain, box.bottom() - 2))
        step = self._step
        if step is not None and step.dead_ball_on is not None and step.dead_ball_on != before.ball_on:
            dead, middle = place(step.dead_ball_on), box.center().y()
            painter.setPen(QPen(theme.colour("text"), 2))
            painter.drawLine(QPointF(ball, middle), QPointF(dead, middle))
            way = 1 if dead > ball else -1
            painter.setBrush(theme.colour("text"))
            painter.drawPolygon(QPolygonF([QPointF(dead, middle), QPointF(dead - 7 * way, middle - 5),
                                           QPointF(dead - 7 * way, middle + 5)]))
        path = QPainterPath()
        path.addEllipse(QPointF(ball, box.center().y()), 7, 5)
        painter.setPen(QPen(theme.colour("on_accent"), 1))
        painter.setBrush(theme.colour("accent"))
        painter.drawPath(path)
        return box.bottom()

    def _paint_after(self, painter: QPainter, x: float, y: float, width: float) -> None:
        theme, step = self._theme, self._step
        line = self._pixels("lead") * 1.35
        if step is None:
            painter.setFont(self._font("body"))
            painter.setPen(theme.colour("quiet"))
            painter.drawText(QRectF(x, y, width, line * 2), Qt.TextFlag.TextWordWrap | Qt.AlignmentFlag.AlignTop,
                             "What follows appears here as you type.")
            return
        painter.setFont(self._font("lead", bold=True))
        painter.setPen(theme.colour(_INK[step.certainty]))
        painter.drawText(QRectF(x, y, 20, line), Qt.AlignmentFlag.AlignVCenter, _MARK[step.certainty])
        painter.setPen(theme.colour("text"))
        metrics = QFontMetrics(painter.font())
        painter.drawText(QRectF(x + 20, y, width - 20, line), Qt.AlignmentFlag.AlignVCenter,
                         metrics.elidedText(step.result, Qt.TextElideMode.ElideRight, int(width - 20)))
        who = self._heading.name_of(step.after.offense) if step.after.offense is not step.before.offense else ""
        then = spoken_situation(step.after, self._length)
        big = self._pixels("title") * 1.4
        self._fit(painter, QRectF(x, y + line, width, big), f"→ {who + ': ' if who else ''}{then}", "title")
        explained = step.explanation.removeprefix(step.result).lstrip("; ").removesuffix(then).rstrip("; ")
        painter.setFont(self._font("body"))
        painter.setPen(theme.colour("quiet"))
        lines = "\n".join(filter(None, (explained, _others(step))))
        spacing = painter.fontMetrics().lineSpacing()
        room = int(self.height() - y - line - big) // spacing * spacing  # whole lines
        painter.drawText(QRectF(x, y + line + big, width, room), Qt.TextFlag.TextWordWrap, lines)


def _others(step: Step) -> str:
    """The rulings that could have been chosen as well."""
    return f"or: {'; or: '.join(step.choices)}" if step.choices else ""
