"""What a play comes to: the score, who snaps or kicks next, where, and whether it is a new series.

The spots of a :class:`Ruling` are those of the team that snapped or kicked; :func:`situation_after` turns it into the
next :class:`~.situation.Situation`.
"""

from __future__ import annotations

from .action import DEFENSE, FREE_KICKS, OFFENSE, BallMovement
from .field import Team, spoken_spot, spoken_yards
from .plays import Play, PlayKind, Score, Side
from .rulebook import Overtime, Rulebook
from .situation import Next, Situation

SHORTEST = 1 / 36  # yards, an inch: the least by which a ball is short of the line
_ROUNDING = 1e-6


class Ruling:
    """What the play comes to. ``side`` snaps or kicks next at ``spot`` (a free kick: where the rulebook
    has it). ``fresh``: it begins a new series, of the drive under way if that was a ``first_down``;
    ``next_down``: the down it is otherwise. ``line`` is the line to gain of the series that goes on.
    ``kickoff_moved``: as in the situation."""

    next = Next.SCRIMMAGE
    fresh = first_down = False
    next_down = 0
    line: float     # used only if no new series begins
    offense_points = defense_points = 0
    result = ""
    kickoff_moved = 0.0

    def __init__(self, side: Side, spot: float = 0.0) -> None:
        self.side = side
        self.spot = spot

    def begin_series(self, result: str, first_down: bool = False) -> Ruling:
        """Make it the first down of a new series."""
        self.fresh, self.next_down = True, 1
        self.result, self.first_down = result, first_down
        return self

    def same_as(self, other: Ruling) -> bool:
        """Whether it equals *other* apart from what is carried over to the kickoff."""
        return (self.next, self.side, self.spot, self.result) == (other.next, other.side, other.spot, other.result)

    def turn_over_on_downs(self) -> Ruling:
        """Give the ball to the other team where it lies."""
        self.side = DEFENSE
        return self.begin_series("turnover on downs")


def free_kick_spot(rulebook: Rulebook, due: Next) -> float:
    """The spot of the next kickoff, or of the free kick after a safety, if no penalty moves it."""
    return rulebook.safety_free_kick_spot if due is Next.SAFETY_FREE_KICK else rulebook.kickoff_spot


def line_to_gain(before: Situation, length: float) -> float:
    """The line to gain of the series under way, for the offense."""
    if before.goal_to_go or before.yards_to_gain is None:
        return length
    return min(before.snap_on + before.yards_to_gain, length)


def rule(rulebook: Rulebook, before: Situation, play: Play, action: BallMovement) -> Ruling:
    """The ruling if there is no penalty."""
    if before.next is Next.TRY:
        return _rule_try(rulebook, before, action)
    ruling = _rule_play(rulebook, before, play, action)
    return ruling if play.fouls else privileged(rulebook, action, ruling)


_TOUCHED_FIRST = "touched first by the kickers"


def first_touching_spot(rulebook: Rulebook, action: BallMovement) -> float | None:
    """Where the receivers may take a kick that the kickers touched while it was not theirs: the best of the places for
    them; a touch in their end zone is a touchback (NCAA 6-3-2, 6-3-11)."""
    if not action.touches:
        return None
    length = rulebook.field_length
    return min(length - rulebook.touchback_spot if spot >= length else spot for spot in action.touches)


def privileged(rulebook: Rulebook, action: BallMovement, ruling: Ruling) -> Ruling:
    """*ruling*, unless the receivers are better off where the kickers touched the kick first. Call it only where no
    penalty is accepted: an accepted one cancels this privilege."""
    spot = first_touching_spot(rulebook, action)
    if spot is None:
        return ruling
    better = ruling.side is DEFENSE and (ruling.next is not Next.SCRIMMAGE or ruling.spot <= spot)
    if better and not ruling.offense_points:
        return ruling
    return Ruling(DEFENSE, spot).begin_series(_TOUCHED_FIRST)


def _rule_play(rulebook: Rulebook, before: Situation, play: Play, action: BallMovement) -> Ruling:
    score = action.score
    if score is not None and score is not Score.NONE:
        return _rule_score(rulebook, action)
    if action.touchback:
        return _rule_touchback(rulebook, play, action)
    if action.holder is DEFENSE:
        return _rule_change(rulebook, before, play, action)
    if action.changed or play.kind in FREE_KICKS:
        goes_on = action.kick and before.period > rulebook.periods     # the receivers never had it (NCAA 3-1-3)
        result = "kicking team recovers" if action.kick else "ball won back"
        return Ruling(OFFENSE, action.dead).begin_series(result, first_down=goes_on)
    return count_down(rulebook, before, action.dead)


def again(rulebook: Rulebook, before: Situation, spot: float) -> Ruling:
    """The ruling that the same down (or kick, or try) is played again from *spot*."""
    ruling = Ruling(OFFENSE, spot)
    ruling.next, ruling.next_down = before.next, before.down or 0
    ruling.line = line_to_gain(before, rulebook.field_length)
    ruling.kickoff_moved = before.kickoff_moved
    ruling.result = "down repeated" if before.next is Next.SCRIMMAGE else f"{before.next.value} again"
    return ruling


