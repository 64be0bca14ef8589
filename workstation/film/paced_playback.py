"""Playing by decoding: exact pictures at the right pace, without sound.

Serves slow motion, where every picture counts and a player takes its time to find its
rhythm, and machines without any player.
"""

from __future__ import annotations

import threading
import time
from collections.abc import Callable

from .faults import NoPicture
from .film import Source
from .frames import FrameReader
from .players import Happened, Place, Reach, Report
from .time import Instant


class PacedEngine:
    """Needs no player; ``reader`` is set by the playback."""

    name = "pictures without sound"

    def __init__(self) -> None:
        self.report: Callable[[Report], None] = lambda report: None
        self.reader: FrameReader | None = None

    def reach(self, source: Source) -> Reach:
        return Reach.ANYWHERE

    def open(self, source: Source, place: Place, speed: float) -> PacedDeck:
        if self.reader is None:
            raise RuntimeError("no film is loaded")
        return PacedDeck(self, self.reader, source, place, speed)

    def close(self) -> None:
        pass


class PacedDeck:
    turns = False

    def __init__(self, engine: PacedEngine, reader: FrameReader, source: Source, place: Place, speed: float) -> None:
        self.source = source
        self._engine, self._reader, self._speed = engine, reader, speed
        self._at = Instant(source.id, source.start_pts + round(place.at / float(source.time_base)))
        self._closed = threading.Event()
        self._thread = threading.Thread(target=self._run, name="pacing", daemon=True)

    def run(self) -> None:
        self._thread.start()

    def hold(self) -> None:
        self.close()

    def set_volume(self, volume: float) -> None:
        pass

    def attend(self, report: Report) -> None:
        pass

    def close(self) -> None:
        self._closed.set()

    def _run(self) -> None:
        seconds = float(self.source.time_base) / self._speed
        due, at = time.monotonic(), self._at
        try:
            while not self._closed.is_set():
                picture = self._reader.frame_at(at)
                now = time.monotonic()
                if now < due:
                    if self._closed.wait(due - now):
                        return
                elif now - due > 0.25:      # the machine does not keep up: do not rush afterwards
                    due = now
                self._tell(Happened.SHOWN, frame=picture.frame, instant=picture.instant)
                following = self._reader.step(picture.instant, 1)
                if following.source != self.source.id or following == picture.instant:
                    self._closed.wait(max(due - time.monotonic(), 0) + float(self.source.frame_ticks) * seconds)
                    self._tell(Happened.ENDED)
                    return
                due += (following.pts - picture.instant.pts) * seconds
                at = following
        except NoPicture as error:
            self._tell(Happened.BROKEN, reason=error.reason)
        except ValueError:      # the reader was closed
            return

    def _tell(self, what: Happened, **details: object) -> None:
        if not self._closed.is_set():
            self._engine.report(Report(self, what, time.monotonic(), **details))
