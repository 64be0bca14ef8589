"""Finds every full reading of a line: words first, longest phrase first, then short forms; by the grammar's rules."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, replace

from ..plays import Outcome, PlayKind, Side
from ..rulebook import Rulebook
from ..situation import Next, Situation
from .amounts import amount_at
from .custom import Custom
from .downs import ToGo, call_at, short_at
from .draft import GAINING, Chip, Draft
from .everyday import begun_at
from .number_words import NUMBERS, number_at
from .numbered_fouls import side_of_number
from .place_steps import PlaceSteps
from .tokens import Token, TokenKind, comment_text
from .word import Role
from .word_steps import MEANINGFUL

_MOST = 24  # drafts kept at one place of the line
_PASSES = ((False, False), (True, False), (True, True))
"""What may be passed over besides everyday phrases, from one try to the next: light words, and what finds no use."""
_LONG = 7  # tokens of a line in which something may find no use
_MOST_USELESS = 2  # phrases that find no use
_MOST_PASSED = 6  # times a line is read again without an everyday phrase
_LEFT = tuple(tuple(phrase.split()) for phrase in ("left on the clock", "on the clock", "left", "remaining", "to go"))
_PERHAPS = ("maybe", "perhaps", "possibly")
_SECONDS = tuple(("seconds", *left) for left in (*_LEFT, ()))


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
_COVERAGES = tuple(("cover", number) for number in "012346")
_LINED_UP = tuple((left, "x", right) for left in "01234" for right in "01234")  # receivers: "2x2"


class Parser(PlaceSteps):
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
        for self.passes_known, self.passes_any in _PASSES if whole else ():
            if self.passes_any and (first or self.failure is None or not self.failure.known or len(whole) < _LONG):
                break
            self.tokens = list(whole)
            self._roles.clear()
            if (found_passing := self._parse_passing(whole, makes_a_play)) is not None:
                return found_passing
            if not self.passes_known and self.failure is not None and not self.failure.known:
                break
        if first:
            return Parsed(tuple(first), None, whole)
        if failed is not None and not self._got_farther(failed):
            self.failure, self._best = failed, best
        return Parsed((), self.failure, whole)

    def _parse_passing(self, whole: tuple[Token, ...], makes_a_play: Callable[[Parsed], bool]) -> Parsed | None:
        """Read the line again and again, with one more everyday phrase passed over each time."""
        for _ in range(_MOST_PASSED):
            drafts = self._run(passing=True)
            if drafts and makes_a_play(found := Parsed(tuple(drafts), None, whole)):
                return found
            at = 0 if drafts else next(place for place, token in enumerate(whole) if token.start == self._failed_at)
            if not self._pass_over(range(len(whole)) if drafts else range(at - 1, max(-1, at - 4), -1)):
                break
        return None

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

    def _run(self, chain: bool = False, passing: bool = False) -> list[Draft]:
        """The drafts that use every token; with *passing*, where none gets on an everyday phrase is passed over."""
        self.failure = None
        self._best = Draft(self.before, self.rulebook)
        self._best.fouled_by = side_of_number(self.text.lower())
        waiting: dict[tuple[int, int], list[Draft]] = {(0, 0): [self._best]}
        stuck: dict[int, list[Draft]] = {}
        why: dict[int, str] = {}
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
            self._refused = None
            self._refused_end = None
            at, offset = place
            used = begun_at(self.tokens, at) if passing and not offset else 0
            known = (self.words.phrase_at(self.tokens, at) or (0,))[0]
            if used > 1 and used > known and not amount_at(self.tokens, at):
                waiting.setdefault((at + used, 0), []).extend(self._without(draft, at, used) for draft in drafts)
                continue
            if passing and not offset and at < len(self.tokens) and self.names_a_player(at):
                waiting.setdefault((at + 1, 0), []).extend(self._without(draft, at, 1, True) for draft in drafts)
            for draft in drafts:
                for following, after in self._steps(draft, place, chain):
                    waiting.setdefault(after, []).append(following)
                    got_on = True
            if not got_on:
                self._note(place, drafts[0])
                if not place[1]:
                    stuck[place[0]], why[place[0]] = drafts, self._refused or "it finds no use"
            if not waiting and passing and stuck:
                at = max(stuck)
                used, useless = self.passed(at), self.is_useless(at)
                left = [draft for draft in stuck.pop(at) if draft.useless < _MOST_USELESS or not useless]
                if used and left:
                    reason = why[at] if useless else ""
                    waiting[at + used, 0] = [self._without(draft, at, used, useless=reason) for draft in left]
        return []

    def _without(self, draft: Draft, at: int, used: int, player: bool = False, useless: str = "") -> Draft:
        """The draft with an everyday phrase, a player's number or what finds no use, and why, passed over."""
        way = draft.copy()
        if useless:
            way.useless += 1
            said = self.text[self.tokens[at].start : self.tokens[at + used - 1].end]
            way.doubt(f"{said!r} is passed over: {useless}")
        if player:
            way.doubt(f"{self.tokens[at].text} is taken for a player's number")
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
        if not offset and draft.said is None:
            if draft.gain_said and self.words_at(at, 2) == ("to", "go") and (left := number_at(self.tokens, at + 2)):
                way, used = draft.copy(), 2 + left[1]
                way.calls.append(ToGo(self.text[token.start : self.tokens[at + used - 1].end], left[0]))
                yield way, (at + used, 0)
                return
            if self.words_at(at, 2) in _COVERAGES:
                yield self._without(draft, at, 2), (at + 2, 0)
                return
            if self.words_at(at, 3) in _LINED_UP and self.tokens[at].end == self.tokens[at + 1].start:
                yield draft, (at + 3, 0)
                return
            if (found_call := call_at(self.tokens, at, self.text)) is not None:
                call, used = found_call
                way = draft.copy()
                way.calls.append(replace(call, early=not way.anything_said()))
                way.last = "call" if self.words_at(at + used, 1) == ("from",) else Role.CLAIM
                way.prep, way.the = "", False
                yield way, (at + used, 0)
                return
            if (token.text == "off" and draft.in_foul and draft.fouls and not draft.fouls[-1].get("sided")
                    and self.ahead(at + 1).role in ("", "number", Role.FOUL_DETAIL)):
                yield from self._take_one(self.words.row(Role.SIDE, Side.OFFENSE), draft, at, 1, token.text)
                return
            if (draft.gain_said and token.text == "1" and self.words_at(at + 1, 1) == ("d",)
                    and self.tokens[at + 1].start == token.end):
                yield from self._take_one(self.words.row(Role.CLAIM, "first down"), draft, at, 2, "first down")
                return
            if self._lost(draft, at):
                yield from self._take_one(self.words.row(Role.LOSS, None), draft, at, 1, "loss")
                return
            if self._yards_back(draft, at):
                yield from self._take_one(self.words.row(Role.LOSS, None), draft, at, 1, "loss")
                return
            if self._direction(draft, at):
                yield draft, (at + 1, 0)
                return
            if (draft.kind in (None, *GAINING) and not draft.events and (short := short_at(self.tokens, at,
                    self.text)) is not None):
                yield from self._short(draft, at, *short)
                return
            if token.text in _PERHAPS and draft.gain_said and draft.kind in GAINING and not draft.events:
                ways = list(self._or_another(draft, at))
                yield from ways
                if ways:
                    return
            if (amount := amount_at(self.tokens, at)) is not None:
                yield from self._amount(draft, at, *amount)
                return
        if (not at and not offset and token.text in ("two", "2") and self.before.next is Next.TRY
                and "," in self.text[token.end : self.tokens[1].start if len(self.tokens) > 1 else token.end]):
            yield from self._take_one(self.words.row(Role.TWO_POINT, None), draft, at, 1, "two points")
            return
        letter = self.words_at(1, 1) in (("h",), ("v",)) and len(self.tokens) == 2  # "TO H"
        if (not at and not offset and token.text == "to" and (letter or self.ahead(1).role in (Role.TEAM, Role.SIDE))
                and not any(each.kind is TokenKind.NUMBER for each in self.tokens[2:4])):
            timeout = self.words.row(Role.KIND, (PlayKind.TIMEOUT, None))  # "TO home"
            yield from self._take_one(timeout, draft, at, 1, token.text)
            return
        if not offset and token.kind is TokenKind.NUMBER and (used := self._longest(_SECONDS, at + 1)):
            yield from self._clock(draft, at, f"0:{token.text}", used + 1)
            return
        if not offset and self.names_a_position(at):
            yield from self._take_one(self.words.row(Role.FILLER, "player"), draft, at, 1, token.text)
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
            if found_phrase is not None and found_phrase[0] > 1 and found_phrase[1][0].text == "and":
                yield from self._phrases(draft, at)  # "two tacklers"
                return
            for following, after in self._number(draft, at):
                if (found_phrase is not None and found_phrase[0] > after[0] - at
                        and found_phrase[1][0].role in MEANINGFUL):
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

    def _lost(self, draft: Draft, at: int) -> bool:
        """L before a number as a part of its own behind a comma: "reverse right, L6" lost six."""
        token = self.tokens[at]
        if token.text != "l" or draft.kind not in (PlayKind.RUN, PlayKind.PASS, PlayKind.SACK) or not at:
            return False
        number = self.tokens[at + 1] if at + 1 < len(self.tokens) else None
        return (number is not None and number.kind is TokenKind.NUMBER and number.start == token.end
            and "," in self.text[self.tokens[at - 1].end : token.start]
            and not (draft.events or draft.gain_said or draft.in_foul))

    def _yards_back(self, draft: Draft, at: int) -> bool:
        """Back behind the yards of a sack or of a ball that the offense has again: "eight yards back, sack"."""
        if self.tokens[at].text != "back" or at < 2 or self.tokens[at - 1].text not in ("yards", "yard", "yds"):
            return False
        if draft.in_foul or draft.returned or draft.is_kick() or self.words_at(at + 1, 1) in (("to",), ("and",)):
            return False
        sacked = any(word.value[0] is PlayKind.SACK for each in self.tokens[at + 1 :] for word in
            self.words.phrases.get((each.text,), ()) if word.role is Role.KIND)
        return (draft.pending is not None and sacked) or (bool(draft.events) and draft.holder() is Side.OFFENSE
            and draft.gain_said and draft.kind in (None, PlayKind.RUN, PlayKind.SACK))

    def _direction(self, draft: Draft, at: int) -> bool:
        """L, R, lt and rt after the name of a run or pass: which way it went, which is not kept."""
        token = self.tokens[at]
        if token.text not in ("l", "r", "m", "lt", "rt") or draft.prep or draft.events or draft.in_foul:
            return False
        moves = draft.kind is None and bool(draft.fields.get("manner"))  # "sprint out rt"
        if not (moves or draft.kind in (PlayKind.RUN, PlayKind.PASS)) or draft.outcome not in (None, Outcome.COMPLETE):
            return False
        apart = self.text[token.end : token.end + 1]
        return (apart == "" or not apart.isalnum()) and not (at and self.tokens[at - 1].end == token.start)
