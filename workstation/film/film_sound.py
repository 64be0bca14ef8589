"""Loudness and suggested whistles over a film: taken from what was kept, measured when asked."""

from __future__ import annotations

import logging
from collections.abc import Callable
from dataclasses import dataclass, field

import numpy as np

from .film import Film
from .film_pass import each_source

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
    from . import finding  # only here: it brings in much that a window can open without
    surveys = {source.id: found for source in film.sources
               if not source.problem and (found := finding.cached_survey(source)) is not None}
    if not surveys:
        return None
    sound = finding.film_sound(film, surveys)
    return Sound(sound.every, sound.levels, sound.whistles)


def measure_sound(film: Film, report: Callable[[float, float], None], cancelled: Callable[[], bool]) -> Sound | None:
    """Survey every source that was not surveyed yet; ``report(done, of)`` is told seconds of film. What was measured
    until a stop is kept. A source that cannot be read is left out. Raises Cancelled."""
    from . import finding
    unread = each_source(film, lambda source, tell: finding.survey(source, progress=tell, cancelled=cancelled),
                         report, cancelled)
    for source, error in unread:
        log.warning("no sound from %s: %s", source.path.name, error)
    return kept_sound(film)
