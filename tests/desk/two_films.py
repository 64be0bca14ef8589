"""Two cameras' films of a made-up evening of four plays, with sound, for tests in the window: the further one began and
stopped at its own times, its clock is 3 s off, and it missed play 3.

Snaps are at 10, 40, 70 and 100 s of the evening; each camera file holds one play.
"""

from __future__ import annotations

import subprocess
import wave
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from pathlib import Path

import numpy as np

from tests.tagging.two_cameras import evening_sound
from workstation.film.mono_sound import RATE as HEARD
from workstation.film.sources import open_film
from workstation.film.time import Instant
from workstation.football.plays import Outcome, Play, PlayKind
from workstation.tagging.gamefile import GameFile
from workstation.tagging.model import Game, Heading, Moment, MomentKind, PlayTag, Shot, ShotKind
from workstation.tagging.operations import TakeGame

RATE = 25
SNAPS = (10.0, 40.0, 70.0, 100.0)
HIGH = tuple((snap - 4, snap + 8) for snap in SNAPS)
END_ZONE = {1: (3.0, 20.0), 2: (35.0, 46.0), 4: (97.0, 109.0)}
PLAYS = (Play(PlayKind.RUN, gain=3, clock=700), Play(PlayKind.PASS, Outcome.INCOMPLETE, clock=660),
         Play(PlayKind.RUN, gain=2, clock=650), Play(PlayKind.PASS, Outcome.COMPLETE, gain=12, clock=600))


@dataclass(frozen=True)
class TwoFilms:
    """Folders of the two cameras, and one of another evening's film."""

    high: Path
    end_zone: Path
    another_game: Path


def film_evening(folder: Path) -> TwoFilms:
    chance = np.random.default_rng(5)
    sound, other = evening_sound(chance, 130), evening_sound(chance, 130)
    films = TwoFilms(folder / "high", folder / "end zone", folder / "another game")
    for place, (begin, end) in enumerate(HIGH, 1):
        _film(films.high, f"high{place}", begin, end, sound, 0.0, "testsrc2")
    for place, (begin, end) in END_ZONE.items():
        _film(films.end_zone, f"end{place}", begin, end, sound * 0.6, 3.0, "mandelbrot")
    for place, (begin, end) in enumerate(HIGH[:2], 1):
        _film(films.another_game, f"other{place}", begin, end, other, 7200.0, "testsrc")
    return films


def _film(folder: Path, name: str, begin: float, end: float, sound: np.ndarray, clock: float, pattern: str) -> None:
    folder.mkdir(exist_ok=True)
    heard = folder / f"{name}.wav"
    with wave.open(str(heard), "wb") as out:
        out.setnchannels(1)
        out.setsampwidth(2)
        out.setframerate(HEARD)
        cut = sound[round(begin * HEARD):round(end * HEARD)]
        out.writeframes((np.clip(cut, -1, 1) * 32000).astype("<i2").tobytes())
    began = datetime(2026, 9, 4, 19, tzinfo=UTC) + timedelta(seconds=int(begin + clock))
    subprocess.run(["ffmpeg", "-y", "-loglevel", "error", "-f", "lavfi", "-i", f"{pattern}=size=320x180:rate={RATE}",
                    "-i", str(heard), "-t", str(end - begin), "-c:v", "libx264", "-preset", "ultrafast", "-g", "25",
                    "-pix_fmt", "yuv420p", "-c:a", "aac", "-metadata",
                    f"creation_time={began:%Y-%m-%dT%H:%M:%SZ}", str(folder / f"{name}.mp4")], check=True)
    heard.unlink()


def game_of(films: TwoFilms, path: Path) -> Path:
    """The game as tagged on the high camera's film alone."""
    film = open_film([films.high])
    shots = tuple(Shot(place, source.first, source.end, ShotKind.PLAY) for place, source in enumerate(film.sources, 1))
    moments = []
    for source, snap, (begin, _) in zip(film.sources, SNAPS, HIGH, strict=True):
        for kind, at in ((MomentKind.SNAP, snap - begin), (MomentKind.DEAD_BALL, snap - begin + 4)):
            ticks = round(round(at * RATE) / (RATE * source.time_base))
            moments.append(Moment(len(moments) + 1, kind, Instant(source.id, source.start_pts + ticks)))
    tags = tuple(PlayTag(place, float(place), play, place) for place, play in enumerate(PLAYS, 1))
    with GameFile.create(path, Heading("Harbor at Summit", "Summit", "Harbor", "2026-09-04", crew="A. Noe")) as file:
        file.do(TakeGame(Game(file.game.heading, film, shots, tuple(moments), tags)))
    return path


def seconds_of_evening(film, at: Instant, spans) -> float:
    """When a picture was filmed, in seconds of the evening; *spans* are those of the film's files."""
    source = film.source(at.source)
    place = [each.id for each in film.sources].index(at.source)
    return list(spans)[place][0] + float((at.pts - source.start_pts) * source.time_base)
