"""Small pictures, decoded away from the UI thread and only while someone wants to see them."""

from __future__ import annotations

import logging
from collections import OrderedDict
from collections.abc import Callable

from PySide6.QtCore import QObject, Qt, Signal
from PySide6.QtGui import QImage

from ...film.film import Film
from ...film.frames import FrameReader
from ...film.time import Instant
from ..jobs import Job
from ..player import image_of
from ..session import Session

log = logging.getLogger(__name__)
KEPT = 400          # pictures of about 100 kB each
MEMORY = 80 << 20   # bytes for the decoder
WAITING = 80        # older requests are no longer on screen


class Thumbnails(QObject):
    """Asks for a picture return at once: the picture if it is there, else None and :attr:`ready` later.

    The newest request is served first, because it is what the person looks at now. A picture that cannot
    be decoded is an empty image; it is not tried again until another film is shown.
    """

    ready = Signal(object)      # Instant

    def __init__(self, film: Film | None = None, height: int = 120, parent: QObject | None = None):
        super().__init__(parent)
        self.height = height
        self._film = film or Film()
        self._cache: OrderedDict[Instant, QImage] = OrderedDict()
        self._requests: OrderedDict[Instant, None] = OrderedDict()
        self._decoder = _ThumbnailDecoder(height)
        self._decoding: Job | None = None
        self._closed = False
        self._users = 0

    @classmethod
    def of(cls, session: Session) -> Thumbnails:
        """The thumbnails that everything looking at *session* shares. Each caller calls :meth:`leave`
        once; after the last one nothing more is decoded."""
        found = next((each for each in session.findChildren(cls) if not each._closed), None)
        if found is None:
            made = found = cls(session.film, parent=session)
            session.game_changed.connect(lambda change: made.show_film(session.film))
        found._users += 1
        return found

    def leave(self) -> None:
        """A user is done; the last one stops the work."""
        self._users -= 1
        if self._users <= 0:
            self.close()

    def show_film(self, film: Film) -> None:
        """Take in another film; nothing happens if it is the same."""
        if film is self._film or film == self._film:
            return
        self._film = film
        self._requests.clear()
        for instant in [instant for instant, image in self._cache.items() if image.isNull()]:
            del self._cache[instant]

    def get(self, instant: Instant) -> QImage | None:
        """The picture at *instant* if it was decoded already; otherwise None, and it is fetched."""
        image = self._cache.get(instant)
        if image is not None:
            self._cache.move_to_end(instant)
        elif not self._closed:
            self._requests[instant] = None
            self._requests.move_to_end(instant)
            while len(self._requests) > WAITING:
                self._requests.popitem(last=False)
            if self._decoding is None:
                self._decode()
        return image

    def have(self, instant: Instant) -> QImage | None:
        """The picture if it is there; nothing is fetched."""
        return self._cache.get(instant)

    def close(self) -> None:
        """Stop decoding, after the picture at hand; what was decoded stays to be shown."""
        self._closed = True
        self._requests.clear()

    def _decode(self) -> None:
        """Serve the newest request, then the next; the decoder is closed once there is none."""
        if self._requests:
            film, (instant, _) = self._film, self._requests.popitem(last=True)
            self._decoding = Job("thumbnails", lambda progress: self._decoder.picture(film, instant),
                                 lambda image: self._take(instant, image), parent=self).start()
        else:
            self._decoding = Job("thumbnails", lambda progress: self._decoder.close(), lambda _: self._rest(),
                                 parent=self).start()

    def _rest(self) -> None:
        self._decoding = None
        if self._requests:
            self._decode()

    def _take(self, instant: Instant, image: QImage) -> None:
        self._cache[instant] = image
        while len(self._cache) > KEPT:
            self._cache.popitem(last=False)
        self._decode()
        self.ready.emit(instant)


def thumbnails_of(session: Session | None, before: Thumbnails | None,
                  ready: Callable[[Instant], object]) -> Thumbnails | None:
    """Those of *session*, None without one, which call *ready*; whoever had those *before* leaves them."""
    if before is not None:
        before.ready.disconnect(ready)
        before.leave()
    if session is None:
        return None
    made = Thumbnails.of(session)
    made.ready.connect(ready)
    return made


class _ThumbnailDecoder:
    """Decodes small pictures. For jobs, one after the other."""

    def __init__(self, height: int):
        self._height = height
        self._film: Film | None = None
        self._reader: FrameReader | None = None

    def picture(self, film: Film, instant: Instant) -> QImage:
        try:
            if self._reader is None or film is not self._film:
                self.close()
                self._reader, self._film = FrameReader(film, memory_limit=MEMORY), film
                self._reader.rest(True)         # nobody steps from here, so nothing is decoded ahead
            return image_of(self._reader.frame_at(instant).bgra()).scaledToHeight(
                self._height, Qt.TransformationMode.SmoothTransformation)
        except Exception as error:      # a broken file costs its thumbnail, not the others
            log.info("no thumbnail at %s: %s", instant, error)
            return QImage()

    def close(self) -> None:
        if self._reader is not None:
            self._reader.close()
        self._reader = self._film = None
