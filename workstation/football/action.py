"""What became of the ball on one play, read from its tag: before any penalty, before any scoring.

Spots are yards from the goal line of the team that snapped or kicked (``offense``), so the
offense scores at ``length`` and beyond, the defense at 0 and below.
"""

from __future__ import annotations

from .plays import EventKind, Outcome, Play, PlayKind, Score, Side
from .rulebook import ForwardFumble, MissedFieldGoal, Rulebook
from .situation import Next, Situation

OFFENSE, DEFENSE = Side.OFFENSE, Side.DEFENSE

_GAINS = (EventKind.RECOVERY, EventKind.OWN_RECOVERY, EventKind.CATCH, EventKind.INTERCEPTION)
FREE_KICKS = (PlayKind.KICKOFF, PlayKind.SAFETY_FREE_KICK)
TRIES = (PlayKind.TRY_KICK, PlayKind.TRY_RUN, PlayKind.TRY_PASS)


class Action:
    """The ball's way on one play.

    ``dead``: where it became dead. ``holder``: whose it is then. ``changed``: the defense gained
    it at some time (on a kick: the receivers). ``gained``: where the last team to gain it did so; at
    first where it was snapped. ``first_end``: where the offense's own run ended (fumble, or dead
    ball). ``return_end``: where the defense fumbled. ``kick_end``: where a kick ended. ``loose``: it
    became dead loose, nobody holding it. ``touchback``, ``score``: said or following. ``incomplete``: a
    pass fell. ``intercepted``: one was. ``never_crossed``: a blocked kick stayed behind the line.
    ``touched_first``: where the kickers touched a kick that was not yet theirs to touch.
    """

    # Defaults live on the class: most plays change only a few of them.
    holder: Side = OFFENSE
    changed = loose = incomplete = intercepted = False
    kick = fair_catch = missed = never_crossed = out_of_bounds_kick = False
    touchback = False
    first_end: float | None = None
    return_end: float | None = None
    kick_end: float | None = None
    touched_first: float | None = None
    score: Score | None = None
    scorer: Side | None = None

    def __init__(self, start: float, length: float) -> None:
        self.start = self.dead = self.gained = start
        self.length = length
        self.assumed: list[str] = []
        self.problems: list[str] = []


def read_action(rulebook: Rulebook, before: Situation, play: Play) -> Action:
    """Follow the ball through *play*. Never raises; what cannot be right lands in ``problems``."""
    action = Action(before.ball_on, rulebook.field_length)
    kind = play.kind
    if kind in FREE_KICKS or kind is PlayKind.PUNT:
        _kick(action, rulebook, play)
    elif kind is PlayKind.FIELD_GOAL:
        _field_goal(action, rulebook, before, play)
    elif kind in TRIES:
        _try(action, rulebook, before, play)
    else:
        _scrimmage(action, rulebook, before, play)
    if action.score is None and not action.touchback:
        _score(action, play, held_kick_counts=bool(rulebook.single_point) and action.kick and kind not in TRIES)
    return action


def _scrimmage(action: Action, rulebook: Rulebook, before: Situation, play: Play) -> None:
    outcome = play.outcome
    if outcome is Outcome.INCOMPLETE or play.kind is PlayKind.SPIKE:
        action.incomplete = action.loose = True
        action.first_end = action.start
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
        if spot is None and gain is None and play.score is None:
            action.assumed.append("where the return ended was not said; dead where intercepted")
    back = False
    if play.events:
        where, back = _events(action, rulebook, before, play, where)
    _finish(action, play, where, back)
    if outcome is Outcome.TOUCHBACK:
        action.touchback, action.intercepted = True, play.kind is PlayKind.PASS
        if play.possession is None:
            action.holder, action.changed = DEFENSE, True


