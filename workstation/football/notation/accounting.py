"""A second look at a reading that would be certain: does the line tell this play, all of it and nothing else?

The grammar goes from words to a play. This goes both ways and shares no rule with it, only the table of words: every
number and every word that tells something must have left its trace in the play, and every fact of the play must have
its word. What fails makes a question of the answer, never another reading.
"""

from __future__ import annotations

import itertools
import re
from collections.abc import Callable

from ..plays import EventKind, Foul, FoulDecision, Outcome, Play, PlayKind, Score, Side
from .ball_way import LOOSE, TAKEN, number_left_over, strange_order, strange_way
from .draft import FREE_KICKS, KICKS, RUNNERS, TRIES, Draft
from .evidence import LineEvidence, Phrase
from .foul_rules import is_vague
from .line import Line
from .word import Role

_OPEN = re.compile(
    r"\b(not(?! return)|never|or|if|unless|instead|almost|nearly|maybe|might|would|should|wait|except|until|neither|"
    r"nor|wrong|actually|correction)\b|n't\b"
)
"""Words that take back or leave open what stands beside them, where no phrase of the table has them."""
_ANNOUNCES = ("a", "an", "the", "of", "for", "to", "at", "by", "from", "and", "but", "with", "is", "was", "his",
    "their",
    "our", "then")
_SCRIMMAGE = {PlayKind.TRY_RUN: PlayKind.RUN, PlayKind.TRY_PASS: PlayKind.PASS, PlayKind.TRY_KICK: PlayKind.FIELD_GOAL}
_EITHER = ("draw", "option", "scramble", "read option", "reverse",
    "wildcat", "play action", "flea flicker", "keeper")
"""How a run or a pass may have been made that ends as the other."""
_KICKED = (*KICKS, PlayKind.FIELD_GOAL, PlayKind.TRY_KICK)


def unaccounted(line: Line, draft: Draft, play: Play) -> str:
    """What of the line is not found in the play, or of the play not in the line; empty if all is."""
    if play.kind is PlayKind.REPLAY_REVERSAL or draft.exact or draft.said is not None:
        return ""
    said = LineEvidence(line)
    for check in (_left_open, _number_left_over, _word_left_over, _kind_unsaid, _outcome_unsaid, _score_unsaid,
            _event_unsaid, _muff_unsaid, _side_unsaid, _foul_unsaid, _rest_unsaid):
        if left := check(said, play):
            return left
    return _distance_unsaid(play) or strange_order(play) or strange_way(play, line.before, line.rulebook)


def _distance_unsaid(play: Play) -> str:
    """A run, catch or sack ends somewhere, unless what became of it tells enough."""
    told = (play.gain, play.spot, play.score)
    if (play.kind in (PlayKind.RUN, PlayKind.PASS, PlayKind.SACK) and play.outcome in (None, Outcome.COMPLETE,
            Outcome.OUT_OF_BOUNDS) and all(each is None for each in told) and not play.events):
        return "how far it went was not said"
    return ""


def _left_open(said: LineEvidence, play: Play) -> str:
    """A word that takes back or leaves open, or that announces what does not follow."""
    tokens = said.line.tokens
    last = said.phrases[-1]
    if tokens[-1].text in _ANNOUNCES and last.at not in said.sides and last.after - last.at == 1:
        return f"what {tokens[-1].text!r} announces was not said"
    for phrase in said.phrases:
        if phrase.only(Role.YARDS) and phrase.at and not said.number_before(phrase.at):
            return "how many yards was not said"
    for phrase in said.phrases:
        if not any(word.role is not Role.FILLER for word in phrase.words) or phrase.after - phrase.at == 1:
            start, end = said.line.tokens[phrase.at].start, said.line.tokens[phrase.after - 1].end
            if (found := _OPEN.search(said.text[start:end])) is not None:
                return f"{found.group()!r} may change what was said"
    return ""


def _number_left_over(said: LineEvidence, play: Play) -> str:
    return number_left_over(said, play, said.line.before, said.line.rulebook)


