"""Films one scene: a picture for every thirtieth of a second, as the press box sees it."""

from __future__ import annotations

import math
import os
import sys
from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise

import numpy as np
from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QFont, QGuiApplication, QImage, QPainter, QPen

from ..football.field import Team
from ..football.situation import Next
from ..tagging.model import Heading, ShotKind
from .camera import aims
from .choreography import Stage, stage
from .crowd import STAND_Y, Spectator, excitement, spectators
from .field import SCOREBOARD_AT, SCOREBOARD_SIZE, SCOREBOARD_UP, Window, backdrop, draw_spectator
from .figures import HEADINGS, IN_MOTION, STRIDES, Stamp, draw_figure, draw_stamp, size_of, size_step, stamp
from .script import HEADING, Scene
from .tracks import FPS, Moves
from .view import HEIGHT, WIDTH, Aim, plane, scale_at

_CLOSE = 75                     # pixels a yard from which figures are drawn afresh with their numbers
_WINDOWS: dict[tuple[float, ...], Window] = {}


def ready_to_paint() -> None:
    """Make sure that Qt can paint text here; leaves an application that already runs alone."""
    if QGuiApplication.instance() is None:
        os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
        _keep.append(QGuiApplication(sys.argv[:1] or ["demo"]))


_keep: list[QGuiApplication] = []


@dataclass(frozen=True, slots=True)
class _Figure:
    """A person's place on the plane and stamp for each picture, worked out at once."""

    moves: Moves
    y: list[float]
    right: list[float]
    down: list[float]
    scale: list[float]
    turn: list[int]
    step: list[int]

    @classmethod
    def of(cls, moves: Moves) -> _Figure:
        right, down = plane(moves.x, moves.y)
        turn = np.round(moves.heading / (2 * math.pi) * HEADINGS).astype(int) % HEADINGS
        step = (moves.phase * STRIDES).astype(int)
        return cls(moves, *(values.tolist() for values in (moves.y, right, down, scale_at(moves.y), turn, step)))


