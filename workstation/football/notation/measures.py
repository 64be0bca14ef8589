"""Numbers and places: what a distance or a yard line says where it stands, one draft for each meaning it can have."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from ..field import spoken_yards
from ..plays import EventKind, Outcome, PlayKind, Side
from ..situation import Next
from .custom import Ahead, Habit
from .downs import PutInPlay
from .draft import FREE_KICKS, GAINING, KICKS, PENALTY_YARDS, SNAP_TO_KICK, Draft, Refused
from .word import Role

_LONG_LOSS = 25.0  # a run or catch that ends farther back than this is told with its side
_BACK = 5.0  # so far a runner may be driven back on a return


# -- yards ------------------------------------------------------------------------------------------
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
    base = return_base(draft)
    draft.fields["spot"] = spot
    if draft.play_kind in KICKS and not draft.events and draft.outcome is None:
        draft.fields["outcome"] = Outcome.RETURNED
    draft.slot, draft.end_said = "", True
    if base is not None and not draft.back:
        forward = spot - base if draft.holder() is Side.OFFENSE else base - spot
        if forward < -_BACK:
            draft.back = True
            draft.doubt(
                f"a return from {draft.spoken(base)} to {draft.spoken(spot)} goes back {spoken_yards(-forward)} yards"
            )
            draft.penalty += 1


def number(draft: Draft, value: float, text: str, yards: bool, line: bool, habit: Habit, ahead: Ahead) -> list[Draft]:
    """Take a number; ``yards`` and ``line`` tell whether "yards" or "yard line" followed it."""
    draft.settle_if_kick()
    draft.dangling = ""
    slot, prep, the = draft.slot, draft.prep, draft.the
    draft.prep, draft.the = "", False
    if draft.said is not None and not slot.startswith("said "):
        raise Refused(f"{text} of what? Say down, to go, on ...")
    if slot == "put in play":
        if yards:
            raise Refused(f"{text} yards of what? Say the yard line")
        return [_put_in_play(draft, tuple(sides_of(draft, value, text)), text)]
    if slot.startswith("said "):
        return [_said_number(draft, slot[5:], value, text)]
    if slot.startswith("exact "):
        return [_exact_number(draft, slot[6:], value, text)]
    if (prep == "from" and not yards and _began_there(draft, sides_of(draft, value, text)
            if value <= draft.in_field / 2 else [])):
        return [draft]
    if (prep == "from" and not yards and slot == "kick_to" and draft.kind in (*FREE_KICKS, PlayKind.PUNT)
            and draft.start is not None and value == min(draft.start, draft.in_field - draft.start)):
        return [draft]  # "free kick from the 20"
    distance = yards or prep == "for"
    place = line or (not yards and (prep in ("to", "at", "in") or the
        or (prep == "from" and (draft.kind is not PlayKind.FIELD_GOAL or (draft.in_foul and bool(draft.fouls))))))
    if value < 0 and slot not in ("gain", "", "event", "spot"):
        raise Refused(f"{text} is a loss, and there can be none here")
    if value > 0 and not place and (draft.plus or (ahead.role == Role.FOUL and _of_the_foul(draft, yards, prep))):
        draft.plus = False
        draft.early = {**draft.early, "yards": value}
        return [draft]
    in_foul = draft.in_foul and bool(draft.fouls)
    if in_foul and slot not in ("foul spot", "enforced from"):
        of_play = (Role.KIND, Role.MANNER, Role.CAUGHT, Role.GAIN)
        if yards and ahead.role in of_play and not draft.gain_said and draft.pending is None:
            waiting = draft.copy()
            waiting.pending, waiting.in_foul = value, False
            if text != "a" and draft.kind is None:
                draft.fouls[-1]["yards"] = abs(value)
                draft.fill("", 1)
                return [waiting, draft]
        if not place and _may_cost(draft, abs(value)):
            draft.fouls[-1]["yards"] = abs(value)
            return [draft]
        if not place and (yards or not 0 <= value <= draft.in_field / 2):
            costs = draft.rulebook.fouls[draft.fouls[-1]["name"]].yards
            draft.doubt(f"{draft.fouls[-1]['name']} costs {spoken_yards(costs)} yards, not {spoken_yards(abs(value))}")
            draft.fouls[-1]["yards"] = abs(value)
            return [draft]
        if not place:
            draft.fill(f"{text} is taken for the yard line of the foul, for it costs no such yards")
    if (yards and ahead.role == Role.FOUL and draft.kind is None and value in PENALTY_YARDS and prep != "for"
            and slot in ("", "gain") and not draft.gain_said):
        draft.early = {**draft.early, "yards": value}  # "a fifteen yard personal foul"
        return [draft]
    if not in_foul and yards and draft.pending is None and _waits(draft, slot, ahead):
        waiting = draft.copy()
        waiting.pending = value
        return [waiting, *([_yards(draft, value)] if slot == "kick_to" and ahead.role == Role.RETURN else [])]
    if slot == "length" and not in_foul:
        return _length(draft, value, text, the and not line, line)
    incomplete = draft.outcome is Outcome.INCOMPLETE and value in PENALTY_YARDS and not draft.events
    if distance and draft.fouls and (incomplete or (draft.gain_said and ahead.role == Role.FOUL_DETAIL)):
        draft.fouls[-1]["yards"] = value  # "face mask on a run of 6, 15 yards added on"
        return [draft]
    if distance:
        return _distance(draft, value, text, slot)
    if not (place or in_foul or slot in ("foul spot", "enforced from", "caught", "event", "spot")):
        return _bare(draft, value, text, slot, habit)
    if (draft.loss or value < 0) and slot in ("event", "spot", "") and not place and not in_foul:
        return _distance(draft, value, text, slot)

    def take(way: Draft, spot: float) -> None:
        way.slot, way.prep = slot, prep
        spot_item(way, spot, text)

    return _each(draft, _ranked(draft, value, text, slot, prep), take)


def _waits(draft: Draft, slot: str, ahead: Ahead) -> bool:
    """Yards are said before what they are yards of."""
    if slot in ("", "caught") and ahead.role in _AWAITED:
        return True
    if ahead.role in (Role.LOSS, Role.GAIN):
        return not draft.gain_said and not draft.loss
    return slot == "kick_to" and (ahead.role == Role.RETURN
        or (draft.kind is None and ahead.role in (Role.KIND, Role.KICK)))


def _is_gain(draft: Draft, slot: str) -> bool:
    """A distance is that of a run or catch."""
    return slot == "gain" or (slot in ("event", "spot", "") and (draft.loss or not draft.is_kick())
        and not draft.gain_said and draft.kind in (None, *GAINING) and not draft.returned
        and draft.outcome not in (Outcome.INTERCEPTED, Outcome.INCOMPLETE))


def _distance(draft: Draft, value: float, text: str, slot: str) -> list[Draft]:
    """Take a number that is a distance."""
    fields = draft.fields
    ended, onward = draft.spot, value if draft.holder() is Side.OFFENSE else 0 - value
    if draft.events and draft.events[-1].kind is EventKind.LATERAL and draft.gain_said and not draft.returned:
        fields["gain"] += value
        draft.fill(f"{text} more yards after the lateral")
    elif _is_gain(draft, slot):
        if draft.kind is None and not draft.loss and slot != "gain":
            draft.pending = value
            return [draft]
        gained(draft, value)
        draft.slot = slot if slot in ("event", "spot") else ""
    elif slot == "kick_to":
        kicked_yards(draft, value)
    elif slot == "return":
        draft.returned = True
        returned_yards(draft, value)
    elif slot in ("caught", "event"):
        raise Refused(f"{text} yards of what? Say {'returned {text} yards' if slot == 'caught' else 'the yard line'}")
    elif slot == "spot":
        moved = draft.where()
        if moved is None:
            raise Refused(f"{text} yards from where?")
        _dead(draft, moved + onward)
    elif draft.kind is None and draft.pending is None:
        draft.pending = value
    elif draft.events and ended is not None and not draft.returned:
        began = next((event.spot for event in reversed(draft.events) if event.spot is not None), None)
        if began is not None:
            same_place(draft, began + onward, ended, f"{text} yards lead to")
    elif (draft.play_kind in KICKS and draft.kick_to is not None and draft.kick_yards is None
            and not draft.returned and draft.start is not None):
        draft.kick_yards = value
        same_place(draft, draft.start + value, fields["kick_to"], f"{text} yards lead to")
    elif draft.returned and draft.return_yards is None and ended is not None:
        base = draft.came_from if draft.came_from is not None else draft.kick_to
        draft.return_yards = value
        if base is not None:
            same_place(draft, base + onward, ended, f"a return of {text} yards leads to")
        elif draft.play_kind in KICKS:
            fields["kick_to"] = ended + value
    else:
        raise Refused(f"the number {text} has nothing to say here")
    return [draft]


def _bare(draft: Draft, value: float, text: str, slot: str, habit: Habit) -> list[Draft]:
    """Take a number with no word that makes it a distance or a yard line."""
    if _is_gain(draft, slot) and (slot == "gain" or draft.loss):
        return _distance(draft, value, text, slot)
    if slot == "kick_to":
        return _by_habit(draft, value, text, habit, kicked_yards, placed, _kick_sides)
    if slot == "return":
        draft.returned = True
        if return_base(draft) is None:
            yards = draft.copy()
            returned_yards(yards, value)
            yards.fill(f"{text} may be a yard line or a distance", 3)
            return [*_each(draft, _return_sides(draft, value, text), returned_to), yards]
        return _by_habit(draft, value, text, habit, returned_yards, returned_to, _return_sides)
    if (draft.kind is None and draft.due is None and draft.pending is None and not draft.events and not draft.fouls
            and draft.before.next is Next.SCRIMMAGE and not draft.returned and not draft.gain_said):
        draft.pending = value
        return [draft]
    raise Refused(f"the number {text} has nothing to say here")


def _ranked(draft: Draft, value: float, text: str, slot: str, prep: str) -> list[float]:
    """The places that a yard line without a side can be, the likeliest first, by what it would tell."""
    spots, fields = sides_of(draft, value, text), draft.fields

    def nearest(place: float | None) -> list[float]:
        return spots if place is None else sorted(spots, key=lambda spot: abs(spot - place))

    if (draft.in_foul and draft.fouls) or slot in ("foul spot", "enforced from", "spot"):
        return _near(draft, spots)
    if slot == "return" and not draft.returned and draft.kick_yards is not None and not draft.events:
        return nearest(fields["kick_to"])[:1]
    if prep == "from" and slot in ("return", "") and draft.returned and return_base(draft) is None:
        return spots[::-1][:1] if draft.play_kind in KICKS else _near(draft, spots)
    if slot == "kick_to":
        return _kick_sides(draft, value, text)
    if slot == "return" or (draft.returned and draft.return_yards is not None and draft.spot is None):
        return _return_sides(draft, value, text)
    if slot == "caught":
        return _caught_sides(draft, value, text) if prep == "at" or draft.caught is not None else spots
    if slot == "event":
        first_touch = (draft.play_kind is PlayKind.PUNT and draft.kick_to is None
            and len(draft.events) == 1 and draft.events[0].kind is EventKind.MUFF)
        return _kick_sides(draft, value, text) if first_touch else _near(draft, spots)
    if slot == "gain" or (draft.kind in (None, *GAINING) and not draft.events and not draft.returned
            and draft.outcome not in (Outcome.INTERCEPTED, Outcome.INCOMPLETE)):
        return _run_sides(draft, spots)
    if draft.outcome is Outcome.INCOMPLETE:
        return nearest(draft.start)[:1]
    if draft.returned and draft.return_yards is not None:
        return nearest(draft.spot)[:1]
    return nearest(draft.spot)


def _may_cost(draft: Draft, yards: float) -> bool:
    """Whether the rules enforce so many yards for the foul at hand: its own, or half the distance to a goal line."""
    costs = draft.rulebook.fouls[draft.fouls[-1]["name"]].yards
    incidental = "face mask" in draft.fouls[-1]["name"] and yards == PENALTY_YARDS[0]
    if not costs or yards == costs or incidental or draft.exact:
        return True
    places = [place for place in (draft.start, draft.where(), draft.fouls[-1].get("spot")) if place is not None]
    near = [min(place, draft.in_field - place) for place in places]
    return yards < costs and (not near or min(near) <= 2 * costs)


def _of_the_foul(draft: Draft, yards: bool, prep: str) -> bool:
    """A number before a foul is that foul's yards where the play has its own."""
    settled = draft.gain_said or draft.outcome is Outcome.INCOMPLETE
    return prep != "for" and (draft.flagged or (yards and settled and not draft.slot))


