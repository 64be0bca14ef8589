"""Measure the camera work of a whole film, source by source."""

from __future__ import annotations

import logging
from collections.abc import Callable

from .film import Film
from .film_pass import each_source

log = logging.getLogger(__name__)


def measure_camera_work(film: Film, report: Callable[[float, float], None],
                        cancelled: Callable[[], bool]) -> tuple[str, ...]:
    """Measure every source that was not measured yet; ``report(done, of)`` is told seconds of film.

    Returns a line for each source that cannot be read. What was measured until a stop is kept. Raises Cancelled.
    """
    from .camera_work.record import measure  # only here: it brings in much that a window can open without
    unread = each_source(film, lambda source, tell: measure(source, progress=tell, cancelled=cancelled),
                         report, cancelled)
    for source, error in unread:
        log.warning("the camera work of %s was not measured: %s", source.path.name, error)
    return tuple(f"{source.path.name}: {error}" for source, error in unread)
