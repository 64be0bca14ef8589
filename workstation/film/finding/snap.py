"""Suggest the snap: a group of players near the middle of a calm frame, set until then, in which many begin to move at
once.

Backs and receivers may be on the move before (in Canadian football all of them), so what counts is the group that
starts, not the first runner. The idea that motion at the line of scrimmage tells the snap is that of Mahasseni, Chen,
Fern and Todorovic (IAAI 2013).
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from scipy import ndimage

from .settings import SNAPS

_ABOUT = 1e-3           # seconds, by which times may be rounded


@dataclass(frozen=True, slots=True)
class SuggestedSnap:
    """A suggested snap: seconds into the shot, and how sure, 0 to 1."""

    at: float
    confidence: float


@dataclass(frozen=True, slots=True)
class _Burst:
    """A group that starts to move: the look after which it does, how strong, 0 to 1, and which group."""

    look: int
    strength: float
    group: int


def find_snap(at: np.ndarray, camera: np.ndarray, groups: np.ndarray,
              until: float | None = None) -> SuggestedSnap | None:
    """Return the likely snap of a shot, or None where there is none or several are as likely.

    ``at`` are the seconds into the shot of each look, ``camera`` has a row each of zoom, right and down per second,
    ``groups`` the maps of :class:`.group_motion.GroupMotion`. ``until`` is a time by which the snap must have come.
    """
    bursts = _peaks([burst for burst in _bursts(at, camera, groups) if until is None or at[burst.look] <= until])
    if not bursts:
        return None
    best = max(burst.strength for burst in bursts)
    first = next(burst for burst in bursts if burst.strength >= SNAPS.earliest_share * best)
    other = max((burst.strength for burst in bursts if abs(at[burst.look] - at[first.look]) > SNAPS.same_burst),
                default=0.0)
    confidence = _confidence(first.strength, other)
    if confidence < SNAPS.least:
        return None
    formation = _formations(groups).reshape(len(at), -1)[:, first.group]
    return SuggestedSnap(max(_onset(at, formation, float(at[first.look])), 0.0), confidence)


def _confidence(strength: float, other: float) -> float:
    """How likely a burst is the snap, from its strength and that of the next strongest."""
    margin = float(np.clip((strength - other) / strength, -0.5, 1))
    logit = SNAPS.sharpness * float(np.log(strength / SNAPS.even)) + margin - SNAPS.usual_margin
    return min(float(1 / (1 + np.exp(-logit))), SNAPS.surest)


def _bursts(at: np.ndarray, camera: np.ndarray, groups: np.ndarray) -> list[_Burst]:
    """For each look with the camera calm, the group that starts to move most."""
    if not len(at) or groups.ndim != 3:
        return []
    tall, wide = groups.shape[1:]
    down, right = np.mgrid[0:tall, 0:wide]
    middle = np.exp(-0.5 * (((right + 0.5) / wide - 0.5) / SNAPS.middle_across) ** 2
                    - 0.5 * (((down + 0.5) / tall - SNAPS.middle_down) / SNAPS.middle_tall) ** 2)
    zoom, pan = np.abs(camera[:, 0]), np.hypot(camera[:, 1], camera[:, 2])
    moving = _formations(groups)
    bursts = []
    for look, now in enumerate(at):
        before = slice(*np.searchsorted(at, (now - SNAPS.set_for + _ABOUT, now + _ABOUT)))
        after = slice(*np.searchsorted(at, (now + _ABOUT, now + SNAPS.burst + _ABOUT)))
        earlier = slice(*np.searchsorted(at, (now - SNAPS.settled_for, now - SNAPS.set_for + _ABOUT)))
        later = slice(*np.searchsorted(at, (now + SNAPS.burst + _ABOUT, now + SNAPS.goes_on)))
        if (now < SNAPS.earliest or before.stop - before.start < 4 or after.stop - after.start < 3
                or np.median(zoom[before]) > SNAPS.zooming or np.median(pan[before]) > SNAPS.panning
                or float((pan[earlier] > SNAPS.panning_after).mean() if earlier.stop > earlier.start else 0)
                > SNAPS.swept / SNAPS.settled_for
                or np.median(pan[after]) > SNAPS.panning_after or np.median(zoom[after]) > SNAPS.zooming_after):
            continue
        set_, starts = moving[before], moving[after].mean(0)
        still = set_.mean(0)
        growth = starts - still - SNAPS.restless * set_.std(0)
        if later.stop > later.start:
            growth = growth * np.clip(moving[later].mean(0) / np.maximum(starts, 1e-3) / SNAPS.keeps_moving, 0, 1)
        growth = np.where(still < SNAPS.still, growth, 0) * middle
        group = int(growth.argmax())
        if growth.flat[group] > 0:
            bursts.append(_Burst(look, float(growth.flat[group]), group))
    return bursts


def _formations(groups: np.ndarray) -> np.ndarray:
    """How much moves in a part as large as a formation around the middle of each group, 0 to 1."""
    tall, wide = groups.shape[1:]
    size = 1, max(round(SNAPS.formation_down * tall), 1), max(round(SNAPS.formation_across * wide), 1)
    formations: np.ndarray = ndimage.uniform_filter(groups.astype(np.float32) / 255, size, mode="constant")
    return formations


def _peaks(bursts: list[_Burst]) -> list[_Burst]:
    """Those that no other within three looks exceeds."""
    return [one for one in bursts
            if all(other.strength <= one.strength for other in bursts if abs(other.look - one.look) <= 3)]


def _onset(at: np.ndarray, moving: np.ndarray, about: float) -> float:
    """When a group began to move that does so ``about`` then."""
    before = (at > about - SNAPS.set_for) & (at <= about + _ABOUT)
    after = (at > about + SNAPS.burst / 2) & (at <= about + 2 * SNAPS.burst)
    still = float(moving[before].mean())
    level = still + SNAPS.onset * ((float(np.median(moving[after])) if after.any() else 1.0) - still)
    for look in np.flatnonzero(at > about - SNAPS.burst):
        if moving[look:look + 2].min() >= level:
            return float(at[look] + (at[look - 1] if look else 0.0)) / 2
    return about