# -- from words to facts --------------------------------------------------------------------------------
def _happened(play: Play, *kinds: EventKind) -> bool:
    return any(event.kind in kinds for event in play.events)


def _decided(play: Play, decision: FoulDecision) -> bool:
    return any(foul.decision is decision for foul in play.fouls)


_TRACES: tuple[tuple[str, Callable[[Play], bool]], ...] = (
    (
        r"touchdown|\btds?\b|\bscored\b",
        lambda play: play.score is Score.TOUCHDOWN or play.kind in TRIES,
    ),
    (
        r"fumbl|muff|stripped",
        lambda play: play.outcome is Outcome.MUFFED or _happened(play, *LOOSE),
    ),
    (
        r"recover(?!y of)|pounce|falls? on|fell on",
        lambda play: _happened(play, *TAKEN) or play.kind in KICKS,
    ),
    (
        r"intercept|picked off|pick six",
        lambda play: play.outcome is Outcome.INTERCEPTED or play.kind in TRIES,
    ),
    (
        r"\bblocked\b",
        lambda play: (play.kind in TRIES and play.outcome is not Outcome.NO_GOOD) or play.outcome is Outcome.BLOCKED
        or _happened(play, EventKind.BLOCK, EventKind.FORCED_TOUCHING)
        or any("block" in foul.name for foul in play.fouls),
    ),
    (r"declin|refus", lambda play: _decided(play, FoulDecision.DECLINED)),
    (r"offset", lambda play: _decided(play, FoulDecision.OFFSET)),
    (
        r"\bno good\b|\bmissed\b",
        lambda play: play.outcome in (Outcome.NO_GOOD, Outcome.BLOCKED, Outcome.RETURNED),
    ),
    (r"\bis good\b", lambda play: play.outcome is Outcome.GOOD),
    (r"\bsack", lambda play: play.kind is PlayKind.SACK or play.kind in TRIES),
    (r"\bincomplete\b", lambda play: play.outcome in (Outcome.INCOMPLETE, Outcome.NO_GOOD)),
    (r"\bcomplete\b", lambda play: play.outcome in (Outcome.COMPLETE, Outcome.GOOD)),
    (
        r"fair ca|\bfc\b",
        lambda play: play.outcome is Outcome.FAIR_CATCH or _happened(play, *LOOSE) or bool(play.fouls),
    ),
    (
        r"\bdowned\b",
        lambda play: play.outcome in (Outcome.DOWNED, Outcome.TOUCHBACK) or play.kind not in KICKS,
    ),
    (
        r"\bpunt(s|ed|ing)?\b(?! return| team)",
        lambda play: play.kind in KICKS or "fake" in play.manner or bool(play.events or play.fouls),
    ),
    (
        r"touchback|\btb\b",
        lambda play: play.outcome is Outcome.TOUCHBACK or play.spot is not None or bool(play.events),
    ),
    (r"\b(penalt|flag)", lambda play: bool(play.fouls)),
    (
        r"\bloss of (?!down)|\blost \d|\bminus \d|(?<![\d\w])-\d",
        lambda play: play.gain is None or play.gain < 0,
    ),
    (r"\bno (gain|loss)\b", lambda play: play.gain is None or abs(play.gain) < 1),
    (r"\bgain of\b|\bgains\b", lambda play: play.gain is None or play.gain > 0),
)
"""Words, each with what they must have left in the play."""


def _word_left_over(said: LineEvidence, play: Play) -> str:
    if (play.kind in FREE_KICKS and play.outcome is Outcome.OUT_OF_BOUNDS and play.kick_to is not None
            and re.search(r"out of bounds\W.*\b(ball|starts?|takes?|possession|start)\b.*\d", said.text)):
        return "where it is put in play may be meant"
    for pattern, holds in _TRACES:
        match = re.search(pattern, said.text)
        if match is not None and not holds(play):
            return f"{match.group()!r} leaves no trace in the play"
    for phrase in said.phrases:
        if not _left_a_trace(phrase, said, play):
            return f"{phrase.text!r} leaves no trace in the play"
    return ""


