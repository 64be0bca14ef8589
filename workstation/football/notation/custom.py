"""How a staff speaks, and what the grammar sees of the words ahead."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from ..field import Team


class Habit(StrEnum):
    """What a bare number after a kick or a return is."""

    YARD_LINES = "yard lines"
    DISTANCES = "distances"


@dataclass(frozen=True, slots=True)
class Custom:
    """What a staff is used to say: the habit for bare numbers after kicks and returns, the teams' names, and "us"."""

    kicks: Habit = Habit.YARD_LINES
    home: str = ""
    visitors: str = ""
    us: Team | None = None


USUAL = Custom()


@dataclass(frozen=True, slots=True)
class Ahead:
    """What follows a word: the role of the next word ("" for a number or nothing)."""

    role: str = ""
    number: bool = False
    last: bool = False
