"""The pages of the Tag room beside the film and in its place, each made when it is first wanted."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, Signal

from ..jobs import Jobs
from ..session import Session
from ..widgets import Pages, scrolled

if TYPE_CHECKING:
    from .heading import HeadingForm
    from .sheet import SheetPage


class TagPages(QObject):
    """*beside* shows the list of plays on its first page, *main* the film; ``closed`` is sent when both do again."""

    closed = Signal()
    search_wanted = Signal()        # for shots and moments, in a film that is new

    def __init__(self, beside: Pages, main: Pages, jobs: Jobs):
        super().__init__(main)
        self._beside, self._main, self._jobs = beside, main, jobs
        self.heading: HeadingForm | None = None
        self.sheet: SheetPage | None = None

    @property
    def is_open(self) -> bool:
        """Whether a page other than the first is shown."""
        return bool(self._beside.currentIndex() or self._main.currentIndex())

    def show_heading(self, session: Session, is_new: bool = False) -> None:
        """Show the form for teams, rules and date beside the film; it asks for them if the game *is_new*."""
        if self.heading is None:
            from .heading import HeadingForm
            self.heading = HeadingForm()
            self.heading.closed.connect(self.back)
            self.heading.search_wanted.connect(self.search_wanted)
            self._beside.addWidget(scrolled(self.heading))
        self._beside.setCurrentIndex(1)
        self.heading.show_session(session, is_new)

    def show_sheet(self, session: Session) -> None:
        """Show the page that takes in a play sheet, in place of the film."""
        if self.sheet is None:
            from .sheet import SheetPage
            self.sheet = SheetPage(self._jobs)
            self.sheet.closed.connect(self.back)
            self._main.addWidget(self.sheet)
        self._main.setCurrentWidget(self.sheet)
        self.sheet.show_session(session)

    def back(self) -> None:
        """Return to the first page."""
        self.leave()
        self.closed.emit()

    def leave(self) -> None:
        """Show the plays and the film, and say nothing."""
        self._beside.setCurrentIndex(0)
        self._main.setCurrentIndex(0)
