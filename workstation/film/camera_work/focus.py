"""Focus: how soft a picture is against the sharpest of its shot, as the blur that would make that one so soft.

A Gaussian blur of standard deviation s multiplies the power at the spatial frequency w by exp(-s^2 w^2), whatever the
picture shows. So the logarithms of the power of two pictures of the same scene differ by a line over w^2, and its slope
is the difference of their blurs (squared). The power is taken in tiles over the picture, in two sectors, fine detail
across and fine detail down; the smaller blur of the two counts, since a pan smears in one direction only and a lens
that is out of focus in all.
"""

from __future__ import annotations

from itertools import pairwise

import numpy as np
from scipy import fft

from .series import Series

EVERY = 0.2                 # seconds between two pictures that are looked at
TILE = 64                   # pixels
_TILES = 64                 # pixels from one tile to the next, about
_SECTOR = np.pi / 5         # radians either side of an axis
_FLOOR = np.log(60.0)       # of the logarithm of power; less is rounding to whole levels
_ABOVE = 1.0                # over the mean of the four highest bands
_DEEP = 2.0                 # a deeper drop soon meets what the coding leaves of fine detail, not what the picture shows
_KEPT = 0.94                # of an applied blur is measured on clips: coding softens the sharpest pictures as well
_BEST = 0.1                 # this share of a shot's pictures is its best


class _Sector:
    """The bands of one sector: which places of a transform lie in each."""

    def __init__(self, masks: list[np.ndarray]) -> None:
        self._places = np.concatenate([np.flatnonzero(mask) for mask in masks])
        self._sizes = np.array([np.count_nonzero(mask) for mask in masks], np.float32)
        self._starts = np.concatenate([[0], np.cumsum(self._sizes)[:-1]]).astype(int)

    def means(self, power: np.ndarray) -> np.ndarray:
        """The mean power of each tile in each band. A product with weights costs more, and threads of its own."""
        means: np.ndarray = np.add.reduceat(power[:, self._places], self._starts, axis=1) / self._sizes
        return means


def _bands() -> tuple[list[_Sector], np.ndarray, np.ndarray]:
    """The sectors; the bands' mean square frequencies (radians a pixel); and the window of a tile."""
    down = np.fft.fftfreq(TILE)[:, None] * 2 * np.pi
    right = np.fft.rfftfreq(TILE)[None] * 2 * np.pi
    radius, angle = np.hypot(down, right), np.arctan2(np.abs(down), np.abs(right) + 1e-9)
    edges = 2 * np.pi / TILE * np.arange(1.5, TILE // 2 + 0.6)
    sectors, squares = [], []
    for sector in (angle < _SECTOR, angle > np.pi / 2 - _SECTOR):
        masks = [((radius >= low) & (radius < high) & sector).ravel() for low, high in pairwise(edges)]
        sectors.append(_Sector(masks))
        squares.append([float((radius.ravel()[mask] ** 2).mean()) for mask in masks])
    return sectors, np.array(squares), np.outer(np.blackman(TILE), np.blackman(TILE)).astype(np.float32)


_SECTORS, _SQUARES, _WINDOW = _bands()
BANDS = _SQUARES.size       # numbers that describe a picture


def spectrum(luma: np.ndarray) -> np.ndarray:
    """The logarithm of a picture's power in each sector and band, of the half of the tiles with most in them.

    ``luma`` is the decoded plane (0 to 255); not a number if it is too small.
    """
    tall, wide = luma.shape
    if tall < TILE or wide < TILE:
        return np.full(BANDS, np.nan, np.float32)
    rows = np.linspace(0, tall - TILE, max(tall // _TILES, 3)).astype(int)
    columns = np.linspace(0, wide - TILE, max(wide // _TILES, 4)).astype(int)
    if len(rows) * len(columns) > 120:          # every other one, as on a chessboard
        places = [(row, column) for r, row in enumerate(rows) for c, column in enumerate(columns) if (r + c) % 2]
    else:
        places = [(row, column) for row in rows for column in columns]
    tiles = np.stack([luma[row:row + TILE, column:column + TILE] for row, column in places]).astype(np.float32)
    tiles -= tiles.mean((1, 2), keepdims=True)
    tiles *= _WINDOW
    power = np.abs(fft.rfft2(tiles, workers=1)) ** 2
    power = power.reshape(len(tiles), -1)
    bands = [sector.means(power) for sector in _SECTORS]
    rough = sum(sector[:, 1:5].sum(1) for sector in bands)
    busy = np.argsort(rough)[len(rough) // 2:]
    return np.concatenate([np.log(sector[busy].mean(0) + 5) for sector in bands]).astype(np.float32)


def blur_between(sharp: np.ndarray, soft: np.ndarray) -> float:
    """The square of the blur (pixels) that makes the spectrum *sharp* into *soft*; negative if it is the softer one."""
    squares = []
    for square, one, other in zip(_SQUARES, sharp.reshape(2, -1), soft.reshape(2, -1), strict=True):
        drop = one - other
        # where a spectrum no longer falls there is only noise and the coding
        floor = max(one[-4:].mean() + _ABOVE, _FLOOR), max(other[-4:].mean() + _ABOVE, _FLOOR)
        use = (one > floor[0]) & (other > floor[1]) & (np.maximum.accumulate(np.abs(drop - drop[:2].mean())) < _DEEP)
        if use.sum() < 4:
            use[:4] = True
        at = square[use] - square[use].mean()
        squares.append(float((at * drop[use]).sum() / (at * at).sum()))
    result: float = min(squares, key=abs) if squares[0] * squares[1] < 0 else \
        min(squares) if squares[0] > 0 else max(squares)
    return result


def reference(spectra: np.ndarray) -> np.ndarray | None:
    """The spectrum of the sharpest pictures of a shot; None if none could be measured."""
    known = spectra[np.isfinite(spectra).all(1)] if len(spectra) else spectra
    if not len(known):
        return None
    usual = np.median(known, axis=0)
    blurs = np.array([blur_between(usual, one) for one in known])
    best: np.ndarray = known[blurs <= np.quantile(blurs, _BEST)].mean(0)
    return best


def softness(times: np.ndarray, spectra: np.ndarray, sharp: np.ndarray | None, thousandth: float) -> Series:
    """How much softer each picture is than *sharp*: the standard deviation of a blur in thousandths of the picture's
    width. ``thousandth`` is that in pixels."""
    if sharp is None:
        return Series(times, np.full(len(times), np.nan))
    values = [np.sqrt(max(blur_between(sharp, one), 0.0)) / _KEPT / thousandth if np.isfinite(one).all() else np.nan
              for one in spectra]
    return Series(times, np.array(values, float))
