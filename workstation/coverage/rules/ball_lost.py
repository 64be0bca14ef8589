"""The ball leaves the picture during the play."""

from __future__ import annotations

from ...tagging.model import MomentKind
from ..marked_fault import MarkedFault


class BallLost(MarkedFault):
    """The ball leaves the picture during a play."""

    title = "Ball lost"
    label = "keep the ball"
    reason = ("Whoever watches follows the ball. When it leaves the picture the play is guesswork until it is back.")

    mark = MomentKind.BALL_LOST
    fault = "The ball was lost in the picture"
    why = ("The ball left the picture, and with it the play. Follow with the whole body, a little wider than you need, "
           "and trust the blocks, not the fake.")
    habit = "Keep the ball in the picture; stay a little wider than you think you need."
