"""Go, stop, and pass from one source to the next: what drives the deck at work."""

from __future__ import annotations

import time
from collections.abc import Callable
from fractions import Fraction

from ..faults import NoPicture
from ..film import Source
from ..picture import Picture
from ..time import Instant
from .cue import DeckCue
from .engine import Deck, PlayerEvent, PlayerEventKind, SeekSupport
from .engines import CannotPlay, Engines
from .exact_display import ExactDisplay
from .frame_tracker import FrameTracker
from .pace import Pace
from .state import Listener, PlaybackState

CUE_AHEAD = 4.0         # seconds of playing before the next source is opened
STALLED = 8.0           # seconds without a first picture after which a source is given up
BRIDGE = 0.9            # seconds that a player which goes to keyframes only gets to take over
SEEK_PAUSE = 0.1        # seconds without another seek before a player is opened again
LEAD = 0.012            # seconds that a held deck takes to go on, roughly
REST = 0.25             # seconds at rest before the player is held ready there


class Transport:
    """Runs in the playing thread only."""

    def __init__(self, state: PlaybackState, engines: Engines, listener: Listener, call: Callable[..., None]) -> None:
        self.tracker = FrameTracker(state, engines.player)
        self.deck: Deck | None = None
        self.cue = DeckCue(state, engines, self.tracker)
        self._display = ExactDisplay(state, self.tracker, listener, call)
        self._state, self._engines, self._listener = state, engines, listener
        self._pace = Pace()
        self._bridge: Instant | None = None         # where the player takes over from paced decoding
        self._open_at: float | None = None          # when to open a deck at the target, if not at once
        self._last_go = 0.0
        self._resting_since: float | None = None

    # Requests

    def play(self, at: Instant | None) -> None:
        """Play from an instant, or on from the frame on show; from the film's end, from its beginning."""
        state, film = self._state, self._state.film
        if not state.loaded or not film.sources:
            self._stop()
            return
        at = at or state.shown or film.sources[0].first
        if state.span is None and at == state.shown and state.next_source(at) is None and self._is_last_frame(at):
            at = film.sources[0].first
        self._go(at)

    def seek(self, instant: Instant) -> None:
        """Go to this instant and show its frame."""
        if not self._state.loaded:
            return
        self._display.paused_on = None
        if self._state.playing:
            self._go(instant)
        else:
            self._display.show(instant)
            self._resting_since = time.monotonic()

    def step(self, n: int) -> None:
        """Go `n` frames on, or back if negative."""
        if self._state.loaded and self._state.shown is not None:
            try:
                self.seek(self._state.reader.step(self._state.shown, n))
            except NoPicture as error:
                self._listener.problem(error.source, error.reason)

    def rest(self, shown: Instant | None, verify: bool = True) -> None:
        """Stand on a frame; ``verify`` that it is the one the player showed last."""
        self._display.paused_on = self.tracker.latest if verify else None
        self.release()
        if shown is not None:
            self._display.show(shown)
            self._resting_since = time.monotonic()

    def restart(self) -> None:
        """Take up another speed, in a new deck: a player goes on for a while with pictures it has timed already."""
        shown = self._state.shown
        self.cue.drop()
        if self._state.playing and shown is not None:
            self._go(shown)
        else:
            self._release_deck()
            self._resting_since = time.monotonic()

    def set_volume(self) -> None:
        """Pass the present volume to the deck that plays."""
        if self.deck is not None:
            self.deck.set_volume(self._state.volume)

    def release(self) -> None:
        """Close both decks."""
        self._release_deck()
        self.cue.drop()

    def abort(self, error: Exception) -> None:
        """Stop playing after a fault in the program; the film stays."""
        shown, was_playing = self._state.shown, self._state.stop()
        self.release()
        if was_playing:
            self._listener.playing(False)
        if shown is not None:
            self._listener.problem(shown.source, f"Playing stopped ({error}). Stepping still works.")

    def _release_deck(self) -> None:
        if self.deck is not None:
            self.deck.close()
        self.deck = self.tracker.target = self._open_at = None

    def _stop(self, at: Instant | None = None) -> None:
        """Stop by itself, on the frame on show or at ``at``."""
        at = at or self._state.shown
        if self._state.stop():
            self._listener.playing(False)
            self.rest(at, verify=False)

    # Going somewhere

    def _go(self, instant: Instant) -> None:
        state = self._state
        source = state.film.source(instant.source)
        if source.problem:
            self._listener.problem(source.id, source.problem)
            after = state.next_source(instant)
            if after is None:
                self._stop(instant)
            else:
                self._go(after)
            return
        self._resting_since = self._display.paused_on = None
        self._display.show(instant)
        target, now = state.snapped(instant), time.monotonic()
        self._release_deck()
        self.tracker.begin(target)
        self._pace.begin()
        self._bridge = None
        self.deck = self.cue.take(target)
        if self.deck is not None:
            self._run(self.deck)
        elif now - self._last_go < SEEK_PAUSE:
            self._open_at = now + SEEK_PAUSE        # the playhead is being dragged
        else:
            self._start_deck(target)
        self._last_go = now

    def _start_deck(self, target: Instant) -> None:
        self._open_at = None
        engine = self._engines.choose(target)
        source = self._state.film.source(target.source)
        if engine.seek_support(source) is SeekSupport.KEYFRAMES and target != source.first and (
                self._state.reader.index(source.id) is not None):
            self._bridge = self._take_over_at(target)   # None: the rest is too short to hand over
            engine = self._engines.paced
        try:
            self.deck = self._engines.open(target, engine)
        except CannotPlay as error:
            self._fail(error.source, str(error))
        else:
            self._run(self.deck)

    def _run(self, deck: Deck) -> None:
        self.tracker.run(time.monotonic())
        deck.run()

    def _take_over_at(self, target: Instant) -> Instant | None:
        """A little later, at best at a keyframe: where a player that takes a while can take over."""
        index, source = self._state.reader.index(target.source), self._state.film.source(target.source)
        if index is None:
            return None
        second = int(1 / source.time_base)
        number = int(index.key_pts.searchsorted(target.pts + round(BRIDGE * second)))
        if number < len(index.key_pts) and index.key_pts[number] < target.pts + 3 * BRIDGE * second:
            meeting = int(index.key_pts[number])
        else:
            meeting = target.pts + 2 * round(BRIDGE * second)
        return self._state.snapped(Instant(source.id, meeting)) if meeting < source.end.pts - second // 2 else None

    def _prepare_cue(self, instant: Instant) -> None:
        try:
            self.cue.prepare(instant)
        except CannotPlay as error:
            self._fail(error.source, str(error))

    def _is_last_frame(self, instant: Instant) -> bool:
        source = self._state.film.source(instant.source)
        return instant.pts + 2 * source.frame_ticks > source.end.pts

    # While it runs

    def on_event(self, event: PlayerEvent) -> None:
        """Handle what a deck reports."""
        if event.deck not in (self.deck, self.cue.deck):
            return
        event.deck.on_event(event)
        if event.deck is not self.deck:
            self.cue.on_event(event)
        elif event.kind is PlayerEventKind.FAILED:
            self._fail(event.deck.source, event.reason)
        elif not self._state.playing:
            return
        elif event.frame is not None:
            self._show(event)
        elif event.kind is PlayerEventKind.TIME and event.seconds is not None:
            self.tracker.add_time(event, event.seconds)
        elif event.kind is PlayerEventKind.ENDED and self.tracker.arrived:
            self._reach_end()

    def _show(self, event: PlayerEvent) -> None:
        if event.frame is None:
            return
        state, had_arrived = self._state, self.tracker.arrived
        instant, repeated = self.tracker.identify(event, event.frame)
        if self.tracker.arrived and not had_arrived:    # from here on the player is seen and heard
            event.deck.set_volume(state.volume)
        if instant is None or not self.tracker.arrived or (state.shown is not None and (
                instant.source == state.shown.source and instant.pts < state.shown.pts)):
            return
        end = self._span_end(event.deck.source)
        if end is not None and instant.pts >= end.pts:
            self._reach_end()
            return
        with state.lock:
            if not state.playing:
                return
            moved, state.shown = instant != state.shown, instant
        if moved:
            self._judge(event.deck, self._pace.shown(event.when, float(event.deck.source.frame_rate)))
        if moved or not repeated:
            self._display.supersede()       # an exact frame still on its way would be older than this one
            source, turned = event.deck.source, event.deck.turns
            width = source.display_size[1 if source.rotation % 180 and not turned else 0]
            self._listener.picture(Picture(instant, event.frame, 0 if turned else source.rotation,
                                           Fraction(width, event.frame.width),
                                           source.interlaced and not event.deck.deinterlaces,
                                           mirrored=source.mirrored and not turned), False)

    def _judge(self, deck: Deck, share: float | None) -> None:
        """Say so where a player shows too small a share of the original's pictures."""
        source = self._state.film.source(deck.source.id)
        if share is not None and self._state.speed == 1 and deck.source.path == source.path:
            self._listener.slow(source.id, share)

    def wait(self) -> float | None:
        """Seconds until :meth:`tick` has something to do, None if nothing."""
        if self._open_at is not None:
            return max(self._open_at - time.monotonic(), 0.001)
        if self._state.playing and self.deck is not None:
            if self._state.settled and self.tracker.target is None:
                left = self._left(self._end(self.deck)[0], time.monotonic())
                return min(max(left - LEAD, 0.001), 0.1)
            return 0.1
        return None if self._resting_since is None else 0.1

    def tick(self, now: float) -> None:
        """Do what is due."""
        tracker, shown = self.tracker, self._state.shown
        if self._open_at is not None and now >= self._open_at and tracker.target is not None:
            self._start_deck(tracker.target)
        if self._state.playing and self.deck is not None:
            if tracker.waited(now) > STALLED:
                self._fail(self.deck.source, f"{self.deck.source.path.name} gives no picture in the player.")
            elif self._state.settled and tracker.target is None:
                self._judge(self.deck, self._pace.judged(now, float(self.deck.source.frame_rate)))
                self._approach_end(self.deck, now)
        elif self._resting_since is not None and now - self._resting_since > REST:
            self._resting_since = None
            if shown is not None and not self._state.playing and self._state.film.source(shown.source).problem is None:
                self._prepare_cue(shown)

    # Ends

    def _span_end(self, source: Source) -> Instant | None:
        span = self._state.span
        return span[1] if span is not None and span[1].source == source.id else None

    def _end(self, deck: Deck) -> tuple[Instant, Instant | None]:
        """Where playing this source ends and where it then goes on (None: it stops)."""
        state, source, span = self._state, deck.source, self._state.span
        end, again = self._span_end(source), span[0] if span is not None and span[2] else None
        if self._bridge is not None and (end is None or self._bridge.pts < end.pts):
            return self._bridge, self._bridge
        if end is not None and state.shown is not None and state.shown.pts <= end.pts:
            return end, again
        after = state.next_source(source.first)
        if span is not None and all(each.id != span[1].source for each in state.film.sources):
            return source.end, after        # it is of the film that is taken next
        if span is not None and after is not None and state.film.time_of(after) >= state.film.time_of(span[1]):
            return source.end, again
        return source.end, after or again

    def _left(self, end: Instant, now: float) -> float:
        return (self._state.seconds(end) - self._state.clock.at(now)) / self._state.speed

    def _approach_end(self, deck: Deck, now: float) -> None:
        end, on = self._end(deck)
        left = self._left(end, now)
        if on is not None and left < CUE_AHEAD:
            on = self._state.snapped(on)
            if self.cue.deck is None or self.cue.instant != on:
                self._prepare_cue(on)
        if left <= LEAD:
            self._reach_end()

    def _reach_end(self) -> None:
        if self.deck is None:
            return
        end, on = self._end(self.deck)
        if on is not None:
            self._go(on)
            return
        with self._state.lock:
            self._state.span = None
        self._stop(self._state.snapped(Instant(end.source, end.pts - 1)))

    def _fail(self, source: Source, reason: str) -> None:
        """Report a source that cannot be played and go on with the next."""
        self._listener.problem(source.id, reason)
        after = self._state.next_source(source.first) if self._state.playing else None
        self._release_deck()
        if after is not None:
            self._go(after)
        else:
            self._stop()
