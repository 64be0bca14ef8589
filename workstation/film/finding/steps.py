"""Is a step from one picture to the next the step into another shot?"""

from __future__ import annotations

import numpy as np

from .comparing import Change, change, halved, plain_change

# The step from one picture to the next, in luma levels, and against the steps around it.
_STEP_MEAN = 1.0
_STEP_WORST = 10.0
_STEP_SPREAD = 1.0          # a quarter of the picture changes so much: one person's sudden gesture does not
_COARSE_MOST = 14.4         # over a cell's pixels across, seen with a quarter of the cells across and down: texture
                            # that the coder sharpens all at once does not, and the less the more a cell averages
_STEP_STANDS_OUT = 1.45
_STEP_FAR = 12.0            # a mean step to quite another picture need only be twice those around it
AROUND = 4                 # pictures looked at either side
_FLASH = 0.6                # after a flash the old picture is back: it differs less than this share of the step


class Steps:
    """The steps from each of some consecutive pictures to the next; compared only as far as it is asked."""

    def __init__(self, grids: list[np.ndarray], cell: int) -> None:
        self._grids, self._cell = grids, cell           # the cell's pixels across
        self._plain: dict[int, Change] = {}
        self._moved: dict[int, Change] = {}

    def plain(self, at: int) -> Change:
        if at not in self._plain:
            self._plain[at] = plain_change(self._grids[at - 1], self._grids[at])
        return self._plain[at]

    def moved(self, at: int) -> Change:
        if at not in self._moved:
            self._moved[at] = change(self._grids[at - 1], self._grids[at])
        return self._moved[at]

    def is_cut(self, at: int) -> bool:
        """Does picture ``at`` begin a new shot?"""
        return self.is_large(at) and self.stands_out(at) and not self._is_flash(at)

    def is_large(self, at: int) -> bool:
        """Is what movement cannot explain enough for a cut?"""
        return all(_large(step(at)) for step in (self.plain, self.moved)) and self._is_coarse(at)   # the cheaper first

    def _is_coarse(self, at: int) -> bool:
        """Does the change show where no detail does?"""
        before, after = (halved(halved(grid)) for grid in self._grids[at - 1:at + 1])
        return change(before, after).most >= _COARSE_MOST / self._cell

    def stands_out(self, at: int) -> bool:
        """Is the step larger than all around it?"""
        mean = self.moved(at).mean
        others = [other for other in range(max(at - AROUND, 1), min(at + AROUND + 1, len(self._grids))) if other != at]
        if mean >= _STEP_FAR and all(self.plain(other).mean <= mean / 2 - 1 or self.moved(other).mean <= mean / 2 - 1
                                     for other in others):
            return True
        limit = self.moved(at).worst / _STEP_STANDS_OUT - 2
        beside = [other for other in others if self.plain(other).worst > limit]
        return all(self.moved(other).worst <= limit for other in beside)

    def _is_flash(self, at: int) -> bool:
        """Is the old picture back soon after?"""
        last = min(at + AROUND - 1, len(self._grids) - 1)
        return last > at and change(self._grids[at - 1], self._grids[last]).worst < _FLASH * self.moved(at).worst


def _large(step: Change) -> bool:
    return step.mean >= _STEP_MEAN and step.worst >= _STEP_WORST and step.spread >= _STEP_SPREAD
