"""Own words in the columns of a play sheet that is taken in. Nothing of it is lost: columns that are not known are
kept as words of their own, and values that a list does not have are added to it; both are reported."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, replace

from ...football.rulebook import Rulebook
from ...football.sheet import BadCell, SheetError, SheetRow
from ...football.tracker import track
from ..model import Game, PlayTag
from .cells import CellError, read_cell
from .definition import LONGEST, RESERVED, OwnWord, Vocabulary, WordKind, WordSaid, WordValue, column_name
from .following import How, known_words


@dataclass(frozen=True, slots=True)
class SheetWords:
    """What the rows of a sheet say in own words, row by row, and the vocabulary with what that needs. ``columns``
    became words of their own, ``values`` were added to their lists (word, value)."""

    said: tuple[tuple[WordSaid, ...], ...]
    vocabulary: Vocabulary
    columns: tuple[str, ...] = ()
    values: tuple[tuple[str, str], ...] = ()

    @property
    def told(self) -> str:
        """Which columns and values were added, in words; empty if none were."""
        parts = []
        if self.columns:
            parts.append(f"Columns that are not known are kept as own words: {', '.join(self.columns)}.")
        if self.values:
            parts.append("Added to the lists of own words: "
                         + ", ".join(f"{word} {value}" for word, value in self.values) + ".")
        return " ".join(parts)


def words_of_rows(rows: Sequence[SheetRow], vocabulary: Vocabulary, rulebook: Rulebook, first_row: int = 2
                  ) -> SheetWords:
    """Read the columns of *rows* that are not the play sheet's own. What would be carried on or follow anyway is not
    taken as said: a sheet that was written here comes back as it was.

    Raises :class:`SheetError` with every cell that cannot be read.
    """
    headings = {heading: _word_name(heading) for row in rows for heading in row.others}
    columns: list[str] = []
    for heading, name in headings.items():
        if name and column_name(name) not in RESERVED and vocabulary.word(name) is None \
                and any(row.others.get(heading, "").strip() for row in rows):
            vocabulary = replace(vocabulary, words=(*vocabulary.words, OwnWord(name, WordKind.TEXT)))
            columns.append(name)
    words = {heading: word for heading, name in headings.items() if (word := vocabulary.word(name)) is not None}
    said: list[tuple[WordSaid, ...]] = []
    values: list[tuple[str, str]] = []
    bad: list[BadCell] = []
    for number, row in enumerate(rows, first_row):
        found: dict[str, WordSaid] = {}
        for heading, cell in row.others.items():
            word = words.get(heading)
            if word is None or not cell.strip():
                continue
            word = vocabulary.word(word.name) or word       # with what was added to its list by now
            try:
                each = read_cell(word, cell)
            except CellError as error:
                added = _added(word, cell)
                if added is None:
                    bad.append(BadCell(number, heading, cell, str(error)))
                    continue
                word, each, new = added
                vocabulary = replace(vocabulary, words=tuple(word if other.name == word.name else other
                                                             for other in vocabulary.words))
                values += [(word.name, value) for value in new]
            if each is not None:
                found[word.name] = each
        said.append(tuple(found.values()))
    if bad:
        raise SheetError(bad)
    return SheetWords(_without_known(rows, said, vocabulary, rulebook), vocabulary, tuple(columns), tuple(values))


def _word_name(heading: str) -> str:
    """The name that a word of this heading has or would get."""
    return " ".join(re.sub(r'[,;"_\x00-\x1f]+', " ", heading).split())[:LONGEST].strip()


def _added(word: OwnWord, cell: str) -> tuple[OwnWord, WordSaid, list[str]] | None:
    """The word with the values of *cell* in its list, what the cell says then, and the new ones; None for a word
    without a list, or values that none can have."""
    if not word.kind.has_list:
        return None
    new: list[str] = []
    for part in re.split("[,;/+&]", cell) if word.kind is WordKind.SEVERAL else [cell]:
        name = " ".join(re.sub(r'[,;"]+', " ", part).split())
        if not name or len(name) > LONGEST or not name.isprintable():
            return None
        try:
            read_cell(replace(word, kind=WordKind.ONE), name)
        except CellError:
            new.append(name)
            word = replace(word, values=(*word.values, WordValue(name)))
    said = read_cell(word, cell if word.kind is WordKind.SEVERAL else " ".join(re.sub(r'[,;"]+', " ", cell).split()))
    return (word, said, new) if said is not None else None


def _without_known(rows: Sequence[SheetRow], said: Sequence[tuple[WordSaid, ...]], vocabulary: Vocabulary,
                   rulebook: Rulebook) -> tuple[tuple[WordSaid, ...], ...]:
    """Leave out what is carried on or follows from what the rows before say."""
    moving = {word.name for word in vocabulary.words if word.carried or word.follows}
    if not any(each.word in moving for row in said for each in row):
        return tuple(said)
    tags = [PlayTag(number, number, row.play, words=words)
            for number, (row, words) in enumerate(zip(rows, said, strict=True), 1)]
    steps = track(rulebook, [row.play for row in rows])
    for word in vocabulary.words:
        if word.name not in moving:
            continue
        without = tuple(replace(tag, words=tuple(each for each in tag.words if each.word != word.name)) for tag in tags)
        for place, tag in enumerate(tags):
            each = next((each for each in tag.words if each.word == word.name), None)
            if each is None:
                continue
            known = known_words(Game(plays=(*tags[:place], without[place]), vocabulary=vocabulary),
                                steps[:place + 1])[-1].get(word.name)
            if known is not None and known.how is not How.SAID and known.values == each.values:
                tags[place] = without[place]
    return tuple(tag.words for tag in tags)
