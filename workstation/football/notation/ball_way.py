"""Where the ball went, told twice: a play and a line must name the same places in the same order."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass

from ..field import spoken_spot
from ..plays import EventKind, Outcome, Play, PlayKind, Score, Side
from ..rulebook import Rulebook
from ..situation import Next, Situation
from ..tracker import fold
from .draft import FREE_KICKS, KICKS, TRIES
from .evidence import LineEvidence, Number
from .word import Role

_GAIN = "how far it went"
_NEAR = 0.51  # yards that a number may be off, for halves are told as whole yards
_FARTHEST_BACK = 30.0  # a runner or passer that loses more is a slip of the hand (judgement, no source)
_FARTHEST_BOUNCE = 35.0  # from where the ball came loose to where it was recovered
_FARTHEST_INTERCEPTION = 10.0  # behind the snap, or behind his own 20
_FARTHEST_CATCH = 10.0  # behind the snap
_LONGEST_PUNT = 85.0
LOOSE = (EventKind.FUMBLE, EventKind.MUFF, EventKind.LATERAL, EventKind.BLOCK)
TAKEN = (EventKind.RECOVERY, EventKind.OWN_RECOVERY, EventKind.CATCH, EventKind.INTERCEPTION)


@dataclass(frozen=True, slots=True)
class _Place:
    """A place of the play, and the places that a distance to it may be counted from."""

    name: str
    spot: float
    bases: tuple[float, ...]


def number_left_over(said: LineEvidence, play: Play, before: Situation, rulebook: Rulebook) -> str:
    """What a number tells that the play does not, or what place of the play no number tells; empty if all agree."""
    way = list(_way(play, before, rulebook))
    fits = [[place for place in way if _tells(number, place, rulebook)] for number in said.numbers]
    for number, told in zip(said.numbers, fits, strict=True):
        if (not told and not number.vague and not _beside(number, said, play, before, rulebook)
                and not _caught_on_the_way(number, said, play, before, rulebook)):
            return f"what {number.text} tells is not certain"
    for place in way:
        telling = [number for number, told in zip(said.numbers, fits, strict=True) if place in told]
        if not telling and not _follows(place, said, play, before, rulebook):
            return f"{place.name} was not said"
        if place.name == _GAIN and not _turned_right(place, telling, said, play):
            return "whether yards were gained or lost is not certain"
    for foul in play.fouls:
        if foul.yards is not None and not any(abs(number.value - abs(foul.yards)) < _NEAR and all(any(
                place in others for at, others in enumerate(fits) if at != index) for place in fits[index])
                for index, number in enumerate(said.numbers)):
            return "the yards of the penalty were not said"
    if not _in_order(way, [told for number, told in zip(said.numbers, fits, strict=True) if not number.aside],
            [place for number, told in zip(said.numbers, fits, strict=True) if number.aside for place in told]):
        return "the order of the places is not certain"
    return ""


def _way(play: Play, before: Situation, rulebook: Rulebook) -> Iterator[_Place]:
    """The places of the play in the order in which the ball came there."""
    start = before.ball_on
    came: tuple[float, ...] = () if start is None else (start,)
    if play.gain is not None and start is not None:
        yield _Place(_GAIN, start + play.gain, (start,))
        came = (start + play.gain, start)
    elif play.gain is not None:
        yield _Place(_GAIN, play.gain, (0.0,))
    kick_to = play.kick_to
    events = [event for event in play.events if event.spot is not None]
    if kick_to is not None:
        yield _Place("where it came down", kick_to, came)
        came = (kick_to,)
    for event in events:
        assert event.spot is not None
        if event.spot in came[:1]:
            continue
        yield _Place(f"where the {event.kind.value} was", event.spot, came)
        came = (event.spot, *came)
    if play.spot is not None and play.spot not in came[:1]:
        yield _Place("where it ended", play.spot, came)


def _turned_right(place: _Place, telling: list[Number], said: LineEvidence, play: Play) -> bool:
    """Whether yards lost are told as a loss, by a word, "
    "by the kind of play or by the yard line; and no loss as gain."""
    gain = place.spot - place.bases[0]
    if gain < 0:
        return (play.kind in (PlayKind.SACK, PlayKind.KNEEL) or said.tells_a_loss() or "mid" in said.text
            or any(number.sort in ("line", "own", "opp", "own?", "opp?") for number in telling))
    return gain == 0 or not any(number.lost for number in telling)


def _tells(number: Number, place: _Place, rulebook: Rulebook) -> bool:
    length, value, sort = rulebook.field_length, number.value, number.sort
    distance = any(abs(abs(place.spot - base) - value) < _NEAR for base in place.bases)
    own, opp = abs(place.spot - value) < _NEAR, abs(length - place.spot - value) < _NEAR
    if place.name == _GAIN and sort == "":
        sort = "distance"  # a bare number after a run, catch or sack
    zone = abs(-place.spot - value) < _NEAR or abs(place.spot - length - value) < _NEAR
    return zone or {"distance": distance, "line": own or opp, "own": own, "opp": opp, "own?": own or distance,
        "opp?": opp or distance, "": own or opp or distance,
        "any": own or opp or distance}[sort]


