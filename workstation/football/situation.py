"""What is true before a snap."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from .field import Team


class Next(StrEnum):
    """What the next play must be."""

    COIN_TOSS = "coin toss"
    KICKOFF = "kickoff"
    SCRIMMAGE = "scrimmage"
    TRY = "try"
    SAFETY_FREE_KICK = "safety free kick"
    FAIR_CATCH_KICK = "fair catch kick"
    OVER = "over"


@dataclass(frozen=True, slots=True)
class Situation:
    """Everything that holds before a snap (or free kick).

    ``ball_on`` is in yards from the own goal line of ``offense``;
    before a free kick ``offense`` is the kicking team, before a try the team that scored.
    ``down`` and ``yards_to_gain`` are None unless ``next`` is scrimmage.
    ``clock`` is in seconds left in the period as last tagged, None if never said.
    ``series`` and ``drive`` count from 1 over the game; 0 before the first.
    ``kickoff_moved`` is how far fouls move the spot of the free kick that comes next towards its
    receivers (negative: back). In an extra period ``extra_first`` is the team that has or had the
    ball first and ``extra_turn`` counts: 1 its possession, 2 the other team's, 3 next score wins.
    """

    next: Next = Next.COIN_TOSS
    offense: Team | None = None
    down: int | None = None
    yards_to_gain: float | None = None
    ball_on: float | None = None
    goal_to_go: bool = False
    period: int = 1
    clock: int | None = None
    score_home: int = 0
    score_visitors: int = 0
    series: int = 0
    drive: int = 0
    timeouts_home: int = 3
    timeouts_visitors: int = 3
    second_half_kicker: Team | None = None   # kicks off the second half, once the toss is known
    home_faces_right: bool | None = None     # home's opponents' goal is to the press box's right, if said
    kickoff_moved: float = 0.0
    extra_first: Team | None = None
    extra_turn: int = 0

    def at(self, clock: int | None) -> Situation:
        """The same situation with another clock. Written out in full because it is made before every play:
        ``dataclasses.replace`` takes several times as long."""
        return Situation(
            self.next, self.offense, self.down, self.yards_to_gain, self.ball_on, self.goal_to_go, self.period, clock,
            self.score_home, self.score_visitors, self.series, self.drive, self.timeouts_home, self.timeouts_visitors,
            self.second_half_kicker, self.home_faces_right, self.kickoff_moved, self.extra_first, self.extra_turn,
        )

    @property
    def snap_on(self) -> float:
        """``ball_on``, which is always known before a play with the ball in play."""
        assert self.ball_on is not None
        return self.ball_on

    @property
    def snaps(self) -> Team:
        """``offense``, which is always known before a play with the ball in play."""
        assert self.offense is not None
        return self.offense

    @property
    def down_number(self) -> int:
        """``down``; 1 where none is counted, as for a free kick for goal that is played on."""
        return self.down or 1

    def score(self, team: Team) -> int:
        """Return the points of a team."""
        return self.score_home if team is Team.HOME else self.score_visitors


def way_on_film(before: Situation) -> bool | None:
    """Whether the offense goes to the right of a camera in the press box; None where nobody said."""
    if before.home_faces_right is None or before.offense is None:
        return None
    return (before.offense is Team.HOME) == before.home_faces_right


def goes_right_on_film(before: Situation) -> bool:
    """Whether the offense goes to the right of a camera in the press box; True where nobody said."""
    return way_on_film(before) is not False
