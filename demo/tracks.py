"""What somebody does over a scene: waypoints and poses, turned into one value for each picture."""

from __future__ import annotations

import math
from dataclasses import dataclass, field

import numpy as np

from .figures import IN_MOTION, FigureLook

FPS = 30000 / 1001
_STRIDE = {"run": 2.6, "carry": 2.6, "walk": 1.5, "shake": 1.5, "lean": 1.2, "support": 1.2}
_CYCLES = {"wave", "shove", "holding", "block"}     # poses that repeat
_SMOOTH = 9                     # pictures over which corners of a path are rounded


@dataclass
class Track:
    """One person's way through a scene. Times are seconds of the scene, places yards of the world.

    Between waypoints people move; with no pose told, how fast they move decides how they look.
    ``moving`` replaces the look of running (a ball carrier tucks the ball away).
    """

    look: FigureLook
    number: str
    faces: float                                    # heading in radians while standing
    way: list[tuple[float, float, float]]           # (time, x, y), times rising
    poses: list[tuple[float, str | None, float]] = field(default_factory=list)   # (time, pose or None, seconds)
    turns: list[tuple[float, float]] = field(default_factory=list)               # (time, heading while standing)
    carries: list[tuple[float, float]] = field(default_factory=list)             # spans with the ball in the arm
    still: str = "stand"
    locked: list[tuple[float, float, float]] = field(default_factory=list)       # (from, to, heading)

    def to(self, time: float, x: float, y: float) -> Track:
        """Be there at that time."""
        last, _last_x, _last_y = self.way[-1]
        if time <= last:
            time = last + 0.05
        self.way.append((time, x, y))
        return self

    def wait(self, time: float) -> Track:
        """Stay where the last waypoint is until that time."""
        if time > self.way[-1][0]:
            self.way.append((time, *self.way[-1][1:]))
        return self

    def towards(self, time: float, x: float, y: float, speed: float = 6.8, short: float = 0.0) -> Track:
        """Head there, no faster than ``speed`` yards a second, stopping ``short`` yards before."""
        last, from_x, from_y = self.way[-1]
        gap = math.hypot(x - from_x, y - from_y)
        go = max(min(gap - short, speed * max(time - last, 0.05)), 0.0)
        part = go / gap if gap > 0.01 else 0.0
        return self.to(time, from_x + (x - from_x) * part, from_y + (y - from_y) * part)

    def do(self, time: float, pose: str | None, lasts: float = 1.0) -> Track:
        """Hold a pose from that time on; its phase runs once every ``lasts`` seconds. None: as the feet go."""
        self.poses.append((time, pose, lasts))
        return self

    def turn(self, time: float, heading: float) -> Track:
        """Face that way from then on while standing."""
        self.turns.append((time, heading))
        return self

    @property
    def place(self) -> tuple[float, float]:
        """Where the track has come to so far."""
        return self.way[-1][1:]


@dataclass(frozen=True)
class Moves:
    """A track for every picture of a scene."""

    look: FigureLook
    number: str
    x: np.ndarray
    y: np.ndarray
    heading: np.ndarray
    phase: np.ndarray
    pose: list[str]


def smooth(values: np.ndarray, width: int = _SMOOTH) -> np.ndarray:
    """Round corners off: two passes of a moving average, ends held."""
    kernel = np.ones(width) / width
    for _ in range(2):
        values = np.convolve(np.pad(values, width // 2, mode="edge"), kernel, mode="valid")[:len(values)]
    return values


def moves(track: Track, pictures: int) -> Moves:
    """Turn a track into one place, heading, pose and phase for each picture."""
    times = np.arange(pictures) / FPS
    when, xs, ys = (np.array(column) for column in zip(*track.way, strict=False))
    x, y = smooth(np.interp(times, when, xs)), smooth(np.interp(times, when, ys))
    dx, dy = np.gradient(x) * FPS, np.gradient(y) * FPS
    speed = np.hypot(dx, dy)

    facing = np.full(pictures, track.faces)
    for time, heading in sorted(track.turns):
        facing[times >= time] = heading
    moving = np.where(speed > 0.6, np.arctan2(dy, dx), facing)
    unwrapped = smooth(np.unwrap(moving), 5)
    walked = np.cumsum(speed) / FPS

    poses = sorted(track.poses, key=lambda event: event[0])
    told: list[str | None] = [None] * pictures
    phase = np.zeros(pictures)
    for (time, pose, lasts), until in zip(poses, [*[one[0] for one in poses[1:]], math.inf], strict=False):
        span = np.flatnonzero((times >= time) & (times < until))
        for index in span:
            told[index] = pose
        phase[span] = ((times[span] - time) / lasts) % 1 if pose in _CYCLES else np.minimum(
            (times[span] - time) / lasts, 0.999)

    names = []
    carrying = np.zeros(pictures, bool)
    for start, end in track.carries:
        carrying |= (times >= start) & (times < end)
    for index in range(pictures):
        pose = told[index]
        if pose is None:
            pace = speed[index]
            pose = track.still if pace < 0.35 else "walk" if pace < 2.6 else "carry" if carrying[index] else "run"
        names.append(pose)
        if pose in _STRIDE:
            phase[index] = (walked[index] / _STRIDE[pose]) % 1
    phase[[name not in IN_MOTION for name in names]] = 0
    heading = unwrapped
    for start, end, way in track.locked:
        heading = np.where((times >= start) & (times < end), way, heading)
    return Moves(track.look, track.number, x, y, heading, phase, names)
