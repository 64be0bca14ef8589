"""Splits a typed line into words, numbers, times and quoted comments, each with its place in the text."""

from __future__ import annotations

import re
from dataclasses import dataclass
from enum import StrEnum

_TOKENS = re.compile(
    r"(?P<owner>(?<![\w.:-])[0-9]{1,2}['’]s\b)"
    r'|(?P<comment>"(?:[^"\\]|\\.)*"?)'
    r"|(?P<dotted>(?<![^\W_])[a-z](?:\.[a-z])+(?![a-z])\.?)"
    r"|(?P<jersey>#[0-9]{1,2}(?![0-9]))"
    r"|(?P<clock>[0-9]{1,2}:[0-9]{2}(?![0-9]))"
    r"|(?P<ordinal>[0-9]+(?:st|nd|rd|th)(?![a-z]))"
    r"|(?P<number>-?[0-9]+(?:\.[0-9]+)?|-?(?<!\.)\.[0-9]+)"
    r"|(?P<letters>[^\W\d_]+(?:['’][^\W\d_]+)*)"
    r"|(?P<at>@)"
    r"|(?P<open>\?)"
    r"|(?P<apart>(?<=[sS])['’](?![^\W\d_])|(?<=[0-9])['’]s\b|\s+|[][,;:/()&!=*+~|<>{}–—…→]+"
    r"|\.(?![0-9])|(?<=\.)\.|-(?![0-9.]))"
    r"|(?P<strange>.)",
    re.IGNORECASE | re.DOTALL,
)


_AS_SPELLED = {"thru": "through", "thats": "that", "w": "with",
    **{f"{verb}nt": f"{verb}n't" for verb in ("did", "does", "do",
    "could", "would", "should", "was", "is", "were", "are", "has", "have", "had", "ca", "wo", "ai")},
    **{f"{who}{end}": who for who, end
    in (("he", "s"), ("she", "s"), ("that", "s"), ("there", "s"), ("they", "re"), ("they", "ve"), ("they", "ll"),
    ("we", "ve"), ("you", "re"), ("i", "m"), ("i", "ve"))}}
"""Words as the table has them, for other ways to spell them."""


PLAYER = "#"
"""The text of a token that is a player's number, as the table of words has it."""


class TokenKind(StrEnum):
    """What a piece of the line is."""
    LETTERS = "letters"
    NUMBER = "number"
    CLOCK = "clock"
    COMMENT = "comment"
    OPEN = "open"  # "?": left open
    STRANGE = "strange"
    PASSED = "passed over"  # by the second reading; no phrase reaches across it


@dataclass(frozen=True, slots=True)
class Token:
    """One piece of the line. ``text`` is in lower case (a comment's as typed); ``start`` and ``end`` are its place."""

    kind: TokenKind
    text: str
    start: int
    end: int


def split(line: str) -> list[Token]:
    """The tokens of *line*. Never raises; what is no part of the notation comes as STRANGE.

    Signs that only part words are passed over; the number on a jersey, ``#72``, comes as a word "#". A minus belongs
    to a number unless a digit stands before it; a hyphen between words parts them; "opponent's" is "opponent", "p.i."
    is "pi", "@" is "at".
    """
    tokens = []
    for match in _TOKENS.finditer(line):
        kind, text, start, end = match.lastgroup, match.group(), match.start(), match.end()
        if kind in ("apart", "owner"):
            continue
        if kind == "number" and text[0] == "-" and start and line[start - 1].isdigit():
            text, start = text[1:], start + 1
        elif kind == "letters":
            text = re.sub(r"['’](?:s|ll|ve|re|d|m)?$|['’]s\b", "", text.lower()).replace("’", "'")
            text = _AS_SPELLED.get(text, text)
            if text == "y" and start and line[start - 1].isdigit():
                text = "yards"
        elif kind == "dotted":
            kind, text = "letters", text.lower().replace(".", "")
        elif kind == "jersey":
            kind, text = "letters", PLAYER
        elif kind == "at":
            kind, text = "letters", "at"
        elif kind == "ordinal":
            kind, text = "letters", text.lower()
        tokens.append(Token(TokenKind(kind or "strange"), text, start, end))
    return tokens


def comment_text(token: Token) -> str:
    """What a quoted comment says."""
    return re.sub(r"\\(.)", r"\1", token.text[1:-1] if _closed(token.text) else token.text[1:], flags=re.DOTALL)


def _closed(text: str) -> bool:
    return re.fullmatch(r'"(?:[^"\\]|\\.)*"', text, re.DOTALL) is not None
