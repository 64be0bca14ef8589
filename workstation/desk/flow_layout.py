"""Lines of widgets that break where the width ends."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager

from PySide6.QtCore import QRect, QSize
from PySide6.QtWidgets import QLayout, QLayoutItem, QWidget


class FlowLayout(QLayout):
    """Lays widgets out in lines, left to right, like words."""

    def __init__(self, parent: QWidget | None = None, spacing: int = 5):
        super().__init__(parent)
        self._items: list[QLayoutItem] = []
        self._heights: dict[int, list[int]] = {}    # by width, up to each item; Qt asks many times over
        self._sizes: list[tuple[QLayoutItem, int, int, int, bool]] | None = None
        self.setContentsMargins(0, 0, 0, 0)
        self.setSpacing(spacing)

    def addItem(self, item) -> None:
        """Add an item at the end."""
        self._items.append(item)

    def count(self) -> int:
        """The number of items."""
        return len(self._items)

    def itemAt(self, index):
        """Return an item, None beyond the last."""
        return self._items[index] if 0 <= index < len(self._items) else None

    def takeAt(self, index):
        """Remove and return an item, None beyond the last."""
        return self._items.pop(index) if 0 <= index < len(self._items) else None

    def put_last(self, widget: QWidget) -> None:
        """Let *widget*, which is here already, come after all others."""
        self._items.sort(key=lambda item: item.widget() is widget)
        self.invalidate()

    @contextmanager
    def at_once(self) -> Iterator[None]:
        """Lay out once what is shown and hidden meanwhile; else every widget that appears would lay out all of them."""
        self.setEnabled(False)
        yield
        self.setEnabled(True)
        self.invalidate()

    def clear(self) -> None:
        """Remove all items and their widgets."""
        while self._items:
            widget = self._items.pop().widget()
            if widget is not None:
                widget.hide()
                widget.deleteLater()
        self.invalidate()

    def hasHeightForWidth(self) -> bool:
        """True: lines break where the width ends."""
        return True

    def invalidate(self) -> None:
        """Forget all measured sizes."""
        self._heights.clear()
        self._sizes = None
        super().invalidate()

    def heightForWidth(self, width: int) -> int:
        """Return the height that all lines take at this width."""
        return self._heights_up_to(width)[-1]

    def height_of(self, width: int, count: int) -> int:
        """The height that the first *count* of the widgets need, as far as they are shown."""
        heights = self._heights_up_to(width)
        return heights[min(count, len(heights) - 1)]

    def _heights_up_to(self, width: int) -> list[int]:
        """The height of no item, of the first, of the first two, and so on."""
        if width not in self._heights:
            self._heights[width] = [0, *[y + height for _, _, y, _, _, height in self._arranged(width)]]
        return self._heights[width]

    def setGeometry(self, rect: QRect) -> None:
        """Lay the items out in lines."""
        super().setGeometry(rect)
        left, top = rect.x(), rect.y()
        for item, x, y, wide, high, _ in self._arranged(rect.width()):
            item.setGeometry(QRect(left + x, top + y, wide, high))

    def sizeHint(self) -> QSize:
        """All in one line."""
        sizes = self._measured()
        return QSize(sum(width for _, width, *_ in sizes) + self.spacing() * max(len(sizes) - 1, 0),
                     max((height for _, _, height, *_ in sizes), default=0))

    def minimumSize(self) -> QSize:
        """The size of the largest item."""
        least = QSize()
        for item, *_ in self._measured():
            least = least.expandedTo(item.minimumSize())
        return least

    def _measured(self) -> list[tuple[QLayoutItem, int, int, int, bool]]:
        """What is there to lay out: width, height and least width of each, and whether it is higher when narrow."""
        if self._sizes is None:
            self._sizes = [(item, hint.width(), hint.height(), item.minimumSize().width(), item.hasHeightForWidth())
                           for item in self._items if (widget := item.widget()) is None or not widget.isHidden()
                           for hint in (item.sizeHint(),)]
        return self._sizes

    def _arranged(self, room: int) -> list[tuple[QLayoutItem, int, int, int, int, int]]:
        """Each item, its left and top, its width and height, and the height of its line so far."""
        x, y, height, spacing, lines = 0, 0, 0, self.spacing(), []
        for item, wide, high, least, bends in self._measured():
            if wide > room:
                wide = room if least < room else min(wide, least)
            if bends:
                high = max(high, item.heightForWidth(wide))
            if x and x + wide > room:
                x, y, height = 0, y + height + spacing, 0
            if high > height:
                height = high
            lines += [(item, x, y, wide, high, height)]
            x += wide + spacing
        return lines
