"""The page of the second pass: the picture, and under it the sheet of all plays."""

from __future__ import annotations

from PySide6.QtCore import QItemSelection, QItemSelectionModel, QModelIndex, QPersistentModelIndex, QRectF, Qt, Signal
from PySide6.QtGui import QFontMetrics, QGuiApplication, QKeyEvent, QPainter, QPen
from PySide6.QtWidgets import (
    QAbstractItemView,
    QComboBox,
    QCompleter,
    QHeaderView,
    QLineEdit,
    QSplitter,
    QStyle,
    QStyledItemDelegate,
    QTableView,
    QWidget,
)

from ...tagging.cell_blocks import block_text, placed, read_block
from ...tagging.operations.operation import count
from ..keys import KeyButton
from ..picture import PictureView
from ..room import Desk
from ..session import Session
from ..session_holder import SessionHolder
from ..speech import custom_of
from ..timers import timer
from ..widgets import Field, Wrapping, flow, in_column, in_row, label, named, offer, portion, say
from .model import CellLook, PlaysTable

ROOM = 8            # pixels of a row beside its text
_DARK = (CellLook.DERIVED, CellLook.NOT_ABOUT)
_WIDEST = 220       # pixels of a column at the normal text size
_SAMPLE = 40        # rows that a column's width is measured by
_FOLLOW = 60        # milliseconds after which the picture follows the cell


