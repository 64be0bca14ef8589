"""What the rules about camera work have in common: shot by shot, the worst place of what was measured."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, ClassVar

from ..film.camera_work.series import Series
from ..film.time import Instant, spoken_time
from ..tagging.model import MomentKind, ShotKind
from .camera_work import CameraWork
from .finding import Direction, Finding
from .footage import Snap, Take, Where, period_of
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


def exceeding(series: Series, threshold: float, least: float, gap: float, said: str, title: str = ""
              ) -> Iterator[Trouble]:
    """Each stretch of ``least`` seconds or more above a threshold; gaps of ``gap`` do not end it. ``said`` is filled in
    with the worst value and the threshold."""
    for stretch in series.above(threshold, least, gap=gap):
        yield Trouble(stretch.start, stretch.end, stretch.at, stretch.worst / threshold if threshold else 1.0,
                      said.format(stretch.worst, threshold), title)


@dataclass(frozen=True, slots=True)
class MeasuredShot:
    """A shot as a rule about camera work looks at it. ``snap`` is the first play that it films, ``period`` that of the
    game. Seconds count from the source's first picture."""

    work: CameraWork
    take: Take
    passage: Passage
    snap: Snap | None
    period: int

    @property
    def where(self) -> Where:
        """The shot and its play, for a judgement about them."""
        return self.snap.where if self.snap else {"period": self.period, "shot": self.take.shot.id}

    @property
    def action(self) -> tuple[float, float] | str | None:
        """From snap to dead ball; None where the shot films no snap, the name of the snap where it is not marked."""
        if self.snap is None or self.take.first(MomentKind.SNAP_NOT_ON_FILM):
            return None
        if self.snap.snap is None:
            return "snap"
        begins, ends = self.snap.filmed.action
        return self.seconds(begins), self.seconds(ends)

    def seconds(self, film_seconds: float) -> float:
        """Seconds of the source at a film time in the shot."""
        return self.passage.start + film_seconds - self.take.start

    def instant(self, seconds: float) -> Instant:
        """The instant at so many seconds of the source, kept within the shot."""
        start, end = self.take.shot.start, self.take.shot.end
        return Instant(start.source, min(max(self.passage.pts(seconds), start.pts), end.pts))


class CameraRule(Rule):
    """A rule about a measure. ``kinds`` are the shots it judges, ``fault`` its finding's title, ``why`` what viewers
    lose. At most one finding a shot, at the worst place.

    ``shortest``: seconds; a shorter shot is not judged.
    """

    kinds: ClassVar[frozenset[ShotKind]] = ANY
    fault: ClassVar[str]
    why: ClassVar[str]

    shortest: float = 2.0

    def judge(self, screening: Screening) -> Iterator[Judged]:
        """Yield a finding or a delivery for each measured shot."""
        found: list[tuple[ShotKind | None, Finding]] = []
        best: dict[ShotKind | None, tuple[float, int]] = {}
        for shot in self._shots(screening):
            judged, kind = self.troubles(shot), shot.take.shot.kind
            if judged is None:
                continue
            if isinstance(judged, str):
                yield self.not_judged(judged, **shot.where)
                continue
            troubles = sorted(judged, key=lambda trouble: trouble.excess, reverse=True)
            if troubles:
                found.append((kind, self._finding(screening, shot, troubles)))
                continue
            yield self.delivered(**shot.where)
            fault = self.fault_of(shot)
            if fault is not None and shot.passage.seconds >= _TELLING and (kind not in best or fault < best[kind][0]):
                best[kind] = fault, shot.take.shot.id
        for kind, finding in found:
            yield replace(finding, beside=best[kind][1]) if kind in best else finding

    def _shots(self, screening: Screening) -> Iterator[MeasuredShot]:
        """The shots that were measured and are of the rule's kinds."""
        work = screening.camera_work
        if work is None:
            return
        snaps = {snap.take.index: snap for snap in reversed(screening.footage.filmed)}
        before: Snap | None = None
        for take in screening.footage.takes:
            snap = snaps.get(take.index)
            before = snap or before
            passage, kind = work.passages.get(take.shot.id), take.shot.kind
            if passage is not None and passage.seconds >= self.shortest and (
                    self.kinds is ANY if kind is None else kind in self.kinds):
                yield MeasuredShot(work, take, passage, snap, period_of(before))

    def troubles(self, shot: MeasuredShot) -> Iterable[Trouble] | str | None:
        """The places of a shot where something is wrong; None if the rule does not apply to the shot, the name of a
        moment that must be marked first."""
        raise NotImplementedError

    def fault_of(self, shot: MeasuredShot) -> float | None:
        """How far a shot is from perfect by this rule, to choose the crew's best; None if the rule does not apply."""
        raise NotImplementedError

    def _finding(self, screening: Screening, shot: MeasuredShot, troubles: list[Trouble]) -> Finding:
        worst, *more = troubles
        begins, ends = shot.instant(worst.start), shot.instant(worst.end)
        elsewhere = sorted(screening.footage.layout.time(shot.instant(each.start)) for each in more)
        others = (f"Also at {', '.join(spoken_time(time) for time in elsewhere[:_ELSEWHERE])}"
                  f"{' and more' if len(elsewhere) > _ELSEWHERE else ''}.") if elsewhere else ""
        kind = shot.take.shot.kind
        of_kind = f" in the {kind} shot" if kind not in (None, ShotKind.PLAY) else ""
        situation = f", {screening.spoken(shot.snap.step.before)}" if shot.snap else ""
        found = self.finding(
            screening, f"shot {shot.take.shot.id}", begins, direction=Direction.MISSED,
            title=f"{worst.title or self.fault}{of_kind}{situation}", why=self.why,
            until=ends if ends.pts > begins.pts else None, strength=min(1.0, 0.3 * worst.excess),
            evidence=(f"{worst.said} for {spoken_seconds(max(worst.end - worst.start, 0.1))}.", others), **shot.where)
        spans = ((shot.instant(each.start), shot.instant(each.end))
                 for each in sorted(troubles, key=lambda trouble: trouble.start))
        return replace(found, spans=tuple((start, end) for start, end in spans if start.pts <= end.pts))
