"""The same invented game from a second camera, behind the left end zone: its own place, starts, stops and clock.

It films plays only. What it does by itself is the ground truth that tests use: :func:`shots` says when each of its
shots begins and ends, and which scenes it shows.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from functools import cached_property

import numpy as np
from PySide6.QtCore import QPointF
from PySide6.QtGui import QColor, QImage, QPainter, QPen, QPolygonF

from ..tagging.model import ShotKind
from .choreography import Stage, stage
from .figures import HEADINGS, STRIDES, size_step, stamp
from .painter import ready_to_paint
from .script import Scene
from .sound import RATE, sound
from .tracks import FPS, smooth
from .view import FIELD_WIDTH

WIDTH, HEIGHT = 640, 360
CREW = "Demo parent"
APART = 95                      # seconds of the evening from the start of one scene to the start of the next
OFFSET, DRIFT = 3.4, 40e-6      # its clock against the first camera's: seconds, and seconds a second
MISSED = ("visitors run for two", "short pass")         # plays that it did not film
RUNS_THROUGH = "home run for four"      # its shot runs on through the play after it
_BACK, _UP = 34.0, 15.0         # yards: behind the goal line, and above the ground
_ACROSS = 46.0                  # yards of field that the picture shows at the ball
_MOST_LEAD, _MOST_TAIL = 1.4, 0.9       # seconds of a scene before it begins, and after it ends


@dataclass(frozen=True, slots=True)
class EndZoneShot:
    """From ``begins`` to ``ends``, seconds of the evening (from the first scene's first picture), through the scenes of
    these numbers."""

    begins: float
    ends: float
    scenes: tuple[int, ...]

    @property
    def pictures(self) -> int:
        """How many pictures it has."""
        return round((self.ends - self.begins) * FPS)


def shots(scenes: Sequence[Scene], chosen: Sequence[int] | None = None) -> list[EndZoneShot]:
    """The shots of the end zone's camera, of all scenes or of those *chosen*."""
    chance = np.random.default_rng(34)
    made: list[EndZoneShot] = []
    joins = False
    for index, scene in enumerate(scenes):
        lead, tail = chance.uniform(0.1, _MOST_LEAD), chance.uniform(0.1, _MOST_TAIL)
        if scene.kind is not ShotKind.PLAY or scene.name in MISSED or (chosen is not None and index not in chosen):
            continue
        begins = round((APART * index + min(lead, scene.seconds * 0.1)) * FPS) / FPS
        ends = begins + round((scene.seconds - 0.1 * lead - min(tail, scene.seconds * 0.08)) * FPS) / FPS
        if joins and made:
            made[-1] = EndZoneShot(made[-1].begins, ends, (*made[-1].scenes, index))
        else:
            made.append(EndZoneShot(begins, ends, (index,)))
        joins = scene.name == RUNS_THROUGH
    return made


def recorded_at(shot: EndZoneShot, day: str) -> str:
    """When its clock says that it began a shot; whole seconds, as cameras write them."""
    start = datetime.fromisoformat(f"{day}T19:00:00").replace(tzinfo=UTC)
    return (start + timedelta(seconds=int(shot.begins * (1 + DRIFT) + OFFSET))).strftime("%Y-%m-%dT%H:%M:%SZ")


def heard(shot: EndZoneShot, scenes: Sequence[Scene]) -> np.ndarray:
    """What its microphone hears: the same evening, fainter, and somebody's talk beside it. Samples x 2, float32."""
    samples = round(shot.pictures / FPS * RATE)
    chance = np.random.default_rng(round(shot.begins * 100) + 7)
    both = chance.standard_normal((samples, 2)).astype(np.float32) * 0.006
    for index in shot.scenes:
        piece = sound(scenes[index], index)
        begin = round((APART * index - shot.begins) * RATE)
        first, last = max(begin, 0), min(begin + len(piece), samples)
        both[first:last] += piece[first - begin:last - begin] * 0.55
    return both


class EndZonePainter:
    """Paints the pictures of one shot."""

    def __init__(self, shot: EndZoneShot, scenes: Sequence[Scene]):
        ready_to_paint()
        self._shot, self._scenes = shot, scenes
        self.image = QImage(WIDTH, HEIGHT, QImage.Format.Format_RGB32)

    def pictures(self) -> Iterator[QImage]:
        """Every picture in order; the same image is painted over again."""
        parts = [_Part(self._scenes[index], index) for index in self._shot.scenes]
        last: tuple[int, int] | None = None
        for number in range(self._shot.pictures):
            time = self._shot.begins + number / FPS
            here = max((place for place, part in enumerate(parts) if part.begins <= time), default=0)
            at = min(max(round((time - parts[here].begins) * FPS), 0), parts[here].length - 1)
            if (here, at) != last:      # between two plays everybody stands still
                parts[here].paint(self.image, at)
                last = here, at
            yield self.image


class _Part:
    """One scene as the end zone sees it."""

    def __init__(self, scene: Scene, index: int):
        self._stage: Stage = stage(scene, index)
        self.begins = float(APART * index)
        assert self._stage.follow is not None
        self.length = len(self._stage.follow)

    @cached_property
    def _aims(self) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
        """For each picture: pixels a unit of the plane, and its middle, right and down."""
        follow = self._stage.follow
        assert follow is not None
        x, y = smooth(np.clip(follow[:, 0], -4, 104), 45), smooth(follow[:, 1], 45)
        depth = x + _BACK
        scale = WIDTH / _ACROSS * depth
        return scale, -(y - FIELD_WIDTH / 2) * 0.5 / depth, (_UP - 1.5) / depth

    def paint(self, image: QImage, at: int) -> None:
        scale, middle, down = (values[at] for values in self._aims)

        def spot(x: float, y: float, z: float = 0.0) -> QPointF:
            depth = max(x + _BACK, 2.0)
            return QPointF((-(y - FIELD_WIDTH / 2) / depth - middle) * scale + WIDTH / 2,
                           ((_UP - z) / depth - down) * scale + HEIGHT / 2)

        painter = QPainter(image)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        self._ground(painter, spot)
        stage_now = self._stage
        for person in sorted(stage_now.people, key=lambda each: -each.x[at]):
            depth = float(person.x[at]) + _BACK
            if depth < 4:
                continue
            turn = round((float(person.heading[at]) + math.pi / 2) / (2 * math.pi) * HEADINGS) % HEADINGS
            made, left, up = stamp(person.look, person.pose[at], int(person.phase[at] * STRIDES), turn,
                                   size_step(scale / depth))
            place = spot(float(person.x[at]), float(person.y[at]))
            painter.drawImage(round(place.x()) - left, round(place.y()) - up, made)
        x, y, z = stage_now.ball[at]
        if not math.isnan(x):
            painter.setPen(QPen(QColor("#3b1f0d"), 1))
            painter.setBrush(QColor("#8a4a22"))
            size = max(0.16 * scale / (x + _BACK), 1.2)
            painter.drawEllipse(spot(x, y, z), size, size * 0.8)
        painter.end()

    def _ground(self, painter: QPainter, spot) -> None:
        painter.fillRect(0, 0, WIDTH, HEIGHT, QColor("#2c3f33"))
        horizon = spot(400.0, 0.0).y()
        painter.fillRect(0, 0, WIDTH, max(round(horizon), 0), QColor("#7f93a6"))
        for place in range(-10, 110, 5):
            corners = [spot(place, -6), spot(place + 5, -6), spot(place + 5, FIELD_WIDTH + 6),
                       spot(place, FIELD_WIDTH + 6)]
            painter.setPen(QPen(QColor(0, 0, 0, 0)))
            painter.setBrush(QColor("#3f7d3c" if place // 5 % 2 else "#387236"))
            painter.drawPolygon(QPolygonF(corners))
        painter.setPen(QPen(QColor("#eef2ea"), 1.6))
        for place in range(0, 101, 5):
            painter.drawLine(spot(place, 0), spot(place, FIELD_WIDTH))
        for side in (0.0, FIELD_WIDTH):
            painter.drawLine(spot(-10, side), spot(110, side))
        for end in (-10, 110):
            painter.drawLine(spot(end, 0), spot(end, FIELD_WIDTH))
        for hash_mark in (FIELD_WIDTH / 3, FIELD_WIDTH * 2 / 3):
            for place in range(0, 101, 5):
                painter.drawLine(spot(place - 0.4, hash_mark), spot(place + 0.4, hash_mark))
        painter.setPen(QPen(QColor("#e8c33a"), 2.5))
        middle = FIELD_WIDTH / 2
        painter.drawLine(spot(110, middle), spot(110, middle, 3.3))
        painter.drawLine(spot(110, middle - 3.9, 3.3), spot(110, middle + 3.9, 3.3))
        for side in (-3.9, 3.9):
            painter.drawLine(spot(110, middle + side, 3.3), spot(110, middle + side, 10))
