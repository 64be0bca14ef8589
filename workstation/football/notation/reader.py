"""Reads the entry line: text and the situation before it -> what it says and how sure that is, or what is amiss."""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace
from enum import StrEnum
from functools import cached_property

from ..plays import Play, PlayKind
from ..rulebook import Rulebook
from ..situation import Situation
from ..tracker import fold
from .accounting import unaccounted
from .contradictions import by_the_rules
from .custom import USUAL, Custom
from .draft import DUE_KIND, Chip, Draft, Finished
from .everyday import are_idle
from .offers import Option, offered
from .parser import Failure, Parsed, Parser
from .readings import ways_of
from .writer import spell

MOST_READINGS = 6
_ABOUT_ANOTHER_PLAY = (PlayKind.MEASUREMENT, PlayKind.REPLAY_REVERSAL)  # whether they can be, the play before tells
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
    parsed = parser.parse(lambda tried: bool(ways_of(tried)[0]))
    if parsed.failure is not None:
        draft = parser.partial()
        return Entry(None, tuple(draft.chips), _problem(parsed.failure, parser), draft, Answer.NOT_UNDERSTOOD)
    ways, refused = ways_of(parsed)
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
    if parser.people:
        why = f"taken for who did it: {', '.join(parser.people)}"
        ways = [replace(way, penalty=way.penalty + 1, filled=(*way.filled, why)) for way in ways]
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
    """A reading that passed over words: they are shown struck out where they stand, those side by side together, and
    named as a question unless all of them are idle."""
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
    if all(are_idle(words) for words in _side_by_side(way.draft.passed, parsed)):
        return replace(way, draft=draft)
    return replace(way, penalty=way.penalty + 1, filled=(*way.filled, f"passed over: {named}"), draft=draft)


def _side_by_side(places: Sequence[int], parsed: Parsed) -> Iterator[list[str]]:
    """The words at these places, those next to each other together."""
    for _, group in itertools.groupby(enumerate(sorted(places)), lambda pair: pair[1] - pair[0]):
        yield [parsed.tokens[at].text for _, at in group]


def _problem(failure: Failure, parser: Parser) -> Problem:
    near = parser.words.near(failure.word.lower()) if not failure.known else ()
    return Problem(failure.text, failure.start, failure.end, failure.word, near)
