"""A vocabulary made ready for reading: every phrase and short form with what it may mean, and the reader of one clause.

A clause is what stands between two commas of a typed line. All of it is own words, or none is: a clause that is not
understood here belongs to the play.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from difflib import get_close_matches
from itertools import islice

from .definition import OwnWord, Vocabulary, WordKind, WordValue

LEAST_BEGINNING = 3
"""Letters that the beginning of a value needs, if it is not one of its short forms; as in the notation."""
MOST_WAYS = 12
"""Ways to read one clause that are looked at."""
_LONGEST_CHAIN = 40
_CLAUSES_KEPT = 200
TAKE_MORE = (WordKind.SEVERAL, WordKind.PLAYER)
_NONE = ("no", "without")
_NUMBER = re.compile(r"-?[0-9]{1,6}(\.[0-9]{1,3})?")
_JERSEY = re.compile(r"#?[0-9]{1,3}")


@dataclass(frozen=True, slots=True)
class Meaning:
    """A word and the value that a phrase says of it; None where that is still to come."""

    word: OwnWord
    value: str | None = None


@dataclass(frozen=True, slots=True)
class Piece:
    """What one part of a line says: the values of a word, none where it says that there are none. ``asked`` is why that
    is not certain; ``loose``, that it was taken out of short forms that were run together, or is a beginning."""

    word: OwnWord
    values: tuple[str, ...]
    start: int
    end: int
    asked: str = ""
    loose: bool = False


@dataclass(frozen=True, slots=True)
class ClauseProblem:
    """Why a clause that names one of the words is not understood, and which part of the line is at fault."""

    text: str
    start: int
    end: int
    said: str


@dataclass(frozen=True, slots=True)
class SpokenWord:
    """A word of the line and where it stands."""

    text: str
    start: int
    end: int


Way = tuple[Piece, ...]


class Spoken:
    """The phrases of a vocabulary. Made once for each; the clauses that were read last are cached."""

    def __init__(self, vocabulary: Vocabulary):
        self.vocabulary = vocabulary
        self.values: dict[str, list[Meaning]] = {}     # phrases that say a value by themselves
        self.heads: dict[str, OwnWord] = {}            # phrases that name a word
        self._by_first: dict[str, list[tuple[str, Meaning]]] = {}
        for word in vocabulary.words:
            for head in (word.name, *word.spoken):
                self.heads.setdefault(head.casefold(), word)
            for value in word.values:
                for form in dict.fromkeys(each.casefold() for each in (value.name, *value.spoken)):
                    self.values.setdefault(form, []).append(Meaning(word, value.name))
                    self._by_first.setdefault(form[0], []).append((form, Meaning(word, value.name)))
        self._read: dict[tuple[str, int], tuple[list[Way], ClauseProblem | None]] = {}
        self.begins: dict[str, list[tuple[str, OwnWord, WordValue | None]]] = {}     # forms and names by their letter
        for word in vocabulary.words:
            for option in (*word.values, None):
                forms = (word.name, *word.spoken) if option is None else (option.name, *option.spoken)
                for form in dict.fromkeys(each.casefold() for each in forms):
                    self.begins.setdefault(form[0], []).append((form, word, option))
        self._longest = max((form.count(" ") + 1 for form in (*self.values, *self.heads)), default=0)

    def knows(self, phrase: str) -> bool:
        """Whether the phrase says one of the words or a value."""
        return phrase.casefold() in self.values or phrase.casefold() in self.heads

    def near(self, phrase: str) -> list[str]:
        """Values and words that the phrase may have been meant as."""
        forms = [form for form in (*self.values, *self.heads) if len(form) > 2]
        return get_close_matches(phrase.casefold(), forms, 3, 0.7)

    def ways(self, clause: str, start: int) -> tuple[list[Way], ClauseProblem | None]:
        """Every way to read the clause, which begins at *start* of its line, as own words and nothing else, the
        likeliest first; and what is wrong with it where it names a word and is not understood all the same."""
        if (known := self._read.get((clause, start))) is None:
            if len(self._read) > _CLAUSES_KEPT:
                self._read.clear()
            known = self._read[clause, start] = self._ways_of(clause, start)
        return known

    def _ways_of(self, clause: str, start: int) -> tuple[list[Way], ClauseProblem | None]:
        tokens = [SpokenWord(found.group(), start + found.start(), start + found.end())
                  for found in re.finditer(r"\S+", clause)]
        if not tokens or not self._longest:
            return [], None
        failures: list[ClauseProblem] = []
        ways: dict[tuple[tuple[str, tuple[str, ...]], ...], Way] = {}
        for way in self._from(tokens, 0, clause, start, failures):
            if not said_twice(way):
                ways.setdefault(tuple((piece.word.name, piece.values) for piece in way), way)
            if len(ways) == MOST_WAYS:
                break
        found = sorted(ways.values(), key=lambda way: (is_loose(way), any(piece.asked for piece in way), len(way)))
        if found and not is_loose(found[0]):
            found = [way for way in found if not is_loose(way)]
        return found, failures[0] if failures and not found else None

    # -- one clause ----------------------------------------------------------------------------------
    def _from(self, tokens: Sequence[SpokenWord], place: int, clause: str, start: int, failures: list[ClauseProblem],
              said: frozenset[str] = frozenset()) -> Iterator[Way]:
        """Ways to read the tokens from *place* on; no word that takes one value is *said* twice."""
        if place == len(tokens):
            yield ()
            return
        for pieces, following in self._at(tokens, place, clause, start, failures):
            names = [piece.word.name for piece in pieces if piece.word.kind not in TAKE_MORE or not piece.values]
            if said.isdisjoint(names):
                for rest in self._from(tokens, following, clause, start, failures, said.union(names)):
                    yield (*pieces, *rest)

    def _at(self, tokens: Sequence[SpokenWord], place: int, clause: str, start: int, failures: list[ClauseProblem]
            ) -> list[tuple[Way, int]]:
        """What the tokens at *place* may say, with the place behind it. The longest phrase is meant."""
        token = tokens[place]
        if token.text.casefold() in _NONE:
            for length in range(min(self._longest, len(tokens) - place - 1), 0, -1):
                word = self.heads.get(_phrase(tokens, place + 1, length))
                if word is not None:
                    last = tokens[place + length]
                    return [((Piece(word, (), token.start, last.end),), place + length + 1)]
        for length in range(min(self._longest, len(tokens) - place), 0, -1):
            phrase = _phrase(tokens, place, length)
            last, found = tokens[place + length - 1], list[tuple[Way, int]]()
            meanings = self.values.get(phrase, [])
            found += [((Piece(meaning.word, (meaning.value or "",), token.start, last.end, _either(phrase, meanings)),),
                       place + length) for meaning in meanings]
            if (word := self.heads.get(phrase)) is not None:
                found += self._behind_head(word, tokens, place, length, clause, start, [] if found else failures)
            if found:
                return found
        return [*self._chained(token, place), *self._begun(token, place)]

    def _behind_head(self, word: OwnWord, tokens: Sequence[SpokenWord], place: int, length: int, clause: str,
                     start: int, failures: list[ClauseProblem]) -> list[tuple[Way, int]]:
        """What is said of *word*, whose name takes *length* tokens from *place* on."""
        head, following = tokens[place], place + length
        if following == len(tokens):
            wanted = {WordKind.TEXT: "what?", WordKind.NUMBER: "which number?", WordKind.PLAYER: "which number?"}
            failures.append(ClauseProblem(f"{word.name}: {wanted.get(word.kind, 'which of its list?')}", head.start,
                                          tokens[-1].end, head.text))
            return []
        value = tokens[following]
        if word.kind is WordKind.TEXT:
            text = " ".join(clause[value.start - start:].split())
            return [((Piece(word, (text,), head.start, tokens[-1].end),), len(tokens))]
        if word.kind is WordKind.NUMBER or word.kind is WordKind.PLAYER:
            said = _said_number(word, value.text)
            if said is None:
                failures.append(ClauseProblem(f"{word.name} is a number, and {value.text!r} is none", value.start,
                                              value.end, value.text))
                return []
            return [((Piece(word, (said,), head.start, value.end),), following + 1)]
        for more in range(min(self._longest, len(tokens) - following), 0, -1):
            phrase, last = _phrase(tokens, following, more), tokens[following + more - 1]
            for meaning in self.values.get(phrase, ()):
                if meaning.word is word:
                    return [((Piece(word, (meaning.value or "",), head.start, last.end),), following + more)]
        begun = [piece for piece in self._begun(value, following) if piece[0][0].word is word]
        if not begun:
            near = get_close_matches(value.text.casefold(), [each.name for each in word.values], 3, 0.6)
            hint = f"near it: {', '.join(near)}" if near else "the page \"Own words\" can add it"
            failures.append(ClauseProblem(f"{word.name} has no {value.text!r}; {hint}", value.start, value.end,
                                          value.text))
        return begun

    def _begun(self, token: SpokenWord, place: int) -> list[tuple[Way, int]]:
        """Values that begin like the token, as a question."""
        begun = token.text.casefold()
        if len(begun) < LEAST_BEGINNING:
            return []
        found = {(meaning.word.name, meaning.value): meaning for form, meaning in self._by_first.get(begun[0], ())
                 if form.startswith(begun) and form != begun}
        return [((Piece(meaning.word, (meaning.value or "",), token.start, token.end,
                        f"{token.text!r} is read as {meaning.value}", loose=True),), place + 1)
                for meaning in found.values()]

    def _chained(self, token: SpokenWord, place: int) -> list[tuple[Way, int]]:
        """Short forms that were run together."""
        text = token.text.casefold()
        if not 1 < len(text) <= _LONGEST_CHAIN:
            return []
        ways = list(islice(self._links(text, 0, token.start), MOST_WAYS))
        ways = [tuple(replace(piece, loose=len(way) > 1) for piece in way) for way in ways]     # "x7" is whole
        if len(ways) > 1:
            asked = f"{token.text!r} may be taken apart in {len(ways)} ways"
            ways = [tuple(replace(piece, asked=asked) for piece in way) for way in ways]
        return [(way, place + 1) for way in ways]

    def _links(self, text: str, place: int, start: int, said: frozenset[str] = frozenset()) -> Iterator[Way]:
        """Ways to take *text* apart from *place* on; no word that takes one value is *said* twice."""
        if place == len(text):
            yield ()
            return
        for piece in self._linked(text, place, start):
            word = piece.word
            if word.name in said and word.kind not in TAKE_MORE:
                continue
            for rest in self._links(text, piece.end - start, start, said | {word.name}):
                yield (piece, *rest)

    def _linked(self, text: str, place: int, start: int) -> Iterator[Piece]:
        """What a short form at *place* may say."""
        for form, meaning in self._by_first.get(text[place], ()):
            if text.startswith(form, place):
                yield Piece(meaning.word, (meaning.value or "",), start + place, start + place + len(form), loose=True)
        for head, word in self.heads.items():
            if word.kind in (WordKind.NUMBER, WordKind.PLAYER) and text.startswith(head, place):
                found = _JERSEY.match(text, place + len(head))
                if found is not None:
                    yield Piece(word, (found.group(),), start + place, start + found.end(), loose=True)


def _said_number(word: OwnWord, text: str) -> str | None:
    if word.kind is WordKind.PLAYER:
        return text.lstrip("#") if _JERSEY.fullmatch(text) else None
    return text if _NUMBER.fullmatch(text) else None


def _phrase(tokens: Sequence[SpokenWord], place: int, length: int) -> str:
    return " ".join(token.text for token in tokens[place:place + length]).casefold()


def _either(phrase: str, meanings: Sequence[Meaning]) -> str:
    """The question about a phrase that more than one list has."""
    if len(meanings) < 2:
        return ""
    return f"{phrase!r} is " + " or ".join(f"{meaning.word.name} {meaning.value}" for meaning in meanings)


def is_loose(way: Way) -> bool:
    """Whether some of it was taken out of short forms that were run together, or is a beginning."""
    return any(piece.loose for piece in way)


def said_twice(way: Sequence[Piece]) -> tuple[Piece, Piece] | None:
    """The first two pieces that say different things of one word that takes one value."""
    seen: dict[str, Piece] = {}
    for piece in way:
        other = seen.setdefault(piece.word.name, piece)
        takes_more = piece.word.kind in TAKE_MORE and other.values and piece.values
        if other is not piece and not takes_more:
            return other, piece
    return None
