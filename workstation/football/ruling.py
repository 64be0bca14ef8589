"""What a play comes to: the score, who snaps or kicks next, where, and whether it is a new series.

A :class:`Ruling` is still told for the team that snapped or kicked; :func:`situation_after` turns it
into the next :class:`~.situation.Situation`.
"""

from __future__ import annotations

from .action import DEFENSE, FREE_KICKS, OFFENSE, Action
from .field import Team, spoken_spot, spoken_yards
from .plays import FoulDecision, Play, PlayKind, Score, Side
from .rulebook import Overtime, Rulebook
from .situation import Next, Situation

SHORTEST = 1 / 36  # an inch: what a ball that lies short of the line is short by at least
_ROUNDING = 1e-6


class Ruling:
    """What the play comes to. ``side`` snaps or kicks next at ``spot``; ``fresh``: it begins a new
    series; ``next_down``: the down it is otherwise. ``line`` is the line to gain of the series
    that goes on. ``lost_on_downs``: a turnover on downs. ``kickoff_moved``: as in the situation."""

    next = Next.SCRIMMAGE
    fresh = first_down = lost_on_downs = changed = new_drive = False
    next_down: int | None = None
    line: float | None = None
    offense_points = defense_points = 0
    result = ""
    kickoff_moved = 0.0

    def __init__(self, side: Side, spot: float) -> None:
        self.side = side
        self.spot = spot

    def begin_series(self) -> None:
        """Make it the first down of a new series."""
        self.fresh, self.next_down, self.line = True, 1, None

    def turn_over_on_downs(self) -> None:
        """Give the ball to the other team where it lies."""
        self.begin_series()
        self.side, self.lost_on_downs, self.changed, self.new_drive = DEFENSE, True, True, True
        self.result = "turnover on downs"


def line_to_gain(before: Situation, length: float) -> float:
    """The line to gain of the series under way, for the offense."""
    if before.goal_to_go or before.yards_to_gain is None:
        return length
    return min(before.ball_on + before.yards_to_gain, length)


def rule(rulebook: Rulebook, before: Situation, play: Play, action: Action) -> Ruling:
    """The ruling if there is no penalty."""
    if before.next is Next.TRY:
        return _rule_try(rulebook, before, action)
    ruling = _rule_play(rulebook, before, play, action)
    if action.touched_first is not None and all(foul.decision is FoulDecision.DECLINED for foul in play.fouls):
        return _where_touched_first(action.touched_first, ruling)
    return ruling


_TOUCHED_FIRST = "touched first by the kickers"


def _where_touched_first(spot: float, ruling: Ruling) -> Ruling:
    """The receivers take the ball where the kickers touched the kick first, unless the play gave them more.
    An accepted penalty cancels that privilege."""
    better = ruling.side is DEFENSE and (ruling.next is not Next.SCRIMMAGE or ruling.spot <= spot)
    if better and not ruling.offense_points:
        return ruling
    taken = Ruling(DEFENSE, spot)
    taken.begin_series()
    taken.changed = taken.new_drive = True
    taken.result = _TOUCHED_FIRST
    return taken


def _rule_play(rulebook: Rulebook, before: Situation, play: Play, action: Action) -> Ruling:
    score = action.score
    if score is not None and score is not Score.NONE:
        return _rule_score(rulebook, action)
    if action.touchback:
        return _rule_touchback(rulebook, play, action)
    if action.single:
        return _rule_single(rulebook, action)
    if action.holder is DEFENSE:
        return _rule_change(rulebook, play, action)
    if action.changed or play.kind in FREE_KICKS:
        ruling = Ruling(OFFENSE, action.dead)
        ruling.begin_series()
        ruling.new_drive = True
        ruling.result = "kicking team recovers" if action.kick else "ball won back"
        ruling.changed = play.kind in FREE_KICKS
        return ruling
    return count_down(rulebook, before, action.dead)


def again(rulebook: Rulebook, before: Situation, spot: float) -> Ruling:
    """The same down (or kick, or try) once more from *spot*."""
    ruling = Ruling(OFFENSE, spot)
    ruling.next, ruling.next_down = before.next, before.down
    ruling.line = line_to_gain(before, rulebook.field_length)
    ruling.kickoff_moved = before.kickoff_moved
    ruling.result = "down repeated" if before.next is Next.SCRIMMAGE else f"{before.next.value} again"
    return ruling


def count_down(rulebook: Rulebook, before: Situation, spot: float) -> Ruling:
    """The down is over at *spot* with the ball still the offense's: a first down, the next down,
    or the ball to the other team on downs."""
    ruling = Ruling(OFFENSE, spot)
    ruling.line = line_to_gain(before, rulebook.field_length)
    down = before.down or 1
    if spot >= ruling.line - _ROUNDING and spot < rulebook.field_length:
        ruling.begin_series()
        ruling.first_down = True
        ruling.result = "first down"
    elif down >= rulebook.downs:
        ruling.turn_over_on_downs()
    else:
        ruling.next_down = down + 1
        ruling.result = ""
    return ruling


