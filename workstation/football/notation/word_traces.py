"""The second look from words to facts: what a word tells must have left its trace in the play."""

from __future__ import annotations

import re
from collections.abc import Callable

from ..plays import EventKind, FoulDecision, Outcome, Play, PlayKind, Score
from .ball_way import LOOSE, TAKEN
from .draft import FREE_KICKS, KICKS, TRIES
from .evidence import LineEvidence, Phrase
from .word import Role


def happened(play: Play, *kinds: EventKind) -> bool:
    """Whether any of these kinds of events is in the play."""
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
        lambda play: play.outcome is Outcome.MUFFED or happened(play, *LOOSE),
    ),
    (
        r"recover(?!y of)|pounce|falls? on|fell on",
        lambda play: happened(play, *TAKEN) or play.kind in KICKS,
    ),
    (
        r"intercept|picked off|pick six",
        lambda play: play.outcome is Outcome.INTERCEPTED or play.kind in TRIES,
    ),
    (
        r"\bblocked\b",
        lambda play: (play.kind in TRIES and play.outcome is not Outcome.NO_GOOD) or play.outcome is Outcome.BLOCKED
        or happened(play, EventKind.BLOCK, EventKind.FORCED_TOUCHING)
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
        lambda play: play.outcome is Outcome.FAIR_CATCH or happened(play, *LOOSE) or bool(play.fouls),
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
        r"\bloss of (?!down)|\blost \d|(?<!the )(?<!\bto )(?<!\bat )(?<!\bon )(?<!ec )(?:\bminus \d|(?<![\d\w])-\d)",
        lambda play: play.gain is None or play.gain < 0,
    ),
    (r"\bno (gain|loss)\b", lambda play: play.gain is None or abs(play.gain) < 1),
    (r"\bgain of\b|\bgains\b", lambda play: play.gain is None or play.gain > 0),
)
"""Words, each with what they must have left in the play."""


def word_left_over(said: LineEvidence, play: Play) -> str:
    """A word that tells something which is not in the play; empty if there is none."""
    if (play.kind in FREE_KICKS and play.outcome is Outcome.OUT_OF_BOUNDS and play.kick_to is not None
            and re.search(r"\bout\b.*\b(ball|starts?|takes?|possession|start|first|1st|marked|spot\w*|comes)\b.*\d",
                said.text)):
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
        return (play.outcome is outcome or happened(play, EventKind.OUT_OF_BOUNDS) or (play.kind is not PlayKind.RUN
            and play.kind not in KICKS) or bool(play.events or play.fouls) or play.score is not None
            or play.outcome in (Outcome.RETURNED, Outcome.TOUCHBACK, Outcome.BLOCKED))
    if outcome in (Outcome.FAIR_CATCH, Outcome.DOWNED, Outcome.TOUCHBACK):
        return (play.outcome in (outcome, Outcome.TOUCHBACK, Outcome.BLOCKED, Outcome.NO_GOOD)
            or play.kind not in KICKS or bool(play.events or play.fouls))
    return True
