"""Numbers in digits and in words."""

from __future__ import annotations

from collections.abc import Sequence

from .tokens import Token, TokenKind

_UNITS = (
    "zero one two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen sixteen seventeen "
    "eighteen nineteen"
)
_TENS = "twenty thirty forty fifty sixty seventy eighty ninety"
NUMBERS = {word: float(number) for number, word in enumerate(_UNITS.split())} | {
    word: float(number) for number, word in zip(range(20, 100, 10), _TENS.split(), strict=True)}


def number_at(tokens: Sequence[Token], at: int) -> tuple[float, int] | None:
    """The number at a place, in digits or in words (``twenty five``), and how many tokens say it."""
    if at >= len(tokens):
        return None
    token = tokens[at]
    if token.kind is TokenKind.NUMBER:
        return float(token.text), 1
    value = NUMBERS.get(token.text)
    if value is None:
        return None
    unit = NUMBERS.get(tokens[at + 1].text, 10.0) if value >= 20 and at + 1 < len(tokens) else 10.0
    return (value + unit, 2) if unit < 10 else (value, 1)
