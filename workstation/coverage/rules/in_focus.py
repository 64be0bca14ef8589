"""The picture is in focus: as sharp as the same shot can be, and as the game's others are."""

from __future__ import annotations

from collections.abc import Iterator

from ..camera_rule import CameraRule, MeasuredShot, Trouble, exceeding


class InFocus(CameraRule):
    """``softness``: blur beyond the shot's best, in thousandths of the picture's width, for ``least`` seconds.
    ``against_game``: the same of the whole shot against the sharper half of the game's shots of its kind."""

    title = "In focus"
    label = "sharp picture"
    reason = ("Numbers, hands and the ball are a few pixels in a wide picture. A lens that is a little off loses "
              "them first, and nothing brings them back.")

    fault = "Out of focus"
    why = ("The picture is softer than the same camera can do. Who did what at the point of attack cannot be made "
           "out, and neither can numbers or the ball.")
    habit = ("Switch the automatic focus off: zoom all the way in on the far hash marks, focus there, ease out, and "
             "leave it. Look again at half-time and when it gets dark or cold.")

    softness: float
    against_game: float
    least: float

    def fault_of(self, shot: MeasuredShot) -> float | None:
        """The softness that a twentieth of the shot exceeds."""
        return shot.passage.softness.worst()

    def troubles(self, shot: MeasuredShot) -> Iterator[Trouble]:
        """Each soft stretch, or the whole shot."""
        passage, hunted = shot.passage, shot.passage.softness.returns(self.softness)
        yield from exceeding(passage.softness, self.softness, self.least, 0.5,
                             "Blurred by up to {:.1f} thousandths of the picture's width beyond the shot's best (up to "
                             "{:g} pass)" + (f", {hunted} times to and fro" if hunted > 1 else ""),
                             "The focus hunts" if hunted > 1 else "")
        throughout = shot.work.soft_all_along(shot.take.shot)
        if throughout is not None and throughout > self.against_game:
            yield Trouble(passage.start, passage.end, passage.start, throughout / self.against_game,
                          f"At its best still {throughout:.1f} thousandths of the picture's width softer than the "
                          f"sharper half of the game's shots of this kind (up to {self.against_game:g} pass)",
                          "Out of focus throughout")
