"""What became of the ball, read from what a person said of the play, and what it scores."""

from __future__ import annotations

from .action import DEFENSE, FREE_KICKS, OFFENSE, TRIES, BallMovement
from .ball_path import finish, follow
from .kicks import read_field_goal, read_kick, read_try_kick
from .plays import EventKind, Outcome, Play, PlayKind, Score
from .rulebook import Rulebook
from .situation import Next, Situation


def read_action(rulebook: Rulebook, before: Situation, play: Play) -> BallMovement:
    """Follow the ball through *play*. Never raises; what cannot be right lands in ``problems``."""
    action = BallMovement(before.snap_on, rulebook.field_length)
    kind = play.kind
    if before.period > rulebook.periods:
        action.in_extra_period = True
    if kind in FREE_KICKS or kind is PlayKind.PUNT:
        read_kick(action, rulebook, before, play)
    elif kind is PlayKind.FIELD_GOAL:
        read_field_goal(action, rulebook, before, play)
    elif kind in TRIES:
        _try(action, rulebook, before, play)
    else:
        _scrimmage(action, rulebook, before, play)
    if action.score is None and (play.score is not None or not action.touchback):
        _score(action, play, held_kick_counts=bool(rulebook.single_point) and action.kick and kind not in TRIES)
    return action


def _scrimmage(action: BallMovement, rulebook: Rulebook, before: Situation, play: Play) -> None:
    outcome = play.outcome
    if outcome is Outcome.INCOMPLETE or play.kind is PlayKind.SPIKE:
        action.incomplete = action.loose = True
        return
    gain, spot = play.gain, play.spot
    if gain is not None:
        where = action.start + gain
    elif spot is not None:
        where = spot
    elif outcome is Outcome.INTERCEPTED or play.events:
        where = next((e.spot for e in play.events if e.spot is not None), action.start)
    elif outcome is Outcome.TOUCHBACK or play.score is Score.TOUCHDOWN:
        where = action.length
    elif play.score is Score.SAFETY:
        where = 0.0
    else:
        where = action.start
        action.assumed.append("no gain was said; none taken")
    if outcome is Outcome.INTERCEPTED and not any(e.kind is EventKind.INTERCEPTION for e in play.events):
        action.changed, action.holder, action.gained, action.intercepted = True, DEFENSE, where, True
        if where < action.length:
            action.force = DEFENSE
        if spot is None and gain is None and play.score is None:
            action.assumed.append("where the return ended was not said; dead where intercepted")
    back = False
    if play.events:
        where, back = follow(action, rulebook, before, play, play.events, where)
    finish(action, play, where, back)
    if outcome is Outcome.TOUCHBACK:
        action.touchback, action.intercepted = True, play.kind is PlayKind.PASS
        if play.possession is None:
            action.holder, action.changed = DEFENSE, True


def _try(action: BallMovement, rulebook: Rulebook, before: Situation, play: Play) -> None:
    action.start = action.dead = try_spot(rulebook, before, play.kind)
    outcome = play.outcome
    action.kick = play.kind is PlayKind.TRY_KICK
    if outcome is Outcome.GOOD:
        action.score, action.scorer = (Score.FIELD_GOAL if action.kick else Score.TOUCHDOWN), OFFENSE
    elif outcome is Outcome.RETURNED:
        action.score, action.scorer, action.holder, action.changed = Score.TOUCHDOWN, DEFENSE, DEFENSE, True
        action.dead = 0.0
    elif action.kick and outcome is not None and play.events and rulebook.try_return_points:
        read_try_kick(action, rulebook, before, play)    # elsewhere a kick that fails is dead
    elif outcome in (None, Outcome.COMPLETE, Outcome.INTERCEPTED) and (
            play.spot is not None or play.gain is not None or play.events):
        _scrimmage(action, rulebook, before, play)
    elif play.score is Score.SAFETY:    # whoever has the ball has it in his own end zone
        action.score, action.scorer = Score.SAFETY, (play.possession or DEFENSE).other
    elif play.score is not None and play.score is not Score.NONE:
        if play.possession is DEFENSE:
            action.holder, action.changed, action.dead = DEFENSE, True, 0.0
    else:
        if outcome in (None, Outcome.COMPLETE):
            action.assumed.append("whether the try was good was not said; no good taken")


def try_spot(rulebook: Rulebook, before: Situation, kind: PlayKind) -> float:
    """Where a try is snapped: the situation names the usual spot, for a kick; a run or pass may have its own,
    moved by the same penalties."""
    length = rulebook.field_length
    if kind is PlayKind.TRY_KICK or rulebook.try_spot_kick == rulebook.try_spot_run or before.next is not Next.TRY:
        return before.snap_on
    spot = length - rulebook.try_spot_run
    if before.snap_on >= spot:
        return before.snap_on  # it was set by hand
    moved = before.snap_on - (length - rulebook.try_spot_kick)
    return spot + min(moved, rulebook.try_spot_run / 2)


def _score(action: BallMovement, play: Play, held_kick_counts: bool) -> None:
    """Say what the dead ball scores: a person's word first, then the goal lines. *held_kick_counts*: it is a kick
    that scores a single where the receivers keep it in their end zone."""
    said, dead, length = play.score, action.dead, action.length
    if said is Score.TOUCHDOWN and action.taken_too_early is not None and play.possession is not DEFENSE:
        action.problems.append("the kickers cannot score with a kick that was not theirs to take")
    elif said is not None:
        _score_said(action, said)
    elif action.momentum is not None and _kept_by_momentum(action):
        action.dead = action.momentum
    elif dead <= 0:
        _dead_behind_own_goal(action)
    elif dead >= length:
        _dead_behind_other_goal(action, held_kick_counts)


def _score_said(action: BallMovement, said: Score) -> None:
    action.score, holder, dead = said, action.holder, action.dead
    if said is Score.TOUCHDOWN:
        action.scorer = holder
    elif said is Score.SAFETY:
        action.scorer = DEFENSE if dead < action.length / 2 else OFFENSE
    else:
        behind = dead >= action.length if holder is DEFENSE else dead <= 0 and action.changed
        action.touchback = action.touchback or behind


def _kept_by_momentum(action: BallMovement) -> bool:
    """Did the ball stay with the team whose momentum carried it on, and die in its end zone? A fumble that goes
    forward and out of bounds from there counts as dead there too."""
    return action.momentum_of is action.holder and (
        action.dead >= action.length if action.holder is DEFENSE else action.dead <= 0)


def _dead_behind_own_goal(action: BallMovement) -> None:
    if action.holder is DEFENSE and not action.loose:
        action.score, action.scorer = Score.TOUCHDOWN, DEFENSE
    elif action.force is OFFENSE:
        action.score, action.scorer = Score.SAFETY, DEFENSE
    else:
        action.touchback, action.holder = True, OFFENSE


def _dead_behind_other_goal(action: BallMovement, held_kick_counts: bool) -> None:
    if action.holder is OFFENSE:
        if not action.loose:
            action.score, action.scorer = Score.TOUCHDOWN, OFFENSE
    elif action.force is DEFENSE:
        action.score, action.scorer = Score.SAFETY, OFFENSE
    elif held_kick_counts:
        action.score = Score.SINGLE
    else:
        action.touchback = True
