"""The grammar: what each kind of word does to the play in the making, and where it may stand.

One function for each :class:`~.word.Role`. Each changes the draft it is given, or raises :class:`~.draft.Refused`.
Numbers are in :mod:`.measures`, places in :mod:`.places`, fouls in :mod:`.foul_rules`.
"""

from __future__ import annotations

from collections.abc import Callable

from ..plays import BallEvent, EventKind, Outcome, PlayKind, Side
from .catches import caught_word
from .custom import Ahead
from .downs import Again, Call
from .draft import BETWEEN, FREE_KICKS, KICKS, PUNTERS, RUNNERS, Draft, Refused
from .foul_rules import both, both_teams, flag, foul, foul_detail, nullified
from .happenings import missed, outcome, pick_six, returned, score
from .kinds import acted, set_kind
from .loose_balls import event, recovered
from .said_kinds import as_on_try, kind_said, manner_said, two_point_said
from .word import PLUS, Role, Word
from .words_of_places import DEFENSE_PLAYERS, OFFENSE_PLAYERS
from .yards import gained, return_base, returned_yards, same_place


def _loss(draft: Draft, word: Word, ahead: Ahead) -> None:
    if draft.in_foul and draft.fouls and not ahead.number:
        raise Refused("a foul costs no loss; say the yards or the loss of down")
    if draft.play_kind is PlayKind.COIN_TOSS and word.text == "loss" and not draft.fields.get("choice"):
        draft.settle_kind()
        told = draft.fields.get("team")
        if told is None and ahead.role in (Role.TEAM, Role.PREPOSITION, "unknown"):
            draft.loss = True  # "toss lost by the visitors"
            return
        if told is None:
            raise Refused("who lost the toss?")
        draft.fields["team"] = told.opponents  # "we lost the toss"
        draft.fill(f"the {told.opponents.value} won the toss, so the choice is taken for theirs")
        return
    if (draft.kind in KICKS and draft.kick_to is not None and draft.outcome in (None, Outcome.RETURNED)
            and not draft.events and draft.return_yards is None and ahead.number):
        if not draft.returned:
            returned(draft, word, ahead)  # "punt caught at the 30, lost 2 on the return"
        draft.loss, draft.slot, draft.prep = True, "return", ""
        return
    if draft.kind in (*KICKS, PlayKind.FIELD_GOAL, *BETWEEN):
        raise Refused(f"a {draft.kind.value} has no loss")
    if (word.text == "loss" and draft.events and draft.events[-1].kind in (EventKind.FUMBLE, EventKind.MUFF)
            and not ahead.number and draft.pending is None):
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
    draft.prep, draft.the = "", False


def _gain(draft: Draft, word: Word, ahead: Ahead) -> None:
    settled = draft.gain_said or draft.spot_said is not None or draft.outcome not in (None, Outcome.COMPLETE)
    signed = draft.phrase == "plus" and draft.last is Role.KIND and not settled  # "complete +18"
    if draft.phrase in PLUS and (settled or (draft.complete and not signed) or draft.events) and not draft.loss:
        draft.plus, draft.in_foul = True, False
        return
    if draft.phrase.startswith(("hold", "held", "keep", "kept", "limit")):
        draft.side = None  # "they held us to 2": who made the stop
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
    draft.prep, draft.the = "", False


def _no_gain(draft: Draft, word: Word, ahead: Ahead) -> None:
    draft.in_foul = False
    if draft.phrase.startswith(("nowhere to", "no where to", "no room")) and (ahead.role not in ("", "filler")
            or draft.kind is not PlayKind.RUN or draft.gain_said):
        if draft.gain_said and (draft.gain or 0.0) > 2:
            draft.fill(f"{draft.phrase}, and yet a gain")
        return  # "nowhere to go, loss of one"
    if draft.phrase.startswith("nothing") and ahead.role in (Role.LOSS, Role.RECOVERED, Role.EVENT):
        return  # "nothing there, loses one"
    if draft.phrase.endswith("nowhere") and ahead.role in (Role.LOSS, Role.RECOVERED, Role.EVENT,
            Role.PREPOSITION, Role.OUTCOME, "number"):
        return  # "goes nowhere, minus 4"
    if draft.slot == "return" and draft.returned:
        returned_yards(draft, 0)
        return
    if draft.returned or (draft.events and (draft.end_said or draft.kind in KICKS)):
        began = return_base(draft) if draft.came_from is None else draft.came_from
        if began is not None and draft.spot is not None:
            same_place(draft, began, draft.fields["spot"], "no gain leads to")
        return
    if draft.kind in KICKS and draft.kick_to is not None and not draft.events:
        draft.returned = True
        returned_yards(draft, 0)
        return
    if draft.kind in (*KICKS, PlayKind.FIELD_GOAL, *BETWEEN):
        raise Refused(f"a {draft.kind.value} has no gain")
    if draft.loss:
        draft.loss = False
    draft.put("gain", 0.0)
    draft.gain_said, draft.slot = True, ""