class PlaysSheet(QTableView):
    """The cells. Letters begin to type, as in a spreadsheet; everything else is a key of the page."""

    def __init__(self, desk: Desk, parent: QWidget | None = None):
        super().__init__(parent)
        self._desk = desk
        self._again = timer(self, 0, self._edit_again)
        self.setAccessibleName("Sheet of all plays")
        self.setSelectionMode(QAbstractItemView.SelectionMode.ContiguousSelection)
        self.setEditTriggers(QAbstractItemView.EditTrigger.AnyKeyPressed | QAbstractItemView.EditTrigger.DoubleClicked
                             | QAbstractItemView.EditTrigger.EditKeyPressed)
        self.setVerticalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.setHorizontalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.setTabKeyNavigation(True)      # Esc leaves
        self.setWordWrap(False)
        self.setObjectName("plays")
        self.verticalHeader().hide()
        self.verticalHeader().setSectionResizeMode(QHeaderView.ResizeMode.Fixed)
        heads = self.horizontalHeader()
        heads.setDefaultAlignment(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter)
        heads.setSectionsClickable(True)
        heads.setHighlightSections(False)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Enter goes to the cell below, Tab to the one at the right, and both over derived ones."""
        key, back = event.key(), bool(event.modifiers() & Qt.KeyboardModifier.ShiftModifier)
        if key in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.go(-1 if back else 1, 0)
        else:
            super().keyPressEvent(event)

    def _edit_again(self) -> None:
        index = self.currentIndex()
        if index.isValid():
            self.edit(index)

    def go(self, down: int, right: int) -> None:
        """Take the cell that lies so many further in hand, if there is one."""
        now = self.currentIndex()
        there = self.model().index(now.row() + down, now.column() + right)
        if there.isValid():
            self.setCurrentIndex(there)

    def closeEditor(self, editor: QWidget, hint: QStyledItemDelegate.EndEditHint) -> None:
        """Typing ended: Enter goes on to the cell below; what could not be read stays to be mended."""
        super().closeEditor(editor, QStyledItemDelegate.EndEditHint.NoHint)
        cells = self.itemDelegate()
        if isinstance(cells, _Cells) and cells.refused is not None:
            if hint == QStyledItemDelegate.EndEditHint.RevertModelCache:
                cells.refused = None
            else:
                self._again.start()
        elif hint == QStyledItemDelegate.EndEditHint.SubmitModelCache:
            self.go(1, 0)
        elif hint == QStyledItemDelegate.EndEditHint.EditNextItem:
            self.go(0, 1)
        elif hint == QStyledItemDelegate.EndEditHint.EditPreviousItem:
            self.go(0, -1)


class _Cells(QStyledItemDelegate):
    """Paints a cell from the model's own texts: said ones plain, those that are carried on or follow in a slanted quiet
    hand behind a sign, derived ones on the darker ground of what cannot be typed into."""

    def __init__(self, desk: Desk, model: PlaysTable, parent: QWidget):
        super().__init__(parent)
        self._theme, self._model = desk.theme, model
        self.refused: tuple[int, int, str] | None = None       # row, column and what was typed and could not be read
        self._theme.changed.connect(self.forget)
        self.forget()

    def forget(self) -> None:
        """Take the look's fonts and colours anew."""
        theme = self._theme
        self._plain = theme.font("body")
        self._slanted = theme.font("body")
        self._slanted.setItalic(True)
        self._metrics = {False: QFontMetrics(self._plain), True: QFontMetrics(self._slanted)}
        self._colours = {name: theme.colour(name) for name in
                         ("text", "quiet", "selected", "on_selected", "line", "ground", "panel", "accent", "focus")}
        self._pen = QPen(self._colours["focus"], 2)
        plain = self._metrics[False]
        self._baseline = (plain.height() + ROOM) // 2 + (plain.ascent() - plain.descent()) // 2
        self._elided: dict[tuple[str, int, bool], str] = {}

    def paint(self, painter: QPainter, option, index: QModelIndex | QPersistentModelIndex) -> None:
        rect, colours = option.rect, self._colours
        text, look = self._model.looks(index.row())[index.column()]
        is_selected = bool(option.state & QStyle.StateFlag.State_Selected)
        if is_selected:
            painter.fillRect(rect, colours["selected"])
        elif look in _DARK:
            painter.fillRect(rect, colours["ground"])
        if text:
            is_known = look is CellLook.KNOWN
            key = text, rect.width(), is_known
            if (elided := self._elided.get(key)) is None:
                if len(self._elided) > 5000:
                    self._elided.clear()
                elided = self._elided[key] = self._metrics[is_known].elidedText(
                    text, Qt.TextElideMode.ElideRight, rect.width() - 12)
            painter.setFont(self._slanted if is_known else self._plain)
            painter.setPen(colours["on_selected" if is_selected else "text" if look is CellLook.SAID else "quiet"])
            painter.drawText(rect.x() + 6, rect.y() + self._baseline, elided)
        if option.state & QStyle.StateFlag.State_HasFocus:
            painter.setPen(self._pen)
            painter.drawRect(QRectF(rect).adjusted(1, 1, -1, -1))

    def createEditor(self, parent: QWidget, option, index) -> QWidget:
        """A line that completes from the word's list."""
        editor = Field(parent)
        column = self._model.columns[index.column()]
        editor.setAccessibleName(column.title)
        editor.setMaxLength(300)
        if column.word is not None and column.word.kind.has_list:
            completer = QCompleter([value.name for value in column.word.values], editor)
            completer.setCaseSensitivity(Qt.CaseSensitivity.CaseInsensitive)
            completer.setCompletionMode(QCompleter.CompletionMode.InlineCompletion)     # a list would take Enter
            editor.setCompleter(completer)
        return editor

    def updateEditorGeometry(self, editor: QWidget, option, index) -> None:
        """At least as wide as a word needs."""
        rect = option.rect
        rect.setWidth(max(rect.width(), self._metrics[False].averageCharWidth() * 18))
        editor.setGeometry(rect)

    def setEditorData(self, editor: QWidget, index) -> None:
        """Begin with what was said; what is only carried on is not taken over."""
        assert isinstance(editor, QLineEdit)
        refused, self.refused = self.refused, None
        if refused is not None and refused[:2] == (index.row(), index.column()):
            editor.setText(refused[2])
            return
        editor.setText("" if self._model.how(index.row(), index.column())
                       else self._model.cell(index.row(), index.column()))
        editor.selectAll()

    def setModelData(self, editor: QWidget, model, index) -> None:
        """Write what was typed; a cell that only shows what is carried on and was left empty stays so."""
        assert isinstance(editor, QLineEdit)
        typed = editor.text()
        self.refused = None if model.setData(index, typed) else (index.row(), index.column(), typed)


