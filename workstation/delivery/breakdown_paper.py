"""A breakdown on one page: what was counted, the table, the spots on the field."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from reportlab.lib.units import mm
from reportlab.platypus import Flowable

from ..film.writing import written_whole
from ..season.breakdown import ALL, Breakdown, Cell, Key, spoken_column
from .breakdown_plots import bars_plot, field_plot, spoken_key
from .papers import HEADING, SMALL, TITLE, paragraph, table, write_document
from .plot_paper import LETTER, drawn, fit

_WIDTH = 172 * mm
_ROWS = 20              # of the table that fit beside the pictures
_COLUMNS = 5            # of the breakdown that fit across
_BARS = 6


def write_breakdown(made: Breakdown, games: Sequence[str], to: Path) -> Path:
    """Write the page as PDF; *games* are named as people name them. Rows and columns beyond what fits are left out, the
    fullest kept, and the page says so. Raises OSError."""
    title = made.recipe.name or "Breakdown"
    with written_whole(to) as temporary:
        write_document(str(temporary), title, _story(made, games, title))
    return to


def _story(made: Breakdown, games: Sequence[str], title: str) -> list[Flowable]:
    rows, columns = _fullest(made, made.row_keys, _ROWS, False), _fullest(made, made.column_keys, _COLUMNS, True)
    named = "; ".join(games[:4]) + (f" and {len(games) - 4} more" if len(games) > 4 else "")
    story: list[Flowable] = [paragraph(title, TITLE), paragraph(f"{made.recipe.spoken()}. {named}", SMALL)]
    story.append(_table(made, rows, columns))
    left_out = [f"{count} more {side}" for count, side in (
        (len(made.row_keys) - len(rows), "rows"), (len(made.column_keys) - len(columns), "columns")) if count]
    few = made.recipe.definitions.few
    story.append(paragraph(
        "A share stands with its range: where it would lie for many such plays, 95 % of the time (Wilson). In brackets "
        f"where fewer than {few} plays are behind it: too few to tell."
        + (f" Not on this page: {' and '.join(left_out)} with fewer plays; they are in the sheet." if left_out else ""),
        SMALL))
    story += [paragraph("Where the ball was snapped", HEADING), drawn(field_plot(made.frame, _WIDTH, 30 * mm, LETTER))]
    if made.row_keys and len(rows) <= 12:
        story += [paragraph("Runs and successes", HEADING), drawn(bars_plot(made, _WIDTH, 16.0, LETTER, fit, _BARS))]
    return story


def _fullest(made: Breakdown, keys: Sequence[Key], most: int, columns: bool) -> list[Key]:
    """The keys with most plays, in their own order."""
    counts = {key: made.cell(ALL, key).count if columns else made.cell(key).count for key in keys}
    kept = set(sorted(keys, key=lambda key: -counts[key])[:most])
    return [key for key in keys if key in kept]


def _table(made: Breakdown, rows: Sequence[Key], columns: Sequence[Key]) -> Flowable:
    first = " · ".join(map(spoken_column, made.recipe.rows)) or "all"
    if columns:
        wide = 132 / (len(columns) + 1)
        head = [first, *(spoken_key(column) for column in columns), "all"]
        lines = [[spoken_key(row), *(_short(made.cell(row, column)) for column in columns), _short(made.cell(row))]
                 for row in rows]
        lines.append(["all", *(_short(made.cell(ALL, column)) for column in columns), _short(made.cell())])
        return table([head, *lines], [40, *[wide] * (len(columns) + 1)])
    lines = [[spoken_key(row), *_long(made.cell(row))] for row in (*rows, ALL)]
    return table([[first, "plays", "run", "pass", "success", "explosive", "gain, median"], *lines],
                 [42, 12, 26, 26, 26, 24, 18])


def _short(cell: Cell) -> str:
    if not cell.count:
        return ""
    if not cell.run.of:
        return str(cell.count)
    said = f"{cell.count}: run {cell.run.value:.0%}, success {cell.success.value:.0%}"
    return said if cell.tells else f"({said})"


def _long(cell: Cell) -> list[str]:
    shares = [each.spoken() for each in (cell.run, cell.passing, cell.success, cell.explosive)]
    gain = "–" if cell.mean_gain is None else f"{cell.mean_gain:.1f}, {cell.median_gain:g}"
    return [str(cell.count), *(share if cell.tells or share == "–" else f"({share})" for share in shares), gain]
