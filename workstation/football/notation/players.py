"""Players' numbers: which numbers of a line are worn by who did something, told by their place in it.

A number that is plainly a player's becomes the word "#", as ``#72`` is from the start; the table of words knows it as a
player, so that rows may use it ("# to #"). Where it may as well be yards or a yard line, both are read and asked about.
"""

from __future__ import annotations

import itertools
import re
from collections.abc import Callable, Collection
from dataclasses import dataclass, replace

from ..situation import Next, Situation
from .number_words import NUMBERS
from .tokens import PLAYER, Token, TokenKind
from .verbs import FORMS
from .words_of_players import (
    AND,
    BROUGHT_DOWN,
    CAUGHT_BY,
    COUNTED,
    DIRECTIONS,
    ENDED_AT,
    ENDED_OTHERWISE,
    HANDED,
    HIGH,
    KICKED,
    LOSS,
    MARKS,
    NO_YARDS,
    NOT_BY,
    NOT_COUNTED,
    OBJECTS,
    OF_TACKLES,
    ORDINALS,
    OWNERS,
    PENALTIES,
    PICKED,
    PLACED,
    PLURALS,
    POSITIONS,
    RAN,
    RECOVERIES,
    SEEKS,
    SET,
    STOPPED,
    TACKLED_BY,
    TACKLES,
    TAKE_YARDS,
    THROWN,
    TRY_YARDS,
    UNCAUGHT,
    UNNUMBERED,
)


@dataclass(frozen=True, slots=True)
class Players:
    """The tokens with "#" for each number that is plainly a player's; where in the text those start that may be one,
    and the pairs of numbers that may be who threw and who caught."""

    tokens: list[Token]
    perhaps: frozenset[int] = frozenset()
    passes: frozenset[int] = frozenset()