_AWAITED = (Role.KIND, Role.KICK, Role.MANNER, Role.LOSS, Role.GAIN, Role.RETURN, Role.SCORE, Role.FLAG, Role.TWO_POINT)


def _yards(draft: Draft, value: float) -> Draft:
    other = draft.copy()
    kicked_yards(other, value)
    return other


def same_place(draft: Draft, leads: float, said: float, what: str) -> None:
    """Doubt the line where two ways to say a place disagree by more than a yard."""
    if abs(leads - said) > 1:
        draft.doubt(f"{what} {draft.spoken(leads)}, not to {draft.spoken(said)}")


def _each(draft: Draft, spots: list[float], take: Callable[[Draft, float], Any]) -> list[Draft]:
    """One draft for each place that a yard line without a side may be, the likeliest first."""
    ways, refused = [], None
    for place, spot in enumerate(spots):
        way = draft.copy()
        try:
            take(way, spot)
        except Refused as error:
            refused = error
            continue
        if len(spots) > 1:
            way.fill(f"the side of the {spoken_yards(min(spot, draft.in_field - spot))} was not said", 1 + place)
            way.side_guessed = 1 + place
        ways.append(way)
    if not ways and refused is not None:
        raise refused
    return ways


def _by_habit(draft: Draft, value: float, text: str, habit: Habit, take_yards: Callable[[Draft, float], None],
        take_spot: Callable[[Draft, float], None], sides: Callable[[Draft, float, str], list[float]]) -> list[Draft]:
    """A bare number after a kick or a return: a yard line or a distance, as the staff is used to say first."""
    ways: list[Draft] = []
    why = f"{text} may be a yard line or a distance"
    told: Refused | None = None
    lines = draft.copy()
    try:
        found = sides_of(lines, value, text)
        spot = (found[-1] if draft.play_kind in KICKS and draft.holder() is Side.DEFENSE
            else sides(lines, value, text)[0])
        take_spot(lines, spot)
        if lines.bare is Habit.DISTANCES:
            lines.penalty += 3
        lines.bare = Habit.YARD_LINES
        ways.append(lines)
    except Refused as error:
        told = error
    yards = draft.copy()
    try:
        take_yards(yards, value)
        end = yards.spot if take_yards is returned_yards else yards.kick_to
        if (end is not None
                and not -draft.rulebook.end_zone_depth <= end <= draft.in_field + draft.rulebook.end_zone_depth):
            raise Refused(f"{text} yards lead off the field")
        if take_yards is kicked_yards and draft.play_kind in FREE_KICKS and value < draft.rulebook.kickoff_travel:
            raise Refused(f"no kickoff of {text} yards")
        if yards.bare is Habit.YARD_LINES:
            yards.penalty += 3
        yards.bare = Habit.DISTANCES
        ways.append(yards)
    except Refused as error:
        told = told or error
    if len(ways) == 2:
        by_yards = habit is Habit.DISTANCES or (take_yards is returned_yards and draft.kick_yards is not None)
        first, second = (yards, lines) if by_yards else (lines, yards)
        first.fill(why, 1)
        second.fill(why, 3)
        if first.back and not second.back:
            first.penalty += 5
    if not ways and told is not None:
        raise told
    return ways


