"""What a close frame shows of those who run the game: officials in their striped shirts, and the chain's rods.

A shirt is known by what makes it one: thin upright stripes, black and white in turn, at least two of each side by side
and as tall as a body. They are looked for at several sizes as a wave across (as in a Fourier transform of a small
window) that holds most of what the window shows. A rod is a thin upright orange thing on the field.
"""

from __future__ import annotations

from typing import NamedTuple

import av
import numpy as np
from scipy import ndimage

from .luma_grid import luma_grid
from .settings import KINDS

_ACROSS = 640                                           # cells: stripes are thin
_PERIODS = 3.5, 4.5, 5.5, 7.0, 9.0, 11.0, 14.0, 17.0    # cells from one dark stripe to the next
_TALL = 18.0            # stripes of two inches: so many periods is a person of six feet (common practice, no source)


class Official(NamedTuple):
    """Somebody in a striped shirt: the middle of the shirt as shares of the frame's width and height, and how tall the
    whole person is, in frame heights."""

    right: float
    down: float
    tall: float


class CloseEvidence(NamedTuple):
    """``officials`` from the tallest to the smallest; ``rod`` is the height of the tallest rod, in frame heights."""

    officials: tuple[Official, ...]
    rod: float


NOTHING = CloseEvidence((), 0.0)


def close_evidence(frame: av.VideoFrame, field: np.ndarray) -> CloseEvidence:
    """Return what a close frame shows. ``field`` is its field mask, at any size."""
    luma = luma_grid(frame, _ACROSS)
    tall, wide = luma.shape
    if min(tall, wide) < 64:
        return NOTHING
    planes = frame.reformat(width=wide, height=tall, format="yuv444p").to_ndarray().astype(np.int16)
    around = ndimage.zoom(field.astype(np.float32), (tall / field.shape[0], wide / field.shape[1]), order=0)
    return CloseEvidence(_officials(luma, planes[1:]), _rod(planes[1:], around))


def _officials(luma: np.ndarray, colours: np.ndarray) -> tuple[Official, ...]:
    tall, wide = luma.shape
    colour = np.maximum(*np.abs(colours - 128)).astype(np.float32)
    turns = np.arange(wide, dtype=np.float32) * (2 * np.pi)
    found: list[Official] = []
    for period in sorted(_PERIODS, reverse=True):
        size = max(round(1.5 * period), 3), round(2.5 * period)

        def mean(values: np.ndarray, size: tuple[int, int] = size) -> np.ndarray:
            return np.asarray(ndimage.uniform_filter(values, size))

        level = mean(luma)
        spread = mean(luma * luma) - level * level
        wave = np.zeros_like(luma)
        for turned in (np.cos(turns / period), np.sin(turns / period)):
            own = ndimage.uniform_filter1d(turned, size[1])
            wave += (mean(luma * turned) - level * own) ** 2
        wave *= 2
        striped = ((wave > KINDS.stripes ** 2) & (wave > KINDS.stripes_share * spread)
                   & (mean(colour) < KINDS.shirt_grey))
        labels, _ = ndimage.label(striped)
        for down, right in ndimage.find_objects(labels):
            if down.stop - down.start < 1.5 * period or right.stop - right.start < 1.3 * period:
                continue
            one = Official((right.start + right.stop) / 2 / wide, (down.start + down.stop) / 2 / tall,
                           period * _TALL / tall)
            if not any(abs(one.right - other.right) * wide < other.tall * tall / 6
                       and abs(one.down - other.down) * tall < other.tall * tall / 4 for other in found):
                found.append(one)
    return tuple(found)


def _rod(colours: np.ndarray, field: np.ndarray) -> float:
    tall, wide = field.shape
    orange = (colours[1] - 128 >= KINDS.orange_red) & (128 - colours[0] >= KINDS.orange_blue)
    broad = ndimage.binary_opening(orange, np.ones((1, round(KINDS.rod_wide * wide))))
    labels, _ = ndimage.label(ndimage.binary_closing(orange & ~broad, np.ones((5, 1))), np.ones((3, 3)))
    best = 0.0
    for down, right in ndimage.find_objects(labels):
        height, width = down.stop - down.start, right.stop - right.start
        if height / tall <= max(best, KINDS.rod_least) or width > 0.3 * height:
            continue
        beside = field[max(down.start - height, 0):down.stop, max(right.start - height, 0):right.stop + height]
        if beside.mean() >= KINDS.rod_field:
            best = height / tall
    return best
