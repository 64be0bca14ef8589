"""What became of the ball on one play: before any penalty.

Spots are yards from the goal line of the team that snapped or kicked (``offense``), so the
offense scores at ``length`` and beyond, the defense at 0 and below.
"""

from __future__ import annotations

from .plays import EventKind, PlayKind, Score, Side

OFFENSE, DEFENSE = Side.OFFENSE, Side.DEFENSE

GAINS = (EventKind.RECOVERY, EventKind.OWN_RECOVERY, EventKind.CATCH, EventKind.INTERCEPTION)
FREE_KICKS = (PlayKind.KICKOFF, PlayKind.SAFETY_FREE_KICK)
TRIES = (PlayKind.TRY_KICK, PlayKind.TRY_RUN, PlayKind.TRY_PASS)


class BallMovement:
    """The ball's way on one play.

    ``dead``: where it became dead. ``holder``: whose it is then. ``changed``: the defense gained it at some time (on a
    kick: the receivers). ``gained``: where the last team to gain it did so; at first where it was snapped.
    ``first_end``: where the offense's own run ended (fumble, or dead ball). ``return_end``: where the defense fumbled.
    ``kick_end``: where a kick ended. ``loose``: it became dead loose, nobody holding it. ``touchback``, ``score``: as
    said, else as they follow. ``incomplete``: a pass fell. ``intercepted``: one was. ``never_crossed``: a blocked kick
    stayed behind the line. ``force``: who moved the ball to where it became dead. ``momentum``: where it stays with
    ``momentum_of``, which was carried on into its own end zone. Of a kick: ``free``: a free kick; ``in_kick``: nobody
    gained it yet; ``touched``: the receivers touched it; ``touches``: where the kickers touched it while they were not
    allowed to; ``taken_too_early``: where they took it all the same; ``dead_recovery``: where it became dead because
    they recovered it. ``short_on_last_down``: they have it back behind the line, but not the line to gain, on the last
    down. ``brought_back``: where a fumble that went forward and out of bounds belongs.
    """

    # Defaults live on the class: most plays change only a few of them.
    holder: Side = OFFENSE
    changed = loose = incomplete = intercepted = False
    kick = fair_catch = missed = never_crossed = out_of_bounds_kick = False
    touchback = short_on_last_down = False
    first_end: float | None = None
    return_end: float | None = None
    kick_end: float | None = None
    free = in_kick = touched = in_extra_period = False
    force: Side = OFFENSE
    momentum: float | None = None
    momentum_of: Side | None = None
    taken_too_early: float | None = None
    dead_recovery: float | None = None
    brought_back: float | None = None
    score: Score | None = None
    scorer: Side | None = None

    def __init__(self, start: float, length: float) -> None:
        self.start = self.dead = self.gained = start
        self.length = length
        self.assumed: list[str] = []
        self.problems: list[str] = []
        self.touches: list[float] = []
