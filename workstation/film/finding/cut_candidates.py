"""In which groups of pictures a new shot may begin, told from a source's packets and keyframes alone."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterator
from typing import NamedTuple

import numpy as np

from .packets import Packets

# Packets of cuts between keyframes, as measured in six encodings of real footage: against the smaller keyframe beside
# them, against the upper quartiles of the packets before and after, and against the larger of the two next to them.
_NEIGHBOURS = 6             # packets either side
_NEARLY_INTRA = 0.14        # of the keyframe; all but one cut in some hundred reach it
_OUTSTANDING = 1.5          # product of both quartiles' ratios: whatever is larger than what came before *and* after
_EITHER_SIDE, _BOTH_SIDES = 1.15, 1.9   # the lesser ratio, and the product, that are enough by themselves
_SURELY_INTRA = 0.35        # of the keyframe, if it is a peak; between two busy shots nothing else stands out
_BEYOND_INTRA = 1.0         # of the keyframe

# Groups: the difference of their keyframes, in luma levels; and how many times the differences around it, times how many
# times what the packets between account for. Cuts were not measured below 1.5.
_KEY_DIFFERS = 1.0
_KEY_STANDS_OUT = 1.3
_FEW = 12                   # keyframes that are soon looked at, all of them
_KEY_ANOTHER = 6.0          # luma levels that are looked at in any case: noise and a steady rate of bits drown the packets

_ALL_INTRA = 4              # keyframes closer than this: every picture is compared with the next


class Group(NamedTuple):
    """The pictures from a keyframe up to the next (``stop``), and what of them is to be looked at: all of them and the
    step to the next keyframe (``whole``), or some places, ranges of pictures one of which may begin a new shot."""

    start: int
    stop: int
    whole: bool
    places: list[range]


def groups_in(packets: Packets, early: set[int]) -> list[Group]:
    """Return the groups of pictures in which a new shot may begin, in order; ``early`` are the keyframes that came before
    their time."""
    total = len(packets.size)
    keys = packets.keys.tolist()
    if not keys:
        return []
    if total / len(keys) < _ALL_INTRA:
        return [Group(at - 1, min(at + 64, total), False, [range(at, min(at + 64, total))]) for at in range(1, total, 64)]
    bounds = [*keys, total]
    places: list[list[range]] = [[] for _ in keys]
    for place in _between_keyframes(packets):
        places[max(bisect_right(keys, place.start - 1) - 1, 0)].append(place)
    return [group for group in map(Group, bounds, bounds[1:], [*_differ(packets, early).tolist(), True], places)
            if group.whole or group.places]


def _differ(packets: Packets, early: set[int]) -> np.ndarray:
    """Tell of each keyframe but the last whether a new shot may begin after it and not later than with the next: they
    differ more than their neighbours do and more than the packets between account for (movement costs bits, a new
    recording comes free with its keyframe), or they differ much, or the next came before its time."""
    keys = packets.keys
    if len(keys) < 2:
        return np.zeros(0, bool)
    differs = packets.differs
    regular = packets.regular & (len(differs) >= _FEW)
    usual = np.quantile(packets.unexplained, 0.25)
    around = [np.delete(differs[max(at - 3, 0):at + 4], min(at, 3)) for at in range(len(differs))]
    stands_out = np.array([difference / (np.quantile(beside, 0.35) + 1) if len(beside) else 1.0
                           for difference, beside in zip(differs, around, strict=True)])
    return np.isin(keys[1:], list(early)) | (differs >= _KEY_DIFFERS) & (
        ~regular | (differs >= _KEY_ANOTHER) | (stands_out * packets.unexplained >= _KEY_STANDS_OUT * usual))


def _between_keyframes(packets: Packets) -> Iterator[range]:
    """A packet may begin a shot if it is nearly as large as a keyframe and larger than those before it, and than those
    after it, which show the same things."""
    is_key = np.zeros(len(packets.size), bool)
    is_key[packets.keys] = True
    every = np.flatnonzero(packets.anchor)
    plain = every[~is_key[every]]
    sizes = packets.size[plain].astype(float)
    for at, number in enumerate(plain.tolist()):
        after = int(np.searchsorted(packets.keys, number))
        keys = packets.size[packets.keys[max(after - 1, 0):after + 1]]
        of_key = sizes[at] / keys.min() if len(keys) else 1.0
        if of_key >= _NEARLY_INTRA and _outstanding(sizes, at, of_key):
            place = int(np.searchsorted(every, number))
            yield range(int(every[place - 1]) + 1 if place else 1, number + 1)


def _outstanding(sizes: np.ndarray, at: int, of_key: float) -> bool:
    sides = [side for side in (sizes[max(at - _NEIGHBOURS, 0):at], sizes[at + 1:at + 1 + _NEIGHBOURS]) if len(side)]
    times = [sizes[at] / max(np.quantile(side, 0.75), 1) for side in sides]
    product = np.prod(times) if len(times) == 2 else times[0] ** 2 if times else np.inf
    if product < _OUTSTANDING:
        return False
    if product >= _BOTH_SIDES and min(times, default=np.inf) >= _EITHER_SIDE or of_key >= _BEYOND_INTRA:
        return True
    return of_key >= _SURELY_INTRA and sizes[at] >= max(sizes[max(at - 1, 0):at + 2:2], default=0)
