"""What works on one open game at a time."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from PySide6.QtCore import SignalInstance

if TYPE_CHECKING:
    from .session import Session


class SessionHolder:
    """Mixin for rooms, pages and controllers, which are made before a game is open and outlive it.

    The holder takes a session when a game is entered and gives it up when that is left; between the two ``session`` is
    there, and nothing that a person can do in the holder is possible outside of it. Only what can arrive late (a timer,
    a job's result) asks ``has_session`` first.
    """

    _session: Session | None = None

    @property
    def session(self) -> Session:
        """The open game. Raises RuntimeError outside of one."""
        if self._session is None:
            raise RuntimeError(f"{type(self).__name__} was asked for a game, and none is open in it")
        return self._session

    @property
    def has_session(self) -> bool:
        """Whether a session is shown."""
        return self._session is not None

    def show_session(self, session: Session | None) -> None:
        """Take in another session, or None when the game is closed, and follow its signals from now on."""
        if self._session is not None:
            for signal, slot in self._follows(self._session):
                signal.disconnect(slot)
        self._session = session
        if session is not None:
            for signal, slot in self._follows(session):
                signal.connect(slot)

    def _follows(self, session: Session) -> list[tuple[SignalInstance, Callable[..., object]]]:
        """The signals of the session that are followed, each with the method that it calls."""
        return []
