"""The lens is clean: no drop, no smear."""

from __future__ import annotations

from collections.abc import Iterator

from ...film.time import Instant
from ..camera_rule import CameraRule, MeasuredShot, Trouble


class CleanLens(CameraRule):
    """``share``: the share of the picture that a drop or smear may cover. ``softens``: the share of fine detail that
    may be lost behind a smear."""

    title = "Clean lens"
    label = "clean lens"
    reason = ("A drop on the lens stays in the picture for every play until somebody wipes it, and the players run "
              "through it one by one.")

    fault = "Something on the lens"
    why = ("Something stays at the same place in the picture while the camera moves: a drop, a smear, or writing of "
           "the camera's own. Whatever passes behind it is lost, or loses its edges.")
    habit = ("In rain or mist point the lens down between plays, keep a hood on it and a dry cloth at hand, and wipe "
             "before the teams line up; switch the camera's own writing off.")

    share: float
    softens: float

    def fault_of(self, shot: MeasuredShot) -> float | None:
        """Less for a longer shot: all clean shots are equally good, and the longest is chosen."""
        return -shot.passage.seconds

    def troubles(self, shot: MeasuredShot) -> Iterator[Trouble]:
        """Each spot that was seen over the shot."""
        first, last = shot.take.shot.start, shot.take.shot.end

        def seconds(seen: Instant, elsewhere: float) -> float:
            """When it was seen, in the shot's own source; *elsewhere* if it was seen in another file."""
            share = (seen.pts - first.pts) / max(last.pts - first.pts, 1)
            return shot.passage.start + share * shot.passage.seconds if seen.source == first.source else elsewhere

        for seen in shot.work.spots_in(shot.take.shot):
            spot = seen.spot
            if spot.share < self.share or 0 < spot.softens < self.softens:
                continue
            across = "left" if spot.right < 1 / 3 else "right" if spot.right > 2 / 3 else "in the middle"
            high = "at the top" if spot.down < 1 / 3 else "at the bottom" if spot.down > 2 / 3 else "half-way up"
            start = max(shot.passage.start, seconds(seen.start, shot.passage.start))
            end = max(min(shot.passage.end, seconds(seen.end, shot.passage.end)), start)
            where = f"of {spot.wide:.0%} of the picture's width, {high}, {across},"
            if spot.softens:
                yield Trouble(start, end, start, spot.softens / self.softens,
                              f"A smear {where} takes {spot.softens:.0%} of the fine detail from what passes behind it "
                              f"(up to {self.softens:.0%} pass)", "The lens is smeared")
            else:
                yield Trouble(start, end, start, spot.share / max(self.share, 1e-4),
                              f"A spot {where} stays while the camera moves")
