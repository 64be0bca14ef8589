"""Suggest moments from motion: a snap where motion bursts after stillness, full wide where the zoom or the last
settling movement before it ends."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from .camera_motion import FrameMotion

_STILL = 1.2                    # seconds before a snap in which the teams are set
_BURST = 1.5                    # seconds after it in which everybody moves
_GROWS = 1.6                    # times that what moves by itself grows at a snap, at least
_ONSET = 0.35                   # share of the growth at which the burst has begun
_FOLLOWS = 0.6                  # seconds by which the camera may follow the players late
_LOOK = 0.1                     # seconds from one look to the next: what moved did so in between
_LEAST = 0.4                    # luma levels of motion, at least
_EARLIEST = 1.0                 # seconds into a shot that a snap can come: something must have been still before

_SHORT = 7.0                    # seconds; a shot in which the camera rests is no play if it is shorter

_ZOOMING = 0.06                 # change of the magnification's logarithm per second that counts as zooming
_PANNING = 0.03                 # picture widths per second that count as camera movement
_ZOOMED = 0.22                  # natural logarithm of a zoom worth the name: 1.25 times
_SETTLES = 3.0                  # seconds into a shot within which a small last movement ends


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
        lasted_ = np.maximum(np.array(lasted, float), 1e-3)
        rows = np.array([movement[:3] for movement in movements], float).reshape(-1, 3)
        own = np.array([(movement.own, movement.most) for movement in movements], float).reshape(-1, 2)
        own, most = (own * np.clip(_LOOK / lasted_, 0.3, 1.5)[:, None]).T
        return cls(np.array(at, float), rows / lasted_[:, None], own, most)

    @property
    def is_static(self) -> bool:
        """Did the camera rest nearly all of the time?"""
        return len(self.at) > 0 and float((~self.camera_moves).mean()) > 0.85 and abs(self.zoomed) < _ZOOMED / 2

    @property
    def camera_moves(self) -> np.ndarray:
        zoom, right, down = _smooth(self.per_second).T
        moves: np.ndarray = (np.abs(zoom) > _ZOOMING) | (np.hypot(right, down) > _PANNING)
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
    if motion.is_static and len(at) and at[-1] < _SHORT:
        return None
    zooms = np.abs(_smooth(motion.per_second)[:, 0]) > _ZOOMING     # a zoom shows new detail, which is no motion
    best = None
    for i, now in enumerate(at):
        before = (at > now - _STILL) & (at <= now)
        after = (at > now) & (at <= now + _BURST)
        if now < _EARLIEST or before.sum() < 4 or after.sum() < 3 or zooms[before | after].mean() > 0.2:
            continue
        if until is not None and now > until:
            break
        still, burst = float(np.median(own[before])), float(np.median(own[after]))
        score = (burst + _LEAST) / (still + _LEAST)
        if best is None or score > best[0]:
            best = score, i, still, burst
    if best is None or best[0] < _GROWS or best[3] - best[2] < _LEAST:
        return None
    score, i, *_ = best
    return max(_onset(motion, float(at[i])), 0.0), float(np.clip((score - _GROWS) / 2.5 + 0.3, 0, 0.95))


def _onset(motion: ShotMotion, about: float) -> float:
    """When a burst begins that is at its clearest ``about`` then: that is when the camera begins to follow, some tenths
    of a second after the first players move, who are a hundredth of a wide picture."""
    at, most = motion.at, _smooth(motion.most)
    before = (at > about - _STILL - _FOLLOWS) & (at <= about - _FOLLOWS)
    after = (at > about) & (at <= about + _BURST)
    still = float(np.median(most[before if before.any() else at <= about]))
    begun = most >= still + _ONSET * (float(np.median(most[after])) - still)
    for look in np.flatnonzero(at >= about - _FOLLOWS):
        if begun[look:look + 3].all():
            return float(at[look]) - _LOOK / 2
    return about


def find_full_wide(motion: ShotMotion, snap: float | None) -> tuple[float, float, bool] | None:
    """Return (seconds into the shot, confidence, whether a zoom ended) of the likely full wide, or None: where the
    first zooming out ends, or where a camera that moved at the shot's beginning comes to rest before the snap."""
    at = motion.at
    if not len(at):
        return None
    rows = _smooth(motion.per_second)
    early = at <= (snap if snap is not None else at[-1])
    out = (rows[:, 0] < -_ZOOMING) & early
    if out.any():
        steps = rows[:, 0] * np.diff(at, prepend=0.0)
        runs = np.split(np.flatnonzero(out), np.flatnonzero(np.diff(np.flatnonzero(out)) > 4) + 1)
        for run in runs:
            wide = -float(steps[run].sum())
            if wide >= _ZOOMED:
                return float(at[run[-1]]), float(min(0.5 + wide / 2, 0.95)), True
    moves = motion.camera_moves & early & (at <= _SETTLES)
    if moves[:5].any() and not moves.all():
        last = np.flatnonzero(moves)[-1]
        rests = ~motion.camera_moves[last + 1:last + 6]
        if len(rests) >= 4 and rests.all():
            return float(at[last]), 0.4, False
    return None
