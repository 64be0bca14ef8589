"""The places that a yard line without a side can be, the likelier first."""

from __future__ import annotations

from ..field import spoken_yards
from ..plays import EventKind, Outcome, PlayKind, Side
from .draft import FREE_KICKS, GAINING, KICKS, Draft, Refused
from .yards import DRIVEN_BACK, return_base

_LONG_CATCH_LOSS = 15.0  # a ball that was caught so far back is told with its side
_LONG_LOSS = 25.0  # a run or catch that ends farther back than this is told with its side



def ranked(draft: Draft, value: float, text: str, slot: str, prep: str) -> list[float]:
    """The places that a yard line without a side can be, the likeliest first, by what it would tell."""
    spots, fields = sides_of(draft, value, text), draft.fields

    def nearest(place: float | None) -> list[float]:
        return spots if place is None else sorted(spots, key=lambda spot: abs(spot - place))

    if (draft.is_kick() and draft.kick_yards is not None and not draft.in_foul and not (draft.returned or draft.events)
            and slot in ("kick_to", "spot", "") and draft.kick_to is not None):
        there = [spot for spot in spots if abs(spot - draft.kick_to) < 1.1]
        if there:
            return there  # "punt 38 yards, fair catch at the 34"
    if draft.in_foul and draft.fouls and "kick catch" in draft.fouls[-1]["name"]:
        return kick_sides(draft, value, text)
    if (draft.in_foul and draft.fouls) or slot in ("foul spot", "enforced from", "spot"):
        return near_sides(draft, spots)
    if slot == "return" and not draft.returned and draft.kick_yards is not None and not draft.events:
        return nearest(fields["kick_to"])[:1]
    if prep == "from" and slot in ("return", "") and draft.returned and return_base(draft) is None:
        return spots[::-1][:1] if draft.play_kind in KICKS else near_sides(draft, spots)
    if slot == "kick_to":
        return kick_sides(draft, value, text)
    if slot == "length":
        return nearest(draft.start)[:1]  # where a field goal that missed became dead
    if slot == "return" or (draft.returned and draft.return_yards is not None and draft.spot is None):
        return return_sides(draft, value, text)
    if slot == "caught":
        return caught_sides(draft, value, text) if prep == "at" or draft.caught is not None else spots
    if slot == "event":
        first_touch = (draft.play_kind is PlayKind.PUNT and draft.kick_to is None
            and len(draft.events) == 1 and draft.events[0].kind is EventKind.MUFF)
        return kick_sides(draft, value, text) if first_touch else near_sides(draft, spots)
    if slot == "gain" or (draft.kind in (None, *GAINING) and not draft.events and not draft.returned
            and draft.outcome not in (Outcome.INTERCEPTED, Outcome.INCOMPLETE)):
        return run_sides(draft, spots)
    if draft.outcome is Outcome.INCOMPLETE:
        return nearest(draft.start)[:1]
    if draft.returned and draft.return_yards is not None:
        return nearest(draft.spot)[:1]
    if draft.fielded and draft.kick_to is not None and draft.outcome is Outcome.OUT_OF_BOUNDS and not draft.events:
        return return_sides(draft, value, text)  # "takes it at the 5 and goes out of bounds at the 27"
    return nearest(draft.spot)


def sides_of(draft: Draft, value: float, text: str) -> list[float]:
    """The places that a yard line without a side can be."""
    half = draft.in_field / 2
    if value == half:
        return [half]
    if not 0 <= value <= half:
        raise Refused(f"there is no {text}-yard line; yard lines run from 0 to {spoken_yards(half)}")
    return [value, draft.in_field - value]


