"""Small parts that several screens share."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QPoint, QRect, QSize, Qt, QTimer
from PySide6.QtWidgets import QFrame, QHBoxLayout, QLabel, QLayout, QPushButton, QSizePolicy, QWidget


def label(text: str = "", size: str = "body", ink: str = "", wrap: bool = False) -> QLabel:
    """A label in one of the theme's sizes and inks."""
    made = QLabel(text)
    made.setProperty("type", size)
    if ink:
        made.setProperty("ink", ink)
    made.setWordWrap(wrap)
    made.setTextFormat(Qt.TextFormat.PlainText)
    return made


def restyle(widget: QWidget, **properties: str) -> None:
    """Set style properties and let the style sheet see them."""
    if all(widget.property(name) == value for name, value in properties.items()):
        return
    for name, value in properties.items():
        widget.setProperty(name, value)
    widget.style().unpolish(widget)
    widget.style().polish(widget)


class MessageBar(QFrame):
    """Says what happened, where, and what to do; never takes the focus, never stops the film."""

    def __init__(self, parent: QWidget | None = None):
        super().__init__(parent)
        self.setObjectName("bar")
        row = QHBoxLayout(self)
        row.setContentsMargins(12, 6, 8, 6)
        self._mark = label("!", "title", "bad")
        self._what = label(wrap=True)
        self._what.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        self._dismiss = QPushButton("Dismiss")
        self._dismiss.setFocusPolicy(Qt.FocusPolicy.TabFocus)
        self._dismiss.clicked.connect(self.hide)
        row.addWidget(self._mark)
        self._way_out = QPushButton()
        self._way_out.setFocusPolicy(Qt.FocusPolicy.TabFocus)
        self._way_out.setProperty("role", "main")
        self._way_out.clicked.connect(self._act)
        self._action: Callable[[], object] | None = None
        row.addWidget(self._what, 1)
        row.addWidget(self._way_out)
        row.addWidget(self._dismiss)
        self.hide()

    @property
    def text(self) -> str:
        return self._what.text() if self.isVisibleTo(self.parentWidget()) else ""

    def fail(self, what: str, todo: str, button: str = "", action: Callable[[], object] | None = None) -> None:
        """Say what went wrong and what to do; *button* does it."""
        self._action = action
        self._way_out.setText(button)
        self._way_out.setVisible(bool(button))
        restyle(self, state="bad")
        restyle(self._mark, ink="bad")
        self._mark.setText("!")
        self._say(f"{what}\n{todo}" if todo else what)

    def _act(self) -> None:
        self.hide()
        if self._action is not None:
            self._action()

    def _say(self, text: str) -> None:
        self._what.setText(text)
        self.setAccessibleName(text)
        self.show()


class Toast(QLabel):
    """A line that lies over the bottom of its parent for a while and moves nothing."""

    def __init__(self, parent: QWidget):
        super().__init__(parent)
        self.setObjectName("toast")
        self.setTextFormat(Qt.TextFormat.PlainText)
        self.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)
        self._gone = QTimer(self, singleShot=True, interval=4000, timeout=self.hide)
        self.hide()

    def tell(self, what: str) -> None:
        self.setText(f"✓ {what}")
        self.setAccessibleName(what)
        self.adjustSize()
        around = self.parentWidget().rect()
        self.setMaximumWidth(around.width() - 40)
        self.move((around.width() - self.width()) // 2, 10)
        self.raise_()
        self.show()
        self._gone.start()


class FlowLayout(QLayout):
    """Lays widgets out in lines, left to right, like words."""

    def __init__(self, parent: QWidget | None = None, spacing: int = 5):
        super().__init__(parent)
        self._items = []
        self.setContentsMargins(0, 0, 0, 0)
        self.setSpacing(spacing)

    def addItem(self, item) -> None:
        self._items.append(item)

    def count(self) -> int:
        return len(self._items)

    def itemAt(self, index):
        return self._items[index] if 0 <= index < len(self._items) else None

    def takeAt(self, index):
        return self._items.pop(index) if 0 <= index < len(self._items) else None

    def clear(self) -> None:
        while self._items:
            widget = self._items.pop().widget()
            if widget is not None:
                widget.hide()
                widget.deleteLater()
        self.invalidate()

    def hasHeightForWidth(self) -> bool:
        return True

    def heightForWidth(self, width: int) -> int:
        return self._arrange(QRect(0, 0, width, 0), move=False)

    def setGeometry(self, rect: QRect) -> None:
        super().setGeometry(rect)
        self._arrange(rect, move=True)

    def sizeHint(self) -> QSize:
        return self.minimumSize()

    def minimumSize(self) -> QSize:
        size = QSize()
        for item in self._items:
            size = size.expandedTo(item.minimumSize())
        return size

    def _arrange(self, rect: QRect, move: bool) -> int:
        x, y, height = rect.x(), rect.y(), 0
        for item in self._items:
            if item.widget() is not None and item.widget().isHidden():
                continue
            hint = item.sizeHint()
            if x > rect.x() and x + hint.width() > rect.right() + 1:
                x, y, height = rect.x(), y + height + self.spacing(), 0
            if move:
                item.setGeometry(QRect(QPoint(x, y), hint))
            x += hint.width() + self.spacing()
            height = max(height, hint.height())
        return y + height - rect.y()


def flow(spacing: int = 5) -> tuple[QWidget, FlowLayout]:
    """A widget with a flow layout in it."""
    holder = QWidget()
    layout = FlowLayout(holder, spacing)
    policy = QSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Minimum)
    policy.setHeightForWidth(True)
    holder.setSizePolicy(policy)
    return holder, layout