def _preposition(draft: Draft, word: Word, ahead: Ahead) -> None:
    if word.value == "the":
        draft.the = True
        return
    if word.value == "in" and draft.prep == "to":
        return
    if draft.phrase == "good for" and (draft.kind in (PlayKind.TRY_RUN, PlayKind.TRY_PASS) or draft.two_point):
        raise Refused("good for how many points?")  # "good" and "for two"
    if draft.phrase == "good for" and not ahead.number:
        raise Refused("good for how much?")  # "good for them"
    if draft.phrase in ("after", "makes", "made", "had") and not ahead.number:
        raise Refused(f"{draft.phrase} what?")
    draft.prep = word.value
    if word.value == "near":
        draft.prep, draft.the = "at", draft.the or draft.phrase.endswith(" the")
        if ahead.number:
            draft.bound = f"{draft.phrase} is taken for the place itself"
            draft.fill(draft.bound)


def _slot(draft: Draft, word: Word, ahead: Ahead) -> None:
    name = word.value
    draft.dangling = word.text
    if name.startswith("exact "):
        draft.settle_kind()
        if name == "exact event" and not draft.events:
            raise Refused("nothing happened to the ball yet")
        draft.slot, draft.exact = name, True
        return
    if name == "kick_to" and draft.play_kind not in (*KICKS, PlayKind.FIELD_GOAL) and draft.phrase.startswith("c"):
        caught_word(draft, word, ahead)  # "caught at the 40": a pass
        draft.prep, draft.dangling = "to", ""
        return
    if name == "kick_to" and draft.in_foul and draft.fouls and not draft.is_kick() and draft.phrase.endswith(
            (" it at", " it on")):
        draft.last, draft.prep = "ball", "at"  # "pass interference, we get it at their 41"
        return
    draft.settle_kind()
    draft.in_foul = False
    if name == "kick_to":
        if not draft.is_kick() and draft.kind is not None:
            raise Refused("there was no kick")
        if draft.phrase.endswith((" it at", " it on")) or draft.phrase == "comes to" or "start" in draft.phrase:
            if draft.kind is None and draft.due is None:
                raise Refused("there was no kick")
            if draft.play_kind not in KICKS or draft.outcome is Outcome.BLOCKED or (
                    draft.zone and not draft.zone.startswith("kick") and draft.outcome is not Outcome.TOUCHBACK):
                raise Refused("where it came down was said already")
            acted(draft, Side.DEFENSE)
            if draft.outcome is Outcome.TOUCHBACK or draft.zone or (draft.kind in FREE_KICKS
                    and draft.outcome is Outcome.OUT_OF_BOUNDS):
                draft.slot, draft.prep = "put in play", "at"
                return
            if draft.returned or draft.kick_to is not None or draft.events:
                raise Refused("where it came down was said already")
        draft.fielded = draft.phrase.startswith(("caught", "field", "tak", "receiv"))
        draft.slot, draft.prep = ("kick_to" if not draft.returned else draft.slot), "at"
    elif name == "kick_from":
        if draft.kind is None:
            raise Refused("what kind of kick?")
        draft.slot, draft.prep = "length", "from"
    else:
        draft.slot, draft.prep = "spot", "at"


_CROSSES = ("crosses the goal", "crosses the plane", "breaks the plane", "over the goal", "across the goal")
_PUNTER_BEHIND = 15.0  # so far a punter stands behind the line (common practice, no source)


