"""The staff's own words: saying them of plays, and which ones the game has."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from ..model import Game
from ..own_words.definition import Vocabulary, WordSaid, merged
from ..records import THE, GameDraft, InvalidOperation, Kind
from .plays import play_name


@dataclass(frozen=True, slots=True)
class SayWords:
    """Say something of a play in the staff's own words. Words that are not named stay; ``unsaid`` are taken back, so
    that they are carried on or follow again."""

    id: int
    said: tuple[WordSaid, ...] = ()
    unsaid: tuple[str, ...] = ()

    def describe(self, game: Game) -> str:
        names = ", ".join([*(each.word for each in self.said), *self.unsaid])
        return f"say {names or 'nothing'} of {play_name(game, self.id)}"

    def apply(self, draft: GameDraft) -> None:
        tag = draft.find(Kind.PLAY, self.id)
        draft.put(Kind.PLAY, self.id, replace(tag, words=merged(tag.words, self.said, self.unsaid)))


@dataclass(frozen=True, slots=True)
class SayComing:
    """Say own words of the play to come; replaces what was said of it before. Without words, that is taken back."""

    said: tuple[WordSaid, ...] = ()

    def describe(self, game: Game) -> str:
        return "say words of the play to come" if self.said else "take back the words of the play to come"

    def apply(self, draft: GameDraft) -> None:
        if self.said:
            draft.put(Kind.COMING, THE, merged((), self.said))
        elif draft.values(Kind.COMING):
            draft.remove(Kind.COMING, THE)


@dataclass(frozen=True, slots=True)
class Renamed:
    """A renamed word, or a renamed value (``value`` and ``new_value`` are set then) of a word by its new name."""

    word: str
    new_word: str
    value: str | None = None
    new_value: str | None = None


@dataclass(frozen=True, slots=True)
class SetVocabulary:
    """Replace the game's own words. What was said in words or values that are ``renamed`` is renamed with them; what
    was said in words that are removed stays as it was said. Refused if two words would become one."""

    vocabulary: Vocabulary
    renamed: tuple[Renamed, ...] = ()

    def describe(self, game: Game) -> str:
        return "change the staff's own words"

    def apply(self, draft: GameDraft) -> None:
        if self.vocabulary != Vocabulary() or draft.values(Kind.VOCABULARY):
            draft.put(Kind.VOCABULARY, THE, self.vocabulary)
        if not self.renamed:
            return
        words = {each.word: each.new_word for each in self.renamed if each.value is None}
        values = {(each.new_word, each.value): each.new_value for each in self.renamed
                  if each.value is not None and each.new_value is not None}
        for tag in draft.game.plays:
            said = _renamed(tag.words, words, values)
            if said != tag.words:
                draft.put(Kind.PLAY, tag.id, replace(tag, words=said))
        coming = _renamed(draft.game.coming, words, values)
        if coming != draft.game.coming:
            draft.put(Kind.COMING, THE, coming)


def _renamed(said: tuple[WordSaid, ...], words: Mapping[str, str], values: Mapping[tuple[str, str], str]
             ) -> tuple[WordSaid, ...]:
    anew = []
    for each in said:
        name = words.get(each.word, each.word)
        anew.append(WordSaid(name, tuple(values.get((name, value), value) for value in each.values)))
    names = [each.word for each in anew]
    if len(set(names)) < len(names):
        raise InvalidOperation("a play has something said in both words that would get one name; "
                               "clear one of the two first")
    return merged((), anew)
