"""The shot runs on until the play is really over."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from ...tagging.model import MomentKind
from ..finding import Delivered, Finding, Severity
from ..rule import EPSILON, Rule
from ..screening import Screening
from ..speaking import spoken_play, spoken_seconds


@dataclass(frozen=True, kw_only=True)
class LongerHoldExpected(Rule):
    """``hold``: seconds a shot runs on after the ball is dead."""

    title = "Longer hold expected"
    label = "longer hold"
    reason = ("Let the camera run on for a few seconds after the ball is dead: where the ball is spotted, a late flag, "
              "how the players get up, a first exchange of words are all part of the play. While players still "
              "confront each other keep rolling; more may follow, and officials and coaches will ask for it.")

    hold: float

    def judge(self, screening: Screening) -> Iterator[Finding | Delivered]:
        for snap in screening.footage.filmed:
            if snap.followed:
                continue
            take, period = snap.take, snap.step.before.period
            begun = take.first(MomentKind.CONFRONTATION)
            if begun and not take.first(MomentKind.CONFRONTATION_OVER, begun.time):
                yield self.finding(
                    screening, f"play {snap.tag.id}", take.shot.end, severity=Severity.ERROR,
                    title=f"Longer hold expected: cut while players confront each other, "
                          f"{screening.spoken(snap.step.before)}",
                    why="The shot was cut while players were still confronting each other and more could follow. "
                        "In doubt the camera keeps rolling, wide, until everybody has walked away; you stay where you "
                        "are and leave the players to the officials and coaches.",
                    habit="Keep rolling, wide, until players who confront each other have walked away.",
                    evidence=((f"The confrontation begins {spoken_seconds(take.end - begun.time)} before the cut and "
                              "its end is not on film."),),
                    play=snap.tag.id, shot=snap.tag.shot, period=period, strength=0.9)
                continue
            if snap.dead_ball is None:
                continue
            hold = take.end - snap.dead_ball.time
            if hold >= self.hold - EPSILON:
                yield self.delivered(period=period, play=snap.tag.id, shot=snap.tag.shot)
                continue
            yield self.finding(
                screening, f"play {snap.tag.id}", take.shot.end,
                title=f"Longer hold expected after {screening.spoken(snap.step.before)}",
                why=f"The shot is cut {spoken_seconds(hold)} after the ball is dead. Give it {spoken_seconds(self.hold)}: "
                    "the viewer wants to see where the ball is spotted and whether a flag comes late.",
                habit=f"Hold for {spoken_seconds(self.hold)} after the ball is dead before you cut.",
                evidence=((f"Hold after the {spoken_play(snap.tag.play)}: {spoken_seconds(hold)}; "
                          f"expected: {spoken_seconds(self.hold)}."),),
                play=snap.tag.id, shot=snap.tag.shot, period=period, strength=1 - hold / self.hold)
