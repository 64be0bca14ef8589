"""Measure the camera work of a whole film, source by source."""

from __future__ import annotations

import logging
from collections.abc import Callable

from ..cancelling import Cancelled
from .faults import FilmError
from .film import Film

log = logging.getLogger(__name__)


def measure_camera_work(film: Film, report: Callable[[float, float], None],
                        cancelled: Callable[[], bool]) -> tuple[str, ...]:
    """Measure every source that was not measured yet; ``report(done, of)`` is told seconds of film.

    Returns a line for each source that cannot be read. What was measured until a stop is kept. Raises Cancelled.
    """
    from .camera_work.record import measure  # only here: it brings in much that a window can open without
    sources = [source for source in film.sources if not source.problem]
    total = float(sum(source.duration for source in sources)) or 1.0
    done, unread = 0.0, []
    for source in sources:
        length = float(source.duration)
        if cancelled():
            raise Cancelled("Measuring was stopped.")

        def tell(share: float, before: float = done, length: float = length) -> None:
            report(before + share * length, total)

        try:
            measure(source, progress=tell, cancelled=cancelled)
        except FilmError as error:
            log.warning("the camera work of %s was not measured: %s", source.path.name, error)
            unread.append(f"{source.path.name}: {error}")
        done += length
    return tuple(unread)
