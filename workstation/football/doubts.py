"""Why a tag cannot be right, as far as the tag itself shows. Each doubt is one line that says what to look at."""

from __future__ import annotations

from .action import FREE_KICKS
from .counting import GAINING
from .field import spoken_spot
from .plays import Foul, FoulDecision, FoulTime, Outcome, Play, PlayKind, Score
from .rulebook import Rulebook
from .situation import Next, Situation

_O = Outcome
_PASSES = {_O.COMPLETE, _O.INCOMPLETE, _O.INTERCEPTED, _O.TOUCHBACK}
_KICKS = {_O.RETURNED, _O.FAIR_CATCH, _O.DOWNED, _O.MUFFED, _O.OUT_OF_BOUNDS, _O.TOUCHBACK}
_OUTCOMES = {
    PlayKind.RUN: {_O.TOUCHBACK, _O.OUT_OF_BOUNDS},
    PlayKind.PASS: _PASSES | {_O.OUT_OF_BOUNDS},
    PlayKind.SACK: {_O.TOUCHBACK},
    PlayKind.KNEEL: frozenset(),
    PlayKind.SPIKE: {_O.INCOMPLETE},
    PlayKind.PUNT: _KICKS | {_O.BLOCKED},
    PlayKind.KICKOFF: _KICKS,
    PlayKind.SAFETY_FREE_KICK: _KICKS,
    PlayKind.FIELD_GOAL: {_O.GOOD, _O.NO_GOOD, _O.BLOCKED, _O.RETURNED, _O.TOUCHBACK, _O.MUFFED,
                          _O.FAIR_CATCH},
    PlayKind.TRY_KICK: {_O.GOOD, _O.NO_GOOD, _O.BLOCKED, _O.RETURNED},
    PlayKind.TRY_RUN: {_O.GOOD, _O.NO_GOOD, _O.RETURNED},
    PlayKind.TRY_PASS: {_O.GOOD, _O.NO_GOOD, _O.RETURNED, _O.COMPLETE, _O.INCOMPLETE, _O.INTERCEPTED},
}


def doubts(rulebook: Rulebook, before: Situation, play: Play, clock: int | None) -> list[str]:
    """What in *play* cannot be right. ``clock``: seconds left as last tagged before this play."""
    found: list[str] = []
    kind, outcome = play.kind, play.outcome
    if outcome is not None and outcome not in _OUTCOMES.get(kind, (outcome,)):
        found.append(f"a {kind.value} cannot be {outcome.value}")
    if outcome is Outcome.FAIR_CATCH and not (
            rulebook.kickoff_fair_catch if kind is PlayKind.KICKOFF else rulebook.fair_catch):
        found.append(f"these rules know no fair catch of a {kind.value}")
    if outcome is Outcome.INCOMPLETE and play.gain:
        found.append("an incomplete pass gains nothing")
    length, deep = rulebook.field_length, rulebook.end_zone_depth
    for what, spot in (("dead ball", play.spot), ("end of the kick", play.kick_to),
                       ("place of the kick", play.kick_from)):
        if spot is not None and not -deep <= spot <= length + deep:
            found.append(f"{what} at {spoken_spot(spot, length)} is off the field")
    if (play.gain is not None and before.ball_on is not None and not -deep <= before.ball_on + play.gain <= length
            + deep):
        found.append(f"a gain of {play.gain:g} from {spoken_spot(before.ball_on, length)} ends off the field")
    if play.clock is not None:
        if play.clock > rulebook.period_minutes * 60:
            found.append(f"the clock cannot show more than {rulebook.period_minutes} minutes")
        elif clock is not None and play.clock > clock:
            found.append("the clock shows more than at the play before; was the end of a period left out?")
    found += _contradictions(rulebook, before, play)
    if kind is PlayKind.TRY_KICK and rulebook.overtime_two_point_from is not None and before.next is Next.TRY \
            and before.period - rulebook.periods >= rulebook.overtime_two_point_from:
        found.append("in this extra period a try must be run or passed")
    return found


def _contradictions(rulebook: Rulebook, before: Situation, play: Play) -> list[str]:
    found: list[str] = []
    kind, outcome, length = play.kind, play.outcome, rulebook.field_length
    if outcome is Outcome.INCOMPLETE and play.score is Score.TOUCHDOWN and kind is PlayKind.PASS:
        found.append("an incomplete pass cannot be a touchdown")
    if outcome is Outcome.TOUCHBACK and rulebook.single_point and kind in (PlayKind.PUNT, PlayKind.FIELD_GOAL):
        found.append(f"these rules know no touchback of a {kind.value}; say where it was kept, or a single")
    start, gain, spot = before.ball_on, play.gain, play.spot
    if kind in GAINING and not play.events and outcome is not Outcome.INTERCEPTED and before.next is Next.SCRIMMAGE \
            and start is not None and gain is not None and spot is not None and abs(start + gain - spot) >= 1:
        found.append(f"a gain of {gain:g} ends at {spoken_spot(start + gain, length)}, "
                     f"and {spoken_spot(spot, length)} was said")
    if kind in FREE_KICKS and play.kick_to is not None and start is not None and play.kick_to < start:
        found.append(f"a kick to {spoken_spot(play.kick_to, length)} comes down behind where it was kicked")
    if kind is not PlayKind.NO_PLAY:
        found += [f"the {foul.name} keeps the ball dead, so the {kind.value} cannot count; tag it as no play"
                  for foul in play.fouls if _kept_dead(rulebook, foul)]
    if rulebook.runoff_seconds is None and any(foul.runoff for foul in play.fouls):
        found.append("these rules know no runoff of the clock")
    return found


def _kept_dead(rulebook: Rulebook, foul: Foul) -> bool:
    """Was the ball dead from this foul on, before the play began?"""
    if foul.decision is FoulDecision.DECLINED or foul.when not in (None, FoulTime.BEFORE_SNAP):
        return False
    try:
        rule = rulebook.foul(foul.name, foul.by)
    except KeyError:
        return False
    return rule.kills_the_play
