"""The grammar of fouls: which foul, by whom, when, what was decided."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from ..fouls import PersonalFoul
from ..plays import BallEvent, EventKind, Outcome, PlayKind, Score, Side
from ..situation import Next
from .custom import Ahead
from .downs import Call
from .draft import BETWEEN, KICKS, PENALTY_YARDS, TRIES, Draft, Refused
from .kinds import intercepted_by_side, may_be_intercepted
from .word import Role, Word

_FOUL_LIMIT = 4
_SUBSTITUTION = ("substitution infraction", "illegal substitution", "too many players on the field",
    "illegal participation")
_ROUGHED = ("roughing the kicker", "roughing the passer", "roughing the snapper", "running into the kicker")
_ROUGHING = (("running into the kicker", "roughing the kicker"), ("unnecessary roughness", "roughing the passer"),
    ("unnecessary roughness", "roughing the kicker"))
"""A foul and what it is called then."""
_AT_THE_LINE = ("false start", "encroachment", "offside", "neutral zone infraction", "illegal motion")
_VAGUE = ("jumped", "jumped early", "moved", "flinched")  # names a foul only if no other name follows


def is_vague(phrase: str) -> bool:
    """Whether a phrase names a foul only if no other name follows."""
    return phrase in _VAGUE or " the line " in phrase or (phrase.startswith("hit") and phrase.endswith("late"))


# -- who ----------------------------------------------------------------------------------------------
def side(draft: Draft, which: Side, text: str, start: int, end: int, by_said: bool, ahead: Ahead) -> None:
    """A side was named: it fouled, recovered, muffed or scored, or it is named before what it did."""
    last = draft.fouls[-1] if draft.fouls and draft.in_foul else None
    if draft.last is Role.CLAIM and last is not None and draft.calls and not by_said:
        if isinstance(called := draft.calls[-1], Call):
            draft.calls[-1] = replace(called, by=which)  # "first down home"
        return
    if ahead.role == Role.FOUL and (last is None or (last.get("sided") and not by_said) or last.get("before")):
        draft.side, draft.side_where = which, (text, start, end)
        return
    if draft.in_foul and draft.fouls:
        foul, draft.the = draft.fouls[-1], False  # "on the defense, fifteen" tells yards, not the 15
        if foul.get("decision") is not None and by_said and foul["by"] is which.other:
            return  # who declined it
        if ahead.role == Role.FOUL_DETAIL and foul.get("sided") and foul["by"] is which.other:
            return  # "holding by A, B declines"
        if (draft.phrase in ("we", "they") and not by_said
                and ahead.role in (Role.PREPOSITION, Role.GAIN, Role.RECOVERED, "number")):
            if foul["by"] is None:
                foul["by"] = which.other
                draft.fill(f"who gets the yards did not foul: {foul['name']}")
            return  # "offside, we get five"
        if draft.both_by:
            draft.both_by = False
            for each in draft.fouls[-2:]:
                if each["by"] not in (None, which) and draft.rulebook.fouls[each["name"]].by is which.other:
                    raise Refused(f"{each['name']} is a foul by the {which.other.value}")
                each["by"], each["sided"] = which, True
            return
        if foul.get("sided"):
            if draft.phrase in ("we", "they") and ahead.role == Role.RECOVERED:
                return  # "interference on them, we get it at the 41"
            if (draft.phrase in ("we", "they") and foul["by"] is not which and not by_said
                    and ahead.role in (Role.RETURN, Role.CAUGHT, Role.KIND, Role.KICK, Role.GAIN, Role.SCORE)):
                draft.in_foul, draft.side, draft.side_where = False, which, (text, start, end)
                return  # "we were offside on the kickoff which they returned to the 28"
            if foul["by"] is not which:
                raise Refused(f"{foul['by'].value} was said already")
            return
        if foul["by"] is not None and foul["by"] is not which and not foul.get("exactly"):
            raise Refused(f"{foul['name']} is a foul by the {foul['by'].value}")
        foul["by"], foul["sided"] = which, True
        return
    if (draft.events and draft.events[-1].kind is EventKind.RECOVERY
            and (draft.events[-1].by is None or (draft.slot == "event" and draft.events[-1].by is which))):
        draft.change_event(by=which)
        return
    if (draft.phrase.endswith(" ball") and not by_said and draft.kind in KICKS and draft.events
            and draft.events[-1].kind is EventKind.MUFF and draft.slot == "event"
            and ahead.role not in (Role.RECOVERED, Role.EVENT, Role.FOUL)):
        draft.change_event(by=draft.events[-1].by or Side.DEFENSE)
        draft.events.append(BallEvent(EventKind.RECOVERY, None, which))  # "muffed punt, our ball"
        draft.fill("who has the ball then recovered it")
        return
    if (draft.events and draft.events[-1].kind is EventKind.MUFF and draft.slot == "event"
            and (by_said or (ahead.role != Role.RECOVERED and draft.phrase not in ("we", "they")))):
        draft.change_event(by=which)
        if which is Side.OFFENSE and draft.outcome is Outcome.MUFFED:
            draft.fields["outcome"] = None
        return
    if by_said and draft.events and draft.events[-1].kind is EventKind.FUMBLE and draft.slot == "event":
        draft.change_event(by=which)
        return
    if draft.prep == "to" and draft.events and draft.events[-1].kind is EventKind.FUMBLE and draft.slot == "event":
        draft.events.append(BallEvent(EventKind.RECOVERY, None, which))  # "fumbled back to the offense"
        return
    if ((draft.phrase.endswith(" ball") or draft.phrase == "ours") and draft.play_kind in KICKS
            and which is Side.OFFENSE and not draft.events) or (
            (draft.phrase in ("us", "them", "ours", "theirs") or draft.phrase.endswith(" ball"))
            and draft.events and draft.events[-1].kind is EventKind.FUMBLE
            and (draft.slot == "event" or (draft.slot == "spot" and draft.phrase.endswith((" ball", "theirs", "ours"))))
            and ahead.role not in (Role.RECOVERED, Role.EVENT, Role.FOUL)):
        draft.events.append(BallEvent(EventKind.RECOVERY, None, which))  # "onside kick, our ball"
        draft.slot = "event"
        draft.fill("who has the ball then recovered it")
        return
    out = bool(draft.events) and draft.events[-1].kind is EventKind.OUT_OF_BOUNDS
    if out and draft.phrase.endswith(" ball") and which is draft.holder():
        return
    if ahead.role == Role.RECOVERED:
        draft.side, draft.side_where = which, (text, start, end)
        return
    if (which is Side.DEFENSE and draft.kind is PlayKind.PASS and may_be_intercepted(draft)
            and ((draft.prep == "by" and draft.complete) or (draft.prep == "to" and draft.spot_said is None))):
        if draft.prep == "to":
            draft.fill("a pass to the defense is taken for intercepted")
        intercepted_by_side(draft)  # "the pass was caught by a defender"
        return
    if (draft.score is Score.TOUCHDOWN and draft.possession is None and by_said
            and not (draft.prep == "at" and draft.play_kind in KICKS)):  # "took it all the way back on us"
        draft.fields["possession"] = which
        return
    done_by = {Outcome.DOWNED: Side.OFFENSE, Outcome.FAIR_CATCH: Side.DEFENSE, Outcome.INTERCEPTED: Side.DEFENSE,
        Outcome.RETURNED: Side.DEFENSE, Outcome.BLOCKED: Side.DEFENSE}
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
    if (draft.play_kind in KICKS and which is Side.DEFENSE and draft.slot == "kick_to" and by_said
            and draft.prep == "at"):
        return  # caught by the receivers
    if draft.flagged and not draft.fouls:
        draft.side, draft.side_where = which, (text, start, end)
        return
    if (draft.events and draft.events[-1].by is which and draft.events[-1].kind in (EventKind.FUMBLE,
            EventKind.OWN_RECOVERY, EventKind.RECOVERY)):
        return
    if (which is Side.OFFENSE and draft.kind in (PlayKind.RUN, PlayKind.PASS, PlayKind.PUNT, PlayKind.KICKOFF,
            PlayKind.FIELD_GOAL) and by_said and not draft.gain_said and not draft.events):
        return
    if which is Side.DEFENSE and by_said and (draft.kind is PlayKind.SACK or draft.outcome is Outcome.INCOMPLETE):
        return
    draft.side, draft.side_where = which, (text, start, end)


# -- fouls ----------------------------------------------------------------------------------------------
def foul(draft: Draft, word: Word, ahead: Ahead) -> None:
    """A foul was named."""
    name, by = word.value
    if draft.said is not None or (draft.kind in BETWEEN and not draft.exact):
        raise Refused("no foul can be said here")
    if (draft.phrase == "jumped" and draft.kind is PlayKind.PASS and draft.fields.get("manner") and draft.side is None
            and ahead.role != "filler" and ahead.role):
        raise Refused("the route, or the snap?")
    if draft.phrase in ("jump", "jumps", "jumped") and draft.outcome is Outcome.INTERCEPTED:
        draft.fill(f"{draft.phrase} tells of the pass that was intercepted")
        return  # "picked! our 52 jumps the throw"
    if draft.phrase.startswith("jump") and draft.events and draft.events[-1].kind is EventKind.FUMBLE:
        raise Refused("jumped on what?")
    if len(draft.fouls) >= _FOUL_LIMIT:
        raise Refused("too many fouls")
    if draft.phrase.startswith("rough") and draft.phrase.endswith(" him") and not _roughed(draft, name):
        raise Refused(f"{draft.phrase}: whom?")
    if name == "running into the kicker" and draft.phrase.endswith(" #") and (
            draft.kind is not PlayKind.PUNT or draft.returned):
        raise Refused(f"{draft.phrase}: whom?")
    if draft.phrase.endswith(("grabs him", "grabbed him")):
        if draft.outcome is not Outcome.INCOMPLETE:
            raise Refused(f"{draft.phrase}: a tackle or a foul?")
        draft.fill("who was grabbed on a pass that was not caught is taken for held")
    if "pass interference" in name and draft.kind in KICKS and "kick catching interference" in draft.rulebook.fouls:
        name, by = "kick catching interference", draft.rulebook.fouls["kick catching interference"].by
        draft.fill("interference on a kick is one with its catch")
    last = draft.fouls[-1] if draft.fouls and draft.in_foul else None
    personal = draft.rulebook.fouls[name].personal is not PersonalFoul.NO
    if (last is not None and last["name"] == "personal foul" and name != "personal foul" and personal
            and draft.side is None):
        if last["by"] is not None and by is not None and last["by"] is not by:
            raise Refused(f"{name} is a foul by the {by.value}")
        last.update(name=name, by=last["by"] or by, phrase=draft.phrase)     # "personal foul, face mask"
        return
    if last is not None and named_again(last["name"], draft.phrase):
        return
    named = draft.phrase
    if draft.fouls and named in _VAGUE and draft.side is None and draft.fouls[-1]["name"] in _AT_THE_LINE:
        draft.in_foul = True
        return  # "false start, the whole right side jumped"
    if draft.side is Side.OFFENSE and name in ("face mask", "horse collar tackle") and (
            draft.prep in ("by", "tackled by") or named.startswith("by ")):
        draft.side, by = None, Side.DEFENSE  # "our guy got tackled by his face mask"
    if draft.side is Side.OFFENSE and by is Side.DEFENSE and name in _ROUGHED:
        draft.side = None  # "flattened our punter, roughing the kicker"
    if (draft.fouls and (draft.fouls[-1]["name"], name) in _ROUGHING
            and (draft.side in (None, draft.fouls[-1]["by"]) or not draft.fouls[-1].get("sided"))):
        draft.side, draft.in_foul = None, True
        draft.fouls[-1].update(name=name, phrase=named, by=by)  # "ran into the punter, roughing the kicker"
        return
    if (last is not None and is_vague(last["phrase"]) and draft.side is None
            and (by is None or last["by"] in (None, by))):
        last.update(name=name, by=last["by"] or by, phrase=named)      # "jumped, encroachment"
        return
    if (last is not None and last["name"] == name and last["phrase"] != named and draft.side in (None, last["by"])
            and (by is None or last["by"] in (None, by)) and not draft.exact and not draft.exactly):
        draft.side = None
        last.update(by=last["by"] or by)      # "moved early, false start"
        return
    sided = False
    if draft.side is Side.OFFENSE and named in _VAGUE and "false start" in draft.rulebook.fouls:
        name, by = "false start", Side.OFFENSE  # "one of our guys jumped"
    if (draft.side is None and named.startswith("jump") and "line" not in named and draft.fouled_by is Side.OFFENSE
            and "false start" in draft.rulebook.fouls):
        if name not in ("encroachment", "offside"):
            raise Refused("who jumped is of the offense's line")
        name, by = "false start", Side.OFFENSE
        draft.fill("who jumped is taken for one of the offense's line")
    if draft.side is Side.DEFENSE and "snap" in named and name.startswith("delay"):
        draft.side = None
        draft.fill("who is to snap the ball is the offense")
    if draft.side is not None:
        if by is not None and by is not draft.side:
            raise Refused(f"{name} is a foul by the {by.value}")
        by, sided, draft.side = draft.side, True, None
    elif named.startswith(("offensive ", "defensive ")) and by is None:
        by, sided = (Side.OFFENSE if named.startswith("offensive") else Side.DEFENSE), True
    before = sided and not named.startswith(("offensive ", "defensive "))
    details, draft.early = draft.early, {}
    draft.fouls.append({**details, "name": name, "by": by, "sided": sided, "before": before, "exactly": draft.exactly,
        "phrase": named, "order": len(draft.events) + draft.returned})
    draft.exactly = False
    draft.in_foul, draft.flagged, draft.prep = True, False, ""
    if name == "intentional grounding" and draft.thrown_from is not None:
        draft.fouls[-1]["spot"], draft.thrown_from = draft.thrown_from, None
    if draft.slot in ("foul spot", "enforced from"):
        draft.slot = ""
    if draft.fouls[-1].pop("both teams", False):
        both_teams(draft, word, Ahead())


def _roughed(draft: Draft, name: str) -> bool:
    """Whether "him" is whom the foul's name tells: the kicker until the kick is returned, the passer of no catch."""
    if name == "roughing the kicker":
        return draft.is_kick() and not draft.returned and not draft.events
    draft.fill("who was roughed on a pass is the passer")
    return draft.kind is PlayKind.PASS and draft.outcome is Outcome.INCOMPLETE


