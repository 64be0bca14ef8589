"""A second look at a reading that would be certain: is everything that was typed found again in the play?

The grammar goes from words to a play. This goes the other way and shares no rule with it: every number of the line must
be one of the play's distances or yard lines, whichever the words beside it call for; every word that tells something
must have left its trace; the ball must have gone a way that a ball goes. What fails makes a question of the answer,
never another reading.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from dataclasses import replace

from ..field import spoken_spot
from ..plays import EventKind, FoulDecision, Outcome, Play, PlayKind, Score, Side
from ..rulebook import Rulebook
from ..situation import Next, Situation
from ..tracker import fold
from .draft import FREE_KICKS, KICKS, PENALTY_YARDS, SNAP_TO_KICK, TRIES, Draft
from .lexicon import Lexicon
from .line import Line
from .number_words import NUMBERS, number_at
from .tokens import Token, TokenKind
from .words import Role, Word

_YARDS = ("yard", "yards", "yd", "yds", "yarder")
_PLACED = ("to", "at", "the", "on")
_OWN, _OPP = ("own", "our"), ("opp", "their", "opponents", "opponent")
_TELLS_YARDS = ("for", "of", "gains", "gained", "loses", "lost", "minus", "got", "gets")
_OPEN = re.compile(
    r"\b(not(?! return)|never|or|if|unless|instead|almost|nearly|maybe|might|would|should|wait|except|"
    r"until|neither|nor|"
    r"no wait|wrong|actually|correction)\b|n't\b"
)
"""Words that take back or leave open what stands beside them."""
_LOOSE = (EventKind.FUMBLE, EventKind.MUFF, EventKind.LATERAL, EventKind.BLOCK)
_TAKEN = (EventKind.RECOVERY, EventKind.OWN_RECOVERY, EventKind.CATCH, EventKind.INTERCEPTION)
_BLOCKED = (EventKind.BLOCK, EventKind.FORCED_TOUCHING)
_FARTHEST_BACK = 30.0  # a runner or passer that loses more is a slip of the hand (judgement, no source)
_FARTHEST_BOUNCE = 35.0  # from where the ball came loose to where it was recovered
_LONGEST_PUNT, _LONGEST_FIELD_GOAL = 85.0, 70.0


def unaccounted(line: Line, draft: Draft, play: Play) -> str:
    """What of the line is not found in the play; empty if all is."""
    if play.kind in (PlayKind.NO_PLAY, PlayKind.REPLAY_REVERSAL) or draft.exact or draft.said is not None:
        return ""
    return (_number_left_over(line, draft, play) or _side_left_over(line, draft, play)
        or _word_left_over(line.text.lower(), play) or _strange_way(play, draft.before, draft.rulebook))


# -- numbers ------------------------------------------------------------------------------------------
def _number_left_over(line: Line, draft: Draft, play: Play) -> str:
    found = list(_numbers(line))
    if not found:
        return ""
    distances, lines = _distances(play, draft), _lines(play, draft)
    length = draft.in_field
    for text, value, sort in found:
        own = any(abs(spot - value) < 0.51 for spot in lines)
        opp = any(abs(length - spot - value) < 0.51 for spot in lines)
        zone = any(abs(-spot - value) < 0.51 or abs(spot - length - value) < 0.51 for spot in lines)
        distance = any(abs(each - value) < 0.51 for each in distances)
        fits = {"distance": distance or zone, "line": own or opp or zone, "own": own or zone, "opp": opp or zone,
            "": distance or own or opp or zone}[sort]
        if not fits:
            return f"what {text} tells is not certain"
    return ""


def _numbers(whole: Line) -> Iterator[tuple[str, float, str]]:
    """The numbers of the line that stand for themselves: as typed, the value, and of which sort."""
    at, tokens, words = 0, whole.tokens, whole.words
    while at < len(tokens):
        token = tokens[at]
        phrase = words.phrase_at(tokens, at)
        if phrase is not None and phrase[0] > 1:
            at += phrase[0]
            continue
        at += 1
        if token.text in NUMBERS and token.kind is TokenKind.LETTERS:
            value, used = number_at(tokens, at - 1) or (0.0, 1)
            told = at > 1 and tokens[at - 2].text in _TELLS_YARDS
            at += used - 1
            follows = tuple(each.text for each in tokens[at : at + 3])
            yards = follows[:1] and follows[0] in _YARDS and follows[1:2] not in (("line",), ("and",))
            if value > 1 and (yards or (told and follows[:1] not in (("and",), ("more",), ("points",), ("minutes",)))):
                yield token.text, value, "distance"
            continue
        after = tokens[at].text if at < len(tokens) else ""
        before = tokens[at - 2].text if at > 1 else ""
        if at > 1 and whole.player(at - 2) is not None:
            continue
        if token.kind is not TokenKind.NUMBER or before in ("number", "no", "num", "by", "set", "go", "down"):
            continue
        line = after == "yardline" or (after in _YARDS and at + 1 < len(tokens) and tokens[at + 1].text == "line")
        sort = ""
        if after in _YARDS and not line:
            sort = "distance"
        elif before == "own" and at > 2 and tokens[at - 3].text in _OPP:
            sort = "opp"  # "their own 20"
        elif before in _OWN:
            sort = "own"
        elif before in _OPP:
            sort = "opp"
        elif line or before in _PLACED:
            sort = "line"
        yield token.text, abs(float(token.text)), sort


def _distances(play: Play, draft: Draft) -> list[float]:
    """Every distance that the play tells, in yards."""
    start, found = draft.start, []
    if play.gain is not None:
        found.append(abs(play.gain))
    spots = [spot for spot in (play.kick_to, *(event.spot for event in play.events), play.spot) if spot is not None]
    if start is not None:
        spots.append(start)
        if play.gain is not None:
            spots.append(start + play.gain)
        if play.kind in (PlayKind.FIELD_GOAL, PlayKind.TRY_KICK):
            found += [draft.posts - start + SNAP_TO_KICK + about for about in (-1, 0, 1)]
    found += [abs(one - other) for one in spots for other in spots]
    if play.kick_from is not None:
        found.append(draft.posts - play.kick_from)
    found += [abs(foul.yards) for foul in play.fouls if foul.yards is not None]
    if draft.return_yards is not None:
        found.append(abs(draft.return_yards))
    return found


def _lines(play: Play, draft: Draft) -> list[float]:
    """Every yard line that the play tells, in the terms of the offense."""
    found = [play.kick_to, play.kick_from, play.spot, draft.start, *(event.spot for event in play.events)]
    for foul in play.fouls:
        found += [foul.spot, foul.enforced_from]
    if play.gain is not None and draft.start is not None:
        found.append(draft.start + play.gain)
    if play.override is not None:
        found.append(play.override.ball_on)
    return [spot for spot in found if spot is not None]


# -- words ----------------------------------------------------------------------------------------------
_TRACES: tuple[tuple[str, Callable[[Play], bool]], ...] = ((r"touchdown|\btds?\b|\bscored\b",
    lambda play: play.score is Score.TOUCHDOWN or play.kind in TRIES),
    (r"fumbl|muff|stripped", lambda play: play.outcome is Outcome.MUFFED or _happened(play, _LOOSE)),
    (r"recover(?!y of)|pounce|falls? on|fell on", lambda play: _happened(play, _TAKEN) or play.kind in KICKS),
    (r"intercept|picked off|pick six", lambda play: play.outcome is Outcome.INTERCEPTED or play.kind in TRIES),
    (r"\bblocked\b", lambda play: play.kind in TRIES or play.outcome is Outcome.BLOCKED or _happened(play, _BLOCKED)
    or _fouled(play, "block")), (r"declin|refus", lambda play: _decided(play, FoulDecision.DECLINED)),
    (r"offset", lambda play: _decided(play, FoulDecision.OFFSET)), (r"\bno good\b|\bmissed\b",
    lambda play: play.outcome in (Outcome.NO_GOOD, Outcome.BLOCKED, Outcome.RETURNED)),
    (r"\bis good\b", lambda play: play.outcome is Outcome.GOOD), (r"\bsack", lambda play: play.kind is PlayKind.SACK
    or play.kind in TRIES), (r"\bincomplete\b", lambda play: play.outcome in (Outcome.INCOMPLETE, Outcome.NO_GOOD)),
    (r"\bcomplete\b", lambda play: play.outcome in (Outcome.COMPLETE, Outcome.GOOD)),
    (r"fair ca|\bfc\b", lambda play: play.outcome is Outcome.FAIR_CATCH or _happened(play, _LOOSE)
    or bool(play.fouls)), (r"\bdowned\b", lambda play: play.outcome in (Outcome.DOWNED, Outcome.TOUCHBACK)
    or play.kind not in KICKS), (r"\bpunt(s|ed|ing)?\b(?! return| team)", lambda play: play.kind in KICKS
    or "fake" in play.manner or bool(play.events)), (r"touchback|\btb\b",
    lambda play: play.outcome is Outcome.TOUCHBACK or play.spot is not None or bool(play.events)),
    (r"\b(penalt|flag)", lambda play: bool(play.fouls)), (r"\bloss of (?!down)|\blost \d|\bminus \d|(?<![\d\w])-\d",
    lambda play: play.gain is None or play.gain < 0), (r"\bno (gain|loss)\b",
    lambda play: play.gain is None or abs(play.gain) < 1), (r"\bgain of\b|\bgains\b", lambda play: play.gain is None
    or play.gain > 0))
"""Words, each with what they must have left in the play."""


def _happened(play: Play, kinds: tuple[EventKind, ...]) -> bool:
    return any(event.kind in kinds for event in play.events)


def _fouled(play: Play, part: str) -> bool:
    return any(part in foul.name for foul in play.fouls)


def _decided(play: Play, decision: FoulDecision) -> bool:
    return any(foul.decision is decision for foul in play.fouls)


def _word_left_over(text: str, play: Play) -> str:
    if (open_word := _OPEN.search(text)) is not None:
        return f"{open_word.group()!r} may change what was said"
    if (play.kind in FREE_KICKS and play.outcome is Outcome.OUT_OF_BOUNDS and play.kick_to is not None
            and re.search(r"out of bounds\W.*\b(ball|starts?|takes?|possession|start)\b.*\d", text)):
        return "where it is put in play may be meant"
    for pattern, holds in _TRACES:
        match = re.search(pattern, text)
        if match is not None and not holds(play):
            return f"{match.group()!r} leaves no trace in the play"
    return ""


# -- who ------------------------------------------------------------------------------------------------
def _side_left_over(line: Line, draft: Draft, play: Play) -> str:
    """A foul or a recovery with a side beside it must be that side's."""
    said = list(_phrases(line.tokens, line.words))
    for place, (text, found) in enumerate(said):
        if not found:
            continue
        if found[0].role is Role.EVENT and found[0].value[0] is EventKind.FUMBLE and place:
            who = _side_of(said[place - 1][1], line)
            if who is not None and _happened(play, _LOOSE) and all(
                    event.by is not who for event in play.events if event.kind in _LOOSE):
                return f"{text!r} by the {who.value} is not certain"
        fouls = [word.value[0] for word in found if word.role is Role.FOUL]
        recovered = found[0].role is Role.RECOVERED and found[0].value is None
        if (not fouls or len(fouls) < len(found)) and not recovered:
            continue
        which = _side_beside(said, place, line)
        if fouls:
            same = [foul for foul in play.fouls if foul.name in fouls]
            if not same and len(text) > 4 and not _told_otherwise(fouls):
                return f"{text!r} leaves no trace in the play"
            if which is not None and same and all(foul.by is not which for foul in same):
                return f"{text!r} by the {which.value} is not certain"
        elif which is not None and _happened(play, _TAKEN) and not any(event.by is which for event in play.events
                if event.kind in _TAKEN):
            return f"{text!r} by the {which.value} is not certain"
    return ""


