"""Suggest moments from motion: a snap where motion bursts after stillness, full wide where the zoom or the last
settling movement before it ends."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from .settings import MOMENTS

if TYPE_CHECKING:
    from .camera_motion import FrameMotion


@dataclass(frozen=True, slots=True, eq=False)
class ShotMotion:
    """The movements of one shot: ``at[i]`` seconds from its first picture is when the i-th movement has ended;
    ``per_second`` has a row each of zoom, right, down (see :class:`FrameMotion`) as rates; ``own`` is what moved
    by itself from one look to the next, scaled to a tenth of a second, ``most`` the same where most of it is."""

    at: np.ndarray
    per_second: np.ndarray
    own: np.ndarray
    most: np.ndarray

    @classmethod
    def of(cls, at: list[float], lasted: list[float], movements: list[FrameMotion]) -> ShotMotion:
        """Return the motion of a shot from times and durations in seconds and the movement at each."""
        lasted_ = np.maximum(np.array(lasted, float), 1e-3)
        rows = np.array([movement[:3] for movement in movements], float).reshape(-1, 3)
        own = np.array([(movement.own, movement.most) for movement in movements], float).reshape(-1, 2)
        own, most = (own * np.clip(MOMENTS.look / lasted_, 0.3, 1.5)[:, None]).T
        return cls(np.array(at, float), rows / lasted_[:, None], own, most)

    @property
    def is_static(self) -> bool:
        """Did the camera rest nearly all of the time?"""
        return len(self.at) > 0 and float((~self.camera_moves).mean()) > 0.85 and abs(self.zoomed) < MOMENTS.zoomed / 2

    @property
    def camera_moves(self) -> np.ndarray:
        """Whether the camera zooms or pans, one truth value for each time."""
        zoom, right, down = _smooth(self.per_second).T
        moves: np.ndarray = (np.abs(zoom) > MOMENTS.zooming) | (np.hypot(right, down) > MOMENTS.panning)
        return moves

    @property
    def zoomed(self) -> float:
        """The natural logarithm of the magnification from the first picture to the last."""
        return float((self.per_second[:, 0] * np.diff(self.at, prepend=0.0)).sum())


def _smooth(rows: np.ndarray) -> np.ndarray:
    """Median of three, so that one bad fit is no movement."""
    if len(rows) < 3:
        return rows
    padded = np.concatenate([rows[:1], rows, rows[-1:]])
    smooth: np.ndarray = np.median(np.stack([padded[:-2], padded[1:-1], padded[2:]]), axis=0)
    return smooth


def find_snap(motion: ShotMotion, until: float | None = None) -> tuple[float, float] | None:
    """Return (seconds into the shot, confidence 0 to 1) of the most likely snap, or None. ``until`` is a time by which
    it must have come, such as that of a whistle."""
    at, own = motion.at, _smooth(motion.own)
    if motion.is_static and len(at) and at[-1] < MOMENTS.shortest_play:
        return None
    zooms = np.abs(_smooth(motion.per_second)[:, 0]) > MOMENTS.zooming     # a zoom shows new detail, which is no motion
    best = None
    for i, now in enumerate(at):
        before = (at > now - MOMENTS.still) & (at <= now)
        after = (at > now) & (at <= now + MOMENTS.burst)
        if now < MOMENTS.earliest_snap or before.sum() < 4 or after.sum() < 3 or zooms[before | after].mean() > 0.2:
            continue
        if until is not None and now > until:
            break
        still, burst = float(np.median(own[before])), float(np.median(own[after]))
        score = (burst + MOMENTS.least_motion) / (still + MOMENTS.least_motion)
        if best is None or score > best[0]:
            best = score, i, still, burst
    if best is None or best[0] < MOMENTS.grows or best[3] - best[2] < MOMENTS.least_motion:
        return None
    score, i, *_ = best
    return max(_onset(motion, float(at[i])), 0.0), float(np.clip((score - MOMENTS.grows) / 2.5 + 0.3, 0, 0.95))


def _onset(motion: ShotMotion, about: float) -> float:
    """When a burst begins that is at its clearest ``about`` then: that is when the camera begins to follow, some tenths
    of a second after the first players move, who are a hundredth of a wide picture."""
    at, most = motion.at, _smooth(motion.most)
    before = (at > about - MOMENTS.still - MOMENTS.follows) & (at <= about - MOMENTS.follows)
    after = (at > about) & (at <= about + MOMENTS.burst)
    still = float(np.median(most[before if before.any() else at <= about]))
    begun = most >= still + MOMENTS.onset * (float(np.median(most[after])) - still)
    for look in np.flatnonzero(at >= about - MOMENTS.follows):
        if begun[look:look + 3].all():
            return float(at[look]) - MOMENTS.look / 2
    return about


def find_full_wide(motion: ShotMotion, snap: float | None) -> tuple[float, float, bool] | None:
    """Return (seconds into the shot, confidence, whether a zoom ended) of the likely full wide, or None: where the
    first zooming out ends, or where a camera that moved at the shot's beginning comes to rest before the snap."""
    at = motion.at
    if not len(at):
        return None
    rows = _smooth(motion.per_second)
    early = at <= (snap if snap is not None else at[-1])
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
