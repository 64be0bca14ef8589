"""Where the camera was stopped and started inside one file: hard cuts, to the picture.

Think before decoding; go from coarse to fine.

* All packets are read, and only keyframes decoded, in one pass (:mod:`.packets`).
* A cut between keyframes mostly leaves a packet of nearly a keyframe's size among small ones, for what follows cannot
  be predicted from what came before (:mod:`.places`). Only there are the pictures around it decoded.
* Where a steady rate of bits or noise hides that, and where the cut lies on a keyframe, the two keyframes differ. Such
  a group is passed over roughly, a third of its pictures, for a step that stands out (:mod:`.rough`); then the pictures
  around that step are decoded.
* Recordings that were joined into one file meet where its clock, even otherwise, is not (:mod:`.joins`); a camera may
  have gone on from one to the next, so the pictures have to differ all the same.
* Encoders that watch for new scenes, and cameras that begin anew when they are started, begin a group early at a cut.
  Where those early keyframes that were looked at proved to be cuts, others are believed, and groups that came in time
  are looked at only where they are unlike those beside them (:mod:`.early`).

A cut is one step to another picture: what the step brings cannot be explained by movement, the pictures before and
after it hardly change, and the old picture does not come back (a flash; :mod:`.steps`).
"""

from __future__ import annotations

from collections import deque
from collections.abc import Callable, Iterable, Iterator, Sequence
from concurrent.futures import ThreadPoolExecutor
from itertools import chain, pairwise
from typing import TypeVar

import numpy as np

from ...cancelling import Cancelled
from ..film import Source
from ..index import FrameIndex
from .coarse_pass import Picture, around, passed
from .comparing import change, halved
from .cut_candidates import Group, groups_in
from .early_keyframes import early_keys, is_begun_anew, plain_keys, sampled, unlike_keys
from .grids import cell_across
from .joins import joins
from .packets import WORKERS, Packets, read_packets
from .skimming import Skimmer, skimming
from .steps import AROUND, Steps

_SETTLED = 0.25             # of the step to a keyframe: how large those after it may be
_FLASH_ENDS = 0.8           # of the step to a keyframe: a step so large soon after it ends a flash
_DENSE, _DENSE_PLACES = 0.2, 0.15       # of a group's pictures around places that packets betray, in one to be looked at whole
                            # and in another: those are looked at first, without passing over the group roughly
_ONE_CUT = 16               # a place of fewer pictures has one cut at most, where the step is largest

_Looked = TypeVar("_Looked")


def find_cuts(source: Source, index: FrameIndex, *, progress: Callable[[float], None] = lambda share: None,
              cancelled: Callable[[], bool] = lambda: False) -> list[int]:
    """Return the numbers of the pictures that begin a new shot inside a source (never 0).

    ``progress`` is told the share done. Raises NoPicture, Cancelled.
    """
    packets = read_packets(source, index, lambda share: progress(share * 0.4), cancelled)
    early, regular = early_keys(packets), set(packets.keys[1:][packets.regular].tolist())
    groups = groups_in(packets, early)
    joined = joins(index, packets, early)
    plain = plain_keys(packets, early) - joined
    first, believed, timely = [], [], []
    unsampled = plain - sampled(plain, packets)
    seconds = len(index) * float(source.frame_ticks * source.time_base)
    told = joined if is_begun_anew(joined, joined, seconds) else set()
    for group in groups:
        if group.stop in told:
            group = group._replace(whole=False)
        kind = believed if group.stop in unsampled else timely if group.stop in regular and early else first
        (kind if group.whole else first).append(group)

    finding = _Finding(source, index, packets, lambda done: progress(min(0.4 + 0.6 * done / len(groups), 1.0)),
                       cancelled)
    finding.look_at_keys(joined, flashes=False)
    finding.look(first)
    finding.look(believed, plainly=plain - unsampled <= finding.cuts)
    seen = {group.stop for group in first if group.whole} & early | joined
    if is_begun_anew(seen, finding.cuts, seconds):
        finding.look_at_keys(seen - finding.cuts - joined, flashes=True)
        unlike = set() if early <= told else unlike_keys(packets, early)        # else the clock tells of all
        finding.look([group for group in timely if group.stop in unlike], hidden=False)
        rest = [group for group in timely if group.stop not in unlike]
        if finding.look([group._replace(whole=False) for group in rest if group.places]):
            finding.look(rest)          # it is not so for every shot
    else:
        finding.look(timely)
    if cancelled():
        raise Cancelled("Finding shots was stopped.")
    return sorted(finding.cuts)


