"""Where in a source a new shot may begin, told from its packets and keyframes alone."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

import numpy as np

from .comparing import change, halved
from .packets import Packets

# Packets. In re-encoded footage hardly a cut between keyframes measured below 1.7 times the packets on one side of it,
# and none below 19 % of the smaller keyframe beside it.
_OUTSTANDING = 1.5          # times the upper quartile of the packets before or after it
_NEARLY_INTRA = 0.14        # of the smaller keyframe beside it
_SURELY_INTRA, _PEAK, _PEAK_OUTSTANDING = 0.35, 1.1, 1.25  # so large, a peak among its two neighbours need stand out less
_NEIGHBOURS = 6             # packets either side

# Keyframes: the difference to the keyframe before, in luma levels; and how many times the differences around it,
# times how many times what the packets between account for. Cuts were not measured below 1.5.
_KEY_DIFFERS = 1.0
_KEY_STANDS_OUT = 1.1
_FEW = 12                   # keyframes that are soon looked at, all of them
_KEY_ANOTHER = 10.0         # luma levels that are looked at in any case: pans reach them, so do two views of one place

_ALL_INTRA = 4              # keyframes closer than this: every picture is compared with the next


def places_in(packets: Packets) -> list[range]:
    """Ranges of pictures one of which may begin a new shot, in order."""
    total = len(packets.size)
    if len(packets.keys) and total / len(packets.keys) < _ALL_INTRA:
        return [range(at, min(at + 64, total)) for at in range(1, total, 64)]
    small = [halved(grid) for grid in packets.grids.values()]
    differs = np.array([change(before, after).mean for before, after in pairwise(small)])
    places = list(_on_keyframes(packets, differs)) + list(_between_keyframes(packets))
    return sorted(places, key=lambda place: place.start)


def _on_keyframes(packets: Packets, differs: np.ndarray) -> Iterator[range]:
    """A keyframe may begin a shot if it differs from the one before more than its neighbours do and more than
    the packets between account for (movement costs bits, a new recording comes free with its keyframe), or if
    it came before its time."""
    keys = packets.keys
    if len(keys) < 2:
        return
    lengths = np.diff(keys)
    usual_length, times = _most_common(lengths)
    regular = lengths == usual_length
    if times <= len(lengths) / 2 or len(lengths) < _FEW:
        regular[:] = False
    paid = np.array([np.sort(packets.size[before + 1:after])[:-3].sum() for before, after in pairwise(keys)])
    unexplained = differs / (paid / np.maximum(packets.size[keys[1:]], packets.size[keys[:-1]]) + 0.1)
    usual = np.quantile(unexplained, 0.25)
    for at, key in enumerate(keys[1:].tolist()):
        around = slice(max(at - 3, 0), at + 4)
        beside = np.delete(differs[around], at - around.start)
        stands_out = differs[at] / (np.quantile(beside, 0.35) + 1) if len(beside) else 1.0
        if differs[at] >= _KEY_DIFFERS and (
                not regular[at] or differs[at] >= _KEY_ANOTHER
                or stands_out * unexplained[at] >= _KEY_STANDS_OUT * usual):
            before = max(key - 16, 0)
            anchors = np.flatnonzero(packets.anchor[before:key]) + before
            yield range(int(anchors[-1]) + 1 if len(anchors) else max(key - 3, 1), key + 1)


def _most_common(lengths: np.ndarray) -> tuple[int, int]:
    values, times = np.unique(lengths, return_counts=True)
    return int(values[times.argmax()]), int(times.max())


def _between_keyframes(packets: Packets) -> Iterator[range]:
    """A packet may begin a shot if it is nearly as large as a keyframe and larger than those after it, which show the
    same things, or than those before it."""
    is_key = np.zeros(len(packets.size), bool)
    is_key[packets.keys] = True
    every = np.flatnonzero(packets.anchor)
    plain = every[~is_key[every]]
    sizes = packets.size[plain].astype(float)
    for at, number in enumerate(plain):
        after = int(np.searchsorted(packets.keys, number))
        keys = packets.size[packets.keys[max(after - 1, 0):after + 1]]
        if len(keys) and sizes[at] < _NEARLY_INTRA * keys.min():
            continue
        sides = [side for side in (sizes[at + 1:at + 1 + _NEIGHBOURS], sizes[max(at - _NEIGHBOURS, 0):at]) if len(side)]
        if sides:
            times = sizes[at] / max(min(np.quantile(side, 0.75) for side in sides), 1)
            peak = sizes[at] >= _PEAK * max(sizes[max(at - 1, 0):at + 2:2], default=0) if at else True
            intra = len(keys) and sizes[at] >= _SURELY_INTRA * keys.min()
            if times < _OUTSTANDING and not (intra and peak and times >= _PEAK_OUTSTANDING):
                continue
        place = int(np.searchsorted(every, number))
        previous = int(every[place - 1]) if place else 0
        yield range(previous + 1, int(number) + 1)
