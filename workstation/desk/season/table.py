"""The breakdown as a table: counts and shares, quiet where there are too few plays to tell."""

from __future__ import annotations

from enum import StrEnum

from PySide6.QtCore import QAbstractTableModel, QModelIndex, QPersistentModelIndex, Qt, Signal
from PySide6.QtWidgets import QHeaderView, QTableView, QWidget

from ...delivery.breakdown_plots import spoken_key
from ...season.breakdown import ALL, Breakdown, Cell, Key, Share, spoken_column
from ..room import Desk

_ROOT = QModelIndex()
Index = QModelIndex | QPersistentModelIndex


class Shown(StrEnum):
    """What stands in a cell beside how many plays it has."""

    RUN = "run share"
    SUCCESS = "success"
    EXPLOSIVE = "explosive"
    GAIN = "gain"


class BreakdownModel(QAbstractTableModel):
    """Without columns chosen a row tells everything about its plays; with them each cell tells one thing."""

    _WHOLE = ("plays", "run", "pass", "success", "explosive", "mean gain", "median")

    def __init__(self, desk: Desk, parent: QWidget):
        super().__init__(parent)
        self._theme = desk.theme
        self.made: Breakdown | None = None
        self.shown = Shown.RUN
        self._rows: list[Key] = []
        self._columns: list[Key] = []

    def show(self, made: Breakdown, shown: Shown) -> None:
        """Show another breakdown."""
        self.beginResetModel()
        self.made, self.shown = made, shown
        self._rows = [*made.row_keys, ALL]
        self._columns = [*made.column_keys, ALL] if made.recipe.columns else []
        self.endResetModel()

    def rowCount(self, parent: Index = _ROOT) -> int:
        """One row for each key, and one for all."""
        return 0 if parent.isValid() or self.made is None else len(self._rows)

    def columnCount(self, parent: Index = _ROOT) -> int:
        """One column for each key, or for each thing told."""
        return 0 if parent.isValid() or self.made is None else len(self._columns) or len(self._WHOLE)

    def keys(self, index: Index) -> tuple[Key, Key]:
        """The row and column of the breakdown that an index stands for."""
        return (self._rows[index.row()] if 0 <= index.row() < len(self._rows) else ALL,
                self._columns[index.column()] if self._columns and index.column() >= 0 else ALL)

    def row_of(self, key: Key) -> int:
        """The row of a key, -1 if it is not there."""
        return self._rows.index(key) if key in self._rows else -1

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole):
        """The cell's text, its ink, and all of it in words."""
        if self.made is None or not index.isValid():
            return None
        cell = self.made.cell(*self.keys(index))
        if role == Qt.ItemDataRole.DisplayRole:
            return self._text(cell, index.column())
        if role in (Qt.ItemDataRole.ToolTipRole, Qt.ItemDataRole.AccessibleTextRole):
            row, column = self.keys(index)
            where = ", ".join(filter(None, (spoken_key(row), spoken_key(column) if self._columns else "")))
            return f"{where}: {cell.spoken()}"
        if role == Qt.ItemDataRole.ForegroundRole and not cell.tells:
            return self._theme.colour("quiet")
        if role == Qt.ItemDataRole.TextAlignmentRole:
            return Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter
        if role == Qt.ItemDataRole.FontRole and ALL in self.keys(index)[:1]:
            return self._theme.font("body", bold=True)
        return None

    def headerData(self, section: int, orientation: Qt.Orientation, role: int = Qt.ItemDataRole.DisplayRole):
        """The keys in words."""
        if self.made is None or role != Qt.ItemDataRole.DisplayRole:
            return None
        if orientation is Qt.Orientation.Vertical:
            return spoken_key(self._rows[section])
        return spoken_key(self._columns[section]) if self._columns else self._WHOLE[section]

    def _text(self, cell: Cell, column: int) -> str:
        if not cell.count:
            return ""
        if self._columns:
            return f"{cell.count}: {self._told(cell, self.shown)}" if cell.run.of else str(cell.count)
        return (str(cell.count), *(_share(each, cell.tells) for each in
                                   (cell.run, cell.passing, cell.success, cell.explosive)),
                *("–" if each is None else f"{each:.1f}" for each in (cell.mean_gain, cell.median_gain)))[column]

    def _told(self, cell: Cell, shown: Shown) -> str:
        if shown is Shown.GAIN:
            return "–" if cell.mean_gain is None else f"{cell.mean_gain:.1f}"
        share = {Shown.RUN: cell.run, Shown.SUCCESS: cell.success, Shown.EXPLOSIVE: cell.explosive}[shown]
        return f"{share.value:.0%}" if cell.tells else f"({share.value:.0%})"


def _share(share: Share, tells: bool) -> str:
    return share.spoken() if tells or share.value is None else f"({share.value:.0%})"


class BreakdownTable(QTableView):
    """``cell_chosen`` carries the row and column that are looked at; ``cell_opened`` those whose plays are to run."""

    cell_chosen = Signal(tuple, tuple)
    cell_opened = Signal(tuple, tuple)

    def __init__(self, desk: Desk, parent: QWidget | None = None):
        super().__init__(parent)
        self.setAccessibleName("Breakdown")
        self.model_ = BreakdownModel(desk, self)
        self.setModel(self.model_)
        self.setSelectionMode(QTableView.SelectionMode.SingleSelection)
        self.setAlternatingRowColors(False)
        self.setTabKeyNavigation(False)
        self.setWordWrap(False)
        heads = self.horizontalHeader()
        heads.setSectionResizeMode(QHeaderView.ResizeMode.ResizeToContents)
        self.verticalHeader().setSectionResizeMode(QHeaderView.ResizeMode.Fixed)
        self.selectionModel().currentChanged.connect(self._on_current)
        self.doubleClicked.connect(lambda index: self.cell_opened.emit(*self.model_.keys(index)))
        desk.theme.changed.connect(self._fit)
        self._theme = desk.theme
        self._arranging = False
        self._fit()

    def _fit(self) -> None:
        self.verticalHeader().setDefaultSectionSize(self._theme.pixels("body") + 10)

    def show_breakdown(self, made: Breakdown, shown: Shown) -> None:
        """Show another breakdown; the row that was looked at stays so if it is still there."""
        kept = self.model_.keys(self.currentIndex())[0] if self.currentIndex().isValid() else None
        self._arranging = True
        self.model_.show(made, shown)
        row = self.model_.row_of(kept) if kept is not None else 0
        self._arranging = False
        if self.model_.rowCount():
            self.setCurrentIndex(self.model_.index(max(row, 0), 0))
        corner = " · ".join(map(spoken_column, made.recipe.rows))
        self.setAccessibleDescription(f"Rows: {corner or 'all plays'}. {made.recipe.spoken()}")

    @property
    def current(self) -> tuple[Key, Key]:
        """The row and column that are looked at."""
        return self.model_.keys(self.currentIndex()) if self.currentIndex().isValid() else (ALL, ALL)

    def _on_current(self, index: QModelIndex) -> None:
        if index.isValid() and not self._arranging:
            self.cell_chosen.emit(*self.model_.keys(index))
