"""One typed line: its tokens, and what stands at each place of it, whatever was read before."""

from __future__ import annotations

import re
from dataclasses import replace

from ..field import Team
from ..plays import Side
from ..rulebook import Rulebook
from ..situation import Situation
from .asides import asides
from .credit import credit_at
from .custom import Ahead, Custom
from .everyday import SIDES, passed_at
from .lexicon import Lexicon, lexicon
from .number_words import NUMBERS
from .people import people_in
from .players import players_known
from .tokens import Token, TokenKind, split
from .word import PLUS, Role

_LONGEST_CHAIN = 7  # letters of short forms run together
RULE_LETTERS = {"A": Side.OFFENSE, "K": Side.OFFENSE, "B": Side.DEFENSE, "R": Side.DEFENSE}
WHERE = ("to", "at", "from", "in")
_TERRITORY = tuple((tuple(f"{where} {whose} {what}".split()), side) for where, what in (("in", "territory"),
    ("on", "side"), ("into", "territory"), ("in", "half")) for whose, side in (("our", "us"), ("our own", "us"),
    ("their", "them"), ("their own", "them"), ("enemy", ""), ("opposing", ""), ("opponent", "")))
"""Behind a yard line: whose side of the field it is on."""
_HOW_MANY = ("one", "two", "three", "couple", "some", "several", "another")
"""Before "of" and a side: how many of its players it was, which nothing follows from."""
_COUNTED = ("yards", "yard", "yd", "yds", "yarder", "line", "yardline", "points", "point", "pts", "seconds", "plays")
"""Behind a number that is no player's."""
_BEFORE_PLAYERS = ("to", "by", "on", "from", "and", "but", "qb", "run", "rush", "r", "p", "pass", "sack", "sacked",
    "punt", "kickoff", "ko", "fumble", "hits", "finds", "throws", "catch", "def", "defense", "off", "offense", "rb",
    "tackle", "tkl", "holding", "hold", "dpi", "opi", "pi", "fs", "rtp", "pf", "offside", "encroachment", "scramble",
    "sneak", "kneel", "spike", "int", "pick", "muff", "fg", "goal", "xp", "pat", "inc", "incomplete", "complete",
    "team", "screen", "toss", "draw", "sweep", "option", "counter", "dive", "scr", "when", "as", "then", "out", "with",
    "linebacker", "corner", "safety", "guard", "receiver", "quarterback", "end", "tailback", "fullback", "penalty")
"""Words behind which a number may be a player's."""
_BEFORE_THE_LAST = ("by", "on", "to", "qb", "rb", "tkl", "tackle", "def", "defense", "offense", "guard", "end",
    "receiver", "corner", "linebacker", "safety", "conduct", "mask", "foul", "fouls", "grounding", "start",
    "interference", "opi", "dpi", "unsportsmanlike", "encroachment", "offside", "formation", "motion", "shift",
    "roughing")
"""The same at the end of a line."""
_PASSERS = ("quarterback", "qb", "passer")
SIGNS = ("plus", "minus")
_RETURNED = ("ret", "rtn", "return", "returned")
_PLACING = ("to", "at", "the", "from", "on", "rec", "recovered", "recovery", "recovers",
    "int", "pick")
_LETTERED = ("X", "Y", "Z", "H", "F", "DE", "DT", "NT", "LB", "CB", "SS", "FS", "LT", "RT", "LG", "RG")
"""Positions by their letters, where other words are spelled so too."""
_MOVED = ("jumped", "jumps", "jump", "moved", "moves", "flinched", "flinches", "early", "lined", "picks", "picked",
    "intercepts", "breaks", "broke", "knocks", "knocked", "tips", "tipped", "bats", "batted", "recovers", "recovered",
    "scoops", "scooped", "falls", "fell", "drops", "dropped")
_DEEDS = {role.value for role in (Role.RECOVERED, Role.FOUL, Role.EVENT, Role.RETURN, Role.SCORE)} | {"timeout"}
"""What a side that stands before it did: such a side is not passed over."""


LIGHT = (Role.FILLER, Role.PREPOSITION, Role.SIDE, Role.TEAM, Role.MANNER, Role.CAUGHT, Role.CLAIM, Role.GAIN,
    Role.YARDS, Role.SLOT, Role.END_ZONE)
