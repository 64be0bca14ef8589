"""Games and sources for the tests of this folder."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

from workstation.film.film import Film, Source
from workstation.film.time import Instant
from workstation.football.field import Team
from workstation.football.plays import (
    BallEvent,
    EventKind,
    Foul,
    FoulDecision,
    Outcome,
    Play,
    PlayKind,
    Side,
    SituationOverride,
)
from workstation.tagging.model import (
    Angle,
    AngleFilm,
    CameraPlace,
    Decision,
    Drawing,
    DrawingKind,
    Evidence,
    Framing,
    Game,
    Heading,
    Match,
    Moment,
    MomentKind,
    Note,
    PlayTag,
    Sequence,
    SequenceItem,
    Shot,
    ShotKind,
    Shows,
    Verdict,
)


def source(name: str, folder: Path, seconds: int = 600) -> Source:
    """A camera file as probed: 30000/1001 frames a second on a 1/90000 s clock that starts at 900."""
    return Source(
        id=name,
        path=folder / "card" / f"{name}.mp4",
        size=1_000_000,
        fingerprint=f"fingerprint of {name}",
        time_base=Fraction(1, 90000),
        start_pts=900,
        duration_pts=seconds * 90000,
        frame_rate=Fraction(30000, 1001),
        width=1920,
        height=1080,
        video_codec="h264",
    )


def at(seconds: float, name: str = "s1") -> Instant:
    """The instant that many seconds into a :func:`source`."""
    return Instant(name, 900 + int(seconds * 90000))


def full_game(folder: Path) -> Game:
    """A game with one of everything."""
    return Game(
        heading=Heading("Harbor at Summit", "Summit", "Harbor", "2026-09-04", "Summit Field", "varsity", crew="J. Doe"),
        film=Film((source("s1", folder), source("s2", folder))),
        shots=(
            Shot(1, at(0), at(10), ShotKind.COIN_TOSS),
            Shot(3, at(10), at(40), ShotKind.PLAY, ShotKind.DOWN_MARKER, Framing.CLOSE_TO_WIDE, frozenset(Shows)),
            Shot(2, at(1, "s2"), at(9, "s2"), confirmed=False),
        ),
        moments=(
            Moment(2, MomentKind.SNAP, at(15)),
            Moment(1, MomentKind.DEAD_BALL, at(21.5)),
            Moment(4, MomentKind.SNAP, at(3, "s2")),
        ),
        plays=(
            PlayTag(2, 0.5, Play(PlayKind.COIN_TOSS, team=Team.VISITORS, choice="receive"), 1),
            PlayTag(
                1,
                1.0,
                Play(
                    PlayKind.PASS,
                    Outcome.INTERCEPTED,
                    gain=12.5,
                    spot=40,
                    possession=Side.DEFENSE,
                    events=(BallEvent(EventKind.INTERCEPTION, 52, Side.DEFENSE), BallEvent(EventKind.FUMBLE)),
                    fouls=(Foul("holding", Side.OFFENSE, decision=FoulDecision.DECLINED),),
                    clock=712,
                    override=SituationOverride(offense=Team.HOME, down=3, yards_to_gain=0.5),
                    comment="tipped – “look” at 22 🏈",
                ),
                3,
            ),
            PlayTag(5, 7.25, Play(PlayKind.TIMEOUT, team=Team.HOME)),
        ),
        notes=(Note(1, at(16), "camera bumped"), Note(2, at(30), "line 1\nline 2", at(2, "s2"))),
        drawings=(
            Drawing(1, DrawingKind.ARROW, at(15), ((0.1, 0.2), (0.75, 1))),
            Drawing(2, DrawingKind.TEXT, at(17), ((0.5, 0.5),), at(19), "watch the guard"),
        ),
        decisions=(
            Decision("marker shot expected: play 1", Verdict.WAIVED, "chain crew stood in the way"),
            Decision("scoreboard expected: play 5", comment="see the second half"),
        ),
        sequences=(Sequence(1, "third downs", (SequenceItem(1, 2.5, 1), SequenceItem(2))), Sequence(4, "empty")),
        angles=(
            AngleFilm(
                Angle(2, "End zone", CameraPlace.END_ZONE, crew="R. Roe"),
                Film((source("e1", folder),)),
                shots=(Shot(7, at(0, "e1"), at(30, "e1"), ShotKind.PLAY),),
                moments=(Moment(6, MomentKind.DEAD_BALL, at(12, "e1")),),
                notes=(Note(3, at(5, "e1"), "from the tower"),),
            ),
        ),
        matches=(Match(2, 1, 7, (at(15), at(5, "e1")), Evidence.SOUND, 0.02),),
    )
