"""The script of an invented game: what happens, how it is filmed, and what is wrong with the filming.

Everything in it is invented: schools, teams, venue, date. High-school players are minors, so
nobody real appears in the demo. The tables below are the ground truth that tests use; the
situations are kept by hand, independently of the tracker.

Ostley Bend (home, blue) meets Quillhaven (visitors, white) in a pre-season game of four short
periods: three minutes each, and two in the fourth, agreed by both coaches and the referee with a
storm on its way (NFHS rule 3-1-3 allows it; from memory). It is filmed from the press box by a
decent trainee: mostly right, with the mistakes in :data:`MISTAKES`.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

from ..football.field import Team
from ..football.plays import Foul, FoulDecision, FoulTime, Outcome, Play, PlayKind, Side
from ..football.situation import Next, Situation
from ..tagging.model import Framing, Heading, MomentKind, ShotKind, Shows
from ..tagging.own_words.definition import WordSaid

HEADING = Heading(
    title="Quillhaven at Ostley Bend",
    home="Ostley Bend",
    visitors="Quillhaven",
    date="2026-08-21",
    venue="Heronry Field, Ostley Bend",
    level="high school",
    rulebook="nfhs",
    crew="Demo trainee",
)

#: Home's opponents' goal is to the press box's right; ends change after the first and third periods.
HOME_FACES_RIGHT = {1: True, 2: False, 3: True, 4: False}


@dataclass(frozen=True)
class Scene:
    """One recording.

    ``seconds`` is its length; ``moments`` are (kind, seconds from its first picture).
    ``play`` is the play or event it films, ``truth`` the situation before it (or simply the
    situation, where no play is filmed), ``then`` what follows that nobody could film.
    ``ball_y`` and ``to_y`` tell the painter where the ball starts and where the play goes, in
    yards from the near sideline; ``catch`` is where a pass is caught, in yards beyond the line.
    """

    name: str
    kind: ShotKind
    seconds: float
    truth: Situation
    play: Play | None = None
    moments: tuple[tuple[MomentKind, float], ...] = ()
    then: tuple[Play, ...] = ()
    opens_on: ShotKind | None = None
    framing: Framing | None = None
    shows: frozenset[Shows] = frozenset()
    ball_y: float = 26.7
    to_y: float = 26.7
    catch: float | None = None

    def at(self, kind: MomentKind) -> float | None:
        """Seconds from the first picture to the first moment of that kind, None if it has none."""
        return next((seconds for moment, seconds in self.moments if moment is kind), None)

    @cached_property
    def offense_faces_right(self) -> bool:
        """Whether the offense moves towards the right side of the picture in this period."""
        return HOME_FACES_RIGHT[self.truth.period] == (self.truth.offense is not Team.VISITORS)


@dataclass(frozen=True)
class Mistake:
    """A coverage mistake that the trainee makes on purpose of the script.

    ``rule`` names it in the words of the coverage rules, ``scene`` is where it lies: the scene
    that is wrong, or the scene before whose start the missing shot belonged (for a shot that
    is missing after the last scene: that scene)."""

    rule: str
    scene: str
    why: str


HOME, VISITORS = Team.HOME, Team.VISITORS


def _before(period: int, clock: str, offense: Team | None, ball_on: float | None = None, down: int | None = None,
            to_gain: float | None = None, *, score: tuple[int, int] = (0, 0), next: Next = Next.SCRIMMAGE) -> Situation:
    """Write a situation down in one line; ``score`` is home, visitors."""
    minutes, seconds = clock.split(":")
    return Situation(next=next, offense=offense, down=down, yards_to_gain=to_gain, ball_on=ball_on, period=period,
                     clock=int(minutes) * 60 + int(seconds), score_home=score[0], score_visitors=score[1])


def filmed_play(name: str, truth: Situation, play: Play, *, wide: float = 0.6, snap: float = 3.2, lasts: float = 5.0,
            hold: float = 2.4, ball_y: float = 26.7, to_y: float = 26.7, catch: float | None = None,
            then: tuple[Play, ...] = (), framing: Framing = Framing.WIDE, opens_on: ShotKind | None = None,
            more: tuple[tuple[MomentKind, float], ...] = ()) -> Scene:
    """A play filmed from the press box: full wide, snap, ``lasts`` seconds to the dead ball, ``hold`` after it."""
    dead = snap + lasts
    moments = ((MomentKind.FULL_WIDE, wide), (MomentKind.SNAP, snap), (MomentKind.DEAD_BALL, dead), *more)
    shows = frozenset({Shows.DOWN}) if opens_on is ShotKind.DOWN_MARKER else frozenset()
    return Scene(name, ShotKind.PLAY, dead + hold, truth, play, moments, then, opens_on, framing, shows,
                 ball_y, to_y, catch)


def _marker(name: str, truth: Situation) -> Scene:
    return Scene(name, ShotKind.DOWN_MARKER, 3.5, truth, framing=Framing.CLOSE, shows=frozenset({Shows.DOWN}))


def scoreboard(name: str, truth: Situation) -> Scene:
    """The scoreboard filmed by itself."""
    return Scene(name, ShotKind.SCOREBOARD, 4.5, truth, framing=Framing.CLOSE,
                 shows=frozenset({Shows.SCORE, Shows.CLOCK}))


_PERIOD_ENDS = (Play(PlayKind.END_OF_PERIOD),)

SCENES: tuple[Scene, ...] = (
    # -- first period: home receives, punts; the visitors come down the field -------------------------------------
    Scene("coin toss", ShotKind.COIN_TOSS, 9.0, _before(1, "3:00", None, next=Next.COIN_TOSS),
          Play(PlayKind.COIN_TOSS, team=VISITORS, choice="defer"),
          ((MomentKind.SIGNAL, 5.5),), framing=Framing.CLOSE_TO_WIDE),
    filmed_play("opening kickoff", _before(1, "3:00", VISITORS, 40, next=Next.KICKOFF),
            Play(PlayKind.KICKOFF, Outcome.RETURNED, kick_to=92, spot=73, clock=180),
            lasts=9.0, to_y=20),
    filmed_play("home run for four", _before(1, "2:51", HOME, 27, 1, 10),
            Play(PlayKind.RUN, gain=4, clock=171), lasts=4.2, ball_y=21, to_y=27),
    filmed_play("home incomplete", _before(1, "2:16", HOME, 31, 2, 6),
            Play(PlayKind.PASS, Outcome.INCOMPLETE, clock=136), lasts=4.0, ball_y=26, to_y=44, catch=13),
    filmed_play("home inches short", _before(1, "2:11", HOME, 31, 3, 6),
            Play(PlayKind.PASS, Outcome.COMPLETE, gain=5.7, clock=131), lasts=4.2, ball_y=26, to_y=16, catch=4.7),
    Scene("measurement", ShotKind.MEASUREMENT, 12.0, _before(1, "2:05", HOME, 36.7, 4, 0.3),
          Play(PlayKind.MEASUREMENT, Outcome.SHORT, clock=125),
          ((MomentKind.CHAINS_SET, 1.0), (MomentKind.RESULT_SHOWN, 4.5), (MomentKind.SIGNAL, 8.0)),
          framing=Framing.CLOSE_TO_WIDE, ball_y=17.8),
    _marker("marker after the measurement", _before(1, "2:05", HOME, 36.7, 4, 0.3)),
    filmed_play("home punt", _before(1, "2:05", HOME, 36.7, 4, 0.3),
            Play(PlayKind.PUNT, Outcome.FAIR_CATCH, kick_to=78, clock=125), lasts=6.2, ball_y=17.8, to_y=30),
    filmed_play("visitors run for three", _before(1, "1:57", VISITORS, 22, 1, 10),
            Play(PlayKind.RUN, gain=3, clock=117), lasts=4.0, ball_y=30, to_y=24),
    filmed_play("visitors run for two", _before(1, "1:20", VISITORS, 25, 2, 7),
            Play(PlayKind.RUN, gain=2, clock=80), lasts=4.0, ball_y=24, to_y=31),
    filmed_play("fifty-yard pass", _before(1, "0:42", VISITORS, 27, 3, 5),
            Play(PlayKind.PASS, Outcome.COMPLETE, gain=50, clock=42), lasts=8.4, ball_y=31, to_y=41, catch=38),
    filmed_play("visitors run for six", _before(1, "0:08", VISITORS, 77, 1, 10),
            Play(PlayKind.RUN, gain=6, clock=8), lasts=4.6, ball_y=35.5, to_y=24, then=_PERIOD_ENDS),
    scoreboard("scoreboard, first period over", _before(1, "0:00", VISITORS, 83, 2, 4)),
    # -- second period: touchdown and try, two penalties, a field goal as time runs out -----------------------------
    _marker("marker after the first break", _before(2, "3:00", VISITORS, 83, 2, 4)),
    filmed_play("touchdown pass", _before(2, "3:00", VISITORS, 83, 2, 4),
            Play(PlayKind.PASS, Outcome.COMPLETE, gain=17, clock=180), lasts=5.4, hold=4.0, ball_y=24, to_y=13,
            catch=12),
    filmed_play("try", _before(2, "2:53", VISITORS, 97, score=(0, 6), next=Next.TRY),
            Play(PlayKind.TRY_KICK, Outcome.GOOD, clock=173), lasts=3.6),
    filmed_play("second kickoff", _before(2, "2:53", VISITORS, 40, score=(0, 7), next=Next.KICKOFF),
            Play(PlayKind.KICKOFF, Outcome.RETURNED, kick_to=88, spot=70, clock=173), lasts=8.6, to_y=33),
    filmed_play("holding", _before(2, "2:43", HOME, 30, 1, 10, score=(0, 7)),
            Play(PlayKind.RUN, gain=6, clock=163, fouls=(
                Foul("holding", Side.OFFENSE, spot=30, when=FoulTime.DURING_DOWN, decision=FoulDecision.ACCEPTED),)),
            lasts=4.6, ball_y=30, to_y=36),
    Scene("holding signal", ShotKind.PENALTY_SIGNAL, 5.0, _before(2, "2:36", HOME, 20, 1, 20, score=(0, 7)),
          moments=((MomentKind.SIGNAL, 0.8),), framing=Framing.CLOSE, ball_y=30),
    filmed_play("pass out of trouble", _before(2, "2:11", HOME, 20, 1, 20, score=(0, 7)),
            Play(PlayKind.PASS, Outcome.COMPLETE, gain=24, clock=131), lasts=6.0, ball_y=30, to_y=40, catch=18),
    filmed_play("roughing the passer", _before(2, "1:24", HOME, 44, 1, 10, score=(0, 7)),
            Play(PlayKind.PASS, Outcome.INCOMPLETE, clock=84, fouls=(
                Foul("roughing the passer", Side.DEFENSE, when=FoulTime.DURING_DOWN,
                     decision=FoulDecision.ACCEPTED),)),
            lasts=4.4, ball_y=35.5, to_y=20, catch=9),
    _marker("marker after roughing", _before(2, "1:16", HOME, 59, 1, 10, score=(0, 7))),
    filmed_play("pass to the twenty", _before(2, "1:16", HOME, 59, 1, 10, score=(0, 7)),
            Play(PlayKind.PASS, Outcome.COMPLETE, gain=21, clock=76), lasts=5.4, hold=0.6, ball_y=35.5, to_y=24,
            catch=16),
    filmed_play("home run for two", _before(2, "0:36", HOME, 80, 1, 10, score=(0, 7)),
            Play(PlayKind.RUN, gain=2, clock=36), lasts=3.8, ball_y=24, to_y=20),
    filmed_play("incomplete at the goal line", _before(2, "0:10", HOME, 82, 2, 8, score=(0, 7)),
            Play(PlayKind.PASS, Outcome.INCOMPLETE, clock=10), lasts=4.2, ball_y=20, to_y=38, catch=19),
    filmed_play("field goal", _before(2, "0:04", HOME, 82, 3, 8, score=(0, 7)),
            Play(PlayKind.FIELD_GOAL, Outcome.GOOD, clock=4), lasts=4.4, ball_y=26.7, then=_PERIOD_ENDS),
    scoreboard("scoreboard at the half", _before(2, "0:00", HOME, 40, score=(3, 7), next=Next.KICKOFF)),
    # -- third period: an injury on the return, a punt each way of clock -------------------------------------------
    filmed_play("second-half kickoff", _before(3, "3:00", HOME, 40, score=(3, 7), next=Next.KICKOFF),
            Play(PlayKind.KICKOFF, Outcome.RETURNED, kick_to=90, spot=75, clock=180), lasts=8.8, to_y=18),
    Scene("helped off", ShotKind.INJURY, 6.0, _before(3, "2:50", VISITORS, 25, 1, 10, score=(3, 7)),
          framing=Framing.WIDE, ball_y=18),
    filmed_play("visitors run for three again", _before(3, "2:50", VISITORS, 25, 1, 10, score=(3, 7)),
            Play(PlayKind.RUN, gain=3, clock=170), lasts=4.0, ball_y=18, to_y=24),
    _marker("marker nobody needed", _before(3, "2:11", VISITORS, 28, 2, 7, score=(3, 7))),
    filmed_play("short pass", _before(3, "2:11", VISITORS, 28, 2, 7, score=(3, 7)),
            Play(PlayKind.PASS, Outcome.COMPLETE, gain=2, clock=131), lasts=4.0, ball_y=24, to_y=34, catch=1),
    filmed_play("run not seen lining up", _before(3, "1:31", VISITORS, 30, 3, 5, score=(3, 7)),
            Play(PlayKind.RUN, gain=1, clock=91), wide=2.2, snap=2.6, lasts=3.8, ball_y=34, to_y=28),
    filmed_play("visitors punt", _before(3, "0:51", VISITORS, 31, 4, 4, score=(3, 7)),
            Play(PlayKind.PUNT, Outcome.RETURNED, kick_to=68, spot=60, clock=51), lasts=8.2, ball_y=28, to_y=36),
    filmed_play("home run for four again", _before(3, "0:38", HOME, 40, 1, 10, score=(3, 7)),
            Play(PlayKind.RUN, gain=4, clock=38), lasts=4.4, ball_y=35.5, to_y=40, then=_PERIOD_ENDS),
    scoreboard("scoreboard, third period over", _before(3, "0:00", HOME, 44, 2, 6, score=(3, 7))),
    # -- fourth period: home goes for it and is stopped; tempers; the visitors kneel ---------------------------------
    _marker("marker after the third break", _before(4, "2:00", HOME, 44, 2, 6, score=(3, 7))),
    filmed_play("pass for three", _before(4, "2:00", HOME, 44, 2, 6, score=(3, 7)),
            Play(PlayKind.PASS, Outcome.COMPLETE, gain=3, clock=120), lasts=4.0, ball_y=35.5, to_y=28, catch=2),
    filmed_play("run for nothing", _before(4, "1:21", HOME, 47, 3, 3, score=(3, 7)),
            Play(PlayKind.RUN, gain=0, clock=81), lasts=3.8, ball_y=28, to_y=24),
    filmed_play("fourth-down attempt", _before(4, "0:41", HOME, 47, 4, 3, score=(3, 7)),
            Play(PlayKind.RUN, gain=-1, clock=41), wide=4.2, snap=8.7, lasts=4.2, hold=10.5, ball_y=24, to_y=32,
            framing=Framing.CLOSE_TO_WIDE, opens_on=ShotKind.DOWN_MARKER,
            more=((MomentKind.CONFRONTATION, 14.4), (MomentKind.CONFRONTATION_OVER, 20.4))),
    filmed_play("kneel", _before(4, "0:34", VISITORS, 54, 1, 10, score=(3, 7)),
            Play(PlayKind.KNEEL, gain=-1, clock=34), lasts=2.2, ball_y=30, to_y=30, then=_PERIOD_ENDS),
    scoreboard("final scoreboard", _before(4, "0:00", None, score=(3, 7), next=Next.OVER)),
    Scene("handshake", ShotKind.HANDSHAKE, 6.0, _before(4, "0:00", None, score=(3, 7), next=Next.OVER),
          framing=Framing.CLOSE),
)

#: What the staff says of each snap of the offense beside the play: formation, call, and at the beginning of a drive who
#: is on the field and the front, which are carried on. Common practice, no source.
_WORDS = {
    "home run for four": "I, inside zone, 21, 4-3", "home incomplete": "doubles, drop back, 11",
    "home inches short": "trips, quick game", "visitors run for three": "pro, power, 21, 4-4",
    "visitors run for two": "wing, sweep", "fifty-yard pass": "trips, play action, 11",
    "visitors run for six": "I, counter, 21", "touchdown pass": "bunch, boot, 12",
    "holding": "doubles, sweep, 11, 4-3", "pass out of trouble": "empty, drop back, 10",
    "roughing the passer": "doubles, drop back, 11", "pass to the twenty": "trips, screen",
    "home run for two": "pro, power, 21", "incomplete at the goal line": "bunch, quick game, 12",
    "visitors run for three again": "I, inside zone, 21, 4-4", "short pass": "doubles, screen, 11",
    "run not seen lining up": "pro, counter, 21", "home run for four again": "I, power, 21, 3-4",
    "pass for three": "trips, quick game, 11", "run for nothing": "power I, dive, 30",
    "fourth-down attempt": "power I, sneak", "kneel": "victory, , 30, 4-4",
}
_SAID = ("formation", "play call", "personnel", "front")


def words_of(scene: Scene) -> tuple[WordSaid, ...]:
    """What the staff says of a scene's play; where the ball lies across the field follows from the film."""
    said = _WORDS.get(scene.name)
    if said is None:
        return ()
    away = (scene.ball_y - 26.7) * (1 if scene.offense_faces_right else -1)
    across = "middle" if abs(away) < 3 else "left hash" if away > 0 else "right hash"
    return (*(WordSaid(name, (value,)) for name, value in zip(_SAID, said.split(", "), strict=False) if value),
            WordSaid("hash", (across,)))