def _phrases(tokens: list[Token], words: Lexicon) -> Iterator[tuple[str, list[Word]]]:
    """The line as the longest phrases of the table; a word that begins none has no meanings."""
    at = 0
    while at < len(tokens):
        used, found = words.phrase_at(tokens, at) or (1, [])
        yield " ".join(token.text for token in tokens[at : at + used]), found
        at += used


def _told_otherwise(names: list[str]) -> bool:
    """"Personal foul" may go before the name of one; a kickoff out of bounds need not be told as a foul."""
    return any(name in ("personal foul", "kickoff out of bounds") for name in names)


def _side_beside(said: list[tuple[str, list[Word]]], place: int, line: Line) -> Side | None:
    """The side that is named just behind a phrase ("holding by the defense"), or else just before it."""
    at = place + 1
    while at < len(said) and said[at][0] in ("by", "on", "against", "the"):
        at += 1
    after = _side_of(said[at][1], line) if at < len(said) else None
    return after or (_side_of(said[place - 1][1], line) if place else None)


def _side_of(found: list[Word], line: Line) -> Side | None:
    if not found or line.before.offense is None:
        return None
    if found[0].role is Role.TEAM:
        return Side.OFFENSE if found[0].value is line.before.offense else Side.DEFENSE
    if found[0].role is not Role.SIDE:
        return None
    return found[0].value if isinstance(found[0].value, Side) else line.us_or_them(found[0].value)


