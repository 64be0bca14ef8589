"""The ball's way through the events of a play: who gains it, by whose force it moves, where it becomes dead.

Spots are those of the team that snapped or kicked, as in :mod:`.action`.
"""

from __future__ import annotations

from .action import DEFENSE, FREE_KICKS, GAINS, OFFENSE, BallMovement
from .field import spoken_spot
from .plays import BallEvent, EventKind, Play, Score, Side
from .rulebook import ForwardFumble, Rulebook
from .situation import Next, Situation

_UNTOUCHED = (EventKind.LANDING, EventKind.BLOCK, EventKind.FORCED_TOUCHING, EventKind.OUT_OF_BOUNDS,
              EventKind.MOMENTUM)

_SAME_SPOT = 0.5     # yards


def follow(action: BallMovement, rulebook: Rulebook, before: Situation, play: Play, events: tuple[BallEvent, ...],
           where: float) -> tuple[float, bool]:
    """Walk the ball's *events* from *where*. Returns where they leave it, and whether the rules hold it
    there, whatever happened to the ball afterwards."""
    walk = _Walk(action, rulebook, before, where)
    for event in events:
        walk.take(event)
        if walk.over:
            break
    if action.loose and walk.fumbled_at is not None and play.possession is None and play.spot is None \
            and events[-1].kind is EventKind.FUMBLE:
        action.assumed.append("who recovered was not said; the fumbling team keeps it")
    return walk.where, walk.held


def read_touching(action: BallMovement, rulebook: Rulebook, play: Play, events: tuple[BallEvent, ...]) -> None:
    """Note whether the receivers touched a kick, and where the kickers did while it was not theirs to touch."""
    free = play.kind in FREE_KICKS
    for event in events:
        if event.kind in _UNTOUCHED:
            continue
        if event.by is not OFFENSE:
            action.touched = True
            return
        if event.spot is not None and not_theirs(action, rulebook, event.spot, free):
            action.touches.append(event.spot)
        if event.kind in GAINS:
            return


def not_theirs(action: BallMovement, rulebook: Rulebook, spot: float, free: bool) -> bool:
    """May the kickers not have their kick on *spot*? A free kick before it went far enough, a scrimmage kick beyond
    the line, both only until the receivers touch it (NCAA 6-1-3, 6-3-2; NFHS 6-1-6, 6-2-5; NFL 6-2-4, 9-2-1)."""
    too_soon = spot < action.start + rulebook.kickoff_travel if free else (
        spot > action.start and not rulebook.onside_players)
    return too_soon and not action.touched


