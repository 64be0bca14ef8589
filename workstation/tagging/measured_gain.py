"""What yards measured in the picture say of a play: its gain, and how far from a line it stopped."""

from __future__ import annotations

from dataclasses import dataclass, replace

from ..football.counting import GAINING
from ..football.field import spoken_yards
from ..football.plays import Outcome, Play
from ..football.step import Step

LEAST = 0.1             # yards: no error is stated as less
_WHOLE = 0.5            # yards by which a distance tagged in whole yards may be off
_CAUGHT = frozenset({None, Outcome.COMPLETE, Outcome.OUT_OF_BOUNDS})


@dataclass(frozen=True, slots=True)
class MeasuredGain:
    """``gain`` is in yards towards the goal that the offense attacks; the true gain lies within ``error`` of it in
    95 of 100 cases. ``tagged`` is the play's gain as it is tagged, None where it has none. ``beyond`` is how far
    beyond the line to gain the ball came (short of it: negative), with ``beyond_error``; None where there is no such
    line. ``has_gain`` is False for a play whose gain is more than this one number."""

    gain: float
    error: float
    tagged: float | None = None
    beyond: float | None = None
    beyond_error: float = 0.0
    has_gain: bool = True

    @property
    def told(self) -> tuple[str, ...]:
        """What was measured, in full words, a line for each thing."""
        what = spoken_measure(self.gain if self.gain >= 0 else -self.gain, self.error)
        lines = [what if round(self.gain, 1) >= 0 else f"A loss of {what}"]
        if self.tagged is not None:
            apart = abs(self.gain - self.tagged)
            fits = apart <= self.error + (_WHOLE if self.tagged == int(self.tagged) else 0.0)
            lines[0] += f"; tagged: {spoken_yards(self.tagged)}"
            lines.append("The tag fits what is seen." if fits else
                         f"The tag does not fit: {apart:.1f} yards apart, more than the error explains.")
        if not self.has_gain:
            lines.append("The play as it is tagged has no gain that could be set.")
        if self.beyond is not None:
            lines.append(_beside("the line to gain", self.beyond, self.beyond_error))
        return tuple(lines)


def spoken_measure(yards: float, error: float) -> str:
    """Return ``6.5 yards, give or take 0.4``."""
    return f"{yards:.1f} yard{'' if f'{yards:.1f}' == '1.0' else 's'}, give or take {max(error, LEAST):.1f}"


def measured_gain(step: Step, yards: float, error: float, goes_right: bool | None) -> MeasuredGain:
    """The measured gain of a play. *yards*: how far the ball went to the right of the picture from snap to dead ball.
    *goes_right*: whether the offense does; if None, the tagged gain decides, else forward is taken."""
    tagged = step.play.gain or 0.0
    forward = goes_right if goes_right is not None else (
        yards >= 0 if not tagged else abs(yards - tagged) <= abs(-yards - tagged))
    gain = yards if forward else -yards
    if not takes_gain(step.play):
        return MeasuredGain(gain, max(error, LEAST), has_gain=False)
    to_gain = step.before.yards_to_gain
    whole = _WHOLE if to_gain is not None and to_gain == int(to_gain) else 0.0
    return MeasuredGain(gain, max(error, LEAST), step.play.gain, None if to_gain is None else gain - to_gain,
                        (error * error + whole * whole) ** 0.5)


def told_of_spot(yards: float, error: float, goes_right: bool | None) -> str:
    """Say how far a spot lies beyond a line or short of it. *yards*: from the line, positive to the right of the
    picture. *goes_right*: whether the offense goes there; None if unknown: then it says right or left."""
    if goes_right is None:
        return _placed(f"to the {'right' if yards > 0 else 'left'} of the line", yards, max(error, LEAST))
    return _beside("the line", yards if goes_right else -yards, error)


def _beside(line: str, beyond: float, error: float) -> str:
    return _placed(f"{'beyond' if beyond > 0 else 'short of'} {line}", beyond, max(error, LEAST))


def _placed(where: str, yards: float, error: float) -> str:
    too_close = ": too close to say" if abs(yards) <= error else ""
    return f"{where[0].upper()}{where[1:]} by {spoken_measure(abs(yards), error)}{too_close}."


def takes_gain(play: Play) -> bool:
    """Whether the play's gain is one number, from the previous spot to where the ball became dead."""
    return (play.kind in GAINING and play.outcome in _CAUGHT and not play.events and play.spot is None
            and play.score is None)


def with_gain(play: Play, gain: float) -> Play:
    """Return the play with another gain, to a tenth of a yard. Raises ValueError if its gain is not one number."""
    if not takes_gain(play):
        raise ValueError(f"a {play.kind} that ended otherwise than where the runner was down has no gain to set; "
                         "change it in its line")
    return replace(play, gain=round(gain, 1) + 0.0)
