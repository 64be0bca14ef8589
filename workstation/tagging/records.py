"""A game as records, and the working copy that an operation changes.

A record is one value of one kind under one id. Operations only ever put and remove records;
the difference they leave is what the game file stores, undoes and tells the screens about.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, replace
from enum import StrEnum
from functools import cached_property
from operator import itemgetter
from typing import Any

from ..film.film import Film, Source
from ..film.time import Instant
from .model import (
    Angle,
    AngleFilm,
    Decision,
    Drawing,
    Game,
    Heading,
    Match,
    Moment,
    Note,
    PlayTag,
    Remark,
    Sequence,
    Shot,
)
from .own_words.definition import Vocabulary, WordSaid

Id = int | str
Values = dict[Id, Any]


class Kind(StrEnum):
    """What a record is about. ``FILM`` is the order of an angle's sources; its id is ``THE`` for the first angle's,
    else the angle's. ``COMING`` is the own words of a play to come. A match's id
    is made by :func:`match_id`."""

    HEADING = "heading"
    FILM = "film"
    SOURCE = "source"
    SHOT = "shot"
    MOMENT = "moment"
    PLAY = "play"
    NOTE = "note"
    DRAWING = "drawing"
    DECISION = "decision"
    SEQUENCE = "sequence"
    REMARK = "remark"
    VOCABULARY = "vocabulary"
    COMING = "coming"
    ANGLE = "angle"
    MATCH = "match"


TYPE: Mapping[Kind, Any] = {
    Kind.HEADING: Heading,
    Kind.FILM: tuple[str, ...],
    Kind.SOURCE: Source,
    Kind.SHOT: Shot,
    Kind.MOMENT: Moment,
    Kind.PLAY: PlayTag,
    Kind.NOTE: Note,
    Kind.DRAWING: Drawing,
    Kind.DECISION: Decision,
    Kind.SEQUENCE: Sequence,
    Kind.REMARK: Remark,
    Kind.VOCABULARY: Vocabulary,
    Kind.COMING: tuple[WordSaid, ...],
    Kind.ANGLE: Angle,
    Kind.MATCH: Match,
}
KIND: Mapping[Any, Kind] = {type: kind for kind, type in TYPE.items()}
LARGEST_ID = 2**53 - 1  # the largest whole number that every JSON reader keeps exact
THE = ""  # the id of the only record of its kind


def match_id(angle: int, play: int) -> str:
    """The id of the record that says which shot of a further angle films a play."""
    return f"{angle}:{play}"


def own_id(kind: Kind, value: Any) -> Id | None:
    """The id that is part of a record's value; None for kinds without one."""
    if kind in (Kind.HEADING, Kind.FILM, Kind.VOCABULARY, Kind.COMING):
        return None
    if kind is Kind.MATCH:
        return match_id(value.angle, value.play)
    id: Id = value.finding if kind is Kind.DECISION else value.id
    return id


class InvalidOperation(ValueError):
    """The operation cannot be done; nothing was changed. ``problems`` says each reason in one line."""

    def __init__(self, *problems: str):
        self.problems = problems
        more = f" (and {len(problems) - 5} more)" if len(problems) > 5 else ""
        super().__init__("; ".join(problems[:5]) + more)


@dataclass(frozen=True, slots=True)
class Edit:
    """One record before and after; None where it did not or does not exist."""

    kind: Kind
    id: Id
    before: Any
    after: Any


@dataclass(frozen=True)
class Change:
    """What an action, an undo or a redo changed, so that a screen refreshes only what it shows."""

    description: str
    edits: tuple[Edit, ...]

    @cached_property
    def kinds(self) -> frozenset[Kind]:
        """The kinds of record that the change touches."""
        return frozenset(edit.kind for edit in self.edits)

    def ids(self, kind: Kind) -> tuple[Id, ...]:
        """Ids of that kind that were added, changed or removed."""
        return tuple(edit.id for edit in self.edits if edit.kind == kind)

    def added(self, kind: Kind) -> tuple[Id, ...]:
        """Return the ids of the records of this kind that did not exist before."""
        return tuple(edit.id for edit in self.edits if edit.kind == kind and edit.before is None)

    def removed(self, kind: Kind) -> tuple[Id, ...]:
        """Return the ids of the records of this kind that no longer exist."""
        return tuple(edit.id for edit in self.edits if edit.kind == kind and edit.after is None)


