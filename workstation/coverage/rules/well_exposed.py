"""The picture is well exposed: nothing burnt out or black, no jumps, no flicker."""

from __future__ import annotations

from collections.abc import Iterator

from ..camera_rule import CameraRule, MeasuredShot, Trouble, exceeding


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

    def fault_of(self, shot: MeasuredShot) -> float | None:
        """The share without detail, and the jumps of the light."""
        return sum(series.worst() or 0.0 for series in (shot.passage.burnt, shot.passage.black, shot.passage.jumps))

    def troubles(self, shot: MeasuredShot) -> Iterator[Trouble]:
        """Each stretch that is burnt out, black or flickers, and each jump."""
        seen = shot.passage
        yield from exceeding(seen.burnt, self.burnt, self.least, 0.5,
                             "{:.0%} of the picture is burnt out (up to {:.0%} pass)", "Burnt out")
        yield from exceeding(seen.black, self.black, self.least, 0.5,
                             "{:.0%} of the picture is black (up to {:.0%} pass)", "Too dark")
        yield from exceeding(seen.flicker, self.flicker, self.least, 0.5,
                             "The light trembles by {:.1%} (up to {:.1%} pass)", "The light flickers")
        yield from exceeding(seen.jumps, self.jump, 0.0, 0.3,
                             "The light changes by {:.0%} within 0.4 s (up to {:.0%} pass)", "The light jumps")
