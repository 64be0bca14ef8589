"""Everything a person can do to a game, one small value each.

An operation edits a :class:`~.records.Draft`; whoever runs it (:meth:`GameFile.do
<workstation.tagging.gamefile.GameFile.do>`) checks the whole against :mod:`.rules` and takes the
draft or leaves the game as it was. ``describe`` is what the undo menu says.

New records carry id 0 and get the next free id; an id that was never used may be given instead,
so that records which refer to each other can be made in one action (see :func:`several`).
"""

from __future__ import annotations

import os
from collections.abc import Iterable
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Protocol

from ..film.film import Source
from ..film.time import Instant
from ..football.plays import Play
from .model import (
    Decision,
    Drawing,
    Framing,
    Game,
    Heading,
    Moment,
    MomentKind,
    Note,
    PlayTag,
    Sequence,
    SequenceItem,
    Shot,
)
from .records import THE, Draft, InvalidOperation, Kind, film_order


class Operation(Protocol):
    """One undoable action."""

    def describe(self, game: Game) -> str:
        """What it does, as the undo menu says it; *game* is the game before it."""

    def apply(self, draft: Draft) -> None:
        """Edit *draft*; raises :class:`InvalidOperation` if it cannot be done."""


@dataclass(frozen=True, slots=True)
class Several:
    """Operations as one action; later ones see what earlier ones did."""

    description: str
    operations: tuple[Operation, ...]

    def describe(self, game: Game) -> str:
        return self.description

    def apply(self, draft: Draft) -> None:
        for operation in self.operations:
            operation.apply(draft)


def several(description: str, operations: Iterable[Operation]) -> Several:
    """Join *operations* into one undoable action.

    >>> new = file.next_id(Kind.SHOT)                                          # doctest: +SKIP
    >>> several("tag play 12", [AddShots((Shot(new, start, end),)), AddPlay(play, shot=new)])  # doctest: +SKIP
    """
    return Several(description, tuple(operations))


# --- the game as a whole


@dataclass(frozen=True, slots=True)
class SetHeading:
    heading: Heading

    def describe(self, game: Game) -> str:
        return "change the game's heading"

    def apply(self, draft: Draft) -> None:
        draft.put(Kind.HEADING, THE, self.heading)


@dataclass(frozen=True, slots=True)
class TakeGame:
    """Put a whole game, ids and all, into a game file in which nothing was tagged yet."""

    game: Game

    def describe(self, game: Game) -> str:
        return "take in a whole game"

    def apply(self, draft: Draft) -> None:
        if any(draft.values(kind) for kind in Kind if kind is not Kind.HEADING):
            raise InvalidOperation("this game file is not empty; a whole game goes into a new one")
        game = self.game
        draft.put(Kind.HEADING, THE, game.heading)
        if game.film.sources:
            draft.put(Kind.FILM, THE, tuple(source.id for source in game.film.sources))
        for kind, values in {
            Kind.SOURCE: game.film.sources,
            Kind.SHOT: game.shots,
            Kind.MOMENT: game.moments,
            Kind.PLAY: game.plays,
            Kind.NOTE: game.notes,
            Kind.DRAWING: game.drawings,
            Kind.DECISION: game.decisions,
            Kind.SEQUENCE: game.sequences,
        }.items():
            for value in values:
                if kind in (Kind.SOURCE, Kind.DECISION):
                    key = value.id if kind is Kind.SOURCE else value.finding
                    if key in draft.values(kind):
                        raise InvalidOperation(f"{kind} {key!r} comes twice")
                elif value.id == 0:
                    raise InvalidOperation(f"a {kind} has no id")
                else:
                    key = draft.claim(kind, value.id)
                draft.put(kind, key, value)


# --- sources