MISTAKES: tuple[Mistake, ...] = (
    Mistake("scoreboard expected", "second kickoff",
            "Touchdown and try made it 0-7, and no scoreboard was filmed before or after the kickoff."),
    Mistake("marker shot expected", "pass out of trouble",
            "Holding was enforced; it is 1st and 20, and nothing on film says so."),
    Mistake("penalty signal expected", "marker after roughing",
            "The referee's signal for roughing the passer was not filmed; the viewer sees a flag and a new spot."),
    Mistake("longer hold expected", "pass to the twenty",
            "The shot is cut 0.6 s after the dead ball."),
    Mistake("marker shot not needed", "marker nobody needed",
            "First down, then a run for three: everyone knows that it is second down."),
    Mistake("ready before the snap", "run not seen lining up",
            "The picture is full wide only 0.4 s before the snap."),
    Mistake("pull-out opportunity", "run for nothing",
            "3rd and 3, late and four points behind: decisive, and the shot could have opened on the marker."),
    Mistake("handshake expected", "handshake",
            "The handshake stays close and is never eased out to wide."),
)

#: What is deliberately right and would be tempting to flag: (scene, why it is right).
RIGHT: tuple[tuple[str, str], ...] = (
    ("home punt", "The marker was shown right after the measurement came up short."),
    ("visitors run for three", "After a kick it is first down; no marker is needed."),
    ("fifty-yard pass", "Two short runs make it third down; no marker is needed."),
    ("visitors run for six", "After a gain of fifty it is first down; no marker is needed."),
    ("marker after the first break", "After the break between periods the viewer is reminded."),
    ("marker after roughing", "A penalty moved the ball; the marker tells what it came to."),
    ("field goal", "First down, run, incomplete: third down. The scoreboard of the half follows at once."),
    ("second-half kickoff", "A player is hurt; the shot ends at its usual time."),
    ("helped off", "A short shot of the player walking off with help, nothing of the care on the field."),
    ("visitors punt", "Three short plays: it is fourth down and a punt is coming."),
    ("fourth-down attempt", ("Opens on the marker, eases out, all in frame 4.5 s before the snap; keeps rolling "
                            "through the scuffle until it is over, wide enough for everyone near it.")),
    ("kneel", "The attempt was stopped short; the other team has the ball, so it is first down."),
    ("final scoreboard", "Final score with the clock at zero, then the handshake."),
)

FINAL_SCORE = {HOME: 3, VISITORS: 7}


def scene(name: str) -> Scene:
    """The scene of that name; KeyError if there is none."""
    for found in SCENES:
        if found.name == name:
            return found
    raise KeyError(name)


def plays() -> list[tuple[Play, Scene | None, Situation | None]]:
    """Every play in game order: the play, the scene that films it, and the situation before it.

    What nobody could film (the end of a period) has neither scene nor situation."""
    listed: list[tuple[Play, Scene | None, Situation | None]] = []
    for one in SCENES:
        if one.play:
            listed.append((one.play, one, one.truth))
        listed += [(play, None, None) for play in one.then]
    return listed