# -- the way of the ball --------------------------------------------------------------------------------
def _strange_way(play: Play, before: Situation, rulebook: Rulebook) -> str:
    start, length = before.ball_on, rulebook.field_length
    if start is None or before.next is Next.COIN_TOSS:
        return ""
    if play.gain is not None and play.gain < -_FARTHEST_BACK and play.kind in (PlayKind.RUN, PlayKind.PASS):
        return f"a loss of {-play.gain:g} yards"
    if play.kick_to is not None and play.kind in KICKS:
        flown = play.kick_to - start
        if flown > _LONGEST_PUNT or (play.kind not in FREE_KICKS and flown < 0 and play.outcome is not Outcome.BLOCKED):
            return f"a kick of {flown:g} yards"
        if (play.outcome in (Outcome.DOWNED, Outcome.FAIR_CATCH) and play.spot is not None
                and abs(play.spot - play.kick_to) > 10):
            down, dead = spoken_spot(play.kick_to, length), spoken_spot(play.spot, length)
            return f"caught or downed at {down} and dead at {dead}"
    loose: float | None = None
    for event in play.events:
        if (event.kind in _TAKEN and loose is not None and event.spot is not None
                and abs(event.spot - loose) > _FARTHEST_BOUNCE):
            return f"loose at {spoken_spot(loose, length)}, recovered at {spoken_spot(event.spot, length)}"
        loose = event.spot if event.spot is not None else loose
    return ""


def by_the_rules(play: Play, before: Situation, rulebook: Rulebook) -> Play | None:
    """The play without the yards of its fouls, where the rules enforce them otherwise than was said; else None.

    "Fifteen yards" names the penalty also where it is half the distance to the goal, or from another spot.
    """
    if all(foul.yards is None or foul.decision is FoulDecision.DECLINED for foul in play.fouls):
        return None
    usual = replace(play, fouls=tuple(replace(foul, yards=None) if foul.name in rulebook.fouls
        and foul.at is None and foul.enforced_from is None
        and (rulebook.fouls[foul.name].yards or foul.yards in PENALTY_YARDS)
        and rulebook.fouls[foul.name].yards in (foul.yards, 0) else foul for foul in play.fouls))
    if usual == play or fold(rulebook, before, play).after == fold(rulebook, before, usual).after:
        return None
    return usual