def reaches(spot: float, line: float) -> bool:
    """Does the ball on *spot* reach the *line* to gain?"""
    return spot >= line - _ROUNDING


def count_down(rulebook: Rulebook, before: Situation, spot: float) -> Ruling:
    """The down is over at *spot*, the ball still the offense's: a first down, the next down, or over on downs."""
    ruling = Ruling(OFFENSE, spot)
    ruling.line = line_to_gain(before, rulebook.field_length)
    down = before.down_number
    if reaches(spot, ruling.line) and spot < rulebook.field_length:
        return ruling.begin_series("first down", first_down=True)
    if down >= rulebook.downs:
        return ruling.turn_over_on_downs()
    ruling.next_down = down + 1
    return ruling


def safety(rulebook: Rulebook, scorer: Side) -> Ruling:
    """A safety for *scorer*; the other team kicks off."""
    ruling = Ruling(scorer.other)
    ruling.next, ruling.result = Next.SAFETY_FREE_KICK, "safety"
    if scorer is OFFENSE:
        ruling.offense_points = rulebook.safety_points
    else:
        ruling.defense_points = rulebook.safety_points
    return ruling


def _rule_score(rulebook: Rulebook, action: BallMovement) -> Ruling:
    scorer = action.scorer or OFFENSE
    ruling = Ruling(scorer)
    if action.score is Score.TOUCHDOWN:
        points, ruling.next, ruling.result = rulebook.touchdown_points, Next.TRY, "touchdown"
        from_goal = rulebook.try_spot_kick
        ruling.spot = rulebook.field_length - from_goal if scorer is OFFENSE else from_goal
    elif action.score is Score.SAFETY:
        return safety(rulebook, scorer)
    elif action.score is Score.SINGLE:
        return _rule_single(rulebook)
    else:
        points, ruling.next, ruling.result = rulebook.field_goal_points, Next.KICKOFF, "field goal"
    if scorer is OFFENSE:
        ruling.offense_points = points
    else:
        ruling.defense_points = points
    return ruling


def _rule_single(rulebook: Rulebook) -> Ruling:
    spot = rulebook.single_point_next_spot
    ruling = Ruling(DEFENSE, rulebook.field_length - (rulebook.touchback_spot if spot is None else spot))
    ruling.offense_points = rulebook.single_point
    return ruling.begin_series("single point")


def _rule_touchback(rulebook: Rulebook, play: Play, action: BallMovement) -> Ruling:
    holder = action.holder
    if holder is OFFENSE or play.kind not in FREE_KICKS:
        spot = rulebook.touchback_spot
    elif play.kind is PlayKind.SAFETY_FREE_KICK:
        spot = rulebook.safety_free_kick_touchback_spot
    else:
        spot = rulebook.kickoff_touchback_spot
        landed = rulebook.kickoff_touchback_after_landing_spot
        if landed is not None and action.kick_end is not None and action.kick_end < rulebook.field_length:
            spot = landed
    return Ruling(holder, spot if holder is OFFENSE else rulebook.field_length - spot).begin_series("touchback")


def _rule_change(rulebook: Rulebook, before: Situation, play: Play, action: BallMovement) -> Ruling:
    spot, returned = action.dead, action.dead != action.kick_end
    if action.out_of_bounds_kick:
        spot, result = min(out_of_bounds_spots(rulebook, before, action)), "kick out of bounds"
    elif action.fair_catch:
        result, line = "fair catch", rulebook.kickoff_fair_catch_spot
        if line is not None and play.kind is PlayKind.KICKOFF:
            spot = min(spot, rulebook.field_length - line)
    elif play.kind in FREE_KICKS:
        result = "returned" if returned else "received"
    elif action.short_on_last_down or (
            action.kick and action.never_crossed and action.loose and before.down_number >= rulebook.downs):
        result = "turnover on downs"
    elif play.kind is PlayKind.PUNT:
        result = "punt dead" if action.loose else "punt returned" if returned else "punt"
    elif play.kind is PlayKind.FIELD_GOAL:
        result = "field goal no good" if action.missed else "field goal stopped"
    else:
        result = "turnover, intercepted" if action.intercepted else "turnover, fumble lost"
    return Ruling(DEFENSE, spot).begin_series(result)


def out_of_bounds_spots(rulebook: Rulebook, before: Situation, action: BallMovement) -> tuple[float, float]:
    """Where the receivers may take a free kick that went out of bounds: the fixed spot, and the spot where it
    went out, with the penalty for it where the code has one. They usually take the better."""
    beyond = rulebook.safety_free_kick_out_of_bounds_beyond if before.next is Next.SAFETY_FREE_KICK \
        else rulebook.kickoff_out_of_bounds_beyond
    return (action.start + beyond, action.dead - (rulebook.kickoff_out_of_bounds_foul_yards or 0))


def defense_in_extra_period(rulebook: Rulebook, action: BallMovement, ruling: Ruling) -> Ruling:
    """Where the code lets the defense not score in an extra period, its series is over when it gains the ball."""
    if rulebook.overtime is not Overtime.SERIES or rulebook.overtime_defense_scores or ruling.next is not Next.TRY:
        return ruling
    return Ruling(DEFENSE, action.gained).begin_series("turnover, dead where the defense gained it")