class Painter:
    """Paints the pictures of one scene, ``width`` pixels wide (16:9)."""

    def __init__(self, scene: Scene, seed: int, width: int = WIDTH, heading: Heading = HEADING):
        ready_to_paint()
        self.scene, self.heading = scene, heading
        self.quality = width / WIDTH
        self.size = width, round(HEIGHT * self.quality)
        self.stage: Stage = stage(scene, seed)
        self.aims = aims(scene, self.stage, seed)
        self.image = QImage(*self.size, QImage.Format_RGB32)
        self._near: dict[tuple, Stamp] = {}
        self._figures = [_Figure.of(person) for person in self.stage.people]
        self._board: QImage | None = None
        self._excited = excitement(scene, np.arange(len(self.aims)) / FPS)
        self._backdrops = self._plan()

    def __len__(self) -> int:
        return len(self.aims)

    def pictures(self) -> Iterator[QImage]:
        """Every picture in order; the same image is painted over again."""
        for index in range(len(self.aims)):
            yield self.paint(index)

    # -- what stands still -------------------------------------------------------------------------------------------

    def _plan(self) -> list[tuple[float, float, float, float, float]]:
        """The backdrops the scene needs: (scale, left, top, right, bottom) on the plane, finest last."""
        zooms, held = np.unique([aim.zoom for aim in self.aims], return_counts=True)
        levels = [float(zoom) for zoom, count in zip(zooms, held, strict=False) if count > 12
                  or zoom in (zooms[0], zooms[-1])]
        # between held zooms, nothing is drawn at much less than it was painted
        for low, high in list(pairwise(levels)):
            steps = math.ceil(math.log(high / low) / math.log(2.4))
            levels += [low * (high / low) ** (step / steps) for step in range(1, steps)]
        levels.sort()
        plans = []
        for number, level in enumerate(levels):
            low = levels[number - 1] if number else 0
            chosen = [aim for aim in self.aims if low * 1.0001 < aim.zoom <= level * 1.0001] or self.aims[:1]
            half = [(WIDTH / 2 + 12) / aim.zoom for aim in chosen]
            tall = [(HEIGHT / 2 + 12) / aim.zoom for aim in chosen]
            plans.append((level, min(a.right - h for a, h in zip(chosen, half, strict=False)),
                          min(a.down - t for a, t in zip(chosen, tall, strict=False)),
                          max(a.right + h for a, h in zip(chosen, half, strict=False)),
                          max(a.down + t for a, t in zip(chosen, tall, strict=False))))
        return plans

    def _backdrop(self, zoom: float) -> Window:
        fine_enough = (backdrop for backdrop in self._backdrops if zoom <= backdrop[0] * 1.0001)
        level, left, top, right, bottom = next(fine_enough, self._backdrops[-1])
        scale = level * self.quality
        if right - left < 5200 and level <= 1.0001:        # a whole side of the field serves several scenes
            left, right = min(left, -1500), max(right, 1500)
            top, bottom = min(top, 150 if level > 0.9 else -40), max(bottom, 1010 if level > 0.9 else 1130)
            left, right = math.floor(left / 400) * 400, math.ceil(right / 400) * 400
            top, bottom = math.floor(top / 60) * 60, math.ceil(bottom / 60) * 60
        key = scale, left, top, right, bottom
        for (have, have_left, have_top, have_right, have_bottom), window in _WINDOWS.items():
            if (have == scale and have_left <= left and have_top <= top and have_right >= right
                    and have_bottom >= bottom):
                return window
        if len(_WINDOWS) >= 10:
            _WINDOWS.pop(next(iter(_WINDOWS)))
        _WINDOWS[key] = backdrop(left, top, math.ceil((right - left) * scale), math.ceil((bottom - top) * scale), scale)
        return _WINDOWS[key]

    # -- one picture -------------------------------------------------------------------------------------------------

    def aim_of(self, index: int) -> Aim:
        """Where picture ``index`` looks as it is painted: a backdrop is cut at whole pixels where it can be."""
        return self._cut(index)[1]

    def _cut(self, index: int) -> tuple[Window, Aim, float, float]:
        """The backdrop of a picture, its aim, and where in the backdrop its upper left corner is."""
        aim = self.aims[index]
        window = self._backdrop(aim.zoom)
        scale = aim.zoom * self.quality
        left = (aim.right - window.left) * window.scale - self.size[0] / 2 * window.scale / scale
        top = (aim.down - window.top) * window.scale - self.size[1] / 2 * window.scale / scale
        if abs(window.scale / scale - 1) < 1e-4:
            left, top = round(left), round(top)
            aim = Aim((left + self.size[0] / 2) / scale + window.left, (top + self.size[1] / 2) / scale + window.top,
                      aim.zoom)
        return window, aim, left, top

    def paint(self, index: int) -> QImage:
        """Paint and return picture ``index``."""
        window, aim, left, top = self._cut(index)
        factor = window.scale / (aim.zoom * self.quality)
        painter = QPainter(self.image)
        if abs(factor - 1) < 1e-4:
            painter.drawImage(0, 0, window.image, int(left), int(top), *self.size)
        else:
            painter.setRenderHint(QPainter.SmoothPixmapTransform)
            painter.drawImage(QRectF(0, 0, *self.size), window.image,
                              QRectF(left, top, self.size[0] * factor, self.size[1] * factor))
        painter.setRenderHint(QPainter.Antialiasing)
        self._crowd(painter, aim, index)
        self._scoreboard(painter, aim)
        self._world(painter, aim, index)
        painter.end()
        return self.image

    def _spot(self, aim: Aim, x: float, y: float, z: float = 0.0) -> QPointF:
        return QPointF(*aim.pixel(x, y, z, self.quality))

    def _world(self, painter: QPainter, aim: Aim, index: int) -> None:
        stage, time = self.stage, index / FPS
        for flag in stage.flags:
            self._flag(painter, aim, flag, time)
        things: list[tuple[float, object, tuple]] = [(person.y[index], self._person, (person,))
                                                     for person in self._figures]
        things += [(pole.y[index] - 0.42, self._pole, (pole, what)) for pole, what in stage.rods]
        x, y, z = stage.ball[index]
        if not math.isnan(x):
            things.append((y - 0.05, self._ball, (x, y, z)))
        if self.scene.kind is ShotKind.MEASUREMENT and len(stage.rods) > 1:
            things.append((stage.rods[0][0].y[index], self._chain, ()))
        things.sort(key=lambda thing: -thing[0])
        for _, draw, arguments in things:
            draw(painter, aim, index, *arguments)
        if stage.coin is not None and not math.isnan(stage.coin[index, 0]):
            spot = self._spot(aim, *stage.coin[index])
            radius = 0.07 * scale_at(26) * aim.zoom * self.quality
            painter.setPen(Qt.NoPen)
            painter.setBrush(QColor("#ffe9a0"))
            painter.drawEllipse(spot, radius * abs(math.sin(index * 1.1)) + 0.8, radius)

    def _crowd(self, painter: QPainter, aim: Aim, index: int) -> None:
        """Those in the stand who cannot sit still; the others are part of the backdrop."""
        scale = aim.zoom * self.quality
        size = scale_at(STAND_Y + 5) * scale
        left, top = aim.right - self.size[0] / 2 / scale - 9, aim.down - self.size[1] / 2 / scale - 9
        right = 2 * aim.right - left
        excited = float(self._excited[index])
        time, beat = index / FPS, 3.0 + 5.0 * excited
        for person, across, down in _LIVELY:
            if not left < across < right or down < top:
                continue
            rise = (0.04 + 0.5 * excited) * max(math.sin(time * beat + person.rhythm), 0.0)
            image, foot_x, foot_y = _seat_stamp(person.cloth, person.cloth_shade // 20 * 20, person.skin,
                                                round(person.tall, 1), size_step(size))
            painter.drawImage(round((across - aim.right) * scale + self.size[0] / 2) - foot_x,
                              round((down - aim.down) * scale + self.size[1] / 2 - rise * size) - foot_y, image)

    def _person(self, painter: QPainter, aim: Aim, index: int, person: _Figure) -> None:
        scale = aim.zoom * self.quality
        size = person.scale[index] * scale
        x = (person.right[index] - aim.right) * scale + self.size[0] / 2
        y = (person.down[index] - aim.down) * scale + self.size[1] / 2
        if not (-3 * size < x < self.size[0] + 3 * size and -size < y < self.size[1] + 3 * size):
            return
        moves = person.moves
        if size > _CLOSE * self.quality or aim.zoom > 1.6:
            self._close(painter, QPointF(x, y), size, moves, index)
            return
        image, left, up = stamp(moves.look, moves.pose[index], person.step[index], person.turn[index], size_step(size))
        painter.drawImage(round(x) - left, round(y) - up, image)

    def _close(self, painter: QPainter, spot: QPointF, size: float, person: Moves, index: int) -> None:
        """Somebody near: drawn afresh while moving or zoomed at, from a stamp of their own while standing still."""
        pose, heading = person.pose[index], float(person.heading[index])
        if pose in IN_MOTION or self.aims[index].zoom != self.aims[max(index - 1, 0)].zoom:
            draw_figure(painter, spot, size, person.look, pose, float(person.phase[index]), heading, person.number)
            return
        key = person.look, pose, round(heading, 1), round(size), person.number
        if key not in self._near:
            self._near[key] = draw_stamp(person.look, pose, 0.0, heading, size, person.number)
        image, left, up = self._near[key]
        painter.drawImage(round(spot.x()) - left, round(spot.y()) - up, image)

    def _pole(self, painter: QPainter, aim: Aim, index: int, person: Moves, what: str) -> None:
        x, y = float(person.x[index]), float(person.y[index]) - 0.42
        size = scale_at(y) * aim.zoom * self.quality
        foot, head = self._spot(aim, x, y), self._spot(aim, x, y, 1.95)
        painter.setPen(QPen(QColor("#e8742a"), max(0.055 * size, 1.2), Qt.SolidLine, Qt.RoundCap))
        painter.drawLine(foot, head)
        if what == "rod":
            painter.setPen(QPen(QColor("#16181c"), max(0.02 * size, 0.5)))
            painter.setBrush(QColor("#f08a34"))
            painter.drawEllipse(head, 0.2 * size, 0.2 * size)
            painter.setBrush(QColor("#16181c"))
            painter.drawEllipse(head, 0.08 * size, 0.08 * size)
            return
        box = QRectF(head.x() - 0.27 * size, head.y() - 0.5 * size, 0.54 * size, 0.6 * size)
        painter.setPen(QPen(QColor("#5f2a0a"), max(0.025 * size, 0.6)))
        painter.setBrush(QColor("#f26f21"))
        painter.drawRoundedRect(box, 0.05 * size, 0.05 * size)
        inner = box.adjusted(0.05 * size, 0.05 * size, -0.05 * size, -0.05 * size)
        painter.setPen(Qt.NoPen)
        painter.setBrush(QColor("#15171a"))
        painter.drawRoundedRect(inner, 0.03 * size, 0.03 * size)
        font = QFont("DejaVu Sans")
        font.setBold(True)
        font.setPixelSize(max(int(0.5 * size), 5))
        painter.setFont(font)
        painter.setPen(QColor("#fff4dc"))
        painter.drawText(box, Qt.AlignCenter, str(self.stage.chains.down or ""))

    def _chain(self, painter: QPainter, aim: Aim, index: int) -> None:
        rear, front = (pole for pole, _ in self.stage.rods[:2])
        a = self._spot(aim, float(rear.x[index]), float(rear.y[index]) - 0.42, 0.12)
        b = self._spot(aim, float(front.x[index]), float(front.y[index]) - 0.42, 0.12)
        size = scale_at(20) * aim.zoom * self.quality
        painter.setPen(QPen(QColor("#d8dcdf"), max(0.03 * size, 1), Qt.DashLine))
        painter.drawLine(a, b)

    def _ball(self, painter: QPainter, aim: Aim, index: int, x: float, y: float, z: float) -> None:
        size = scale_at(y) * aim.zoom * self.quality
        spot = self._spot(aim, x, y, z)
        if z > 1.6:
            ground = self._spot(aim, x, y)
            painter.setPen(Qt.NoPen)
            painter.setBrush(QColor(0, 0, 0, 70))
            painter.drawEllipse(ground, 0.2 * size, 0.08 * size)
        painter.save()
        painter.translate(spot)
        painter.rotate(-math.degrees(float(self.stage.spin[index])) + (index * 37 if z > 6 else 0))
        painter.setPen(QPen(QColor("#2d1508"), max(0.03 * size, 0.6)))
        painter.setBrush(QColor("#8f4a20"))
        long, thick = max(0.17 * size, 3.4), max(0.105 * size, 2.2)
        painter.drawEllipse(QPointF(0, 0), long, thick)
        painter.setPen(QPen(QColor("#f3ead8"), max(0.025 * size, 0.7)))
        painter.drawLine(QPointF(-long * 0.35, -thick * 0.3), QPointF(long * 0.35, -thick * 0.3))
        painter.restore()

    def _flag(self, painter: QPainter, aim: Aim, flag, time: float) -> None:
        part = (time - flag.time) / 0.8
        if part < 0:
            return
        part = min(part, 1.0)
        x, y = (a + (b - a) * part for a, b in zip(flag.start, flag.end, strict=False))
        size = scale_at(y) * aim.zoom * self.quality
        spot = self._spot(aim, x, y, 4 * 3.0 * part * (1 - part) + 0.05)
        painter.setPen(Qt.NoPen)
        painter.setBrush(QColor("#ffe21a"))
        painter.save()
        painter.translate(spot)
        painter.rotate(time * 500 if part < 1 else 20)
        painter.drawRect(QRectF(-0.2 * size, -0.1 * size, 0.4 * size, 0.22 * size))
        painter.restore()

    # -- scoreboard --------------------------------------------------------------------------------------------------

    def _scoreboard(self, painter: QPainter, aim: Aim) -> None:
        x, y = SCOREBOARD_AT
        corner = self._spot(aim, x, y, SCOREBOARD_UP + SCOREBOARD_SIZE[1])
        size = scale_at(y) * aim.zoom * self.quality
        if corner.x() > self.size[0] or corner.x() + SCOREBOARD_SIZE[0] * size < 0 or corner.y() > self.size[1]:
            return
        if self._board is None:
            self._board = board(self.scene, self.heading)
        for foot in (0.18, 0.82):
            post = self._spot(aim, x + SCOREBOARD_SIZE[0] * foot, y)
            painter.setPen(QPen(QColor("#2a333b"), 0.45 * size, Qt.SolidLine, Qt.FlatCap))
            painter.drawLine(post, QPointF(post.x(), corner.y() + size))
        painter.setRenderHint(QPainter.SmoothPixmapTransform)
        painter.drawImage(QRectF(corner.x(), corner.y(), SCOREBOARD_SIZE[0] * size, SCOREBOARD_SIZE[1] * size),
                          self._board)


