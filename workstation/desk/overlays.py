"""Pages shown over a room or the start page: each is made when first wanted and closes to what it covers."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject
from PySide6.QtWidgets import QStackedWidget, QWidget
from shiboken6 import isValid

from .theme import Theme

if TYPE_CHECKING:
    from .session import Session

MakePage = Callable[[], QWidget]


class Overlays(QObject):
    """The overlays of *stack* by id. A page has a signal ``closed``; one that shows a game has ``show_session``.

    *pause* is called before a page covers anything, *focus* when nothing uncovered had the focus before.
    """

    def __init__(self, stack: QStackedWidget, theme: Theme, makers: dict[str, MakePage], pause: Callable[[], None],
                 focus: Callable[[QWidget], None]):
        super().__init__(stack)
        self._stack, self._theme, self._makers, self._pause, self._focus = stack, theme, makers, pause, focus
        self.made: dict[str, QWidget] = {}
        self._under: list[tuple[QWidget, QWidget | None]] = []      # the page on show covers these, with their focus

    def page(self, id: str) -> QWidget:
        """The page of that id, made now if it was not wanted before."""
        if id not in self.made:
            page = self._makers[id]()
            page.closed.connect(partial(self.toggle, id))   # type: ignore[attr-defined]  # all pages have it
            self._stack.addWidget(page)
            self._theme.dress(page)
            self.made[id] = page
        return self.made[id]

    def is_shown(self, id: str) -> bool:
        """Whether that page is on show."""
        return self._stack.currentWidget() is self.made.get(id)

    def toggle(self, id: str) -> None:
        """Show a page over what is on show, or go back to what it covers and to what had the focus there."""
        page, shown = self.page(id), self._stack.currentWidget()
        covered = [under for under, _ in self._under]
        if shown is page:
            self.uncover(len(self._under) - 1)
        elif page in covered:
            self.uncover(covered.index(page))
        else:
            self._pause()
            self._under.append((shown, self._stack.window().focusWidget()))
            self._stack.setCurrentWidget(page)

    def uncover(self, place: int = 0) -> None:
        """Close the page that covers what lies at *place* from below, and all above it."""
        under, focus = self._under[place]
        del self._under[place:]
        self._stack.setCurrentWidget(under)
        if focus is not None and isValid(focus) and focus.isVisible() and focus.isEnabled():
            focus.setFocus()
        else:
            self._focus(under)

    def forget(self) -> None:
        """Something else was put on show: no page covers anything any more."""
        self._under.clear()

    def show_session(self, session: Session | None) -> None:
        """Give a game, or none, to every page made so far that shows one."""
        for page in self.made.values():
            show = getattr(page, "show_session", None)
            if show is not None:
                show(session)
