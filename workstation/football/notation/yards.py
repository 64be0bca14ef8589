"""Yards gained, kicked and returned: what a distance says of a play in the making."""

from __future__ import annotations

from ..field import spoken_yards
from ..plays import Outcome, PlayKind, Side
from .draft import KICKS, Draft, Refused

EITHER = "may be a yard line or a distance"
DRIVEN_BACK = 5.0  # so far a runner may be driven back on a return


def gained(draft: Draft, yards: float) -> None:
    """Take a distance as the yards gained by a run, catch, sack or kneel."""
    if draft.kind in (PlayKind.SACK, PlayKind.KNEEL) or draft.loss:
        yards = 0 - abs(yards)
    draft.put("gain", yards)
    draft.gain_said, draft.loss, draft.slot = True, False, ""


def kicked_yards(draft: Draft, yards: float) -> None:
    """Take a distance as how far a kick went."""
    if draft.start is None:
        raise Refused("where the kick was from is not known; say the yard line where it came down")
    if yards < 0:
        raise Refused("a kick is not told by a loss")
    draft.kick_yards = yards
    placed(draft, draft.start + yards)


def placed(draft: Draft, spot: float) -> None:
    """Take a spot as where a kick came down."""
    if draft.kick_to is not None and draft.bound in draft.filled and spot >= draft.fields["kick_to"]:
        draft.filled.remove(draft.bound)  # "inside the 10 at the 6"
        draft.penalty -= 1
        del draft.fields["kick_to"]
    if draft.kick_to is not None and abs(draft.fields["kick_to"] - spot) > 0.01:
        if draft.outcome is Outcome.OUT_OF_BOUNDS and not draft.returned:
            draft.fields["outcome"], draft.returned = Outcome.RETURNED, True  # the runner went out of bounds there
            draft.fill("out of bounds on the return")
            returned_to(draft, spot)
            return
        if draft.kick_yards is None:
            raise Refused(f"it came down at {draft.spoken(draft.fields['kick_to'])}, was said already")
        draft.doubt(
            f"{spoken_yards(draft.kick_yards)} yards lead to {draft.spoken(draft.fields['kick_to'])}, "
            f"not to {draft.spoken(spot)}"
        )
    if draft.kick_yards is not None and abs(draft.fields.get("kick_to", -99.0) - spot) <= 0.5:
        _agreed(draft, draft.kick_yards)
    draft.fields["kick_to"] = spot
    dead = draft.outcome in (Outcome.DOWNED, Outcome.FAIR_CATCH, Outcome.TOUCHBACK, Outcome.OUT_OF_BOUNDS)
    draft.slot = "" if dead or draft.play_kind is PlayKind.FIELD_GOAL else "return"
    if draft.events and draft.events[-1].spot is None:
        draft.change_event(spot=spot)
    if draft.returned and draft.return_yards is not None and draft.spot is None and not draft.events:
        returned_yards(draft, draft.return_yards)  # "a return of 6 after a punt of 40"


def return_base(draft: Draft) -> float | None:
    """Where the return at hand began."""
    if draft.came_from is not None:
        return draft.came_from
    if draft.outcome is Outcome.INTERCEPTED and not draft.events:
        return draft.caught
    if any(event.spot is not None for event in draft.events):
        return draft.where()
    kick_to = draft.kick_to
    return float(kick_to) if kick_to is not None else None


def returned_yards(draft: Draft, yards: float) -> None:
    """Take a distance as how far a return went."""
    base = return_base(draft)
    if draft.loss:
        yards, draft.loss = 0 - abs(yards), False
    draft.return_yards = yards
    draft.slot = ""
    if base is None:
        return
    went = yards if draft.holder() is Side.OFFENSE else 0 - yards
    returned_to(draft, base + went, said=True)


def returned_to(draft: Draft, spot: float, said: bool = False) -> None:
    """Take a spot as where a return ended."""
    if draft.spot is not None and abs(draft.fields["spot"] - spot) > 0.01:
        if draft.return_yards is None:
            onward = spot - draft.fields["spot"] if draft.holder() is Side.OFFENSE else draft.fields["spot"] - spot
            if onward < 0 or draft.events:
                raise Refused(f"it ended at {draft.spoken(draft.fields['spot'])}, was said already")
            draft.fill(f"{draft.spoken(draft.fields['spot'])} was passed on the way")
            draft.fields["spot"] = spot
            return
        draft.doubt(
            f"a return of {spoken_yards(draft.return_yards)} yards leads to {draft.spoken(draft.fields['spot'])}, "
            f"not to {draft.spoken(spot)}"
        )
    if not said and draft.return_yards is not None and return_base(draft) is None and draft.play_kind in KICKS:
        draft.fields["kick_to"] = spot + draft.return_yards
    if (not said and draft.return_yards is not None and draft.outcome is Outcome.INTERCEPTED and not draft.events
            and draft.caught is None):
        draft.caught, draft.caught_at = spot + draft.return_yards, True
        if draft.caught > draft.in_field + draft.rulebook.end_zone_depth:
            draft.doubt(f"{spoken_yards(draft.return_yards)} yards to {draft.spoken(spot)} begin beyond the end zone")
    base = return_base(draft)
    if not said and draft.return_yards is not None and abs(draft.fields.get("spot", -99.0) - spot) <= 0.5:
        _agreed(draft, draft.return_yards)
    draft.fields["spot"] = spot
    if draft.play_kind in KICKS and not draft.events and draft.outcome is None:
        draft.fields["outcome"] = Outcome.RETURNED
    draft.slot, draft.end_said = "", True
    if base is not None and not draft.back:
        forward = spot - base if draft.holder() is Side.OFFENSE else base - spot
        if forward < -DRIVEN_BACK:
            draft.back = True
            draft.doubt(
                f"a return from {draft.spoken(base)} to {draft.spoken(spot)} goes back {spoken_yards(-forward)} yards"
            )
            draft.penalty += 1


def _agreed(draft: Draft, yards: float) -> None:
    """A place and a distance lead to one spot: a number that may have been either is no question any more."""
    why = f"{yards:g} {EITHER}"
    if why in draft.filled:
        draft.filled.remove(why)
        draft.penalty -= draft.either


def same_place(draft: Draft, leads: float, said: float, what: str) -> None:
    """Doubt the line where two ways to say a place disagree by more than a yard."""
    if abs(leads - said) > 1:
        draft.doubt(f"{what} {draft.spoken(leads)}, not to {draft.spoken(said)}")
