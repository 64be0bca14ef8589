"""Where the camera was stopped and started inside one file: hard cuts, to the picture.

Think before decoding; go from coarse to fine.

* All packets are read, and only keyframes decoded, in one pass (:mod:`.packets`).
* A cut between keyframes mostly leaves a packet of nearly a keyframe's size among small ones, for what follows cannot
  be predicted from what came before (:mod:`.places`). Only there are the pictures around it decoded.
* Where a steady rate of bits or noise hides that, and where the cut lies on a keyframe, the two keyframes differ. Such
  a group is decoded roughly, a third of its pictures, and searched for a step that stands out; then the pictures
  around that step are decoded.

A cut is one step to another picture: what the step brings cannot be explained by movement, the pictures before and
after it hardly change, and the old picture does not come back (a flash; :mod:`.steps`).
"""

from __future__ import annotations

from collections import deque
from collections.abc import Callable, Iterable, Iterator, Sequence
from concurrent.futures import ThreadPoolExecutor
from itertools import chain, pairwise

import numpy as np

from ..faults import Cancelled
from ..film import Source
from ..index import FrameIndex
from .comparing import Change, change, halved, plain_change
from .grids import cell_across
from .packets import WORKERS, Packets, read_packets
from .places import Group, groups_in
from .skimming import Skimmer, skimming
from .steps import AROUND, Steps, large

# In a search, times the steps around; less if the picture is quite another. Between pictures some apart even movement is
# a large step, but one as large as the next.
_SEARCHED_STANDS_OUT, _SEARCHED_FAR, _FAR_STANDS_OUT = 1.3, 12.0, 1.15
_ALL_BIDIRECTIONAL = frozenset({"hevc"})    # encoders write every picture in between as if coded in both directions
_ONE_CUT = 16               # a place of fewer pictures has one cut at most, where the step is largest

Picture = tuple[int, np.ndarray]        # its number and its grid


def find_cuts(source: Source, index: FrameIndex, *, progress: Callable[[float], None] = lambda share: None,
              cancelled: Callable[[], bool] = lambda: False) -> list[int]:
    """Return the numbers of the pictures that begin a new shot inside a source (never 0).

    ``progress`` is told the share done. Raises NoPicture, Cancelled.
    """
    packets = read_packets(source, index, lambda share: progress(share * 0.4), cancelled)
    groups = groups_in(packets)
    waiting = deque(groups)
    found: list[int] = []

    def look() -> None:
        with skimming(source, index) as skimmer:
            while not cancelled():
                try:
                    group = waiting.popleft()
                except IndexError:
                    return
                found.extend(_look(skimmer, group, packets, cancelled))
                progress(1 - 0.6 * len(waiting) / len(groups))

    with ThreadPoolExecutor(WORKERS, "finding-shots") as pool:
        for worker in [pool.submit(look) for _ in range(min(WORKERS, len(groups)))]:
            worker.result()
    if cancelled():
        raise Cancelled("Finding shots was stopped.")
    return sorted(set(found))


def _look(skimmer: Skimmer, group: Group, packets: Packets, cancelled: Callable[[], bool]) -> list[int]:
    """Return the pictures that begin a new shot in a group and with the next keyframe.

    Where the packets betray a cut, and it is one, they would have betrayed another. Where a steady rate of bits hides
    them, and the keyframes differ all the same, the group is searched.
    """
    if group.places:
        beyond = [_before_key(group.stop, packets)] if group.whole and group.stop in packets.grids else []
        found = list(_decided(skimmer, [*group.places, *beyond], packets))
        if found or not group.whole:
            return found
    places = _searched(skimmer, group, packets, cancelled)
    return list(_decided(skimmer, places, packets)) if places else []


def _before_key(key: int, packets: Packets) -> range:
    """The place of a keyframe and of the pictures shown before it that come after it in the file."""
    begin = max(key - _ONE_CUT, 0)
    anchors = np.flatnonzero(packets.anchor[begin:key]) + begin
    return range(int(anchors[-1]) + 1 if len(anchors) else max(key - 3, 1), key + 1)


def _searched(skimmer: Skimmer, group: Group, packets: Packets, cancelled: Callable[[], bool]) -> list[range]:
    """Return the places of a group at which its pictures take a larger step than around.

    Only pictures that come after all before them in the file are compared. What is wrong in them, as they are decoded
    roughly, makes the steps out of them larger, not smaller.
    """
    anchors = (np.flatnonzero(packets.anchor[group.start:group.stop]) + group.start).tolist()
    rough = skimmer.source.video_codec not in _ALL_BIDIRECTIONAL
    next_key = group.stop if group.stop in packets.grids else None
    pictures = skimmer.grids(anchors, next_key, roughly=rough)
    if next_key is not None:
        pictures = chain(pictures, [(next_key, packets.grids[next_key])])
    steps: list[tuple[range, Change]] = []
    small = ((number, halved(grid)) for number, grid in pictures)
    for (number, before), (next_number, after) in pairwise(small):
        if cancelled():                 # a group may be as long as the film
            return []
        step = plain_change(before, after)
        steps.append((range(number + 1, next_number + 1), change(before, after) if large(step) else step))
    return [place for at, (place, step) in enumerate(steps)
            if large(step) and _outstanding(step, [other for _, other in (*steps[max(at - 2, 0):at], *steps[at + 1:at + 3])])]


def _outstanding(step: Change, others: list[Change]) -> bool:
    times = _FAR_STANDS_OUT if step.mean >= _SEARCHED_FAR else _SEARCHED_STANDS_OUT
    return all(step.mean >= times * other.mean and step.spread >= times * other.spread for other in others)


def _around(place: range, packets: Packets) -> range:
    """The pictures to compare for a place."""
    return range(max(place.start - 1 - AROUND, 0), min(place.stop + AROUND, len(packets.size)))


def _decided(skimmer: Skimmer, places: list[range], packets: Packets) -> Iterator[int]:
    """Decode once along some places and give the pictures in them that begin a new shot."""
    cell = cell_across(skimmer.source.width)
    windows = [_around(place, packets) for place in places]
    key = _key_begun(places[-1], packets)
    if key is not None and all(window.stop <= key for window in windows[:-1]):
        windows[-1] = range(max(key - AROUND - 1, 0), key)      # nothing is decoded beyond unless it is worth it
    else:
        key = None
    for place, pictures in zip(places, _gathered(skimmer.grids(chain(*windows), key), windows), strict=True):
        if key is not None and place is places[-1]:
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
        chosen = sorted(chosen, key=lambda at: -steps.moved(at).mean)[:1]
    return [pictures[at][0] for at in chosen if steps.is_cut(at)]
