"""A clock of media time over monotonic time, smooth between a player's coarse reports."""

from __future__ import annotations


class PlayheadClock:
    """Media seconds as a straight line over monotonic seconds. Unset until :meth:`set`."""

    __slots__ = ("_media", "_speed", "_when")

    def __init__(self) -> None:
        self._when: float | None = None
        self._media = 0.0
        self._speed = 1.0

    @property
    def running(self) -> bool:
        """Whether the clock goes."""
        return self._when is not None

    def at(self, when: float) -> float:
        """Media seconds at a moment of the monotonic clock."""
        return self._media if self._when is None else self._media + (when - self._when) * self._speed

    def set(self, when: float, media: float) -> None:
        """At ``when`` it was ``media``."""
        self._when, self._media = when, media

    def nudge(self, when: float, error: float, share: float) -> None:
        """Take away a share (0 to 1) of an error, so that no single late report makes the playhead jump."""
        self.set(when, self.at(when) + error * share)

    def set_speed(self, when: float, speed: float) -> None:
        """Go on at `speed` times real time from `when`, by the monotonic clock in seconds."""
        if self._when is not None:
            self.set(when, self.at(when))
        self._speed = speed

    def stop(self, media: float) -> None:
        """Stand at `media` seconds."""
        self._when, self._media = None, media
