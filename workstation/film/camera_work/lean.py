"""Lean: how far upright things are tilted in a picture, from a shot's first picture to its last.

Posts, poles, corners of houses and door frames stand upright. In a level picture the ones in the middle do so, too, and
those beside it lean outwards at the top, the more the further the camera looks down: their angles are ``lean + spread *
place``. Straight lines near upright are read from a picture every second; what most of them agree on is the lean. Lines
on the ground that run away from the camera lean inwards, and each its own way once it pans; where they weigh nearly as
much as what is upright, nothing is said.
"""

from __future__ import annotations

import numpy as np
from scipy import ndimage

EVERY = 1.0                 # seconds between two pictures that are looked at
LINES = 14                  # lines of a picture that are kept, the strongest
FIGURES = 3                 # of each: its place (widths right of the middle), its angle (degrees), its length (widths)
_MOST = 12.0                # degrees that a line may be off upright
_STEP = 0.5                 # degrees from one direction that is tried to the next
_LEAST_LENGTH = 0.075       # of the width
_EDGE = 3.0                 # luma levels a pixel
_OFF = 1.6, 1.2, 0.8        # pixels by which points may lie beside a line, while it is fitted
_GAP = 4                    # rows
_FULL = 0.75                # of its rows in which a line is seen

_LEANS = np.arange(-10.0, 10.01, 0.1)
_SPREADS = np.arange(0.0, 24.1, 1.5)        # degrees a width: a camera that looks down by twenty degrees, wide
_BUNDLE = 0.04              # of the width: lines so near to each other are edges of one thing, and count as one
_AGREE = 0.7                # degrees
_LONGEST = 0.25             # of the width; a longer line counts no more
_ELSEWHERE = 2.0            # degrees from where on another lean is another one
_SECOND = 0.8               # of what speaks for a lean may speak for another one
_LEAST = 0.25               # of the width: length of agreeing lines in a usual picture
_THINGS = 2.2               # of these agree in a usual picture with lines: some lean fits any two


def upright_lines(luma: np.ndarray) -> np.ndarray:
    """The straight edges near upright in a picture (decoded plane): a row of figures each, not a number where there are
    no more."""
    result = np.full((LINES, FIGURES), np.nan, np.float32)
    picture = _smaller(luma)
    tall, wide = picture.shape
    if min(tall, wide) < 32:
        return result
    least = _LEAST_LENGTH * wide
    right, down, rises = _edges(picture)
    steps = np.tan(np.radians(np.arange(-_MOST, _MOST + 0.1, _STEP)))
    margin = int(np.tan(np.radians(_MOST)) * tall / 2) + 4
    size = wide + 2 * margin
    found = []
    for side in (rises, ~rises):            # Hough 1962, with the two kinds of edge apart
        x, y = right[side], down[side]
        if len(x) < least:
            continue
        bins = np.rint(x + steps[:, None] * y + (wide - 1) / 2 + margin).astype(int) + size * np.arange(
            len(steps))[:, None]
        votes = np.bincount(bins.ravel(), minlength=size * len(steps)).reshape(len(steps), size)
        votes[:, 1:] += votes[:, :-1].copy()
        for _ in range(LINES):
            direction, at = divmod(int(votes.argmax()), size)
            if votes[direction, at] < 0.7 * least:
                break
            votes[:, max(at - 4, 0):at + 5] = 0
            line = _fitted(x, y, at - 0.5 - (wide - 1) / 2 - margin, -steps[direction], least)
            if line is not None:
                found.append((line[0] / wide, line[1], line[2] / wide))
    found.sort(key=lambda line: -line[2])
    if found:
        result[:len(found[:LINES])] = found[:LINES]
    return result