def choices_of(rulebook: Rulebook, before: Situation, action: BallMovement, ruling: Ruling) -> tuple[str, ...]:
    """What else the rules would have allowed without any foul; the usual was taken."""
    choices: list[str] = []
    touched_first = first_touching_spot(rulebook, action)
    if touched_first is not None and action.dead != touched_first:
        where = spoken_spot(rulebook.field_length - touched_first, rulebook.field_length)
        taken = ruling.result == _TOUCHED_FIRST
        choices.append("the play as it ended" if taken else f"the receivers' ball where it was touched first, {where}")
    if action.out_of_bounds_kick:
        other = max(out_of_bounds_spots(rulebook, before, action))
        choices.append(f"the receivers' ball at {spoken_spot(rulebook.field_length - other, rulebook.field_length)}")
        if back := rulebook.kickoff_out_of_bounds_foul_yards:
            choices.append(f"kicked again from {spoken_yards(back)} back")
    elif _may_be_momentum(action):
        where = spoken_spot(rulebook.field_length - action.gained, rulebook.field_length)
        choices.append(f"momentum took him into the end zone: the ball at {where}")
    elif action.fair_catch and rulebook.fair_catch_kick and ruling.next is Next.SCRIMMAGE:
        choices.append("a free kick for goal from the spot of the catch")
    elif ruling.result == "field goal" and rulebook.field_goal_scrimmage_spot is not None:
        where = spoken_spot(rulebook.field_goal_scrimmage_spot, rulebook.field_length)
        choices.append(f"the team scored upon snaps at its {where} instead")
    if ruling.next is Next.KICKOFF and before.next is not Next.KICKOFF and before.period <= rulebook.periods \
            and not rulebook.kickoff_by_scoring_team:
        choices.append("the team scored upon kicks off itself")
    return tuple(choices)


def _may_be_momentum(action: BallMovement) -> bool:
    """Did the defense gain the ball so near its goal line that its momentum may have carried it into its end zone?"""
    return (action.score is Score.SAFETY and action.scorer is OFFENSE and action.return_end is None
            and action.length - _MOMENTUM_WITHIN <= action.gained < action.length)


_MOMENTUM_WITHIN = 5   # yards from the goal line (NCAA 8-5-1; NFHS 8-5-2)


def _rule_try(rulebook: Rulebook, before: Situation, action: BallMovement) -> Ruling:
    """A try is over: the team that scored the touchdown kicks off, whoever scored on the try."""
    ruling = Ruling(OFFENSE)
    ruling.next, ruling.kickoff_moved = Next.KICKOFF, before.kickoff_moved
    score = action.score
    if score is Score.FIELD_GOAL or score is Score.TOUCHDOWN:
        if action.scorer is DEFENSE:
            ruling.defense_points = rulebook.try_return_points
            ruling.result = "try returned" if ruling.defense_points else "try no good"
        elif score is Score.FIELD_GOAL:
            ruling.offense_points, ruling.result = rulebook.try_kick_points, "try good"
        else:
            ruling.offense_points = rulebook.try_run_points
            ruling.result = "two-point try good" if ruling.offense_points == 2 else "try good"
    elif score is Score.SAFETY:
        ruling.result = "safety on the try"
        if action.scorer is OFFENSE:
            ruling.offense_points = rulebook.try_safety_points
        elif rulebook.try_return_points:
            ruling.defense_points = rulebook.try_safety_points
        else:
            ruling.result = "try no good"   # only the team that tries may score
    else:
        ruling.result = "try no good"
    return ruling


def situation_after(rulebook: Rulebook, before: Situation, ruling: Ruling) -> Situation:
    """The situation that *ruling* leaves."""
    offense = before.snaps
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
    next_, series, drive = ruling.next, before.series, before.drive
    if next_ is Next.KICKOFF or next_ is Next.SAFETY_FREE_KICK:
        spot = free_kick_spot(rulebook, next_) + ruling.kickoff_moved
    else:
        spot = ruling.spot if side is OFFENSE else length - ruling.spot
    least = (next_ is Next.SCRIMMAGE and rulebook.snap_least_from_goal) or SHORTEST
    spot = min(max(spot, least), length - least)
    down, to_gain, goal = ruling.next_down or None, None, False
    if next_ is Next.SCRIMMAGE:
        to_goal = length - spot
        if ruling.fresh:
            series += 1
            drive += not ruling.first_down
            goal = to_goal <= rulebook.yards_to_gain + _ROUNDING
            to_gain = to_goal if goal else rulebook.yards_to_gain
        else:
            goal = ruling.line >= length
            to_gain = max(ruling.line - spot, SHORTEST)
    return Situation(next_, team, down, to_gain, spot, goal, before.period, before.clock, home, visitors, series, drive,
                     before.timeouts_home, before.timeouts_visitors, before.second_half_kicker, before.home_faces_right,
                     ruling.kickoff_moved, before.extra_first, before.extra_turn)