def near_sides(draft: Draft, spots: list[float]) -> list[float]:
    """The likelier place first: nearer to where the ball was."""
    where = draft.where()
    if (draft.is_kick() and draft.kick_to is None and draft.outcome is not Outcome.BLOCKED
            and (not draft.events or draft.events[0].by is Side.DEFENSE)):
        where = None
    if (draft.play_kind in FREE_KICKS and draft.events and draft.events[-1].by is Side.OFFENSE
            and len(draft.events) == 1 and draft.start is not None):
        legal = [spot for spot in spots if spot >= draft.start + draft.rulebook.kickoff_travel]
        return [*legal, *(spot for spot in spots if spot not in legal)]
    if where is None:
        return list(reversed(spots)) if draft.is_kick() else spots
    near = sorted(spots, key=lambda spot: abs(spot - where))
    if len(near) > 1 and abs(near[1] - where) > abs(near[0] - where) + 30:
        return near[:1]
    return near


def kick_sides(draft: Draft, value: float, text: str) -> list[float]:
    """Where a kick may have come down: beyond the line, on the receivers' side first."""
    spots = sides_of(draft, value, text)
    start = draft.start
    if len(spots) == 1 or start is None:
        return spots[::-1][:1]
    least = draft.rulebook.kickoff_travel if draft.play_kind in FREE_KICKS else 0
    own, opp = spots
    if draft.outcome is Outcome.BLOCKED or own < start + least:
        return [opp] if opp >= start or draft.outcome is not Outcome.BLOCKED else [own]
    return [opp] if own < start + 20 else [opp, own]


def caught_sides(draft: Draft, value: float, text: str) -> list[float]:
    """Where an interception was caught, the likelier side first: downfield of the snap and near it.

    Where it was run to is nearer to where it was caught.
    """
    spots = sides_of(draft, value, text)
    caught, start = draft.caught, draft.start
    if caught is not None:
        return sorted(spots, key=lambda spot: abs(spot - caught))
    if start is None:
        return spots
    near = [spot for spot in spots if spot >= start - 2 * DRIVEN_BACK] or spots
    return sorted(near, key=lambda spot: (spot < start - DRIVEN_BACK, abs(spot - start)))


def return_sides(draft: Draft, value: float, text: str) -> list[float]:
    """Where a return may have ended: ahead of where it began, for the side that has the ball."""
    spots = sides_of(draft, value, text)
    base = return_base(draft)
    if len(spots) == 1:
        return spots
    own, opp = spots
    if draft.crossed:
        return [opp] if draft.holder() is Side.OFFENSE else [own]
    if base is None:
        yards, start = draft.return_yards, draft.start
        if draft.is_kick() and yards is not None and start is not None and not draft.events:
            least = start + (draft.rulebook.kickoff_travel if draft.play_kind in FREE_KICKS else 0)
            most = draft.in_field + draft.rulebook.end_zone_depth
            return [spot for spot in (opp, own) if least <= spot + yards <= most] or [opp, own]
        return [opp, own] if draft.is_kick() else [own, opp]
    if draft.holder() is Side.OFFENSE:
        return [spot for spot in (own, opp) if spot >= base] or [opp]
    if opp <= base:
        return [opp, own] if draft.play_kind not in KICKS or opp > draft.in_field * 0.45 else [opp]
    return [own] if own <= base else [opp]


def run_sides(draft: Draft, spots: list[float]) -> list[float]:
    """Where a run or catch may have ended, the likelier place first."""
    start = draft.start
    if start is None or len(spots) == 1:
        return spots
    if draft.crossed and start < draft.in_field / 2:
        return [max(spots)]
    if draft.gain_said:
        return sorted(spots, key=lambda spot: abs(spot - start - draft.fields["gain"]))[:1]
    back = draft.kind in (PlayKind.SACK, PlayKind.KNEEL) or draft.loss
    most = _LONG_CATCH_LOSS if draft.complete else _LONG_LOSS
    likely = [spot for spot in spots if (spot <= start if back else True) and spot - start >= -most] or spots
    return sorted(likely, key=lambda spot: (spot < start and not back, abs(spot - start)))