def _left_a_trace(phrase: Phrase, said: LineEvidence, play: Play) -> bool:
    """Whether a phrase that can only mean what became of the play, or a score, is found in it."""
    if phrase.only(Role.SCORE):
        scores = {word.value for word in phrase.words}
        named = any(token.text == "by" for token in said.line.tokens[max(0, phrase.at - 2) : phrase.at])
        return (play.score in scores or play.kind in TRIES or named
            or play.kind is PlayKind.SAFETY_FREE_KICK)
    if phrase.only(Role.PICK_SIX):
        return play.score is Score.TOUCHDOWN
    if phrase.only(Role.END_ZONE):
        length = said.line.rulebook.field_length
        places = [play.kick_to, play.spot, *(event.spot for event in play.events), *(foul.spot for foul in play.fouls)]
        return (play.score is not None or play.kind in TRIES or any(spot is not None and not 0 < spot < length
            for spot in places) or play.outcome in (Outcome.INCOMPLETE, Outcome.TOUCHBACK, Outcome.GOOD,
            Outcome.NO_GOOD, Outcome.BLOCKED, Outcome.RETURNED))
    if phrase.only(Role.OUTCOME):
        return any(_outcome_found(word.value, play) for word in phrase.words)
    if phrase.only(Role.RETURN) and play.kind in KICKS and "run" not in phrase.text and "pick" not in phrase.text:
        return play.outcome is not None or bool(play.events) or play.score is not None
    if phrase.only(Role.POSSESSION):
        return play.possession in {word.value for word in phrase.words} or bool(play.events)
    return True


def _outcome_found(outcome: Outcome, play: Play) -> bool:
    if outcome is Outcome.OUT_OF_BOUNDS:
        return (play.outcome is outcome or _happened(play, EventKind.OUT_OF_BOUNDS) or (play.kind is not PlayKind.RUN
            and play.kind not in KICKS) or bool(play.events or play.fouls) or play.score is not None
            or play.outcome in (Outcome.RETURNED, Outcome.TOUCHBACK, Outcome.BLOCKED))
    if outcome in (Outcome.FAIR_CATCH, Outcome.DOWNED, Outcome.TOUCHBACK):
        return (play.outcome in (outcome, Outcome.TOUCHBACK, Outcome.BLOCKED, Outcome.NO_GOOD)
            or play.kind not in KICKS or bool(play.events or play.fouls))
    return True


# -- from facts to words --------------------------------------------------------------------------------
def _kinds(said: LineEvidence, *kinds: PlayKind) -> bool:
    return said.says(Role.KIND, lambda word: word.value[0] in kinds)


def _begins_with_run(said: LineEvidence) -> bool:
    return any(word.role is Role.KIND and word.value[0] is PlayKind.RUN for phrase in said.phrases
        if phrase.text.startswith("r") for word in said.parts(phrase))


def _manners(said: LineEvidence, kind: PlayKind) -> bool:
    return said.says(Role.MANNER, lambda word: word.value[0] in (kind, None))


def _kind_unsaid(said: LineEvidence, play: Play) -> str:
    kind = play.kind
    plain = _SCRIMMAGE.get(kind, kind)
    unnamed = not said.says(Role.KIND)
    if kind in FREE_KICKS or kind in (PlayKind.TRY_KICK, PlayKind.COIN_TOSS, PlayKind.NO_PLAY):
        return ""  # what the situation leaves, or what a foul makes of it
    holds = _kinds(said, kind, plain) or _manners(said, plain)
    if plain is PlayKind.RUN:
        holds = (holds or _begins_with_run(said) or (unnamed and said.says(Role.SCORE,
            lambda word: word.value is Score.TOUCHDOWN))
            or (said.says(Role.TWO_POINT) and not _kinds(said, PlayKind.PASS, PlayKind.TRY_PASS))
            or any(re.search(rf"\b{runner}\b", said.text) for runner in RUNNERS))
    elif plain is PlayKind.PASS:
        holds = (holds or said.says(Role.CAUGHT) or said.says(Role.PICK_SIX) or (kind in TRIES
            and _kinds(said, PlayKind.SACK)) or said.says(Role.SLOT, lambda word: word.text == "kicked to"))
    elif plain in (PlayKind.PUNT, PlayKind.FIELD_GOAL):
        holds = (holds or said.says(Role.KICK) or "punt" in said.text or (plain is PlayKind.FIELD_GOAL
            and (said.says(Role.MISSED) or said.says(Role.OUTCOME, lambda word: word.value is Outcome.GOOD))))
    elif kind is PlayKind.TIMEOUT:
        holds = holds or said.line.words_at(0, 1) == ("to",)
    return "" if holds else f"that it was a {kind.value} was not said"


