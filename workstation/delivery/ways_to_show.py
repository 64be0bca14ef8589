"""The ways in which a play may be shown from the angles that there are."""

from __future__ import annotations

from collections.abc import Mapping
from itertools import permutations
from typing import Generic, NamedTuple, TypeVar

T = TypeVar("T")


class WayToShow(NamedTuple, Generic[T]):
    """Angles in their order; whether they stand in one picture, and whether small in the first one's corner."""

    angles: tuple[T, ...]
    beside: bool = False
    inset: bool = False


def ways_to_show(names: Mapping[T, str]) -> list[tuple[str, WayToShow[T]]]:
    """Each angle of *names* alone, and any two of them together, in words."""
    pairs = list(permutations(names, 2))
    return [*((names[each], WayToShow((each,))) for each in names),
            *((f"{names[one]}, then {names[other]}", WayToShow((one, other))) for one, other in pairs),
            *((f"{names[one]} | {names[other]} in one picture", WayToShow((one, other), True)) for one, other in pairs),
            *((f"{names[one]}, {names[other]} small in the corner", WayToShow((one, other), True, True))
              for one, other in pairs)]
