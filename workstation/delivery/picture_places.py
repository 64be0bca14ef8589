"""Where several pictures stand in one, on the screen as in what is rendered. All numbers are pixels."""

from __future__ import annotations

from fractions import Fraction
from typing import NamedTuple

SMALL = Fraction(34, 100)       # of the large picture's width for a small one in its corner
_MARGIN = Fraction(1, 60)       # of the large picture's width between a small one and its edges
RIM = 2                         # around a small one, so that it stands out from the large one


class PicturePlace(NamedTuple):
    """A rectangle."""

    left: int
    top: int
    width: int
    height: int


def tiles(number: int, width: int, height: int) -> list[PicturePlace]:
    """Where so many pictures of one form stand in one of *width* and *height*: in rows of two, all numbers even."""
    across, down = width // 4 * 2, height // 4 * 2
    rows = -(-number // 2)
    top = (height - rows * down) // 4 * 2
    return [PicturePlace(place % 2 * across, top + place // 2 * down, across, down) for place in range(number)]


def corners(number: int, width: int, height: int) -> list[PicturePlace]:
    """Where a large picture stands in one of *width* and *height*, which it fills, and all others, small and of the
    same form, in its upper right corner, one below the other; all even."""
    margin = _even(width * _MARGIN)
    share = min(SMALL, Fraction(height - margin, max(number - 1, 1) * height) - Fraction(margin, height))
    across, down = _even(width * share), _even(height * share)
    left = (width - margin - across) // 2 * 2
    return [PicturePlace(0, 0, width, height),
            *(PicturePlace(left, margin + place * (down + margin), across, down) for place in range(number - 1))]


def two_apart(width: int, height: int, gap: int, form: Fraction) -> tuple[PicturePlace, PicturePlace]:
    """Two places as large as there is room for, *gap* apart: beside each other where pictures of this form (width
    over height) come out as large as above each other, or larger."""
    half, level = (width - gap) // 2, (height - gap) // 2
    if min(Fraction(half), height * form) >= min(Fraction(width), level * form):
        return PicturePlace(0, 0, half, height), PicturePlace(width - half, 0, half, height)
    return PicturePlace(0, 0, width, level), PicturePlace(0, height - level, width, level)


def _even(pixels: Fraction) -> int:
    return max(2, int(pixels) // 2 * 2)
