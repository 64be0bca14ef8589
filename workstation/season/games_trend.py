"""Several games of one crew side by side, as a table of words and shares: what gets better, practice by practice."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from math import isnan
from pathlib import Path

from ..coverage.checker import check_game
from ..coverage.summary import Summary, summarise
from ..tagging.gamefile import GameFile
from ..tagging.model import Heading

VIEWER_KNEW = "viewer knew the down"        # the first row


@dataclass(frozen=True)
class Cell:
    """One rule in one game: the share delivered (0 to 1, None where nothing was expected) and its words."""

    share: float | None
    words: str


@dataclass(frozen=True)
class Trend:
    """``games`` are column heads, ``rows`` a name with a cell for each game."""

    games: tuple[str, ...] = ()
    rows: tuple[tuple[str, tuple[Cell, ...]], ...] = ()
    left_out: tuple[str, ...] = ()      # games that could not be read, and why

    def spoken(self) -> str:
        """All of it in a sentence for each row."""
        return "; ".join(f"{name}: " + ", ".join(f"{game} {spoken_share(cell)} {cell.words}"
                                                 for game, cell in zip(self.games, cells, strict=True))
                         for name, cells in self.rows)

    def newest(self, games: int) -> Trend:
        """Only the last so many games."""
        return Trend(self.games[-games:], tuple((name, cells[-games:]) for name, cells in self.rows))

    def of(self, rules: Sequence[str]) -> Trend:
        """Only the rows of these practices, in their order."""
        rows = dict(self.rows)
        return Trend(self.games, tuple((rule, rows[rule]) for rule in dict.fromkeys(rules) if rule in rows))


def spoken_share(cell: Cell) -> str:
    """Return the share as a whole percentage, or a dash where there is none."""
    return "–" if cell.share is None else f"{cell.share:.0%}"


def summary_of(path: Path) -> tuple[Heading, Summary]:
    """Open a game for reading, check it and sum it up. Raises what opening and checking raise."""
    with GameFile.open(path, read_only=True) as file:
        game = file.game
    return game.heading, summarise(check_game(game).coverage)


def read_trend(paths: Sequence[Path], progress: Callable[[float, float], None]) -> Trend:
    """Sum up several games. One that cannot be read is left out and named; ``progress`` may raise to stop."""
    games, left_out = [], []
    for number, path in enumerate(paths):
        progress(number, len(paths))
        try:
            games.append(summary_of(path))
        except Exception as error:      # any one bad file must not hide the others
            left_out.append(f"{path.name}: {error}")
    return laid_out(games, tuple(left_out))


def laid_out(games: Sequence[tuple[Heading, Summary]], left_out: tuple[str, ...] = ()) -> Trend:
    """The trend as a table of words and shares, games by date."""
    if not games:
        return Trend(left_out=left_out)
    from ..coverage.trend import (  # only here: pandas takes longer than a screen may wait
        by_crew,
        remark_trend,
        trend,
        viewing_trend,
    )
    crews = by_crew(games)      # films of several crews say whose each is
    viewing, table = viewing_trend(games), trend(games)
    heads = tuple(" · ".join(part for part in (crew if len(crews) > 1 else "", date, game) if part) or "untitled"
                  for crew, date, game in zip(viewing["crew"], viewing["date"], viewing["game"], strict=True))
    rows = [(VIEWER_KNEW, tuple(_cell(share, f"{snaps} snaps") for share, snaps in
                                           zip(viewing["share_down_known"], viewing["snaps"], strict=True)))]
    for rule, part in table.groupby("rule", sort=False):
        cells = []
        for row in part.itertuples():
            words = f"{row.delivered} of {row.expected}" if row.expected else "none expected"
            cells.append(_cell(row.share_delivered, words + (f", {row.overdone} too many" if row.overdone else "")))
        rows.append((rule, tuple(cells)))
    for (praise, word), part in remark_trend(games).groupby(["praise", "word"], sort=False):
        rows.append((f"{'praise' if praise else 'remark'}: {word}",
                     tuple(_cell(None, f"{count}" if count else "none") for count in part["count"])))
    return Trend(heads, tuple(rows), left_out)


def _cell(share: float | None, words: str) -> Cell:
    return Cell(None if share is None or isnan(share) else float(share), words)
