"""The frame index of a source: when every picture is shown, and where decoding may begin.

Made by reading packets without decoding them, checked against a decode of the first
pictures, and cached by fingerprint. Containers whose packet timestamps are not the truth
(H.264 in AVI has none worth the name) are indexed by decoding, once.
"""

from __future__ import annotations

import contextlib
import threading
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, replace
from itertools import islice
from pathlib import Path

import av
import numpy as np

from ..cancelling import Cancelled
from . import cache
from .faults import NoPicture, reason_for
from .film import Source
from .probe import open_container, picture_stream
from .undecodable import first_whole

CHECKED = 24        # pictures decoded to check the packets' timestamps
HALF_A_DAY = 43_200.0   # seconds; nobody pauses one recording for so long


@dataclass(frozen=True, slots=True, eq=False)
class FrameIndex:
    """Timestamps of a source's pictures in display order (``pts``), one past the last (``end``), and
    its keyframes in display order. ``retimed`` maps a packet's dts to its true timestamp where the
    container's own cannot be used, else it is None. ``whole_from`` is the number of the first picture that can be
    decoded whole: 0, but for clips cut inside a group of pictures (:mod:`.undecodable`)."""

    pts: np.ndarray
    end: int
    key_pts: np.ndarray
    key_dts: np.ndarray
    key_pos: np.ndarray
    key_size: np.ndarray
    retimed: dict[int, int] | None = None
    whole_from: int = 0

    def __len__(self) -> int:
        return len(self.pts)

    def at(self, pts: int) -> int:
        """Number of the picture shown at a timestamp: the last that begins at or before it, clamped."""
        return min(max(int(np.searchsorted(self.pts, pts, side="right")) - 1, 0), len(self.pts) - 1)

    def key_for(self, pts: int) -> int:
        """Number of the last keyframe shown at or before a timestamp. Pictures that follow a keyframe in
        the file but are shown before it (open GOP) lean on the previous one, so they are not its own."""
        return max(int(np.searchsorted(self.key_pts, pts, side="right")) - 1, 0)


def index_of(source: Source, *, progress: Callable[[float], None] | None = None,
             cancelled: Callable[[], bool] = lambda: False) -> FrameIndex:
    """Return a source's frame index, from the cache or made now.

    ``progress`` is called with the share done, 0 to 1. Raises NoPicture if the source cannot be
    read, Cancelled if ``cancelled`` says so.
    """
    index = cached_index(source)
    if index is None:
        with _at_work(source.fingerprint, cancelled) as alone:
            index = None if alone else cached_index(source)
            if index is None:
                index = _make(source, progress, cancelled)
                cache.save_arrays(source.fingerprint, _arrays(index))
    return index


_working: set[str] = set()
_work_ended = threading.Condition()


@contextlib.contextmanager
def _at_work(fingerprint: str, cancelled: Callable[[], bool]) -> Iterator[bool]:
    """Let one thread at a time index a file; whether nobody else did meanwhile. Raises Cancelled."""
    alone = True
    with _work_ended:
        while fingerprint in _working:
            alone = False
            _work_ended.wait(0.1)
            if cancelled():
                raise Cancelled("Indexing was stopped.")
        _working.add(fingerprint)
    try:
        yield alone
    finally:
        with _work_ended:
            _working.discard(fingerprint)
            _work_ended.notify_all()


def cached_index(source: Source) -> FrameIndex | None:
    """Return the index if it is cached, else None at once. One without a first frame, as was cached
    once for damaged footage, does not count."""
    arrays = cache.load_arrays(source.fingerprint) if source.fingerprint else None
    try:
        if not (arrays and len(arrays["pts"]) and len(arrays["key_pts"])):
            return None
        return FrameIndex(
            arrays["pts"], int(arrays["end"]), arrays["key_pts"], arrays["key_dts"], arrays["key_pos"],
            arrays["key_size"],
            dict(zip(arrays["retimed_dts"].tolist(), arrays["retimed_pts"].tolist(), strict=False)) or None,
            int(arrays["whole_from"]))
    except KeyError:
        return None


