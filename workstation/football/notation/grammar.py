"""The grammar: what each kind of word does to the play in the making, and where it may stand.

One function for each :class:`~.words.Role`. Each changes the draft it is given, or raises :class:`~.draft.Refused`. Where
a number or place can mean several things the function returns one draft for each.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from enum import StrEnum
from typing import Any

from ..field import Team, spoken_yards
from ..plays import BallEvent, EventKind, FoulTime, Outcome, PlayKind, Score, Side
from ..situation import Next
from .draft import (
    BETWEEN,
    FREE_KICKS,
    GAINING,
    KICKS,
    SNAP_TO_KICK,
    TRIES,
    Draft,
    Refused,
)
from .words import Role, Word


class Habit(StrEnum):
    """What a bare number after a kick or a return is."""

    YARD_LINES = "yard lines"
    DISTANCES = "distances"


@dataclass(frozen=True, slots=True)
class Custom:
    """What a staff is used to say: the habit for bare numbers after kicks and returns, the two teams' names, and which is
    "us"."""

    kicks: Habit = Habit.YARD_LINES
    home: str = ""
    visitors: str = ""
    us: Team | None = None


@dataclass(frozen=True, slots=True)
class Ahead:
    """What follows a word: the role of the next word ("" for a number or nothing)."""

    role: str = ""
    number: bool = False
    last: bool = False


_LONG_LOSS = 25.0  # a run or catch that ends farther back than this is told with its side
_BACK = 5.0  # so far a runner may be driven back on a return
_FOUL_LIMIT = 4


# -- kinds ------------------------------------------------------------------------------------------
def _on_try(kind: PlayKind, outcome: Outcome | None) -> tuple[PlayKind, Outcome | None]:
    """What a scrimmage play is on a try."""
    if kind is PlayKind.RUN:
        return PlayKind.TRY_RUN, None
    if kind is PlayKind.KNEEL:
        return PlayKind.TRY_RUN, Outcome.NO_GOOD
    if kind is PlayKind.SACK:
        return PlayKind.TRY_PASS, Outcome.NO_GOOD
    if kind is PlayKind.PASS:
        missed = outcome in (Outcome.INCOMPLETE, Outcome.INTERCEPTED)
        return PlayKind.TRY_PASS, Outcome.NO_GOOD if missed else None
    if kind is PlayKind.FIELD_GOAL:
        return PlayKind.TRY_KICK, outcome
    return kind, outcome


def set_kind(draft: Draft, kind: PlayKind, outcome: Outcome | None, plain: bool = False) -> None:
    """The kind is said for the first time: what a number would mean next follows from it."""
    draft.kind = kind
    if outcome is not None:
        draft.fields["outcome"] = outcome
    if draft.prep in ("by", "in"):
        draft.prep = ""
    if outcome is Outcome.INTERCEPTED:
        draft.slot = "caught"
        if draft.pending is not None:
            draft.return_yards, draft.pending = draft.pending, None
    elif outcome is Outcome.INCOMPLETE or kind is PlayKind.SPIKE:
        draft.slot = ""
    elif kind in GAINING:
        draft.slot = "gain" if not draft.gain_said and draft.spot_said is None else ""
        if draft.pending is not None:
            gained(draft, draft.pending)
            draft.pending = None
        elif draft.gain_said and kind in (PlayKind.SACK, PlayKind.KNEEL) and draft.fields["gain"] > 0:
            draft.fields["gain"] = 0 - draft.fields["gain"]
    elif kind in (PlayKind.FIELD_GOAL, PlayKind.TRY_KICK):
        draft.slot = "length"
        if draft.pending is not None:
            draft.length, draft.pending = draft.pending, None
    elif kind in KICKS:
        draft.slot = "kick_to"
        if draft.pending is not None:
            kicked_yards(draft, draft.pending)
            draft.pending = None
    else:
        draft.slot = "spot" if kind in (PlayKind.MEASUREMENT, PlayKind.INADVERTENT_WHISTLE) else ""


def _kind(draft: Draft, word: Word, ahead: Ahead) -> None:
    kind, outcome = word.value
    on_try = draft.before.next is Next.TRY or draft.two_point
    if kind in (PlayKind.PUNT, PlayKind.KICKOFF) and draft.due is PlayKind.SAFETY_FREE_KICK:
        kind = PlayKind.SAFETY_FREE_KICK
    complete = (
        kind is PlayKind.PASS
        and outcome is Outcome.COMPLETE
        and any(part in draft.phrase for part in ("complet", "caught", "reception", "connects", "hits"))
    )
    if on_try and not word.text.startswith("scrimmage") and not draft.exact:
        if kind in (PlayKind.PASS,) and outcome is Outcome.INTERCEPTED:
            draft.holder_on_try = Side.DEFENSE
        kind, outcome = _on_try(kind, outcome)
        if complete and draft.outcome is None:
            outcome = Outcome.GOOD
            draft.fill("complete in the end zone: good")
    draft.in_foul = False
    draft.complete = draft.complete or complete
    now = draft.kind
    if now is None:
        held = draft.outcome
        if held is not None and outcome is not None and held is not outcome and outcome is not Outcome.COMPLETE:
            raise Refused(f"{held.value} was said already")
        if held in (Outcome.GOOD, Outcome.NO_GOOD) and kind not in (PlayKind.FIELD_GOAL, *TRIES):
            raise Refused(f"a {kind.value} cannot be {held.value}")
        if draft.events and kind in (*BETWEEN, PlayKind.KICKOFF, PlayKind.NO_PLAY, PlayKind.SPIKE):
            raise Refused(f"{kind.value} cannot follow what happened to the ball")
        keep = (
            draft.slot if draft.events and not (draft.events[-1].kind is EventKind.MUFF and kind in GAINING) else None
        )
        set_kind(draft, kind, held if held is not None and outcome in (None, Outcome.COMPLETE) else outcome)
        if keep is not None:
            draft.slot = keep
        return
    if kind is PlayKind.NO_PLAY:
        draft.nullified = True
        return
    if now is PlayKind.NO_PLAY and kind not in BETWEEN:
        raise Refused("no play was said already")
    if draft.kind_from_manner and now is not kind and not draft.events:
        if kind in FREE_KICKS or now in FREE_KICKS:
            raise Refused(f"{now.value} was said already")
        gain, slot = draft.fields.get("gain"), draft.slot
        set_kind(draft, kind, outcome)
        draft.slot = slot if gain is not None else draft.slot
        draft.kind_from_manner = False
        return
    if now is kind:
        draft.inferred = ""
        old = draft.outcome
        if outcome is None or outcome is old:
            return
        if outcome is Outcome.COMPLETE:
            if word.text == "pass" and old is not None and ahead.role != "again":
                return
            raise Refused(f"{old.value if old else 'something else'} was said already")
        if (
            (old is Outcome.COMPLETE
            and draft.fields.get("gain") is None
            and draft.spot_said is None
            and not draft.complete)
            or old is None
        ):
            draft.fields["outcome"] = outcome
            draft.slot = "caught" if outcome is Outcome.INTERCEPTED else ""
            return
        if old is Outcome.COMPLETE and outcome is Outcome.INCOMPLETE and draft.out and not draft.gain_said:
            draft.fields["outcome"] = outcome
            draft.fill("caught out of bounds: incomplete")
            return
        raise Refused(f"{old.value if old else 'something else'} was said already")
    if kind is PlayKind.REPLAY_REVERSAL or now is PlayKind.REPLAY_REVERSAL:
        if now is PlayKind.REPLAY_REVERSAL and kind is PlayKind.PASS and outcome is not None:
            draft.put("outcome", outcome)
            draft.slot = "gain" if outcome is Outcome.COMPLETE else draft.slot
            return
        raise Refused(f"{now.value} was said already")
    if word.text in ("kickoff", "safety free kick", "try kick") and now in (
        *KICKS,
        PlayKind.FIELD_GOAL,
        PlayKind.TRY_KICK,
    ) and (now in FREE_KICKS or ahead.role == "kick"):
        return
    if draft.two_point and now in (PlayKind.TRY_RUN, PlayKind.TRY_PASS) and kind is PlayKind.TRY_KICK:
        raise Refused("a kick is no two-point try")
    raise Refused(f"{now.value} was said already")


def _manner(draft: Draft, word: Word, ahead: Ahead) -> None:
    kind, manner = word.value
    draft.in_foul = False
    if draft.exact:
        draft.fields["manner"] = manner
        return
    if draft.fields.get("manner") and draft.fields["manner"] != manner:
        draft.fill(f"{draft.fields['manner']} was said too")
    else:
        draft.fields["manner"] = manner
    if kind is None:
        if not draft.slot and draft.kind is None:
            draft.slot = "gain"
        return
    if draft.kind is None:
        outcome = Outcome.COMPLETE if kind is PlayKind.PASS else None
        if draft.before.next is Next.TRY:
            kind, outcome = _on_try(kind, outcome)
        held = draft.outcome
        if held is not None and outcome in (None, Outcome.COMPLETE):
            outcome = held
        set_kind(draft, kind, outcome)
        draft.kind_from_manner = True
        return
    if (
        draft.kind is not kind
        and not (
            draft.kind in (PlayKind.RUN, PlayKind.PASS, PlayKind.TRY_RUN, PlayKind.TRY_PASS, PlayKind.SACK)
            and kind in (PlayKind.RUN, PlayKind.PASS)
        )
        and not (draft.kind in KICKS and kind in KICKS)
    ):
        raise Refused(f"{draft.kind.value} was said already")


_FOR_TWO = ("for two", "for 2", "for two points", "two points", "2 pts")


def _two_point(draft: Draft, word: Word, ahead: Ahead) -> None:
    if draft.returned:  # "returned for two points"
        draft.two_point = True
        return
    if draft.phrase in _FOR_TWO and draft.before.next is not Next.TRY and draft.kind not in TRIES:
        raise Refused("two points are scored on a try")
    if draft.kind is None:
        draft.two_point = True
        draft.slot = "gain"
    elif draft.kind in (PlayKind.RUN, PlayKind.PASS):
        draft.kind, outcome = _on_try(draft.kind, draft.outcome)
        draft.fields["outcome"] = outcome
        draft.two_point = True
    elif draft.kind in (PlayKind.TRY_RUN, PlayKind.TRY_PASS):
        draft.two_point = True
    else:
        raise Refused(f"{draft.kind.value} was said already")


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
    if draft.fields.get("kick_to") is not None and abs(draft.fields["kick_to"] - spot) > 0.01:
        if draft.kick_yards is None:
            raise Refused(f"it came down at {draft.spoken(draft.fields['kick_to'])}, was said already")
        draft.doubt(
            f"{spoken_yards(draft.kick_yards)} yards lead to {draft.spoken(draft.fields['kick_to'])}, "
            f"not to {draft.spoken(spot)}"
        )
    draft.fields["kick_to"] = spot
    draft.slot = "return" if draft.play_kind is not PlayKind.FIELD_GOAL else ""
    if draft.events and draft.events[-1].spot is None:
        draft.change_event(spot=spot)


def return_base(draft: Draft) -> float | None:
    """Where the return at hand began."""
    if draft.came_from is not None:
        return draft.came_from
    if draft.outcome is Outcome.INTERCEPTED and not draft.events:
        return draft.caught
    if any(event.spot is not None for event in draft.events):
        return draft.where()
    kick_to = draft.fields.get("kick_to")
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
    if draft.fields.get("spot") is not None and abs(draft.fields["spot"] - spot) > 0.01:
        if draft.return_yards is None:
            raise Refused(f"it ended at {draft.spoken(draft.fields['spot'])}, was said already")
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


def _loss(draft: Draft, word: Word, ahead: Ahead) -> None:
    if draft.in_foul and draft.fouls and not ahead.number:
        raise Refused("a foul costs no loss; say the yards or the loss of down")
    if draft.kind in (*KICKS, PlayKind.FIELD_GOAL, *BETWEEN):
        raise Refused(f"a {draft.kind.value} has no loss")
    if (
        word.text == "loss"
        and draft.events
        and draft.events[-1].kind in (EventKind.FUMBLE, EventKind.MUFF)
        and not ahead.number
        and draft.pending is None
    ):
        raise Refused("who lost it?")
    draft.in_foul = False
    if draft.pending is not None:
        draft.loss = True
        gained(draft, draft.pending)
        draft.pending = None
    elif draft.gain_said and draft.fields.get("gain", 0) > 0 and not ahead.number:
        draft.fields["gain"] = 0 - draft.fields["gain"]
        draft.fill("the yards are those of the loss")
    elif draft.gain_said and draft.fields.get("gain", 0) < 0:
        return
    else:
        draft.loss, draft.slot = True, "gain"
    draft.prep = ""


def _gain(draft: Draft, word: Word, ahead: Ahead) -> None:
    if draft.kind in (PlayKind.SACK, PlayKind.KNEEL):
        draft.doubt(f"a {draft.kind.value} gains nothing")
    if draft.kind in (*KICKS, PlayKind.FIELD_GOAL, *BETWEEN):
        raise Refused(f"a {draft.kind.value} has no gain")
    draft.in_foul = False
    if draft.pending is not None:
        gained(draft, draft.pending)
        draft.pending = None
    elif not draft.gain_said:
        draft.slot = "gain"
    draft.prep = ""


def _no_gain(draft: Draft, word: Word, ahead: Ahead) -> None:
    draft.in_foul = False
    if draft.slot == "return" and draft.returned:
        returned_yards(draft, 0)
        return
    if draft.returned or (draft.events and (draft.end_said or draft.kind in KICKS)):
        began = return_base(draft) if draft.came_from is None else draft.came_from
        if began is not None and draft.fields.get("spot") is not None:
            _same_place(draft, began, draft.fields["spot"], "no gain leads to")
        return
    if draft.kind in (*KICKS, PlayKind.FIELD_GOAL, *BETWEEN):
        raise Refused(f"a {draft.kind.value} has no gain")
    if draft.loss:
        draft.loss = False
    draft.put("gain", 0.0)
    draft.gain_said, draft.slot = True, ""


def number(draft: Draft, value: float, text: str, yards: bool, line: bool, habit: Habit, ahead: Ahead) -> list[Draft]:
    """Take a number; ``yards`` and ``line`` tell whether "yards" or "yard line" followed it."""
    draft.settle_if_kick()
    slot, prep, the = draft.slot, draft.prep, draft.the
    draft.prep, draft.the = "", False
    if draft.said is not None and not slot.startswith("said "):
        raise Refused(f"{text} of what? Say down, to go, on ...")
    if slot.startswith("said "):
        return [_said_number(draft, slot[5:], value, text)]
    if slot.startswith("exact "):
        return [_exact_number(draft, slot[6:], value, text)]
    if prep == "from" and not yards and _began_there(draft, sides_of(draft, value, text) if value <= draft.in_field / 2 else []):
        return [draft]
    distance = yards or prep == "for"
    place = line or (
        not yards and (prep in ("to", "at", "in") or the or (prep == "from" and draft.kind is not PlayKind.FIELD_GOAL))
    )
    if value < 0 and slot not in ("gain", "", "event", "spot"):
        raise Refused(f"{text} is a loss, and there can be none here")
    if draft.in_foul and draft.fouls and slot not in ("foul spot", "enforced from"):
        if place:
            return _each(
                draft, _near(draft, sides_of(draft, value, text)), lambda way, spot: _foul_place(way, spot, prep), ""
            )
        draft.fouls[-1]["yards"] = value
        return [draft]
    if slot in ("foul spot", "enforced from"):
        return _each(
            draft,
            _near(draft, sides_of(draft, value, text)),
            lambda way, spot: _foul_place(way, spot, "from" if slot == "enforced from" else "at"),
            "",
        )
    if (
        yards
        and draft.pending is None
        and (
            (slot in ("", "caught")
            and ahead.role in _AWAITED)
            or (ahead.role in (Role.LOSS, Role.GAIN)
            and not draft.gain_said
            and not draft.loss)
            or (slot == "kick_to"
            and (ahead.role == Role.RETURN or (draft.kind is None and ahead.role in (Role.KIND, Role.KICK))))
        )
    ):
        waiting = draft.copy()
        waiting.pending = value
        return [waiting, *([_yards(draft, value)] if slot == "kick_to" and ahead.role == Role.RETURN else [])]
    if slot in ("gain",) or (
        slot in ("event", "spot", "")
        and (draft.loss or (distance and not draft.is_kick()))
        and not draft.gain_said
        and draft.kind in (None, *GAINING)
        and not draft.returned
        and draft.outcome not in (Outcome.INTERCEPTED, Outcome.INCOMPLETE)
    ):
        if place and not distance:
            return _ended(draft, value, text)
        if draft.kind is None and not draft.loss and slot != "gain":
            draft.pending = value
            return [draft]
        keep = slot
        gained(draft, value)
        draft.slot = keep if keep in ("event", "spot") else ""
        return [draft]
    if slot == "length":
        return _length(draft, value, text, the and not line, line)
    if slot == "kick_to":
        if distance:
            kicked_yards(draft, value)
            return [draft]
        if place:
            return _each(draft, _kick_sides(draft, value, text), placed, "where it came down")
        return _by_habit(draft, value, text, habit, kicked_yards, placed, _kick_sides)
    if slot == "return" and not draft.returned and draft.kick_yards is not None and not draft.events and place:
        spots = sorted(sides_of(draft, value, text), key=lambda spot: abs(spot - draft.fields["kick_to"]))[:1]
        return _each(draft, spots, placed, "")
    if slot == "return":
        draft.returned = True
        if distance:
            returned_yards(draft, value)
            return [draft]
        if place:
            return _each(draft, _return_sides(draft, value, text), returned_to, "where the return ended")
        if return_base(draft) is None:
            return _each(draft, _return_sides(draft, value, text), returned_to, "where the return ended")
        return _by_habit(draft, value, text, habit, returned_yards, returned_to, _return_sides)
    if slot == "caught":
        if distance and (prep == "for" or yards):
            raise Refused(f"{text} yards of what? Say returned {text} yards")
        return _each(draft, sides_of(draft, value, text), _caught, "where it was caught")
    if slot == "event":
        if distance:
            raise Refused(f"{text} yards of what? Say the yard line")
        return _each(draft, _near(draft, sides_of(draft, value, text)), _event_place, "where it happened")
    if slot == "spot":
        if distance:
            moved = draft.where()
            if moved is None:
                raise Refused(f"{text} yards from where?")
            return [_ended_at(draft, moved + (value if draft.holder() is Side.OFFENSE else -value))]
        return _each(draft, _near(draft, sides_of(draft, value, text)), _dead, "where the ball became dead")
    if distance and draft.kind is None and draft.pending is None:
        draft.pending = value
        return [draft]
    if place and draft.kind is None and draft.due is None and draft.before.next is Next.SCRIMMAGE and not (
        draft.events or draft.fouls or draft.returned or draft.gain_said or draft.spot_said is not None
    ):
        return _ended(draft, value, text)
    if place and draft.returned and draft.return_yards is not None and draft.fields.get("spot") is None:
        return _each(draft, _return_sides(draft, value, text), returned_to, "")
    if (
        distance
        and draft.events
        and draft.fields.get("spot") is not None
        and draft.where() is not None
        and not draft.returned
    ):
        began = next((event.spot for event in reversed(draft.events) if event.spot is not None), None)
        if began is not None:
            _same_place(
                draft,
                began + (value if draft.holder() is Side.OFFENSE else -value),
                draft.fields["spot"],
                f"{text} yards lead to",
            )
        return [draft]
    if (
        not distance
        and not place
        and draft.kind is None
        and draft.due is None
        and draft.pending is None
        and not draft.events
        and not draft.fouls
        and draft.before.next is Next.SCRIMMAGE
        and not draft.returned
        and not draft.gain_said
    ):
        draft.pending = value
        draft.fill("run or pass was not said", 0)
        return [draft]
    if place and draft.gain_said and draft.kind in GAINING and draft.start is not None and not draft.events:
        return _ended(draft, value, text)
    if place and draft.play_kind in KICKS and draft.fields.get("kick_to") is not None:
        return _each(
            draft, sides_of(draft, value, text), placed if draft.fields.get("spot") is None else returned_to, ""
        )
    if place and draft.outcome in (Outcome.NO_GOOD, Outcome.BLOCKED):
        return _each(draft, sides_of(draft, value, text), _dead, "")
    if (
        distance
        and draft.play_kind in KICKS
        and draft.fields.get("kick_to") is not None
        and draft.kick_yards is None
        and not draft.returned
        and draft.start is not None
    ):
        draft.kick_yards = value
        _same_place(draft, draft.start + value, draft.fields["kick_to"], f"{text} yards lead to")
        return [draft]
    if distance and draft.returned and draft.return_yards is None and draft.fields.get("spot") is not None:
        base = draft.came_from if draft.came_from is not None else draft.fields.get("kick_to")
        draft.return_yards = value
        if base is None and draft.play_kind in KICKS:
            draft.fields["kick_to"] = draft.fields["spot"] + value
        elif base is not None:
            _same_place(
                draft,
                base - value if draft.holder() is Side.DEFENSE else base + value,
                draft.fields["spot"],
                f"a return of {text} yards leads to",
            )
        return [draft]
    if (
        distance
        and draft.kind in GAINING
        and draft.spot_said is not None
        and draft.start is not None
        and not draft.gain_said
    ):
        _same_place(draft, draft.start + value, draft.spot_said, f"{text} yards lead to")
        draft.put("gain", value)
        draft.gain_said = True
        return [draft]
    raise Refused(f"the number {text} has nothing to say here")


_AWAITED = (Role.KIND, Role.KICK, Role.MANNER, Role.LOSS, Role.GAIN, Role.RETURN, Role.SCORE, Role.FLAG, Role.TWO_POINT)


def _yards(draft: Draft, value: float) -> Draft:
    other = draft.copy()
    kicked_yards(other, value)
    return other


def _same_place(draft: Draft, leads: float, said: float, what: str) -> None:
    if abs(leads - said) > 1:
        draft.doubt(f"{what} {draft.spoken(leads)}, not to {draft.spoken(said)}")


def _each(draft: Draft, spots: list[float], take: Callable[[Draft, float], Any], what: str) -> list[Draft]:
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
        ways.append(way)
    if not ways and refused is not None:
        raise refused
    return ways


def _by_habit(
    draft: Draft,
    value: float,
    text: str,
    habit: Habit,
    take_yards: Callable[[Draft, float], None],
    take_spot: Callable[[Draft, float], None],
    sides: Callable[[Draft, float, str], list[float]],
) -> list[Draft]:
    """A bare number after a kick or a return: a yard line or a distance, as the staff is used to say first."""
    ways: list[Draft] = []
    why = f"{text} may be a yard line or a distance"
    told: Refused | None = None
    lines = draft.copy()
    try:
        found = sides_of(lines, value, text)
        spot = (
            found[-1] if draft.play_kind in KICKS and draft.holder() is Side.DEFENSE else sides(lines, value, text)[0]
        )
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
        end = yards.fields.get("spot") if take_yards is returned_yards else yards.fields.get("kick_to")
        if (
            end is not None
            and not -draft.rulebook.end_zone_depth <= end <= draft.in_field + draft.rulebook.end_zone_depth
        ):
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
        first, second = (lines, yards) if habit is Habit.YARD_LINES else (yards, lines)
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
    if (
        draft.is_kick()
        and draft.fields.get("kick_to") is None
        and draft.outcome is not Outcome.BLOCKED
        and not draft.events
    ):
        where = None
    if (
        draft.play_kind in FREE_KICKS
        and draft.events
        and draft.events[-1].by is Side.OFFENSE
        and len(draft.events) == 1
        and draft.start is not None
    ):
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


def _return_sides(draft: Draft, value: float, text: str) -> list[float]:
    """Where a return may have ended: ahead of where it began, for the side that has the ball."""
    spots = sides_of(draft, value, text)
    base = return_base(draft)
    if len(spots) == 1:
        return spots
    own, opp = spots
    if base is None:
        return [opp, own] if draft.play_kind in KICKS else [own, opp]
    if draft.holder() is Side.OFFENSE:
        return [spot for spot in (own, opp) if spot >= base] or [opp]
    if opp <= base:
        return [opp, own] if draft.play_kind not in KICKS or opp > draft.in_field * 0.45 else [opp]
    return [own] if own <= base else [opp]


def _ended(draft: Draft, value: float, text: str) -> list[Draft]:
    """A yard line without a side where a run or catch ended."""
    start = draft.start
    if start is None:
        raise Refused("where the ball was is not known; say the yards gained")
    spots = sides_of(draft, value, text)
    if len(spots) > 1:
        back = draft.kind in (PlayKind.SACK, PlayKind.KNEEL) or draft.loss
        if draft.gain_said:
            gain = draft.fields["gain"]
            spots = sorted(spots, key=lambda spot: abs(spot - start - gain))[:1]
        else:
            spots = [
                spot for spot in spots if (spot <= start if back else True) and spot - start >= -_LONG_LOSS
            ] or spots
            spots.sort(key=lambda spot: (spot < start and not back, abs(spot - start)))
    return _each(draft, spots, _run_to, "where it ended")


def _run_to(draft: Draft, spot: float) -> None:
    draft.spot_said = spot
    draft.slot, draft.loss = "", False


def _ended_at(draft: Draft, spot: float) -> Draft:
    _dead(draft, spot)
    return draft


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
        draft.returned, draft.slot = True, "return" if draft.fields.get("spot") is None else ""


def _event_place(draft: Draft, spot: float) -> None:
    draft.change_event(spot=spot)
    draft.slot = "spot"
    if (
        (draft.play_kind in FREE_KICKS
        and draft.fields.get("kick_to") is None
        and len(draft.events) == 1)
        or (draft.play_kind is PlayKind.PUNT
        and draft.events[-1].kind is EventKind.MUFF
        and draft.fields.get("kick_to") is None
        and draft.outcome is Outcome.MUFFED)
    ):
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
    """"from the 31": where a run or pass began, which is known; another place is a doubt."""
    if draft.kind not in (PlayKind.RUN, PlayKind.PASS, PlayKind.SACK) or draft.in_foul or draft.events or draft.returned:
        return False
    if draft.outcome is Outcome.INTERCEPTED or draft.start is None or not spots:
        return False
    if all(abs(spot - draft.start) > 1 for spot in spots):
        draft.doubt(f"the ball was on {draft.spoken(draft.start)}, not {draft.spoken(spots[0])}")
    return True


def spot_item(draft: Draft, spot: float, text: str) -> list[Draft]:
    """Take a yard line with its side, in the terms of the offense."""
    draft.settle_if_kick()
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
        if (
            prep == "from"
            and draft.kind in (PlayKind.PUNT, *FREE_KICKS)
            and (spot < draft.in_field / 2 or draft.kind is PlayKind.PUNT)
        ):
            if draft.start is not None and draft.kind in FREE_KICKS and abs(spot - draft.start) > 0.5:
                draft.doubt(f"the kick is from {draft.spoken(draft.start)}, not {draft.spoken(spot)}")
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
    if (
        slot == "return"
        and not draft.returned
        and draft.kick_yards is not None
        and not draft.events
        and prep in ("to", "at")
    ):
        placed(draft, spot)
        return [draft]
    if slot == "return":
        if prep == "from":
            if draft.came_from is None and draft.fields.get("kick_to") is None and draft.caught is None:
                draft.came_from = spot
                if draft.play_kind in KICKS:
                    draft.fields["kick_to"] = spot
                elif draft.outcome is Outcome.INTERCEPTED:
                    draft.caught = spot
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
    kick = draft.play_kind in KICKS
    if prep == "from" and draft.outcome is Outcome.INTERCEPTED and draft.caught is None:
        _caught(draft, spot)
        draft.caught_at = True
        return [draft]
    if prep == "from" and draft.returned and kick and draft.fields.get("kick_to") is None:
        draft.fields["kick_to"] = spot
        if draft.return_yards is not None and draft.fields.get("spot") is None:
            returned_to(draft, spot - draft.return_yards, said=True)
        return [draft]
    if draft.kind in GAINING and draft.gain_said and not draft.events and draft.start is not None:
        draft.spot_said = spot
        return [draft]
    if (
        kick
        and draft.fields.get("kick_to") is not None
        and draft.fields.get("spot") is None
        and not draft.events
        and not draft.returned
    ):
        placed(draft, spot)
        return [draft]
    if draft.returned and draft.fields.get("spot") is not None and draft.return_yards is not None:
        returned_to(draft, spot)
        return [draft]
    if draft.returned and draft.return_yards is not None:
        returned_to(draft, spot)
        return [draft]
    if draft.kind is PlayKind.FIELD_GOAL and draft.fields.get("spot") is None:
        if draft.outcome is Outcome.NO_GOOD and draft.fields.get("kick_to") is None and not draft.returned:
            placed(draft, spot)
        elif prep == "from" and draft.fields.get("kick_from") is None:
            draft.fields["kick_from"] = spot
        else:
            _dead(draft, spot)
        return [draft]
    if (
        draft.kind is None
        and prep in ("to", "at")
        and draft.start is not None
        and draft.due is None
        and not draft.events
        and draft.spot_said is None
    ):
        draft.spot_said = spot
        return [draft]
    if draft.fouls and not draft.fouls[-1].get("spot") and prep == "at":
        return [_foul_place(draft, spot, prep)]
    if (
        draft.play_kind in (*GAINING, PlayKind.PUNT, PlayKind.FIELD_GOAL, *FREE_KICKS)
        and draft.fields.get("spot") is None
        and draft.outcome is not Outcome.INCOMPLETE
        and (draft.events or draft.returned)
    ):
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


def _preposition(draft: Draft, word: Word, ahead: Ahead) -> None:
    if word.value == "the":
        draft.the = True
        return
    if word.value == "in" and draft.prep == "to":
        return
    draft.prep = word.value


def _slot(draft: Draft, word: Word, ahead: Ahead) -> None:
    name = word.value
    if name.startswith("exact "):
        draft.settle_kind()
        if name == "exact event" and not draft.events:
            raise Refused("nothing happened to the ball yet")
        draft.slot, draft.exact = name, True
        return
    draft.settle_kind()
    draft.in_foul = False
    if name == "kick_to":
        if not draft.is_kick() and draft.kind is not None:
            raise Refused("there was no kick")
        draft.slot, draft.prep = ("kick_to" if not draft.returned else draft.slot), "at"
    elif name == "kick_from":
        draft.slot, draft.prep = "length", "from"
    else:
        draft.slot, draft.prep = "spot", "at"


def _end_zone(draft: Draft, word: Word, ahead: Ahead) -> None:
    how, side = word.value
    draft.settle_if_kick()
    draft.prep, draft.the = "", False
    length = draft.in_field
    if draft.in_foul and draft.fouls:
        by = draft.fouls[-1].get("by")
        own = side is Side.OFFENSE or (side is None and by is Side.OFFENSE and (draft.where() or 50) < length / 2)
        draft.fouls[-1]["spot"] = -1.0 if own else length + 1.0
        draft.fill("how deep in the end zone was not said", 1)
        return
    deep = length + draft.rulebook.end_zone_depth / 2
    own_deep = 0 - draft.rulebook.end_zone_depth / 2
    if draft.outcome is Outcome.INCOMPLETE:
        return
    if (
        draft.events
        and draft.events[-1].kind not in (EventKind.LATERAL,)
        and draft.slot in ("event", "spot")
        and draft.events[-1].spot is None
    ):
        draft.zone, draft.zone_side = "event" if how == "in" else "event out", side
        return
    if draft.outcome is Outcome.INTERCEPTED and not draft.returned:
        if draft.caught is not None:
            raise Refused(f"caught at {draft.spoken(draft.caught)}, was said already")
        draft.caught = own_deep if side is Side.OFFENSE else deep
        draft.caught_at, draft.slot = True, "caught"
        return
    if draft.returned or (draft.events and draft.events[-1].kind is EventKind.RECOVERY):
        draft.zone, draft.zone_side = ("score" if how == "in" else "started"), side
        return
    if draft.play_kind in KICKS and draft.outcome is not Outcome.BLOCKED:
        draft.zone = f"kick {how}"
        draft.slot = "return"
        return
    draft.zone, draft.zone_side = how, side


# -- what became of it --------------------------------------------------------------------------------
def _outcome(draft: Draft, word: Word, ahead: Ahead) -> None:
    outcome: Outcome = word.value
    was_in_foul = draft.in_foul
    draft.settle_if_kick()
    kind = draft.kind
    draft.in_foul = False
    if outcome is Outcome.OUT_OF_BOUNDS:
        if was_in_foul and draft.fouls and kind in GAINING and draft.slot == "foul":
            raise Refused("a foul is not out of bounds")
        if draft.events and draft.events[-1].kind in (EventKind.FUMBLE, EventKind.MUFF):
            if kind in KICKS and draft.outcome is Outcome.MUFFED and draft.events[-1].kind is EventKind.MUFF:
                pass
            draft.events.append(BallEvent(EventKind.OUT_OF_BOUNDS, None, None))
            draft.slot = "event"
            return
        draft.out = True
        if (
            kind in GAINING
            or (kind is None
            and (draft.gain_said or draft.spot_said is not None or draft.pending is not None))
        ):
            if kind is PlayKind.RUN:
                draft.fields.setdefault("outcome", outcome)
            if draft.outcome is Outcome.INCOMPLETE:
                return
            return
        if draft.returned or draft.events:
            return
        if kind is PlayKind.FIELD_GOAL or draft.outcome is Outcome.BLOCKED:
            draft.slot = "spot"
            return
        if kind not in KICKS:
            raise Refused("what went out of bounds?")
        draft.put("outcome", outcome)
        draft.slot = "kick_to" if draft.fields.get("kick_to") is None else ""
        return
    if outcome is Outcome.TOUCHBACK:
        if kind is None:
            raise Refused("a touchback of what?")
        if draft.outcome is Outcome.INTERCEPTED or draft.events or kind is PlayKind.FIELD_GOAL or kind in TRIES:
            draft.touchback = True
            return
        if kind in KICKS and draft.outcome in (None, Outcome.RETURNED, Outcome.DOWNED):
            draft.fields["outcome"] = outcome
            draft.slot = "kick_to" if draft.fields.get("kick_to") is None else ""
            return
        draft.put("outcome", outcome)
        return
    if outcome in (Outcome.FAIR_CATCH, Outcome.DOWNED, Outcome.MUFFED):
        if kind is None and draft.due is None:
            if outcome is Outcome.MUFFED and not draft.before.down == draft.rulebook.downs:
                raise Refused("what was muffed?")
            draft.kind = PlayKind.PUNT
            draft.slot = "kick_to"
            draft.inferred = "" if "punt" in draft.phrase else f"a punt, for {outcome.value} was said"
        elif kind is PlayKind.FIELD_GOAL and outcome is not Outcome.MUFFED:
            if draft.outcome is None:
                draft.fields["outcome"] = Outcome.NO_GOOD
            draft.slot = "kick_to"
            return
        elif kind not in KICKS:
            if outcome is Outcome.MUFFED and kind in (PlayKind.RUN, PlayKind.FIELD_GOAL, PlayKind.TRY_KICK):
                raise Refused("say fumble, or bad snap")
            if kind in (PlayKind.RUN, PlayKind.PASS, PlayKind.SACK) and outcome is Outcome.DOWNED:
                draft.slot = draft.slot or "spot"
                return
            raise Refused(f"a {kind.value if kind else 'play'} is not told by {outcome.value}")
        if outcome is Outcome.MUFFED:
            if draft.outcome in (None, Outcome.RETURNED):
                draft.fields["outcome"] = outcome
            elif draft.outcome is not outcome:
                raise Refused(f"{draft.outcome.value if draft.outcome else ''} was said already")
            draft.events.append(BallEvent(EventKind.MUFF, draft.fields.get("kick_to"), Side.DEFENSE))
            draft.slot = "event"
            return
        if outcome is Outcome.DOWNED and draft.outcome in (Outcome.TOUCHBACK, Outcome.BLOCKED, Outcome.OUT_OF_BOUNDS):
            return
        draft.put("outcome", outcome)
        draft.slot = "kick_to" if draft.fields.get("kick_to") is None else ""
        return
    if outcome is Outcome.BLOCKED:
        if kind is None and draft.before.next is Next.TRY:
            draft.kind = PlayKind.TRY_KICK
        elif kind not in (None, PlayKind.PUNT, PlayKind.FIELD_GOAL, PlayKind.TRY_KICK) or draft.due in FREE_KICKS:
            raise Refused(f"a {(kind or PlayKind.KICKOFF).value} is not blocked")
        if draft.outcome is Outcome.NO_GOOD:
            draft.fields["outcome"] = outcome
        else:
            draft.put("outcome", outcome)
        draft.slot = "spot" if draft.length is not None or kind is PlayKind.PUNT else draft.slot or "spot"
        return
    if outcome in (Outcome.GOOD, Outcome.NO_GOOD):
        if kind is None:
            if ahead.role in (Role.KIND, Role.KICK, Role.TWO_POINT):
                pass
            elif draft.before.next is Next.TRY and not draft.two_point:
                draft.kind = PlayKind.TRY_KICK
                draft.slot = ""
                if "kick" not in draft.phrase:
                    draft.fill("a kick, for run or pass was not said")
            elif not draft.two_point:
                if draft.phrase in ("stopped", "stuffed", "turned away"):
                    return
                raise Refused(f"what is {outcome.value}?")
        elif (
            kind in (PlayKind.RUN, PlayKind.PASS, PlayKind.SACK)
            and outcome is Outcome.NO_GOOD
            and draft.phrase in ("stopped", "stuffed", "turned away")
        ):
            return
        elif kind not in (PlayKind.FIELD_GOAL, *TRIES):
            raise Refused(f"a {kind.value} is not {outcome.value}")
        if draft.outcome is Outcome.BLOCKED and outcome is Outcome.NO_GOOD:
            return
        draft.put("outcome", outcome)
        return
    if outcome is Outcome.MADE:
        if kind is not PlayKind.MEASUREMENT:
            raise Refused("what was made?")
        draft.put("outcome", outcome)
        return
    draft.put("outcome", outcome)


def _missed(draft: Draft, word: Word, ahead: Ahead) -> None:
    kind = draft.play_kind if draft.kind is not None or draft.before.next is Next.TRY else None
    if draft.kind is PlayKind.MEASUREMENT and word.value == "short":
        draft.put("outcome", Outcome.SHORT)
        return
    if kind in (PlayKind.FIELD_GOAL, *TRIES) or draft.two_point:
        draft.settle_kind()
        if draft.outcome is Outcome.GOOD:
            raise Refused("good was said already")
        if draft.outcome is None:
            draft.fields["outcome"] = Outcome.NO_GOOD
        draft.in_foul = False
        return
    if draft.kind in KICKS or (draft.kind is None and ahead.role in (Role.KIND, Role.KICK)):
        draft.fill(f"{draft.phrase} says nothing that is kept")
        return
    if word.value == "short" and draft.kind in GAINING:
        draft.claims.append("short")
        return
    raise Refused(f"{word.text} of what?")


def _return(draft: Draft, word: Word, ahead: Ahead) -> None:
    draft.settle_if_kick()
    draft.in_foul = False
    kind = draft.kind
    if kind in TRIES or (kind is None and draft.two_point):
        draft.returned = True
        draft.slot = "return"
        return
    if kind in GAINING and not draft.events and draft.outcome is not Outcome.INTERCEPTED:
        raise Refused("nothing was kicked, intercepted or recovered that could be returned")
    if kind is None and not draft.events:
        raise Refused("what was returned?")
    if kind is PlayKind.SPIKE or draft.outcome in (
        Outcome.TOUCHBACK,
        Outcome.FAIR_CATCH,
        Outcome.DOWNED,
        Outcome.INCOMPLETE,
        Outcome.GOOD,
    ):
        raise Refused(f"{draft.outcome.value if draft.outcome else 'a spike'} was said; nothing can be returned")
    if (
        kind in KICKS
        and draft.outcome is None
        and (
            not draft.events
            or (draft.events[-1].kind is EventKind.RECOVERY
            and draft.events[-1].by is Side.DEFENSE
            and len(draft.events) == 1)
        )
    ):
        draft.fields["outcome"] = Outcome.RETURNED
    if kind is PlayKind.FIELD_GOAL and draft.outcome is None:
        draft.fields["outcome"] = Outcome.NO_GOOD
    if draft.outcome is Outcome.BLOCKED and not draft.events:
        draft.fields["possession"] = Side.DEFENSE
    if draft.zone == "kick in":
        draft.fields["kick_to"] = draft.in_field + draft.rulebook.end_zone_depth / 2
        draft.fill("how deep in the end zone was not said")
        draft.zone = ""
    if not draft.returned or draft.events:
        draft.came_from = return_base(draft)
        draft.returned = True
        draft.end_said = False
    if draft.pending is not None:
        yards, draft.pending = draft.pending, None
        returned_yards(draft, yards)
    elif draft.return_yards is None:
        draft.slot = "return"
    draft.prep = "to" if word.value == "to" else ""


def _caught_word(draft: Draft, word: Word, ahead: Ahead) -> None:
    draft.settle_if_kick()
    draft.in_foul = False
    if draft.play_kind in KICKS:
        if draft.fields.get("kick_to") is None:
            draft.slot, draft.prep = "kick_to", "at"
        return
    if draft.outcome is Outcome.INTERCEPTED:
        draft.slot, draft.prep = "caught", "at"
        return
    if draft.kind is None and draft.due is None and draft.before.next is not Next.TRY:
        set_kind(draft, PlayKind.PASS, Outcome.COMPLETE)
        draft.complete = True
    elif draft.kind in (PlayKind.PASS, PlayKind.TRY_PASS) and draft.outcome in (None, Outcome.COMPLETE):
        draft.complete = True
    elif draft.kind is None and draft.before.next is Next.TRY:
        set_kind(draft, PlayKind.TRY_PASS, None)
    else:
        raise Refused("what was caught?")


def _event(draft: Draft, word: Word, ahead: Ahead) -> None:
    event, by = word.value
    draft.settle_if_kick()
    draft.in_foul = False
    if (
        draft.outcome in (Outcome.GOOD, Outcome.TOUCHBACK, Outcome.FAIR_CATCH)
        or draft.kind in BETWEEN
        or draft.kind is PlayKind.SPIKE
    ):
        raise Refused(f"{word.text} cannot follow {(draft.outcome or draft.kind or '')}")
    if word.text == "bad snap" and draft.events and draft.events[-1].kind is EventKind.FUMBLE and draft.slot == "event":
        return
    if event is EventKind.FUMBLE:
        by = draft.holder()
        spot = None
        if (
            draft.outcome is Outcome.INTERCEPTED
            or draft.play_kind in KICKS
            or draft.events
            or draft.outcome in (Outcome.NO_GOOD, Outcome.BLOCKED)
        ):
            spot = draft.fields.pop("spot", None)
            draft.end_said = False
        if draft.outcome is Outcome.INTERCEPTED and draft.caught is not None:
            draft.caught_at = True
        if draft.events and draft.events[-1].kind is EventKind.FUMBLE and draft.events[-1].spot is None:
            return
        draft.events.append(BallEvent(event, spot, by))
        draft.returned, draft.came_from = False, None
        draft.return_yards = None
        draft.slot = "event"
        if spot is not None and draft.prep != "at":
            draft.slot = "event"
        return
    if event is EventKind.OUT_OF_BOUNDS:
        if word.text == "ball out of bounds" and not (
            draft.events and draft.events[-1].kind in (EventKind.FUMBLE, EventKind.MUFF)
        ):
            draft.events.append(
                BallEvent(
                    EventKind.FUMBLE,
                    draft.fields.pop("spot", None) if draft.play_kind in KICKS else None,
                    draft.holder(),
                )
            )
        draft.events.append(BallEvent(event, None, None))
    elif event is EventKind.MUFF:
        if word.text == "bad snap":
            by = Side.OFFENSE
            if draft.is_kick() and draft.fields.get("kick_to") is not None:
                raise Refused("a bad snap comes before the kick")
        else:
            by = Side.DEFENSE if draft.play_kind in KICKS else draft.holder()
        draft.events.append(
            BallEvent(
                event, draft.fields.get("kick_to") if draft.play_kind in KICKS and word.text != "bad snap" else None, by
            )
        )
    elif event is EventKind.OWN_RECOVERY:
        if not draft.events:
            draft.events.append(BallEvent(EventKind.FUMBLE, None, draft.holder()))
        draft.events.append(BallEvent(event, None, draft.holder()))
    else:
        draft.events.append(BallEvent(event, None, draft.holder()))
    draft.slot = "event"
    if event is EventKind.LATERAL:
        draft.slot = "gain" if draft.kind in (None, *GAINING) and not draft.gain_said else "event"


def _recovered(draft: Draft, word: Word, ahead: Ahead) -> None:
    draft.settle_if_kick()
    kick = draft.play_kind in (*KICKS, PlayKind.FIELD_GOAL)
    loose = draft.events and draft.events[-1].kind in (
        EventKind.FUMBLE,
        EventKind.MUFF,
        EventKind.BLOCK,
        EventKind.OUT_OF_BOUNDS,
    )
    if (
        draft.events
        and draft.events[-1].kind is EventKind.RECOVERY
        and word.value is None
        and draft.events[-1].by is None
    ):
        return
    by: Side | None
    if word.value in ("other", "same"):
        if not draft.events and not kick:
            raise Refused(f"what was {word.text}?")
        if draft.events and not loose:
            raise Refused(f"{word.text}: nothing was loose")
        holder = draft.events[-1].by if draft.events and draft.events[-1].by is not None else draft.holder()
        if not draft.events:
            holder = Side.OFFENSE
        by = holder if word.value == "same" else holder.other
        if not draft.events and word.value == "other":
            raise Refused("who lost it?")
    else:
        if not loose and not kick and draft.kind not in (None, PlayKind.RUN, PlayKind.PASS, PlayKind.SACK, *TRIES):
            raise Refused("what was recovered?")
        if draft.events and not loose:
            raise Refused("nothing was loose")
        if not draft.events and not kick and draft.kind in (None, PlayKind.PASS, PlayKind.SACK, PlayKind.RUN):
            raise Refused("nothing was loose; say fumble first")
        by = draft.side if draft.side is not None else None
        draft.side = None
    draft.in_foul = False
    draft.events.append(BallEvent(EventKind.RECOVERY, None, by))
    if draft.pending_by is not None and by is None:
        draft.change_event(by=draft.pending_by)
    draft.returned, draft.came_from = False, None
    draft.fields.pop("spot", None) if draft.play_kind in KICKS and draft.returned else None
    draft.slot = "event"
    if not kick or draft.fields.get("kick_to") is not None:
        return


def _score(draft: Draft, word: Word, ahead: Ahead) -> None:
    draft.settle_if_kick()
    draft.in_foul = False
    if draft.kind in BETWEEN or draft.kind is PlayKind.SPIKE:
        raise Refused(f"a {draft.kind.value} scores nothing")
    if draft.outcome in (Outcome.TOUCHBACK, Outcome.FAIR_CATCH, Outcome.DOWNED) and word.value is Score.TOUCHDOWN:
        draft.doubt(f"a touchdown after a {draft.outcome.value if draft.outcome else ''}")
    if (
        word.value is Score.SAFETY
        and draft.kind is PlayKind.FIELD_GOAL
        and draft.outcome is not Outcome.BLOCKED
        and not draft.returned
    ):
        raise Refused("a field goal is no safety")
    if word.value is Score.SINGLE and draft.before.next is Next.TRY:
        raise Refused("one point of what?")
    draft.put("score", word.value)
    if draft.slot in ("event",):
        draft.slot = "event"


def _pick_six(draft: Draft, word: Word, ahead: Ahead) -> None:
    if draft.kind not in (None, PlayKind.PASS):
        raise Refused(f"{draft.kind.value} was said already")
    set_kind(draft, PlayKind.PASS, Outcome.INTERCEPTED)
    draft.put("score", Score.TOUCHDOWN)
    draft.fields["possession"] = Side.DEFENSE


def _possession(draft: Draft, word: Word, ahead: Ahead) -> None:
    draft.settle_kind()
    draft.put("possession", word.value)


def _claim(draft: Draft, word: Word, ahead: Ahead) -> None:
    if draft.kind is PlayKind.MEASUREMENT and word.value == "first down":
        draft.put("outcome", Outcome.MADE)
        return
    if draft.fouls and (draft.in_foul or draft.kind is None) and word.value == "first down":
        draft.fouls[-1]["automatic_first_down"] = True
        return
    draft.claims.append(word.value)


# -- who ----------------------------------------------------------------------------------------------
def side(draft: Draft, which: Side, text: str, start: int, end: int, by_said: bool, ahead: Ahead) -> None:
    """A side was named: it fouled, recovered, muffed or scored, or it is named before what it did."""
    last = draft.fouls[-1] if draft.fouls and draft.in_foul else None
    if ahead.role == Role.FOUL and (last is None or (last.get("sided") and not by_said) or last.get("before")):
        draft.side, draft.side_where = which, (text, start, end)
        return
    if draft.in_foul and draft.fouls:
        foul = draft.fouls[-1]
        if foul.get("sided"):
            if foul["by"] is not which:
                raise Refused(f"{foul['by'].value} was said already")
            return
        if foul["by"] is not None and foul["by"] is not which and not foul.get("exactly"):
            raise Refused(f"{foul['name']} is a foul by the {foul['by'].value}")
        foul["by"], foul["sided"] = which, True
        return
    if (
        draft.events
        and draft.events[-1].kind is EventKind.RECOVERY
        and (draft.events[-1].by is None or (draft.slot == "event" and draft.events[-1].by is which))
    ):
        draft.change_event(by=which)
        return
    if (
        draft.events
        and draft.events[-1].kind is EventKind.MUFF
        and draft.slot == "event"
        and ahead.role != Role.RECOVERED
    ):
        draft.change_event(by=which)
        if which is Side.OFFENSE and draft.outcome is Outcome.MUFFED:
            draft.fields["outcome"] = None
        return
    if by_said and draft.events and draft.events[-1].kind is EventKind.FUMBLE and draft.slot == "event":
        draft.change_event(by=which)
        return
    if ahead.role == Role.RECOVERED:
        draft.side, draft.side_where = which, (text, start, end)
        return
    if draft.fields.get("score") is Score.TOUCHDOWN and draft.fields.get("possession") is None and by_said:
        draft.fields["possession"] = which
        return
    done_by = {
        Outcome.DOWNED: Side.OFFENSE,
        Outcome.FAIR_CATCH: Side.DEFENSE,
        Outcome.INTERCEPTED: Side.DEFENSE,
        Outcome.RETURNED: Side.DEFENSE,
        Outcome.BLOCKED: Side.DEFENSE,
    }
    if draft.outcome in done_by and not draft.events:
        if done_by[draft.outcome] is which:
            return
        if draft.outcome is Outcome.DOWNED and draft.play_kind in KICKS:
            draft.fields["possession"] = which
            return
    if draft.returned and draft.holder() is which:
        return
    if draft.kind in TRIES and draft.returned and which is Side.DEFENSE:
        return
    if (
        draft.play_kind in KICKS
        and which is Side.DEFENSE
        and draft.slot == "kick_to"
        and by_said
        and draft.prep == "at"
    ):
        return  # caught by the receivers
    if draft.flagged and not draft.fouls:
        draft.side, draft.side_where = which, (text, start, end)
        return
    if (
        draft.events
        and draft.events[-1].by is which
        and draft.events[-1].kind in (EventKind.FUMBLE, EventKind.OWN_RECOVERY)
    ):
        return
    if (
        which is Side.OFFENSE
        and draft.kind in (PlayKind.RUN, PlayKind.PASS, PlayKind.PUNT, PlayKind.KICKOFF, PlayKind.FIELD_GOAL)
        and by_said
        and not draft.gain_said
        and not draft.events
    ):
        return
    if which is Side.DEFENSE and draft.kind in (PlayKind.SACK,) and by_said:
        return
    draft.side, draft.side_where = which, (text, start, end)


# -- fouls ----------------------------------------------------------------------------------------------
def _foul(draft: Draft, word: Word, ahead: Ahead) -> None:
    name, by = word.value
    if draft.said is not None or (draft.kind in BETWEEN and not draft.exact):
        raise Refused("no foul can be said here")
    if len(draft.fouls) >= _FOUL_LIMIT:
        raise Refused("too many fouls")
    named = draft.phrase
    sided = False
    if draft.side is not None:
        if by is not None and by is not draft.side:
            raise Refused(f"{name} is a foul by the {by.value}")
        by, sided, draft.side = draft.side, True, None
    elif named.startswith(("offensive ", "defensive ")) and by is None:
        by, sided = (Side.OFFENSE if named.startswith("offensive") else Side.DEFENSE), True
    before = sided and not named.startswith(("offensive ", "defensive "))
    draft.fouls.append(
        {
            "name": name,
            "by": by,
            "sided": sided,
            "before": before,
            "exactly": draft.exactly,
            "phrase": named,
            "order": len(draft.events) + draft.returned,
        }
    )
    draft.exactly = False
    draft.in_foul, draft.flagged, draft.prep = True, False, ""
    if draft.slot in ("foul spot", "enforced from"):
        draft.slot = ""


def _both_teams(draft: Draft, word: Word, ahead: Ahead) -> None:
    if not draft.fouls:
        raise Refused("both of what?")
    first = draft.fouls[-1]
    name = first["name"]
    rules = draft.rulebook
    found = []
    for which in Side:
        try:
            found.append(
                {
                    **first,
                    "name": rules.foul(name.removeprefix("defensive ").removeprefix("offensive "), which).name,
                    "by": which,
                    "sided": True,
                }
            )
        except KeyError:
            try:
                found.append({**first, "name": rules.foul(name, which).name, "by": which, "sided": True})
            except KeyError:
                raise Refused(f"{name} is no foul of both teams") from None
    draft.fouls[-1:] = found


def _aside(draft: Draft, word: Word, ahead: Ahead) -> None:
    draft.fill(f"{draft.phrase} was passed over")


def _flag(draft: Draft, word: Word, ahead: Ahead) -> None:
    if draft.fouls and draft.in_foul:
        return
    draft.flagged = True
    if draft.pending is not None and ahead.role == Role.FOUL:
        draft.pending = None


def _foul_detail(draft: Draft, word: Word, ahead: Ahead) -> None:
    name, value = word.value
    if not draft.fouls:
        if (draft.flagged and name == "decision") or name == "when" or ahead.role == Role.FOUL:
            draft.early = {**draft.early, name: value}
            return
        raise Refused(f"{word.text}: no foul was said")
    foul = draft.fouls[-1]
    if foul.get(name) is not None and foul[name] != value:
        raise Refused(f"{foul[name]} was said already")
    foul[name] = value
    draft.in_foul = True
    if draft.prep in ("to", "at", "from"):
        draft.prep = ""


def _both(draft: Draft, word: Word, ahead: Ahead) -> None:
    draft.both = word.value
    if draft.fouls:
        draft.in_foul = True


def _nullified(draft: Draft, word: Word, ahead: Ahead) -> None:
    draft.nullified = True


# -- between the plays, and the rest --------------------------------------------------------------------
def _choice(draft: Draft, word: Word, ahead: Ahead) -> None:
    draft.settle_kind()
    value = word.value
    wanted = {
        "replay": PlayKind.INADVERTENT_WHISTLE,
        "take the spot": PlayKind.INADVERTENT_WHISTLE,
        "fair catch kick": PlayKind.FIELD_GOAL,
    }.get(value, PlayKind.COIN_TOSS)
    if (
        value == "replay"
        and draft.kind is not wanted
        and (draft.fouls or draft.both is not None or draft.kind is not None)
    ):
        return
    if value == "fair catch kick" and draft.kind is None:
        set_kind(draft, PlayKind.FIELD_GOAL, None)
    if draft.kind is not wanted:
        raise Refused(f"{word.text} belongs to a {wanted.value}")
    draft.put("choice", value)


def _stands_as(draft: Draft, word: Word, ahead: Ahead) -> None:
    if draft.kind is not PlayKind.REPLAY_REVERSAL and not draft.exact:
        raise Refused("what stands so?")
    draft.put("stands_as", word.value)


def _set(draft: Draft, word: Word, ahead: Ahead) -> None:
    if draft.said is not None:
        raise Refused("set was said already")
    draft.said, draft.in_foul, draft.slot, draft.prep = {}, False, "", ""


def _said(draft: Draft, word: Word, ahead: Ahead) -> None:
    assert draft.said is not None
    name, value = word.value
    draft.said[name] = value
    draft.slot = ""


def _said_slot(draft: Draft, word: Word, ahead: Ahead) -> None:
    draft.slot = f"said {word.value}"


def _exact(draft: Draft, word: Word, ahead: Ahead) -> None:
    name, value = word.value
    draft.in_foul = False
    if name == "foul":
        draft.exactly = True
        return
    draft.exact = True
    if name == "kind":
        if draft.kind is not None:
            raise Refused(f"{draft.kind.value} was said already")
        draft.kind = value
    elif name == "event":
        kind, by = value
        draft.events.append(BallEvent(kind, None, by))
    elif value is None:
        draft.fields.pop(name, None)
        draft.settle_kind()
    else:
        draft.settle_kind()
        draft.fields[name] = value


def _filler(draft: Draft, word: Word, ahead: Ahead) -> None:
    return


RULES: dict[Role, Callable[[Draft, Word, Ahead], None]] = {
    Role.KIND: _kind,
    Role.MANNER: _manner,
    Role.TWO_POINT: _two_point,
    Role.OUTCOME: _outcome,
    Role.MISSED: _missed,
    Role.RETURN: _return,
    Role.CAUGHT: _caught_word,
    Role.EVENT: _event,
    Role.RECOVERED: _recovered,
    Role.SCORE: _score,
    Role.PICK_SIX: _pick_six,
    Role.END_ZONE: _end_zone,
    Role.PREPOSITION: _preposition,
    Role.LOSS: _loss,
    Role.GAIN: _gain,
    Role.NO_GAIN: _no_gain,
    Role.SLOT: _slot,
    Role.EXACT: _exact,
    Role.POSSESSION: _possession,
    Role.CLAIM: _claim,
    Role.FOUL: _foul,
    Role.FLAG: _flag,
    Role.FOUL_DETAIL: _foul_detail,
    Role.BOTH: _both,
    Role.NULLIFIED: _nullified,
    Role.CHOICE: _choice,
    Role.STANDS_AS: _stands_as,
    Role.SET: _set,
    Role.SAID: _said,
    Role.SAID_SLOT: _said_slot,
    Role.FILLER: _filler,
    Role.ASIDE: _aside,
    Role.BOTH_TEAMS: _both_teams,
}
__all__ = ["RULES", "Ahead", "Custom", "FoulTime", "Habit", "Team", "number", "side", "spot_item"]
