"""Reads the entry line: text and the situation before it -> what it says and how sure that is, or what is amiss."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from enum import StrEnum
from functools import cached_property, lru_cache

from ..plays import EventKind, Play, PlayKind
from ..rulebook import Rulebook
from ..situation import Next, Situation
from ..tracker import fold
from .accounting import unaccounted
from .contradictions import by_the_rules
from .custom import Custom
from .draft import DUE_KIND, KICKS, Chip, Draft, Finished, Refused
from .finish import finish
from .foul_names import foul_words
from .lexicon import lexicon
from .parser import Failure, Parsed, Parser
from .word import Word
from .word_choice import ordered, stands
from .words import SET_WORDS
from .words_of_fouls import CLAIMS, FOUL_WORDS
from .words_of_places import PLACES, SIDES, TEAMS
from .words_of_plays import KINDS, TRIES
from .words_of_results import CHOICES, LOOSE_BALL, OUTCOMES, SCORES

MOST_READINGS = 6
_ABOUT_ANOTHER_PLAY = (PlayKind.MEASUREMENT, PlayKind.REPLAY_REVERSAL)  # whether they can be, the play before tells
USUAL = Custom()
WANTS = {"gain": "yards gained", "kick_to": "where the kick came down", "return": "where the return ended",
    "length": "length of the kick", "spot": "yard line", "event": "yard line",
    "caught": "yard line where it was caught", "foul spot": "yard line of the foul",
    "enforced from": "yard line it is enforced from", "foul yards": "yards of the penalty", "said down": "down",
    "said yards_to_gain": "yards to gain", "said ball_on": "yard line", "said period": "period",
    "said score_home": "points", "said score_visitors": "points", "said timeouts_home": "timeouts left",
    "said timeouts_visitors": "timeouts left"}


class Answer(StrEnum):
    """How a line was understood."""

    CERTAIN = "certain"  # one reading, every word in its plain meaning
    READ_AS = "read as"  # something had two meanings or was filled in, or the line contradicts itself
    NOT_UNDERSTOOD = "not understood"
    NOTHING = "nothing"  # an empty line


@dataclass(frozen=True, slots=True)
class Problem:
    """What is wrong, and with which part of the text. ``word`` is the word at fault, ``near`` what it may have been."""

    text: str
    start: int
    end: int
    word: str = ""
    near: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Option:
    """A word that can come next; ``typed`` is its short form, or the word itself."""

    word: str
    typed: str
    group: str


@dataclass(frozen=True)
class Reading:
    """One way to read the line. ``filled`` says what was filled in or had two meanings, ``contradictions`` what of the
    line contradicts itself or the situation."""

    play: Play
    filled: tuple[str, ...] = ()
    contradictions: tuple[str, ...] = ()
    chips: tuple[Chip, ...] = ()
    before: Situation = field(default_factory=Situation, repr=False)
    rulebook: Rulebook | None = field(default=None, repr=False)

    @cached_property
    def text(self) -> str:
        """The reading in full words: ``punt of 45 yards to opp 25, returned 12 yards to opp 37``."""
        from .writer import spell

        assert self.rulebook is not None
        return spell(self.play, self.before, self.rulebook)

    @cached_property
    def doubts(self) -> tuple[str, ...]:
        """What the line contradicts, and what the rules have against the play."""
        assert self.rulebook is not None
        if self.play.kind in _ABOUT_ANOTHER_PLAY:
            return self.contradictions
        problems = fold(self.rulebook, self.before, self.play).problems
        return tuple(dict.fromkeys((*self.contradictions, *problems)))


@dataclass(frozen=True)
class Entry:
    """What a line says so far.

    ``play`` is the first reading's; ``known`` is what need not be said; ``wants`` what a number would mean next.
    """

    play: Play | None = None
    chips: tuple[Chip, ...] = ()
    problem: Problem | None = None
    draft: Draft | None = field(default=None, repr=False)
    answer: Answer = Answer.NOTHING
    readings: tuple[Reading, ...] = ()

    @property
    def doubts(self) -> tuple[str, ...]:
        """What the first reading contradicts."""
        return self.readings[0].doubts if self.readings else ()

    @property
    def is_certain(self) -> bool:
        """Whether there is a tick."""
        return self.answer is Answer.CERTAIN

    @property
    def known(self) -> str:
        """What the situation leaves no choice about."""
        if self.draft is None:
            return ""
        due = DUE_KIND.get(self.draft.before.next)
        return (due.value if due is not None and self.draft.kind in (None, due)
            and not any(chip.state == "kind" for chip in self.chips) else "")

    @property
    def wants(self) -> str:
        """What a number would mean next."""
        if self.draft is None:
            return ""
        if self.draft.in_foul and self.draft.fouls and not self.draft.slot.startswith("said"):
            return "yards of the penalty, or where"
        slot = self.draft.slot
        if slot == "gain" and self.draft.play_kind in (PlayKind.SACK, PlayKind.KNEEL):
            return "yards lost"
        return WANTS.get(slot, "")

    @cached_property
    def options(self) -> tuple[Option, ...]:
        """The words that can come next, most usual first."""
        return offered(self.draft) if self.draft is not None else ()

    def reading(self, number: int) -> Reading | None:
        """The reading of that number, counted round and round from 0."""
        return self.readings[number % len(self.readings)] if self.readings else None


def read(text: str, before: Situation, rulebook: Rulebook, custom: Custom = USUAL) -> Entry:
    """Understand *text* as the play that follows *before*. Never raises: what is wrong is in ``problem``."""
    parser = Parser(text, before, rulebook, custom)
    parsed = parser.parse(lambda tried: bool(_finished(tried)[0]))
    if parsed.failure is not None:
        draft = parser.partial()
        return Entry(None, tuple(draft.chips), _problem(parsed.failure, parser), draft, Answer.NOT_UNDERSTOOD)
    ways, refused = _finished(parsed)
    draft = ways[0].draft if ways else parser.partial()
    if not ways:
        if refused is None and not parsed.tokens:
            return Entry(None, (), None, draft, Answer.NOTHING)
        refused = refused or "what kind of play? Say run, pass, punt, field goal ..."
        return Entry(None, tuple(draft.chips), Problem(refused, len(text), len(text)), draft, Answer.NOT_UNDERSTOOD)
    if not draft.exact and (usual := by_the_rules(ways[0].play, before, rulebook)) is not None:
        why = "the yards of the penalty as the rules have them"
        ways.insert(0, replace(ways[0], play=usual, penalty=ways[0].penalty + 1, filled=(*ways[0].filled, why)))
    ways = [_naming_passed(way, parsed, text) if way.draft.passed else way for way in ways]
    draft = ways[0].draft
    readings = tuple(Reading(way.play, way.filled, way.doubts, tuple(way.draft.chips), before, rulebook)
        for way in ways[:MOST_READINGS])
    plain = sum(way.penalty == 0 for way in ways)
    if ways[0].penalty == 0 and plain == 1 and not parsed.chain:
        left = unaccounted(parser, draft, ways[0].play)
        if left:
            plain = 0
            readings = (replace(readings[0], filled=(*readings[0].filled, left)), *readings[1:])
    certain = ways[0].penalty == 0 and plain == 1 and not readings[0].doubts
    return Entry(ways[0].play, tuple(draft.chips), None, draft, Answer.CERTAIN if certain else Answer.READ_AS, readings)


def _naming_passed(way: Finished, parsed: Parsed, text: str) -> Finished:
    """A reading that passed over words: they are named, and shown struck out where they stand; those side by side
    together."""
    parts: list[tuple[int, int]] = []
    for token in (parsed.tokens[at] for at in way.draft.passed):
        if parts and not text[parts[-1][1] : token.start].strip():
            parts[-1] = (parts[-1][0], token.end)
        else:
            parts.append((token.start, token.end))
    draft = way.draft.copy()
    chips = (Chip(text[start:end], start, end, "passed over") for start, end in parts)
    draft.chips = sorted((*draft.chips, *chips), key=lambda chip: chip.start)
    named = ", ".join(text[start:end] for start, end in parts)
    return replace(way, penalty=way.penalty + 1, filled=(*way.filled, f"passed over: {named}"), draft=draft)


def _checked(way: Finished) -> Finished:
    """A reading with the doubts of the downs that were said along with it."""
    draft = way.draft
    if not draft.calls:
        return way
    after = fold(draft.rulebook, draft.before, way.play).after
    doubts = [said for call in draft.calls if (said := call.doubt(draft.before, after))]
    return replace(way, penalty=way.penalty + 2 * len(doubts), doubts=(*way.doubts, *doubts)) if doubts else way


def _finished(parsed: Parsed) -> tuple[list[Finished], str | None]:
    """The readings of all drafts, the likeliest first, each play once; and what was missing where there is none."""
    ways: dict[Play, Finished] = {}
    refused: str | None = None
    nothing = False
    for draft in parsed.drafts:
        try:
            found = finish(draft)
        except Refused as error:
            refused = refused or str(error)
            continue
        nothing = nothing or not found
        for way in found:
            way = _checked(way)
            known = ways.get(way.play)
            if known is None or way.penalty < known.penalty:
                ways[way.play] = way
    if not ways and nothing:
        return [], None
    return sorted(ways.values(), key=lambda way: way.penalty), refused


def _problem(failure: Failure, parser: Parser) -> Problem:
    near = parser.words.near(failure.word.lower()) if not failure.known else ()
    return Problem(failure.text, failure.start, failure.end, failure.word, near)


def understood(text: str, before: Situation, rulebook: Rulebook, custom: Custom = USUAL) -> Play | None:
    """The play that *text* says first, or None; all that the writer wants to know."""
    parser = Parser(text, before, rulebook, custom)
    parsed = parser.parse(lambda tried: bool(_finished(tried)[0]))
    if parsed.failure is not None:
        return None
    ways, _ = _finished(parsed)
    return ways[0].play if ways else None


# -- what may follow --------------------------------------------------------------------------------
def _by_text(*groups: Sequence[Word]) -> dict[str, Word]:
    found: dict[str, Word] = {}
    for words in groups:
        for word in words:
            found.setdefault(word.text, word)
    return found


_ROWS = _by_text(KINDS, TRIES, SCORES, OUTCOMES, LOOSE_BALL, PLACES, CHOICES, TEAMS)
_START = {
    Next.SCRIMMAGE:
          "run pass incomplete sack punt field_goal kneel intercepted spike timeout end_of_period measurement no_play",
    Next.FAIR_CATCH_KICK: "field_goal run pass incomplete sack punt kneel timeout end_of_period",
    Next.OVER: "timeout end_of_period replay_reversal",
    Next.TRY: "good no_good blocked run pass incomplete timeout end_of_period two-point_try",
    Next.KICKOFF: "touchback fair_catch out_of_bounds touchdown downed muffed kickoff timeout end_of_period",
    Next.SAFETY_FREE_KICK: "touchback fair_catch out_of_bounds touchdown downed muffed timeout end_of_period",
    Next.COIN_TOSS: "home visitors receive kick defer defend",
}
_THEN = {PlayKind.RUN: "touchdown fumble to out_of_bounds safety first_down",
    PlayKind.PASS: "touchdown incomplete intercepted fumble to out_of_bounds", PlayKind.SACK: "fumble safety to",
    PlayKind.KNEEL: "fumble", PlayKind.SPIKE: "",
    PlayKind.PUNT: "touchback fair_catch out_of_bounds downed blocked returned touchdown muffed",
    PlayKind.KICKOFF: "touchback fair_catch out_of_bounds returned touchdown downed muffed",
    PlayKind.SAFETY_FREE_KICK: "touchback fair_catch out_of_bounds returned touchdown downed muffed",
    PlayKind.FIELD_GOAL: "good no_good blocked returned", PlayKind.TRY_KICK: "good no_good blocked",
    PlayKind.TRY_RUN: "good no_good fumble", PlayKind.TRY_PASS: "good no_good intercepted", PlayKind.NO_PLAY: "",
    PlayKind.COIN_TOSS: "home visitors receive kick defer defend", PlayKind.TIMEOUT: "home visitors",
    PlayKind.END_OF_PERIOD: "", PlayKind.MEASUREMENT: "short made",
    PlayKind.REPLAY_REVERSAL: "incomplete pass touchdown to", PlayKind.INADVERTENT_WHISTLE: "replay take_the_spot"}
_LOOSE = "lost kept recovery own_recovery out_of_bounds"
_FOULED = "offense defense declined accepted offset at from after_the_down"
_SHOWN_FOULS = 7
_NO_FOULS = (PlayKind.COIN_TOSS, PlayKind.TIMEOUT, PlayKind.END_OF_PERIOD, PlayKind.MEASUREMENT,
    PlayKind.REPLAY_REVERSAL, PlayKind.INADVERTENT_WHISTLE)


def offered(draft: Draft) -> tuple[Option, ...]:
    """The words worth showing after *draft*, each with its short form where that is understood there."""
    loose = bool(draft.events) and draft.events[-1].kind in (EventKind.FUMBLE, EventKind.MUFF)
    kick_to = draft.kick_to
    return _offered(draft.before, draft.rulebook, draft.kind, draft.said is not None, draft.in_foul
        and bool(draft.fouls), loose, kick_to is not None and kick_to < draft.rulebook.field_length)


@lru_cache(maxsize=512)
def _offered(before: Situation, rulebook: Rulebook, kind: PlayKind | None, in_set: bool, in_foul: bool, loose: bool,
        caught: bool) -> tuple[Option, ...]:
    rows = {**_ROWS, **_by_text(SIDES, FOUL_WORDS, CLAIMS)}
    if in_set:
        return tuple(Option(word.text, word.text, "set") for word in SET_WORDS[1:])
    if kind is None:
        names = _START.get(before.next, "").split()
    else:
        names = _THEN[kind].split()
        if caught and "touchback" in names:
            names = ["touchdown", *(name for name in names if name not in ("touchback", "touchdown"))]
        elif kind in KICKS and "touchdown" in names:
            names.remove("touchdown")
        if loose:
            names = [*_LOOSE.split(), *(name for name in names if name not in _LOOSE.split())]
        if in_foul:
            names = [*_FOULED.split(), *names]
    if kind is None and before.next in (Next.KICKOFF, Next.SAFETY_FREE_KICK) and "touchdown" in names:
        names.remove("touchdown")
    options = []
    for name in names:
        word = rows.get(name.replace("_", " "))
        if word is not None:
            options.append(Option(word.text, _short(word, before, rulebook, kind, in_foul, loose, caught),
                word.role.value))
    if kind not in _NO_FOULS and before.next not in (Next.COIN_TOSS, Next.OVER) and not in_set:
        options += [Option(word.text, word.codes[0] if word.codes else word.text, "foul name")
            for word in foul_words(rulebook)[:_SHOWN_FOULS]]
    return tuple(options)


def _short(word: Word, before: Situation, rulebook: Rulebook, kind: PlayKind | None, in_foul: bool, loose: bool,
        caught: bool) -> str:
    """The word's short form, if it means this word here."""
    probe = Draft(before, rulebook)
    probe.kind = kind
    if in_foul:
        probe.fouls, probe.in_foul = [{"name": "holding", "by": None}], True
    if caught:
        probe.fields["kick_to"] = 1.0
    words = lexicon(rulebook)
    for code in word.codes:
        first = next((each for each in ordered(list(words.codes[code]), probe) if stands(each, probe)), None)
        if first is word:
            return code
    return word.text