class Records:
    """All records of a game and the ids ever used. A value: not changed once an operation has finished."""

    def __init__(self, values: Mapping[Kind, Values] | None = None, used: Mapping[Kind, Iterable[Id]] | None = None):
        self.values: dict[Kind, Values] = {kind: dict((values or {}).get(kind, {})) for kind in Kind}
        self.used: dict[Kind, set[Id]] = {
            kind: set((used or {}).get(kind, ())) | set(self.values[kind]) for kind in Kind
        }
        self._last = {
            kind: max((id for id in ids if isinstance(id, int)), default=0) for kind, ids in self.used.items()
        }

    def as_edits(self) -> tuple[Edit, ...]:
        """Edits that build these records from nothing, ids used before included."""
        return tuple(Edit(kind, id, None, self.values[kind].get(id)) for kind in Kind for id in self.used[kind])

    def next_id(self, kind: Kind) -> int:
        """The next id of a kind that numbers its records; used ids are never reused."""
        return self._last[kind] + 1

    def after(self, edits: Iterable[Edit]) -> Records:
        """These records with *edits* made."""
        edits = tuple(edits)
        later = self.branch({edit.kind for edit in edits})
        for edit in edits:
            later.make(edit)
        return later

    def branch(self, kinds: Iterable[Kind]) -> Records:
        """A copy in which *kinds* may be edited; everything else is shared."""
        other = Records.__new__(Records)
        other.values, other.used, other._last = dict(self.values), dict(self.used), dict(self._last)
        for kind in kinds:
            other.values[kind] = dict(self.values[kind])
            other.used[kind] = set(self.used[kind])
        return other

    def make(self, edit: Edit) -> None:
        """Make one edit in place."""
        if edit.after is None:
            self.values[edit.kind].pop(edit.id, None)
        else:
            self.values[edit.kind][edit.id] = edit.after
        self.used[edit.kind].add(edit.id)
        if isinstance(edit.id, int):
            self._last[edit.kind] = max(self._last[edit.kind], edit.id)

    def game(self, previous: Game | None = None, kinds: Iterable[Kind] = tuple(Kind)) -> Game:
        """These records as one snapshot; only *kinds* are rebuilt, the rest comes from *previous*."""
        stale = set(kinds) if previous else set(Kind)
        was = previous or Game()
        parts: dict[str, Any] = {}
        films, angles = [each.film for each in was.recordings], [each.angle for each in was.angles]
        if stale & {Kind.FILM, Kind.SOURCE, Kind.ANGLE}:
            sources, orders = self.values[Kind.SOURCE], self.values[Kind.FILM]
            angles = [self.values[Kind.ANGLE][id] for id in sorted(self.values[Kind.ANGLE])]
            ids: list[Id] = [THE, *(angle.id for angle in angles)]
            films = [Film(tuple(sources[each] for each in orders.get(id, ()))) for id in ids]
            parts["film"] = films[0]
            stale |= ON_FILM.keys()
        if Kind.HEADING in stale:
            parts["heading"] = self.values[Kind.HEADING].get(THE) or Heading()
        if on_film := stale & ON_FILM.keys():
            order = _order_in(films)
            filmed: list[dict[str, Any]] = [{} for _ in films]
            for kind in on_film:
                start = ON_FILM[kind]
                placed = sorted(((order(start(each)), each.id, each) for each in self.values[kind].values()),
                                key=itemgetter(0, 1))
                for number, of_film in enumerate(filmed):
                    of_film[f"{kind}s"] = tuple(each for place, _, each in placed if place[0] == number)
            parts |= filmed[0]
            before = {each.angle.id: each for each in was.angles}
            parts["angles"] = tuple(
                replace(before.get(angle.id, AngleFilm(angle)), angle=angle, film=film, **of_film)
                for angle, film, of_film in zip(angles, films[1:], filmed[1:], strict=True))
        if Kind.PLAY in stale:
            parts["plays"] = tuple(sorted(self.values[Kind.PLAY].values(), key=lambda tag: (tag.order, tag.id)))
        for kind in stale & {Kind.DECISION, Kind.SEQUENCE}:
            parts[f"{kind}s"] = tuple(self.values[kind][key] for key in sorted(self.values[kind]))
        if Kind.VOCABULARY in stale:
            parts["vocabulary"] = self.values[Kind.VOCABULARY].get(THE) or Vocabulary()
        if Kind.COMING in stale:
            parts["coming"] = self.values[Kind.COMING].get(THE, ())
        if Kind.MATCH in stale:
            parts["matches"] = tuple(sorted(self.values[Kind.MATCH].values(), key=lambda each: (each.angle, each.play)))
        return replace(was, **parts)


