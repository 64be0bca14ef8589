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
    habit = "Film the play wide, all players in the picture; close is for markers and boards."

    def judge(self, screening: Screening) -> Iterator[Judged]:
        """Yield a finding for each play filmed close that never shows all players."""
        for snap in screening.footage.filmed:
            if snap.take.shot.framing is Framing.CLOSE and snap.full_wide is None:
                yield self.finding(
                    screening, f"play {snap.tag.id}", snap.starts,
                    title=f"Framed too close, {screening.spoken(snap.step.before)}",
                    why="The play is framed close from its first picture to its last: no formation, no safeties, no "
                        "line to gain. Be wide before the snap, and stay wide.",
                    evidence=("Tagged framing: close.",), strength=0.9, **snap.where)
