"""No lingering on an injured player."""

from __future__ import annotations

from collections.abc import Iterator

from ...tagging.layout import TimedMoment
from ...tagging.model import MomentKind, ShotKind
from ..finding import Direction
from ..footage import Snap, Take, Where, period_of
from ..rule import EPSILON, Judged, Rule
from ..screening import Screening
from ..speaking import spoken_seconds

_CARE = ("The player may be a minor, and the family may be watching: leave care out of every export unless the school "
         "or medical staff ask for it, and follow the venue's, the league's and local rules.")


class Injury(Rule):
    """``hold``: seconds after the dead ball at which a shot usually ends; ``linger``: seconds more
    that are allowed where everybody saw it happen; ``leaving``: the longest shot of a player leaving."""

    title = "Injury"
    label = "cut here"
    reason = ("After a serious injury the shot ends at its usual time and the next play follows; a few seconds more at "
              "most where everybody saw it happen. Care being given is nobody's film. A short shot of the player "
              "leaving the field unharmed is welcome: it answers everybody's question. " + _CARE)
    habit = "When a player is hurt let the shot end at its usual time, and film the next play."

    hold: float
    linger: float
    leaving: float

    def judge(self, screening: Screening) -> Iterator[Judged]:
        """Yield what is found about injured players, after plays and in the gaps."""
        for snap in screening.footage.filmed:
            care = None if snap.followed else snap.take.first(MomentKind.CARE)
            if care:
                yield self._after_play(screening, snap, care)
        for before, between, _ in screening.gaps:
            for take in between.of(ShotKind.INJURY):
                yield self._own_shot(screening, take, {"period": period_of(before), "shot": take.shot.id})

    def _after_play(self, screening: Screening, snap: Snap, care: TimedMoment) -> Judged:
        usual = snap.dead_ball.time + self.hold if snap.dead_ball else care.time
        too_long = snap.take.end - max(usual, care.time) - self.linger
        if too_long <= EPSILON:
            return self.delivered(**snap.where)
        return self._lingers(screening, snap.take, care, too_long, snap.where,
                             f" after {screening.spoken(snap.step.before)}")

    def _own_shot(self, screening: Screening, take: Take, where: Where) -> Judged:
        care = take.first(MomentKind.CARE)
        if care:
            too_long = take.end - care.time - self.linger
            if too_long > EPSILON:
                return self._lingers(screening, take, care, too_long, where)
        elif take.seconds > self.leaving + EPSILON:
            return self.finding(
                screening, f"shot {take.shot.id}", take.shot.start, direction=Direction.OVERDONE, until=take.shot.end,
                title="Shot of a player leaving the field runs long",
                why=f"A short look at the player walking off is welcome; {spoken_seconds(take.seconds)} is staring. "
                    f"Up to {spoken_seconds(self.leaving)} answer the question. " + _CARE,
                habit="Keep the shot of a player leaving the field short.",
                evidence=(f"The shot runs {spoken_seconds(take.seconds)}.",), seconds=take.seconds - self.leaving,
                strength=0.3, **where)
        return self.delivered(**where)

    def _lingers(self, screening: Screening, take: Take, care: TimedMoment, too_long: float, where: Where,
                 after: str = "") -> Judged:
        shown = spoken_seconds(take.end - care.time)
        return self.finding(
            screening, f"shot {take.shot.id}", care.at, direction=Direction.OVERDONE, until=take.shot.end,
            title=f"Lingering on an injured player{after}",
            why=f"The camera stays for {shown} while care is being given. Nobody learns anything from it, and it hurts "
                "those who know the player. End the shot as after any other play. " + _CARE,
            evidence=(f"Care is on film for {shown}.",), seconds=too_long, strength=min(1.0, 0.5 + too_long / 30),
            **where)
