"""Sources and the one continuous film they make."""

from __future__ import annotations

from bisect import bisect_right
from dataclasses import dataclass, field
from fractions import Fraction
from functools import cached_property
from pathlib import Path

from .time import Instant


@dataclass(frozen=True)
class Source:
    """One camera file as it was found on disk.

    ``id`` is stable inside a game and never reused. ``start_pts`` is the timestamp of the first picture,
    ``duration_pts`` runs to the end of the last picture, both in ticks of ``time_base``. ``problem`` is None or says,
    for a person, why the picture cannot be had; such a source keeps its place in the film.
    """

    id: str
    path: Path
    size: int
    fingerprint: str
    time_base: Fraction
    start_pts: int
    duration_pts: int
    frame_rate: Fraction            # nominal; frames of a variable-rate source are found in its index
    width: int
    height: int                     # as stored, see display_size
    rotation: int = 0               # clockwise degrees to turn the stored picture for display
    interlaced: bool = False
    video_codec: str = ""
    audio_codec: str | None = None
    timecode: str | None = None     # as recorded by the camera, e.g. "01:00:00;00"
    created: str | None = None      # ISO 8601, as recorded by the camera
    problem: str | None = None
    pixel_aspect: Fraction = Fraction(1)   # width of a stored pixel over its height; not 1 in 1440x1080, say
    mirrored: bool = False          # left and right of the stored picture are to be swapped, before it is turned
    warning: str | None = None      # something to know about a source that can be shown, e.g. that it ends early

    @property
    def display_size(self) -> tuple[int, int]:
        """Width and height of the picture as shown: square pixels, turned by ``rotation``."""
        width, height = round(self.width * self.pixel_aspect), self.height
        return (height, width) if self.rotation % 180 else (width, height)

    @property
    def duration(self) -> Fraction:
        """Length in seconds."""
        return self.duration_pts * self.time_base

    @property
    def first(self) -> Instant:
        """The instant of the source's first frame."""
        return Instant(self.id, self.start_pts)

    @property
    def end(self) -> Instant:
        """One past the last picture."""
        return Instant(self.id, self.start_pts + self.duration_pts)

    @property
    def frame_ticks(self) -> Fraction:
        """Nominal length of one picture in ticks."""
        return 1 / (self.frame_rate * self.time_base)


@dataclass(frozen=True)
class Film:
    """Ordered sources as one continuous film. Film time is seconds (Fraction) from its first picture."""

    sources: tuple[Source, ...] = field(default=())

    @cached_property
    def _starts(self) -> list[Fraction]:
        starts, at = [], Fraction(0)
        for source in self.sources:
            starts.append(at)
            at += source.duration
        return [*starts, at]

    @cached_property
    def _index(self) -> dict[str, int]:
        return {source.id: position for position, source in enumerate(self.sources)}

    @property
    def duration(self) -> Fraction:
        """The length of all sources in seconds, exact."""
        return self._starts[-1]

    def source(self, source_id: str) -> Source:
        """Return the source of that id; KeyError if the film has none."""
        return self.sources[self._index[source_id]]

    def starts_at(self, source_id: str) -> Fraction:
        """Film time of a source's first picture."""
        return self._starts[self._index[source_id]]

    def time_of(self, instant: Instant) -> Fraction:
        """Film time of an instant."""
        source = self.source(instant.source)
        return self.starts_at(source.id) + (instant.pts - source.start_pts) * source.time_base

    def instant_at(self, time: Fraction | float) -> Instant:
        """The instant at a film time, clamped to the film; ticks are rounded down.

        Raises IndexError on a film without sources.
        """
        position = min(max(bisect_right(self._starts, time) - 1, 0), len(self.sources) - 1)
        source = self.sources[position]
        ticks = (Fraction(time) - self._starts[position]) / source.time_base
        return Instant(source.id, source.start_pts + min(max(int(ticks), 0), max(source.duration_pts - 1, 0)))