_LIVELY = [(person, *plane(person.x, person.y, person.up)) for person in spectators() if person.lively]


@lru_cache(maxsize=4000)
def _seat_stamp(cloth: str, shade: int, skin: str, tall: float, step: int) -> tuple[QImage, int, int]:
    size = size_of(step)
    image = QImage(round(0.7 * size) + 2, round((tall + 0.4) * size) + 2, QImage.Format_ARGB32_Premultiplied)
    image.fill(0)
    foot = QPointF(image.width() / 2, image.height() - 1)
    painter = QPainter(image)
    painter.setRenderHint(QPainter.Antialiasing)
    painter.setPen(Qt.NoPen)
    draw_spectator(painter, foot, size, Spectator(0, 0, 0, 0, tall, cloth, shade, skin, True, 0))
    painter.end()
    return image, round(foot.x()), round(foot.y())


def board(scene: Scene, heading: Heading = HEADING) -> QImage:
    """The face of the scoreboard: names, score, clock, period; down and distance while a series is on."""
    truth = scene.truth
    wide, tall = 1300, 560
    image = QImage(wide, tall, QImage.Format_ARGB32_Premultiplied)
    image.fill(QColor("#12203f"))
    painter = QPainter(image)
    painter.setRenderHint(QPainter.Antialiasing)

    def text(words: str, x: float, y: float, w: float, h: float, tall: int, color: str,
             family: str = "DejaVu Sans") -> None:
        font = QFont(family)
        font.setBold(True)
        font.setPixelSize(tall)
        painter.setFont(font)
        painter.setPen(QColor(color))
        painter.drawText(QRectF(x, y, w, h), Qt.AlignCenter, words)

    def lamps(words: str, x: float, y: float, w: float, h: float, tall: int, color: str) -> None:
        painter.setPen(QPen(QColor("#05070b"), 6))
        painter.setBrush(QColor("#0a0d12"))
        painter.drawRoundedRect(QRectF(x, y, w, h), 12, 12)
        for spread, alpha in ((3, 50), (0, 255)):
            glow = QColor(color)
            glow.setAlpha(alpha)
            text(words, x + spread, y + spread, w, h, tall, glow.name(QColor.HexArgb), "DejaVu Sans Mono")

    painter.setPen(QPen(QColor("#d9b44a"), 14))
    painter.setBrush(Qt.NoBrush)
    painter.drawRect(7, 7, wide - 14, tall - 14)
    text("HERONRY FIELD", 0, 16, wide, 70, 50, "#e9d9a0")
    text(heading.home.upper(), 40, 92, 430, 60, 46, "#ffffff")
    text(heading.visitors.upper(), 830, 92, 430, 60, 46, "#ffffff")
    lamps(str(truth.score_home), 115, 160, 270, 200, 170, "#ffd34d")
    lamps(str(truth.score_visitors), 915, 160, 270, 200, 170, "#ffd34d")
    clock = truth.clock or 0
    lamps(f"{clock // 60}:{clock % 60:02d}", 435, 150, 430, 180, 150, "#ff5a3c")
    series = truth.next is Next.SCRIMMAGE and scene.kind is not ShotKind.SCOREBOARD
    text("QTR", 435, 345, 430, 40, 32, "#c8d2e6")
    lamps(str(truth.period), 575, 385, 150, 130, 105, "#7dff8a")
    text("DOWN", 60, 372, 180, 40, 32, "#c8d2e6")
    lamps(str(truth.down) if series else "", 75, 415, 150, 110, 88, "#7dff8a")
    text("TO GO", 260, 372, 180, 40, 32, "#c8d2e6")
    lamps(str(max(round(truth.yards_to_gain), 1)) if series and truth.yards_to_gain else "", 275, 415, 150, 110, 88,
          "#7dff8a")
    text("BALL", 960, 372, 180, 40, 32, "#c8d2e6")
    painter.setPen(Qt.NoPen)
    for x, team in ((960, Team.HOME), (1100, Team.VISITORS)):
        painter.setBrush(QColor("#ffd34d" if series and truth.offense is team else "#1a2744"))
        painter.drawEllipse(QPointF(x + 20, 468), 26, 26)
    painter.end()
    return image