def may_cost(draft: Draft, foul: dict[str, Any], yards: float) -> bool:
    """Whether the rules enforce so many yards for a foul: its own, or half the distance to a goal line."""
    costs = draft.rulebook.fouls[foul["name"]].yards
    lesser = ("face mask" in foul["name"] or (foul["name"] == "illegal participation"
        and "illegal substitution" in draft.rulebook.fouls)) and yards == PENALTY_YARDS[0]
    if not costs or yards == costs or lesser or draft.exact:
        return True
    places = [place for place in (draft.start, draft.where(), foul.get("spot")) if place is not None]
    near = [min(place, draft.in_field - place) for place in places]
    return yards < costs and (not near or min(near) <= 2 * costs)


def named_again(name: str, phrase: str) -> bool:
    """The phrase only says how a foul of too many players came about: "illegal substitution, 12 men"."""
    return name in _SUBSTITUTION and phrase.split()[0] in ("12", "twelve", "too")


def both_teams(draft: Draft, word: Word, ahead: Ahead) -> None:
    """Both teams committed the foul that was named, or that follows."""
    if draft.flagged and not draft.fouls:
        return  # "fouls by both teams: holding ..."
    if draft.phrase == "both" and len(draft.fouls) > 1 and draft.in_foul and ahead.role in (Role.PREPOSITION, Role.SIDE,
            Role.TEAM, "unknown"):
        draft.both_by = True  # "holding and clipping, both on the offense"
        return
    if ahead.role in (Role.FOUL, Role.FLAG) and not draft.in_foul:
        draft.early = {**draft.early, "both teams": True}
        return
    if not draft.fouls:
        raise Refused("both of what?")
    first = draft.fouls[-1]
    name = first["name"]
    rules = draft.rulebook
    found = []
    for which in Side:
        try:
            found.append({**first, "name": rules.foul(name.removeprefix("defensive ").removeprefix("offensive "),
                which).name, "by": which, "sided": True})
        except KeyError:
            try:
                found.append({**first, "name": rules.foul(name, which).name, "by": which, "sided": True})
            except KeyError:
                raise Refused(f"{name} is no foul of both teams") from None
    draft.fouls[-1:] = found


