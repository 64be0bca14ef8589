"""Operations that say own words of plays; the first of them also stores the vocabulary in the game."""

from __future__ import annotations

from collections.abc import Iterable

from ...football.plays import Play
from ..model import Game, PlayTag, Shot
from ..new_play import adding
from ..operations import ChangePlay, Operation, SayComing, SayWords, SetVocabulary, as_one
from .definition import Vocabulary, WordSaid, merged


def with_vocabulary(game: Game, vocabulary: Vocabulary, operations: Iterable[Operation], description: str) -> Operation:
    """*operations* as one action, before which a game without own words takes those that are in use."""
    if game.vocabulary == Vocabulary() and vocabulary != Vocabulary():
        operations = (SetVocabulary(vocabulary), *operations)
    return as_one(description, operations)


def kept(game: Game, vocabulary: Vocabulary, tag: PlayTag, play: Play | None, said: tuple[WordSaid, ...]
         ) -> Operation | None:
    """The operation that changes a play to what a line says (*play* None: its words alone); None if nothing changes."""
    operations: list[Operation] = []
    if play is not None and play != tag.play:
        operations.append(ChangePlay(tag.id, play))
    if merged(tag.words, said) != tag.words:
        operations.append(SayWords(tag.id, said))
    if not operations:
        return None
    number = game.plays.index(tag) + 1
    return (with_vocabulary(game, vocabulary, operations, f"change play {number}") if said else operations[0])


def added(game: Game, vocabulary: Vocabulary, play: Play, row: int, shot: Shot | None, said: tuple[WordSaid, ...]
          ) -> Operation:
    """:func:`..new_play.adding` with the words that are said of the play."""
    add = adding(game, play, row, shot, said)
    return with_vocabulary(game, vocabulary, [add], f"tag play {row + 1}") if said else add


def said_of_coming(game: Game, vocabulary: Vocabulary, said: tuple[WordSaid, ...]) -> Operation:
    """The operation that says words of the play to come, beside what was said of it before."""
    return with_vocabulary(game, vocabulary, [SayComing(merged(game.coming, said))], "say words of the play to come")