def _events(action: Action, rulebook: Rulebook, before: Situation, play: Play, where: float
            ) -> tuple[float, bool]:
    """Walk the ball's events from *where*. Returns where they leave it, and whether the rules bring a
    fumble back there, whatever happened to the ball afterwards."""
    fumbled_at: float | None = None
    back = False
    if action.kick:
        action.touched_first, action.loose = _touched_first(action, rulebook, play), True
    for event in play.events:
        kind, spot = event.kind, event.spot
        if kind is EventKind.FUMBLE or kind is EventKind.MUFF:
            if spot is not None:
                where = spot
            if kind is EventKind.FUMBLE:
                fumbled_at = where
                if action.holder is DEFENSE:
                    action.return_end = where
                if not action.changed and action.first_end is None:
                    action.first_end = where
            action.loose = True
        elif kind in _GAINS:
            by = event.by if kind is not EventKind.OWN_RECOVERY else action.holder
            if by is None:
                by = DEFENSE if kind is EventKind.INTERCEPTION or action.kick else action.holder
            if spot is not None:
                where = spot
            if kind is EventKind.INTERCEPTION:
                action.intercepted = True
            if by is DEFENSE:
                action.changed = True
            if by is not action.holder or fumbled_at is None:
                action.gained = where
            elif kind is EventKind.RECOVERY and _only_fumbler(rulebook, before, action.changed):
                where = _no_farther(by, fumbled_at, where)
                action.assumed.append("a teammate of the fumbler recovered, who may not advance it")
                back = True
            action.holder, action.loose = by, False
        elif kind is EventKind.LATERAL:
            action.loose = False
        elif kind is EventKind.OUT_OF_BOUNDS:
            if spot is not None:
                where = spot
            if fumbled_at is not None:
                where = _fumble_out_of_bounds(action, rulebook, fumbled_at, where)
            elif where >= action.length and (action.holder is OFFENSE or action.loose):  # nobody held it since
                action.touchback, action.holder, action.changed = True, DEFENSE, True
            action.loose = True
    if action.loose and fumbled_at is not None and play.possession is None and play.spot is None \
            and play.events[-1].kind is EventKind.FUMBLE:
        action.assumed.append("who recovered was not said; the fumbling team keeps it")
    return where, back


def _touched_first(action: Action, rulebook: Rulebook, play: Play) -> float | None:
    """Where the kickers muffed a kick before the receivers touched it, if it was not theirs to touch:
    a scrimmage kick beyond the line, a free kick before it went far enough."""
    event = play.events[0]
    if event.kind is not EventKind.MUFF or event.by is not OFFENSE or event.spot is None:
        return None
    if play.kind in FREE_KICKS:
        return event.spot if event.spot < action.start + rulebook.kickoff_travel else None
    return event.spot if event.spot > action.start else None


def _only_fumbler(rulebook: Rulebook, before: Situation, changed: bool) -> bool:
    """Only the fumbler may advance his team's fumble now: on last down and on tries before the ball
    changes hands, in some codes by either team late in a half (NCAA 7-2-2 and 8-3-2, NFL 8-7-5 and 8-7-6)."""
    if rulebook.fourth_down_fumbler_only and not changed and (
            before.down == rulebook.downs or before.next is Next.TRY):
        return True
    limit, clock = rulebook.fumble_limits_in_last_minutes, before.clock
    return (limit is not None and clock is not None and clock < limit * 60
            and before.period * 2 % rulebook.periods == 0)


def _fumble_out_of_bounds(action: Action, rulebook: Rulebook, fumbled_at: float, where: float) -> float:
    """Where the ball lies after a fumble went out of bounds: the fumbling team keeps it, unless it
    went out of the other team's end zone."""
    if action.holder is OFFENSE and where >= action.length:
        action.touchback, action.holder, action.changed = True, DEFENSE, True
    elif action.holder is DEFENSE and where <= 0:
        action.touchback, action.holder = True, OFFENSE
    elif rulebook.forward_fumble_out_of_bounds is ForwardFumble.SPOT_OF_FUMBLE:
        return _no_farther(action.holder, fumbled_at, where)
    return where


def _no_farther(side: Side, most: float, where: float) -> float:
    """*where*, but for *side* no nearer the goal line it attacks than *most*."""
    return min(where, most) if side is OFFENSE else max(where, most)


def _finish(action: Action, play: Play, where: float, brought_back: bool = False) -> None:
    """Close the last run: the person's own words for spot and possession win."""
    if play.possession is not None:
        if play.possession is DEFENSE:
            action.changed = True
        if play.possession is not action.holder:
            action.gained = where
        action.holder = play.possession
        action.loose = False
    action.dead = play.spot if play.spot is not None and not brought_back else where
    if action.first_end is None:
        action.first_end = action.dead


