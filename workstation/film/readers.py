"""Frame readers of films that are looked at in turn, kept open: going back to one finds its files open."""

from __future__ import annotations

import threading
from collections.abc import Iterable

from .film import Film
from .frames import MEMORY_LIMIT, FrameReader


class FrameReaders:
    """One reader for each film that is kept, none for any other. Together they take no more memory than one reader of
    one film. All methods may be called from any thread; those that close a reader wait for the picture at hand."""

    def __init__(self) -> None:
        self._readers: list[FrameReader] = []
        self._guard = threading.Lock()

    def open(self, film: Film) -> FrameReader:
        """The reader of *film*, made if there is none yet; it indexes its files in the background."""
        with self._guard:
            found = self._find(film)
            if found is None:
                found = FrameReader(film, keep_small=True)
                self._readers.append(found)
                self._share()
                found.index_all()
            return found

    def opened(self, film: Film) -> FrameReader | None:
        """The reader of *film* if there is one."""
        with self._guard:
            return self._find(film)

    def keep(self, films: Iterable[Film]) -> None:
        """Close the readers of all other films."""
        wanted = list(films)
        with self._guard:
            gone = [reader for reader in self._readers if reader.film not in wanted]
            self._readers = [reader for reader in self._readers if reader not in gone]
            self._share()
        for reader in gone:
            reader.close()

    def rest(self, besides: FrameReader) -> None:
        """Let all but one decode nothing ahead."""
        with self._guard:
            others = [reader for reader in self._readers if reader is not besides]
        for reader in others:
            reader.rest()

    def _find(self, film: Film) -> FrameReader | None:
        return next((reader for reader in self._readers if reader.film is film or reader.film == film), None)

    def _share(self) -> None:
        for reader in self._readers:
            reader.limit_memory(MEMORY_LIMIT // len(self._readers))
