"""The field: teams and spots.

A *spot* is a number of yards from the goal line of the team it is given for (the team that snaps or kicks, unless a
docstring says otherwise): 0 is that team's own goal line, the rulebook's field length is the opponents' goal line.
Spots in the own end zone are negative, spots in the opponents' end zone lie beyond the field length. Spots are
continuous: the ball can lie inches short.
"""

from __future__ import annotations

import re
from enum import StrEnum
from functools import lru_cache


class Team(StrEnum):
    """One of the two teams, named as the scoreboard names them."""

    HOME = "home"
    VISITORS = "visitors"

    @property
    def opponents(self) -> Team:
        """The other team."""
        return Team.VISITORS if self is Team.HOME else Team.HOME


@lru_cache(maxsize=4096)
def spoken_spot(spot: float, field_length: float) -> str:
    """Return *spot* the way people say it: ``own 36``, ``opp 12``, ``50``.

    >>> spoken_spot(36, 100), spoken_spot(88, 100), spoken_spot(50, 100), spoken_spot(-4, 100), spoken_spot(88, 110)
    ('own 36', 'opp 12', '50', 'own end zone 4', 'opp 22')
    """
    half = field_length / 2
    if spot < 0:
        return f"own end zone {spoken_yards(-spot)}"
    if spot > field_length:
        return f"opp end zone {spoken_yards(spot - field_length)}"
    if spot == half:
        return spoken_yards(half)
    return f"own {spoken_yards(spot)}" if spot < half else f"opp {spoken_yards(field_length - spot)}"


@lru_cache(maxsize=4096)
def spoken_yards(yards: float) -> str:
    """Return *yards* without needless decimals: ``7``, ``0.5``."""
    rounded = round(yards, 2)
    return str(int(rounded)) if rounded == int(rounded) else f"{rounded:g}"


_SPOT = re.compile(r"^\s*(?:(own|opp)(?:onents)?\s*)?(?:(end\s*zone)\s*)?(\d+(?:\.\d+)?)\s*$", re.IGNORECASE)


def parse_spot(text: str, field_length: float) -> float:
    """Read what :func:`spoken_spot` writes; a bare number is only the middle of the field.

    >>> parse_spot("opp 12", 100), parse_spot("50", 100), parse_spot("own end zone 4", 100), parse_spot("opp 12", 80)
    (88.0, 50.0, -4.0, 68.0)

    Raises ValueError that says what would have been understood.
    """
    match = _SPOT.match(text)
    half = field_length / 2
    if match:
        side, end_zone, digits = match.groups()
        yards = float(digits)
        if end_zone and side:
            return -yards if side.lower() == "own" else field_length + yards
        if side and yards <= half:
            return yards if side.lower() == "own" else field_length - yards
        if not side and not end_zone and yards == half:
            return half
    raise ValueError(f"{text!r} is not a spot; say it like 'own 36', 'opp 12' or '{half:g}'")
