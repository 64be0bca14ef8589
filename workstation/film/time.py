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


def spoken_time(seconds: float, tenths: bool = False) -> str:
    """Film time as ``2:03`` or ``1:02:03``; with ``tenths``, ``2:03.4``. Rounded half up to what is shown, so that
    59.96 s is ``1:00``; negative times are shown as 0. Everything that shows film time shows it through this."""
    units = max(int(seconds * (10 if tenths else 1) + 0.5), 0)
    total, tenth = divmod(units, 10) if tenths else (units, 0)
    minutes, second = divmod(total, 60)
    hour, minute = divmod(minutes, 60)
    text = f"{hour}:{minute:02}:{second:02}" if hour else f"{minute}:{second:02}"
    return f"{text}.{tenth}" if tenths else text
