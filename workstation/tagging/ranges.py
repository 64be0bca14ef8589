"""The allowed range of every number in a game, for typed lines, sheets, JSON and game files alike.

:mod:`.serialise` asks here whenever it builds a value from plain data, and every change of a game is built that way
once.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from ..film import ranges as film
from ..film.film import Source
from ..football import ranges as football
from ..ranges import Range, Ranges, outside
from .model import Drawing, Heading, Match, Moment, PlayTag, Sequence, SequenceItem

HANDLE = Range(-24 * 3600, 24 * 3600)
"""Extra seconds before or after a shot's action; negative ones trim it."""

RANGES: Mapping[type, Ranges] = {
    **football.RANGES,
    Source: film.SOURCE,
    Heading: {"season": Range(1800, 9999)},
    Match: {"uncertainty": Range(0, 24 * 3600)},
    Moment: {"uncertainty": Range(0, 24 * 3600)},
    PlayTag: {"order": Range(-1e12, 1e12)},
    SequenceItem: {"lead_in": HANDLE, "lead_out": HANDLE},
    Sequence: {"items": Range(0, 100_000, items=True)},
    Drawing: {"points": Range(0, 100_000, items=True)},
}


def out_of_range(kind: type, value: Any) -> Iterator[str]:
    """For each field of *value* outside its range: its name, what is expected, and what was found."""
    ranges = RANGES.get(kind)
    return outside(value, ranges) if ranges else iter(())
