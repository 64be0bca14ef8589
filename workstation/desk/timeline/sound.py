"""Loudness and suggested whistles for the timeline: taken from what was kept, measured when asked."""

from __future__ import annotations

import logging
from collections.abc import Callable

from PySide6.QtCore import QObject, QRunnable, QThreadPool, Signal

from ...cancelling import Cancelled
from ...film.faults import FilmError
from ...film.film import Film
from .lanes import Sound

log = logging.getLogger(__name__)


def kept_sound(film: Film) -> Sound | None:
    """What was measured of this film before; None if nothing was. Reads files: not for the UI thread."""
    from ...film import finding  # only here: it brings in much that a window can open without
    surveys = {source.id: found for source in film.sources
               if not source.problem and (found := finding.kept_survey(source)) is not None}
    if not surveys:
        return None
    sound = finding.film_sound(film, surveys)
    return Sound(sound.every, sound.levels, sound.whistles)


def measure_sound(film: Film, progress: Callable[[float, float], None]) -> Sound | None:
    """Survey every source that was not surveyed yet. ``progress(done, of)`` may raise to stop; what was
    measured until then is kept. A source that cannot be read is left out."""
    from ...film import finding
    sources = [source for source in film.sources if not source.problem]
    total = float(sum(source.duration for source in sources)) or 1.0
    done = 0.0
    for source in sources:
        stopped: list[bool] = []

        def told(share: float, before: float = done, length: float = float(source.duration),
                 stopped: list[bool] = stopped) -> None:
            try:
                progress(before + share * length, total)
            except Cancelled:
                stopped.append(True)

        told(0.0)
        if stopped:
            raise Cancelled
        try:
            finding.survey(source, progress=told, cancelled=lambda stopped=stopped: bool(stopped))
        except FilmError as error:
            log.warning("no sound from %s: %s", source.path.name, error)
        done += float(source.duration)
    return kept_sound(film)


class KeptSound(QObject):
    """Looks for kept sound away from the UI thread. ``found`` carries the film asked about and its Sound or None."""

    found = Signal(object, object)

    def ask(self, film: Film) -> None:
        QThreadPool.globalInstance().start(_Asking(self, film))


class _Asking(QRunnable):
    def __init__(self, asker: KeptSound, film: Film):
        super().__init__()
        self._asker, self._film = asker, film

    def run(self) -> None:
        try:
            sound = kept_sound(self._film)
        except Exception:       # a spoilt file of kept data costs the lane, not the timeline
            log.exception("kept sound cannot be read")
            sound = None
        try:
            self._asker.found.emit(self._film, sound)
        except RuntimeError:
            pass        # the timeline is gone
