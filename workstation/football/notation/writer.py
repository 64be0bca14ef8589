"""Writes a play as the entry line that would be read as that very play."""

from __future__ import annotations

from dataclasses import fields, replace

from ..field import Team, spoken_spot, spoken_yards
from ..plays import BallEvent, EventKind, Foul, Outcome, Play, PlayKind, SituationOverride, Side
from ..rulebook import Rulebook
from ..situation import Situation
from .reader import KICKS, beginnings, understood, usual_by
from .words import KNOWN_KIND


class CannotWrite(ValueError):
    """A play that no line says; the text names it."""


def write(play: Play, before: Situation, rulebook: Rulebook) -> str:
    """The line for *play* in full words. Raises CannotWrite if no line says it."""
    for pieces in _ways(play, before, rulebook):
        text = " ".join(pieces)
        if understood(text, before, rulebook) == play:
            return text
    raise CannotWrite(f"no line says {play}")


def shortest(play: Play, before: Situation, rulebook: Rulebook) -> str:
    """The line for *play* in as few keys as are understood. Raises CannotWrite if no line says it."""
    best: str | None = None
    for pieces in _ways(play, before, rulebook):
        if understood(" ".join(pieces), before, rulebook) != play:
            continue
        text = _shorten(pieces, play, before, rulebook)
        if best is None or len(text) < len(best):
            best = text
    if best is None:
        raise CannotWrite(f"no line says {play}")
    return best


def _shorten(pieces: list[str], play: Play, before: Situation, rulebook: Rulebook) -> str:
    """Cut each word from the left to the right as short as the whole still reads the same."""
    def same(text: str) -> bool:
        return understood(text, before, rulebook) == play

    done, rest = "", [piece for piece in pieces if piece]
    for place, piece in enumerate(rest):
        tail = "".join(" " + other for other in rest[place + 1:])
        candidates = [(done + glue + short).strip() for glue in ("", " ")
                      for short in (piece, *(beginnings(done, piece, before, rulebook) if piece[0].isalpha() else ()))]
        for candidate in sorted(dict.fromkeys(candidates), key=len):
            if same(candidate + tail):
                done = candidate
                break
        else:
            done = (done + " " + piece).strip()
    return done


def _ways(play: Play, before: Situation, rulebook: Rulebook):
    """The pieces of lines that may say *play*, the most natural first."""
    starts: list[tuple[list[str], Play]] = []
    kind, outcome = play.kind, play.outcome
    known = KNOWN_KIND.get(before.next)
    plain = replace(play, outcome=None)
    if kind is PlayKind.PASS:
        if outcome in (Outcome.INCOMPLETE, Outcome.INTERCEPTED):
            starts.append(([outcome.value], plain))
        for word in ("pass", "scrimmage pass"):
            if outcome is Outcome.COMPLETE:
                starts.append(([word], plain))
            else:
                starts.append(([word, "outcome unknown" if outcome is None else outcome.value], plain))
    elif kind in (PlayKind.TRY_KICK, PlayKind.TRY_RUN, PlayKind.TRY_PASS):
        if kind is known:
            starts.append(([], play))
        if kind is PlayKind.TRY_KICK and outcome is not None:
            starts.append(([outcome.value], plain))
        starts.append(([kind.value.removeprefix("try ")], play))
        starts.append(([kind.value], play))
    elif kind is PlayKind.RUN:
        starts += [(["run"], play), (["scrimmage run"], play)]
    elif kind is PlayKind.NO_PLAY and play.fouls:
        starts += [([], play), ([kind.value], play)]
    else:
        if kind is known:
            starts.append(([], play))
        starts.append(([kind.value], play))
    for start, rest in starts:
        for details in _details(rest, kind, outcome, before, rulebook):
            yield [*start, *details]


def _details(play: Play, kind: PlayKind, outcome: Outcome | None, before: Situation, rulebook: Rulebook):
    tail = _tail(play, before, rulebook)

    def spots(spot: float) -> list[list[str]]:
        length = rulebook.field_length
        ways = []
        if kind in KICKS and length / 2 <= spot <= length:
            ways.append([spoken_yards(length - spot)])
        elif kind in KICKS and length < spot <= length + rulebook.end_zone_depth:
            ways.append(["end zone", spoken_yards(spot - length)])
        ways.append(_spot(spot, length))
        if before.offense is not None and 0 <= spot <= length and spot != length / 2:
            side = before.offense if spot < length / 2 else before.offense.opponents
            ways.append([str(side), spoken_yards(min(spot, length - spot))])
        return ways

    for choice in range(3):
        def say(spot: float, choice: int = choice) -> list[str]:
            ways = spots(spot)
            return ways[min(choice, len(ways) - 1)]
        yield [*_middle(play, kind, outcome, say, rulebook, brief=True), *tail]
    yield [*_middle(play, kind, outcome, lambda spot: _spot(spot, rulebook.field_length), rulebook, brief=False),
           *tail]