def _end_zone(draft: Draft, word: Word, ahead: Ahead) -> None:
    how, side = word.value
    draft.settle_if_kick()
    draft.crossed_goal = draft.crossed_goal or draft.phrase.startswith(_CROSSES)
    draft.prep, draft.the, draft.dangling = "", False, ""
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
    if (draft.events and draft.events[-1].kind not in (EventKind.LATERAL,) and draft.slot in ("event", "spot")
            and (draft.events[-1].spot is None or (how == "through" and draft.events[-1].kind is EventKind.FUMBLE))):
        if how == "through" and draft.events[-1].kind in (EventKind.FUMBLE, EventKind.MUFF):
            draft.events.append(BallEvent(EventKind.OUT_OF_BOUNDS, None, None))
        draft.zone, draft.zone_side = "event" if how == "in" else "event out", side
        return
    if draft.outcome is Outcome.INTERCEPTED and not draft.returned:
        if draft.caught is not None:
            raise Refused(f"caught at {draft.spoken(draft.caught)}, was said already")
        draft.caught = own_deep if side is Side.OFFENSE else deep
        draft.caught_at, draft.slot = True, "caught"
        return
    if draft.returned or (draft.events and draft.events[-1].kind is EventKind.RECOVERY):
        from_there = how == "through" or draft.phrase.startswith(("from", "out of"))
        draft.zone, draft.zone_side = ("started" if from_there else "score"), side
        if how == "through" and (draft.play_kind not in KICKS or draft.kick_to is not None):
            draft.fill(f"{draft.phrase} was passed over")
        return
    if (draft.kind is PlayKind.PUNT and draft.kick_to is None and draft.outcome is None and not draft.events
            and (draft.start or 50) < _PUNTER_BEHIND + 3 and (draft.last is Role.KIND or side is Side.OFFENSE)
            and (draft.phrase.startswith(("out of", "from", "in")) or side is Side.OFFENSE)):
        return  # "punt out of the end zone goes 36 yards": where the punter stood
    if draft.play_kind in KICKS and draft.outcome is not Outcome.BLOCKED:
        draft.zone = f"kick {how}"
        draft.slot = "return"
        return
    if draft.complete and not draft.gain_said:
        draft.spot_said = None  # "caught at the 2, fell into the end zone"
    draft.zone, draft.zone_side = how, side


# -- what became of it --------------------------------------------------------------------------------


def _possession(draft: Draft, word: Word, ahead: Ahead) -> None:
    draft.settle_kind()
    if (draft.kind in (PlayKind.RUN, PlayKind.PASS, PlayKind.SACK) and draft.events
            and draft.events[-1].kind is EventKind.FUMBLE and draft.slot == "event" and not draft.exact
            and (ahead.number or ahead.role == Role.PREPOSITION)):
        draft.events.append(BallEvent(EventKind.RECOVERY, None, word.value))  # "fumble, offense ball at the 31"
        return
    draft.put("possession", word.value)


_DOWNS = {1: ("first", "1st"), 2: ("second", "2nd"), 3: ("third", "3rd"), 4: ("fourth", "4th")}


def _claim(draft: Draft, word: Word, ahead: Ahead) -> None:
    if draft.kind is PlayKind.MEASUREMENT and word.value == "first down":
        draft.put("outcome", Outcome.MADE)
        return
    if draft.fouls and (draft.in_foul or draft.kind is None) and word.value == "first down":
        if draft.rulebook.fouls[draft.fouls[-1]["name"]].automatic_first_down:
            draft.fouls[-1]["automatic_first_down"] = True
        draft.calls.append(Call(draft.phrase, 1))
        return
    if word.value == "turnover" and draft.events and draft.events[-1].kind is EventKind.FUMBLE:
        draft.events.append(BallEvent(EventKind.RECOVERY, None, draft.holder().other))
        draft.slot = "event"
        return
    if word.value == "first down":
        acted(draft, Side.OFFENSE)
    if word.value == "down" and any(part in _DOWNS.get(draft.before.down or 0, ()) for part in draft.phrase.split()):
        return  # "repeat second down"
    draft.claims.append(word.value)


