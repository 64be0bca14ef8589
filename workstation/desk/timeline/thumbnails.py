"""Small pictures, decoded away from the UI thread and only while someone wants to see them."""

from __future__ import annotations

import logging
from collections import OrderedDict
from threading import Lock

from PySide6.QtCore import QObject, QRunnable, Qt, QThreadPool, Signal
from PySide6.QtGui import QImage

from ...film.film import Film
from ...film.frames import FrameReader
from ...film.time import Instant
from ..player import image_of

log = logging.getLogger(__name__)
KEPT = 400          # pictures of about 100 kB each
MEMORY = 80 << 20   # bytes for the decoder
WAITING = 80        # wishes older than that are no longer on screen


class Thumbnails(QObject):
    """Asks for a picture return at once: the picture if it is there, else None and :attr:`ready` later.

    The newest wish is served first, because it is what the person looks at now. A picture that cannot
    be decoded is an empty image; it is not tried again until another film is shown.
    """

    ready = Signal(object)      # Instant

    def __init__(self, film: Film | None = None, height: int = 120, parent: QObject | None = None):
        super().__init__(parent)
        self.height = height
        self._film = film or Film()
        self._kept: OrderedDict[Instant, QImage] = OrderedDict()
        self._wishes: OrderedDict[Instant, None] = OrderedDict()
        self._lock = Lock()
        self._working = False
        self._closed = False
        self._users = 0
        self._pool = QThreadPool(self)
        self._pool.setMaxThreadCount(1)

    @classmethod
    def of(cls, session: QObject) -> Thumbnails:
        """The thumbnails that everything looking at *session* shares. Whoever took them calls :meth:`leave`
        once; after the last one nothing more is decoded."""
        found = next((each for each in session.findChildren(cls) if not each._closed), None)
        if found is None:
            found = cls(session.film, parent=session)
            session.game_changed.connect(lambda change: found.show_film(session.film))
        found._users += 1
        return found

    def leave(self) -> None:
        self._users -= 1
        if self._users <= 0:
            self.close()

    def show_film(self, film: Film) -> None:
        if film is self._film or film == self._film:
            return
        with self._lock:
            self._film = film
            self._wishes.clear()
            for instant in [instant for instant, image in self._kept.items() if image.isNull()]:
                del self._kept[instant]

    def get(self, instant: Instant) -> QImage | None:
        """The picture at *instant* if it was decoded already; otherwise None, and it is fetched."""
        with self._lock:
            image = self._kept.get(instant)
            if image is not None:
                self._kept.move_to_end(instant)
                return image
            if self._closed:
                return None
            self._wishes[instant] = None
            self._wishes.move_to_end(instant)
            while len(self._wishes) > WAITING:
                self._wishes.popitem(last=False)
            start, self._working = not self._working, True
        if start:
            self._pool.start(_Work(self))
        return None

    def have(self, instant: Instant) -> QImage | None:
        """The picture if it is there; nothing is fetched."""
        return self._kept.get(instant)

    def close(self) -> None:
        """Stop decoding, after the picture at hand; what was decoded stays to be shown."""
        with self._lock:
            self._closed = True
            self._wishes.clear()

    # called by the worker
    def _next(self) -> tuple[Film, Instant] | None:
        with self._lock:
            if not self._wishes or self._closed:
                self._working = False
                return None
            return self._film, self._wishes.popitem(last=True)[0]

    def _keep(self, instant: Instant, image: QImage) -> None:
        with self._lock:
            self._kept[instant] = image
            while len(self._kept) > KEPT:
                self._kept.popitem(last=False)
        self.ready.emit(instant)


class _Work(QRunnable):
    """Serves wishes until there are none."""

    def __init__(self, thumbnails: Thumbnails):
        super().__init__()
        self._thumbnails = thumbnails

    def run(self) -> None:
        reader, film = None, None
        try:
            while (wish := self._thumbnails._next()) is not None:
                try:
                    if wish[0] is not film:
                        if reader is not None:
                            reader.close()
                        reader, film = FrameReader(wish[0], memory_limit=MEMORY), wish[0]
                        reader.rest(True)       # nobody steps from here, so nothing is decoded ahead
                    image = image_of(reader.frame_at(wish[1]).bgra()).scaledToHeight(
                        self._thumbnails.height, Qt.TransformationMode.SmoothTransformation)
                except Exception as error:      # a broken file costs its thumbnail, not the others  # noqa: BLE001
                    log.info("no thumbnail at %s: %s", wish[1], error)
                    image = QImage()
                self._thumbnails._keep(wish[1], image)
        except RuntimeError:
            pass        # the window was closed meanwhile
        finally:
            if reader is not None:
                reader.close()
