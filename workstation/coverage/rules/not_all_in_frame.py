"""Players are outside the picture before the snap."""

from __future__ import annotations

from ...tagging.model import MomentKind
from ..marked_fault import MarkedFault


class NotAllInFrame(MarkedFault):
    """A player is outside the picture at the snap."""

    title = "Not all in frame"
    label = "all players"
    reason = ("The formation is eleven against eleven. One receiver or one safety outside the picture, and nobody can "
              "tell the coverage.")

    mark = MomentKind.NOT_ALL_IN_FRAME
    fault = "Not all players in the picture before the snap"
    why = ("Somebody who lines up is not in the picture, so the formation cannot be read. Ease out until the widest "
           "receiver and the deepest safety are in it, and no further.")
    habit = "Before the snap look from the widest receiver to the deepest safety: all in the picture."
