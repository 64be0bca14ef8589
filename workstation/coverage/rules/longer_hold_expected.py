"""The shot runs on until the play is really over."""

from __future__ import annotations

from collections.abc import Iterator

from ...tagging.model import MomentKind, ShotKind
from ..finding import Severity
from ..footage import Snap
from ..rule import EPSILON, Judged, Rule
from ..screening import Screening
from ..speaking import spoken_play, spoken_seconds


def _goes_on(screening: Screening, snap: Snap) -> bool:
    """Whether the next shot takes the altercation up again; the cut is then reported there, once."""
    takes = screening.footage.takes
    following = takes[snap.take.index + 1] if snap.take.index + 1 < len(takes) else None
    return following is not None and following.holds(ShotKind.ALTERCATION)


class LongerHoldExpected(Rule):
    """``hold``: seconds a shot runs on after the ball is dead."""

    title = "Longer hold expected"
    label = "longer hold"
    reason = ("Let the camera run on for a few seconds after the ball is dead: where the ball is spotted, a late flag, "
              "how the players get up, a first exchange of words are all part of the play. While players still "
              "confront each other keep rolling; more may follow, and officials and coaches will ask for it.")

    hold: float

    def judge(self, screening: Screening) -> Iterator[Judged]:
        """Yield a finding or a delivery for each play after which the picture must be held longer."""
        for snap in screening.footage.filmed:
            if snap.followed:
                continue
            take = snap.take
            begun = take.first(MomentKind.CONFRONTATION)
            if begun and not take.first(MomentKind.CONFRONTATION_OVER, begun.time) and not _goes_on(screening, snap):
                yield self.finding(
                    screening, f"play {snap.tag.id}", take.shot.end, severity=Severity.ERROR,
                    title=f"Longer hold expected: cut while players confront each other, "
                          f"{screening.spoken(snap.step.before)}",
                    why="The shot was cut while players were still confronting each other and more could follow. "
                        "In doubt the camera keeps rolling, wide, until everybody has walked away; you stay where you "
                        "are and leave the players to the officials and coaches.",
                    habit="Keep rolling, wide, until players who confront each other have walked away.",
                    evidence=((f"The confrontation begins {spoken_seconds(take.end - begun.time)} before the cut and "
                              "its end is not on film."),), strength=0.9, **snap.where)
                continue
            if take.first(MomentKind.CUT_WHILE_LIVE):
                continue                # no hold to judge; the cut is reported by its own rule
            if snap.dead_ball is None and snap.snap is not None and take.end - snap.snap.time < self.hold - EPSILON:
                rest = take.end - snap.snap.time
                yield self.sure(self.finding(
                    screening, f"play {snap.tag.id}", take.shot.end,
                    title=f"Longer hold expected after {screening.spoken(snap.step.before)}",
                    why=f"The shot ends {spoken_seconds(rest)} after the snap: whenever the ball was dead, there is no "
                        "hold of any use behind it, and most likely the end of the play is missing.",
                    habit=f"Hold for {spoken_seconds(self.hold)} after the ball is dead before you cut.",
                    evidence=(f"{spoken_seconds(rest)} from the snap to the cut; no dead ball is marked.",),
                    strength=0.9, **snap.where), self.hold - rest, snap.snap)
                continue
            if snap.dead_ball is None:
                yield self.not_judged("dead ball", **snap.where)
                continue
            hold = take.end - snap.dead_ball.time
            if hold >= self.hold - EPSILON:
                yield self.delivered(**snap.where)
                continue
            yield self.sure(self.finding(
                screening, f"play {snap.tag.id}", take.shot.end,
                title=f"Longer hold expected after {screening.spoken(snap.step.before)}",
                why=f"The shot is cut {spoken_seconds(hold)} after the ball is dead. Give it "
                    f"{spoken_seconds(self.hold)}: the viewer wants to see where the ball is spotted and whether a "
                    "flag comes late.",
                habit=f"Hold for {spoken_seconds(self.hold)} after the ball is dead before you cut.",
                evidence=((f"Hold after the {spoken_play(snap.tag.play)}: {spoken_seconds(hold)}; "
                          f"expected: {spoken_seconds(self.hold)}."),),
                strength=1 - hold / self.hold, **snap.where), self.hold - hold, snap.dead_ball)
