"""The surface that shows the film: as large as it may be, never stretched, with room for drawings on top."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction
from typing import Any

from PySide6.QtCore import QPointF, QRectF, QSize, QSizeF, Qt, Signal
from PySide6.QtGui import QColor, QImage, QMouseEvent, QPainter, QWheelEvent
from PySide6.QtWidgets import QSizePolicy, QWidget

from ..delivery.picture_places import RIM, corners, two_apart
from .beside import Beside, BesideMode
from .timers import timer

_GAP = 4            # pixels between two pictures side by side
_FORM = Fraction(16, 9)     # of pictures until one has come
_LATE = 250         # milliseconds after which it is said that the picture on show is an older one


def fitted(place: QRectF, image: QImage) -> QRectF:
    """Where an image lies in a place: as large as it may be, in the middle; all of the place without an image."""
    if image.isNull():
        return place
    size = QSizeF(image.width(), image.height()).scaled(place.size(), Qt.AspectRatioMode.KeepAspectRatio)
    return QRectF(place.center().x() - size.width() / 2, place.center().y() - size.height() / 2,
                  size.width(), size.height())


class PictureView(QWidget):
    """Shows the frames of a session's player, or any image given to :meth:`show_image`.

    ``overlay`` is called with the painter and the rectangle of the picture after each frame.
    The mouse signals carry fractions of picture width and height (0 to 1).
    """

    pressed = Signal(float, float)
    moved = Signal(float, float)
    released = Signal(float, float)
    turned = Signal(int, bool)      # notches of the wheel, away from the person less than 0; with Shift

    def __init__(self, parent: QWidget | None = None):
        super().__init__(parent)
        self.overlay: Callable[[QPainter, QRectF], None] | None = None
        self.message = ""
        self._words = ""
        self._turned = 0        # eighths of a degree of the wheel that have not become a notch
        self.image = QImage()       # what is on show, without the overlay
        self._beside_look: tuple[BesideMode, QSize, str] | None = None      # of what was last shown beside the film
        self._session: Any = None
        self._late = timer(self, _LATE, self.update)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        self.setAttribute(Qt.WidgetAttribute.WA_OpaquePaintEvent)
        self.setMinimumSize(240, 135)
        self.setAccessibleName("Film picture")

    def sizeHint(self) -> QSize:
        """960 by 540 pixels."""
        return QSize(960, 540)

    def show_session(self, session) -> None:
        """Follow the film of *session* from now on; None shows nothing."""
        if self._session is not None:
            self._session.player.frame_changed.disconnect(self.show_image)
            self._session.player.position_changed.disconnect(self._moved)
            if hasattr(self._session, "beside"):
                self._session.beside.changed.disconnect(self._beside_changed)
        self._session = session
        if session is None:
            self.show_image(QImage())
            return
        session.player.frame_changed.connect(self.show_image)
        session.player.position_changed.connect(self._moved)
        if hasattr(session, "beside"):         # the film of many games has none
            session.beside.changed.connect(self._beside_changed)
        self.show_image(session.player.frame)

    def _moved(self, *_) -> None:
        self._late.start()

    def show_image(self, image: QImage) -> None:
        """Show this frame."""
        alike = self._beside() is not None and image.size() == self.image.size()
        self.image = image
        if not self.isVisible():
            return
        if alike:       # the other angle's picture stands beside it as it was
            self.update(self.picture_rect().toAlignedRect())
        else:
            self.update()

    def _beside_changed(self) -> None:
        beside = self._beside()
        look = None if beside is None else (beside.mode, beside.image.size(), beside.words)
        if beside is None or look != self._beside_look:
            self.update()
        else:
            self.update(self._places()[1].toAlignedRect())
        self._beside_look = look

    def show_words(self, words: str) -> None:
        """Let a few words lie over the foot of the picture until others come, or none."""
        if words != self._words:
            self._words = words
            self.update()

    def picture_rect(self) -> QRectF:
        """Where in the widget the picture lies."""
        return fitted(self._places()[0], self.image)

    def _beside(self) -> Beside | None:
        """What shows another angle beside the film, if anything does."""
        beside = getattr(self._session, "beside", None)
        return beside if beside is not None and beside.mode is not BesideMode.OFF else None

    def _places(self) -> tuple[QRectF, QRectF]:
        """Where the film's picture may lie, and that of another angle."""
        whole, beside = QRectF(self.rect()), self._beside()
        if beside is None:
            return whole, QRectF()
        if beside.mode is BesideMode.EQUAL:
            form = _FORM if self.image.isNull() else Fraction(self.image.width(), self.image.height())
            one, other = (QRectF(*each) for each in two_apart(self.width(), self.height(), _GAP, form))
            return one, other
        large = fitted(whole, self.image)
        small = QRectF(*corners(2, round(large.width()), round(large.height()))[1])
        return whole, small.translated(large.topLeft())

    def fraction_at(self, point: QPointF) -> tuple[float, float]:
        """Return where a point lies in the picture, as fractions of its width and height."""
        rect = self.picture_rect()
        return ((point.x() - rect.x()) / max(rect.width(), 1), (point.y() - rect.y()) / max(rect.height(), 1))

    def paintEvent(self, event) -> None:
        """Draw the frame on black."""
        painter = QPainter(self)
        painter.fillRect(self.rect(), QColor("#050607"))
        rect = self.picture_rect()
        if not self.image.isNull():
            painter.setRenderHint(QPainter.RenderHint.SmoothPixmapTransform)
            painter.drawImage(rect, self.image)
        elif said := self._said():
            font = self.font()
            font.setPixelSize(round(font.pixelSize() * 1.3))      # the theme's fonts are measured in pixels
            painter.setFont(font)
            painter.setPen(QColor("#c9d1d3"))
            painter.drawText(self.rect().adjusted(48, 24, -48, -24),
                             Qt.AlignmentFlag.AlignCenter | Qt.TextFlag.TextWordWrap, said)
        if self.overlay is not None:
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            self.overlay(painter, rect)
        if (beside := self._beside()) is not None:
            self._paint_beside(painter, beside, rect)
        if self._session is not None and self._session.player.waiting and not self._late.isActive():
            self._put(painter, "the picture is coming …", rect.topLeft(), rect.width())
        if self._words:
            tall = self.fontMetrics().height() + 10
            wide = min(self.fontMetrics().horizontalAdvance(self._words) + 20, rect.width())
            self._put(painter, self._words, QPointF(rect.center().x() - wide / 2, rect.bottom() - tall - 8), wide)
        painter.end()

    def _paint_beside(self, painter: QPainter, beside: Beside, first: QRectF) -> None:
        """Draw the other angle's picture, or why there is none, and the names of both."""
        place = self._places()[1]
        rect = fitted(place, beside.image)
        if beside.mode is BesideMode.INSET:
            painter.fillRect(place.adjusted(-RIM, -RIM, RIM, RIM), QColor("#c9d1d3"))
            painter.fillRect(place, QColor("#050607"))
        if not beside.image.isNull():
            painter.setRenderHint(QPainter.RenderHint.SmoothPixmapTransform)
            painter.drawImage(rect, beside.image)
        elif beside.words:
            painter.setPen(QColor("#c9d1d3"))
            painter.drawText(place.adjusted(12, 8, -12, -8),
                             Qt.AlignmentFlag.AlignCenter | Qt.TextFlag.TextWordWrap, beside.words)
        own, other = beside.names
        if not self._session.player.waiting:        # else the picture may still be another angle's
            free = place.left() - RIM if beside.mode is BesideMode.INSET else first.right()
            self._put(painter, own, first.topLeft(), free - first.left())
        self._put(painter, other, rect.topLeft(), rect.width())

    def _put(self, painter: QPainter, words: str, corner: QPointF, room: float) -> None:
        """Write words on a dark ground, from *corner* down and to the right, shortened to as many pixels as there is
        room for."""
        painter.setFont(self.font())
        metrics = self.fontMetrics()
        words = metrics.elidedText(words, Qt.TextElideMode.ElideRight, max(int(room) - 20, 0))
        box = QRectF(corner.x(), corner.y(), min(metrics.horizontalAdvance(words) + 20, room), metrics.height() + 10)
        painter.fillRect(box, QColor(5, 6, 7, 200))
        painter.setPen(QColor("#ffffff"))
        painter.drawText(box, Qt.AlignmentFlag.AlignCenter, words)

    def _said(self) -> str:
        """What stands in the place of a picture: why there is none, or, while it is on its way, nothing."""
        if self._session is None or not self._session.film.sources:
            return self.message
        return self._session.player.trouble

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Pass on where in the picture the button was pressed."""
        self.pressed.emit(*self.fraction_at(event.position()))

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """Pass on where in the picture the pointer is."""
        self.moved.emit(*self.fraction_at(event.position()))

    def wheelEvent(self, event: QWheelEvent) -> None:
        """Whole notches; what a fine wheel turns is added up."""
        angle = event.angleDelta()
        self._turned -= angle.y() or angle.x()
        notches, left = divmod(abs(self._turned), 120)
        if notches:
            sign = 1 if self._turned > 0 else -1
            self._turned = sign * left
            self.turned.emit(sign * notches, bool(event.modifiers() & Qt.KeyboardModifier.ShiftModifier))
        event.accept()

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """Pass on where in the picture the button was released."""
        self.released.emit(*self.fraction_at(event.position()))