@dataclass(frozen=True, slots=True)
class AddSources:
    """Add camera files to the film, before position *at* (None: at the end).

    A source keeps the id it comes with if that was never used in this game, else it gets a new one.
    """

    sources: tuple[Source, ...]
    at: int | None = None

    def describe(self, game: Game) -> str:
        return f"add {_count(len(self.sources), 'source')}"

    def apply(self, draft: Draft) -> None:
        order = list(_film(draft))
        place = len(order) if self.at is None else self.at
        if not 0 <= place <= len(order):
            raise InvalidOperation(f"there is no position {place} in a film of {_count(len(order), 'source')}")
        new = []
        for source in self.sources:
            used = draft.records.used[Kind.SOURCE]
            key = source.id
            if not key or key in used:
                number = len(used) + 1
                while (key := f"s{number}") in used:
                    number += 1
            draft.put(Kind.SOURCE, key, replace(source, id=key, path=Path(os.path.abspath(source.path))))
            new.append(key)
        order[place:place] = new
        draft.put(Kind.FILM, THE, tuple(order))


@dataclass(frozen=True, slots=True)
class RemoveSources:
    """Take sources out of the film. Refused if anything is tagged on them, unless *with_tags*:
    then their shots, moments, notes and drawings go too, and plays stay as not filmed."""

    ids: tuple[str, ...]
    with_tags: bool = False

    def describe(self, game: Game) -> str:
        return f"remove {_count(len(self.ids), 'source')}"

    def apply(self, draft: Draft) -> None:
        gone = set(self.ids)
        game = draft.game
        tagged = {
            Kind.SHOT: [each.id for each in game.shots if {each.start.source, each.end.source} & gone],
            Kind.MOMENT: [each.id for each in game.moments if each.at.source in gone],
            Kind.NOTE: [each.id for each in game.notes if _touches(each, gone)],
            Kind.DRAWING: [each.id for each in game.drawings if _touches(each, gone)],
        }
        if any(tagged.values()) and not self.with_tags:
            listed = ", ".join(_count(len(ids), kind) for kind, ids in tagged.items() if ids)
            raise InvalidOperation(f"{listed} tagged on {', '.join(self.ids)}; remove them with it, or first")
        RemoveShots(tuple(tagged.pop(Kind.SHOT))).apply(draft)
        for kind, ids in tagged.items():
            for id in ids:
                draft.remove(kind, id)
        for id in self.ids:
            draft.remove(Kind.SOURCE, id)
        draft.put(Kind.FILM, THE, tuple(id for id in _film(draft) if id not in gone))


@dataclass(frozen=True, slots=True)
class OrderSources:
    """Put the sources in this order; every source of the film must be named once."""

    ids: tuple[str, ...]

    def describe(self, game: Game) -> str:
        return "reorder the sources"

    def apply(self, draft: Draft) -> None:
        if sorted(self.ids) != sorted(_film(draft)):
            raise InvalidOperation("the new order must name every source of the film once")
        draft.put(Kind.FILM, THE, self.ids)


@dataclass(frozen=True, slots=True)
class RelinkSources:
    """Say where sources are now: each replaces the source of its id. The clock (time base and first
    timestamp) must be the same, or what is tagged would no longer lie where it was put."""

    sources: tuple[Source, ...]

    def describe(self, game: Game) -> str:
        return f"relink {_count(len(self.sources), 'source')}"

    def apply(self, draft: Draft) -> None:
        for source in self.sources:
            old = draft.find(Kind.SOURCE, source.id)
            if old.duration_pts and (old.time_base, old.start_pts) != (source.time_base, source.start_pts):
                raise InvalidOperation(
                    f"{source.path.name} has another clock than {old.path.name} (source {old.id}); "
                    "it is not the same recording"
                )
            draft.put(Kind.SOURCE, source.id, replace(source, path=Path(os.path.abspath(source.path))))


# --- shots


@dataclass(frozen=True, slots=True)
class AddShots:
    shots: tuple[Shot, ...]

    def describe(self, game: Game) -> str:
        return f"add {_count(len(self.shots), 'shot')}"

    def apply(self, draft: Draft) -> None:
        for shot in self.shots:
            id = draft.claim(Kind.SHOT, shot.id)
            draft.put(Kind.SHOT, id, replace(shot, id=id))


