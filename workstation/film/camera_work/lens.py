"""Drops and smears on the lens: what stays in its place while the camera moves.

Pictures are kept whenever the camera has moved on. Where their mean still shows structure along the way of the camera,
something is fixed to the picture: a drop, a speck, or writing of the camera's own. What only softens is found by
:mod:`.smears`.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from scipy import ndimage

from . import smears

APART = 0.035               # picture widths that the camera has to move from one kept picture to the next
SOONEST = 0.25              # seconds between two kept pictures
TOGETHER = 20               # pictures that are judged together
_LEAST = 16                 # fewer, and it may be a runner whom the camera follows
_VIEWS = 10                 # different ones of them: where a camera shakes on the spot the scenery stays as well
_PARTS = 3                  # in each of which a spot has to show
_BORDER = 2                 # cells at the picture's edge: vignettes, black bars
_CELLS = 4                  # the smallest spot, in cells of an eightieth of the width
_LARGEST = 0.12             # of the picture; more is no drop
_CLEAR = 5.0                # times what moving scenery leaves in the mean of the whole picture
_LEVELS = 5.0               # luma levels
_LEAST_NOISE = 0.5          # luma levels


@dataclass(frozen=True, slots=True)
class Spot:
    """Something that stays. Place and size are shares of the picture's width and height, ``start`` and ``end`` the
    positions of the first and last picture that shows it among those that were given, ``softens`` the share of fine
    detail that is lost there, 0 where it was found by its own light or shade."""

    right: float
    down: float
    wide: float
    tall: float
    start: int
    end: int
    softens: float = 0.0

    @property
    def share(self) -> float:
        """The share of the picture that it covers, about."""
        return self.wide * self.tall * np.pi / 4


def spots(pictures: np.ndarray, moved: np.ndarray, details: np.ndarray) -> list[Spot]:
    """What stays in a row of kept pictures (n, tall, wide) with the fine detail of their cells. ``moved`` is how the
    content moved before each (n, 5, as a ``Motion``; not a number after a cut)."""
    found: list[Spot] = []
    for first, last in _groups(len(pictures), TOGETHER, _LEAST):
        _add(found, _fixed(pictures[first:last], moved[first:last, 2:4], first, last - 1))
    halves = _groups(len(pictures), smears.TOGETHER // 2, smears.TOGETHER // 2)
    groups = [(first, last) for (first, _), (_, last) in pairwise(halves)] or halves
    for place in smears.soft_places(details, moved, pictures, [
            group for group in groups if _places(moved[slice(*group), 2:4]) >= _VIEWS]):
        spot = _softened(place)
        if not any(abs(one.right - spot.right) < (one.wide + spot.wide) / 2 and one.start <= spot.end
                   and abs(one.down - spot.down) < (one.tall + spot.tall) / 2 and spot.start <= one.end
                   for one in found):       # a drop takes the detail as well
            found.append(spot)
    return found


def _softened(place: smears.Soft) -> Spot:
    tall, wide = place.cells.shape
    (top, left), (bottom, right) = (edge(np.nonzero(place.cells), axis=1) for edge in (np.min, np.max))
    return Spot((left + right + 1) / 2 / wide, (top + bottom + 1) / 2 / tall, (right + 1 - left) / wide,
                (bottom + 1 - top) / tall, place.start, place.end, place.lost)


def _groups(count: int, together: int, least: int) -> list[tuple[int, int]]:
    """Positions in groups of *together*; what is left over goes to the last."""
    edges = list(range(0, count - least + 1, together))
    return [(first, edges[number + 1] if number + 1 < len(edges) else count) for number, first in enumerate(edges)]


def _add(found: list[Spot], more: list[Spot]) -> None:
    """A spot that was seen just before at the same place is the same."""
    for spot in more:
        same = next((place for place, one in enumerate(found) if one.end == spot.start - 1
                     and abs(one.right - spot.right) < 0.04 and abs(one.down - spot.down) < 0.06), None)
        if same is None:
            found.append(spot)
        else:
            one = found[same]
            found[same] = Spot(one.right, one.down, max(one.wide, spot.wide), max(one.tall, spot.tall), one.start,
                               spot.end)


def _fixed(pictures: np.ndarray, moved: np.ndarray, first: int, last: int) -> list[Spot]:
    if _places(moved) < _VIEWS:
        return []
    stack = pictures.astype(np.float32)
    stack -= stack.mean((1, 2), keepdims=True)
    ways = np.nansum(np.abs(moved), axis=0)
    window = (1, 15) if ways[0] >= ways[1] else (15, 1)      # along the way of the camera nothing of the scene stays

    def stays(part: np.ndarray) -> tuple[np.ndarray, float]:
        mean = part.mean(0)
        left = np.asarray(mean - ndimage.median_filter(mean, window))
        return left, 1.4826 * float(np.median(np.abs(left))) + _LEAST_NOISE

    whole, noise = stays(stack)
    fixed = np.abs(whole) > np.maximum(_CLEAR * noise, _LEVELS)
    for part in np.array_split(stack, _PARTS):          # it was there all the time
        seen, own = stays(part)
        fixed &= (seen * whole > 0) & (np.abs(seen) > _CLEAR / 2 * own)
    return _areas(fixed, first, last)


def _places(moved: np.ndarray) -> int:
    """How many different views the pictures hold: to and fro over the same scenery is no new one."""
    views, at, shot = set(), np.zeros(2), 0
    for step in moved:
        if np.isfinite(step).all():
            at = at + step
        else:
            at, shot = np.zeros(2), shot + 1
        views.add((shot, *np.rint(at / APART).astype(int).tolist()))
    return len(views)


def _areas(mask: np.ndarray, first: int, last: int) -> list[Spot]:
    mask = mask.copy()
    mask[:_BORDER] = mask[-_BORDER:] = False
    mask[:, :_BORDER] = mask[:, -_BORDER:] = False
    mask = ndimage.binary_closing(mask, np.ones((3, 3)))
    labels, _ = ndimage.label(mask)
    tall, wide = mask.shape
    found = []
    for number, box in enumerate(ndimage.find_objects(labels), 1):
        down, right = box
        size = int((labels[box] == number).sum())
        high, broad = down.stop - down.start, right.stop - right.start
        if size < _CELLS or size > _LARGEST * mask.size or size < 0.35 * high * broad or max(high, broad) > 5 * min(
                high, broad):
            continue
        found.append(Spot((right.start + right.stop) / 2 / wide, (down.start + down.stop) / 2 / tall, broad / wide,
                          high / tall, first, last))
    return found
