"""What a play from scrimmage counts for: as a run or a pass, and for how many yards.

The conventions are those of the professional guide for statisticians, from memory, checked against the official
accounts of 2,816 games; ``tests/outside/real_games/statistics.py`` names what others count differently.
"""

from __future__ import annotations

from collections.abc import Sequence

from .action import OFFENSE, BallMovement
from .plays import BallEvent, EventKind, FoulDecision, Outcome, Play, PlayKind, Score
from .rulebook import Rulebook
from .situation import Next, Situation

GAINING = (PlayKind.RUN, PlayKind.PASS, PlayKind.SACK, PlayKind.KNEEL)
"""What gains or loses yards from scrimmage."""


def counted_gain(rulebook: Rulebook, before: Situation, play: Play, action: BallMovement, stands_to: float | None
                 ) -> float | None:
    """What a run or pass from scrimmage counts for, in yards: up to where the offense first lost the ball, no
    farther than *stands_to* (as in :class:`.enforcement.Enforced`), and within the goal lines; 0 for a pass that was
    not completed, None for any other play."""
    if before.next is not Next.SCRIMMAGE or play.kind not in (*GAINING, PlayKind.SPIKE):
        return None
    start = before.snap_on
    if thrown_beyond_line(before, play, action.dead) and stands_to is not None:
        return stands_to - start
    if action.incomplete or action.intercepted or play.kind is PlayKind.SPIKE:
        return 0.0
    fumbled = any(event.kind is EventKind.FUMBLE for event in play.events)
    scored = play.events and play.score is Score.TOUCHDOWN and action.holder is OFFENSE and not action.changed
    dead = float(rulebook.field_length) if scored else action.dead
    end = action.first_end if action.first_end is not None and (fumbled or not scored) else dead
    if fumbled and play.gain is not None and abs(start + play.gain - end) < 1:
        end = start + play.gain     # a said gain is more exact than spots in whole yards
    end = _after_fumbles(play.events, start, end, dead)
    if stands_to is not None:
        end = min(end, stands_to)
    return min(max(end, 0.0), rulebook.field_length) - start


def thrown_beyond_line(before: Situation, play: Play, dead: float | None) -> bool:
    """Whether a pass was thrown beyond the line of scrimmage and penalized there: it counts as a run to that spot.
    *dead*: where the ball became dead; a pass that was caught and carried there before the foul was a pass."""
    caught = play.outcome is Outcome.COMPLETE and dead is not None
    return play.kind is PlayKind.PASS and before.ball_on is not None and any(
        foul.name == "illegal forward pass" and foul.by is OFFENSE and foul.decision is not FoulDecision.DECLINED
        and foul.spot is not None and foul.spot > before.ball_on and not (caught and foul.spot >= (dead or 0.0))
        for foul in play.fouls)


def _after_fumbles(events: Sequence[BallEvent], start: float, end: float, dead: float) -> float:
    """The spot up to which a run counts that first ended at *end*. Yards that the loose ball loses before somebody
    touches it count against the run; yards that it gains count only behind the line of scrimmage and up to it. The
    fumbler's own recovery continues the run, a teammate's only behind the line and as far as it gains."""
    at = next((place for place, event in enumerate(events) if event.kind is EventKind.FUMBLE), None)
    if at is None:
        return end
    events = events[at + 1:]
    himself = next((place for place, event in enumerate(events) if event.kind is EventKind.OWN_RECOVERY), None)
    if himself is not None and all(event.kind is EventKind.MUFF for event in events[:himself]):
        again = next((event for event in events[himself + 1:] if event.kind is EventKind.FUMBLE), None)
        if again is not None and again.spot is not None:
            return _after_fumbles(events[himself + 1:], start, again.spot, dead)
        return dead
    touched = next((event for event in events if event.spot is not None), None)
    if touched is None or touched.spot is None:
        return end
    if end >= start:
        return min(end, touched.spot)
    by_teammate = touched is events[-1] and touched.kind is EventKind.RECOVERY and touched.by is OFFENSE
    return min(max(touched.spot, dead) if by_teammate else touched.spot, start)