@dataclass(frozen=True, slots=True)
class ChangeShots:
    """Replace shots by id: trimmed edges, another kind, framing, what they show."""

    shots: tuple[Shot, ...]

    def describe(self, game: Game) -> str:
        return f"change {_one_or_count('shot', [shot.id for shot in self.shots])}"

    def apply(self, draft: Draft) -> None:
        for shot in self.shots:
            draft.find(Kind.SHOT, shot.id)
            draft.put(Kind.SHOT, shot.id, shot)


@dataclass(frozen=True, slots=True)
class RemoveShots:
    """Remove shots; plays filmed by them stay, as not filmed."""

    ids: tuple[int, ...]

    def describe(self, game: Game) -> str:
        return f"remove {_one_or_count('shot', self.ids)}"

    def apply(self, draft: Draft) -> None:
        for id in self.ids:
            draft.remove(Kind.SHOT, id)
        _refilm(draft, {id: None for id in self.ids})


@dataclass(frozen=True, slots=True)
class SplitShot:
    """Cut a shot in two at *at*, which becomes the second one's first picture.

    A shot that opens on something else divides into its two jobs. Its plays go with the snap:
    to the second shot if the snap is in there (or, with no snap marked, if it divided into two jobs).
    """

    id: int
    at: Instant
    new_id: int = 0

    def describe(self, game: Game) -> str:
        return f"split shot {self.id}"

    def apply(self, draft: Draft) -> None:
        shot = draft.find(Kind.SHOT, self.id)
        order = film_order(draft.game.film)
        if not order(shot.start) < order(self.at) < order(shot.end):
            raise InvalidOperation(f"shot {self.id} can only be split inside, not at its edges or beyond")
        new = draft.claim(Kind.SHOT, self.new_id)
        first, second = replace(shot, end=self.at), replace(shot, id=new, start=self.at)
        if shot.opens_on is not None:
            first, second = replace(first, kind=shot.opens_on, opens_on=None), replace(second, opens_on=None)
        if shot.framing is Framing.CLOSE_TO_WIDE:
            first, second = replace(first, framing=Framing.CLOSE), replace(second, framing=Framing.WIDE)
        draft.put(Kind.SHOT, first.id, first)
        draft.put(Kind.SHOT, second.id, second)
        snaps = [
            moment.at
            for moment in draft.game.moments
            if moment.kind is MomentKind.SNAP and order(shot.start) <= order(moment.at) < order(shot.end)
        ]
        later = all(order(snap) >= order(self.at) for snap in snaps) if snaps else shot.opens_on is not None
        if later:
            _refilm(draft, {shot.id: new})


@dataclass(frozen=True, slots=True)
class MergeShots:
    """Join neighbouring shots into one that keeps the first one's id and films all their plays.

    If they differ in kind, the joined shot opens on the first one's and is of the last one's kind.
    """

    ids: tuple[int, ...]

    def describe(self, game: Game) -> str:
        return f"merge {_count(len(self.ids), 'shot')}"

    def apply(self, draft: Draft) -> None:
        if len(set(self.ids)) < 2:
            raise InvalidOperation("it takes two shots to merge")
        for id in self.ids:
            draft.find(Kind.SHOT, id)
        shots = draft.game.shots
        places = [place for place, shot in enumerate(shots) if shot.id in self.ids]
        if places[-1] - places[0] != len(places) - 1:
            raise InvalidOperation("only neighbouring shots can be merged; another shot lies between these")
        parts = shots[places[0] : places[-1] + 1]
        first, last = parts[0], parts[-1]
        opens_on = first.opens_on or (first.kind if first.kind is not last.kind else None)
        joined = replace(
            first,
            end=last.end,
            kind=last.kind or first.kind,
            opens_on=opens_on if last.kind is not None and opens_on is not last.kind else first.opens_on,
            framing=_joined_framing(first.framing, last.framing),
            shows=frozenset().union(*(part.shows for part in parts)),
            confirmed=True,
        )
        for part in parts[1:]:
            draft.remove(Kind.SHOT, part.id)
        draft.put(Kind.SHOT, first.id, joined)
        _refilm(draft, {part.id: first.id for part in parts[1:]})