class _Numbers:
    """The numbers of one line while their roles are decided."""

    def __init__(self, tokens: list[Token], text: str, before: Situation, half: float,
            names_a_foul: Callable[[int], int], teams: Collection[tuple[str, ...]]) -> None:
        self.tokens, self.text, self.before, self.half = tokens, text, before, half
        self.foul_at, self.teams = names_a_foul, frozenset(name[-1] for name in teams)
        self.words = [token.text for token in tokens]
        self.plain: set[int] = set()
        self.perhaps: set[int] = set()
        self.dropped: set[int] = set()
        self.passes: set[int] = set()  # where pairs start that may be who threw and who caught
        low = text.lower()
        self.uncaught = UNCAUGHT.search(low) is not None
        self.fouled = any(names_a_foul(at) for at in range(len(tokens)))
        self.no_yards = (not self.fouled and NO_YARDS.search(low) is not None
            and ENDED_OTHERWISE.search(low) is None)

    # -- what stands where --------------------------------------------------------------------
    def word(self, at: int) -> str:
        return self.words[at] if 0 <= at < len(self.words) else ""

    def player(self, at: int) -> bool:
        """A number known to be a player's."""
        return self.word(at) == PLAYER or at in self.plain

    def bare(self, at: int) -> bool:
        """A number that stands for itself and may be on a jersey."""
        if at >= len(self.tokens):
            return False
        token = self.tokens[at]
        if token.kind is not TokenKind.NUMBER or not token.text.isdigit() or len(token.text) > 2:
            return False
        following = self.word(at + 1)
        sought = ((following in ("deep", "out") and self.word(at - 1) in OBJECTS)  # "finds 1 deep"
            or (following == "deep" and (self.word(at + 2) in ("for", "to", "down") or self.word(at - 2) in SEEKS)))
        sought = sought or (following == "tackles" and (at + 2 == len(self.tokens) or self.begins(at + 2)))
        if following in COUNTED and not sought and (following, self.word(at + 2)) not in NOT_COUNTED:
            return False
        if self.word(at - 1) == "cover" and float(token.text) < 10:
            return False  # "cover 3"
        if following == "from" and self.word(at + 2) == "there":
            return False  # "fifteen from there"
        if self.foul_at(at) > 1:
            return False  # "12 on the field"
        before = self.word(at - 1)
        of_theirs = (self.verb(at + 1) or self.opens(at) or self.word(at - 2) == "by" or float(token.text) > self.half
            or self.word(at - 2) in BROUGHT_DOWN
            or (self.word(at - 2) == "off" and self.word(at - 3).startswith("pick")))
        if before in PLACED or before in self.teams or (before in OWNERS and not of_theirs):
            return False
        if self.word(at - 1) == "and" and self.word(at - 2) in ORDINALS:
            return False  # "4th and 1"
        sign = self.text[token.start - 1 : token.start]
        return not (sign in ("+", "-", "'") or sign.isalpha())

    def either(self, at: int) -> bool:
        """A player's number, known to be one or not."""
        return self.player(at) or self.bare(at)

    def apart(self, at: int) -> str:
        """What stands between a token and the one before it."""
        return self.text[self.tokens[at - 1].end : self.tokens[at].start] if at else ""

    def begins(self, at: int) -> bool:
        """Whether a clause begins at a token."""
        return (not at or any(sign in self.apart(at) for sign in ",;:.!?(—–/…") or " - " in self.apart(at)
            or self.word(at - 1) in AND)

    def counts(self, at: int) -> bool:
        """A number that is no player's and names no coverage."""
        return (self.tokens[at].kind is TokenKind.NUMBER and not self.player(at)
            and self.word(at - 1) not in ("cover", "target"))

    def told_after(self, at: int) -> bool:
        """Whether yards, a place or a score are told behind a place."""
        rest = range(at, len(self.tokens))
        return any((self.counts(place) and place not in self.perhaps)
            or (self.words[place] in NUMBERS and self.words[place] != "one")
            or self.words[place] in ("yard", "gain", "loss", "nothing", "nowhere", "touchdown", "td", "midfield", "ng",
            "endzone") or self.words[place : place + 2] == ["end", "zone"] for place in rest)

    def told_before(self, at: int) -> bool:
        """Whether yards or a place are told before one."""
        return any((token.kind is TokenKind.NUMBER and not self.player(place)) or token.text in ("gain", "loss", "yard")
            for place, token in enumerate(self.tokens[:at]))

    def kicked_before(self, at: int) -> bool:
        """Whether the line tells of a kick before a place, or one is due."""
        return (self.before.next in (Next.KICKOFF, Next.SAFETY_FREE_KICK)
            or KICKED.search(" ".join(self.words[:at])) is not None)

    def behind(self, at: int, pattern: re.Pattern[str]) -> bool:
        """Whether such a word stands before a place with no number of yards between."""
        for place in range(at - 1, max(-1, at - 7), -1):
            if pattern.match(self.words[place]):
                return True
            if (self.tokens[place].kind is TokenKind.NUMBER and not self.player(place)) or self.words[place] in NUMBERS:
                return False
        return False

    def opens(self, at: int) -> bool:
        """Whether a number and its team open a clause, and a verb follows: "our 9 punted"."""
        return (self.word(at - 1) in OWNERS and self.begins(at - 1) and self.word(at + 1) in FORMS
            and self.word(at + 1) not in COUNTED)

    def take(self, *places: int) -> None:
        self.plain.update(places)

    def may_be(self, *places: int) -> None:
        self.perhaps.update(place for place in places if self.word(place) != PLAYER)

    def listed(self, at: int) -> int:
        """Take the numbers behind one: ``33 and 9``, ``33/9``; the place behind the last."""
        after = at + 1
        while after < len(self.tokens):
            step = 1 + (self.word(after) == "and")
            joined = step == 2 or self.apart(after).strip() in ("/", "&", "+")
            last = after + step - 1
            penalty = self.word(last) in PENALTIES and self.word(last + 1) in ("for", "on", "penalty", "more")
            if not joined or not self.either(last) or self.word(last + 1) in COUNTED or penalty:
                break
            self.take(last)
            after = last + 1
        return after

    # -- the roles ------------------------------------------------------------------------------
    def decide(self) -> None:
        """Give every number its role."""
        for rule in (self._marked, self._of_tackles, self._named_by, self._fouled, self._owned, self._thrown,
                self._ran, self._sought, self._subject, self._position, self._beside):
            for at in range(len(self.tokens)):
                if self.bare(at) and at not in self.plain:
                    rule(at)
        for at in range(len(self.tokens)):
            self._by_position(at)

    def _by_position(self, at: int) -> None:
        """``CB picks it off``, ``broken up by the corner``; ``corner 21`` is the number alone."""
        if self.word(at) not in UNNUMBERED:
            return
        if self.player(at + 1) and not self.apart(at + 1).strip():
            self.dropped.add(at)
            return
        first = at - (self.word(at - 1) in ("the", "a", "their", "our"))
        does = self.begins(first) and self.verb(at + 1) and not self.foul_at(at + 1)
        agent = self.word(first - 1) == "by" and (at + 1 == len(self.tokens) or self.begins(at + 1)
            or self.word(at + 1) in ("at", "on", "in", "for"))
        if not self.fouled and (does or agent) and (first < at or self.word(at) != "safety"):
            self.take(at)

    def _marked(self, at: int) -> None:
        """``no. 12``, ``number 12``, ``jersey 12``."""
        place = at - 1
        if self.word(place) in MARKS:
            self.take(at)
            while self.word(place) in MARKS:
                self.dropped.add(place)
                place -= 1

    def _named_by(self, at: int) -> None:
        """``by 22``, ``by 33 and 9``, ``under 99``."""
        lead = self.word(at - 2)
        leads = lead in NOT_BY and (lead not in ("up", "down") or self.begins(at - 2)) and not (
            lead in ("missed", "wide") and float(self.words[at]) > HIGH)
        stopped = lead == "short" and self.word(at - 3) in ("stopped", "tackled", "pulled", "dropped", "caught")
        theirs = self.word(at - 1) in OWNERS and self.word(at - 2) == "by"  # "sacked by their 55"
        if (self.word(at - 1) in ("by", "under") and (stopped or not leads)) or theirs:
            self.take(at)
            self.listed(at)

    def _of_tackles(self, at: int) -> None:
        """``tackle 6``, ``(tkl 54)``; ``17 with the tackle``, ``27 on the stop``, ``21 in coverage``."""
        listed = self.word(at - 1) in TACKLED_BY and at > 1 and (self.tokens[at - 2].kind is TokenKind.NUMBER
            or self.word(at - 2) in ("gain", "yards", "yds", "loss"))
        of_line = self.word(at - 2) in ("off", "over", "left", "right")
        if self.word(at - 1) in TACKLES and (listed or self.begins(at - 1)) and not of_line:
            self.take(at)
            self.listed(at)
            return
        if not self.begins(at):
            return
        after = self.listed(at) if self.word(at + 1) == "and" else at + 1
        what = after + (self.word(after) in ("with", "on", "in", "makes", "make", "made", "gets", "for"))
        what += self.word(what) == "on"
        what += self.word(what) in ("the", "a", "on")
        what += self.word(what) in ("big", "solo", "first", "open")
        verb = self.word(after) in ("tackles", "tackled", "assists") and (after + 1 == len(self.tokens)
            or self.begins(after + 1))
        there = self.words[after : after + 2] in (["right", "there"], ["there", "immediately"]) or (
            self.word(after) == "there" and (after + 1 == len(self.tokens) or self.begins(after + 1)))
        if verb or there or (what > after and self.word(what) in OF_TACKLES):
            self.take(at)

    def _fouled(self, at: int) -> None:
        """``holding on 66``, ``72 false start``, ``93 roughs the passer``."""
        named = any(self.foul_at(place) for place in range(at))
        if named and self.word(at - 1) in ("on", "against", "number"):
            self.take(at)
            return
        used = self.foul_at(at + 1)
        if used and self.begins(at):
            verb = any(word.endswith("s") and word in FORMS for word in self.words[at + 1 : at + 1 + used])
            if verb or self.word(at) not in PENALTIES:
                self.take(at)

    def _owned(self, at: int) -> None:
        """``their 21 picks it off``, ``42 of the defense recovers``."""
        placed = self.word(at - 2) in ("to", "at", "from", "the", "on")
        far = float(self.words[at]) > self.half
        ends = self.word(at + 1) in ("at", "for", "in", "behind", "back")
        stopped = self.word(at - 2) in BROUGHT_DOWN and ends
        picked = self.word(at - 2) == "off" and self.word(at - 3).startswith("pick")
        if self.word(at - 1) in OWNERS and ((not placed and self.verb(at + 1)) or far or stopped or picked
                or self.opens(at)):
            self.take(at)
            return
        place = at + 1
        if self.word(place) in ("of", "for", "from", "on"):
            place += 1 + (self.word(place + 1) == "the")
            if self.word(place) in ("offense", "defense", "home", "visitors", "kickers", "receivers") and (
                    self.begins(at)):
                self.take(at)

    def gains_to(self, at: int, place: int) -> bool:
        """Whether the first of two numbers may be a gain that leads to the second as a yard line."""
        if self.before.ball_on is None:
            return True
        spot, gain = self.before.ball_on + float(self.words[at]), float(self.words[place])
        if gain > self.half:
            return False
        return min(abs(spot - gain), abs(2 * self.half - spot - gain)) < 1.1

    def _thrown(self, at: int) -> None:
        """``12 to 84 for 14``, ``pass to 84``, ``handoff to 22, 5 yards``, ``88 from 12 for 14``, ``12 for 80``."""
        link = self.word(at - 1)
        passer = at - 2
        if link == "to" and self.kicked_before(at) and self.word(at + 1) in ("at", "on"):
            place = at + 2 + (self.word(at + 2) == "the")
            place += self.word(place) in ("own", "opp", "our", "their")
            if self.word(place).isdigit():
                self.take(at)  # "kickoff to 88 at the 3"
        if link not in ("to", "from", "for") or self.kicked_before(at):
            return
        far = float(self.words[at]) > self.half
        apart = passer < 0 or not self.either(passer) or self.word(passer - 1) == "for"
        pair = not apart and (far or self.begins(passer) or self.word(passer) == PLAYER
            or self.player(passer) or self.word(passer - 1) in ("from", "qb", "quarterback")
            or (link == "to" and self.behind(passer, THROWN)))
        told = self.told_after(at + 1)
        if link == "for":
            if self.word(at - 2) == "one" and self.behind(at - 2, THROWN) and told:
                self.take(at)  # "lofts one for 84, caught at the 45"
            too_far = far or (self.before.ball_on or 0.0) + float(self.words[at]) > 2 * self.half
            if self.behind(at - 1, THROWN) and not {"caught", "complete"} & set(self.words[:at]) and NO_YARDS.search(
                    " ".join(self.words[at + 1 :])) is not None:
                self.may_be(at)  # "threw deep left for 9 and it fell incomplete"
            if too_far and (self.uncaught or PICKED.search(self.text.lower())):
                self.take(at, *((passer,) if pair else ()))
            return
        if pair:
            ran = link == "to" and self.behind(passer, RAN)
            number = self.words[passer] != PLAYER
            if not ran and (far or (told and not (number and self.gains_to(passer, at) and not self._for(at + 1)))
                    or (self.uncaught and link == "to")):
                self.take(at, passer)
            elif not ran and link == "to" and number and not told and self.behind(passer, THROWN):
                self.may_be(at)  # "hitch 5 to 11"
            elif not ran:
                self.may_be(passer)
                self.passes.add(self.tokens[passer].start)
            return
        if link == "to" and far and self.word(passer - 1) == "for" and self.behind(passer - 1, THROWN):
            self.take(at)  # "pass for 12 to 88"
            return
        if link == "from" and not told and not far and not self.uncaught:
            return
        thrown = self.behind(at - 1, THROWN)
        given = thrown or self.behind(at - 1, HANDED)
        if given and (told or far or (thrown and self.uncaught)):
            self.take(at)
        elif given:
            self.may_be(at)

    def _for(self, at: int) -> bool:
        """Whether "for" and yards stand at a place: ``for 4``, ``for a loss of 2``, ``for no gain``."""
        if self.word(at) != "for":
            return False
        follows = self.words[at + 1 : at + 4]
        return bool(follows) and (follows[0] in NUMBERS or follows[0].isdigit() or follows[:1] == ["minus"]
            or follows[:2] in (["no", "gain"], ["a", "gain"], ["a", "yard"], ["a", "couple"])
            or (tuple(follows) == LOSS) or follows[0] in ("nothing", "zero") or follows[0].startswith("-"))

    def _ran(self, at: int) -> None:
        """``22 for 8``, ``run 22 for 4``, ``sweep 22 no gain``, ``run 22 4 yards``, ``carry 35, 2 yards``."""
        points = self.word(at + 3) in ("points", "pts", "point")
        given = self.behind(at - 1, HANDED) or self.behind(at - 1, THROWN)
        who = at - 1 - (self.word(at - 1) == "to" and given)
        verb = self.word(who)
        told = (self.begins(at) or RAN.match(verb) or HANDED.match(verb) or THROWN.match(verb)
            or verb in DIRECTIONS or who < at - 1)
        if self._for(at + 1) and not points and told and not self.kicked_before(at):
            self.take(at)
            return
        after = self.tokens[at + 1] if at + 1 < len(self.tokens) else None
        sent = (RAN.match(self.word(at - 1)) and self.word(at + 1) in DIRECTIONS and not self.kicked_before(at)
            and self.word(at + 1) not in ("on", "in", "going", "trying", "running"))
        if sent and (self.told_after(at + 2) or self.words[-2:] in (["for", "one"], ["just", "one"])):
            self.take(at)  # "ran 22 left for three"
            return
        carrier = not self.fouled and (RAN.match(self.word(at - 1)) or HANDED.match(self.word(at - 1)))
        again = after is not None and (carrier or "," not in self.apart(at + 1)) and (
            (after.kind is TokenKind.NUMBER and not self.player(at + 1) and (self.word(at + 2) in COUNTED
            or "+" in self.apart(at + 1) or after.text.startswith("-")))
            or self.words[at + 1 : at + 3] in (["gain", "of"], ["loss", "of"])
            or (float(self.words[at]) > HIGH and (self.words[at + 1 : at + 3] == ["no", "gain"]
            or (self.word(at + 1) in ("gain", "loss") and self.word(at + 2).isdigit())))
            or self.word(at + 1) in ("minus", "gains", "loses", "gets"))
        nothing = self.words[at + 1 :] in (["nothing"], ["no", "gain"], ["nothing", "there"], ["stuffed"])
        yards = (after is not None and after.kind is TokenKind.NUMBER and "," in self.apart(at + 1)
            and (at + 2 == len(self.tokens) or self.begins(at + 2) or self.word(at + 2) in COUNTED))
        manner = HANDED.match(self.word(at - 1)) or (yards and THROWN.match(self.word(at - 1)))
        if not self.fouled and manner and (nothing or yards):
            high = float(self.words[at]) > HIGH and not (yards and self.gains_to(at, at + 1))
            (self.take if high else self.may_be)(at)  # "keeper 12, nothing", "dive 33, 4"
            return
        bare_yards = (after is not None and after.kind is TokenKind.NUMBER and not self.player(at + 1) and "," not in
            self.apart(at + 1) and (at + 2 == len(self.tokens) or self.begins(at + 2)) and not self.fouled
            and float(self.words[at]) > HIGH and abs(float(after.text)) < HIGH)
        if bare_yards and (RAN.match(before := self.word(at - 1)) or HANDED.match(before) or THROWN.match(before)):
            self.may_be(at)  # "run 24 4"
            return
        counted = again and after is not None and after.kind is TokenKind.NUMBER and self.word(at - 1) not in (
            "gain", "of", "for", "loss", "to", "at", "from")
        before = self.word(at - 1)
        if again and (self.begins(at) or counted or RAN.match(before) or HANDED.match(before)
                or before in DIRECTIONS) and not self.kicked_before(at) and self.told_after(at + 1):
            self.take(at)
        elif THROWN.match(before) and THROWN.match(self.word(at + 1)) and self.told_after(at + 2):
            self.take(at)  # "12 pass 83 comp 19"

    def _sought(self, at: int) -> None:
        """``looking for 11``, ``intended for 82``, ``finds 88``, ``sacks 12``."""
        before, lead = self.word(at - 1), self.word(at - 2)
        if ((before in ("for", "at", "to") and lead in SEEKS)
                or (before == "to" and lead in ("gets", "got") and "sack" in self.text.lower())
                or before in ("intended", "target", "targeted", "targeting")
                or (self.begins(at) and self.word(at + 1) in ("the", "was", "is", "intended", "target")
                    and "target" in self.words[at + 1 : at + 5])
                or (before == "with" and lead.startswith("connect"))
                or (before in OBJECTS and not self.kicked_before(at))
                or (before == "with" and not self.kicked_before(at) and self.told_after(at + 1)
                    and (self.behind(at - 1, HANDED) or self.behind(at - 1, RAN)))
                or (before == "missed" and THROWN.search(" ".join(self.words[at + 1 :])) is not None)
                or (before in STOPPED and (self._for(at + 1) or self.words[at + 1 : at + 2] in (["at"], ["in"]))
                    and not self.kicked_before(at))):
            self.take(at)

    def _beside(self, at: int) -> None:
        """``complete 10-81``, ``dropped by the back, 28``, ``4 yards for 33``, ``recovered by own man 75``."""
        before, after = self.word(at - 1), self.word(at + 1)
        lead = self.words[max(0, at - 3) : at - 1]
        far = float(self.words[at]) > self.half
        joined = self.apart(at + 1) == "-" and after.isdigit() if after else False
        on_try = (self.before.next is Next.TRY and float(self.words[at]) > TRY_YARDS
            and before not in ("for", "from", "at", "zone") and not self.kicked_before(at))
        thrown = joined and not self.kicked_before(at) and (self.behind(at, THROWN) or self.uncaught
            or (self.begins(at) and self.told_after(at + 2)))
        objects = ("hands", "front", "short", "reach")
        alone = (1 < at < len(self.tokens) - 1 and self.begins(at) and self.begins(at + 1) and not self.fouled
            and HANDED.search(" ".join(self.words[:at])) is not None and self.words[at + 1] in ENDED_AT
            and any(word.isdigit() for word in self.words[at + 1 :]) and not any(self.gains_to(at, place)
                for place in range(at + 1, len(self.tokens)) if self.word(place).isdigit()))
        if alone:
            self.may_be(at)  # "counter right, 46, down at their 39"
            return
        idle = self.no_yards and ((before not in ("for", "at", "gain", "of") and not before.startswith("inc"))
            or lead[-1:] in [[each] for each in objects])
        credited = before == "for" and not self.kicked_before(at) and (
            lead[-1:] in (["yards"], ["yard"], ["yds"], ["yd"]) or lead in (["no", "gain"], ["no", "yards"]))
        recovered = (RECOVERIES.match(before) is not None and (far or after in ("at", "own", "opp"))) or (
            CAUGHT_BY.match(before) is not None and after == "at")  # "picked 21 at their 10"
        last = at + 1 == len(self.tokens) and self.begins(at)
        flagged = far and ((last and "safety" in self.words) or before in ("def", "defense", "offense", "team")
            or (before in ("us", "them", "d", "off", "home", "visitors")
                and any(self.foul_at(place) == at - 1 - place for place in range(max(0, at - 5), at - 1)))
            or any(self.foul_at(place) == at - place for place in range(max(0, at - 4), at)))
        beaten = before in ("over", "past", "behind") and (at + 1 == len(self.tokens) or self.begins(at + 1)) and (
            self.uncaught or (self.told_before(at - 1) and "touchdown" in self.words))
        if beaten or thrown or idle or credited or recovered or flagged or on_try:
            self.take(at, *((at + 1,) if thrown else ()))

    def verb(self, at: int) -> bool:
        """Whether a verb of doing stands at a place: its present, or its past where no yards can stand before it."""
        word = self.word(at)
        if not word.isalpha() or (word in COUNTED and (word, self.word(at + 1)) not in NOT_COUNTED):
            return False
        if word == "fair" and self.word(at + 1) in ("catches", "caught"):
            return self.word(at + 1) == "catches"
        if word in PLURALS or (word.endswith("s") and word in FORMS):
            return True
        if word.endswith("s") and not word.endswith("ss") and len(word) > 3 and word not in ("yards", "less"):
            return True
        if self.kicked_before(at):
            return False
        if word.endswith("ing"):
            told = self.told_after(at + 1) or self.uncaught or self.told_before(at - 1)
            return not self.foul_at(at) and told
        if word.endswith("ed") and self.word(at + 1) == "by":
            return True
        if word in TAKE_YARDS or word not in FORMS:
            return False
        past = word != FORMS[word][0]
        return past and (self.told_after(at + 1) or self.word(at + 1) in ("it", "him", "the", "by", "his", "a"))

    def _subject(self, at: int) -> None:
        """``22 carries``, ``44 brings him down``, ``28 left side, gain of 5``, ``33 and 9 combine``."""
        if not self.begins(at):
            return
        after = self.listed(at) if self.verb(at + 3) and self.word(at + 1) == "and" else at + 1
        named = self.word(after) in POSITIONS and not self.apart(after).strip()
        does = (self.verb(after) or (self.word(after) in ("hit", "found") and self.player(after + 1))) and (
            not self.apart(after).strip())
        if does or (named and self.told_after(after + 1) and not self.kicked_before(at)):
            self.take(at)
            return
        noun = self.word(after)
        if (RAN.match(noun) or THROWN.match(noun) or HANDED.match(noun) or noun in FORMS) and (
                noun not in TAKE_YARDS and not self.kicked_before(at) and not self.kicked_before(after + 2)):
            fouled = self.fouled and self.words[at] in PENALTIES
            places = [place for place in range(after, len(self.tokens)) if self.bare(place)
                or self.word(place).isdigit()]
            either = fouled or any(self.gains_to(at, place) for place in places)
            if not either and (self.told_after(after + 1) or self.uncaught):
                self.take(at)
            else:
                self.may_be(at)
            return
        ahead = self.word(after)
        glued = after < len(self.tokens) and self.tokens[after].start == self.tokens[after - 1].end  # "11lt"
        if not glued and ahead in DIRECTIONS and self.word(after + 1) != "first":
            gains = any(self.word(place).isdigit() and self.gains_to(at, place)
                for place in range(after, len(self.tokens)))
            spot = ahead in ("on", "in") and self.word(after + 1).isdigit()
            if self.told_after(after + 1) and not gains and not spot:
                self.take(at)
            else:
                self.may_be(at)
        elif not at and ahead == "to" and self.word(after + 1) == "the" and self.tokens[after + 2 : after + 3] and (
                self.word(after + 2).isdigit()) and not self.gains_to(at, after + 2) and not self.kicked_before(at):
            self.take(at)

    def _position(self, at: int) -> None:
        """``QB 12``, ``fullback 45``, ``defender 25``."""
        if self.word(at - 1) not in POSITIONS or self.apart(at).strip():
            return
        if (self.told_after(at + 1) or float(self.words[at]) > self.half or self.uncaught
                or self.word(at - 2) in ("on", "by", "the") or self.verb(at + 1)):
            self.take(at)
        else:
            self.may_be(at)


