"""What became of the ball on punts, free kicks and field goals."""

from __future__ import annotations

from .action import DEFENSE, FREE_KICKS, GAINS, OFFENSE, BallMovement
from .ball_path import finish, follow, read_touching
from .plays import BallEvent, EventKind, Outcome, Play, PlayKind, Score
from .rulebook import MissedFieldGoal, Rulebook
from .ruling import line_to_gain
from .situation import Next, Situation


def read_kick(action: BallMovement, rulebook: Rulebook, before: Situation, play: Play) -> None:
    """Read a punt or a free kick."""
    events = _begin(action, rulebook, play)
    outcome = play.outcome
    if _goes_out(action, play):
        outcome = Outcome.OUT_OF_BOUNDS
    if outcome is Outcome.BLOCKED or (not action.free and _kept_behind_line(action, play, events)):
        read_blocked(action, rulebook, before, play, events)
        return
    where = _came_down(action, play, events)
    if outcome is Outcome.TOUCHBACK:
        action.touchback, action.dead, action.kick_end = True, where, where
        return
    if _short_of_landing_zone(action, rulebook, play, events, where):
        return
    action.kick_end = action.gained = where
    action.fair_catch = outcome is Outcome.FAIR_CATCH
    if (crossed := _across_goal_line(action, rulebook, outcome, events, where)) is not None:
        action.touchback, action.dead, action.kick_end = True, crossed, crossed
        return
    if not action.touched and action.free and outcome is Outcome.OUT_OF_BOUNDS:
        action.dead, _ = follow(action, rulebook, before, play, events, where)
        action.out_of_bounds_kick = action.loose = True
        return
    if _dead_in_end_zone(action, rulebook, play, outcome, where):
        return
    held = False
    if events:
        where, held = follow(action, rulebook, before, play, events, where)
        if events[-1].kind is EventKind.MUFF and events[-1].by is OFFENSE and play.kick_to is not None:
            where = play.kick_to  # it rolled on and came to rest
    elif outcome is Outcome.MUFFED and play.possession is None:
        action.assumed.append("who recovered the muff was not said; the receivers taken")
    elif outcome not in (Outcome.MUFFED, Outcome.OUT_OF_BOUNDS) and where < action.length:
        action.force = DEFENSE  # the receivers carried it on
    if action.fair_catch:
        where, held = _fair_catch_spot(play, where), True
    finish(action, play, where, held)
    if outcome in (Outcome.DOWNED, Outcome.OUT_OF_BOUNDS):
        action.loose = True


def _begin(action: BallMovement, rulebook: Rulebook, play: Play) -> tuple[BallEvent, ...]:
    """Set the action up for a kick; returns its events, with a recovery that only ``possession`` tells of."""
    action.kick = action.in_kick = True
    action.holder, action.changed, action.free = DEFENSE, True, play.kind in FREE_KICKS
    action.touched = play.outcome in (Outcome.MUFFED, Outcome.RETURNED, Outcome.FAIR_CATCH) and not play.events
    events = play.events
    if play.possession is OFFENSE and play.score is not Score.TOUCHDOWN and play.outcome in (None, Outcome.DOWNED) \
            and not any(event.kind in GAINS for event in events):
        taken = play.kick_to if play.kick_to is not None else play.spot
        events = (*events, BallEvent(EventKind.RECOVERY, taken, OFFENSE))
    read_touching(action, rulebook, play, events)
    if play.outcome is Outcome.MUFFED and not any(event.kind is EventKind.MUFF for event in events):
        action.touched, action.touches = True, []
    return events


def _goes_out(action: BallMovement, play: Play) -> bool:
    """Whether a free kick without a said outcome went out of bounds, as its foul or its last event says."""
    return action.free and play.outcome is None and (
        any(foul.name == "kickoff out of bounds" for foul in play.fouls)
        or (not action.touched and bool(play.events) and play.events[-1].kind is EventKind.OUT_OF_BOUNDS))


def _came_down(action: BallMovement, play: Play, events: tuple[BallEvent, ...]) -> float:
    """Where the kick came down, as said first."""
    told = [at for at in (play.kick_to, *(event.spot for event in events), play.spot) if at is not None]
    if told:
        return told[0]
    if play.outcome is Outcome.TOUCHBACK:
        return action.length
    if play.score is Score.TOUCHDOWN:
        return action.length if play.possession is OFFENSE else 0.0
    action.assumed.append("where the kick came down was not said; 40 yards taken")
    return min(action.start + 40, action.length - 1)


