"""The referee's signal after every penalty, without the conference before it."""

from __future__ import annotations

from collections.abc import Iterator

from ...football.plays import FoulDecision, PlayKind
from ...tagging.model import MomentKind, ShotKind
from ..finding import Direction, Finding, Severity
from ..footage import Between, Snap, Take, period_of, place_of
from ..rule import EPSILON, Judged, Rule
from ..screening import Screening
from ..speaking import spoken_seconds


class PenaltySignalExpected(Rule):
    """``roll``: seconds of film before the signal that are allowed; ``shown``: seconds after it below which it cannot
    be read; ``declined``: penalties that were declined are announced too, and their signal is expected."""

    title = "Penalty signal expected"
    label = "penalty signal"
    reason = ("The signal tells a viewer which foul it was and against whom; without it a flag and a new spot are a "
              "riddle. Begin to roll as the referee steps out to signal. The officials' conference before it is dead "
              "footage.")

    roll: float
    shown: float
    declined: bool

    def judge(self, screening: Screening) -> Iterator[Judged]:
        """Yield what is found about the referee's signal in each gap between plays."""
        for before, between, after in screening.gaps:
            for take in between.of(ShotKind.PENALTY_SIGNAL):
                judged = self._conference(screening, take, before)
                if judged:
                    yield judged
            penalized = list(self._penalized(screening, before, between)) if between.known else []
            answered = self._answered(screening, penalized, before, between, after) if penalized else set()
            for position in penalized:
                if position in answered:
                    yield self.delivered(**screening.where(position))
                else:
                    yield self._missing(screening, position, before, between, after)

    def _penalized(self, screening: Screening, before: Snap | None, between: Between) -> Iterator[int]:
        """Positions of the plays whose penalties are announced here."""
        positions = [before.position] if before else []
        positions += [position for position in between.tags if screening.step(position).play.kind is PlayKind.NO_PLAY]
        for position in positions:
            if any(self.declined or foul.decision is not FoulDecision.DECLINED
                   for foul in screening.step(position).play.fouls):
                yield position

    def _answered(self, screening: Screening, penalized: list[int], before: Snap | None, between: Between,
                  after: Snap | None) -> set[int]:
        """The penalized plays whose signal is on film: each belongs to the last foul before it that has none yet."""
        thrown = [(self._flag(position, before, between), position) for position in penalized]
        answered: set[int] = set()
        for at in sorted(self._signals(before, between, after)):
            open_flags = [(-flag, position) for flag, position in thrown if flag <= at and position not in answered]
            if open_flags:
                answered.add(min(open_flags)[1])
        return answered

    def _flag(self, position: int, before: Snap | None, between: Between) -> float:
        """Film seconds of the foul; one that is not on film itself comes right after the play before."""
        filmed = next((take for take in between.takes if position in take.tags
                       and take.shot.kind is not ShotKind.PENALTY_SIGNAL), None)
        if filmed:
            return filmed.start
        return before.time if before else 0.0

    def _signals(self, before: Snap | None, between: Between, after: Snap | None) -> Iterator[float]:
        """Film seconds of the signals between two plays, the ends of their shots included."""
        for take in between.takes:
            marked = [seen.time for seen in take.moments if seen.kind is MomentKind.SIGNAL]
            if marked and take.end - marked[-1] < self.shown - EPSILON:
                marked.pop()            # cut as the arm goes up: it cannot be read
                if not marked:
                    continue
            if take.holds(ShotKind.PENALTY_SIGNAL):
                yield from marked or [take.start]
            elif take.shot.kind is not ShotKind.COIN_TOSS:
                yield from marked
        if before:
            over = before.dead_ball or before.snap
            begin = over.time if over else before.take.start
            end = after.time if before.followed and after else before.take.end
            yield from (seen.time for seen in before.take.moments
                        if seen.kind is MomentKind.SIGNAL and begin <= seen.time <= end)
        if after and not after.follows:
            yield from (seen.time for seen in after.take.moments
                        if seen.kind is MomentKind.SIGNAL and seen.time < after.time)
            if after.take.shot.opens_on is ShotKind.PENALTY_SIGNAL:
                yield after.take.start

    def _missing(self, screening: Screening, position: int, before: Snap | None, between: Between,
                 after: Snap | None) -> Finding:
        step = screening.step(position)
        names = " and ".join(dict.fromkeys(foul.name for foul in step.play.fouls))
        filmed = next((take for take in between.takes if position in take.tags), None)
        later = [take for take in between.takes if not filmed or take.index > filmed.index]
        following = later[0].shot if later else after.take.shot if after and not after.follows else None
        at = following.start if following else place_of(before, Between(), after)
        return self.finding(
            screening, f"play {screening.play_id(position)}", at, title=f"Penalty signal expected: {names}",
            why=f"The referee's signal for {names} is not on film. The viewer sees a flag, then the ball somewhere "
                "else, and is left to guess what was called and against whom.",
            habit="After a flag stay with the referee: roll as the referee steps out to signal.",
            evidence=(f"Foul tagged at {screening.spoken(step.before)}: "
                      + ", ".join(f"{foul.name} by the {foul.by}" for foul in step.play.fouls) + ".",
                      "No shot of the signal before the next play."), strength=0.6, **screening.where(position))

    def _conference(self, screening: Screening, take: Take, before: Snap | None) -> Judged | None:
        signal = take.first(MomentKind.SIGNAL)
        if signal is None:
            return self.not_judged("signal", period=period_of(before), play=before.tag.id if before else None,
                                   shot=take.shot.id)
        if signal.time - take.start <= self.roll + EPSILON:
            return None
        waited = signal.time - take.start
        return self.finding(
            screening, f"shot {take.shot.id}/conference", take.shot.start, direction=Direction.OVERDONE,
            until=signal.at, severity=Severity.NOTE,
            title="Penalty signal: rolling through the conference",
            why=f"The shot runs {spoken_seconds(waited)} before the referee signals. Wait with your finger on the "
                "button until the referee steps out.",
            habit="Begin the signal shot as the referee steps out, not during the conference.",
            evidence=(f"{spoken_seconds(waited)} before the signal; {spoken_seconds(self.roll)} are plenty.",),
            shot=take.shot.id, period=period_of(before), seconds=waited - self.roll, expected="roll later",
            strength=min(1.0, waited / 30))
