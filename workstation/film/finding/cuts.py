"""Where the camera was stopped and started inside one file: hard cuts, to the picture.

Think before decoding. All packets are read, and only keyframes decoded, in one pass. Then

* a cut between keyframes leaves a packet of nearly a keyframe's size among small ones, for
  what follows cannot be predicted from what came before;
* a cut on a keyframe leaves two keyframes that differ more than their neighbours do, or a
  group of pictures shorter than its neighbours.

Only there are the pictures around the place decoded and compared (:mod:`.comparing`). A cut is
one step to another picture: what the step brings cannot be explained by movement, the pictures
before and after it hardly change, and the old picture does not come back (a flash).
"""

from __future__ import annotations

import os
import threading
from collections import deque
from collections.abc import Callable, Iterator
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from itertools import pairwise
from typing import Self

import av
import numpy as np

from ..faults import Cancelled, NoPicture, reason_for
from ..film import Source
from ..index import FrameIndex
from ..probe import open_container, picture_stream
from .comparing import Change, change, halved, plain_change
from .grids import Skimmer, cell_across, grid_of, skimming

# Packets. In re-encoded footage hardly a cut between keyframes measured below 1.7 times the packets on one side of it,
# and none below 19 % of the smaller keyframe beside it.
_OUTSTANDING = 1.5          # times the upper quartile of the packets before or after it
_NEARLY_INTRA = 0.14        # of the smaller keyframe beside it
_SURELY_INTRA, _PEAK, _PEAK_OUTSTANDING = 0.35, 1.1, 1.25  # so large, a peak among its two neighbours need stand out less
_NEIGHBOURS = 6             # packets either side

# Keyframes: the difference to the keyframe before, in luma levels; and how many times the differences around it,
# times how many times what the packets between account for. Cuts were not measured below 1.5.
_KEY_DIFFERS = 1.0
_KEY_STANDS_OUT = 1.1
_FEW = 12                   # keyframes that are soon looked at, all of them
_KEY_ANOTHER = 10.0         # luma levels that are looked at in any case: pans reach them, so do two views of one place

# The step from one picture to the next, in luma levels, and against the steps around it.
_STEP_MEAN = 1.0
_STEP_WORST = 10.0
_STEP_SPREAD = 1.0          # a quarter of the picture changes so much: one person's sudden gesture does not
_COARSE_MOST = 14.4         # over a cell's pixels across, seen with a quarter of the cells across and down: texture
                            # that the coder sharpens all at once does not, and the less the more a cell averages
_STEP_STANDS_OUT = 1.45
_STEP_FAR = 12.0            # a mean step to quite another picture need only be twice those around it
_AROUND = 4                 # pictures looked at either side
_FLASH = 0.6                # after a flash the old picture is back: it differs less than this share of the step

_ONE_CUT = 16               # a place of fewer pictures has one cut at most, where the step is largest
_ALL_INTRA = 4              # keyframes closer than this: every picture is compared with the next
_WORKERS = min(os.cpu_count() or 1, 4)


@dataclass(frozen=True, slots=True)
class Packets:
    """What one reading of a source tells: of every picture in display order the size of its packets and
    whether it comes after all that were before it in the file (``anchor``); the keyframes' numbers and grids."""

    size: np.ndarray
    anchor: np.ndarray
    keys: np.ndarray
    grids: list[np.ndarray]