class _Finding:
    """Looks at groups, several side by side; ``cuts`` are those found until now."""

    def __init__(self, source: Source, index: FrameIndex, packets: Packets, progress: Callable[[int], None],
                 cancelled: Callable[[], bool]) -> None:
        self.cuts: set[int] = set()
        self._source, self._index, self._packets = source, index, packets
        self._progress, self._cancelled = progress, cancelled
        self._done = 0

    def look(self, groups: list[Group], *, plainly: bool = False, hidden: bool = True) -> list[int]:
        """Look at groups and return the pictures that begin a new shot in them; ``plainly`` if their next keyframes are
        believed to, unless what follows those says otherwise; not ``hidden`` if no cut is between keyframes that no
        packet betrays."""
        def cuts_in(skimmer: Skimmer, group: Group) -> list[int]:
            found = []
            if plainly and _is_plain(skimmer, group, self._packets):
                found.append(group.stop)
                group = group._replace(whole=False)
            if group.whole or group.places:
                found += _look(skimmer, group, self._packets, self._cancelled, hidden)
            self._done += 1
            self._progress(self._done)
            return found

        return self._look_at(sorted(groups, key=lambda group: group.start - group.stop), cuts_in)  # the longest first

    def look_at_keys(self, keys: set[int], *, flashes: bool) -> None:
        """Look at keyframes of which something else says that a new shot begins with them; ``flashes`` if a flash would
        say so, too."""
        def cuts_at(skimmer: Skimmer, key: int) -> list[int]:
            pictures = list(skimmer.grids(around(range(key, key + 1), len(self._packets.size))))
            steps = Steps([grid for _, grid in pictures], cell_across(self._source.width))
            return [key for at, (number, _) in enumerate(pictures)
                    if at and number == key and steps.leads(at) and not (flashes and steps.is_flash(at))]

        self._look_at(sorted(keys), cuts_at)

    def _look_at(self, what: Iterable[_Looked], cuts_in: Callable[[Skimmer, _Looked], list[int]]) -> list[int]:
        waiting = deque(what)
        found: list[int] = []

        def work() -> None:
            with skimming(self._source, self._index) as skimmer:
                while not self._cancelled():
                    try:
                        one = waiting.popleft()
                    except IndexError:
                        return
                    found.extend(cuts_in(skimmer, one))

        if waiting:
            with ThreadPoolExecutor(WORKERS, "finding-shots") as pool:
                for worker in [pool.submit(work) for _ in range(min(WORKERS, len(waiting)))]:
                    worker.result()
        self.cuts.update(found)
        return found


def _is_plain(skimmer: Skimmer, group: Group, packets: Packets) -> bool:
    """Do the pictures after a group's next keyframe change little against what came with it? Else it may be a flash."""
    before, key = packets.grids[group.start], group.stop
    after = [grid for _, grid in skimmer.grids(range(key, min(key + AROUND + 1, len(packets.size))))]
    step = change(halved(before), halved(after[0])).mean if after else 0.0
    return len(after) > AROUND and all(change(halved(one), halved(other)).mean <= _SETTLED * step
                                       for one, other in pairwise(after))


