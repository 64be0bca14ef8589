"""A typed line of a play and the staff's own words: which part is which, and what both say.

Words stand between commas, in any order, before or behind the play or without one. The play part is read by the
notation, which knows nothing of them, exactly as if it stood alone.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from itertools import islice

from ...football.notation import Answer, Entry, Option, Problem, Reading
from ...football.notation.lexicon import LEAST_BEGINNING, lexicon, parts_of
from ...football.rulebook import Rulebook
from . import following
from .definition import OwnWord, WordSaid, WordValue
from .spoken import MOST_WAYS, ClauseProblem, Piece, Spoken, Way, is_loose, said_twice

MOST_READINGS = 8
PlayReader = Callable[[str], Entry]
Fits = Callable[[OwnWord, Reading], bool]
PASSED_OVER = "passed over"
"""What the notation says of words that it leaves out."""


@dataclass(frozen=True)
class WholeReading:
    """One way to read a line. ``play`` is None where it says own words only. ``asked`` says what had two meanings or
    does not fit; what the notation filled in is in ``play``."""

    play: Reading | None
    pieces: tuple[Piece, ...] = ()
    asked: tuple[str, ...] = ()

    @property
    def said(self) -> tuple[WordSaid, ...]:
        """What it says in the own words, each word once."""
        values: dict[str, list[str]] = {}
        for piece in self.pieces:
            known = values.setdefault(piece.word.name, [])
            known += [value for value in piece.values if value not in known]
        return tuple(WordSaid(name, tuple(each)) for name, each in values.items())

    @property
    def text(self) -> str:
        """The reading in full words."""
        words = [spoken_word(each) for each in self.said]
        return "; ".join([*([self.play.text] if self.play is not None else []), *words])

    @property
    def filled(self) -> tuple[str, ...]:
        """What was filled in or had two meanings."""
        return (*(self.play.filled if self.play is not None else ()), *self.asked)


@dataclass(frozen=True)
class WholeEntry:
    """What a line says so far. ``entry`` is the notation's of the play part."""

    entry: Entry
    answer: Answer = Answer.NOTHING
    readings: tuple[WholeReading, ...] = ()
    problem: Problem | None = None

    @property
    def is_certain(self) -> bool:
        """One reading, every word in its plain meaning."""
        return self.answer is Answer.CERTAIN

    def reading(self, number: int) -> WholeReading | None:
        """The reading at *number*, counted from 0 and starting over after the last."""
        return self.readings[number % len(self.readings)] if self.readings else None


def spoken_word(said: WordSaid) -> str:
    """What was said in one word, in full words."""
    return following.spoken_word(said.word, said.text) if said.values else f"no {said.word}"


@dataclass(frozen=True, slots=True, eq=False)
class _Clause:
    """A part of the line between commas; ``ways`` to read it as own words."""

    start: int
    end: int
    ways: Sequence[Way] = ()
    failure: ClauseProblem | None = None


@dataclass(frozen=True, slots=True)
class _Division:
    """Which clauses are own words, what the rest says as a play, and the ways to read the words. ``unfit``: some
    word does not apply to such a play; ``shared``: the play takes whole words, not numbers, that
    may be own ones."""

    words: tuple[_Clause, ...]
    entry: Entry
    ways: tuple[Way, ...]
    unfit: bool = False
    shared: bool = False

    @property
    def is_sure(self) -> bool:
        """The play is said in plain words, or none is, and the words fit it."""
        return self.entry.answer in (Answer.CERTAIN, Answer.NOTHING) and not self.unfit

    @property
    def loose(self) -> int:
        """Clauses that are own words only if they are taken apart or completed."""
        return sum(is_loose(clause.ways[0]) for clause in self.words)


