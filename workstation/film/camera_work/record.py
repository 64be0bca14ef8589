"""What one pass over a source leaves behind: everything that the measures of camera work are made from.

The pass decodes every picture (every second one above 40 a second) and keeps numbers, no pictures but the few small
ones in which drops on the lens are looked for. It is cached by fingerprint like the index and the survey; shots may be
drawn anew without looking again.
"""

from __future__ import annotations

from collections.abc import Callable
from contextlib import closing
from dataclasses import dataclass, fields

import av
import numpy as np
from av.video.reformatter import ColorRange

from ...cancelling import Cancelled
from .. import cache
from ..camera_motion import AT_REST, UNKNOWN, Motion, Prepared, follow
from ..decoder import Decoder
from ..faults import NoPicture, reason_for
from ..film import Source
from ..finding.luma_grid import luma_grid
from ..index import index_of
from .action import APART as ACTION_APART
from .action import FIGURES, moving
from .exposure import clipped_shares, gain_between
from .focus import BANDS, spectrum
from .focus import EVERY as LOOK_EVERY
from .lean import EVERY as LEAN_EVERY
from .lean import FIGURES as LEAN_FIGURES
from .lean import LINES, upright_lines
from .lens import APART as LENS_APART
from .lens import SOONEST
from .smears import fine_detail
from .sound import analyse

VERSION = 7                 # raise when the same file would now be measured otherwise
_MOST_RATE = 40.0           # pictures a second; of more every second one is enough for shake up to 8 Hz
_SOUND = 0.04               # of the time goes into the sound


@dataclass(frozen=True, slots=True, eq=False)
class Record:
    """``pts`` are the timestamps of the pictures that were compared, ``motion`` the movement to each from the one
    before (zoom, turn, right, down, what is left), ``gain`` the change of light in doublings.

    ``look_pts``: pictures whose ``spectra`` and ``clipped`` shares (black, burnt out) were taken. ``action_pts``: those
    in which what moves was looked for (``figures``). ``upright_pts``: those in which ``upright`` lines were read.
    ``lens_pts``: those kept small in ``pictures``, with how the content ``moved`` since the one before (as ``motion``;
    not a number after a cut) and the fine ``details`` of each cell. ``sound`` has a row for each tenth of a second.
    ``size`` is the picture's in pixels.
    """

    pts: np.ndarray
    motion: np.ndarray
    gain: np.ndarray
    look_pts: np.ndarray
    spectra: np.ndarray
    clipped: np.ndarray
    action_pts: np.ndarray
    figures: np.ndarray
    upright_pts: np.ndarray
    upright: np.ndarray
    lens_pts: np.ndarray
    pictures: np.ndarray
    moved: np.ndarray
    details: np.ndarray
    sound: np.ndarray
    size: np.ndarray


def measure(source: Source, *, progress: Callable[[float], None] = lambda share: None,
            cancelled: Callable[[], bool] = lambda: False) -> Record:
    """Return the record of a source, from the cache or made now.

    Call it off the UI thread. Raises NoPicture if the source cannot be read, Cancelled if ``cancelled`` says so; then
    nothing is cached.
    """
    known = cached_record(source)
    if known is not None:
        return known
    heard = analyse(source, progress=lambda share: progress(share * _SOUND), cancelled=cancelled)
    try:
        made = _look(source, heard, lambda share: progress(_SOUND + share * (1 - _SOUND)), cancelled)
    except (av.FFmpegError, OSError) as error:      # the card is pulled
        raise NoPicture(source.id, reason_for(error, source.path)) from error
    if source.fingerprint:
        cache.save_arrays(_key(source), {each.name: getattr(made, each.name) for each in fields(Record)})
    return made


def cached_record(source: Source) -> Record | None:
    """Return the record if it is cached, else None at once."""
    arrays = cache.load_arrays(_key(source)) if source.fingerprint else None
    if arrays is None:
        return None
    try:
        return Record(**{each.name: arrays[each.name] for each in fields(Record)})
    except KeyError:
        return None


def _key(source: Source) -> str:
    return f"{source.fingerprint}-camera-work{VERSION}"


