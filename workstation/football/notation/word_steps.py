"""Steps of the reader over words: phrases of the table, short forms, beginnings, and who is named."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from ..plays import EventKind, Outcome, PlayKind, Side
from ..rulebook import Rulebook
from ..situation import Next, Situation
from .custom import Ahead, Custom
from .draft import DUE_KIND, KICKS, PUNTERS, RUNNERS, Chip, Draft, Refused
from .foul_rules import side
from .grammar import RULES
from .kinds import set_kind
from .line import RULE_LETTERS, Line
from .word import START, Role, Word
from .word_choice import fitting, ordered, stands

OWN_WORDS = {"own": Side.OFFENSE, "o": Side.OFFENSE, "ow": Side.OFFENSE, "offense": Side.OFFENSE,
    "kicker": Side.OFFENSE,
    "kickers": Side.OFFENSE, "ka": Side.OFFENSE, "our": Side.OFFENSE}
OPP_WORDS = {"opp": Side.DEFENSE, "op": Side.DEFENSE, "opponent": Side.DEFENSE, "opponents": Side.DEFENSE,
    "opposing": Side.DEFENSE, "opposition": Side.DEFENSE, "defense": Side.DEFENSE, "receivers": Side.DEFENSE,
    "receiver": Side.DEFENSE, "their": Side.DEFENSE, "opps": Side.DEFENSE, "enemy": Side.DEFENSE}
MEANINGFUL = tuple(role for role in Role if role not in (Role.FILLER, Role.EXACT, Role.SAID, Role.SAID_SLOT,
    Role.STANDS_AS, Role.PREPOSITION, Role.SIDE, Role.TEAM, Role.YARDS, Role.GAIN))
_SHORT_SIDES = {"d": Side.DEFENSE, "o": Side.OFFENSE, "off": Side.OFFENSE}
_TEAM = (("team",), ("side",), ("unit",))
_ACTS = (Role.KIND, Role.KICK, Role.RETURN, Role.FLAG)
_DOES = (Role.FOUL, Role.RECOVERED, Role.KIND, Role.EVENT, Role.SCORE, Role.RETURN, Role.FLAG)


class WordSteps(Line):
    """The drafts after the word at a place of the line; none where no word may stand there."""

    def __init__(self, text: str, before: Situation, rulebook: Rulebook, custom: Custom) -> None:
        super().__init__(text, before, rulebook, custom)
        self._refused: str | None = None
        self._refused_end: int | None = None

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
            if length > 1 and self.tokens[after - 1].text == "kicking" and self.words_at(after, 1) in _TEAM:
                continue  # "onside, kicking team recovers"
            if length > 1 and self._torn_kind(at, found):
                continue  # "punt, returner fumbles"
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
                    and all(word.role in MEANINGFUL for word in found)):
                apart = apart or phrase

    def _torn_kind(self, at: int, found: Sequence[Word]) -> bool:
        """Whether a comma parts a kind of play from who comes after it, and the two together would be somebody."""
        apart = self.text[self.tokens[at].end : self.tokens[at + 1].start]
        alone = self.words.phrases.get((self.words.plain(self.tokens[at]),), ())
        return ("," in apart and all(word.role is Role.SIDE for word in found)
            and any(word.role is Role.KIND for word in alone))

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
        if token.text == "off" and self.words_at(at + 1, 1) in (("our",), ("their",), ("his",), ("the",)):
            return  # "off our foot" is no offside
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
        if used == 1 and self.tokens[at].text == "illegal":
            return
        if used == 1 and ((self.tokens[at].text,) in self.words.phrases or self.tokens[at].text in OWN_WORDS
                or self.tokens[at].text in OPP_WORDS):
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
                if phrase in ("our", "their") and ahead.role == Role.FOUL and not way.in_foul:
                    way.side = self.us_or_them("us" if phrase == "our" else "them")
                    way.side_where = (phrase, start, end)
                RULES[word.role](way, word, ahead)
                if phrase == "#" and ahead.role == Role.RECOVERED and way.side is None and self.text[start].isalpha():
                    way.side, way.side_where = self.us_or_them("us"), (self.text[start:end], start, end)
                if word.role not in (Role.PREPOSITION, Role.FILLER):
                    way.last = word.role
                if (word.role not in (Role.PREPOSITION, Role.FILLER, Role.SLOT, Role.LOSS, Role.GAIN, Role.SAID_SLOT,
                        Role.RETURN, Role.CAUGHT) and way.prep == prep):
                    way.prep, way.the = "", False
                if word.role is Role.OUTCOME and phrase.endswith(" at"):
                    way.prep = "at"
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
        if due is None and way.punter:
            due = PlayKind.PUNT
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
        way.punter = way.punter or way.phrase.endswith(PUNTERS)
        if way.prep == "tackled by":
            way.prep = ""
            return
        following = next((at for at, token in enumerate(self.tokens) if token.start >= end), len(self.tokens))
        called = way.phrase == "they" and self.words_at(following, 1) == ("called",)
        if called and self.ahead(following + 1).role == Role.FOUL:
            return  # the officials: "they called illegal formation on us"
        if (way.in_foul and way.fouls and way.fouls[-1]["by"] is None and way.phrase in ("we", "they")
                and self.plain_text[end:].split()[:1] in (["lose"], ["lost"])):
            way.fouls[-1]["by"] = self.us_or_them(value)
            way.fill(f"who loses the yards fouled: {way.fouls[-1]['name']}")
            return  # "clipping, we lose 15"
        if value in ("us", "them"):
            ours = self.custom.us
            if ours is not None and way.play_kind in (PlayKind.COIN_TOSS, PlayKind.TIMEOUT) and not way.fouls:
                way.settle_kind()
                if value == "them" and way.phrase.startswith("they") and way.fields.get("team") is not None:
                    return  # "won by home, they defer"
                named = ours if value == "us" else ours.opponents
                deferred = way.fields.get("choice") == "defer" and way.fields.get("team") is None
                if deferred and way.phrase in ("we", "they"):
                    named = named.opponents  # "defer, they receive"
                way.put("team", named)
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
        if way.phrase.endswith(" ball") and way.in_foul:
            way.last = "ball"  # "block in the back on them, ball at the 8"
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