def _beside(number: Number, said: LineEvidence, play: Play, before: Situation, rulebook: Rulebook) -> bool:
    """A number that tells where the play began, how long a kick was, or something of a foul or of what was set."""
    value, start, length = number.value, before.ball_on, rulebook.field_length
    posts = length + (0 if rulebook.single_point else rulebook.end_zone_depth)
    lines = [start, play.kick_from]
    yards: list[float | None] = []
    put_in_play = play.kind in FREE_KICKS and play.outcome in (Outcome.TOUCHBACK, Outcome.OUT_OF_BOUNDS)
    if (play.fouls or put_in_play) and (put := fold(rulebook, before, play).after.ball_on) is not None:
        lines += [put, length - put]
    for foul in play.fouls:
        lines += [foul.spot, foul.enforced_from]
        yards.append(foul.yards)
    if play.kick_from is not None:
        yards.append(posts - play.kick_from)
    if play.kind is PlayKind.TRY_KICK or (play.kind in TRIES and value == 2 and said.says(Role.TWO_POINT)):
        return True
    if number.sort != "distance" and any(_tells(number, _Place("", line, ()), rulebook) for line in lines
            if line is not None):
        return True
    return number.sort in ("", "distance", "own?", "opp?") and any(each is not None and abs(abs(each) - value) < _NEAR
        for each in yards)


def _caught_on_the_way(number: Number, said: LineEvidence, play: Play, before: Situation, rulebook: Rulebook) -> bool:
    """A yard line right behind "caught", which the ball passed on its way to where the pass ended."""
    scored = play.score is Score.TOUCHDOWN
    if (play.outcome is not Outcome.COMPLETE or (play.gain is None and not scored) or before.ball_on is None
            or play.events):
        return False
    if number.sort not in ("line", "own", "opp") or not any(number.at - 4 <= phrase.after <= number.at
            and re.search(r"\bca(ught|tch)", phrase.text) for phrase in said.phrases):
        return False
    end = rulebook.field_length if play.gain is None else before.ball_on + play.gain
    return any(before.ball_on - _FARTHEST_CATCH <= spot <= end and _tells(number, _Place("", spot, ()), rulebook)
        for spot in (number.value, rulebook.field_length - number.value))


def _follows(place: _Place, said: LineEvidence, play: Play, before: Situation, rulebook: Rulebook) -> bool:
    """A place that need not be said as a number: midfield, an end zone, a goal line, no gain, where the ball was."""
    length, start = rulebook.field_length, before.ball_on
    if abs(place.spot - length / 2) < _NEAR and "mid" in said.text:
        return True
    if place.name == _GAIN and not 0 < place.spot < length:
        return play.score is Score.TOUCHDOWN and abs(place.spot - length) < _NEAR
    if not 0 < place.spot < length:
        deep = min(abs(place.spot + rulebook.end_zone_depth / 2),
            abs(place.spot - length - rulebook.end_zone_depth / 2))
        if deep > _NEAR and min(abs(place.spot), abs(place.spot - length)) > _NEAR:
            return False
        return (play.score is not None or play.outcome in (Outcome.TOUCHBACK, Outcome.DOWNED, Outcome.FAIR_CATCH)
            or said.says(Role.END_ZONE) or "goal" in said.text)
    if place.name == _GAIN:
        if abs(place.spot - (start or 0)) < _NEAR:
            return said.says(Role.NO_GAIN) or "los" in said.text or "line" in said.text
        return False
    if place.name in ("where it came down", "where the interception was") and play.spot is not None:
        # "returned 20 yards to the 50"
        return any(abs(abs(place.spot - play.spot) - number.value) < _NEAR for number in said.numbers)
    return bool(place.bases) and abs(place.spot - place.bases[0]) < _NEAR and said.says(Role.NO_GAIN)


def _in_order(way: list[_Place], fits: list[list[_Place]], aside: list[_Place]) -> bool:
    """Whether numbers tell the places one after the other, but for those told aside; each place by one of its numbers,
    none before the last."""
    at = -1
    for place in way:
        later = [index for index, told in enumerate(fits) if place in told and index >= at]
        if not later or place in aside:
            if place not in aside and any(place in told for told in fits):
                return False
            continue
        fresh = [index for index in later if index > at]
        at = (fresh or later)[0]
    return True


