"""One play folded into the game, and how sure that is."""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import StrEnum

from .plays import Play
from .situation import Situation


class Certainty(StrEnum):
    """How sure a step is."""

    CERTAIN = "certain"          # follows from the rulebook and what was said
    ASSUMED = "assumed"          # something was not said; the usual was taken
    CONTRADICTED = "contradicted"  # a person set something by hand that does not follow


@dataclass(frozen=True, slots=True)
class Step:
    """One play folded into the game.

    ``dead_ball_on`` is where the ball became dead, before any enforcement, in the terms of ``before.offense`` (None
    where there was no ball in play). ``result`` is what a coach says: "first down", "stopped short", "turnover on
    downs", "touchdown". ``explanation`` is one line a person can follow. ``choices`` are the other rulings that the
    rules would have allowed, usual one taken. ``problems`` say, each in one line, why the tag cannot be right; empty if
    it can. ``reasons`` say why the step is uncertain: what was set by hand, what was assumed, and the problems.
    ``stands`` is False where a penalty takes the play away: it then counts in no statistics. ``gain`` is what the
    offense's own run or completed pass from scrimmage counts for, in yards: up to where it first lost the ball, or to
    the spot of its own foul beyond the line; 0 for a pass that was not completed, None where it does not count.
    ``about`` is the play that a step between the plays follows: what a measurement or a replay reversal would be about.
    None for a play itself.
    """

    before: Situation
    play: Play
    after: Situation
    result: str
    explanation: str
    certainty: Certainty = Certainty.CERTAIN
    dead_ball_on: float | None = None
    points_home: int = 0
    points_visitors: int = 0
    first_down: bool = False
    possession_changed: bool = False
    down_repeated: bool = False
    choices: tuple[str, ...] = ()
    problems: tuple[str, ...] = ()
    reasons: tuple[str, ...] = ()
    stands: bool = True
    gain: float | None = None
    about: Step | None = field(default=None, repr=False, compare=False)

    @property
    def is_disputed(self) -> bool:
        """Whether what was said contradicts itself or the rules."""
        return bool(self.problems) or self.certainty is Certainty.CONTRADICTED
