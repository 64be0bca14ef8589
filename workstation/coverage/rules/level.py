"""The picture is level: the horizon does not tip over."""

from __future__ import annotations

from collections.abc import Iterator

from ...film.camera_work.series import Series
from ..camera_rule import CameraRule, MeasuredShot, Trouble, exceeding


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

    def fault_of(self, shot: MeasuredShot) -> float | None:
        """The roll that a twentieth of the shot exceeds."""
        return _turned(shot).worst()

    def troubles(self, shot: MeasuredShot) -> Iterator[Trouble]:
        """Each stretch in which the picture is turned."""
        return exceeding(_turned(shot), self.degrees, self.least, 0.5,
                         "Turned by up to {:.1f}° against the rest of the shot (up to {:g}° pass)")


def _turned(shot: MeasuredShot) -> Series:
    return Series(shot.passage.roll.times, abs(shot.passage.roll.values))
