"""Decode a third of a group of pictures and find the candidates in it for a cut.

Decoded are the anchor frames (those shown after all before them in the file), and every frame where packet sizes
suggest a cut and before the next keyframe, so that what can be judged there needs no second pass.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, field
from functools import cached_property

import numpy as np

from .cut_candidates import Gop
from .cut_decision import is_large_step
from .frame_difference import FrameDifference, compensated_difference, half_size, plain_difference
from .packets import Packets
from .selective_decoder import SelectiveDecoder
from .settings import CUTS

_RECENT = 64                # frames held; a candidate, its window and the steps after it need no more
_ALL_BIDIRECTIONAL = frozenset({"hevc"})    # encoders write every picture in between as if coded in both directions

NumberedGrid = tuple[int, np.ndarray]        # its number and its grid


@dataclass(slots=True)
class CoarseResult:
    """Result of a coarse pass along a group: ``suggested``, the candidates suggested by packet sizes at which the step
    is large, with the frames around them, if they are all in the group; ``hidden``, others at which the step is larger
    than around; ``tail``, the last frames before the next keyframe. All frames are exact if ``exact``."""

    exact: bool = False
    suggested: list[tuple[range, list[NumberedGrid] | None]] = field(default_factory=list)
    hidden: list[range] = field(default_factory=list)
    tail: list[NumberedGrid] = field(default_factory=list)


class _AnchorStep:
    """The step from one anchor frame to the next. Errors in coarsely decoded frames make steps larger, not smaller."""

    def __init__(self, before: NumberedGrid, after: NumberedGrid) -> None:
        self.candidate = range(before[0] + 1, after[0] + 1)
        self._grids = before[1], after[1]

    @cached_property
    def _small(self) -> tuple[np.ndarray, np.ndarray]:
        return half_size(self._grids[0]), half_size(self._grids[1])

    @cached_property
    def plain(self) -> FrameDifference:
        return plain_difference(*self._small)

    @cached_property
    def moved(self) -> FrameDifference:
        return compensated_difference(*self._small)

    def is_large(self) -> bool:
        """Is it enough for a cut at full grid size?"""
        return is_large_step(plain_difference(*self._grids)) and is_large_step(compensated_difference(*self._grids))

    def is_at_most(self, mean: float, spread: float) -> bool:
        return any(getattr(self, name).mean <= mean and getattr(self, name).spread <= spread
                   for name in ("plain", "moved"))      # the cheaper first

    def stands_out(self, others: list[_AnchorStep]) -> bool:
        """Is it large, and larger than all others; or, among next to nothing, half as large?"""
        if any(other.plain.mean > self.plain.mean for other in others):
            return False
        if not is_large_step(self.plain) or not is_large_step(self.moved):
            return self.is_lone(others)
        times = min(max(CUTS.hidden_far / self.moved.mean, CUTS.hidden_least), CUTS.hidden_most)
        return self.reaches(others, times, times)

    def is_lone(self, others: list[_AnchorStep]) -> bool:
        """Is it half as large as a cut has to be, and far above the others?"""
        return (all(step.mean >= CUTS.step_mean and step.spread >= CUTS.step_spread
                    and step.worst >= CUTS.step_worst / 2
                    for step in (getattr(self, name) for name in ("plain", "moved")))       # the cheaper first
                and self.reaches(others, CUTS.hidden_most, CUTS.hidden_most))

    def reaches(self, others: list[_AnchorStep], mean: float, spread: float) -> bool:
        """Is it so many times as large as each of the others, movement left out?"""
        return all(other.is_at_most(self.moved.mean / mean, self.moved.spread / spread) for other in others)


def comparison_window(candidate: range, total: int) -> range:
    """The frames to compare for a candidate in a film of ``total`` frames."""
    return range(max(candidate.start - 1 - CUTS.window, 0), min(candidate.stop + CUTS.window, total))


def coarse_pass(decoder: SelectiveDecoder, group: Gop, packets: Packets, cancelled: Callable[[], bool]) -> CoarseResult:
    """Decode once along a group, up to its last candidate only unless all of it is to be scanned."""
    steps = GroupSteps(group, packets)
    for picture in steps.pictures(decoder):
        if cancelled():                 # a group may be as long as the film
            return CoarseResult()
        steps.add(picture)
    return steps.end()


class GroupSteps:
    """Compares the frames of a group, which are added in order, and collects the result."""

    def __init__(self, group: Gop, packets: Packets) -> None:
        self._group, self._packets = group, packets
        self._key = group.stop if group.stop in packets.grids else None     # the next
        total = len(packets.size)
        self._windows = {candidate.stop: comparison_window(candidate, total) for candidate in group.candidates}
        self._recent: deque[NumberedGrid] = deque(maxlen=_RECENT)
        self._before: NumberedGrid | None = None
        self._steps: deque[_AnchorStep | None] = deque([None] * (2 * CUTS.beside + 1), 2 * CUTS.beside + 1)
        self._waiting: deque[range] = deque()       # for the pictures after them
        self._seen = CoarseResult()

    def pictures(self, decoder: SelectiveDecoder) -> Iterator[NumberedGrid]:
        """Decode what has to be added: anchor frames, and all around candidates and before the next keyframe."""
        group, windows = self._group, list(self._windows.values())
        end = group.stop if group.scan_all else min(windows[-1].stop + CUTS.window, group.stop)
        self._seen.exact = decoder.source.video_codec in _ALL_BIDIRECTIONAL
        wanted = set(self.anchors(end))
        if group.scan_all and self._key is not None:
            windows.append(range(group.stop - CUTS.window - 1, group.stop))
        for window in windows:
            wanted.update(range(max(window.start, group.start), window.stop))
        goes_on = any(window.stop > group.stop for window in windows)
        return decoder.grids(wanted, None if goes_on else self._key, coarse=not self._seen.exact)

    def anchors(self, end: int | None = None) -> list[int]:
        """The numbers of the group's anchor frames, or of those before ``end``."""
        begin, end = self._group.start, self._group.stop if end is None else end
        return [int(number) for number in np.flatnonzero(self._packets.anchor[begin:end]) + begin]

    def passed(self, pictures: Iterable[NumberedGrid]) -> Iterator[NumberedGrid]:
        """Give pictures on, those of the group added."""
        for picture in pictures:
            if picture[0] >= self._group.start:
                self.add(picture)
            yield picture

    def add(self, picture: NumberedGrid) -> None:
        """Add the next frame."""
        self._recent.append(picture)
        if self._packets.anchor[picture[0]] and picture[0] < self._group.stop:
            if self._before is not None:
                self._evaluate(_AnchorStep(self._before, picture))
            self._before = picture
        self._flush(picture[0] + 1)

    def end(self) -> CoarseResult:
        """Return the result, after the last frame."""
        if self._group.scan_all and self._key is not None:
            self._seen.tail = [one for one in self._recent if self._key - CUTS.window - 1 <= one[0] < self._key]
            if self._before is not None:
                self._evaluate(_AnchorStep(self._before, (self._key, self._packets.grids[self._key])))
        for _ in range(CUTS.beside):
            self._evaluate(None)
        self._flush(len(self._packets.size))
        return self._seen

    def _evaluate(self, latest: _AnchorStep | None) -> None:
        """Evaluate the step in the middle of those held."""
        self._steps.append(latest)
        step = self._steps[CUTS.beside]
        if step is None or step.candidate.stop > self._group.stop:      # the keyframe is judged by the tail
            return
        others = [other for other in self._steps if other is not None and other is not step]
        if (window := self._windows.get(step.candidate.stop)) is not None:
            if (step.is_large() and step.reaches(others, CUTS.suggested_mean, CUTS.suggested_spread)) or step.is_lone(
                    others):
                if window.start < self._group.start:
                    self._seen.suggested.append((step.candidate, None))
                else:
                    self._waiting.append(step.candidate)
        elif self._group.scan_all and step.stands_out(others):
            self._seen.hidden.append(step.candidate)

    def _flush(self, read: int) -> None:
        """Complete the candidates whose frames are all there, once all before ``read`` were read."""
        while self._waiting and self._windows[self._waiting[0].stop].stop <= read:
            candidate = self._waiting.popleft()
            window = self._windows[candidate.stop]
            self._seen.suggested.append((candidate, [one for one in self._recent if one[0] in window]))
