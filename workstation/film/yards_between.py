"""Measure the yards between two spots on the ground that a person points at, in two pictures of one shot.

The yard lines are read in both pictures and in some between; the camera's own movement says which line is which from
one to the next. Where that cannot be told, no number is given.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from contextlib import closing
from dataclasses import dataclass

import av
import numpy as np

from .decoder import Decoder
from .field_motion import fit_field, refined
from .film import Source
from .finding.frame_difference import half_size
from .finding.luma_grid import cell_across, luma_grid
from .finding.shot_evidence import field_mask
from .index import index_of
from .picture import upright
from .yard_lines import APART, YardLines, find_yard_lines

ACROSS = 640                # pixels in which lines are looked for, at most
_EVERY = 0.1                # seconds from one picture that is looked at to the next
_DOUBT = 0.35               # yards by which lines may miss those of the picture before; usually it is a tenth of it
_LEAST_ROWS = 60            # of a picture of half size, for the camera's movement
_SEEN = 1.2                 # seconds for which the lines may be out of sight
_POINTED = 1.0              # pixels by which a person misses a spot, of a picture 640 across
_SURE = 2.0                 # standard errors that hold the truth in 95 of 100


@dataclass(frozen=True, slots=True)
class GroundSpot:
    """A spot on the ground: a timestamp of the source, and pixels right and down from the upper left corner of its
    picture as it is shown: turned, and in square pixels (``Source.display_size``)."""

    pts: int
    right: float
    down: float


@dataclass(frozen=True, slots=True)
class SeenLine:
    """A yard line in a picture: its two ends as fractions of the picture's width and height, and its number: lines of
    one measurement with the same number are the same line on the ground, to the right they rise by one."""

    number: int
    top: tuple[float, float]
    bottom: tuple[float, float]


@dataclass(frozen=True, slots=True)
class Yards:
    """How far the second spot is to the right of the first (to the left: negative), and the error that holds the truth
    in 95 of 100 cases, in yards; or why that cannot be told. ``first`` and ``second`` are the lines of the two
    pictures, as far as they were seen."""

    yards: float | None
    error: float
    why: str = ""
    first: tuple[SeenLine, ...] = ()
    second: tuple[SeenLine, ...] = ()


@dataclass(frozen=True, slots=True)
class Look:
    """A picture that was looked at: when, in seconds, its mean luma, and the yard lines in it."""

    seconds: float
    luma: np.ndarray
    lines: YardLines | None


def yards_between(source: Source, first: GroundSpot, second: GroundSpot,
                  report: Callable[[float, float], object] = lambda done, of: None) -> Yards:
    """Return the yards from one spot to another of the same shot, the earlier first. Decodes what lies between, not
    for the UI thread; ``report`` is called with what is done, and of how much, and may raise Cancelled. Raises
    NoPicture if the source cannot be read, ValueError if the second comes before the first.
    """
    index = index_of(source)
    begin, end = index.at(first.pts), index.at(second.pts)
    if end < begin:
        raise ValueError("The second spot is earlier than the first; give the earlier one first.")
    def looks() -> Iterator[Look]:
        due = -np.inf
        with closing(Decoder(source, index)) as decoder:
            decoder.seek(begin)
            while (read := decoder.read()) is not None:
                number, frame = read
                if number < begin:
                    continue
                seconds = float((int(index.pts[number]) - first.pts) * source.time_base)
                if number == begin or number >= end or seconds >= due:
                    due = seconds + _EVERY
                    report(number - begin, end - begin + 1)
                    yield _look(source, frame, seconds)
                if number >= end:
                    break

    return follow(looks(), _in_grid(source, first), _in_grid(source, second))


def yard_lines_at(source: Source, pts: int) -> tuple[SeenLine, ...]:
    """The yard lines of one picture, as far as they are seen. Decodes, not for the UI thread. Raises NoPicture."""
    index = index_of(source)
    number = index.at(pts)
    with closing(Decoder(source, index)) as decoder:
        decoder.seek(number)
        while (read := decoder.read()) is not None:
            if read[0] >= number:
                look = _look(source, read[1], 0.0)
                return _seen(look, look.lines, 0) if look.lines is not None else ()
    return ()


def _cell(source: Source) -> int:
    """Pixels in a cell of the grid in which lines are looked for."""
    return cell_across(source.height if source.rotation % 180 else source.width, ACROSS)


def _in_grid(source: Source, spot: GroundSpot) -> tuple[float, float]:
    wide, tall = (source.height, source.width) if source.rotation % 180 else (source.width, source.height)
    shown_wide, shown_tall = source.display_size
    return spot.right * wide / shown_wide / _cell(source), spot.down * tall / shown_tall / _cell(source)


def _look(source: Source, frame: av.VideoFrame, seconds: float) -> Look:
    luma = luma_grid(frame, -(-source.width // _cell(source)))
    field = field_mask(frame, luma.shape)
    luma, field = (upright(grid, source.rotation, source.mirrored) for grid in (luma, field))
    return Look(seconds, luma, find_yard_lines(luma, field))


def follow(looks: Iterable[Look], first: tuple[float, float], second: tuple[float, float]) -> Yards:
    """Return the yards from a spot of the first picture to one of the last, in pixels of what was looked at."""
    follower = _Follower()
    start = least = 0.0
    seen: tuple[SeenLine, ...] = ()
    last: Look | None = None
    for last in looks:
        why = follower.look(last)
        if why:
            return Yards(None, 0.0, why, seen, _seen(last, last.lines, 0) if last.lines is not None else ())
        if not seen:
            assert last.lines is not None
            seen = _seen(last, last.lines, 0)
            start, least = last.lines.yards(*first), last.lines.error_at(*first, _POINTED)
    if last is None:
        return Yards(None, 0.0, "There is no picture there.")
    if last.lines is None or follower.lost_for > 0:
        return Yards(None, 0.0, "The yard lines cannot be seen in the second picture.", seen)
    stop = last.lines.yards(*second) + follower.steps * APART
    error = _SURE * float(np.hypot(least, last.lines.error_at(*second, _POINTED)))
    return Yards(stop - start, error, "", seen, _seen(last, last.lines, follower.steps))


def _seen(look: Look, lines: YardLines, steps: int) -> tuple[SeenLine, ...]:
    tall, wide = look.luma.shape
    return tuple(SeenLine(line.number + steps, (line.top[0] / wide, line.top[1] / tall),
                          (line.bottom[0] / wide, line.bottom[1] / tall)) for line in lines.lines)


class _Follower:
    """Knows in the picture looked at last which yard line is which."""

    def __init__(self) -> None:
        self._lines: YardLines | None = None
        self.steps = 0                  # added to the numbers of the lines
        self._small: np.ndarray | None = None
        self._moved = np.eye(3)         # from the picture in which lines were last seen to the last one
        self._fit: np.ndarray | None = None     # the last movement that brought the lines onto each other
        self._seen_at = 0.0
        self._size = (0, 0)
        self.lost_for = 0.0

    def look(self, look: Look) -> str:
        """Take in the next picture; a reason why the lines cannot be followed, else an empty text."""
        lines, before = look.lines, self._small
        self._small, self._size = half_size(look.luma), (look.luma.shape[1], look.luma.shape[0])
        if self._lines is None or before is None:
            if lines is None:
                return "The yard lines cannot be seen in the first picture."
            self._lines = lines
            return ""
        moved, field = self._moved, self._field_top()
        for top, last in ((field, None), (field, self._fit), (0, None)):
            fit = _fitted(before[top:], self._small[top:], last)
            self._moved = _matrix(fit, *self._size, top) @ moved
            if lines is None:
                self.lost_for = look.seconds - self._seen_at
                return "The yard lines were out of sight too long." if self.lost_for > _SEEN else ""
            differences = self._differences(lines)
            if len(differences) < 3:
                return "The camera turned too far from one picture to the next."
            steps = float(np.median(differences)) / APART
            if abs(steps - round(steps)) * APART <= _DOUBT and np.ptp(differences) <= APART:
                self.steps = round(steps)
                self._lines, self._moved, self._seen_at, self.lost_for = lines, np.eye(3), look.seconds, 0.0
                self._fit = fit
                return ""
        self.lost_for = look.seconds - self._seen_at       # these may be other lines: wait for the next picture
        return "Which yard line is which cannot be told." if self.lost_for > _SEEN else ""

    def _field_top(self) -> int:
        """The row of a picture of half size at which the lines begin, 0 where too little of it would be left: the
        movement is that of the field, which a stand behind it does not share to the pixel."""
        assert self._lines is not None and self._small is not None
        top = int(min(line.top[1] for line in self._lines.lines) / 2)
        return top if 0 < top <= self._small.shape[0] - _LEAST_ROWS else 0

    def _differences(self, lines: YardLines) -> np.ndarray:
        """How much more yards places on the field have by the lines seen before than by others."""
        assert self._lines is not None
        wide, tall = self._size
        found = []
        for right in np.linspace(0.1, 0.9, 9) * wide:
            for down in np.array([0.5, 0.65, 0.8]) * tall:
                x, y, _ = self._moved @ np.array([right, down, 1.0])
                if 0 <= x < wide and 0 <= y < tall and down > self._lines.meet[1] + 5 and y > lines.meet[1] + 5:
                    found.append(self._lines.yards(right, down) + self.steps * APART - lines.yards(float(x), float(y)))
        return np.array(found)


def _fitted(before: np.ndarray, after: np.ndarray, start: np.ndarray | None) -> np.ndarray:
    """The camera's movement between two pictures, looked for around *start*; far and wide without one."""
    after = after + (before.mean() - after.mean())
    if start is None:
        return fit_field(before, after)
    return refined(refined(start, half_size(before), half_size(after)), before, after)


def _matrix(fit: np.ndarray, wide: int, tall: int, top: int) -> np.ndarray:
    """A camera's movement as a matrix over pixels, if it shows from a row of a picture of half size on down."""
    larger, turn, right, down = 1 + fit[0], fit[1], fit[2] * wide, fit[3] * wide
    middle = np.array([[1, 0, -wide / 2], [0, 1, -(tall + 2 * top) / 2], [0, 0, 1]])
    moved: np.ndarray = np.linalg.inv(middle) @ np.array([[larger, -turn, right], [turn, larger, down],
                                                          [0, 0, 1]]) @ middle
    return moved
