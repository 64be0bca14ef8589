"""The words a coach uses: results, situations, the line that explains a step."""

from __future__ import annotations

from .field import spoken_spot, spoken_yards
from .situation import Next, Situation

_ORDINAL = {1: "1st", 2: "2nd", 3: "3rd", 4: "4th"}


def spoken_down(situation: Situation) -> str:
    """``3rd & 7``, ``1st & goal``, ``4th & inches``; empty unless a scrimmage down is next.

    Under a yard is "inches", as the people with the chain say it (common practice, no source).
    """
    if situation.down is None or situation.yards_to_gain is None:
        return ""
    down = _ORDINAL.get(situation.down, f"{situation.down}th")
    if situation.goal_to_go:
        return f"{down} & goal"
    if situation.yards_to_gain < 1:
        return f"{down} & inches"
    return f"{down} & {spoken_yards(situation.yards_to_gain)}"


def spoken_situation(situation: Situation, field_length: float = 100) -> str:
    """What comes next and where: ``2nd & 17 at own 31``, ``try``, ``kickoff from own 40``."""
    if situation.next is Next.SCRIMMAGE:
        where = situation.ball_on
        return f"{spoken_down(situation)} at {spoken_spot(where, field_length)}" if where is not None else "scrimmage"
    if situation.next in (Next.KICKOFF, Next.SAFETY_FREE_KICK) and situation.ball_on is not None:
        return f"{situation.next.value} from {spoken_spot(situation.ball_on, field_length)}"
    if situation.next is Next.OVER:
        return "game over"
    return situation.next.value