@dataclass(frozen=True, slots=True)
class ConfirmShots:
    """Confirm found shots as they are; None confirms all."""

    ids: tuple[int, ...] | None = None

    def describe(self, game: Game) -> str:
        return "confirm all shots" if self.ids is None else f"confirm {_one_or_count('shot', self.ids)}"

    def apply(self, draft: Draft) -> None:
        for id in tuple(draft.values(Kind.SHOT)) if self.ids is None else self.ids:
            draft.put(Kind.SHOT, id, replace(draft.find(Kind.SHOT, id), confirmed=True))


# --- moments


@dataclass(frozen=True, slots=True)
class AddMoment:
    kind: MomentKind
    at: Instant
    id: int = 0

    def describe(self, game: Game) -> str:
        return f"mark {self.kind}"

    def apply(self, draft: Draft) -> None:
        id = draft.claim(Kind.MOMENT, self.id)
        draft.put(Kind.MOMENT, id, Moment(id, self.kind, self.at))


@dataclass(frozen=True, slots=True)
class MoveMoment:
    id: int
    at: Instant

    def describe(self, game: Game) -> str:
        return f"move {_moment_name(game, self.id)}"

    def apply(self, draft: Draft) -> None:
        draft.put(Kind.MOMENT, self.id, replace(draft.find(Kind.MOMENT, self.id), at=self.at))


@dataclass(frozen=True, slots=True)
class RemoveMoment:
    id: int

    def describe(self, game: Game) -> str:
        return f"remove {_moment_name(game, self.id)}"

    def apply(self, draft: Draft) -> None:
        draft.remove(Kind.MOMENT, self.id)


# --- plays


@dataclass(frozen=True, slots=True)
class AddPlay:
    """Tag a play. ``after`` is the id of the play it follows, 0 for the first of the game; None puts it
    where its shot lies on the film among the other plays, or last if it was not filmed."""

    play: Play
    shot: int | None = None
    after: int | None = None
    id: int = 0

    def describe(self, game: Game) -> str:
        shots = {shot.id for shot in game.shots}
        known = replace(self, shot=self.shot if self.shot in shots else None)
        return f"tag play {_place(game, known) + 1}"

    def apply(self, draft: Draft) -> None:
        id = draft.claim(Kind.PLAY, self.id)
        order = _make_room(draft, _place(draft.game, self))
        draft.put(Kind.PLAY, id, PlayTag(id, order, self.play, self.shot))


@dataclass(frozen=True, slots=True)
class ChangePlay:
    id: int
    play: Play

    def describe(self, game: Game) -> str:
        return f"change {_play_name(game, self.id)}"

    def apply(self, draft: Draft) -> None:
        draft.put(Kind.PLAY, self.id, replace(draft.find(Kind.PLAY, self.id), play=self.play))


@dataclass(frozen=True, slots=True)
class FilmPlay:
    """Say which shot films a play; None for a play that was not filmed."""

    id: int
    shot: int | None

    def describe(self, game: Game) -> str:
        what = "as not filmed" if self.shot is None else f"to shot {self.shot}"
        return f"set {_play_name(game, self.id)} {what}"

    def apply(self, draft: Draft) -> None:
        draft.put(Kind.PLAY, self.id, replace(draft.find(Kind.PLAY, self.id), shot=self.shot))


@dataclass(frozen=True, slots=True)
class MovePlay:
    """Move a play to another place in the game: behind the play *after*, 0 for the first place."""

    id: int
    after: int

    def describe(self, game: Game) -> str:
        return f"move {_play_name(game, self.id)}"

    def apply(self, draft: Draft) -> None:
        tag = draft.find(Kind.PLAY, self.id)
        if self.after == self.id:
            raise InvalidOperation("a play cannot follow itself")
        draft.remove(Kind.PLAY, self.id)
        order = _make_room(draft, _place_after(draft.game, self.after))
        draft.put(Kind.PLAY, self.id, replace(tag, order=order))


