"""The film position and its picture, for the UI thread.

:class:`workstation.film.playback.Playback` works in threads of its own; this turns its pictures into images and its
callbacks into signals. It is created in a job, because loading a playback engine takes too long for the UI thread.
"""

from __future__ import annotations

import logging
import threading
from collections.abc import Callable, Sequence
from contextlib import suppress
from fractions import Fraction
from typing import TYPE_CHECKING

import numpy
from PySide6.QtCore import QCoreApplication, QObject, Signal
from PySide6.QtGui import QImage

from ..film.faults import NoPicture
from ..film.film import Film
from ..film.time import Instant
from .jobs import Job, Progress, ui_thread

if TYPE_CHECKING:
    from ..film.frames import FrameReader
    from ..film.picture import Picture
    from ..film.playback import Playback

log = logging.getLogger(__name__)
RATES = (0.125, 0.25, 0.5, 0.75, 1.0, 1.5, 2.0, 4.0)


def image_of(pixels: numpy.ndarray) -> QImage:
    """An image that owns a copy of an HxWx4 array of 8-bit blue, green, red and anything."""
    height, width, _ = pixels.shape
    return QImage(pixels.data, width, height, 4 * width, QImage.Format.Format_RGB32).copy()


def _application() -> QObject:
    application = QCoreApplication.instance()
    if application is None:
        raise RuntimeError("a player needs an application")
    return application


