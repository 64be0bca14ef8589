"""What the rules about camera work have in common: shot by shot, the worst place of what was measured."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, ClassVar

from ..film.camera_work.series import Stretch
from ..film.time import Instant, spoken_time
from ..tagging.model import MomentKind, ShotKind
from .camera_work import CameraWork
from .finding import Direction, Finding
from .footage import Snap, Take
from .rule import Judged, Rule
from .screening import Screening
from .speaking import spoken_seconds

if TYPE_CHECKING:
    from ..film.camera_work.passage import Passage

ANY = frozenset(ShotKind) - {ShotKind.INJURY}
"""Kinds that are judged by how they are filmed. Injuries are left out: their framing is not judged."""

_ELSEWHERE = 3      # further places that are named
_TELLING = 3.0      # seconds; a shorter shot is not shown as an example


@dataclass(frozen=True, slots=True)
class Trouble:
    """A place in a shot where a measure is out of bounds. Times are seconds from the source's first picture, ``excess``
    is the value over the threshold (1: at it), ``said`` what was measured, for a person."""

    start: float
    end: float
    at: float
    excess: float
    said: str
    title: str = ""

    @classmethod
    def of(cls, stretch: Stretch, threshold: float, said: str, title: str = "") -> Trouble:
        """The place of a stretch that exceeds a threshold."""
        return cls(stretch.start, stretch.end, stretch.at, stretch.worst / threshold if threshold else 1.0, said, title)


class CameraRule(Rule):
    """A rule about a measure. ``kinds`` are the shots it judges, ``fault`` its finding's title, ``why`` what viewers
    lose, ``habit`` what would help. At most one finding a shot, at the worst place.

    ``shortest``: seconds; a shorter shot is not judged.
    """

    kinds: ClassVar[frozenset[ShotKind]] = ANY
    fault: ClassVar[str]
    why: ClassVar[str]
    habit: ClassVar[str]

    shortest: float = 2.0

    def judge(self, screening: Screening) -> Iterator[Judged]:
        """Yield a finding or a delivery for each measured shot."""
        work = screening.camera_work
        if work is None:
            return
        found: list[tuple[Finding, Take]] = []
        best: dict[ShotKind | None, tuple[float, int]] = {}
        snaps = {snap.take.index: snap for snap in reversed(screening.footage.filmed)}
        before: Snap | None = None
        for take in screening.footage.takes:
            snap = snaps.get(take.index)
            before = snap or before
            period = before.step.before.period if before else 1
            passage = work.passages.get(take.shot.id)
            if (take.shot.kind is not None and take.shot.kind not in self.kinds) or (
                    take.shot.kind is None and self.kinds is not ANY):
                continue
            if passage is None or passage.seconds < self.shortest:
                continue
            judged = self.troubles(screening, work, take, passage, snap)
            if judged is None:
                continue
            if isinstance(judged, str):
                yield self.not_judged(judged, period=period, play=snap.tag.id if snap else None, shot=take.shot.id)
                continue
            troubles = sorted(judged, key=lambda trouble: trouble.excess, reverse=True)
            if not troubles:
                yield self.delivered(period=period, play=snap.tag.id if snap else None, shot=take.shot.id)
                fault = self.fault_of(passage)
                if fault is not None and passage.seconds >= _TELLING and (
                        take.shot.kind not in best or fault < best[take.shot.kind][0]):
                    best[take.shot.kind] = fault, take.shot.id
                continue
            found.append((self._finding(screening, take, passage, snap, period, troubles), take))
        for finding, take in found:
            yield replace(finding, beside=best[take.shot.kind][1]) if take.shot.kind in best else finding

    def troubles(self, screening: Screening, work: CameraWork, take: Take, passage: Passage,
                 snap: Snap | None) -> Iterable[Trouble] | str | None:
        """The places of a shot where something is wrong; None if the rule does not apply to the shot, the name of a
        moment that must be marked first."""
        raise NotImplementedError

    def fault_of(self, passage: Passage) -> float | None:
        """How far a shot is from perfect by this rule, to choose the crew's best; None if the rule does not apply."""
        raise NotImplementedError

    def _finding(self, screening: Screening, take: Take, passage: Passage, snap: Snap | None, period: int,
                 troubles: list[Trouble]) -> Finding:
        worst, more = troubles[0], troubles[1:]
        at = _inside(take, passage, worst.start)
        elsewhere = sorted(screening.footage.layout.time(_inside(take, passage, each.start)) for each in more)
        others = (f"Also at {', '.join(spoken_time(time) for time in elsewhere[:_ELSEWHERE])}"
                  f"{' and more' if len(elsewhere) > _ELSEWHERE else ''}.") if elsewhere else ""
        kind = f" in the {take.shot.kind} shot" if take.shot.kind not in (None, ShotKind.PLAY) else ""
        where = screening.spoken(snap.step.before) if snap else ""
        found = self.finding(
            screening, f"shot {take.shot.id}", at, direction=Direction.MISSED,
            title=f"{worst.title or self.fault}{kind}{f', {where}' if where else ''}", why=self.why, habit=self.habit,
            until=_inside(take, passage, worst.end), period=period, play=snap.tag.id if snap else None,
            shot=take.shot.id, strength=min(1.0, 0.3 * worst.excess),
            evidence=(f"{worst.said} for {spoken_seconds(max(worst.end - worst.start, 0.1))}.", others))
        spans = tuple((start, end) for each in sorted(troubles, key=lambda trouble: trouble.start)
                      if (start := _inside(take, passage, each.start)).pts
                      <= (end := _inside(take, passage, each.end)).pts)
        ends = found.until is not None and found.until.pts > found.at.pts
        return replace(found, spans=spans, until=found.until if ends else None)


def _inside(take: Take, passage: Passage, seconds: float) -> Instant:
    start, end = take.shot.start, take.shot.end
    return Instant(start.source, min(max(passage.pts(seconds), start.pts), end.pts))


def in_source(take: Take, passage: Passage, film_seconds: float) -> float:
    """Seconds from the source's first picture of a film time in the shot."""
    return passage.start + film_seconds - take.start


def action_in(take: Take, passage: Passage, snap: Snap | None) -> tuple[float, float] | str | None:
    """From snap to dead ball, in seconds from the source's first picture. None where the shot does not film a snap, the
    name of the snap where it is not marked."""
    if snap is None or take.first(MomentKind.SNAP_NOT_ON_FILM):
        return None
    if snap.snap is None:
        return "snap"
    begins, ends = snap.filmed.action
    return in_source(take, passage, begins), in_source(take, passage, ends)
