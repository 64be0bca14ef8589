"""Play sheets from the stats crew: files and pasted cells into rows, within bounds.

What the columns mean is :mod:`workstation.football.sheet`'s matter.
"""

from __future__ import annotations

import csv
import io
import math
import os
import re
import zipfile
from collections.abc import Iterator
from contextlib import suppress
from datetime import datetime, time
from pathlib import Path
from typing import Any

import pandas as pd

from ..football.rulebook import Rulebook
from ..football.sheet import LINE, SheetRow, near_heading, read_rows
from .sheet_columns import SheetCells

LARGEST_FILE = 16 * 1024 * 1024
"""Bytes of the largest sheet that is read, and of the largest workbook once unpacked four times that."""
MOST_ROWS = 2000
MOST_COLUMNS = 200
MOST_CELLS = 1000
"""Cells of the longest row that is read, empty ones included."""
FORMULA_STARTS = ("=", "+", "-", "@", "\t", "\r")
"""Signs at which a spreadsheet program takes a cell for a formula (OWASP, "CSV Injection")."""


class SheetFileError(ValueError):
    """A file cannot be read as a sheet; the message says why and what to do."""


def read_sheet(path: str | os.PathLike[str], rulebook: Rulebook) -> list[SheetRow]:
    """Read a play sheet from a CSV file (also with semicolons or tabs) or the first sheet of an XLSX workbook, or a
    text file with one spoken line per play.

    The first row of a sheet holds the headings. Raises OSError, :class:`SheetFileError` for the file, or
    :class:`workstation.football.sheet.SheetError` with every cell that can't be understood.
    """
    return rows_of(sheet_cells(path), rulebook)


def sheet_cells(path: str | os.PathLike[str]) -> SheetCells:
    """The cells of a file that :func:`read_sheet` reads, whatever its headings are.

    Raises OSError, or :class:`SheetFileError` for what is no table within bounds.
    """
    path = Path(path)
    with path.open("rb") as stream:
        raw = stream.read(LARGEST_FILE + 1)
    if len(raw) > LARGEST_FILE:
        raise SheetFileError(f"{path.name}: larger than {LARGEST_FILE // 2**20} MiB; a play sheet is much smaller")
    if raw.startswith(b"PK\x03\x04"):
        cells = _workbook_cells(raw, path.name)
    elif raw.startswith(b"\xd0\xcf\x11\xe0"):
        raise SheetFileError(f"{path.name}: an old or protected workbook; save it as XLSX without a password, or CSV")
    else:
        text = _decoded(raw, path.name)
        if _one_line_per_play(text):
            lines = tuple(("" if line.lstrip().startswith("#") else line,) for line in text.splitlines())
            return SheetCells(path.name, (LINE,), lines, first_row=1)
        cells = _text_cells(text, path.name)
    return _sheet(cells, path.name)


def _one_line_per_play(text: str) -> bool:
    """The text is spoken lines, one per play, and no table: its first line holds no headings."""
    first = next((line for line in text.splitlines() if line.strip() and not line.lstrip().startswith("#")), "")
    headings = [heading.strip().strip('"').lower() for heading in re.split(r"[\t;,]", first)]
    known = {"kind", LINE} & set(headings) or any(near_heading(heading) for heading in headings if len(headings) > 1)
    return bool(first) and not known and "\t" not in first and ";" not in first


def pasted_cells(text: str) -> SheetCells:
    """The cells that were copied from a spreadsheet. Raises :class:`SheetFileError`."""
    if len(text) > LARGEST_FILE:
        raise SheetFileError("what was pasted is far larger than a play sheet")
    return _sheet(_text_cells(text, "what was pasted"), "what was pasted")


def _sheet(cells: pd.DataFrame, name: str) -> SheetCells:
    if cells.empty:
        raise SheetFileError(f"{name}: no headings and no rows in it")
    if len(cells) > MOST_ROWS + 1:
        raise SheetFileError(f"{name}: more than {MOST_ROWS} rows; a game has a few hundred plays at most")
    headings, *rows = (tuple(map(str, row)) for row in cells.itertuples(index=False, name=None))
    return SheetCells(name, tuple(heading.strip() for heading in headings), tuple(rows))


def rows_of(cells: SheetCells, rulebook: Rulebook) -> list[SheetRow]:
    """The rows of a sheet under their headings. Errors as :func:`read_sheet`."""
    name, headings = cells.name, cells.headings
    named = [heading for heading in headings if heading]
    doubled = sorted({heading for heading in named if named.count(heading) > 1})
    if doubled:
        raise SheetFileError(f"{name}: the heading {', '.join(doubled)} comes twice; rename one of the columns")
    if not {"kind", LINE} & {heading.lower() for heading in named}:
        near = [f"{heading!r} is {column!r}" for heading in named if (column := near_heading(heading)) is not None]
        proposed = f"; perhaps {', '.join(near)}: rename them" if near else ""
        raise SheetFileError(f"{name}: its first row has no column 'kind' or 'line', so it is not a play sheet's "
                             f"headings{proposed}")
    rows: list[dict[Any, Any]] = []
    for row in cells.rows:
        said = {heading: cell for heading, cell in zip(headings, row, strict=True) if heading}
        beyond = [cell for heading, cell in zip(headings, row, strict=True) if not heading and cell]
        rows.append(said | ({None: beyond} if beyond else {}))
    return read_rows(rows, rulebook, cells.first_row)


