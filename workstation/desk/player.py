"""One position in the film, and the picture that belongs to it.

While the film plays the picture comes from a playback engine; while it rests the picture is the
exact decoded frame. Decoding never happens on the UI thread: a worker holds the frame reader and
is only ever asked for the newest wish.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

import numpy
from PySide6.QtCore import QObject, QThread, QTimer, Signal, Slot
from PySide6.QtGui import QImage

from ..film.film import Film
from ..film.time import Instant

RATES = (0.1, 0.25, 0.5, 0.75, 1.0, 1.5, 2.0, 4.0)


def image_of(pixels: numpy.ndarray) -> QImage:
    """An image that owns a copy of an HxWx4 array of 8-bit blue, green, red and anything."""
    height, width, _ = pixels.shape
    return QImage(pixels.data, width, height, 4 * width, QImage.Format.Format_RGB32).copy()


@dataclass(frozen=True, slots=True)
class _Wish:
    film: Film
    base: Instant
    frames: int = 0     # steps from the base; 0 shows the base itself


class _Decoder(QObject):
    """Lives in its own thread."""

    decoded = Signal(object, object, object)    # wish, Instant, QImage
    failed = Signal(object, str)

    def __init__(self):
        super().__init__()
        self._film: Film | None = None
        self._reader = None

    @Slot(object)
    def decode(self, wish: _Wish) -> None:
        from ..film.frames import FrameReader
        try:
            if wish.film is not self._film or self._reader is None:
                self.close()
                self._reader, self._film = FrameReader(wish.film), wish.film
            at = self._reader.step(wish.base, wish.frames) if wish.frames else wish.base
            picture = self._reader.frame_at(at)
            self.decoded.emit(wish, picture.instant, image_of(picture.bgra()))
        except Exception as error:      # whatever a broken file does must reach the person, not end the thread
            self.failed.emit(wish, str(error) or type(error).__name__)

    @Slot()
    def close(self) -> None:
        if self._reader is not None and hasattr(self._reader, "close"):
            self._reader.close()
        self._reader = self._film = None


class Player(QObject):
    """Seeks, steps and plays one film.

    ``position`` is the instant on show (of a wish not decoded yet: the instant asked for).
    ``failed`` says what went wrong and what to do.
    """

    frame_changed = Signal(QImage)
    position_changed = Signal(object)
    playing_changed = Signal(bool)
    rate_changed = Signal(float)
    failed = Signal(str, str)
    _wanted = Signal(object)
    _closing = Signal()

    def __init__(self, parent: QObject | None = None):
        super().__init__(parent)
        self.film = Film()
        self.position: Instant | None = None
        self.frame = QImage()
        self.playing = False
        self.rate = 1.0
        self._engine = None
        self._engine_film: Film | None = None
        self._busy: _Wish | None = None
        self._next: _Wish | None = None
        self._until: tuple[Instant, Instant, bool] | None = None   # start, end, loop
        self._thread = QThread(self)
        self._decoder = _Decoder()
        self._decoder.moveToThread(self._thread)
        self._wanted.connect(self._decoder.decode)
        self._closing.connect(self._decoder.close)
        self._decoder.decoded.connect(self._on_decoded)
        self._decoder.failed.connect(self._on_failed)
        self._thread.start()

    # -- film ---------------------------------------------------------------------------------
    def show_film(self, film: Film) -> None:
        """Take *film*; the position stays where it was if the film still has that source."""
        if film == self.film:
            return
        self.pause()
        self.film = film
        if not film.sources:
            self.position, self.frame = None, QImage()
            self.frame_changed.emit(self.frame)
            return
        known = {source.id for source in film.sources}
        self.seek(self.position if self.position and self.position.source in known else film.sources[0].first)

    def close(self) -> None:
        """Stop everything; the player is of no use afterwards."""
        self.pause()
        self._drop_engine()
        if self._thread.isRunning():
            self._closing.emit()
            self._thread.quit()
            self._thread.wait(5000)

    # -- resting ------------------------------------------------------------------------------
    def seek(self, instant: Instant) -> None:
        """Go to *instant*; playing goes on from there."""
        if not self.film.sources:
            return
        self._until = None
        self._set_position(instant)
        if self.playing and self._engine is not None:
            self._engine.seek(instant)
        else:
            self._wish(_Wish(self.film, instant))

    def step(self, frames: int) -> None:
        """Move by whole pictures, backwards if negative; playing stops."""
        if not self.film.sources or self.position is None:
            return
        self.pause()
        waiting = self._next or self._busy
        if waiting is not None and waiting.film is self.film:
            self._wish(_Wish(self.film, waiting.base, waiting.frames + frames))
        else:
            self._wish(_Wish(self.film, self.position, frames))

    def _wish(self, wish: _Wish) -> None:
        if self._busy is None:
            self._busy = wish
            self._wanted.emit(wish)
        else:
            self._next = wish

    def _advance(self) -> None:
        self._busy, self._next = self._next, None
        if self._busy is not None:
            self._wanted.emit(self._busy)

    def _on_decoded(self, wish: _Wish, instant: Instant, image: QImage) -> None:
        stale = self._next is not None and self._next.frames == 0
        self._advance()
        if stale or self.playing or wish.film is not self.film:
            return
        self._show(image)
        self._set_position(instant)

    def _on_failed(self, wish: _Wish, why: str) -> None:
        self._advance()
        if wish.film is self.film:
            source = self.film.source(wish.base.source)
            self.failed.emit(f"No picture from {source.path.name}: {source.problem or why}",
                             "The tags are safe. Relink or replace the file, or go on with the next shot.")

    # -- playing ------------------------------------------------------------------------------
    def play(self) -> None:
        if self.playing or not self.film.sources or self.position is None:
            return
        try:
            engine = self._ready_engine()
        except Exception as error:
            self.failed.emit(f"The film cannot be played: {error}",
                             "Stepping through it still works. Install VLC, or the multimedia parts of Qt.")
            return
        self.playing = True
        engine.set_rate(self.rate)
        engine.play(self.position)
        self.playing_changed.emit(True)

    def pause(self) -> None:
        if not self.playing:
            return
        self.playing = False
        self._until = None
        if self._engine is not None:
            self._engine.pause()
        self.playing_changed.emit(False)
        if self.position is not None and self.film.sources:
            self._wish(_Wish(self.film, self.position))     # the exact frame replaces the playing one

    def toggle(self) -> None:
        self.pause() if self.playing else self.play()

    def set_rate(self, rate: float) -> None:
        """Set the speed; 1 is life speed. Allowed 0.1 to 4."""
        rate = min(max(rate, RATES[0]), RATES[-1])
        if rate == self.rate:
            return
        self.rate = rate
        if self.playing and self._engine is not None:
            self._engine.set_rate(rate)
        self.rate_changed.emit(rate)

    def change_rate(self, steps: int) -> None:
        """Go *steps* up or down the ladder of speeds."""
        nearest = min(range(len(RATES)), key=lambda i: abs(RATES[i] - self.rate))
        self.set_rate(RATES[min(max(nearest + steps, 0), len(RATES) - 1)])

    def play_span(self, start: Instant, end: Instant, loop: bool = False) -> None:
        """Play from *start* up to *end*, once or round and round."""
        self.pause()
        self.seek(start)
        self._until = (start, end, loop)
        self.play()

    def _ready_engine(self):
        if self._engine is None:
            self._engine = StepEngine(self)
            self._engine.shown.connect(self._on_played)
            self._engine.ended.connect(self._on_ended)
        if self._engine_film is not self.film:
            self._engine.open(self.film)
            self._engine_film = self.film
        return self._engine

    def _drop_engine(self) -> None:
        if self._engine is not None:
            self._engine.close()
            self._engine = self._engine_film = None

    def _on_played(self, instant: Instant, image: QImage) -> None:
        if not self.playing:
            return
        self._show(image)
        self._set_position(instant)
        if self._until is not None:
            start, end, loop = self._until
            if self.film.time_of(instant) >= self.film.time_of(end):
                if loop:
                    self.seek(start)
                    self._until = (start, end, loop)
                else:
                    self.pause()

    def _on_ended(self) -> None:
        self.pause()

    # -- both ---------------------------------------------------------------------------------
    @property
    def time(self) -> Fraction:
        """Film time of the position in seconds; 0 without a film."""
        return self.film.time_of(self.position) if self.position and self.film.sources else Fraction(0)

    def _set_position(self, instant: Instant) -> None:
        if instant != self.position:
            self.position = instant
            self.position_changed.emit(instant)

    def _show(self, image: QImage) -> None:
        self.frame = image
        self.frame_changed.emit(image)


class StepEngine(QObject):
    """Plays without any media player, picture by picture and silent."""

    shown = Signal(object, QImage)
    ended = Signal()
    _wanted = Signal(object)

    def __init__(self, parent: QObject | None = None):
        super().__init__(parent)
        self._film = Film()
        self._at: Instant | None = None
        self._rate = 1.0
        self._timer = QTimer(self, timeout=self._tick)
        self._waiting = False
        self._thread = QThread(self)
        self._decoder = _Decoder()
        self._decoder.moveToThread(self._thread)
        self._wanted.connect(self._decoder.decode)
        self._decoder.decoded.connect(self._on_decoded)
        self._thread.start()

    def open(self, film: Film) -> None:
        self._film = film

    def play(self, instant: Instant) -> None:
        self._at, self._waiting = instant, False
        rate = self._film.source(instant.source).frame_rate
        self._timer.start(max(1, int(1000 / float(rate) / self._rate)))

    def pause(self) -> None:
        self._timer.stop()

    def seek(self, instant: Instant) -> None:
        self._at = instant

    def set_rate(self, rate: float) -> None:
        self._rate = rate
        if self._timer.isActive() and self._at is not None:
            self.play(self._at)

    def close(self) -> None:
        self._timer.stop()
        self._thread.quit()
        self._thread.wait(5000)

    def _tick(self) -> None:
        if not self._waiting and self._at is not None:
            self._waiting = True
            self._wanted.emit(_Wish(self._film, self._at, 1))

    def _on_decoded(self, wish: _Wish, instant: Instant, image: QImage) -> None:
        self._waiting = False
        if wish.base != self._at:
            return
        if instant == self._at:
            self.ended.emit()
            return
        self._at = instant
        self.shown.emit(instant, image)