def sides_of(draft: Draft, value: float, text: str) -> list[float]:
    """The places that a yard line without a side can be."""
    half = draft.in_field / 2
    if value == half:
        return [half]
    if not 0 <= value <= half:
        raise Refused(f"there is no {text}-yard line; yard lines run from 0 to {spoken_yards(half)}")
    return [value, draft.in_field - value]


def _near(draft: Draft, spots: list[float]) -> list[float]:
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


def _kick_sides(draft: Draft, value: float, text: str) -> list[float]:
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


def _caught_sides(draft: Draft, value: float, text: str) -> list[float]:
    """Where an interception was caught, the likelier side first: downfield of the snap and near it.

    Where it was run to is nearer to where it was caught.
    """
    spots = sides_of(draft, value, text)
    caught, start = draft.caught, draft.start
    if caught is not None:
        return sorted(spots, key=lambda spot: abs(spot - caught))
    if start is None:
        return spots
    return sorted(spots, key=lambda spot: (spot < start - _BACK, abs(spot - start)))


def _return_sides(draft: Draft, value: float, text: str) -> list[float]:
    """Where a return may have ended: ahead of where it began, for the side that has the ball."""
    spots = sides_of(draft, value, text)
    base = return_base(draft)
    if len(spots) == 1:
        return spots
    own, opp = spots
    if draft.crossed:
        return [opp] if draft.holder() is Side.OFFENSE else [own]
    if base is None:
        return [opp, own] if draft.is_kick() else [own, opp]
    if draft.holder() is Side.OFFENSE:
        return [spot for spot in (own, opp) if spot >= base] or [opp]
    if opp <= base:
        return [opp, own] if draft.play_kind not in KICKS or opp > draft.in_field * 0.45 else [opp]
    return [own] if own <= base else [opp]


