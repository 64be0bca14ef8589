"""The second look at who did it: each recovery, muff and foul of a play must be told of that side."""

from __future__ import annotations

import re
from collections.abc import Callable

from ..plays import EventKind, Foul, FoulDecision, Outcome, Play, PlayKind, Side
from .ball_way import LOOSE
from .draft import KICKS
from .evidence import LineEvidence, Phrase
from .foul_rules import is_vague
from .word import Role


def caught(phrase: Phrase) -> bool:
    """Whether a phrase tells that a ball was caught: "caught by", "pass is caught"."""
    return phrase.has(Role.CAUGHT) or (phrase.has(Role.KIND, lambda word: word.value[1] is Outcome.COMPLETE)
        and "caught" in phrase.text)


WORDS_OF_EVENTS: dict[EventKind, Callable[[Phrase], bool]] = {
    EventKind.FUMBLE: lambda phrase: phrase.has(Role.EVENT, lambda word: word.value[0] is EventKind.FUMBLE
        or (word.value[0] is EventKind.OUT_OF_BOUNDS and re.search("fumbl|loose", phrase.text) is not None)
        or (word.value[0] is EventKind.OWN_RECOVERY and "fumbl" in phrase.text))
    or phrase.has(Role.PICK_SIX, lambda word: word.value == "scoop")
    or phrase.has(Role.RECOVERED, lambda word: word.value == "fumble"),
    EventKind.MUFF: lambda phrase: phrase.has(Role.EVENT, lambda word: word.value[0] is EventKind.MUFF)
    or phrase.has(Role.OUTCOME, lambda word: word.value is Outcome.MUFFED),
    EventKind.BLOCK: lambda phrase: phrase.has(Role.OUTCOME, lambda word: word.value is Outcome.BLOCKED),
    EventKind.RECOVERY: lambda phrase: phrase.has(Role.RECOVERED) or phrase.has(Role.POSSESSION)
    or phrase.has(Role.PICK_SIX) or phrase.has(Role.CLAIM, lambda word: word.value == "turnover")
    or phrase.text.endswith(" ball"),
    EventKind.CATCH: lambda phrase: phrase.has(Role.CAUGHT) or phrase.has(Role.SLOT),
    EventKind.INTERCEPTION: lambda phrase: phrase.has(Role.KIND, lambda word: word.value[1] is Outcome.INTERCEPTED)
    or phrase.has(Role.PICK_SIX) or caught(phrase),
    EventKind.OUT_OF_BOUNDS: lambda phrase: phrase.has(Role.OUTCOME, lambda word: word.value is Outcome.OUT_OF_BOUNDS)
    or phrase.has(Role.EVENT, lambda word: word.value[0] is EventKind.OUT_OF_BOUNDS) or phrase.has(Role.END_ZONE),
}
"""For each thing that happened, whether a phrase tells it; what is not here is told by its own word alone."""


def muff_unsaid(said: LineEvidence, play: Play) -> str:
    """A kick is muffed by who receives it, a snap by the offense; else who did is named."""
    for event in play.events:
        if event.kind is not EventKind.MUFF or play.kind not in KICKS or event.by is not Side.OFFENSE:
            continue
        telling = [phrase for phrase in said.phrases if WORDS_OF_EVENTS[EventKind.MUFF](phrase)]
        if not any("snap" in phrase.text or "exchange" in phrase.text or "abort" in phrase.text
                or (_beside(phrase, said) is Side.OFFENSE and not phrase.only(Role.OUTCOME)) for phrase in telling):
            return "who muffed it is not certain"
    return ""


def side_unsaid(said: LineEvidence, play: Play) -> str:
    """Who recovered must be named beside it, or told by words as "lost" and "kept"; each by its own phrase."""
    told = [phrase for phrase in said.phrases if WORDS_OF_EVENTS[EventKind.RECOVERY](phrase)]
    taken = [event for event in play.events if event.kind is EventKind.RECOVERY]
    if not taken:
        return ""
    allowed = [_recovered_by(phrase, said, play) for phrase in told]
    at = 0
    for event in taken:
        at = next((index + 1 for index in range(at, len(allowed)) if event.by in allowed[index]), 0)
        if not at:
            return f"a recovery by the {event.by.value if event.by else ''} is not certain"
    return ""


def _recovered_by(phrase: Phrase, said: LineEvidence, play: Play) -> tuple[Side, ...]:
    """The sides that may have recovered the ball by a phrase that tells of it."""
    fumblers = {event.by for event in play.events if event.kind in LOOSE and event.by is not None}
    for word in phrase.words:
        if word.role is Role.POSSESSION:
            return (word.value,)
        if word.role is Role.PICK_SIX:
            return (Side.DEFENSE,)
        if word.role is Role.RECOVERED and word.value in ("other", "same") and len(fumblers) == 1:
            (fumbler,) = fumblers
            return (fumbler.other if word.value == "other" else fumbler,)
        if word.role is Role.CLAIM and len(fumblers) == 1:
            return (next(iter(fumblers)).other,)
    if phrase.at in said.sides:
        return (said.sides[phrase.at],)
    which = _beside(phrase, said)
    return (which,) if which is not None else tuple(Side)

def caught_by(said: LineEvidence, which: Side) -> bool:
    """Whether a side is named with a catch."""
    return any(caught(phrase) and _beside(phrase, said) is which for phrase in said.phrases)

