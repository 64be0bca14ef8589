"""Find the groups of pictures that may contain a cut, from packet sizes and keyframes alone."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterator
from typing import NamedTuple

import numpy as np

from .packets import Packets
from .settings import CUTS

_ALL_INTRA = 4              # keyframes closer than this: every picture is compared with the next


class Gop(NamedTuple):
    """A group of pictures: the frames from a keyframe up to the next (``stop``), and what to scan in it: all of it and
    the step to the next keyframe (``scan_all``), or ``candidates``, ranges of frames of which one may begin
    a new shot."""

    start: int
    stop: int
    scan_all: bool
    candidates: list[range]


def candidate_gops(packets: Packets, early: set[int]) -> list[Gop]:
    """Return the groups of pictures that may contain a cut, in order; ``early`` are the early keyframes."""
    total = len(packets.size)
    keys = packets.keys.tolist()
    if not keys:
        return []
    if total / len(keys) < _ALL_INTRA:
        return [Gop(at - 1, min(at + 64, total), False, [range(at, min(at + 64, total))]) for at in range(1, total, 64)]
    bounds = [*keys, total]
    candidates: list[list[range]] = [[] for _ in keys]
    for candidate in _packet_candidates(packets):
        candidates[max(bisect_right(keys, candidate.start - 1) - 1, 0)].append(candidate)
    scan_all = [*_may_contain_cut(packets, early).tolist(), True]
    return [group for group in map(Gop, bounds, bounds[1:], scan_all, candidates)
            if group.scan_all or group.candidates]


def _may_contain_cut(packets: Packets, early: set[int]) -> np.ndarray:
    """Mark the groups of pictures that may contain a cut, up to and including the next keyframe: the keyframes differ
    more than their neighbours do and more than the packets between account for (movement costs bits, a new recording
    comes free with its keyframe), or they differ much, or the next one is early."""
    keys = packets.keys
    if len(keys) < 2:
        return np.zeros(0, bool)
    differences = packets.key_differences
    regular = packets.regular & (len(differences) >= CUTS.few_keyframes)
    usual = np.quantile(packets.unexplained, 0.25)
    neighbours = [np.delete(differences[max(at - 3, 0):at + 4], min(at, 3)) for at in range(len(differences))]
    stands_out = np.array([difference / (np.quantile(beside, 0.35) + 1) if len(beside) else 1.0
                           for difference, beside in zip(differences, neighbours, strict=True)])
    unexplained = stands_out * packets.unexplained >= CUTS.key_stands_out * usual
    return np.asarray(np.isin(keys[1:], list(early)) | (differences >= CUTS.key_differs) & (
        ~regular | (differences >= CUTS.key_another) | unexplained))


def _packet_candidates(packets: Packets) -> Iterator[range]:
    """Yield the ranges of frames at which packet sizes suggest a cut: a packet nearly as large as a keyframe, larger
    than those before it and those after it, which show the same content."""
    is_key = np.zeros(len(packets.size), bool)
    is_key[packets.keys] = True
    every = np.flatnonzero(packets.anchor)
    plain = every[~is_key[every]]
    sizes = packets.size[plain].astype(float)
    usual = _UsualSizes(sizes)
    for at, number in enumerate(plain.tolist()):
        after = int(np.searchsorted(packets.keys, number))
        keys = packets.size[packets.keys[max(after - 1, 0):after + 1]]
        of_key = sizes[at] / keys.min() if len(keys) else 1.0
        if of_key >= CUTS.nearly_intra and _is_outlier(sizes, usual.beside(at), at, of_key):
            candidate = int(np.searchsorted(every, number))
            yield range(int(every[candidate - 1]) + 1 if candidate else 1, number + 1)


class _UsualSizes:
    """What three quarters of the packets right before and right after each one reach at most."""

    def __init__(self, sizes: np.ndarray) -> None:
        self._sizes, reach = sizes, CUTS.neighbours
        full = len(sizes) >= reach      # at once, for asking one by one takes much longer
        self._full = np.quantile(np.lib.stride_tricks.sliding_window_view(sizes, reach), 0.75, axis=1) if full else []

    def beside(self, at: int) -> list[float]:
        """Return it of both sides, or of the one that there is."""
        reach = CUTS.neighbours
        return [self._from(begin, end) for begin, end in ((max(at - reach, 0), at),
                                                          (at + 1, min(at + 1 + reach, len(self._sizes))))
                if begin < end]

    def _from(self, begin: int, end: int) -> float:
        whole = end - begin == CUTS.neighbours
        return float(self._full[begin] if whole else np.quantile(self._sizes[begin:end], 0.75))


def _is_outlier(sizes: np.ndarray, usual: list[float], at: int, of_key: float) -> bool:
    times = [sizes[at] / max(one, 1) for one in usual]
    product = np.prod(times) if len(times) == 2 else times[0] ** 2 if times else np.inf
    if product < CUTS.outstanding:
        return False
    if (product >= CUTS.both_sides and min(times, default=np.inf) >= CUTS.either_side) or of_key >= CUTS.beyond_intra:
        return True
    return of_key >= CUTS.surely_intra and sizes[at] >= max(sizes[max(at - 1, 0):at + 2:2], default=0)
