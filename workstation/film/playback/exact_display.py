"""Show exact decodes: at rest, after a seek, and in place of a player's last picture."""

from __future__ import annotations

import threading
from collections.abc import Callable

import numpy as np

from ..faults import NoPicture
from ..picture import Picture
from ..time import Instant
from .frame_tracker import FrameTracker
from .state import Listener, PlaybackState

REST = 0.2              # seconds after the last step until a picture kept small is decoded again whole
NEIGHBOURS = 8          # frames either way among which a paused picture is looked for


class ExactDisplay:
    """Requests exact frames and shows them unless something newer came first. ``call`` runs a call in the playing
    thread; ``paused_on`` is the signature of the last picture that the player showed before a pause."""

    def __init__(self, state: PlaybackState, tracker: FrameTracker, listener: Listener,
                 call: Callable[..., None]) -> None:
        self.paused_on: np.ndarray | None = None
        self._state, self._tracker, self._listener, self._call = state, tracker, listener, call
        self._serial = 0
        self._whole_later: threading.Timer | None = None

    def supersede(self) -> None:
        """Drop requests that are still on their way."""
        self._serial += 1
        if self._whole_later is not None:
            self._whole_later.cancel()
            self._whole_later = None

    def show(self, instant: Instant) -> None:
        """Have the exact frame at an instant shown as soon as it is decoded."""
        self.supersede()
        serial, reader = self._serial, self._state.reader
        with self._state.lock:
            self._state.shown = self._state.snapped(instant)
        picture = reader.cached(instant, whole=False)
        if picture is not None:
            self._listener.picture(picture, True)
            self._verify(serial)
            self._have_whole_later(picture, serial, instant)
        else:
            reader.fetch(instant, lambda result: self._call(self._on_frame, serial, instant, result), whole=False)

    def _have_whole_later(self, picture: Picture, serial: int, instant: Instant) -> None:
        if picture.small:
            self._whole_later = threading.Timer(REST, self._call, (self._make_whole, serial, instant))
            self._whole_later.daemon = True
            self._whole_later.start()

    def _make_whole(self, serial: int, instant: Instant) -> None:
        """Put the whole frame in place of the small one, once nobody steps any more."""
        if serial == self._serial:
            self._state.reader.fetch(instant, lambda result: self._call(self._on_frame, serial, instant, result))

    def _on_frame(self, serial: int, asked: Instant, result: Picture | NoPicture) -> None:
        state = self._state
        if serial != self._serial:
            return
        if isinstance(result, NoPicture):
            self._listener.problem(result.source, result.reason)
            return
        with state.lock:
            if state.shown in (asked, state.snapped(asked)):
                state.shown = result.instant
        if not self._tracker.arrived or not state.playing:
            self._listener.picture(result, True)
            self._verify(serial)
            self._have_whole_later(result, serial, asked)

    def _verify(self, serial: int) -> None:
        """After a pause: was it this frame that the player showed last? A busy machine's clock can be a frame
        or two out; then the picture itself is looked for among its neighbours."""
        state, shown = self._state, self._state.shown
        values, self.paused_on = self.paused_on, None
        index = state.reader.index(shown.source) if shown is not None else None
        if values is None or shown is None or index is None or state.playing:
            return
        later = int(index.pts[min(index.at(shown.pts) + NEIGHBOURS, len(index) - 1)])
        state.reader.fetch(Instant(shown.source, later), lambda _: self._call(self._correct, serial, shown, values))

    def _correct(self, serial: int, shown: Instant, values: np.ndarray) -> None:
        state = self._state
        if serial != self._serial or state.playing or shown != state.shown:
            return
        found = self._tracker.find(values, shown, NEIGHBOURS, NEIGHBOURS)
        if found is not None and found != shown:
            self.show(found)