_LINKS = ("by", "on", "against", "the", "at", "of", "for", "was", "were", "is", "are", "be", "called", "flagged",
    "and", "it",
    "a", "an", "then", "called on", "charged to", "an illegal", "who", "had", "has", "have", "been", "their", "our")


def _beside(phrase: Phrase, said: LineEvidence) -> Side | None:
    """The side named with a phrase: behind it with "by" or "on", before it as who did it, or else right behind it."""
    index = next(place for place, each in enumerate(said.phrases) if each.at == phrase.at)
    linked = phrase.text.endswith((" by", " on"))
    for each in said.phrases[index + 1 :]:
        if each.at in said.sides:
            if linked:
                return said.sides[each.at]
            break
        linked = linked or each.text in ("by", "on", "against", "called on", "charged to")
        if each.text not in _LINKS and not each.has(Role.FLAG):
            break
    for each in reversed(said.phrases[:index]):
        if each.at in said.sides:
            return said.sides[each.at]
        if not is_vague(each.text) and any(each.has(role) for role in (Role.FOUL, Role.RECOVERED, Role.FOUL_DETAIL)):
            break
    after = said.phrases[index + 1] if index + 1 < len(said.phrases) else None
    return said.sides.get(after.at) if after is not None else None


_AT_THE_LINE = ("encroachment", "offside", "false start", "delay of game", "neutral zone infraction")


def foul_unsaid(said: LineEvidence, play: Play) -> str:
    """What of the fouls of a play was not said, or of those that were said is not in it."""
    named = [phrase for phrase in said.phrases if phrase.has(Role.FOUL)]
    for foul in play.fouls:
        telling = [phrase for phrase in named if foul.name in [word.value[0] for word in phrase.words
            if word.role is Role.FOUL]]
        if not telling:
            return f"{foul.name} was not said"
        if not any(_may_be_by(phrase, foul, said) for phrase in telling):
            return f"{foul.name!r} by the {foul.by.value} is not certain"
        if foul.spot is not None and foul.yards is None and foul.name in _AT_THE_LINE:
            return f"whether {foul.spot:g} is where {foul.name} was is not certain"
        if left := _foul_detail_unsaid(foul, said):
            return left
    both = said.says(Role.BOTH_TEAMS)
    if len(play.fouls) > len(named) * (2 if both else 1):
        return "how many fouls there were is not certain"
    of_one = any(phrase.text == "both" and _beside(phrase, said) is not None for phrase in said.phrases)
    if both and not of_one and play.fouls and {foul.by for foul in play.fouls} != set(Side):
        return "that both teams fouled leaves no trace in the play"
    told_otherwise = ("personal foul", "kickoff out of bounds") if play.fouls else ("kickoff out of bounds",)
    for phrase in named:
        names = {word.value[0] for word in phrase.words if word.role is Role.FOUL}
        weak = len(phrase.text) == 1 or is_vague(phrase.text) or phrase.at in said.sides
        if (phrase.only(Role.FOUL) and not weak and names.isdisjoint(told_otherwise)
                and not any(foul.name in names for foul in play.fouls)):
            return f"{phrase.text!r} leaves no trace in the play"
    offset = {foul.by for foul in play.fouls if foul.decision is FoulDecision.OFFSET}
    if len(offset) == 1 and FoulDecision.OFFSET in said.values(Role.BOTH):
        return "the other team's foul was not said"
    return _detail_left_over(said, play)


def _may_be_by(phrase: Phrase, foul: Foul, said: LineEvidence) -> bool:
    rules = said.line.rulebook.fouls.get(foul.name)
    words = phrase.text.split()
    if words[0] in ("offensive", "defensive"):
        return words[0] == ("offensive" if foul.by is Side.OFFENSE else "defensive")
    if rules is not None and rules.by is not None:
        return rules.by is foul.by
    which = _beside(phrase, said)
    if which is None:
        return not said.sides or foul.by in said.sides.values() or said.says(Role.BOTH_TEAMS)
    return which is foul.by or (said.says(Role.BOTH_TEAMS) and len(said.sides) < 2)


def _foul_detail_unsaid(foul: Foul, said: LineEvidence) -> str:
    """When it was, what was decided and where it is enforced each need their word."""
    for name in ("when", "at", "decision"):
        value = getattr(foul, name)
        if value is None:
            continue
        holds = (name, value) in said.values(Role.FOUL_DETAIL)
        if name == "decision":
            called_off = said.says(Role.NULLIFIED) or said.says(Role.KIND,
                lambda word: word.value[0] is PlayKind.NO_PLAY)
            holds = holds or value in said.values(Role.BOTH) or (value is FoulDecision.ACCEPTED and called_off)
        again = name == "at" and said.says(Role.CHOICE, lambda word: word.value == "replay")
        if not (holds or again) and not (name == "when" and "late" in said.text):
            return f"{value.value} was not said of the foul"
    if foul.loss_of_down and "down" not in said.text:
        return "a loss of down was not said"
    return ""


def _detail_left_over(said: LineEvidence, play: Play) -> str:
    for phrase in said.phrases:
        decisions = {word.value for word in phrase.words if word.role is Role.BOTH}
        if decisions and phrase.only(Role.BOTH) and any(foul.decision is None for foul in play.fouls):
            return f"{phrase.text!r} was not said of each foul"
        if not phrase.only(Role.FOUL_DETAIL) or not play.fouls:
            continue
        for word in phrase.words:
            name, value = word.value
            if name in ("decision", "when") and not any(getattr(foul, name) is value for foul in play.fouls):
                return f"{phrase.text!r} leaves no trace in the play"
    return ""