def _order_in(films: Iterable[Film]) -> Callable[[Instant], tuple[int, int, int]]:
    """Return a key of instants: the number of their film and their order on it; those in none last on the first."""
    places = {source.id: (number, position) for number, film in enumerate(films)
              for position, source in enumerate(film.sources)}
    nowhere = (0, len(places))

    def key(instant: Instant) -> tuple[int, int, int]:
        return (*places.get(instant.source, nowhere), instant.pts)

    return key


ON_FILM: Mapping[Kind, Callable[[Any], Instant]] = {
    Kind.SHOT: lambda shot: shot.start,
    Kind.MOMENT: lambda moment: moment.at,
    Kind.NOTE: lambda note: note.at,
    Kind.DRAWING: lambda drawing: drawing.at,
    Kind.REMARK: lambda remark: remark.at,
}
"""Kinds whose values belong to one angle's film, each with where a value lies on it."""


def film_order(film: Film) -> Callable[[Instant], tuple[int, int, int]]:
    """Return a key that sorts instants the way they follow each other on *film*."""
    return _order_in((film,))


class GameDraft:
    """A working copy of a game for one action; the game itself stays as it is until the draft is taken."""

    def __init__(self, records: Records, game: Game):
        self._base = records
        self._game = game
        self.records = records
        self._owned: set[Kind] = set()
        self._stale: set[Kind] = set()
        self._touched: dict[tuple[Kind, Id], None] = {}

    @property
    def game(self) -> Game:
        """The game as the draft has it."""
        if self._stale:
            self._game = self.records.game(self._game, self._stale)
            self._stale = set()
        return self._game

    def values(self, kind: Kind) -> Mapping[Id, Any]:
        """Return all records of a kind by their ids, as changed so far."""
        return self.records.values[kind]

    def find(self, kind: Kind, id: Id) -> Any:
        """The record of that id; raises :class:`InvalidOperation` if there is none."""
        try:
            return self.records.values[kind][id]
        except KeyError:
            raise InvalidOperation(f"there is no {kind} {id!r}") from None

    def put(self, kind: Kind, id: Id, value: Any) -> None:
        """Store a record, new or in place of the one with its id."""
        self._edit(Edit(kind, id, None, value))

    def remove(self, kind: Kind, id: Id) -> None:
        """Remove a record, which must exist."""
        self._edit(Edit(kind, id, self.find(kind, id), None))

    def claim(self, kind: Kind, wanted: int = 0) -> int:
        """An id for a new record: *wanted*, if it was never used, or the next one for 0."""
        if wanted and not 0 < wanted <= LARGEST_ID:
            raise InvalidOperation(f"{kind} id {wanted}: ids run from 1 to {LARGEST_ID}")
        if wanted in self.records.used[kind]:
            raise InvalidOperation(f"{kind} id {wanted} is taken or was used before; leave it 0 to get the next one")
        return wanted or self.records.next_id(kind)

    def add(self, value: Any) -> None:
        """Store a numbered value under its own id, or the next one if that is 0."""
        kind = KIND[type(value)]
        id = self.claim(kind, value.id)
        self.put(kind, id, replace(value, id=id))

    def change(self, value: Any) -> None:
        """Store a numbered value in place of the one with its id, which must exist."""
        kind = KIND[type(value)]
        self.find(kind, value.id)
        self.put(kind, value.id, value)

    def edits(self) -> tuple[Edit, ...]:
        """The difference to the game as it was, each record once."""
        made = []
        for kind, id in self._touched:
            before, after = self._base.values[kind].get(id), self.records.values[kind].get(id)
            if before != after:
                made.append(Edit(kind, id, before, after))
        return tuple(made)

    def _edit(self, edit: Edit) -> None:
        if edit.kind not in self._owned:
            self.records = self.records.branch((edit.kind,))
            self._owned.add(edit.kind)
        self.records.make(edit)
        self._stale.add(edit.kind)
        self._touched[edit.kind, edit.id] = None