def _run_sides(draft: Draft, spots: list[float]) -> list[float]:
    """Where a run or catch may have ended, the likelier place first."""
    start = draft.start
    if start is None or len(spots) == 1:
        return spots
    if draft.crossed and start < draft.in_field / 2:
        return [max(spots)]
    if draft.gain_said:
        return sorted(spots, key=lambda spot: abs(spot - start - draft.fields["gain"]))[:1]
    back = draft.kind in (PlayKind.SACK, PlayKind.KNEEL) or draft.loss
    likely = [spot for spot in spots if (spot <= start if back else True) and spot - start >= -_LONG_LOSS] or spots
    return sorted(likely, key=lambda spot: (spot < start and not back, abs(spot - start)))


def _passed_on_the_way(draft: Draft) -> None:
    assert draft.spot_said is not None
    if not draft.complete:  # a ball is caught at one place and carried on to another
        draft.fill(f"{draft.spoken(draft.spot_said)} was passed on the way")
    draft.spot_said = None


def _run_to(draft: Draft, spot: float) -> None:
    draft.spot_said = spot
    draft.slot, draft.loss = "", False


def _began(draft: Draft, spot: float) -> None:
    """Where the return at hand began."""
    draft.came_from = spot
    if draft.play_kind in KICKS:
        draft.fields["kick_to"] = spot
    elif draft.outcome is Outcome.INTERCEPTED:
        draft.caught = spot
    if draft.return_yards is not None and draft.spot is None:
        returned_yards(draft, draft.return_yards)
    elif draft.spot is not None:
        returned_to(draft, float(draft.fields["spot"]))


