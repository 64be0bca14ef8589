"""Sources and shots."""

from __future__ import annotations

import os
from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import count as count_from
from pathlib import Path
from typing import Any

from ...film.film import Source
from ...film.time import Instant
from ..angles import FIRST, angle_of_shot, seen_from
from ..layout import layout_of
from ..model import Drawing, Framing, Game, Note, Remark, Shot
from ..records import THE, GameDraft, InvalidOperation, Kind, film_order, match_id
from .operation import count


@dataclass(frozen=True, slots=True)
class AddSources:
    """Add camera files to the film of an angle, before position *at* (None: at the end).

    A source keeps the id it comes with if that was never used in this game, else it gets a new one.
    """

    sources: tuple[Source, ...]
    at: int | None = None
    angle: int = FIRST

    def describe(self, game: Game) -> str:
        return f"add {count(len(self.sources), 'source')}"

    def apply(self, draft: GameDraft) -> None:
        order = list(_order_of(draft, self.angle))
        place = len(order) if self.at is None else self.at
        if not 0 <= place <= len(order):
            raise InvalidOperation(f"there is no position {place} in a film of {count(len(order), 'source')}")
        new = []
        for source in self.sources:
            used, key = draft.records.used[Kind.SOURCE], source.id
            if not key or key in used:
                key = next(free for number in count_from(len(used) + 1) if (free := f"s{number}") not in used)
            draft.put(Kind.SOURCE, key, replace(source, id=key, path=Path(os.path.abspath(source.path))))
            new.append(key)
        order[place:place] = new
        draft.put(Kind.FILM, self.angle or THE, tuple(order))


@dataclass(frozen=True, slots=True)
class RemoveSources:
    """Take sources out of the film. Refused if anything is tagged on them, unless *with_tags*:
    then their shots, moments, notes, drawings and remarks go too, and plays stay as not filmed."""

    ids: tuple[str, ...]
    with_tags: bool = False

    def describe(self, game: Game) -> str:
        return f"remove {count(len(self.ids), 'source')}"

    def apply(self, draft: GameDraft) -> None:
        gone = set(self.ids)
        tagged: dict[Kind, list[Any]] = {
            Kind.SHOT: [id for id, shot in draft.values(Kind.SHOT).items()
                        if {shot.start.source, shot.end.source} & gone],
            Kind.MOMENT: [id for id, moment in draft.values(Kind.MOMENT).items() if moment.at.source in gone],
            **{kind: [id for id, mark in draft.values(kind).items() if _touches(mark, gone)]
               for kind in (Kind.NOTE, Kind.DRAWING, Kind.REMARK)},
        }
        if any(tagged.values()) and not self.with_tags:
            listed = ", ".join(count(len(ids), kind) for kind, ids in tagged.items() if ids)
            raise InvalidOperation(f"{listed} tagged on {', '.join(self.ids)}; remove them with it, or first")
        RemoveShots(tuple(tagged.pop(Kind.SHOT))).apply(draft)
        for kind, ids in tagged.items():
            for id in ids:
                draft.remove(kind, id)
        for source in self.ids:
            draft.remove(Kind.SOURCE, source)
        for angle, order in tuple(draft.values(Kind.FILM).items()):
            left = tuple(id for id in order if id not in gone)
            if left != order:
                draft.put(Kind.FILM, angle, left)
        for match in tuple(draft.values(Kind.MATCH).values()):
            if match.same is not None and {each.source for each in match.same} & gone:
                draft.put(Kind.MATCH, match_id(match.angle, match.play), replace(match, same=None))


@dataclass(frozen=True, slots=True)
class OrderSources:
    """Put the sources of an angle in this order; every source of its film must be named once."""

    ids: tuple[str, ...]
    angle: int = FIRST

    def describe(self, game: Game) -> str:
        return "reorder the sources"

    def apply(self, draft: GameDraft) -> None:
        if sorted(self.ids) != sorted(_order_of(draft, self.angle)):
            raise InvalidOperation("the new order must name every source of the film once")
        draft.put(Kind.FILM, self.angle or THE, self.ids)


@dataclass(frozen=True, slots=True)
class RelinkSources:
    """Say where sources are now: each replaces the source of its id. The clock (time base and first
    timestamp) must be the same, or what is tagged would no longer lie where it was put."""

    sources: tuple[Source, ...]

    def describe(self, game: Game) -> str:
        return f"relink {count(len(self.sources), 'source')}"

    def apply(self, draft: GameDraft) -> None:
        for source in self.sources:
            old = draft.find(Kind.SOURCE, source.id)
            if old.duration_pts and (old.time_base, old.start_pts) != (source.time_base, source.start_pts):
                raise InvalidOperation(f"{source.path.name} has another clock than {old.path.name} (source {old.id}); "
                                       "it is not the same recording")
            draft.put(Kind.SOURCE, source.id, replace(source, path=Path(os.path.abspath(source.path))))


@dataclass(frozen=True, slots=True)
class AddShots:
    """Add shots to the film, each under its own id, or under a new one if that is 0."""

    shots: tuple[Shot, ...]

    def describe(self, game: Game) -> str:
        return f"add {count(len(self.shots), 'shot')}"

    def apply(self, draft: GameDraft) -> None:
        for shot in self.shots:
            draft.add(shot)


@dataclass(frozen=True, slots=True)
class ChangeShots:
    """Replace shots by id: trimmed edges, another kind, framing, what they show."""

    shots: tuple[Shot, ...]

    def describe(self, game: Game) -> str:
        return f"change {_spoken_shots([shot.id for shot in self.shots])}"

    def apply(self, draft: GameDraft) -> None:
        for shot in self.shots:
            draft.change(shot)


