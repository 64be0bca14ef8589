"""A vocabulary while it is edited; it knows what its words and values were called, so as to rename what was said."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, field, replace

from ..operations.own_words import Renamed
from .definition import About, Follows, Of, OwnWord, Vocabulary, WordKind, WordValue, column_name, problems


@dataclass
class EditedValue:
    """A value; ``was`` is its name when editing began, empty for a new one."""

    name: str
    spoken: tuple[str, ...] = ()
    was: str = ""


@dataclass
class EditedWord:
    """A word; ``was`` as in :class:`EditedValue`."""

    name: str
    kind: WordKind = WordKind.ONE
    about: About = About.EVERY_SNAP
    values: list[EditedValue] = field(default_factory=list)
    spoken: tuple[str, ...] = ()
    carried: bool = False
    follows: tuple[Follows, ...] = ()
    was: str = ""


class VocabularyDraft:
    """The words on the page, which may be invalid until saved. ``before``: those when editing began."""

    def __init__(self, vocabulary: Vocabulary, before: Vocabulary | None = None):
        self.title = vocabulary.title
        self.words = [EditedWord(word.name, word.kind, word.about,
                                 [EditedValue(value.name, value.spoken, value.name) for value in word.values],
                                 word.spoken, word.carried, word.follows, word.name) for word in vocabulary.words]
        self.before = vocabulary if before is None else before

    # -- words -----------------------------------------------------------------------------------
    def add(self, place: int) -> int:
        """Add a word behind *place*; returns the new word's place."""
        names = {column_name(word.name) for word in self.words}
        name, number = "new word", 1
        while column_name(name) in names:
            number += 1
            name = f"new word {number}"
        place = min(place + 1, len(self.words))
        self.words.insert(place, EditedWord(name, WordKind.TEXT))
        return place

    def remove(self, place: int) -> None:
        """Remove a word, and what others follow from it."""
        gone = self.words.pop(place)
        for word in self.words:
            word.follows = tuple(follows for follows in word.follows if follows.word != gone.name)

    def move(self, place: int, by: int) -> int:
        """Let a word come one earlier (-1) or later (1); returns its place."""
        there = place + by
        if 0 <= there < len(self.words):
            self.words[place], self.words[there] = self.words[there], self.words[place]
            return there
        return place

    def rename(self, place: int, name: str) -> None:
        """Give a word another name; others that follow from it still do."""
        word = self.words[place]
        for other in self.words:
            other.follows = tuple(replace(follows, word=name) if follows.word == word.name else follows
                                  for follows in other.follows)
        word.name = name

    # -- values ----------------------------------------------------------------------------------
    def rename_value(self, place: int, at: int, name: str) -> None:
        """Give a value another name; what follows from it, and from what, still does."""
        word, old = self.words[place], self.words[place].values[at].name
        word.values[at].name = name
        for other in self.words:
            other.follows = tuple(replace(follows, values=tuple(
                (name if follows.word == word.name and said == old else said,
                 name if other is word and then == old else then) for said, then in follows.values))
                for follows in other.follows)

    # -- the whole -------------------------------------------------------------------------------
    @property
    def vocabulary(self) -> Vocabulary:
        """The words as they stand. Lists of words that take none are left out."""
        return Vocabulary(self.title.strip() or "our own words", tuple(
            OwnWord(word.name, word.kind, word.about,
                    tuple(WordValue(value.name, value.spoken) for value in word.values) if word.kind.has_list else (),
                    word.spoken, word.carried, word.follows) for word in self.words))

    @property
    def renamed(self) -> tuple[Renamed, ...]:
        """The renamed words and values, so that what was said in them can be renamed."""
        words = [Renamed(word.was, word.name) for word in self.words if word.was and word.was != word.name]
        values = [Renamed(word.name, word.name, value.was, value.name) for word in self.words if word.was
                  for value in word.values if value.was and value.was != value.name]
        return (*words, *values)

    @property
    def is_changed(self) -> bool:
        """Whether anything differs from when editing began."""
        return (self.vocabulary.words, self.title) != (self.before.words, self.before.title)

    @property
    def problems(self) -> list[str]:
        """Why the words cannot be saved as they stand."""
        return problems(self.vocabulary)


def follows_text(follows: Sequence[Follows]) -> str:
    """Rules as lines that :func:`read_follows` reads: ``hash of this play: left hash = field right``."""
    lines = []
    for rule in follows:
        values = "; ".join(f"{said} = {then}" for said, then in rule.values)
        lines.append(f"{rule.word} of {rule.of.value if rule.of is Of.THIS_PLAY else 'the ' + rule.of.value}"
                     + (f": {values}" if values else ""))
    return "\n".join(lines)


def read_follows(text: str) -> tuple[Follows, ...]:
    """Read such lines. Raises ValueError that quotes the first line that cannot be read."""
    rules = []
    for number, line in enumerate(text.splitlines(), 1):
        if not line.strip():
            continue
        head, _, tail = line.partition(":")
        found = re.fullmatch(r"\s*(.+?)\s+of\s+(.+?)\s*", head)
        play = " ".join(found.group(2).split()).removeprefix("the ") if found else ""
        of = next((each for each in Of if each.value == play), None)
        if found is None or of is None:
            raise ValueError(f"line {number} of what it follows from: write it like \"hash of this play\", "
                             "\"hash of the last play\" or \"hash of the last play, where the ball came back\"")
        pairs = []
        for part in tail.split(";"):
            if part.strip():
                said, equals, then = (each.strip() for each in part.partition("="))
                if not (said and equals and then):
                    raise ValueError(f"line {number} of what it follows from: write what follows from which value like "
                                     "\"left hash = field right; right hash = field left\"")
                pairs.append((said, then))
        rules.append(Follows(found.group(1), of, tuple(pairs)))
    return tuple(rules)


def read_spoken(text: str) -> tuple[str, ...]:
    """The short forms of a line, each once."""
    return tuple(dict.fromkeys(" ".join(part.split()) for part in text.split(",") if part.strip()))
