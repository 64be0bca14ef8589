"""The picture is level: the horizon does not tip over."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from ...film.camera_work.series import Series
from ..camera_rule import CameraRule, Trouble
from ..camera_work import CameraWork
from ..footage import Snap, Take
from ..screening import Screening

if TYPE_CHECKING:
    from ...film.camera_work.passage import Passage


class Level(CameraRule):
    """``degrees`` of roll against the shot's usual, for ``least`` seconds."""

    title = "Level"
    label = "level picture"
    reason = ("Everybody reads the field by its lines. In a picture that has tipped over, splits and depths look "
              "other than they are, and distances cannot be judged.")

    fault = "The picture tips over"
    why = ("The picture is turned against the rest of the shot. Yard lines are what the viewer measures by; tilted, "
           "they mislead, and the eye wants to straighten them instead of watching the play.")
    habit = ("Level the tripod's bowl before the game and once more at half-time, and lock the head's side tilt; no "
             "leg on a loose board or against a railing.")

    degrees: float
    least: float

    def fault_of(self, passage: Passage) -> float | None:
        """The roll that a twentieth of the shot exceeds."""
        return Series(passage.roll.times, abs(passage.roll.values)).worst()

    def troubles(self, screening: Screening, work: CameraWork, take: Take, passage: Passage,
                 snap: Snap | None) -> Iterator[Trouble]:
        """Each stretch in which the picture is turned."""
        roll = passage.roll
        for stretch in Series(roll.times, abs(roll.values)).above(self.degrees, self.least, gap=0.5):
            yield Trouble.of(stretch, self.degrees, f"Turned by up to {stretch.worst:.1f}° against the rest of the "
                                                    f"shot (up to {self.degrees:g}° pass)")
