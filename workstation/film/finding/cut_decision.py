"""Decide whether the step from one frame to the next is a cut."""

from __future__ import annotations

import numpy as np

from ..camera_motion import Prepared, follow, moved
from .frame_difference import FrameDifference, compensated_difference, half_size, plain_difference
from .settings import CUTS


class FrameSteps:
    """The differences between consecutive frames, computed on demand."""

    def __init__(self, grids: list[np.ndarray], cell: int) -> None:
        self._grids, self._cell = grids, cell           # the cell's pixels across
        self._plain: dict[int, FrameDifference] = {}
        self._shifted: dict[int, FrameDifference] = {}
        self._tracked: dict[int, FrameDifference] = {}

    def plain(self, at: int) -> FrameDifference:
        """Return the difference between the frame at `at` and the one before it, as they stand."""
        if at not in self._plain:
            self._plain[at] = plain_difference(self._grids[at - 1], self._grids[at])
        return self._plain[at]

    def moved(self, at: int) -> FrameDifference:
        """Return the same difference with the camera's movement compensated."""
        if at not in self._shifted:
            self._shifted[at] = compensated_difference(self._grids[at - 1], self._grids[at])
        return self._shifted[at]

    def tracked(self, at: int) -> FrameDifference:
        """Return the same difference with the camera's zoom and turn compensated, too; it costs ten times as much."""
        if at not in self._tracked:
            before, after = self._grids[at - 1:at + 1]
            if before.shape == after.shape:
                before = before + (after.mean() - before.mean())
                motion = follow(Prepared(before), Prepared(after))
                earlier = moved(before, motion) if np.isfinite(motion.right) else before
                before = np.where(np.isnan(earlier), after, earlier)
            self._tracked[at] = FrameDifference(*np.minimum(compensated_difference(before, after), self.moved(at)))
        return self._tracked[at]

    def is_cut(self, at: int) -> bool:
        """Does picture ``at`` begin a new shot?"""
        stands_out = (self.stands_out(at) or self._begins_in_motion(at)) if self.is_large(at) else self._is_lone(at)
        return stands_out and not self.is_flash(at)

    def leads_neighbours(self, at: int) -> bool:
        """Is the step enough for a cut, and a little larger than those around it? If something else says that a shot
        begins with picture ``at``."""
        return self.is_large(at) and all(self._is_below(other, mean=self.moved(at).mean / CUTS.leads)
                                         for other in self._others(at))

    def is_large(self, at: int) -> bool:
        """Is what movement cannot explain enough for a cut?"""
        # the cheaper first
        return all(is_large_step(step(at)) for step in (self.plain, self.moved)) and self._is_coarse(at)

    def _is_coarse(self, at: int) -> bool:
        """Does the change show where no detail does?"""
        before, after = (half_size(half_size(grid)) for grid in self._grids[at - 1:at + 1])
        return compensated_difference(before, after).most >= CUTS.coarse_most / self._cell

    def _others(self, at: int) -> list[int]:
        window = range(max(at - CUTS.window, 1), min(at + CUTS.window + 1, len(self._grids)))
        return [other for other in window if other != at]

    def stands_out(self, at: int) -> bool:
        """Is the step larger than all around it, and over more of the picture?"""
        step, others = self.moved(at), self._others(at)
        if step.mean >= CUTS.far_mean and all(self._is_below(other, mean=step.mean / CUTS.far_stands_out - 0.5)
                                              for other in others):
            return True
        if not all(self._is_below(other, spread=step.spread / CUTS.spread_stands_out) for other in others):
            return False
        return (all(self._is_below(other, worst=step.worst / CUTS.worst_stands_out - 2) for other in others)
                or (step.worst >= CUTS.all_over_worst
                and all(self._is_below(other, mean=step.mean / CUTS.all_over_mean,
                                       spread=step.spread / CUTS.all_over_spread)
                        for other in others)))

    def _begins_in_motion(self, at: int) -> bool:
        """Does it stand out once a zoom is compensated? A shot may begin, or end, in the middle of one."""
        if not self.leads_neighbours(at):       # asked first, since it costs little
            return False
        step = self.tracked(at)
        return is_large_step(step) and all(
            self._is_below(other, zooming=True, mean=step.mean / CUTS.in_motion, spread=step.spread / CUTS.in_motion,
                           worst=step.worst / CUTS.in_motion_worst) for other in self._others(at))

    def _is_lone(self, at: int) -> bool:
        """Is it far above next to nothing on both sides? So it is where the camera was stopped and nobody moved it."""
        # the cheaper first; it is never less
        if not all(step.mean >= CUTS.step_mean and step.worst >= CUTS.lone_worst and step.spread >= CUTS.step_spread
                   for step in (form(at) for form in (self.plain, self.moved))):
            return False
        step, others = self.moved(at), self._others(at)
        return (bool(others) and self._is_coarse(at)
                and all(self._is_below(other, mean=step.mean / CUTS.lone, worst=step.worst / CUTS.lone_worst_times,
                                       spread=step.spread / CUTS.lone)
                        for other in others))

    def _is_below(self, at: int, *, zooming: bool = False, **limits: float) -> bool:
        """Is a step at most so large, once movement is compensated, or if ``zooming`` zoom and turn, too? The cheaper
        comparisons, which are never less, are asked first."""
        steps = (self.plain, self.moved, self.tracked) if zooming else (self.plain, self.moved)
        return any(all(getattr(step(at), name) <= limit for name, limit in limits.items()) for step in steps)

    def is_flash(self, at: int) -> bool:
        """Is the old picture back soon after?"""
        last = min(at + CUTS.window - 1, len(self._grids) - 1)
        if last == at:
            return False
        left, step = compensated_difference(self._grids[at - 1], self._grids[last]), self.moved(at)
        return left.worst < CUTS.flash * step.worst and left.mean < CUTS.flash * step.mean


def is_large_step(step: FrameDifference) -> bool:
    """Is a difference by itself enough for a cut?"""
    return step.mean >= CUTS.step_mean and step.worst >= CUTS.step_worst and step.spread >= CUTS.step_spread
