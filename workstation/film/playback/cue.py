"""Hold a deck ready at the instant where playing goes on next."""

from __future__ import annotations

from ..time import Instant
from .engine import Deck, PlayerEvent, PlayerEventKind, SeekSupport
from .engines import Engines
from .frame_tracker import FrameTracker, signature_of
from .state import PlaybackState


class DeckCue:
    """At most one deck, opened in advance: the next source, the start of a loop, or the frame on show at rest."""

    def __init__(self, state: PlaybackState, engines: Engines, tracker: FrameTracker) -> None:
        self.deck: Deck | None = None
        self.instant: Instant | None = None
        self._running_up = False        # it still has to get from a keyframe to its instant
        self._state, self._engines, self._tracker = state, engines, tracker

    def prepare(self, instant: Instant) -> None:
        """Have a deck held at an instant, to go on from there at once. Raises CannotPlay."""
        self.drop()
        engine, reader = self._engines.choose(instant), self._state.reader
        deck = self.deck = self._engines.open(instant, engine)
        self.instant = instant
        point = self._engines.start_point(instant)
        running_up = self._running_up = (engine.seek_support(deck.source) is SeekSupport.KEYFRAMES
                                         and bool(point.key_approach) and not point.at_key)
        if running_up:
            deck.run()                  # to be held when it is recognised
        if self._state.playing:         # its exact frame is to be there when it is its turn
            reader.fetch(instant, lambda result: None if running_up else reader.rest())

    def take(self, instant: Instant) -> Deck | None:
        """Hand over the deck if it is ready at an instant."""
        if self.deck is None or self.instant != instant or self._running_up:
            return None
        deck, self.deck = self.deck, None
        return deck

    def on_event(self, event: PlayerEvent) -> None:
        """Take in an event of the cued deck; a deck that failed is dropped."""
        if event.kind is PlayerEventKind.FAILED:
            self.drop()
        elif event.frame is not None and self._running_up and self.instant is not None:
            values = signature_of(event.deck, event.frame)
            found = None if values is None else self._tracker.find(values, self.instant, 4, 12)
            if found is not None and found.pts >= self.instant.pts - event.deck.source.frame_ticks:
                self._running_up = False
                event.deck.hold()
                if self._state.playing:
                    self._state.reader.rest()

    def drop(self) -> None:
        """Close the cued deck, if there is one."""
        if self.deck is not None:
            self.deck.close()
            self.deck = None
