"""Reads the entry line: text and the situation before it -> the play, or what is wrong and where."""

from __future__ import annotations

import copy
import re
from collections.abc import Sequence
from dataclasses import dataclass, replace

from ..field import Team, parse_spot, spoken_spot, spoken_yards
from ..plays import BallEvent, EventKind, Foul, Outcome, Play, PlayKind, SituationOverride, Side
from ..rulebook import Rulebook
from ..situation import Situation
from .words import KNOWN_KIND, Vocabulary, Word, detail_words, first_words, set_words

KICKS = (PlayKind.PUNT, PlayKind.KICKOFF, PlayKind.SAFETY_FREE_KICK, PlayKind.FIELD_GOAL)


@dataclass(frozen=True, slots=True)
class Chip:
    """What one piece of the line was understood as. ``start`` and ``end`` are its place in the text."""

    text: str
    start: int
    end: int
    state: str = "plain"        # kind, plain


@dataclass(frozen=True, slots=True)
class Problem:
    """What is wrong, and with which part of the text."""

    text: str
    start: int
    end: int


@dataclass(frozen=True, slots=True)
class Option:
    """A word that can come next; ``typed`` is its shortest beginning."""

    word: str
    typed: str
    group: str


@dataclass(frozen=True, slots=True)
class Entry:
    """What a line says so far. ``known`` is what need not be said; ``wants`` what a number would mean next."""

    play: Play | None
    chips: tuple[Chip, ...]
    problem: Problem | None
    options: tuple[Option, ...]
    known: str = ""
    wants: str = ""


class _Misread(Exception):
    def __init__(self, text: str, start: int, end: int):
        super().__init__(text)
        self.problem = Problem(text, start, end)


@dataclass(frozen=True, slots=True)
class _Token:
    kind: str       # letters, number, clock, unknown, comment
    text: str
    start: int
    end: int


_TOKENS = re.compile(
    r'(?P<comment>"(?:[^"\\]|\\.)*"?)|(?P<clock>\d{1,2}:\d{2})|(?P<number>-?\d+(?:\.\d+)?|-?\.\d+)|(?P<letters>[a-zA-Z]+)'
    r'|(?P<unknown>\?)|(?P<space>[\s,]+)|(?P<other>.)')
_QUOTED = re.compile(r'"((?:[^"\\]|\\.)*)')
_SIDE = re.compile(r"(?P<side>o|ow|own|op|opp|h|ho|hom|home|v|vi|vis|visi|visit|visito|visitor|visitors)?"
                   r"(?P<zone>e|ez|en|end|endz|endzo|endzon|endzone)?")
_WANTS = {
    "gain": "yards gained", "loss": "yards lost", "kick_to": "yard line where the kick came down",
    "return": "yard line where the return ended", "kick_from": "yard line of the kick", "spot": "yard line",
    "event": "yard line", "caught": "yard line where the return ended", "foul yards": "yards of the penalty",
    "foul": "yards of the penalty", "foul spot": "yard line of the foul", "enforced from": "yard line it is enforced from",
    "said down": "down", "said yards_to_gain": "yards to gain", "said ball_on": "yard line", "said period": "period",
    "said score_home": "points", "said score_visitors": "points", "said timeouts_home": "timeouts left",
    "said timeouts_visitors": "timeouts left",
}
_SPOT_WANTED = {"gain", "loss", "kick_to", "return", "kick_from", "spot", "event", "caught", "foul spot", "enforced from",
                "said ball_on"}


