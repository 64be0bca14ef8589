"""What does not move: field, stands, lights, trees and evening sky, painted onto the picture plane."""

from __future__ import annotations

import math
import random

import numpy as np
from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import (
    QBrush,
    QColor,
    QFont,
    QImage,
    QLinearGradient,
    QPainter,
    QPainterPath,
    QPen,
    QPolygonF,
    QRadialGradient,
    QTransform,
)

from .crowd import FIRST_UP, ROW_DEEP, ROW_UP, ROWS, STAND_LEFT, STAND_RIGHT, STAND_Y, Spectator, spectators
from .figures import COACH_LOOK, HOME_LOOK, VISITORS_LOOK, FigureLook, draw_figure
from .view import BACK, FIELD_WIDTH, FOCAL, UP, plane, scale_at

HASH = FIELD_WIDTH / 3          # NFHS: the hash marks divide the field into thirds (rule 1-2-3; from memory)
SCOREBOARD_AT = (157.0, 66.0)   # left foot, world yards
SCOREBOARD_SIZE = (13.0, 5.6)   # yards
SCOREBOARD_UP = 4.2             # yards from the ground to its lower edge
_POST_WIDTH = 23.33 / 3         # yards between the uprights: 23 feet 4 inches (NFHS rule 1-5; from memory)


class Window:
    """A part of the picture plane as a picture: ``scale`` pixels a plane unit, upper left at (left, top)."""

    def __init__(self, left: float, top: float, width: int, height: int, scale: float):
        self.left, self.top, self.scale = left, top, scale
        self.image = QImage(width, height, QImage.Format_RGB32)

    def at(self, x: float, y: float, z: float = 0.0) -> QPointF:
        """Return the pixel that shows this place on the field."""
        right, down = plane(x, y, z)
        return QPointF((right - self.left) * self.scale, (down - self.top) * self.scale)

    def quad(self, *corners: tuple[float, float]) -> QPolygonF:
        """Return the polygon that joins the pixels of these places on the ground."""
        return QPolygonF([self.at(*corner) for corner in corners])


def backdrop(left: float, top: float, width: int, height: int, scale: float) -> Window:
    """Paint everything that stands still in a window of the plane."""
    window = Window(left, top, width, height, scale)
    window.image.fill(QColor("#22303c"))
    _grass(window)
    painter = QPainter(window.image)
    painter.setRenderHint(QPainter.Antialiasing)
    _sky(painter, window)
    _beyond(painter, window)
    _surroundings(painter, window)
    _lines(painter, window)
    _far_side(painter, window)
    _posts(painter, window)
    _light(painter, window)
    painter.end()
    return window


# -- ground ----------------------------------------------------------------------------------------------------------

def _noise(seed: int, shape: tuple[int, int], smoothing: int) -> np.ndarray:
    """Soft noise that wraps around, mean 0, spread 1."""
    values = np.random.default_rng(seed).standard_normal(shape).astype(np.float32)
    for axis in (0, 1):
        for _ in range(2):
            values = sum(np.roll(values, shift, axis)
                         for shift in range(-smoothing, smoothing + 1)) / (2 * smoothing + 1)
    return values / values.std()


