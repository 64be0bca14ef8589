"""Determine which frame of the film each of a player's pictures is.

Just after a start the picture is recognised among the exactly decoded frames around the target;
afterwards a clock locked to the pictures' rhythm tells, and recognition corrects it.
"""

from __future__ import annotations

from collections import deque

import av
import numpy as np

from ..film import Source
from ..picture import Picture
from ..time import Instant
from .engine import Deck, Engine, PlayerEvent, SeekSupport
from .frame_recognition import recognise, signature
from .state import PlaybackState

SETTLE = 1.0            # seconds in which a player's first pictures are recognised, else its own time is taken


class FrameTracker:
    """Follows the player at work. ``target`` is where it was sent, until it has got there and the clock runs;
    ``arrived`` says that the target's exact frame, or a later one, is on show; ``latest`` is the signature of its last
    picture."""

    def __init__(self, state: PlaybackState, engine: Engine) -> None:
        self.target: Instant | None = None
        self.arrived = False
        self.latest: np.ndarray | None = None
        self._state, self._engine = state, engine
        self._since = 0.0                   # when the deck began to run
        self._matched: Instant | None = None
        self._reports: deque[float] = deque(maxlen=8)   # the player's last times, as what its clock read at 0
        self._recognised_at = 0.0
        self._offsets: dict[str, float] = {}            # from a player's time to ours, by source
        self._signatures: dict[Instant, np.ndarray | None] = {}

    def clear(self) -> None:
        """Forget the target and the frames known so far."""
        self.target = None
        self._signatures.clear()

    def begin(self, target: Instant) -> None:
        """Expect a player at a target."""
        self.target, self.arrived, self.latest, self._matched = target, False, None, None
        self._reports.clear()
        self._state.jump(target)

    def run(self, when: float) -> None:
        """Playing goes on from `when`, by the monotonic clock in seconds."""
        self._since = when

    def waited(self, now: float) -> float:
        """Seconds that a deck has run without arriving; 0 once it has."""
        return 0.0 if self.target is None or self.arrived else now - self._since

    def identify(self, event: PlayerEvent, frame: av.VideoFrame) -> tuple[Instant | None, bool]:
        """Return which frame a picture is, None while that is not known, and whether it is the last one again."""
        values = signature_of(event.deck, frame)
        repeated = (event.instant is None and values is not None and self.latest is not None
                    and np.array_equal(values, self.latest))
        self.latest = values
        if event.instant is not None:
            return self._by_timestamp(event, event.instant), False
        if self.target is not None:
            return self._settle(event, values, self.target), repeated
        return self._by_clock(event, values, repeated), repeated

    def find(self, values: np.ndarray, near: Instant, behind: int, ahead: int) -> Instant | None:
        """The decoded frame around an instant that has a signature, if exactly one has."""
        source = self._state.film.source(near.source)
        found = recognise(values, [(picture, self._signature(picture, source))
                                   for picture in self._state.reader.around(near, behind, ahead)])
        return None if found is None else found.instant

    def add_time(self, event: PlayerEvent, seconds: float) -> None:
        """Adjust the clock to a player's coarse report of its time."""
        state, source = self._state, event.deck.source
        if not state.settled:
            return
        self._reports.append(seconds - event.when * state.speed)
        # A report can come late, never early: the least late of the last few tells best.
        said = max(self._reports) + event.when * state.speed
        with state.lock:
            now = state.clock.at(event.when)
            offset = self._offsets.get(source.id)
            if offset is None and event.when - self._recognised_at < 0.1:
                offset = now - said
                if self._engine.seek_support(source) is SeekSupport.ANYWHERE and abs(offset) < 0.5:
                    offset = 0.0        # with an index it counts from the first frame
                self._offsets[source.id] = offset
            error = said + (offset or 0.0) - now
            state.clock.nudge(event.when, error, 1.0 if abs(error) > 0.2 else 0.3)

    def _by_timestamp(self, event: PlayerEvent, instant: Instant) -> Instant:
        self.arrived, self.target = True, None
        with self._state.lock:
            self._adjust(event.when, self._state.seconds(instant))
            self._state.settled = True
        return instant

    def _settle(self, event: PlayerEvent, values: np.ndarray | None, target: Instant) -> Instant | None:
        """Find out where the player really is, after it was sent to the target."""
        state, source, when = self._state, event.deck.source, event.when
        instant = self.find(values, target, 30, 90) if values is not None else None
        if instant is None:
            late = when - self._since > SETTLE / state.speed
            if late or (event.seconds is not None and event.seconds + self._offset(source) >= state.seconds(target)):
                return self._by_player(event, target)
            return None
        self._recognised_at = when
        self.arrived = self.arrived or instant.pts >= target.pts
        if self._matched is not None and instant != self._matched:      # the first one comes before the rhythm
            with state.lock:
                state.clock.set(when, state.seconds(instant))
                state.settled = True
            if event.seconds is not None:
                self._offsets[source.id] = state.seconds(instant) - event.seconds
            else:
                self._offsets.pop(source.id, None)      # learned anew from the next report
            if self.arrived:
                self._settled()
        self._matched = instant
        return instant

    def _by_player(self, event: PlayerEvent, target: Instant) -> Instant:
        """Nothing was recognised (all pictures alike, say): take the player's own time."""
        state, at = self._state, self._state.seconds(target)
        said = at if event.seconds is None else event.seconds + self._offset(event.deck.source)
        with state.lock:
            if not state.clock.running:
                state.clock.set(event.when, max(said, at))
            state.settled = True
        self.arrived = True
        self._settled()
        return state.instant_near(event.deck.source, state.clock.at(event.when))

    def _settled(self) -> None:
        self.target = None
        self._state.reader.rest()

    def _by_clock(self, event: PlayerEvent, values: np.ndarray | None, repeated: bool) -> Instant:
        state, source = self._state, event.deck.source
        frame = 1 / float(source.frame_rate)
        with state.lock:
            if event.seconds is not None:
                at = event.seconds + self._offset(source)
                self._adjust(event.when, at)
            else:
                at = state.clock.at(event.when)
            instant = state.instant_near(source, at + 0.35 * frame)
        if values is not None and not repeated:
            found = self.find(values, instant, 6, 6)
            if found is None and state.shown is not None:
                found = self.find(values, state.shown, 2, 90)
            if found is not None:
                self._recognised_at = event.when
                if found != instant:
                    instant = found
                    with state.lock:
                        state.clock.set(event.when, state.seconds(instant))
                    self._offsets.pop(source.id, None)
        error = state.seconds(instant) - at
        if event.seconds is None and not repeated and abs(error) < 0.5 * frame:
            with state.lock:
                state.clock.nudge(event.when, error, 0.05)      # the phase; reports tell which frame
        return instant

    def _adjust(self, when: float, seconds: float) -> None:
        """Set the clock by a frame; one that comes a little late does not make the playhead tremble."""
        clock = self._state.clock
        error = seconds - clock.at(when)
        if not clock.running or abs(error) > 0.1:
            clock.set(when, seconds)
        else:
            clock.nudge(when, error, 0.2)

    def _offset(self, source: Source) -> float:
        return self._offsets.get(source.id, 0.0)

    def _signature(self, picture: Picture, source: Source) -> np.ndarray | None:
        if picture.instant not in self._signatures:
            if len(self._signatures) > 600:
                self._signatures.clear()
            self._signatures[picture.instant] = signature(picture.frame, source.rotation, source.mirrored)
        return self._signatures[picture.instant]


def signature_of(deck: Deck, frame: av.VideoFrame) -> np.ndarray | None:
    """The signature of a picture that a deck shows."""
    if deck.turns:
        return signature(frame)
    return signature(frame, deck.source.rotation, deck.source.mirrored)
