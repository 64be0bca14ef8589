"""Lines that may be typed in a situation, to show by example how a play is said."""

from __future__ import annotations

from ..situation import Next, Situation

_EXAMPLES = {
    Next.COIN_TOSS: ("visitors defer", "home receive"),
    Next.KICKOFF: ("to opp 5 returned to opp 28", "touchback"),
    Next.SAFETY_FREE_KICK: ("to opp 30 returned 8 yards", "out of bounds opp 30"),
    Next.TRY: ("try kick good", "try kick no good", "run good"),
    Next.SCRIMMAGE: ("run 6", "pass 12", "incomplete"),
}
_LAST_DOWN = ("punt 35 yards returned 6 yards", "run 3", "field goal good")
_GOAL_TO_GO = ("run touchdown", "pass touchdown", "incomplete")


def examples(before: Situation, downs: int) -> tuple[str, ...]:
    """Lines that fit the situation; none where nothing is left to say. *downs* are those of a series."""
    if before.next is Next.SCRIMMAGE and before.goal_to_go:
        return _GOAL_TO_GO
    if before.next is Next.SCRIMMAGE and before.down == downs:
        return _LAST_DOWN
    return _EXAMPLES.get(before.next, ())
