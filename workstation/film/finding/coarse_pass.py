"""One pass along a group of pictures, mostly rough: where may a new shot begin in it?

Decoded are the pictures that come after all before them in the file, a third of all, and all of them where a packet
betrays a cut and before the next keyframe, so that what can be judged there needs no second pass.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from functools import cached_property

import numpy as np

from .comparing import Change, change, halved, plain_change
from .cut_candidates import Group
from .packets import Packets
from .skimming import Skimmer
from .steps import AROUND, large

# In a search, times the steps around; less, as so many levels are to the step, if the picture is quite another. Between
# pictures some apart even movement is a large step, but one as large as the next. In twelve films of long takes 45 of 52
# hidden cuts are kept so, and 135 of 975 other steps that are larger than those beside them.
_LEAST_STANDS_OUT, _MOST_STANDS_OUT, _FAR = 1.15, 1.6, 24.0
_BETRAYED_MEAN, _BETRAYED_SPREAD = 0.85, 0.65  # times the largest step around, where a packet betrays a cut: cuts in
                            # fifteen films reached 0.89 and 0.70, half of what were none did not, nor many flashes
_BESIDE = 2                 # steps either side that one has to stand out from
_RECENT = 64                # pictures kept; a place, what is around it and the steps after it take no more
_ALL_BIDIRECTIONAL = frozenset({"hevc"})    # encoders write every picture in between as if coded in both directions

Picture = tuple[int, np.ndarray]        # its number and its grid


@dataclass(slots=True)
class Seen:
    """What a pass along a group saw: ``betrayed``, the places that a packet betrays and at which the step is large, with
    the pictures around them, if they are all in the group; ``hidden``, others at which the step is larger than around;
    ``tail``, the last pictures before the next keyframe. All pictures are right if ``exact``."""

    exact: bool = False
    betrayed: list[tuple[range, list[Picture] | None]] = field(default_factory=list)
    hidden: list[range] = field(default_factory=list)
    tail: list[Picture] = field(default_factory=list)


class _Step:
    """The step from one picture that comes after all before it in the file to the next such. What is wrong in pictures
    that are decoded roughly makes the steps out of them larger, not smaller."""

    def __init__(self, before: Picture, after: Picture) -> None:
        self.place = range(before[0] + 1, after[0] + 1)
        self._grids = before[1], after[1]

    @cached_property
    def _small(self) -> tuple[np.ndarray, np.ndarray]:
        return halved(self._grids[0]), halved(self._grids[1])

    @cached_property
    def plain(self) -> Change:
        return plain_change(*self._small)

    @cached_property
    def moved(self) -> Change:
        return change(*self._small)

    def is_large(self) -> bool:
        """Is it enough for a cut, to the last cell?"""
        return large(plain_change(*self._grids)) and large(change(*self._grids))

    def is_at_most(self, mean: float, spread: float) -> bool:
        return any(getattr(self, name).mean <= mean and getattr(self, name).spread <= spread
                   for name in ("plain", "moved"))      # the cheaper first

    def stands_out(self, others: list[_Step]) -> bool:
        """Is it large, and larger than all others?"""
        if not large(self.plain) or any(other.plain.mean > self.plain.mean for other in others) or not large(self.moved):
            return False
        times = min(max(_FAR / self.moved.mean, _LEAST_STANDS_OUT), _MOST_STANDS_OUT)
        return self.reaches(others, times, times)

    def reaches(self, others: list[_Step], mean: float, spread: float) -> bool:
        """Is it so many times as large as each of the others, movement left out?"""
        return all(other.is_at_most(self.moved.mean / mean, self.moved.spread / spread) for other in others)


def around(place: range, total: int) -> range:
    """The pictures to compare for a place in a film of so many."""
    return range(max(place.start - 1 - AROUND, 0), min(place.stop + AROUND, total))


def passed(skimmer: Skimmer, group: Group, packets: Packets, cancelled: Callable[[], bool]) -> Seen:
    """Pass once along a group; up to its last place only if it is not to be looked at whole."""
    own = _Pass(group, packets)
    for picture in own.pictures(skimmer):
        if cancelled():                 # a group may be as long as the film
            return Seen()
        own.take(picture)
    return own.end()


class _Pass:
    def __init__(self, group: Group, packets: Packets) -> None:
        self._group, self._packets = group, packets
        self._key = group.stop if group.stop in packets.grids else None     # the next
        self._windows = {place.stop: around(place, len(packets.size)) for place in group.places}
        self._recent: deque[Picture] = deque(maxlen=_RECENT)
        self._before: Picture | None = None
        self._steps: deque[_Step | None] = deque([None] * (2 * _BESIDE + 1), 2 * _BESIDE + 1)
        self._waiting: deque[range] = deque()       # for the pictures after them
        self._seen = Seen()

    def pictures(self, skimmer: Skimmer) -> Iterator[Picture]:
        group, windows = self._group, list(self._windows.values())
        end = group.stop if group.whole else min(windows[-1].stop + AROUND, group.stop)
        self._seen.exact = skimmer.source.video_codec in _ALL_BIDIRECTIONAL
        wanted = set((np.flatnonzero(self._packets.anchor[group.start:end]) + group.start).tolist())
        if group.whole and self._key is not None:
            windows.append(range(group.stop - AROUND - 1, group.stop))
        for window in windows:
            wanted.update(range(max(window.start, group.start), window.stop))
        goes_on = any(window.stop > group.stop for window in windows)
        return skimmer.grids(wanted, None if goes_on else self._key, roughly=not self._seen.exact)

    def take(self, picture: Picture) -> None:
        self._recent.append(picture)
        if self._packets.anchor[picture[0]] and picture[0] < self._group.stop:
            if self._before is not None:
                self._judge(_Step(self._before, picture))
            self._before = picture
        self._tell(picture[0] + 1)

    def end(self) -> Seen:
        if self._group.whole and self._key is not None:
            self._seen.tail = [one for one in self._recent if self._key - AROUND - 1 <= one[0] < self._key]
            if self._before is not None:
                self._judge(_Step(self._before, (self._key, self._packets.grids[self._key])))
        for _ in range(_BESIDE):
            self._judge(None)
        self._tell(len(self._packets.size))
        return self._seen

    def _judge(self, latest: _Step | None) -> None:
        """Judge the step in the middle of those that are remembered."""
        self._steps.append(latest)
        step = self._steps[_BESIDE]
        if step is None or step.place.stop > self._group.stop:      # the keyframe is judged by the tail
            return
        others = [other for other in self._steps if other is not None and other is not step]
        if (window := self._windows.get(step.place.stop)) is not None:
            if step.is_large() and step.reaches(others, _BETRAYED_MEAN, _BETRAYED_SPREAD):
                if window.start < self._group.start:
                    self._seen.betrayed.append((step.place, None))
                else:
                    self._waiting.append(step.place)
        elif self._group.whole and step.stands_out(others):
            self._seen.hidden.append(step.place)

    def _tell(self, read: int) -> None:
        """Tell of the places whose pictures are all there, once all before ``read`` were read."""
        while self._waiting and self._windows[self._waiting[0].stop].stop <= read:
            place = self._waiting.popleft()
            self._seen.betrayed.append((place, [one for one in self._recent if one[0] in self._windows[place.stop]]))
