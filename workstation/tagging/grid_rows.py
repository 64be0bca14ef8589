"""Which rows of the sheet are shown and in which order."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence

from natsort import natsort_keygen, ns

_natural = natsort_keygen(alg=ns.REAL | ns.NOEXP | ns.IGNORECASE)       # numbers within a text by their size


def fits(cells: Sequence[str], words: str) -> bool:
    """Whether every one of *words* begins a word or a number in one of *cells*."""
    text = " ".join(cells).casefold()
    return all(re.search(rf"(?<!\w){re.escape(word)}", text) for word in words.casefold().split())


def shown_rows(count: int, cells: Callable[[int], Sequence[str]], words: str = "", column: int | None = None,
               sorted_by: int | None = None, descending: bool = False) -> list[int]:
    """The rows of *count* that fit *words*, in all columns or in one, sorted by a column, with empty cells last in
    both directions. Without a column to sort by they stay in game order."""
    rows = [row for row in range(count)
            if not words or fits(cells(row) if column is None else (cells(row)[column],), words)]
    if sorted_by is None:
        return rows
    filled = [row for row in rows if cells(row)[sorted_by]]
    filled.sort(key=lambda row: _natural(cells(row)[sorted_by]), reverse=descending)
    return filled + [row for row in rows if not cells(row)[sorted_by]]
