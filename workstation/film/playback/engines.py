"""Choose a player and open decks in it."""

from __future__ import annotations

from collections.abc import Callable

from ..film import Source
from ..playing_copy import lighter
from ..time import Instant
from .engine import Deck, Engine, PlayerEvent, SeekSupport, StartPoint
from .paced_engine import PacedEngine
from .state import PlaybackState

KEY_MARGIN = 0.04       # seconds before a keyframe at which a player surely goes to that one


def best_engine(prefer: str | None = None) -> Engine:
    """libVLC where it works, else the player built into Qt, else pictures without sound. ``prefer`` is "vlc"
    or "qt" to insist; then RuntimeError says why that player does not work.
    """
    reasons = []
    if prefer in (None, "vlc"):
        try:
            from .vlc_engine import VlcEngine  # vlc.py ends the program over a wrong path of its own
            return VlcEngine()
        except (ImportError, OSError, RuntimeError, AttributeError, NameError, SystemExit) as error:
            reasons.append(f"libVLC: {error}")
    if prefer in (None, "qt"):
        try:
            from .qt_thread import in_application_thread
            return in_application_thread(_qt_engine)
        except (ImportError, RuntimeError) as error:
            reasons.append(f"Qt: {error}")
    if prefer is None:
        return PacedEngine()
    raise RuntimeError("; ".join(reasons))


def _qt_engine() -> Engine:
    from .qt_engine import QtEngine
    return QtEngine()


class CannotPlay(Exception):
    """A player cannot open a source; the message says why."""

    def __init__(self, source: Source, error: Exception) -> None:
        super().__init__(f"{source.path.name} cannot be played: {error}")
        self.source = source


class Engines:
    """The player, and paced decoding for what it cannot do."""

    def __init__(self, player: Engine, state: PlaybackState, report: Callable[[PlayerEvent], None]) -> None:
        self.player = player
        self.paced = player if isinstance(player, PacedEngine) else PacedEngine()
        self._state = state
        if self.paced is not player:
            self.paced.player = player
        player.report = self.paced.report = report

    def choose(self, instant: Instant) -> Engine:
        """Return the engine that can play from this instant at the present speed. Players disagree about mirrored
        film (libVLC 3 swaps top and bottom), so it is decoded here."""
        source = self._state.film.source(instant.source)
        beyond = instant != source.first and self.player.seek_support(source) is SeekSupport.BEGINNING
        return self.paced if self._state.speed < 1 or beyond or source.mirrored else self.player

    def open(self, instant: Instant, engine: Engine) -> Deck:
        """Open a deck at an instant; a player gets the source's lighter copy if there is one. Raises CannotPlay."""
        source = self._state.film.source(instant.source)
        played = source if engine is self.paced else lighter(source) or source
        try:
            return engine.open(played, self.start_point(instant), self._state.speed)
        except (OSError, RuntimeError) as error:
            raise CannotPlay(source, error) from error

    def start_point(self, instant: Instant) -> StartPoint:
        """Return where a player must start so that it shows this instant first."""
        at = self._state.seconds(instant)
        index = self._state.reader.index(instant.source)
        if index is None:
            return StartPoint(at, max(at - 0.5, 0.0))
        key = index.key_for(instant.pts)
        pts = int(index.key_pts[key])
        if key == 0 or pts <= index.pts[0]:
            return StartPoint(at, 0.0, pts == instant.pts)
        before = max(self._state.seconds(Instant(instant.source, int(index.key_pts[key - 1]))), 0.0)
        keyed = self._state.seconds(Instant(instant.source, pts))
        return StartPoint(at, max(keyed - KEY_MARGIN, (before + keyed) / 2), pts == instant.pts)
