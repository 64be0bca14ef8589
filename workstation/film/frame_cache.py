"""Decoded frames in memory, bounded in bytes and number."""

from __future__ import annotations

from collections.abc import Callable

import av

from .film_indexes import FramePlace
from .picture import Picture

MOST_FRAMES = 720       # small frames would otherwise fill it by the thousand


class FrameCache:
    """Frames as the decoder gave them (a third of the size of RGB) or small, by place. Not locked."""

    def __init__(self, limit: int) -> None:
        self.limit = limit
        self.bytes = 0
        self._frames: dict[FramePlace, Picture] = {}

    def __contains__(self, place: FramePlace) -> bool:
        return place in self._frames

    def get(self, place: FramePlace) -> Picture | None:
        """Return the picture cached for this place, None if there is none."""
        return self._frames.get(place)

    def add(self, place: FramePlace, picture: Picture, distance: Callable[[FramePlace], float]) -> None:
        """Keep a frame and evict those at the greatest distance to make room."""
        kept = self._frames.get(place)
        if kept is not None:
            if not kept.small or picture.small:
                return
            self._evict(place)
        size = _bytes(picture.frame)
        while self._frames and (self.bytes + size > self.limit or len(self._frames) >= MOST_FRAMES):
            self._evict(max(self._frames, key=distance))
        self._frames[place] = picture
        self.bytes += size

    def shrink(self, distance: Callable[[FramePlace], float]) -> None:
        """Evict frames at the greatest distance until the rest is within the limit."""
        while self._frames and self.bytes > self.limit:
            self._evict(max(self._frames, key=distance))

    def whole(self) -> list[tuple[FramePlace, Picture]]:
        """The frames that are not small."""
        return [(place, picture) for place, picture in self._frames.items() if not picture.small]

    def replace(self, place: FramePlace, picture: Picture) -> None:
        """Put a smaller one in the place of a frame, if it is still kept."""
        if place in self._frames:
            self._evict(place)
            self._frames[place] = picture
            self.bytes += _bytes(picture.frame)

    def evict_source(self, position: int, distance: Callable[[FramePlace], float], beyond: float) -> None:
        """Evict the frames of a source that are farther away."""
        for place in [place for place in self._frames if place[0] == position and distance(place) > beyond]:
            self._evict(place)

    def capacity(self, frame_bytes: int) -> int:
        """How many frames fit with some air, if they have at least so many bytes each."""
        if self._frames:
            frame_bytes = max(frame_bytes, self.bytes // len(self._frames))
        return int(self.limit / max(frame_bytes, 1) * 0.9)

    def clear(self) -> None:
        """Forget all pictures."""
        self._frames.clear()

    def _evict(self, place: FramePlace) -> None:
        self.bytes -= _bytes(self._frames.pop(place).frame)


def _bytes(frame: av.VideoFrame) -> int:
    return sum(plane.buffer_size for plane in frame.planes)
