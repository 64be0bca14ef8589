"""What a staff's own word is: its name, what it is said about, what may be said, and how it is spoken."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from enum import StrEnum

from ...football.sheet import COLUMNS, LINE

LONGEST = 60
"""Characters of a name, a value, a spoken form."""
LONGEST_TEXT = 300
"""Characters of what is said of one play in free text."""
MOST_WORDS = 200
MOST_VALUES = 500
FOR_READERS = frozenset({
    "number", "play", "period", "offense", "down", "yards_to_gain", "ball_on", "situation", "result", "explanation",
    "choices", "certainty", "score_home", "score_visitors", "series", "drive", "filmed", "source", "shot_start",
    "shot_end", "snap", "dead_ball", "findings"})
"""Columns that play sheets have for readers only: their values follow from other columns."""
RESERVED = frozenset({*COLUMNS, LINE, *FOR_READERS, "shot", "game"})
"""Columns of the sheets; no word may have such a name."""


class WordKind(StrEnum):
    """The kind of value that a word takes."""

    ONE = "one of a list"
    SEVERAL = "several of a list"
    NUMBER = "number"
    PLAYER = "player"            # a jersey number
    TEXT = "free text"

    @property
    def has_list(self) -> bool:
        """Whether its values come from a list."""
        return self in (WordKind.ONE, WordKind.SEVERAL)


class About(StrEnum):
    """The plays that a word is said about."""

    EVERY_SNAP = "every snap"
    OFFENSE = "offense's plays"       # from scrimmage, kicks excepted
    OUR_DEFENSE = "our defense"       # the same while the other team has the ball
    KICKS = "kicks"


class Of(StrEnum):
    """The play whose word another one follows from."""

    THIS_PLAY = "this play"
    LAST_PLAY = "last play"
    LAST_IF_BALL_CAME_BACK = "last play, where the ball came back"    # to its previous spot: an incomplete pass, say


@dataclass(frozen=True, slots=True)
class Follows:
    """What a value follows from if none is said. ``values`` maps values of ``word`` to those that follow; if it is
    empty, the value is the same."""

    word: str
    of: Of = Of.THIS_PLAY
    values: tuple[tuple[str, str], ...] = ()

    def value(self, said: str) -> str | None:
        """What follows from *said*; None if nothing does."""
        return dict(self.values).get(said) if self.values else said


@dataclass(frozen=True, slots=True)
class WordValue:
    """One of a list, with its short spoken forms; the name itself is spoken too."""

    name: str
    spoken: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class OwnWord:
    """One of the staff's own words. ``spoken``: short forms of its name, said before a value where that needs one.
    ``carried``: what was said holds for the plays after it in the same drive until something else is said."""

    name: str
    kind: WordKind = WordKind.ONE
    about: About = About.EVERY_SNAP
    values: tuple[WordValue, ...] = ()
    spoken: tuple[str, ...] = ()
    carried: bool = False
    follows: tuple[Follows, ...] = ()

    def value(self, name: str) -> WordValue | None:
        """The value of that name, capitals aside; None if the list has none."""
        wanted = name.casefold()
        return next((value for value in self.values if value.name.casefold() == wanted), None)


@dataclass(frozen=True, slots=True)
class Vocabulary:
    """The words of a staff, in the order in which they are shown and asked."""

    title: str = ""
    words: tuple[OwnWord, ...] = ()

    def word(self, name: str) -> OwnWord | None:
        """The word of that name, capitals and underscores aside; None if there is none."""
        wanted = column_name(name)
        return next((word for word in self.words if column_name(word.name) == wanted), None)


@dataclass(frozen=True, slots=True)
class WordSaid:
    """What a person said of a play in one of the words: one value, several, or none at all, which ends what would be
    carried on."""

    word: str
    values: tuple[str, ...] = ()

    @property
    def text(self) -> str:
        """The values in one line."""
        return ", ".join(self.values)


def column_name(name: str) -> str:
    """A word's name as sheets compare their headings."""
    return re.sub(r"[\s_]+", "_", name.strip().casefold())


def merged(before: Iterable[WordSaid], said: Iterable[WordSaid], unsaid: Iterable[str] = ()) -> tuple[WordSaid, ...]:
    """What was said *before*, replaced by what is *said* now and without the words in *unsaid*, by the words' names."""
    words = {each.word: each for each in (*before, *said)}
    for name in unsaid:
        words.pop(name, None)
    return tuple(words[name] for name in sorted(words))