def _dead(draft: Draft, spot: float) -> None:
    draft.put("spot", spot)
    draft.slot, draft.end_said = "", True


def _caught(draft: Draft, spot: float) -> None:
    if draft.caught is not None:
        draft.returned = True
        returned_to(draft, spot)
        return
    draft.caught = spot
    draft.slot = "caught"
    if draft.return_yards is not None:
        yards, draft.return_yards = draft.return_yards, None
        returned_yards(draft, yards)
        draft.returned, draft.slot = True, "return" if draft.spot is None else ""


def _event_place(draft: Draft, spot: float) -> None:
    draft.change_event(spot=spot)
    draft.slot = "spot"
    if (draft.play_kind in FREE_KICKS and draft.kick_to is None
            and len(draft.events) == 1) or (draft.play_kind is PlayKind.PUNT
            and draft.events[-1].kind is EventKind.MUFF and draft.kick_to is None and draft.outcome is Outcome.MUFFED):
        draft.fields["kick_to"] = spot


def _length(draft: Draft, value: float, text: str, the: bool, line: bool) -> list[Draft]:
    """A field goal's number is its length; with "the" it may also be the yard line it was kicked from."""
    if draft.kind is PlayKind.TRY_KICK:
        if value <= 0:
            raise Refused(f"the number {text} has nothing to say here")
        draft.slot = ""
        return [draft]
    if draft.length is not None:
        raise Refused(f"{spoken_yards(draft.length)} yards were said already")
    ways = []
    if not line:
        way = draft.copy()
        way.length, way.slot = value, ""
        ways.append(way)
    if (the or line) and 0 <= value <= draft.in_field / 2:
        way = draft.copy()
        way.fields["kick_from"], way.slot = draft.in_field - value, ""
        if not line:
            usual = draft.start is not None and abs(draft.start - SNAP_TO_KICK - way.fields["kick_from"]) <= 3
            way.fill(f"{text} may be the length or the yard line", 1 if usual else 2)
            ways[0].fill(f"{text} may be the length or the yard line", 2 if usual else 1)
        ways.append(way)
    return ways