def find_cuts(source: Source, index: FrameIndex, *, progress: Callable[[float], None] = lambda share: None,
              cancelled: Callable[[], bool] = lambda: False) -> list[int]:
    """Return the numbers of the pictures that begin a new shot inside a source (never 0).

    ``progress`` is told the share done. Raises NoPicture, Cancelled.
    """
    packets = read_packets(source, index, lambda share: progress(share * 0.6), cancelled)
    places = _places(packets)
    waiting = deque(places)
    found: list[int] = []

    def look() -> None:
        with skimming(source, index) as skimmer:
            while not cancelled():
                try:
                    place = waiting.popleft()
                except IndexError:
                    return
                found.extend(_look(skimmer, place, packets))
                progress(1 - 0.4 * len(waiting) / len(places))

    with ThreadPoolExecutor(_WORKERS, "finding-shots") as pool:
        for worker in [pool.submit(look) for _ in range(min(_WORKERS, len(places)))]:
            worker.result()
    if cancelled():
        raise Cancelled("Finding shots was stopped.")
    return sorted(set(found))


def read_packets(source: Source, index: FrameIndex, progress: Callable[[float], None] = lambda share: None,
                 cancelled: Callable[[], bool] = lambda: False) -> Packets:
    """Read all packets of a source once and decode its keyframes."""
    size = np.zeros(len(index), np.int64)
    anchor = np.zeros(len(index), bool)
    latest = -1
    key: tuple[int, list[av.Packet]] | None = None      # a picture and its packets: two if coded by fields
    try:
        with open_container(source.path) as container, _Keyframes(source) as keyframes:
            for count, packet in enumerate(container.demux(picture_stream(container))):
                if count % 256 == 0:
                    if cancelled():
                        raise Cancelled("Finding shots was stopped.")
                    progress(min(max(latest, 0) / len(index), 1.0))
                pts = packet.pts if packet.pts is not None else packet.dts
                if index.retimed is not None:
                    pts = index.retimed.get(packet.dts)
                number = None if pts is None or not packet.size else index.at(pts)
                if key is not None and number != key[0]:
                    keyframes.decode(*key)
                    key = None
                if number is None:
                    continue
                size[number] += packet.size
                if number >= latest:                    # shown after all that came before it in the file
                    anchor[number], latest = True, number
                if key is not None:
                    key[1].append(packet)
                elif packet.is_keyframe:
                    key = number, [packet]
            if key is not None:
                keyframes.decode(*key)
            grids = keyframes.grids()
    except (av.FFmpegError, OSError) as error:
        if latest < 0:
            raise NoPicture(source.id, reason_for(error, source.path)) from error
        grids = keyframes.grids()                       # what came before the damage can be judged
    numbers = sorted(grids)
    return Packets(size, anchor, np.array(numbers, int), [grids[number] for number in numbers])


class _Keyframes:
    """Decodes keyframes in several threads, each by itself: a decoder that is only given keyframes would wait for
    the pictures between them before it gives one away."""

    def __init__(self, source: Source) -> None:
        self._source = source
        self._own = threading.local()
        self._containers: list[av.container.InputContainer] = []
        self._room = threading.Semaphore(8 * _WORKERS)      # packets held in memory
        self._pool = ThreadPoolExecutor(_WORKERS, "keyframes", self._prepare)
        self._grids: dict[int, np.ndarray] = {}

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *error) -> None:
        self._pool.shutdown(cancel_futures=True)
        for container in self._containers:
            container.close()

    def decode(self, number: int, packets: list[av.Packet]) -> None:
        self._room.acquire()
        self._pool.submit(self._decode, number, packets)

    def grids(self) -> dict[int, np.ndarray]:
        """Wait for all and return grids by picture number; those that cannot be decoded are missing."""
        self._pool.shutdown()
        return self._grids

    def _prepare(self) -> None:
        container = open_container(self._source.path)       # for its decoder, set up as the file says
        self._containers.append(container)
        context = picture_stream(container).codec_context
        context.thread_type = "NONE"
        context.options = {"skip_loop_filter": "all"}
        self._own.context = context

    def _decode(self, number: int, packets: list[av.Packet]) -> None:
        context = self._own.context
        try:
            frames = [frame for packet in packets for frame in context.decode(packet)] + context.decode(None)
            if frames:
                self._grids[number] = grid_of(frames[-1])
        except av.FFmpegError:
            pass                                            # damage costs its own picture only
        finally:
            context.flush_buffers()
            self._room.release()


