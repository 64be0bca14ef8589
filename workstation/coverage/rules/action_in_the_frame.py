"""The action stays in the frame, with room around it, and fills it at the snap."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from ...film.camera_work.series import Series
from ...tagging.model import ShotKind
from ..camera_rule import CameraRule, MeasuredShot, Trouble


class ActionInTheFrame(CameraRule):
    """``room``: least distance from what moves (its middle and its outermost tenth, on average) to the nearest edge,
    as a share of the picture; with less for ``least`` seconds the action counts as leaving. ``tight`` and ``loose``:
    shares of the picture's width that what moves takes up ``around`` seconds before and after the snap."""

    title = "Action in the frame"
    label = "action in frame"
    reason = ("What runs out of the picture cannot be coached. Room ahead of the ball shows who comes to meet it; a "
              "picture that is mostly grass makes everybody small.")
    kinds = frozenset({ShotKind.PLAY})

    fault = "The action runs to the edge of the picture"
    why = ("What moves lies at the very edge of the picture, or beyond it. Whoever watches sees where the play was, "
           "not where it goes.")
    habit = ("Stay a little wider than you think you need, keep the ball off the middle with room on the side it "
             "goes to, and begin to turn with the first step.")

    room: float
    tight: float
    loose: float
    around: float
    least: float

    def fault_of(self, shot: MeasuredShot) -> float | None:
        """How near the action comes to an edge."""
        return Series(shot.passage.room.times, -shot.passage.room.values).worst()

    def troubles(self, shot: MeasuredShot) -> Iterable[Trouble] | str | None:
        """Each stretch in which the action is at the edge, from snap to dead ball; and how the snap is framed."""
        return self._troubles(shot, *shot.action) if isinstance(shot.action, tuple) else shot.action

    def _troubles(self, shot: MeasuredShot, snap: float, dead_ball: float) -> Iterator[Trouble]:
        room = shot.passage.room.between(snap, dead_ball)
        lacks = Series(room.times, -room.values)
        for stretch in lacks.above(-self.room, self.least, gap=0.3):
            worst = -stretch.worst
            yield Trouble(stretch.start, stretch.end, stretch.at, (1 - worst) / (1 - self.room),
                          f"What moves has {worst:.0%} of the picture left to its edge (less than {self.room:.0%} "
                          "is too near)")
        start, end = snap - self.around, snap + self.around
        spread = shot.passage.spread.between(start, end)
        usual = spread.typical()
        if usual is None or len(spread.known) < 3:
            return
        said = f"What moves around the snap takes up {usual:.0%} of the picture's width"
        if usual > self.tight:
            yield Trouble(start, end, snap, usual / self.tight, f"{said} (up to {self.tight:.0%} pass)",
                          "Too tight at the snap")
        elif usual < self.loose:
            yield Trouble(start, end, snap, self.loose / max(usual, 0.01), f"{said} (from {self.loose:.0%} on pass)",
                          "Too loose at the snap")
