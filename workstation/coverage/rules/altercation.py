"""An altercation is filmed wide, whole and without a break."""

from __future__ import annotations

from collections.abc import Iterator

from ...tagging.model import Framing, MomentKind, ShotKind
from ..finding import Finding, Severity
from ..footage import Between, Snap, Take, Where, period_of
from ..rule import Judged, Rule
from ..screening import Screening

_CARE = ("Keep your place and your calm: you are there to film, not to step in. Hand the footage to the officials, the "
         "coaches or the league when they ask, and to nobody else; players may be minors.")


class Altercation(Rule):
    """``fouls``: words in a foul's name that mean an altercation."""

    title = "Altercation"
    label = "altercation, wide"
    reason = ("Officials, coaches and the league will ask for this footage to see who did what. Film it always, wide "
              "enough to hold everybody who may be part of it, in one piece from before it starts until it is over. In "
              "doubt the camera keeps rolling. " + _CARE)
    habit = "Film an altercation whole: wide, without a cut, from before it starts until it is over."

    fouls: tuple[str, ...]

    def judge(self, screening: Screening) -> Iterator[Judged]:
        """Yield what is found about altercations in each gap between plays."""
        for before, between, _ in screening.gaps:
            period = period_of(before)
            scenes = between.of(ShotKind.ALTERCATION)
            yield from self._not_filmed(screening, before, between, scenes, period)
            begun = before.take.first(MomentKind.CONFRONTATION) if before and not before.followed else None
            if before and begun and before.take.first(MomentKind.CONFRONTATION_OVER, begun.time):
                scenes = [before.take, *scenes]     # if it was cut: the longer hold's rule
            yield from self._scenes(screening, scenes, period)

    def _scenes(self, screening: Screening, scenes: list[Take], period: int) -> Iterator[Judged]:
        for number, take in enumerate(scenes):
            begun, right = take.first(MomentKind.CONFRONTATION), True
            over = take.first(MomentKind.CONFRONTATION_OVER, begun.time if begun else take.start)
            where: Where = {"period": period, "shot": take.shot.id}
            if take.shot.framing is Framing.CLOSE:
                right = False
                yield self.finding(
                    screening, f"shot {take.shot.id}/framing", take.shot.start, title="Altercation framed too close",
                    why="The picture is too close to hold everybody who may be part of it; what happens beside it is "
                        "lost, and it is often what officials ask for. Ease out at once. " + _CARE,
                    evidence=("Tagged framing: close.",), strength=0.7, **where)
            if number and take.holds(ShotKind.ALTERCATION) and scenes[number - 1].holds(ShotKind.ALTERCATION):
                right = False
                yield self.finding(
                    screening, f"shot {take.shot.id}/interrupted", take.shot.start, title="Altercation interrupted",
                    why="The altercation is filmed in two shots, and nobody can say what happened between them. Keep "
                        "rolling until everybody has walked away. " + _CARE,
                    evidence=("A cut lies between the two shots.",), strength=0.8, **where)
            elif over and not begun and take.holds(ShotKind.ALTERCATION):
                right = False
                yield self.finding(
                    screening, f"shot {take.shot.id}/start", take.shot.start,
                    title="Altercation filmed from the middle",
                    why="The shot begins when the altercation is under way; how it started is missing. Hold longer "
                        "after a heated play and you will have it. " + _CARE,
                    evidence=("Its end is on film, its beginning is not.",), strength=0.8, **where)
            if begun and not over and not (
                    number + 1 < len(scenes) and scenes[number + 1].holds(ShotKind.ALTERCATION)):
                right = False
                yield self.finding(
                    screening, f"shot {take.shot.id}/end", take.shot.end, title="Altercation cut before it was over",
                    severity=Severity.ERROR,
                    why="The shot ends while it is still going on. In doubt the camera keeps rolling. " + _CARE,
                    evidence=("Its beginning is on film, its end is not.",), strength=0.9, **where)
            if not begun and not over and take.holds(ShotKind.ALTERCATION) and not number:
                yield self.not_judged("confrontation", **where)
            elif right:
                yield self.delivered(**where)

    def _not_filmed(self, screening: Screening, before: Snap | None, between: Between, scenes: list[Take],
                    period: int) -> Iterator[Finding]:
        """An altercation that a foul tells of and no shot shows."""
        if before is None or not between.known or scenes or before.take.first(MomentKind.CONFRONTATION):
            return
        if any(take.first(MomentKind.CONFRONTATION) for take in between.takes):
            return
        for position in (before.position, *between.tags):
            tag = screening.footage.game.plays[position]
            for foul in tag.play.fouls:
                if any(word in foul.name for word in self.fouls):
                    yield self.finding(
                        screening, f"play {tag.id}", before.take.shot.end, title=f"Altercation expected: {foul.name}",
                        why=f"A foul for {foul.name} was called, and no shot shows what led to it. " + _CARE,
                        evidence=((f"The foul is tagged at {screening.spoken(before.step.before)}; no confrontation is "
                                   "marked in any shot around it."),), play=tag.id, period=period, strength=0.9)
                    break
