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

from collections.abc import Callable, Iterator
from dataclasses import dataclass

import av
import numpy as np

from ..faults import Cancelled, NoPicture, reason_for
from ..film import Source
from ..index import FrameIndex
from ..probe import open_container, picture_stream
from .comparing import Change, change, plain_change
from .grids import Skimmer, grid_of, skimming

# Packets. Measured on re-encoded footage: packets with a cut are at least 2.4 times their neighbours'
# upper quartile and 17 % of a keyframe; the limits lie well below.
_OUTSTANDING = 1.5
_NEARLY_INTRA = 0.08
_NEIGHBOURS = 6             # packets either side

# Keyframes: the difference to the keyframe before, in luma levels and against the median of the differences around.
_KEY_DIFFERS = 1.0
_KEY_STANDS_OUT = 0.7

# The step from one picture to the next, in luma levels, and against the steps around it.
_STEP_MEAN = 1.0
_STEP_WORST = 10.0
_STEP_STANDS_OUT = 1.45
_AROUND = 4                 # pictures looked at either side
_FLASH = 0.6                # after a flash the old picture is back: it differs less than this share of the step

_ALL_INTRA = 4              # keyframes closer than this: every picture is compared with the next


@dataclass(frozen=True, slots=True)
class Packets:
    """What one reading of a source tells: of every picture in display order the size of its packets and
    whether later pictures lean on it (``anchor``); the keyframes' numbers and grids."""

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
    found = []
    with skimming(source, index) as skimmer:
        for done, place in enumerate(places):
            if cancelled():
                raise Cancelled("Finding shots was stopped.")
            found += _look(skimmer, place, len(index))
            progress(0.6 + 0.4 * (done + 1) / len(places))
    return sorted(set(found))


def read_packets(source: Source, index: FrameIndex, progress: Callable[[float], None] = lambda share: None,
                 cancelled: Callable[[], bool] = lambda: False) -> Packets:
    """Read all packets of a source once and decode its keyframes."""
    size = np.zeros(len(index), np.int64)
    anchor = np.zeros(len(index), bool)
    grids: dict[int, np.ndarray] = {}
    latest = -1
    try:
        with open_container(source.path) as container:
            stream = picture_stream(container)
            stream.thread_type = "AUTO"
            stream.codec_context.skip_frame = "NONKEY"
            for count, packet in enumerate(container.demux(stream)):
                if packet.size:
                    pts = packet.pts if packet.pts is not None else packet.dts
                    if index.retimed is not None:
                        pts = packet.pts = index.retimed.get(packet.dts)
                    if pts is not None:
                        number = index.at(pts)
                        size[number] += packet.size
                        if number >= latest:        # shown after all that came before it in the file
                            anchor[number], latest = True, number
                if count % 256 == 0:
                    if cancelled():
                        raise Cancelled("Finding shots was stopped.")
                    progress(min(max(latest, 0) / len(index), 1.0))
                try:
                    for frame in packet.decode():
                        if frame.pts is not None:
                            grids[index.at(frame.pts)] = grid_of(frame)
                except av.error.InvalidDataError:
                    continue                        # a damaged packet costs its own picture only
    except (av.FFmpegError, OSError) as error:
        if not grids:
            raise NoPicture(source.id, reason_for(error, source.path)) from error
    keys = sorted(grids)
    return Packets(size, anchor, np.array(keys, int), [grids[key] for key in keys])


def _places(packets: Packets) -> list[range]:
    """Ranges of pictures one of which may begin a new shot, in order."""
    total = len(packets.size)
    if len(packets.keys) and total / len(packets.keys) < _ALL_INTRA:
        return [range(at, min(at + 64, total)) for at in range(1, total, 64)]
    places = list(_on_keyframes(packets)) + list(_between_keyframes(packets))
    return sorted(places, key=lambda place: place.start)


def _on_keyframes(packets: Packets) -> Iterator[range]:
    keys, grids = packets.keys, packets.grids
    if len(keys) < 2:
        return
    differs = np.array([change(before, after).mean for before, after in zip(grids, grids[1:], strict=False)])
    lengths = np.diff(keys)
    for at, (difference, length) in enumerate(zip(differs, lengths, strict=True)):
        around = slice(max(at - 3, 0), at + 4)
        beside = np.delete(differs[around], at - around.start)
        stands_out = difference >= _KEY_STANDS_OUT * np.median(beside) if len(beside) else True
        cut_short = length < np.median(lengths[around])
        if difference >= _KEY_DIFFERS and (stands_out or cut_short):
            key = int(keys[at + 1])
            anchors = np.flatnonzero(packets.anchor[max(key - 16, 0):key]) + max(key - 16, 0)
            yield range(int(anchors[-1]) + 1 if len(anchors) else max(key - 3, 1), key + 1)


def _between_keyframes(packets: Packets) -> Iterator[range]:
    is_key = np.zeros(len(packets.size), bool)
    is_key[packets.keys] = True
    every = np.flatnonzero(packets.anchor)
    plain = every[~is_key[every]]
    sizes = packets.size[plain].astype(float)
    for at, number in enumerate(plain):
        around = slice(max(at - _NEIGHBOURS, 0), at + _NEIGHBOURS + 1)
        beside = np.delete(sizes[around], at - around.start)
        after = int(np.searchsorted(packets.keys, number))
        keys = packets.size[packets.keys[max(after - 1, 0):after + 1]]
        if len(beside) and (sizes[at] < _OUTSTANDING * np.quantile(beside, 0.75)
                            or len(keys) and sizes[at] < _NEARLY_INTRA * keys.max()):
            continue
        place = int(np.searchsorted(every, number))
        previous = int(every[place - 1]) if place else 0
        yield range(previous + 1, int(number) + 1)


def _look(skimmer: Skimmer, place: range, total: int) -> list[int]:
    """Decode around a place and return the pictures in it that begin a new shot."""
    wanted = range(max(place.start - 1 - _AROUND, 0), min(place.stop + _AROUND, total))
    numbers, grids = [], []
    for number, grid in skimmer.grids(wanted):
        numbers.append(number)
        grids.append(grid)
    steps = Steps(grids)
    if len(place) < 16:         # one cut at most: where the step is largest
        chosen = [at for at in range(1, len(grids)) if numbers[at] in place]
        chosen = sorted(chosen, key=lambda at: -steps.plain(at).worst)[:1]
    else:
        chosen = [at for at in range(1, len(grids)) if numbers[at] in place]
    return [numbers[at] for at in chosen if steps.is_cut(at)]


class Steps:
    """The steps from each of some consecutive pictures to the next; compared only as far as it is asked."""

    def __init__(self, grids: list[np.ndarray]) -> None:
        self._grids = grids
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
        plain = self.plain(at)
        if plain.mean < _STEP_MEAN or plain.worst < _STEP_WORST:
            return False
        step = self.moved(at)
        if step.mean < _STEP_MEAN or step.worst < _STEP_WORST:
            return False
        around = [other for other in range(max(at - _AROUND, 1), min(at + _AROUND + 1, len(self._grids))) if other != at]
        beside = max((self.moved(other).worst for other in around), default=0.0)
        if step.worst < _STEP_STANDS_OUT * (beside + 2):
            return False
        last = min(at + _AROUND - 1, len(self._grids) - 1)
        return last == at or change(self._grids[at - 1], self._grids[last]).worst >= _FLASH * step.worst
