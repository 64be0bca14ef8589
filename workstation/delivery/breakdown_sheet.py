"""A breakdown as a sheet: a row for each row and column of it, totals too, every share with its range."""

from __future__ import annotations

from pathlib import Path

import pandas as pd

from ..season.breakdown import ALL, Breakdown, Cell, Key, Share
from .sheets import write_sheet

TOTAL = "all"


def breakdown_sheet(made: Breakdown) -> pd.DataFrame:
    """One row per cell and total. ``*_share`` are 0 to 1, ``*_low`` and ``*_high`` the ends of their Wilson intervals
    at 95 %; ``tells`` is False where there are too few plays to say anything."""
    recipe = made.recipe
    rows = []
    for row in [*made.row_keys, ALL]:
        for column in [*made.column_keys, ALL]:
            cell = made.cell(row, column)
            if cell.count:
                rows.append({**_named(recipe.rows, row), **_named(recipe.columns, column), **_told(cell)})
    return pd.DataFrame(rows, columns=[*recipe.rows, *recipe.columns, *_told(made.cell())])


def _named(names: tuple[str, ...], key: Key) -> dict[str, str]:
    return dict(zip(names, key or (TOTAL,) * len(names), strict=True))


def _told(cell: Cell) -> dict[str, object]:
    told: dict[str, object] = {"plays": cell.count, "runs": cell.runs, "passes": cell.passes}
    for name, share in (("run", cell.run), ("pass", cell.passing), ("success", cell.success),
                        ("explosive", cell.explosive)):
        told |= _share(name, share)
    return told | {"converted": cell.converted, "mean_gain": _rounded(cell.mean_gain),
                   "median_gain": cell.median_gain, "tells": cell.tells}


def _share(name: str, share: Share) -> dict[str, object]:
    low, high = share.interval if share.of else (None, None)
    return {f"{name}_share": _rounded(share.value, 4), f"{name}_low": _rounded(low, 4),
            f"{name}_high": _rounded(high, 4)}


def _rounded(value: float | None, digits: int = 2) -> float | None:
    return None if value is None else round(value, digits)


def write_breakdown_sheet(made: Breakdown, to: Path) -> Path:
    """Write it as ``.csv``, ``.xlsx`` or ``.parquet``, by the suffix. Raises ValueError for another and OSError."""
    return write_sheet(breakdown_sheet(made), to, "breakdown")
