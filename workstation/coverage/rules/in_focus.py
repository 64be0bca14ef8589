"""The picture is in focus: as sharp as the same shot can be, and as the game's others are."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from ..camera_rule import CameraRule, Trouble
from ..camera_work import CameraWork
from ..footage import Snap, Take
from ..screening import Screening

if TYPE_CHECKING:
    from ...film.camera_work.passage import Passage


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

    def fault_of(self, passage: Passage) -> float | None:
        """The softness that a twentieth of the shot exceeds."""
        return passage.softness.worst()

    def troubles(self, screening: Screening, work: CameraWork, take: Take, passage: Passage,
                 snap: Snap | None) -> Iterator[Trouble]:
        """Each soft stretch, or the whole shot."""
        soft = passage.softness
        hunted = soft.returns(self.softness)
        title = "The focus hunts" if hunted > 1 else ""
        for stretch in soft.above(self.softness, self.least, gap=0.5):
            yield Trouble.of(stretch, self.softness,
                             f"Blurred by up to {stretch.worst:.1f} thousandths of the picture's width beyond the "
                             f"shot's best (up to {self.softness:g} pass)"
                             + (f", {hunted} times to and fro" if hunted > 1 else ""), title)
        throughout = work.soft_all_along(take.shot)
        if throughout is not None and throughout > self.against_game:
            yield Trouble(passage.start, passage.end, passage.start, throughout / self.against_game,
                          f"At its best still {throughout:.1f} thousandths of the picture's width softer than the "
                          f"sharper half of the game's shots of this kind (up to {self.against_game:g} pass)",
                          "Out of focus throughout")
