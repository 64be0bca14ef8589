"""The interface between playback and a player: engine, deck, sound, and the events they report."""

from __future__ import annotations

import time
from collections.abc import Callable
from dataclasses import dataclass
from enum import Enum, auto
from typing import Protocol

import av

from ..film import Source
from ..time import Instant


class PlayerEventKind(Enum):
    """What a deck reports: a frame, the time (seconds), the end, a failure (reason)."""

    FRAME = auto()
    TIME = auto()
    ENDED = auto()
    FAILED = auto()


@dataclass(frozen=True, slots=True)
class PlayerEvent:
    """Something that a player reports from its own thread."""

    deck: Deck
    kind: PlayerEventKind
    when: float                         # time.monotonic()
    frame: av.VideoFrame | None = None
    seconds: float | None = None        # from the source's first picture, as far as the player knows
    instant: Instant | None = None      # of the frame, from a deck that knows
    reason: str = ""


class SeekSupport(Enum):
    """Where a player can begin: at any picture, at keyframes, or at the beginning only."""

    ANYWHERE = auto()
    KEYFRAMES = auto()
    BEGINNING = auto()


# Containers without an index of their own, in which players find their way less well.
STREAMS = frozenset({".mts", ".m2ts", ".m2t", ".ts", ".mpg", ".mpeg"})


@dataclass(frozen=True, slots=True)
class StartPoint:
    """Where a deck is opened, in seconds from the source's first picture: ``at`` the wanted picture, or for a
    player that goes on to the next keyframe from wherever it is sent, at a moment ``key_approach`` that
    makes it the last keyframe before the wanted picture; ``at_key`` if the wanted picture is that keyframe."""

    at: float
    key_approach: float
    at_key: bool = False


class Deck:
    """One source opened in a player at one place, silent and held there until :meth:`run`.

    A deck goes nowhere else: a player that is sent somewhere goes on for a while with pictures of where it
    was, and nothing tells them apart. Methods return at once; reports come later, from any thread.
    """

    turns = False                       # the player hands over pictures upright already,
    deinterlaces = False                # and without combs

    def __init__(self, engine: Engine, source: Source) -> None:
        self.source = source
        self._engine = engine
        self._closed = False

    def run(self) -> None:
        """Start playing, or go on."""

    def hold(self) -> None:
        """Stop playing and keep the place."""

    def set_volume(self, volume: float) -> None:
        """0 to 1."""

    def on_event(self, event: PlayerEvent) -> None:
        """Called with each of the deck's own reports, in the playing thread. Most decks need none."""

    def close(self) -> None:
        """Stop for good and release the player; no event follows."""

    def _report(self, kind: PlayerEventKind, when: float | None = None, *, frame: av.VideoFrame | None = None,
                seconds: float | None = None, instant: Instant | None = None, reason: str = "") -> None:
        if not self._closed:
            self._engine.report(PlayerEvent(self, kind, when or time.monotonic(), frame, seconds, instant, reason))


class Engine(Protocol):
    """A player. ``name`` is for the person, ``report`` is set before the first deck is opened."""

    name: str
    report: Callable[[PlayerEvent], None]

    def seek_support(self, source: Source) -> SeekSupport:
        """Where it can open such a source."""

    def open(self, source: Source, place: StartPoint, speed: float) -> Deck:
        """Open a deck at this place that plays at `speed` times real time."""

    def sound(self, source: Source, seconds: float, speed: float) -> SoundPlayer | None:
        """The sound alone from ``seconds`` after the first picture; None if it cannot or there is none."""
        return None

    def close(self) -> None:
        """Release the engine; its decks are closed before."""
        return


class SoundPlayer(Protocol):
    """A source's sound alone. ``on_time(when, seconds)`` is called now and then with the seconds of it
    heard at ``when`` (time.monotonic()), from any thread."""

    on_time: Callable[[float, float], None]

    def play(self) -> None:
        """Start the sound."""

    def set_volume(self, volume: float) -> None:
        """0 to 1; silent at first."""

    def close(self) -> None:
        """Stop the sound for good."""
