"""The picture is steady: it shakes no more than a pan needs."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from ..camera_rule import CameraRule, Trouble
from ..camera_work import CameraWork
from ..footage import Snap, Take
from ..screening import Screening

if TYPE_CHECKING:
    from ...film.camera_work.passage import Passage


class Steady(CameraRule):
    """``shake``: thousandths of the picture's width off the smooth path, root mean square, for ``least`` seconds."""

    title = "Steady"
    label = "steady picture"
    reason = ("A picture that trembles is tiring to watch, and what it costs is the detail that coaches look for: "
              "hands, feet, the ball. The tripod carries the camera; the hands only lead it.")

    fault = "The picture shakes"
    why = ("The picture trembles beyond what its pan moves. Small things, numbers and hands above all, cannot be "
           "read in it, and a still taken from it is blurred.")
    habit = ("Let the head of the tripod do the work: both hands light, elbows in, drag set so that it follows a "
             "finger. In wind stand between it and the camera, keep the tripod low and weighted, off rails and "
             "planks that others walk on; where and how high you may stand is for the venue and the school to say.")

    shake: float
    least: float

    def fault_of(self, passage: Passage) -> float | None:
        """The shake that a twentieth of the shot exceeds."""
        return passage.shake.worst()

    def troubles(self, screening: Screening, work: CameraWork, take: Take, passage: Passage,
                 snap: Snap | None) -> Iterator[Trouble]:
        """Each stretch of shake."""
        for stretch in passage.shake.above(self.shake, self.least, gap=0.5):
            yield Trouble.of(stretch, self.shake, f"Shakes by up to {stretch.worst:.1f} thousandths of the picture's "
                                                  f"width (up to {self.shake:g} pass)")
