"""The list of plays with the situation before each."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from PySide6.QtCore import QAbstractListModel, QModelIndex, QPersistentModelIndex, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QContextMenuEvent, QFontMetrics, QPainter
from PySide6.QtWidgets import QListView, QMenu, QStyle, QStyledItemDelegate, QStyleOptionViewItem, QWidget

from ...football.notation import write
from ...football.plays import Foul, FoulDecision, Play
from ...football.situation import Next
from ...football.speaking import spoken_situation
from ...football.step import Certainty
from ...tagging.game_order import UNFILMED
from ..keys import KeyMap
from ..session import Session
from ..session_holder import SessionHolder
from ..theme import Theme
from ..timers import timer

_LEAST_WORDS = 30       # pixels, for which it is worth beginning with the own words
_MARKS = {Certainty.CERTAIN: "", Certainty.ASSUMED: "?", Certainty.CONTRADICTED: "!"}


class PlaysModel(SessionHolder, QAbstractListModel):
    """One row per play, and a last one for the play to come."""

    def __init__(self, parent=None):
        super().__init__(parent)
        self._lines: dict[tuple, str] = {}
        self._count = 0
        self.changed_rows: frozenset[int] = frozenset()

    def show_session(self, session: Session | None) -> None:
        """Show the plays of another session."""
        self.beginResetModel()
        self._session, self._lines = session, {}
        self._count = 0 if session is None else len(session.game.plays) + 1
        self.changed_rows = frozenset()
        self.endResetModel()

    def refresh(self) -> None:
        """Take the plays as they are now, without losing the reader's place."""
        count = len(self.session.game.plays) + 1
        if count > self._count:
            self.beginInsertRows(QModelIndex(), self._count, count - 1)
            self._count = count
            self.endInsertRows()
        elif count < self._count:
            self.beginRemoveRows(QModelIndex(), count, self._count - 1)
            self._count = count
            self.endRemoveRows()
        self.dataChanged.emit(self.index(0), self.index(self._count - 1))

    def rowCount(self, parent: QModelIndex | QPersistentModelIndex | None = None) -> int:
        """The number of rows."""
        return 0 if parent is not None and parent.isValid() else self._count

    def data(self, index: QModelIndex | QPersistentModelIndex, role: int = Qt.ItemDataRole.DisplayRole):
        """Return what a row shows or says for this role."""
        if not index.isValid():
            return None
        if role in (Qt.ItemDataRole.DisplayRole, Qt.ItemDataRole.AccessibleTextRole):
            number, before, said, result, mark = self.cells(index.row())
            return "  ".join(part for part in (number, before, said, self.words(index.row()), result, mark) if part)
        if role == Qt.ItemDataRole.ToolTipRole and index.row() < len(self.session.steps):
            step, words = self.session.steps[index.row()], self.words(index.row())
            return "\n".join((step.explanation, *(f"or: {choice}" for choice in step.choices), *step.problems,
                              *([words] if words else [])))
        return None

    def cells(self, row: int) -> tuple[str, str, str, str, str]:
        """Number, situation before, the play as typed, its result, and a mark where something is not certain."""
        session = self.session
        before = session.situation_before(row)
        said_before = spoken_situation(before, session.rulebook.field_length)
        if before.offense is not None:      # whose ball it is
            said_before = f"{session.game.heading.name_of(before.offense)} · {said_before}"
        if row >= len(session.game.plays):
            return str(row + 1), said_before, "next", "", ""
        step, tag = session.steps[row], session.game.plays[row]
        play = _in_short(tag.play)
        key = (play, before.offense, before.next)
        if key not in self._lines:
            try:
                line = write(play, before, session.rulebook)
            except ValueError:
                line = ""
            self._lines[key] = line if line[:1].isalpha() and before.next is Next.SCRIMMAGE else \
                f"{play.kind.value} {line}".strip() if not line.startswith(play.kind.value) else line
        said = self._lines[key]
        mark = "!" if step.problems else _MARKS[step.certainty]
        if tag.shot is None and session.film.sources and tag.play.kind not in UNFILMED:
            mark += " ∅"
        return str(row + 1), said_before, said, step.result, mark

    def words(self, row: int) -> str:
        """What was said of the play in the staff's own words; not what is carried on from others."""
        session = self.session
        if row >= len(session.game.plays):
            return ""
        said = {each.word: each.text for each in session.game.plays[row].words if each.values}
        order = [word.name for word in session.vocabulary.words if word.name in said]
        return " · ".join(said[name] for name in dict.fromkeys((*order, *said)))


def _in_short(play: Play) -> Play:
    """What a row shows of a play: who fouled and how it was decided, but not where and when; no clock, no comment."""
    fouls = tuple(Foul(foul.name, foul.by,
                       decision=None if foul.decision is FoulDecision.ACCEPTED else foul.decision)
                  for foul in play.fouls)
    return replace(play, clock=None, comment="", fouls=fouls)


