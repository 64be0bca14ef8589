"""The lane of sound: loudness, and where it sounds like a whistle."""

from __future__ import annotations

from collections.abc import Callable
from itertools import pairwise
from math import inf

import numpy as np
from PySide6.QtCore import QObject, QPointF, QRectF
from PySide6.QtGui import QImage

from ....film.film import Film
from ....film.film_sound import Sound, kept_sound, measure_sound
from ....film.time import spoken_time
from ...jobs import Job
from ..canvas import OPEN, Canvas
from ..scale import Scale
from .lane import Lane, Timeline


class SoundLane(Lane):
    """Shows what was measured of the film's sound before; a click, or the key, has it measured."""

    key = name = "sound"
    weight, least, need = 26, 16, 1

    def __init__(self, timeline: Timeline):
        super().__init__(timeline)
        self.sound: Sound | None = None
        self._film: Film | None = None
        self._is_listening = False
        self._jobs = QObject(timeline if isinstance(timeline, QObject) else None)      # parent of jobs
        self._loud: tuple[Sound, int, np.ndarray] | None = None     # levels in groups, for the next repaint

    def take_film(self, film: Film | None) -> None:
        """Take up what is kept of the film's sound."""
        if film is None or film is not self._film:
            self.sound = None
        self._film = film
        if film is not None and film.sources:       # a damaged cache costs the lane, not the timeline
            Job("reading kept sound", lambda progress: kept_sound(film), lambda sound: self.show(film, sound),
                parent=self._jobs).start()

    def show(self, film: Film, sound: Sound | None) -> None:
        """Take in the film and its sound, None while it has not been listened to."""
        if film is self._film and sound is not None:
            self.sound = sound
            self.timeline.redraw()

    def actions(self) -> dict[str, Callable[[], object]]:
        """What starts listening to the film."""
        return {"timeline.listen": self.listen}

    def listen(self) -> None:
        """Measure the sound of the whole film, in the background."""
        film = self._film
        if film is None or self._is_listening or not film.sources:
            return
        self._is_listening = True
        self.timeline.redraw()
        job = self.timeline.desk.jobs.start("Listening to the film",
                                            lambda progress: measure_sound(film, progress.report, progress.cancelled),
                                            succeeded=lambda sound: self.show(film, sound))
        job.ended.connect(self._heard_all)

    def _heard_all(self) -> None:
        self._is_listening = False
        self.take_film(self._film)      # also of a job that was stopped half-way something is kept
        self.timeline.redraw()

    def press(self) -> bool:
        """Start listening if there is no sound yet; return whether the press is used up."""
        if self.sound is None:
            self.listen()
        return self.sound is None

    def tooltip(self, time: float, scale: Scale) -> str:
        """Say what is heard here, or how to listen."""
        if self.sound is None:
            key = self.timeline.desk.keys.shown("timeline.listen")
            return f"Click to measure the sound ({key}); whistles are suggested then"
        if len(self.sound.whistles):
            nearest = float(min(self.sound.whistles, key=lambda whistle: abs(whistle - time)))
            if abs(nearest - time) <= 8 * scale.per_pixel:
                return f"Sounds like a whistle at {spoken_time(nearest, True)}"
        return ""

    def _hint(self) -> str:
        key = self.timeline.desk.keys.shown("timeline.listen")
        return "listening…" if self._is_listening else f"not measured yet: click, or {key}"

    def paint(self, canvas: Canvas, top: float, tall: float) -> None:
        """Draw the lane."""
        painter, look, scale = canvas.painter, canvas.look, canvas.scale
        sound = self.sound
        if sound is None:
            canvas.say(top, tall, self._hint())
            return
        if sound.silent:
            canvas.say(top, tall, "no sound on this film")
            return
        painter.drawImage(QPointF(0, top), self._loudness(sound, canvas, int(tall)))
        lo, hi = np.searchsorted(sound.whistles, (scale.start, scale.end))
        xs = ((sound.whistles[lo:hi] - scale.start) / scale.per_pixel).tolist()
        room = canvas.width("whistle?") + 16
        before = -20.0
        whistle = canvas.stamp("whistle", look.good, OPEN, 10)
        for x, following in pairwise([*xs, inf]):
            if x - before < 12:
                continue
            before = x
            painter.drawPixmap(QPointF(x - 6, top - 1), whistle)
            if following - x > room:
                painter.fillRect(QRectF(x + 6, top, canvas.width("whistle?") + 6, look.tall - 2), look.panel)
                painter.setPen(look.text)
                painter.drawText(QPointF(x + 8, top + look.ascent), "whistle?")

    def _loudness(self, sound: Sound, canvas: Canvas, tall: int) -> QImage:
        """Loudness as columns of pixels. Levels that share a pixel give the loudest, in groups that are
        fixed to the film so that nothing flickers while scrolling."""
        scale = canvas.scale
        group = max(int(scale.per_pixel / sound.every), 1)
        if self._loud is None or self._loud[0] is not sound or self._loud[1] != group:
            whole = len(sound.levels) // group * group
            self._loud = sound, group, sound.levels[:whole].reshape(-1, group).max(axis=1)
        levels = self._loud[2]
        at = np.floor((scale.start + np.arange(scale.width) * scale.per_pixel) / sound.every).astype(int) // group
        inside = (at >= 0) & (at < len(levels))
        columns = np.zeros(scale.width)
        columns[inside] = np.clip((levels[at[inside]] + 60) / 60, 0.02, 1.0) * (tall - 2)
        begins = np.ceil(tall - columns).astype(np.int16)
        ink = np.uint32(canvas.look.edge.rgba())
        pixels = np.where(np.arange(tall, dtype=np.int16)[:, None] >= begins, ink, np.uint32(0))
        return QImage(pixels.data, scale.width, tall, 4 * scale.width, QImage.Format.Format_ARGB32_Premultiplied).copy()
