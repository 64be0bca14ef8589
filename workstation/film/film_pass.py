"""Work through a whole film, source by source."""

from __future__ import annotations

from collections.abc import Callable

from ..cancelling import Cancelled
from .faults import FilmError
from .film import Film, Source


def each_source(film: Film, work: Callable[[Source, Callable[[float], None]], object],
                report: Callable[[float, float], object],
                cancelled: Callable[[], bool]) -> list[tuple[Source, FilmError]]:
    """Do *work* on every source that can be read; it gets the source and what it tells its progress (0 to 1).

    ``report(done, of)`` is told seconds of film. Returns the sources that could not be read after all, with the reason.
    Raises Cancelled.
    """
    sources = [source for source in film.sources if not source.problem]
    total = float(sum(source.duration for source in sources)) or 1.0
    done = 0.0
    unread: list[tuple[Source, FilmError]] = []
    for source in sources:
        length = float(source.duration)
        if cancelled():
            raise Cancelled("Measuring was stopped.")

        def tell(share: float, before: float = done, length: float = length) -> None:
            report(before + share * length, total)

        try:
            work(source, tell)
        except FilmError as error:
            unread.append((source, error))
        done += length
    return unread