def players_known(tokens: list[Token], text: str, before: Situation, half: float,
        names_a_foul: Callable[[int], int], teams: Collection[tuple[str, ...]]) -> Players:
    """The players' numbers of a line.

    ``half`` is the highest yard line; ``names_a_foul`` tells how many tokens a foul's name takes at a place;
    behind the name of one of the *teams* a number is a yard line.
    """
    if before.next is Next.COIN_TOSS or not any(token.kind is TokenKind.NUMBER
            or token.text in UNNUMBERED for token in tokens):
        return Players(tokens)
    if any(token.text in ("exact", "exactly") or (token.text == "set" and following.text in SET)
            for token, following in itertools.pairwise(tokens)):
        return Players(tokens)
    numbers = _Numbers(tokens, text, before, half, names_a_foul, teams)
    numbers.decide()
    if not numbers.plain and not numbers.perhaps:
        return Players(tokens)
    kept: list[Token] = []
    perhaps: set[int] = set()
    for at, token in enumerate(tokens):
        if at in numbers.dropped:
            continue
        if at in numbers.plain and token.text != PLAYER:
            token = replace(token, kind=TokenKind.LETTERS, text=PLAYER)
        elif at in numbers.perhaps:
            perhaps.add(token.start)
        kept.append(token)
    return Players(kept, frozenset(perhaps), frozenset(numbers.passes))
