"""Smears that only soften what lies behind them: grease, breath, a rain drop.

The same thing is seen at several places of the picture while the camera moves over it. How much less fine detail it has
at one place than at another says how much softer the one is, whatever is filmed. All these comparisons of a row of
pictures are brought into one map of the picture by least squares; a smear is a hole in it. Rows are compared with
themselves alone: cameras pan, and far things lie above near ones.
"""

from __future__ import annotations

from dataclasses import dataclass, fields

import numpy as np
from scipy import ndimage

from ..camera_motion import AT_REST, Motion, moved

CELLS = 40                  # cells across a picture, of which the fine detail is kept
TOGETHER = 32               # pictures that are judged together; every half of them anew
STEPS = (1, 2, 4)           # from a picture to those it is compared with
_FLOOR = 0.7                # luma levels of detail that coding and noise leave everywhere
_TELLING = 1.0              # luma levels of detail; plainer things lose nothing
_MOST = 2.0                 # of a logarithm: one comparison counts no more than that
_ROUNDS = 12
_LOST = 0.33                # of the fine detail: from there on a place is taken to be softened
_SMALLEST, _LARGEST = 6, 0.3    # cells; of the picture
_LEAST_FULL = 0.45          # of the box around it that a smear fills
_LONGEST = 3.0              # times as long as wide
_STANDS_STILL = 1.2         # what a movement explains no better than standing still: somebody whom the camera follows


@dataclass(frozen=True, slots=True)
class Soft:
    """A softened place: its cells, the share of fine detail that is lost there, and the positions of the first and
    last picture in which it is."""

    cells: np.ndarray
    lost: float
    start: int
    end: int


