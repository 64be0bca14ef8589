"""What a viewer believes: a probability for each down and an idea of the distance.

The viewer sees only the film. Each filmed play moves the belief by what could be seen of it;
what the film leaves out, and breaks, blur it; a marker shot, a board that shows the down or an
announcement clear it up. The viewer knows football and sees the field's lines, but sees a gain
only within an error, so a run that ends a yard from the line to gain leaves real doubt.

The observation used is always the true one, seen with its error: the belief is that of a typical
viewer, not of a lucky one. All numbers come from :class:`Assumptions`, which a crew profile fills;
they are common practice or judgement, no source.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from ..football.plays import Outcome, PlayKind, Side
from ..football.situation import Next, Situation
from ..football.step import Step
from .finding import Cause

_FRESH_DISTANCE = 10.0      # yards to gain, the same in every rulebook
_SQRT_2 = math.sqrt(2)
_SQRT_2PI = math.sqrt(2 * math.pi)

Readings = tuple[float, float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class Assumptions:
    """The viewer's parameters. Reasons stand beside the values in ``resources/profiles/default.toml``.

    Errors are standard deviations in yards, probabilities and shares from 0 to 1. Readings are
    the weights of (the down is repeated, the down counts, it is a first down).
    """

    unsure_below: float
    sure_from: float
    line_error: float
    gain_error: float
    gain_error_per_yard: float
    gain_error_most: float
    gain_error_close: float
    first_down_shown: float
    miscount: float
    known_after_change: float
    known_after_unseen_change: float
    unseen_play: Readings
    foul_by_offense: Readings
    foul_by_defense: Readings
    foul_by_both: Readings
    foul_before_snap_by_offense: Readings
    foul_before_snap_by_defense: Readings
    ruling_understood: float
    ruling_unseen: float
    result_understood: float
    period_forgets: float
    stoppage_forgets: float
    measurement_forgets: float
    first_down_fades: float
    short_break: float
    long_break: float
    marker_read: float
    marker_least: float
    board_read: float
    board_least: float
    announcement_heard: float
    punts_early: float
    field_goals_early: float
    goes_for_it: float
    goes_for_it_short: float
    short_yards: float
    score_seen: float
    score_unseen: float
    score_fades: float
    clock_fades: float
    spot_tolerance: float


def _below(z: float) -> float:
    """The standard normal distribution function."""
    return 0.5 * math.erfc(-z / _SQRT_2)


def _mean_if_positive(mean: float, spread: float) -> float:
    """Mean of a normal variable that turned out to be positive."""
    z = mean / spread
    if z < -6:
        return 0.5
    return mean + spread * math.exp(-z * z / 2) / _SQRT_2PI / _below(z)


class Viewer:
    """One viewer's belief. ``downs`` holds the weights of first to fourth down, ``distances`` the yards to gain the
    viewer would expect on each. ``last`` is the index of the last down the rulebook gives (3; Canadian 2). Between two
    snaps call :meth:`play` and the others in game order, then :meth:`line_up`."""

    __slots__ = ("_at", "assume", "begins", "distances", "downs", "last", "scrimmage", "shaken")

    def __init__(self, assume: Assumptions, last: int = 3):
        self.assume = assume
        self.last = last
        self.downs = [0.25] * 4
        self.distances = [_FRESH_DISTANCE] * 4
        self.scrimmage = False      # the viewer has seen the ball put in play from a down
        self.begins = False         # a kick or change of possession has just begun a series
        self.shaken: list[tuple[float, Cause, int]] = []
        self._at = 0

    def copy(self) -> Viewer:
        """Return a viewer with the same beliefs that can go on alone."""
        twin = Viewer(self.assume, self.last)
        twin.downs, twin.distances = self.downs[:], self.distances[:]
        twin.scrimmage, twin.begins, twin.shaken = self.scrimmage, self.begins, self.shaken[:]
        return twin

    def sure(self, situation: Situation) -> float:
        """The probability the viewer gives the true down; 1 where there is none to know."""
        if situation.next is not Next.SCRIMMAGE or situation.down is None:
            return 1.0
        return self.downs[min(situation.down, 4) - 1]

    # -- what happens between two snaps ---------------------------------------------------------------------------

    def play(self, step: Step, following: Situation, *, seen: bool, close: bool, ruling_seen: bool, at: int) -> None:
        """Take in a play that leads to *following*; *at*: its position, the cause if this makes the viewer unsure."""
        before, self._at = step.before, at
        if following.next is not Next.SCRIMMAGE:
            self.begins = self.scrimmage = False
            return
        if before.next is not Next.SCRIMMAGE or before.offense is not following.offense:
            self._series_begins(following, seen)
        elif not seen:
            self.gap(before, following, at)
        elif step.play.fouls:
            self._penalty(step, following, ruling_seen)
        else:
            self._gain(step, following, close)

    def gap(self, before: Situation, following: Situation, at: int) -> None:
        """Something between two filmed plays was not filmed."""
        self._at = at
        if following.next is not Next.SCRIMMAGE:
            self.begins = self.scrimmage = False
        elif before.next is not Next.SCRIMMAGE or before.offense is not following.offense or not self.scrimmage:
            self._series_begins(following, seen=False)
        else:
            self._read(before, following, self.assume.unseen_play, Cause.MISSING_PLAY)

    def extra_series(self, following: Situation) -> None:
        """A possession of an extra period begins; the teams walk to its spot, and everybody sees that it is new."""
        if following.next is Next.SCRIMMAGE:
            self._series_begins(following, seen=True)

    def ruling(self, before: Situation, following: Situation, seen: bool, at: int) -> None:
        """A ruling changed what the play before it came to (review, inadvertent whistle)."""
        if following.next is not Next.SCRIMMAGE or following.down is None:
            self.begins = self.scrimmage = False
            return
        was = self.sure(before)
        if before.next is not Next.SCRIMMAGE or before.offense is not following.offense:
            self.downs, self.begins = [0.25] * 4, False     # the earlier belief no longer holds
        self._tell(following, self.assume.ruling_understood if seen else self.assume.ruling_unseen)
        self._shake(was, following, Cause.STOPPAGE, at)

    def blown_dead(self, step: Step, following: Situation, seen: bool, at: int) -> None:
        """A play that was seen, and that did not count or counted only in part."""
        self._at = at
        if following.next is not Next.SCRIMMAGE or step.before.offense is not following.offense:
            self.ruling(step.before, following, seen, at)
            return
        understood = self.assume.ruling_understood if seen else self.assume.ruling_unseen
        truth = _true_reading(step, following)
        self._read(step.before, following, _understood(self.assume.foul_by_both, understood, truth), Cause.STOPPAGE)

    def measurement(self, before: Situation, following: Situation, result_seen: bool, at: int) -> None:
        """The chains came out; their result was filmed or not."""
        if following.next is not Next.SCRIMMAGE or before.offense is not following.offense:
            self.ruling(before, following, result_seen, at)
            return
        was = self.sure(before)
        if result_seen:
            self._tell(following, self.assume.result_understood)
        if not result_seen or following.down != 1:      # only a first down that was seen leaves no doubt
            self._fade(self.assume.measurement_forgets)
        self._shake(was, following, Cause.MEASUREMENT, at)

    def forget(self, following: Situation, share: float, cause: Cause, at: int) -> None:
        """A break: a share of the belief blurs into the downs beside it.

        The first down of a series that a kick or a turnover has just begun stays plain."""
        if share and not self.begins and following.next is Next.SCRIMMAGE:
            was = self.sure(following)
            self._fade(share)
            self._shake(was, following, cause, at)

    def told(self, following: Situation, reliability: float) -> None:
        """The film shows or says the down."""
        if following.next is Next.SCRIMMAGE and following.down is not None:
            self._tell(following, reliability)
            self.scrimmage = True
            self.shaken.clear()

    def line_up(self, step: Step) -> None:
        """See how the teams line up: a kick is for fourth down, and rarely for an earlier one."""
        if step.before.next is not Next.SCRIMMAGE:
            return
        assume, was = self.assume, self.sure(step.before)
        if step.play.kind is PlayKind.PUNT:
            early, fourth = assume.punts_early, 1.0
        elif step.play.kind is PlayKind.FIELD_GOAL:
            early, fourth = assume.field_goals_early, 1.0
        else:
            short = self.distances[self.last] <= assume.short_yards
            early, fourth = 1.0, assume.goes_for_it_short if short else assume.goes_for_it
        self._settle([weight * (early if down < self.last else fourth) for down, weight in enumerate(self.downs)])
        self.scrimmage = True
        if step.before.down == self.last + 1:
            self._shake(was, step.before, Cause.FOURTH_DOWN, -1)

    # -- how it moves the belief --------------------------------------------------------------------------------------

    def _series_begins(self, following: Situation, seen: bool) -> None:
        """The other team has the ball, or a kick has begun a series: first down, as far as the viewer can tell."""
        known = self.assume.known_after_change if seen else self.assume.known_after_unseen_change
        self.downs = [known] + [(1 - known) / 3] * 3
        self.distances = [_fresh(following)] + [_FRESH_DISTANCE] * 3
        self.begins = seen
        self.shaken.clear()
        if not seen or following.down != 1:
            self._shake(1.0, following, Cause.MISSING_PLAY, self._at)

    def _gain(self, step: Step, following: Situation, close: bool) -> None:
        """A play seen from snap to dead ball."""
        assume, before, was = self.assume, step.before, self.sure(step.before)
        gain, error = self._seen_gain(step, following, close)
        spread = math.hypot(error, assume.line_error)
        never = before.goal_to_go or _gains_nothing(step)
        downs, distances = [0.0] * 4, self.distances[:]
        distances[0] = _fresh(following)
        for down, weight in enumerate(self.downs):
            if weight <= 0:
                continue
            left = self.distances[down] - gain
            first = 0.0 if never else _below(-left / spread)
            downs[0] += weight * first
            if down < self.last:    # short on the last down would have turned the ball over
                downs[down + 1] += weight * (1 - first)
                distances[down + 1] = _mean_if_positive(left, spread)
        if step.first_down and following.down == 1 and downs[0] > 0:
            total, shown = sum(downs), assume.first_down_shown     # the referee points, the chains move
            downs = [(1 - shown) * weight for weight in downs]
            downs[0] += shown * total
        self._adopt(downs, distances, following)
        near = not never and abs((before.yards_to_gain or _FRESH_DISTANCE) - gain) <= 2 * spread
        self._shake(was, following, Cause.NEAR_LINE_TO_GAIN if near else Cause.FADING, self._at)

    def _penalty(self, step: Step, following: Situation, ruling_seen: bool) -> None:
        assume, fouls = self.assume, step.play.fouls
        sides = {foul.by for foul in fouls}
        before_snap = step.play.kind is PlayKind.NO_PLAY
        if len(sides) > 1:
            usual = assume.foul_by_both
        elif Side.OFFENSE in sides:
            usual = assume.foul_before_snap_by_offense if before_snap else assume.foul_by_offense
        else:
            usual = assume.foul_before_snap_by_defense if before_snap else assume.foul_by_defense
        understood = assume.ruling_understood if ruling_seen else assume.ruling_unseen
        truth = _true_reading(step, following)
        self._read(step.before, following, _understood(usual, understood, truth), Cause.PENALTY)

    def _read(self, before: Situation, following: Situation, readings: Readings, cause: Cause) -> None:
        """Spread the belief over what may have been ruled, given where the ball now lies."""
        assume, was = self.assume, self.sure(before)
        repeated, counted, first = readings
        moved = (following.ball_on or 0.0) - (before.ball_on or 0.0)
        spread = math.hypot(assume.gain_error_most, assume.line_error)
        downs, yards = [0.0] * 4, [0.0] * 4         # yards: distances weighted by how likely they are
        for down, weight in enumerate(self.downs):
            left = self.distances[down] - moved
            short = 1.0 if before.goal_to_go else _below(left / spread)   # beyond the line it must be a first down
            anew = weight * (first + (repeated + counted) * (1 - short))
            downs[0] += anew
            yards[0] += anew * _FRESH_DISTANCE
            for next_down, reading in ((down, repeated), (down + 1, counted)):
                if next_down <= self.last:
                    downs[next_down] += weight * reading * short
                    yards[next_down] += weight * reading * short * max(left, 0.5)
        distances = [yards[down] / downs[down] if downs[down] > 1e-9 else self.distances[down] for down in range(4)]
        self._adopt(downs, distances, following)
        self._shake(was, following, cause, self._at)

    def _adopt(self, downs: list[float], distances: list[float], following: Situation) -> None:
        if sum(downs) <= 1e-6:
            self._series_begins(following, seen=False)
            return
        slip = self.assume.miscount
        self.downs = [(1 - slip) * weight for weight in downs]
        for down, weight in enumerate(downs):
            for beside in _BESIDE[down]:
                self.downs[beside] += slip * weight / len(_BESIDE[down])
        self._settle(self.downs)
        self.distances = distances
        self.begins = False

    def _fade(self, share: float) -> None:
        faded = self.downs[:]
        for down, weight in enumerate(self.downs):
            gone = weight * share * (self.assume.first_down_fades if down == 0 else 1)
            faded[down] -= gone
            for beside in _BESIDE[down]:
                faded[beside] += gone / len(_BESIDE[down])
        self._settle(faded)

    def _tell(self, following: Situation, reliability: float) -> None:
        if following.down is None:
            return
        true = min(following.down, 4) - 1
        self.downs = [(1 - reliability) * weight for weight in self.downs]
        self.downs[true] += reliability
        if following.yards_to_gain is not None:
            self.distances[true] = following.yards_to_gain

    def _settle(self, downs: list[float]) -> None:
        total = sum(downs)
        self.downs = [weight / total for weight in downs] if total > 0 else [0.25] * 4

    def _shake(self, was: float, following: Situation, cause: Cause, at: int) -> None:
        drop = was - self.sure(following)
        if drop > 0.005:
            self.shaken.append((drop, cause, at))

    def _seen_gain(self, step: Step, following: Situation, close: bool) -> tuple[float, float]:
        assume, before = self.assume, step.before
        end = step.dead_ball_on if step.dead_ball_on is not None else following.ball_on
        gain = (end - before.ball_on) if end is not None and before.ball_on is not None else step.play.gain or 0.0
        if _gains_nothing(step):
            return gain, 0.1
        if close:
            return gain, assume.gain_error_close
        return gain, min(assume.gain_error + assume.gain_error_per_yard * abs(gain), assume.gain_error_most)


_BESIDE = ((1,), (0, 2), (1, 3), (2,))


def _fresh(following: Situation) -> float:
    """Yards to gain on a first down here."""
    if following.down == 1 and following.yards_to_gain is not None:
        return following.yards_to_gain
    return _FRESH_DISTANCE


def _understood(usual: Readings, share: float, truth: int) -> Readings:
    """The *usual* readings, mixed with the true one, which a *share* of viewers knows."""
    repeated, counted, first = ((1 - share) * weight + share * (index == truth) for index, weight in enumerate(usual))
    return repeated, counted, first


def _gains_nothing(step: Step) -> bool:
    play = step.play
    return play.kind in (PlayKind.SPIKE, PlayKind.KNEEL, PlayKind.SACK) or play.outcome is Outcome.INCOMPLETE


def _true_reading(step: Step, following: Situation) -> int:
    """Which of (repeated, counted, first down) came true."""
    down = step.before.down
    if following.down == 1 and (step.first_down or down != 1):
        return 2
    return 0 if following.down == down else 1
