"""A second look at a reading that would be certain: does the line tell this play, all of it and nothing else?

The grammar goes from words to a play. This goes both ways and shares no rule with it, only the table of words: every
number and every word that tells something must have left its trace in the play, and every fact of the play must have
its word. What fails makes a question of the answer, never another reading.
"""

from __future__ import annotations

import itertools
import re
from collections.abc import Callable

from ..plays import EventKind, Outcome, Play, PlayKind, Score, Side
from .ball_way import number_left_over, strange_order, strange_way
from .draft import FREE_KICKS, KICKS, RUNNERS, TRIES, Draft
from .evidence import LineEvidence, Phrase
from .hidden_facts import hidden
from .line import Line
from .who_did import WORDS_OF_EVENTS, caught_by, foul_unsaid, muff_unsaid, side_unsaid
from .word import Role
from .word_traces import word_left_over

_OPEN = re.compile(
    r"\b(not(?! return)|never|or|if|unless|instead|almost|nearly|maybe|might|would|should|wait|except|until|neither|"
    r"nor|wrong|actually|correction)\b|n't\b|"
    r"\b(did|does|do|could|would|should|was|is|were|are|has|have|had|ca|wo|ai)nt\b"
)
"""Words that take back or leave open what stands beside them, where no phrase of the table has them."""
_ANNOUNCES = ("a", "an", "the", "of", "for", "to", "at", "by", "from", "and", "but", "with", "is", "was", "his",
    "their",
    "our", "then", "offensive", "defensive", "illegal")

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
    for check in (_left_open, _number_left_over, word_left_over, _kind_unsaid, _outcome_unsaid, _score_unsaid,
            _event_unsaid, muff_unsaid, side_unsaid, foul_unsaid, _rest_unsaid):
        if left := check(said, play):
            return left
    return _distance_unsaid(play) or strange_order(play) or strange_way(
        play, line.before, line.rulebook) or hidden(line, play)


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
    alone = last.after - last.at == 1 or last.only(Role.PREPOSITION) or last.only(Role.SLOT)
    if tokens[-1].text in _ANNOUNCES and alone and (last.at not in said.sides or last.text.endswith("ive")):
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
    if (kind in (PlayKind.RUN, PlayKind.PASS) and said.line.before.down == said.line.rulebook.downs
            and re.search(r"\b(downed|dwnd)\b", said.text)):
        return "whether it was a punt that was downed was not said"
    unnamed = not said.says(Role.KIND)
    if kind in FREE_KICKS or kind in (PlayKind.TRY_KICK, PlayKind.COIN_TOSS, PlayKind.NO_PLAY):
        return ""  # what the situation leaves, or what a foul makes of it
    holds = _kinds(said, kind, plain) or _manners(said, plain)
    if plain is PlayKind.RUN:
        holds = (holds or _begins_with_run(said)
            or said.says(Role.FILLER, lambda word: word.value in ("carrier", "a run"))
            or (unnamed and said.says(Role.SCORE,
            lambda word: word.value is Score.TOUCHDOWN))
            or (said.says(Role.TWO_POINT) and not _kinds(said, PlayKind.PASS, PlayKind.TRY_PASS))
            or any(re.search(rf"\b{runner}\b", said.text) for runner in (*RUNNERS, "snap", "exchange")))
    elif plain is PlayKind.PASS:
        holds = (holds or said.says(Role.CAUGHT) or said.says(Role.PICK_SIX)
            or said.says(Role.FILLER, lambda word: word.value == "a pass") or (kind in TRIES
            and _kinds(said, PlayKind.SACK)) or said.says(Role.SLOT, lambda word: word.text == "kicked to"))
    elif plain in (PlayKind.PUNT, PlayKind.FIELD_GOAL):
        holds = (holds or said.says(Role.KICK) or "punt" in said.text or (plain is PlayKind.FIELD_GOAL
            and (said.says(Role.MISSED) or said.says(Role.OUTCOME, lambda word: word.value is Outcome.GOOD))))
    elif kind is PlayKind.TIMEOUT:
        holds = holds or said.line.words_at(0, 1) == ("to",)
    return "" if holds else f"that it was a {kind.value} was not said"

