"""Ranges of numbers: what a field may hold, so that nothing is computed or repeated with a number that cannot be."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import Any

Number = int | float | Fraction


@dataclass(frozen=True, slots=True)
class Range:
    """From ``least`` to ``most``, both within. With ``items``, of how many items a list has."""

    least: Number
    most: Number
    items: bool = False

    def __contains__(self, value: Any) -> bool:
        return self.least <= (len(value) if self.items else value) <= self.most

    def __str__(self) -> str:
        return f"at most {self.most} of them" if self.items else f"{shown(self.least)} to {shown(self.most)}"


Ranges = Mapping[str, Range]


def outside(value: Any, ranges: Ranges) -> Iterator[str]:
    """For each field of *value* that is outside its range: its name, what is expected, and what was found."""
    for name, allowed in ranges.items():
        said = getattr(value, name)
        if said is not None and said not in allowed:
            found = f"{len(said)}" if allowed.items else shown(said)
            yield f"{name}: expected {allowed}, found {found}"


def shown(number: Number) -> str:
    """A number as a person may read it, however long it is."""
    if isinstance(number, int) and abs(number) >= 10**20:
        return "a number of more than 20 digits"
    text = str(number)
    return text if len(text) <= 40 else f"{text[:37]}..."
