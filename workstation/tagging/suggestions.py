"""Shots, kinds of shots and moments found in a film, as suggestions that a person may accept."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from itertools import takewhile
from operator import itemgetter
from typing import TYPE_CHECKING, NamedTuple

from ..film.time import Instant
from .game_order import EXTRAS
from .layout import FilmLayout, layout_of
from .model import Game, Moment, MomentKind, Shot, ShotKind
from .operations import AddRecord, AddShots, ChangeShots, Operation, several

if TYPE_CHECKING:
    from ..film.film import Film
    from ..film.finding.survey import FoundShot, Suggestion

UNCERTAINTY = 0.7
"""Seconds either way that a suggested snap or whistle may be off (common practice, no source)."""


class Offered(NamedTuple):
    """A place on the film, and what is suggested there."""

    at: Instant
    kind: MomentKind | ShotKind


class Offer(NamedTuple):
    """What is suggested about one shot: the operation that takes all of it, and each part in film order."""

    operation: Operation
    parts: tuple[Offered, ...]


@dataclass(frozen=True)
class FilmSuggestions:
    """The shots and moments found in one film."""

    found: Sequence[FoundShot] = ()
    moments: Sequence[Suggestion] = ()

    @classmethod
    def cached(cls, film: Film, least_confidence: float = 0.0) -> FilmSuggestions:
        """What was found in *film* before, moments of at least *least_confidence* only; reads the cache."""
        from ..film import finding  # here, because it imports the decoders of film
        surveys = {source.id: found for source in film.sources
                   if not source.problem and (found := finding.cached_survey(source)) is not None}
        return cls(tuple(finding.found_shots(film, surveys)) if surveys else (),
                   tuple(suggestion for survey in surveys.values() for suggestion in survey.suggestions
                         if suggestion.confidence >= least_confidence))

    def shots(self, game: Game) -> AddShots | None:
        """The found shots as an operation, if the game has none yet."""
        if game.shots or not self.found:
            return None
        return AddShots(tuple(Shot(0, found.start, found.end, ShotKind(found.kind) if found.kind else None,
                                   confirmed=False) for found in self.found))

    def unmarked(self, places: FilmLayout) -> list[tuple[float, MomentKind, Instant]]:
        """The suggested moments in film order with their film times, of kinds not marked in the same shot yet."""
        shots = list(places.shots.values())
        begins, marked = [shot.start for shot in shots], [{seen.moment.kind for seen in shot.moments} for shot in shots]

        def is_marked(kind: MomentKind, time: float) -> bool:
            within = bisect_right(begins, time) - 1
            return within >= 0 and time < shots[within].end and kind in marked[within]

        rows = [(places.time(at), kind, at) for kind, at in self._suggested if places.knows(at)]
        return sorted((row for row in rows if not is_marked(row[1], row[0])), key=itemgetter(0))

    @cached_property
    def _suggested(self) -> tuple[tuple[MomentKind, Instant], ...]:
        return tuple((MomentKind(suggestion.kind.value), suggestion.at) for suggestion in self.moments)

    def offer(self, game: Game, shot: Shot) -> Offer | None:
        """What is suggested about *shot* that is not tagged yet: its kind, its moments, and the kinds of the extra
        shots around it, up to the next that may show a play. None if there is nothing."""
        places = layout_of(game)
        index = next((index for index, each in enumerate(game.shots) if each.id == shot.id), None)
        if index is None:
            return None
        before = list(takewhile(self._is_extra, reversed(game.shots[:index])))
        behind = list(takewhile(self._is_extra, game.shots[index + 1:]))
        taken = {each.id: said for each in (*before, shot, *behind) if (said := self._said(each)) != each}
        now = taken.get(shot.id, shot)
        moments = list(self._moments(places, now))
        if not taken and not moments:
            return None
        operation = several(f"take what is suggested for shot {index + 1}", [
            *([ChangeShots(tuple(taken.values()))] if taken else []),
            *(AddRecord(Moment(0, kind, at, uncertainty=UNCERTAINTY)) for _, kind, at in moments)])
        parts = [(places.time(said.start), Offered(said.start, said.kind)) for said in taken.values()
                 if said.kind is not None and (said.id != shot.id or not moments)]
        parts += [(time, Offered(at, kind)) for time, kind, at in moments]
        return Offer(operation, tuple(part for _, part in sorted(parts, key=lambda part: part[0])))

    def _kind(self, shot: Shot) -> ShotKind | None:
        """What a shot is, as somebody said it, or else as it was found."""
        if shot.kind is not None:
            return shot.kind
        middle = (shot.start.pts + shot.end.pts) // 2
        found = next((found for found in self.found if found.start.source == shot.start.source == shot.end.source
                      and found.start.pts <= middle < found.end.pts), None)
        return ShotKind(found.kind) if found is not None and found.kind else None

    def _said(self, shot: Shot) -> Shot:
        return replace(shot, kind=self._kind(shot), confirmed=True)

    def _is_extra(self, shot: Shot) -> bool:
        return self._kind(shot) in EXTRAS

    def _moments(self, places: FilmLayout, shot: Shot) -> Iterator[tuple[float, MomentKind, Instant]]:
        """The first of each kind in the shot; of whistles the first one behind the snap. If the finder told plays
        from other shots, a shot that it did not take for a play has none: movement there is no snap."""
        filmed = places.shots.get(shot.id)
        if filmed is None or shot.kind in EXTRAS:
            return
        if shot.kind is not ShotKind.PLAY and any(found.kind == ShotKind.PLAY.value for found in self.found):
            return
        here = [row for row in self.unmarked(places) if filmed.start <= row[0] < filmed.end]
        marked = filmed.first(MomentKind.SNAP)
        snap = marked.time if marked else next((time for time, kind, _ in here if kind is MomentKind.SNAP), None)
        seen: set[MomentKind] = set()
        for time, kind, at in here:
            if kind in seen or (kind is MomentKind.DEAD_BALL and snap is not None and time <= snap):
                continue
            seen.add(kind)
            yield time, kind, at