def _arrays(index: FrameIndex) -> dict[str, np.ndarray]:
    retimed = index.retimed or {}
    return {"pts": index.pts, "end": np.array(index.end), "key_pts": index.key_pts, "key_dts": index.key_dts,
            "key_pos": index.key_pos, "key_size": index.key_size, "retimed_dts": np.array(list(retimed), np.int64),
            "retimed_pts": np.array(list(retimed.values()), np.int64), "whole_from": np.array(index.whole_from)}


def _make(source: Source, progress: Callable[[float], None] | None, cancelled: Callable[[], bool]) -> FrameIndex:
    if source.problem:
        raise NoPicture(source.id, source.problem)
    try:
        rows = _packets(source, progress, cancelled)
        if not len(rows):
            raise NoPicture(source.id, f"{source.path.name} holds no pictures.")
        if _begins_again(source, rows):
            raise NoPicture(source.id, f"{source.path.name}: its clock begins again, as if recordings had been put one "
                            "behind the other in one file. Take the camera's own files, or give it one clock: "
                            f'ffmpeg -i "{source.path.name}" -c copy "{source.path.stem}.mp4"')
        shown = _first_shown(source.path)
        retimed = None
        packet_pts = np.sort(rows["pts"][rows["shown"]])
        begin = int(np.searchsorted(packet_pts, shown[0]))
        if not np.array_equal(packet_pts[begin:begin + len(shown)], shown):
            thinned = _by_fields(rows, shown)
            if thinned is not None:
                rows = thinned
            else:
                rows, retimed = _by_decoding(source, rows, cancelled)
        index = _index(source, rows, retimed)
        return replace(index, whole_from=_first_whole(source.path, index))
    except (av.FFmpegError, OSError) as error:
        raise NoPicture(source.id, reason_for(error, source.path)) from error


def _first_whole(path: Path, index: FrameIndex) -> int:
    number_of = index.at if index.retimed is None else None
    with open_container(path) as container:
        stream = picture_stream(container)
        stream.thread_type = "AUTO"
        try:
            return first_whole(container, stream, set(index.key_pts.tolist()), number_of)
        except av.FFmpegError:          # damage, which is told elsewhere
            return 0


def _index(source: Source, rows: np.ndarray, retimed: dict[int, int] | None) -> FrameIndex:
    pictures = np.sort(rows[rows["shown"]], order="pts")
    pictures = pictures[pictures["pts"] >= source.start_pts]   # before the first picture that can be decoded
    _, single = np.unique(pictures["pts"], return_index=True)
    pictures = pictures[single]
    ticks = max(round(source.frame_ticks), 1)
    end = int(pictures["pts"][-1]) + (int(pictures["duration"][-1]) or ticks)
    keys = np.sort(rows[rows["key"]], order="pts")
    if not len(keys):
        raise NoPicture(source.id, f"{source.path.name} holds no picture that decoding can begin with. "
                                   "Copy it from the card again.")
    return FrameIndex(pictures["pts"].copy(), end, keys["pts"].copy(), keys["dts"].copy(), keys["pos"].copy(),
                      keys["size"].copy(), retimed)


def _begins_again(source: Source, rows: np.ndarray) -> bool:
    """Does the clock go back once, between two runs of pictures that it counts well? In damaged footage it goes back
    too, but from a few pictures only. In a stream, what goes back by more than a minute reads as most of a day ahead:
    its clock has 33 bits (ISO/IEC 13818-1), and libavformat takes it to have passed their end."""
    if len(rows) < 2 * CHECKED:
        return False
    steps = np.diff(rows["dts"]) * float(source.time_base)
    leaps = (steps < -1) | (steps > 1 + 10 * np.median(np.abs(steps)))
    begun = np.flatnonzero((steps < -1) | (steps > HALF_A_DAY))
    return any(CHECKED <= at + 1 <= len(rows) - CHECKED and leaps[at + 1 - CHECKED:at + CHECKED].sum() == 1
               for at in begun)


_ROW = np.dtype([("pts", np.int64), ("dts", np.int64), ("pos", np.int64), ("size", np.int64), ("duration", np.int64),
                 ("key", bool), ("shown", bool)])


