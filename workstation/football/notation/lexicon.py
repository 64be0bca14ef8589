"""The table of words made ready for looking up: by phrase, by short form, by beginning. One for each rulebook."""

from __future__ import annotations

import re
from collections.abc import Sequence
from difflib import get_close_matches
from functools import lru_cache
from itertools import pairwise
from typing import Any

from ..rulebook import Rulebook
from .everyday import EVERYDAY, PHRASES
from .foul_names import all_words
from .number_words import NUMBERS
from .tokens import PLAYER, Token, TokenKind
from .verbs import inflected
from .word import IN_SET, Role, Word

_AS_THEY_ARE = (Role.EXACT, Role.SET, Role.SAID, Role.SAID_SLOT, Role.SIDE, Role.TEAM, Role.YARDS)

LEAST_BEGINNING = 3
"""Letters that the beginning of a word needs, if it is not one of its short forms."""
_AUXILIARIES = ("is", "was", "has", "had")
"""Words whose phrases nobody shortens run together: "isha" is a foul in short and its answer, not "is handed"."""
_MOST_REMEMBERED = 10_000  # words as they were typed
_COMMON = (
    "run", "pass", "incomplete", "sack", "punt", "field goal", "kickoff", "intercepted", "touchdown", "touchback",
    "fumble", "kneel", "spike", "measurement", "returned", "blocked", "downed", "holding", "penalty", "encroachment",
)  # fmt: skip
"""Words of which two letters are enough where no other of these begins so."""
def parts_of(phrase: str) -> tuple[str, ...]:
    """The words and numbers of a phrase as a typed line is split: ``q2`` and ``2pt`` are two each, ``2nd`` is one."""
    return tuple(re.findall(r"[0-9]+(?:st|nd|rd|th)(?![a-z])|[0-9]+|[^\W\d_]+(?:'[^\W\d_]+)*|#", phrase))


def _skeleton(text: str) -> str:
    """A word's first letter and its other consonants, a doubled one once."""
    kept = text[:1]
    for letter, before in zip(text[1:], text, strict=False):
        if letter not in "aeiou" and letter != before:
            kept += letter
    return kept


def _torn(found: Sequence[Word], tokens: Sequence[Token]) -> bool:
    """A phrase of whose ball it is does not reach across a comma: "on the defense, ball to the 30"."""
    return found[0].role is Role.POSSESSION and any(then.start - token.end > 1 for token, then in pairwise(tokens))


def _within(text: str, whole: str) -> bool:
    """The letters of *text* stand in *whole* in this order."""
    letters = iter(whole)
    return all(letter in letters for letter in text)


def _spellings(word: Word) -> Sequence[str]:
    """Everything that a row is said by; an end zone is an "endzone" and an "ez" too."""
    said = dict.fromkeys((word.text, *word.also))
    if word.role is not Role.END_ZONE:
        return tuple(said)
    return (tuple(dict.fromkeys(phrase.replace("end zone", zone) for zone in ("end zone", "endzone", "ez")
        for phrase in said)))