def read_line(text: str, spoken: Spoken, read_play: PlayReader, fits: Fits = lambda word, reading: True,
              may_be_play: Callable[[str], bool] = lambda part: True) -> WholeEntry:
    """Understand *text*. *read_play* is the notation's reader for the situation at hand; *fits* says whether a word is
    said about a play; *may_be_play*, whether the notation may know all of a part, so that others need not be read as
    a play (:func:`known_to`). Never raises: what is wrong is in ``problem``."""
    clauses = [_Clause(start, end, *spoken.ways(text[start:end], start)) for start, end in _clauses(text)]
    words = tuple(clause for clause in clauses if clause.ways)
    if not words:
        return _play_alone(text, clauses, spoken, read_play)
    found = _divisions(text, words, len(clauses) == 1, read_play, fits, may_be_play)
    if not found:
        return _not_understood(text, clauses, words, spoken, read_play)
    # A word said twice in clauses that the play does not need: the readings that give one to the play are guesses.
    twice = _said_twice(text, words) if not _ways(words) and read_play(_without(text, words)).readings else None
    readings: list[WholeReading] = []
    for division in found:
        for way in division.ways:
            asked = tuple(dict.fromkeys(piece.asked for piece in way if piece.asked))
            if twice is not None:
                asked = (*asked, twice.text)
            for play in division.entry.readings or (None,):
                unfit = tuple(dict.fromkeys(
                    f"{piece.word.name} is said about {piece.word.about}" for piece in way
                    if play is not None and not fits(piece.word, play)))
                readings.append(WholeReading(play, way, (*asked, *unfit)))
    first = found[0].entry
    is_certain = len(readings) == 1 and found[0].is_sure and not readings[0].asked
    return WholeEntry(first, Answer.CERTAIN if is_certain else Answer.READ_AS, tuple(readings[:MOST_READINGS]))


@lru_cache(maxsize=16)
def known_to(rulebook: Rulebook) -> Callable[[str], bool]:
    """Whether the notation knows every word of a part of a line, numbers aside. Slow the first time."""
    words = lexicon(rulebook)
    known = {*words.codes, *(word[:length] for word in words.vocabulary
                             for length in (*range(LEAST_BEGINNING, len(word)), len(word)))}
    return lambda part: all(each.isdigit() or each in known for each in parts_of(part.casefold()))


def _clauses(text: str) -> Iterator[tuple[int, int]]:
    """Start and end of what stands between commas; a comma within a comment is part of it."""
    start, in_comment = 0, False
    for place, sign in enumerate(text):
        if sign == '"':
            in_comment = not in_comment
        elif sign == "," and not in_comment:
            yield start, place
            start = place + 1
    yield start, len(text)


def _without(text: str, words: Sequence[_Clause]) -> str:
    """The play part: *text* with the clauses of own words, and commas beside them, replaced by spaces."""
    if not words:
        return text
    signs = list(text)
    for clause in words:
        for place in range(max(clause.start - 1, 0), min(clause.end + 1, len(signs))):
            if clause.start <= place < clause.end or signs[place] == ",":
                signs[place] = " "
    return "".join(signs).rstrip()