@dataclass(frozen=True, slots=True)
class RemovePlay:
    """Remove a play, also from every sequence it is in."""

    id: int

    def describe(self, game: Game) -> str:
        return f"remove {_play_name(game, self.id)}"

    def apply(self, draft: Draft) -> None:
        draft.remove(Kind.PLAY, self.id)
        for sequence in tuple(draft.values(Kind.SEQUENCE).values()):
            left = tuple(item for item in sequence.items if item.play != self.id)
            if left != sequence.items:
                draft.put(Kind.SEQUENCE, sequence.id, replace(sequence, items=left))


# --- notes and drawings


@dataclass(frozen=True, slots=True)
class AddNote:
    at: Instant
    text: str
    until: Instant | None = None
    id: int = 0

    def describe(self, game: Game) -> str:
        return "write a note"

    def apply(self, draft: Draft) -> None:
        id = draft.claim(Kind.NOTE, self.id)
        draft.put(Kind.NOTE, id, Note(id, self.at, self.text, self.until))


@dataclass(frozen=True, slots=True)
class ChangeNote:
    note: Note

    def describe(self, game: Game) -> str:
        return "change a note"

    def apply(self, draft: Draft) -> None:
        draft.find(Kind.NOTE, self.note.id)
        draft.put(Kind.NOTE, self.note.id, self.note)


@dataclass(frozen=True, slots=True)
class RemoveNote:
    id: int

    def describe(self, game: Game) -> str:
        return "remove a note"

    def apply(self, draft: Draft) -> None:
        draft.remove(Kind.NOTE, self.id)


@dataclass(frozen=True, slots=True)
class AddDrawing:
    drawing: Drawing

    def describe(self, game: Game) -> str:
        return f"draw {_drawn(self.drawing)}"

    def apply(self, draft: Draft) -> None:
        id = draft.claim(Kind.DRAWING, self.drawing.id)
        draft.put(Kind.DRAWING, id, replace(self.drawing, id=id))


@dataclass(frozen=True, slots=True)
class ChangeDrawing:
    drawing: Drawing

    def describe(self, game: Game) -> str:
        return f"change {_drawn(self.drawing)}"

    def apply(self, draft: Draft) -> None:
        draft.find(Kind.DRAWING, self.drawing.id)
        draft.put(Kind.DRAWING, self.drawing.id, self.drawing)


@dataclass(frozen=True, slots=True)
class RemoveDrawing:
    id: int

    def describe(self, game: Game) -> str:
        return "remove a drawing"

    def apply(self, draft: Draft) -> None:
        draft.remove(Kind.DRAWING, self.id)


# --- decisions and sequences


@dataclass(frozen=True, slots=True)
class Decide:
    """Record what a person decided about a finding, in place of what was decided before."""

    decision: Decision

    def describe(self, game: Game) -> str:
        verdict = self.decision.verdict
        return f"mark a finding as {verdict}" if verdict else "comment on a finding"

    def apply(self, draft: Draft) -> None:
        if not self.decision.finding:
            raise InvalidOperation("a decision needs the key of the finding it is about")
        draft.put(Kind.DECISION, self.decision.finding, self.decision)


@dataclass(frozen=True, slots=True)
class ClearDecision:
    finding: str

    def describe(self, game: Game) -> str:
        return "clear a decision"

    def apply(self, draft: Draft) -> None:
        draft.remove(Kind.DECISION, self.finding)


@dataclass(frozen=True, slots=True)
class AddSequence:
    name: str
    items: tuple[SequenceItem, ...] = ()
    id: int = 0

    def describe(self, game: Game) -> str:
        return f"make sequence {self.name}"

    def apply(self, draft: Draft) -> None:
        id = draft.claim(Kind.SEQUENCE, self.id)
        draft.put(Kind.SEQUENCE, id, Sequence(id, self.name, self.items))


@dataclass(frozen=True, slots=True)
class ChangeSequence:
    """Replace a sequence by id: its name, its plays, their order and handles."""

    sequence: Sequence

    def describe(self, game: Game) -> str:
        return f"change sequence {self.sequence.name}"

    def apply(self, draft: Draft) -> None:
        draft.find(Kind.SEQUENCE, self.sequence.id)
        draft.put(Kind.SEQUENCE, self.sequence.id, self.sequence)


