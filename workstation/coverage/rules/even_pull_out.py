"""A pull-out is slow and even."""

from __future__ import annotations

from collections.abc import Iterable

import numpy as np

from ...tagging.model import MomentKind, ShotKind
from ..camera_rule import CameraRule, MeasuredShot, Trouble


class EvenPullOut(CameraRule):
    """``fastest``: doublings of the width in a second. ``unevenness``: the greatest speed against the mean, between the
    first and the last tenth of the way. ``wider``: how many times wider the picture becomes before it counts."""

    title = "Even pull-out"
    label = "even pull-out"
    reason = ("A pull-out takes the viewer along from the marker to the formation. Slow and even, it is hardly "
              "noticed; in steps or in a rush, it is all that is seen.")
    kinds = frozenset({ShotKind.PLAY, ShotKind.DOWN_MARKER, ShotKind.MEASUREMENT})

    fault = "The pull-out is uneven"
    why = ("The picture widens in jumps or in a rush. The viewer has to find their bearings anew when it stops, just "
           "when the formation should be read.")
    habit = ("Begin early and lean on the rocker, or the lever at its slow setting: one even pull until everybody is "
             "in the picture, then hands off.")

    fastest: float
    unevenness: float
    wider: float

    def fault_of(self, shot: MeasuredShot) -> float | None:
        """The unevenness of its most uneven pull-out."""
        return max((move.unevenness for move in shot.passage.movement.zooms if move.pulls_out), default=None)

    def troubles(self, shot: MeasuredShot) -> Iterable[Trouble] | None:
        """Each pull-out before the snap that is too fast or uneven; None without one."""
        snap = shot.take.first(MomentKind.SNAP)
        until = shot.seconds(snap.time) if snap else shot.passage.end
        moves = [move for move in shot.passage.movement.zooms
                 if move.pulls_out and 1 / move.magnification >= self.wider and move.start < until]
        if not moves:
            return None
        found = []
        for move in moves:
            speed = float(move.speed / np.log(2))
            how = f"The picture becomes {1 / move.magnification:.1f} times as wide in {move.seconds:.1f} s"
            if speed > self.fastest:
                found.append(Trouble(move.start, move.end, move.fastest_at, speed / self.fastest,
                                     f"{how}, {speed:.2f} doublings a second (up to {self.fastest:g} pass),",
                                     "The pull-out is rushed"))
            elif move.unevenness > self.unevenness:
                found.append(Trouble(move.start, move.end, move.fastest_at, move.unevenness / self.unevenness,
                                     f"{how}, at times {move.unevenness:.1f} times as fast as on the whole (up to "
                                     f"{self.unevenness:g} pass),"))
        return found
