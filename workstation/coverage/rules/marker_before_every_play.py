"""The marker before every play, for receivers of the film who ask for it."""

from __future__ import annotations

from collections.abc import Iterator

from ..rule import Judged, Rule
from ..screening import Screening
from ..watching import readable_down


class MarkerBeforeEveryPlay(Rule):
    """A play from scrimmage has no marker shot before it."""

    title = "Marker before every play"
    label = "down marker"
    reason = ("Some coaches go through a film play by play, out of order, and want down and distance in front of each. "
              "It is not the house's practice: where everybody knows the down the marker costs the film its pace.")
    habit = "For this receiver show the marker before every play."

    def judge(self, screening: Screening) -> Iterator[Judged]:
        """Yield a finding or a delivery for each play that has a down and a gap that is known."""
        for snap, belief in zip(screening.footage.filmed, screening.beliefs, strict=True):
            if belief.down is None or not snap.between.known:
                continue
            takes = [*snap.between.takes, *([] if snap.follows else [snap.take])]
            if any(readable_down(take, screening.assume) for take in takes):
                yield self.delivered(**snap.where)
            else:
                yield self.finding(
                    screening, f"play {snap.tag.id}", snap.starts,
                    title=f"Marker asked for before {screening.spoken(snap.step.before)}",
                    why="Whoever receives this film wants the marker before every play, and it is not there.",
                    evidence=("No marker on film since the play before.",), strength=0.4, **snap.where)
