"""Decide whether the step from one frame to the next is a cut."""

from __future__ import annotations

import numpy as np

from .frame_difference import FrameDifference, compensated_difference, half_size, plain_difference

# The step from one picture to the next, in luma levels, and against the steps around it.
_STEP_MEAN = 1.0
_STEP_WORST = 10.0
_STEP_SPREAD = 1.0          # a quarter of the picture changes so much: one person's sudden gesture does not
_COARSE_MOST = 14.4         # over a cell's pixels across, seen with a quarter of the cells across and down: texture
                            # that the coder sharpens all at once does not, and the less the more a cell averages
_STEP_STANDS_OUT = 1.45
_LEADS = 1.1                # where something else says that a shot begins
_SPREAD_STANDS_OUT = 1.45   # what passes before the lens changes a part of the picture only
_ALL_WORST, _ALL_MEAN, _ALL_SPREAD = 20.0, 2.0, 2.5     # levels, and times the steps around: so much new all over the
                            # picture is a cut although something near the lens changes a part of it as much
_STEP_FAR, _FAR_STANDS_OUT = 12.0, 1.6      # a mean step to quite another picture, and how it need stand out at least
AROUND = 4                  # pictures looked at either side
_FLASH = 0.6                # after a flash the old picture is back: it differs less than this share of the step


class FrameSteps:
    """The differences between consecutive frames, computed on demand."""

    def __init__(self, grids: list[np.ndarray], cell: int) -> None:
        self._grids, self._cell = grids, cell           # the cell's pixels across
        self._plain: dict[int, FrameDifference] = {}
        self._shifted: dict[int, FrameDifference] = {}

    def plain(self, at: int) -> FrameDifference:
        if at not in self._plain:
            self._plain[at] = plain_difference(self._grids[at - 1], self._grids[at])
        return self._plain[at]

    def moved(self, at: int) -> FrameDifference:
        if at not in self._shifted:
            self._shifted[at] = compensated_difference(self._grids[at - 1], self._grids[at])
        return self._shifted[at]

    def is_cut(self, at: int) -> bool:
        """Does picture ``at`` begin a new shot?"""
        return self.is_large(at) and self.stands_out(at) and not self.is_flash(at)

    def leads_neighbours(self, at: int) -> bool:
        """Is the step enough for a cut, and a little larger than those around it? If something else says that a shot
        begins with picture ``at``."""
        return self.is_large(at) and all(self._is_below(other, mean=self.moved(at).mean / _LEADS)
                                         for other in self._others(at))

    def is_large(self, at: int) -> bool:
        """Is what movement cannot explain enough for a cut?"""
        # the cheaper first
        return all(is_large_step(step(at)) for step in (self.plain, self.moved)) and self._is_coarse(at)

    def _is_coarse(self, at: int) -> bool:
        """Does the change show where no detail does?"""
        before, after = (half_size(half_size(grid)) for grid in self._grids[at - 1:at + 1])
        return compensated_difference(before, after).most >= _COARSE_MOST / self._cell

    def _others(self, at: int) -> list[int]:
        return [other for other in range(max(at - AROUND, 1), min(at + AROUND + 1, len(self._grids))) if other != at]

    def stands_out(self, at: int) -> bool:
        """Is the step larger than all around it, and over more of the picture?"""
        step, others = self.moved(at), self._others(at)
        if step.mean >= _STEP_FAR and all(self._is_below(other, mean=step.mean / _FAR_STANDS_OUT - 0.5) for other in others):
            return True
        if not all(self._is_below(other, spread=step.spread / _SPREAD_STANDS_OUT) for other in others):
            return False
        return (all(self._is_below(other, worst=step.worst / _STEP_STANDS_OUT - 2) for other in others)
                or step.worst >= _ALL_WORST
                and all(self._is_below(other, mean=step.mean / _ALL_MEAN, spread=step.spread / _ALL_SPREAD)
                        for other in others))

    def _is_below(self, at: int, **limits: float) -> bool:
        """Is a step at most so large? The cheaper comparison is asked first."""
        return any(all(getattr(step(at), name) <= limit for name, limit in limits.items())
                   for step in (self.plain, self.moved))

    def is_flash(self, at: int) -> bool:
        """Is the old picture back soon after?"""
        last = min(at + AROUND - 1, len(self._grids) - 1)
        if last == at:
            return False
        left, step = compensated_difference(self._grids[at - 1], self._grids[last]), self.moved(at)
        return left.worst < _FLASH * step.worst and left.mean < _FLASH * step.mean


def is_large_step(step: FrameDifference) -> bool:
    """Is a difference by itself enough for a cut?"""
    return step.mean >= _STEP_MEAN and step.worst >= _STEP_WORST and step.spread >= _STEP_SPREAD
