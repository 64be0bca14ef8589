"""A row of the table of words: what a word means, by what it is said, where it may stand, how it is shortened."""

from __future__ import annotations

import itertools
from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum
from typing import Any

from ..plays import Outcome, PlayKind


class Role(StrEnum):
    """What a word does in the grammar."""

    KIND = "kind of play"                   # (kind, outcome)
    MANNER = "manner"                       # (kind or None, the manner)
    KICK = "kick"
    TWO_POINT = "two-point try"
    OUTCOME = "outcome"
    MISSED = "missed kick"
    RETURN = "return"
    CAUGHT = "catch"
    EVENT = "ball"                          # (event, by)
    RECOVERED = "recovery"                  # Side by whom, "same" or "other" than had it, or None
    SCORE = "score"
    PICK_SIX = "interception returned for a touchdown"
    END_ZONE = "end zone"                   # Side whose, or None; with "through": out of it
    SIDE = "side"                           # Side
    TEAM = "team"
    PREPOSITION = "preposition"
    LOSS = "loss"
    GAIN = "gain"
    NO_GAIN = "no gain"
    YARDS = "yards"
    SLOT = "place"                          # what the next number or yard line means
    EXACT = "exactly"                       # (field, value): sets the field and nothing else
    POSSESSION = "possession"
    CLAIM = "check"                         # said of the play; checked, not kept
    FOUL = "foul"                           # (name, by)
    FLAG = "flag"
    FOUL_DETAIL = "about a foul"            # (field, value)
    BOTH = "both fouls"
    NULLIFIED = "called back"
    CHOICE = "choice"
    STANDS_AS = "stands as"
    SET = "set"
    SAID = "set to"                         # (field, value)
    SAID_SLOT = "set number"                # field
    FILLER = "filler"
    BOTH_TEAMS = "both teams"


START, PLAY, KICKED, TRY, MEASURED, IN_FOUL, IN_SET, TOSS, TIMEOUT, AFTER_FOUL, ANYWHERE = ("at the start",
    "in a play", "on a kick", "on a try", "at a measurement", "after a foul", "after set", "at a toss", "at a timeout",
    "after a foul or in a play", "anywhere")


@dataclass(frozen=True)
class Word:
    """One row of the table."""

    text: str
    role: Role
    value: Any = None
    also: tuple[str, ...] = ()
    codes: tuple[str, ...] = ()
    where: str = PLAY
    about: str = ""
    written: tuple[str, ...] = ()  # ``also`` as it is written in the table

    @property
    def silent(self) -> bool:
        """It only says what the words beside it mean, and is not shown by itself."""
        return self.role in _SILENT


_SILENT = {Role.PREPOSITION, Role.FILLER, Role.SLOT, Role.YARDS, Role.LOSS, Role.GAIN, Role.SAID_SLOT, Role.FLAG,
           Role.SIDE, Role.TEAM}

PLUS = ("plus", "add", "added", "tack on", "tacked on")
"""Words after which the yards of a foul follow those of the play."""


def split_phrases(text: str) -> tuple[str, ...]:
    """The phrases of a text in which commas part them, as they are written: "hauled/dragged_down by/at the ankles"."""
    return tuple(part.strip() for part in text.split(", ") if part.strip())


def spelled(written: tuple[str, ...]) -> tuple[str, ...]:
    """Every phrase that written ones stand for.

    A slash parts words that may stand for each other, an empty one may be left out; an underscore joins the words of
    one choice: "/they takes the five/ten /yards", "came_up/steps_up".
    """
    return tuple(dict.fromkeys(itertools.chain.from_iterable(map(_spelled, written))))


def _spelled(phrase: str) -> Iterator[str]:
    if "/" not in phrase and "_" not in phrase:
        yield phrase
        return
    for parts in itertools.product(*(part.split("/") for part in phrase.split(" "))):
        yield " ".join(part.replace("_", " ") for part in parts if part)


def kind_row(text: str, kind: PlayKind, outcome: Outcome | None = None, also: str = "", codes: str = "",
        where: str = START, about: str = "") -> Word:
    """A kind of play."""
    return Word(text, Role.KIND, (kind, outcome), spelled(split_phrases(also)), split_phrases(codes), where, about,
        split_phrases(also))


def outcome_row(text: str, outcome: Outcome, also: str = "", codes: str = "", where: str = PLAY,
    about: str = "") -> Word:
    """What became of a play."""
    return Word(text, Role.OUTCOME, outcome, spelled(split_phrases(also)), split_phrases(codes), where, about,
        split_phrases(also))


def row(text: str, role: Role, value: Any = None, also: str = "", codes: str = "", where: str = PLAY, about: str = ""
         ) -> Word:
    """Any other row."""
    return Word(text, role, value, spelled(split_phrases(also)), split_phrases(codes), where, about,
        split_phrases(also))


def manner_row(text: str, kind: PlayKind | None, also: str = "") -> Word:
    """How a kind of play was run, thrown or kicked; kept on the play."""
    return Word(text, Role.MANNER, (kind, text), spelled(split_phrases(also)), (), START,
                "kept on the play" if kind is None else f"a {kind.value}; kept on the play")