def safety(rulebook: Rulebook, scorer: Side) -> Ruling:
    """A safety for *scorer*; the other team kicks off."""
    ruling = Ruling(scorer.other, 0.0)
    ruling.next, ruling.result, ruling.changed = Next.SAFETY_FREE_KICK, "safety", scorer is OFFENSE
    if scorer is OFFENSE:
        ruling.offense_points = rulebook.safety_points
    else:
        ruling.defense_points = rulebook.safety_points
    return ruling


def _rule_score(rulebook: Rulebook, action: Action) -> Ruling:
    scorer = action.scorer
    ruling = Ruling(scorer, 0.0)
    if action.score is Score.TOUCHDOWN:
        points, ruling.next, ruling.result = rulebook.touchdown_points, Next.TRY, "touchdown"
        from_goal = rulebook.try_spot_kick
        ruling.spot = rulebook.field_length - from_goal if scorer is OFFENSE else from_goal
    elif action.score is Score.SAFETY:
        return safety(rulebook, scorer)
    elif action.score is Score.SINGLE:
        return _rule_single(rulebook, action)
    else:
        points, ruling.next, ruling.result = rulebook.field_goal_points, Next.KICKOFF, "field goal"
    ruling.changed = ruling.side is DEFENSE
    if scorer is OFFENSE:
        ruling.offense_points = points
    else:
        ruling.defense_points = points
    return ruling


def _rule_single(rulebook: Rulebook, action: Action) -> Ruling:
    spot = rulebook.single_point_next_spot
    ruling = Ruling(DEFENSE, rulebook.field_length - (rulebook.touchback_spot if spot is None else spot))
    ruling.begin_series()
    ruling.offense_points, ruling.result = rulebook.single_point, "single point"
    ruling.changed = ruling.new_drive = True
    return ruling


def _rule_touchback(rulebook: Rulebook, play: Play, action: Action) -> Ruling:
    holder = action.holder
    if play.kind is PlayKind.KICKOFF and not _won_after_kick(action):
        spot = rulebook.kickoff_touchback_spot
        landed = rulebook.kickoff_touchback_after_landing_spot
        if landed is not None and action.kick_end is not None and action.kick_end < rulebook.field_length:
            spot = landed
    elif play.kind is PlayKind.SAFETY_FREE_KICK and not _won_after_kick(action):
        spot = rulebook.safety_free_kick_touchback_spot
    else:
        spot = rulebook.touchback_spot
    if action.missed:
        spot = max(spot, rulebook.missed_field_goal_least)
    ruling = Ruling(holder, spot if holder is OFFENSE else rulebook.field_length - spot)
    ruling.begin_series()
    ruling.changed = ruling.new_drive = holder is DEFENSE or action.changed
    ruling.result = "touchback"
    return ruling


def _won_after_kick(action: Action) -> bool:
    return action.holder is OFFENSE


def _rule_change(rulebook: Rulebook, play: Play, action: Action) -> Ruling:
    ruling = Ruling(DEFENSE, action.dead)
    ruling.begin_series()
    ruling.changed = ruling.new_drive = True
    length = rulebook.field_length
    if play.kind in FREE_KICKS:
        if action.out_of_bounds_kick:
            ruling.spot = free_kick_out_of_bounds(rulebook, action)
            ruling.result = "kick out of bounds"
        elif action.fair_catch:
            ruling.result = "fair catch"
            line = rulebook.kickoff_fair_catch_spot
            if line is not None and play.kind is PlayKind.KICKOFF:
                ruling.spot = min(ruling.spot, length - line)
        else:
            ruling.result = "returned" if action.dead != action.kick_end else "received"
    elif play.kind is PlayKind.PUNT and action.kick_end is not None:
        if action.fair_catch:
            ruling.result = "fair catch"
        elif action.loose:
            ruling.result = "punt dead"
        else:
            ruling.result = "punt returned" if action.dead != action.kick_end else "punt"
    elif play.kind is PlayKind.FIELD_GOAL:
        ruling.result = "field goal no good" if action.missed else "field goal stopped"
    else:
        ruling.result = "turnover, intercepted" if action.intercepted else "turnover, fumble lost"
    return ruling


def free_kick_out_of_bounds(rulebook: Rulebook, action: Action) -> float:
    """Where the receivers usually take a free kick that went out of bounds, for the kickers: the
    better for them of the fixed spot and, where the code has it, the spot where it went out with the penalty for it."""
    beyond = action.start + rulebook.kickoff_out_of_bounds_beyond
    if not rulebook.kickoff_out_of_bounds_at_spot:
        return beyond
    return min(beyond, action.dead - (rulebook.kickoff_out_of_bounds_foul_yards or 0))


