"""Between the plays: the toss, timeouts, the ends of periods, which way the teams face."""

from __future__ import annotations

from dataclasses import replace

from .field import Team
from .plays import Play
from .rulebook import Overtime, Rulebook
from .situation import Next, Situation

# What the winner of the toss may say, and whether his team then kicks off first.
_KICKS = {"receive": False, "ball": False, "offense": False, "kick": True, "defend": True, "defense": True,
          "defer": True}


def _called(team: Team) -> str:
    return "the home team" if team is Team.HOME else "the visitors"


def opening(rulebook: Rulebook) -> Situation:
    """The situation before anything has happened."""
    return Situation(timeouts_home=rulebook.timeouts, timeouts_visitors=rulebook.timeouts)


def toss(rulebook: Rulebook, before: Situation, play: Play) -> tuple[Situation, str, list[str], list[str]]:
    """Settle who kicks off. Returns the situation, what is said of it, assumptions and problems."""
    assumed: list[str] = []
    problems: list[str] = []
    winner = play.team
    if winner is None:
        problems.append("a coin toss needs the team that won it")
        winner = Team.HOME
    choice = (play.choice or "").strip().lower()
    if choice not in _KICKS:
        if choice:
            problems.append(f"{choice!r} is no choice after a toss; say receive, kick, defer or defend")
        else:
            assumed.append("the choice was not said; receive taken")
        choice = "receive"
    extra = before.period > rulebook.periods
    if choice == "defer" and (extra or not rulebook.toss_may_defer):
        problems.append("the choice cannot be deferred here")
    kicks = _KICKS[choice]
    kicker = winner if kicks else winner.opponents
    said = f"toss to {_called(winner)}, who {'receive' if choice in ('ball', 'offense') else choice}"
    if extra and rulebook.overtime is Overtime.SERIES:
        return series_start(rulebook, before, kicker.opponents, 1), said, assumed, problems
    if extra:
        after = replace(before, next=Next.KICKOFF, offense=kicker, ball_on=rulebook.kickoff_spot,
                        extra_first=kicker.opponents)
        return after, said, assumed, problems
    # Who had the first choice of kicking does not have it in the second half: the other captain does, and he is taken
    # to receive unless something else was said.
    again = choice in ("kick", "defend", "defense")  # then the other captain has the first choice both times
    second = winner if again else kicker.opponents
    if again:
        assumed.append("the other team takes the ball again in the second half")
    after = replace(before, next=Next.KICKOFF, offense=kicker, ball_on=rulebook.kickoff_spot, second_half_kicker=second)
    return after, said, assumed, problems


def series_start(rulebook: Rulebook, before: Situation, team: Team, turn: int) -> Situation:
    """*team* begins its series of an extra period. What was carried over to a kickoff is marked off here
    (NFHS resolving tied games 5-2, NCAA 3-1-3, both from memory)."""
    length = rulebook.field_length
    only_tries = rulebook.overtime_only_tries_from
    number = before.period - rulebook.periods
    first = team if turn == 1 else before.extra_first
    from_goal = rulebook.overtime_spot
    assert from_goal is not None    # a rulebook with series has it, see rulebook.py
    if only_tries is not None and number >= only_tries:
        return replace(before, next=Next.TRY, offense=team, ball_on=length - rulebook.try_spot_run, down=None,
                       yards_to_gain=None, goal_to_go=False, drive=before.drive + 1, kickoff_moved=0.0,
                       extra_first=first, extra_turn=turn)
    ahead = before.kickoff_moved if team is before.offense else -before.kickoff_moved
    to_goal = from_goal - min(ahead, from_goal / 2)
    goal = from_goal <= rulebook.yards_to_gain
    return replace(before, next=Next.SCRIMMAGE, offense=team, ball_on=length - to_goal, down=1, goal_to_go=goal,
                   yards_to_gain=to_goal if goal else rulebook.yards_to_gain,
                   series=before.series + 1, drive=before.drive + 1, kickoff_moved=0.0,
                   extra_first=first, extra_turn=turn)


