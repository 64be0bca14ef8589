"""Small parts that several screens share."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from typing import Any, TypeVar

from PySide6.QtCore import QEvent, QSignalBlocker, QSize, Qt, Signal
from PySide6.QtGui import QKeyEvent, QPainter, QPaintEvent, QResizeEvent
from PySide6.QtWidgets import (
    QComboBox,
    QFrame,
    QHBoxLayout,
    QLabel,
    QLayout,
    QLineEdit,
    QPushButton,
    QScrollArea,
    QSizePolicy,
    QSplitter,
    QStackedWidget,
    QTableWidget,
    QTableWidgetItem,
    QVBoxLayout,
    QWidget,
)

from .flow_layout import FlowLayout
from .timers import timer

_HELD = Qt.KeyboardModifier.ControlModifier | Qt.KeyboardModifier.AltModifier | Qt.KeyboardModifier.MetaModifier
Part = QWidget | QLayout | int | tuple[Any, ...]
Margins = int | tuple[int, int, int, int]
_Box = TypeVar("_Box", QHBoxLayout, QVBoxLayout)


def in_row(*parts: Part, on: QWidget | None = None, margins: Margins | None = None,
           spacing: int | None = None) -> QHBoxLayout:
    """*parts* from left to right, as the layout of *on* if it is given. A part is a widget or a layout, such a one with
    its stretch and its alignment, or a number: free room with this stretch. *margins* (left, top, right, bottom, or all
    alike) and *spacing* are in pixels, without them the style's."""
    return _filled(QHBoxLayout(on) if on is not None else QHBoxLayout(), parts, margins, spacing)


def in_column(*parts: Part, on: QWidget | None = None, margins: Margins | None = None,
              spacing: int | None = None) -> QVBoxLayout:
    """*parts* from top to bottom, otherwise as :func:`in_row`."""
    return _filled(QVBoxLayout(on) if on is not None else QVBoxLayout(), parts, margins, spacing)


def _filled(box: _Box, parts: tuple[Part, ...], margins: Margins | None, spacing: int | None) -> _Box:
    if margins is not None:
        box.setContentsMargins(*(margins if isinstance(margins, tuple) else (margins,) * 4))
    if spacing is not None:
        box.setSpacing(spacing)
    for part in parts:
        if isinstance(part, int):
            box.addStretch(part)
            continue
        what, *how = part if isinstance(part, tuple) else (part,)
        (box.addLayout if isinstance(what, QLayout) else box.addWidget)(what, *how)
    return box


class Elided(QLabel):
    """One line that is shortened where it does not fit; the tip has all of it."""

    def minimumSizeHint(self) -> QSize:
        """Room for three ellipses."""
        return QSize(self.fontMetrics().horizontalAdvance("…") * 3, super().minimumSizeHint().height())

    def setText(self, text: str) -> None:
        """Show the text, and all of it in the tooltip."""
        super().setText(text)
        self.setToolTip(text)

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw as much of the text as fits."""
        painter = QPainter(self)
        painter.setPen(self.palette().color(self.foregroundRole()))
        room = self.contentsRect()
        painter.drawText(room, self.alignment(), self.fontMetrics().elidedText(
            self.text(), Qt.TextElideMode.ElideRight, room.width()))


def named(box: QComboBox, name: str) -> QComboBox:
    """Let a screen reader say what a box is for, not only what is chosen in it: on Linux it says so by the label that
    belongs to the box, elsewhere by its name."""
    box.setAccessibleName(name)
    box.setAccessibleDescription(name)
    box.setToolTip(name)
    sign = QLabel(name, box.parentWidget())
    sign.setBuddy(box)
    sign.hide()
    return box


def choice(name: str, rows: Iterable[tuple[str, Any]] = (), act: Callable[[], object] | None = None, letters: int = 0,
           parent: QWidget | None = None) -> QComboBox:
    """A box :func:`named` *name* to choose one of *rows* (words and value) from; *act* is called when a person has.
    With *letters* it is at least so many wide, whatever is in it."""
    box = named(QComboBox(parent), name)
    if letters:
        box.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
        box.setMinimumContentsLength(letters)
    for row in rows:
        box.addItem(*row)
    if act is not None:
        box.activated.connect(lambda _: act())
    return box


def offer(box: QComboBox, rows: Iterable[tuple[str, Any]], chosen: object = None) -> None:
    """Offer other *rows* (words and value) in a box without a signal; the one whose value is *chosen* is, or the
    first."""
    with QSignalBlocker(box):
        box.clear()
        for row in rows:
            box.addItem(*row)
        box.setCurrentIndex(max(box.findData(chosen), 0))


def push_button(text: str, act: Callable[[], object], name: str = "", role: str = "",
                focus: Qt.FocusPolicy | None = None, parent: QWidget | None = None) -> QPushButton:
    """A button that does *act*; *name* is what a screen reader calls it, if not *text*, *role* the style's."""
    made = QPushButton(text, parent)
    made.setAccessibleName(name)
    if role:
        made.setProperty("role", role)
    if focus is not None:
        made.setFocusPolicy(focus)
    made.clicked.connect(lambda: act())
    return made


