"""Distances that are no plain number: ``a yard and a half``, ``half a yard``, ``two and a half yards``, ``a couple``."""

from __future__ import annotations

from collections.abc import Sequence

from .lexicon import NUMBERS
from .tokens import Token, TokenKind

_YARDS = ("yard", "yards", "yd", "yds")
_MEASURES = ("long", "hard", "good", "full", "big", "single", "lone", "tough", "short", "quick", "mere")
_LINES = ("line", "marker", "mark", "stripe")
_HALVES = (("and", "a", "half"), ("and", "one", "half"), ("and", "half"))


def amount_at(tokens: Sequence[Token], at: int) -> tuple[float, int, bool] | None:
    """The distance that begins at a token, how many tokens it takes, and whether it is only about so much."""

    def words(place: int, count: int) -> tuple[str, ...]:
        return tuple(token.text for token in tokens[place : place + count])

    def half_after(place: int) -> int:
        return next((len(half) for half in _HALVES if words(place, len(half)) == half), 0)

    first = tokens[at].text
    if first in ("a", "one", "1", "his", "the") and at + 1 < len(tokens):
        place = at + 1
        while place < len(tokens) and tokens[place].text in _MEASURES:
            place += 1
        if words(place, 1) and words(place, 1)[0] in ("yard", "yd") and (words(place + 1, 1) or ("",))[0] not in _LINES:
            extra = half_after(place + 1)
            if extra:
                return 1.5, place + 1 + extra - at, False
            if first in ("a", "the"):
                return 1.0, place + 1 - at, first == "the"
    if first == "half" or (first in ("a", "one") and words(at + 1, 1) == ("half",)):
        place = at + (1 if first == "half" else 2)
        place += words(place, 1) == ("of",)
        place += words(place, 1) == ("a",)
        if words(place, 1) and words(place, 1)[0] in ("yard", "yd"):
            return 0.5, place + 1 - at, False
    if first == "a" and words(at + 1, 1) == ("couple",):
        place = at + 2
        place += words(place, 1) == ("of",)
        place += words(place, 1) == ("more",)
        place += bool(words(place, 1)) and words(place, 1)[0] in _YARDS
        return 2.0, place - at, True
    if first == "a" and words(at + 1, 1) == ("dozen",):
        place = at + 2
        place += bool(words(place, 1)) and words(place, 1)[0] in _YARDS
        return 12.0, place - at, False
    if first == "the" and words(at + 1, 1) == ("couple",):
        return None
    token = tokens[at]
    value, place = None, at + 1
    if token.kind is TokenKind.NUMBER and "-" not in token.text and "." not in token.text:
        value = float(token.text)
    elif token.text in NUMBERS:
        value = NUMBERS[token.text]
        if value >= 20 and NUMBERS.get(words(place, 1)[0] if words(place, 1) else "", 10) < 10:
            value, place = value + NUMBERS[tokens[place].text], place + 1
    if value is not None:
        extra = half_after(place)
        if extra:
            place += extra
            place += bool(words(place, 1)) and words(place, 1)[0] in _YARDS
            return value + 0.5, place - at, False
    return None
