"""Finds every full reading of a line: words first, longest phrase first, then short forms; by the grammar's rules."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, replace

from ..field import Team, parse_spot
from ..plays import EventKind, Outcome, PlayKind, Side
from ..rulebook import Rulebook
from ..situation import Next, Situation
from .amounts import amount_at
from .custom import Ahead, Custom
from .downs import call_at, short_at
from .draft import DUE_KIND, GAINING, KICKS, RUNNERS, Chip, Draft, Refused
from .everyday import begun_at
from .foul_rules import side
from .grammar import RULES
from .kinds import set_kind
from .line import RULE_LETTERS, WHERE, Line
from .measures import number, spot_item
from .number_words import NUMBERS, number_at
from .tokens import Token, TokenKind, comment_text
from .word import START, Role, Word
from .word_choice import fitting, ordered, stands

_MOST = 24  # drafts kept at one place of the line
_MOST_PASSED = 6  # times a line is read again without an everyday phrase
_OWN = {"own": Side.OFFENSE, "o": Side.OFFENSE, "ow": Side.OFFENSE, "offense": Side.OFFENSE, "kicker": Side.OFFENSE,
    "kickers": Side.OFFENSE, "ka": Side.OFFENSE, "our": Side.OFFENSE}
_OPP = {"opp": Side.DEFENSE, "op": Side.DEFENSE, "opponent": Side.DEFENSE, "opponents": Side.DEFENSE,
    "opposing": Side.DEFENSE, "opposition": Side.DEFENSE, "defense": Side.DEFENSE, "receivers": Side.DEFENSE,
    "receiver": Side.DEFENSE, "their": Side.DEFENSE, "opps": Side.DEFENSE, "enemy": Side.DEFENSE}
_BEHIND = tuple(tuple(phrase.split()) for phrase in ("behind the line of scrimmage", "behind the line",
    "behind the los", "deep in the backfield", "in the backfield", "back of the line"))
_LEFT = tuple(tuple(phrase.split()) for phrase in ("left on the clock", "on the clock", "left", "remaining", "to go"))
_SECONDS = tuple(("seconds", *left) for left in (*_LEFT, ()))
_IN_THE_END_ZONE = tuple(tuple(phrase.split()) for phrase in ("in the end zone", "into the end zone", "in end zone",
    "in the endzone"))
_TEAMS = {"home": Team.HOME, "h": Team.HOME, "visitors": Team.VISITORS, "visitor": Team.VISITORS,
    "visiting": Team.VISITORS, "v": Team.VISITORS, "away": Team.VISITORS, "guests": Team.VISITORS}
_LONG_SIDES = ("offense", "kicker", "kickers", "receivers", "receiver", "defense")
_ZONES = {("end", "zone"), ("endzone",), ("ez",), ("e",)}
_MEANINGFUL = tuple(role for role in Role if role not in (Role.FILLER, Role.EXACT, Role.SAID, Role.SAID_SLOT,
    Role.STANDS_AS, Role.PREPOSITION, Role.SIDE, Role.TEAM, Role.YARDS, Role.GAIN))
_SHORT_SIDES = {"d": Side.DEFENSE, "o": Side.OFFENSE, "off": Side.OFFENSE}
_ACTS = (Role.KIND, Role.KICK, Role.RETURN, Role.FLAG)
_DOES = (Role.FOUL, Role.RECOVERED, Role.KIND, Role.EVENT, Role.SCORE, Role.RETURN, Role.FLAG)
_SPOT_SLOTS = ("gain", "kick_to", "return", "length", "caught", "event", "spot", "foul spot", "enforced from",
    "said ball_on", "put in play")


@dataclass(frozen=True, slots=True)
class Failure:
    """Where no reading got on, and why: the text and the place of the word."""

    text: str
    start: int
    end: int
    word: str = ""
    known: bool = True


@dataclass(frozen=True, slots=True)
class Parsed:
    """The drafts that used every token, and where the rest failed."""

    drafts: tuple[Draft, ...]
    failure: Failure | None
    tokens: tuple[Token, ...]
    chain: bool = False


class Parser(Line):
    """Reads one line. Short forms and words count as the table and the draft's state say."""

    def __init__(self, text: str, before: Situation, rulebook: Rulebook, custom: Custom) -> None:
        super().__init__(text, before, rulebook, custom)
        self.failure: Failure | None = None
        self._best = Draft(before, rulebook)
        self._failed_at = 0

    def parse(self, makes_a_play: Callable[[Parsed], bool]) -> Parsed:
        """Read the line with every word used; else as a chain of short forms; else with everyday words passed over."""
        whole = tuple(self.tokens)
        for token in whole:
            if token.kind is TokenKind.STRANGE:
                failure = Failure(f"{token.text!r} means nothing here", token.start, token.end, token.text, False)
                return Parsed((), failure, whole)
        first = self._run()
        if first and makes_a_play(found := Parsed(tuple(first), None, whole)):
            return found
        failed, best = self.failure, self._best
        if not first and self.may_be_chain():
            drafts = self._run(chain=True)
            if drafts:
                return Parsed(tuple(drafts), None, whole, chain=True)
        for _ in range(_MOST_PASSED if whole else 0):
            drafts = self._run(passing=True)
            if drafts and makes_a_play(found := Parsed(tuple(drafts), None, whole)):
                return found
            at = 0 if drafts else next(place for place, token in enumerate(whole) if token.start == self._failed_at)
            if not self._pass_over(range(len(whole)) if drafts else range(at - 1, max(-1, at - 4), -1)):
                break
        if first:
            return Parsed(tuple(first), None, whole)
        if failed is not None and not self._got_farther(failed):
            self.failure, self._best = failed, best
        return Parsed((), self.failure, whole)

    def _got_farther(self, failure: Failure | None) -> bool:
        return self.failure is not None and failure is not None and self.failure.start > failure.start

    def _pass_over(self, places: Iterable[int]) -> bool:
        """Pass over the first everyday phrase at one of these places from now on; False if there is none."""
        for at in places:
            used = self.passed(at)
            if used and self.tokens[at].kind is not TokenKind.PASSED:
                for place in range(at, at + used):
                    token = self.tokens[place]
                    self.tokens[place] = Token(TokenKind.PASSED, token.text, token.start, token.end)
                self._roles.clear()
                return True
        return False

    def partial(self) -> Draft:
        """The draft that got farthest, for what may follow."""
        return self._best

    # -- the walk -----------------------------------------------------------------------------
    def _run(self, chain: bool = False, passing: bool = False) -> list[Draft]:
        """The drafts that use every token; with *passing*, where none gets on an everyday phrase is passed over."""
        self.failure = None
        self._best = Draft(self.before, self.rulebook)
        waiting: dict[tuple[int, int], list[Draft]] = {(0, 0): [self._best]}
        stuck: dict[int, list[Draft]] = {}
        end = (len(self.tokens), 0)
        while waiting:
            place = min(waiting)
            drafts = waiting.pop(place)
            if len(drafts) > _MOST:
                drafts = sorted(drafts, key=lambda draft: draft.penalty)[:_MOST]
            self._best = drafts[0]
            if place == end:
                return drafts
            got_on = False
            self._refused: str | None = None
            self._refused_end: int | None = None
            at, offset = place
            used = begun_at(self.tokens, at) if passing and not offset else 0
            if used > 1 and used > (self.words.phrase_at(self.tokens, at) or (0,))[0]:
                waiting.setdefault((at + used, 0), []).extend(self._without(draft, at, used) for draft in drafts)
                continue
            for draft in drafts:
                for following, after in self._steps(draft, place, chain):
                    waiting.setdefault(after, []).append(following)
                    got_on = True
            if not got_on:
                self._note(place, drafts[0])
                if not place[1]:
                    stuck[place[0]] = drafts
            if not waiting and passing and stuck:
                at = max(stuck)
                used = self.passed(at)
                if used:
                    waiting[at + used, 0] = [self._without(draft, at, used) for draft in stuck.pop(at)]
        return []

    def _without(self, draft: Draft, at: int, used: int) -> Draft:
        """The draft with an everyday phrase passed over."""
        way = draft.copy()
        way.prep, way.the = "", False
        way.passed = (*draft.passed, *range(at, at + used))
        return way

    def _note(self, place: tuple[int, int], draft: Draft) -> None:
        token = self.tokens[place[0]]
        start = token.start + place[1]
        if self.failure is not None and self.failure.start >= start:
            return
        following = self.tokens[place[0] + 1] if place[0] + 1 < len(self.tokens) else None
        if (following is not None and following.kind is TokenKind.LETTERS and not self.words.knows(following)
                and (self.words.plain(token),) not in self.words.phrases and self.words.knows(token)):
            place, token = (place[0] + 1, 0), following  # the second word of a phrase is the one at fault
            start = token.start
        known = token.kind is not TokenKind.LETTERS or (self.words.knows(token) and not place[1])
        word = self.text[token.start : token.end]
        if not known:
            near = self.words.near(token.text)
            text = f"{word!r} is not understood" + (f"; near it: {', '.join(near)}" if near else "")
        else:
            text = self._refused or f"{word!r} cannot stand here"
        end = token.end if known is False or self._refused_end is None else self._refused_end
        self.failure = Failure(text, token.start, end, word, known)
        self._failed_at = token.start

    def _steps(self, draft: Draft, place: tuple[int, int], chain: bool) -> Iterator[tuple[Draft, tuple[int, int]]]:
        at, offset = place
        token = self.tokens[at]
        if not offset:
            if token.kind is TokenKind.PASSED:
                yield self._without(draft, at, 1), (at + 1, 0)
                return
            if token.kind is TokenKind.COMMENT:
                way = draft.copy()
                way.fields["comment"] = comment_text(token)
                way.chips.append(Chip(token.text, token.start, token.end))
                yield way, (at + 1, 0)
                return
            if token.kind is TokenKind.CLOCK:
                yield from self._clock(draft, at, token.text, 1 + self._longest(_LEFT, at + 1))
                return
            if token.kind is TokenKind.OPEN:
                yield from self._open(draft, at)
                return
        if (not offset and token.text in ("number", "no", "num") and at + 1 < len(self.tokens)
                and self.tokens[at + 1].kind is TokenKind.NUMBER and draft.said is None
                and (token.text != "no" or draft.fouls)):
            yield draft, (at + 2, 0)  # the number on a jersey
            return
        if not offset and draft.said is None:
            if (found_call := call_at(self.tokens, at, self.text)) is not None:
                call, used = found_call
                way = draft.copy()
                way.calls.append(replace(call, early=not way.anything_said()))
                way.prep, way.the = "", False
                yield way, (at + used, 0)
                return
            if (token.text == "off" and draft.in_foul and draft.fouls and not draft.fouls[-1].get("sided")
                    and self.ahead(at + 1).role in ("", "number", Role.FOUL_DETAIL)):
                yield from self._take_one(self.words.row(Role.SIDE, Side.OFFENSE), draft, at, 1, token.text)
                return
            if self._direction(draft, at):
                yield draft, (at + 1, 0)
                return
            if (draft.kind in (None, *GAINING) and not draft.events and (short := short_at(self.tokens, at,
                    self.text)) is not None):
                yield from self._short(draft, at, *short)
                return
            if (amount := amount_at(self.tokens, at)) is not None:
                yield from self._amount(draft, at, *amount)
                return
        if (not at and not offset and token.text == "to" and self.ahead(1).role in (Role.TEAM, Role.SIDE)
                and not any(each.kind is TokenKind.NUMBER for each in self.tokens[2:4])):
            timeout = self.words.row(Role.KIND, (PlayKind.TIMEOUT, None))  # "TO home"
            yield from self._take_one(timeout, draft, at, 1, token.text)
            return
        if not offset and token.kind is TokenKind.NUMBER and (used := self._longest(_SECONDS, at + 1)):
            yield from self._clock(draft, at, f"0:{token.text}", used + 1)
            return
        if not offset and (player := self.player(at, draft.prep)) is not None:
            yield from self._take_player(draft, at, player)
            return
        placed = False
        for following, after in self._spot(draft, at, offset):
            placed = True
            yield following, after
        if placed and (token.kind is TokenKind.LETTERS):
            return
        named = (not offset and token.kind is TokenKind.LETTERS and any(self.words_at(at, len(name)) == name
            for name in self.names))
        if token.kind is TokenKind.NUMBER or (not offset and token.text in NUMBERS and not named):
            found_phrase = self.words.phrase_at(self.tokens, at)
            for following, after in self._number(draft, at):
                if (found_phrase is not None and found_phrase[0] > after[0] - at
                        and found_phrase[1][0].role in _MEANINGFUL):
                    following.fill(f"{token.text} was taken as a number alone")
                yield following, after
            if found_phrase is None:
                return
        if not offset:
            if token.text == "a" and draft.in_foul and draft.fouls and not self.ahead(at + 1).role:
                yield from self._codes(draft, at, offset, chain)
                return
            found = list(self._phrases(draft, at))
            if found:
                yield from found
                if len(token.text) > 2 or not chain:
                    return
            short_side = list(self._short_side(draft, at)) if not chain else []
            if short_side and not found:
                yield from short_side
                return
            if found:
                pass
            elif not chain and len(token.text) > 1 and (named or self.words.phrase_at(self.tokens, at) is not None):
                return  # a whole word is never a short form of another
        if token.kind is not TokenKind.LETTERS:
            return
        found = list(self._codes(draft, at, offset, chain))
        yield from found
        if not offset and not chain and not found:
            yield from self._beginnings(draft, at)

    # -- pieces -------------------------------------------------------------------------------

    def _direction(self, draft: Draft, at: int) -> bool:
        """L, R, lt and rt after the name of a run or pass: which way it went, which is not kept."""
        token = self.tokens[at]
        if token.text not in ("l", "r", "lt", "rt") or draft.prep or draft.events or draft.in_foul:
            return False
        if draft.kind not in (PlayKind.RUN, PlayKind.PASS) or draft.outcome not in (None, Outcome.COMPLETE):
            return False
        apart = self.text[token.end : token.end + 1]
        return (apart == "" or not apart.isalnum()) and not (at and self.tokens[at - 1].end == token.start)

    def _take_player(self, draft: Draft, at: int, which: Side) -> Iterator[tuple[Draft, tuple[int, int]]]:
        if draft.prep in ("to", "from", "for"):
            way = draft.copy()
            way.prep, way.the = "", False
            yield way, (at + 2, 0)
            return
        yield from self._take_one(self.words.row(Role.SIDE, which), draft, at, 2, which.value)

    def _short(self, draft: Draft, at: int, missing: float, used: int) -> Iterator[tuple[Draft, tuple[int, int]]]:
        way = draft.copy()
        way.prep, way.the = "", False
        wanted = self.before.yards_to_gain
        if not way.gain_said and way.spot_said is None:
            if wanted is None:
                self._refused = "short of what?"
                return
            way.fields["gain"], way.gain_said, way.slot = wanted - missing, True, ""
            way.fill(f"{missing:g} short of the {wanted:g} to gain")
        elif wanted is not None and way.gain is not None and abs(wanted - way.fields["gain"] - missing) > 1:
            way.doubt(f"a gain of {way.fields['gain']:g} is {wanted - way.fields['gain']:g} short, not {missing:g}")
        way.chips.append(Chip(f"{missing:g} short", self.tokens[at].start, self.tokens[at + used - 1].end))
        yield way, (at + used, 0)

    def _amount(self, draft: Draft, at: int, value: float, used: int,
            about: bool) -> Iterator[tuple[Draft, tuple[int, int]]]:
        way, end = draft.copy(), self.tokens[at + used - 1].end
        said = self.text[self.tokens[at].start : end]
        try:
            for taken in number(way, value, said, True, False, self.custom.kicks, self.ahead(at + used)):
                taken.chips.append(Chip(f"{value:g} yards" if value != 1 else "1 yard", self.tokens[at].start, end))
                if about:
                    taken.fill(f"{said!r} as {value:g} yards")
                yield taken, (at + used, 0)
        except Refused as error:
            self._refused = str(error)

    def _clock(self, draft: Draft, at: int, text: str, used: int) -> Iterator[tuple[Draft, tuple[int, int]]]:
        token, last = self.tokens[at], self.tokens[at + used - 1]
        minutes, _, seconds = text.partition(":")
        if not seconds.isdigit() or int(seconds) > 59:
            self._refused = f"{text} is no time on a clock"
            return
        way = draft.copy()
        told = int(minutes) * 60 + int(seconds)
        if way.fields.get("clock") not in (None, told):
            self._refused = "a time was said already"
            return
        way.fields["clock"], way.prep = told, ""
        way.chips.append(Chip(f"clock {text}", token.start, last.end))
        yield way, (at + used, 0)

    def _open(self, draft: Draft, at: int) -> Iterator[tuple[Draft, tuple[int, int]]]:
        token = self.tokens[at]
        if not draft.slot:
            self._refused = "there is nothing here to leave open"
            return
        way = draft.copy()
        way.settle_if_kick()
        way.slot = {"kick_to": "return"}.get(draft.slot, "")
        way.chips.append(Chip("not known", token.start, token.end))
        way.fill("left open")
        yield way, (at + 1, 0)

    def _number(self, draft: Draft, at: int) -> Iterator[tuple[Draft, tuple[int, int]]]:
        token = self.tokens[at]
        value, used = number_at(self.tokens, at) or (0.0, 1)
        after, yards, line = at + used, False, False
        if after < len(self.tokens) and self.words.plain(self.tokens[after]) in ("yard", "yards", "yd", "yds", "yrds",
                "yrd", "yarder"):
            yards, after = True, after + 1
            if after < len(self.tokens) and self.tokens[after].text == "line":
                yards, line, after = False, True, after + 1
                if self.words_at(after, 2) == ("of", "scrimmage"):
                    yards, line, after = True, False, after - 1
        elif after < len(self.tokens) and self.tokens[after].text == "yardline":
            line, after = True, after + 1
        placed = at > 0 and self.tokens[at - 1].text in ("at", "to", "the", "own", "opp")
        behind = self._longest(_BEHIND, after) if yards or (value and not placed) else 0
        if behind and draft.kind in (*GAINING, None) and not draft.gain_said and draft.slot in ("gain", ""):
            draft, after, yards = draft.copy(), after + behind, True
            draft.loss = True
        if (yards and self.words_at(after, 1) == ("lost",) and draft.kind in GAINING and not draft.gain_said
                and draft.slot == "gain"):
            draft, after = draft.copy(), after + 1
            draft.loss = True  # "two yards lost"
        on_field = placed and not yards and 0 <= value <= self.rulebook.field_length / 2
        side = self.side_behind(after) if on_field else None
        if side is not None:  # "at the 48 of the visitors"
            spot = value if side[0] is Side.OFFENSE else self.rulebook.field_length - value
            yield from self._take_spot(draft, spot, at, token.start, side[1])
            return
        jersey = self._jersey(draft, at, after) if not (yards or line) else ""
        if jersey:
            way = draft.copy()
            way.fill(f"{token.text} was taken for a player's number")
            yield way, (after, 0)
            if jersey == "only":
                return
        deep = self.words_at(after, 1) == ("deep",)
        if deep and (draft.slot == "caught" or (draft.play_kind in KICKS and draft.slot in ("kick_to", "return"))):
            after += 1 + self._longest(_IN_THE_END_ZONE, after + 1)
            way = draft.copy()
            way.zone, way.prep = "", "at"
            way.slot = "caught" if draft.slot == "caught" else "kick_to"
            yield from self._take_spot(way, self.rulebook.field_length + value, at, self.tokens[at].start, after)
            return
        if yards and self.words_at(after, 4) == ("into", "the", "end", "zone") and draft.slot in ("kick_to",):
            after += 4
            yield from self._take_spot(draft, self.rulebook.field_length + value, at, self.tokens[at].start, after)
            return
        way = draft.copy()
        ahead = self.ahead(after)
        if ahead.role == Role.RETURN and not self.of_return(after):
            ahead = Ahead()
        try:
            ways = number(way, value, token.text, yards, line, self.custom.kicks, ahead)
        except Refused as error:
            self._refused = str(error)
            return
        for taken in ways:
            taken.chips = [*draft.chips, Chip(self._number_chip(taken, draft, token.text, yards), token.start,
                self.tokens[after - 1].end)]
            yield taken, (after, 0)

    def _longest(self, phrases: Iterable[tuple[str, ...]], at: int) -> int:
        """How many tokens the first of these phrases takes that stands at a place; 0 if none does."""
        return next((len(words) for words in phrases if self.words_at(at, len(words)) == words), 0)

    def _jersey(self, draft: Draft, at: int, after: int) -> str:
        """Whether a number is a player's, "by 22" or "22 runs for 4": "only" that, "perhaps", or empty for no."""
        token, before = self.tokens[at], self.tokens[at - 1].text if at else ""
        if not token.text.isdigit() or draft.said is not None:
            return ""
        thrown = draft.kind is PlayKind.PASS and not draft.in_foul
        if before == "by" or (before == "to" and float(token.text) > self.rulebook.field_length / 2 and thrown):
            return "only"
        acts = self.ahead(after).role in (Role.KIND, Role.MANNER, Role.PREPOSITION)
        later = any(each.kind is TokenKind.NUMBER for each in self.tokens[after + 1 :])
        return "perhaps" if not at and acts and later and draft.due is None else ""

    def _number_chip(self, taken: Draft, draft: Draft, text: str, yards: bool) -> str:
        for name, words in (("gain", ""), ("spot", "to "), ("kick_to", "kicked to ")):
            new = taken.fields.get(name)
            if new is not None and new != draft.fields.get(name):
                if name == "gain":
                    return _gained(new)
                return words + taken.spoken(new)
        if taken.spot_said is not None and taken.spot_said != draft.spot_said:
            return f"to {taken.spoken(taken.spot_said)}"
        if taken.caught is not None and taken.caught != draft.caught:
            return f"at {taken.spoken(taken.caught)}"
        if taken.length is not None and taken.length != draft.length:
            return f"{text} yards long"
        if taken.events != draft.events and taken.events and taken.events[-1].spot is not None:
            return f"at {taken.spoken(taken.events[-1].spot)}"
        if taken.kick_from != draft.kick_from and taken.kick_from is not None:
            return f"kicked from {taken.spoken(taken.fields['kick_from'])}"
        return f"{text} yards" if yards or taken.in_foul else text

    def _side_at(self, draft: Draft, at: int, offset: int) -> tuple[Side | Team, int] | None:
        """A side of the field at a token: who, and how many tokens."""
        token = self.tokens[at]
        text = token.text[offset:]
        if not offset:
            typed = self.text[token.start : token.end].removesuffix("'s").removesuffix("’s")
            if typed in RULE_LETTERS and (self.mixed_case or self._line_of_a_team(draft, at)):
                return RULE_LETTERS[typed], 1
            for name, team in self.names.items():
                if self.words_at(at, len(name)) == name:
                    return team, len(name)
            if text == "team" and at + 1 < len(self.tokens) and self.tokens[at + 1].text in ("a", "b", "k", "r"):
                return RULE_LETTERS[self.tokens[at + 1].text.upper()], 2
            two = self.words_at(at, 2)
            if two == ("their", "own") and draft.in_foul and draft.fouls and draft.fouls[-1]["by"] is not None:
                return draft.fouls[-1]["by"], 2  # "clipping on the offense at their own 35"
            if text in ("our", "their"):
                ours = self.custom.us if self.custom.us is not None else self.before.offense
                used = 1 + (two[1:] == ("own",))
                if ours is not None:
                    return (ours if text == "our" else ours.opponents), used
                return (Side.OFFENSE if text == "our" else Side.DEFENSE), used
            if two in (("kicking", "team"), ("punting", "team")):
                return Side.OFFENSE, 2
            if two == ("receiving", "team"):
                return Side.DEFENSE, 2
        if text in _LONG_SIDES and draft.prep not in ("to", "at", "from", "in"):
            return None
        if text in _OWN:
            return _OWN[text], 1
        if text in _OPP:
            return _OPP[text], 1
        if text in _TEAMS:
            return _TEAMS[text], 1
        return None

    def _line_of_a_team(self, draft: Draft, at: int) -> bool:
        """``A-34``, ``at the R-28``: a yard line as officials write it; ``R-1`` elsewhere is a run for a loss."""
        if at + 1 >= len(self.tokens) or self.tokens[at + 1].start != self.tokens[at].end:
            return False
        typed = self.text[self.tokens[at].start : self.tokens[at].end]
        hyphened = self.tokens[at + 1].kind is TokenKind.NUMBER and self.tokens[at + 1].text.startswith("-")
        return hyphened and (typed in ("A", "B") or (typed in ("K", "R") and (draft.the or draft.prep in WHERE)))

    def _spot(self, draft: Draft, at: int, offset: int) -> Iterator[tuple[Draft, tuple[int, int]]]:
        """``own 36``, ``the opp 12 yard line``, ``home end zone 4``, ``midfield``: a place with its side."""
        token = self.tokens[at]
        if token.kind is not TokenKind.LETTERS:
            return
        length = self.rulebook.field_length
        if token.text[offset:] == "midfield" or (not offset and self.words_at(at, 2) == ("mid", "field")):
            yield from self._take_spot(draft, length / 2, at, token.start + offset, at + 1 + (token.text == "mid"))
            return
        if (not offset and self.words_at(at, 2) == ("goal", "line") and (draft.play_kind in KICKS
                or draft.slot == "caught") and draft.slot in ("kick_to", "caught")):
            yield from self._take_spot(draft, length, at, token.start, at + 2)
            return
        who: Side | Team | None = None
        zone, after = False, at
        text = token.text[offset:]
        if (len(text) > 1 and text not in _OWN and text not in _OPP and text not in _TEAMS
                and (match := next((side for side in ("opp", "own", "op", "ow", "o", "v", "h") if text.startswith(side)
                and text[len(side) :] in ("e", "ez", "endzone")), None))):
            who = _OPP.get(match) or _OWN.get(match) or _TEAMS[match]
            zone, after = True, at + 1
        else:
            side_found = self._side_at(draft, at, offset)
            if side_found is not None:
                who, used = side_found
                after = at + used
            if after < len(self.tokens) and (side_found is None or not offset or after > at):
                start = token.text[offset:] if after == at else self.tokens[after].text
                if start in ("e", "ez", "endzone"):
                    zone, after = True, after + 1
                elif start == "end" and self.words_at(after + 1, 1) == ("zone",):
                    zone, after = True, after + 2
        if who is None and not zone:
            return
        if after >= len(self.tokens):
            return
        value_token, found = self.tokens[after], number_at(self.tokens, after)
        if found is None:
            return
        value, used = found
        if value < 0 and after == at + 1 and self._line_of_a_team(draft, at):
            value = 0 - value
        after += used
        if self.words_at(after, 1) and self.words.plain(self.tokens[after]) in ("yard", "yards", "yd", "yds"):
            if self.words_at(after + 1, 1) == ("line",):
                after += 2
            elif (who in (Side.OFFENSE, Side.DEFENSE) and token.text in ("own", "opp")) or zone:
                after += 1
            else:
                return  # "defense 15 yards"
        elif self.words_at(after, 1) == ("yardline",):
            after += 1
        if (draft.in_foul and draft.fouls and token.text in ("offense", "defense", "kickers", "receivers")
                and not draft.prep):
            return
        if zone and who is None:
            if draft.play_kind not in KICKS and draft.outcome is None:
                return
            who = Side.DEFENSE
        try:
            spot = self._spot_of(who, zone, value, value_token.text)
        except (ValueError, Refused) as error:
            self._refused, self._refused_end = str(error), value_token.end
            return
        if draft.slot in _SPOT_SLOTS or draft.slot.startswith("exact") or draft.slot == "" or draft.in_foul:
            yield from self._take_spot(draft, spot, at, token.start + offset, after)

    def _spot_of(self, who: Side | Team | None, zone: bool, value: float, text: str) -> float:
        length = self.rulebook.field_length
        own = True
        if isinstance(who, Team):
            if self.before.offense is None:
                raise Refused("who has the ball is not known; say own or opp")
            own = who is self.before.offense
        elif who is not None:
            own = who is Side.OFFENSE
        if not 0 <= value <= (self.rulebook.end_zone_depth if zone else length / 2):
            raise Refused(f"there is no {text}-yard line {'in the end zone' if zone else 'on one side'}")
        return parse_spot(f"{'own' if own else 'opp'} {'end zone ' if zone else ''}{value:g}", length)

    def _take_spot(self, draft: Draft, spot: float, at: int, start: int,
            after: int) -> Iterator[tuple[Draft, tuple[int, int]]]:
        end = self.tokens[after - 1].end
        way = draft.copy()
        slot = way.slot
        prep = way.prep
        try:
            ways = spot_item(way, spot, self.text[start:end])
        except Refused as error:
            self._refused = str(error)
            return
        spoken = way.spoken(spot)
        word = {"kick_to": "kicked to", "return": "returned to", "length": "kicked from", "caught": "at",
            "event": "at", "foul spot": "at", "enforced from": "from"}.get(slot, prep or "to")
        for taken in ways:
            text = f"{word} {spoken}"
            if slot == "gain" and taken.spot_said is not None and taken.start is not None:
                text = f"to {spoken}, {_gained(taken.spot_said - taken.start)}"
            taken.chips.append(Chip(text, start, end))
            yield taken, (after, 0)

    def _phrases(self, draft: Draft, at: int) -> Iterator[tuple[Draft, tuple[int, int]]]:
        """The longest phrase of whole words that may stand here."""
        sided = self._letter_side(draft, at)
        if sided is not None:
            yield from sided
            return
        first = self.words.plain(self.tokens[at])
        apart = ""
        begins_play = draft.kind is None and any(
            word.role is Role.KIND for word in self.words.phrases.get((first,), ())
        )  # "run out of bounds at the 40"
        for length in self.words.lengths(first):
            found = self.words.phrase_of(self.tokens, at, length)
            if found is None:
                continue
            after = at + length
            phrase = self.words.as_told(" ".join(self.words.plain(token) for token in self.tokens[at:after]))
            got_on = False
            draft.looking = phrase
            meant = fitting(found, draft)
            for passed_over in (False, True):  # a word is passed over only where it can mean nothing
                for word in meant:
                    if (word.role is Role.FILLER) is not passed_over:
                        continue
                    for following in self._take(word, draft, at, after, phrase):
                        got_on = True
                        if apart:
                            following.fill(f"{apart!r} was taken word by word")
                        yield following, (after, 0)
                if got_on:
                    return
            two_points = found[0].role is Role.TWO_POINT and self.before.next is not Next.TRY
            if (length > 1 and not begins_play and not two_points
                    and all(word.role in _MEANINGFUL for word in found)):
                apart = apart or phrase

    def _short_side(self, draft: Draft, at: int) -> Iterator[tuple[Draft, tuple[int, int]]]:
        """``D``, ``off``: a side in short, before what it did or behind "by" and "on"."""
        which = _SHORT_SIDES.get(self.tokens[at].text)
        if which is None:
            return
        typed = self.text[self.tokens[at].start : self.tokens[at].end]
        does = self.ahead(at + 1).role in _DOES
        loose = bool(draft.events) and draft.events[-1].kind in (EventKind.FUMBLE, EventKind.MUFF)
        whose = bool(draft.events) and draft.events[-1].kind is EventKind.RECOVERY and draft.events[-1].by is None
        of_foul = draft.in_foul and draft.fouls and not draft.fouls[-1].get("sided") and typed != "o"
        if (not whose and not of_foul and not (does and (typed.isupper() or draft.kind is None or not draft.chips))
                and not (draft.prep in ("by", "at") and (draft.fouls or draft.flagged or loose or draft.events))
                and self.ahead(at + 1).role not in (Role.FOUL, Role.RECOVERED)):
            return
        yield from self._take_one(self.words.row(Role.SIDE, which), draft, at, 1, self.tokens[at].text)

    def _letter_side(self, draft: Draft, at: int) -> list[tuple[Draft, tuple[int, int]]] | None:
        """A, B, K and R as rulebooks name the teams, and the teams by their own names."""
        token = self.tokens[at]
        typed = self.text[token.start : token.end].removesuffix("'s").removesuffix("’s")
        which: Side | None = None
        used = 1
        possessive = len(self.text[token.start : token.end]) > 1
        if typed in RULE_LETTERS and self.mixed_case and (at > 0 or possessive or self.ahead(1).role in _ACTS):
            which = RULE_LETTERS[typed]
        elif token.text == "team" and self.words_at(at + 1, 1) and self.words_at(at + 1, 1)[0] in ("a", "b", "k", "r"):
            which, used = RULE_LETTERS[self.words_at(at + 1, 1)[0].upper()], 2
        else:
            for name, team in self.names.items():
                if self.words_at(at, len(name)) == name:
                    word = next(word for word in self.words.words if word.role is Role.TEAM and word.value is team)
                    return [(following, (at + len(name), 0)) for following in self._take(word, draft, at,
                        at + len(name), " ".join(name))]
        if which is None:
            return None
        return list(self._take_one(self.words.row(Role.SIDE, which), draft, at, used, typed))

    def _codes(self, draft: Draft, at: int, offset: int, chain: bool) -> Iterator[tuple[Draft, tuple[int, int]]]:
        """A short form: the whole token, or where short forms are run together its longest beginning that leads on."""
        token = self.tokens[at]
        letters = token.text[offset:]
        longest = min(len(letters), self.words.longest_code) if chain else len(letters)
        others = 0
        for length in range(longest, 0, -1):
            if not chain and length < len(letters):
                return
            short = letters[:length]
            candidates = list(self.words.codes.get(short, ()))
            if chain and short in ("to", "at"):
                candidates = [word for word in self.words.phrases[short,] if word.role is Role.PREPOSITION]
            elif chain and length > 2:
                candidates += [word for word in self.words.phrases.get((short,), ()) if word not in candidates
                    and word.role not in (Role.FILLER, Role.PREPOSITION)]
            for word in ordered(candidates, draft):
                if not stands(word, draft):
                    continue
                after = (at + 1, 0) if length == len(letters) else (at, offset + length)
                for following in self._take(word, draft, at, at + 1, short, token.start + offset,
                        token.start + offset + length, more=length < len(letters)):
                    if others:
                        following.fill(f"{short!r} as {word.text}", others)
                    others += 1
                    yield following, after
                if others and not chain:
                    return

    def _beginnings(self, draft: Draft, at: int) -> Iterator[tuple[Draft, tuple[int, int]]]:
        found = self.words.beginnings(self.tokens, at)
        if found is None:
            words = self.words.without_vowels(self.tokens[at].text)
            if not words:
                return
            found = 1, words
        used, words = found
        if used == 1 and ((self.tokens[at].text,) in self.words.phrases or self.tokens[at].text in _OWN
                or self.tokens[at].text in _OPP):
            return
        ways: list[Draft] = []
        typed = " ".join(token.text for token in self.tokens[at : at + used])
        draft.looking = typed
        for word in fitting(words, draft):
            if (word.where == START and draft.kind is not None and word.role is Role.KIND
                    and word.value[0] is not draft.kind):
                continue
            for following in self._take(word, draft, at, at + used, word.text):
                following.fill(f"{typed!r} as {word.text}", 1 + len(ways))
                ways.append(following)
            if len(ways) > 6:
                break
        for way in ways:
            yield way, (at + used, 0)

    def _take_one(self, word: Word, draft: Draft, at: int, used: int,
            phrase: str) -> Iterator[tuple[Draft, tuple[int, int]]]:
        for following in self._take(word, draft, at, at + used, phrase):
            yield following, (at + used, 0)

    def _take(self, word: Word, draft: Draft, at: int, after: int, phrase: str, start: int | None = None,
            end: int | None = None, more: bool = False) -> list[Draft]:
        """The draft after a word; empty if it may not stand here."""
        start = self.tokens[at].start if start is None else start
        end = self.tokens[after - 1].end if end is None else end
        way = draft.copy()
        way.phrase = phrase
        ahead = Ahead() if more else self.ahead(after)
        if word.text == "accepted" and phrase == "a" and not more and ahead.role:
            return []
        if word.role is Role.END_ZONE and word.value[1] in ("us", "them"):
            word = replace(word, value=(word.value[0], self.us_or_them(word.value[1])))
        try:
            if word.role is Role.YARDS:
                if way.slot in ("gain", "return", "kick_to"):
                    raise Refused("how many yards?")
                if way.in_foul:
                    way.slot = "foul yards"
            elif word.role is Role.SIDE:
                self._take_side(way, word, start, end, ahead)
            elif word.role is Role.TEAM:
                self._take_team(way, word, start, end, ahead)
            elif word.role is Role.KICK:
                following = self.words_at(after + (self.words_at(after, 1) in (("the",), ("a",), ("an",))), 2)
                named = following in (("field", "goal"), ("extra", "point"), ("quick", "kick"))
                return self._take_kick(way, start, end, ahead, named)
            else:
                prep = way.prep
                RULES[word.role](way, word, ahead)
                if (word.role not in (Role.PREPOSITION, Role.FILLER, Role.SLOT, Role.LOSS, Role.GAIN, Role.SAID_SLOT,
                        Role.RETURN, Role.CAUGHT) and way.prep == prep):
                    way.prep, way.the = "", False
        except Refused as error:
            self._refused = str(error)
            return []
        if not word.silent:
            way.chips.append(Chip(word.text, start, end, "kind" if word.role in (Role.KIND, Role.TWO_POINT)
                else "plain"))
        elif word.role in (Role.SIDE, Role.TEAM):
            way.chips.append(Chip(word.text, start, end))
        return [way]

    def _take_kick(self, way: Draft, start: int, end: int, ahead: Ahead, named: bool) -> list[Draft]:
        """ "kick": the kick that the situation calls for; from scrimmage a punt or a field goal."""
        way.in_foul, way.prep = False, ""
        way.chips.append(Chip("kick", start, end, "kind"))
        if named and way.kind is None and way.due is not PlayKind.COIN_TOSS:
            return [way]  # "kicks the field goal"
        if way.two_point and way.rulebook.try_kick_points != 2 and self.before.next is Next.TRY:
            way.doubt("a kick is no two-point try")
        if way.kind in (*KICKS, PlayKind.FIELD_GOAL, PlayKind.TRY_KICK):
            way.inferred = ""
            return [way]
        if way.kind is not None:
            raise Refused(f"{way.kind.value} was said already")
        due = DUE_KIND.get(self.before.next)
        if due is PlayKind.COIN_TOSS:
            raise Refused("what kind of kick?")
        if due is not None:
            set_kind(way, due, way.outcome)
            return [way]
        likely = (PlayKind.FIELD_GOAL if (self.before.ball_on or 0) > 0.62 * self.rulebook.field_length
            or self.before.next is Next.FAIR_CATCH_KICK or way.outcome in (Outcome.GOOD, Outcome.NO_GOOD)
            else PlayKind.PUNT)
        ways = []
        for penalty, kind in enumerate((likely, PlayKind.PUNT if likely is PlayKind.FIELD_GOAL
                else PlayKind.FIELD_GOAL), 1):
            one = way.copy()
            if kind is PlayKind.PUNT and way.outcome in (Outcome.GOOD, Outcome.NO_GOOD):
                continue
            set_kind(one, kind, way.outcome)
            one.fill("punt or field goal was not said", penalty)
            ways.append(one)
        return ways

    def _take_side(self, way: Draft, word: Word, start: int, end: int, ahead: Ahead) -> None:
        value = word.value
        way.runner = way.runner or way.phrase.endswith(RUNNERS)
        if way.prep == "tackled by":
            way.prep = ""
            return
        if value in ("us", "them"):
            ours = self.custom.us
            if ours is not None and way.play_kind in (PlayKind.COIN_TOSS, PlayKind.TIMEOUT) and not way.fouls:
                way.settle_kind()
                if value == "them" and way.phrase.startswith("they") and way.fields.get("team") is not None:
                    return  # "won by home, they defer"
                way.put("team", ours if value == "us" else ours.opponents)
                return
            value = self.us_or_them(value)
            if ours is None or self.before.offense is None:
                way.fill(f"{word.text} is the {value.value}")
        of_timeout = way.kind is None and ahead.role == "timeout"
        if (way.play_kind in (PlayKind.COIN_TOSS, PlayKind.TIMEOUT) or of_timeout) and not way.fouls:
            if self.before.offense is None:
                raise Refused("say home or visitors")
            way.settle_kind()
            way.put("team", self.before.offense if value is Side.OFFENSE else self.before.offense.opponents)
            return
        side(way, value, word.text, start, end, way.prep in ("by", "at"), ahead)
        way.prep = ""

    def _take_team(self, way: Draft, word: Word, start: int, end: int, ahead: Ahead) -> None:
        if way.prep == "tackled by":
            way.prep = ""
            return
        if way.kind is None and way.due is PlayKind.COIN_TOSS:
            way.kind = way.due
        if way.kind in (PlayKind.COIN_TOSS, PlayKind.TIMEOUT) and not way.fouls:
            lost, way.loss = way.loss, False
            way.put("team", word.value.opponents if lost else word.value)
            way.prep = ""
            return
        if way.kind is None and ahead.role == "timeout":
            way.fields["team"] = word.value
            return
        side(way, way.side_of(word.value), word.text, start, end, way.prep in ("by", "at"), ahead)
        way.prep = ""




def _gained(gain: float) -> str:
    from ..field import spoken_yards

    return f"gain {spoken_yards(gain)}" if gain > 0 else f"loss {spoken_yards(-gain)}" if gain else "no gain"
