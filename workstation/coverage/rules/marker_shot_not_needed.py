"""A marker shot that told a viewer nothing new."""

from __future__ import annotations

from collections.abc import Iterator

from ...film.time import Instant
from ...football.plays import Outcome, PlayKind
from ...tagging.model import MomentKind, ShotKind
from ..finding import Belief, Direction, Finding
from ..footage import Snap, Take
from ..rule import Rule
from ..screening import Screening
from ..speaking import spoken_seconds
from ..watching import readable_down

_INTERRUPTIONS = frozenset({PlayKind.END_OF_PERIOD, PlayKind.REPLAY_REVERSAL, PlayKind.INADVERTENT_WHISTLE})
_CUTS_IN = (ShotKind.PENALTY_SIGNAL, ShotKind.MEASUREMENT, ShotKind.INJURY, ShotKind.ALTERCATION)


class MarkerShotNotNeeded(Rule):
    """A marker shot tells a down that every viewer knows."""

    title = "Marker shot not needed"
    label = "marker not needed"
    reason = ("A marker shot is a signal: mind the down. Shown when everybody knows the down anyway it dulls, and "
              "costs the film its pace. First down, then a short run: everybody knows it is second. After a kick or a "
              "long pass it is first down. Leave the marker for the moments of doubt.")
    habit = "Keep the marker for moments of doubt; it loses its force when everybody knows the down."

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
        for take in [*markers, *([snap.take] if opens else [])]:
            yield self._needless(
                screening, snap, belief, take,
                "No down is being played, so there is none to show; the teams' formation says what comes next."
                if belief.down is None else "The down followed from what the viewer had just seen. Go straight to the "
                                            "play; the marker counts for more when it is kept for doubt.")

    def _told_twice(self, screening: Screening, snap: Snap, belief: Belief, opens: bool) -> Iterator[Finding]:
        """Markers that repeat what the marker or board has told since the play before, with nothing between."""
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
            yield self._needless(screening, snap, belief, snap.take, why)

    def _needless(self, screening: Screening, snap: Snap, belief: Belief, take: Take, why: str) -> Finding:
        """A marker's own shot, or the beginning of the play's own, up to where the picture is wide."""
        until: Instant | None
        what, of_it, until, seconds = "Marker shot", "shot", take.shot.end, take.seconds
        if take is snap.take:
            wide = snap.full_wide
            what, of_it, until = "Opening on the marker", "opening", wide.at if wide else None
            seconds = max(0.0, wide.time - take.start) if wide else 0.0
        return self.finding(
            screening, f"shot {take.shot.id}", take.shot.start, direction=Direction.OVERDONE, until=until,
            title=f"{what} not needed before {screening.spoken(snap.step.before)}", why=why,
            evidence=(f"Without it {belief.unaided:.0%} would have known the down." if belief.down else "",
                      f"The {of_it} takes {spoken_seconds(seconds)}." if until else ""),
            seconds=seconds, strength=belief.unaided * 0.5, play=snap.tag.id, shot=take.shot.id, period=belief.period)


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
