"""The playhead of a film and what it plays, shared between threads."""

from __future__ import annotations

import threading
import time
from collections.abc import Callable
from dataclasses import dataclass

from ..film import Film, Source
from ..frames import FrameReader
from ..picture import Picture
from ..time import Instant
from .playhead_clock import PlayheadClock


@dataclass(frozen=True, slots=True)
class Listener:
    """Callbacks of whoever shows the film: a frame (and whether it is an exact decode), playing started or stopped, a
    source (id) that cannot be shown and why, one of whose pictures too small a share is shown while it plays."""

    picture: Callable[[Picture, bool], None]
    playing: Callable[[bool], None]
    problem: Callable[[str, str], None]
    slow: Callable[[str, float], None] = lambda source, share: None


class PlaybackState:
    """``lock`` guards everything here and is never held while a callback runs. ``settled``: the clock follows the
    player. ``span`` is (start, end, loop) while only a part is played."""

    def __init__(self) -> None:
        self.lock = threading.RLock()
        self.film = Film()
        self.playing = self.settled = False
        self.shown: Instant | None = None
        self.span: tuple[Instant, Instant, bool] | None = None
        self.speed = self.volume = 1.0
        self.clock = PlayheadClock()
        self._latest_time = 0.0         # returned since the last jump
        self._reader: FrameReader | None = None

    def load(self, film: Film, reader: FrameReader) -> None:
        """Take in another film and its reader; nothing is shown yet. The span stays: it may be of this film already."""
        with self.lock:
            self.film, self._reader, self.shown = film, reader, None

    @property
    def loaded(self) -> bool:
        """Whether a film is loaded."""
        return self._reader is not None

    @property
    def reader(self) -> FrameReader:
        """The reader of the film; raises RuntimeError if none is loaded."""
        if self._reader is None:
            raise RuntimeError("no film is loaded")
        return self._reader

    def jump(self, target: Instant) -> None:
        """Stop the clock at a target until a player has got there."""
        with self.lock:
            self.settled, self._latest_time = False, 0.0
            self.clock.stop(self.seconds(target))

    def stop(self) -> bool:
        """Mark as stopped; returns whether it was playing."""
        with self.lock:
            was_playing, self.playing, self.settled = self.playing, False, False
            return was_playing

    def time(self) -> float:
        """Film time of the playhead in seconds; moves smoothly between frames while playing."""
        with self.lock:
            shown = self.shown
            if shown is None:
                return 0.0
            time_shown = float(self.film.time_of(shown))
            if not (self.playing and self.settled and self.clock.running):
                return time_shown
            source = self.film.source(shown.source)
            now = float(self.film.starts_at(source.id)) + self.clock.at(time.monotonic())
            most = time_shown + max(0.1 * self.speed, 2 / float(source.frame_rate))
            now = min(max(now, time_shown), most, float(self.film.time_of(source.end)))
            self._latest_time = max(self._latest_time, now)
            return self._latest_time

    def seconds(self, instant: Instant) -> float:
        """Seconds from the first frame of the instant's source."""
        source = self.film.source(instant.source)
        return float((instant.pts - source.start_pts) * source.time_base)

    def snapped(self, instant: Instant) -> Instant:
        """The timestamp of the frame shown at an instant, as far as it is known."""
        index = self.reader.index(instant.source)
        return instant if index is None else Instant(instant.source, int(index.pts[index.at(instant.pts)]))

    def instant_near(self, source: Source, seconds: float) -> Instant:
        """Return the instant of the frame at `seconds` of the source, kept within it."""
        pts = source.start_pts + int(seconds / float(source.time_base) + 1e-6)
        return self.snapped(Instant(source.id, min(max(pts, source.start_pts), source.end.pts - 1)))

    def next_source(self, instant: Instant) -> Instant | None:
        """The first frame of the next source that can be shown."""
        ids = [source.id for source in self.film.sources]
        return next((source.first for source in self.film.sources[ids.index(instant.source) + 1:]
                     if source.problem is None), None)
