"""Which column of a foreign sheet is which of a play sheet, and which cells are corrected before it is read."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass, field, replace

from ..football.rulebook import Rulebook
from ..football.sheet import COLUMNS, LINE, BadCell, SheetRow, near_heading, read_rows
from .own_words.definition import FOR_READERS, RESERVED, column_name

SHOT = "shot"
OWN_WORD = "own word"
CHOICES = (*COLUMNS, LINE, SHOT, OWN_WORD)
"""The columns that one of a sheet may be; ``shot`` names the shot that films a play, by its number. An own word is the
one of the heading's name, or a new one of free text."""
_KINDS = {"kind", LINE}
_BESIDE = FOR_READERS | {"quarter", "distance"}


@dataclass(frozen=True, slots=True)
class SheetCells:
    """A sheet as it was found. ``first_row`` is the number that a spreadsheet gives the first of ``rows``."""

    name: str
    headings: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    first_row: int = 2

    def examples(self, column: int, most: int = 3) -> tuple[str, ...]:
        """The first distinct cells of a column that are not empty."""
        return tuple(dict.fromkeys(row[column].strip() for row in self.rows if row[column].strip()))[:most]


@dataclass(frozen=True, slots=True)
class ColumnMatching:
    """``columns`` says for each heading of a sheet which of :data:`CHOICES` it is, None that it is left out.
    ``mended`` holds corrected texts of cells, by the indices of row and column."""

    cells: SheetCells
    columns: tuple[str | None, ...]
    mended: Mapping[tuple[int, int], str] = field(default_factory=dict)
    own: frozenset[str] = frozenset()       # names of the existing own words

    @classmethod
    def proposed(cls, cells: SheetCells, own: Collection[str] | None = None) -> ColumnMatching:
        """The proposed matching: a known heading is its column, another one a free column near it. The rest are own
        words if *own* (the names of those there are) is given, else left out."""
        names = frozenset(map(column_name, own or ()))
        columns = [_known(heading) or (OWN_WORD if column_name(heading) in names else None)
                   for heading in cells.headings]
        for index, heading in enumerate(cells.headings):
            near = near_heading(heading) if heading else None
            is_beside = column_name(heading) in _BESIDE - {"result"}     # "result" is the outcome if no column is
            if columns[index] is None and not is_beside and near is not None and near not in columns:
                columns[index] = near
        if not _KINDS & set(columns):       # "play" is a number, except where nothing else says what was played
            for index, heading in enumerate(cells.headings):
                near = near_heading(heading) if heading else None
                if columns[index] is None and near in _KINDS:
                    columns[index] = near
                    break
        if own is not None:
            columns = [OWN_WORD if column is None and heading and column_name(heading) not in RESERVED | _BESIDE
                       and cells.examples(index) else column
                       for index, (heading, column) in enumerate(zip(cells.headings, columns, strict=True))]
        return cls(cells, tuple(columns), own=names)

    @property
    def is_clear(self) -> bool:
        """Whether every heading is known, so that there is nothing to ask."""
        return not self.problem and all(
            column_name(heading) in self.own if column == OWN_WORD else _known(heading) == column and (
                column is not None or column_name(heading) in _BESIDE or not (heading or self.cells.examples(index)))
            for index, (heading, column) in enumerate(zip(self.cells.headings, self.columns, strict=True)))

    @property
    def problem(self) -> str:
        """Why the sheet cannot be read with these columns, in words; empty if it can."""
        used = [column for column in self.columns if column is not None and column != OWN_WORD]
        doubled = sorted({column for column in used if used.count(column) > 1})
        if doubled:
            return f"Two columns are “{doubled[0]}” now. Leave one of them out, or choose another for it."
        if not _KINDS & set(used):
            return "No column says yet what was played. Choose which one is “kind”, or “line” if it holds whole plays."
        return ""

    def with_column(self, index: int, column: str | None) -> ColumnMatching:
        """The matching with *column* for the heading at *index*."""
        return replace(self, columns=(*self.columns[:index], column, *self.columns[index + 1:]))

    def with_cell(self, row: int, column: int, text: str) -> ColumnMatching:
        """The matching with *text* in place of this cell; the sheet itself is unchanged."""
        return replace(self, mended={**self.mended, (row, column): text})

    def with_proposals(self, bad: Iterable[BadCell]) -> ColumnMatching:
        """The matching with the proposal of every bad cell that has one in place of the cell."""
        places = {self.place_of(cell): cell.proposal for cell in bad if cell.proposal}
        return replace(self, mended={**self.mended, **{at: text for at, text in places.items() if at is not None}})

    def place_of(self, bad: BadCell) -> tuple[int, int] | None:
        """Row and column of a bad cell; None if it stands in none that is read."""
        row = bad.row - self.cells.first_row
        if not 0 <= row < len(self.cells.rows):
            return None
        named = [heading if column == OWN_WORD else column
                 for heading, column in zip(self.cells.headings, self.columns, strict=True)]
        return (row, named.index(bad.column)) if bad.column in named else None

    def cell(self, row: int, column: int) -> str:
        """The text of a cell, corrected if it was."""
        return self.mended.get((row, column), self.cells.rows[row][column])

    def read(self, rulebook: Rulebook) -> list[SheetRow]:
        """The rows. Raises SheetError with every cell that cannot be understood; ask :attr:`problem` first."""
        used = [(index, column) for index, column in enumerate(self.columns) if column is not None]
        return read_rows([{self.cells.headings[index] if column == OWN_WORD else column: self.cell(row, index)
                           for index, column in used}
                          for row in range(len(self.cells.rows))], rulebook, self.cells.first_row)


def _known(heading: str) -> str | None:
    plain = column_name(heading)
    return plain if plain in CHOICES else None
