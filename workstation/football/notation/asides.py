"""Asides: the yards that were needed, what did not happen and who was hurt, said along with a play.

``run 6, needed 7``, ``run 5, no fumble``, ``sack, two of their guys got there``. An aside is taken out of a line
before the line is read; what was denied leaves a question (:mod:`.hidden_facts`), but that there was no foul where
none is told.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass

from .number_words import number_at
from .tokens import Token, TokenKind

_LONGEST = 8  # tokens of an aside
_NEEDS = re.compile(
    r"(?:(?:but|and|when|where) )?(?:(?:he|they|we|she|it) )?(?:needed|needing|needs|(?:had|has|have|having) "
    r"to (?:have|get|gain|make))$")
_UNITS = ("yards", "yard", "yds", "yd", "more")
_DENIED = {"fumble": "fumble", "fumbled": "fumble", "touchdown": "touchdown", "td": "touchdown",
    "interception": "interception", "intercepted": "interception", "picked off": "interception",
    "picked": "interception", "flag": "flag", "flags": "flag", "penalty": "flag", "foul": "flag"}
_DENIES = re.compile(r"(?:(?:but|and|with|there is|there was|ruled|it is|it was) )*(?:no|not|not a|without a|never) "
    rf"({'|'.join(sorted(_DENIED, key=len, reverse=True))})(?: on (?:the|that|this) play)?$")

_WHO = (r"(?:(?:and|but) )?(?:(?:one|two|three|some) of )?(?:(?:their|our|the|his|a|two|three|another) )?"
    r"(?:guys?|kids?|players?|men|linem[ae]n|safety|corner|linebackers?|quarterback|qb|receiver|back|end|tackle|center|"
    r"guard|defenders?)")
_HURT = re.compile(rf"{_WHO} (?:is|was|are|were|gets?|got) (?:hurt|injured|banged up|shaken up|helped off)"
    r"(?: on (?:the|that) play)?$|"
    rf"{_WHO} (?:gets?|got) (?:there|to him|home)$")
"""Who was injured, or reached a passer, behind a play."""


_FIRST = frozenset(re.findall(r"\w+", (
    "but and when where he they we she it needed needing needs had has have having with there ruled no not without "
    "never one two three some their our the his a another guy guys kid kids player players man men lineman linemen "
    "safety corner linebacker linebackers quarterback qb receiver back end tackle center guard defender defenders"
)))
"""Words that an aside may begin with."""


@dataclass(frozen=True, slots=True)
class Aside:
    """The tokens from ``first`` to before ``after``, and what they deny, if they deny anything."""

    first: int
    after: int
    denies: str = ""


def asides(tokens: Sequence[Token], text: str, yards_to_gain: float | None) -> list[Aside]:
    """The asides of a line; yards are told to be needed only where they are those to the line to gain."""
    found, at = [], 0
    while at < len(tokens):
        aside = _aside_at(tokens, at, text, yards_to_gain)
        if aside is not None:
            found.append(aside)
        at = aside.after if aside is not None else at + 1
    return found


def _aside_at(tokens: Sequence[Token], at: int, text: str, yards_to_gain: float | None) -> Aside | None:
    if tokens[at].text not in _FIRST:
        return None
    for after in range(min(len(tokens), at + _LONGEST), at, -1):
        said = " ".join(token.text for token in tokens[at:after])
        denied = _DENIES.match(said)
        if denied is not None and not (at and tokens[at - 1].text == "oh") and _ends(tokens, after, text):
            return Aside(at, after, _DENIED[denied[1]])
        if at and _begins(tokens, at, text) and _HURT.match(said) and _ends(tokens, after, text):
            return Aside(at, after)
        if _NEEDS.match(said) is not None and after < len(tokens):
            number = number_at(tokens, after)
            if number is None or number[0] != yards_to_gain:
                continue
            end = after + number[1]
            while end < len(tokens) and tokens[end].text in _UNITS:
                end += 1
            if _ends(tokens, end, text):
                return Aside(at, end)
    return None


def _begins(tokens: Sequence[Token], at: int, text: str) -> bool:
    """A sign parts it from what went before, or "and" joins it."""
    return tokens[at].text in ("and", "but") or text[tokens[at - 1].end : tokens[at].start].strip() != ""


def _ends(tokens: Sequence[Token], after: int, text: str) -> bool:
    """A sign parts what comes behind, or nothing comes."""
    return after >= len(tokens) or tokens[after].kind is not TokenKind.LETTERS or (
        text[tokens[after - 1].end : tokens[after].start].strip() != "")
