"""The lens is clean: no drop, no smear."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from ..camera_rule import CameraRule, Trouble
from ..camera_work import CameraWork
from ..footage import Snap, Take
from ..screening import Screening

if TYPE_CHECKING:
    from ...film.camera_work.passage import Passage


class CleanLens(CameraRule):
    """``share``: the share of the picture that a drop or smear may cover."""

    title = "Clean lens"
    label = "clean lens"
    reason = ("A drop on the lens stays in the picture for every play until somebody wipes it, and the players run "
              "through it one by one.")

    fault = "Something on the lens"
    why = ("A spot stays at the same place in the picture while the camera moves: a drop, a smear, or writing of the "
           "camera's own. Whatever passes behind it is lost.")
    habit = ("In rain or mist point the lens down between plays, keep a hood on it and a dry cloth at hand, and wipe "
             "before the teams line up; switch the camera's own writing off.")

    share: float

    def fault_of(self, passage: Passage) -> float | None:
        """Less for a longer shot: all clean shots are equally good, and the longest is chosen."""
        return -passage.seconds

    def troubles(self, screening: Screening, work: CameraWork, take: Take, passage: Passage,
                 snap: Snap | None) -> Iterator[Trouble]:
        """Each spot that was seen over the shot."""
        for seen in work.spots_in(take.shot):
            spot = seen.spot
            if spot.share < self.share:
                continue
            across = "left" if spot.right < 1 / 3 else "right" if spot.right > 2 / 3 else "in the middle"
            high = "at the top" if spot.down < 1 / 3 else "at the bottom" if spot.down > 2 / 3 else "half-way up"
            start = max(passage.start, _seconds(take, passage, seen.start.source, seen.start.pts, passage.start))
            end = min(passage.end, _seconds(take, passage, seen.end.source, seen.end.pts, passage.end))
            yield Trouble(start, max(end, start), start, spot.share / max(self.share, 1e-4),
                          f"A spot of {spot.wide:.0%} of the picture's width, {high}, {across}, stays while the camera "
                          "moves")


def _seconds(take: Take, passage: Passage, source: str, pts: int, other: float) -> float:
    """When something was seen, in the shot's own source; *other* if it was seen in another file."""
    if source != take.shot.start.source:
        return other
    start, end = take.shot.start.pts, take.shot.end.pts
    return passage.start + (pts - start) / max(end - start, 1) * passage.seconds
