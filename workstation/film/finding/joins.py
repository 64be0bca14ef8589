"""Where recordings were joined into one file, told by its clock.

A recording's sound is rarely as long as its pictures. Who joins recordings without encoding them again lets the next
begin where the longer of the two has ended, so the first picture of each comes a little late, or early, on a clock that
is even otherwise. Seen with ffmpeg's concat demuxer from MP4 and from transport streams.
"""

from __future__ import annotations

import numpy as np

from ..index import FrameIndex
from .packets import Packets

_ROUNDED = 1.5              # ticks by which an even clock may be off
_AT_KEYS = 0.9              # of the odd steps of the clock: else it is the camera's own that is uneven
_EARLY = 2 / 3              # of the keyframes at odd steps: a recorder that stumbles at its keyframes has no such


def joins(index: FrameIndex, packets: Packets, early: set[int]) -> set[int]:
    """Return the numbers of the keyframes with which, by the clock, another recording begins; ``early`` are those that
    came before their time."""
    steps = np.diff(index.pts)
    if not len(steps):
        return set()
    odd = set((np.flatnonzero(np.abs(steps - np.median(steps)) > _ROUNDED) + 1).tolist())
    at_keys = odd & set(packets.keys.tolist())
    if len(at_keys) < _AT_KEYS * len(odd) or len(at_keys & early) < _EARLY * len(at_keys):
        return set()
    return at_keys