class Draft:
    """A play in the making; copied before every guess, so that a wrong guess leaves no trace."""

    def __init__(self, before: Situation, rulebook: Rulebook):
        self.before, self.rulebook = before, rulebook
        self.kind: PlayKind | None = None
        self.fields: dict = {}
        self.events: list[BallEvent] = []
        self.fouls: list[dict] = []
        self.said: dict | None = None
        self.focus = ""
        self.in_foul = False
        self.chips: list[Chip] = []
        known = KNOWN_KIND.get(before.next)
        if known in KICKS:
            self.focus = "kick_to"

    def copy(self) -> Draft:
        other = copy.copy(self)
        other.fields, other.events, other.chips = dict(self.fields), list(self.events), list(self.chips)
        other.fouls = [dict(foul) for foul in self.fouls]
        other.said = None if self.said is None else dict(self.said)
        return other

    # -- words write here ---------------------------------------------------------------------
    def set_kind(self, kind: PlayKind, outcome: Outcome | None = None) -> None:
        self.kind = kind
        if outcome is not None:
            self.fields["outcome"] = outcome
        if outcome is Outcome.INTERCEPTED:
            self.focus = "caught"
        elif outcome is Outcome.INCOMPLETE or kind in (PlayKind.SPIKE,):
            self.focus = ""
        elif kind in (PlayKind.SACK, PlayKind.KNEEL):
            self.focus = "loss"
        elif kind in (PlayKind.RUN, PlayKind.PASS, PlayKind.TRY_RUN, PlayKind.TRY_PASS, PlayKind.REPLAY_REVERSAL):
            self.focus = "gain"
        elif kind is PlayKind.FIELD_GOAL:
            self.focus = "kick_from"
        elif kind in KICKS:
            self.focus = "kick_to"
        else:
            self.focus = "spot" if kind in (PlayKind.MEASUREMENT, PlayKind.INADVERTENT_WHISTLE) else ""

    def settle_kind(self) -> None:
        """A detail came first: the kind is what the situation leaves."""
        if self.kind is None:
            known = KNOWN_KIND.get(self.before.next)
            if known is not None:
                self.set_kind(known)

    def set(self, name: str, value) -> None:
        self.settle_kind()
        if value is None:
            self.fields.pop(name, None)
        elif name in self.fields and self.fields[name] != value and name != "outcome":
            raise ValueError(f"{self.fields[name]} was said already")
        else:
            self.fields[name] = value
        if name == "outcome" and value is Outcome.INTERCEPTED:
            self.focus = "caught"

    def add_event(self, event: BallEvent) -> None:
        self.settle_kind()
        if event.by is None:
            event = replace(event, by=usual_by(event.kind, self.kind, self.fields.get("outcome"), self.events))
        self.events.append(event)
        self.focus = "event"

    def set_event_by(self, by: Side | None) -> None:
        if not self.events:
            raise ValueError("nothing happened to the ball yet that someone did")
        self.events[-1] = replace(self.events[-1], by=by)

    def add_foul(self, name: str, by: Side | None) -> None:
        if self.kind is None:
            self.kind = PlayKind.NO_PLAY if KNOWN_KIND.get(self.before.next) is None or self._dead_ball(name, by) \
                else KNOWN_KIND[self.before.next]
        self.fouls.append({"name": name, "by": by})
        self.in_foul, self.focus = True, "foul"

    def _dead_ball(self, name: str, by: Side | None) -> bool:
        return self.rulebook.foul(name, by).kills_the_play

    def set_foul(self, name: str, value) -> None:
        self.fouls[-1][name] = value
        self.focus = "foul"

    def begin_said(self) -> None:
        self.said, self.in_foul, self.focus = {}, False, ""

    def set_said(self, name: str, value) -> None:
        self.said[name] = value
        self.focus = ""

    # -- numbers and places -------------------------------------------------------------------
    def number(self, value: float, text: str) -> str:
        """Take a bare number; returns what it was understood as. Raises ValueError if it means nothing here."""
        self.settle_kind()
        focus = self.focus
        if focus in ("gain", "loss"):
            gain = value if focus == "gain" else 0 - value
            self.fields["gain"] = gain
            self.focus = ""
            return f"gain {spoken_yards(gain)}" if gain > 0 else f"loss {spoken_yards(-gain)}" if gain else "no gain"
        if focus in ("foul", "foul yards"):
            self.fouls[-1]["yards"] = value
            self.focus = "foul"
            return f"{spoken_yards(value)} yards"
        if focus.startswith("said ") and focus != "said ball_on":
            name = focus[5:]
            self.set_said(name, value if name == "yards_to_gain" else _whole(value, text))
            return f"{_WANTS[focus]} {spoken_yards(value)}"
        if focus in _SPOT_WANTED:
            return self.spot(self._bare_spot(value, text))
        raise ValueError(f"the number {text} has nothing to say here")

    def _bare_spot(self, value: float, text: str) -> float:
        """A yard line without its side: on a kick the receivers' side, else only the middle has none."""
        length = self.rulebook.field_length
        if 0 <= value <= length / 2:
            if self.kind in KICKS and not self.focus.startswith("said"):
                return length - value
            if value == length / 2:
                return value
            raise ValueError(f"which {text}? Say own {text}, opp {text}, home {text} or visitors {text}")
        raise ValueError(f"there is no {text}-yard line; yard lines run from 0 to {spoken_yards(length / 2)}")

    def side_spot(self, side: str, end_zone: bool, value: float, text: str) -> float:
        """A yard line with its side, in the terms of the offense."""
        self.settle_kind()
        length = self.rulebook.field_length
        own = True
        if side[:1] in ("h", "v"):
            own = (Team.HOME if side.startswith("h") else Team.VISITORS) is self.before.offense
        elif side:
            own = not side.startswith("op")
        else:
            own = self.kind not in KICKS
        if not 0 <= value <= (self.rulebook.end_zone_depth if end_zone else length / 2):
            raise ValueError(f"there is no {text}-yard line {'in the end zone' if end_zone else 'on one side'}")
        return parse_spot(f"{'own' if own else 'opp'} {'end zone ' if end_zone else ''}{value:g}", length)

    def spot(self, spot: float) -> str:
        """Take a yard line; returns what it was understood as."""
        self.settle_kind()
        focus, spoken = self.focus, self.spoken(spot)
        if focus in ("gain", "loss"):
            if self.before.ball_on is None:
                raise ValueError("where the ball was is not known; say the yards gained")
            self.fields["gain"] = spot - self.before.ball_on
            self.focus = ""
            return f"to {spoken}, {self._gained()}"
        if focus == "kick_to":
            self.fields["kick_to"] = spot
            self.focus = "return" if self.kind is not PlayKind.FIELD_GOAL else ""
            return f"kicked to {spoken}"
        if focus == "return":
            self.fields["spot"] = spot
            self.fields.setdefault("outcome", Outcome.RETURNED)
            self.focus = ""
            return f"returned to {spoken}"
        if focus == "caught":
            self._caught(spot)
            return f"at {spoken}"
        if focus == "kick_from":
            self.fields["kick_from"] = spot
            self.focus = ""
            return f"kicked from {spoken}"
        if focus == "event":
            self.events[-1] = replace(self.events[-1], spot=spot)
            self.focus = "spot"
            return f"at {spoken}"
        if focus == "foul spot":
            self.set_foul("spot", spot)
            return f"at {spoken}"
        if focus == "enforced from":
            self.set_foul("enforced_from", spot)
            return f"from {spoken}"
        if focus == "said ball_on":
            self.set_said("ball_on", spot)
            return f"on {spoken}"
        self.fields["spot"] = spot
        self.focus = ""
        return f"dead at {spoken}"

    def _caught(self, spot: float) -> None:
        """After an interception: one yard line is where it ended, two are where it was caught and where it ended."""
        if "spot" in self.fields:
            self.events.append(BallEvent(EventKind.INTERCEPTION, self.fields["spot"], Side.DEFENSE))
            self.focus = ""
        self.fields["spot"] = spot

    def _gained(self) -> str:
        gain = self.fields["gain"]
        return f"gain {spoken_yards(gain)}" if gain > 0 else f"loss {spoken_yards(-gain)}" if gain else "no gain"

    def spoken(self, spot: float) -> str:
        return spoken_spot(spot, self.rulebook.field_length)

    # -- the end ------------------------------------------------------------------------------
    def words(self) -> Vocabulary:
        """The words that can come next."""
        if self.said is not None:
            return set_words
        if self.kind is None:
            return first_words(self.before.next, self.rulebook)
        caught = self.fields.get("kick_to", self.rulebook.field_length) < self.rulebook.field_length
        return detail_words(self.kind, caught, bool(self.events), self.in_foul, self.rulebook)

    def finish(self, end: int) -> Play | None:
        """The play, or None if nothing was said; raises _Misread if something is missing."""
        if self.said is not None and not self.said:
            raise _Misread("set what? Say down 2, to go 7, on own 36, home ball ...", end, end)
        if self.kind is None:
            if not (self.said or "clock" in self.fields or "comment" in self.fields):
                return None
            self.settle_kind()
            if self.kind is None:
                raise _Misread("what kind of play? Say run, pass, punt, field goal ...", end, end)
        fouls = []
        for foul in self.fouls:
            if foul["by"] is None:
                raise _Misread(f"who fouled? Say offense or defense after {foul['name']}", end, end)
            fouls.append(Foul(**foul))
        said = SituationOverride(**self.said) if self.said is not None else None
        return Play(self.kind, events=tuple(self.events), fouls=tuple(fouls), said=said, **self.fields)


