"""Which downs are decisive: the ones a film does well to open on the marker."""

from __future__ import annotations

from dataclasses import dataclass

from ..football.plays import PlayKind
from ..football.situation import Next
from ..football.step import Step

_ORDINARY = frozenset({PlayKind.RUN, PlayKind.PASS, PlayKind.SACK})


@dataclass(frozen=True, slots=True, kw_only=True)
class Decisive:
    """``late`` is seconds left in the last regular period, ``close`` the points between the
    teams, ``goal_line`` yards from the goal."""

    late: float
    close: float
    goal_line: float

    def holds(self, step: Step, last_down: int, periods: int) -> bool:
        """True for an attempt on the last down, and for the down before it late and close or at the goal line.

        A play without a tagged clock in the last regular period is not taken as late."""
        before = step.before
        if before.next is not Next.SCRIMMAGE or step.play.kind not in _ORDINARY or before.down is None:
            return False
        if before.down == last_down:
            return True
        if before.down != last_down - 1:
            return False
        if before.goal_to_go and before.yards_to_gain is not None and before.yards_to_gain <= self.goal_line:
            return True
        late = before.period > periods or (
            before.period == periods and before.clock is not None and before.clock <= self.late)
        return late and abs(before.score_home - before.score_visitors) <= self.close