"""What a word does that may be passed over, as a question, where the grammar has no use for it; a kind of play only
where it is told by a verb: "he ran over"."""
DENIES = re.compile(r"^(not|no|nobody|never|none|nothing|without|illegal|neither|nor|noone|un\w+|in?complete\w*)$|n't$")
"""Words that are never passed over, whatever they do."""
_HEAVY = (Role.FOUL, Role.FLAG, Role.FOUL_DETAIL, Role.BOTH, Role.BOTH_TEAMS, Role.NULLIFIED, Role.RECOVERED,
    Role.EVENT, Role.KIND, Role.OUTCOME, Role.MISSED, Role.RETURN, Role.SCORE, Role.PICK_SIX, Role.POSSESSION,
    Role.TWO_POINT, Role.KICK, Role.SET, Role.SAID, Role.EXACT)
"""What is never passed over, even where it finds no use."""
_OF_WHOM = ("on", "by", "against", "to")


class Line:
    """The line under a rulebook and a staff's custom. What a word does is :class:`~.parser.Parser`'s to say."""

    def __init__(self, text: str, before: Situation, rulebook: Rulebook, custom: Custom) -> None:
        self.text, self.before, self.rulebook, self.custom = text, before, rulebook, custom
        self.words: Lexicon = lexicon(rulebook)
        self.mixed_case = text.upper() != text
        self.names = _names(custom)
        teams = frozenset(part for name in self.names for part in name)
        self.tokens, self.people = people_in(_timeouts(_without_counts(split(text)), text), text, self.words, teams)
        self.players = players_known(self.tokens, text, before, rulebook.field_length / 2, self._foul_at, self.names)
        self.tokens = list(self.players.tokens)
        self.plain_text = text.lower()
        self._take_out_credit()
        self._roles: dict[int, str] = {}
        self.passes_known = False  # any known word that tells nothing of weight may be passed over
        self.passes_any = False  # and a number or a known word that finds no use

    def _take_out_credit(self) -> None:
        """Take out the clauses that only tell who made the stop or the block, where something else was said."""
        beside = asides(self.tokens, self.text, self.before.yards_to_gain)
        self.denied = frozenset(aside.denies for aside in beside if aside.denies)
        self._take_out([(aside.first, aside.after) for aside in beside])
        places = credit_at(self.tokens, self.text)
        if not self._says_a_kind(places):  # "a defender pulled the quarterback down": a sack
            places = [(first, after) for first, after in places
                if not any(token.text in _PASSERS for token in self.tokens[first:after])]
        self._take_out(places)

    def _says_a_kind(self, places: list[tuple[int, int]]) -> bool:
        """Whether a kind of play is said outside of some places."""
        within = {at for first, after in places for at in range(first, after)}
        found = (self.words.phrase_at(self.tokens, at) for at in range(len(self.tokens)) if at not in within)
        return any(word.role in (Role.KIND, Role.MANNER, Role.KICK) for each in found if each for word in each[1])

    def _take_out(self, places: list[tuple[int, int]]) -> None:
        if sum(after - first for first, after in places) == len(self.tokens):
            return
        for first, after in reversed(places):
            start, end = self.tokens[first].start, self.tokens[after - 1].end
            self.plain_text = self.plain_text[:start] + " " * (end - start) + self.plain_text[end:]
            del self.tokens[first:after]

    def may_be_chain(self) -> bool:
        """Every word of the line may be short forms run together."""
        letters = [token.text for token in self.tokens if token.kind is TokenKind.LETTERS]
        return bool(letters) and all(text.isascii() and (text in self.words.codes or self.glued(text))
            for text in letters)

    def glued(self, text: str) -> bool:
        """A token that may be taken apart: short, and no longer word of its own."""
        return len(text) <= _LONGEST_CHAIN and (len(text) <= 3 or text not in self.words.vocabulary)

    def player(self, at: int, prep: str = "") -> Side | None:
        """The side of a player as rulebooks name one, ``A22``; "the A22" and "to A22" are yard lines, "R6" a run."""
        token = self.tokens[at]
        typed = self.text[token.start : token.end]
        if typed not in RULE_LETTERS or not self.mixed_case or at + 1 >= len(self.tokens):
            return None
        number, before = self.tokens[at + 1], self.tokens[at - 1].text if at else ""
        if number.kind is not TokenKind.NUMBER or not number.text.isdigit() or number.start != token.end:
            return None
        if (int(number.text) <= self.rulebook.field_length / 2 and (before in WHERE or before in ("the", "on")
                or prep in WHERE)):
            return None
        if typed in ("K", "R") and not at:
            role = self.ahead(2).role
            if role not in (Role.KIND, Role.KICK, Role.RETURN, Role.SLOT, Role.FLAG, Role.FOUL):
                return None
        return RULE_LETTERS[typed]

    def of_return(self, after: int) -> bool:
        """The yards before a place are those of a return: "12 yard return", and not "40 yards, returned"."""
        if after >= len(self.tokens):
            return False
        apart = self.text[self.tokens[after - 1].end : self.tokens[after].start].strip()
        return (not apart and self.tokens[after].text in ("return", "runback", "ret", "rtn", "run", "punt", "kick",
            "kickoff"))

    def words_at(self, at: int, count: int) -> tuple[str, ...]:
        """So many words from a place on."""
        return tuple([token.text for token in self.tokens[at : at + count]])

    def us_or_them(self, which: str) -> Side:
        """The side that is "us" or "them"; the offense is us unless the staff says which team is theirs."""
        ours, offense = self.custom.us, self.before.offense
        us = Side.OFFENSE if ours is None or offense is None or ours is offense else Side.DEFENSE
        return us if which == "us" else us.other

    def owner_before(self, at: int) -> Side | None:
        """Whose "its own 20" is: the side named right before, "intercepted by the defense at its own 20"."""
        if self.words_at(at, 2) != ("its", "own") or at < 3 or self.tokens[at - 1].text not in ("at", "on", "to"):
            return None
        return {"defense": Side.DEFENSE, "offense": Side.OFFENSE, "receivers": Side.DEFENSE,
            "kickers": Side.OFFENSE}.get(self.tokens[at - 2].text)

    def side_behind(self, at: int) -> tuple[Side, int] | None:
        """The side in ``of the visitors`` behind a yard line, and the place after it."""
        for where, whose in _TERRITORY:
            if self.words_at(at, len(where)) == where:
                used = len(where) + 3 * (self.words_at(at + len(where), 3) == ("of", "the", "field"))
                used += 2 * (self.words_at(at + len(where), 2) == ("of", "midfield"))
                return (self.us_or_them(whose) if whose else Side.DEFENSE), at + used
        if self.words_at(at, 1) != ("of",) or self.before.offense is None:
            return None
        at += 1 + (self.words_at(at + 1, 1) == ("the",))
        found = self.words.phrase_at(self.tokens, at) if at < len(self.tokens) else None
        if found is None or found[1][0].role not in (Role.SIDE, Role.TEAM):
            return None
        value = found[1][0].value
        if isinstance(value, Team):
            value = Side.OFFENSE if value is self.before.offense else Side.DEFENSE
        return (value if isinstance(value, Side) else self.us_or_them(value)), at + found[0]

    def _foul_at(self, at: int) -> int:
        """How many tokens a foul's name takes at a place, or a flag; 0 if there is none."""
        found = self.words.phrase_at(self.tokens, at) if at < len(self.tokens) else None
        return found[0] if found is not None and any(word.role in (Role.FOUL, Role.FLAG) for word in found[1]) else 0

    def names_a_player(self, at: int) -> bool:
        """A bare number that may be a player's: "22 breaks loose", "pass to 88", "sacked by 90"."""
        token = self.tokens[at]
        if token.kind is not TokenKind.NUMBER or not token.text.isdigit() or len(token.text) > 2:
            return False
        following = self.words_at(at + 1, 1)
        if following and following[0] in _COUNTED:
            return False
        if following and following[0].isdigit() and "+" not in self.text[token.end : self.tokens[at + 1].start]:
            return False
        kicked = at > 1 and self.tokens[at - 2].text.startswith(("pu", "ki", "ko", "ret", "field", "boot"))
        if kicked and self.tokens[at - 1].text == "to":
            return False
        if not at:
            return bool(following) and following[0].isalpha()
        before = self.tokens[at - 1]
        if before.end == token.start:
            return False  # "r3" is a gain
        if not following:
            return before.text in _BEFORE_THE_LAST
        apart = "," in self.text[before.end : token.start]
        return before.text in _BEFORE_PLAYERS or (apart and following[0].isalpha() and following[0] not in WHERE)

    def names_a_position(self, at: int) -> bool:
        """A position by its letters: "to the Z", "on the RT", "DE jumped"; "on H" is the home team."""
        token = self.tokens[at]
        if self.text[token.start : token.end] not in _LETTERED or not self.mixed_case:
            return False
        following = self.tokens[at + 1] if at + 1 < len(self.tokens) else None
        side = len(token.text) == 1 and token.text not in "xyz"
        if following is not None and following.kind is TokenKind.NUMBER and (side or following.start == token.end):
            return False
        before = self.tokens[at - 1].text if at else ""
        if before == "the" or (before == "to" and at > 1):
            return True
        if len(token.text) == 1 and not side and following is not None and following.kind is TokenKind.LETTERS and (
                following.text != "motion") and (not at or "," in self.text[self.tokens[at - 1].end : token.start]):
            return True  # "Y stick 6"
        return not side and (before in ("on", "by", "their", "our")
            or (following is not None and following.text in _MOVED))

    def signed_line(self, at: int) -> Side | None:
        """Whose side of the field a yard line with a sign is on, where a place is due: "to -36", "at the plus 45".

        The offense's own side is minus territory, the other one plus territory.
        """
        token = self.tokens[at] if at < len(self.tokens) else None
        if token is None or token.kind is not TokenKind.NUMBER or not token.text.lstrip("-").isdigit():
            return None
        before = self.tokens[at - 1].text if at else ""
        signed = Side.OFFENSE if token.text[0] == "-" else (Side.DEFENSE if self.text[token.start - 1 : token.start]
            == "+" else None)
        if signed is None and before in SIGNS and at > 1 and self.tokens[at - 2].text in _PLACING:
            unit = self.words_at(at + 1, 1)
            return None if unit and unit[0] in _COUNTED else Side.OFFENSE if before == "minus" else Side.DEFENSE
        of_return = before in _RETURNED and len(token.text.lstrip("-")) > 1  # "int -45, ret -31"
        return signed if of_return or before in _PLACING else None

    def passed(self, at: int) -> int:
        """How many tokens may be passed over at a place; a side that did something is not."""
        if (self.tokens[at].text in ("our", "their") and at and self.tokens[at - 1].text in ("from", "at", "to")
                and self.words_at(at + 1, 1) and self.tokens[at + 1].kind is TokenKind.NUMBER):
            return 0  # whose yard line it is
        used = passed_at(self.tokens, at) or (self._light(at) if self.passes_known else 0)
        used = used or (self._useless(at) if self.is_useless(at) else 0)
        does = used == 1 and self.tokens[at].text in SIDES and self.ahead(at + 1).role in _DEEDS
        return 0 if does else used

    def _light(self, at: int) -> int:
        """How many tokens a known phrase takes that tells neither what became of the ball nor of a foul, and that
        denies nothing; 0 if none does."""
        token = self.tokens[at]
        if token.kind is not TokenKind.LETTERS or not self.words.knows(token) or token.text in NUMBERS:
            return 0
        used, found = self.words.phrase_at(self.tokens, at) or (1, [])
        if not found and any(word.role is Role.KIND for word in self.words.codes.get(token.text, ())):
            return 0  # a kind of play in short, though a longer phrase has the same letter
        texts = self.words_at(at, used)
        of_whom = (any(each.text in _OF_WHOM for each in self.tokens[max(0, at - 2) : at])
            or (texts[-1] in _OF_WHOM and self.ahead(at + used).role in (Role.SIDE, Role.TEAM)))
        of_number = any(word.role is not Role.FILLER for word in found) and self.ahead(at + used).number
        if of_whom or of_number or any(DENIES.search(text) for text in texts):
            return 0
        told_as_verb = self.words.as_told(" ".join(texts)) != " ".join(texts)
        return used if all(word.role in LIGHT or (word.role is Role.KIND and told_as_verb) for word in found) else 0

    def is_useless(self, at: int) -> bool:
        """What stands at a place is passed over only because it finds no use."""
        return self.passes_any and not (passed_at(self.tokens, at) or self._light(at))

    def _useless(self, at: int) -> int:
        """How many tokens a number takes, or a known phrase that tells neither of the ball nor of a foul nor denies."""
        token = self.tokens[at]
        if (token.kind is TokenKind.NUMBER or token.text in NUMBERS) and at and self.tokens[at - 1].text == "it":
            return 0  # "call it 4" corrects what was said
        if token.kind is TokenKind.NUMBER or token.text in NUMBERS:
            return 1 + (self.words_at(at + 1, 1) in (("yards",), ("yard",), ("yds",), ("yd",)))
        if token.kind is not TokenKind.LETTERS or not self.words.knows(token):
            return 0
        used, found = self.words.phrase_at(self.tokens, at) or (1, [])
        heavy = any(word.role in _HEAVY for word in found) or not found
        return 0 if heavy or any(DENIES.search(text) for text in self.words_at(at, used)) else used

    def ahead(self, at: int) -> Ahead:
        """What comes at a place: the role of the next word that is no filler."""
        if at >= len(self.tokens):
            return Ahead("", False, True)
        known = self._roles.get(at)
        if known is None:
            known = self.role_at(at)
            self._roles[at] = known
        return Ahead(known, known == "number", False)

    def role_at(self, at: int) -> str:
        """What the word at a place does, if it is no filler."""
        token = self.tokens[at]
        if token.kind is TokenKind.LETTERS and any(self.words_at(at, len(name)) == name for name in self.names):
            return Role.TEAM.value
        if token.kind is TokenKind.NUMBER or token.text in NUMBERS:
            found = self.words.phrase_at(self.tokens, at)
            if found is not None and found[0] > 1:
                return found[1][0].role.value
            return "number"
        if token.kind is TokenKind.PASSED:
            return self.ahead(at + 1).role or "filler"
        if self.player(at) is not None:
            return Role.SIDE.value
        if self.names_a_position(at):
            return self.ahead(at + 1).role or "filler"
        if token.kind is not TokenKind.LETTERS:
            return ""
        found = self.words.phrase_at(self.tokens, at)
        if found is None and (used := passed_at(self.tokens, at)):
            return self.ahead(at + used).role or "filler"
        if found is None:
            return (Role.FOUL.value if any(word.role is Role.FOUL for word in self.words.codes.get(token.text, ()))
                else "unknown")
        used, words = found
        if words[0].role in (Role.FILLER, Role.PREPOSITION) and token.text not in ("by", "at", "to", "from"):
            after = self.ahead(at + used)
            return after.role if after.role else "filler"
        if any(word.text == "timeout" for word in words):
            return "timeout"
        if words[0].role is Role.GAIN and token.text in PLUS:
            return "plus"
        roles = {word.role for word in words}
        if Role.FOUL in roles:
            return Role.FOUL.value
        return words[0].role.value


