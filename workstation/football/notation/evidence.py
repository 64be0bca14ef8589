"""What a line says word by word, whatever it was read as: its phrases, its sides and its numbers, each with its place.

Only the table of words is asked, never the grammar: what the second look (:mod:`.accounting`) goes by.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import Any

from ..field import Team
from ..plays import Side
from .amounts import amount_at
from .downs import call_at, short_at
from .line import RULE_LETTERS, Line
from .number_words import NUMBERS, number_at
from .tokens import Token, TokenKind
from .word import Role, Word

YARDS = ("yard", "yards", "yd", "yds", "yrds", "yrd", "yarder")
_COUNTS = ("half", "a", "few", "couple", "no", "yard", "more", "dozen", "of", "the", "all", "lost", "gained", "by", "s")
_PLACED = ("to", "at", "the", "on")
_TELLS_YARDS = ("for", "of", "gains", "gained", "loses", "lost", "minus", "got", "gets", "get")
_NAMES_A_PLAYER = ("number", "no", "num", "by", "set", "go", "down")
_LOST = ("loss", "lost", "loses", "lose", "losing", "minus", "negative")
_SHORT_SIDES = {"d": Side.DEFENSE, "o": Side.OFFENSE, "off": Side.OFFENSE, "def": Side.DEFENSE}
_BEHIND_WORDS = re.compile(
    r"\b(loss|lost|loses?|losing|minus|negative|behind|backwards?|sack\w*|"
    r"(?<!running )(?<!the )back (?!for|to|of))\b|-\d"
)


@dataclass(frozen=True, slots=True)
class Phrase:
    """The longest phrase of the table at a place; ``words`` is empty where none begins there."""

    at: int
    after: int
    text: str
    words: tuple[Word, ...]

    def has(self, role: Role, holds: Callable[[Word], bool] = lambda word: True) -> bool:
        """Whether it may mean a word of that role for which something holds."""
        return any(word.role is role and holds(word) for word in self.words)

    def only(self, role: Role) -> bool:
        """Whether it can mean nothing but words of that role."""
        return bool(self.words) and all(word.role is role for word in self.words)


@dataclass(frozen=True, slots=True)
class Number:
    """A number that stands for itself.

    ``sort`` is what the words beside it call for: distance, line, own or opp, own? and opp? where it may still be a
    distance, any where it is part of a phrase, or empty.
    """

    at: int
    text: str
    value: float
    sort: str
    aside: bool = False  # told out of turn: "from the 10", "after a 40 yard punt"
    lost: bool = False  # a word right before it says that it was lost
    vague: bool = False  # may tell nothing of the play: "for two", "one of them"


class LineEvidence:
    """The words, sides and numbers of a line."""

    def __init__(self, line: Line) -> None:
        self.line = line
        self.text = line.plain_text
        self.phrases = list(self._phrases())
        self.sides = {phrase.at: side for phrase in self.phrases if (side := self._side(phrase)) is not None}
        self.numbers = list(self._numbers())

    # -- words --------------------------------------------------------------------------------
    def says(self, role: Role, holds: Callable[[Word], bool] = lambda word: True) -> bool:
        """Whether any phrase of the line may mean such a word."""
        return any(phrase.has(role, holds) for phrase in self.phrases)

    def values(self, role: Role) -> list[Any]:
        """What the words of a role tell, in the order of the line."""
        return [word.value for phrase in self.phrases for word in phrase.words if word.role is role]

    def number_before(self, at: int) -> bool:
        """Whether a number, an amount or a place stands right before a token."""
        before = self.line.tokens[at - 1]
        return before.kind is TokenKind.NUMBER or before.text in NUMBERS or before.text in _COUNTS

    def parts(self, phrase: Phrase) -> Iterator[Word]:
        """The words that the beginnings and the ends of a phrase may mean: "run" and "out of bounds" for "run out of
        bounds"."""
        for at in range(phrase.at + 1, phrase.after):
            for start, end in ((phrase.at, at), (at, phrase.after)):
                yield from self.line.words.phrase_of(self.line.tokens, start, end - start) or ()

    def count(self, holds: Callable[[Phrase], bool]) -> int:
        """How many phrases there are of which something holds."""
        return sum(holds(phrase) for phrase in self.phrases)

    def _phrases(self) -> Iterator[Phrase]:
        at, tokens, words = 0, self.line.tokens, self.line.words
        while at < len(tokens):
            used, found = words.phrase_at(tokens, at) or (1, [])
            if self.line.names_a_position(at):
                yield Phrase(at, at + 1, tokens[at].text, ())
                at += 1
                continue
            if not found and tokens[at].kind is TokenKind.LETTERS:
                found = words.codes.get(tokens[at].text, [])
            yield Phrase(at, at + used, " ".join(token.text for token in tokens[at : at + used]), tuple(found))
            at += used

    # -- sides --------------------------------------------------------------------------------
    def _side(self, phrase: Phrase) -> Side | None:
        line = self.line
        token = line.tokens[phrase.at]
        typed = line.text[token.start : token.end].removesuffix("'s").removesuffix("’s")
        if typed in RULE_LETTERS and line.mixed_case:
            return RULE_LETTERS[typed]
        if line.before.offense is not None:
            for name, team in line.names.items():
                if line.words_at(phrase.at, len(name)) == name:
                    return Side.OFFENSE if team is line.before.offense else Side.DEFENSE
        for word in phrase.words:
            if word.role is Role.TEAM and line.before.offense is not None:
                return Side.OFFENSE if word.value is line.before.offense else Side.DEFENSE
            if word.role is Role.SIDE:
                return word.value if isinstance(word.value, Side) else line.us_or_them(word.value)
            if word.role is Role.POSSESSION:
                return Side(word.value)
        return _SHORT_SIDES.get(phrase.text)

    def teams(self) -> Iterator[Team]:
        """The teams that were named, in the order of the line."""
        ours = self.line.custom.us or self.line.before.offense
        for phrase in self.phrases:
            for word in phrase.words:
                if word.role is Role.TEAM:
                    yield word.value
                elif word.role is Role.SIDE and word.value in ("us", "them") and ours is not None:
                    yield ours if word.value == "us" else ours.opponents
                elif word.role is Role.SIDE and self.line.before.offense is not None and isinstance(word.value, Side):
                    offense = self.line.before.offense
                    yield offense if word.value is Side.OFFENSE else offense.opponents
            for name, team in self.line.names.items():
                if self.line.words_at(phrase.at, len(name)) == name:
                    yield team

    # -- numbers ------------------------------------------------------------------------------
    def tells_a_loss(self) -> bool:
        """Whether any word says that yards were lost."""
        return _BEHIND_WORDS.search(self.text) is not None

    def _numbers(self) -> Iterator[Number]:
        at, tokens, words = 0, self.line.tokens, self.line.words
        while at < len(tokens):
            skipped = call_at(tokens, at, self.line.text) or short_at(tokens, at, self.line.text)
            amount = amount_at(tokens, at) if skipped is None else None
            if skipped is not None:
                at += skipped[1]
                continue
            if amount is not None:
                lost = any(token.text in _LOST for token in tokens[max(0, at - 3) : at])
                yield Number(at, tokens[at].text, amount[0], "distance", lost=lost)
                at += amount[1]
                continue
            phrase = words.phrase_at(tokens, at)
            found = number_at(tokens, at)
            if (phrase is not None and phrase[0] > 1) or found is None:
                used = phrase[0] if phrase is not None else 1
                yield from (Number(place, tokens[place].text, number[0], "any", vague=True)
                    for place in range(at, at + used) if (number := number_at(tokens, place)) is not None)
                at += used
                continue
            place, (value, used) = at, found
            at += used
            yield (self._number(place, at, value)
                or Number(place, tokens[place].text, abs(value), "any", vague=True))

    def _number(self, place: int, after: int, value: float) -> Number | None:
        tokens = self.line.tokens
        token, before = tokens[place], tokens[place - 1].text if place else ""
        follows = tuple(each.text for each in tokens[after : after + 3])
        line = follows[:1] == ("yardline",) or (bool(follows) and follows[0] in YARDS and follows[1:2] == ("line",)
            and follows[2:] != ("of",))
        yards = bool(follows[:1]) and follows[0] in YARDS and not line
        if token.kind is not TokenKind.NUMBER:
            told = before in _TELLS_YARDS
            whose_line = before in _PLACED or _whose(tokens, place) is not None
            if value <= 1 and not (yards or line):
                return None
            if not (yards or line or whose_line or (told and follows[:1] not in (("and",), ("more",), ("points",),
                    ("minutes",)))):
                return None
        elif before == "cover" and value < 10:
            return None  # a coverage
        elif before in _NAMES_A_PLAYER or (place and self.line.player(place - 1) is not None):
            return None
        whose = _whose(tokens, place)
        signed = self.line.signed_line(place)
        sort = ""
        owner = self.line.owner_before(place - 2) if place > 2 else None
        if owner is not None and not yards:
            sort = "own" if owner is Side.OFFENSE else "opp"
        elif yards:
            sort = "distance"
        elif signed is not None:
            sort = "own" if signed is Side.OFFENSE else "opp"
        elif whose is not None:
            sort = self._own_or_opp(whose)
        elif (side := next((self.sides[phrase.at] for phrase in self.phrases if phrase.after == place
                and phrase.at in self.sides), None)) is not None:
            which = next(phrase for phrase in self.phrases if phrase.after == place)
            placed = tokens[which.at - 1].text if which.at else ""
            sort = ("own" if side is Side.OFFENSE else "opp") + ("" if placed in (*_PLACED, "from") else "?")
        elif (behind := self.line.side_behind(after + line * 2 - (follows[:1] == ("yardline",)))) is not None and (
                line or before in _PLACED):
            sort = "own" if behind[0] is Side.OFFENSE else "opp"
        elif any(phrase.after == place and phrase.has(Role.GAIN) for phrase in self.phrases):
            sort = "distance"  # "held to 3"
        elif line or before in _PLACED:
            sort = "line"
        elif token.kind is not TokenKind.NUMBER:
            sort = "distance"
        lead = [each.text for each in tokens[max(0, place - 3) : place]]
        aside = any(text in lead for text in ("from", "after", "following")) or lead[-2:] in (["on", "a"], ["of", "a"])
        lost = sort in ("", "distance") and (value < 0 or any(text in _LOST for text in lead))
        return Number(place, token.text, abs(value), sort, aside, lost)

    def _own_or_opp(self, whose: str) -> str:
        if whose in ("own", "opp", "line"):
            return whose
        return "own" if self.line.us_or_them("us" if whose == "our" else "them") is Side.OFFENSE else "opp"


def _whose(tokens: list[Token], place: int) -> str | None:
    """Whose yard line a number is: own, opp, our or their, as the word before it says."""
    before = tokens[place - 1].text if place else ""
    if before == "own":
        if place > 1 and tokens[place - 2].text in ("our", "their"):
            return "line" if tokens[place - 2].text == "their" else "our"  # "by the offense at their own 35"
        return "opp" if place > 1 and tokens[place - 2].text in ("opp", "opponent", "opponents") else "own"
    if before in ("opp", "opponents", "opponent", "opps"):
        return "opp"
    return before if before in ("our", "their") else None