def defense_in_extra_period(rulebook: Rulebook, action: Action, ruling: Ruling) -> Ruling:
    """Where the code lets the defense not score in an extra period, its series is over when it gains the ball."""
    if rulebook.overtime is not Overtime.SERIES or rulebook.overtime_defense_scores or ruling.next is not Next.TRY:
        return ruling
    dead = Ruling(DEFENSE, action.gained if action.gained is not None else action.start)
    dead.begin_series()
    dead.changed = dead.new_drive = True
    dead.result = "turnover, dead where the defense gained it"
    return dead


def choices_of(rulebook: Rulebook, action: Action, ruling: Ruling) -> tuple[str, ...]:
    """What else the rules would have allowed without any foul; the usual was taken."""
    choices: list[str] = []
    if action.touched_first is not None:
        where = spoken_spot(rulebook.field_length - action.touched_first, rulebook.field_length)
        taken = ruling.result == _TOUCHED_FIRST
        choices.append("the play as it ended" if taken else f"the receivers' ball where it was touched first, {where}")
    if action.out_of_bounds_kick:
        back = rulebook.kickoff_out_of_bounds_foul_yards
        if rulebook.kickoff_out_of_bounds_at_spot:
            fixed = action.start + rulebook.kickoff_out_of_bounds_beyond
            other = fixed if ruling.spot != fixed else action.dead - (back or 0)
            choices.append(f"the receivers' ball at {spoken_spot(rulebook.field_length - other, rulebook.field_length)}")
        if back:
            choices.append(f"kicked again from {spoken_yards(back)} back")
    elif action.fair_catch and rulebook.fair_catch_kick and ruling.next is Next.SCRIMMAGE:
        choices.append("a free kick for goal from the spot of the catch")
    elif ruling.result == "field goal" and rulebook.field_goal_scrimmage_spot is not None:
        where = spoken_spot(rulebook.field_goal_scrimmage_spot, rulebook.field_length)
        choices.append(f"the team scored upon snaps at its {where} instead")
    return tuple(choices)


def _rule_try(rulebook: Rulebook, before: Situation, action: Action) -> Ruling:
    """A try is over: the team that scored the touchdown kicks off, whoever scored on the try."""
    ruling = Ruling(OFFENSE, 0.0)
    ruling.next = Next.KICKOFF
    ruling.kickoff_moved = before.kickoff_moved
    score = action.score
    if score is Score.FIELD_GOAL or score is Score.TOUCHDOWN:
        if action.scorer is DEFENSE:
            ruling.defense_points, ruling.result = rulebook.try_return_points, "try returned"
            if not rulebook.try_return_points:
                ruling.result = "try no good"
        elif action.kick_good:
            ruling.offense_points, ruling.result = rulebook.try_kick_points, "try good"
        else:
            ruling.offense_points, ruling.result = rulebook.try_run_points, "two-point try good"
            if rulebook.try_run_points != 2:
                ruling.result = "try good"
    elif score is Score.SAFETY:
        ruling.result = "safety on the try"
        if action.scorer is OFFENSE:
            ruling.offense_points = rulebook.try_safety_points
        else:
            ruling.defense_points = rulebook.try_safety_points
    else:
        ruling.result = "try no good"
    return ruling


def situation_after(rulebook: Rulebook, before: Situation, ruling: Ruling) -> Situation:
    """The situation that *ruling* leaves."""
    offense = before.offense
    side = ruling.side
    team = offense if side is OFFENSE else offense.opponents
    length = rulebook.field_length
    home, visitors = before.score_home, before.score_visitors
    if offense is Team.HOME:
        home += ruling.offense_points
        visitors += ruling.defense_points
    else:
        home += ruling.defense_points
        visitors += ruling.offense_points
    spot = ruling.spot if side is OFFENSE else length - ruling.spot
    next_, series, drive = ruling.next, before.series, before.drive
    down = to_gain = None
    goal, moved = False, 0.0
    if next_ is Next.SCRIMMAGE:
        least = rulebook.snap_least_from_goal or SHORTEST
        spot = min(max(spot, least), length - least)
        down = ruling.next_down
        to_goal = length - spot
        if ruling.fresh:
            series += 1
            if ruling.new_drive:
                drive += 1
            goal = to_goal <= rulebook.yards_to_gain + _ROUNDING
            to_gain = to_goal if goal else rulebook.yards_to_gain
        else:
            line = ruling.line
            goal = before.goal_to_go or line >= length
            to_gain = to_goal if goal else max(line - spot, SHORTEST)
    elif next_ is Next.KICKOFF:
        moved = ruling.kickoff_moved
        spot = rulebook.kickoff_spot + moved
    elif next_ is Next.SAFETY_FREE_KICK:
        spot = rulebook.safety_free_kick_spot + ruling.kickoff_moved
    elif next_ is Next.TRY:
        moved = ruling.kickoff_moved
    if next_ is not Next.OVER:
        spot = min(max(spot, SHORTEST), length - SHORTEST)
    return Situation(
        next_, team, down, to_gain, spot, goal, before.period, before.clock, home, visitors, series, drive,
        before.timeouts_home, before.timeouts_visitors, before.second_half_kicker, before.home_faces_right,
        moved, before.extra_first, before.extra_turn,
    )
