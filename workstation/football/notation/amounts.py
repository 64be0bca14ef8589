"""Distances that are no plain number: ``a yard and a half``, ``half a yard``, ``two and a half yards``."""

from __future__ import annotations

import re
from collections.abc import Sequence

from .number_words import NUMBERS, number_at
from .tokens import Token, TokenKind

_YARDS = r"(?: (?:yards?|yds?)\b)?"
_MEASURES = "(?:(?:long|hard|good|full|big|single|lone|tough|short|quick|mere) )*"
_HALF = r" and (?:a |one )?half\b"
_COUNTED = (r"(?:\w+ )?(?:tackle|tackler|block|blocker|defender|guy|man|men|player|people|kid|boy|move|second|step|"
    r"play|time|hit|timeout|penaltie|flag|foul|fake|spin|hand|juke)s?\b")
_AMOUNTS = (  # what is said, the yards, and whether it is only about so much
    (rf"(?:a|one|1|his|the) {_MEASURES}(?:yard|yd){_HALF}", 1.5, False),
    (rf"a {_MEASURES}(?:yard|yd)\b(?! (?:line|marker|mark|stripe)\b)", 1.0, False),
    (rf"the {_MEASURES}(?:yard|yd)\b(?! (?:line|marker|mark|stripe)\b)", 1.0, True),
    (r"(?:(?:a|one) )?half (?:of )?(?:a )?(?:yard|yd)\b", 0.5, False),
    (rf"a couple(?: of)?(?: more)?{_YARDS}(?! (?:of )?{_COUNTED})", 2.0, True),
    (rf"a dozen{_YARDS}", 12.0, False),
)
_FIRST = ("a", "one", "1", "his", "the", "half")
_ABOUT = ("maybe", "about", "around", "roughly", "perhaps", "almost", "nearly", "barely")
_AND_A_HALF = re.compile(_HALF + _YARDS)
_LONGEST = 10


def amount_at(tokens: Sequence[Token], at: int) -> tuple[float, int, bool] | None:
    """The distance that begins at a token, how many tokens it takes, and whether it is only about so much."""
    first = tokens[at]
    if first.text in _ABOUT and at + 1 < len(tokens) and tokens[at + 1].text in _FIRST:
        found_behind = amount_at(tokens, at + 1)
        return None if found_behind is None else (found_behind[0], found_behind[1] + 1, True)
    if first.text in _FIRST:
        rest = " ".join(token.text for token in tokens[at : at + _LONGEST])
        for pattern, value, about in _AMOUNTS:
            if (said := re.match(pattern, rest)) is not None:
                return value, len(said.group().split()), about
    if ((first.kind is TokenKind.NUMBER and not first.text.isdigit())
            or (first.text not in NUMBERS and not first.text.isdigit())):
        return None
    found = number_at(tokens, at)
    if found is None:
        return None
    value, used = found
    rest = "".join(" " + token.text for token in tokens[at + used : at + _LONGEST])
    said = _AND_A_HALF.match(rest)
    return (value + 0.5, used + len(said.group().split()), False) if said is not None else None
