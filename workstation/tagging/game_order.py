"""Where a new play comes in game order, and which shot waits for a play next."""

from __future__ import annotations

from ..football.plays import Play, PlayKind
from .model import Game, Shot, ShotKind

EXTRAS = frozenset({ShotKind.DOWN_MARKER, ShotKind.SCOREBOARD, ShotKind.PENALTY_SIGNAL, ShotKind.HANDSHAKE,
                    ShotKind.ALTERCATION, ShotKind.INJURY, ShotKind.EXTRA})
"""Kinds of shots that film no play."""
UNFILMED = frozenset({PlayKind.TIMEOUT, PlayKind.END_OF_PERIOD, PlayKind.REPLAY_REVERSAL})
"""Kinds of plays that have no shot of their own."""
_OWN_SHOT = {PlayKind.COIN_TOSS: ShotKind.COIN_TOSS, PlayKind.MEASUREMENT: ShotKind.MEASUREMENT}


def own_shot_kind(play: Play) -> ShotKind | None:
    """The kind of the shot that films a play; None for a play that has no shot of its own."""
    return None if play.kind in UNFILMED else _OWN_SHOT.get(play.kind, ShotKind.PLAY)


def place_of_new_play(game: Game, shot_id: int | None) -> int:
    """The index among the game's plays at which a new one belongs. *shot_id*: the shot that films it; None if none
    does.

    Raises ValueError if the game has no such shot.
    """
    if shot_id is None:
        return len(game.plays)
    position = {shot.id: index for index, shot in enumerate(game.shots)}
    if shot_id not in position:
        raise ValueError(f"there is no shot {shot_id}")
    here = position[shot_id]
    filmed = [index for index, tag in enumerate(game.plays) if tag.shot is not None]
    earlier = [index for index in filmed if position[game.plays[index].shot or 0] <= here]
    if not earlier:
        return filmed[0] if filmed else len(game.plays)
    after_last = earlier[-1] + 1
    # plays that were not filmed and follow the last one stay before a play tagged at the end
    if all(tag.shot is None for tag in game.plays[after_last:]):
        return len(game.plays)
    return after_last


def films_a_play(game: Game, shot_id: int) -> bool:
    """Whether a play of the game is filmed by the shot."""
    return any(tag.shot == shot_id for tag in game.plays)


def untagged(game: Game) -> tuple[Shot, ...]:
    """The shots that film no play yet: what a sheet's rows are matched with."""
    taken = {tag.shot for tag in game.plays}
    return tuple(shot for shot in game.shots if shot.id not in taken)


def next_play_shot(game: Game, start: int = 0) -> Shot | None:
    """The first shot from index *start* on that may show a play, tagged or not."""
    return next((shot for shot in game.shots[start:] if shot.kind not in EXTRAS), None)


def first_untagged_shot(game: Game) -> Shot | None:
    """The film's first shot that may show a play and has none."""
    return next((shot for shot in untagged(game) if shot.kind not in EXTRAS), None)


def next_untagged_shot(game: Game) -> Shot | None:
    """The first shot after the last tagged one that may show a play: where tagging goes on."""
    taken = {tag.shot for tag in game.plays}
    last = max((index for index, shot in enumerate(game.shots) if shot.id in taken), default=-1)
    return next_play_shot(game, last + 1)