def _exact_number(draft: Draft, name: str, value: float, text: str) -> Draft:
    if name != "gain":
        half = draft.in_field / 2
        if value != half:
            raise Refused(f"which {text}? Say own {text} or opp {text}")
        return spot_item(draft, half, "")[0]
    draft.fields["gain"] = value
    draft.slot, draft.gain_said = "", True
    return draft


_NEEDS_WHOLE = ("down", "period", "score_home", "score_visitors", "timeouts_home", "timeouts_visitors")


def _said_number(draft: Draft, name: str, value: float, text: str) -> Draft:
    assert draft.said is not None
    if name in _NEEDS_WHOLE:
        if value != int(value) or value < 0:
            raise Refused(f"{text} must be a whole number")
        draft.said[name] = int(value)
    elif name == "ball_on":
        half = draft.in_field / 2
        if value != half:
            raise Refused(f"which {text}? Say own {text} or opp {text}")
        draft.said[name] = half
    else:
        draft.said[name] = value
    draft.slot = ""
    return draft


# -- places -----------------------------------------------------------------------------------------
def _began_there(draft: Draft, spots: list[float]) -> bool:
    """ "from the 31": where a run or pass began, which is known; another place is a doubt."""
    first = (draft.kind is None and draft.due is None and draft.start is not None and not draft.anything_said()
        and any(abs(spot - draft.start) <= 1 for spot in spots))
    if (draft.kind not in (PlayKind.RUN, PlayKind.PASS, PlayKind.SACK, None)
            or (draft.kind is None and draft.score is None and not draft.fields.get("manner") and not first)
            or draft.in_foul or draft.events or draft.returned):
        return False
    if draft.outcome is Outcome.INTERCEPTED or draft.start is None or not spots:
        return False
    if all(abs(spot - draft.start) > 1 for spot in spots):
        draft.doubt(f"the ball was on {draft.spoken(draft.start)}, not {draft.spoken(spots[0])}")
    return True


def _put_in_play(draft: Draft, lines: tuple[float, ...], text: str) -> Draft:
    """Where the receivers take a kick out of bounds or a touchback, in their terms: a check of what the rules tell."""
    draft.slot = ""
    draft.calls.append(PutInPlay(text, lines))
    draft.fill(f"{text} is where they put it in play")
    return draft


