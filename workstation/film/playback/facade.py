"""Playing a film: one small interface over whatever player the machine has.

A player shows pictures "about there". Here every picture it hands over gets its exact instant
(:mod:`.frame_tracker`). Pictures before the target of a seek are never passed on; the exact frame
stands until the player has got there. When playing stops, the playhead is the last picture shown,
and the exact decode of the same frame replaces it unseen (:mod:`.exact_display`). The next source
(or the start of a loop) is opened and held at its first frame before it is needed (:mod:`.cue`).
"""

from __future__ import annotations

import logging
import queue
import threading
import time
from collections.abc import Callable, Iterable
from functools import partial

from ..film import Film
from ..frames import FrameReader
from ..picture import Picture
from ..readers import FrameReaders
from ..time import Instant
from .engine import Engine, PlayerEvent
from .engines import Engines
from .state import Listener, PlaybackState
from .transport import Transport

log = logging.getLogger(__name__)

SLOWEST, FASTEST = 0.125, 4.0


class Playback:
    """Plays one film. All methods may be called from any thread and return at once.

    ``on_picture(picture, exact)`` is called in the playing or the reading thread with each picture to show,
    exact decodes and a player's pictures alike. ``on_playing(bool)`` when playing starts and stops, also by
    itself at the end. ``on_problem(source_id, reason)`` when a source cannot be shown, ``on_slow(source_id, share)``
    when the player shows too small a share of its pictures.

    ``requested`` counts what moved the film (load, seek, step, play), ``served`` is how much of it the playing thread
    has begun: a picture that is handed over while both are the same is of the last request, not of one before.
    """

    def __init__(self, engine: Engine, *, on_picture: Callable[[Picture, bool], None],
                 on_playing: Callable[[bool], None] = lambda playing: None,
                 on_problem: Callable[[str, str], None] = lambda source, reason: None,
                 on_slow: Callable[[str, float], None] = lambda source, share: None) -> None:
        self.engine = engine
        self._listener = Listener(on_picture, on_playing, on_problem, on_slow)
        self._state = PlaybackState()
        self._readers = FrameReaders()
        self._kept: tuple[Film, ...] = ()
        self._events: queue.SimpleQueue[PlayerEvent | Callable[[], None] | None] = queue.SimpleQueue()
        self._engines = Engines(engine, self._state, self._events.put)
        self._transport = Transport(self._state, self._engines, self._listener, self._call)
        self.requested = 0
        self.served = 0
        self._thread = threading.Thread(target=self._run, name="playing", daemon=True)
        self._thread.start()

    def load(self, film: Film, reader: FrameReader | None = None, at: Instant | None = None) -> None:
        """Take a film and show its frame ``at`` (the first). ``reader`` is closed with the film if it was
        not given, unless the film is one to :meth:`keep_open`."""
        self.pause()
        self._set_span(None)
        self._move(self._load, film, reader, at)

    def keep_open(self, films: Iterable[Film]) -> None:
        """Keep the readers of these films open; those of others close with the next film that is taken."""
        self._kept = tuple(films)

    def reader_of(self, film: Film) -> FrameReader | None:
        """The reader of the film that plays or is to be kept open; None for any other, and while it is not open."""
        return self._readers.opened(film)

    def open_reader(self, film: Film, then: Callable[[FrameReader], None]) -> None:
        """Call *then* with the reader of a film to be kept open; in the playing thread where that opens it first."""
        found = self._readers.opened(film)
        if found is not None:
            then(found)
        elif film in self._kept:
            self._call(lambda: then(self._readers.open(film)))

    def in_view(self, ids: Iterable[str]) -> None:
        """Say which sources can be seen on a timeline: they are indexed before others."""
        if self._state.loaded:
            self._state.reader.in_view(ids)

    @property
    def film(self) -> Film:
        """The film that is loaded."""
        return self._state.film

    @property
    def playing(self) -> bool:
        """Whether the film plays."""
        return self._state.playing

    @property
    def position(self) -> Instant | None:
        """The exact frame on show, or None without a film."""
        return self._state.shown

    @property
    def time(self) -> float:
        """Film time of the playhead in seconds; moves smoothly between frames while playing."""
        return self._state.time()

    @property
    def speed(self) -> float:
        """Times life speed, 0.125 to 4; sound keeps its pitch."""
        return self._state.speed

    @speed.setter
    def speed(self, speed: float) -> None:
        speed = min(max(float(speed), SLOWEST), FASTEST)
        with self._state.lock:
            self._state.clock.set_speed(time.monotonic(), speed)
            self._state.speed = speed
        self._call(self._transport.restart)

    @property
    def volume(self) -> float:
        """0 (silent) to 1."""
        return self._state.volume

    @volume.setter
    def volume(self, volume: float) -> None:
        self._state.volume = min(max(float(volume), 0.0), 1.0)
        self._call(self._transport.set_volume)

    def play(self, at: Instant | None = None) -> None:
        """Play on, or from ``at``, which leaves a span."""
        if at is not None:
            self._set_span(None)
        self._begin(at)

    def pause(self) -> Instant | None:
        """Stop on the picture on show and return its instant; the exact decode of it follows."""
        with self._state.lock:
            stopped, shown = self._state.stop(), self._state.shown
        if stopped:
            self._listener.playing(False)
            self._call(self._transport.rest, shown)
        return shown

    def seek(self, instant: Instant) -> None:
        """Show the exact frame at an instant; playing goes on from there. Leaves a span."""
        with self._state.lock:
            self._state.span, self._state.settled = None, False
        self._move(self._transport.seek, instant)

    def step(self, n: int) -> None:
        """Go ``n`` frames on (back, if negative), stopping."""
        self.pause()
        self._move(self._transport.step, n)

    def play_span(self, start: Instant, end: Instant, loop: bool = False) -> None:
        """Play from ``start`` up to but not including ``end``, once or round and round."""
        self._set_span((start, end, loop))
        self._begin(start)

    def free(self) -> None:
        """Leave a span or loop; playing goes on past its end."""
        self._set_span(None)
        self._call(self._transport.cue.drop)

    def close(self) -> None:
        """Stop, and release the film and the player."""
        self.pause()
        self._events.put(None)
        if threading.current_thread() is not self._thread:
            self._thread.join()

    def _set_span(self, span: tuple[Instant, Instant, bool] | None) -> None:
        with self._state.lock:
            self._state.span = span

    def _begin(self, at: Instant | None) -> None:
        with self._state.lock:
            if not self.film.sources and not self._state.loaded and self._events.empty():
                return
            started = not self._state.playing
            self._state.playing, self._state.settled = True, False
        if started:
            self._listener.playing(True)
        self._move(self._transport.play, at)

    def _move(self, function: Callable[..., None], *arguments: object) -> None:
        """Run what moves the film in the playing thread, and count it."""
        with self._state.lock:
            self.requested += 1
            number = self.requested

        def serve() -> None:
            self.served = number
            function(*arguments)

        self._call(serve)

    def _call(self, function: Callable[..., None], *arguments: object) -> None:
        """Run a call in the playing thread."""
        self._events.put(partial(function, *arguments))

    # The playing thread

    def _run(self) -> None:
        while True:
            event: PlayerEvent | Callable[[], None] | None
            try:
                event = self._events.get(timeout=self._transport.wait())
            except queue.Empty:
                event = _nothing
            if event is None:
                break
            try:
                if isinstance(event, PlayerEvent):
                    self._transport.on_event(event)
                else:
                    event()
                self._transport.tick(time.monotonic())
            except Exception as error:      # playing stops; the film stays
                log.exception("playing")
                self._transport.abort(error)
        self._transport.release()
        self.engine.close()
        self._readers.keep(())

    def _load(self, film: Film, reader: FrameReader | None, at: Instant | None) -> None:
        self._transport.release()
        self._transport.tracker.clear()
        self._readers.keep((film, *self._kept) if reader is None and film in self._kept else ())
        if reader is None:
            reader = self._readers.open(film)
            self._readers.rest(reader)
        self._engines.paced.reader = reader
        self._state.load(film, reader)
        if film.sources:
            self._transport.seek(at or film.sources[0].first)


def _nothing() -> None:
    """Only what is due."""