def _middle(play: Play, kind: PlayKind, outcome: Outcome | None, say, rulebook: Rulebook, brief: bool) -> list[str]:
    pieces: list[str] = []
    events, spot, said_outcome = list(play.events), play.spot, play.outcome
    if play.team is not None:
        pieces.append(str(play.team))
    if play.stands_as is not None:
        pieces.append(f"as {play.stands_as.value}")
    if play.gain is not None:
        if kind in (PlayKind.SACK, PlayKind.KNEEL) and brief:
            pieces.append(_number(0 - play.gain))
        elif kind in (PlayKind.RUN, PlayKind.PASS, PlayKind.TRY_RUN, PlayKind.TRY_PASS) and brief:
            pieces.append(_number(play.gain))
        else:
            pieces += ["gain", _number(play.gain)]
    if play.kick_from is not None:
        pieces += [*([] if brief and kind is PlayKind.FIELD_GOAL else ["kicked from"]), *say(play.kick_from)]
    returned = False
    if play.kick_to is not None:
        free = kind in KICKS and kind is not PlayKind.FIELD_GOAL
        pieces += [*([] if brief and free else ["kicked to"]), *say(play.kick_to)]
        if brief and free and spot is not None and said_outcome is not None:
            pieces += say(spot)
            spot, returned = None, said_outcome is Outcome.RETURNED
    if outcome is Outcome.INTERCEPTED and brief and spot is not None:
        caught = BallEvent(EventKind.INTERCEPTION, events[0].spot if events else None, Side.DEFENSE)
        if events and events[0] == caught and caught.spot is not None:
            pieces += say(caught.spot)
            events = events[1:]
        if not events:
            pieces += say(spot)
            spot = None
    if said_outcome is not None and not returned:
        pieces.append(said_outcome.value)
    first = len(play.events) - len(events)
    for place, event in enumerate(events):
        earlier = play.events[:first + place]
        pieces += _event(event, usual_by(event.kind, kind, outcome, earlier), say)
    if spot is not None:
        pieces += ["to", *say(spot)]
    if play.possession is not None:
        pieces.append(f"{play.possession.value} ball")
    if play.score is not None:
        pieces.append("goal scored" if play.score.value == "field goal" else
                      {"none": "no score", "single": "single point"}.get(play.score.value, play.score.value))
    if play.choice is not None:
        pieces.append(play.choice)
    return pieces


def _event(event: BallEvent, usual: Side | None, say) -> list[str]:
    if event.kind is EventKind.RECOVERY and event.by is not None:
        pieces = ["lost" if event.by is Side.DEFENSE else "kept"]
    else:
        pieces = ["ball out of bounds" if event.kind is EventKind.OUT_OF_BOUNDS else event.kind.value]
        if event.by is not usual:
            pieces.append(f"by {event.by.value}" if event.by else "by nobody")
    return pieces + (say(event.spot) if event.spot is not None else [])


def _tail(play: Play, before: Situation, rulebook: Rulebook) -> list[str]:
    pieces: list[str] = []
    for foul in play.fouls:
        pieces += _foul(foul, rulebook)
    if play.clock is not None:
        pieces.append(f"{play.clock // 60}:{play.clock % 60:02d}")
    if play.comment:
        escaped = play.comment.replace("\\", "\\\\").replace('"', '\\"')
        pieces.append(f'"{escaped}"')
    if play.said is not None:
        pieces += _said(play.said, rulebook)
    return pieces


def _foul(foul: Foul, rulebook: Rulebook) -> list[str]:
    pieces = [foul.name.replace("-", " ")]
    if foul.name not in rulebook.fouls or rulebook.fouls[foul.name].by is not foul.by:
        pieces.append(foul.by.value)
    if foul.spot is not None:
        pieces += ["at", *_spot(foul.spot, rulebook.field_length)]
    if foul.when is not None:
        pieces.append(foul.when.value)
    if foul.at is not None:
        pieces.append(foul.at.value.replace("-", " "))
    if foul.yards is not None:
        pieces.append(_number(foul.yards))
    if foul.enforced_from is not None:
        pieces += ["from", *_spot(foul.enforced_from, rulebook.field_length)]
    if foul.automatic_first_down is not None:
        pieces.append("first down" if foul.automatic_first_down else "no first down")
    if foul.loss_of_down is not None:
        pieces.append("loss of down" if foul.loss_of_down else "no loss of down")
    if foul.decision is not None:
        pieces.append(foul.decision.value)
    return pieces


def _said(said: SituationOverride, rulebook: Rulebook) -> list[str]:
    words = {"down": "down", "yards_to_gain": "to go", "period": "period", "score_home": "home score",
             "score_visitors": "visitors score", "timeouts_home": "home timeouts",
             "timeouts_visitors": "visitors timeouts"}
    pieces = ["set"]
    for entry in fields(said):
        value = getattr(said, entry.name)
        if value is None:
            continue
        if entry.name in words:
            pieces += [words[entry.name], _number(value)]
        elif entry.name == "ball_on":
            pieces += ["on", *_spot(value, rulebook.field_length)]
        elif entry.name == "offense":
            pieces.append(f"{value} ball")
        elif entry.name == "second_half_kicker":
            pieces.append("home kicks second half" if value is Team.HOME else "visitors kick second half")
        elif entry.name == "home_faces_right":
            pieces.append("home faces right" if value else "home faces left")
        elif entry.name == "next":
            pieces.append(f"next {value.value}")
    return pieces


def _spot(spot: float, length: float) -> list[str]:
    """A yard line as its side and its number."""
    *side, number = spoken_spot(spot, length).split()
    return [*([" ".join(side)] if side else []), number]


def _number(value: float) -> str:
    return str(int(value)) if value == int(value) else repr(float(value))
