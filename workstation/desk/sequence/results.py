"""The plays found, as cards with a picture that moves while the pointer rests on it."""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtCore import (
    QAbstractListModel,
    QEvent,
    QItemSelectionModel,
    QModelIndex,
    QPersistentModelIndex,
    QRectF,
    QSize,
    Qt,
)
from PySide6.QtGui import QPainter, QPen
from PySide6.QtWidgets import QListView, QStyle, QStyledItemDelegate, QWidget

from ...film.film import Film
from ...film.time import Instant
from ..picture import fitted
from ..room import Desk
from ..timeline.thumbnails import Thumbnails, thumbnails_of
from ..timers import timer

_CARD = Qt.ItemDataRole.UserRole
_TICK = 110         # milliseconds between two pictures of a moving card
_EVERY = 0.2        # seconds of film between them: slightly faster than real time


@dataclass(frozen=True, slots=True)
class PlayCard:
    """One play as shown. ``start`` and ``end`` are film time (seconds), None if it was not filmed."""

    play: int
    title: str
    line: str
    still: Instant | None = None
    start: float | None = None
    end: float | None = None


class CardModel(QAbstractListModel):
    """The plays that were found, as cards for a list."""

    def __init__(self, parent: QWidget | None = None):
        super().__init__(parent)
        self.cards: list[PlayCard] = []

    def show(self, cards: list[PlayCard]) -> None:
        """Show these cards."""
        self.beginResetModel()
        self.cards = cards
        self.endResetModel()

    def rowCount(self, parent: QModelIndex | QPersistentModelIndex | None = None) -> int:
        """The number of cards."""
        return 0 if parent is not None and parent.isValid() else len(self.cards)

    def data(self, index: QModelIndex | QPersistentModelIndex, role: int = Qt.ItemDataRole.DisplayRole):
        """Return what a card shows or says for this role."""
        card = self.cards[index.row()]
        if role in (Qt.ItemDataRole.DisplayRole, Qt.ItemDataRole.AccessibleTextRole):
            return f"{card.title}, {card.line}"
        if role == Qt.ItemDataRole.ToolTipRole:
            return f"{card.title}\n{card.line}"
        return card if role == _CARD else None


