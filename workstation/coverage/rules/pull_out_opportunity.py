"""Opening on the marker and easing out to the formation, in one shot, on a decisive down."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from ...tagging.model import MomentKind, ShotKind
from ..finding import Direction, Finding, Severity
from ..footage import Snap
from ..rule import Judged, Rule
from ..rules.marker_shot_expected import came_up_short
from ..screening import Screening
from ..speaking import spoken_score, spoken_seconds

_LEAD_HABIT = "Time the pull-out so that everybody is in frame four to five seconds before the snap."


class PullOutOpportunity(Rule):
    """``lead_from`` and ``lead_to``: all players are in frame so many seconds before the snap; ``tolerance`` seconds
    either way are let pass, as the time of the snap cannot be foreseen. Below ``readable`` seconds the formation
    cannot be read at all."""

    title = "Pull-out opportunity"
    label = "pull-out"
    reason = ("On a decisive third or fourth down the shot may open close on the down marker and ease out to the full "
              "formation: the viewer feels what is at stake. It is one shot, not two, and it must be wide in "
              "time: everybody in frame four to five seconds before the snap, so that the formation can be read.")
    habit = "On a decisive down open close on the marker and ease out to the formation in the same shot."

    lead_from: float
    lead_to: float
    tolerance: float
    readable: float

    def judge(self, screening: Screening) -> Iterator[Judged]:
        """Yield a finding or a delivery for each snap at which one shot could tell what two do."""
        for snap, belief in zip(screening.footage.filmed, screening.beliefs, strict=True):
            if snap.follows or snap.take.first(MomentKind.SNAP_NOT_ON_FILM):
                continue
            if screening.is_decisive(snap):
                if snap.take.shot.opens_on is ShotKind.DOWN_MARKER:
                    yield self._lead(screening, snap)
                elif snap.between.known and not (belief.served < screening.assume.unsure_below and not belief.helped) \
                        and not _as_a_kick(snap) and not _short_by_the_chains(screening, snap):
                    yield self._opportunity(screening, snap)    # else the missing marker itself is reported
            elif snap.between.known and screening.may_be_decisive(snap):
                yield self.not_judged("clock", **snap.where)

    def _lead(self, screening: Screening, snap: Snap) -> Judged:
        """Whether the pull-out was wide in time; not judged without both moments."""
        if snap.snap is None or snap.full_wide is None:
            return self.not_judged("snap" if snap.snap is None else "full wide", **snap.where)
        lead, before = snap.snap.time - snap.full_wide.time, snap.step.before
        wanted = f"{self.lead_from:g} to {self.lead_to:g} s"
        common: dict[str, Any] = {
            **snap.where, "habit": _LEAD_HABIT,
            "evidence": ((f"All players in frame {spoken_seconds(abs(lead))} {'before' if lead >= 0 else 'after'} the "
                          f"snap; expected: {wanted} before it."),)}
        about, where = f"play {snap.tag.id}/lead", screening.spoken(before)
        if lead < 0:
            return self.sure(self.finding(
                screening, about, snap.snap.at, title=f"Pull-out too late, {where}", severity=Severity.ERROR,
                expected="wide before the snap", strength=1.0,
                why="The ball was snapped before the picture was wide: the formation and the start of the play are "
                    "lost. When the teams come to the line quickly, give the close opening up and go wide at once.",
                **common), lead, snap.snap, snap.full_wide)
        if lead < self.lead_from - self.tolerance:
            return self.sure(self.finding(
                screening, about, snap.full_wide.at, title=f"Pull-out too short, {where}",
                severity=Severity.WARNING if lead < self.readable else None,
                expected="wide earlier", until=snap.snap.at, strength=1 - lead / self.lead_from,
                why=f"The picture is wide only {spoken_seconds(lead)} before the snap, too short to read the "
                    f"formation. Begin to ease out earlier; aim at {wanted}.", **common),
                self.lead_from - self.tolerance - lead, snap.snap, snap.full_wide)
        if lead > self.lead_to + self.tolerance:
            return self.sure(self.finding(
                screening, about, snap.full_wide.at, title=f"Pull-out too long before the snap, {where}",
                direction=Direction.OVERDONE, expected="stay close longer", until=snap.snap.at,
                seconds=lead - self.lead_to, strength=0.3,
                why=f"The picture is wide {spoken_seconds(lead)} before the snap, and the moment that the close "
                    f"opening has built up is gone. Stay on the marker a little longer; aim at {wanted}.", **common),
                lead - self.lead_to - self.tolerance, snap.snap, snap.full_wide)
        return self.delivered(**snap.where)

    def _opportunity(self, screening: Screening, snap: Snap) -> Finding:
        before = snap.step.before
        marker = snap.between.takes[-1] if snap.between.takes else None
        if marker and marker.shot.kind is ShotKind.DOWN_MARKER:
            return self.finding(
                screening, f"play {snap.tag.id}", marker.shot.start,
                title=f"Two shots where one would do, {screening.spoken(before)}",
                why="The marker and the play are two shots. On a decisive down stay on it in the same shot and ease "
                    "out to the formation; the viewer goes from the question to the answer without a cut.",
                evidence=((f"The marker shot ends, and the play's shot begins anew after it "
                           f"({spoken_seconds(marker.seconds)} of marker)."),),
                until=marker.shot.end, play=snap.tag.id, shot=marker.shot.id, period=before.period, strength=0.4)
        return self.finding(
            screening, f"play {snap.tag.id}", snap.take.shot.start,
            title=f"Pull-out opportunity, {screening.spoken(before)}",
            why="A decisive down: had the shot opened close on the marker and eased out to the formation, every viewer "
                "would have felt what was at stake. Only where the pace allows it; being wide in time comes first.",
            evidence=(f"{screening.spoken(before)}; {spoken_score(before, screening.footage.game.heading)}.",),
            strength=0.6 if before.down == screening.rulebook.downs else 0.4, **snap.where)


def _as_a_kick(snap: Snap) -> bool:
    """Whether they lined up to kick, so that another play could not be foreseen."""
    return "fake" in f"{snap.tag.play.manner} {snap.tag.play.comment}".casefold().split()


def _short_by_the_chains(screening: Screening, snap: Snap) -> bool:
    """A measurement came up short right before it: the marker belongs there, and its own rule reports it."""
    return any(came_up_short(screening, position) for position in snap.between.tags)