def timeout(before: Situation, play: Play) -> tuple[Situation, str, list[str]]:
    """A charged timeout (``play.team``), or the officials' (no team)."""
    team = play.team
    if team is None:
        return before, "officials' timeout", []
    left = before.timeouts_home if team is Team.HOME else before.timeouts_visitors
    problems = [] if left > 0 else [f"{team.value} has no timeout left"]
    left_now = max(left - 1, 0)
    after = (replace(before, timeouts_home=left_now) if team is Team.HOME
             else replace(before, timeouts_visitors=left_now))
    return after, f"timeout {team.value}, {left_now} left", problems


def end_of_period(rulebook: Rulebook, before: Situation) -> tuple[Situation, str, list[str]]:
    """The next period, the other half, an extra period, or the end of the game."""
    period, periods = before.period, rulebook.periods
    tied = before.score_home == before.score_visitors
    if before.next is Next.OVER:
        return before, "the game is over", []
    right = before.home_faces_right
    turned = None if right is None else not right
    if period < periods:
        after = replace(before, period=period + 1, clock=None, home_faces_right=turned)
        if period * 2 == periods:
            return _second_half(rulebook, after, right)
        return after, f"end of period {period}; the teams change ends", []
    if not tied:
        return replace(before, next=Next.OVER, clock=0), "end of the game", []
    number = period - periods
    if rulebook.overtime is Overtime.NONE or (
        rulebook.overtime_periods is not None and number >= rulebook.overtime_periods
    ):
        return replace(before, next=Next.OVER, clock=0), "end of the game, tied", []
    if number and rulebook.overtime is not Overtime.SERIES:  # played on, no new toss
        after = replace(before, period=period + 1, clock=None, home_faces_right=turned)
        return after, f"end of extra period {number}, still tied; played on", []
    timeouts = rulebook.overtime_timeouts
    after = replace(before, period=period + 1, clock=None, down=None, yards_to_gain=None, goal_to_go=False,
                    next=Next.COIN_TOSS, offense=None, ball_on=None, timeouts_home=timeouts,
                    timeouts_visitors=timeouts, kickoff_moved=0.0, extra_first=None, extra_turn=0)
    return after, "end of regulation, tied; toss for the extra period", []


def run_off(rulebook: Rulebook, after: Situation) -> tuple[Situation, str]:
    """Seconds come off the clock with a penalty, and with them the period if no more were left (NCAA 3-4-4)."""
    seconds = rulebook.runoff_seconds
    if seconds is None:
        return after, "no runoff in this code"
    said = f"{seconds} seconds run off"
    if after.clock is None:
        return after, said
    if after.clock > seconds:
        return after.at(after.clock - seconds), said
    return end_of_period(rulebook, after)[0], f"{said}, which ends the period"


def _second_half(rulebook: Rulebook, after: Situation, right: bool | None) -> tuple[Situation, str, list[str]]:
    kicker = after.second_half_kicker
    assumed = []
    if kicker is None:
        kicker = Team.HOME
        assumed.append("who kicks off the second half is not known; home taken")
    if right is not None:
        assumed.append("each team kicks off its half towards the same end; say it if the choice was another")
    # Ends change after the first quarter, so keeping those of the second reverses those of the first.
    after = replace(kicked_by(rulebook, after, kicker), next=Next.KICKOFF, down=None, yards_to_gain=None,
                    goal_to_go=False, timeouts_home=rulebook.timeouts, timeouts_visitors=rulebook.timeouts,
                    home_faces_right=right)
    return after, f"end of the half; {_called(kicker)} kick off", assumed


def kicked_by(rulebook: Rulebook, situation: Situation, kicker: Team) -> Situation:
    """*kicker* kicks off; what was carried over to the kickoff stays against the team that it was against."""
    moved = situation.kickoff_moved if situation.offense is kicker else -situation.kickoff_moved
    return replace(situation, offense=kicker, ball_on=rulebook.kickoff_spot + moved, kickoff_moved=moved)