def _divisions(text: str, words: tuple[_Clause, ...], is_alone: bool, read_play: PlayReader, fits: Fits,
               may_be_play: Callable[[str], bool]) -> list[_Division]:
    """The ways to divide the line that can be meant, the likeliest first.

    Left out are plays that pass over own words, and words that must be taken apart or completed where the notation
    knows what was typed. If one way is sure, only sure ones count; but a line of one clause that the notation knows is
    read without own words.
    """
    whole, ways = read_play(_without(text, words)), _ways(words)
    others = words
    if ways and whole.readings:
        # a number belongs to the play only where the play lacks one
        says_all = whole.answer is Answer.CERTAIN and not whole.wants
        parts = {clause: text[clause.start:clause.end] for clause in words}
        others = tuple(clause for clause in words if may_be_play(parts[clause])
                       and not (says_all and parts[clause].strip().isdigit()))
    found: list[_Division] = []
    plays = 0           # clauses that the notation reads as part of a play
    for left_over in ((), *((clause,) for clause in others), *([others] if len(others) > 1 else [])):
        if len(left_over) > 1 and plays < 2:
            break       # if the line is a play with fewer than two of them, it is none with all
        each = tuple(clause for clause in words if clause not in left_over)
        entry, ways = (whole, ways) if not left_over else (read_play(_without(text, each)), _ways(each))
        plays += bool(left_over and entry.readings)
        is_valid = ways and (entry.readings or (each and entry.answer is Answer.NOTHING))
        left = " ".join(text[clause.start:clause.end] for clause in words if clause not in each)
        if is_valid and not _passes_over(entry, left):
            unfit = bool(entry.readings) and any(not fits(piece.word, entry.readings[0]) for piece in ways[0])
            shared = left.replace(" ", "").isalpha() and max(map(len, left.split())) > 2
            found.append(_Division(each, entry, ways, unfit, shared))
    if is_alone and any(not each.words and each.entry.answer is Answer.CERTAIN for each in found):
        return [each for each in found if not each.words]
    least = min((each.loose for each in found), default=0)
    found = _without_lesser([each for each in found if each.loose == least])
    sure = [each for each in found if each.is_sure or each.shared or (is_alone and not each.words)]
    return sorted(sure or found, key=lambda each: (each.unfit, not each.entry.readings, -len(each.words)))


def _passes_over(entry: Entry, text: str) -> bool:
    """Whether the notation leaves out a word of *text*."""
    if not entry.readings:
        return False
    left_out = " ".join(chip.text for chip in entry.readings[0].chips if chip.state == PASSED_OVER)
    return not set(parts_of(left_out.casefold())).isdisjoint(parts_of(text.casefold()))


def _without_lesser(divisions: list[_Division]) -> list[_Division]:
    """Leave out a division that gives the same play as another and fewer own words: the notation passed over these."""
    return [each for each in divisions
            if not any(set(each.words) < set(other.words) and other.entry.play == each.entry.play
                       and (other.is_sure or not each.is_sure)
                       for other in divisions)]


def _ways(words: Sequence[_Clause]) -> tuple[Way, ...]:
    """The ways to read these clauses together, in none of which a word is said twice."""
    joined: list[Way] = [()]
    for clause in words:
        longer = ((*before, *way) for before in joined for way in clause.ways)
        joined = list(islice((way for way in longer if said_twice(way) is None), MOST_WAYS))
    return tuple(joined)


# -- what is not understood ------------------------------------------------------------------------------------------


def _play_alone(text: str, clauses: Sequence[_Clause], spoken: Spoken, read_play: PlayReader) -> WholeEntry:
    """A line without own words is the notation's, but one that names a word and says none of it."""
    entry = read_play(text)
    if entry.readings and _passes_over(entry, text):
        failed = [text[clause.start:clause.end] for clause in clauses if clause.failure is not None]
        if len(clauses) > 1 and _passes_over(entry, " ".join(failed)):
            return WholeEntry(entry, Answer.NOT_UNDERSTOOD, (), _problem(text, Problem("", 0, 0), clauses, spoken))
        left_out = [word for word in re.findall(r"[^\s,]+", text) if len(word) > 2 and spoken.knows(word)
                    and _passes_over(entry, word)]
        asked = tuple(f"{word!r} is one of your own words; put a comma before it" for word in left_out[:1])
        answer = Answer.READ_AS if asked else entry.answer
        return WholeEntry(entry, answer, tuple(WholeReading(reading, (), asked) for reading in entry.readings))
    if entry.readings or entry.problem is None:
        return WholeEntry(entry, entry.answer, tuple(WholeReading(reading) for reading in entry.readings))
    return WholeEntry(entry, entry.answer, (), _problem(text, entry.problem, clauses, spoken))


def _not_understood(text: str, clauses: Sequence[_Clause], words: Sequence[_Clause], spoken: Spoken,
                    read_play: PlayReader) -> WholeEntry:
    entry = read_play(_without(text, words))
    found = entry.problem
    problem = _said_twice(text, words) if found is None else _problem(text, found, clauses, spoken)
    return WholeEntry(entry, Answer.NOT_UNDERSTOOD, (), problem)


