"""Adding a play at a place in the game, on the shot that films it."""

from __future__ import annotations

from dataclasses import replace

from ..football.plays import Play
from .game_order import own_shot_kind
from .model import Game, Shot
from .operations import AddPlay, ChangeShots, Operation, several


def adding(game: Game, play: Play, row: int, shot: Shot | None) -> Operation:
    """The operation that adds *play* at index *row* of the game's plays. *shot* films it, unless nobody films such
    plays; if nobody has said yet what that shot is, this says it."""
    own = own_shot_kind(play)
    if own is None:
        shot = None
    after = game.plays[row - 1].id if row else 0
    add = AddPlay(play, shot.id if shot else None, after=after)
    if shot is None or (shot.kind is not None and shot.confirmed):
        return add
    changed = replace(shot, kind=shot.kind or own, confirmed=True)
    return several(f"tag play {row + 1}", [add, ChangeShots((changed,))])
