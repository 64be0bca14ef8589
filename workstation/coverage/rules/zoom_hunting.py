"""The zoom stays as it is during the play, or goes one way."""

from __future__ import annotations

from collections.abc import Iterable

from ...film.camera_work.series import Series
from ...tagging.model import ShotKind
from ..camera_rule import CameraRule, MeasuredShot, Trouble


class ZoomHunting(CameraRule):
    """``turns``: how often the zoom may turn round from snap to dead ball."""

    title = "Zoom hunting"
    label = "zoom left alone"
    reason = ("In and out again during a play changes the size of everybody in the picture: speed and distance "
              "cannot be judged, and the eye loses whom it follows.")
    kinds = frozenset({ShotKind.PLAY})

    fault = "The zoom hunts during the play"
    why = ("The zoom goes in and out again while the ball is live. Players grow and shrink, and nobody can tell how "
           "far they ran or how fast.")
    habit = ("Choose the width before the snap and leave it; go out when the play breaks open, and in again only "
             "after the whistle.")

    turns: int

    def fault_of(self, shot: MeasuredShot) -> float | None:
        """The turns of its zoom, and how fast it goes."""
        movement = shot.passage.movement
        fastest = Series(movement.zoom.times, abs(movement.zoom.values)).worst() or 0.0
        return len(movement.reversals) + float(fastest)

    def troubles(self, shot: MeasuredShot) -> Iterable[Trouble] | str | None:
        """The turns of the zoom from snap to dead ball."""
        if not isinstance(action := shot.action, tuple):
            return action
        first, last = action
        turns = [turn for turn in shot.passage.movement.reversals if first <= turn <= last]
        if len(turns) <= self.turns:
            return ()
        return [Trouble(max(turns[0] - 0.5, first), min(turns[-1] + 0.5, last), turns[0], len(turns) / (self.turns + 1),
                        f"The zoom turns round {len(turns)} times between snap and dead ball (up to {self.turns} "
                        "pass),")]
