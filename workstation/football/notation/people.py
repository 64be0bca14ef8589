"""Names of people: a word that nobody knows and that is written like a name is taken for one, as a question.

``Okafor hits Reed on a slant for 13``: such a word becomes "#", as a player's number does, and the answer names it. At
the beginning of a sentence, where every word has a capital, it must not look like a word that is known, or must do
something (``Hale punts``).
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace
from difflib import SequenceMatcher

from .everyday import EVERYDAY
from .lexicon import Lexicon
from .tokens import PLAYER, Token, TokenKind
from .verbs import FORMS
from .word import Role

_SHORTEST = 3  # letters of a name
_LIKE = 0.8  # so alike, a word at the beginning is a known one mistyped (judgement: one letter of five to nine)
_INSIDE = re.compile(r"(?:Ma?c|De|Di|Du|La|Le|Fitz|Van|O)[A-Z][a-z]+")
"""Names with a capital inside: McAllen, DeLoach."""
_DOES = ("is", "was", "gets", "goes", "has", "does")


def people_in(tokens: Sequence[Token], text: str, words: Lexicon,
        teams: frozenset[str]) -> tuple[list[Token], list[str]]:
    """The tokens with "#" for each name, and the names as they were typed."""
    if text in (text.upper(), text.lower()):
        return list(tokens), []
    found: list[Token] = []
    names: list[str] = []
    for at, token in enumerate(tokens):
        typed = text[token.start : token.end]
        if _is_name(tokens, at, text, words, teams):
            token = replace(token, text=PLAYER)
            names.append(typed)
        found.append(token)
    return found, list(dict.fromkeys(names))


def _is_name(tokens: Sequence[Token], at: int, text: str, words: Lexicon, teams: frozenset[str]) -> bool:
    token = tokens[at]
    typed = text[token.start : token.end].replace("’", "'").removesuffix("'s")
    if (token.kind is not TokenKind.LETTERS or len(typed) < _SHORTEST or not typed.isalpha() or not typed[0].isupper()
            or not (typed[1:].islower() or _INSIDE.fullmatch(typed)) or token.text in teams or token.text in EVERYDAY):
        return False
    if words.knows(token) or token.text in words.codes or words.beginnings(list(tokens), at) is not None:
        return False
    if at and not set(".!?") & set(text[tokens[at - 1].end : token.start]):
        return True
    follows = tokens[at + 1].text if at + 1 < len(tokens) else ""
    known = words.phrase_at(list(tokens), at + 1) if follows else None
    if known is not None and any(word.role in (Role.KIND, Role.MANNER) for word in known[1]):
        return True
    if follows in _DOES or follows in FORMS or typed != text[token.start : token.end]:
        return True
    return not any(SequenceMatcher(None, token.text, near).ratio() >= _LIKE for near in words.near(token.text))
