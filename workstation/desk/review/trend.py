"""The plots of the summary on the screen: several games of one crew side by side, and the camera work of one."""

from __future__ import annotations

from PySide6.QtCore import QSize
from PySide6.QtGui import QPainter
from PySide6.QtWidgets import QSizePolicy, QWidget

from ...coverage.camera_table import CameraRow
from ...delivery.shapes import Plot, camera_plot, trend_plot
from ...season.games_trend import Trend
from ..plots import fitting, paint_plot
from ..room import Desk

_LEAST = 420        # pixels wide


class TrendChart(QWidget):
    """One line for each practice, one column for each game: a bar as long as the share delivered, and its words."""

    def __init__(self, desk: Desk):
        super().__init__()
        self._theme = desk.theme
        self._trend = Trend()
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.setAccessibleName("Trend across games")
        desk.theme.changed.connect(self.updateGeometry)

    def show_trend(self, found: Trend) -> None:
        """Draw this trend, and describe it to screen readers."""
        self._trend = found
        self.setAccessibleDescription(found.spoken())
        self.updateGeometry()
        self.update()

    def _row(self) -> int:
        return self._theme.pixels("body") + self._theme.pixels("small") + 16

    def sizeHint(self) -> QSize:
        """The least width, and the height of all rows and the heading."""
        return QSize(_LEAST, self._row() * (len(self._trend.rows) + 1))

    def minimumSizeHint(self) -> QSize:
        """The same as the preferred size."""
        return self.sizeHint()

    def paintEvent(self, event) -> None:
        """Draw the chart, nothing if there are no games."""
        if not self._trend.games:
            return
        painter = QPainter(self)
        paint_plot(painter, self._theme, trend_plot(self._trend, self.width(), self._row(),
                                                    self._theme.pixels("small"), fitting(self._theme)))
        painter.end()


class CameraChart(QWidget):
    """The work of the camera over the game: a strip for each thing a crew works on, a stroke for each shot."""

    def __init__(self, desk: Desk):
        super().__init__()
        self._theme = desk.theme
        self._rows: tuple[CameraRow, ...] = ()
        self._seconds = 0.0
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.setAccessibleName("Camera work, shot by shot")
        desk.theme.changed.connect(self.updateGeometry)

    def show_rows(self, rows: tuple[CameraRow, ...], film_seconds: float) -> None:
        """Draw these rows, and describe them to screen readers."""
        self._rows, self._seconds = rows, film_seconds
        self.setAccessibleDescription(self._plot(1.0).alt)
        self.updateGeometry()
        self.update()

    def _row(self) -> int:
        return self._theme.pixels("small") * 3

    def _plot(self, width: float) -> Plot:
        return camera_plot(self._rows, self._seconds, width, self._row(), self._theme.pixels("small"),
                           fitting(self._theme))

    def sizeHint(self) -> QSize:
        """The least width, and the height of all strips."""
        return QSize(_LEAST, self._row() * len(self._rows))

    def minimumSizeHint(self) -> QSize:
        """The same as the preferred size."""
        return self.sizeHint()

    def paintEvent(self, event) -> None:
        """Draw the strips."""
        painter = QPainter(self)
        paint_plot(painter, self._theme, self._plot(self.width()))
        painter.end()
