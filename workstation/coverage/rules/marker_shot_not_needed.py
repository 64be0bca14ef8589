"""A marker shot that told a viewer nothing new."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from ...football.plays import PlayKind
from ...tagging.model import ShotKind
from ..finding import Belief, Finding, Sort
from ..footage import Snap
from ..rule import Rule
from ..screening import Screening
from ..speaking import spoken_seconds

_INTERRUPTIONS = frozenset({PlayKind.MEASUREMENT, PlayKind.TIMEOUT, PlayKind.END_OF_PERIOD,
                            PlayKind.REPLAY_REVERSAL, PlayKind.INADVERTENT_WHISTLE})


@dataclass(frozen=True, kw_only=True)
class MarkerShotNotNeeded(Rule):
    title = "Marker shot not needed"
    label = "marker not needed"
    reason = ("A marker shot is a signal: mind the down. Shown when everybody knows the down anyway it dulls, and costs "
              "the film its pace. First down, then a short run: everybody knows it is second. After a kick or a long "
              "pass it is first down. Leave the marker for the moments of doubt.")

    def judge(self, screening: Screening) -> Iterator[Finding]:
        filmed = screening.footage.filmed
        for before, snap, belief in zip([None, *filmed], filmed, screening.beliefs, strict=False):
            if not belief.known or belief.unaided < screening.assume.sure_from:
                continue
            if screening.is_decisive(snap) or _interrupted(screening, before, snap):
                continue
            for take in snap.between.takes:
                if take.shot.kind is ShotKind.DOWN_MARKER:
                    yield self.finding(
                        screening, f"shot {take.shot.id}", take.shot.start, sort=Sort.OVERDONE,
                        title=f"Marker shot not needed before {screening.spoken(snap.step.before)}",
                        why=self._why(belief),
                        habit="Keep the marker for moments of doubt; it loses its force when everybody knows the down.",
                        until=take.shot.end, evidence=self._evidence(belief, take.seconds),
                        play=snap.tag.id, shot=take.shot.id, period=belief.period, seconds=take.seconds,
                        strength=belief.unaided * 0.5)

    def _why(self, belief: Belief) -> str:
        if belief.down is None:
            return "No down is being played, so there is none to show; the teams' formation says what comes next."
        return ("The down followed from what the viewer had just seen. Go straight to the play; the marker counts "
                "for more when it is kept for doubt.")

    def _evidence(self, belief: Belief, seconds: float) -> tuple[str, ...]:
        known = f"Without this shot {belief.unaided:.0%} would have known the down." if belief.down else ""
        return known, f"The shot takes {spoken_seconds(seconds)}."


def _interrupted(screening: Screening, before: Snap | None, snap: Snap) -> bool:
    """A flag, a break, the chains or a stoppage came between: a marker is good practice, if only for the few who doubt."""
    if any(take.shot.kind in (ShotKind.INJURY, ShotKind.ALTERCATION) for take in snap.between.takes):
        return True
    positions = [*([before.position] if before else []), *snap.between.tags]
    return any(screening.step(position).play.fouls or screening.step(position).play.kind in _INTERRUPTIONS
               for position in positions)
