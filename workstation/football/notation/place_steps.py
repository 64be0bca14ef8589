"""Steps of the reader over numbers and places: distances, yard lines with their side, times, players' numbers."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from ..field import Team, parse_spot
from ..plays import Outcome, PlayKind, Side
from .custom import Ahead
from .draft import GAINING, KICKS, Chip, Draft, Refused
from .kinds import set_kind
from .line import RULE_LETTERS, SIGNS, WHERE
from .measures import number
from .number_words import number_at
from .places import spot_item
from .tokens import TokenKind
from .word import Role
from .word_steps import OPP_WORDS, OWN_WORDS, WordSteps

_BEHIND = tuple(tuple(phrase.split()) for phrase in ("behind the line of scrimmage", "behind the line",
    "behind the los", "deep in the backfield", "in the backfield", "back of the line"))
_IN_THE_END_ZONE = tuple(tuple(phrase.split()) for phrase in ("in the end zone", "into the end zone", "in end zone",
    "in the endzone"))
_TEAMS = {"home": Team.HOME, "h": Team.HOME, "visitors": Team.VISITORS, "visitor": Team.VISITORS,
    "visiting": Team.VISITORS, "v": Team.VISITORS, "away": Team.VISITORS, "guests": Team.VISITORS}
_USUAL_GAIN = 30.0  # yards; a longer gain is told in yards (judgement, no source)
_SHORT_OF_THE_LINE = 0.5  # yards
_ENDED = ("at", "stopped", "tackled", "down", "downed", "dropped", "spotted", "marked", "dead")
_LONG_SIDES = ("offense", "kicker", "kickers", "receivers", "receiver", "defense")
_SPOT_SLOTS = ("gain", "kick_to", "return", "length", "caught", "event", "spot", "foul spot", "enforced from",
    "said ball_on", "put in play")


class PlaceSteps(WordSteps):
    """The drafts after the number or place at a place of the line."""

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

    def _or_another(self, draft: Draft, at: int) -> Iterator[tuple[Draft, tuple[int, int]]]:
        """"three yards, maybe four": both are asked, the one said first before the other."""
        found = number_at(self.tokens, at + 1) if at + 1 < len(self.tokens) else None
        if found is None or found[0] <= 0 or draft.gain is None:
            return
        value, used = found
        last = at + 1 + used
        last += last < len(self.tokens) and self.tokens[last].text in ("yard", "yards", "yd", "yds")
        gain = draft.fields["gain"]
        if abs(abs(gain) - value) > 3:
            return
        said = self.text[self.tokens[at].start : self.tokens[last - 1].end]
        for taken, penalty in ((gain, 1), (value if gain >= 0 else -value, 2)):
            way = draft.copy()
            way.prep, way.the = "", False
            way.fields["gain"] = taken
            way.fill(f"{said!r}: it may be the one or the other", penalty)
            way.chips.append(Chip(said, self.tokens[at].start, self.tokens[last - 1].end))
            yield way, (last, 0)

    def _amount(self, draft: Draft, at: int, value: float, used: int,
            about: bool) -> Iterator[tuple[Draft, tuple[int, int]]]:
        way, end = draft.copy(), self.tokens[at + used - 1].end
        said = self.text[self.tokens[at].start : end]
        try:
            for taken in number(way, value, said, True, False, self.custom.kicks, self.ahead(at + used)):
                taken.chips.append(Chip(f"{value:g} yards" if value != 1 else "1 yard", self.tokens[at].start, end))
                if about and not (value == draft.before.yards_to_gain and value == 1):
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
        last = after == len(self.tokens) - 1
        if yards and last and not behind and not draft.in_foul and self.tokens[after].text in ("behind", "back"):
            behind = 1  # "one yard behind"
        slots = ("gain", "", "event", "spot") if draft.holder() is Side.OFFENSE else ("gain", "")
        if behind and draft.kind in (*GAINING, None) and not draft.gain_said and draft.slot in slots:
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
        if (signed := self.signed_line(at)) is not None and not yards and draft.said is None:
            yield from self._take_signed(draft, at, signed, after)
            return
        if not yards and not line and (gains := self._either_gain(draft, at, value)):
            for penalty, gain in enumerate(gains, 1):
                way = draft.copy()
                way.fields["gain"], way.gain_said, way.slot = gain, True, ""
                way.fill(f"+{token.text} may be a yard line or a distance", penalty)
                way.chips.append(Chip(_gained(gain), token.start, self.tokens[after - 1].end))
                yield way, (after, 0)
            return
        if token.start in self.players.passes and draft.kind in (None, PlayKind.PASS) and draft.said is None:
            way = draft.copy()
            if way.kind is None:
                set_kind(way, PlayKind.PASS, Outcome.COMPLETE)
            passed = self.text[token.start : self.tokens[at + 2].end]
            way.fill(f"{passed} was taken for who threw and who caught", 3)
            yield way, (at + 3, 0)
        if token.start in self.players.perhaps and not (yards or line) and draft.said is None:
            way = draft.copy()
            way.fill(f"{token.text} was taken for a player's number")
            way.prep, way.the = "", False
            yield way, (after, 0)
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
        if draft.kind in (PlayKind.SACK, PlayKind.KNEEL) and self.text[token.start - 1 : token.start] == "+":
            way.doubt(f"a {draft.kind.value} gains nothing")
        ahead = self.ahead(after)
        if ahead.role == Role.RETURN and not self.of_return(after):
            ahead = Ahead()
        try:
            ways = number(way, value, token.text, yards, line, self.custom.kicks, ahead)
        except Refused as error:
            self._refused = str(error)
            return
        if ahead.role == Role.RETURN and self.tokens[after - 1].text == "yard":
            ways = [taken for taken in ways if taken.pending is not None] or ways  # "18 yard return" is no kick of 18
        for taken in ways:
            taken.chips = [*draft.chips, Chip(self._number_chip(taken, draft, token.text, yards), token.start,
                self.tokens[after - 1].end)]
            yield taken, (after, 0)

    def _either_gain(self, draft: Draft, at: int, value: float) -> tuple[float, ...]:
        """The gains that "+31" behind a run or pass can mean, where it can be a yard line of plus territory too."""
        start = draft.before.ball_on
        if (self.text[self.tokens[at].start - 1 : self.tokens[at].start] != "+" or start is None or draft.slot != "gain"
                or draft.kind not in (PlayKind.RUN, PlayKind.PASS) or draft.prep or draft.in_foul or draft.loss):
            return ()
        to_there, to_goal = self.rulebook.field_length - value - start, self.rulebook.field_length - start
        return (to_there, value) if value >= 10 and 0 < to_there <= _USUAL_GAIN and value <= to_goal else ()

    def _take_signed(self, draft: Draft, at: int, side: Side, after: int) -> Iterator[tuple[Draft, tuple[int, int]]]:
        """A yard line in plus or minus territory, which is the offense's to say; on a return both are asked."""
        value = abs((number_at(self.tokens, at) or (0.0, 1))[0])
        if value > self.rulebook.field_length / 2:
            self._refused = f"there is no {value:g}-yard line; yard lines run from 0 to 50"
            return
        turned = draft.returned or draft.slot == "return"
        for penalty, which in enumerate((side, side.other) if turned else (side,), 1):
            spot = value if which is Side.OFFENSE else self.rulebook.field_length - value
            for taken, place in self._take_spot(draft, spot, at, self.tokens[at].start, after):
                if turned:
                    taken.fill("whose plus and minus was not said", penalty)
                yield taken, place

    def _longest(self, phrases: Iterable[tuple[str, ...]], at: int) -> int:
        """How many tokens the first of these phrases takes that stands at a place; 0 if none does."""
        return next((len(words) for words in phrases if self.words_at(at, len(words)) == words), 0)

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
            if (owner := self.owner_before(at)) is not None:
                return owner, 2
            if text in ("our", "their"):
                ours = self.custom.us if self.custom.us is not None else self.before.offense
                used = 1 + (two[1:] == ("own",))
                if ours is not None:
                    return (ours if text == "our" else ours.opponents), used
                return (Side.OFFENSE if text == "our" else Side.DEFENSE), used
            before = self.tokens[max(0, at - 2) : at]
            fouled = (draft.in_foul and bool(draft.fouls)
                and any(word.text in ("on", "by", "against") for word in before))
            if two in (("kicking", "team"), ("punting", "team")) and not fouled:
                return Side.OFFENSE, 2
            if two == ("receiving", "team") and not fouled:
                return Side.DEFENSE, 2
        if text in _LONG_SIDES and draft.prep not in ("to", "at", "from", "in"):
            return None
        if text in OWN_WORDS:
            return OWN_WORDS[text], 1
        if text in OPP_WORDS:
            return OPP_WORDS[text], 1
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
        if not offset and (signed := self.signed_line(at + 1)) is not None and token.text in SIGNS:
            for taken, place in self._take_signed(draft, at + 1, signed, at + 2):
                yield taken, place
            return
        if token.text[offset:] == "midfield" or (not offset and self.words_at(at, 2) == ("mid", "field")):
            yield from self._take_spot(draft, length / 2, at, token.start + offset, at + 1 + (token.text == "mid"))
            return
        if (not offset and self.words_at(at, 2) == ("goal", "line") and (draft.play_kind in KICKS
                or draft.slot == "caught") and draft.slot in ("kick_to", "caught")):
            yield from self._take_spot(draft, length, at, token.start, at + 2)
            return
        if (not offset and self.words_at(at, 2) == ("goal", "line") and draft.prep in ("to", "at")
                and ((draft.slot == "event" and draft.kind in (None, *GAINING))
                or (draft.slot == "gain" and draft.kind in GAINING and self.tokens[max(0, at - 2)].text in _ENDED))):
            for taken, place in self._take_spot(draft, length - _SHORT_OF_THE_LINE, at, token.start, at + 2):
                taken.fill("the goal line as just short of the one to score at")
                yield taken, place
            return
        who: Side | Team | None = None
        zone, after = False, at
        text = token.text[offset:]
        if (len(text) > 1 and text not in OWN_WORDS and text not in OPP_WORDS and text not in _TEAMS
                and (match := next((side for side in ("opp", "own", "op", "ow", "o", "v", "h") if text.startswith(side)
                and text[len(side) :] in ("e", "ez", "endzone")), None))):
            who = OPP_WORDS.get(match) or OWN_WORDS.get(match) or _TEAMS[match]
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
        if text in _LONG_SIDES and "," in self.text[token.end : self.tokens[min(after, len(self.tokens) - 1)].start]:
            return  # "on the offense, fifteen yards"
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
        team = token.text in ("offense", "defense", "kickers", "receivers") or self.words_at(at + 1, 1) == ("team",)
        if draft.in_foul and draft.fouls and team and not draft.prep:
            return  # "holding, offense 10"
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


def _gained(gain: float) -> str:
    from ..field import spoken_yards

    return f"gain {spoken_yards(gain)}" if gain > 0 else f"loss {spoken_yards(-gain)}" if gain else "no gain"