def spot_item(draft: Draft, spot: float, text: str) -> list[Draft]:
    """Take a yard line with its side, in the terms of the offense."""
    draft.settle_if_kick()
    draft.dangling = ""
    slot, prep = draft.slot, draft.prep
    draft.prep, draft.the = "", False
    if slot.startswith("said ") or draft.said is not None:
        if slot != "said ball_on" or draft.said is None:
            raise Refused(f"{text} has nothing to say here")
        draft.said["ball_on"] = spot
        draft.slot = ""
        return [draft]
    if slot.startswith("exact "):
        name = slot[6:]
        if name == "event":
            draft.change_event(spot=spot)
        elif name == "gain":
            raise Refused("say the yards gained as a number")
        else:
            draft.fields[name] = spot
        draft.slot = ""
        return [draft]
    if slot == "put in play":
        return [_put_in_play(draft, (draft.in_field - spot,), text)]
    if (draft.outcome is Outcome.INCOMPLETE and not draft.in_foul and draft.start is not None
            and abs(spot - draft.start) < 1):
        return [draft]  # the ball is back where it was
    if (draft.in_foul and draft.fouls) or slot in ("foul spot", "enforced from"):
        return [_foul_place(draft, spot, "from" if slot == "enforced from" else prep)]
    if slot == "gain" and prep == "from" and _began_there(draft, [spot]):
        return [draft]
    if slot == "gain":
        if draft.kind is None and draft.due is None and prep not in ("to", "at") and not draft.fields.get("manner"):
            raise Refused("what kind of play?")
        if draft.start is None:
            raise Refused("where the ball was is not known; say the yards gained")
        draft.spot_said, draft.slot, draft.loss = spot, "", False
        return [draft]
    if slot == "kick_to":
        if (prep == "from" and draft.kind in (PlayKind.PUNT, *FREE_KICKS)
                and (spot < draft.in_field / 2 or draft.kind is PlayKind.PUNT)):
            if draft.start is not None and draft.kind in FREE_KICKS and abs(spot - draft.start) > 0.5:
                draft.doubt(f"the kick is from {draft.spoken(draft.start)}, not {draft.spoken(spot)}")
            if draft.start is None or abs(draft.start - spot) > 0.01:
                draft.fill(f"from {draft.spoken(spot)} is where it was kicked")
            return [draft]
        placed(draft, spot)
        if draft.returned:
            draft.slot = "return"
        return [draft]
    if slot == "length":
        if draft.kind is PlayKind.TRY_KICK:
            raise Refused(f"{text} has nothing to say here")
        if draft.outcome in (Outcome.NO_GOOD, Outcome.BLOCKED) and prep != "from":
            placed(draft, spot)
        else:
            draft.put("kick_from", spot)
        draft.slot = ""
        return [draft]
    if (slot == "return" and not draft.returned and draft.kick_yards is not None and not draft.events
            and prep in ("to", "at")):
        placed(draft, spot)
        return [draft]
    if slot == "return":
        if prep == "from":
            if draft.came_from is None and draft.kick_to is None and draft.caught is None:
                _began(draft, spot)
                return [draft]
            if return_base(draft) != spot:
                raise Refused("where the return began was said already")
            return [draft]
        draft.returned = True
        returned_to(draft, spot)
        return [draft]
    if slot == "caught":
        if prep in ("at", "in"):
            draft.caught_at = True
        _caught(draft, spot)
        return [draft]
    if slot == "event":
        if draft.events[-1].kind in (EventKind.RECOVERY, EventKind.OWN_RECOVERY) and prep == "to":
            _dead(draft, spot)
            return [draft]
        _event_place(draft, spot)
        return [draft]
    if slot == "spot":
        _dead(draft, spot)
        return [draft]
    if prep == "from" and _began_there(draft, [spot]):
        return [draft]
    if draft.kind in (None, *GAINING) and draft.spot_said is not None and not (draft.events or draft.gain_said):
        _passed_on_the_way(draft)
        _run_to(draft, spot)
        return [draft]
    kick = draft.play_kind in KICKS
    if prep == "from" and draft.outcome is Outcome.INTERCEPTED and draft.caught is None:
        _caught(draft, spot)
        draft.caught_at = True
        return [draft]
    if prep == "from" and draft.returned and kick and draft.kick_to is None:
        _began(draft, spot)
        return [draft]
    if draft.kind in GAINING and draft.gain_said and not draft.events and draft.start is not None:
        draft.spot_said = spot
        return [draft]
    if kick and draft.kick_to is not None and draft.spot is None and not draft.events and not draft.returned:
        placed(draft, spot)
        return [draft]
    if draft.returned and (draft.spot is not None or draft.return_yards is not None):
        returned_to(draft, spot)
        return [draft]
    if draft.kind is PlayKind.FIELD_GOAL and draft.spot is None:
        if draft.outcome is Outcome.NO_GOOD and draft.kick_to is None and not draft.returned:
            placed(draft, spot)
        elif prep == "from" and draft.kick_from is None:
            draft.fields["kick_from"] = spot
        else:
            _dead(draft, spot)
        return [draft]
    if (draft.kind is None and prep in ("to", "at") and draft.start is not None and draft.due is None
            and not draft.events and draft.spot_said is None):
        draft.spot_said = spot
        return [draft]
    if draft.fouls and not draft.fouls[-1].get("spot") and prep == "at":
        return [_foul_place(draft, spot, prep)]
    if (draft.play_kind in (*GAINING, PlayKind.PUNT, PlayKind.FIELD_GOAL, *FREE_KICKS) and draft.spot is None
            and draft.outcome is not Outcome.INCOMPLETE and (draft.events or draft.returned)):
        _dead(draft, spot)
        return [draft]
    raise Refused(f"{text} has nothing to say here")


def _foul_place(draft: Draft, spot: float, prep: str) -> Draft:
    if not draft.fouls:
        raise Refused("there is no foul yet")
    name = "enforced_from" if prep == "from" else "spot"
    if draft.fouls[-1].get(name) is not None:
        raise Refused(f"{draft.spoken(draft.fouls[-1][name])} was said already")
    draft.fouls[-1][name] = spot
    draft.slot = ""
    return draft
