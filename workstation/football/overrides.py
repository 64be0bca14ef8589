"""Situations set by hand, and plays that come where another was due.

Both correct the situation before the play is folded in, and report what does not agree.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from .action import TRIES
from .field import Team, spoken_spot
from .periods import end_of_period, series_start
from .plays import IN_PLAY, Play, PlayKind, SituationOverride
from .ranges import MOST_PERIODS
from .rulebook import Overtime, Rulebook
from .ruling import free_kick_spot
from .situation import Next, Situation
from .step import Step

FITS = {
    **{kind: Next.SCRIMMAGE for kind in PlayKind if kind in IN_PLAY},
    **dict.fromkeys(TRIES, Next.TRY),
    PlayKind.KICKOFF: Next.KICKOFF,
    PlayKind.SAFETY_FREE_KICK: Next.SAFETY_FREE_KICK,
    PlayKind.COIN_TOSS: Next.COIN_TOSS,
}
"""What must be due for a play; kinds that may come at any time are not in it."""


def apply_override(rulebook: Rulebook, situation: Situation, said: SituationOverride) -> tuple[Situation, list[str]]:
    """Replace what was tracked by what a person set by hand, and say where they differ."""
    contradictions = []
    changes: dict[str, Any] = {}
    if said.period is not None and said.period != situation.period:
        while situation.period < min(said.period, MOST_PERIODS) and situation.next is not Next.OVER:
            situation = end_of_period(rulebook, situation)[0]
        if situation.period != said.period:
            contradictions.append(f"period {said.period} was set by hand, {situation.period} follows")
            changes["period"] = said.period
    for name in ("next", "offense", "down", "yards_to_gain", "ball_on", "score_home", "score_visitors",
                 "timeouts_home", "timeouts_visitors", "second_half_kicker", "home_faces_right"):
        value = getattr(said, name)
        if value is None:
            continue
        was = getattr(situation, name)
        if was == value or (isinstance(value, float) and was is not None and abs(value - was) < 1e-6):
            continue
        changes[name] = value
        if was is not None:
            what = name.replace("_", " ")
            if name == "ball_on":
                contradictions.append(
                    f"ball on {spoken_spot(value, rulebook.field_length)} was set by hand, "
                    f"{spoken_spot(was, rulebook.field_length)} follows")
            else:
                contradictions.append(f"{what} {value} was set by hand, {was} follows")
    if "offense" in changes and "ball_on" not in changes and situation.ball_on is not None \
            and situation.next is Next.SCRIMMAGE:
        changes["ball_on"] = rulebook.field_length - situation.ball_on
    return _made_whole(rulebook, replace(situation, **changes), changes), contradictions


def _made_whole(rulebook: Rulebook, situation: Situation, changes: dict[str, Any]) -> Situation:
    """Adapt the rest of the situation to what was set by hand."""
    length, spot = rulebook.field_length, situation.ball_on
    if situation.next is Next.SCRIMMAGE:
        if spot is None:
            spot = rulebook.touchback_spot
        to_goal, to_gain = length - spot, situation.yards_to_gain
        if situation.goal_to_go and "yards_to_gain" not in changes:
            to_gain = to_goal
        to_gain = min(rulebook.yards_to_gain if to_gain is None else to_gain, to_goal)
        return replace(situation, ball_on=spot, yards_to_gain=to_gain, goal_to_go=to_gain >= to_goal - 1e-6,
                       down=situation.down or 1, offense=situation.offense or Team.HOME)
    if situation.next in (Next.OVER, Next.COIN_TOSS):
        return replace(situation, down=None, yards_to_gain=None, goal_to_go=False)
    if spot is None or ("next" in changes and "ball_on" not in changes and situation.next is not Next.FAIR_CATCH_KICK):
        spot = _usual_spot(rulebook, situation.next)
    return replace(situation, ball_on=spot, down=None, yards_to_gain=None, goal_to_go=False,
                   offense=situation.offense or Team.HOME)


def may_kick_instead(rulebook: Rulebook, last: Step) -> bool:
    """May the team scored upon kick off itself after the *last* step? (NFHS 8-3-9 and 8-4-2.)"""
    scored = last.about if last.play.kind is PlayKind.TIMEOUT and last.about is not None else last
    return not rulebook.kickoff_by_scoring_team and scored.play.kind in (PlayKind.FIELD_GOAL, *TRIES)


def fit(rulebook: Rulebook, situation: Situation, play: Play, wanted: Next | None) -> tuple[Situation, list[str]]:
    """Adapt the situation so that *play* can follow, and say what must have been left out."""
    problems: list[str] = []
    if situation.offense is None:
        situation, problems = _begin(rulebook, situation, play, wanted)
    due, offense = situation.next, situation.snaps
    if wanted is None or wanted is due or (due is Next.FAIR_CATCH_KICK and play.kind is PlayKind.FIELD_GOAL):
        return situation, problems
    if due is Next.TRY and play.kind is PlayKind.FIELD_GOAL:
        return situation, [*problems, "a try is due; tag it as a try by kick"]
    if wanted is Next.SCRIMMAGE and due is Next.KICKOFF and rulebook.field_goal_scrimmage_spot is not None:
        return _first_down(rulebook, situation, offense.opponents, rulebook.field_goal_scrimmage_spot), problems
    problems = [*problems, f"{with_article(play.kind.value)} cannot come here; {due_now(due)}"]
    if wanted is Next.SCRIMMAGE:
        snaps = offense.opponents if due in (Next.KICKOFF, Next.SAFETY_FREE_KICK) else offense
        return _first_down(rulebook, situation, snaps, rulebook.kickoff_touchback_spot), problems
    if wanted is Next.KICKOFF and due is Next.SCRIMMAGE and situation.period * 2 == rulebook.periods:
        return end_of_period(rulebook, situation)[0], problems
    return replace(situation, next=wanted, ball_on=_usual_spot(rulebook, wanted), down=None, yards_to_gain=None,
                   goal_to_go=False), problems


def _first_down(rulebook: Rulebook, situation: Situation, offense: Team, spot: float) -> Situation:
    """*offense* begins a drive on *spot*."""
    return replace(situation, next=Next.SCRIMMAGE, offense=offense, down=1, yards_to_gain=rulebook.yards_to_gain,
                   ball_on=spot, goal_to_go=False, series=situation.series + 1, drive=situation.drive + 1)


def _usual_spot(rulebook: Rulebook, due: Next) -> float:
    """Where a try or a free kick takes place if no penalty has moved it."""
    return rulebook.field_length - rulebook.try_spot_kick if due is Next.TRY else free_kick_spot(rulebook, due)


def _begin(rulebook: Rulebook, situation: Situation, play: Play, wanted: Next | None) -> tuple[Situation, list[str]]:
    """The first play after an untagged toss."""
    team, problems = play.team, []
    if team is None:
        team = Team.HOME
        problems.append("the toss was not tagged, so who has the ball is not known; home taken")
    if situation.period > rulebook.periods and rulebook.overtime is Overtime.SERIES:
        return series_start(rulebook, situation, team, 1), problems
    if wanted is Next.SCRIMMAGE:
        return _first_down(rulebook, situation, team, rulebook.touchback_spot), problems
    return replace(situation, next=Next.KICKOFF, offense=team, ball_on=rulebook.kickoff_spot), problems


def due_now(due: Next) -> str:
    """Say in words what kind of play is due, or that the game is over."""
    if due is Next.OVER:
        return "the game is over"
    return "a down from scrimmage is due" if due is Next.SCRIMMAGE else f"{with_article(due.value)} is due"


def with_article(word: str) -> str:
    """Return the word with "a" or "an" before it."""
    return f"an {word}" if word[0] in "aeio" else f"a {word}"