_NO_GOOD_TRY = (Outcome.INCOMPLETE, Outcome.INTERCEPTED)


def _outcome_unsaid(said: LineEvidence, play: Play) -> str:
    outcome = play.outcome
    if outcome is None or _OUTCOMES_SAID[outcome](said):
        return ""
    if play.kind in TRIES and outcome in (Outcome.GOOD, Outcome.NO_GOOD, Outcome.RETURNED):
        if outcome is Outcome.GOOD and (said.says(Role.SCORE) or said.says(Role.END_ZONE) or said.says(Role.RECOVERED)
                or (_kinds(said, PlayKind.PASS) and "comp" in said.text)):
            return ""
        missed = said.says(Role.KIND, lambda word: word.value[1] in _NO_GOOD_TRY
            or word.value[0] in (PlayKind.SACK, PlayKind.KNEEL))
        if outcome is Outcome.NO_GOOD and (missed or said.says(Role.MISSED)):
            return ""
        if outcome is Outcome.RETURNED and (said.says(Role.KIND) or said.says(Role.SCORE)):
            return ""
    return f"{outcome.value} was not said"


def _outcome_row(*outcomes: Outcome) -> Callable[[LineEvidence], bool]:
    return lambda said: said.says(Role.OUTCOME, lambda word: word.value in outcomes)


def _passed(*outcomes: Outcome) -> Callable[[LineEvidence], bool]:
    return lambda said: said.says(Role.KIND, lambda word: word.value[1] in outcomes)


_OUTCOMES_SAID: dict[Outcome, Callable[[LineEvidence], bool]] = {
    Outcome.COMPLETE: lambda said: not _only_uncaught(said),
    Outcome.INCOMPLETE: _passed(Outcome.INCOMPLETE),
    Outcome.INTERCEPTED: lambda said: _passed(Outcome.INTERCEPTED)(said) or said.says(Role.PICK_SIX),
    Outcome.GOOD: _outcome_row(Outcome.GOOD, Outcome.MADE),
    Outcome.NO_GOOD: lambda said: _outcome_row(Outcome.NO_GOOD, Outcome.BLOCKED)(said) or said.says(Role.MISSED)
    or said.says(Role.RETURN),
    Outcome.BLOCKED: _outcome_row(Outcome.BLOCKED),
    Outcome.RETURNED: lambda said: said.says(Role.RETURN) or _kinds(said, PlayKind.RUN) or (said.count(
        lambda phrase: phrase.has(Role.PREPOSITION) or phrase.has(Role.SCORE)) > 0 and len(said.numbers) != 1),
    Outcome.FAIR_CATCH: _outcome_row(Outcome.FAIR_CATCH),
    Outcome.DOWNED: _outcome_row(Outcome.DOWNED),
    Outcome.MUFFED: lambda said: _outcome_row(Outcome.MUFFED)(said) or said.says(Role.EVENT),
    Outcome.OUT_OF_BOUNDS: lambda said: said.count(lambda phrase: _goes_out(phrase, said)) > 0,
    Outcome.TOUCHBACK: _outcome_row(Outcome.TOUCHBACK),
    Outcome.MADE: lambda said: _outcome_row(Outcome.MADE, Outcome.GOOD)(said) or said.says(Role.CLAIM),
    Outcome.SHORT: lambda said: _outcome_row(Outcome.NO_GOOD)(said) or said.says(Role.MISSED),
}


