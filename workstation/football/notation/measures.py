"""Numbers: what a distance or a yard line says where it stands, one draft for each meaning it can have."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from ..field import spoken_yards
from ..plays import EventKind, Outcome, PlayKind, Score, Side
from ..situation import Next
from .custom import Ahead, Habit
from .draft import FREE_KICKS, GAINING, KICKS, PENALTY_YARDS, SNAP_TO_KICK, Draft, Refused
from .foul_rules import may_cost
from .places import began_there, dead_at, is_kick_put, is_put, put_after_foul, put_in_play, spot_item
from .word import Role
from .yard_lines import kick_sides, ranked, return_sides, sides_of
from .yards import gained, kicked_yards, placed, return_base, returned_to, returned_yards, same_place

_RUN_OR_PASS = (PlayKind.RUN, PlayKind.PASS)


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
        return [put_in_play(draft, tuple(sides_of(draft, value, text)), text)]
    if not yards and is_kick_put(draft, draft.side is Side.DEFENSE or draft.last == "ball"):
        draft.side = None
        return [put_in_play(draft, tuple(sides_of(draft, value, text)), text)]  # "out of bounds, they take the 35"
    if slot.startswith("said "):
        return [_said_number(draft, slot[5:], value, text)]
    if slot.startswith("exact "):
        return [_exact_number(draft, slot[6:], value, text)]
    if (prep == "from" and not yards and began_there(draft, sides_of(draft, value, text)
            if value <= draft.in_field / 2 else [])):
        return [draft]
    if (prep == "from" and not yards and slot == "kick_to" and draft.kind in (*FREE_KICKS, PlayKind.PUNT)
            and draft.start is not None and value == min(draft.start, draft.in_field - draft.start)):
        return [draft]  # "free kick from the 20"
    if not yards and value >= 0 and is_put(draft, slot, prep):
        return [put_after_foul(draft, tuple(sides_of(draft, value, text)), text)]
    distance = yards or prep == "for"
    place = line or (not yards and (prep in ("to", "at", "in") or the
        or (prep == "from" and (draft.kind is not PlayKind.FIELD_GOAL or (draft.in_foul and bool(draft.fouls))))))
    if value < 0 and slot not in ("gain", "", "event", "spot"):
        raise Refused(f"{text} is a loss, and there can be none here")
    if value > 0 and not place and (draft.plus
            or (ahead.role == Role.FOUL and _of_the_foul(draft, value, yards, prep))):
        draft.plus = False
        draft.early = {**draft.early, "yards": value}
        return [draft]
    in_foul = draft.in_foul and bool(draft.fouls)
    of_the_play = draft.nullified or prep == "for"
    if (in_foul and of_the_play and not (draft.gain_said or place or yards) and draft.kind in (None, *_RUN_OR_PASS)
            and draft.spot_said is None and draft.due is None and draft.outcome is not Outcome.INCOMPLETE
            and not may_cost(draft, draft.fouls[-1], abs(value)) and ahead.role != Role.FOUL_DETAIL):
        draft.in_foul, in_foul = False, False
        gained(draft, value)  # "late hit on them, he had 8", "holding wipes out a 12"
        draft.slot = ""
        return [draft]
    if in_foul and draft.fouls[-1]["name"] == "intentional grounding" and ahead.role == Role.PREPOSITION and (
            not (place or yards) and value not in PENALTY_YARDS):
        draft.fill(f"{text} was taken for a player's number")
        return [draft]  # "grounding 12 from own 30"
    if in_foul and slot not in ("foul spot", "enforced from"):
        of_play = (Role.KIND, Role.MANNER, Role.CAUGHT, Role.GAIN)
        if yards and ahead.role in of_play and not draft.gain_said and draft.pending is None:
            waiting = draft.copy()
            waiting.pending, waiting.in_foul = value, False
            if text != "a" and draft.kind is None:
                draft.fouls[-1]["yards"] = abs(value)
                draft.fill("", 1)
                return [waiting, draft]
        if not place and may_cost(draft, draft.fouls[-1], abs(value)):
            draft.fouls[-1]["yards"] = abs(value)
            return [draft]
        if not place and (yards or not 0 <= value <= draft.in_field / 2):
            if not yards and value > draft.in_field / 2:
                draft.fill(f"{text} was taken for a player's number")
                return [draft]
            costs = draft.rulebook.fouls[draft.fouls[-1]["name"]].yards
            draft.doubt(f"{draft.fouls[-1]['name']} costs {spoken_yards(costs)} yards, not {spoken_yards(abs(value))}")
            draft.fouls[-1]["yards"] = abs(value)
            return [draft]
        if not place:
            draft.fill(f"{text} is taken for the yard line of the foul, for it costs no such yards")
    if not (in_foul or place or ahead.role == Role.RETURN) and _tacked_on(draft, value, yards):
        draft.fouls[-1]["yards"], draft.in_foul = value, True
        draft.fill(f"{text} is taken for the yards of the penalty")
        return [draft]
    if (draft.loss and draft.fouls and not (draft.gain_said or in_foul or place)
            and draft.fouls[-1].get("yards") is None and draft.kind in (None, PlayKind.NO_PLAY) and not draft.events
            and value == draft.rulebook.fouls[draft.fouls[-1]["name"]].yards):
        draft.fouls[-1]["yards"], draft.in_foul, draft.loss, draft.slot = value, True, False, ""
        draft.fill(f"{text} is taken for the yards of the penalty")
        return [draft]  # "clipping, we lose 15 from the 33"
    if (yards and ahead.role == Role.FOUL and draft.kind is None and value in PENALTY_YARDS and prep != "for"
            and slot in ("", "gain") and not draft.gain_said):
        draft.early = {**draft.early, "yards": value}  # "a fifteen yard personal foul"
        return [draft]
    if (yards and not in_foul and draft.play_kind in KICKS and draft.kick_to is not None and draft.kick_yards is None
            and not draft.returned and draft.start is not None and ahead.role in (Role.KIND, Role.KICK)):
        draft.kick_yards = value  # "rolls dead at the 11, 61 yard kick"
        same_place(draft, draft.start + value, draft.fields["kick_to"], f"{text} yards lead to")
        return [draft]
    if not in_foul and yards and draft.pending is None and _waits(draft, slot, ahead):
        waiting = draft.copy()
        waiting.pending = value
        return [waiting, *([_yards(draft, value)] if slot == "kick_to" and ahead.role == Role.RETURN else [])]
    placed_there = (place and prep != "from" and draft.outcome in (Outcome.NO_GOOD, Outcome.BLOCKED)
        and (draft.length is not None or draft.side is Side.DEFENSE or draft.last == "ball"))
    if slot == "length" and not in_foul and not placed_there:
        return _length(draft, value, text, the and not line, line)
    incomplete = draft.outcome is Outcome.INCOMPLETE and value in PENALTY_YARDS and not draft.events
    if distance and draft.fouls and (incomplete or ((draft.gain_said or draft.is_kick())
            and ahead.role == Role.FOUL_DETAIL)):
        draft.fouls[-1]["yards"] = value  # "face mask on a run of 6, 15 yards added on"
        return [draft]
    points = text == "six" or (text == "6" and return_base(draft) is None)
    if points and prep == "for" and not yards and draft.returned and slot == "return":
        return _six(draft)
    if distance:
        return _distance(draft, value, text, slot)
    if not (place or in_foul or slot in ("foul spot", "enforced from", "caught", "event", "spot")):
        return _bare(draft, value, text, slot, habit)
    if (draft.loss or value < 0) and slot in ("event", "spot", "") and not place and not in_foul:
        return _distance(draft, value, text, slot)
    if slot == "spot" and value > draft.in_field / 2 and not (place or in_foul):
        return _distance(draft, value, text, slot)  # "scoops it at the 36 and goes 64"

    def take(way: Draft, spot: float) -> None:
        way.slot, way.prep = slot, prep
        spot_item(way, spot, text)

    return _each(draft, ranked(draft, value, text, slot, prep), take)


def _tacked_on(draft: Draft, value: float, yards: bool) -> bool:
    """A number behind a foul and what the play gained, or where its kick came down, is what the foul costs."""
    if not draft.fouls or draft.returned or draft.events or draft.exact:
        return False
    foul = draft.fouls[-1]
    costs = draft.rulebook.fouls[foul["name"]].yards
    ended = draft.gain_said or (draft.outcome is Outcome.INCOMPLETE and not yards) or (draft.is_kick()
        and draft.kick_to is not None and "catch" in foul["name"])
    return ended and foul.get("yards") is None and value == costs


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
    if draft.score is Score.TOUCHDOWN and draft.possession is Side.DEFENSE and value > 0 and not draft.returned:
        if draft.outcome is Outcome.INTERCEPTED and draft.caught is None and not draft.events:
            draft.caught, draft.caught_at, draft.slot = value, True, ""  # "pick six, 62 yards"
            return [draft]
        if draft.events and draft.events[-1].kind is EventKind.RECOVERY and draft.events[-1].spot is None:
            draft.change_event(spot=value)  # "scoop and score, 28 yards"
            draft.slot = ""
            return [draft]
    ended, onward = draft.spot, value if draft.holder() is Side.OFFENSE else 0 - value
    if draft.events and draft.events[-1].kind is EventKind.LATERAL and draft.gain_said and not draft.returned:
        fields["gain"] += value
        draft.fill(f"{text} more yards after the lateral")
    elif _is_gain(draft, slot):
        if draft.kind is None and not draft.loss and slot != "gain":
            if draft.pending in PENALTY_YARDS and draft.pending != value:
                draft.fill(f"{spoken_yards(draft.pending)} before the {text} yards is taken for a player's number")
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
        instead = f"returned {text} yards" if slot == "caught" else "the yard line"
        raise Refused(f"{text} yards of what? Say {instead}")
    elif slot == "spot":
        moved = draft.where()
        if moved is None:
            raise Refused(f"{text} yards from where?")
        dead_at(draft, moved + onward)
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


def _six(draft: Draft) -> list[Draft]:
    """ "returned for six": six points, or six yards."""
    points, yards = draft.copy(), draft
    points.put("score", Score.TOUCHDOWN)
    points.slot = ""
    points.fill("six may be points or yards")
    yards.returned = True
    returned_yards(yards, 6.0)
    yards.fill("six may be points or yards", 2)
    return [points, yards]


def _bare(draft: Draft, value: float, text: str, slot: str, habit: Habit) -> list[Draft]:
    """Take a number with no word that makes it a distance or a yard line."""
    scored = draft.score is Score.TOUCHDOWN and draft.kind in (PlayKind.RUN, PlayKind.PASS) and not draft.gain_said
    if _is_gain(draft, slot) and (slot == "gain" or draft.loss or scored):
        return _distance(draft, value, text, slot)
    if slot == "kick_to":
        return _by_habit(draft, value, text, habit, kicked_yards, placed, kick_sides)
    if slot == "return" and value > draft.in_field / 2:
        return _distance(draft, value, text, slot)  # "returned 70"
    if slot == "return":
        draft.returned = True
        if return_base(draft) is None:
            yards = draft.copy()
            returned_yards(yards, value)
            yards.fill(f"{text} may be a yard line or a distance", 3)
            return [*_each(draft, return_sides(draft, value, text), returned_to), yards]
        return _by_habit(draft, value, text, habit, returned_yards, returned_to, return_sides)
    if (draft.kind is None and draft.due is None and draft.pending is None and not draft.events and not draft.fouls
            and draft.before.next is Next.SCRIMMAGE and not draft.returned and not draft.gain_said):
        draft.pending = value
        return [draft]
    raise Refused(f"the number {text} has nothing to say here")


def _of_the_foul(draft: Draft, value: float, yards: bool, prep: str) -> bool:
    """A number before a foul is that foul's yards where the play has its own."""
    settled = (draft.gain_said or draft.outcome is Outcome.INCOMPLETE) and not draft.slot
    return (prep != "for" and (draft.flagged or (yards and settled))) or (settled and value in PENALTY_YARDS)

