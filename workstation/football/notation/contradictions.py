"""What a line contradicts: a score that cannot be, a gain that leads too far, a first down that was not made."""

from __future__ import annotations

from dataclasses import replace

from ..field import spoken_yards
from ..plays import EventKind, FoulDecision, Outcome, Play, PlayKind, Score, Side
from ..rulebook import Rulebook
from ..situation import Situation
from ..tracker import fold
from .draft import GAINING, KICKS, PENALTY_YARDS, Draft


def impossible_score(draft: Draft) -> None:
    """A safety that ends ahead of the goal line, a touchback or a single point where nothing was kicked or lost."""
    score, start, gain = draft.score, draft.start, draft.gain
    if score is Score.SAFETY and draft.outcome is Outcome.TOUCHBACK:
        draft.doubt("a touchback is no safety")
    if draft.kind not in (PlayKind.RUN, PlayKind.PASS, PlayKind.SACK, PlayKind.KNEEL) or draft.events:
        return
    if score is Score.SAFETY and gain is not None and start is not None and start + gain > 0.5 and not draft.fouls:
        draft.doubt(f"a safety does not end at {draft.spoken(start + gain)}")
    if (draft.touchback or draft.outcome is Outcome.TOUCHBACK) and draft.outcome is not Outcome.INTERCEPTED:
        draft.doubt("a touchback needs a kick, an interception or a fumble")
    if score is Score.SINGLE:
        draft.doubt("a single point is scored by a kick")


def too_far(draft: Draft) -> None:
    """A gain that leads beyond the goal line without a touchdown."""
    gain, start = draft.gain, draft.start
    if draft.kind not in (PlayKind.RUN, PlayKind.PASS) or gain is None or start is None or draft.events:
        return
    if gain > draft.in_field - start + 0.5 and draft.score is None:
        draft.doubt(f"it is {spoken_yards(draft.in_field - start)} yards to the goal line, not {spoken_yards(gain)}")


def touchdown(draft: Draft) -> None:
    """What speaks against a touchdown."""
    fields, start = draft.fields, draft.start
    if draft.score is not Score.TOUCHDOWN:
        return
    if draft.outcome is Outcome.INCOMPLETE:
        draft.doubt("an incomplete pass cannot be a touchdown")
    if (not draft.events and not draft.returned and draft.possession is not Side.DEFENSE
            and (draft.kind in (PlayKind.SACK, PlayKind.KNEEL) or (draft.kind is PlayKind.FIELD_GOAL
            and draft.outcome is not Outcome.BLOCKED))):
        draft.doubt(f"a {draft.kind.value if draft.kind else 'play'} scores no touchdown")
    holder = draft.holder()
    if draft.play_kind in KICKS and draft.possession is Side.OFFENSE and not draft.events:
        draft.doubt("the kicking team scores only with a ball it recovered")
    if draft.outcome is Outcome.INTERCEPTED or draft.events:
        if draft.possession is not None and fields["possession"] is not holder and draft.events and not draft.exact:
            draft.doubt(f"the {holder.value} had the ball last")
        if holder is Side.DEFENSE:
            fields.setdefault("possession", None)
        if draft.events and draft.events[-1].kind is EventKind.FUMBLE:
            draft.doubt("who recovered was not said")
        spot = draft.spot
        if spot is not None and 0 < spot < draft.in_field:
            draft.doubt(f"a touchdown does not end at {draft.spoken(spot)}")
        return
    if draft.kind in (PlayKind.RUN, PlayKind.PASS) and draft.gain is not None and start is not None:
        wanted = draft.in_field - start
        if abs(fields["gain"] - wanted) > 1:
            draft.doubt(
                f"a touchdown from {draft.spoken(start)} takes {spoken_yards(wanted)} yards, "
                f"not {spoken_yards(fields['gain'])}"
            )
    if draft.kind in KICKS and draft.spot is not None and fields["spot"] > 0:
        draft.doubt(f"a touchdown does not end at {draft.spoken(fields['spot'])}")


