"""The play itself is framed close."""

from __future__ import annotations

from collections.abc import Iterator

from ...tagging.model import Framing
from ..rule import Judged, Rule
from ..screening import Screening


class FramedTooClose(Rule):
    """A play is filmed in a close picture."""

    title = "Framed too close"
    label = "wide"
    reason = ("A play is filmed wide: all players before the snap, and enough of the field to see the line to gain. In "
              "a close picture the runner is big, and nobody sees who missed the block, where the safeties were, or "
              "how far it was.")

    def judge(self, screening: Screening) -> Iterator[Judged]:
        """Yield a finding for each play filmed close that never shows all players."""
        for snap in screening.footage.filmed:
            shot, period = snap.take.shot, snap.step.before.period
            if shot.framing is not Framing.CLOSE or snap.full_wide is not None:
                continue
            yield self.finding(
                screening, f"play {snap.tag.id}", snap.take.shot.start if not snap.follows else snap.at,
                title=f"Framed too close, {screening.spoken(snap.step.before)}",
                why="The play is framed close from its first picture to its last: no formation, no safeties, no line "
                    "to gain. Be wide before the snap, and stay wide.",
                habit="Film the play wide, all players in the picture; close is for markers and boards.",
                evidence=("Tagged framing: close.",), play=snap.tag.id, shot=shot.id, period=period, strength=0.9)