# Extra periods


def extra_period_play(rulebook: Rulebook, before: Situation, after: Situation) -> tuple[Situation, str]:
    """The situation after a play in an extra period (the next possession, or the end), and what to say of it."""
    if rulebook.overtime is Overtime.SERIES:
        return _series_play(rulebook, before, after)
    if rulebook.overtime is Overtime.BOTH_POSSESS:
        return _both_possess(rulebook, before, after)
    if after.score_home != after.score_visitors:
        return replace(after, next=Next.OVER), "first score; the game is over"
    return after, ""


def _series_play(rulebook: Rulebook, before: Situation, after: Situation) -> tuple[Situation, str]:
    team, next_ = before.snaps, after.next
    turn = before.extra_turn or 1
    ours, theirs = after.score(team), after.score(team.opponents)
    if next_ is Next.SCRIMMAGE and after.offense is team and after.drive == before.drive:
        return after, ""
    if next_ is Next.TRY and after.offense is team:
        if turn == 2 and ours > theirs:
            return replace(after, next=Next.OVER), "the game is over"
        return after, ""
    if theirs > before.score(team.opponents) and before.next is not Next.TRY:
        return replace(after, next=Next.OVER), "the defense scores; the game is over"
    after = replace(after, series=before.series, drive=before.drive)     # the defense's gain begins no series
    if turn == 1:
        return series_start(rulebook, after, team.opponents, 2), f"now the series of {_called(team.opponents)}"
    if ours != theirs:
        return replace(after, next=Next.OVER), "the game is over"
    again = _timeouts_renewed(rulebook, replace(after, period=after.period + 1))
    return series_start(rulebook, again, team, 1), f"still tied; {_called(team)} first in the next extra period"


def _timeouts_renewed(rulebook: Rulebook, situation: Situation) -> Situation:
    """Timeouts at the start of an extra period of series: new ones, or from some period on those that are left."""
    last = rulebook.overtime_timeouts_last_from
    if last is not None and situation.period - rulebook.periods > last:
        return situation
    timeouts = rulebook.overtime_timeouts
    return replace(situation, timeouts_home=timeouts, timeouts_visitors=timeouts)


def _both_possess(rulebook: Rulebook, before: Situation, after: Situation) -> tuple[Situation, str]:
    """A kickoff, then each team may have the ball once before the next score wins."""
    turn = before.extra_turn
    first = before.extra_first or before.snaps
    if turn == 0 and before.next is Next.KICKOFF:
        first = before.snaps.opponents
    lead = after.score(first) - after.score(first.opponents)
    over = replace(after, next=Next.OVER, extra_first=first)
    if turn == 3:
        return (over, "the game is over") if lead else (after, "")
    if turn < 2:
        if lead < 0:  # the other team scored: it had its chance
            return over, "the game is over"
        if lead >= rulebook.touchdown_points and rulebook.overtime_first_touchdown_wins:
            return over, "a touchdown on the first possession; the game is over"
        if after.next is Next.KICKOFF and after.offense is first:
            return replace(after, extra_first=first, extra_turn=2), f"now the turn of {_called(first.opponents)}"
        if after.next is Next.SCRIMMAGE:
            turn = 1 if after.offense is first else 2
        return replace(after, extra_first=first, extra_turn=turn), ""
    # the second team's turn
    if lead < 0:
        return over, "the game is over"
    ended = after.next is not Next.TRY and (
        (after.offense is first and after.next is Next.SCRIMMAGE)
        or (after.next is Next.KICKOFF and before.next is not Next.KICKOFF)
        or after.next is Next.SAFETY_FREE_KICK
    )
    if ended:
        if lead > 0:
            return over, "the game is over"
        return replace(after, extra_turn=3), "the next score wins"
    return after, ""