_NO_GOOD_TRY = (Outcome.INCOMPLETE, Outcome.INTERCEPTED)


_REACHES_IT = re.compile(r"\b(is|he's|was|goes|gets|got|it) in$|\bgood for (us|them|the|our|their)\b")


def _outcome_unsaid(said: LineEvidence, play: Play) -> str:
    outcome = play.outcome
    if outcome is None or _OUTCOMES_SAID[outcome](said):
        return ""
    if play.kind in TRIES and outcome in (Outcome.GOOD, Outcome.NO_GOOD, Outcome.RETURNED):
        reached = (Role.SCORE, Role.END_ZONE, Role.RECOVERED)
        if outcome is Outcome.GOOD and (_REACHES_IT.search(said.text) or any(said.says(role) for role in reached)
                or (_kinds(said, PlayKind.PASS) and "comp" in said.text)):
            return ""
        missed = said.says(Role.KIND, lambda word: word.value[1] in _NO_GOOD_TRY
            or word.value[0] in (PlayKind.SACK, PlayKind.KNEEL))
        start = said.line.before.ball_on
        short = (play.gain is not None and start is not None and play.kind is not PlayKind.TRY_KICK
            and start + play.gain < said.line.rulebook.field_length)
        if outcome is Outcome.NO_GOOD and (missed or short or said.says(Role.MISSED)):
            return ""
        if outcome is Outcome.RETURNED and (said.says(Role.KIND) or said.says(Role.SCORE)):
            return ""
    return f"{outcome.value} was not said"


def _outcome_row(*outcomes: Outcome) -> Callable[[LineEvidence], bool]:
    return lambda said: said.says(Role.OUTCOME, lambda word: word.value in outcomes)


def _passed(*outcomes: Outcome) -> Callable[[LineEvidence], bool]:
    return lambda said: said.says(Role.KIND, lambda word: word.value[1] in outcomes)

_OUTCOMES_SAID: dict[Outcome, Callable[[LineEvidence], bool]] = {
    Outcome.COMPLETE: lambda said: not _only_uncaught(said) and not caught_by(said, Side.DEFENSE),
    Outcome.INCOMPLETE: _passed(Outcome.INCOMPLETE),
    Outcome.INTERCEPTED: lambda said: _passed(Outcome.INTERCEPTED)(said) or said.says(Role.PICK_SIX)
    or caught_by(said, Side.DEFENSE),
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
    Outcome.TOUCHBACK: lambda said: _outcome_row(Outcome.TOUCHBACK)(said) or _dead_behind_goal_line(said),
    Outcome.MADE: lambda said: _outcome_row(Outcome.MADE, Outcome.GOOD)(said) or said.says(Role.CLAIM),
    Outcome.SHORT: lambda said: _outcome_row(Outcome.NO_GOOD)(said) or said.says(Role.MISSED),
}


def _dead_behind_goal_line(said: LineEvidence) -> bool:
    """A kick went through the end zone, or into it where the rules let it die there; nothing else was said of it."""
    dead = said.line.rulebook.kick_dead_at_goal_line
    return (said.says(Role.END_ZONE, lambda word: word.value[0] == "through" or dead)
        and not said.says(Role.RETURN) and not said.numbers)


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
    if score is Score.TOUCHDOWN and (said.says(Role.PICK_SIX) or (play.kind in (PlayKind.RUN, PlayKind.PASS)
            and not play.events and said.says(Role.END_ZONE, lambda word: word.value == ("in", None)))):
        return ""
    return f"a {score.value if score else ''} was not said"


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
    return WORDS_OF_EVENTS.get(kind, lambda phrase: phrase.has(Role.EVENT, lambda word: word.value[0] is kind))


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
        if None not in kinds and plain not in kinds and not (play.kind is PlayKind.SACK
                or play.kind in _KICKED or play.manner in _EITHER):
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