class SecondPassPage(SessionHolder, Wrapping):
    """A page of its own; ``closed`` is sent when the person is through with it."""

    closed = Signal()
    words_wanted = Signal()

    def __init__(self, desk: Desk):
        super().__init__()
        self._desk = desk
        self.setObjectName("ground")
        self.setAccessibleName("Sheet of all plays")
        self._follow = timer(self, _FOLLOW, self._show_picture)
        self.model = PlaysTable(self)
        self._build()
        self.model.refused.connect(lambda why: self._tell(f"Not written: {why}.", "bad"))
        self.model.modelReset.connect(self._count)
        self.sheet.selectionModel().currentChanged.connect(self._moved)
        self.sheet.horizontalHeader().sectionClicked.connect(self._sort_by)
        desk.keys.bind("second_pass.find", self, self._find)
        desk.theme.changed.connect(self._measure)

    def _build(self) -> None:
        self.title = label("", "title")
        self.search = Field(name="Show the plays that say", hint="Show the plays that say …", is_search=True,
                            act=lambda: self.sheet.setFocus())
        self.search.textChanged.connect(self._search)
        self.within = named(QComboBox(self), "Where it is said")
        self.within.currentIndexChanged.connect(self._search)
        self.leave_button = KeyButton(self._desk.keys, "second_pass.leave", "Back", None, self.leave, self, "main")
        head = in_row(self.title, (self.search, 2), self.within, 1, self.leave_button)
        head.insertSpacing(1, 12)
        self.split = QSplitter(Qt.Orientation.Vertical)
        self.picture = PictureView(parent=self.split)
        self.picture.message = "No picture: this play was not filmed, or its film is not there."
        self.sheet: PlaysSheet = PlaysSheet(self._desk, self.split)
        self.sheet.setModel(self.model)
        self.cells = _Cells(self._desk, self.model, self.sheet)
        self.sheet.setItemDelegate(self.cells)
        self.split.addWidget(self.picture)
        self.split.addWidget(self.sheet)
        portion(self.split, (1, 1), (300, 340))
        self.said = label("", wrap=True)
        self.said.setMinimumHeight(self.said.fontMetrics().height())
        below, row = flow(parent=self)
        for id, text, act in (("second_pass.fill", "Fill down", self.fill_down),
                              ("second_pass.copy", "Copy", self.copy),
                              ("second_pass.paste", "Paste", self.paste), ("second_pass.clear", "Empty", self.clear),
                              ("second_pass.sort", "Sort", lambda: self._sort_by(self.sheet.currentIndex().column())),
                              ("second_pass.toggle", "Play", lambda: self.session.toggle())):
            row.addWidget(KeyButton(self._desk.keys, id, text, below, act, self))
        row.addWidget(KeyButton(self._desk.keys, "desk.words", "Own words", below, self.words_wanted.emit))
        in_column(head, (self.split, 1), self.said, below, on=self, margins=(12, 10, 12, 10))

    def hasHeightForWidth(self) -> bool:
        """No: the picture and the sheet take what room there is, however high they would like to be."""
        return False

    # -- the session --------------------------------------------------------------------------
    def show_session(self, session: Session | None) -> None:
        """Show the plays of *session*; None shows none."""
        if self._session is session:
            return
        super().show_session(session)
        self._follow.stop()
        self.search.clear()
        self.picture.show_session(session)
        self.model.show_session(session, None if session is None else
                                custom_of(self._desk.settings, session.game.heading))
        self.sheet.horizontalHeader().setSortIndicatorShown(False)
        self._offer_columns()
        self._measure()

    def _follows(self, session: Session) -> list:
        return [(session.game_changed, self._changed), (session.playing_changed, self._playing)]

    def showEvent(self, event) -> None:
        """Take up the play that the film stands in."""
        super().showEvent(event)
        if not self.has_session:
            return
        self._refresh()
        play = self.session.play_at_hand()
        row = self.model.row_of(self.session.position_of(play)) if play is not None else 0
        now = self.sheet.currentIndex()
        column = now.column() if now.isValid() else self._first_typed()
        self.sheet.setCurrentIndex(self.model.index(max(row, 0), column))
        self.sheet.setFocus()

    def _first_typed(self) -> int:
        """The first own word's column, or the first that can be typed into."""
        return next((place for place, column in enumerate(self.model.columns) if column.word is not None),
                    next((place for place, column in enumerate(self.model.columns) if not column.is_derived), 0))

    def _changed(self, *_) -> None:
        if self.isVisible():
            self._tell("")      # what it told of may have been undone
            self._refresh()

    def _refresh(self) -> None:
        """Take in the game as it is, and stay in the cell."""
        now, columns = self.sheet.currentIndex(), self.model.columns
        row, column = now.row(), now.column()
        self.model.refresh()
        if self.model.columns != columns:
            self._offer_columns()
            self._measure()
        if not self.sheet.currentIndex().isValid() and row >= 0:
            self.sheet.setCurrentIndex(self.model.index(min(row, self.model.rowCount() - 1),
                                                        min(column, self.model.columnCount() - 1)))
        self._count()

    def _offer_columns(self) -> None:
        offer(self.within, [("in any column", None), *((f"in {column.title}", None) for column in self.model.columns)])

    def _measure(self) -> None:
        """Rows and columns for the text's size."""
        theme, sheet, model = self._desk.theme, self.sheet, self.model
        metrics = QFontMetrics(theme.font("body"))
        heads = QFontMetrics(theme.font("small"))
        sheet.verticalHeader().setDefaultSectionSize(metrics.height() + ROOM)
        widest = round(_WIDEST * theme.scale)
        for place, column in enumerate(model.columns):
            texts = [model.cell(row, place) for row in range(min(model.rowCount(), _SAMPLE))]
            if column.word is not None:
                texts += [value.name for value in column.word.values][:20]
            wanted = max((metrics.horizontalAdvance(text) for text in texts), default=0) + 30
            sheet.setColumnWidth(place, min(max(wanted, heads.horizontalAdvance(f"{column.title} ▲") + 18), widest))

    def _count(self) -> None:
        shown, plays = self.model.rowCount(), len(self.session.game.plays) if self.has_session else 0
        self.title.setText(f"{plays} plays" if shown == plays else f"{shown} of {plays} plays")
        if not plays:
            self._tell("No plays yet: type them in the Tag room first.")
        elif self.model.words and not shown:
            self._tell("No play says that.")

    # -- the picture follows ------------------------------------------------------------------
    def _moved(self, now: QModelIndex, before: QModelIndex) -> None:
        self._tell("")
        if now.row() != before.row() and now.isValid():
            self._follow.start()

    def _show_picture(self) -> None:
        """Go to the snap of the play in hand; its beginning, where no snap is marked."""
        row = self.sheet.currentIndex().row()
        if not self.has_session or not self.isVisible() or not 0 <= row < self.model.rowCount():
            return
        at = self.session.beginning_of(self.session.game.plays[self.model.play_row(row)].id)
        if at is None:
            self.picture.show_words(f"play {self.model.play_row(row) + 1} was not filmed")
            return
        self.picture.show_words("")
        if self.session.playing:
            self.session.pause()
        self.session.seek(at)

    def _playing(self, playing: bool) -> None:
        if playing:
            self.picture.show_words("")

    # -- finding ------------------------------------------------------------------------------
    def _find(self) -> None:
        self.search.setFocus()
        self.search.selectAll()

    def _search(self, *_) -> None:
        within = self.within.currentIndex() - 1
        self._keeping_play(lambda: self.model.arrange(self.search.text(), within if within >= 0 else None))

    def _sort_by(self, column: int) -> None:
        """By this column, the other way round the second time, in game order the third."""
        if column < 0:
            return
        model = self.model
        again = model.sorted_by == column
        by = -1 if again and model.descending else column
        order = Qt.SortOrder.DescendingOrder if again and by >= 0 else Qt.SortOrder.AscendingOrder
        self._keeping_play(lambda: model.sort(by, order))

    def _keeping_play(self, act) -> None:
        """Rearrange the rows and stay with the play at hand, if it is still shown."""
        now, model = self.sheet.currentIndex(), self.model
        play_row = model.play_row(now.row()) if 0 <= now.row() < model.rowCount() else 0
        column = max(now.column(), 0)
        act()
        if model.rowCount():
            self.sheet.setCurrentIndex(model.index(max(model.row_of(play_row), 0), column))

    # -- changing -----------------------------------------------------------------------------
    def _chosen(self) -> tuple[int, int, int, int]:
        """First row and column of what is chosen, and its height and width."""
        chosen = self.sheet.selectionModel().selection()
        if chosen.isEmpty():
            now = self.sheet.currentIndex()
            return now.row(), now.column(), 1, 1
        field = chosen.first()
        return field.top(), field.left(), field.height(), field.width()

    def fill_down(self) -> None:
        """Write what the first row of what is chosen says into the others; with one row chosen, the row above it."""
        row, column, height, width = self._chosen()
        if height < 2:
            row, height = row - 1, 2
        if row < 0:
            self._tell("Nothing lies above to fill down from. Choose the cell that says it and those below it.")
            return
        self._write([(row + down, column + right, self.model.cell(row, column + right))
                     for down in range(1, height) for right in range(width)
                     if self.model.looks(row + down)[column + right][1] not in _DARK], "filled")

    def copy(self) -> None:
        """Put what is chosen on the clipboard, as spreadsheets read it."""
        row, column, height, width = self._chosen()
        if row >= 0:
            QGuiApplication.clipboard().setText(block_text(
                [[self.model.cell(row + down, column + right) for right in range(width)] for down in range(height)]))
            self._tell(f"{count(height * width, 'cell')} copied.", "good")

    def paste(self) -> None:
        """Write the clipboard's cells from the chosen one on; one cell fills all that is chosen."""
        row, column, height, width = self._chosen()
        if row < 0:
            return
        try:
            block = read_block(QGuiApplication.clipboard().text())
            cells = placed(block, row, column, self.model.rowCount(), self.model.columnCount(), height, width)
        except ValueError as error:
            self._tell(f"Not pasted: {error}.", "bad")
            return
        if self._write([cell for cell in cells if not self._is_as_it_stands(cell)], "pasted"):
            down, right = max(cell[0] for cell in cells), max(cell[1] for cell in cells)
            self.sheet.selectionModel().select(
                QItemSelection(self.model.index(row, column), self.model.index(down, right)),
                QItemSelectionModel.SelectionFlag.ClearAndSelect)

    def _is_as_it_stands(self, cell: tuple[int, int, str]) -> bool:
        """A derived cell that is pasted onto itself is no harm."""
        row, column, text = cell
        return self.model.columns[column].is_derived and self.model.cell(row, column) == text

    def clear(self) -> None:
        """Take back what was said in the chosen cells; what is carried on or follows shows again."""
        row, column, height, width = self._chosen()
        if row >= 0:
            self._write([(row + down, column + right, "") for down in range(height) for right in range(width)
                         if not self.model.columns[column + right].is_derived], "emptied")

    def _write(self, cells: list[tuple[int, int, str]], done: str) -> bool:
        if self.session.file.read_only:
            self._tell("This game is open for reading only.", "bad")
            return False
        if not cells:
            self._tell("What follows from the rules cannot be typed; change the play.")
            return False
        if not self.model.write(cells):
            return False
        self._tell(f"{count(len(cells), 'cell')} {done}. "
                   f"{self._desk.keys.shown('desk.undo')} takes it back.", "good")
        return True

    def _tell(self, text: str, ink: str = "quiet") -> None:
        say(self.said, text, ink)

    def leave(self) -> None:
        """Empty the search; with none, back to where one was."""
        if self.search.text():
            self.search.clear()
            self.sheet.setFocus()
        else:
            self.closed.emit()

