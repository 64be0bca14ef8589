"""The ranges of a play's numbers, wider than in any rulebook's game; checked when a play is built from stored data.

No published source: the longest college game went to nine extra periods, the highest score on record is 222 to 0, and
no field is longer than 110 yards with end zones of 25; what is allowed here is well beyond that.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from ..ranges import Range, Ranges, outside
from .plays import BallEvent, Foul, Play, SituationOverride

MOST_PERIODS = 40
_SPOT = Range(-50, 200)
_COUNT = Range(0, 9)
CLOCK = Range(0, 99 * 60 + 59)
"""Seconds left in a period, as a scoreboard can show them."""
SCORE = Range(0, 999)

RANGES: Mapping[type, Ranges] = {
    SituationOverride: {
        "down": Range(1, 9), "yards_to_gain": Range(0, 200), "ball_on": _SPOT, "period": Range(1, MOST_PERIODS),
        "score_home": SCORE, "score_visitors": SCORE, "timeouts_home": _COUNT, "timeouts_visitors": _COUNT,
    },
    Foul: {"spot": _SPOT, "yards": Range(0, 200), "enforced_from": _SPOT},
    BallEvent: {"spot": _SPOT},
    Play: {
        "gain": Range(-200, 200), "kick_to": _SPOT, "spot": _SPOT, "kick_from": _SPOT, "clock": CLOCK,
        "fouls": Range(0, 50, items=True), "events": Range(0, 200, items=True),
    },
}

LARGEST = 10**9        # of any number that is compared with its range
YARDS = Range(0, 150)
_POINTS = Range(0, 20)
RULEBOOK: Ranges = {
    "players": Range(3, 20), "periods": Range(1, 20), "period_minutes": Range(1, 120), "downs": Range(2, 4),
    "yards_to_gain": Range(1, 50), "field_length": Range(30, 150), "end_zone_depth": Range(1, 30), "timeouts": _COUNT,
    "single_point": _POINTS, "touchdown_points": _POINTS, "field_goal_points": _POINTS, "safety_points": _POINTS,
    "try_kick_points": _POINTS, "try_run_points": _POINTS, "try_return_points": _POINTS, "try_safety_points": _POINTS,
    "overtime_minutes": Range(1, 120), "overtime_periods": Range(0, MOST_PERIODS), "overtime_timeouts": _COUNT,
    "overtime_timeouts_last_from": Range(1, MOST_PERIODS), "overtime_two_point_from": Range(1, MOST_PERIODS),
    "overtime_only_tries_from": Range(1, MOST_PERIODS), "runoff_seconds": Range(0, 120), "overtime_spot": Range(1, 149),
    "fumble_limits_in_last_minutes": Range(0, 120), "kickoff_out_of_bounds_beyond": Range(0, 100),
}
"""A rulebook's numbers, in yards if not named here. They reach beyond any game played."""
SEASON = Range(1800, 9999)


def out_of_range(play: Play) -> Iterator[str]:
    """Every number of *play* that is out of range, each in one line."""
    for value in (play, *play.fouls, *play.events, *((play.override,) if play.override else ())):
        yield from outside(value, RANGES[type(value)])
