"""Situations in words, as people say them, for every screen and paper."""

from __future__ import annotations

from collections.abc import Iterable

from .field import spoken_spot
from .situation import Next, Situation

_NEXT = {Next.COIN_TOSS: "coin toss", Next.KICKOFF: "kickoff", Next.TRY: "try", Next.OVER: "game over",
         Next.SAFETY_FREE_KICK: "free kick after a safety", Next.FAIR_CATCH_KICK: "fair catch kick"}


def ordinal(number: int) -> str:
    """Return ``1st``, ``2nd``, ``3rd``, ``4th``...

    >>> ordinal(1), ordinal(4), ordinal(12), ordinal(22)
    ('1st', '4th', '12th', '22nd')
    """
    ending = {1: "st", 2: "nd", 3: "rd"}.get(number % 10, "th") if number % 100 not in (11, 12, 13) else "th"
    return f"{number}{ending}"


def spoken_down(situation: Situation) -> str:
    """Return ``3rd & 4``, ``1st & goal``, ``4th & inches``, or what comes instead of a down: ``kickoff``."""
    if situation.next is not Next.SCRIMMAGE:
        return _NEXT.get(situation.next, str(situation.next))
    if situation.down is None:
        return "down not known"
    yards = situation.yards_to_gain
    if situation.goal_to_go:
        distance = " & goal"
    elif yards is None:
        distance = ""
    elif yards < 1:
        distance = " & inches"
    else:
        distance = f" & {int(yards + 0.5)}"
    return f"{ordinal(situation.down)}{distance}"


def spoken_situation(situation: Situation, field_length: float) -> str:
    """Return ``2nd & 7 at own 36``, ``1st & goal at opp 4``, ``kickoff from own 40``."""
    if situation.ball_on is None or situation.next in (Next.TRY, Next.OVER, Next.COIN_TOSS):
        return spoken_down(situation)
    where = "at" if situation.next is Next.SCRIMMAGE else "from"
    return f"{spoken_down(situation)} {where} {spoken_yard_line(situation.ball_on, field_length)}"


def spoken_yard_line(ball_on: float, field_length: float) -> str:
    """Return the yard line on which the ball is said to lie; one that lies inside the 1 is on the 1, never on the goal
    line (common practice, no source).

    >>> spoken_yard_line(35.6, 100), spoken_yard_line(0.25, 100), spoken_yard_line(99.75, 100)
    ('own 36', 'own 1', 'opp 1')
    """
    return spoken_spot(min(max(round(ball_on), 1), field_length - 1), field_length)


def spoken_plays(numbers: Iterable[int]) -> str:
    """Return plays by their numbers, each once: ``play 3``, ``plays 3, 5``."""
    plays = list(dict.fromkeys(numbers))
    return f"play{'' if len(plays) == 1 else 's'} {', '.join(map(str, plays))}"


def spoken_clock(seconds: int | None) -> str:
    """Return ``4:05`` for seconds left in the period; empty if they were never said."""
    return "" if seconds is None else f"{seconds // 60}:{seconds % 60:02}"


def spoken_period(period: int, periods: int = 4) -> str:
    """Return ``2nd quarter``, ``1st half`` (of two periods) or ``1st extra period``."""
    if period > periods:
        return f"{ordinal(period - periods)} extra period"
    return f"{ordinal(period)} {'half' if periods == 2 else 'quarter'}"
