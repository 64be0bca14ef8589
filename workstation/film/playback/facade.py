"""Playing a film: one small interface over whatever player the machine has.

A player shows pictures "about there". Here every picture it hands over gets its exact instant:
just after a start or a seek by recognising it among the exactly decoded pictures around the
target, afterwards by a clock locked to the pictures' own rhythm. Pictures before the target of a
seek are never passed on; the exact picture stands until the player has got there. When playing
stops, the playhead is the last picture shown, and the exact decode of the same picture
replaces it unseen.

The next source (or the start of a loop) is opened and held at its first picture before it is needed.
"""

from __future__ import annotations

import logging
import queue
import threading
import time
from collections import deque
from collections.abc import Callable
from fractions import Fraction
from typing import Any

from ..faults import NoPicture
from ..film import Film, Source
from ..frames import FrameReader
from ..picture import Picture
from ..time import Instant
from .engine import Deck, Engine, EventKind, PlayerEvent, SeekSupport, StartPoint
from .frame_recognition import recognise, signature
from .paced_engine import PacedEngine
from .playhead_clock import PlayheadClock

log = logging.getLogger(__name__)

SLOWEST, FASTEST = 0.125, 4.0
AHEAD = 4.0             # seconds of playing before the next source is opened
SETTLE = 1.0            # seconds in which a player's first pictures are recognised, else the clock is believed
STALLED = 8.0           # seconds without a first picture after which a source is given up
SHORT_OF_KEY = 0.04     # seconds before a keyframe at which a player surely goes to that one
BRIDGE = 0.9            # seconds that a player which goes to keyframes only gets to take over
NEIGHBOURS = 8          # pictures either way among which a paused one is looked for
BREATH = 0.1            # seconds without another seek before a player is opened again
LEAD = 0.012            # seconds that a held deck takes to go on, roughly


def best_engine(prefer: str | None = None) -> Engine:
    """libVLC where it works, else the player built into Qt, else pictures without sound. ``prefer`` is "vlc"
    or "qt" to insist; then RuntimeError says why that player does not work.
    """
    reasons = []
    if prefer in (None, "vlc"):
        try:
            from .vlc_engine import VlcEngine
            return VlcEngine()
        except (ImportError, OSError, RuntimeError, AttributeError, NameError) as error:
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