def _kick(action: Action, rulebook: Rulebook, play: Play) -> None:
    """A punt or a free kick."""
    outcome, free = play.outcome, play.kind in FREE_KICKS
    action.kick, action.first_end = True, action.start
    action.holder, action.changed = DEFENSE, True
    if outcome is Outcome.BLOCKED or (not free and _kept_behind_line(action, play)):
        _blocked(action, rulebook, play)
        return
    spot = play.spot
    told = [at for at in (play.kick_to, *(event.spot for event in play.events), spot) if at is not None]
    where = told[0] if told else None
    if outcome is Outcome.TOUCHBACK:
        action.touchback = True
        action.dead = action.kick_end = where if where is not None else action.length
        return
    if where is None:
        if play.score is Score.TOUCHDOWN:
            where = action.length if play.possession is OFFENSE else 0.0
        else:
            where = min(action.start + 40, action.length - 1)
            action.assumed.append("where the kick came down was not said; 40 yards taken")
    action.kick_end = action.gained = where
    action.fair_catch = outcome is Outcome.FAIR_CATCH
    if outcome is Outcome.OUT_OF_BOUNDS and free and not any(event.by is DEFENSE for event in play.events):
        action.out_of_bounds_kick = action.loose = True
        action.dead = told[-1] if told else where
        return
    unreturned = spot is None and not play.events and outcome is not Outcome.RETURNED
    if where >= action.length and play.possession is not OFFENSE and play.score is None and (
        unreturned or rulebook.kick_dead_at_goal_line
    ):
        if rulebook.single_point and not free and unreturned:
            action.score = Score.SINGLE
            action.dead = where
            return
        if outcome is None and not rulebook.kick_dead_at_goal_line:
            action.assumed.append("not returned from the end zone; a touchback")
        if spot is not None and spot < action.length:
            action.problems.append("a kick across the goal line is dead there; the return cannot count")
        action.touchback, action.dead = True, where
        return
    if play.events:
        where, _ = _events(action, rulebook, _NOTHING, play, where)
    elif outcome is Outcome.MUFFED and play.possession is None:
        action.assumed.append("who recovered the muff was not said; the receivers taken")
    _finish(action, play, where)
    if outcome in (Outcome.DOWNED, Outcome.OUT_OF_BOUNDS):
        action.loose = True


def _kept_behind_line(action: Action, play: Play) -> bool:
    """Did the kickers recover a scrimmage kick that fell short of the line? Then it is as if it had been blocked."""
    return play.kick_to is not None and play.kick_to < action.start and (
        play.possession is OFFENSE or any(event.kind in _GAINS and event.by is OFFENSE for event in play.events))


def _blocked(action: Action, rulebook: Rulebook, play: Play) -> None:
    """A blocked scrimmage kick: a loose ball that either team may advance behind the line."""
    where = play.kick_to if play.kick_to is not None else play.spot
    if where is None:
        where = action.start - (7 if play.kind is PlayKind.FIELD_GOAL else 0)
        if not play.events and play.score is None:
            action.assumed.append("where the blocked kick was recovered was not said")
    action.holder, action.changed, action.gained = OFFENSE, False, where
    if play.events:
        where, _ = _events(action, rulebook, _NOTHING, play, where)
    said = any(event.by is not None or event.kind is EventKind.OUT_OF_BOUNDS for event in play.events)
    if play.possession is None and not said:
        action.holder, action.changed = DEFENSE, True
        action.assumed.append("who recovered was not said; the defense taken")
    _finish(action, play, where)
    action.kick_end = action.gained
    action.never_crossed = action.gained <= action.start


def _field_goal(action: Action, rulebook: Rulebook, before: Situation, play: Play) -> None:
    action.kick, action.first_end = True, action.start
    outcome = play.outcome
    if outcome is Outcome.GOOD or play.score is Score.FIELD_GOAL:
        action.score, action.scorer = Score.FIELD_GOAL, OFFENSE
        return
    told = play.spot is not None or bool(play.events) or play.possession is not None
    if outcome is Outcome.BLOCKED and (told or play.kick_to is not None or play.score is not None):
        _blocked(action, rulebook, play)
        return
    if outcome is Outcome.BLOCKED:
        action.assumed.append("where the blocked kick went was not said; as a kick that missed")
    elif outcome is None:
        action.assumed.append("whether the kick was good was not said; no good taken")
    if told:  # it was played on
        where = play.kick_to if play.kick_to is not None else action.length
        action.holder, action.changed, action.kick_end, action.gained = DEFENSE, True, where, where
        if play.events:
            where, _ = _events(action, rulebook, _NOTHING, play, where)
        _finish(action, play, where)
        return
    action.missed = action.loose = action.changed = True
    action.holder = DEFENSE
    rule = rulebook.missed_field_goal
    if rule is MissedFieldGoal.PREVIOUS_SPOT or rule is MissedFieldGoal.SPOT_OF_KICK:
        spot = action.start
        free = before.next is Next.FAIR_CATCH_KICK or play.choice == "fair catch kick"
        if rule is MissedFieldGoal.SPOT_OF_KICK and not free:
            spot = play.kick_from if play.kick_from is not None else action.start - 7
            if play.kick_from is None:
                action.assumed.append("kicked from 7 yards behind the line")
        action.dead = min(spot, action.length - rulebook.missed_field_goal_least)
    elif play.kick_to is not None and play.kick_to < action.length:
        action.dead = play.kick_to
    else:
        action.dead = action.length
        if rulebook.single_point:
            action.score = Score.SINGLE
        else:
            action.touchback = True