class Lexicon:
    """What the words of a rulebook's table are known by."""

    def __init__(self, words: Sequence[Word]) -> None:
        self.words = tuple(words)
        self._common = [word for word in self.words if word.text in _COMMON]
        self._place = {id(word): place for place, word in enumerate(self.words)}
        self.phrases: dict[tuple[str, ...], list[Word]] = {}
        self.codes: dict[str, list[Word]] = {}
        self._lengths: dict[str, list[int]] = {}
        self._beginnings: dict[str, list[Word]] = {}
        self.vocabulary: set[str] = set()
        self._parts: list[tuple[tuple[str, ...], Word]] = []
        for word in self.words:
            for phrase in _spellings(word):
                parts = parts_of(phrase)
                if not parts:
                    continue
                self.phrases.setdefault(parts, []).append(word)
                self._parts.append((parts, word))
                lengths = self._lengths.setdefault(parts[0], [])
                if len(parts) not in lengths:
                    lengths.append(len(parts))
                self.vocabulary.update(part for part in parts if part.isalpha())
                if word.role in (Role.EXACT, Role.FILLER, Role.PREPOSITION) or parts[0] == "scrimmage":
                    continue
                if word.written and phrase not in (word.text, *word.written):
                    continue  # one of many that a pattern stands for: nobody shortens it
                if parts[0] in _AUXILIARIES:
                    continue
                joined = "".join(parts)
                synonym = word.role is Role.MANNER and phrase != word.text and len(parts) > 1
                least = LEAST_BEGINNING + synonym  # "inv8" is an interception at v8, no inverted veer
                whole = ({len("".join(parts[:count])) for count in range(1, len(parts))} if word.role is not Role.FOUL
                    else set())
                for length in range(least, len(joined)):
                    if length in whole:
                        continue  # whole words of a phrase are no beginning of it
                    found = self._beginnings.setdefault(joined[:length], [])
                    if word not in found:
                        found.append(word)
            for code in word.codes:
                self.codes.setdefault(code, []).append(word)
        self._said_as: dict[tuple[str, ...], str] = {}
        self._inflect()
        self._plain_first(words)
        self._skeletons: dict[str, list[tuple[str, Word]]] = {}
        for parts, word in self._parts:
            if (len(parts) == 1 and parts[0].isalpha() and len(parts[0]) > LEAST_BEGINNING
                    and word.role not in (Role.EXACT, Role.FOUL)):
                self._skeletons.setdefault(_skeleton(parts[0]), []).append((parts[0], word))
        self.longest_code = max(map(len, self.codes))
        self._near: dict[str, tuple[str, ...]] = {}
        self._plain: dict[str, str] = {}  # words as the table has them
        self._sayable: dict[int, list[str]] = {}  # by their length
        for word_said in sorted(word for word in self.vocabulary if len(word) > 2):
            self._sayable.setdefault(len(word_said), []).append(word_said)
        self._several: dict[str, list[tuple[tuple[str, ...], Word]]] = {}  # by the beginning of their first part
        for parts, word in self._parts:
            if len(parts) > 1 and word.role not in (Role.EXACT, Role.FILLER):
                self._several.setdefault(parts[0][:LEAST_BEGINNING], []).append((parts, word))

    def _inflect(self) -> None:
        """Add every phrase with its verb in the other forms; what the table says itself goes first."""
        told = set(self.phrases) | PHRASES
        for parts, word in list(self._parts):
            if word.role in _AS_THEY_ARE or word.where == IN_SET or (word.role is Role.FILLER and len(parts) == 1):
                continue
            for other in inflected(parts):
                if other in told or word in self.phrases.get(other, ()):
                    continue
                self.phrases.setdefault(other, []).append(word)
                self._said_as.setdefault(other, " ".join(parts))
                lengths = self._lengths.setdefault(other[0], [])
                if len(other) not in lengths:
                    lengths.append(len(other))
                self.vocabulary.update(part for part in other if part.isalpha())
        for lengths in self._lengths.values():
            lengths.sort(reverse=True)

    def as_told(self, phrase: str) -> str:
        """The phrase as the table has it, where it was said in another form of its verb."""
        return self._said_as.get(tuple(phrase.split()), phrase)

    def _plain_first(self, words: Sequence[Word]) -> None:
        """A word with a plain meaning is no beginning of a foul's name: "hands" is none of "hands to the face"."""
        plain = {part for word in words if word.role is not Role.FOUL for phrase in (word.text, *word.also)
            for part in parts_of(phrase)} | EVERYDAY
        for beginning, found in self._beginnings.items():
            if len(beginning) > LEAST_BEGINNING and beginning[:-1] in plain and beginning[-1] == beginning[-2]:
                found.clear()  # "runn" is a slip of "run"
            if beginning in plain:
                found[:] = [word for word in found if word.role is not Role.FOUL and beginning not in EVERYDAY]

    def row(self, role: Role, value: Any) -> Word:
        """The first row of a role and a value."""
        return next(word for word in self.words if word.role is role and word.value == value)

    def place_of(self, word: Word) -> int:
        """How usual a word is: its place in the table."""
        return self._place[id(word)]

    def phrase_at(self, tokens: Sequence[Token], place: int) -> tuple[int, list[Word]] | None:
        """The longest phrase of whole words at *place*: how many tokens, and what it may mean."""
        first = self.plain(tokens[place])
        for length in self._lengths.get(first, ()):
            if place + length > len(tokens):
                continue
            parts = (first, *[self.plain(token) for token in tokens[place + 1 : place + length]])
            found = self.phrases.get(parts)
            if found is not None and not _torn(found, tokens[place : place + length]):
                return length, found
        return None

    def lengths(self, first: str) -> Sequence[int]:
        """How long the phrases are that begin with a word, longest first."""
        return self._lengths.get(first, ())

    def phrase_of(self, tokens: Sequence[Token], place: int, length: int) -> list[Word] | None:
        """What the phrase of so many tokens at *place* may mean, if it is one."""
        if place + length > len(tokens):
            return None
        found = self.phrases.get(tuple([self.plain(token) for token in tokens[place : place + length]]))
        return None if found is None or _torn(found, tokens[place : place + length]) else found

    def plain(self, token: Token) -> str:
        """A word as the table has it: without the ending of a plural where only the singular is known."""
        if token.kind is TokenKind.PASSED:
            return token.text
        found = self._plain.get(token.text)
        if found is None:
            if len(self._plain) > _MOST_REMEMBERED:
                self._plain.clear()
            found = self._plain[token.text] = self._singular(token)
        return found

    def _singular(self, token: Token) -> str:
        text = token.text
        if token.kind not in (TokenKind.LETTERS, TokenKind.NUMBER) or text in self.vocabulary or (text,) in PHRASES:
            return text
        for ending in ("es", "s") if not text.endswith("sss") else ():
            if text.endswith(ending) and text[: -len(ending)] in self.vocabulary and len(text) > 3:
                return text[: -len(ending)]
        return text

    def beginnings(self, tokens: Sequence[Token], place: int) -> tuple[int, list[Word]] | None:
        """The words that begin as the token at *place* does, or that it and those after it abbreviate part by part."""
        token = tokens[place]
        if token.kind is not TokenKind.LETTERS or len(token.text) < LEAST_BEGINNING:
            common = [word for word in self._common if word.text.startswith(token.text)] if len(token.text) == 2 else []
            return (1, common) if len(common) == 1 else None
        best: tuple[int, list[Word]] = (1, list(self._beginnings.get(token.text, ())))
        if place + 1 < len(tokens) and tokens[place + 1].kind is TokenKind.LETTERS:
            for parts, word in self._several.get(token.text[:LEAST_BEGINNING], ()):
                if len(parts) < best[0] or place + len(parts) > len(tokens) or not parts[0].startswith(token.text):
                    continue
                run = tokens[place : place + len(parts)]
                if all(each.kind is TokenKind.LETTERS and (each.text == part
                        or (len(each.text) >= LEAST_BEGINNING and part.startswith(each.text))) for each,
                        part in zip(run, parts, strict=True)):
                    if len(parts) > best[0]:
                        best = len(parts), []
                    if word not in best[1]:
                        best[1].append(word)
        return best if best[1] else None

    def without_vowels(self, text: str) -> list[Word]:
        """The words that *text* is without its vowels and doubled letters: ``scrmbl``, ``rcvrd``."""
        if len(text) < LEAST_BEGINNING or any(letter in "aeiou" for letter in text[1:]):
            return []
        found: list[Word] = []
        for whole, word in self._skeletons.get(_skeleton(text), ()):
            if len(text) < len(whole) and text[0] == whole[0] and _within(text, whole) and word not in found:
                found.append(word)
        return found

    def knows(self, token: Token) -> bool:
        """The token is part of some phrase of the table, or a number in letters."""
        return self.plain(token) in self.vocabulary or token.text in NUMBERS or token.text == PLAYER

    def near(self, text: str) -> tuple[str, ...]:
        """Words of the table that look like *text*, the likeliest first."""
        if text not in self._near:
            likely = [word for length in range(len(text) - 2, len(text) + 3) for word in self._sayable.get(length, ())
                if (word[0] == text[:1] or word[:2] == text[1:2] + text[:1] or word[1:3] == text[1:3])]
            self._near[text] = tuple(get_close_matches(text, likely, 3, 0.6))
        return self._near[text]


@lru_cache(maxsize=16)
def lexicon(rulebook: Rulebook) -> Lexicon:
    """The words of a rulebook, made ready once."""
    return Lexicon(all_words(rulebook))
