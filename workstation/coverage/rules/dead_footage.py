"""Film in which nothing happens."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise

from ...football.situation import Next, Situation
from ...tagging.model import MomentKind, ShotKind
from ..finding import Delivered, Finding, Sort
from ..footage import Snap
from ..rule import Rule
from ..screening import Screening
from ..speaking import spoken_seconds

_HAPPENS = frozenset({MomentKind.SIGNAL, MomentKind.ANNOUNCEMENT, MomentKind.CONFRONTATION,
                      MomentKind.CONFRONTATION_OVER, MomentKind.CARE, MomentKind.CHAINS_SET,
                      MomentKind.RESULT_SHOWN})


@dataclass(frozen=True, kw_only=True)
class DeadFootage(Rule):
    """``before_snap`` and ``after_dead_ball``: seconds of waiting in a play's shot beyond which the rest is surplus."""

    title = "Dead footage"
    label = "cut here"
    reason = ("A game's film usually runs 40 to 60 minutes. What lies before the teams line up and after the play is "
              "over, the huddle, the chains on their way, the crowd in the middle of a series, is what a coach has to "
              "wait through at every viewing.")

    before_snap: float
    after_dead_ball: float

    def judge(self, screening: Screening) -> Iterator[Finding | Delivered]:
        for snap in screening.footage.filmed:
            yield from self._play(screening, snap)
        for before, between, after in screening.gaps:
            if before and after and _same_series(before.step.before, after.step.before):
                for take in between.takes:
                    if take.shot.kind is ShotKind.EXTRA:
                        yield self.finding(
                            screening, f"shot {take.shot.id}", take.shot.start, sort=Sort.OVERDONE,
                            until=take.shot.end, title="Extra in the middle of a series",
                            why="An extra between two plays of a series takes the viewer out of it. Keep such shots for "
                                "breaks between series.", habit="Keep extras for breaks between series.",
                            evidence=(f"{spoken_seconds(take.seconds)} between two downs of the same series.",),
                            shot=take.shot.id, period=after.step.before.period, seconds=take.seconds, strength=0.4)

    def _play(self, screening: Screening, snap: Snap) -> Iterator[Finding]:
        take, before = snap.take, snap.step.before
        if snap.snap and not snap.follows:
            waited = snap.snap.time - take.start
            if waited > self.before_snap:
                surplus = waited - self.before_snap
                yield self.finding(
                    screening, f"play {snap.tag.id}/before", take.shot.start, sort=Sort.OVERDONE, until=snap.snap.at,
                    title=f"Dead footage before {screening.spoken(before)}",
                    why=f"The shot runs {spoken_seconds(waited)} before the snap. Start when the teams come to the line, "
                        "not while they huddle.", habit="Start the shot when the teams come to the line.",
                    evidence=(f"{spoken_seconds(waited)} before the snap; {spoken_seconds(self.before_snap)} are plenty.",),
                    play=snap.tag.id, shot=take.shot.id, period=before.period, seconds=surplus,
                    strength=min(1.0, surplus / 30))
        if snap.dead_ball and not snap.followed:
            surplus = self._after(snap)
            if surplus > 0:
                yield self.finding(
                    screening, f"play {snap.tag.id}/after", snap.dead_ball.at, sort=Sort.OVERDONE, until=take.shot.end,
                    title=f"Dead footage after {screening.spoken(before)}",
                    why=f"The ball is dead, and for {spoken_seconds(surplus)} more than it takes nothing happens. Cut "
                        "once you have held.", habit="Cut once you have held after the dead ball.",
                    evidence=((f"{spoken_seconds(take.end - snap.dead_ball.time)} after the dead ball; "
                              f"{spoken_seconds(self.after_dead_ball)} are plenty."),),
                    play=snap.tag.id, shot=take.shot.id, period=before.period, seconds=surplus,
                    strength=min(1.0, surplus / 30))

    def _after(self, snap: Snap) -> float:
        """Seconds in which nothing happens; a confrontation is no waiting, however long it lasts."""
        events = [(snap.dead_ball.time, MomentKind.DEAD_BALL)]
        events += [(seen.time, seen.kind) for seen in snap.take.moments
                   if seen.kind in _HAPPENS and seen.time >= snap.dead_ball.time]
        events.append((snap.take.end, None))
        return sum(max(0.0, until - start - self.after_dead_ball) for (start, kind), (until, _) in pairwise(events)
                   if kind not in (MomentKind.CONFRONTATION, MomentKind.CARE))    # care is the injury rule's


def _same_series(before: Situation, after: Situation) -> bool:
    """The end of a period is a break too, though the series goes on."""
    return (before.next is after.next is Next.SCRIMMAGE and before.offense is after.offense
            and before.series == after.series and before.period == after.period)
