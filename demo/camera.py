"""What the trainee does with the camera: follow the ball, open tight and pull out, hold, sway a little."""

from __future__ import annotations

import numpy as np

from ..football.plays import PlayKind
from ..tagging.model import MomentKind, ShotKind
from .choreography import Stage
from .field import SCOREBOARD_AT, SCOREBOARD_SIZE, SCOREBOARD_UP
from .figures import HOME_LOOK, VISITORS_LOOK
from .script import Scene
from .tracks import FPS, smooth
from .view import FIELD_WIDTH, WIDTH, Aim, plane

#: Zooms for a full wide, closest first; 1.1 shows some 42 yards at midfield.
_WIDES = (1.1, 0.95, 0.8, 0.64, 0.5)
#: Kinds of play that need room for a ball in the air, and how close they may be.
_ZOOM = {PlayKind.KICKOFF: 0.64, PlayKind.PUNT: 0.8, PlayKind.FIELD_GOAL: 0.8, PlayKind.TRY_KICK: 0.8}
_MARGIN = 34                    # pixels between players and the edges of a full wide
_LEVEL = 568.0                  # plane units from horizon to the middle of a scrimmage picture


def _ease(times: np.ndarray, start: float, end: float) -> np.ndarray:
    """0 before ``start``, 1 after ``end``, soft at both ends."""
    part = np.clip((times - start) / max(end - start, 1e-6), 0, 1)
    return part * part * (3 - 2 * part)


def aims(scene: Scene, stage: Stage, seed: int) -> list[Aim]:
    """Where the camera looks in each picture of a scene."""
    pictures = len(stage.follow)
    times = np.arange(pictures) / FPS
    right, down, zoom = _PATHS.get(scene.kind, _play)(scene, stage, times)
    sway = np.random.default_rng(seed)
    hand = [smooth(np.interp(times, np.arange(0, times[-1] + 2, 0.45),
                             sway.normal(0, 1, len(np.arange(0, times[-1] + 2, 0.45)))), 11) for _ in range(2)]
    amount = np.where(zoom > 3, 2.6, 1.1) / zoom
    return [Aim(float(r + h * a), float(d + v * a * 0.7), float(z))
            for r, d, z, h, v, a in zip(right, down, zoom, *hand, amount, strict=False)]


def _play(scene: Scene, stage: Stage, times: np.ndarray):
    snap, dead = scene.at(MomentKind.SNAP), scene.at(MomentKind.DEAD_BALL)
    wide = scene.at(MomentKind.FULL_WIDE)
    zoom_wide, middle = _full_wide(scene, stage, wide, snap)
    ahead = 1 if scene.offense_faces_right else -1
    kick = scene.play.kind in _ZOOM
    x, y = stage.follow[:, 0].copy(), stage.follow[:, 1].copy()
    before = 1 - _ease(times, snap + 0.3, snap + (2.2 if kick else 1.6))
    x = smooth(np.clip(x, -3, 103), 25)
    y = smooth(26.7 + (y - 26.7) * 0.45 * (1 - before), 25)
    # the lens follows with the plane position of the ball's own depth, damped up and down
    right = np.array([plane(a, 26.7 + (b - 26.7) * 0.8)[0] for a, b in zip(x, y, strict=False)])
    right = right + (middle - right) * before
    near_or_far = np.array([plane(50, b)[1] for b in y])
    down = _LEVEL + (near_or_far - plane(50, 26.7)[1]) * 0.7
    zoom = np.full_like(times, zoom_wide)
    if scene.opens_on is ShotKind.DOWN_MARKER:
        tight_right, tight_down = plane(stage.chains.box, FIELD_WIDTH + 1.9, 1.35)
        pulled = _ease(times, 1.5, wide)
        zoom = 11.0 ** (1 - pulled)
        # the box keeps its place in the picture until the field comes in
        share = (1 / zoom - 1 / 11.0) / (1 - 1 / 11.0)
        right, down = tight_right + (right - tight_right) * share, tight_down + (down - tight_down) * share
    elif wide > 1.0:            # not wide in time: lingers on the quarterback, then hurries out
        pulled = _ease(times, 1.1, wide)
        zoom = 2.1 ** (1 - pulled)
        right = right - ahead * 130 * (1 - pulled)
    else:                       # settles with a last small pan
        right = right - ahead * 34 * (1 - _ease(times, 0, wide))
    if kick and scene.play.kind in (PlayKind.FIELD_GOAL, PlayKind.TRY_KICK):
        down = down - 35
    elif kick:                  # a high ball needs sky, the return less
        flight = stage.ball[:, 2]
        lift = smooth(np.nan_to_num(np.clip(flight - 3, 0, 12)), 41)
        down = down - 30 - lift * 9
    if dead is not None and scene.at(MomentKind.CONFRONTATION) is not None:
        hold = _ease(times, dead + 0.6, dead + 2.2)
        right = right + (right[-1] - right) * hold
        zoom = zoom * (1 + 0.28 * hold)
        down = down - 30 * hold
    return right, down, zoom