def _smaller(luma: np.ndarray) -> np.ndarray:
    """The picture at some 640 pixels across."""
    parts = max(luma.shape[1] // 640, 1)
    tall, wide = (size // parts * parts for size in luma.shape)
    total = np.zeros((tall // parts, wide // parts), np.float32)
    for down in range(parts):
        for right in range(parts):
            total += luma[down:tall:parts, right:wide:parts]
    result: np.ndarray = total / parts ** 2
    return result


def _edges(picture: np.ndarray) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """The places of edges near upright, from the picture's middle, and whether it becomes brighter to the right."""
    tall, wide = picture.shape
    smooth = ndimage.uniform_filter1d(ndimage.gaussian_filter1d(picture, 0.7, axis=1), 3, axis=0)
    across, along = np.zeros_like(smooth), np.zeros_like(smooth)
    across[:, 1:-1] = (smooth[:, 2:] - smooth[:, :-2]) / 2
    along[1:-1] = (smooth[2:] - smooth[:-2]) / 2
    strength = np.abs(across)
    edge = (np.abs(along) < 0.35 * strength) & (strength > _EDGE)
    edge[:, 1:-1] &= (strength[:, 1:-1] >= strength[:, :-2]) & (strength[:, 1:-1] > strength[:, 2:])
    edge[:, :4] = edge[:, -4:] = edge[:4] = edge[-4:] = False
    row, column = np.nonzero(edge)
    before, at, behind = (strength[row, column + step] for step in (-1, 0, 1))
    finer = 0.5 * (before - behind) / np.minimum(before - 2 * at + behind, -1e-3)
    return column + finer - (wide - 1) / 2, row - (tall - 1) / 2, across[row, column] > 0


def _fitted(x: np.ndarray, y: np.ndarray, at: float, slope: float, least: float) -> tuple[float, float, float] | None:
    """The middle, the angle in degrees and the length of the line through the points near a first guess; None if it is
    too short or broken."""
    use = np.ones(len(x), bool)
    for off in _OFF:
        use &= np.abs(x - at - slope * y) < off
        rows = np.unique(y[use])
        if len(rows) < _FULL * least:
            return None
        run = max(np.split(rows, np.flatnonzero(np.diff(rows) > _GAP) + 1), key=len)
        use = (y >= run[0]) & (y <= run[-1])
        near = use & (np.abs(x - at - slope * y) < off)
        slope, at = np.polyfit(y[near], x[near], 1)
    length = run[-1] - run[0] + 1
    if length < least or len(run) < _FULL * length:
        return None
    return at + slope * (run[0] + run[-1]) / 2, -float(np.degrees(np.arctan(slope))), float(length)


def lean(lines: np.ndarray) -> float:
    """How far a shot is tilted, in degrees (positive: clockwise on the screen), from the lines of its pictures (n,
    lines, figures); not a number where too little is upright, or it does not agree."""
    known = np.isfinite(lines[:, :, 0]) if len(lines) else np.zeros((0, LINES), bool)
    if not known.any():
        return np.nan
    place, angle, length = lines[known].T.astype(float)
    picture = np.nonzero(known)[0]
    together = (picture[:, None] == picture) & (np.abs(place[:, None] - place) < _BUNDLE)
    weight = np.minimum(length, _LONGEST)
    off = angle[:, None, None] - _SPREADS[:, None] * place[:, None, None] - _LEANS
    speaks = np.tensordot(weight, np.exp(-0.5 * (off / _AGREE) ** 2), 1)
    spread, best = np.unravel_index(speaks.argmax(), speaks.shape)
    others = speaks[:, np.abs(_LEANS - _LEANS[best]) > _ELSEWHERE].max()
    agree = np.abs(off[:, spread, best]) < 2 * _AGREE
    things = (1 / (together[agree][:, agree].sum(1))).sum() / len(np.unique(picture))
    if things < _THINGS or others > _SECOND * speaks.max() or weight[agree].sum() < _LEAST * len(lines):
        return np.nan
    each, found = angle - _SPREADS[spread] * place, _LEANS[best]
    for _ in range(5):
        found = np.average(each, weights=weight * np.exp(-0.5 * ((each - found) / _AGREE) ** 2))
    return float(found)