_NEEDED = re.compile(r"of the \S+ (yards? |yds? )?((that )?(he|they|we|she|it) )?(needed|wanted|required)\b")


def _without_counts(tokens: list[Token]) -> list[Token]:
    """The tokens without what only counts: "one of" in "one of their linemen", "of the 4 they needed"."""
    kept: list[Token] = []
    skipped = 0
    for place, token in enumerate(tokens):
        if place < skipped:
            continue
        if token.text == "of":
            needed = _NEEDED.match(" ".join(each.text for each in tokens[place : place + 7]))
            if needed is not None:
                skipped = place + len(needed.group().split())
                continue
        if token.text in ("our", "their", "the", "his", "them", "us") and kept[-1:] and kept[-1].text == "of":
            lead = 2 if len(kept) > 1 and kept[-2].text in _HOW_MANY else 0
            if lead and not (token.text in ("the", "his") and kept[-2].text in ("one", "two", "three")
                    and tokens[place + 1 : place + 2] and tokens[place + 1].text in ("field", "hash")):
                del kept[-lead:]
                if kept[-1:] and kept[-1].text == "a" and lead:
                    del kept[-1]
        kept.append(token)
    return kept


_CALL = ("call", "calls", "called", "use", "uses", "used", "burn", "burns", "burned", "take", "takes", "took")


def _timeouts(tokens: list[Token], text: str) -> list[Token]:
    """``TO`` in capitals behind a word for calling one is a timeout: "they call TO"."""
    return [replace(token, text="timeout") if at and tokens[at - 1].text in _CALL and text != text.upper()
        and text[token.start : token.end] == "TO" else token for at, token in enumerate(tokens)]


def _names(custom: Custom) -> dict[tuple[str, ...], Team]:
    names: dict[tuple[str, ...], Team] = {}
    for name, team in ((custom.home, Team.HOME), (custom.visitors, Team.VISITORS)):
        parts = tuple(name.lower().replace("-", " ").split())
        if parts and parts not in (("home",), ("visitors",)) and all(part.isalpha() for part in parts):
            names[parts] = team
    return names