def _places(packets: Packets) -> list[range]:
    """Ranges of pictures one of which may begin a new shot, in order."""
    total = len(packets.size)
    if len(packets.keys) and total / len(packets.keys) < _ALL_INTRA:
        return [range(at, min(at + 64, total)) for at in range(1, total, 64)]
    small = [halved(grid) for grid in packets.grids]
    differs = np.array([change(before, after).mean for before, after in pairwise(small)])
    places = list(_on_keyframes(packets, differs)) + list(_between_keyframes(packets))
    return sorted(places, key=lambda place: place.start)


def _on_keyframes(packets: Packets, differs: np.ndarray) -> Iterator[range]:
    """A keyframe may begin a shot if it differs from the one before more than its neighbours do and more than
    the packets between account for (movement costs bits, a new recording comes free with its keyframe), or if
    it came before its time."""
    keys = packets.keys
    if len(keys) < 2:
        return
    lengths = np.diff(keys)
    usual_length, times = _most_common(lengths)
    regular = lengths == usual_length
    if times <= len(lengths) / 2 or len(lengths) < _FEW:
        regular[:] = False
    paid = np.array([np.sort(packets.size[before + 1:after])[:-3].sum() for before, after in pairwise(keys)])
    unexplained = differs / (paid / np.maximum(packets.size[keys[1:]], packets.size[keys[:-1]]) + 0.1)
    usual = np.quantile(unexplained, 0.25)
    for at, key in enumerate(keys[1:].tolist()):
        around = slice(max(at - 3, 0), at + 4)
        beside = np.delete(differs[around], at - around.start)
        stands_out = differs[at] / (np.quantile(beside, 0.35) + 1) if len(beside) else 1.0
        if differs[at] >= _KEY_DIFFERS and (
                not regular[at] or differs[at] >= _KEY_ANOTHER
                or stands_out * unexplained[at] >= _KEY_STANDS_OUT * usual):
            before = max(key - 16, 0)
            anchors = np.flatnonzero(packets.anchor[before:key]) + before
            yield range(int(anchors[-1]) + 1 if len(anchors) else max(key - 3, 1), key + 1)


def _most_common(lengths: np.ndarray) -> tuple[int, int]:
    values, times = np.unique(lengths, return_counts=True)
    return int(values[times.argmax()]), int(times.max())


def _between_keyframes(packets: Packets) -> Iterator[range]:
    """A packet may begin a shot if it is nearly as large as a keyframe and larger than those after it, which show the
    same things, or than those before it."""
    is_key = np.zeros(len(packets.size), bool)
    is_key[packets.keys] = True
    every = np.flatnonzero(packets.anchor)
    plain = every[~is_key[every]]
    sizes = packets.size[plain].astype(float)
    for at, number in enumerate(plain):
        after = int(np.searchsorted(packets.keys, number))
        keys = packets.size[packets.keys[max(after - 1, 0):after + 1]]
        if len(keys) and sizes[at] < _NEARLY_INTRA * keys.min():
            continue
        sides = [side for side in (sizes[at + 1:at + 1 + _NEIGHBOURS], sizes[max(at - _NEIGHBOURS, 0):at]) if len(side)]
        if sides:
            times = sizes[at] / max(min(np.quantile(side, 0.75) for side in sides), 1)
            peak = sizes[at] >= _PEAK * max(sizes[max(at - 1, 0):at + 2:2], default=0) if at else True
            intra = len(keys) and sizes[at] >= _SURELY_INTRA * keys.min()
            if times < _OUTSTANDING and not (intra and peak and times >= _PEAK_OUTSTANDING):
                continue
        place = int(np.searchsorted(every, number))
        previous = int(every[place - 1]) if place else 0
        yield range(previous + 1, int(number) + 1)


