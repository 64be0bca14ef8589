"""Plots on the screen: the shapes of :mod:`~workstation.delivery.shapes` in the theme's inks."""

from __future__ import annotations

from PySide6.QtCore import QLineF, QPointF, QRectF, Qt
from PySide6.QtGui import QFontMetricsF, QPainter, QPen, QPolygonF

from ..delivery.shapes import Bar, Curve, Dot, Fit, Mark, Plot, StraightLine, Words
from .severities import INKS
from .theme import Theme


def fitting(theme: Theme) -> Fit:
    """What shortens a plot's words to the room that they have, in pixels."""
    metrics = {bold: QFontMetricsF(theme.font("small", bold=bold)) for bold in (False, True)}
    return lambda words, room, bold: metrics[bold].elidedText(words, Qt.TextElideMode.ElideRight, room)


def paint_plot(painter: QPainter, theme: Theme, plot: Plot) -> None:
    """Paint a plot at the painter's origin, in pixels."""
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    for shape in plot.shapes:
        if isinstance(shape, StraightLine):
            painter.setPen(QPen(theme.colour(shape.ink), 1,
                                Qt.PenStyle.DashLine if shape.is_broken else Qt.PenStyle.SolidLine))
            painter.drawLine(QLineF(shape.x, shape.y, shape.to_x, shape.to_y))
        elif isinstance(shape, Curve):
            painter.setPen(QPen(theme.colour("accent"), 1.5))
            painter.drawPolyline(QPolygonF([QPointF(x, y) for x, y in shape.points]))
        elif isinstance(shape, Mark):
            painter.setPen(Qt.PenStyle.NoPen)
            painter.setBrush(theme.colour(INKS[shape.severity]))
            painter.drawPolygon(QPolygonF([QPointF(shape.x, shape.y), QPointF(shape.x - 4, shape.y + 8),
                                           QPointF(shape.x + 4, shape.y + 8)]))
        elif isinstance(shape, Words):
            font = theme.font("small", bold=shape.is_bold)
            painter.setFont(font)
            painter.setPen(theme.colour(shape.ink))
            left = shape.x - QFontMetricsF(font).horizontalAdvance(shape.text) if shape.ends_here else shape.x
            painter.drawText(QPointF(left, shape.y), shape.text)
        elif isinstance(shape, Dot):
            painter.setPen(QPen(theme.colour(shape.ink), 1))
            painter.setBrush(theme.colour(shape.ink) if shape.is_filled else Qt.BrushStyle.NoBrush)
            painter.drawEllipse(QPointF(shape.x, shape.y), shape.radius, shape.radius)
        elif isinstance(shape, Bar):
            painter.setPen(QPen(theme.colour("edge"), 1))
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.drawRect(QRectF(shape.x, shape.y, shape.width, shape.height))
            painter.fillRect(QRectF(shape.x, shape.y, shape.width * shape.share, shape.height), theme.colour("text"))