@dataclass(frozen=True, slots=True)
class RemoveSequence:
    id: int

    def describe(self, game: Game) -> str:
        name = next((each.name for each in game.sequences if each.id == self.id), self.id)
        return f"remove sequence {name}"

    def apply(self, draft: Draft) -> None:
        draft.remove(Kind.SEQUENCE, self.id)


# --- shared


def _film(draft: Draft) -> tuple[str, ...]:
    return draft.values(Kind.FILM).get(THE, ())


def _touches(mark: Note | Drawing, sources: set[str]) -> bool:
    return mark.at.source in sources or (mark.until is not None and mark.until.source in sources)


def _refilm(draft: Draft, moved: dict[int, int | None]) -> None:
    """Plays filmed by a shot in *moved* are filmed by its new one."""
    for tag in tuple(draft.values(Kind.PLAY).values()):
        if tag.shot in moved:
            draft.put(Kind.PLAY, tag.id, replace(tag, shot=moved[tag.shot]))


def _joined_framing(first: Framing | None, last: Framing | None) -> Framing | None:
    if first is last:
        return first
    opens_close = first in (Framing.CLOSE, Framing.CLOSE_TO_WIDE)
    ends_wide = last in (Framing.WIDE, Framing.CLOSE_TO_WIDE)
    return Framing.CLOSE_TO_WIDE if opens_close and ends_wide else None


def _place(game: Game, new: AddPlay) -> int:
    """Index among the game's plays at which *new* belongs."""
    if new.after is not None:
        return _place_after(game, new.after)
    if new.shot is None:
        return len(game.plays)
    position = {shot.id: index for index, shot in enumerate(game.shots)}
    if new.shot not in position:
        raise InvalidOperation(f"there is no shot {new.shot}")
    here = position[new.shot]
    earlier = [index for index, tag in enumerate(game.plays) if tag.shot is not None and position[tag.shot] <= here]
    if not earlier:
        later = [index for index, tag in enumerate(game.plays) if tag.shot is not None]
        return later[0] if later else len(game.plays)
    after_last = earlier[-1] + 1
    # plays that were not filmed and follow the last one stay before a play tagged at the end
    if all(tag.shot is None for tag in game.plays[after_last:]):
        return len(game.plays)
    return after_last


def _place_after(game: Game, after: int) -> int:
    if after == 0:
        return 0
    for index, tag in enumerate(game.plays):
        if tag.id == after:
            return index + 1
    raise InvalidOperation(f"there is no play {after}")


def _make_room(draft: Draft, place: int) -> float:
    """An order value for index *place*; renumbers the plays if there is no number left between its neighbours."""
    plays = draft.game.plays
    if not plays:
        return 1.0
    if place == len(plays):
        return float(int(plays[-1].order) + 1)
    if place == 0:
        return float(int(plays[0].order) - 1)
    between = (plays[place - 1].order + plays[place].order) / 2
    if plays[place - 1].order < between < plays[place].order:
        return between
    for index, tag in enumerate(plays):
        draft.put(Kind.PLAY, tag.id, replace(tag, order=float(index + 1 + (index >= place))))
    return float(place + 1)


def _play_name(game: Game, id: int) -> str:
    """How people name a play: by its place in the game."""
    place = next((index for index, tag in enumerate(game.plays, 1) if tag.id == id), None)
    return f"play {place}" if place else f"play (id {id})"


def _moment_name(game: Game, id: int) -> str:
    return next((str(moment.kind) for moment in game.moments if moment.id == id), f"moment {id}")


def _drawn(drawing: Drawing) -> str:
    return {"arrow": "an arrow", "circle": "a circle", "freehand": "a line", "text": "a text"}[drawing.kind]


def _count(number: int, what: str) -> str:
    return f"{number} {what}" if number == 1 else f"{number} {what}s"


def _one_or_count(what: str, ids: Iterable[int]) -> str:
    ids = tuple(ids)
    return f"{what} {ids[0]}" if len(ids) == 1 else _count(len(ids), what)
