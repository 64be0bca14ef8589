"""Loudness and suggested whistles for the timeline: taken from what was kept, measured when asked."""

from __future__ import annotations

import logging
from dataclasses import dataclass, field

import numpy as np

from ...film.faults import FilmError
from ...film.film import Film
from ..jobs import Progress

log = logging.getLogger(__name__)
SILENCE = -80.0     # decibels; quieter is no sound at all


@dataclass(frozen=True, eq=False)
class Sound:
    """Loudness over film time (decibels relative to full scale, evenly spaced) and suggested whistles."""

    every: float                    # seconds between two levels
    levels: np.ndarray
    whistles: np.ndarray            # film times in seconds
    silent: bool = field(init=False)

    def __post_init__(self) -> None:
        object.__setattr__(self, "silent", not bool((self.levels > SILENCE).any()))


def kept_sound(film: Film) -> Sound | None:
    """What was measured of this film before; None if nothing was. Reads files: not for the UI thread."""
    from ...film import finding  # only here: it brings in much that a window can open without
    surveys = {source.id: found for source in film.sources
               if not source.problem and (found := finding.cached_survey(source)) is not None}
    if not surveys:
        return None
    sound = finding.film_sound(film, surveys)
    return Sound(sound.every, sound.levels, sound.whistles)


def measure_sound(film: Film, progress: Progress) -> Sound | None:
    """Survey every source that was not surveyed yet. What was measured until a stop is kept. A source that cannot be
    read is left out. Raises Cancelled."""
    from ...film import finding
    sources = [source for source in film.sources if not source.problem]
    total = float(sum(source.duration for source in sources)) or 1.0
    done = 0.0
    for source in sources:
        length = float(source.duration)
        progress(done, total)

        def report(share: float, before: float = done, length: float = length) -> None:
            progress.report(before + share * length, total)

        try:
            finding.survey(source, progress=report, cancelled=progress.cancelled)
        except FilmError as error:
            log.warning("no sound from %s: %s", source.path.name, error)
        done += length
    return kept_sound(film)