def _said_twice(text: str, words: Sequence[_Clause]) -> Problem | None:
    """What is said twice in these clauses, read as is likeliest."""
    twice = said_twice(tuple(piece for clause in words for piece in clause.ways[0]))
    if twice is None:
        return None
    one, other = twice
    return Problem(f"{other.word.name} is said twice: {', '.join(one.values) or 'none'} and "
                   f"{', '.join(other.values) or 'none'}", other.start, other.end, text[other.start:other.end])


def _problem(text: str, problem: Problem, clauses: Sequence[_Clause], spoken: Spoken) -> Problem:
    """The notation's problem, made more precise by what the own words know of it."""
    failure = next((clause.failure for clause in clauses if clause.failure is not None), None)
    if failure is not None and problem.start <= failure.start:
        return Problem(failure.text, failure.start, failure.end, failure.said)
    word = text[problem.start:problem.end].strip()
    if word and spoken.knows(word) and not text[:problem.start].rstrip().endswith(","):
        return replace(problem, text=f"{word!r} is one of your own words; put a comma before it", word=word)
    if word and "," in text[:problem.start] and (near := spoken.near(word)):
        near = list(dict.fromkeys([*near, *problem.near]))[:4]
        return replace(problem, text=f"{word!r} is not understood; near it: {', '.join(near)}", word=word,
                       near=tuple(near))
    return problem


# -- what may follow -------------------------------------------------------------------------------------------------


def completions(text: str, spoken: Spoken, fits: Callable[[OwnWord], bool] = lambda word: True) -> tuple[Option, ...]:
    """The own words that can come next in the clause at the end of *text*, in the order of the vocabulary. After a
    comma those of the first word of which nothing is said yet, then the others' names; within a word all that begin
    like it. Empty where a play's word is being typed."""
    *before, (start, end) = _clauses(text)
    clause = text[start:end]
    if not before and not clause.strip():
        return ()
    said = {piece.word.name for earlier, later in before
            for way in spoken.ways(text[earlier:later], earlier)[0][:1] for piece in way}
    *whole, begun = clause.split(" ")
    ways, failure = spoken.ways(" ".join(whole), start) if any(whole) else ([()], None)
    if not ways:
        if failure is None or not before:
            return ()
        ways = [()]
    said |= {piece.word.name for piece in ways[0]}
    begun = begun.casefold()
    head = spoken.heads.get(" ".join(whole).strip().casefold()) if any(whole) else None
    if begun:
        if not before and len(begun) < 2:
            return ()
        found = [(word, value) for form, word, value in spoken.begins.get(begun[0], ()) if form.startswith(begun)
                 and word.name not in said and (head is None or not head.kind.has_list or word is head)]
        found = [each for each in dict.fromkeys(found) if fits(each[0])]
        return tuple(_option(word, value) for word, value in sorted(found, key=lambda each: each[1] is None))
    words = [word for word in spoken.vocabulary.words if word.name not in said and fits(word)]
    if head is not None and head.kind.has_list:
        words = [head]
    if not before and not any(whole):
        return ()
    listed = [word for word in words if word.kind.has_list][:1]
    return (*(_option(word, value) for word in listed for value in word.values),
            *(_option(word, None) for word in words if word not in listed))


def _option(word: OwnWord, value: WordValue | None) -> Option:
    """A value of a word, or the word itself."""
    if value is None:
        return Option(word.name, _shortest(word.name, word.spoken), "own word")
    return Option(value.name, _shortest(value.name, value.spoken), word.name)


def completed(text: str, option: Option) -> str:
    """*text* with *option* in place of the word being typed at its end."""
    start = max(text.rfind(" "), text.rfind(",")) + 1
    space = " " if text[:start].endswith(",") else ""
    return f"{text[:start]}{space}{option.word}"


def _shortest(name: str, spoken: Sequence[str]) -> str:
    return min((*spoken, name), key=len)