class _CardPainter(QStyledItemDelegate):
    def __init__(self, desk: Desk, view: ResultList):
        super().__init__(view)
        self._theme, self._view = desk.theme, view

    def sizeHint(self, option, index) -> QSize:
        room = self._view.viewport().width() - 1    # a row as wide as the list would flow over
        wide = room // max(int(room / (176 * max(self._theme.scale, 1.0))), 1)
        return QSize(wide, wide * 9 // 16 + self._theme.pixels("body") + self._theme.pixels("small") + 20)

    def paint(self, painter: QPainter, option, index) -> None:
        theme, card = self._theme, index.data(_CARD)
        box = QRectF(option.rect).adjusted(3, 3, -3, -3)
        chosen = bool(option.state & QStyle.StateFlag.State_Selected)
        current = index == self._view.currentIndex() and self._view.hasFocus()
        painter.save()
        painter.fillRect(box, theme.colour("selected" if chosen else "panel"))
        picture = QRectF(box.left() + 2, box.top() + 2, box.width() - 4, (box.width() - 4) * 9 / 16)
        painter.fillRect(picture, theme.colour("well"))
        image = self._view.picture_of(card, index.row())
        if image is not None and not image.isNull():
            painter.setRenderHint(QPainter.RenderHint.SmoothPixmapTransform)
            painter.drawImage(fitted(picture, image), image)
        else:
            painter.setFont(theme.font("small"))
            painter.setPen(theme.colour("quiet"))
            words = "not filmed" if card.still is None else "no picture" if image is not None else ""
            painter.drawText(picture, Qt.AlignmentFlag.AlignCenter, words)
        if card.play in self._view.taken:       # already in the sequence: a tick on its own ground, not a colour
            mark = QRectF(picture.right() - 24, picture.top() + 4, 20, 18)
            painter.fillRect(mark, theme.colour("accent"))
            painter.setPen(theme.colour("on_accent"))
            painter.setFont(theme.font("body", bold=True))
            painter.drawText(mark, Qt.AlignmentFlag.AlignCenter, "✓")
        lines = box.adjusted(6, picture.height() + 5, -4, -4)
        for text, type_, ink, where in ((card.title, "body", "text", Qt.AlignmentFlag.AlignTop),
                                       (card.line, "small", "quiet", Qt.AlignmentFlag.AlignBottom)):
            painter.setFont(theme.font(type_, bold=type_ == "body", condensed=True))
            painter.setPen(theme.colour("on_selected" if chosen else ink))
            painter.drawText(lines, where | Qt.AlignmentFlag.AlignLeft, painter.fontMetrics().elidedText(
                text, Qt.TextElideMode.ElideRight, int(lines.width())))
        painter.setPen(QPen(theme.colour("focus" if current else "accent" if chosen else "line"), 2 if chosen else 1))
        painter.drawRect(box)
        painter.restore()


class ResultList(QListView):
    """Cards in a grid. Pictures come as they are decoded; the card under the pointer plays."""

    def __init__(self, desk: Desk, parent: QWidget | None = None):
        super().__init__(parent)
        self.taken: frozenset[int] = frozenset()
        self._film = Film()
        self._thumbnails: Thumbnails | None = None
        self._hovered = QPersistentModelIndex()
        self._moment: float | None = None
        self._last: int | None = None       # the play that was current before nothing was found
        self.model_ = CardModel(self)
        self.setModel(self.model_)
        self.setItemDelegate(_CardPainter(desk, self))
        self.setViewMode(QListView.ViewMode.IconMode)
        self.setResizeMode(QListView.ResizeMode.Adjust)
        self.setMovement(QListView.Movement.Static)
        self.setUniformItemSizes(True)
        self.setSelectionMode(QListView.SelectionMode.ExtendedSelection)
        self.setVerticalScrollMode(QListView.ScrollMode.ScrollPerPixel)
        self.setMouseTracking(True)
        self.setAccessibleName("Plays found")
        self.entered.connect(self._enter)
        self._mover = timer(self, _TICK, self._move, repeats=True)
        desk.theme.changed.connect(self.scheduleDelayedItemsLayout)

    def show_session(self, session) -> None:
        """Take in another session and its thumbnails."""
        self._thumbnails = thumbnails_of(session, self._thumbnails, self._on_ready)

    def show_cards(self, cards: list[PlayCard], film: Film) -> None:
        """Show other cards; the current one stays current if it is still there."""
        kept = self.current.play if self.current is not None else self._last
        self._rest()
        self._film = film
        self.model_.show(cards)
        row = next((row for row, card in enumerate(cards) if card.play == kept), 0)
        self._last = kept
        if cards:
            self._choose_row(row)

    @property
    def current(self) -> PlayCard | None:
        """The card that is chosen, None if there is none."""
        index = self.currentIndex()
        return self.model_.cards[index.row()] if index.isValid() and index.row() < len(self.model_.cards) else None

    @property
    def chosen(self) -> list[PlayCard]:
        """The selected cards in game order, or the current one."""
        rows = sorted(index.row() for index in self.selectedIndexes())
        cards = [self.model_.cards[row] for row in rows]
        return cards or ([self.current] if self.current else [])

    def choose(self, play: int) -> None:
        """Choose the card of this play, if it is listed."""
        row = next((row for row, card in enumerate(self.model_.cards) if card.play == play), None)
        if row is not None:
            self._choose_row(row)

    def _choose_row(self, row: int) -> None:
        """Make one card current and select it alone, whatever keys are held down."""
        self.selectionModel().setCurrentIndex(self.model_.index(row), QItemSelectionModel.SelectionFlag.ClearAndSelect)

    # -- pictures --------------------------------------------------------------------------------------

    def picture_of(self, card: PlayCard, row: int):
        """The picture to paint now; None while there is none yet."""
        if self._thumbnails is None or card.still is None:
            return None
        if self._moment is not None and self._hovered.isValid() and self._hovered.row() == row:
            moving = self._thumbnails.have(self._film.instant_at(self._moment))
            if moving is not None and not moving.isNull():
                return moving
        return self._thumbnails.get(card.still)

    def _on_ready(self, _: Instant) -> None:
        if self.isVisible():
            self.viewport().update()

    def _enter(self, index: QModelIndex) -> None:
        card = index.data(_CARD)
        self._hovered = QPersistentModelIndex(index)
        self._moment = card.start
        if card.start is not None:
            self._mover.start()

    def _move(self) -> None:
        """The next picture of the card under the pointer, as soon as it is decoded."""
        card = self.model_.cards[self._hovered.row()] if self._hovered.isValid() else None
        if card is None or card.start is None or card.end is None or self._moment is None or self._thumbnails is None:
            self._rest()
            return
        following = self._moment + _EVERY
        if following >= card.end:
            following = card.start
        if self._thumbnails.get(self._film.instant_at(following)) is not None:
            self._moment = following
            self.viewport().update()

    def _rest(self) -> None:
        self._mover.stop()
        self._hovered = QPersistentModelIndex()
        self._moment = None

    def viewportEvent(self, event: QEvent) -> bool:
        """Stop what a card plays when the pointer leaves."""
        if event.type() == QEvent.Type.Leave:
            self._rest()
            self.viewport().update()
        return super().viewportEvent(event)


