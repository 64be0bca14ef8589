"""Spans of film as arrays in film order, so that drawing only slices: what is visible is found by bisection."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from typing import Any, NamedTuple

import numpy as np


@dataclass(frozen=True, eq=False)
class Blocks:
    """Spans on one lane, ordered by start. ``look`` selects how each is drawn, ``flag`` marks a second state."""

    start: np.ndarray
    end: np.ndarray
    ids: tuple = ()
    look: np.ndarray = field(default_factory=lambda: np.zeros(0, np.int16))
    flag: np.ndarray = field(default_factory=lambda: np.zeros(0, bool))
    short: tuple[str, ...] = ()     # what is written where there is little room
    long: tuple[str, ...] = ()      # what is written where there is room
    tooltip: tuple[str, ...] = ()
    reach: np.ndarray = field(init=False)   # running maximum of ``end``, so that overlaps are found by bisection

    def __post_init__(self) -> None:
        object.__setattr__(self, "reach", np.maximum.accumulate(self.end) if len(self.end) else self.end)

    def __len__(self) -> int:
        return len(self.start)

    def visible(self, start: float, end: float) -> slice:
        """The slice of blocks that may touch the stretch from ``start`` to ``end``."""
        return slice(int(np.searchsorted(self.reach, start, "left")), int(np.searchsorted(self.start, end, "right")))

    def span(self, index: int) -> tuple[float, float]:
        """Return where a block begins and ends, in seconds of film."""
        return float(self.start[index]), float(self.end[index])

    def index(self, item: object) -> int | None:
        """Return the place of the block with this id, None if there is none."""
        return self.ids.index(item) if item in self.ids else None

    def at(self, time: float, slack: float = 0.0) -> int | None:
        """Index of the block at ``time``: the shortest that holds it, else the nearest within ``slack`` seconds."""
        seen = self.visible(time - slack, time + slack)
        best, best_cost = None, (1, 0.0)
        for i in range(seen.start, seen.stop):
            if self.start[i] <= time < self.end[i]:
                cost = (0, float(self.end[i] - self.start[i]))
            else:
                cost = (1, float(min(abs(self.start[i] - time), abs(self.end[i] - time))))
                if cost[1] > slack:
                    continue
            if best is None or cost < best_cost:
                best, best_cost = i, cost
        return best


class Block(NamedTuple):
    """One row for :func:`blocks`."""

    start: float
    end: float
    id: Any
    look: int = 0
    flag: bool = False
    short: str = ""
    long: str = ""
    tooltip: str = ""


def blocks(rows: Iterable[Block]) -> Blocks:
    """Arrays of *rows*, which may come in any order."""
    ordered = sorted(rows, key=lambda row: (row.start, row.end))
    return Blocks(np.array([row.start for row in ordered], float), np.array([row.end for row in ordered], float),
                  tuple([row.id for row in ordered]), np.array([row.look for row in ordered], np.int16),
                  np.array([row.flag for row in ordered], bool), tuple([row.short for row in ordered]),
                  tuple([row.long for row in ordered]), tuple([row.tooltip for row in ordered]))
