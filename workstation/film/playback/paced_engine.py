"""Play by decoding frames at the right pace, with a player's sound if there is one.

Serves slow motion, where every picture counts and a player takes its time to find its rhythm, and machines without any
player. The pictures begin at once; the sound, which begins a moment later, is followed as soon as it says where it is.
"""

from __future__ import annotations

import threading
import time
from collections.abc import Callable

from ..faults import NoPicture
from ..film import Source
from ..frames import FrameReader
from ..time import Instant
from .engine import Deck, Engine, PlayerEvent, PlayerEventKind, SeekSupport, SoundPlayer, StartPoint

FOLLOWED = 1.0          # seconds up to which pictures wait for their sound


class PacedEngine(Engine):
    """Needs no player. ``reader`` is set by the playback; ``player`` makes the sound, if there is one."""

    name = "pictures without sound"

    def __init__(self) -> None:
        self.report: Callable[[PlayerEvent], None] = lambda report: None
        self.reader: FrameReader | None = None
        self.player: Engine | None = None

    def seek_support(self, source: Source) -> SeekSupport:
        """Every source can be opened anywhere: the frames come from the reader."""
        return SeekSupport.ANYWHERE

    def open(self, source: Source, place: StartPoint, speed: float) -> PacedDeck:
        """Open a deck at this place; raise RuntimeError if no film is loaded."""
        if self.reader is None:
            raise RuntimeError("no film is loaded")
        return PacedDeck(self, self.reader, source, place, speed)

    def sound(self, source: Source, seconds: float, speed: float) -> SoundPlayer | None:
        """Return the player engine's sound from `seconds` on, None without such an engine."""
        return self.player.sound(source, seconds, speed) if self.player is not None else None


class PacedDeck(Deck):
    """A deck that takes frames from the reader and shows each when it is due."""

    _engine: PacedEngine

    def __init__(self, engine: PacedEngine, reader: FrameReader, source: Source, place: StartPoint,
                 speed: float) -> None:
        super().__init__(engine, source)
        self._reader, self._speed = reader, speed
        self._at = Instant(source.id, source.start_pts + round(place.at / float(source.time_base)))
        self._sound: SoundPlayer | None = None
        self._volume = 0.0
        self._late = 0.0            # seconds by which the sound runs behind the pictures
        self._began, self._lag = 0.0, 0.0
        self._stopping = threading.Event()
        self._thread = threading.Thread(target=self._run, name="pacing", daemon=True)

    def run(self) -> None:
        """Start the thread that shows the frames."""
        self._thread.start()

    def hold(self) -> None:
        """Close the deck: the next run opens another one."""
        self.close()

    def set_volume(self, volume: float) -> None:
        """Set the volume, 0 to 1, also of sound that already plays."""
        self._volume = volume
        if self._sound is not None:
            self._sound.set_volume(volume)

    def close(self) -> None:
        """Stop the thread and the sound."""
        self._closed = True
        self._stopping.set()
        if self._sound is not None:
            self._sound.close()

    def _start_sound(self, seconds: float) -> None:
        self._sound = self._engine.sound(self.source, seconds, self._speed)
        if self._sound is not None:
            self._sound.on_time = self._on_sound
            self._sound.set_volume(self._volume)
            self._sound.play()
            if self._closed:
                self._sound.close()

    def _on_sound(self, when: float, heard: float) -> None:
        self._late = when - (self._began + self._lag + heard)

    def _run(self) -> None:
        first, at = self._at, self._at
        tick = float(self.source.time_base) / self._speed
        try:
            while not self._closed:
                picture = self._reader.frame_at(at)
                if not self._began:
                    first = picture.instant
                    self._began = time.monotonic()
                    self._start_sound(float((first.pts - self.source.start_pts) * self.source.time_base))
                if abs(self._late) < FOLLOWED:
                    self._lag += 0.5 * self._late
                self._late = 0.0
                due = self._began + self._lag + (picture.instant.pts - first.pts) * tick
                now = time.monotonic()
                if now < due:
                    if self._stopping.wait(due - now):
                        return
                elif now - due > 0.25:      # the machine does not keep up: do not rush afterwards
                    self._lag += now - due
                self._report(PlayerEventKind.FRAME, frame=picture.frame, instant=picture.instant)
                following = self._reader.step(picture.instant, 1)
                if following.source != self.source.id or following == picture.instant:
                    self._stopping.wait(max(due - time.monotonic(), 0) + float(self.source.frame_ticks) * tick)
                    self._report(PlayerEventKind.ENDED)
                    return
                at = following
        except NoPicture as error:
            self._report(PlayerEventKind.FAILED, reason=error.reason)
        except ValueError:      # the reader was closed
            return
