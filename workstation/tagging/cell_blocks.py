"""Blocks of cells as text, in the form in which spreadsheets copy and paste them."""

from __future__ import annotations

import csv
import io
from collections.abc import Sequence

MOST_CELLS = 200_000


def block_text(rows: Sequence[Sequence[str]]) -> str:
    """Rows of cells as tab separated text; a cell with a tab, a line end or a quote is quoted."""
    stream = io.StringIO()
    csv.writer(stream, delimiter="\t", lineterminator="\n").writerows(rows)
    return stream.getvalue()


def read_block(text: str) -> list[list[str]]:
    """The cells of a copied block. Raises ValueError if it is not one."""
    text = text.removesuffix("\n").removesuffix("\r")
    try:
        rows = list(csv.reader(io.StringIO(text), delimiter="\t"))
    except csv.Error as error:
        raise ValueError(f"what was copied is no block of cells: {error}") from None
    rows = [row or [""] for row in rows] or [[""]]
    if sum(map(len, rows)) > MOST_CELLS:
        raise ValueError(f"what was copied has more than {MOST_CELLS:,} cells")
    return rows


def placed(block: Sequence[Sequence[str]], row: int, column: int, rows: int, columns: int, height: int, width: int
           ) -> list[tuple[int, int, str]]:
    """The cells (row, column, text) that *block* goes to with its corner at *row*, *column* of a sheet of *rows* by
    *columns*. One cell fills a chosen field of *height* by *width*. Raises ValueError where it would go beyond."""
    if len(block) == 1 and len(block[0]) == 1:
        block = [[block[0][0]] * width] * height
    if row + len(block) > rows or column + max(map(len, block)) > columns:
        raise ValueError(f"the block of {len(block)} rows and {max(map(len, block))} columns goes beyond the sheet; "
                         "choose a cell further up or left")
    return [(row + down, column + right, text) for down, cells in enumerate(block) for right, text in enumerate(cells)]
