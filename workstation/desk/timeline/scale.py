"""Which stretch of the film is on screen: seconds to pixels and back."""

from __future__ import annotations

from dataclasses import dataclass, replace

CLOSEST = 1 / 3000   # seconds per pixel: one frame at 60 a second is then 50 pixels wide
_ROOM = 24           # pixels left free at either end of the whole film, so its ends can be grabbed


@dataclass(frozen=True, slots=True)
class Scale:
    """A stretch of film on ``width`` pixels, starting at film time ``start`` (seconds).

    ``per_pixel`` is seconds per pixel; ``duration`` the film's length in seconds.
    Values never leave the film by more than a little room at either end.
    """

    duration: float = 0.0
    width: int = 1
    start: float = 0.0
    per_pixel: float = 1.0

    @property
    def end(self) -> float:
        """The time at the right edge, in seconds of film."""
        return self.start + self.width * self.per_pixel

    @property
    def widest(self) -> float:
        """Seconds per pixel at which the whole film just fits."""
        return max(self.duration, 1.0) / max(self.width - 2 * _ROOM, 1)

    def x(self, time: float) -> float:
        """Return the pixel at this time."""
        return (time - self.start) / self.per_pixel

    def time(self, x: float) -> float:
        """Return the time at this pixel."""
        return self.start + x * self.per_pixel

    def whole(self) -> Scale:
        """Return the scale that shows the whole film."""
        return replace(self, start=-_ROOM * self.widest, per_pixel=self.widest)

    def is_whole(self) -> bool:
        """Whether the whole film is shown."""
        return self.per_pixel >= self.widest * 0.999

    def zoomed(self, factor: float, around_x: float) -> Scale:
        """Zoom in (``factor`` > 1) or out so that what lies at ``around_x`` stays there."""
        per_pixel = min(max(self.per_pixel / factor, CLOSEST), self.widest)
        return replace(self, per_pixel=per_pixel, start=self.time(around_x) - around_x * per_pixel)._held()

    def panned(self, pixels: float) -> Scale:
        """Move the window ``pixels`` to the right over the film."""
        return replace(self, start=self.start + pixels * self.per_pixel)._held()

    def starting(self, start: float) -> Scale:
        """Return the scale moved to start here, kept within the film."""
        return replace(self, start=start)._held()

    def resized(self, width: int, duration: float) -> Scale:
        """The same stretch in a widget of another width; a whole film stays whole."""
        was_whole = self.duration <= 0 or self.is_whole()
        changed = replace(self, width=max(width, 1), duration=duration)
        if was_whole:
            return changed.whole()
        return replace(changed, per_pixel=min(max(self.per_pixel, CLOSEST), changed.widest))._held()

    def showing(self, start: float, end: float, margin: float = 0.15) -> Scale:
        """Bring ``start`` to ``end`` into the window, zooming out only if they do not fit."""
        span = max(end - start, 0.0)
        room = self.width * self.per_pixel
        if span > room * (1 - 2 * margin):
            per_pixel = min(span / (1 - 2 * margin) / self.width, self.widest)
            return replace(self, per_pixel=per_pixel, start=start - margin * self.width * per_pixel)._held()
        if start >= self.start + room * margin * 0.5 and end <= self.end - room * margin * 0.5:
            return self
        return replace(self, start=(start + end) / 2 - room / 2)._held()

    def _held(self) -> Scale:
        room = _ROOM * self.per_pixel
        last = max(self.duration + room - self.width * self.per_pixel, -room)
        return replace(self, start=min(max(self.start, -room), last))


def tick_step(per_pixel: float) -> float:
    """Seconds between two labelled ticks of the ruler, so that labels keep 90 pixels each."""
    steps = (1, 2, 5, 10, 15, 30, 60, 120, 300, 600, 900, 1800, 3600, 7200)
    return float(next((step for step in steps if step >= 90 * per_pixel), 14400))
