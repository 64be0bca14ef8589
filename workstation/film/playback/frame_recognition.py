"""Recognise which exact frame of the film a player is showing.

libVLC hands over pictures without timestamps, but it decodes the same bits to the same pixels (ITU-T H.264 and H.265
define decoding exactly), so a picture is recognised by its brightness at a few hundred places. Deinterlacing and 10-bit
conversion change some values a little; the nearest picture then has to be clearly nearer than any other.
"""

from __future__ import annotations

from collections.abc import Iterable

import av
import numpy as np

from ..picture import Picture

PLACES = (36, 32)       # down and across
EXACT = 0.05            # mean difference, of 255, up to which two pictures are the same
ALIKE = 1.5             # up to which they can be the same, if the nearest is clearly nearer than all others
CLEARER = 0.5           # the nearest then differs by at most this share of the next nearest


def signature(frame: av.VideoFrame, rotation: int = 0, mirrored: bool = False) -> np.ndarray | None:
    """Brightness (0 to 255) at a grid of places of the upright picture, or None if it has no luma plane."""
    if not frame.format.name.startswith(("yuv", "nv12", "gray", "p010")):
        return None
    plane, deep = frame.planes[0], frame.format.components[0].bits > 8
    values = np.frombuffer(memoryview(plane), np.uint16 if deep else np.uint8)
    luma = values.reshape(plane.height, -1)[:, :plane.width]
    luma = np.rot90(luma[:, ::-1] if mirrored else luma, -rotation // 90 % 4)
    rows = np.linspace(0, luma.shape[0] - 2, PLACES[0]).astype(int) & ~1   # even lines survive deinterlacing
    columns = np.linspace(0, luma.shape[1] - 1, PLACES[1]).astype(int)
    picked: np.ndarray = luma[np.ix_(rows, columns)].astype(np.int16)
    if deep:
        picked >>= (frame.format.components[0].bits - 8) if not frame.format.name.startswith("p010") else 8
    return picked


def recognise(shown: np.ndarray, candidates: Iterable[tuple[Picture, np.ndarray | None]]) -> Picture | None:
    """Return the one candidate that ``shown`` is, or None if there is none or more than one."""
    differences = [(float(np.abs(values - shown).mean()), number, picture)
                   for number, (picture, values) in enumerate(candidates)
                   if values is not None and values.shape == shown.shape]
    differences.sort()
    if not differences:
        return None
    best, _, nearest = differences[0]
    second = differences[1][0] if len(differences) > 1 else float("inf")
    if best <= EXACT:
        return nearest if second > EXACT else None
    return nearest if len(differences) > 2 and best <= ALIKE and best <= CLEARER * second else None