# -- between the plays, and the rest --------------------------------------------------------------------
def _choice(draft: Draft, word: Word, ahead: Ahead) -> None:
    draft.settle_kind()
    value = word.value
    wanted = {"replay": PlayKind.INADVERTENT_WHISTLE, "take the spot": PlayKind.INADVERTENT_WHISTLE,
        "fair catch kick": PlayKind.FIELD_GOAL}.get(value, PlayKind.COIN_TOSS)
    if (value == "replay" and draft.kind is not wanted and (draft.fouls or draft.both is not None
            or draft.kind is not None)):
        if not draft.fouls and draft.both is None:
            draft.fill(f"{draft.phrase} was passed over")
        draft.calls.append(Again(draft.phrase))
        return
    if value == "fair catch kick" and draft.kind is None:
        set_kind(draft, PlayKind.FIELD_GOAL, None)
    if draft.kind is not wanted:
        raise Refused(f"{word.text} belongs to a {wanted.value}")
    if draft.fields.get("choice") == "defer" and value == "receive":
        draft.side = None  # "we defer, they receive"
        return
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


_OF_A_KIND = {"carrier": (PlayKind.RUN, None), "a run": (PlayKind.RUN, None),
    "a pass": (PlayKind.PASS, Outcome.COMPLETE)}
"""Fillers that tell what kind of play it was."""


def _filler(draft: Draft, word: Word, ahead: Ahead) -> None:
    if draft.phrase == "ball":
        draft.last = "ball"
    if draft.phrase.endswith("midfield"):
        draft.crossed = True
    if draft.phrase.endswith(("to pass", "to throw")):
        draft.dropped_back = True
    if draft.phrase.endswith("snap") and draft.kind is None and draft.events and not draft.snap_lost:
        draft.snap_lost = draft.events[0].kind in (EventKind.FUMBLE, EventKind.MUFF)  # "fumbled snap"
    loose = bool(draft.events) and draft.events[-1].kind in (EventKind.FUMBLE, EventKind.MUFF)
    if loose and draft.phrase.endswith(("take over", "took over")) and draft.events[-1].by is not None:
        draft.events.append(BallEvent(EventKind.RECOVERY, None, draft.events[-1].by.other))
        draft.slot = "event"  # "fumbled and they take over at our 38"
    if word.text == "unreturned":
        draft.unreturned = True
        if draft.side is Side.DEFENSE and draft.play_kind in KICKS:
            draft.side = None  # "punt, their guy lets it bounce"
        if ((draft.punter or " punt " in draft.phrase) and draft.kind is None and draft.due is None
                and not draft.anything_said()):
            draft.side = None
            set_kind(draft, PlayKind.PUNT, None)  # "their returner lets it bounce"
    if word.value == "foul yards":
        if not draft.fouls or not draft.in_foul:
            raise Refused(f"{draft.phrase}: a loss, or a penalty?")
        draft.slot = "foul yards"
    if word.value == "of a timeout" and draft.kind is not PlayKind.TIMEOUT:
        raise Refused(f"{draft.phrase} what?")
    # "tried a 37-yard field goal"
    tried_a_long = ahead.number and draft.phrase.split()[0] in ("try", "tries", "tried", "trying")
    if word.value == "before a play" and draft.phrase.startswith("hit") and draft.kind is not None:
        raise Refused(f"{draft.phrase} what?")
    if (word.value == "before a play" and ahead.role not in (Role.KIND, Role.KICK, Role.MANNER, Role.TWO_POINT)
            and not tried_a_long):
        raise Refused(f"{draft.phrase} what?")
    if word.value == "whose" and ahead.role not in (Role.KIND, Role.KICK, Role.MANNER, Role.RETURN, Role.TWO_POINT,
            Role.FOUL, "timeout") and not (draft.due is PlayKind.TRY_KICK
            and ahead.role in (Role.OUTCOME, Role.MISSED)):
        raise Refused(f"{draft.phrase} what?")
    if word.value == "tackle" and draft.side is draft.holder().other:
        draft.side = None  # "a defender brings him down"
    if word.value in _OF_A_KIND or (draft.phrase == "run down" and not draft.anything_said()):
        if draft.in_foul and draft.fouls and draft.prep in ("by", "at"):
            raise Refused(f"{draft.phrase} what?")  # who fouled: "holding on the right tackle"
        draft.prep, draft.the = "", False
        if draft.kind is None and not (draft.events or draft.flagged) and draft.due in (None, PlayKind.TRY_KICK):
            kind, outcome = _OF_A_KIND.get(word.value, (PlayKind.RUN, None))
            if draft.due is not None:
                kind, outcome = as_on_try(kind, outcome)
            set_kind(draft, kind, draft.outcome or outcome)
            draft.kind_from_manner = True
    if word.value == "player":  # a number behind a player is no yard line, whatever preposition went before the player
        if draft.in_foul and draft.fouls and draft.prep in ("by", "at"):
            _fouled_by_position(draft)
        if (draft.kind is None and draft.fields.get("manner") in ("bootleg", "rpo") and draft.prep == "to"
                and draft.phrase in _RECEIVERS and not draft.events and draft.due is None):
            set_kind(draft, PlayKind.PASS, Outcome.COMPLETE)  # "waggle to the tight end"
            draft.kind_from_manner = True
        fumbled = bool(draft.events) and (draft.snap_lost or draft.events[-1].kind is EventKind.FUMBLE)
        if (ahead.role == Role.RECOVERED and fumbled and draft.side is None and not draft.is_kick()):
            draft.side = _side_of_position(draft.phrase)
        if draft.last is Role.RECOVERED and draft.events and draft.events[-1].by is None and not draft.is_kick():
            draft.change_event(by=_side_of_position(draft.phrase))
        draft.prep, draft.the = "", False
        draft.runner = draft.runner or draft.phrase in RUNNERS
        draft.punter = draft.punter or draft.phrase in PUNTERS
    elif draft.phrase.endswith(" by") and not draft.phrase.startswith("w"):  # not "won by"
        draft.prep = "tackled by"


