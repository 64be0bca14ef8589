"""Matches the columns of a foreign sheet one by one, and mends its cells in place, before anything is taken in."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QSignalBlocker, Qt, Signal
from PySide6.QtWidgets import QAbstractItemView, QComboBox, QHeaderView, QSplitter, QTableWidgetItem, QWidget

from ...football.sheet import BadCell
from ...tagging.sheet_columns import CHOICES, ColumnMatching
from ..widgets import choice, fill_row, in_column, label, table

_LEFT_OUT = "leave out"
_CELL = 2           # the column of the lower table that is typed into


class ColumnsView(QWidget):
    """Above, each heading with its first cells and what it is read as; below, the cells that are not understood, to be
    typed anew. ``changed`` carries the :class:`ColumnMatching` that the person made."""

    changed = Signal(object)

    def __init__(self):
        super().__init__()
        self._matching: ColumnMatching | None = None
        self._bad: Sequence[BadCell] = ()
        self.columns = table(["In the sheet", "First cells", "Read as"],
                             "Columns of the sheet and what they are read as")
        self.boxes: list[QComboBox] = []
        self.cells = table(["Row", "Column", "Cell", "What is wrong"],
                           "Cells that are not understood; type into the third")
        trigger = QAbstractItemView.EditTrigger
        self.cells.setEditTriggers(trigger.DoubleClicked | trigger.SelectedClicked | trigger.AnyKeyPressed)
        self.cells.itemChanged.connect(self._type)
        for each, stretched in ((self.columns, 1), (self.cells, 3)):
            each.horizontalHeader().setSectionResizeMode(stretched, QHeaderView.ResizeMode.Stretch)
        for column, width in ((0, 170), (2, 170)):
            self.columns.setColumnWidth(column, width)
        for column, width in ((0, 60), (1, 120), (_CELL, 200)):
            self.cells.setColumnWidth(column, width)
        self._around = QWidget(self)
        in_column(label("Cells that are not understood: type them anew, Enter keeps each", "body", "quiet", wrap=True),
                  (self.cells, 1), on=self._around, margins=0)
        split = QSplitter(Qt.Orientation.Vertical, self)
        split.addWidget(self.columns)
        split.addWidget(self._around)
        split.setChildrenCollapsible(False)
        in_column(split, on=self, margins=0)

    def show_matching(self, matching: ColumnMatching) -> None:
        """Show the headings of a sheet, each with what it is read as."""
        is_other = self._matching is None or self._matching.cells is not matching.cells
        self._matching = matching
        if is_other:
            self._make_boxes(matching)
        for index, (box, column) in enumerate(zip(self.boxes, matching.columns, strict=True)):
            box.setCurrentIndex(box.findData(column))
            self.columns.setItem(index, 1, QTableWidgetItem(" · ".join(matching.cells.examples(index))))

    def _make_boxes(self, matching: ColumnMatching) -> None:
        self.columns.setRowCount(len(matching.columns))
        self.boxes = []
        for index, heading in enumerate(matching.cells.headings):
            name = heading or f"column {index + 1}, without a heading"
            self.columns.setItem(index, 0, QTableWidgetItem(name))
            box = choice(f"What “{name}” is read as", ((_LEFT_OUT, None), *(
                (column.replace("_", " "), column) for column in CHOICES)), parent=self.columns)
            box.activated.connect(lambda _, index=index, box=box: self._choose(index, box.currentData()))
            self.columns.setCellWidget(index, 2, box)
            self.boxes.append(box)

    def show_bad(self, bad: Sequence[BadCell]) -> None:
        """Show the cells that are not understood now, and why."""
        at = self.cells.currentRow()
        self._bad = bad
        with QSignalBlocker(self.cells):
            self.cells.setRowCount(len(bad))
            for place, cell in enumerate(bad):
                why = f"Is it “{cell.proposal}”? {cell.problem}" if cell.proposal else cell.problem
                items = fill_row(self.cells, place, (str(cell.row), cell.column.replace("_", " "), cell.cell, why))
                for item in (*items[:_CELL], *items[_CELL + 1:]):
                    item.setFlags(item.flags() & ~Qt.ItemFlag.ItemIsEditable)
            if bad:
                self.cells.setCurrentCell(min(max(at, 0), len(bad) - 1), _CELL)
        self._around.setVisible(bool(bad))

    def _choose(self, index: int, column: str | None) -> None:
        if self._matching is not None:
            self.changed.emit(self._matching.with_column(index, column))

    def _type(self, item: QTableWidgetItem) -> None:
        place = self._matching.place_of(self._bad[item.row()]) if self._matching is not None else None
        if place is not None and self._matching is not None:
            self.changed.emit(self._matching.with_cell(*place, item.text()))
