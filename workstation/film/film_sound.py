"""Loudness and suggested whistles over a film: taken from what was kept, measured when asked."""

from __future__ import annotations

import logging
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

import numpy as np

from .film import Film
from .film_pass import each_source

if TYPE_CHECKING:
    from .finding import Survey

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
    return joined_sound(film, surveys)


def joined_sound(film: Film, surveys: Mapping[str, Survey]) -> Sound:
    """The sound of a film from surveys by source; silence where a source has no sound or no survey yet."""
    from .finding.sound_analysis import EVERY, FLOOR
    levels = np.full(int(np.ceil(float(film.duration) / EVERY)), FLOOR, np.float32)
    whistles = [np.zeros(0)]
    for source in film.sources:
        if (found := surveys.get(source.id)) is not None:
            begins = float(film.starts_at(source.id))
            first = round(begins / EVERY)
            part = found.levels[:max(len(levels) - first, 0)]
            levels[first:first + len(part)] = part
            whistles.append(found.whistles + begins)
    return Sound(EVERY, levels, np.concatenate(whistles))


def measure_sound(film: Film, report: Callable[[float, float], None], cancelled: Callable[[], bool]) -> Sound | None:
    """Survey every source that was not surveyed yet; ``report(done, of)`` is told seconds of film. What was measured
    until a stop is kept. A source that cannot be read is left out. Raises Cancelled."""
    from . import finding
    unread = each_source(film, lambda source, tell: finding.survey(source, progress=tell, cancelled=cancelled),
                         report, cancelled)
    for source, error in unread:
        log.warning("no sound from %s: %s", source.path.name, error)
    return kept_sound(film)
