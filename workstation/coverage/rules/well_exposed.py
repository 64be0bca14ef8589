"""The picture is well exposed: nothing burnt out or black, no jumps, no flicker."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from ..camera_rule import CameraRule, Trouble
from ..camera_work import CameraWork
from ..footage import Snap, Take
from ..screening import Screening

if TYPE_CHECKING:
    from ...film.camera_work.passage import Passage


class WellExposed(CameraRule):
    """``burnt`` and ``black``: shares of the picture without detail, for ``least`` seconds. ``jump``: share by which
    the light changes within 0.4 s. ``flicker``: share by which it varies, root mean square, for ``least`` seconds."""

    title = "Well exposed"
    label = "even exposure"
    reason = ("Where white shirts or shade show no detail, numbers cannot be read. Light that jumps or "
              "flickers draws the eye away from the play.")

    fault = "Badly exposed"
    why = ("Where the picture is burnt out or black, nothing can be read, and no player or program brings it back. "
           "Light that jumps in the middle of a play hides what happens meanwhile.")
    habit = ("Expose for the jerseys, not for the sky: set exposure by hand on the lighter shirts, and touch it only "
             "between plays. Under lamps choose a shutter time that goes with the mains (1/60 or 1/120 s at 60 Hz, "
             "1/50 or 1/100 s at 50 Hz).")

    burnt: float
    black: float
    jump: float
    flicker: float
    least: float

    def fault_of(self, passage: Passage) -> float | None:
        """The share without detail, and the flicker of the light."""
        return (passage.burnt.worst() or 0.0) + (passage.black.worst() or 0.0) + (passage.jumps.worst() or 0.0)

    def troubles(self, screening: Screening, work: CameraWork, take: Take, passage: Passage,
                 snap: Snap | None) -> Iterator[Trouble]:
        """Each stretch that is burnt out, black or flickers, and each jump."""
        for series, most, what, title in ((passage.burnt, self.burnt, "burnt out", "Burnt out"),
                                          (passage.black, self.black, "black", "Too dark")):
            for stretch in series.above(most, self.least, gap=0.5):
                yield Trouble.of(stretch, most, f"{stretch.worst:.0%} of the picture is {what} (up to {most:.0%} pass)",
                                 title)
        for stretch in passage.flicker.above(self.flicker, self.least, gap=0.5):
            yield Trouble.of(stretch, self.flicker, f"The light trembles by {stretch.worst:.1%} (up to "
                                                    f"{self.flicker:.1%} pass)", "The light flickers")
        for stretch in passage.jumps.above(self.jump, 0.0, gap=0.3):
            yield Trouble.of(stretch, self.jump, f"The light changes by {stretch.worst:.0%} within 0.4 s (up to "
                                                 f"{self.jump:.0%} pass)", "The light jumps")
