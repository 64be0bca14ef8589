"""Where the camera was stopped and started inside one file: hard cuts, to the picture.

Think before decoding. All packets are read, and only keyframes decoded, in one pass (:mod:`.packets`). Then

* a cut between keyframes leaves a packet of nearly a keyframe's size among small ones, for
  what follows cannot be predicted from what came before;
* a cut on a keyframe leaves two keyframes that differ more than their neighbours do, or a
  group of pictures shorter than its neighbours (:mod:`.places`).

Only there are the pictures around the place decoded and compared (:mod:`.steps`). A cut is
one step to another picture: what the step brings cannot be explained by movement, the pictures
before and after it hardly change, and the old picture does not come back (a flash).
"""

from __future__ import annotations

from collections import deque
from collections.abc import Callable, Iterable, Iterator, Sequence
from concurrent.futures import ThreadPoolExecutor
from itertools import chain, groupby

import numpy as np

from ..faults import Cancelled
from ..film import Source
from ..index import FrameIndex
from .grids import cell_across
from .packets import WORKERS, Packets, read_packets
from .places import places_in
from .skimming import Skimmer, skimming
from .steps import AROUND, Steps

_ONE_CUT = 16               # a place of fewer pictures has one cut at most, where the step is largest

Picture = tuple[int, np.ndarray]        # its number and its grid


def find_cuts(source: Source, index: FrameIndex, *, progress: Callable[[float], None] = lambda share: None,
              cancelled: Callable[[], bool] = lambda: False) -> list[int]:
    """Return the numbers of the pictures that begin a new shot inside a source (never 0).

    ``progress`` is told the share done. Raises NoPicture, Cancelled.
    """
    packets = read_packets(source, index, lambda share: progress(share * 0.6), cancelled)
    runs = _runs(places_in(packets), packets)
    waiting = deque(runs)
    found: list[int] = []

    def look() -> None:
        with skimming(source, index) as skimmer:
            while not cancelled():
                try:
                    run = waiting.popleft()
                except IndexError:
                    return
                found.extend(_look(skimmer, run, packets))
                progress(1 - 0.4 * len(waiting) / len(runs))

    with ThreadPoolExecutor(WORKERS, "finding-shots") as pool:
        for worker in [pool.submit(look) for _ in range(min(WORKERS, len(runs)))]:
            worker.result()
    if cancelled():
        raise Cancelled("Finding shots was stopped.")
    return sorted(set(found))


def _around(place: range, packets: Packets) -> range:
    """The pictures to compare for a place."""
    return range(max(place.start - 1 - AROUND, 0), min(place.stop + AROUND, len(packets.size)))


def _runs(places: Iterable[range], packets: Packets) -> list[list[range]]:
    """Put together the places that one decode from one keyframe comes by."""
    def group(place: range) -> int:
        return int(np.searchsorted(packets.keys, _around(place, packets).start, side="right"))

    return [list(run) for _, run in groupby(places, group)]


def _look(skimmer: Skimmer, run: list[range], packets: Packets) -> Iterator[int]:
    """Decode once along a run of places and give the pictures in it that begin a new shot."""
    cell = cell_across(skimmer.source.width)
    windows = [_around(place, packets) for place in run]
    key = _key_begun(run[-1], packets)
    if key is not None and all(window.stop <= key for window in windows[:-1]):
        windows[-1] = range(max(key - AROUND - 1, 0), key)      # nothing is decoded beyond unless it is worth it
    else:
        key = None
    for place, pictures in zip(run, _gathered(skimmer.grids(chain(*windows), key), windows), strict=True):
        if key is not None and place is run[-1]:
            pictures = _on_key(skimmer, place, pictures, packets, cell)
        yield from _cuts_among(pictures, place, cell)


def _key_begun(place: range, packets: Packets) -> int | None:
    """The keyframe that a short place ends with, if it does."""
    last = place.stop - 1
    return last if len(place) < _ONE_CUT and last in packets.grids else None


def _gathered(pictures: Iterable[Picture], windows: Sequence[range]) -> Iterator[list[Picture]]:
    """Give for each window, in order of their beginnings, those of the pictures that are in it."""
    held: deque[Picture] = deque()
    at = 0
    for picture in pictures:
        while windows[at].stop <= picture[0]:
            yield [one for one in held if one[0] in windows[at]]
            at += 1
        while held and held[0][0] < windows[at].start:
            held.popleft()
        held.append(picture)
    for window in windows[at:]:
        yield [one for one in held if one[0] in window]


def _on_key(skimmer: Skimmer, place: range, before: list[Picture], packets: Packets, cell: int) -> list[Picture]:
    """Return the pictures around a keyframe if it may begin a new shot for all that those before it say, else none."""
    key = place.stop - 1
    steps = Steps([grid for _, grid in before] + [packets.grids[key]], cell)
    if before and not steps.is_large(len(before)):
        return []
    if not before or before[-1][0] != key - 1:              # leading pictures stand between: look at them too
        return list(skimmer.grids(_around(place, packets)))
    if not steps.stands_out(len(before)):
        return []
    return before + list(skimmer.grids(range(key, min(key + AROUND, len(packets.size)))))


def _cuts_among(pictures: list[Picture], place: range, cell: int) -> list[int]:
    """The pictures of a place that begin a new shot, judged by those around it."""
    steps = Steps([grid for _, grid in pictures], cell)
    chosen = [at for at in range(1, len(pictures)) if pictures[at][0] in place]
    if len(place) < _ONE_CUT:
        chosen = sorted(chosen, key=lambda at: -steps.plain(at).worst)[:1]
    return [pictures[at][0] for at in chosen if steps.is_cut(at)]