def usual_by(event: EventKind, kind: PlayKind | None, outcome: Outcome | None, earlier: Sequence[BallEvent]) -> Side | None:
    """Who does this to the ball if nobody says: whoever has it, and for a catch or a block the defense."""
    if event in (EventKind.RECOVERY, EventKind.OUT_OF_BOUNDS):
        return None
    if event in (EventKind.INTERCEPTION, EventKind.BLOCK, EventKind.CATCH):
        return Side.DEFENSE
    taken = (EventKind.RECOVERY, EventKind.OWN_RECOVERY, EventKind.INTERCEPTION, EventKind.CATCH)
    for before in reversed(earlier):
        if before.kind in taken and before.by is not None:
            return before.by
    return Side.DEFENSE if outcome is Outcome.INTERCEPTED or kind in KICKS else Side.OFFENSE


def _whole(value: float, text: str) -> int:
    if value != int(value) or value < 0:
        raise ValueError(f"{text} must be a whole number")
    return int(value)


def read(text: str, before: Situation, rulebook: Rulebook) -> Entry:
    """Understand *text* as the play that follows *before*. Never raises: what is wrong is in ``problem``."""
    draft, play, problem = _understand(text, before, rulebook)
    known = KNOWN_KIND.get(before.next)
    return Entry(play, tuple(draft.chips), problem, _options(draft),
                 known.value if known is not None and draft.kind is None else "", _WANTS.get(draft.focus, ""))