def _full_wide(scene: Scene, stage: Stage, wide: float, snap: float) -> tuple[float, float]:
    """The closest zoom that holds all players from full wide to the snap, and the middle of them."""
    start, end = round(wide * FPS), round(snap * FPS) + 1
    players = [person for person in stage.people if person.look in (HOME_LOOK, VISITORS_LOOK)]
    across = [plane(x, y)[0] for person in players
              for x, y in zip(person.x[start:end:4], person.y[start:end:4], strict=False)]
    low, high = min(across), max(across)
    at_most = _ZOOM.get(scene.play.kind, _WIDES[0])
    fits = (WIDTH - 2 * _MARGIN) / (high - low)
    return next((zoom for zoom in _WIDES if zoom <= min(at_most, fits)), _WIDES[-1]), (low + high) / 2


def _still(x: float, y: float, z: float, zoom: float):
    def path(scene: Scene, stage: Stage, times: np.ndarray):
        right, down = plane(x, y, z)
        ones = np.ones_like(times)
        return right * ones, down * ones, zoom * ones
    return path


def _scoreboard(scene: Scene, stage: Stage, times: np.ndarray):
    x, y = SCOREBOARD_AT
    return _still(x + SCOREBOARD_SIZE[0] / 2, y, SCOREBOARD_UP + SCOREBOARD_SIZE[1] / 2 - 0.3, 4.0)(scene, stage, times)


def _marker(scene: Scene, stage: Stage, times: np.ndarray):
    right, down, zoom = _still(stage.chains.box, FIELD_WIDTH + 1.9, 1.35, 11.0)(scene, stage, times)
    return right + 6 * (1 - _ease(times, 0, 0.5)), down, zoom


def _between(tight: tuple[float, float, float, float], wide: tuple[float, float, float, float], start: float,
             end: float):
    """Ease out from a tight picture to a wide one; each is (x, y, z, zoom)."""
    def path(scene: Scene, stage: Stage, times: np.ndarray):
        part = _ease(times, start, end)
        zoom = tight[3] * (wide[3] / tight[3]) ** part
        (right, down), (right_end, down_end) = plane(*tight[:3]), plane(*wide[:3])
        share = (1 / zoom - 1 / tight[3]) / (1 / wide[3] - 1 / tight[3])
        return right + (right_end - right) * share, down + (down_end - down) * share, zoom
    return path


def _measurement(scene: Scene, stage: Stage, times: np.ndarray):
    ahead = 1 if scene.offense_faces_right else -1
    x = scene.truth.ball_on if ahead > 0 else 100 - scene.truth.ball_on
    y = scene.ball_y + 0.6
    return _between((x - ahead * 0.4, y, 0.75, 8.0), (x - ahead * 0.8, y + 0.5, 0.9, 4.0), 6.0,
                    7.6)(scene, stage, times)


def _signal(scene: Scene, stage: Stage, times: np.ndarray):
    referee = stage.people[0]
    return _still(float(referee.x[-1]), float(referee.y[-1]), 1.1, 7.5)(scene, stage, times)


def _injury(scene: Scene, stage: Stage, times: np.ndarray):
    player = stage.people[0]
    right, down = zip(*[plane(x, y, 1.0) for x, y in zip(smooth(player.x, 31), smooth(player.y, 31), strict=False)],
                      strict=False)
    return np.array(right), np.array(down) + 30, np.full_like(times, 1.9)


_PATHS = {
    ShotKind.SCOREBOARD: _scoreboard,
    ShotKind.DOWN_MARKER: _marker,
    ShotKind.COIN_TOSS: _between((50, 26.4, 1.0, 4.2), (50, 26.7, 0.5, 1.8), 5.9, 8.1),
    ShotKind.HANDSHAKE: _still(46, 26.7, 1.0, 3.6),
    ShotKind.MEASUREMENT: _measurement,
    ShotKind.PENALTY_SIGNAL: _signal,
    ShotKind.INJURY: _injury,
}
