"""Moments and plays."""

from __future__ import annotations

from dataclasses import dataclass, replace

from ...film.time import Instant
from ...football.plays import Play
from ..angles import FIRST, angle_of_shot, seen_from
from ..game_order import place_of_new_play
from ..model import Game, Match, PlayTag
from ..own_words.definition import WordSaid, merged
from ..records import GameDraft, InvalidOperation, Kind, match_id


@dataclass(frozen=True, slots=True)
class MoveMoment:
    """Move a moment to another place in the film, which is then certain."""

    id: int
    at: Instant

    def describe(self, game: Game) -> str:
        return f"move {_moment_name(game, self.id)}"

    def apply(self, draft: GameDraft) -> None:
        draft.put(Kind.MOMENT, self.id, replace(draft.find(Kind.MOMENT, self.id), at=self.at, uncertainty=0.0))


@dataclass(frozen=True, slots=True)
class ConfirmMoments:
    """A person has looked at these moments and leaves them where they are."""

    ids: tuple[int, ...]

    def describe(self, game: Game) -> str:
        return f"confirm {_moment_name(game, self.ids[0]) if len(self.ids) == 1 else f'{len(self.ids)} moments'}"

    def apply(self, draft: GameDraft) -> None:
        for id in self.ids:
            draft.put(Kind.MOMENT, id, replace(draft.find(Kind.MOMENT, id), uncertainty=0.0))


@dataclass(frozen=True, slots=True)
class AddPlay:
    """Tag a play. ``after`` is the id of the play it follows, 0 for the first of the game; None puts it
    where its shot lies on the film among the other plays, or last if it was not filmed. A shot of a further angle
    is matched with the play. ``words`` are in the staff's own words."""

    play: Play
    shot: int | None = None
    after: int | None = None
    id: int = 0
    words: tuple[WordSaid, ...] = ()

    def describe(self, game: Game) -> str:
        shots = {shot.id for recording in game.recordings for shot in recording.shots}
        known = replace(self, shot=self.shot if self.shot in shots else None)
        return f"tag play {_place(game, known) + 1}"

    def apply(self, draft: GameDraft) -> None:
        id = draft.claim(Kind.PLAY, self.id)
        order = _make_room(draft, _place(draft.game, self))
        draft.put(Kind.PLAY, id, PlayTag(id, order, self.play, None, merged((), self.words)))
        _film(draft, id, self.shot)


@dataclass(frozen=True, slots=True)
class ChangePlay:
    """Replace what is tagged of a play."""

    id: int
    play: Play

    def describe(self, game: Game) -> str:
        return f"change {play_name(game, self.id)}"

    def apply(self, draft: GameDraft) -> None:
        draft.put(Kind.PLAY, self.id, replace(draft.find(Kind.PLAY, self.id), play=self.play))


@dataclass(frozen=True, slots=True)
class FilmPlay:
    """Say which shot films a play, of whichever angle; None for a play that angle ``angle`` did not film."""

    id: int
    shot: int | None
    angle: int = FIRST

    def describe(self, game: Game) -> str:
        what = "as not filmed" if self.shot is None else f"to shot {self.shot}"
        return f"set {play_name(game, self.id)} {what}"

    def apply(self, draft: GameDraft) -> None:
        draft.find(Kind.PLAY, self.id)
        if self.shot is not None or self.angle == FIRST:
            _film(draft, self.id, self.shot)
        elif match_id(self.angle, self.id) in draft.values(Kind.MATCH):
            draft.remove(Kind.MATCH, match_id(self.angle, self.id))


@dataclass(frozen=True, slots=True)
class MovePlay:
    """Move a play to another place in the game: behind the play *after*, 0 for the first place."""

    id: int
    after: int

    def describe(self, game: Game) -> str:
        return f"move {play_name(game, self.id)}"

    def apply(self, draft: GameDraft) -> None:
        tag = draft.find(Kind.PLAY, self.id)
        if self.after == self.id:
            raise InvalidOperation("a play cannot follow itself")
        draft.remove(Kind.PLAY, self.id)
        order = _make_room(draft, _place_after(draft.game, self.after))
        draft.put(Kind.PLAY, self.id, replace(tag, order=order))


@dataclass(frozen=True, slots=True)
class RemovePlay:
    """Remove a play, also from every sequence it is in, and its matches in further angles."""

    id: int

    def describe(self, game: Game) -> str:
        return f"remove {play_name(game, self.id)}"

    def apply(self, draft: GameDraft) -> None:
        draft.remove(Kind.PLAY, self.id)
        for match in tuple(draft.values(Kind.MATCH).values()):
            if match.play == self.id:
                draft.remove(Kind.MATCH, match_id(match.angle, match.play))
        for sequence in tuple(draft.values(Kind.SEQUENCE).values()):
            left = tuple(item for item in sequence.items if item.play != self.id)
            if left != sequence.items:
                draft.put(Kind.SEQUENCE, sequence.id, replace(sequence, items=left))


def _film(draft: GameDraft, play: int, shot: int | None) -> None:
    """Let a play be filmed by a shot: the first angle's by itself, a further one's by a match."""
    angle = angle_of_shot(draft.game, shot)
    if angle == FIRST:
        draft.put(Kind.PLAY, play, replace(draft.find(Kind.PLAY, play), shot=shot))
    elif shot is not None:
        draft.put(Kind.MATCH, match_id(angle, play), Match(angle, play, shot))


def _place(game: Game, new: AddPlay) -> int:
    """Index among the game's plays at which *new* belongs."""
    if new.after is not None:
        return _place_after(game, new.after)
    try:
        return place_of_new_play(seen_from(game, angle_of_shot(game, new.shot)), new.shot)
    except ValueError as error:
        raise InvalidOperation(str(error)) from None


def _place_after(game: Game, after: int) -> int:
    if after == 0:
        return 0
    for index, tag in enumerate(game.plays):
        if tag.id == after:
            return index + 1
    raise InvalidOperation(f"there is no play {after}")


def _make_room(draft: GameDraft, place: int) -> float:
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


def play_name(game: Game, id: int) -> str:
    """How people name a play: by its place in the game."""
    place = next((index for index, tag in enumerate(game.plays, 1) if tag.id == id), None)
    return f"play {place}" if place else f"play (id {id})"


def _moment_name(game: Game, id: int) -> str:
    return next((str(moment.kind) for moment in game.moments if moment.id == id), f"moment {id}")
