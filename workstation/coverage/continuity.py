"""Does a situation set by hand follow from the play before it?"""

from __future__ import annotations

from dataclasses import dataclass

from ..football.field import spoken_yards
from ..football.situation import Next
from ..football.step import Certainty, Step

ROUNDING = 1.0
"""Yards by which a spot that is spoken or written in whole yards may be off."""
_FREE_KICKS = {Next.KICKOFF, Next.SAFETY_FREE_KICK}


@dataclass(frozen=True, slots=True)
class Break:
    """Where the game as tagged jumps. ``what`` is one line a person can follow."""

    what: str
    score: bool = False
    possession: bool = False


def jump(previous: Step, following: Step, spot_tolerance: float) -> Break | None:
    """Return how *following* fails to follow from *previous*, None if it does.

    There is a gap only where the tracker finds a contradiction or a problem. ``spot_tolerance`` in yards: a spot
    corrected by hand by less is a correction, not a gap.
    """
    if following.certainty is not Certainty.CONTRADICTED and not following.problems:
        return None
    after, before = previous.after, following.before
    if _rounded(previous, following):
        return None
    if after.next in (Next.COIN_TOSS, Next.OVER):
        return None                     # an untagged toss or end of a period is no missing play
    if (after.score_home, after.score_visitors) != (before.score_home, before.score_visitors):
        return Break(f"the score goes from {after.score_home}-{after.score_visitors} "
                     f"to {before.score_home}-{before.score_visitors}", score=True,
                     possession=after.offense is not before.offense)
    if after.next is not before.next and not {after.next, before.next} <= _FREE_KICKS:
        return Break(f"{_named(after.next)} should have come next, and it is {_named(before.next)}")
    if after.offense is not before.offense and after.offense and before.offense:
        return Break(f"the ball goes from {after.offense} to {before.offense} without a play that turns it over",
                     possession=True)
    if before.next is not Next.SCRIMMAGE:
        return None
    if after.down is not None and before.down is not None and after.down != before.down:
        return Break(f"down {after.down} should have come next, and it is down {before.down}")
    if after.ball_on is not None and before.ball_on is not None and (
            abs(after.ball_on - before.ball_on) > spot_tolerance):
        return Break(f"the ball moves {spoken_yards(abs(before.ball_on - after.ball_on))} yards between two plays")
    return None


def _rounded(previous: Step, following: Step) -> bool:
    """Whether the ball lies where expected and only the line to gain differs. Rounding the spot can turn a yard
    short into a first down, or the reverse."""
    after, before, was = previous.after, following.before, previous.before
    if not (after.next is before.next is was.next is Next.SCRIMMAGE and after.offense is before.offense is was.offense):
        return False
    if (after.score_home, after.score_visitors) != (before.score_home, before.score_visitors):
        return False
    if (after.ball_on is None or before.ball_on is None or was.ball_on is None or was.yards_to_gain is None
            or was.down is None):
        return False
    if abs(after.ball_on - before.ball_on) > ROUNDING or {after.down, before.down} != {1, was.down + 1}:
        return False
    return abs(was.ball_on + was.yards_to_gain - before.ball_on) <= ROUNDING


def _named(following: Next) -> str:
    return {Next.SCRIMMAGE: "a snap from scrimmage", Next.TRY: "a try", Next.OVER: "the end of the game",
            Next.COIN_TOSS: "the coin toss"}.get(following, f"a {following}")
