"""Down calls, ``second and eight``, ``1st & goal``, ``fourth down``: said of the down, as a check of the play."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from ..field import spoken_spot, spoken_yards
from ..plays import Side
from ..situation import Next, Situation
from .number_words import number_at
from .tokens import Token

_ORDINALS = {
    "first": 1, "1st": 1, "second": 2, "2nd": 2, "third": 3, "3rd": 3, "fourth": 4, "4th": 4,
}  # fmt: skip
_LEADS = tuple(tuple(phrase.split()) for phrase in ("that brings up", "which brings up", "this brings up",
    "that sets up", "brings up", "bringing up", "bring up", "sets up", "setting up", "it is now", "it will be",
    "it'll be", "that'll be", "makes it", "it is", "it", "now", "still", "repeat", "so", "that makes it", "making it",
    "we have", "now it", "on", "here on", "it now"))
_VAGUE = ("long", "short", "inches", "forever")
_LETTERS = {"A": Side.OFFENSE, "K": Side.OFFENSE, "B": Side.DEFENSE, "R": Side.DEFENSE}
_LEFT_OPEN = 1.0
"""Yards that what is said to go may be off by: it is told in whole yards."""


@dataclass(frozen=True, slots=True)
class Call:
    """A down said along with the play.

    ``to_go`` is None where it was not said; ``early`` is before anything of the play.
    """

    text: str
    down: int
    to_go: float | None = None
    goal: bool = False
    by: Side | None = None
    early: bool = False
    past: bool = False  # "on third down": the down of the play itself

    def agrees(self, situation: Situation) -> bool:
        """Whether the situation is as the call says."""
        if situation.next is not Next.SCRIMMAGE or situation.down != self.down:
            return False
        if self.to_go is None or situation.yards_to_gain is None:
            return True
        return abs(situation.yards_to_gain - self.to_go) <= _LEFT_OPEN

    def doubt(self, before: Situation, after: Situation) -> str:
        """What speaks against it; empty if nothing does."""
        if self.past and not self.agrees(before):
            return f"{self.text!r} was said, but it is {_spoken(before) or 'no down'}"
        if (self.early or self.past or self.to_go is None) and self.agrees(before):
            return ""
        if self.by is not None and before.offense is not None and after.offense is not None:
            holder = Side.OFFENSE if after.offense is before.offense else Side.DEFENSE
            if holder is not self.by:
                return f"{self.text!r} was said, but the {holder.value} has the ball"
        if self.agrees(after):
            return ""
        if self.early:
            there = _spoken(before)
            return (f"{self.text!r} was said, but it is {there}" if there
                else f"{self.text!r} was said; there is no down")
        there = _spoken(after)
        return (f"{self.text!r} was said, but {there} follows" if there
            else f"{self.text!r} was said, but no down follows")


@dataclass(frozen=True, slots=True)
class PutInPlay:
    """Where the receivers take a free kick out of bounds or a touchback: the rules tell where, so it is only a check.

    ``lines`` are the places it may be, in the terms of the team that takes it.
    """

    text: str
    lines: tuple[float, ...]

    def doubt(self, before: Situation, after: Situation) -> str:
        """What speaks against it; empty if nothing does."""
        if after.ball_on is None or any(abs(after.ball_on - line) <= _LEFT_OPEN for line in self.lines):
            return ""
        return f"taken at {self.text} was said, but by the rules it is put in play at own {spoken_yards(after.ball_on)}"


@dataclass(frozen=True, slots=True)
class Again:
    """The down, the kick or the try is played again: a check of what follows from the foul."""

    text: str

    def doubt(self, before: Situation, after: Situation) -> str:
        """What speaks against it; empty if nothing does."""
        if (after.next, after.offense, after.down) == (before.next, before.offense, before.down):
            return ""
        return f"{self.text!r} was said, but by the rules it is not played again"


@dataclass(frozen=True, slots=True)
class BallPut:
    """Where the ball is put after a foul: the rules tell where, so it is only a check.

    ``lines`` are the places it may be, in the terms of the team that had the ball before.
    """

    text: str
    lines: tuple[float, ...]
    field_length: float

    def doubt(self, before: Situation, after: Situation) -> str:
        """What speaks against it; empty if nothing does."""
        if after.ball_on is None:
            return ""
        where = after.ball_on if after.offense is before.offense else self.field_length - after.ball_on
        if any(abs(where - line) <= _LEFT_OPEN for line in self.lines):
            return ""
        return f"the ball at {self.text} was said, but by the rules it is at {spoken_spot(where, self.field_length)}"


def _spoken(situation: Situation) -> str:
    if situation.next is not Next.SCRIMMAGE or situation.down is None:
        return ""
    names = {1: "1st", 2: "2nd", 3: "3rd", 4: "4th"}
    yards = f" & {spoken_yards(situation.yards_to_gain)}" if situation.yards_to_gain is not None else ""
    return f"{names.get(situation.down, str(situation.down))}{yards}"


def call_at(tokens: Sequence[Token], at: int, text: str) -> tuple[Call, int] | None:
    """The down call that begins at a token, and how many tokens it takes."""
    start = at
    past = False
    for lead in _LEADS:
        if (tokens[at].text == lead[0] and tuple(token.text for token in tokens[at : at + len(lead)]) == lead
                and at + len(lead) < len(tokens) and tokens[at + len(lead)].text in _ORDINALS):
            at, past = at + len(lead), lead[-1] == "on"
            break
    down = _ORDINALS.get(tokens[at].text)
    if down is None:
        return None
    at += 1

    def word(place: int) -> str:
        return tokens[place].text if place < len(tokens) else ""

    said_down = word(at) in ("down", "dn")
    at += said_down
    joined = word(at) == "and" or (at < len(tokens) and "&" in text[tokens[at - 1].end : tokens[at].start])
    to_go, goal, told = None, False, False
    if joined:
        after = at + (word(at) == "and")
        if after < len(tokens):
            goal = word(after) == "goal"
            told = goal or word(after) in _VAGUE
            if word(after) == "a" and word(after + 1) in ("yard", "foot"):
                to_go, told, after = 1.0, True, after + 1
            elif (number := number_at(tokens, after)) is not None and number[0] >= 0:
                to_go, told, after = number[0], True, after + number[1] - 1
        if told:
            at = after + 1
            if word(at) in ("yards", "yard") and word(at + 1) != "line":
                at += 1
            if (word(at), word(at + 1)) == ("to", "go"):
                at += 2
    again = start < at - 1 - said_down and tokens[start].text in ("repeat", "still")
    if not told and not (said_down and (down > 1 or again)):
        return None
    by = None
    if at == len(tokens) - 1 and told:
        typed = text[tokens[at].start : tokens[at].end].removesuffix("'s")
        by = _LETTERS.get(typed)
        at += by is not None
    return Call(text[tokens[start].start : tokens[at - 1].end], down, to_go, goal, by, False, past), at - start


@dataclass(frozen=True, slots=True)
class ToGo:
    """How many yards are left, said behind the play: "run 6, to go 1"."""

    text: str
    yards: float

    def doubt(self, before: Situation, after: Situation) -> str:
        """What speaks against it; empty if nothing does."""
        if after.yards_to_gain is None or abs(after.yards_to_gain - self.yards) <= _LEFT_OPEN:
            return ""
        return f"{self.text!r} was said, but {_spoken(after) or 'no down'} follows"


_SHORT_OF = tuple(tuple(phrase.split()) for phrase in ("of the first down", "of a first down", "of the line to gain",
    "of the first", "of the sticks", "of the marker", "of a first", "of first down", "of the chains", "of marker",
    "of sticks", "of first", "of chains", ""))


def short_at(tokens: Sequence[Token], at: int, text: str) -> tuple[float, int] | None:
    """``one yard short of the first down``, ``short by 1``: the yards that are missing, and how many tokens say so."""
    if tokens[at].text == "short" and at + 2 < len(tokens) and tokens[at + 1].text == "by":
        by = (1.0, 1) if tokens[at + 2].text == "a" else number_at(tokens, at + 2)
        if by is None or by[0] < 0:
            return None
        after = at + 2 + by[1]
        return by[0], after + (after < len(tokens) and tokens[after].text in ("yard", "yards", "yd", "yds")) - at
    first, number = tokens[at].text, number_at(tokens, at)
    if first in ("a", "half"):
        halved = first == "half" and len(tokens) > at + 1 and tokens[at + 1].text == "a"
        missing, after = (1.0 if first == "a" else 0.5), at + 1 + halved
    elif number is not None and number[0] >= 0:
        missing, after = number[0], at + number[1]
    else:
        return None
    words = [each.text for each in tokens[after : after + 7]]
    if words[:1] in (["short"], ["shy"]) and " ".join(words[1:3]) in ("of the", "of a", "of marker", "of sticks",
            "of first", "of chains") and first not in ("a", "half") and (
            not at or tokens[at - 1].text not in ("to", "at", "the", "own", "opp", "our", "their")):
        words, after = ["yards", *words], after - 1  # "one short of the marker"
    if words == ["short"] and number is not None and at and "," in text[tokens[at - 1].end : tokens[at].start]:
        return missing, after + 1 - at  # "stick 5, one short"
    if words[:1] not in (["yard"], ["yards"], ["yd"], ["yds"]) or words[1:2] not in (["short"], ["shy"]):
        return None
    if text[tokens[after].end : tokens[after + 1].start].strip():
        return None  # "3 yards, short"
    used = next(len(phrase) for phrase in _SHORT_OF if tuple(words[2 : 2 + len(phrase)]) == phrase)
    return missing, after + 2 + used - at
