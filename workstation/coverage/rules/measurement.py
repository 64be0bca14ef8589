"""A measurement from the first stick to the call."""

from __future__ import annotations

from collections.abc import Iterator

from ...football.plays import PlayKind
from ...tagging.model import Framing, MomentKind, ShotKind
from ..finding import Direction, Severity
from ..footage import Take, Where, period_of, place_of
from ..rule import EPSILON, Judged, Rule
from ..screening import Screening
from ..speaking import spoken_seconds


class Measurement(Rule):
    """``roll``: seconds of film before the first stick is planted that are allowed; ``call``: seconds
    after the result that the referee's call takes, ``call_most`` the most that are allowed."""

    title = "Measurement"
    label = "measurement"
    reason = ("A measurement decides a series in a hand's breadth, and everybody wants to see it. Begin when the first "
              "stick is planted; the chains' way onto the field is dead footage. Close enough to see ball and stick "
              "until the result, then wide enough for the referee's call, then the marker if the ball was short.")
    habit = "Film a measurement from the first stick to the referee's call: close for ball and stick, then wide."

    roll: float
    call: float
    call_most: float

    def judge(self, screening: Screening) -> Iterator[Judged]:
        """Yield what is found about each measurement and the setting of the chains."""
        for before, between, after in screening.gaps:
            period = period_of(before)
            scenes = between.of(ShotKind.MEASUREMENT)
            if before and before.take.first(MomentKind.CHAINS_SET) and not before.followed:
                scenes = [before.take, *scenes]
            for take in scenes:
                yield from self._scene(screening, take, period, bool(between.of(ShotKind.PENALTY_SIGNAL)))
            if scenes or not between.known:
                continue
            for position in between.tags:
                if screening.step(position).play.kind is PlayKind.MEASUREMENT:
                    yield self.finding(
                        screening, f"play {screening.play_id(position)}", place_of(before, between, after),
                        title="Measurement expected",
                        why="The chains came out, and it is not on film. The viewer does not see how close it was, nor "
                            "what was ruled.",
                        evidence=((f"A measurement is tagged before "
                                  f"{screening.spoken(screening.next_situation(position))}."),),
                        play=screening.play_id(position), period=period, strength=0.8)

    def _scene(self, screening: Screening, take: Take, period: int, signal_follows: bool) -> Iterator[Judged]:
        own = take.holds(ShotKind.MEASUREMENT)
        planted, result = take.first(MomentKind.CHAINS_SET), take.first(MomentKind.RESULT_SHOWN)
        where: Where = {"period": period, "shot": take.shot.id}
        right = True
        if own and result and take.end - result.time > self.call_most + EPSILON:
            walk = take.end - result.time - self.call_most
            yield self.finding(
                screening, f"shot {take.shot.id}/after", result.at, severity=Severity.NOTE,
                direction=Direction.OVERDONE, until=take.shot.end, expected="cut here",
                title="Measurement: rolling after the call",
                why=f"The shot runs {spoken_seconds(take.end - result.time)} after the result. Once the referee has "
                    "called it nothing follows but the chains on their way home.", seconds=walk,
                evidence=((f"{spoken_seconds(take.end - result.time)} after the result; "
                          f"{spoken_seconds(self.call_most)} are plenty."),), strength=min(1.0, walk / 30),
                **where)
        if own and planted and planted.time - take.start > self.roll + EPSILON:
            waited = planted.time - take.start
            yield self.finding(
                screening, f"shot {take.shot.id}/early", take.shot.start, severity=Severity.NOTE,
                direction=Direction.OVERDONE, until=planted.at, expected="roll later",
                title="Measurement: rolling before the first stick",
                why=f"The shot runs {spoken_seconds(waited)} before the first stick is planted. The chains on their "
                    "way are dead footage; have the picture framed and begin when the stick comes down.",
                evidence=(f"{spoken_seconds(waited)} before the first stick.",), seconds=waited - self.roll,
                strength=min(1.0, waited / 30), **where)
        if result and not planted:
            right = False
            yield self.finding(
                screening, f"shot {take.shot.id}/start", take.shot.start, title="Measurement begun too late",
                why="The shot begins after the first stick was planted, so the viewer does not see where the "
                    "measurement is taken from.",
                evidence=("The result is on film, the planting of the stick is not.",), strength=0.5, **where)
        if planted and not result:
            right = False
            yield self.finding(
                screening, f"shot {take.shot.id}/result", take.shot.end, title="Measurement cut before its result",
                why="The shot ends before ball and stick show the result: the one thing everybody waits for.",
                evidence=("The first stick is on film, the result is not.",), strength=0.9, **where)
        if own and take.shot.framing is Framing.WIDE:
            right = False
            yield self.finding(
                screening, f"shot {take.shot.id}/framing", take.shot.start, title="Measurement not close enough",
                why="In a wide picture nobody sees how far the ball is from the stick. Go in until both fill the "
                    "picture, and ease out for the call.", evidence=("Tagged framing: wide.",), strength=0.6, **where)
        elif result and take.end - result.time < self.call - EPSILON and not signal_follows:
            right = False
            yield self.finding(
                screening, f"shot {take.shot.id}/call", take.shot.end,
                title="Measurement cut before the call", expected="hold for the call",
                why=f"The shot ends {spoken_seconds(take.end - result.time)} after the result. Hold until the referee "
                    "has called it.", evidence=((f"{spoken_seconds(take.end - result.time)} after the result; "
                                            f"expected: {spoken_seconds(self.call)}."),), strength=0.4, **where)
        if own and not planted and not result:
            right = False
            for missing in ("chains set", "result shown"):
                yield self.not_judged(missing, **where)
        if right:
            yield self.delivered(**where)
