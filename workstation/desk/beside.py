"""The picture of another angle beside the one that plays, at the same moment."""

from __future__ import annotations

import threading
from enum import Enum
from fractions import Fraction
from typing import TYPE_CHECKING, Any, Protocol

from PySide6.QtCore import QObject, Signal
from PySide6.QtGui import QImage

from ..film.faults import NoPicture
from ..film.time import Instant
from ..tagging.angles import film_of
from .jobs import ui_thread
from .player import image_of
from .timers import timer

if TYPE_CHECKING:
    from ..film.picture import Picture
    from ..tagging.model import Game
    from .player import Player

_AHEAD = 150        # milliseconds between two pictures that are decoded for whoever may switch while it plays
_LEAD = Fraction(2, 5)      # seconds by which those pictures are ahead of the film that plays
_REST = 120         # milliseconds at rest after which the next angle's picture is decoded


class BesideMode(Enum):
    """How two angles are shown."""

    OFF = "one angle"
    EQUAL = "two angles side by side"
    INSET = "the other angle small in the corner"


class Followed(Protocol):
    """What is asked of a session; it is a QObject with the signals ``position_changed`` and ``game_changed``."""

    player: Player
    angle: int
    position_changed: Any
    game_changed: Any

    @property
    def whole(self) -> Game:
        """The game with all its angles."""

    @property
    def playing(self) -> bool:
        """Whether the film plays."""

    @property
    def numbers(self) -> list[int]:
        """The numbers of all angles."""

    @property
    def next_angle(self) -> int:
        """The angle after the one that is looked at."""

    def name_of(self, angle: int) -> str:
        """What an angle is called."""

    def moment_in(self, angle: int) -> Instant | None:
        """The picture of another angle that shows what is on show."""


class Beside(QObject):
    """Follows the film of *session* with the exact pictures of the next angle. ``changed`` is sent when there is
    another picture, or another mode. While nothing is shown beside, it keeps the picture that a switch would show
    decoded."""

    changed = Signal()

    def __init__(self, session: Followed, parent: QObject):
        super().__init__(parent)
        self._session = session
        self.mode = BesideMode.OFF
        self.image = QImage()
        self.at: Instant | None = None          # the picture on show
        self.words = ""                         # why there is none
        self._chosen: int | None = None
        self._closed = False
        self._guard = threading.Lock()
        self._newest: tuple[int, Instant, QImage] | tuple[int, str] | None = None
        self._serial = 0
        self._wanted: Instant | None = None
        self._soon = timer(self, _REST, self._prepare)
        self._ui = ui_thread()
        session.position_changed.connect(self._follow)
        session.game_changed.connect(self._follow)

    def close(self) -> None:
        """Follow no more."""
        self._closed = True
        self._soon.stop()

    @property
    def angle(self) -> int:
        """The angle that is shown beside, or would be."""
        session = self._session
        if self._chosen in session.numbers and self._chosen != session.angle:
            assert self._chosen is not None
            return self._chosen
        return session.next_angle

    def show(self, mode: BesideMode, angle: int | None = None) -> None:
        """Show another angle beside, the next one unless it is named."""
        self.mode, self._chosen = mode, angle
        self.image, self.at, self.words, self._wanted = QImage(), None, "", None
        self.changed.emit()
        self._follow()

    def next_mode(self) -> None:
        """One angle, two side by side, one large and the other small."""
        modes = list(BesideMode)
        self.show(modes[(modes.index(self.mode) + 1) % len(modes)], self._chosen)

    @property
    def names(self) -> tuple[str, str]:
        """What the angle that is looked at is called, and the one beside it."""
        return self._session.name_of(self._session.angle), self._session.name_of(self.angle)

    @property
    def told(self) -> str:
        """What is shown, in words."""
        if self.mode is BesideMode.OFF:
            return f"One angle: {self._session.name_of(self._session.angle)}"
        return f"{self.mode.value.capitalize()}: {self._session.name_of(self.angle)}"

    def _follow(self, *_: object) -> None:
        session = self._session
        if self._closed or not session.whole.angles:
            if self.mode is not BesideMode.OFF and not self._closed:
                self.mode = BesideMode.OFF
                self.changed.emit()
            return
        if self.mode is BesideMode.OFF:
            if not session.playing:
                self._soon.start(_REST)
            elif not self._soon.isActive():
                self._soon.start(_AHEAD)
            return
        self._fetch()

    def _prepare(self) -> None:
        """Decode what a switch would show."""
        session = self._session
        if self._closed or not session.whole.angles or self.mode is not BesideMode.OFF:
            return
        number = session.next_angle
        at, film = session.moment_in(number), film_of(session.whole, number)
        if at is None:
            return
        if session.playing:         # all pictures up to there are decoded on the way
            source = film.source(at.source)
            at = Instant(source.id, min(at.pts + round(_LEAD / source.time_base), source.end.pts - 1))
        session.player.fetch_beside(film, at)

    def _fetch(self) -> None:
        session, number = self._session, self.angle
        at = session.moment_in(number)
        if at is None:
            self._serial += 1
            self._wanted = None
            self._show(QImage(), None, f"{session.name_of(number)} does not show this moment, or is not tied to it.")
            return
        if at == self._wanted:
            return
        self._serial += 1
        serial, self._wanted = self._serial, at

        def done(result: Picture | NoPicture) -> None:
            if self._closed:
                return
            newest = (serial, result.reason) if isinstance(result, NoPicture) else \
                (serial, result.instant, image_of(result.bgra()))
            with self._guard:
                waiting, self._newest = self._newest is not None, newest
            if not waiting:
                self._ui.call_for(self, self._take)

        if not session.player.fetch_beside(film_of(session.whole, number), at, done):
            self._wanted = None

    def _take(self) -> None:
        with self._guard:
            newest, self._newest = self._newest, None
        if newest is None or self._closed or self.mode is BesideMode.OFF:
            return
        if not self._session.playing and newest[0] != self._serial:
            return          # at rest only the picture of this very moment shows
        if len(newest) == 2:
            self._show(QImage(), None, newest[1])
        else:
            self._show(newest[2], newest[1], "")

    def _show(self, image: QImage, at: Instant | None, words: str) -> None:
        if (at, words) == (self.at, self.words) and at is None:
            return
        self.image, self.at, self.words = image, at, words
        self.changed.emit()