def strange_way(play: Play, before: Situation, rulebook: Rulebook) -> str:
    """What of the way of the ball is not how a ball goes; empty if nothing is."""
    start, length = before.ball_on, rulebook.field_length
    if start is None or before.next is Next.COIN_TOSS:
        return ""
    if play.gain is not None and play.gain < -_FARTHEST_BACK and play.kind in (PlayKind.RUN, PlayKind.PASS):
        return f"a loss of {-play.gain:g} yards"
    if (play.kind in FREE_KICKS and play.events and play.events[0].kind is EventKind.FUMBLE
            and play.events[0].by is Side.OFFENSE):
        return "who fumbled a ball that was kicked away"
    if play.kick_to is not None and play.kind in KICKS:
        flown = play.kick_to - start
        if flown > _LONGEST_PUNT or (flown < 0 and play.outcome is not Outcome.BLOCKED):
            return f"a kick of {flown:g} yards"
        if flown > 15 and play.outcome is Outcome.BLOCKED:
            return f"a blocked kick of {flown:g} yards"
        if (play.outcome in (Outcome.DOWNED, Outcome.FAIR_CATCH) and play.spot is not None
                and abs(play.spot - play.kick_to) > 10):
            down, dead = spoken_spot(play.kick_to, length), spoken_spot(play.spot, length)
            return f"caught or downed at {down} and dead at {dead}"
    loose: float | None = None
    for event in play.events:
        if (event.kind in TAKEN and loose is not None and event.spot is not None
                and abs(event.spot - loose) > _FARTHEST_BOUNCE):
            return f"loose at {spoken_spot(loose, length)}, recovered at {spoken_spot(event.spot, length)}"
        loose = event.spot if event.spot is not None else loose
        if (event.kind is EventKind.INTERCEPTION and event.spot is not None
                and event.spot < max(min(start, length / 5), start - _FARTHEST_INTERCEPTION) - _FARTHEST_INTERCEPTION):
            return f"an interception at {spoken_spot(event.spot, length)}"
    if play.outcome is Outcome.TOUCHBACK and play.score is Score.SAFETY:
        return "a touchback that is a safety"
    if play.kind is PlayKind.SPIKE and (play.gain is not None or play.manner):
        return "a spike that was run"
    if (play.events and play.events[-1].kind in (EventKind.FUMBLE, EventKind.MUFF) and play.spot is not None
            and play.score is None):
        return "a loose ball that nobody recovered"
    if play.kind in TRIES and play.gain is not None and start + play.gain > length + rulebook.end_zone_depth:
        return f"a try of {play.gain:g} yards"
    if play.gain and play.outcome in (Outcome.INTERCEPTED, Outcome.INCOMPLETE):
        return f"a gain on a pass {play.outcome.value}"
    if (play.kind in KICKS and play.outcome is None and play.kick_to is not None and play.spot is not None
            and play.spot != play.kick_to and not play.events):
        return "a kick that went on without a return"
    return ""


def strange_order(play: Play) -> str:
    """An event that cannot follow the one before it, or that is not by the side that had the ball; empty if none is."""
    kick = play.kind in KICKS or play.kind is PlayKind.FIELD_GOAL
    loose, holder = kick, Side.OFFENSE
    if kick and (play.outcome is Outcome.RETURNED or play.kick_to is not None):
        holder = Side.DEFENSE
    if play.outcome is Outcome.INTERCEPTED:
        holder = Side.DEFENSE
    for event in play.events:
        if event.kind is EventKind.INTERCEPTION:
            if (event.by is holder and play.outcome is not Outcome.INTERCEPTED) or event.by is Side.OFFENSE:
                return "an interception by the side that had the ball"
            loose, holder = False, event.by or Side.DEFENSE
        elif event.kind in TAKEN:
            if not loose:
                return f"a {event.kind.value} where no ball was loose"
            if event.kind is EventKind.OWN_RECOVERY and event.by not in (None, holder):
                return "an own recovery by the other side"
            loose, holder = False, event.by or holder
        elif event.kind is EventKind.FUMBLE:
            if event.by not in (None, holder) and (not kick or play.outcome is Outcome.RETURNED):
                return f"a fumble by the {event.by.value if event.by else ''}, who did not have the ball"
            loose, holder = True, event.by or holder
        elif event.kind in LOOSE:
            if event.kind is EventKind.LATERAL and event.by not in (None, holder) and not kick:
                return "a lateral by who did not have the ball"
            if event.kind is EventKind.MUFF and not kick and event.by not in (None, holder):
                return "a muff by the side that did not have the ball"
            loose, holder = True, (event.by or holder) if event.kind is not EventKind.BLOCK else holder
        elif event.kind is EventKind.OUT_OF_BOUNDS and not loose:
            return "out of bounds where no ball was loose"
    if play.possession is not None and play.events and not loose and play.possession is not holder and (
            play.score is not Score.SAFETY):
        return f"the {holder.value} had the ball last"
    return ""
