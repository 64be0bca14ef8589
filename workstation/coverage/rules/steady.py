"""The picture is steady: it shakes no more than a pan needs."""

from __future__ import annotations

from collections.abc import Iterator

from ..camera_rule import CameraRule, MeasuredShot, Trouble, exceeding


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

    def fault_of(self, shot: MeasuredShot) -> float | None:
        """The shake that a twentieth of the shot exceeds."""
        return shot.passage.shake.worst()

    def troubles(self, shot: MeasuredShot) -> Iterator[Trouble]:
        """Each stretch of shake."""
        return exceeding(shot.passage.shake, self.shake, self.least, 0.5,
                         "Shakes by up to {:.1f} thousandths of the picture's width (up to {:g} pass)")
