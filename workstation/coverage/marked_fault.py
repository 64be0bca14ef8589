"""What a person says of a play's shot with one key: that something of the play is not in the picture."""

from __future__ import annotations

from collections.abc import Iterator
from typing import ClassVar

from ..tagging.layout import TimedMoment
from ..tagging.model import MomentKind
from .footage import Snap
from .rule import Judged, Rule
from .screening import Screening


class MarkedFault(Rule):
    """A rule whose findings are marks of one kind. ``fault`` says what is wrong, ``why`` what it costs."""

    mark: ClassVar[MomentKind]
    fault: ClassVar[str]
    why: ClassVar[str]

    def judge(self, screening: Screening) -> Iterator[Judged]:
        """Yield a finding for each moment at which the fault is marked."""
        for snap in screening.footage.filmed:
            for seen in self.marks(snap):
                yield self.finding(
                    screening, f"play {snap.tag.id}", seen.at,
                    title=f"{self.fault}, {screening.spoken(snap.step.before)}",
                    why=self.why, evidence=(f"Marked: {self.mark}.",), strength=1.0, **snap.where)

    def marks(self, snap: Snap) -> list[TimedMoment]:
        """The marks that are about this play and not about another in the same shot, one at most."""
        first = snap.filmed.start if snap.follows else snap.take.start
        last = snap.filmed.end if snap.followed else snap.take.end
        return [seen for seen in snap.take.moments if seen.kind is self.mark and first <= seen.time <= last][:1]
