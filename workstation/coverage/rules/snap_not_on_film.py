"""The shot begins after the snap, or is too short to hold a play at all."""

from __future__ import annotations

from collections.abc import Iterator

from ...tagging.model import MomentKind
from ..finding import Severity
from ..marked_fault import MarkedFault
from ..rule import Judged
from ..screening import Screening
from ..speaking import spoken_seconds


class SnapNotOnFilm(MarkedFault):
    """``least``: seconds below which a shot cannot hold what belongs before a snap and after a dead ball; a shorter
    one with neither marked is reported without a mark."""

    title = "Snap not on film"
    label = "roll earlier"
    reason = ("What happens at the snap is what a coach wants to see: the formation, the first step, who has whom. It "
              "cannot be made up for. Roll before they are set, every time.")

    mark = MomentKind.SNAP_NOT_ON_FILM
    fault = "The snap is not on film"
    why = ("The shot begins when the play is under way: the formation, the motion and the first step are lost, and "
           "they cannot be made up for. Look up from the last play at once, and roll before they are set.")
    habit = "Roll before the teams are set; no snap without the camera running."

    least: float

    def judge(self, screening: Screening) -> Iterator[Judged]:
        """Yield a finding for each marked miss, and for each play whose shot is too short to hold it."""
        yield from super().judge(screening)
        for snap in screening.footage.filmed:
            marked = snap.snap or snap.dead_ball or self.marks(snap) or snap.take.first(MomentKind.CUT_WHILE_LIVE)
            if marked or snap.follows or snap.followed or snap.take.seconds >= self.least:
                continue
            yield self.finding(
                screening, f"play {snap.tag.id}", snap.take.shot.start, severity=Severity.WARNING,
                title=f"Too short to hold a play, {screening.spoken(snap.step.before)}",
                why=f"The shot is {spoken_seconds(snap.take.seconds)} long. Either it begins too late before the snap "
                    "or it is cut too soon after the whistle; there is no room for both.",
                evidence=((f"{spoken_seconds(snap.take.seconds)} in all, and neither the snap nor the dead ball is "
                           "marked."),), strength=0.8, **snap.where)
