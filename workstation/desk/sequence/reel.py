"""The sequence being built: its plays in order, and their ends."""

from __future__ import annotations

from collections.abc import Sequence as Seq
from dataclasses import dataclass

from PySide6.QtCore import QRectF, QSize, Qt, Signal
from PySide6.QtGui import QFontMetricsF, QPainter, QPen
from PySide6.QtWidgets import QAbstractItemView, QListWidget, QListWidgetItem, QStyle, QStyledItemDelegate

from ...film.time import Instant
from ..room import Desk
from ..timeline.thumbnails import Thumbnails, thumbnails_of


@dataclass(frozen=True, slots=True)
class ReelItem:
    """One place in the sequence as shown."""

    title: str
    line: str
    seconds: float | None       # None if the play was not filmed
    still: Instant | None = None


class _EntryPainter(QStyledItemDelegate):
    def __init__(self, desk: Desk, view: ReelList):
        super().__init__(view)
        self._theme, self._view = desk.theme, view

    def sizeHint(self, option, index) -> QSize:
        return QSize(200, self._theme.pixels("body") + self._theme.pixels("small") + 20)

    def paint(self, painter: QPainter, option, index) -> None:
        theme, entry = self._theme, self._view.entries[index.row()]
        rect = QRectF(option.rect)
        chosen = bool(option.state & QStyle.StateFlag.State_Selected)
        painter.save()
        if chosen:
            painter.fillRect(rect, theme.colour("selected"))
        if index.row() == self._view.playing:
            painter.fillRect(QRectF(rect.left(), rect.top(), 4, rect.height()), theme.colour("accent"))
        painter.setFont(theme.font("lead", bold=True))
        painter.setPen(theme.colour("on_selected" if chosen else "quiet"))
        number = "▶" if index.row() == self._view.playing else str(index.row() + 1)
        painter.drawText(QRectF(rect.left() + 6, rect.top(), 28, rect.height()), Qt.AlignmentFlag.AlignCenter, number)
        tall = rect.height() - 8
        # Words before pictures: all of the plays have one, or none has, so that their words stand in a column.
        metrics = QFontMetricsF(theme.font("body", bold=True, condensed=True))
        has_room = rect.width() - 44 - tall * 16 / 9 >= max(
            metrics.horizontalAdvance(f"{each.title}  00.0 s") for each in self._view.entries)
        image = self._view.still_of(entry)
        if has_room and image is not None and not image.isNull():
            painter.setRenderHint(QPainter.RenderHint.SmoothPixmapTransform)
            painter.drawImage(QRectF(rect.left() + 38, rect.top() + 4, tall * 16 / 9, tall), image)
        left = rect.left() + 38 + (tall * 16 / 9 + 8 if has_room else 0)
        words = QRectF(left, rect.top() + 4, rect.right() - left - 6, tall)
        seconds = "not filmed" if entry.seconds is None else f"{entry.seconds:.1f} s"
        painter.setFont(theme.font("small"))
        painter.drawText(words, Qt.AlignmentFlag.AlignTop | Qt.AlignmentFlag.AlignRight, seconds)
        room = words.width() - painter.fontMetrics().horizontalAdvance(seconds) - 10
        painter.drawText(words, Qt.AlignmentFlag.AlignBottom | Qt.AlignmentFlag.AlignLeft,
                         painter.fontMetrics().elidedText(entry.line, Qt.TextElideMode.ElideRight, int(words.width())))
        painter.setFont(theme.font("body", bold=True, condensed=True))
        painter.setPen(theme.colour("on_selected" if chosen else "text"))
        title = painter.fontMetrics().elidedText(entry.title, Qt.TextElideMode.ElideRight, int(room))
        painter.drawText(words, Qt.AlignmentFlag.AlignTop | Qt.AlignmentFlag.AlignLeft, title)
        painter.setPen(QPen(theme.colour("line")))
        painter.drawLine(rect.bottomLeft(), rect.bottomRight())
        painter.restore()


class ReelList(QListWidget):
    """The plays of a sequence in order. ``moved`` carries where a play was and where it was dropped."""

    moved = Signal(int, int)

    def __init__(self, desk: Desk):
        super().__init__()
        self.entries: Seq[ReelItem] = ()
        self.playing = -1
        self._thumbnails: Thumbnails | None = None
        self.setItemDelegate(_EntryPainter(desk, self))
        self.setUniformItemSizes(True)
        self.setDragDropMode(QAbstractItemView.DragDropMode.InternalMove)
        self.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setAccessibleName("Plays in the sequence")

    def show_session(self, session) -> None:
        """Take in another session and its thumbnails."""
        self._thumbnails = thumbnails_of(session, self._thumbnails, self._on_ready)

    def show_entries(self, entries: Seq[ReelItem]) -> None:
        """Show other entries; the same place stays current."""
        row = self.currentRow()
        self.blockSignals(True)
        self.entries = entries
        self.clear()
        for entry in entries:
            item = QListWidgetItem(entry.title)
            item.setToolTip(f"{entry.title}\n{entry.line}")
            self.addItem(item)
        self.setCurrentRow(min(max(row, 0), len(entries) - 1))
        self.blockSignals(False)

    def show_playing(self, row: int) -> None:
        """Mark the row that plays; a negative one marks none."""
        self.playing = row
        if row >= 0:
            self.setCurrentRow(row)
        self.viewport().update()

    def still_of(self, entry: ReelItem):
        """Return the thumbnail of an item, None while there is none."""
        return self._thumbnails.get(entry.still) if self._thumbnails is not None and entry.still is not None else None

    def _on_ready(self, _: Instant) -> None:
        if self.isVisible():
            self.viewport().update()

    def dropEvent(self, event) -> None:
        """Move the current item to where it is dropped."""
        source = self.currentRow()
        index = self.indexAt(event.position().toPoint())
        target = index.row() if index.isValid() else self.count()
        below = index.isValid() and event.position().y() > self.visualRect(index).center().y()
        target += below
        event.setDropAction(Qt.DropAction.IgnoreAction)     # the game says the order; it comes back from there
        event.accept()
        self.moved.emit(source, target - 1 if target > source else target)