def _try(action: Action, rulebook: Rulebook, before: Situation, play: Play) -> None:
    action.start = action.dead = try_spot(rulebook, before, play.kind)
    outcome = play.outcome
    action.kick = play.kind is PlayKind.TRY_KICK
    if outcome is Outcome.GOOD:
        action.score, action.scorer = (Score.FIELD_GOAL if action.kick else Score.TOUCHDOWN), OFFENSE
    elif outcome is Outcome.RETURNED:
        action.score, action.scorer, action.holder, action.changed = Score.TOUCHDOWN, DEFENSE, DEFENSE, True
        action.dead = 0.0
    elif action.kick and outcome is not None and rulebook.try_return_points and any(
            event.kind in _GAINS for event in play.events):
        _blocked(action, rulebook, play)    # elsewhere a kick that fails is dead
    elif outcome in (None, Outcome.COMPLETE, Outcome.INTERCEPTED) and (
            play.spot is not None or play.gain is not None or play.events):
        _scrimmage(action, rulebook, before, play)
    elif play.score is Score.SAFETY:    # whoever has the ball has it in his own end zone
        action.score, action.scorer = Score.SAFETY, (play.possession or DEFENSE).other
    elif play.score is not None and play.score is not Score.NONE:
        action.score, action.scorer = play.score, play.possession or OFFENSE
        if play.possession is DEFENSE:
            action.holder, action.changed, action.dead = DEFENSE, True, 0.0
    else:
        if outcome in (None, Outcome.COMPLETE):
            action.assumed.append("whether the try was good was not said; no good taken")
        action.score = Score.NONE
        action.loose = True


def try_spot(rulebook: Rulebook, before: Situation, kind: PlayKind) -> float:
    """Where a try is snapped: the situation names the usual spot, for a kick; a run or pass may have its own,
    moved by the same penalties."""
    length = rulebook.field_length
    if kind is PlayKind.TRY_KICK or rulebook.try_spot_kick == rulebook.try_spot_run or before.next is not Next.TRY:
        return before.ball_on
    spot = length - rulebook.try_spot_run
    if before.ball_on >= spot:
        return before.ball_on  # it was set by hand
    moved = before.ball_on - (length - rulebook.try_spot_kick)
    return spot + min(moved, rulebook.try_spot_run / 2)


def _score(action: Action, play: Play, held_kick_counts: bool) -> None:
    """Say what the dead ball scores: a person's word first, then the goal lines. *held_kick_counts*: it is a kick
    that scores a single where the receivers keep it in their end zone."""
    said, holder, dead, length = play.score, action.holder, action.dead, action.length
    if said is not None:
        action.score = said
        if said is Score.TOUCHDOWN:
            action.scorer = holder
        elif said is Score.SAFETY:
            action.scorer = DEFENSE if action.dead < length / 2 else OFFENSE
        elif said is Score.NONE:
            action.touchback = dead >= length if holder is DEFENSE else dead <= 0 and action.changed
        return
    if holder is OFFENSE:
        if dead >= length and not action.loose:
            action.score, action.scorer = Score.TOUCHDOWN, OFFENSE
        elif dead <= 0:
            if action.changed and action.gained <= 0:
                action.touchback = True
            else:
                action.score, action.scorer = Score.SAFETY, DEFENSE
    elif dead <= 0 and not action.loose:
        action.score, action.scorer = Score.TOUCHDOWN, DEFENSE
    elif dead >= length:
        if action.gained >= length and held_kick_counts:
            action.score = Score.SINGLE
        elif action.gained >= length:
            action.touchback = True
        else:
            action.score, action.scorer = Score.SAFETY, OFFENSE


_NOTHING = Situation()
