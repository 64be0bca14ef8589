"""The picture under the table: the field with its spots, bars, or a small one for each row."""

from __future__ import annotations

from collections.abc import Callable
from enum import StrEnum

from PySide6.QtCore import QSize
from PySide6.QtGui import QPainter
from PySide6.QtWidgets import QSizePolicy, QWidget

from ...delivery.breakdown_plots import bars_plot, field_plot, multiples_plot
from ...delivery.shapes import Plot
from ...season.breakdown import Breakdown, Key
from ..plots import fitting, paint_plot
from ..room import Desk

_MOST = 24      # small multiples, and bars


class PictureKind(StrEnum):
    """Which picture is drawn."""

    FIELD = "Field"
    BARS = "Bars"
    MULTIPLES = "Small multiples"
    TREND = "Trend of the filming"


class BreakdownPicture(QWidget):
    """Draws a plot as wide as it is; the plot's words are its accessible description."""

    def __init__(self, desk: Desk):
        super().__init__()
        self._theme = desk.theme
        self._draw: Callable[[float, float], Plot] | None = None
        self._plot = Plot(0, 0)
        self.setAccessibleName("Picture of the breakdown")
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Minimum)
        desk.theme.changed.connect(self._again)

    def show_breakdown(self, made: Breakdown, look: PictureKind, cell: tuple[Key, Key]) -> None:
        """Draw *made* in that look; the field shows the plays of *cell*."""
        keys = made.row_keys[:_MOST]
        if look is PictureKind.BARS:
            self._draw = lambda width, letter: bars_plot(made, width, letter * 1.9, letter, fitting(self._theme), _MOST)
        elif look is PictureKind.MULTIPLES:
            self._draw = lambda width, letter: multiples_plot(made, keys, width, letter, fitting(self._theme),
                                                              max(int(width // (letter * 16)), 1))
        else:
            plays = made.plays(*cell)
            self._draw = lambda width, letter: field_plot(plays, width, letter * 9, letter)
        self._again()

    def _again(self) -> None:
        if self._draw is not None:
            self._plot = self._draw(max(self.width() - 12, 120), self._theme.pixels("small"))
            self.setAccessibleDescription(self._plot.alt)
            self.setMinimumHeight(round(self._plot.height) + 4)
            self.update()

    def resizeEvent(self, event) -> None:
        """Draw anew for another width."""
        super().resizeEvent(event)
        if event.size().width() != event.oldSize().width():
            self._again()

    def sizeHint(self) -> QSize:
        """As high as the plot."""
        return QSize(300, round(self._plot.height) + 4)

    def paintEvent(self, event) -> None:
        """Paint the plot."""
        painter = QPainter(self)
        painter.translate(6, 2)
        paint_plot(painter, self._theme, self._plot)
        painter.end()
