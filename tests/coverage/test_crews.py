"""A trainee beside a mentor: two films of one place compared. Second down is reached by a run of three, a penalty moves
the ball before play 2: the mentor shows the marker and the signal, the trainee neither, and cuts play 1 early."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

from workstation.coverage.crews import Showing, compare_crews
from workstation.film.film import Film, Source
from workstation.film.time import Instant
from workstation.football.field import Team
from workstation.football.plays import Foul, Play, PlayKind, Side, SituationOverride
from workstation.football.situation import Next
from workstation.tagging.model import (
    Angle,
    AngleFilm,
    Framing,
    Game,
    Heading,
    Match,
    Moment,
    MomentKind,
    PlayTag,
    Shot,
    ShotKind,
)


def film(id: str, scenes, first_shot: int, first_moment: int):
    """A film of scenes: kind, seconds, moments."""
    shots, moments, now = [], [], 0.0
    for kind, seconds, marks in scenes:
        start, end = Instant(id, round(now * 1000)), Instant(id, round((now + seconds) * 1000))
        shots.append(Shot(first_shot + len(shots), start, end, kind,
                          framing=Framing.WIDE if kind is ShotKind.PLAY else Framing.CLOSE))
        moments += [Moment(first_moment + len(moments) + at, mark, Instant(id, round((now + when) * 1000)))
                    for at, (mark, when) in enumerate(marks)]
        now += seconds
    source = Source(id, Path(f"{id}.mp4"), 1, id, Fraction(1, 1000), 0, round(now * 1000), Fraction(30), 1280, 720)
    return Film((source,)), tuple(shots), tuple(moments)


def play(hold: float):
    marks = (MomentKind.FULL_WIDE, 0.5), (MomentKind.SNAP, 4.0), (MomentKind.DEAD_BALL, 9.0)
    return ShotKind.PLAY, 9.0 + hold, marks


def test_what_one_showed_and_the_other_did_not_stands_side_by_side():
    signal = (ShotKind.PENALTY_SIGNAL, 4.0, ((MomentKind.SIGNAL, 1.0),))
    marker = (ShotKind.DOWN_MARKER, 3.0, ())
    trainee = film("trainee", [play(0.3), play(3.0)], 1, 1)
    mentor = film("mentor", [play(3.0), signal, marker, play(3.0)], 11, 101)
    start = SituationOverride(offense=Team.HOME, down=1, yards_to_gain=10, ball_on=30, period=1,
                              next=Next.SCRIMMAGE)
    plays = (PlayTag(1, 1.0, Play(PlayKind.RUN, gain=3, clock=600, override=start,
                                  fouls=(Foul("holding", Side.OFFENSE, spot=33),)), 1),
             PlayTag(2, 2.0, Play(PlayKind.RUN, gain=4, clock=560), 2))
    game = Game(Heading(crew="Trainee"), *trainee[:1], shots=trainee[1], moments=trainee[2], plays=plays,
                angles=(AngleFilm(Angle(1, "Beside", crew="Mentor"), mentor[0], mentor[1], mentor[2]),),
                matches=(Match(1, 1, 11), Match(1, 2, 14)))
    made = compare_crews(game, 0, 1)
    first = made.rows[0]
    assert [side.well for side in first.showings["signal"]] == [False, True]
    assert first.showings["hold"][0] == Showing("missing", False)
    assert [round(held, 1) for held in first.holds] == [0.3, 3.0]
    assert first.differs
    markers = [row.showings["marker"] for row in made.rows]
    assert any(one.well is False and other.well is True for one, other in markers)
