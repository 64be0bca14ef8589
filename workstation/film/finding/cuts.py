"""Find the hard cuts inside one file, where the camera was stopped and started, exact to the frame.

Goes from cheap to expensive:

* All packets are read and only keyframes decoded, in one pass (:mod:`.packets`).
* A cut between keyframes mostly leaves a packet of nearly a keyframe's size among small ones, for what follows cannot
  be predicted from what came before (:mod:`.cut_candidates`). Only there are the pictures around it decoded.
* Where a steady rate of bits or noise hides that, and where the cut lies on a keyframe, the two keyframes differ. Such
  a group is decoded coarsely, a third of its frames, for a step that stands out (:mod:`.coarse_pass`); then the
  pictures around that step are decoded.
* Concatenated recordings leave a timestamp gap (:mod:`.concatenation`); a camera may have gone on
  from one to the next, so the pictures have to differ all the same.
* Encoders with scene detection, and restarted cameras, begin a group early at a cut. Where the early keyframes that
  were checked are cuts, the others count as cuts, too, and groups of full length are scanned only where they are
  unlike their neighbours (:mod:`.early_keyframes`).

A cut is one step to another picture: what the step brings cannot be explained by movement, the pictures before and
after it hardly change, and the old picture does not come back (a flash; :mod:`.cut_decision`).
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
from .coarse_pass import GroupSteps, NumberedGrid, coarse_pass, comparison_window
from .concatenation import concatenation_keyframes
from .cut_candidates import Gop, candidate_gops
from .cut_decision import FrameSteps
from .early_keyframes import cheapest_sample, early_keyframes, marks_every_shot, obvious_cut_keyframes, unlike_keyframes
from .frame_difference import compensated_difference, half_size
from .luma_grid import cell_across
from .packets import WORKERS, Packets, read_packets
from .selective_decoder import SelectiveDecoder, selective_decoder
from .settings import CUTS

_Item = TypeVar("_Item")


def find_cuts(source: Source, index: FrameIndex, *, progress: Callable[[float], None] = lambda share: None,
              cancelled: Callable[[], bool] = lambda: False) -> list[int]:
    """Return the numbers of the pictures that begin a new shot inside a source (never 0).

    ``progress(share)`` is called with the share done. Raises NoPicture, Cancelled.
    """
    packets = read_packets(source, index, lambda share: progress(share * 0.4), cancelled)
    early, regular = early_keyframes(packets), set(packets.keys[1:][packets.regular].tolist())
    groups = candidate_gops(packets, early)
    concatenated = concatenation_keyframes(index, packets, early)
    plain = obvious_cut_keyframes(packets, early) - concatenated
    first: list[Gop] = []
    trusted_gops: list[Gop] = []
    regular_gops: list[Gop] = []
    trusted = plain - cheapest_sample(plain, packets)
    seconds = len(index) * float(source.frame_ticks * source.time_base)
    known = concatenated if marks_every_shot(concatenated, concatenated, seconds) else set()
    for group in groups:
        if group.stop in known:
            group = group._replace(scan_all=False)
        kind = trusted_gops if group.stop in trusted else regular_gops if group.stop in regular and early else first
        (kind if group.scan_all else first).append(group)

    finder = _CutFinder(source, index, packets, lambda done: progress(min(0.4 + 0.6 * done / len(groups), 1.0)),
                       cancelled)
    finder.check_keyframes(concatenated, flashes=False)
    finder.scan(first)
    finder.scan(trusted_gops, trust_keyframes=plain - trusted <= finder.cuts)
    checked = {group.stop for group in first if group.scan_all} & early | concatenated
    if marks_every_shot(checked, finder.cuts, seconds):
        finder.check_keyframes(checked - finder.cuts - concatenated, flashes=True)
        unlike = set() if early <= known else unlike_keyframes(packets, early)        # else timestamps say it of all
        finder.scan([group for group in regular_gops if group.stop in unlike], hidden=False)
        rest = [group for group in regular_gops if group.stop not in unlike]
        if finder.scan([group._replace(scan_all=False) for group in rest if group.candidates]):
            finder.scan(rest)          # it is not so for every shot
    else:
        finder.scan(regular_gops)
    if cancelled():
        raise Cancelled("Finding shots was stopped.")
    return sorted(finder.cuts)


class _CutFinder:
    """Scans groups in several threads; ``cuts`` are those found so far."""

    def __init__(self, source: Source, index: FrameIndex, packets: Packets, progress: Callable[[int], None],
                 cancelled: Callable[[], bool]) -> None:
        self.cuts: set[int] = set()
        self._source, self._index, self._packets = source, index, packets
        self._progress, self._cancelled = progress, cancelled
        self._done = 0

    def scan(self, groups: list[Gop], *, trust_keyframes: bool = False, hidden: bool = True) -> list[int]:
        """Scan groups and return the frames that begin a new shot in them. With ``trust_keyframes`` their next
        keyframes count as cuts unless what follows contradicts it; not ``hidden``: leave out cuts that packet sizes do
        not suggest."""
        def cuts_in(decoder: SelectiveDecoder, group: Gop) -> list[int]:
            found = []
            if trust_keyframes and _is_obvious_cut(decoder, group, self._packets):
                found.append(group.stop)
                group = group._replace(scan_all=False)
            if group.scan_all or group.candidates:
                found += _scan_gop(decoder, group, self._packets, self._cancelled, hidden)
            self._done += 1
            self._progress(self._done)
            return found

        longest_first = sorted(groups, key=lambda group: group.start - group.stop)
        return self._run_workers(longest_first, cuts_in)

    def check_keyframes(self, keys: set[int], *, flashes: bool) -> None:
        """Check keyframes that something else suggests as cuts; ``flashes`` if a flash would suggest them, too."""
        def cuts_at(decoder: SelectiveDecoder, key: int) -> list[int]:
            pictures = list(decoder.grids(comparison_window(range(key, key + 1), len(self._packets.size))))
            steps = FrameSteps([grid for _, grid in pictures], cell_across(self._source.width))
            return [key for at, (number, _) in enumerate(pictures)
                    if at and number == key and steps.leads_neighbours(at) and not (flashes and steps.is_flash(at))]

        self._run_workers(sorted(keys), cuts_at)

    def _run_workers(self, what: Iterable[_Item], cuts_in: Callable[[SelectiveDecoder, _Item], list[int]]) -> list[int]:
        waiting = deque(what)
        found: list[int] = []

        def work() -> None:
            with selective_decoder(self._source, self._index) as decoder:
                while not self._cancelled():
                    try:
                        one = waiting.popleft()
                    except IndexError:
                        return
                    found.extend(cuts_in(decoder, one))

        if waiting:
            with ThreadPoolExecutor(WORKERS, "finding-shots") as pool:
                for worker in [pool.submit(work) for _ in range(min(WORKERS, len(waiting)))]:
                    worker.result()
        self.cuts.update(found)
        return found


def _is_obvious_cut(decoder: SelectiveDecoder, group: Gop, packets: Packets) -> bool:
    """Do the pictures after a group's next keyframe change little against what came with it, and none much more than
    the others? Else it may be a flash, or come some pictures before the cut."""
    before, key = packets.grids[group.start], group.stop
    after = [grid for _, grid in decoder.grids(range(key, min(key + CUTS.window + 1, len(packets.size))))]
    if len(after) <= CUTS.window:
        return False
    step = compensated_difference(half_size(before), half_size(after[0])).mean
    *small, largest = sorted(compensated_difference(half_size(one), half_size(other)).mean
                             for one, other in pairwise(after))
    return largest <= CUTS.settled * step and (largest < CUTS.step_mean or largest <= CUTS.lone * small[-1])


def _scan_gop(decoder: SelectiveDecoder, group: Gop, packets: Packets, cancelled: Callable[[], bool],
              hidden: bool) -> list[int]:
    """Return the frames that begin a new shot in a group and, if all of it is to be scanned, with the next keyframe.

    Where packet sizes suggest one cut rightly, they would have suggested another. Where a constant bit rate hides cuts,
    and the keyframes differ all the same, other steps that stand out are checked.
    """
    suggested = sum(len(comparison_window(candidate, len(packets.size))) for candidate in group.candidates)
    if suggested >= (CUTS.dense if group.scan_all else CUTS.dense_candidates) * (group.stop - group.start):
        key = group.stop if group.stop in packets.grids else None
        if not group.scan_all:
            return list(_exact_pass(decoder, group.candidates, packets))
        along = GroupSteps(group._replace(candidates=[]), packets)
        found = list(_exact_pass(decoder, group.candidates, packets, key, along))
        if hidden and not found:
            found += _exact_pass(decoder, along.end().hidden, packets)
        return found
    result = coarse_pass(decoder, group, packets, cancelled)
    cell = cell_across(decoder.source.width)
    found, unsure = [], []
    for candidate, pictures in result.suggested:
        cuts = _cuts_in_window(pictures, candidate, cell) if pictures else []
        if cuts and result.exact:
            found += cuts
        elif cuts or not pictures:
            unsure.append(candidate)
    found += _exact_pass(decoder, sorted(unsure, key=lambda candidate: candidate.start), packets)
    if group.scan_all and group.stop in packets.grids and not cancelled():
        found += _check_keyframe(decoder, group.stop, result.tail, packets)
    if hidden and not set(found) - {group.stop}:        # a cut at the keyframe says nothing of packets before it
        found += _exact_pass(decoder, result.hidden, packets)
    return found


def _check_keyframe(decoder: SelectiveDecoder, key: int, before: list[NumberedGrid], packets: Packets) -> list[int]:
    """Return the keyframe if it begins a new shot, or another of the pictures that are shown before it and come after
    it in the file. ``before`` are those that come before it."""
    cell = cell_across(decoder.source.width)
    steps = FrameSteps([grid for _, grid in before] + [packets.grids[key]], cell)
    if before and not steps.is_large(len(before)):
        return []
    candidate = range(key, key + 1)
    if not before or before[-1][0] != key - 1:              # leading pictures stand between: look at them too
        candidate = _candidate_before_keyframe(key, packets)
        return _cuts_in_window(list(decoder.grids(comparison_window(candidate, len(packets.size)))), candidate, cell)
    if not steps.stands_out(len(before)):
        return []
    after = list(decoder.grids(range(key, min(key + CUTS.window + 1, len(packets.size)))))
    if len(after) > CUTS.window:
        ending = compensated_difference(after[-2][1], after.pop()[1])
        if ending.mean >= CUTS.flash_ends * steps.moved(len(before)).mean:
            return []
    return _cuts_in_window([*before, *after], candidate, cell)


def _candidate_before_keyframe(key: int, packets: Packets) -> range:
    """The place of a keyframe and of the pictures shown before it that come after it in the file."""
    begin = max(key - CUTS.one_cut, 0)
    anchors = np.flatnonzero(packets.anchor[begin:key]) + begin
    return range(int(anchors[-1]) + 1 if len(anchors) else max(key - 3, 1), key + 1)


def _exact_pass(decoder: SelectiveDecoder, candidates: list[range], packets: Packets,
                key: int | None = None, along: GroupSteps | None = None) -> Iterator[int]:
    """Decode every frame around candidates, and up to a keyframe after them, and yield the frames that begin a shot.
    On the way the anchor frames are added to ``along``.

    A keyframe shortly before a candidate would undo the drift of frames that were not deblocked, in as large a step.
    """
    total, keys = len(packets.size), packets.keys
    drifting: list[range] = []
    plain: list[range] = []
    for candidate in candidates:
        begin = comparison_window(candidate, total).start
        (drifting if ((begin < keys) & (keys < candidate.start)).any() else plain).append(candidate)
    if drifting:
        yield from _decode_candidates(decoder.deblocking, drifting, packets)
    if plain or along is not None:
        yield from _decode_candidates(decoder, plain, packets, key, along)


def _decode_candidates(decoder: SelectiveDecoder, candidates: list[range], packets: Packets, key: int | None = None,
                       along: GroupSteps | None = None) -> Iterator[int]:
    cell = cell_across(decoder.source.width)
    windows = [comparison_window(candidate, len(packets.size)) for candidate in candidates]
    beyond = key is None or (bool(windows) and windows[-1].stop > key)
    if key is not None:
        windows.append(range(max(key - CUTS.window - 1, 0), key))
    wanted = chain(along.anchors() if along is not None else (), *windows)
    decoded = decoder.grids(wanted, None if beyond else key)
    split = _split_into_windows(decoded if along is None else along.passed(decoded), windows)
    for candidate, pictures in zip(candidates, split, strict=False):     # the last are those before the keyframe
        yield from _cuts_in_window(pictures, candidate, cell)
    if key is not None:
        yield from _check_keyframe(decoder, key, next(split), packets)


def _split_into_windows(pictures: Iterable[NumberedGrid], windows: Sequence[range]) -> Iterator[list[NumberedGrid]]:
    """Give for each window, in order of their beginnings, those of the pictures that are in it."""
    held: deque[NumberedGrid] = deque()
    at = 0
    for picture in pictures:
        while at < len(windows) and windows[at].stop <= picture[0]:
            yield [one for one in held if one[0] in windows[at]]
            at += 1
        while held and (at == len(windows) or held[0][0] < windows[at].start):
            held.popleft()
        held.append(picture)
    for window in windows[at:]:
        yield [one for one in held if one[0] in window]


def _cuts_in_window(pictures: list[NumberedGrid], candidate: range, cell: int) -> list[int]:
    """The frames of a candidate that begin a new shot, judged by those around it."""
    steps = FrameSteps([grid for _, grid in pictures], cell)
    chosen = [at for at in range(1, len(pictures)) if pictures[at][0] in candidate]
    if len(candidate) < CUTS.one_cut:
        chosen = sorted(chosen, key=lambda at: -steps.moved(at).mean)[:1]
    return [pictures[at][0] for at in chosen if steps.is_cut(at)]
