"""Judge early keyframes: an encoder with scene detection, or a restarted camera, begins a group before its full length.

Encoders begin a group of pictures when it has reached its greatest length, or earlier where a picture has nothing in
common with those before. An early keyframe is no proof (whips of the camera and flashes bring one too), so early
keyframes count as cuts only in a film in which those that were checked are cuts.
"""

from __future__ import annotations

from itertools import pairwise

import numpy as np

from .packets import Packets

_SHIFTED = 4                # pictures by which a key at the greatest length may be shifted to suit those between
_EXACT = 0.9                # of the groups about so long: so many of just that length, and keys are not shifted
_OFTEN = 4                  # keys that have to come early before anything is concluded from it
_BEFORE = 8                 # pictures before a key in which it has to be calm
_ONE_IN = 6                 # so many plain keys one is looked at all the same, to see whether they keep their word
_SELDOM = 60.0              # seconds; a game's camera is started more often
_UNLIKE = 0.7               # of the difference beside; 10 such cuts in two films reached 0.84, 60 of 119 others did not
_UNEXPLAINED = 1.3          # times the usual in the film; the same cuts reached 1.6, two thirds of the others did not
_KEEP_WORD = 0.8            # of the early keys; where nothing changed while the camera stood, nothing is seen
# Packets before a key, each picture's share of the key's own; and how much the keyframes differ, in luma levels. In ten
# films by three settings of an encoder that watches, 74 of 106 cuts that came with an early key are so plain, and none of
# 241 other keys; the nearest had 0.108. In a film by another encoder 7 were, at the end of flashes: hence the sample.
_CALM, _ANOTHER = 0.10, 15.0


def early_keyframes(packets: Packets) -> set[int]:
    """Return the numbers of keyframes whose group before is shorter than the film's longest."""
    lengths = np.diff(packets.keys)
    if not len(lengths):
        return set()
    about = lengths[lengths >= lengths.max() - _SHIFTED]
    is_exact = len(about) >= _OFTEN and (about == lengths.max()).mean() >= _EXACT
    return set(packets.keys[1:][lengths < lengths.max() - (0 if is_exact else _SHIFTED)].tolist())


def obvious_cut_keyframes(packets: Packets, early: set[int]) -> set[int]:
    """Return the early keyframes that plainly begin another scene: little motion just before them, and quite unlike the
    previous keyframe. Empty if they are too few to be verified by a sample."""
    plain = {key for (before, key), difference in zip(pairwise(packets.keys.tolist()), packets.key_differences, strict=True)
             if key in early and difference >= _ANOTHER and _is_calm(packets, before, key)}
    return plain if len(plain) >= 2 * _OFTEN else set()


def unlike_keyframes(packets: Packets, early: set[int]) -> set[int]:
    """Return the keyframes due at their regular time with which a recording may begin all the same: they differ from the one before
    nearly as much as both do from their other neighbours in the same recording, and more than is usual against what the
    packets between account for."""
    begins = np.isin(packets.keys, list(early))
    padded = np.pad(packets.key_differences, 1)
    earlier = np.where(begins[:-1], 0, padded[:-2])        # not across the beginning of a recording
    later = np.where(np.append(begins[2:], True), 0, padded[2:])
    unlike = packets.key_differences >= _UNLIKE * np.maximum(earlier, later)
    usual = np.median(packets.unexplained[~begins[1:]])
    return set(packets.keys[1:][unlike & (packets.unexplained >= _UNEXPLAINED * usual)].tolist())


def marks_every_shot(looked_at: set[int], cuts: set[int], seconds: float) -> bool:
    """Does a keyframe come early only where a new shot begins, and so often that it may be so for every shot?"""
    kept = len(looked_at & cuts)
    return len(looked_at) >= max(_OFTEN, seconds / _SELDOM) and kept >= _KEEP_WORD * len(looked_at)


def cheapest_sample(plain: set[int], packets: Packets) -> set[int]:
    """Return the obvious keyframes that are cheapest to check: as many as verify the rest."""
    lengths = dict(zip(packets.keys[1:].tolist(), np.diff(packets.keys).tolist(), strict=True))
    return set(sorted(plain, key=lambda key: (lengths[key], key))[:max(_OFTEN, len(plain) // _ONE_IN)])


def _is_calm(packets: Packets, before: int, key: int) -> bool:
    last = packets.size[max(key - _BEFORE, before + 1):key]
    return len(last) > 0 and bool(last.mean() <= _CALM * packets.size[key])
