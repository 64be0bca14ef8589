"""The picture still moves in or out at the snap."""

from __future__ import annotations

from ...tagging.model import MomentKind
from ..marked_fault import MarkedFault


class ZoomNotSettled(MarkedFault):
    """The zoom moves at the snap or during the play."""

    title = "Zoom not settled"
    label = "settle the zoom"
    reason = ("A moving picture cannot be read. The zoom is settled before the snap and stays as it is until the play "
              "is over.")

    mark = MomentKind.ZOOM_NOT_SETTLED
    fault = "The zoom still moved at the snap"
    why = ("At the snap the picture was still moving in or out. Nobody can read a formation that shrinks or grows; "
           "finish the zoom before they are set, and leave it alone.")
    habit = "Finish the zoom before the teams are set, and leave it alone until the play is over."