class Field(QLineEdit):
    """A line to type in, which a screen reader calls *name*. Enter ends here: it is no key of the page around it, and
    *act*, what it does, may move the focus, where the same key press must not act again. With *give_up*, which it
    calls, Esc ends here too."""

    def __init__(self, parent: QWidget | None = None, *, name: str = "", hint: str = "", is_search: bool = False,
                 act: Callable[[], object] | None = None, give_up: Callable[[], object] | None = None):
        super().__init__(parent)
        self._give_up = give_up
        self.setAccessibleName(name)
        self.setPlaceholderText(hint)
        self.setClearButtonEnabled(is_search)
        if act is not None:
            self.returnPressed.connect(act)

    def event(self, event: QEvent) -> bool:
        """Claim Enter and Esc before they act as shortcuts."""
        if isinstance(event, QKeyEvent) and event.type() == QEvent.Type.ShortcutOverride and (
                (event.key() == Qt.Key.Key_Escape and self._give_up is not None)
                or (event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter) and not event.modifiers() & _HELD)):
            event.accept()
            return True
        return super().event(event)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Edit the text; Enter goes no further than the field, nor does an Esc that gives it up."""
        if event.key() == Qt.Key.Key_Escape and self._give_up is not None:
            self._give_up()
            event.accept()
            return
        super().keyPressEvent(event)
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            event.accept()


def label(text: str = "", size: str = "body", ink: str = "", wrap: bool = False, elide: bool = False,
          parent: QWidget | None = None) -> QLabel:
    """A label in one of the theme's sizes and inks."""
    made = Elided(text, parent) if elide else QLabel(text, parent)
    made.setProperty("type", size)
    if ink:
        made.setProperty("ink", ink)
    made.setWordWrap(wrap)
    made.setTextFormat(Qt.TextFormat.PlainText)
    return made


def table(headings: Sequence[str], name: str, by_row: bool = False) -> QTableWidget:
    """A table to read and to choose from (*by_row*: one whole row), still without rows; *name* is what a screen reader
    calls it."""
    made = QTableWidget(0, len(headings))
    if by_row:
        made.setSelectionBehavior(QTableWidget.SelectionBehavior.SelectRows)
        made.setSelectionMode(QTableWidget.SelectionMode.SingleSelection)
    made.setHorizontalHeaderLabels(headings)
    made.setAccessibleName(name)
    made.setEditTriggers(QTableWidget.EditTrigger.NoEditTriggers)
    made.setTabKeyNavigation(False)
    made.verticalHeader().hide()
    made.horizontalHeader().setDefaultAlignment(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter)
    return made


def fill_row(made: QTableWidget, row: int, texts: Iterable[str], data: object = None) -> list[QTableWidgetItem]:
    """Write a row of a table, each text in its tip too; the items, which are returned, carry *data*."""
    items = [QTableWidgetItem(text) for text in texts]
    for column, item in enumerate(items):
        item.setToolTip(item.text())
        item.setData(Qt.ItemDataRole.UserRole, data)
        made.setItem(row, column, item)
    return items


def say(line: QLabel, text: str, ink: str = "quiet") -> None:
    """Write *text* into a label, in this ink."""
    restyle(line, ink=ink)
    line.setText(text)


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

    def __init__(self):
        super().__init__()
        self.setObjectName("bar")
        self._mark = label("!", "title", "bad")
        self._what = label(wrap=True)
        self._what.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        self._way_out = push_button("", self._act, role="main", focus=Qt.FocusPolicy.TabFocus)
        self._action: Callable[[], object] | None = None
        self._dismiss = push_button("Dismiss", self.hide, focus=Qt.FocusPolicy.TabFocus)
        in_row(self._mark, (self._what, 1), self._way_out, self._dismiss, on=self, margins=(12, 6, 8, 6))
        self.hide()

    @property
    def text(self) -> str:
        """The message that is shown, empty if there is none."""
        return self._what.text() if not self.isHidden() else ""

    def fail(self, what: str, todo: str, button: str = "", action: Callable[[], object] | None = None) -> None:
        """Say what went wrong and what to do; *button* does it."""
        self._show("bad", ("!", "bad"), f"{what}\n{todo}" if todo else what, button, action)

    def tell(self, what: str) -> None:
        """Say what stays to be read, and that it is well."""
        self._show("good", ("✓", "good"), what)

    def offer(self, what: str, button: str, action: Callable[[], object] | None) -> None:
        """Say something to know, without a button or with one that does something about it."""
        self._show("", ("i", "quiet"), what, button, action)

    def _act(self) -> None:
        self.hide()
        if self._action is not None:
            self._action()

    def _show(self, state: str, mark: tuple[str, str], text: str, button: str = "",
              action: Callable[[], object] | None = None) -> None:
        self._action = action
        self._way_out.setText(button)
        self._way_out.setVisible(bool(button))
        restyle(self, state=state)
        say(self._mark, *mark)
        self._what.setText(text)
        self.setAccessibleName(text)
        self.show()