def united(vocabularies: Iterable[Vocabulary]) -> Vocabulary:
    """The words of several games as one; of words of one name the first counts."""
    words: dict[str, OwnWord] = {}
    for vocabulary in vocabularies:
        for word in vocabulary.words:
            words.setdefault(column_name(word.name), word)
    return Vocabulary("", tuple(words.values()))


def problems(vocabulary: Vocabulary) -> list[str]:
    """What is wrong with a vocabulary: each line says where, what, and what to do. Empty if it can be used."""
    found: list[str] = []
    if len(vocabulary.words) > MOST_WORDS:
        found.append(f"{len(vocabulary.words)} words; at most {MOST_WORDS}: remove some")
    for name, count in Counter(column_name(word.name) for word in vocabulary.words).items():
        if count > 1:
            found.append(f"word {name!r} comes {count} times; rename one of them")
    for word in vocabulary.words:
        found += [f"word {word.name!r}: {problem}" for problem in _word_problems(word, vocabulary)]
    return found


def _word_problems(word: OwnWord, vocabulary: Vocabulary) -> Iterator[str]:
    yield from _name_problems("its name", word.name)
    if column_name(word.name) in RESERVED:
        yield "a column of the play sheet has this name; use another"
    for form in word.spoken:
        yield from _form_problems("its spoken form", form)
    if word.kind.has_list and not word.values:
        yield f"it is {word.kind.value!r} and its list is empty; give it values, or make it free text"
    if not word.kind.has_list and word.values:
        yield f"it is {word.kind.value!r} and has values; remove them, or make it {WordKind.ONE.value!r}"
    if len(word.values) > MOST_VALUES:
        yield f"{len(word.values)} values; at most {MOST_VALUES}: remove some"
    names = Counter(value.name.casefold() for value in word.values)
    for name, count in names.items():
        if count > 1:
            yield f"value {name!r} comes {count} times; remove the others"
    spoken = Counter(form for value in word.values
                     for form in {each.casefold() for each in (*value.spoken, value.name)})
    for form, count in spoken.items():
        if count > 1 and names[form] < 2:
            yield f"{form!r} is spoken for {count} of its values; give one of them another form"
    for value in word.values:
        yield from _name_problems(f"value {value.name!r}", value.name)
        for form in value.spoken:
            yield from _form_problems(f"value {value.name!r}: its spoken form", form)
    for follows in word.follows:
        yield from _follows_problems(word, follows, vocabulary)


def _name_problems(what: str, name: str) -> Iterator[str]:
    if not name.strip():
        yield f"{what} is empty; give it one"
    elif name != " ".join(name.split()):
        yield f"{what} begins or ends with a space, or has two in a row; take them out"
    elif len(name) > LONGEST:
        yield f"{what} has {len(name)} characters; at most {LONGEST}"
    elif not name.isprintable() or set(name) & set(',;"'):
        yield f"{what} {name!r} has a comma, a semicolon, a quotation mark or a control character; leave it out"


def _form_problems(what: str, form: str) -> Iterator[str]:
    yield from _name_problems(what, form)
    if form.strip() and not re.fullmatch(r"[\w][\w .'/+-]*", form):
        yield f"{what} {form!r} must begin with a letter or a digit and hold no signs but . ' / + -"


def _follows_problems(word: OwnWord, follows: Follows, vocabulary: Vocabulary) -> Iterator[str]:
    source = next((each for each in vocabulary.words if each.name == follows.word), None)
    if source is None:
        yield f"it follows from {follows.word!r}, and there is no such word; name one of this file"
        return
    if follows.of is Of.THIS_PLAY and _leads_to(word.name, follows.word, vocabulary):
        yield f"it follows from {follows.word!r} of the same play, which follows from it; take one of the two out"
    for said, then in follows.values:
        if source.kind.has_list and source.value(said) is None:
            yield f"it follows from {follows.word!r} being {said!r}, which is not in that word's list"
        if word.kind.has_list and word.value(then) is None:
            yield f"what would follow from {follows.word!r}, {then!r}, is not in its list"


def _leads_to(wanted: str, start: str, vocabulary: Vocabulary) -> bool:
    """Whether *start* follows, within one play, from *wanted*."""
    words = {word.name: word for word in vocabulary.words}
    seen: set[str] = set()
    ahead = [start]
    while ahead:
        name = ahead.pop()
        if name == wanted:
            return True
        if name not in seen and name in words:
            seen.add(name)
            ahead += [follows.word for follows in words[name].follows if follows.of is Of.THIS_PLAY]
    return False
