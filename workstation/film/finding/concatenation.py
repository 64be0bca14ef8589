"""Find concatenated recordings in one file by their timestamp gaps.

Concatenated recordings leave a timestamp gap: a recording's sound is rarely as long as its frames, and the next one
begins where the longer of the two ended, a little late or early on an otherwise even clock. Seen with ffmpeg's
concat demuxer from MP4 and from transport streams.
"""

from __future__ import annotations

import numpy as np

from ..index import FrameIndex
from .packets import Packets
from .settings import CUTS


def concatenation_keyframes(index: FrameIndex, packets: Packets, early: set[int]) -> set[int]:
    """Return the keyframes at timestamp gaps, where another recording begins; ``early`` are the early keyframes."""
    steps = np.diff(index.pts)
    if not len(steps):
        return set()
    odd = set((np.flatnonzero(np.abs(steps - np.median(steps)) > CUTS.rounded) + 1).tolist())
    at_keys = odd & set(packets.keys.tolist())
    if len(at_keys) < CUTS.gaps_at_keyframes * len(odd) or len(at_keys & early) < CUTS.gaps_at_early * len(at_keys):
        return set()
    return at_keys