def _grass(window: Window) -> None:
    image, scale = window.image, window.scale
    width, height = image.width(), image.height()
    pixels = np.frombuffer(image.bits(), np.uint8).reshape(height, image.bytesPerLine() // 4, 4)
    fine, coarse = _noise(1, (1024, 1024), 1), _noise(2, (512, 512), 6)
    blades = np.random.default_rng(3).standard_normal((height, width), np.float32)
    columns = window.left + (np.arange((width + 1) // 2, dtype=np.float32) + 0.5) * 2 / scale   # every other pixel
    for row in range(height):
        down = window.top + (row + 0.5) / scale
        if down <= 120:
            continue
        depth = FOCAL * UP / down
        y = depth - BACK
        x = 50 + columns * (depth / FOCAL)
        tone = fine[int(y * 11) % 1024][(x * 11).astype(np.int32) & 1023] * 2.6
        tone += coarse[int(y * 3.1) % 512][(x * 3.1).astype(np.int32) & 511] * 3.4
        mowed = (np.floor(x / 5).astype(np.int32) & 1) * 11.0 - 5
        tone += np.where((x > -10) & (x < 110), mowed, -7) if 0 <= y <= FIELD_WIDTH else -7
        worn = 0.0
        if abs(y - 26.7) < 25:
            worn = np.exp(-((y - 26.7) / 9) ** 2) * np.exp(-((x - 50) / 34) ** 4) * 9 * (
                0.6 + 0.4 * coarse[int(y * 1.3) % 512][(x * 1.3).astype(np.int32) & 511])
        far = min(max((y - 10) / 90, 0), 1)
        grain = blades[row]
        for channel, base, share, dry in ((0, 52 + far * 14, 0.6, 0.5), (1, 112 + far * 6, 1.0, 0.5),
                                          (2, 62 + far * 12, 0.75, 1.5)):
            soft = np.repeat(base + tone * share + worn * dry, 2)[:width]
            pixels[row, :width, channel] = np.clip(soft + grain * (1.6 * share), 0, 255)


def _strip(painter: QPainter, window: Window, corners: tuple[tuple[float, float], ...], color: QColor) -> None:
    painter.setPen(Qt.NoPen)
    painter.setBrush(color)
    painter.drawPolygon(window.quad(*corners))


def _box(x: float, y: float, x2: float, y2: float) -> tuple[tuple[float, float], ...]:
    return (x, y), (x2, y), (x2, y2), (x, y2)


def _text(painter: QPainter, window: Window, text: str, x: float, y: float, tall: float, color: QColor,
          turned: float = 0.0, width: float | None = None) -> None:
    """Paint text flat on the ground, centred at (x, y), ``tall`` yards high, turned counter-clockwise."""
    font = QFont("DejaVu Sans Condensed")
    font.setBold(True)
    font.setPixelSize(100)
    path = QPainterPath()
    path.addText(0, 0, font, text)
    bounds = path.boundingRect()
    factor = tall / bounds.height()
    stretch = width / bounds.width() if width else factor * 0.92
    cos, sin = math.cos(turned), math.sin(turned)
    out = QPainterPath()
    out.setFillRule(Qt.WindingFill)
    for polygon in path.toSubpathPolygons(QTransform()):
        points = []
        for point in polygon:
            across = (point.x() - bounds.center().x()) * stretch
            up = -(point.y() - bounds.center().y()) * factor
            points.append(window.at(x + across * cos - up * sin, y + across * sin + up * cos))
        out.addPolygon(QPolygonF(points))
    out.setFillRule(Qt.OddEvenFill)
    painter.setPen(Qt.NoPen)
    painter.setBrush(color)
    painter.drawPath(out)


def _lines(painter: QPainter, window: Window) -> None:
    chalk, faint = QColor(240, 243, 236, 225), QColor(240, 243, 236, 190)
    home, visitors = QColor(24, 52, 122, 205), QColor(24, 52, 122, 205)
    for left, color, turned in ((-10, home, math.pi / 2), (100, visitors, -math.pi / 2)):
        _strip(painter, window, _box(left, 0, left + 10, FIELD_WIDTH), color)
        _text(painter, window, "OSTLEY BEND" if left < 0 else "HERONS", left + 5, FIELD_WIDTH / 2, 5.2,
              QColor(232, 196, 84, 230), turned, 40 if left < 0 else 30)
    # the middle of the field
    ring = QPainterPath()
    for radius in (6.2, 5.7):
        ring.addPolygon(
            QPolygonF([window.at(50 + radius * math.cos(a * math.pi / 36), 26.7 + radius * math.sin(a * math.pi / 36))
                       for a in range(73)]))
    painter.setPen(Qt.NoPen)
    painter.setBrush(QColor(232, 196, 84, 190))
    painter.drawPath(ring)
    painter.setBrush(QColor(24, 52, 122, 150))
    painter.drawPolygon(
        QPolygonF([window.at(50 + 5.7 * math.cos(a * math.pi / 36), 26.7 + 5.7 * math.sin(a * math.pi / 36))
                   for a in range(72)]))
    _text(painter, window, "OB", 50, 26.7, 5.0, QColor(240, 226, 170, 215))
    # sidelines and end lines, four yards of border at the sides
    _strip(painter, window, _box(-12, -1.3, 112, 0), QColor(236, 239, 232, 215))
    _strip(painter, window, _box(-12, FIELD_WIDTH, 112, FIELD_WIDTH + 1.3), QColor(236, 239, 232, 215))
    _strip(painter, window, _box(-11.3, 0, -10, FIELD_WIDTH), chalk)
    _strip(painter, window, _box(110, 0, 111.3, FIELD_WIDTH), chalk)
    for x in range(0, 101, 5):
        half = 0.11 if x in (0, 100) else 0.06
        _strip(painter, window, _box(x - half, 0, x + half, FIELD_WIDTH), chalk)
    for x in range(1, 100):
        if x % 5:
            for y in (0.15, FIELD_WIDTH - 0.82, HASH - 0.33, FIELD_WIDTH - HASH - 0.33):
                _strip(painter, window, _box(x - 0.05, y, x + 0.05, y + 0.67), faint)
        else:
            for y in (HASH, FIELD_WIDTH - HASH):
                _strip(painter, window, _box(x - 0.33, y - 0.05, x + 0.33, y + 0.05), faint)
    for x in (3, 97):
        _strip(painter, window, _box(x - 0.05, 26.2, x + 0.05, 27.2), faint)
    for yards in range(10, 100, 10):
        label = str(yards if yards <= 50 else 100 - yards)
        for y, turned in ((8.0, 0.0), (FIELD_WIDTH - 8.0, math.pi)):
            side = 1 if turned == 0 else -1
            for digit, shift in zip(label, (-0.95, 0.95), strict=False):
                _text(painter, window, digit, yards + side * shift, y, 2.0, chalk, turned, 1.15)
            if yards != 50:
                ahead = -1 if yards < 50 else 1
                tip = yards + ahead * 2.6
                _strip(painter, window, ((tip, y), (tip - ahead * 0.8, y + 0.3), (tip - ahead * 0.8, y - 0.3)), chalk)
    for x, y in ((0, 0), (0, FIELD_WIDTH), (100, 0), (100, FIELD_WIDTH), (-10, 0), (-10, FIELD_WIDTH), (110, 0),
                 (110, FIELD_WIDTH)):
        foot = window.at(x, y)
        size = scale_at(y) * window.scale
        painter.fillRect(QRectF(foot.x() - 0.1 * size, foot.y() - 0.42 * size, 0.2 * size, 0.45 * size),
                         QColor("#f07818"))


# -- around the field ------------------------------------------------------------------------------------------------

def _sky(painter: QPainter, window: Window) -> None:
    horizon = (0 - window.top) * window.scale
    low = (150 - window.top) * window.scale
    if low < 0:
        return
    sky = QLinearGradient(0, horizon - 520 * window.scale, 0, low)
    sky.setColorAt(0.0, QColor("#141f3c"))
    sky.setColorAt(0.45, QColor("#39406b"))
    sky.setColorAt(0.68, QColor("#8a5f7d"))
    sky.setColorAt(0.86, QColor("#d98a5f"))
    sky.setColorAt(1.0, QColor("#f2b56b"))
    painter.fillRect(QRectF(0, 0, window.image.width(), low), QBrush(sky))
    chance = random.Random(11)
    painter.setPen(Qt.NoPen)
    for _ in range(26):
        x, down = chance.uniform(-2800, 2800), chance.uniform(-300, 20)
        wide, tall = chance.uniform(120, 420), chance.uniform(5, 16)
        glow = QColor("#f0a070" if down > -120 else "#6a5a86")
        glow.setAlpha(60)
        painter.setBrush(glow)
        painter.drawEllipse(QPointF((x - window.left) * window.scale, (down - window.top) * window.scale),
                            wide * window.scale, tall * window.scale)


def _ridge(painter: QPainter, window: Window, y: float, low: float, high: float, color: str, seed: int,
           step: float) -> None:
    """A line of tree tops across the whole picture at a distance."""
    chance = random.Random(seed)
    reach = 3100 / scale_at(y)
    x = 50 - reach
    outline = QPainterPath(window.at(x, y, -2))
    outline.lineTo(window.at(x, y, low))
    while x < 50 + reach:
        wide = step * chance.uniform(0.6, 1.5)
        top = chance.uniform(low, high)
        outline.quadTo(window.at(x + wide / 2, y, top + (high - low) * 0.7),
                       window.at(x + wide, y, max(top * 0.9, (low + high) / 2)))
        x += wide
    outline.lineTo(window.at(x, y, -2))
    painter.setPen(Qt.NoPen)
    painter.setBrush(QColor(color))
    painter.drawPath(outline)


def _beyond(painter: QPainter, window: Window) -> None:
    _ridge(painter, window, 330, 11, 26, "#4a4466", 5, 26)
    _ridge(painter, window, 170, 5, 13, "#27324a", 7, 9)
    _ridge(painter, window, 118, 3, 8, "#18262e", 9, 5)


def _surroundings(painter: QPainter, window: Window) -> None:
    # running track round the field
    clay, lane = QColor("#7c4038"), QColor(230, 214, 205, 90)
    for near, far in ((-9.5, -4.6), (FIELD_WIDTH + 7.5, FIELD_WIDTH + 12.5)):
        _strip(painter, window, _box(-130, near, 230, far), clay)
        for part in range(1, 5):
            y = near + (far - near) * part / 5
            _strip(painter, window, _box(-130, y, 230, y + 0.06), lane)
    # fence and the far stand
    y = FIELD_WIDTH + 14
    painter.setPen(Qt.NoPen)
    painter.setBrush(QColor("#10181c"))
    painter.drawPolygon(
        QPolygonF([window.at(-130, y + 0.1, 0), window.at(230, y + 0.1, 0), window.at(230, y + 0.1, 1.3),
                   window.at(-130, y + 0.1, 1.3)]))
    _stand(painter, window)
    painter.setPen(QPen(QColor(150, 160, 165, 150), 0.05 * scale_at(y) * window.scale))
    for x in range(-130, 231, 2):
        painter.drawLine(window.at(x, y, 0), window.at(x, y, 1.3))
    painter.drawLine(window.at(-130, y, 1.3), window.at(230, y, 1.3))
    for x in (-24, 14, 86, 124):
        _mast(painter, window, x, FIELD_WIDTH + 24)


def _stand(painter: QPainter, window: Window) -> None:
    left, right = STAND_LEFT, STAND_RIGHT
    back, top = STAND_Y + ROWS * ROW_DEEP, FIRST_UP + ROWS * ROW_UP
    painter.setPen(Qt.NoPen)
    painter.setBrush(QColor("#1c242c"))
    painter.drawPolygon(QPolygonF([window.at(left, STAND_Y, 0), window.at(right, STAND_Y, 0),
                                   window.at(right, back, top + 1.4), window.at(left, back, top + 1.4)]))
    row = ROWS
    for person in spectators():
        if person.row != row:
            row, y, up = person.row, person.y, person.up
            painter.setBrush(QColor("#39434c" if row % 2 else "#313a43"))
            painter.drawPolygon(QPolygonF([window.at(left, y, up - 0.1), window.at(right, y, up - 0.1),
                                           window.at(right, y, up - 0.5), window.at(left, y, up - 0.5)]))
        if not person.lively:
            draw_spectator(painter, window.at(person.x, person.y, person.up), scale_at(person.y) * window.scale, person)
    painter.setPen(QPen(QColor("#56626c"), 0.08 * scale_at(back) * window.scale))
    painter.drawLine(window.at(left, back, top + 1.4), window.at(right, back, top + 1.4))


def draw_spectator(painter: QPainter, foot: QPointF, size: float, person: Spectator) -> None:
    """Draw somebody in the stand, ``size`` pixels a yard."""
    painter.setBrush(QColor(person.cloth).darker(person.cloth_shade))
    painter.drawRoundedRect(QRectF(foot.x() - 0.24 * size, foot.y() - person.tall * size, 0.48 * size,
                                   person.tall * size), 0.16 * size, 0.16 * size)
    painter.setBrush(QColor(person.skin).darker(125))
    painter.drawEllipse(QPointF(foot.x(), foot.y() - (person.tall + 0.1) * size), 0.13 * size, 0.15 * size)


def _mast(painter: QPainter, window: Window, x: float, y: float) -> None:
    size = scale_at(y) * window.scale
    painter.setPen(QPen(QColor("#2a333b"), 0.4 * size, Qt.SolidLine, Qt.FlatCap))
    painter.drawLine(window.at(x, y, 0), window.at(x, y, 25))
    head = window.at(x, y, 25)
    painter.fillRect(QRectF(head.x() - 2.7 * size, head.y() - 1.6 * size, 5.4 * size, 2.6 * size), QColor("#1f272e"))
    painter.setPen(Qt.NoPen)
    for row in range(2):
        for column in range(5):
            middle = QPointF(head.x() + (column - 2) * 1.05 * size, head.y() + (row * 1.2 - 0.9) * size)
            glow = QRadialGradient(middle, 2.3 * size)
            glow.setColorAt(0, QColor(255, 250, 230, 190))
            glow.setColorAt(0.25, QColor(255, 244, 214, 60))
            glow.setColorAt(1, QColor(255, 240, 200, 0))
            painter.setBrush(glow)
            painter.drawEllipse(middle, 2.3 * size, 2.3 * size)
            painter.setBrush(QColor("#fffdf2"))
            painter.drawEllipse(middle, 0.36 * size, 0.36 * size)


def _posts(painter: QPainter, window: Window) -> None:
    for x in (-10, 110):
        size = scale_at(26.7) * window.scale
        near, far = 26.7 - _POST_WIDTH / 2, 26.7 + _POST_WIDTH / 2
        outside = x - 1.8 if x < 0 else x + 1.8
        for color, wide in (("#a8861e", 0.26), ("#f2cf4a", 0.16)):
            painter.setPen(QPen(QColor(color), wide * size, Qt.SolidLine, Qt.RoundCap))
            painter.drawLine(window.at(outside, 26.7, 0), window.at(outside, 26.7, 3.0))
            painter.drawLine(window.at(outside, 26.7, 3.0), window.at(x, 26.7, 3.33))
            painter.drawLine(window.at(x, near, 3.33), window.at(x, far, 3.33))
            for y in (far, near):
                painter.drawLine(window.at(x, y, 3.33), window.at(x, y, 10))


def _bench(painter: QPainter, window: Window, look: FigureLook, y: float, heading: float, seed: int) -> None:
    chance = random.Random(seed)
    people = []
    for index in range(34):
        x = 27 + index * 1.35 + chance.uniform(-0.5, 0.5)
        row = chance.choice((0.0, 0.0, 0.9, 1.8))
        people.append((y + row * (1 if y > 0 else -1), x, look, chance.choice(("stand", "hips", "stand", "knee"))))
    for x in (34, 47.5, 61):
        people.append((y - 0.8 if y > 0 else y + 0.8, x + chance.uniform(-1, 1), COACH_LOOK, "hips"))
    for at_y, x, who, name in sorted(people, key=lambda one: -one[0]):
        size = scale_at(at_y) * window.scale
        foot = window.at(x, at_y)
        if (-5 * size < foot.x() < window.image.width() + 5 * size and -size < foot.y() < window.image.height()
                + 4 * size):
            draw_figure(painter, foot, size, who, name, 0.1, heading + chance.uniform(-0.5, 0.5),
                        str(chance.randint(1, 99)), 0.3)


def _far_side(painter: QPainter, window: Window) -> None:
    painter.setPen(Qt.NoPen)
    y = FIELD_WIDTH + 6.3
    painter.setBrush(QColor("#b9bec2"))
    painter.drawPolygon(
        QPolygonF([window.at(30, y, 0.5), window.at(70, y, 0.5), window.at(70, y, 0.38), window.at(30, y, 0.38)]))
    _bench(painter, window, VISITORS_LOOK, FIELD_WIDTH + 3.6, -math.pi / 2, 31)
    _bench(painter, window, HOME_LOOK, -4.6, math.pi / 2, 37)


def _light(painter: QPainter, window: Window) -> None:
    """Warm light from the left, and the corners of the ground a little darker."""
    width = window.image.width()
    shade = QLinearGradient((-2600 - window.left) * window.scale, 0, (2600 - window.left) * window.scale, 0)
    shade.setColorAt(0.0, QColor(60, 20, 0, 40))
    shade.setColorAt(0.35, QColor(255, 190, 90, 14))
    shade.setColorAt(0.65, QColor(0, 0, 0, 0))
    shade.setColorAt(1.0, QColor(0, 8, 40, 60))
    painter.fillRect(QRectF(0, 0, width, window.image.height()), QBrush(shade))
