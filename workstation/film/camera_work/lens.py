"""Drops and smears on the lens: what stays in its place while the camera moves.

Pictures are kept whenever the camera has moved on. Where their mean still shows structure along the way of the camera,
something is fixed to the picture: a drop or a speck, or writing of the camera's own. Where the detail is far less than
left and right of it in all of them, something blurs it: a smear.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from scipy import ndimage

APART = 0.035               # picture widths that the camera has to move from one kept picture to the next
SOONEST = 0.25              # seconds between two kept pictures
TOGETHER = 14               # pictures that are judged together
_LEAST = 8
_BORDER = 2                 # cells at the picture's edge: vignettes, black bars
_CELLS = 4                  # the smallest spot, in cells of an eightieth of the width
_LARGEST = 0.12             # of the picture; more is no drop
_CLEAR = 7.0                # times what moving scenery leaves in the mean
_LEVELS = 3.0               # luma levels
_DULL = 0.45                # of the detail of its surroundings
_DETAIL = 1.5               # luma levels: below, the surroundings have none either


@dataclass(frozen=True, slots=True)
class Spot:
    """Something that stays. Place and size are shares of the picture's width and height, ``start`` and ``end`` the
    positions of the first and last picture that shows it among those that were given."""

    right: float
    down: float
    wide: float
    tall: float
    start: int
    end: int
    blurs: bool

    @property
    def share(self) -> float:
        """The share of the picture that it covers, about."""
        return self.wide * self.tall * np.pi / 4


def detail(luma: np.ndarray, shape: tuple[int, int]) -> np.ndarray:
    """Mean difference of neighbours across in each cell of a grid, in quarters of a luma level, at most 255."""
    tall, wide = shape
    cell = max(luma.shape[1] // wide, 1)
    seen = luma[::2, :wide * cell].astype(np.int16)
    slopes = np.abs(seen[:, 2:] - seen[:, :-2])
    slopes = np.pad(slopes, ((0, 0), (1, 1)))
    rows = max(cell // 2, 1)
    whole = min(tall, slopes.shape[0] // rows)
    cells = slopes[:whole * rows].reshape(whole, rows, wide, cell).mean((1, 3))
    result = np.zeros(shape, np.uint8)
    result[:whole] = np.minimum(cells * 4, 255).astype(np.uint8)
    return result


def spots(pictures: np.ndarray, details: np.ndarray, moved: np.ndarray) -> list[Spot]:
    """What stays in a row of kept pictures (n, tall, wide). ``moved`` is how the camera moved before each (n, 2)."""
    found: list[Spot] = []
    first = 0
    while first + _LEAST <= len(pictures):
        last = min(first + TOGETHER, len(pictures))
        if len(pictures) - last < _LEAST:
            last = len(pictures)
        for spot in _judged(pictures[first:last], details[first:last], moved[first:last], first, last - 1):
            same = next((place for place, one in enumerate(found) if one.end == first - 1 and one.blurs == spot.blurs
                         and abs(one.right - spot.right) < 0.04 and abs(one.down - spot.down) < 0.06), None)
            if same is None:
                found.append(spot)
            else:
                one = found[same]
                found[same] = Spot(one.right, one.down, max(one.wide, spot.wide), max(one.tall, spot.tall), one.start,
                                   spot.end, one.blurs)
        first = last
    return found


def _judged(pictures: np.ndarray, details: np.ndarray, moved: np.ndarray, first: int, last: int) -> list[Spot]:
    stack = pictures.astype(np.float32)
    stack -= stack.mean((1, 2), keepdims=True)
    along = 1 if np.abs(moved[:, 0]).sum() >= np.abs(moved[:, 1]).sum() else 0      # the axis the camera moves along
    mean = stack.mean(0)
    changes = ndimage.median_filter(stack.std(0), (5, 9)) + 1.0
    stays = np.abs(mean - ndimage.median_filter(mean, (1, 15) if along == 1 else (15, 1)))
    expected = changes / np.sqrt(len(stack) * 0.6)
    fixed = (stays > _CLEAR / 2.5 * expected) & (stays > _LEVELS)
    found = _areas(fixed, first, last, blurs=False)
    usual = ndimage.median_filter(details.astype(np.float32).mean(0), (1, 31) if along == 1 else (31, 1))
    most = np.quantile(details, 0.85, axis=0).astype(np.float32)
    dull = (most < _DULL * usual) & (usual > _DETAIL * 4)
    found += [spot for spot in _areas(dull, first, last, blurs=True)
              if not any(abs(one.right - spot.right) < (one.wide + spot.wide) / 2
                         and abs(one.down - spot.down) < (one.tall + spot.tall) / 2 for one in found)]
    return found


def _areas(mask: np.ndarray, first: int, last: int, *, blurs: bool) -> list[Spot]:
    mask = mask.copy()
    mask[:_BORDER] = mask[-_BORDER:] = False
    mask[:, :_BORDER] = mask[:, -_BORDER:] = False
    mask = ndimage.binary_closing(mask, np.ones((3, 3)))
    labels, count = ndimage.label(mask)
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
                          high / tall, first, last, blurs))
    del count
    return found


def positions_seen(spot: Spot, at: Sequence[float]) -> tuple[float, float]:
    """The first and last of the times at which a spot was seen."""
    return at[spot.start], at[spot.end]
