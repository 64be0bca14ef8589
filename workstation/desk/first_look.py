"""The first picture of footage, on show while the rest of it is read."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtGui import QImage

from .jobs import ui_thread
from .picture import PictureView
from .player import image_of
from .widgets import Pages

if TYPE_CHECKING:
    from ..film.picture import Picture


class FirstLook(PictureView):
    """A page of *pages* that stands in the place of the welcome from :meth:`show_picture`, which may be called from any
    thread, until another page is entered or :meth:`leave`."""

    def __init__(self, pages: Pages):
        super().__init__()
        self.setAccessibleName("The first picture of the footage")
        self._pages = pages
        self._welcome = pages.currentWidget()
        pages.addWidget(self)
        self._ui = ui_thread()

    def show_picture(self, picture: Picture) -> None:
        """Enter with the first picture of the film."""
        image = image_of(picture.bgra())
        self._ui.call_for(self, lambda: self._enter(image))

    def _enter(self, image: QImage) -> None:
        self.show_image(image)
        if self._pages.currentWidget() is self._welcome:
            self._pages.setCurrentWidget(self)
            self._pages.currentChanged.connect(self._leave)

    def leave(self) -> None:
        """Put the welcome back unless something else was entered."""
        if self._pages.currentWidget() is self:
            self._pages.setCurrentWidget(self._welcome)

    def _leave(self, _: int) -> None:
        self._pages.currentChanged.disconnect(self._leave)
        self.setParent(None)
        self.deleteLater()