def _goes_out(phrase: Phrase, said: LineEvidence) -> bool:
    """A phrase tells of the ball or the runner out of bounds, itself or with its last words."""
    return (phrase.has(Role.OUTCOME, lambda word: word.value is Outcome.OUT_OF_BOUNDS)
        or phrase.has(Role.EVENT, lambda word: word.value[0] is EventKind.OUT_OF_BOUNDS)
        or phrase.text.endswith("out of bounds"))


def _only_uncaught(said: LineEvidence) -> bool:
    """Every word of a pass tells that it was not caught."""
    return any(phrase.only(Role.KIND) and all(word.value[1] in _NO_GOOD_TRY for word in phrase.words)
        for phrase in said.phrases)


def _score_unsaid(said: LineEvidence, play: Play) -> str:
    score = play.score
    if score in (None, Score.NONE) or said.says(Role.SCORE, lambda word: word.value is score):
        return ""
    if score is Score.TOUCHDOWN and said.says(Role.PICK_SIX):
        return ""
    return f"a {score.value if score else ''} was not said"


_WORDS_OF_EVENTS: dict[EventKind, Callable[[Phrase], bool]] = {
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
    or phrase.has(Role.PICK_SIX),
    EventKind.OUT_OF_BOUNDS: lambda phrase: phrase.has(Role.OUTCOME, lambda word: word.value is Outcome.OUT_OF_BOUNDS)
    or phrase.has(Role.EVENT, lambda word: word.value[0] is EventKind.OUT_OF_BOUNDS) or phrase.has(Role.END_ZONE),
}
"""For each thing that happened, whether a phrase tells it; what is not here is told by its own word alone."""


def _event_unsaid(said: LineEvidence, play: Play) -> str:
    """Everything that happened to the ball needs a phrase of its own."""
    for kind in {event.kind for event in play.events}:
        tells = _tells_of(kind)
        needed = sum(event.kind is kind for event in play.events)
        if kind is EventKind.OUT_OF_BOUNDS and play.outcome is Outcome.OUT_OF_BOUNDS:
            needed += 1
        if said.count(tells) < needed:
            return f"a {kind.value} was not said"
    places = {event.kind: [phrase.at for phrase in said.phrases if _tells_of(event.kind)(phrase)]
        for event in play.events}
    for first, then in itertools.pairwise(play.events):
        if first.kind is not then.kind and min(places[first.kind]) > max(places[then.kind]):
            return "the order of what happened is not certain"
    return ""


def _tells_of(kind: EventKind) -> Callable[[Phrase], bool]:
    return _WORDS_OF_EVENTS.get(kind, lambda phrase: phrase.has(Role.EVENT, lambda word: word.value[0] is kind))


# -- who ------------------------------------------------------------------------------------------------
def _muff_unsaid(said: LineEvidence, play: Play) -> str:
    """A kick is muffed by who receives it, a snap by the offense; else who did is named."""
    for event in play.events:
        if event.kind is not EventKind.MUFF or play.kind not in KICKS or event.by is not Side.OFFENSE:
            continue
        telling = [phrase for phrase in said.phrases if _WORDS_OF_EVENTS[EventKind.MUFF](phrase)]
        if not any("snap" in phrase.text or "exchange" in phrase.text or "abort" in phrase.text
                or (_beside(phrase, said) is Side.OFFENSE and not phrase.only(Role.OUTCOME)) for phrase in telling):
            return "who muffed it is not certain"
    return ""


def _side_unsaid(said: LineEvidence, play: Play) -> str:
    """Who recovered must be named beside it, or told by words as "lost" and "kept"; each by its own phrase."""
    told = [phrase for phrase in said.phrases if _WORDS_OF_EVENTS[EventKind.RECOVERY](phrase)]
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
    which = _beside(phrase, said, own_first=True)
    return (which,) if which is not None else tuple(Side)


_LINKS = ("by", "on", "against", "the", "at", "of", "for", "was", "were", "is", "are", "be", "called", "flagged",
    "and", "it",
    "a", "an", "then", "called on", "charged to", "an illegal", "who", "had", "has", "have", "been", "their", "our")


