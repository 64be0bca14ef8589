"""What happened between snap and dead ball, as a person says it.

A :class:`Play` holds only what was said; the tracker derives the rest. Everything in it is
told from the point of view of the team that snapped or kicked (``offense``), so that a
correction to an earlier play, even one that turns possession around, leaves later plays
meaning what they meant.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import StrEnum

from .field import Team
from .situation import Next


class Side(StrEnum):
    """A team by its role when the ball was put in play; the kicking team is the offense."""

    OFFENSE = "offense"
    DEFENSE = "defense"

    @property
    def other(self) -> Side:
        """The other side."""
        return Side.DEFENSE if self is Side.OFFENSE else Side.OFFENSE


class PlayKind(StrEnum):
    """What kind of play was run."""

    RUN = "run"
    PASS = "pass"
    SACK = "sack"
    KNEEL = "kneel"
    SPIKE = "spike"
    PUNT = "punt"
    FIELD_GOAL = "field goal"
    KICKOFF = "kickoff"
    SAFETY_FREE_KICK = "safety free kick"
    TRY_KICK = "try kick"
    TRY_RUN = "try run"
    TRY_PASS = "try pass"
    NO_PLAY = "no play"                  # a foul before the snap or between downs; the ball was never in play
    COIN_TOSS = "coin toss"
    TIMEOUT = "timeout"
    END_OF_PERIOD = "end of period"
    MEASUREMENT = "measurement"
    REPLAY_REVERSAL = "replay reversal"  # revises the play before it
    INADVERTENT_WHISTLE = "inadvertent whistle"


IN_PLAY = frozenset({PlayKind.RUN, PlayKind.PASS, PlayKind.SACK, PlayKind.KNEEL, PlayKind.SPIKE, PlayKind.PUNT,
                     PlayKind.FIELD_GOAL, PlayKind.KICKOFF, PlayKind.SAFETY_FREE_KICK, PlayKind.TRY_KICK,
                     PlayKind.TRY_RUN, PlayKind.TRY_PASS})
"""Plays in which the ball is snapped or kicked; the rest are events between them."""


class Outcome(StrEnum):
    """What the pass, kick, try or measurement came to."""

    COMPLETE = "complete"
    INCOMPLETE = "incomplete"
    INTERCEPTED = "intercepted"
    GOOD = "good"
    NO_GOOD = "no good"
    BLOCKED = "blocked"
    RETURNED = "returned"
    FAIR_CATCH = "fair catch"
    DOWNED = "downed"
    MUFFED = "muffed"
    OUT_OF_BOUNDS = "out of bounds"
    TOUCHBACK = "touchback"
    MADE = "made"
    SHORT = "short"


class EventKind(StrEnum):
    """What happened to the ball within a play."""

    LATERAL = "lateral"
    FUMBLE = "fumble"
    RECOVERY = "recovery"
    OWN_RECOVERY = "own recovery"        # by the player who fumbled or muffed
    INTERCEPTION = "interception"
    CATCH = "catch"                      # a kick is caught or picked up
    MUFF = "muff"
    BLOCK = "block"
    OUT_OF_BOUNDS = "out of bounds"
    LANDING = "landing"                  # an untouched kick strikes the ground; beyond the line it has crossed it
    FORCED_TOUCHING = "forced touching"  # blocked or batted into the ball by an opponent: counts as not touching
    BAT = "bat"                          # bats or kicks a loose ball: the force that moves it on is his
    MOMENTUM = "momentum"                # carried into his own end zone by the motion in which he got the ball


class Score(StrEnum):
    """A score as said; if none is said, it follows from where the ball became dead."""

    TOUCHDOWN = "touchdown"
    SAFETY = "safety"
    FIELD_GOAL = "field goal"
    SINGLE = "single"
    NONE = "none"


@dataclass(frozen=True, slots=True)
class BallEvent:
    """One thing that happened to the ball, in order. ``spot`` as in :mod:`.field`, for the offense."""

    kind: EventKind
    spot: float | None = None
    by: Side | None = None


class FoulTime(StrEnum):
    """When a foul was committed."""

    BEFORE_SNAP = "before the snap"
    DURING_DOWN = "during the down"
    DURING_KICK = "during the kick"
    AFTER_POSSESSION_CHANGE = "after change of possession"
    AFTER_DOWN = "after the down"


class FoulDecision(StrEnum):
    """What became of a foul's penalty."""

    ACCEPTED = "accepted"
    DECLINED = "declined"
    OFFSET = "offset"