class _Delegate(QStyledItemDelegate):
    def __init__(self, theme: Theme, model: PlaysModel, parent=None):
        super().__init__(parent)
        self._theme, self._model = theme, model

    def sizeHint(self, option, index) -> QSize:
        return QSize(200, round(self._theme.pixels("body") * 2.9))

    def paint(self, painter: QPainter, option: QStyleOptionViewItem,
              index: QModelIndex | QPersistentModelIndex) -> None:
        theme, row = self._theme, index.row()
        number, before, said, result, mark = self._model.cells(row)
        painter.save()
        selected = bool(option.state & QStyle.StateFlag.State_Selected)
        box = QRectF(option.rect)
        if selected:
            painter.fillRect(option.rect, theme.colour("selected"))
            painter.fillRect(QRectF(box.x(), box.y(), 4, box.height()), theme.colour("accent"))
        coming = row == self._model.rowCount() - 1
        ink = "on_selected" if selected else "text"
        half = box.height() / 2
        small, body = theme.font("small", condensed=True), theme.font("body", bold=not coming)
        painter.setFont(small)
        painter.setPen(theme.colour("quiet"))
        count = max(QFontMetrics(small).horizontalAdvance("000") + 4, 24)
        painter.drawText(QRectF(box.x() + 8, box.y(), count, box.height()), Qt.AlignmentFlag.AlignVCenter, number)
        left, width = box.x() + 16 + count, box.width() - 28 - count
        metrics = QFontMetrics(body)
        painter.setFont(body)
        painter.setPen(theme.colour(ink if not coming else "quiet"))
        if row in self._model.changed_rows:
            mark = "changed" + (f" {mark}" if mark else "")
        mark_width = QFontMetrics(small).horizontalAdvance(mark) + 4 if mark else 0
        room = width - mark_width
        painter.drawText(QRectF(left, box.y() + 2, room, half), Qt.AlignmentFlag.AlignVCenter,
                         metrics.elidedText(said, Qt.TextElideMode.ElideRight, int(room)))
        painter.setFont(small)
        painter.setPen(theme.colour("quiet"))
        words, taken = self._model.words(row), metrics.horizontalAdvance(said) + 12
        if words and taken < room - _LEAST_WORDS:
            painter.drawText(QRectF(left + taken, box.y() + 2, room - taken, half), Qt.AlignmentFlag.AlignVCenter,
                             QFontMetrics(small).elidedText(words, Qt.TextElideMode.ElideRight, int(room - taken)))
        under = before if not result else f"{before}  ·  {result}"
        painter.drawText(QRectF(left, box.y() + half - 2, width, half), Qt.AlignmentFlag.AlignVCenter,
                         QFontMetrics(small).elidedText(under, Qt.TextElideMode.ElideRight, int(width)))
        if mark:
            painter.setPen(theme.colour("bad" if "!" in mark else "warn"))
            painter.drawText(QRectF(left, box.y() + 2, width, half),
                             Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignRight, mark)
        painter.restore()


class PlaysView(QListView):
    """``play_chosen`` carries the row; the last row is the play to come."""

    row_chosen = Signal(int)

    def __init__(self, theme: Theme, parent: QWidget | None = None):
        super().__init__(parent)
        self.plays = PlaysModel(self)
        self.setModel(self.plays)
        self.setItemDelegate(_Delegate(theme, self.plays, self))
        self.setUniformItemSizes(True)
        self.setAccessibleName("Plays")
        self.setVerticalScrollMode(QListView.ScrollMode.ScrollPerPixel)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.clicked.connect(lambda index: self.row_chosen.emit(index.row()))
        self.activated.connect(lambda index: self.row_chosen.emit(index.row()))
        theme.changed.connect(self.doItemsLayout)
        self._shown = timer(self, 0, lambda: self.scrollTo(self.currentIndex()))
        self._menu = QMenu(self)

    def offer(self, keys: KeyMap, id: str, act: Callable[[], object]) -> None:
        """Have an action of the key map in the menu that the right mouse button opens on a play."""
        action = self._menu.addAction("")
        action.triggered.connect(lambda: act())

        def name() -> None:
            action.setText(f"{keys.action(id).text}\t{keys.shown(id)}")
        keys.changed.connect(name)
        name()

    def contextMenuEvent(self, event: QContextMenuEvent) -> None:
        """Offer what can be done with the play under the pointer."""
        row = self.indexAt(event.pos()).row()
        if 0 <= row < self.plays.rowCount() - 1:
            self.row_chosen.emit(row)
            self._menu.popup(event.globalPos())

    def show_row(self, row: int) -> None:
        """Mark *row* as the one at hand and keep it in view."""
        index = self.plays.index(row)
        if self.currentIndex() != index:
            self.setCurrentIndex(index)
        self._shown.start()

    def resizeEvent(self, event) -> None:
        """Bring the current row into view again."""
        super().resizeEvent(event)
        self._shown.start()