def _beside(phrase: Phrase, said: LineEvidence, own_first: bool = False) -> Side | None:
    """The side named with a phrase: behind it with "by" or "on", before it as who did it, or else right behind it."""
    places = {each.at: index for index, each in enumerate(said.phrases)}
    index = places[phrase.at]
    linked = False
    for each in said.phrases[index + 1 :]:
        if each.at in said.sides:
            if linked or phrase.text.endswith((" by", " on")) or not own_first:
                behind = said.sides[each.at]
                if linked or phrase.text.endswith((" by", " on")):
                    return behind
                break
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


# -- fouls ----------------------------------------------------------------------------------------------
def _foul_unsaid(said: LineEvidence, play: Play) -> str:
    named = [phrase for phrase in said.phrases if phrase.has(Role.FOUL)]
    for foul in play.fouls:
        telling = [phrase for phrase in named if foul.name in [word.value[0] for word in phrase.words
            if word.role is Role.FOUL]]
        if not telling:
            return f"{foul.name} was not said"
        if not any(_may_be_by(phrase, foul, said) for phrase in telling):
            return f"{foul.name!r} by the {foul.by.value} is not certain"
        if left := _foul_detail_unsaid(foul, said):
            return left
    both = said.says(Role.BOTH_TEAMS)
    if len(play.fouls) > len(named) * (2 if both else 1):
        return "how many fouls there were is not certain"
    of_one = any(phrase.text == "both" and _beside(phrase, said) is not None for phrase in said.phrases)
    if both and not of_one and play.fouls and {foul.by for foul in play.fouls} != set(Side):
        return "that both teams fouled leaves no trace in the play"
    for phrase in named:
        names = {word.value[0] for word in phrase.words if word.role is Role.FOUL}
        if (phrase.only(Role.FOUL) and not any(foul.name in names for foul in play.fouls)
                and names.isdisjoint(("personal foul",
                    "kickoff out of bounds")) and len(phrase.text) > 1 and not is_vague(phrase.text)
                and phrase.at not in said.sides):
            return f"{phrase.text!r} leaves no trace in the play"
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
            holds = (holds or value in said.values(Role.BOTH)
                or (value is FoulDecision.ACCEPTED and said.says(Role.NULLIFIED)))
        if not holds and not (name == "when" and "late" in said.text):
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


# -- the rest -------------------------------------------------------------------------------------------
def _rest_unsaid(said: LineEvidence, play: Play) -> str:
    if play.team is not None and play.kind in (PlayKind.TIMEOUT, PlayKind.COIN_TOSS):
        teams = set(said.teams())
        if "lost" in said.text or "loses" in said.text:
            teams |= {team.opponents for team in teams}
        other_first = len(teams) > 1 and next(said.teams()) is not play.team and "los" not in said.text
        if play.team not in teams or other_first:
            return f"the {play.team.value} is not certain"
    if play.choice is not None and not said.says(Role.CHOICE, lambda word: word.value == play.choice):
        return f"{play.choice} was not said"
    if play.manner:
        kinds = [kind for kind, manner in said.values(Role.MANNER) if manner == play.manner]
        if not kinds:
            return f"{play.manner} was not said"
        plain = _SCRIMMAGE.get(play.kind, play.kind)
        if None not in kinds and plain not in kinds and not (plain is PlayKind.SACK or play.kind in _KICKED
                or play.manner in _EITHER):
            return f"a {play.kind.value} is not told by {play.manner}"
    if play.possession is not None and not _possession_said(said, play):
        return f"ball of the {play.possession.value} was not said"
    return ""


def _possession_said(said: LineEvidence, play: Play) -> bool:
    turned = (play.outcome in (Outcome.INTERCEPTED, Outcome.BLOCKED, Outcome.RETURNED)
        or said.says(Role.PICK_SIX) or (said.says(Role.RETURN) and (play.kind in _KICKED or bool(play.events))))
    return (play.possession is Side.DEFENSE and turned) or any(phrase.has(Role.POSSESSION) or phrase.text.endswith(
        " ball") or (play.score is not None or play.outcome in (Outcome.DOWNED, Outcome.BLOCKED) or bool(play.events))
        for phrase in said.phrases if said.sides.get(phrase.at) is play.possession)
