"""The plays of the open game as a table for Qt, over a :class:`~workstation.tagging.play_grid.PlayGrid`."""

from __future__ import annotations

from collections.abc import Iterable
from enum import Enum, auto
from typing import Any

from PySide6.QtCore import QAbstractTableModel, QModelIndex, QPersistentModelIndex, Qt, Signal

from ...football.notation import Custom
from ...tagging.grid_rows import shown_rows
from ...tagging.play_grid import GridColumn, GridError, PlayGrid, grid_columns
from ..session import Session


class CellLook(Enum):
    """How a cell looks."""

    SAID = auto()
    KNOWN = auto()      # carried on, or following
    DERIVED = auto()    # from the rules; nobody types into it
    NOT_ABOUT = auto()  # nothing is said about such a play here


Index = QModelIndex | QPersistentModelIndex
_ROOT = QModelIndex()


class PlaysTable(QAbstractTableModel):
    """Rows are the plays that are shown, in the order in which they are; a row keeps its place while cells change,
    until the sheet is sorted or searched anew. ``refused`` carries why a change was not made."""

    refused = Signal(str)

    def __init__(self, parent=None):
        super().__init__(parent)
        self._session: Session | None = None
        self.grid: PlayGrid | None = None
        self.columns: tuple[GridColumn, ...] = ()
        self.custom = Custom()
        self._rows: list[int] = []          # the plays that are shown, by their place in the game
        self._ids: tuple[int, ...] = ()     # of all plays, in game order
        self._cells: dict[int, tuple[str, ...]] = {}        # of the rows that were asked for
        self._looks: dict[int, list[tuple[str, CellLook]]] = {}
        self.words, self.within = "", None
        self.sorted_by: int | None = None
        self.descending = False

    # -- the game -----------------------------------------------------------------------------
    def show_session(self, session: Session | None, custom: Custom | None = None) -> None:
        """Show the plays of *session* from now on; None shows none."""
        self._session, self.custom = session, custom or Custom()
        self.beginResetModel()
        self.words, self.within, self.sorted_by, self.descending = "", None, None, False
        self._take_in()
        self._arrange()
        self.endResetModel()

    def _take_in(self) -> None:
        session = self._session
        self._cells, self._looks = {}, {}
        if session is None:
            self.grid, self.columns, self._ids = None, (), ()
            return
        game = session.game
        self.grid = PlayGrid(game, session.steps, session.words, session.vocabulary, session.rulebook, self.custom)
        self.columns = grid_columns(session.vocabulary)
        self._ids = tuple(tag.id for tag in game.plays)

    def _arrange(self) -> None:
        self._rows = shown_rows(len(self._ids), self.cells, self.words, self.within, self.sorted_by, self.descending)

    def refresh(self) -> None:
        """Take in the game as it is now. Rows keep their places unless plays or words came, went or moved."""
        if self._session is None:
            return
        ids, columns = self._ids, self.columns
        grid = self.grid
        game = self._session.game
        same = tuple(tag.id for tag in game.plays) == ids and grid_columns_equal(columns, self._session.vocabulary)
        if not same:
            self.beginResetModel()
        before, self.grid = grid, None
        known = self._cells
        self._take_in()
        if not same:
            self._arrange()
            self.endResetModel()
            return
        if before is not None and self.grid is not None:        # cells whose play met the same are as they were
            now = self.grid
            self._cells = {row: cells for row, cells in known.items()
                           if before.steps[row] is now.steps[row] and before.game.plays[row] is now.game.plays[row]
                           and before.words[row] == now.words[row]}
        if self._rows:
            self.dataChanged.emit(self.index(0, 0), self.index(len(self._rows) - 1, len(self.columns) - 1))

    def arrange(self, words: str | None = None, within: int | None = None) -> None:
        """Look for *words*, in all columns or *within* one, and sort anew."""
        if words is not None:
            self.words, self.within = words, within
        self.beginResetModel()
        self._arrange()
        self.endResetModel()

    def sort(self, column: int, order: Qt.SortOrder = Qt.SortOrder.AscendingOrder) -> None:
        """Sort by *column*; -1 is game order."""
        self.sorted_by = column if 0 <= column < len(self.columns) else None
        self.descending = order == Qt.SortOrder.DescendingOrder
        self.arrange()

    # -- rows and cells -----------------------------------------------------------------------
    def play_row(self, row: int) -> int:
        """The place in the game of what the sheet shows at *row*."""
        return self._rows[row]

    def row_of(self, play_row: int) -> int:
        """Where the sheet shows the play at this place of the game; -1 if it does not."""
        return self._rows.index(play_row) if play_row in self._rows else -1

    def cells(self, play_row: int) -> tuple[str, ...]:
        """What the cells say of the play at this place of the game."""
        cells = self._cells.get(play_row)
        if cells is None:
            assert self.grid is not None
            cells = self._cells[play_row] = tuple(column.say(self.grid, play_row) for column in self.columns)
        return cells

    def cell(self, row: int, column: int) -> str:
        """What the sheet shows at *row* and *column*."""
        return self.cells(self._rows[row])[column]

    def rowCount(self, parent: Index = _ROOT) -> int:
        """The plays that are shown."""
        return 0 if parent.isValid() else len(self._rows)

    def columnCount(self, parent: Index = _ROOT) -> int:
        """What is said of each."""
        return 0 if parent.isValid() else len(self.columns)

    def headerData(self, section: int, orientation: Qt.Orientation, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        """The columns' titles, with the direction of the one that the sheet is sorted by."""
        if orientation is Qt.Orientation.Horizontal and 0 <= section < len(self.columns):
            column = self.columns[section]
            if role == Qt.ItemDataRole.DisplayRole:
                arrow = f" {'▼' if self.descending else '▲'}" if section == self.sorted_by else ""
                return column.title + arrow
            if role == Qt.ItemDataRole.ToolTipRole:
                if column.is_derived:
                    return f"{column.title}: follows from the rules; change the play"
                return column.title if column.word is None else \
                    f"{column.title}: {column.word.kind}, said about {column.word.about}"
        return None

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        """What the cell says, and how it is known."""
        if role in (Qt.ItemDataRole.DisplayRole, Qt.ItemDataRole.EditRole):
            return self.cell(index.row(), index.column())
        if role in (Qt.ItemDataRole.ToolTipRole, Qt.ItemDataRole.AccessibleTextRole):
            text, how = self.cell(index.row(), index.column()), self.how(index.row(), index.column())
            return f"{text} ({how})" if text and how else text
        return None

    def looks(self, row: int) -> list[tuple[str, CellLook]]:
        """What the sheet shows in each cell of *row*, and how it looks."""
        play_row = self._rows[row]
        found = self._looks.get(play_row)
        if found is None:
            grid = self.grid
            assert grid is not None
            found = self._looks[play_row] = []
            for text, column in zip(self.cells(play_row), self.columns, strict=True):
                if column.is_derived:
                    found.append((text, CellLook.DERIVED))
                elif text and not column.is_said(grid, play_row):
                    found.append((f"↳ {text}", CellLook.KNOWN))
                else:
                    found.append((text, CellLook.SAID if column.applies(grid, play_row) else CellLook.NOT_ABOUT))
        return found

    def how(self, row: int, column: int) -> str:
        """How what the cell says is known, where nobody said it of this play."""
        assert self.grid is not None
        shown, play_row = self.columns[column], self._rows[row]
        if shown.is_derived:
            return "follows from the rules"
        if shown.word is None or shown.is_said(self.grid, play_row):
            return ""
        known = self.grid.words[play_row].get(shown.word.name)
        return str(known.how) if known is not None else ""

    def flags(self, index: Index) -> Qt.ItemFlag:
        """Derived cells are chosen and copied, never edited."""
        flags = Qt.ItemFlag.ItemIsEnabled | Qt.ItemFlag.ItemIsSelectable
        may = self._session is not None and not self._session.file.read_only
        if may and not self.columns[index.column()].is_derived:
            flags |= Qt.ItemFlag.ItemIsEditable
        return flags

    # -- changing -----------------------------------------------------------------------------
    def setData(self, index: Index, value: Any, role: int = Qt.ItemDataRole.EditRole) -> bool:
        """Write one cell; false, and ``refused``, if it cannot be read."""
        return role == Qt.ItemDataRole.EditRole and self.write([(index.row(), index.column(), str(value))])

    def write(self, cells: Iterable[tuple[int, int, str]]) -> bool:
        """Write cells (row, column, text of the sheet as it is shown) in one action, all of them or none."""
        if self.grid is None or self._session is None:
            return False
        try:
            operation = self.grid.changed((self._rows[row], self.columns[column], text) for row, column, text in cells)
        except GridError as error:
            self.refused.emit(str(error))
            return False
        return operation is None or self._session.do(operation) is not None


def grid_columns_equal(columns: tuple[GridColumn, ...], vocabulary) -> bool:
    """Whether *columns* are those of this vocabulary."""
    return [column.word for column in columns if column.word is not None] == list(vocabulary.words)