def _look(skimmer: Skimmer, place: range, packets: Packets) -> list[int]:
    """Decode around a place and return the pictures in it that begin a new shot."""
    total = len(packets.size)
    cell = cell_across(skimmer.source.width)
    key = place.stop - 1
    at_key = int(np.searchsorted(packets.keys, key))
    if len(place) < _ONE_CUT and at_key < len(packets.keys) and packets.keys[at_key] == key:
        before = list(skimmer.grids_before(key, _AROUND + 1))
        steps = Steps([grid for _, grid in before] + [packets.grids[at_key]], cell)
        if before and not steps.is_large(len(before)):
            return []
        if before and before[-1][0] == key - 1:         # else leading pictures stand between: look at them too
            if not steps.stands_out(len(before)):
                return []
            after = skimmer.grids(range(key, min(key + _AROUND, total)))
            steps = Steps([grid for _, grid in before] + [grid for _, grid in after], cell)
            return [key] if steps.is_cut(len(before)) else []
    pictures = list(skimmer.grids(range(max(place.start - 1 - _AROUND, 0), min(place.stop + _AROUND, total))))
    numbers = [number for number, _ in pictures]
    steps = Steps([grid for _, grid in pictures], cell)
    chosen = [at for at in range(1, len(pictures)) if numbers[at] in place]
    if len(place) < _ONE_CUT:
        chosen = sorted(chosen, key=lambda at: -steps.plain(at).worst)[:1]
    return [numbers[at] for at in chosen if steps.is_cut(at)]


class Steps:
    """The steps from each of some consecutive pictures to the next; compared only as far as it is asked."""

    def __init__(self, grids: list[np.ndarray], cell: int) -> None:
        self._grids, self._cell = grids, cell           # the cell's pixels across
        self._plain: dict[int, Change] = {}
        self._moved: dict[int, Change] = {}

    def plain(self, at: int) -> Change:
        if at not in self._plain:
            self._plain[at] = plain_change(self._grids[at - 1], self._grids[at])
        return self._plain[at]

    def moved(self, at: int) -> Change:
        if at not in self._moved:
            self._moved[at] = change(self._grids[at - 1], self._grids[at])
        return self._moved[at]

    def is_cut(self, at: int) -> bool:
        """Does picture ``at`` begin a new shot?"""
        return self.is_large(at) and self.stands_out(at) and not self._is_flash(at)

    def is_large(self, at: int) -> bool:
        """Is what movement cannot explain enough for a cut?"""
        return all(_large(step(at)) for step in (self.plain, self.moved)) and self._is_coarse(at)   # the cheaper first

    def _is_coarse(self, at: int) -> bool:
        """Does the change show where no detail does?"""
        before, after = (halved(halved(grid)) for grid in self._grids[at - 1:at + 1])
        return change(before, after).most >= _COARSE_MOST / self._cell

    def stands_out(self, at: int) -> bool:
        """Is the step larger than all around it?"""
        mean = self.moved(at).mean
        others = [other for other in range(max(at - _AROUND, 1), min(at + _AROUND + 1, len(self._grids))) if other != at]
        if mean >= _STEP_FAR and all(self.plain(other).mean <= mean / 2 - 1 or self.moved(other).mean <= mean / 2 - 1
                                     for other in others):
            return True
        limit = self.moved(at).worst / _STEP_STANDS_OUT - 2
        beside = [other for other in others if self.plain(other).worst > limit]
        return all(self.moved(other).worst <= limit for other in beside)

    def _is_flash(self, at: int) -> bool:
        """Is the old picture back soon after?"""
        last = min(at + _AROUND - 1, len(self._grids) - 1)
        return last > at and change(self._grids[at - 1], self._grids[last]).worst < _FLASH * self.moved(at).worst


def _large(step: Change) -> bool:
    return step.mean >= _STEP_MEAN and step.worst >= _STEP_WORST and step.spread >= _STEP_SPREAD