@dataclass(frozen=True, slots=True)
class RemoveShots:
    """Remove shots; plays filmed by them stay, as not filmed."""

    ids: tuple[int, ...]

    def describe(self, game: Game) -> str:
        return f"remove {_spoken_shots(self.ids)}"

    def apply(self, draft: GameDraft) -> None:
        for id in self.ids:
            draft.remove(Kind.SHOT, id)
        _refilm(draft, {id: None for id in self.ids})


@dataclass(frozen=True, slots=True)
class SplitShot:
    """Cut a shot in two at *at*, which lies within it and becomes the second one's first picture.

    A shot that opens on something else is divided into its two jobs. Each play goes with its snap (with the first in
    the shot, if it has none of its own): to the second shot if the snap is in there, or, with no snap marked, if the
    shot divided into two jobs.
    """

    id: int
    at: Instant
    new_id: int = 0

    def describe(self, game: Game) -> str:
        return f"split shot {self.id}"

    def apply(self, draft: GameDraft) -> None:
        game = _seen_with(draft, self.id)
        before = layout_of(game)
        shot = draft.find(Kind.SHOT, self.id)
        order = film_order(game.film)
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
        for play, filmed in before.plays.items():
            if filmed.shot.id == shot.id:
                snap = filmed.snap.at if filmed.snap else before.snap_of_shot(shot.id)
                if order(snap) >= order(self.at) if snap else shot.opens_on is not None:
                    _refilm(draft, {shot.id: new}, play)


@dataclass(frozen=True, slots=True)
class MergeShots:
    """Join neighbouring shots into one that keeps the first one's id and films all their plays.

    If they differ in kind, the joined shot opens on the first one's and is of the last one's kind.
    """

    ids: tuple[int, ...]

    def describe(self, game: Game) -> str:
        return f"merge {count(len(self.ids), 'shot')}"

    def apply(self, draft: GameDraft) -> None:
        if len(set(self.ids)) < 2:
            raise InvalidOperation("it takes two shots to merge")
        for id in self.ids:
            draft.find(Kind.SHOT, id)
        shots = _seen_with(draft, self.ids[0]).shots
        if not all(any(shot.id == id for shot in shots) for id in self.ids):
            raise InvalidOperation("shots of different angles cannot be merged")
        places = [place for place, shot in enumerate(shots) if shot.id in self.ids]
        if places[-1] - places[0] != len(places) - 1:
            raise InvalidOperation("only neighbouring shots can be merged; another shot lies between these")
        parts = shots[places[0] : places[-1] + 1]
        first, last = parts[0], parts[-1]
        opens_on = first.opens_on or (first.kind if first.kind is not last.kind else None)
        joined = replace(first, end=last.end, kind=last.kind or first.kind,
                         opens_on=opens_on if last.kind is not None and opens_on is not last.kind else first.opens_on,
                         framing=_joined_framing(first.framing, last.framing),
                         shows=frozenset().union(*(part.shows for part in parts)), confirmed=True)
        for part in parts[1:]:
            draft.remove(Kind.SHOT, part.id)
        draft.put(Kind.SHOT, first.id, joined)
        _refilm(draft, {part.id: first.id for part in parts[1:]})


@dataclass(frozen=True, slots=True)
class ConfirmShots:
    """Confirm found shots as they are; None confirms all."""

    ids: tuple[int, ...] | None = None

    def describe(self, game: Game) -> str:
        return "confirm all shots" if self.ids is None else f"confirm {_spoken_shots(self.ids)}"

    def apply(self, draft: GameDraft) -> None:
        for id in tuple(draft.values(Kind.SHOT)) if self.ids is None else self.ids:
            draft.put(Kind.SHOT, id, replace(draft.find(Kind.SHOT, id), confirmed=True))


def _spoken_shots(ids: Sequence[int]) -> str:
    """``shot 3`` for a single id, ``2 shots`` for several."""
    return f"shot {ids[0]}" if len(ids) == 1 else count(len(ids), "shot")


def _order_of(draft: GameDraft, angle: int) -> tuple[str, ...]:
    if angle != FIRST:
        draft.find(Kind.ANGLE, angle)
    order: tuple[str, ...] = draft.values(Kind.FILM).get(angle or THE, ())
    return order


def _seen_with(draft: GameDraft, shot: int) -> Game:
    """The game as seen from the angle that a shot belongs to."""
    draft.find(Kind.SHOT, shot)
    return seen_from(draft.game, angle_of_shot(draft.game, shot))


def _touches(mark: Note | Drawing | Remark, sources: set[str]) -> bool:
    return mark.at.source in sources or (mark.until is not None and mark.until.source in sources)


def _refilm(draft: GameDraft, moved: dict[int, int | None], play: int | None = None) -> None:
    """Give plays (or only *play*) filmed by a shot in *moved* the new shot named there; None: not filmed."""
    for tag in tuple(draft.values(Kind.PLAY).values()):
        if tag.shot in moved and play in (None, tag.id):
            draft.put(Kind.PLAY, tag.id, replace(tag, shot=moved[tag.shot]))
    for match in tuple(draft.values(Kind.MATCH).values()):
        if match.shot in moved and play in (None, match.play):
            shot, id = moved[match.shot], match_id(match.angle, match.play)
            if shot is None:
                draft.remove(Kind.MATCH, id)
            else:
                draft.put(Kind.MATCH, id, replace(match, shot=shot))


def _joined_framing(first: Framing | None, last: Framing | None) -> Framing | None:
    if first is last:
        return first
    opens_close = first in (Framing.CLOSE, Framing.CLOSE_TO_WIDE)
    ends_wide = last in (Framing.WIDE, Framing.CLOSE_TO_WIDE)
    return Framing.CLOSE_TO_WIDE if opens_close and ends_wide else None
