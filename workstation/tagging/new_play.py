"""Operations that say which shots film which plays: new ones, ones without a shot, all that are off by one."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from ..football.plays import Play
from .game_order import EXTRAS, own_shot_kind
from .model import Game, PlayTag, Shot, ShotKind
from .operations import AddPlay, ChangeShots, FilmPlay, Operation, SayComing, as_one, several
from .own_words.definition import WordSaid, merged


def adding(game: Game, play: Play, row: int, shot: Shot | None, words: Iterable[WordSaid] = ()) -> Operation:
    """The operation that adds *play* at index *row* of the game's plays, filmed by *shot* (unless such plays have
    none), whose open kind follows. *words* are said of it beside those said of the coming play."""
    own = own_shot_kind(play)
    if own is None:
        shot = None
    after = game.plays[row - 1].id if row else 0
    operations: list[Operation] = [AddPlay(play, shot.id if shot else None, after=after,
                                           words=merged(game.coming, words))]
    operations += _said(own, shot)
    if game.coming:
        operations.append(SayComing())
    return as_one(f"tag play {row + 1}", operations)


def filming(game: Game, tag: PlayTag, shot: Shot) -> Operation:
    """The operation that lets *shot* film a play of the game; a shot whose kind is open gets it from the play."""
    film = FilmPlay(tag.id, shot.id)
    return as_one(film.describe(game), [film, *_said(own_shot_kind(tag.play), shot)])


def filming_in_order(game: Game) -> Operation | None:
    """The operation that gives each play without a shot, in order, the next free shot that may show it, for plays
    tagged before there were shots. None if there are no such plays or shots."""
    taken = {tag.shot for tag in game.plays}
    position = {shot.id: index for index, shot in enumerate(game.shots)}
    first = next((index for index, shot in enumerate(game.shots) if shot.kind is ShotKind.PLAY), 0)
    operations: list[Operation] = []
    place = films = 0
    for tag in game.plays:
        own = own_shot_kind(tag.play)
        if tag.shot is None and own is not None:
            # shots without a kind before the first play show no play: the teams come out, the coin is tossed
            begin = max(place, first) if own is ShotKind.PLAY else place
            free = (shot for shot in game.shots[begin:] if shot.id not in taken and shot.kind in (own, None))
            if (shot := next(free, None)) is None:
                continue
            films += 1
            operations.append(FilmPlay(tag.id, shot.id))
            if shot.kind is None and own is not ShotKind.PLAY:
                operations.append(ChangeShots((replace(shot, kind=own),)))
            place = position[shot.id] + 1
        elif tag.shot is not None:
            place = position.get(tag.shot, place - 1) + 1
    named = "play by the shot" if films == 1 else "plays by the shots"
    return several(f"film {films} {named} in order", operations) if operations else None


def _said(own: ShotKind | None, shot: Shot | None) -> list[Operation]:
    """Confirms a shot that films a play, and gives it the kind *own* if it has none."""
    if shot is None or (shot.kind is not None and shot.confirmed):
        return []
    return [ChangeShots((replace(shot, kind=shot.kind or own, confirmed=True),))]


def filming_from(game: Game, row: int, by: int) -> Operation:
    """The operation that lets the play at index *row* and all later ones be filmed by the next (*by* 1) or the previous
    (-1) shot that may show a play: used where a play was left out or one too many was tagged, so that all later ones
    are off by one.

    Raises ValueError if there is no shot left for one of them, or it films an earlier play.
    """
    shots = [shot.id for shot in game.shots if shot.kind not in EXTRAS]
    slipped = [(number, tag) for number, tag in enumerate(game.plays[row:], row + 1) if tag.shot is not None]
    taken = {tag.shot: number for number, tag in enumerate(game.plays[:row], 1)}
    moves = []
    for number, tag in slipped:
        place = shots.index(tag.shot) + by if tag.shot in shots else -1
        if not 0 <= place < len(shots):
            raise ValueError(f"there is no shot {'behind' if by > 0 else 'before'} the one of play {number}")
        if shots[place] in taken:
            raise ValueError(f"the shot before the one of play {number} films play {taken[shots[place]]}")
        moves.append(FilmPlay(tag.id, shots[place]))
    if not moves:
        raise ValueError("no shot films this play or a later one")
    first, last = slipped[0][0], slipped[-1][0]
    return several(f"film plays {first} to {last} one shot {'later' if by > 0 else 'earlier'}", moves)