class Playback:
    """Plays one film. All methods may be called from any thread and return at once.

    ``on_picture(picture, exact)`` is called in the playing or the reading thread with each picture to show,
    exact decodes and a player's pictures alike. ``on_playing(bool)`` when playing starts and stops, also by
    itself at the end. ``on_problem(source_id, reason)`` when a source cannot be shown.
    """

    def __init__(self, engine: Engine, *, on_picture: Callable[[Picture, bool], None],
                 on_playing: Callable[[bool], None] = lambda playing: None,
                 on_problem: Callable[[str, str], None] = lambda source, reason: None) -> None:
        self.engine = engine
        self.film = Film()
        self._on_picture, self._on_playing, self._on_problem = on_picture, on_playing, on_problem
        self._reader: FrameReader | None = None
        self._own_reader = False
        self._lock = threading.RLock()      # guards what follows; never held while somebody else's code runs
        self._playing = False
        self._shown: Instant | None = None
        self._clock = PlayheadClock()
        self._settled = False
        self._said = 0.0                    # the playhead's latest time since the last jump
        self._speed, self._volume = 1.0, 1.0
        self._span: tuple[Instant, Instant, bool] | None = None
        # Touched in the playing thread only
        self._deck: Deck | None = None
        self._cued: tuple[Deck, Instant] | None = None
        self._target: Instant | None = None
        self._since = 0.0                   # when the deck was told to run
        self._bridge: Instant | None = None     # where the player takes over from decoded pictures
        self._cued_away = False             # the cued deck is still on its way
        self._last_go = 0.0
        self._start_at: float | None = None     # when to open a deck at the target, if not at once
        self._previous: Any = None          # signature of the player's last picture
        self._played: Any = None            # the same, of the last one before a pause
        self._arrived = False               # the target's exact picture, or a later one, is on show
        self._matched: tuple[float, Instant] | None = None
        self._reports: deque[float] = deque(maxlen=8)   # the player's last reports, as what its clock read at 0
        self._sure = 0.0                    # when a picture was last recognised
        self._offsets: dict[str, float] = {}
        self._signatures: dict[Instant, Any] = {}
        self._resting_since: float | None = None
        self._serial = 0
        self._events: queue.SimpleQueue = queue.SimpleQueue()
        self._slow = engine if isinstance(engine, PacedEngine) else PacedEngine()
        if self._slow is not engine:
            self._slow.player = engine
        engine.report = self._slow.report = self._events.put
        self._thread = threading.Thread(target=self._run, name="playing", daemon=True)
        self._thread.start()

    # What others ask

    def load(self, film: Film, reader: FrameReader | None = None, at: Instant | None = None) -> None:
        """Take a film and show its picture ``at`` (the first). ``reader`` is closed with the film if it was
        not given."""
        self.pause()
        self._call(self._load, film, reader, at)

    @property
    def playing(self) -> bool:
        return self._playing

    @property
    def position(self) -> Instant | None:
        """The exact picture on show, or None without a film."""
        return self._shown

    @property
    def time(self) -> float:
        """Film time of the playhead in seconds; moves smoothly between pictures while playing."""
        with self._lock:
            shown = self._shown
            if shown is None:
                return 0.0
            time_shown = float(self.film.time_of(shown))
            if not (self._playing and self._settled and self._clock.running):
                return time_shown
            source = self.film.source(shown.source)
            now = float(self.film.starts_at(source.id)) + self._clock.at(time.monotonic())
            most = time_shown + max(0.1 * self._speed, 2 / float(source.frame_rate))
            now = min(max(now, time_shown), most, float(self.film.time_of(source.end)))
            self._said = max(self._said, now)
            return self._said

    @property
    def speed(self) -> float:
        return self._speed

    @speed.setter
    def speed(self, speed: float) -> None:
        """Times life speed, 0.125 to 4; sound keeps its pitch."""
        speed = min(max(float(speed), SLOWEST), FASTEST)
        with self._lock:
            self._clock.set_speed(time.monotonic(), speed)
            self._speed = speed
        self._call(self._set_speed)

    @property
    def volume(self) -> float:
        return self._volume

    @volume.setter
    def volume(self, volume: float) -> None:
        """0 (silent) to 1."""
        self._volume = min(max(float(volume), 0.0), 1.0)
        self._call(self._set_volume)

    def play(self, at: Instant | None = None) -> None:
        """Play on, or from ``at``, which leaves a span."""
        if at is not None:
            with self._lock:
                self._span = None
        self._begin(at)

    def _begin(self, at: Instant | None) -> None:
        with self._lock:
            if not self.film.sources and self._reader is None and self._events.empty():
                return
            started = not self._playing
            self._playing, self._settled = True, False
        if started:
            self._on_playing(True)
        self._call(self._play, at)

    def pause(self) -> Instant | None:
        """Stop on the picture on show and return its instant; the exact decode of it follows."""
        with self._lock:
            if not self._playing:
                return self._shown
            self._playing = self._settled = False
            shown = self._shown
        self._on_playing(False)
        self._call(self._rest, shown)
        return shown

    def seek(self, instant: Instant) -> None:
        """Show the exact picture at an instant; playing goes on from there. Leaves a span."""
        with self._lock:
            self._span = None
            self._settled = False
        self._call(self._seek, instant)

    def step(self, n: int) -> None:
        """Go ``n`` pictures on (back, if negative), stopping."""
        self.pause()
        self._call(self._step, n)

    def play_span(self, start: Instant, end: Instant, loop: bool = False) -> None:
        """Play from ``start`` up to but not including ``end``, once or round and round."""
        with self._lock:
            self._span = (start, end, loop)
        self._begin(start)

    def loop(self, start: Instant, end: Instant) -> None:
        """Play round and round between two instants."""
        self.play_span(start, end, loop=True)

    def free(self) -> None:
        """Leave a span or loop; playing goes on past its end."""
        with self._lock:
            self._span = None
        self._call(self._uncue)

    def close(self) -> None:
        """Stop, and let go of the film and the player."""
        self.pause()
        self._events.put(None)
        if threading.current_thread() is not self._thread:
            self._thread.join()

    # The playing thread

    def _call(self, function: Callable, *arguments: Any) -> None:
        self._events.put((function, arguments))

    def _run(self) -> None:
        while True:
            try:
                event = self._events.get(timeout=self._wait())
            except queue.Empty:
                event = ()
            if event is None:
                break
            try:
                if isinstance(event, PlayerEvent):
                    self._attend(event)
                elif event:
                    function, arguments = event
                    function(*arguments)
                self._tick(time.monotonic())
            except Exception as error:      # playing stops; the film stays
                log.exception("playing")
                self._fail(error)
        for deck in self._decks():
            deck.close()
        self.engine.close()
        if self._own_reader and self._reader is not None:
            self._reader.close()

    def _fail(self, error: Exception) -> None:
        with self._lock:
            was_playing, self._playing, self._settled = self._playing, False, False
            shown = self._shown
        self._uncue()
        self._release()
        if was_playing:
            self._on_playing(False)
        if shown is not None:
            self._on_problem(shown.source, f"Playing stopped ({error}). Stepping still works.")

    def _decks(self) -> list[Deck]:
        return [deck for deck in (self._deck, self._cued and self._cued[0]) if deck is not None]

    def _load(self, film: Film, reader: FrameReader | None, at: Instant | None) -> None:
        for deck in self._decks():
            deck.close()
        self._deck = self._cued = self._target = None
        if self._own_reader and self._reader is not None:
            self._reader.close()
        self._own_reader = reader is None
        self._reader = self._slow.reader = reader or FrameReader(film)
        self._signatures.clear()
        with self._lock:
            self.film, self._shown, self._span = film, None, None
        if film.sources:
            self._seek(at or film.sources[0].first)

    def _play(self, at: Instant | None) -> None:
        if self._reader is None or not self.film.sources:
            self._stop()
            return
        at = at or self._shown or self.film.sources[0].first
        span = self._span
        if span is None and at == self._shown and self._after(at) is None and self._at_end(at):
            at = self.film.sources[0].first     # from the end, begin again
        self._go(at)

    def _seek(self, instant: Instant) -> None:
        if self._reader is None:
            return
        self._played = None
        if self._playing:
            self._go(instant)
        else:
            self._show_exact(instant)
            self._resting_since = time.monotonic()

    def _step(self, n: int) -> None:
        if self._reader is not None and self._shown is not None:
            try:
                self._seek(self._reader.step(self._shown, n))
            except NoPicture as error:
                self._on_problem(error.source, error.reason)

    def _rest(self, shown: Instant | None, verify: bool = True) -> None:
        self._played = self._previous if verify else None
        self._release()
        self._uncue()
        if shown is not None:
            self._show_exact(shown)
            self._resting_since = time.monotonic()

    def _release(self) -> None:
        if self._deck is not None:
            self._deck.close()
        self._deck = self._target = self._start_at = None

    def _stop(self, at: Instant | None = None) -> None:
        """Stop by itself, on the picture on show or at ``at``."""
        with self._lock:
            if not self._playing:
                return
            self._playing = self._settled = False
            at = at or self._shown
        self._on_playing(False)
        self._rest(at, verify=False)

    def _show_exact(self, instant: Instant) -> None:
        """Have the exact picture shown as soon as it is decoded, unless something newer came first."""
        self._serial += 1
        serial = self._serial
        with self._lock:
            self._shown = self._snapped(instant)
        picture = self._reader.cached(instant)
        if picture is not None:
            self._on_picture(picture, True)
            self._verify(serial)
        else:
            self._reader.fetch(instant, lambda result: self._call(self._fetched, serial, instant, result))

    def _fetched(self, serial: int, asked: Instant, result: Picture | NoPicture) -> None:
        if serial != self._serial:
            return
        if isinstance(result, NoPicture):
            self._on_problem(result.source, result.reason)
            return
        with self._lock:
            if self._shown is not None and self._snapped(asked) == self._shown or self._shown == asked:
                self._shown = result.instant
        if not self._arrived or not self._playing:
            self._on_picture(result, True)
            self._verify(serial)

    def _verify(self, serial: int) -> None:
        """After a pause: was it this picture that the player showed last? A busy machine's clock can be a picture
        or two out; then the picture itself is looked for among its neighbours."""
        values, self._played = self._played, None
        shown, index = self._shown, self._reader.index(self._shown.source)
        if values is None or index is None or self._playing:
            return
        later = int(index.pts[min(index.at(shown.pts) + NEIGHBOURS, len(index) - 1)])
        self._reader.fetch(Instant(shown.source, later), lambda _: self._call(self._verified, serial, shown, values))

    def _verified(self, serial: int, shown: Instant, values: Any) -> None:
        if serial != self._serial or self._playing or shown != self._shown:
            return
        found = self._recognised(values, shown, NEIGHBOURS, NEIGHBOURS)
        if found is not None and found.instant != shown:
            with self._lock:
                self._shown = found.instant
            self._on_picture(found, True)

    def _snapped(self, instant: Instant) -> Instant:
        index = self._reader.index(instant.source)
        return instant if index is None else Instant(instant.source, int(index.pts[index.at(instant.pts)]))

    # Going somewhere

    def _go(self, instant: Instant) -> None:
        source = self.film.source(instant.source)
        if source.problem:
            self._on_problem(source.id, source.problem)
            after = self._after(instant)
            if after is None:
                self._stop(instant)
                return
            self._go(after)
            return
        self._resting_since = self._played = None
        self._show_exact(instant)
        target = self._snapped(instant)
        now = time.monotonic()
        self._target = target
        self._arrived, self._previous, self._matched = False, None, None
        self._reports.clear()
        self._start_at = self._bridge = None
        with self._lock:
            self._settled = False
            self._said = 0.0
            self._clock.stop(self._seconds(target))
        if self._deck is not None:
            self._deck.close()
            self._deck = None
        if self._cued is not None and self._cued[1] == target and not self._cued_away:
            self._deck, self._cued = self._cued[0], None
            self._start()
        elif now - self._last_go < BREATH:
            self._start_at = now + BREATH   # the playhead is being dragged
        else:
            self._start_deck()
        self._last_go = now

    def _start_deck(self) -> None:
        self._start_at = None
        target, engine = self._target, self._engine_for(self._target)
        source = self.film.source(target.source)
        if engine.seek_support(source) is SeekSupport.KEYFRAMES and target != source.first and (
                self._reader.index(source.id) is not None):
            self._bridge = self._meeting(target)    # None: the rest is too short to hand over
            engine = self._slow
        self._deck = self._open(target, engine)
        if self._deck is not None:
            self._start()

    def _start(self) -> None:
        self._since = time.monotonic()
        self._deck.run()

    def _meeting(self, target: Instant) -> Instant | None:
        """A little later, at best at a keyframe: where a player that takes a while can take over."""
        index, source = self._reader.index(target.source), self.film.source(target.source)
        second = int(1 / source.time_base)
        number = int(index.key_pts.searchsorted(target.pts + round(BRIDGE * second)))
        if number < len(index.key_pts) and index.key_pts[number] < target.pts + 3 * BRIDGE * second:
            meeting = int(index.key_pts[number])
        else:
            meeting = target.pts + 2 * round(BRIDGE * second)
        return self._snapped(Instant(source.id, meeting)) if meeting < source.end.pts - second // 2 else None

    def _engine_for(self, instant: Instant) -> Engine:
        source = self.film.source(instant.source)
        beyond = instant != source.first and self.engine.seek_support(source) is SeekSupport.BEGINNING
        return self._slow if self._speed < 1 or beyond else self.engine

    def _open(self, instant: Instant, engine: Engine) -> Deck | None:
        source = self.film.source(instant.source)
        try:
            return engine.open(source, self._place(instant), self._speed)
        except (OSError, RuntimeError) as error:
            self._broken(source, f"{source.path.name} cannot be played: {error}")
            return None

    def _cue(self, instant: Instant) -> None:
        """Have a deck held at an instant, to go on from there at once."""
        self._uncue()
        engine = self._engine_for(instant)
        deck = self._open(instant, engine)
        if deck is None:
            return
        self._cued, self._cued_away = (deck, instant), False
        place = self._place(instant)
        if engine.seek_support(deck.source) is SeekSupport.KEYFRAMES and place.key_approach and not place.at_key:
            self._cued_away = True      # it has to run up to there, to be held when it is recognised
            deck.run()
        if self._playing:               # its exact picture is to be there when it is its turn
            away, reader = self._cued_away, self._reader
            reader.fetch(instant, lambda result: None if away else reader.rest())

    def _approaching(self, report: PlayerEvent) -> None:
        """Hold a cued deck that has run up to its place."""
        deck, instant = self._cued
        values = signature(report.frame, 0 if deck.turns else deck.source.rotation)
        if values is None:
            return
        found = self._recognised(values, instant, 4, 12)
        if found is not None and found.instant.pts >= instant.pts - deck.source.frame_ticks:
            self._cued_away = False
            deck.hold()
            if self._playing:
                self._reader.rest()

    def _uncue(self) -> None:
        if self._cued is not None:
            self._cued[0].close()
            self._cued = None

    def _set_speed(self) -> None:
        """A player goes on for a while with pictures it has timed already: going there afresh does not."""
        self._uncue()
        if self._playing and self._shown is not None:
            self._go(self._shown)
        else:
            self._release()
            self._resting_since = time.monotonic()

    def _set_volume(self) -> None:
        if self._deck is not None:
            self._deck.set_volume(self._volume)

    def _seconds(self, instant: Instant) -> float:
        source = self.film.source(instant.source)
        return float((instant.pts - source.start_pts) * source.time_base)

    def _place(self, instant: Instant) -> StartPoint:
        at = self._seconds(instant)
        index = self._reader.index(instant.source)
        if index is None:
            return StartPoint(at, max(at - 0.5, 0.0))
        key = index.key_for(instant.pts)
        pts = int(index.key_pts[key])
        if key == 0 or pts <= index.pts[0]:
            return StartPoint(at, 0.0, pts == instant.pts)
        before = max(self._seconds(Instant(instant.source, int(index.key_pts[key - 1]))), 0.0)
        keyed = self._seconds(Instant(instant.source, pts))
        return StartPoint(at, max(keyed - SHORT_OF_KEY, (before + keyed) / 2), pts == instant.pts)

    def _after(self, instant: Instant) -> Instant | None:
        """The first picture of the next source that can be shown."""
        ids = [source.id for source in self.film.sources]
        for source in self.film.sources[ids.index(instant.source) + 1:]:
            if source.problem is None:
                return source.first
        return None

    def _at_end(self, instant: Instant) -> bool:
        source = self.film.source(instant.source)
        return instant.pts + 2 * source.frame_ticks > source.end.pts

    # While it runs

    def _attend(self, report: PlayerEvent) -> None:
        if report.deck not in self._decks():
            return
        report.deck.on_event(report)
        if report.deck is not self._deck:
            if report.what is EventKind.FAILED:
                self._uncue()
            elif report.what is EventKind.FRAME and self._cued_away:
                self._approaching(report)
            return
        if report.what is EventKind.FRAME and self._playing:
            self._picture(report)
        elif report.what is EventKind.TIME and report.seconds is not None and self._playing:
            self._time(report)
        elif report.what is EventKind.ENDED and self._playing and self._arrived:
            self._reached_end()
        elif report.what is EventKind.FAILED:
            self._broken(report.deck.source, report.reason)

    def _picture(self, report: PlayerEvent) -> None:
        source = report.deck.source
        values = signature(report.frame, 0 if report.deck.turns else source.rotation)
        repeated = values is not None and self._previous is not None and bool((values == self._previous).all())
        self._previous = values
        repeated = repeated and report.instant is None
        if report.instant is not None:
            instant = self._from_timestamp(report)
        elif self._target is not None:
            instant = self._settle(report, values)
        else:
            instant = self._by_clock(report, values, repeated)
        if instant is None or not self._arrived or self._shown is not None and (
                instant.source == self._shown.source and instant.pts < self._shown.pts):
            return
        end = self._end_of_span(source)
        if end is not None and instant.pts >= end.pts:
            self._reached_end()
            return
        with self._lock:
            if not self._playing:
                return
            moved, self._shown = instant != self._shown, instant
        if moved or not repeated:
            self._serial += 1       # an exact picture still on its way would be older than this one
            self._on_picture(self._dressed(report, instant), False)

    def _dressed(self, report: PlayerEvent, instant: Instant) -> Picture:
        source, turned = report.deck.source, report.deck.turns
        width = source.display_size[1 if source.rotation % 180 and not turned else 0]
        return Picture(instant, report.frame, 0 if turned else source.rotation, Fraction(width, report.frame.width),
                       source.interlaced and not report.deck.deinterlaces)

    def _from_timestamp(self, report: PlayerEvent) -> Instant:
        """The deck knows exactly what it shows."""
        self._arrive()
        self._target = None
        with self._lock:
            self._adjust(report.when, self._seconds(report.instant))
            self._settled = True
        return report.instant

    def _adjust(self, when: float, seconds: float) -> None:
        """A picture says what time it is; one that comes a little late does not make the playhead tremble."""
        error = seconds - self._clock.at(when)
        if not self._clock.running or abs(error) > 0.1:
            self._clock.set(when, seconds)
        else:
            self._clock.nudge(when, error, 0.2)

    def _settle(self, report: PlayerEvent, values: Any) -> Instant | None:
        """Find out where the player really is, after it was sent to the target."""
        target, source = self._target, report.deck.source
        found = self._recognised(values, target, 30, 90) if values is not None else None
        late = report.when - self._since > SETTLE / self._speed
        if found is None:
            if late or report.seconds is not None and report.seconds + self._offset(source) >= self._seconds(target):
                return self._believe(report)
            return None
        instant, when = found.instant, report.when
        self._sure = when
        if instant.pts >= target.pts:
            self._arrive()
        if self._matched is not None and instant != self._matched[1]:   # the first one comes before the rhythm
            with self._lock:
                self._clock.set(when, self._seconds(instant))
                self._settled = True
            if report.seconds is not None:
                self._offsets[source.id] = self._seconds(instant) - report.seconds
            else:
                self._offsets.pop(source.id, None)      # learned anew from the next report
            if self._arrived:
                self._target = None
                self._reader.rest()
        if self._matched is None or instant != self._matched[1]:
            self._matched = (when, instant)
        return instant

    def _arrive(self) -> None:
        """The target has been reached: from here on the player is seen and heard."""
        if not self._arrived:
            self._arrived = True
            self._deck.set_volume(self._volume)

    def _believe(self, report: PlayerEvent) -> Instant:
        """Nothing was recognised (an all-alike picture, say): trust the player's word."""
        target = self._seconds(self._target)
        said = report.seconds + self._offset(report.deck.source) if report.seconds is not None else target
        with self._lock:
            if not self._clock.running:
                self._clock.set(report.when, max(said, target))
            self._settled = True
        self._arrive()
        self._target = None
        self._reader.rest()
        return self._near(report.deck.source, self._clock.at(report.when))

    def _by_clock(self, report: PlayerEvent, values: Any, repeated: bool) -> Instant:
        source = report.deck.source
        with self._lock:
            if report.seconds is not None:
                at = report.seconds + self._offset(source)
                self._adjust(report.when, at)
            else:
                at = self._clock.at(report.when)
            frame = self._frame_seconds(source)
            instant = self._near(source, at + 0.35 * frame)
        if values is not None and not repeated:
            found = self._recognised(values, instant, 6, 6) or (
                self._shown is not None and self._recognised(values, self._shown, 2, 90))
            if found:
                self._sure = report.when
                if found.instant != instant:
                    instant = found.instant
                    with self._lock:
                        self._clock.set(report.when, self._seconds(instant))
                    self._offsets.pop(source.id, None)
        error = self._seconds(instant) - at
        if report.seconds is None and not repeated and abs(error) < 0.5 * frame:
            with self._lock:
                self._clock.nudge(report.when, error, 0.05)     # the phase; reports tell which picture
        return instant

    def _recognised(self, values: Any, near: Instant, behind: int, ahead: int) -> Picture | None:
        """The decoded picture around an instant that a player's picture is."""
        source = self.film.source(near.source)
        return recognise(values, [(picture, self._signature(picture, source))
                                  for picture in self._reader.around(near, behind, ahead)])

    def _time(self, report: PlayerEvent) -> None:
        source = report.deck.source
        if not self._settled:
            return
        self._reports.append(report.seconds - report.when * self._speed)
        # A report can come late, never early: the least late of the last few tells best.
        said = max(self._reports) + report.when * self._speed
        with self._lock:
            now = self._clock.at(report.when)
            offset = self._offsets.get(source.id)
            if offset is None and report.when - self._sure < 0.1:
                offset = now - said
                if self.engine.seek_support(source) is SeekSupport.ANYWHERE and abs(offset) < 0.5:
                    offset = 0.0        # with an index it counts from the first picture
                self._offsets[source.id] = offset
            elif offset is None:
                offset = 0.0
            error = said + offset - now
            self._clock.nudge(report.when, error, 1.0 if abs(error) > 0.2 else 0.3)

    def _offset(self, source: Source) -> float:
        return self._offsets.get(source.id, 0.0)

    def _near(self, source: Source, seconds: float) -> Instant:
        pts = source.start_pts + int(seconds / float(source.time_base) + 1e-6)
        return self._snapped(Instant(source.id, min(max(pts, source.start_pts), source.end.pts - 1)))

    def _frame_seconds(self, source: Source) -> float:
        return 1 / float(source.frame_rate)

    def _signature(self, picture: Picture, source: Source) -> Any:
        if picture.instant not in self._signatures:
            if len(self._signatures) > 600:
                self._signatures.clear()
            self._signatures[picture.instant] = signature(picture.frame, source.rotation)
        return self._signatures[picture.instant]

    # Ends

    def _end_of_span(self, source: Source) -> Instant | None:
        span = self._span
        return span[1] if span is not None and span[1].source == source.id else None

    def _end(self) -> tuple[Instant, Instant | None, bool]:
        """Where this source's playing ends, where it then goes on (None: stops), and whether that is a span's end."""
        source, span = self._deck.source, self._span
        end = self._end_of_span(source)
        if self._bridge is not None and (end is None or self._bridge.pts < end.pts):
            return self._bridge, self._bridge, False
        if end is not None and self._shown is not None and self._shown.pts <= end.pts:
            return end, (span[0] if span[2] else None), True
        after = self._after(source.first)
        if span is not None and after is not None and self.film.time_of(after) >= self.film.time_of(span[1]):
            return source.end, (span[0] if span[2] else None), True
        if after is None and span is not None and span[2]:
            return source.end, span[0], True
        return source.end, after, False

    def _reached_end(self) -> None:
        end, on, _ = self._end()
        if on is not None:
            self._go(on)
            return
        with self._lock:
            self._span = None
        last = Instant(end.source, end.pts - 1)
        self._stop(self._snapped(last))

    def _broken(self, source: Source, reason: str) -> None:
        self._on_problem(source.id, reason)
        after = self._after(source.first) if self._playing else None
        self._release()
        if after is not None:
            self._go(after)
        else:
            self._stop()

    def _wait(self) -> float | None:
        if self._start_at is not None:
            return max(self._start_at - time.monotonic(), 0.001)
        if self._playing and self._deck is not None:
            if self._settled and self._target is None:
                end = self._seconds(self._end()[0])
                left = (end - self._clock.at(time.monotonic())) / self._speed - LEAD
                return min(max(left, 0.001), 0.1)
            return 0.1
        if self._resting_since is not None:
            return 0.1
        return None

    def _tick(self, now: float) -> None:
        if self._start_at is not None and now >= self._start_at:
            self._start_deck()
        if self._playing and self._deck is not None:
            if self._target is not None and not self._arrived and now - self._since > STALLED:
                self._broken(self._deck.source, f"{self._deck.source.path.name} gives no picture in the player.")
                return
            if self._settled and self._target is None:
                self._approach(now)
        elif self._resting_since is not None and now - self._resting_since > 0.25:
            self._resting_since = None
            self._get_ready()

    def _approach(self, now: float) -> None:
        end, on, _ = self._end()
        left = (self._seconds(end) - self._clock.at(now)) / self._speed
        if on is not None and left < AHEAD and (self._cued is None or self._cued[1] != self._snapped(on)):
            self._cue(self._snapped(on))
        if left <= LEAD:
            self._reached_end()

    def _get_ready(self) -> None:
        """Hold the player at the picture on show, so that it can go on at once."""
        if self._shown is None or self._playing:
            return
        if self.film.source(self._shown.source).problem is None:
            self._cue(self._shown)