def _look(skimmer: Skimmer, group: Group, packets: Packets, cancelled: Callable[[], bool], hidden: bool) -> list[int]:
    """Return the pictures that begin a new shot in a group and, if it is to be looked at whole, with the next keyframe.

    Where the packets betray a cut, and it is one, they would have betrayed another. Where a steady rate of bits hides
    them, and the keyframes differ all the same, what else stands out is looked at.
    """
    betrayed = sum(len(around(place, len(packets.size))) for place in group.places)
    if betrayed >= (_DENSE if group.whole else _DENSE_PLACES) * (group.stop - group.start):
        key = group.stop if group.whole and group.stop in packets.grids else None
        found = list(_decided(skimmer, group.places, packets, key))
        if found or not group.whole:
            return found
        group = group._replace(places=[])
    seen = passed(skimmer, group, packets, cancelled)
    cell = cell_across(skimmer.source.width)
    found, unsure = [], []
    for place, pictures in seen.betrayed:
        cuts = _cuts_among(pictures, place, cell) if pictures else []
        if cuts and seen.exact:
            found += cuts
        elif cuts or not pictures:
            unsure.append(place)
    found += _decided(skimmer, sorted(unsure, key=lambda place: place.start), packets)
    if group.whole and group.stop in packets.grids and not cancelled():
        found += _at_key(skimmer, group.stop, seen.tail, packets)
    return found or (list(_decided(skimmer, seen.hidden, packets)) if hidden else [])


def _at_key(skimmer: Skimmer, key: int, before: list[Picture], packets: Packets) -> list[int]:
    """Return the keyframe if it begins a new shot, or another of the pictures that are shown before it and come after it
    in the file. ``before`` are those that come before it."""
    cell = cell_across(skimmer.source.width)
    steps = Steps([grid for _, grid in before] + [packets.grids[key]], cell)
    if before and not steps.is_large(len(before)):
        return []
    place = range(key, key + 1)
    if not before or before[-1][0] != key - 1:              # leading pictures stand between: look at them too
        place = _before_key(key, packets)
        return _cuts_among(list(skimmer.grids(around(place, len(packets.size)))), place, cell)
    if not steps.stands_out(len(before)):
        return []
    after = list(skimmer.grids(range(key, min(key + AROUND + 1, len(packets.size)))))
    *judged, last = after if len(after) > AROUND else [*after, None]
    if last is not None and change(judged[-1][1], last[1]).mean >= _FLASH_ENDS * steps.moved(len(before)).mean:
        return []
    return _cuts_among([*before, *judged], place, cell)


def _before_key(key: int, packets: Packets) -> range:
    """The place of a keyframe and of the pictures shown before it that come after it in the file."""
    begin = max(key - _ONE_CUT, 0)
    anchors = np.flatnonzero(packets.anchor[begin:key]) + begin
    return range(int(anchors[-1]) + 1 if len(anchors) else max(key - 3, 1), key + 1)


def _decided(skimmer: Skimmer, places: list[range], packets: Packets, key: int | None = None) -> Iterator[int]:
    """Decode once along some places, and up to a keyframe after them, and give the pictures that begin a new shot."""
    if not places:
        return
    cell = cell_across(skimmer.source.width)
    windows = [around(place, len(packets.size)) for place in places]
    beyond = key is None or windows[-1].stop > key
    if key is not None:
        windows.append(range(max(key - AROUND - 1, 0), key))
    seen = _gathered(skimmer.grids(chain(*windows), None if beyond else key), windows)
    for place, pictures in zip(places, seen, strict=False):     # the last are those before the keyframe
        yield from _cuts_among(pictures, place, cell)
    if key is not None:
        yield from _at_key(skimmer, key, next(seen), packets)


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


def _cuts_among(pictures: list[Picture], place: range, cell: int) -> list[int]:
    """The pictures of a place that begin a new shot, judged by those around it."""
    steps = Steps([grid for _, grid in pictures], cell)
    chosen = [at for at in range(1, len(pictures)) if pictures[at][0] in place]
    if len(place) < _ONE_CUT:
        chosen = sorted(chosen, key=lambda at: -steps.moved(at).mean)[:1]
    return [pictures[at][0] for at in chosen if steps.is_cut(at)]
