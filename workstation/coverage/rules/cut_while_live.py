"""The shot stops before the play is over."""

from __future__ import annotations

from ...tagging.model import MomentKind
from ..marked_fault import MarkedFault


class CutWhileLive(MarkedFault):
    """The camera stops while the ball is live."""

    title = "Cut while live"
    label = "keep rolling"
    reason = ("Every play belongs on film to its end. A play that is cut while the ball is live cannot be graded, and "
              "a viewer does not know where the ball is next.")

    mark = MomentKind.CUT_WHILE_LIVE
    fault = "Cut while the ball was live"
    why = ("The shot stops while the ball is live: how the play ended is not on film, and it cannot be made up for. "
           "Keep rolling until the whistle, and hold.")
    habit = "Keep rolling until the whistle; cut late rather than early."