class Player(QObject):
    """Seeks, steps and plays one film.

    ``position`` is the instant on show (of a seek still on its way: the instant asked for).
    ``failed`` says what went wrong and what to do. Where a picture cannot be had none is shown,
    and ``trouble`` says why.
    """

    frame_changed = Signal(QImage)
    position_changed = Signal(object)
    playing_changed = Signal(bool)
    rate_changed = Signal(float)
    failed = Signal(str, str)
    notice = Signal(str)
    slow = Signal(str, float)           # a source (id) of whose pictures only this share is shown while it plays
    _told_silence = False       # of all players: it is the machine that has no sound

    def __init__(self, parent: QObject | None = None):
        super().__init__(parent)
        self.film = Film()
        self.position: Instant | None = None
        self.frame = QImage()
        self.playing = False
        self.rate = 1.0
        self.volume = 1.0
        self.engine_name = ""
        self._playback: Playback | None = None
        self.trouble = ""                       # why there is no picture where the film stands
        self._asked: Instant | None = None      # a seek whose picture has not come yet
        self._stepping = False                  # a step whose picture has not come yet
        self._making = False
        self._closed = False
        self._kept: tuple[Film, ...] = ()
        self._play_when_made: tuple[Instant, Instant, bool] | bool = False
        self._guard = threading.Lock()
        # The newest picture, not fetched yet, and how many requests had been served when it came.
        self._newest: tuple[Instant, QImage, int] | None = None
        self._ui = ui_thread()

    # -- the player under it ------------------------------------------------------------------
    def _make(self, progress: Progress) -> tuple[Playback, str, bool]:
        from ..tagging.opening import load_film_parts
        load_film_parts()
        from ..film.playback import Playback, best_engine
        engine = best_engine()
        playback = Playback(engine, on_picture=self._on_picture, on_playing=self._on_playing,
                            on_problem=self._on_problem,
                            on_slow=self._on_slow)
        return playback, engine.name, getattr(engine, "has_sound", True)

    def _on_playing(self, playing: bool) -> None:
        self._later(self._take_state)

    def _on_problem(self, source: str, why: str) -> None:
        self._later(lambda: self._report(source, why))

    def _on_slow(self, source: str, share: float) -> None:
        self._later(lambda: self.slow.emit(source, share))

    def _later(self, act: Callable[[], object]) -> None:
        """Call *act* on the UI thread, unless the player is closed or gone by then; from any thread."""
        def if_open() -> None:
            if not self._closed:
                act()

        if not self._closed:
            self._ui.call_for(self, if_open)

    def _no_playback(self, why: str) -> None:
        self._making = False
        if not self._closed:
            self.failed.emit(f"The film cannot be shown: {why}", "Tagging without pictures still works.")

    def _take_playback(self, made: tuple[Playback, str, bool]) -> None:
        playback, name, has_sound = made
        self._making = False
        if self._closed:
            self._release(playback)
            return
        self._playback, self.engine_name = playback, name
        if not name.startswith("VLC"):
            self.notice.emit(f"The VLC player was not found: the film plays with {name}. Install VLC for smooth play "
                             "with sound.")
        if not has_sound and not Player._told_silence:
            Player._told_silence = True
            self.notice.emit("No sound here: this machine has no sound card that is in use. The film plays without.")
        playback.speed, playback.volume = self.rate, self.volume
        playback.keep_open(self._kept)
        playback.load(self.film, at=self.position)
        waiting, self._play_when_made = self._play_when_made, False
        if isinstance(waiting, tuple):
            self.play_span(*waiting)
        elif waiting:
            self.play()

    def _on_picture(self, picture: Picture, exact: bool) -> None:
        if self._closed:
            return
        served = self._playback.served if self._playback is not None else 0
        image = image_of(picture.bgra())
        with self._guard:
            waiting, self._newest = self._newest is not None, (picture.instant, image, served)
        if not waiting:
            self._later(self._take_picture)

    def _take_picture(self) -> None:
        with self._guard:
            newest, self._newest = self._newest, None
        if newest is None or self._playback is None or self._closed:
            return
        instant, image, served = newest
        if not any(source.id == instant.source for source in self.film.sources):
            return
        self._show(image)
        if self._answers(instant, served, self._playback):
            self._asked, self._stepping = None, False
            shown = self._playback.position         # of the film before, until the player has turned to this one
            is_here = shown is not None and any(source.id == shown.source for source in self.film.sources)
            self._set_position(shown if shown is not None and is_here else instant)

    def _answers(self, instant: Instant, served: int, playback: Playback) -> bool:
        """Whether a picture shows what was asked for last. Pictures of before may still come in; they don't take the
        position back."""
        return instant == self._asked or served == playback.requested

    def _take_state(self) -> None:
        playing = self._playback is not None and self._playback.playing
        if playing != self.playing:
            self.playing = playing
            self.playing_changed.emit(playing)

    def _show(self, image: QImage, trouble: str = "") -> None:
        self.frame, self.trouble = image, trouble
        self.frame_changed.emit(image)

    def _report(self, source_id: str, reason: str) -> None:
        asked, self._asked, self._stepping = self._asked, None, False
        source = next((source for source in self.film.sources if source.id == source_id), None)
        if source is None:
            return
        if asked is not None and asked.source == source_id:     # what is on show is not what was asked for
            self._show(QImage(), reason)
        if not source.problem:                                  # else it was told when the game was opened
            self.failed.emit(f"No picture from {source.path.name}: {reason}",
                             "The tags are safe. Replace the file where it was, or go on with the next shot.")

    # -- film ---------------------------------------------------------------------------------
    def keep_open(self, films: Sequence[Film]) -> None:
        """Films that are shown in turn: their files stay open."""
        self._kept = tuple(films)
        if self._playback is not None:
            self._playback.keep_open(self._kept)

    def fetch_beside(self, film: Film, instant: Instant,
                     done: Callable[[Picture | NoPicture], None] | None = None) -> bool:
        """Request the exact picture of another film that is kept open; *done* is called in a reading thread. Without
        it the picture is only decoded, and nothing ahead of it. A later request takes the place of one that has not
        been served. False while there is no player."""
        if self._playback is None or film not in self._kept or film == self.film:
            return False

        def fetch(reader: FrameReader) -> None:
            with suppress(ValueError):      # it was closed meanwhile
                reader.fetch(instant, done or (lambda result: reader.rest()))

        self._playback.open_reader(film, fetch)
        return True

    def show_open(self, film: Film, at: Instant) -> None:
        """Show the exact picture of a film whose files are open, before the player turns to it, which takes longer;
        nothing happens where they are not. The film itself is taken with :meth:`show_film` at once after."""
        reader = self._playback.reader_of(film) if self._playback is not None else None
        if reader is None:
            return
        picture = reader.cached(at)
        if picture is not None:
            self._show(image_of(picture.bgra()))
            return

        def arrived(result: Picture | NoPicture) -> None:
            if not isinstance(result, NoPicture):
                self._on_picture(result, True)

        with suppress(ValueError):
            reader.fetch(at, arrived)

    def show_film(self, film: Film, at: Instant | None = None) -> None:
        """Take *film*, at an instant of it; without one, the position stays where it was if the film still has that
        source."""
        if film == self.film:
            return
        self.pause()
        self.film = film
        if not film.sources:
            self.position = None
            self._show(QImage())
            return
        known = {source.id for source in film.sources}
        at = at or self.position
        if at is None or at.source not in known:
            at = film.sources[0].first
        self._asked = at
        if self._playback is not None:
            self._playback.load(film, at=at)
        elif not self._making:
            self._making = True
            # Not a child: a player that was closed meanwhile still has to release what was made for it.
            Job("finding a player", self._make, self._take_playback, self._no_playback,
                parent=_application(), abandoned=True).start()
        self._set_position(at)

    def close(self) -> None:
        """Stop everything; the player is of no use afterwards."""
        self._closed = True
        playback, self._playback = self._playback, None
        self._play_when_made = False
        if playback is not None:
            self._release(playback)

    def _release(self, playback: Playback) -> None:
        """Close it in the background: it waits for the picture at hand."""
        Job("releasing the film", lambda progress: playback.close(), parent=_application()).start()

    # -- moving -------------------------------------------------------------------------------
    def seek(self, instant: Instant) -> None:
        """Go to *instant*; playing goes on from there."""
        if not self.film.sources:
            return
        self._asked, self._stepping = instant, False
        if self._playback is not None:
            self._playback.seek(instant)
        self._set_position(instant)

    def step(self, frames: int) -> None:
        """Move by whole pictures, backwards if negative; playing stops."""
        if self._playback is not None and self.film.sources:
            self._asked, self._stepping = None, True
            self._playback.step(frames)

    def in_view(self, ids: list[str]) -> None:
        """Say which sources a timeline shows: they are indexed before others."""
        if self._playback is not None:
            self._playback.in_view(ids)

    def play(self) -> None:
        """Start playing, as soon as the playback is made."""
        if self._playback is None:
            self._play_when_made = bool(self.film.sources)
        elif self.film.sources:
            self._playback.play()
            self._take_state()

    def pause(self) -> None:
        """Stop playing and keep the place."""
        self._play_when_made = False
        if self._playback is not None:
            self._playback.pause()
            self._take_state()

    def toggle(self) -> None:
        """Pause if the film plays, else play."""
        self.pause() if self.playing else self.play()

    def set_rate(self, rate: float) -> None:
        """Set the speed; 1 is life speed. Allowed 0.125 to 4."""
        rate = min(max(rate, RATES[0]), RATES[-1])
        if rate == self.rate:
            return
        self.rate = rate
        if self._playback is not None:
            self._playback.speed = rate
        self.rate_changed.emit(rate)

    def change_rate(self, steps: int) -> None:
        """Go *steps* up or down the ladder of speeds."""
        nearest = min(range(len(RATES)), key=lambda i: abs(RATES[i] - self.rate))
        self.set_rate(RATES[min(max(nearest + steps, 0), len(RATES) - 1)])

    def set_volume(self, volume: float) -> None:
        """0 (silent) to 1."""
        self.volume = min(max(volume, 0.0), 1.0)
        if self._playback is not None:
            self._playback.volume = self.volume

    def play_span(self, start: Instant, end: Instant, loop: bool = False) -> None:
        """Play from *start* up to *end*, once or round and round."""
        if not self.film.sources:
            return
        self._asked, self._stepping = start, False
        if self._playback is None:
            self._play_when_made = (start, end, loop)
        else:
            self._playback.play_span(start, end, loop)
            self._take_state()
        self._set_position(start)

    @property
    def waiting(self) -> bool:
        """The picture of the position is still on its way; what is on show is an older one."""
        return self._asked is not None

    @property
    def is_placed(self) -> bool:
        """``position`` is the picture that whoever looks at the film means. False while the picture of a step is on its
        way, and that of a seek while the film plays on."""
        return not self._stepping and not (self.playing and self.waiting)

    @property
    def time(self) -> Fraction:
        """Film time of the position in seconds; 0 without a film."""
        return self.film.time_of(self.position) if self.position and self.film.sources else Fraction(0)

    def _set_position(self, instant: Instant) -> None:
        if instant != self.position:
            self.position = instant
            self.position_changed.emit(instant)
