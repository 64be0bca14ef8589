"""What single frames of a shot show: how much field, how many straight lines on it, how large the things before it, and
bright figures before something dark, as down markers and scoreboards have.

A frame of a play, filmed from high up, is mostly field, crossed by yard lines, with small players on it. A close-up has
large things, little field and no such lines.
"""

from __future__ import annotations

from typing import NamedTuple

import av
import numpy as np
from scipy import ndimage

from .close_evidence import NOTHING, CloseEvidence, close_evidence
from .luma_grid import FINE, luma_grid
from .settings import KINDS


class FrameEvidence(NamedTuple):
    """``field`` is the share of the frame that is field, ``lines`` the number of straight lines on it, ``largest`` the
    size of the largest thing that is not field, in frame heights, ``figures`` the number of bright figures
    before something dark that are large enough to be read. ``close`` is looked for in frames that are not wide."""

    field: float
    lines: int
    largest: float
    figures: int
    close: CloseEvidence = NOTHING

    @property
    def is_wide(self) -> bool:
        """Does it show a field with its lines, and nothing large before it?"""
        return (self.field >= KINDS.play_field and self.lines >= KINDS.play_lines
                and self.largest <= KINDS.play_largest)


def frame_evidence(frame: av.VideoFrame) -> FrameEvidence:
    """Return what one frame shows."""
    luma = luma_grid(frame, FINE)
    if min(luma.shape) < 32:            # damage made the picture too flat to tell
        return FrameEvidence(0.0, 0, 0.0, 0)
    field = field_mask(frame, luma.shape)
    seen = FrameEvidence(float(field.mean()), _lines(luma, field), _largest(field), _figures(luma))
    return seen if seen.is_wide else seen._replace(close=close_evidence(frame, field))


def field_mask(frame: av.VideoFrame, shape: tuple[int, int]) -> np.ndarray:
    """Which cells have the field's colour: the commonest one between green and grey, neither dark nor bright."""
    small = frame.reformat(width=shape[1], height=shape[0], format="yuv444p").to_ndarray().astype(np.int16)
    luma, blue, red = small
    grassy = (blue <= KINDS.grass_blue) & (red <= KINDS.grass_red) & (luma >= KINDS.grass_dark) & (
        luma <= KINDS.grass_bright)
    if not grassy.any():
        return np.zeros(shape, bool)
    votes = np.bincount(blue[grassy].astype(int) * 256 + red[grassy], minlength=65536).reshape(256, 256)
    near = ndimage.uniform_filter(votes.astype(float), 5, mode="constant")
    common_blue, common_red = divmod(int(near.argmax()), 256)
    alike = np.hypot(blue - common_blue, red - common_red) <= KINDS.grass_spread
    mask: np.ndarray = alike & (luma >= KINDS.grass_dark) & (luma <= KINDS.grass_bright)
    return mask


def _largest(field: np.ndarray) -> float:
    """The largest square without field that lies beside or above field, in frame heights: as large as a thing before
    the field. The stands behind it do not count."""
    tall = field.shape[0]
    closed = ndimage.binary_closing(field, iterations=1)
    thing = ~closed & np.maximum.accumulate(closed, axis=0)     # with field above it in the same column
    inside = ndimage.distance_transform_cdt(np.pad(thing, 1), metric="chessboard")
    return float(2 * inside.max() / tall)


def _ridges(luma: np.ndarray) -> np.ndarray:
    """Thin bright places: brighter than both sides, across or down."""
    ridge = np.zeros(luma.shape, bool)
    apart = KINDS.line_half_width
    inner = luma[apart:-apart, apart:-apart]
    for one, other in ((luma[apart:-apart, :-2 * apart], luma[apart:-apart, 2 * apart:]),
                       (luma[:-2 * apart, apart:-apart], luma[2 * apart:, apart:-apart])):
        ridge[apart:-apart, apart:-apart] |= (inner - one > KINDS.line_stands_out) & (
            inner - other > KINDS.line_stands_out)
    return ridge


def _lines(luma: np.ndarray, field: np.ndarray) -> int:
    """How many long straight thin bright lines cross the field (Hough 1962)."""
    around = ndimage.uniform_filter(field.astype(np.float32), 9) > 0.5
    down, right = np.nonzero(_ridges(luma) & around)
    if len(down) < KINDS.line_cells or len(down) > luma.size // 6:
        return 0
    turns = np.linspace(0, np.pi, 120, endpoint=False)
    cosines, sines = np.cos(turns), np.sin(turns)
    reach = int(np.hypot(*luma.shape)) + 2
    bins = 2 * reach + 1
    places = np.round(right[:, None] * cosines + down[:, None] * sines).astype(np.int32) + (
        np.arange(len(turns), dtype=np.int32) * bins + reach)

    def votes_of(points: np.ndarray) -> np.ndarray:
        return np.bincount(places[points].ravel(), minlength=len(turns) * bins)

    left = np.ones(len(down), bool)
    votes = votes_of(left)
    count = 0
    while count < KINDS.most_lines and left.sum() >= KINDS.line_cells:
        pairs = votes[:-1] + votes[1:]
        pairs[bins - 1::bins] = 0               # the last of one turn and the first of the next
        turn, distance = divmod(int(pairs.argmax()), bins)
        if pairs[turn * bins + distance] < KINDS.line_cells:
            break
        count += 1
        gone = left & (np.abs(right * cosines[turn] + down * sines[turn] + reach - distance - 0.5) <= 2.5)
        votes -= votes_of(gone)
        left &= ~gone
    return count


def _figures(luma: np.ndarray) -> int:
    """How many bright things as large as a digit to be read stand before something dark."""
    tall = luma.shape[0]
    count = 0
    bright = luma > KINDS.figure_bright
    labels, _ = ndimage.label(bright)
    for number, (down, right) in enumerate(ndimage.find_objects(labels), 1):
        height, width = down.stop - down.start, right.stop - right.start
        if not KINDS.figure_least <= height / tall <= KINDS.figure_most or width > KINDS.figure_wide * height:
            continue
        inside = labels[down, right] == number
        top, left = max(down.start - 2, 0), max(right.start - 2, 0)
        around = luma[top:down.stop + 2, left:right.stop + 2]
        rim = ~ndimage.binary_dilation(np.pad(inside, 2)[2 - down.start + top:, 2 - right.start + left:][
            :around.shape[0], :around.shape[1]])
        if rim.any() and (around[rim] < KINDS.figure_ground).mean() >= 0.8 and inside.mean() <= 0.85:
            count += 1
    return count