def understood(text: str, before: Situation, rulebook: Rulebook) -> Play | None:
    """The play that *text* says, or None; all that the writer wants to know."""
    return _understand(text, before, rulebook)[1]


def _understand(text: str, before: Situation, rulebook: Rulebook) -> tuple[Draft, Play | None, Problem | None]:
    draft, play, problem = Draft(before, rulebook), None, None
    try:
        draft = _read(_split(text), draft)
        play = draft.finish(len(text))
    except _Misread as misread:
        problem = misread.problem
        draft = getattr(misread, "draft", draft)
    return draft, play, problem

def beginnings(done: str, piece: str, before: Situation, rulebook: Rulebook) -> tuple[str, ...]:
    """The shortest ways to type the word *piece* after the line *done*, on its own and run together with it."""
    joined = piece.replace(" ", "").replace("-", "")
    try:
        words = _read(_split(done), Draft(before, rulebook)).words()
    except _Misread:
        return ()
    word = words.resolve(joined)
    if word is None:        # the side of a yard line
        return tuple(joined[:length] for length in range(1, len(joined)))
    ways = [joined[:length] for length in range(1, len(joined))] + [word.initials]
    alone = next((way for way in sorted(ways, key=len) if words.resolve(way) is word), joined)
    glued = next((way for way in sorted(ways, key=len) if words.glued(way) is word), joined)
    return (alone, glued, joined[:1], joined[:2])


def _split(text: str) -> list[_Token]:
    tokens = []
    for match in _TOKENS.finditer(text):
        kind = match.lastgroup
        if kind == "other":
            raise _Misread(f"{match.group()!r} means nothing here", match.start(), match.end())
        if kind != "space":
            tokens.append(_Token(kind, match.group().lower() if kind == "letters" else match.group(),
                                 match.start(), match.end()))
    return tokens


def _read(tokens: list[_Token], draft: Draft) -> Draft:
    place = 0
    while place < len(tokens):
        token = tokens[place]
        try:
            if token.kind == "letters":
                draft, place = _letters(tokens, place, draft)
                continue
            draft = draft.copy()
            chip = _plain_token(token, draft)
            draft.chips.append(Chip(chip, token.start, token.end))
        except ValueError as error:
            misread = _Misread(str(error), token.start, token.end)
            misread.draft = draft
            raise misread from None
        except _Misread as misread:
            misread.draft = draft
            raise
        place += 1
    return draft