def fine_detail(luma: np.ndarray) -> np.ndarray:
    """How much neighbours in a picture differ, in luma levels, in cells of a fortieth of its width."""
    cell = max(luma.shape[1] // CELLS, 1)
    tall, wide = luma.shape[0] // cell * cell, luma.shape[1] // cell * cell
    seen = luma[:tall, :wide].astype(np.int16)
    total = np.zeros((tall // cell, wide // cell), np.float32)
    for axis in (0, 1):
        steps = np.abs(np.diff(seen, axis=axis)).astype(np.uint16)
        rows = np.add.reduceat(steps, np.arange(0, steps.shape[0], cell), axis=0)      # 255 rows would still fit
        total += np.add.reduceat(rows.astype(np.float32), np.arange(0, steps.shape[1], cell), axis=1)
    result: np.ndarray = (total / (2 * cell * cell)).astype(np.float16)
    return result


@dataclass(frozen=True, slots=True)
class _Compared:
    """Places seen in two pictures: where in the ``later`` and in the ``earlier`` one (numbers of cells), how much
    ``detail`` the earlier one shows and how much ``more`` the later one (logarithms), what the comparison weighs, and
    the later picture's position."""

    later: np.ndarray
    earlier: np.ndarray
    detail: np.ndarray
    more: np.ndarray
    weight: np.ndarray
    picture: np.ndarray

    def of(self, use: np.ndarray) -> _Compared:
        return _Compared(*(getattr(self, each.name)[use] for each in fields(_Compared)))

    def map(self, size: int) -> tuple[np.ndarray, np.ndarray]:
        """How much detail each cell of the picture lets through (logarithm), and what is known of it."""
        known = np.bincount(self.later, self.weight, size) + np.bincount(self.earlier, self.weight, size)
        through = np.zeros(size)
        for _ in range(_ROUNDS):
            pulled = np.bincount(self.later, self.weight * (through[self.earlier] + self.more), size)
            pulled += np.bincount(self.earlier, self.weight * (through[self.later] - self.more), size)
            through = 0.3 * through + 0.7 * pulled / np.maximum(known, 1e-6)
        return through, known


def soft_places(details: np.ndarray, motion: np.ndarray, pictures: np.ndarray, groups: list[tuple[int, int]]
                ) -> list[Soft]:
    """What softens, in each group of a row of kept pictures. ``motion`` is how the content moved before each."""
    if not groups:
        return []
    shape, compared = details.shape[1:], _compare(details, motion)
    found: list[Soft] = []
    for first, last in groups:
        own = compared.of((compared.picture >= first) & (compared.picture < last))
        for cells, lost in _holes(own, (first + last) // 2, shape):
            if not _stands_still(cells, pictures[first:last], motion[first:last]):
                _join(found, Soft(cells, lost, first, last - 1))
    return [_from_to(place, compared) for place in found]


def _compare(details: np.ndarray, motion: np.ndarray) -> _Compared:
    tall, wide = details.shape[1:]
    seen = np.log(ndimage.uniform_filter(details.astype(np.float32), (0, 3, 3)) + _FLOOR).reshape(len(details), -1)
    down, right = (each.ravel() for each in np.mgrid[0:tall, 0:wide])
    places = ((right - (wide - 1) / 2) + 1j * (down - (tall - 1) / 2)) / wide
    parts: list[tuple[np.ndarray, ...]] = []
    for number in range(len(details)):
        way = AT_REST
        for step in range(1, max(STEPS) + 1):
            if number + step >= len(details) or not np.isfinite(motion[number + step]).all():
                break
            way = way.then(Motion(*motion[number + step].astype(float)))
            if step not in STEPS:
                continue
            before = (places - way.shift) / way.factor * wide
            column = np.rint(before.real + (wide - 1) / 2).astype(int)
            row = np.rint(before.imag + (tall - 1) / 2).astype(int)
            later = np.flatnonzero((column >= 0) & (column < wide) & (row >= 0) & (row < tall))
            earlier = row[later] * wide + column[later]
            one, other = seen[number][earlier], seen[number + step][later]
            weight = np.clip(np.exp(np.maximum(one, other)) - _FLOOR - _TELLING, 0, 2)
            if np.count_nonzero(weight) < 50:
                continue
            more = other - one
            more -= np.median(more[weight > 0])         # a picture that is softer as a whole
            parts.append((later, earlier, one, more.clip(-_MOST, _MOST), weight, np.full(len(later), number + step)))
    if not parts:
        nothing = np.zeros(0, int)
        return _Compared(nothing, nothing, np.zeros(0), np.zeros(0), np.zeros(0), nothing)
    later, earlier, detail, more, weight, picture = (np.concatenate(each) for each in zip(*parts, strict=True))
    return _Compared(later, earlier, detail, more, weight, picture)


def _holes(compared: _Compared, half: int, shape: tuple[int, ...]) -> list[tuple[np.ndarray, float]]:
    """The cells of each place that is softer than the rest of its rows, in both halves of a group; and the share of
    detail that is lost there."""
    soft, lost = np.ones(shape, bool), np.zeros(shape)
    for part, least in ((compared.of(compared.picture < half), _LOST / 2),
                        (compared.of(compared.picture >= half), _LOST / 2), (compared, _LOST)):
        through, known = (each.reshape(shape) for each in part.map(soft.size))
        if not known.any():
            return []
        lost = 1 - np.exp(through - np.median(through, axis=1, keepdims=True))
        soft &= (lost > least) & (known > 0.02 * known.max())
    labels, _ = ndimage.label(ndimage.binary_opening(soft, np.ones((2, 2))))
    found = []
    for number, box in enumerate(ndimage.find_objects(labels), 1):
        cells = labels == number
        high, wide = (side.stop - side.start for side in box)
        if cells.sum() >= max(_SMALLEST, _LEAST_FULL * high * wide) and high * wide <= _LARGEST * cells.size and max(
                high, wide) <= _LONGEST * min(high, wide):
            found.append((cells, float(np.quantile(lost[cells], 0.75))))     # its edge is softened less
    return found


def _stands_still(cells: np.ndarray, pictures: np.ndarray, motion: np.ndarray) -> bool:
    """Whether what is seen at a place stays there although the camera moves: it is not behind a smear, but filmed."""
    tall, wide = pictures.shape[1:]
    inside = np.repeat(np.repeat(cells, -(-tall // cells.shape[0]), 0), -(-wide // cells.shape[1]), 1)[:tall, :wide]
    still, explained = 0.0, 0.0
    for before, after, way in zip(pictures.astype(np.float32), pictures[1:].astype(np.float32), motion[1:],
                                  strict=False):
        if np.isfinite(way).all():
            carried = moved(before, Motion(*way.astype(float)))
            use = inside & np.isfinite(carried)
            still += float(np.abs(after - before)[use].sum())
            explained += float(np.abs(after - carried)[use].sum())
    return explained > _STANDS_STILL * still


def _join(found: list[Soft], more: Soft) -> None:
    """A place that was softened in the group before is the same."""
    for number, one in enumerate(found):
        common = (one.cells & more.cells).sum()
        if one.end >= more.start - 1 and common >= 0.5 * min(one.cells.sum(), more.cells.sum()):
            fuller = one if one.cells.sum() >= more.cells.sum() else more
            found[number] = Soft(fuller.cells, max(one.lost, more.lost), one.start, more.end)
            return
    found.append(more)


def _from_to(place: Soft, compared: _Compared) -> Soft:
    """The place with its first and last picture: from where on what comes in loses detail, and what goes out gains."""
    near = ndimage.binary_dilation(place.cells, iterations=2).ravel()
    inside = place.cells.ravel()
    comes, goes = inside[compared.later] & ~near[compared.earlier], inside[compared.earlier] & ~near[compared.later]
    sign = goes.astype(float) - comes
    half = -np.log(1 - min(place.lost, 0.95)) / 2
    speaks = np.bincount(compared.picture, compared.weight * np.abs(sign) * (compared.more * sign - half),
                         place.end + TOGETHER + 1)
    middle = (place.start + place.end) // 2
    first, last = max(place.start - TOGETHER, 0), place.end + TOGETHER
    first += int(np.argmax(np.cumsum(speaks[first:middle][::-1])[::-1]))
    last = middle + int(np.argmax(np.cumsum(speaks[middle:last + 1])))
    # what is lost in its inner half, by all that came in or went out
    depth = ndimage.distance_transform_edt(place.cells)
    inner = (depth > 0.5 * depth.max()).ravel()
    use = (inner[compared.later] & comes | inner[compared.earlier] & goes) & (compared.picture >= first) & (
        compared.picture <= last)
    if not use.any():
        return Soft(place.cells, place.lost, first, last)
    before, after = (float((np.exp(compared.detail[use] + compared.more[use] * side) - _FLOOR).sum())
                     for side in (goes[use], comes[use]))
    return Soft(place.cells, 1 - max(after, 0.0) / before, first, last)
