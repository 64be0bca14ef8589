"""A marker shot that told a viewer nothing new."""

from __future__ import annotations

from collections.abc import Iterator

from ...football.plays import Outcome, PlayKind
from ...tagging.model import MomentKind, ShotKind
from ..finding import Belief, Direction, Finding
from ..footage import Snap, Take
from ..rule import Rule
from ..screening import Screening
from ..speaking import spoken_seconds
from ..watching import readable_down

_INTERRUPTIONS = frozenset({PlayKind.END_OF_PERIOD, PlayKind.REPLAY_REVERSAL, PlayKind.INADVERTENT_WHISTLE})
_HABIT = "Keep the marker for moments of doubt; it loses its force when everybody knows the down."
_CUTS_IN = (ShotKind.PENALTY_SIGNAL, ShotKind.MEASUREMENT, ShotKind.INJURY, ShotKind.ALTERCATION)


class MarkerShotNotNeeded(Rule):
    """A marker shot tells a down that every viewer knows."""

    title = "Marker shot not needed"
    label = "marker not needed"
    reason = ("A marker shot is a signal: mind the down. Shown when everybody knows the down anyway it dulls, and "
              "costs the film its pace. First down, then a short run: everybody knows it is second. After a kick or a "
              "long pass it is first down. Leave the marker for the moments of doubt.")

    def judge(self, screening: Screening) -> Iterator[Finding]:
        """Yield a finding for each marker shot that tells nothing new."""
        filmed = screening.footage.filmed
        for before, snap, belief in zip([None, *filmed], filmed, screening.beliefs, strict=False):
            markers = [take for take in snap.between.takes if take.shot.kind is ShotKind.DOWN_MARKER]
            opens = snap.take.shot.opens_on is ShotKind.DOWN_MARKER and not snap.follows
            if not markers and not opens:
                continue
            if belief.down is None or (belief.known and belief.walking_up >= screening.assume.sure_from
                                       and not _interrupted(screening, before, snap)):
                yield from self._told_nothing(screening, snap, belief, markers, opens)
            elif belief.known:
                yield from self._told_twice(screening, snap, belief, opens)

    def _told_nothing(self, screening: Screening, snap: Snap, belief: Belief, markers: list[Take], opens: bool
                      ) -> Iterator[Finding]:
        if screening.is_decisive(snap) or screening.may_be_decisive(snap):
            return                          # there the marker says what is at stake
        for take in markers:
            yield self._needless(screening, snap, belief, take, self._why(belief))
        if opens:
            yield self._opening(screening, snap, belief, self._why(belief))

    def _told_twice(self, screening: Screening, snap: Snap, belief: Belief, opens: bool) -> Iterator[Finding]:
        """Markers that repeat what one look at the marker or board has told since the play before, unless something
        came between."""
        why = "The marker had been shown a moment before, and nothing had happened since."
        read: Take | None = None
        for take in snap.between.takes:
            if take.shot.kind in _CUTS_IN or take.tags:
                read = None
            elif take.shot.kind is ShotKind.DOWN_MARKER:
                if read is not None:
                    yield self._needless(screening, snap, belief, take, why)
                elif readable_down(take, screening.assume):
                    read = take
            elif readable_down(take, screening.assume):
                read = take             # a board, or a marker in passing
        if opens and read is not None and not screening.is_decisive(snap) and not screening.may_be_decisive(snap):
            yield self._opening(screening, snap, belief, why)

    def _needless(self, screening: Screening, snap: Snap, belief: Belief, take: Take, why: str) -> Finding:
        return self.finding(
            screening, f"shot {take.shot.id}", take.shot.start, direction=Direction.OVERDONE,
            title=f"Marker shot not needed before {screening.spoken(snap.step.before)}", why=why, habit=_HABIT,
            until=take.shot.end, evidence=self._evidence(belief, f"The shot takes {spoken_seconds(take.seconds)}."),
            play=snap.tag.id, shot=take.shot.id, period=belief.period, seconds=take.seconds,
            strength=belief.unaided * 0.5)

    def _opening(self, screening: Screening, snap: Snap, belief: Belief, why: str) -> Finding:
        """A marker not needed at the beginning of the play's own shot. Its seconds are those before the picture is
        wide."""
        take, wide = snap.take, snap.full_wide
        seconds = max(0.0, wide.time - take.start) if wide else 0.0
        return self.finding(
            screening, f"shot {take.shot.id}", take.shot.start, direction=Direction.OVERDONE,
            title=f"Opening on the marker not needed before {screening.spoken(snap.step.before)}", why=why,
            habit=_HABIT, until=wide.at if wide else None,
            evidence=self._evidence(belief, f"The opening takes {spoken_seconds(seconds)}." if wide else ""),
            play=snap.tag.id, shot=take.shot.id, period=belief.period, seconds=seconds, strength=belief.unaided * 0.5)

    def _why(self, belief: Belief) -> str:
        if belief.down is None:
            return "No down is being played, so there is none to show; the teams' formation says what comes next."
        return ("The down followed from what the viewer had just seen. Go straight to the play; the marker counts "
                "for more when it is kept for doubt.")

    def _evidence(self, belief: Belief, costs: str) -> tuple[str, ...]:
        return f"Without it {belief.unaided:.0%} would have known the down." if belief.down else "", costs


def _interrupted(screening: Screening, before: Snap | None, snap: Snap) -> bool:
    """A flag, a break, the chains or a stoppage came between: a marker is good practice, if only for the few who doubt.

    What is cut from the film, a timeout above all, interrupts nothing, and a measurement that was made says itself
    what down it is."""
    if any(take.shot.kind in (ShotKind.INJURY, ShotKind.ALTERCATION) for take in snap.between.takes):
        return True
    if before and (before.take.first(MomentKind.CARE) or before.take.first(MomentKind.CONFRONTATION)):
        return True
    positions = [*([before.position] if before else []), *snap.between.tags]
    for position in positions:
        play = screening.step(position).play
        if play.fouls or play.kind in _INTERRUPTIONS:
            return True
        if play.kind is PlayKind.MEASUREMENT and play.outcome is not Outcome.MADE:
            return True
    return False