_AWAITED = (Role.KIND, Role.KICK, Role.MANNER, Role.LOSS, Role.GAIN, Role.RETURN, Role.SCORE, Role.FLAG, Role.TWO_POINT,
    Role.PICK_SIX)


def _yards(draft: Draft, value: float) -> Draft:
    other = draft.copy()
    kicked_yards(other, value)
    return other


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
        by_yards = by_yards or _as_far_as_punts_go(draft, lines, value) or _back_across_the_field(lines, value)
        first, second = (yards, lines) if by_yards else (lines, yards)
        for way, penalty in ((first, 1), (second, 3)):
            way.fill(why, penalty)
            way.either = penalty
        if first.back and not second.back:
            first.penalty += 5
    if not ways and told is not None:
        raise told
    return ways


_USUAL_PUNT = (30.0, 55.0)  # yards (judgement, no source)


def _as_far_as_punts_go(draft: Draft, lines: Draft, value: float) -> bool:
    """Whether a punt told in whole words went a usual way by a number of yards, and an unusual one by it as a place."""
    if not draft.punt_told or draft.returned or draft.start is None or lines.kick_to is None:
        return False
    least, most = _USUAL_PUNT
    return least <= value <= most and not least <= lines.fields["kick_to"] - draft.start <= most


_LONG_RETURN, _USUAL_RETURN = 40.0, 30.0  # yards (judgement, no source)


def _back_across_the_field(lines: Draft, value: float) -> bool:
    """Whether an interception was returned an unusual way by a number as its place, and a usual one by its yards."""
    return (lines.outcome is Outcome.INTERCEPTED and lines.caught is not None and lines.spot is not None
        and value <= _USUAL_RETURN and abs(lines.caught - lines.fields["spot"]) > _LONG_RETURN)


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
