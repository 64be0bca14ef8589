"""A short tagged game with a real film behind it, for trying the rooms."""

from __future__ import annotations

import subprocess
from dataclasses import replace
from pathlib import Path

from tests.tagging.two_angles import filmed_from_end_zone
from workstation.film.film import Film
from workstation.film.sources import open_film
from workstation.film.time import Instant
from workstation.football.field import Team
from workstation.football.plays import Foul, Outcome, Play, PlayKind, Side
from workstation.tagging.gamefile import GameFile
from workstation.tagging.model import Game, Heading, Moment, MomentKind, Note, PlayTag, Shot, ShotKind
from workstation.tagging.operations import TakeGame

RATE = 25
SECONDS = 110
PLAYS = (
    Play(PlayKind.KICKOFF, Outcome.RETURNED, team=Team.HOME, kick_to=90, spot=75, clock=720),
    Play(PlayKind.RUN, gain=3, clock=700),
    Play(PlayKind.PASS, Outcome.INCOMPLETE, clock=660),
    Play(PlayKind.RUN, gain=2, clock=650),
    Play(PlayKind.PUNT, Outcome.DOWNED, kick_to=70, clock=610),
    Play(PlayKind.PASS, Outcome.COMPLETE, gain=12, clock=600),
    Play(PlayKind.RUN, gain=4, fouls=(Foul("holding", Side.OFFENSE, spot=44),), clock=560),
    Play(PlayKind.RUN, gain=5, clock=540),
    Play(PlayKind.PASS, Outcome.COMPLETE, gain=8, clock=110),
    Play(PlayKind.RUN, gain=1, clock=80),
    Play(PlayKind.RUN, gain=2, clock=40),
)


def make_film(folder: Path, size: str = "320x180") -> Film:
    path = folder / "high.mp4"
    if not path.exists():
        subprocess.run(["ffmpeg", "-y", "-loglevel", "error", "-f", "lavfi", "-i",
                        f"testsrc2=size={size}:rate={RATE}:duration={SECONDS}", "-c:v", "libx264", "-preset",
                        "ultrafast", "-g", "25", "-pix_fmt", "yuv420p", str(path)], check=True)
    return open_film([path])


def make_game(folder: Path, film: Film) -> Path:
    """Write a game file with eleven plays, an altercation, two notes; returns its path."""
    (source,) = film.sources

    def at(seconds: float) -> Instant:
        ticks = round(round(seconds * RATE) / (RATE * source.time_base))
        return Instant(source.id, source.start_pts + ticks)

    shots, moments, tags = [], [], []
    for n, play in enumerate(PLAYS):
        start = 2 + n * 9
        shots.append(Shot(n + 1, at(start), at(start + 8), ShotKind.PLAY))
        for kind, seconds in ((MomentKind.FULL_WIDE, 0), (MomentKind.SNAP, 3), (MomentKind.DEAD_BALL, 6)):
            moments.append(Moment(len(moments) + 1, kind, at(start + seconds)))
        tags.append(PlayTag(n + 1, float(n + 1), play, n + 1))
    shots.append(Shot(len(shots) + 1, at(102), at(107), ShotKind.ALTERCATION))
    notes = (Note(1, at(30), "left tackle late off the ball"), Note(2, at(60), "good look at the formation"))
    path = folder / "small.game"
    if path.exists():
        path.unlink()
    with GameFile.create(path, Heading("Harbor at Summit", "Summit", "Harbor", "2026-09-04")) as file:
        file.do(TakeGame(Game(file.game.heading, film, tuple(shots), tuple(moments), tuple(tags), notes)))
    return path


def with_end_zone(game: Game) -> Game:
    """The game with a second angle: the same pictures under other names, every shot matched with the play in it."""
    film = Film(tuple(replace(source, id=f"end-{source.id}") for source in game.film.sources))
    shots = tuple(replace(shot, id=shot.id + 1000, start=shot.start._replace(source=f"end-{shot.start.source}"),
                          end=shot.end._replace(source=f"end-{shot.end.source}")) for shot in game.shots)
    starts = {shot.id: (shot.start, other) for shot, other in zip(game.shots, shots, strict=True)}
    return filmed_from_end_zone(game, film, shots, (
        (tag.id, starts[tag.shot][1].id, starts[tag.shot][0], starts[tag.shot][1].start)
        for tag in game.plays if tag.shot is not None), "R. Roe")
