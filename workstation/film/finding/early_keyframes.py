"""Judge early keyframes: an encoder with scene detection, or a restarted camera, begins a group before its full length.

Encoders begin a group of pictures when it has reached its greatest length, or earlier where a picture has nothing in
common with those before. An early keyframe is no proof (whips of the camera and flashes bring one too), so early
keyframes count as cuts only in a film in which those that were checked are cuts.
"""

from __future__ import annotations

from itertools import pairwise

import numpy as np

from .packets import Packets
from .settings import CUTS


def early_keyframes(packets: Packets) -> set[int]:
    """Return the numbers of keyframes whose group before is shorter than the film's longest."""
    lengths = np.diff(packets.keys)
    if not len(lengths):
        return set()
    about = lengths[lengths >= lengths.max() - CUTS.shifted]
    is_exact = len(about) >= CUTS.often and (about == lengths.max()).mean() >= CUTS.exact_lengths
    return set(packets.keys[1:][lengths < lengths.max() - (0 if is_exact else CUTS.shifted)].tolist())


def obvious_cut_keyframes(packets: Packets, early: set[int]) -> set[int]:
    """Return the early keyframes that plainly begin another scene: little motion just before them, and quite unlike the
    previous keyframe. Empty if they are too few to be verified by a sample."""
    keys = pairwise(packets.keys.tolist())
    plain = {key for (before, key), difference in zip(keys, packets.key_differences, strict=True)
             if key in early and difference >= CUTS.obvious_difference and _is_calm(packets, before, key)}
    return plain if len(plain) >= 2 * CUTS.often else set()


def unlike_keyframes(packets: Packets, early: set[int]) -> set[int]:
    """Return the keyframes due at their regular time with which a recording may begin all the same: they differ from
    the one before nearly as much as both do from their other neighbours in the same recording, and more than is usual
    against what the packets between account for."""
    begins = np.isin(packets.keys, list(early))
    padded = np.pad(packets.key_differences, 1)
    earlier = np.where(begins[:-1], 0, padded[:-2])        # not across the beginning of a recording
    later = np.where(np.append(begins[2:], True), 0, padded[2:])
    unlike = packets.key_differences >= CUTS.unlike * np.maximum(earlier, later)
    usual = np.median(packets.unexplained[~begins[1:]])
    return set(packets.keys[1:][unlike & (packets.unexplained >= CUTS.unexplained * usual)].tolist())


def marks_every_shot(checked: set[int], cuts: set[int], seconds: float) -> bool:
    """Does a keyframe come early only where a new shot begins, and so often that it may be so for every shot?"""
    right = len(checked & cuts)
    return len(checked) >= max(CUTS.often, seconds / CUTS.seldom) and right >= CUTS.trusted_share * len(checked)


def cheapest_sample(plain: set[int], packets: Packets) -> set[int]:
    """Return the obvious keyframes that are cheapest to check: as many as verify the rest."""
    lengths = dict(zip(packets.keys[1:].tolist(), np.diff(packets.keys).tolist(), strict=True))
    return set(sorted(plain, key=lambda key: (lengths[key], key))[:max(CUTS.often, len(plain) // CUTS.sample_one_in)])


def _is_calm(packets: Packets, before: int, key: int) -> bool:
    last = packets.size[max(key - CUTS.calm_frames, before + 1):key]
    return len(last) > 0 and bool(last.mean() <= CUTS.calm * packets.size[key])
