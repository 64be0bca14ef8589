"""Films with smears on the lens that only soften what lies behind them, of known places, sizes, strengths and spans.

A film has shots of :data:`SHOT` seconds, of several clips in turn, in which the camera pans to and fro. What must be
found was written down before anything was run:

* each smear of :data:`SMEARS`, as one, its middle within a twentieth of the width and a twelfth of the height of where
  it is, and nothing anywhere else: precision and recall of places at least 0.95 over all films;
* its span in time, at precision and recall of at least 0.95, two seconds at either edge aside (a softer place can only
  be told once other things have passed behind it);
* in films without a smear, nothing;
* the share of fine detail that is lost, within 15 per cent from a share of a half on.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import numpy as np
from scipy import ndimage

from tests.film.camera_work.faulty import RATE, Fault, Seen, encode, panned, shown

SHOT = 12.0
SHOTS = 5
SPAN = 18.0, 46.0               # from the middle of the second shot to the last but one's end
SLACK = 2.0                     # seconds
SHARE = 0.75                    # of the clip's width that is shown


@dataclass(frozen=True)
class Smear:
    """A round smear with a soft edge. ``right`` and ``down`` are shares of the picture, ``size`` its diameter as a
    share of the width. ``blur`` is a Gaussian blur's standard deviation in thousandths of the width, ``haze`` the share
    of contrast against the mean of what is around that is lost."""

    right: float
    down: float
    size: float
    blur: float = 0.0
    haze: float = 0.0


NONE = "no smear"
SMEARS = {
    "grease, 20 %, blur 5": Smear(0.3, 0.4, 0.20, blur=5.0),
    "grease, 14 %, blur 8": Smear(0.62, 0.55, 0.14, blur=8.0),
    "thumb, 30 %, blur 4": Smear(0.7, 0.65, 0.30, blur=4.0),
    "rain drop, 12 %, blur 12": Smear(0.45, 0.7, 0.12, blur=12.0),
    "haze, 20 %, 0.6 of the contrast": Smear(0.35, 0.6, 0.20, haze=0.6),
    "breath, 25 %, blur 3 and haze 0.4": Smear(0.65, 0.35, 0.25, blur=3.0, haze=0.4),
}


def softened(luma: np.ndarray, smear: Smear) -> np.ndarray:
    """A picture behind a smear."""
    tall, wide = luma.shape
    reach = round(smear.size * wide + 4 * smear.blur / 1000 * wide)         # what is further away changes nothing
    middle = round(smear.down * tall), round(smear.right * wide)
    box = tuple(slice(max(at - reach, 0), at + reach) for at in middle)
    own = luma[box]
    down, right = (each + side.start for each, side in zip(np.mgrid[:own.shape[0], :own.shape[1]], box, strict=True))
    away = np.hypot(right - smear.right * wide, down - smear.down * tall) / (smear.size / 2 * wide)
    there = np.clip((1.15 - away) / 0.3, 0, 1)
    soft = ndimage.gaussian_filter(own, smear.blur / 1000 * wide) if smear.blur else own
    around = ndimage.uniform_filter(own, round(smear.size * wide)) if smear.haze else soft
    result = luma.copy()
    result[box] = own * (1 - there) + there * (soft * (1 - smear.haze) + around * smear.haze)
    return result


def film(clips: tuple[str, ...]) -> Iterator[Seen]:
    """The shots, one after the other, in one time."""
    for number in range(SHOTS):
        for seen in shown(clips[number % len(clips)], SHOT):
            yield Seen(seen.luma, seen.seconds + number * SHOT)


def on_the_way(seconds: float) -> float:
    """Where the camera looks, in widths: to and fro, at another pace in each shot."""
    return float(0.55 * np.sin(2 * np.pi * seconds / (8.0 + seconds // SHOT)))


def behind(smear: Smear | None) -> Fault:
    """The panned pictures, behind a smear during the span."""
    moves = panned(on_the_way, SHARE)

    def fault(seen: Seen) -> np.ndarray:
        luma = moves(seen)
        return softened(luma, smear) if smear is not None and SPAN[0] <= seen.seconds < SPAN[1] else luma
    return fault


def lost(clips: tuple[str, ...], smear: Smear) -> float:
    """The share of the differences between neighbours in a row that the smear takes away in its inner half."""
    moves, before, after = panned(on_the_way, SHARE), 0.0, 0.0
    for seen in list(film(clips))[round(SPAN[0] * RATE):round(SPAN[1] * RATE):25]:
        luma = moves(seen)
        tall, wide = luma.shape
        half = smear.size / 4 * wide
        inner = (slice(round(smear.down * tall - half), round(smear.down * tall + half)),
                 slice(round(smear.right * wide - half), round(smear.right * wide + half)))
        before += float(np.abs(np.diff(luma[inner])).sum())
        after += float(np.abs(np.diff(softened(luma, smear)[inner])).sum())
    return 1 - after / before


def write(clips: tuple[str, ...], smear: Smear | None, to: Path) -> Path:
    """Write a film with a smear, or none."""
    return encode(film(clips), to, behind(smear))