class Toast(QLabel):
    """A line that lies over the bottom of its parent for a while and moves nothing."""

    def __init__(self, parent: QWidget):
        super().__init__(parent)
        self._around = parent
        self.setObjectName("toast")
        self.setTextFormat(Qt.TextFormat.PlainText)
        self.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)
        self._gone = timer(self, 4000, self.hide)
        self.hide()

    def tell(self, what: str) -> None:
        """Show for a short time what was done."""
        self.setText(f"✓ {what}")
        self.setAccessibleName(what)
        self.adjustSize()
        around = self._around.rect()
        self.setMaximumWidth(around.width() - 40)
        self.move((around.width() - self.width()) // 2, 10)
        self.raise_()
        self.show()
        self._gone.start()


class Wrapping(QFrame):
    """A panel with lines that wrap: as high as the width it has needs, not as the least width would."""

    def minimumSizeHint(self) -> QSize:
        """The least width, with the height that the lines take at the present one."""
        layout = self.layout()
        # asked while it is made, or nothing in it wraps just now
        if layout is None or not layout.hasHeightForWidth():
            return super().minimumSizeHint()
        least = layout.minimumSize().width()
        return QSize(least, layout.minimumHeightForWidth(max(self.width(), least)))

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Ask for another height when the width changes."""
        if event.size().width() != event.oldSize().width():
            self.updateGeometry()


class EscCloses:
    """Mixin of pages that Esc closes; they have a signal ``closed``."""

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Close the page on Esc."""
        if event.key() == Qt.Key.Key_Escape:
            self.closed.emit()                  # type: ignore[attr-defined]  # of the page
        else:
            super().keyPressEvent(event)        # type: ignore[misc]  # of its widget


class FormPage(EscCloses, QFrame):
    """A page beside the film or in its place, which Esc closes. Keys without Ctrl or Alt are for what stands on it:
    arrows choose in its boxes and lists, and do not act in the room around. Function keys act as ever."""

    closed = Signal()

    def event(self, event: QEvent) -> bool:
        """Claim the keys before they act as shortcuts."""
        if isinstance(event, QKeyEvent) and event.type() == QEvent.Type.ShortcutOverride \
                and not event.modifiers() & _HELD and not Qt.Key.Key_F1 <= event.key() <= Qt.Key.Key_F35:
            event.accept()
            return True
        return super().event(event)


class Pages(QStackedWidget):
    """Pages of which one shows; only that one says how much room is needed."""

    def __init__(self, parent: QWidget | None = None):
        super().__init__(parent)
        self.currentChanged.connect(self.updateGeometry)

    def minimumSizeHint(self) -> QSize:
        """The least size of the page that is shown."""
        page = self.currentWidget()
        return page.minimumSizeHint().expandedTo(page.minimumSize()) if page is not None else QSize()

    def heightForWidth(self, width: int) -> int:
        """None: Qt would ask all pages, and scroll one for another's height."""
        return -1


def portion(split: QSplitter, stretches: Sequence[int], sizes: Sequence[int] = (), may_collapse: bool = False) -> None:
    """Say how what is in *split* shares further room, how many pixels each has at first, and whether a person may drag
    it away altogether."""
    for place, stretch in enumerate(stretches):
        split.setStretchFactor(place, stretch)
    if sizes:
        split.setSizes(sizes)
    split.setChildrenCollapsible(may_collapse)


def scrolled(widget: QWidget, name: str = "", is_wide: bool = True) -> QScrollArea:
    """*widget* in an area that scrolls it. The keyboard stops at the area if it has a *name*; one that is not *is_wide*
    is only scrolled up and down."""
    area = QScrollArea()
    area.setWidgetResizable(True)
    if not is_wide:
        area.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
    area.setFocusPolicy(Qt.FocusPolicy.TabFocus if name else Qt.FocusPolicy.NoFocus)
    area.setAccessibleName(name)
    area.setWidget(widget)
    return area


def labelled(words: str, *boxes: QWidget) -> QWidget:
    """A quiet label with its boxes after it, which no line of a flow parts."""
    together = QWidget()
    in_row(label(words, "body", "quiet"), *boxes, on=together, margins=0, spacing=5)
    return together


def flow(spacing: int = 5, parent: QWidget | None = None) -> tuple[QWidget, FlowLayout]:
    """A widget with a flow layout in it."""
    holder = QWidget(parent)
    layout = FlowLayout(holder, spacing)
    policy = QSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Minimum)
    policy.setHeightForWidth(True)
    holder.setSizePolicy(policy)
    return holder, layout