class _Walk:
    """One pass over the events. ``mover``: whose force moves the ball. ``over``: it is dead, what follows cannot count.
    ``held``: it is brought back to ``where`` whatever happened afterwards."""

    def __init__(self, action: BallMovement, rulebook: Rulebook, before: Situation, where: float) -> None:
        self.action, self.rulebook, self.before, self.where = action, rulebook, before, where
        self.fumbled_at: float | None = None
        self.force_before: Side = OFFENSE   # who moved the ball before the fumble
        self.mover = OFFENSE
        self.over = self.held = False

    def take(self, event: BallEvent) -> None:
        kind = event.kind
        if event.spot is not None and kind is not EventKind.MOMENTUM:
            self._move(event.spot)
        if kind is EventKind.FUMBLE:
            self._fumble()
        elif kind in GAINS:
            self._gain(event)
        elif kind is EventKind.MUFF:
            self.action.loose = True
        elif kind is EventKind.BAT:
            self._push(event.by or (DEFENSE if self.action.kick else self.action.holder))
            self.action.loose = True
        elif kind is EventKind.LATERAL:
            self.action.loose = False
        elif kind is EventKind.OUT_OF_BOUNDS:
            self._out_of_bounds()
        elif kind is EventKind.MOMENTUM:
            self._momentum(event)

    def _move(self, spot: float) -> None:
        self.where = spot
        if 0 < spot < self.action.length:
            self.action.force = self.mover

    def _push(self, side: Side) -> None:
        """*side* moves the ball from here on."""
        self.mover = side
        self._move(self.where)

    def _fumble(self) -> None:
        action = self.action
        self.force_before = action.force
        self._push(action.holder)
        self.fumbled_at = self.where
        action.in_kick = False
        if action.holder is DEFENSE:
            action.return_end = self.where
        if not action.changed and action.first_end is None:
            action.first_end = self.where
        action.loose = True

    def _gain(self, event: BallEvent) -> None:
        action, kind = self.action, event.kind
        by = event.by if kind is not EventKind.OWN_RECOVERY or event.by is not None else action.holder
        if by is None:
            by = DEFENSE if kind is EventKind.INTERCEPTION or action.kick else action.holder
        if action.in_kick:
            action.in_kick, action.kick_end = False, self.where
            if by is OFFENSE:
                self._kickers_gain()
                if action.taken_too_early is not None:
                    return
        if kind is EventKind.INTERCEPTION:
            action.intercepted = True
        if by is DEFENSE:
            action.changed = True
        if by is not action.holder or self.fumbled_at is None:
            action.gained = self.where
        elif kind is EventKind.RECOVERY and _only_fumbler(self.rulebook, self.before, action.changed):
            self.where = no_farther(by, self.fumbled_at, self.where)
            action.assumed.append("a teammate of the fumbler recovered, who may not advance it")
            self.held = True
        action.holder, action.loose = by, False
        self._push(by)

    def _kickers_gain(self) -> None:
        """The kickers gain the kick. If they were not allowed to, it is the receivers' ball there; else it is dead
        where they recovered it, except a scrimmage kick behind the line."""
        action = self.action
        if not_theirs(action, self.rulebook, self.where, action.free):
            action.changed, action.holder, action.gained, action.loose = True, DEFENSE, self.where, True
            action.taken_too_early = self.where
            self.over = self.held = True
        elif (action.free or self.where > action.start) and not self.rulebook.onside_players:
            action.dead_recovery = self.where
            self.over = self.held = True

    def _out_of_bounds(self) -> None:
        action = self.action
        if action.in_kick:
            action.kick_end = action.gained = self.where
            action.changed, action.holder = True, DEFENSE
        elif self.fumbled_at is not None:
            self.where = self._fumble_out_of_bounds(self.fumbled_at)
        elif self.where >= action.length and (action.holder is OFFENSE or action.loose):  # nobody held it since
            action.touchback, action.holder, action.changed = True, DEFENSE, True
        action.loose = True

    def _fumble_out_of_bounds(self, fumbled_at: float) -> float:
        """Where a fumble out of bounds lies: the fumbling team keeps it, but not out of the other end zone."""
        action, where = self.action, self.where
        if action.holder is OFFENSE and where >= action.length:
            action.touchback, action.holder, action.changed = True, DEFENSE, True
        elif where > 0 and self.rulebook.forward_fumble_out_of_bounds is ForwardFumble.SPOT_OF_FUMBLE:
            back = no_farther(action.holder, fumbled_at, where)
            if back != where:
                action.brought_back, action.force = back, self.force_before
            return back
        return where

    def _momentum(self, event: BallEvent) -> None:
        self.action.momentum = event.spot if event.spot is not None else self.where
        self.action.momentum_of = self.action.holder


def _only_fumbler(rulebook: Rulebook, before: Situation, changed: bool) -> bool:
    """Only the fumbler may advance his team's fumble now: on last down and on tries before the ball
    changes hands, in some codes by either team late in a half (NCAA 7-2-2 and 8-3-2, NFL 8-7-5 and 8-7-6)."""
    if rulebook.fourth_down_fumbler_only and not changed and (
            before.down == rulebook.downs or before.next is Next.TRY):
        return True
    limit, clock = rulebook.fumble_limits_in_last_minutes, before.clock
    return (limit is not None and clock is not None and clock < limit * 60
            and before.period * 2 % rulebook.periods == 0)


def no_farther(side: Side, most: float, where: float) -> float:
    """*where*, but for *side* no nearer the goal line it attacks than *most*."""
    return min(where, most) if side is OFFENSE else max(where, most)


def finish(action: BallMovement, play: Play, where: float, held: bool = False) -> None:
    """End the last run. A said spot and possession count, except where the rules *held* the ball."""
    if play.possession is not None and action.taken_too_early is None:
        if play.possession is DEFENSE:
            action.changed = True
        if play.possession is not action.holder:
            action.gained = where
            if 0 < where < action.length:
                action.force = play.possession
        action.holder = play.possession
        action.loose = False
    action.dead = play.spot if play.spot is not None and not held else where
    back = action.brought_back
    if back is not None and play.spot is not None and abs(play.spot - back) > _SAME_SPOT:
        action.problems.append("a fumble that goes forward and out of bounds belongs where it was lost, at "
                               f"{spoken_spot(back, action.length)}")
    _check_advance(action, play)
    if action.first_end is None:
        action.first_end = action.dead


def _check_advance(action: BallMovement, play: Play) -> None:
    """Report a problem if the kickers advanced a kick that they recovered; the spot that was said stays."""
    recovered = action.dead_recovery
    if play.spot is not None and recovered is not None:
        action.dead = play.spot
    if recovered is not None and (action.dead > recovered or (
            play.score is Score.TOUCHDOWN and recovered < action.length and play.possession is not DEFENSE)):
        action.problems.append("the kickers may not advance a kick that they recover; it is dead at "
                               f"{spoken_spot(recovered, action.length)}")
