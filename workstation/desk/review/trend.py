"""Several games of one crew side by side: what gets better, rule by rule."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from math import isnan
from pathlib import Path

from PySide6.QtCore import QRectF, QSize, Qt
from PySide6.QtGui import QPainter, QPen
from PySide6.QtWidgets import QSizePolicy, QWidget

from ...coverage.checker import check_game
from ...coverage.summary import Summary, summarise
from ...tagging.gamefile import GameFile
from ...tagging.model import Heading
from ..room import Desk


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
    from ...coverage.trend import (  # only here: pandas takes longer than a room may
        by_crew,
        remark_trend,
        trend,
        viewing_trend,
    )
    crews = by_crew(games)      # films of several crews say whose each is
    viewing, table = viewing_trend(games), trend(games)
    heads = tuple(" · ".join(part for part in (crew if len(crews) > 1 else "", date, game) if part) or "untitled"
                  for crew, date, game in zip(viewing["crew"], viewing["date"], viewing["game"], strict=True))
    rows = [("viewer knew the down", tuple(_cell(share, f"{snaps} snaps") for share, snaps in
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


class TrendChart(QWidget):
    """One line for each rule, one column for each game: a bar as long as the share delivered, and its words."""

    def __init__(self, desk: Desk, parent: QWidget | None = None):
        super().__init__(parent)
        self._theme = desk.theme
        self._trend = Trend()
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.setAccessibleName("Trend across games")
        desk.theme.changed.connect(self.updateGeometry)

    def show_trend(self, found: Trend) -> None:
        self._trend = found
        self.setAccessibleDescription("; ".join(
            f"{name}: " + ", ".join(f"{game} {_percent(cell)} {cell.words}"
                                    for game, cell in zip(found.games, cells, strict=True))
            for name, cells in found.rows))
        self.updateGeometry()
        self.update()

    def _row(self) -> int:
        return self._theme.pixels("body") + self._theme.pixels("small") + 16

    def sizeHint(self) -> QSize:
        return QSize(420, self._row() * (len(self._trend.rows) + 1))

    def minimumSizeHint(self) -> QSize:
        return self.sizeHint()

    def paintEvent(self, event) -> None:
        if not self._trend.games:
            return
        painter, theme, tall = QPainter(self), self._theme, self._row()
        names = min(220 * theme.scale, self.width() * 0.35)
        wide = (self.width() - names) / len(self._trend.games)
        align = Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignLeft

        def say(box: QRectF, words: str, size: str, ink: str, bold: bool = False) -> None:
            painter.setFont(theme.font(size, bold=bold))
            painter.setPen(theme.colour(ink))
            painter.drawText(box, align, painter.fontMetrics().elidedText(
                words, Qt.TextElideMode.ElideRight, int(box.width())))

        for column, game in enumerate(self._trend.games):
            say(QRectF(names + column * wide, 0, wide - 12, tall), game, "small", "quiet")
        for row, (name, cells) in enumerate(self._trend.rows):
            top = (row + 1) * tall
            painter.setPen(QPen(theme.colour("line")))
            painter.drawLine(0, top, self.width(), top)
            say(QRectF(0, top, names - 10, tall), name, "body", "text", bold=row == 0)
            for column, cell in enumerate(cells):
                left = names + column * wide
                bar = QRectF(left, top + tall - 9, wide - 16, 5)
                say(QRectF(left, top + 1, wide - 12, tall - 11), f"{_percent(cell)}  {cell.words}", "small",
                    "text" if cell.share is not None else "quiet")
                painter.setPen(QPen(theme.colour("edge")))
                painter.setBrush(Qt.BrushStyle.NoBrush)
                if cell.share is not None:
                    painter.drawRect(bar)
                    painter.fillRect(QRectF(bar.left(), bar.top(), bar.width() * cell.share, bar.height()),
                                     theme.colour("text"))
        painter.end()


def _percent(cell: Cell) -> str:
    return "–" if cell.share is None else f"{cell.share:.0%}"
