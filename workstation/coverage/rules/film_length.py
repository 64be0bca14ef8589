"""The whole film keeps to the length of a game's film."""

from __future__ import annotations

from collections.abc import Iterator

from ...tagging.model import ShotKind
from ..finding import Direction
from ..rule import Judged, Rule
from ..screening import Screening


class FilmLength(Rule):
    """``minutes``: the longest a game's film usually is; ``lead`` and ``hold``: seconds of each play's shot
    before the snap and after the dead ball that are not counted as waiting."""

    title = "Film length"
    label = "shorter film"
    reason = ("A game's film usually runs 40 to 60 minutes. A longer one is watched less, and what makes it longer "
              "is rarely football.")

    minutes: float
    lead: float
    hold: float

    def judge(self, screening: Screening) -> Iterator[Judged]:
        """Yield one finding or delivery for the length of a film that is tagged to its end."""
        footage = screening.footage
        if not footage.complete:
            return
        length = footage.layout.duration
        if length <= self.minutes * 60:
            yield self.delivered()
            return
        waiting = sum(max(0.0, snap.snap.time - snap.take.start - self.lead) for snap in footage.filmed
                      if snap.snap and not snap.follows)
        after = sum(max(0.0, snap.take.end - snap.dead_ball.time - self.hold) for snap in footage.filmed
                    if snap.dead_ball and not snap.followed)
        plain = sum(take.seconds for take in footage.takes if take.shot.kind is ShotKind.EXTRA)
        parts = sorted(((waiting, "waiting for snaps"), (after, "after the dead ball"), (plain, "extras")),
                       reverse=True)
        yield self.finding(
            screening, "film", footage.takes[0].shot.start, direction=Direction.OVERDONE,
            title=f"The film runs {length / 60:.0f} minutes",
            why=f"A game's film usually keeps to {self.minutes:.0f} minutes."
                + (f" Most of the surplus lies in {parts[0][1]}." if parts[0][0] >= 1 else ""),
            habit="Cut between plays; a game fits into an hour.",
            evidence=(f"{length / 60:.1f} min in all.",
                      *(f"{seconds / 60:.1f} min {what}." for seconds, what in parts if seconds >= 1)), strength=0.5)