_RECEIVERS = ("#", "te", "tight end", "wr", "wide receiver", "receiver", "wideout", "slot", "flanker", "split end",
    "wing")
_OFFENSE = frozenset(OFFENSE_PLAYERS.split(", ")) | {"x", "y", "z", "h", "f", "lt", "rt", "lg", "rg"}
_DEFENSE = frozenset(DEFENSE_PLAYERS.split(", ")) | {"de", "dt", "nt", "lb", "cb", "ss", "fs"}


def _side_of_position(phrase: str) -> Side | None:
    return Side.OFFENSE if phrase in _OFFENSE else Side.DEFENSE if phrase in _DEFENSE else None


def _fouled_by_position(draft: Draft) -> None:
    """A foul "on the right guard" is the offense's, one "on the nose tackle" the defense's; on kicks either may be."""
    foul = draft.fouls[-1]
    which = _side_of_position(draft.phrase)
    if which is not None and foul["by"] is None and not foul.get("sided") and not draft.is_kick():
        foul["by"] = which


RULES: dict[Role, Callable[[Draft, Word, Ahead], None]] = {Role.KIND: kind_said, Role.MANNER: manner_said,
    Role.TWO_POINT: two_point_said, Role.OUTCOME: outcome, Role.MISSED: missed, Role.RETURN: returned,
    Role.CAUGHT: caught_word, Role.EVENT: event, Role.RECOVERED: recovered, Role.SCORE: score,
    Role.PICK_SIX: pick_six, Role.END_ZONE: _end_zone, Role.PREPOSITION: _preposition, Role.LOSS: _loss,
    Role.GAIN: _gain, Role.NO_GAIN: _no_gain, Role.SLOT: _slot, Role.EXACT: _exact, Role.POSSESSION: _possession,
    Role.CLAIM: _claim, Role.FOUL: foul, Role.FLAG: flag, Role.FOUL_DETAIL: foul_detail, Role.BOTH: both,
    Role.NULLIFIED: nullified, Role.CHOICE: _choice, Role.STANDS_AS: _stands_as, Role.SET: _set, Role.SAID: _said,
    Role.SAID_SLOT: _said_slot, Role.FILLER: _filler, Role.BOTH_TEAMS: both_teams}
