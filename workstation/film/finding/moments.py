"""Suggest where the frame is full wide from the camera's motion: where its zoom, or its last settling movement before
the snap, ends."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from .settings import MOMENTS

if TYPE_CHECKING:
    from .group_motion import GroupMotion


@dataclass(frozen=True, slots=True, eq=False)
class ShotMotion:
    """The movements of one shot: ``at[i]`` seconds from its first picture is when the i-th movement has ended;
    ``per_second`` has a row each of zoom, right, down (see :class:`.group_motion.GroupMotion`) as rates; ``groups``
    are the maps of what moved by itself."""

    at: np.ndarray
    per_second: np.ndarray
    groups: np.ndarray

    @classmethod
    def of(cls, at: list[float], lasted: list[float], movements: list[GroupMotion]) -> ShotMotion:
        """Return the motion of a shot from times and durations in seconds and the movement at each."""
        lasted_ = np.maximum(np.array(lasted, float), 1e-3)
        rows = np.array([movement[:3] for movement in movements], float).reshape(-1, 3)
        size = max((movement.moving.shape for movement in movements), default=(1, 1))
        groups = np.zeros((len(movements), *size), np.uint8)
        for one, movement in zip(groups, movements, strict=True):
            if movement.moving.shape == size:
                one[:] = movement.moving
        return cls(np.array(at, float), rows / lasted_[:, None], groups)

    @property
    def camera_moves(self) -> np.ndarray:
        """Whether the camera zooms or pans, one truth value for each time."""
        zoom, right, down = _smooth(self.per_second).T
        moves: np.ndarray = (np.abs(zoom) > MOMENTS.zooming) | (np.hypot(right, down) > MOMENTS.panning)
        return moves


def _smooth(rows: np.ndarray) -> np.ndarray:
    """Median of three, so that one bad fit is no movement."""
    if len(rows) < 3:
        return rows
    padded = np.concatenate([rows[:1], rows, rows[-1:]])
    smooth: np.ndarray = np.median(np.stack([padded[:-2], padded[1:-1], padded[2:]]), axis=0)
    return smooth


def find_full_wide(motion: ShotMotion, snap: float | None) -> tuple[float, float, bool] | None:
    """Return (seconds into the shot, confidence, whether a zoom ended) of the likely full wide, or None: where the
    first zooming out ends, or where a camera that moved at the shot's beginning comes to rest before the snap."""
    at = motion.at
    if not len(at):
        return None
    rows = _smooth(motion.per_second)
    early = at <= (snap if snap is not None else MOMENTS.settles)     # else it may be the play that is followed
    out = (rows[:, 0] < -MOMENTS.zooming) & early
    if out.any():
        steps = rows[:, 0] * np.diff(at, prepend=0.0)
        runs = np.split(np.flatnonzero(out), np.flatnonzero(np.diff(np.flatnonzero(out)) > 4) + 1)
        for run in runs:
            wide = -float(steps[run].sum())
            if wide >= MOMENTS.zoomed:
                return float(at[run[-1]]), float(min(0.5 + wide / 2, 0.95)), True
    moves = motion.camera_moves & early & (at <= MOMENTS.settles)
    if moves[:5].any() and not moves.all():
        last = np.flatnonzero(moves)[-1]
        rests = ~motion.camera_moves[last + 1:last + 6]
        if len(rests) >= 4 and rests.all():
            return float(at[last]), 0.4, False
    return None