def _points(draft: Draft, said: int) -> None:
    """The points that were said must be those of the kick."""
    rules = draft.rulebook
    kind = draft.play_kind
    worth = rules.field_goal_points if kind is PlayKind.FIELD_GOAL else 0
    if kind is PlayKind.TRY_KICK:
        worth = rules.try_kick_points
    good = draft.outcome is Outcome.GOOD or (draft.outcome is None and draft.score is None)
    if said == 1 and kind in (PlayKind.TRY_RUN, PlayKind.TRY_PASS):
        worth = 1
    scored = worth if good else 0
    if scored != said:
        draft.doubt(f"{said} point{'s' if said != 1 else ''} were said, but {scored or 'none'} follow")


def claims(draft: Draft) -> None:
    """What was said along with the play must follow from it."""
    for claim in draft.claims:
        before, gain = draft.before, draft.gain
        if claim.startswith("points "):
            _points(draft, int(claim.split()[1]))
            continue
        if draft.kind not in GAINING or draft.events or gain is None or before.yards_to_gain is None:
            if claim == "short" and draft.outcome is Outcome.INCOMPLETE:
                continue
            made = (claim == "first down" and draft.kind in (PlayKind.RUN, PlayKind.PASS) and gain is None
                and draft.outcome in (None, Outcome.COMPLETE, Outcome.OUT_OF_BOUNDS) and draft.spot is None
                and draft.score is None and not (draft.events or draft.zone or draft.fouls or draft.loss))
            if made and before.yards_to_gain is not None:
                draft.fields["gain"] = before.yards_to_gain
                draft.fill("how far beyond the line to gain was not said")
            elif claim in ("first down", "short") and not draft.fouls and draft.score is None and not draft.events:
                draft.fill(f"{claim} does not follow from what was said")
            elif claim == "turnover" and draft.events and draft.holder() is Side.OFFENSE:
                draft.doubt("the offense has the ball")
            elif claim == "turnover" and not (draft.events or draft.outcome is Outcome.INTERCEPTED):
                draft.fill("how it was lost was not said")
            elif claim == "down":
                draft.fill("which down it was is passed over")
            elif claim == "turnover on downs" and draft.outcome is not Outcome.INCOMPLETE:
                draft.fill(f"{claim} does not follow from what was said")
            if claim == "turnover on downs" and before.down is not None and before.down < draft.rulebook.downs:
                draft.doubt("there are downs left")
            continue
        if claim == "down":
            draft.fill("which down it was is passed over")
            continue
        reached = gain >= before.yards_to_gain - 0.5
        if claim == "first down" and not reached and not draft.fouls:
            draft.doubt(
                f"{spoken_yards(gain)} yards are no first down; {spoken_yards(before.yards_to_gain)} were to go"
            )
        elif claim in ("short", "turnover on downs") and gain >= before.yards_to_gain:
            draft.doubt(f"{spoken_yards(gain)} yards are a first down; {spoken_yards(before.yards_to_gain)} were to go")
        elif claim == "turnover on downs" and before.down is not None and before.down < draft.rulebook.downs:
            draft.doubt("there are downs left")
        elif claim == "turnover" and not (before.down == draft.rulebook.downs and not reached):
            draft.fill("how it was lost was not said")


def by_the_rules(play: Play, before: Situation, rulebook: Rulebook) -> Play | None:
    """The play without the yards of its fouls, where the rules enforce them otherwise than was said; else None.

    "Fifteen yards" names the penalty also where it is half the distance to the goal, or from another spot.
    """
    if all(foul.yards is None or foul.decision is FoulDecision.DECLINED for foul in play.fouls):
        return None
    usual = replace(play, fouls=tuple(replace(foul, yards=None) if foul.name in rulebook.fouls
        and foul.at is None and foul.enforced_from is None
        and (rulebook.fouls[foul.name].yards or (foul.yards in PENALTY_YARDS and foul.spot is not None))
        and rulebook.fouls[foul.name].yards in (foul.yards, 0) else foul for foul in play.fouls))
    if usual == play or fold(rulebook, before, play).after == fold(rulebook, before, usual).after:
        return None
    return usual