class EnforcedAt(StrEnum):
    """Where a penalty is measured from, in rulebook words."""

    PREVIOUS_SPOT = "previous spot"
    SPOT_OF_FOUL = "spot of foul"
    END_OF_RUN = "end of run"
    ALL_BUT_ONE = "all but one"          # end of the run, but spot of foul for the offense behind it
    END_OF_KICK = "end of kick"          # post-scrimmage kick
    DEAD_BALL_SPOT = "dead-ball spot"
    SUCCEEDING_SPOT = "succeeding spot"
    TRY = "try"
    KICKOFF = "kickoff"
    FIXED_SPOT = "fixed spot"            # a free kick out of bounds: so many yards beyond the kicking spot


@dataclass(frozen=True, slots=True)
class Foul:
    """A foul. ``name`` is the rulebook's key (``holding``, ``defensive pass interference``).
    ``spot`` is where it happened. The rest is only set where a person gives the enforcement by
    hand (``yards``, ``enforced_from``, ``automatic_first_down``, ``loss_of_down``) or takes
    another of the choices that the rules offer (``at``)."""

    name: str
    by: Side
    spot: float | None = None
    when: FoulTime | None = None
    decision: FoulDecision | None = None
    yards: float | None = None
    enforced_from: float | None = None
    at: EnforcedAt | None = None
    automatic_first_down: bool | None = None
    loss_of_down: bool | None = None
    runoff: bool = False                 # ten seconds are taken off the clock with it


@dataclass(frozen=True, slots=True)
class SituationOverride:
    """A situation set by hand before a play; None fields are left to the tracker."""

    offense: Team | None = None
    down: int | None = None
    yards_to_gain: float | None = None
    ball_on: float | None = None
    period: int | None = None
    score_home: int | None = None
    score_visitors: int | None = None
    next: Next | None = None
    timeouts_home: int | None = None
    timeouts_visitors: int | None = None
    second_half_kicker: Team | None = None
    home_faces_right: bool | None = None


@dataclass(frozen=True, slots=True)
class Play:
    """One play as said.

    ``gain``: yards from the previous spot to the end of the run or catch by the offense. ``kick_to``: where a kick was
    caught, recovered or came to rest. ``spot``: where the ball became dead, if that does not follow from ``gain`` or
    ``kick_to``. ``possession``: who had the ball when it became dead, if that does not follow. ``kick_from``: where a
    field goal was kicked from, if not where it usually is. ``clock``: seconds left in the period when the play began,
    if tagged. ``team``: for a timeout or coin toss, whose it is / who won it, for a free kick who kicks, if that does
    not follow; ``choice``: what the winner of a toss chose (``receive``, ``kick``, ``defer``, ``defend``), what was
    done after an inadvertent whistle (``replay``, ``take the spot``), or ``fair catch kick`` for a field goal that was
    one. ``stands_as``: for a replay reversal, the kind of play it became, if not the same kind. ``manner``: how a run,
    pass or kick was made, in the notation's words (``draw``, ``screen``, ``onside``); nothing follows from it.
    ``override`` (``said`` in files): the situation before the play as set by hand; an empty one becomes None, so that
    plays compare equal.
    """

    kind: PlayKind
    outcome: Outcome | None = None
    gain: float | None = None
    kick_to: float | None = None
    spot: float | None = None
    possession: Side | None = None
    events: tuple[BallEvent, ...] = ()
    score: Score | None = None
    fouls: tuple[Foul, ...] = ()
    clock: int | None = None
    override: SituationOverride | None = field(default=None, metadata={"stored": "said"})
    team: Team | None = None
    choice: str | None = None
    comment: str = ""
    kick_from: float | None = None
    stands_as: PlayKind | None = None
    manner: str = ""

    def __post_init__(self) -> None:
        if self.override == SituationOverride():
            object.__setattr__(self, "override", None)
