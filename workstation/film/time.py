"""Exact film time: an instant is a tick of its source's own clock.

Instants survive reordering, trimming and relinking, because they never speak of
a position on the timeline. Film time (seconds from the first frame of the first
source, as a Fraction) is derived from them by :class:`workstation.film.film.Film`.
"""

from __future__ import annotations

from typing import NamedTuple


class Instant(NamedTuple):
    """A presentation timestamp of one source: ``pts`` counts ticks of the source's time base."""

    source: str
    pts: int
