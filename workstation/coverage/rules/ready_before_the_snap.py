"""Wide and steady in time for every play."""

from __future__ import annotations

from collections.abc import Iterator

from ...tagging.model import Framing, MomentKind, ShotKind
from ..finding import Severity
from ..rule import EPSILON, Judged, Rule
from ..screening import Screening
from ..speaking import spoken_seconds


class ReadyBeforeTheSnap(Rule):
    """``lead``: seconds before the snap from which the picture is wide and steady."""

    title = "Ready before the snap"
    label = "wide earlier"
    reason = ("Coaches read the formation, the shifts and the motion before the snap; with the picture still moving, "
              "or cut in late, the play is half lost. Be wide and steady, all players in frame, before the snap.")

    lead: float

    def judge(self, screening: Screening) -> Iterator[Judged]:
        """Yield a finding or a delivery for each snap: is the wide picture steady in time?"""
        for snap in screening.footage.filmed:
            if snap.take.first(MomentKind.SNAP_NOT_ON_FILM):
                continue            # reported by its own rule
            wide = snap.wide_from
            if snap.snap is None and snap.dead_ball and not snap.follows and (
                    snap.dead_ball.time - snap.take.start < self.lead - EPSILON):
                rest = snap.dead_ball.time - snap.take.start
                yield self.sure(self.finding(
                    screening, f"play {snap.tag.id}", snap.take.shot.start,
                    title=f"Ready too late before the snap, {screening.spoken(snap.step.before)}",
                    why=f"The ball is dead {spoken_seconds(rest)} after the shot begins: wherever the snap was, nobody "
                        "could read the formation before it, and most likely it is not on film.",
                    habit=f"Be wide and steady {spoken_seconds(self.lead)} before the snap.",
                    evidence=(f"{spoken_seconds(rest)} from the first picture to the dead ball; no snap is marked.",),
                    strength=0.9, **snap.where), self.lead - rest, snap.dead_ball)
                continue
            if snap.snap is None:
                yield self.not_judged("snap", **snap.where)
                continue
            if snap.take.shot.opens_on is ShotKind.DOWN_MARKER and not snap.follows and screening.is_decisive(snap):
                if snap.full_wide is None:
                    yield self.not_judged("full wide", **snap.where)
                continue            # the lead of a pull-out is judged by its own rule
            if snap.take.shot.framing is Framing.CLOSE and wide is None:
                continue            # never wide at all: reported by its own rule
            if wide is not None:
                lead, sure = snap.snap.time - wide, True
            elif not snap.follows:  # unknown when it was wide, but not before the shot began
                lead, sure = snap.snap.time - snap.take.start, False
            else:
                continue
            if lead >= self.lead - EPSILON:
                yield self.delivered(**snap.where) if sure else self.not_judged("full wide", **snap.where)
                continue
            late = lead < 0
            where = screening.spoken(snap.step.before)
            told = (f"The picture is wide {spoken_seconds(-lead)} after the snap" if late else
                    f"The picture is wide and steady only {spoken_seconds(lead)} before the snap" if sure else
                    f"The shot begins only {spoken_seconds(lead)} before the snap")
            yield self.sure(self.finding(
                screening, f"play {snap.tag.id}", snap.snap.at if late else snap.take.shot.start,
                severity=Severity.ERROR if late else None, until=snap.snap.at if not late else None,
                title=f"Not wide at the snap, {where}" if late else f"Ready too late before the snap, {where}",
                why=f"{told}; the viewer needs {spoken_seconds(self.lead)} to read the formation. Look up from the "
                    "last play as soon as your hold is over and find them as they come to the line.",
                habit=f"Be wide and steady {spoken_seconds(self.lead)} before the snap.",
                evidence=(f"{told}.",), strength=1.0 if late else 1 - lead / self.lead, **snap.where),
                self.lead - lead, snap.snap, snap.full_wide)