def _packets(source: Source, progress: Callable[[float], None] | None, cancelled: Callable[[], bool]) -> np.ndarray:
    rows = []
    with open_container(source.path) as container:
        stream = picture_stream(container)
        try:
            for packet in container.demux(stream):
                pts = packet.dts if packet.pts is None else packet.pts
                if not packet.size or pts is None:
                    continue
                dts = packet.pts if packet.dts is None else packet.dts
                rows.append((pts, dts, packet.pos if packet.pos is not None else -1, packet.size,
                             packet.duration or 0, packet.is_keyframe,
                             packet.pts is not None and not packet.is_discard))
                if len(rows) % 512 == 0:
                    if cancelled():
                        raise Cancelled("Indexing was stopped.")
                    if progress and source.duration_pts:
                        progress(min(max((pts - source.start_pts) / source.duration_pts, 0.0), 1.0))
        except (av.FFmpegError, OSError):
            if not rows:
                raise           # else what came before the damage can be shown
    return np.array(rows, dtype=_ROW)


def _first_shown(path: Path) -> list[int]:
    with open_container(path) as container:
        stream = picture_stream(container)
        stream.thread_type = "AUTO"
        return [frame.pts for frame in islice(container.decode(stream), CHECKED)]


def _by_fields(rows: np.ndarray, shown: list[int]) -> np.ndarray | None:
    """Field-coded H.264 gives two packets for one picture; return the rows of the first fields, or None."""
    firsts = rows[::2].copy()
    firsts["duration"][:len(rows) // 2] += rows["duration"][1::2]
    pts = np.sort(firsts["pts"][firsts["shown"]])
    begin = int(np.searchsorted(pts, shown[0]))
    return firsts if np.array_equal(pts[begin:begin + len(shown)], shown) else None


def _by_decoding(source: Source, rows: np.ndarray, cancelled: Callable[[], bool]) -> tuple[np.ndarray, dict[int, int]]:
    """Give the packets' decoding times, in order, to the pictures in the order in which they are shown."""
    shown_dts: list[int] = []
    with open_container(source.path) as container:
        stream = picture_stream(container)
        stream.thread_type = "AUTO"
        for packet in container.demux(stream):
            if cancelled():
                raise Cancelled("Indexing was stopped.")
            if packet.size and packet.dts is not None:
                packet.pts = packet.dts     # a name that the picture brings back
            shown_dts.extend(frame.pts for frame in packet.decode() if frame.pts is not None)
    first = shown_dts.index(min(shown_dts)) if shown_dts else 0
    times = np.sort(rows["dts"])[-len(shown_dts):] if shown_dts else np.zeros(0, np.int64)
    offset = source.start_pts - int(times[first]) if len(times) else 0
    retimed = {dts: int(time) + offset for dts, time in zip(shown_dts, times, strict=False)}
    rows = rows.copy()
    rows["pts"] = [retimed.get(int(dts), int(dts)) for dts in rows["dts"]]
    rows["shown"] = [int(dts) in retimed for dts in rows["dts"]]
    return rows, retimed


class BackgroundIndexer:
    """Indexes sources one after another in a background thread.

    ``choose(left)`` picks the source to index next among those that are left, None to end; without it they are taken in
    order. ``on_index(source, index or NoPicture)`` is called in that thread when one is finished.
    """

    def __init__(self, sources: Iterable[Source], *, choose: Callable[[list[Source]], Source | None] | None = None,
                 on_index: Callable[[Source, FrameIndex | NoPicture], None]) -> None:
        self._sources = [source for source in sources if source.problem is None]
        self._choose = choose or (lambda left: left[0])
        self._stop = threading.Event()
        self._on_index = on_index
        self._thread = threading.Thread(target=self._run, name="indexing", daemon=True)
        self._thread.start()

    def cancel(self) -> None:
        """Stop soon; what is finished is kept. Returns when the thread has ended."""
        self._stop.set()
        if threading.current_thread() is not self._thread:
            self._thread.join()

    def wait(self, timeout: float | None = None) -> bool:
        """Wait until all is indexed; False if it took longer than ``timeout`` seconds."""
        self._thread.join(timeout)
        return not self._thread.is_alive()

    def _run(self) -> None:
        while self._sources:
            source = None if self._stop.is_set() else self._choose(self._sources)
            if source is None or self._stop.is_set():
                return
            self._sources.remove(source)
            result: FrameIndex | NoPicture
            try:
                result = index_of(source, cancelled=self._stop.is_set)
            except Cancelled:
                return
            except NoPicture as error:
                result = error
            self._on_index(source, result)
