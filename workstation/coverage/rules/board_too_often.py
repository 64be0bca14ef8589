"""The board, shown although nothing on it had changed but the clock."""

from __future__ import annotations

from collections.abc import Iterator

from ...football.situation import Situation
from ...tagging.model import ShotKind
from ..finding import Direction
from ..footage import Snap
from ..rule import Judged, Rule
from ..screening import Screening
from ..speaking import spoken_seconds
from ..watching import readable_board


class BoardTooOften(Rule):
    """``late``: seconds left in the half from which the clock is a reason of its own; ``apart``: one look without a
    reason in so many plays is let pass."""

    title = "Board too often"
    label = "board not needed"
    reason = ("The board belongs after a score and at the end of a period, and when the clock decides. Shown after "
              "every play it costs minutes, and nobody looks at it any more.")

    late: float
    apart: int

    def judge(self, screening: Screening) -> Iterator[Judged]:
        """Yield a finding for each look at the scoreboard that tells nothing new."""
        shown: tuple[int, int, int] | None = None       # the score and the period that a viewer has read
        since = self.apart                              # plays since a look without a reason
        for before, between, after in screening.gaps:
            for take in between.takes:
                if not take.shows_score or not readable_board(take, screening.assume):
                    continue
                now = _on_the_board(after.step.before if after else screening.step(-1).after)
                needless = take.shot.kind is ShotKind.SCOREBOARD and shown in (None, now) and (
                    self._tells_nothing(screening, before, after))
                if needless and after and since < self.apart:
                    yield self.finding(
                        screening, f"shot {take.shot.id}", take.shot.start, direction=Direction.OVERDONE,
                        until=take.shot.end, title=f"Board not needed before {screening.spoken(after.step.before)}",
                        why="Nothing on the board had changed since it was last shown, but for the clock. Go straight "
                            "to the play.",
                        habit="Show the board after a score, at the end of a period, and when the clock decides.",
                        evidence=(f"The shot takes {spoken_seconds(take.seconds)}.",), seconds=take.seconds,
                        strength=0.4, play=after.tag.id, shot=take.shot.id, period=after.step.before.period)
                shown = now
                if needless:
                    since = 0
            since += 1
            if after and after.take.shows_score:
                shown = _on_the_board(after.step.before)

    def _tells_nothing(self, screening: Screening, before: Snap | None, after: Snap | None) -> bool:
        return before is not None and after is not None and not (
            self._late(screening, after.step.before) or self._helps(screening, after) or _scored(before)
            or before.step.before.period != after.step.before.period)

    def _late(self, screening: Screening, before: Situation) -> bool:
        periods = screening.rulebook.periods
        half = before.period in (periods // 2, periods) or before.period > periods
        return half and before.clock is not None and before.clock <= self.late

    def _helps(self, screening: Screening, snap: Snap) -> bool:
        """Whether the board told the down to a viewer who was unsure of it."""
        belief = screening.beliefs[screening.footage.filmed.index(snap)]
        return belief.helped and belief.unaided < screening.assume.unsure_below


def _scored(snap: Snap) -> bool:
    return bool(snap.step.points_home or snap.step.points_visitors)


def _on_the_board(situation: Situation) -> tuple[int, int, int]:
    return situation.score_home, situation.score_visitors, situation.period
