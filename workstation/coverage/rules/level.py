"""The picture is level: it neither tips over nor is tilted all along."""

from __future__ import annotations

from collections.abc import Iterator

from ...film.camera_work.series import Series
from ..camera_rule import CameraRule, MeasuredShot, Trouble, exceeding


class Level(CameraRule):
    """``degrees`` of roll against the shot's usual, for ``least`` seconds. ``throughout``: degrees by which upright
    things may lean all through a shot, against their usual lean in the game; a usual one beyond it is a tilt itself."""

    title = "Level"
    label = "level picture"
    reason = ("Everybody reads the field by its lines. In a picture that has tipped over, splits and depths look "
              "other than they are, and distances cannot be judged.")

    fault = "The picture tips over"
    why = ("The picture is turned. Yard lines are what the viewer measures by; tilted, they mislead, and the eye "
           "wants to straighten them instead of watching the play.")
    habit = ("Level the tripod's bowl before the game and once more at half-time, and lock the head's side tilt; no "
             "leg on a loose board or against a railing.")

    degrees: float
    throughout: float
    least: float

    def fault_of(self, shot: MeasuredShot) -> float | None:
        """The roll that a twentieth of the shot exceeds."""
        return _turned(shot).worst()

    def troubles(self, shot: MeasuredShot) -> Iterator[Trouble]:
        """Each stretch in which the picture is turned, and the whole shot if it is tilted all along."""
        yield from exceeding(_turned(shot), self.degrees, self.least, 0.5,
                             "Turned by up to {:.1f}° against the rest of the shot (up to {:g}° pass)")
        lean, usual = shot.passage.lean.typical(), shot.work.usual_lean
        usual = usual if abs(usual) <= self.throughout else 0.0
        if lean is not None and abs(lean - usual) > self.throughout:
            against = f", {abs(lean - usual):.1f}° from the game's usual" if usual else ""
            yield Trouble(shot.passage.start, shot.passage.end, shot.passage.start, abs(lean - usual) / self.throughout,
                          f"Upright things lean by {abs(lean):.1f}° to the {'right' if lean > 0 else 'left'}{against} "
                          f"(up to {self.throughout:g}° pass)", "The picture is tilted throughout")


def _turned(shot: MeasuredShot) -> Series:
    return Series(shot.passage.roll.times, abs(shot.passage.roll.values))
