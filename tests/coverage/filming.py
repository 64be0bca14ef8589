"""Films a short game for a test, shot by shot, on one invented camera file."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

from workstation.coverage.checker import check
from workstation.coverage.coverage import Coverage
from workstation.coverage.profile import load_profile
from workstation.film.film import Film, Source
from workstation.film.time import Instant
from workstation.football.field import Team
from workstation.football.plays import Foul, FoulDecision, Outcome, Play, PlayKind, Side, SituationOverride
from workstation.football.rulebook import load_rulebook
from workstation.football.situation import Next
from workstation.football.tracker import track
from workstation.tagging.model import (
    Decision,
    Framing,
    Game,
    Moment,
    MomentKind,
    PlayTag,
    Shot,
    ShotKind,
)

TICKS = 1000
PROFILE = load_profile(folders=())
RULEBOOK = load_rulebook("nfhs")


class Filming:
    """Shots follow each other without a gap. Begins, unless told otherwise, with a shot that nobody has
    tagged yet and ends before the film does, so that nothing is said about its first and last shots.

    :meth:`expect` notes that a finding of a rule belongs right here: at the end of the film so far.
    """

    def __init__(self, *, whole: bool = False):
        self.whole = whole
        self.shots: list[Shot] = []
        self.moments: list[Moment] = []
        self.plays: list[PlayTag] = []
        self.expected: list[tuple[str, float]] = []
        self.decisions: tuple[Decision, ...] = ()
        self.now = 0.0
        self._said: SituationOverride | None = None
        if not whole:
            self.untagged()

    # -- the game ----------------------------------------------------------------------------------------------------

    def at(self, down: int = 1, to_gain: float = 10, ball_on: float = 30, *, offense: Team = Team.HOME, period: int = 1,
           score: tuple[int, int] = (0, 0)) -> Filming:
        """Set the situation before the next play by hand."""
        self._said = SituationOverride(offense=offense, down=down, yards_to_gain=to_gain, ball_on=ball_on,
                                       period=period,
                          score_home=score[0], score_visitors=score[1], next=Next.SCRIMMAGE)
        return self

    def event(self, kind: PlayKind, outcome: Outcome | None = None, *, shot: int | None = None, **fields) -> int:
        """Tag what happened without filming it; returns the play's id."""
        said, self._said = self._said, None
        number = len(self.plays) + 1
        self.plays.append(PlayTag(number, float(number), Play(kind, outcome, override=said, **fields), shot))
        return number

    def play(self, kind: PlayKind = PlayKind.RUN, outcome: Outcome | None = None, *, wide: float | None = 0.5,
             snap: float | None = 4.0, lasts: float | None = 4.0, hold: float = 3.0, framing: Framing | None = None,
             opens_on: ShotKind | None = None, more: tuple[tuple[MomentKind, float], ...] = (), **fields) -> int:
        """Film a play: wide and snap in seconds from the start of the shot, then how long it lasts, then the hold.
        ``more`` moments are told in seconds from the dead ball. None leaves a moment untagged."""
        dead = (snap or 0.0) + (lasts or 0.0)
        moments = [(MomentKind.FULL_WIDE, wide), (MomentKind.SNAP, snap),
                   (MomentKind.DEAD_BALL, dead if lasts is not None else None)]
        moments += [(kind, dead + seconds) for kind, seconds in more]
        shot = self.shot(ShotKind.PLAY, dead + hold, moments, framing, opens_on=opens_on)
        return self.event(kind, outcome, shot=shot, **fields)

    def run(self, gain: float, **fields) -> int:
        return self.play(PlayKind.RUN, gain=gain, **fields)

    def incomplete(self, **fields) -> int:
        return self.play(PlayKind.PASS, Outcome.INCOMPLETE, **fields)

    def punt(self, **fields) -> int:
        return self.play(PlayKind.PUNT, Outcome.FAIR_CATCH, kick_to=75, **fields)

    def foul_before_snap(self, name: str = "false start", by: Side = Side.OFFENSE) -> int:
        shot = self.shot(ShotKind.PLAY, 6.0, [(MomentKind.FULL_WIDE, 0.5)])
        return self.event(PlayKind.NO_PLAY, shot=shot, fouls=(Foul(name, by, decision=FoulDecision.ACCEPTED),))

    # -- the film ----------------------------------------------------------------------------------------------------

    def shot(self, kind: ShotKind | None, seconds: float = 4.0, moments=(), framing: Framing | None = None, *,
             opens_on: ShotKind | None = None, shows=frozenset()) -> int:
        number = len(self.shots) + 1
        for each, at in moments:
            if at is not None:
                self.moments.append(Moment(len(self.moments) + 1, each, self._instant(self.now + at)))
        self.shots.append(Shot(number, self._instant(self.now), self._instant(self.now + seconds), kind, opens_on,
                               framing, frozenset(shows)))
        self.now += seconds
        return number

    def marker(self, seconds: float = 3.0) -> int:
        return self.shot(ShotKind.DOWN_MARKER, seconds, framing=Framing.CLOSE)

    def scoreboard(self) -> int:
        return self.shot(ShotKind.SCOREBOARD, 4.0, framing=Framing.CLOSE)

    def signal(self, after: float = 1.0) -> int:
        return self.shot(ShotKind.PENALTY_SIGNAL, after + 3.0, [(MomentKind.SIGNAL, after)])

    def untagged(self, seconds: float = 4.0) -> int:
        return self.shot(None, seconds)

    def unshot(self, seconds: float) -> None:
        """Film in which no shot is marked."""
        self.now += seconds

    def expect(self, rule: str, earlier: float = 0.0) -> None:
        """A finding of *rule* belongs here, or so many seconds earlier."""
        self.expected.append((rule, round(self.now - earlier, 3)))

    def _instant(self, seconds: float) -> Instant:
        return Instant("camera", round(seconds * TICKS))

    # -- what comes of it --------------------------------------------------------------------------------------------

    @property
    def game(self) -> Game:
        length = round((self.now + (0 if self.whole else 60)) * TICKS)
        source = Source("camera", Path("camera.mp4"), 1, "", Fraction(1, TICKS), 0, length, Fraction(30), 1280, 720)
        moments = sorted(self.moments, key=lambda moment: moment.at.pts)
        return Game(film=Film((source,)), shots=tuple(self.shots), moments=tuple(moments), plays=tuple(self.plays),
                    decisions=self.decisions)

    def steps(self):
        return track(RULEBOOK, [tag.play for tag in self.plays])

    def check(self, profile=PROFILE) -> Coverage:
        return check(self.game, self.steps(), profile, RULEBOOK)


def places(coverage: Coverage) -> list[tuple[str, float]]:
    """What was found and where: (rule, film seconds) in film order."""
    return [(finding.rule, round(finding.time, 3)) for finding in coverage.findings]


def rules(coverage: Coverage) -> list[str]:
    return [finding.rule for finding in coverage.findings]
