"""Film in which nothing happens."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from ...football.plays import IN_PLAY, PlayKind
from ...football.situation import Next, Situation
from ...tagging.layout import TimedMoment
from ...tagging.model import MomentKind, ShotKind
from ..finding import Direction
from ..footage import Between, Snap, Take, period_of
from ..rule import EPSILON, Judged, Rule
from ..screening import Screening
from ..speaking import spoken_seconds

# the setting that limits a kind of shot, and what the shot is called
_LIMITED = {ShotKind.DOWN_MARKER: ("marker", "the down marker"), ShotKind.SCOREBOARD: ("board", "the scoreboard"),
            ShotKind.EXTRA: ("extra", "crowd and sideline"), ShotKind.COIN_TOSS: ("coin_toss", "the coin toss"),
            ShotKind.HANDSHAKE: ("handshake", "the handshake")}
_ENDS = {ShotKind.PENALTY_SIGNAL: MomentKind.SIGNAL, ShotKind.ALTERCATION: MomentKind.CONFRONTATION_OVER}
_HAPPENS = frozenset({MomentKind.SIGNAL, MomentKind.ANNOUNCEMENT, MomentKind.CONFRONTATION,
                      MomentKind.CONFRONTATION_OVER, MomentKind.CARE, MomentKind.CHAINS_SET,
                      MomentKind.RESULT_SHOWN})


class DeadFootage(Rule):
    """``before_snap`` and ``after_dead_ball``: seconds of waiting in a play's shot beyond which the rest is surplus.
    The others are the most seconds of a whole shot: of a play ``blown_dead`` before its snap, and of a kind.
    ``after_event``: after the signal in a signal's shot and the end of an altercation; ``nothing``: of extras between
    two plays together, and of film in which nothing is marked."""

    title = "Dead footage"
    label = "cut here"
    reason = ("A game's film usually runs 40 to 60 minutes. What lies before the teams line up and after the play is "
              "over, the huddle, the chains on their way, the crowd in the middle of a series, is what a coach has to "
              "wait through at every viewing.")
    habit = "Cut a shot once it has told what it is for."

    before_snap: float
    after_dead_ball: float
    blown_dead: float
    marker: float
    board: float
    extra: float
    extra_in_series: float
    coin_toss: float
    handshake: float
    after_event: float
    nothing: float

    def judge(self, screening: Screening) -> Iterator[Judged]:
        """Yield a finding for each stretch before, after or between plays that shows nothing."""
        for snap in screening.footage.filmed:
            yield from self._play(screening, snap)
        for before, between, after in screening.gaps:
            told = False
            for take in between.takes:
                for judged in (*self._shot(screening, take, before, between, after),
                               *self._over(screening, take, before)):
                    told = True
                    yield judged
            if not told and before and after:
                yield from self._together(screening, between, after)
        yield from self._nothing(screening)
        if not screening.footage.complete:
            for take in screening.footage.after.takes:
                yield from self._shot(screening, take,
                                      screening.footage.filmed[-1] if screening.footage.filmed else None,
                                      screening.footage.after, None)

    def _shot(self, screening: Screening, take: Take, before: Snap | None, between: Between, after: Snap | None
              ) -> Iterator[Judged]:
        """A shot between plays that runs longer than its kind allows."""
        kind, tags = take.shot.kind, [screening.step(position) for position in take.tags]
        setting, what = _LIMITED.get(kind or ShotKind.PLAY, ("", ""))
        most: float | None = getattr(self, setting, None)
        advice, play = "", None
        if kind is ShotKind.EXTRA and before and after and not _break(screening, between) and _same_series(
                before.step.before, after.step.before):
            most, what, advice = (self.extra_in_series, "extra in the middle of a series",
                                  "Keep extras for breaks between series.")
        elif kind is ShotKind.PLAY and tags and all(step.play.kind is PlayKind.NO_PLAY for step in tags):
            most, what, play = self.blown_dead, "play that was blown dead", screening.play_id(take.tags[0])
        elif before and after is None and kind is ShotKind.EXTRA and screening.footage.complete:
            advice = "Let the handshake be the end."
        if most is None or take.seconds <= most + EPSILON:
            return
        surplus = take.seconds - most
        yield self.finding(
            screening, f"shot {take.shot.id}", take.shot.start, direction=Direction.OVERDONE, until=take.shot.end,
            title=f"{spoken_seconds(take.seconds)} of {what}",
            why=f"{spoken_seconds(take.seconds)} of {what} are fast-forwarded by everybody who watches. "
                + (f"{spoken_seconds(most)} are plenty." if most else "Between two downs of a series it takes a viewer "
                                                                      "out of it."),
            habit=advice, evidence=(f"The shot runs {spoken_seconds(take.seconds)}; at most {spoken_seconds(most)}.",),
            play=play, shot=take.shot.id, period=period_of(after or before), seconds=surplus,
            strength=min(1.0, 0.3 + surplus / 60))

    def _over(self, screening: Screening, take: Take, before: Snap | None) -> Iterator[Judged]:
        """A shot that runs on after its subject is over: the referee's arm is down, the players have walked away."""
        kind, most = _ENDS.get(take.shot.kind or ShotKind.EXTRA), self.after_event
        ended = [seen for seen in take.moments if seen.kind is kind]
        if not ended or take.end - ended[-1].time <= most + EPSILON:
            return
        rest = take.end - ended[-1].time
        yield self.finding(
            screening, f"shot {take.shot.id}/over", ended[-1].at, direction=Direction.OVERDONE, until=take.shot.end,
            title=f"{spoken_seconds(rest)} after the {take.shot.kind}",
            why=f"The shot runs {spoken_seconds(rest)} after what it was for. {spoken_seconds(most)} are plenty.",
            evidence=(f"{spoken_seconds(rest)} after the {ended[-1].kind}; at most {spoken_seconds(most)}.",),
            shot=take.shot.id, period=period_of(before), seconds=rest - most, strength=min(1.0, 0.3 + rest / 60))

    def _together(self, screening: Screening, between: Between, after: Snap) -> Iterator[Judged]:
        """Extras that are each short enough, but too long together."""
        extras = between.of(ShotKind.EXTRA)
        seconds = sum(take.seconds for take in extras)
        if len(extras) > 1 and seconds > self.nothing + EPSILON:
            yield self.finding(
                screening, f"shot {extras[0].shot.id}", extras[0].shot.start, direction=Direction.OVERDONE,
                until=extras[-1].shot.end,
                title=f"{spoken_seconds(seconds)} of crowd and sideline in {len(extras)} shots",
                why=f"One look around is a breath; {len(extras)} of them, {spoken_seconds(seconds)} together, are "
                    "fast-forwarded.",
                habit="Keep extras for breaks between series.",
                evidence=(f"{len(extras)} extras between two plays; together at most {spoken_seconds(self.nothing)}.",),
                shot=extras[0].shot.id, period=after.step.before.period, seconds=seconds - self.nothing, strength=0.4)

    def _nothing(self, screening: Screening) -> Iterator[Judged]:
        """Film between two shots in which nobody marked anything; until all shots are tagged it may be unseen film."""
        takes = screening.footage.takes
        if not all(take.tagged for take in takes):
            return
        for before, after in pairwise(takes):
            seconds = after.start - before.end
            if seconds > self.nothing + EPSILON:
                yield self.finding(
                    screening, f"after shot {before.shot.id}", before.shot.end, direction=Direction.OVERDONE,
                    until=after.shot.start, title=f"{spoken_seconds(seconds)} in which nothing is marked",
                    why=f"Between two shots lie {spoken_seconds(seconds)} of film without a play, a marker or a board. "
                        "If nothing happens in it, cut it; if something does, mark it.",
                    habit="Cut between plays; nobody watches grass.",
                    evidence=(f"{spoken_seconds(seconds)} of film without a shot; at most "
                              f"{spoken_seconds(self.nothing)}.",),
                    seconds=seconds - self.nothing, strength=min(1.0, seconds / 120))

    def _play(self, screening: Screening, snap: Snap) -> Iterator[Judged]:
        take, situation = snap.take, screening.spoken(snap.step.before)
        if snap.snap and not snap.follows:
            waited = snap.snap.time - take.start
            surplus = waited - self.before_snap
            if surplus > 0:
                yield self.sure(self.finding(
                    screening, f"play {snap.tag.id}/before", take.shot.start, direction=Direction.OVERDONE,
                    until=snap.snap.at, title=f"Dead footage before {situation}",
                    why=f"The shot runs {spoken_seconds(waited)} before the snap. Start when the teams come to the "
                        "line, not while they huddle.", habit="Start the shot when the teams come to the line.",
                    evidence=(f"{spoken_seconds(waited)} before the snap; {spoken_seconds(self.before_snap)} are "
                              "plenty.",),
                    seconds=surplus, strength=min(1.0, surplus / 30), **snap.where), surplus, snap.snap)
        if snap.dead_ball and not snap.followed:
            surplus = self._after(snap, snap.dead_ball)
            if surplus > 0:
                yield self.sure(self.finding(
                    screening, f"play {snap.tag.id}/after", snap.dead_ball.at, direction=Direction.OVERDONE,
                    until=take.shot.end, title=f"Dead footage after {situation}",
                    why=f"The ball is dead, and for {spoken_seconds(surplus)} more than it takes nothing happens. Cut "
                        "once you have held.", habit="Cut once you have held after the dead ball.",
                    evidence=((f"{spoken_seconds(take.end - snap.dead_ball.time)} after the dead ball; "
                              f"{spoken_seconds(self.after_dead_ball)} are plenty."),),
                    seconds=surplus, strength=min(1.0, surplus / 30), **snap.where), surplus, snap.dead_ball)

    def _after(self, snap: Snap, dead_ball: TimedMoment) -> float:
        """Seconds in which nothing happens; a confrontation does not count, however long it lasts."""
        events: list[tuple[float, MomentKind | None]] = [(dead_ball.time, MomentKind.DEAD_BALL)]
        events += [(seen.time, seen.kind) for seen in snap.take.moments
                   if seen.kind in _HAPPENS and seen.time >= dead_ball.time]
        events.append((snap.take.end, None))
        return sum(max(0.0, until - start - self.after_dead_ball) for (start, kind), (until, _) in pairwise(events)
                   if kind not in (MomentKind.CONFRONTATION, MomentKind.CARE))    # care is judged by the injury rule


def _break(screening: Screening, between: Between) -> bool:
    """Whether a timeout, the chains or a ruling lies between, so that a look around may be shown."""
    return any(screening.step(position).play.kind not in IN_PLAY
               and screening.step(position).play.kind is not PlayKind.NO_PLAY
               for position in between.tags)


def _same_series(before: Situation, after: Situation) -> bool:
    """Whether two situations are of one series without the end of a period between, which is a break too."""
    return (before.next is after.next is Next.SCRIMMAGE and before.offense is after.offense
            and before.series == after.series and before.period == after.period)
