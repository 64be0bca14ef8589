"""The crowd in the far stand: how excited it is, who sits where, and who cannot sit still."""

from __future__ import annotations

import math
import random
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from ..football.plays import Outcome, PlayKind
from ..football.situation import Next
from ..tagging.model import MomentKind, ShotKind
from .script import Scene
from .view import FIELD_WIDTH

STAND_LEFT, STAND_RIGHT = 17.0, 83.0
STAND_Y = FIELD_WIDTH + 15.5
ROWS = 12
ROW_DEEP, ROW_UP, FIRST_UP = 0.9, 0.62, 1.2     # yards
_CLOTH = ("#8c1f2d", "#a6293a", "#e9e6de", "#f4f1ea", "#8c1f2d", "#3c4654", "#59636f", "#c9b27a", "#2c3540", "#b9434f")
_SKINS = ("#d8a988", "#a8795a", "#7a5238", "#c99a78")


@dataclass(frozen=True, slots=True)
class Spectator:
    """Somebody in the stand; sizes in yards. ``lively`` ones get up and down."""

    row: int
    x: float
    y: float
    up: float
    tall: float
    cloth: str
    cloth_shade: int
    skin: str
    lively: bool
    rhythm: float


@lru_cache(maxsize=1)
def spectators() -> tuple[Spectator, ...]:
    """Everybody in the far stand, back row first."""
    chance = random.Random(23)
    people = []
    for row in reversed(range(ROWS)):
        x = STAND_LEFT + 0.4
        while x < STAND_RIGHT - 0.4:
            x += chance.uniform(0.5, 0.62)
            if chance.random() < 0.16 or abs((x - STAND_LEFT) % 16.5) < 0.9:      # an empty seat or an aisle
                continue
            people.append(Spectator(
                row, x, STAND_Y + row * ROW_DEEP, FIRST_UP + row * ROW_UP,
                chance.uniform(0.62, 0.85) + (0.25 if chance.random() < 0.12 else 0), chance.choice(_CLOTH),
                chance.randint(105, 165), chance.choice(_SKINS), chance.random() < 0.14,
                chance.uniform(0, 2 * math.pi)))
    return tuple(people)


def at_most(scene: Scene) -> float:
    """How much a play excites the crowd, 0 to 1."""
    play = scene.play
    if play is None:
        return 0.15
    if play.score or scene.truth.next is Next.TRY or play.kind is PlayKind.FIELD_GOAL:
        return 0.75
    gain = play.gain or 0
    if play.kind is PlayKind.PASS and play.outcome is Outcome.COMPLETE and scene.truth.ball_on + gain >= 100:
        return 1.0
    if play.kind is PlayKind.KICKOFF:
        return 0.6
    return min(0.28 + max(gain, 0) / 55 + (0.3 if scene.truth.down == 4 else 0), 1.0)


def excitement(scene: Scene, times: np.ndarray) -> np.ndarray:
    """How excited the crowd is at each time of a scene (seconds), 0 to 1."""
    level = np.zeros_like(times)
    snap, dead = scene.at(MomentKind.SNAP), scene.at(MomentKind.DEAD_BALL)
    if snap is not None:
        rise = np.clip((times - snap) / max(dead - snap, 1), 0, 1) ** 1.6
        stays = 1.7 if at_most(scene) < 0.7 else 4.0        # seconds; a score is cheered for longer
        level += at_most(scene) * rise * np.exp(-np.clip(times - dead - 0.6, 0, None) / stays)
    if scene.kind is ShotKind.INJURY:       # applause for somebody who walks
        level += 0.3 * np.clip(times / 2.5, 0, 1)
    start, over = scene.at(MomentKind.CONFRONTATION), scene.at(MomentKind.CONFRONTATION_OVER)
    if start is not None:
        level += 0.6 * np.clip(times - start, 0, 1) * np.exp(-np.clip(times - over, 0, None) / 1.5)
    return np.clip(level, 0, 1)