def _plain_token(token: _Token, draft: Draft) -> str:
    if token.kind == "number":
        return draft.number(float(token.text), token.text)
    if token.kind == "clock":
        minutes, seconds = token.text.split(":")
        if int(seconds) > 59:
            raise ValueError(f"{token.text} is no time on a clock")
        draft.fields["clock"] = int(minutes) * 60 + int(seconds)
        return f"clock {token.text}"
    if token.kind == "comment":
        draft.fields["comment"] = re.sub(r"\\(.)", r"\1", _QUOTED.match(token.text)[1])
        return token.text
    if not draft.focus:
        raise ValueError("there is nothing here to leave open")
    draft.focus = {"kick_to": "return"}.get(draft.focus, "")
    return "not known"


def _letters(tokens: list[_Token], place: int, draft: Draft) -> tuple[Draft, int]:
    """Read the letters at *place*: a yard line's side, words of several parts, or words run together."""
    side = _side_spot(tokens, place, 0, draft)
    if side is not None:
        return side
    several = _several_words(tokens, place, draft.words())
    if several is not None:
        word, used = several
        return _take(word, draft, tokens[place].start, tokens[place + used - 1].end), place + used
    result = _run_together(tokens, place, 0, draft)
    if result is None:
        token = tokens[place]
        raise _Misread(f"{token.text!r} is not understood here", token.start, token.end)
    return result


def _several_words(tokens: list[_Token], place: int, words: Vocabulary) -> tuple[Word, int] | None:
    """A name of several words typed apart: its words in full, or two letters of each for a foul."""
    if place + 1 == len(tokens) or tokens[place + 1].kind != "letters":
        return None
    best: tuple[Word, int] | None = None
    for word in words.of_several_parts.get(tokens[place].text[0], ()):
        parts = word.parts
        run = tokens[place:place + len(parts)]
        if len(run) < len(parts) or (best is not None and len(parts) <= best[1]):
            continue
        if all(token.kind == "letters" and (token.text == part or word.foul and len(token.text) > 1
                                            and part.startswith(token.text))
               for token, part in zip(run, parts, strict=True)):
            best = word, len(parts)
    return best


def _side_spot(tokens: list[_Token], place: int, offset: int, draft: Draft) -> tuple[Draft, int] | None:
    """``own 36``, ``h25``, ``opp end zone 4``: a side, perhaps "end zone", and a number, where a place is wanted."""
    if draft.focus not in _SPOT_WANTED:
        return None
    letters, following, start = "", place, tokens[place].start + offset
    while following < len(tokens) and tokens[following].kind == "letters":
        letters += tokens[following].text[offset if following == place else 0:]
        following += 1
    if following == len(tokens) or tokens[following].kind != "number" or not letters:
        return None
    match = _SIDE.fullmatch(letters)
    if match is None or (match["side"] or "")[:1] in ("h", "v") and draft.before.offense is None:
        return None
    number = tokens[following]
    draft = draft.copy()
    try:
        spot = draft.side_spot(match["side"] or "", match["zone"] is not None, float(number.text), number.text)
        chip = draft.spot(spot)
    except ValueError as error:
        raise _Misread(str(error), start, number.end) from None
    draft.chips.append(Chip(chip, start, number.end))
    return draft, following + 1


def _run_together(tokens: list[_Token], place: int, offset: int, draft: Draft) -> tuple[Draft, int] | None:
    """Words run together in one token, longest beginning first."""
    token = tokens[place]
    letters = token.text[offset:]
    if not letters:
        return draft, place + 1
    if offset:
        side = _side_spot(tokens, place, offset, draft)
        if side is not None:
            return side
    words = draft.words()
    for length in range(len(letters), 0, -1):
        alone = not offset and length == len(letters)
        word = words.resolve(letters[:length]) if alone else words.glued(letters[:length])
        if word is None:
            continue
        try:
            taken = _take(word, draft, token.start + offset, token.start + offset + length)
        except _Misread:
            continue
        result = _run_together(tokens, place, offset + length, taken)
        if result is not None:
            return result
    return None


def _take(word: Word, draft: Draft, start: int, end: int) -> Draft:
    draft = draft.copy()
    try:
        word.take(draft)
    except ValueError as error:
        raise _Misread(str(error), start, end) from None
    if not word.silent:
        draft.chips.append(Chip(word.text, start, end, "kind" if word.group in ("kind", "between", "more") else "plain"))
    return draft


def _options(draft: Draft) -> tuple[Option, ...]:
    return tuple(Option(*usual) for usual in draft.words().usual)