def flag(draft: Draft, word: Word, ahead: Ahead) -> None:
    """A penalty was said, whose name follows."""
    if draft.fouls and draft.in_foul:
        return
    if draft.phrase.endswith(("said", "says", "signalled", "signaled", "ruled", "called")) and ahead.role != Role.FOUL \
            and "flag" not in draft.phrase:
        raise Refused(f"{draft.phrase} what?")
    draft.flagged = True
    if draft.pending in PENALTY_YARDS and ahead.role in (Role.FOUL, Role.PREPOSITION, Role.SIDE, Role.TEAM):
        draft.early, draft.pending = {**draft.early, "yards": draft.pending}, None


def foul_detail(draft: Draft, word: Word, ahead: Ahead) -> None:
    """Something about the foul at hand was said: when, what was decided, from where."""
    name, value = word.value
    if name == "withdrawn":
        if ahead.number or not (draft.fouls or draft.flagged):
            raise Refused(f"{draft.phrase}: no flag was said")
        draft.fouls[-1:] = []
        draft.in_foul = draft.flagged = False
        return
    if not draft.fouls and draft.before.next is Next.TRY and draft.phrase.startswith(("tack", "add")):
        return  # "tacks on the extra point"
    if not draft.fouls and name == "at" and ahead.number and draft.phrase in ("tack on", "tacked on", "added on"):
        draft.plus, draft.in_foul = True, False
        return
    if not draft.fouls:
        if (draft.flagged and name == "decision") or name == "when" or ahead.role == Role.FOUL:
            draft.early = {**draft.early, name: value}
            if name == "decision" and not draft.flagged:
                draft.side = None  # "they turned down our holding": who declined it
            return
        if name == "at" and draft.phrase.startswith(("on ", "at ")):
            return  # "fair catch on the kickoff"
        raise Refused(f"{word.text}: no foul was said")
    foul = draft.fouls[-1]
    if foul.get(name) is not None and foul[name] != value:
        raise Refused(f"{foul[name]} was said already")
    foul[name] = value
    draft.in_foul = True
    if draft.prep in ("to", "at", "from"):
        draft.prep = ""


def both(draft: Draft, word: Word, ahead: Ahead) -> None:
    """Something about both fouls was said."""
    draft.both = word.value
    if draft.fouls:
        draft.in_foul = True


def nullified(draft: Draft, word: Word, ahead: Ahead) -> None:
    """A foul called the play back."""
    draft.nullified = True