def _short_of_landing_zone(action: BallMovement, rulebook: Rulebook, play: Play, events: tuple[BallEvent, ...],
                           where: float
                           ) -> bool:
    """Settle a kickoff that died before the zone in which it must come down (NFL 6-1, from 2024)."""
    zone = rulebook.kickoff_landing_zone
    if zone is None or play.kind is not PlayKind.KICKOFF or events or play.outcome not in (None, Outcome.DOWNED) \
            or play.possession is not None or where >= action.length - zone:
        return False
    action.dead = action.kick_end = action.gained = min(where, action.start + rulebook.kickoff_out_of_bounds_beyond)
    return True


def _across_goal_line(action: BallMovement, rulebook: Rulebook, outcome: Outcome | None, events: tuple[BallEvent, ...],
                      where: float) -> float | None:
    """Where a kick crossed the receivers' goal line and was dead or went out of bounds there; None if it was not. In
    every code that is so for a free kick that goes out untouched, in some for any loose kick."""
    if action.free and outcome is Outcome.OUT_OF_BOUNDS and not action.touched and where >= action.length:
        return where
    if not rulebook.kick_dead_at_goal_line:
        return None
    for event in events:
        if event.spot is not None and event.spot >= action.length:
            return event.spot
        if event.kind in GAINS or event.kind is EventKind.OUT_OF_BOUNDS:
            return None
    return None


def _dead_in_end_zone(action: BallMovement, rulebook: Rulebook, play: Play, outcome: Outcome | None,
                      where: float) -> bool:
    """Settle a kick that came down behind the receivers' goal line and was not run out, or could not be."""
    unreturned = play.spot is None and not play.events and outcome is not Outcome.RETURNED
    dead = where >= action.length and play.possession is not OFFENSE and play.score is None and (
        unreturned or rulebook.kick_dead_at_goal_line)
    if dead:
        action.dead = where
        if outcome is None and not rulebook.kick_dead_at_goal_line and not rulebook.single_point:
            action.assumed.append("not returned from the end zone; a touchback")
        if play.spot is not None and play.spot < action.length:
            action.problems.append("a kick across the goal line is dead there; the return cannot count")
    return dead


def _fair_catch_spot(play: Play, where: float) -> float:
    """Where a fair catch counts: where its signaller first touched a kick that he muffed (NCAA 6-4-1, A.R. VII)."""
    muffed = [event.spot for event in play.events if event.kind is EventKind.MUFF and event.by is not OFFENSE]
    caught = any(event.kind is EventKind.OWN_RECOVERY for event in play.events)
    return muffed[0] if caught and muffed and muffed[0] is not None else where


def _kept_behind_line(action: BallMovement, play: Play, events: tuple[BallEvent, ...]) -> bool:
    """Did the kickers recover a scrimmage kick in or behind the line, as if blocked (NFHS 6-2-3, NCAA 6-3-1)?"""
    for event in events:
        if event.kind in GAINS:
            spot = event.spot if event.spot is not None else play.kick_to
            return event.by is OFFENSE and spot is not None and spot <= action.start and not action.touched
    return play.possession is OFFENSE and play.kick_to is not None and play.kick_to <= action.start


def read_blocked(action: BallMovement, rulebook: Rulebook, before: Situation, play: Play, events: tuple[BallEvent, ...]
                 ) -> None:
    """Read a scrimmage kick that stayed or came back behind the line, where either team may advance it."""
    where = play.kick_to if play.kick_to is not None else play.spot
    if where is None:
        where = action.start - (7 if play.kind is PlayKind.FIELD_GOAL else 0)
        if not events and play.score is None:
            action.assumed.append("where the blocked kick was recovered was not said")
    action.holder, action.changed, action.gained, action.in_kick = OFFENSE, False, where, True
    where, held = follow(action, rulebook, before, play, events, where)
    said = any((event.by is not None and event.kind in GAINS) or event.kind is EventKind.OUT_OF_BOUNDS
               for event in events)
    if play.possession is None and not said:
        action.holder, action.changed = DEFENSE, True
        action.assumed.append("who recovered was not said; the defense taken")
    finish(action, play, where, held)
    action.kick_end = action.gained
    crossed = (play.kick_to is not None and play.kick_to > action.start) or any(
        event.kind is EventKind.LANDING and event.spot is not None and event.spot > action.start for event in events)
    action.never_crossed = action.gained <= action.start and not crossed
    if crossed and action.holder is OFFENSE and not action.changed and before.down_number >= rulebook.downs \
            and 0 < action.dead < line_to_gain(before, action.length):
        action.holder, action.changed, action.short_on_last_down = DEFENSE, True, True