def _decoded(raw: bytes, name: str) -> str:
    # the last is what spreadsheets on Windows still write
    for encoding in ("utf-16",) if raw.startswith((b"\xff\xfe", b"\xfe\xff")) else ("utf-8-sig", "cp1252"):
        with suppress(UnicodeDecodeError):
            if "\0" not in (text := raw.decode(encoding)):
                return text
    raise SheetFileError(f"{name}: neither text nor a workbook; save the sheet as CSV or XLSX")


def _text_cells(text: str, name: str) -> pd.DataFrame:
    first = text.lstrip("\r\n").partition("\n")[0]
    delimiter = max("\t;,", key=first.count)
    try:
        widest = max((len(row) for row in csv.reader(io.StringIO(text), delimiter=delimiter)), default=0)
        if widest > MOST_COLUMNS:
            raise SheetFileError(f"{name}: more than {MOST_COLUMNS} columns")
        if not widest:
            return pd.DataFrame()
        cells = pd.read_csv(io.StringIO(text), sep=delimiter, header=None, names=range(widest), dtype=str,
                            keep_default_na=False, skip_blank_lines=False, nrows=MOST_ROWS + 2)
    except (csv.Error, pd.errors.ParserError, pd.errors.EmptyDataError) as error:
        raise SheetFileError(f"{name}: not a sheet of cells: {error}") from error
    return cells.fillna("").map(_tame)


def _workbook_cells(raw: bytes, name: str) -> pd.DataFrame:
    try:
        with zipfile.ZipFile(io.BytesIO(raw)) as archive:
            parts = archive.infolist()
        # members are never read beyond the size their entry declares
        if len(parts) > 1000 or sum(part.file_size for part in parts) > 4 * LARGEST_FILE:
            raise SheetFileError(f"{name}: unpacks to far more than a play sheet; it was not opened")
        rows = list(_workbook_rows(raw, name))
    except SheetFileError:
        raise
    except Exception as error:  # the reader of workbooks raises whatever its parsers happen to raise
        raise SheetFileError(f"{name}: a workbook that can't be read; save the sheet as CSV ({error})") from error
    while rows and not any(rows[-1]):
        rows.pop()
    widest = max(map(len, rows), default=0)
    return pd.DataFrame([row + [""] * (widest - len(row)) for row in rows], dtype=object).map(_tame)


def _workbook_rows(raw: bytes, name: str) -> Iterator[list[str]]:
    """The rows of the first sheet as they would have been typed. A filled cell beyond the last column allowed raises
    SheetFileError, so that memory is not used up by wide rows."""
    from openpyxl import load_workbook  # takes longer than the window's first sight may

    book = load_workbook(io.BytesIO(raw), read_only=True, data_only=True, keep_links=False)
    try:
        sheet = book.worksheets[0]
        sheet.reset_dimensions()        # the size stated in the file may be wrong
        for row in sheet.iter_rows(max_row=MOST_ROWS + 2, values_only=True):
            if len(row) > MOST_COLUMNS and (len(row) > MOST_CELLS or any(map(_spoken, row[MOST_COLUMNS:]))):
                raise SheetFileError(f"{name}: more than {MOST_COLUMNS} columns")
            yield [_spoken(cell) for cell in row[:MOST_COLUMNS]]
    finally:
        book.close()


def _spoken(cell: Any) -> str:
    """A workbook's cell as it would have been typed."""
    if isinstance(cell, bool):
        return "yes" if cell else "no"
    if isinstance(cell, time):
        # a clock such as 9:41 is taken for hours and minutes by spreadsheets
        minutes, seconds = (cell.hour * 60 + cell.minute, cell.second) if cell.second else (cell.hour, cell.minute)
        return f"{minutes}:{seconds:02}"
    if isinstance(cell, datetime):
        return cell.date().isoformat()
    if cell is None or cell is pd.NaT or (isinstance(cell, float) and math.isnan(cell)):
        return ""
    if isinstance(cell, float) and cell.is_integer():
        return str(int(cell))
    return str(cell)


def _tame(cell: str) -> str:
    """Without the apostrophe that keeps a spreadsheet from taking a text for a formula."""
    return cell[1:] if cell[:1] == "'" and cell[1:].startswith(FORMULA_STARTS) else cell
