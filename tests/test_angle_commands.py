"""The ``angle`` command on real files: two cameras that filmed one made-up evening, each with its own stops and starts.

Four plays: snaps at 10, 40, 75 and 110 s of the evening. The first camera films each in a file of its own; the further
one misses the third.
"""

from __future__ import annotations

import subprocess
import wave
from pathlib import Path

import numpy as np
import pytest

from tests.tagging.two_cameras import evening_sound
from workstation.commands import run as main
from workstation.film.mono_sound import RATE
from workstation.film.sources import open_film
from workstation.film.time import Instant
from workstation.football.plays import Play, PlayKind
from workstation.tagging.angles import ties_of
from workstation.tagging.gamefile import GameFile
from workstation.tagging.model import Game, Heading, Moment, MomentKind, PlayTag, Shot, ShotKind

SNAPS = (10.0, 40.0, 75.0, 110.0)
HERE = tuple((snap - 6, snap + 11) for snap in SNAPS)
THERE = ((5.0, 22.0), (33.0, 50.0), (104.0, 121.0))


def film(folder: Path, sound: np.ndarray, spans, loud: float) -> list[Path]:
    folder.mkdir()
    made = []
    for number, (begin, end) in enumerate(spans, 1):
        heard = folder / "heard.wav"
        with wave.open(str(heard), "wb") as out:
            out.setnchannels(1)
            out.setsampwidth(2)
            out.setframerate(RATE)
            out.writeframes((sound[int(begin * RATE):int(end * RATE)] * loud * 30000).astype(np.int16).tobytes())
        made.append(folder / f"clip{number}.mp4")
        subprocess.run(["ffmpeg", "-y", "-loglevel", "error", "-f", "lavfi", "-i",
                        f"testsrc2=size=160x90:rate=25:duration={end - begin}", "-i", str(heard), "-c:v", "libx264",
                        "-preset", "ultrafast", "-c:a", "aac", "-shortest", str(made[-1])], check=True)
        heard.unlink()
    return made


@pytest.fixture(scope="module")
def cameras(tmp_path_factory):
    folder = tmp_path_factory.mktemp("cameras")
    chance = np.random.default_rng(4)
    sound = evening_sound(chance, 130)
    other = evening_sound(np.random.default_rng(77), 130)
    return film(folder / "high", sound, HERE, 0.8), film(folder / "tower", sound, THERE, 0.4), \
        film(folder / "elsewhere", other, THERE, 0.5)


@pytest.fixture
def game(cameras, tmp_path) -> Path:
    clips = open_film(cameras[0])
    shots = tuple(Shot(n, source.first, source.end, ShotKind.PLAY) for n, source in enumerate(clips.sources, 1))
    snaps = tuple(Moment(n, MomentKind.SNAP, Instant(source.id, source.start_pts + round(6 / source.time_base)))
                  for n, source in enumerate(clips.sources, 1))
    plays = tuple(PlayTag(n, n, Play(PlayKind.RUN, gain=2), n) for n in range(1, 5))
    path = tmp_path / "Friday.game"
    GameFile.create(path, game=Game(Heading(), clips, shots, snaps, plays)).close()
    return path


def test_a_further_camera_is_added_and_matched_by_what_both_heard(game, cameras, capsys):
    assert main(["angle", str(game), "add", *map(str, cameras[1]), "--place", "end zone", "--crew", "R. Roe"]) == 1
    said = capsys.readouterr().out
    assert "3 of 4 plays matched" in said
    assert "play 3 is open" in said
    with GameFile.open(game, read_only=True) as file:
        kept = file.game
    (further,) = kept.angles
    assert (further.angle.name, further.angle.crew, len(further.film.sources)) == ("End zone", "R. Roe", 3)
    place = {shot.id: number for number, shot in enumerate(further.shots)}
    assert {match.play: place[match.shot] for match in kept.matches} == {1: 0, 2: 1, 4: 2}
    ties = ties_of(kept, further.angle.id)
    for play, shot in ((1, 0), (2, 1), (4, 2)):
        there = further.film.starts_at(further.film.sources[shot].id)
        here = kept.film.starts_at(kept.film.sources[play - 1].id)
        expected = float(there) - THERE[shot][0] - (float(here) - HERE[play - 1][0])
        assert float(ties[play].further - ties[play].first) == pytest.approx(expected, abs=1 / 25)
    assert main(["angle", str(game), "list"]) == 0
    listed = capsys.readouterr().out
    assert "End zone" in listed and "3 of 4" in listed and "4 of 4" in listed


def test_files_of_another_game_are_added_and_match_nothing(game, cameras, capsys):
    assert main(["angle", str(game), "add", *map(str, cameras[2])]) == 1
    assert "0 of 4 plays matched" in capsys.readouterr().out


def test_footage_that_the_game_has_is_refused(game, cameras, capsys):
    assert main(["angle", str(game), "add", *map(str, cameras[0])]) == 2
    assert "part of the game already" in capsys.readouterr().err
    with GameFile.open(game, read_only=True) as file:
        assert file.game.angles == ()


def test_an_angle_is_matched_again_and_removed(game, cameras, capsys):
    main(["angle", str(game), "add", *map(str, cameras[1])])
    assert main(["angle", str(game), "match", "end"]) == 1
    assert main(["angle", str(game), "match", "sideline"]) == 2
    assert "no angle is called 'sideline'; there is End zone" in capsys.readouterr().err
    assert main(["angle", str(game), "remove", "End zone"]) == 2
    assert "remove them with it" in capsys.readouterr().err
    assert main(["angle", str(game), "remove", "End zone", "--with-tags"]) == 0
    with GameFile.open(game, read_only=True) as file:
        assert (file.game.angles, file.game.matches) == ((), ())
    assert all(clip.exists() for clip in cameras[1])
