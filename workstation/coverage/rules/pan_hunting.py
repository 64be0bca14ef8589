"""The pan follows the play, and neither hunts for it nor overshoots."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from ...tagging.model import ShotKind
from ..camera_rule import CameraRule, MeasuredShot, Trouble

if TYPE_CHECKING:       # SciPy is slow to import
    from ...film.camera_work.movement import Movement


class PanHunting(CameraRule):
    """``turns``: how often the pan may turn round from snap to dead ball. ``overshoot``: how far it may go back once it
    has arrived, as a share of the picture's width."""

    title = "Pan hunting"
    label = "calm pan"
    reason = ("A pan that swings to and fro takes the eye along each time. Whoever watches looks for the ball instead "
              "of at the play, and nobody's speed can be judged against a background that goes back and forth.")
    kinds = frozenset({ShotKind.PLAY})

    fault = "The pan hunts during the play"
    why = ("The camera goes to and fro while the ball is live, or goes past the play and comes back. The viewer loses "
           "the ball at each turn.")
    habit = ("Frame wide enough that the ball may move without the camera, keep both eyes open, and let the play pull "
             "the pan: begin late, stop soft, and wait before going back.")

    turns: int
    overshoot: float

    def fault_of(self, shot: MeasuredShot) -> float | None:
        """How far its pan goes back."""
        return shot.passage.movement.back.worst()

    def troubles(self, shot: MeasuredShot) -> Iterator[Trouble] | str | None:
        """The turns of the pan from snap to dead ball, and where it overshoots."""
        return self.between(shot.passage.movement, *action) if isinstance(action := shot.action, tuple) else action

    def between(self, moves: Movement, first: float, last: float) -> Iterator[Trouble]:
        """The same between two times, in seconds of the source."""
        turns = [turn for turn in moves.turns if first <= turn <= last]
        if len(turns) > self.turns:
            back = float(moves.back.between(turns[0], turns[-1] + 1e-6).known.max())
            yield Trouble(max(turns[0] - 0.5, first), min(turns[-1] + 0.5, last), turns[0],
                          len(turns) / (self.turns + 1),
                          f"The pan turns round {len(turns)} times between snap and dead ball (up to {self.turns} "
                          f"pass), and goes back by up to {back:.0%} of the picture's width,")
            return
        for at in moves.overshoots:
            back = max(moves.back.between(at - 0.5, at + 1.0).known, default=0.0)
            if first <= at <= last and back > self.overshoot:
                yield Trouble(at, min(at + 1.0, last), at, float(back / self.overshoot),
                              f"The pan goes past and comes back by {back:.0%} of the picture's width (up to "
                              f"{self.overshoot:.0%} pass)", "The pan overshoots")