def read_try_kick(action: BallMovement, rulebook: Rulebook, before: Situation, play: Play) -> None:
    """Read a try kick that was played on or became dead loose."""
    if play.possession is None and play.score is None and not any(event.kind in GAINS for event in play.events):
        action.score = Score.NONE
        return
    read_blocked(action, rulebook, before, play, _begin(action, rulebook, play))


def read_field_goal(action: BallMovement, rulebook: Rulebook, before: Situation, play: Play) -> None:
    """Read a field goal: good, played on, or missed."""
    outcome = play.outcome
    if outcome is Outcome.GOOD or play.score is Score.FIELD_GOAL:
        action.kick, action.score, action.scorer = True, Score.FIELD_GOAL, OFFENSE
        return
    events = _begin(action, rulebook, play)
    rest = _rested(action, play, events)
    told = bool(events) or action.touched or play.possession is not None or play.score is not None or (
        play.spot is not None and play.spot != play.kick_to)
    blocked = outcome is Outcome.BLOCKED and (told or play.kick_to is not None)
    came_back = bool(events) and rest is not None and rest <= action.start
    if blocked or came_back or _kept_behind_line(action, play, events):
        read_blocked(action, rulebook, before, play, events)
        return
    if outcome is Outcome.BLOCKED:
        action.assumed.append("where the blocked kick went was not said; as a kick that missed")
    elif outcome is None:
        action.assumed.append("whether the kick was good was not said; no good taken")
    if told and rest is None:
        _played_on(action, rulebook, before, play, events)
    else:
        _missed(action, rulebook, before, play, rest if events else play.kick_to)


def _rested(action: BallMovement, play: Play, events: tuple[BallEvent, ...]) -> float | None:
    """Where a kick that the receivers never touched became dead; None if they did touch it or the spot was not said."""
    carried = not events and play.spot is not None and play.spot != play.kick_to
    if action.touched or carried or play.possession is DEFENSE or play.score is not None \
            or play.outcome is Outcome.RETURNED:
        return None
    spots = [event.spot for event in events if event.spot is not None]
    if play.kick_to is not None and (not events or events[-1].kind is EventKind.FORCED_TOUCHING):
        return play.kick_to
    return spots[-1] if spots else None


def _played_on(action: BallMovement, rulebook: Rulebook, before: Situation, play: Play, events: tuple[BallEvent, ...]
               ) -> None:
    """The receivers took a field goal that fell short or was blocked, and ran with it or kept it."""
    where = play.kick_to if play.kick_to is not None else action.length
    action.kick_end = action.gained = where
    action.fair_catch = play.outcome is Outcome.FAIR_CATCH
    held = False
    if events:
        where, held = follow(action, rulebook, before, play, events, where)
    elif where < action.length:
        action.force = DEFENSE
    finish(action, play, where, held)


def _missed(action: BallMovement, rulebook: Rulebook, before: Situation, play: Play, kick_to: float | None) -> None:
    """An untouched field goal that missed."""
    action.missed = action.loose = True
    rule = rulebook.missed_field_goal
    if rule is MissedFieldGoal.PREVIOUS_SPOT or rule is MissedFieldGoal.SPOT_OF_KICK:
        spot = action.start
        free = before.next is Next.FAIR_CATCH_KICK or play.choice == "fair catch kick"
        if rule is MissedFieldGoal.SPOT_OF_KICK and not free:
            spot = play.kick_from if play.kick_from is not None else action.start - 7
            if play.kick_from is None:
                action.assumed.append("kicked from 7 yards behind the line")
        action.dead = min(spot, action.length - rulebook.missed_field_goal_least)
    else:
        action.dead = action.length if kick_to is None else kick_to