class _Watcher:
    """Takes in a source's pictures one after the other."""

    def __init__(self, source: Source) -> None:
        self._ticks = float(source.time_base)
        self._before: Prepared | None = None
        self._motion = UNKNOWN
        self._is_full = False
        self._looked = self._kept = self._plumbed = -np.inf
        self._earlier: tuple[float, np.ndarray, Motion] | None = None
        self._way = AT_REST         # since the last kept picture
        self._lost = True
        self.rows: list[tuple[int, Motion, float]] = []
        self.looks: list[tuple[int, np.ndarray, tuple[float, float]]] = []
        self.actions: list[tuple[int, np.ndarray]] = []
        self.upright: list[tuple[int, np.ndarray]] = []
        self.kept: list[tuple[int, np.ndarray, Motion, np.ndarray]] = []

    def take(self, pts: int, frame: av.VideoFrame) -> None:
        grid = luma_grid(frame)
        now = pts * self._ticks
        self._is_full = frame.color_range == ColorRange.JPEG
        prepared = Prepared(grid)
        before, motion, gain = self._before, UNKNOWN, np.nan
        if before is not None:
            motion = follow(before, prepared, self._motion)
            gain = gain_between(before, prepared, motion, self._is_full) if before.grid.shape == grid.shape else np.nan
        self.rows.append((pts, motion, gain))
        self._watch_action(pts, now, prepared.half, motion)
        if now - self._looked >= LOOK_EVERY - 1e-3:
            luma = _luma(frame)
            self._looked = now
            self.looks.append((pts, spectrum(luma),
                               clipped_shares(luma, self._is_full)))
        if now - self._plumbed >= LEAN_EVERY - 1e-3:
            self._plumbed = now
            self.upright.append((pts, upright_lines(_luma(frame))))
        if np.isfinite(motion.right):
            self._way = self._way.then(motion)
        else:
            self._lost = True           # a cut, or nothing to be seen: what stays over it stays on the lens
        if (self._lost or abs(self._way.shift) >= LENS_APART) and now - self._kept >= SOONEST:
            self.kept.append((pts, prepared.half.astype(np.uint8), UNKNOWN if self._lost else self._way,
                              fine_detail(_luma(frame))))
            self._kept, self._way, self._lost = now, AT_REST, False
        self._before, self._motion = prepared, motion

    def _watch_action(self, pts: int, now: float, grid: np.ndarray, motion: Motion) -> None:
        """Compare with the picture a tenth of a second before, through all movements since."""
        if self._earlier is None or not np.isfinite(motion.right):
            self._earlier = (now, grid, AT_REST)
            return
        since, earlier, way = self._earlier
        way = way.then(motion)
        if now - since < ACTION_APART - 1e-3:
            self._earlier = (since, earlier, way)
            return
        self.actions.append((pts, moving(earlier, grid, way)))
        self._earlier = (now, grid, AT_REST)


def _luma(frame: av.VideoFrame) -> np.ndarray:
    """The decoded plane of luma, as bytes."""
    if frame.format.name not in ("yuv420p", "yuvj420p", "yuv422p", "yuvj422p", "yuv444p", "yuvj444p", "nv12", "gray"):
        frame = frame.reformat(format="gray")
    plane = frame.planes[0]
    return np.frombuffer(memoryview(plane), np.uint8).reshape(-1, plane.line_size)[:frame.height, :frame.width]


def _look(source: Source, heard: np.ndarray, progress: Callable[[float], None],
          cancelled: Callable[[], bool]) -> Record:
    index = index_of(source, cancelled=cancelled)
    apart = int(0.75 * 2 / source.frame_rate / source.time_base) if source.frame_rate > _MOST_RATE else 0
    watcher, due = _Watcher(source), None
    with closing(Decoder(source, index)) as decoder:
        decoder.seek(0)
        while (read := decoder.read()) is not None:
            if cancelled():
                raise Cancelled("Measuring was stopped.")
            number, frame = read
            pts = int(index.pts[number])
            if due is None or pts >= due:
                due = pts + apart
                watcher.take(pts, frame)
            progress(number / len(index))
    kept, looks, actions = watcher.kept, watcher.looks, watcher.actions
    shape = max((one[1].shape for one in kept), key=lambda each: each[0] * each[1], default=(0, 0))
    kept = [one for one in kept if one[1].shape == shape]       # damaged footage changes its size
    return Record(
        pts=np.array([row[0] for row in watcher.rows], np.int64),
        motion=np.array([row[1] for row in watcher.rows], np.float32).reshape(-1, len(Motion._fields)),
        gain=np.array([row[2] for row in watcher.rows], np.float32),
        look_pts=np.array([look[0] for look in looks], np.int64),
        spectra=np.array([look[1] for look in looks], np.float32).reshape(-1, BANDS),
        clipped=np.array([look[2] for look in looks], np.float32).reshape(-1, 2),
        action_pts=np.array([one[0] for one in actions], np.int64),
        figures=np.array([one[1] for one in actions], np.float32).reshape(-1, FIGURES),
        upright_pts=np.array([one[0] for one in watcher.upright], np.int64),
        upright=np.array([one[1] for one in watcher.upright], np.float32).reshape(-1, LINES, LEAN_FIGURES),
        lens_pts=np.array([one[0] for one in kept], np.int64),
        pictures=np.array([one[1] for one in kept], np.uint8).reshape(-1, *shape),
        moved=np.array([one[2] for one in kept], np.float32).reshape(-1, len(Motion._fields)),
        details=np.array([one[3] for one in kept], np.float16).reshape(-1, *kept[0][3].shape if kept else (0, 0)),
        sound=heard, size=np.array([source.width, source.height], np.int64))
