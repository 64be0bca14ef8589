"""Real files from a few scenes: checked with ffprobe and by decoding them."""

from __future__ import annotations

import json
import subprocess
from fractions import Fraction

import av
import numpy as np
import pytest
from workstation.demo import film_it
from workstation.demo.film_it import film_demo, pictures_in
from workstation.demo.game_file import write_demo_game
from workstation.demo.script import HEADING, SCENES
from workstation.demo.sound import RATE, WHISTLE_HZ, sound

from workstation.cancelling import Cancelled
from workstation.tagging.model import MomentKind

_NAMES = ("home incomplete", "marker nobody needed", "kneel")
_CHOSEN = tuple(index for index, one in enumerate(SCENES) if one.name in _NAMES)
_FRAME = Fraction(1001, 30000)


def _probe(path):
    command = ["ffprobe", "-v", "error", "-count_frames", "-show_streams", "-of", "json", str(path)]
    streams = json.loads(subprocess.run(command, check=True, capture_output=True).stdout)["streams"]
    return {stream["codec_type"]: stream for stream in streams}


@pytest.fixture(scope="module")
def cache(tmp_path_factory):
    return tmp_path_factory.mktemp("cache")


@pytest.fixture(scope="module")
def clips(tmp_path_factory, cache):
    return film_demo(tmp_path_factory.mktemp("clips"), "files", width=320, scenes=_CHOSEN, cache=cache)


def test_files_are_what_a_camera_leaves(clips):
    assert [clip.name for clip in clips] == [f"CLIP{index + 1:04d}.MP4" for index in _CHOSEN]
    for index, clip in zip(_CHOSEN, clips, strict=False):
        streams = _probe(clip)
        video, audio = streams["video"], streams["audio"]
        assert video["codec_name"] == "h264" and audio["codec_name"] == "aac"
        assert (video["width"], video["height"], video["r_frame_rate"]) == (320, 180, "30000/1001")
        assert int(video["nb_read_frames"]) == pictures_in(SCENES[index])
        length = pictures_in(SCENES[index]) * _FRAME
        assert abs(Fraction(video["duration"]) - length) < Fraction(1, 1000)
        assert abs(Fraction(audio["duration"]) - length) < _FRAME


def test_one_file_holds_the_same_pictures_in_order(tmp_path, cache, clips):
    whole, = film_demo(tmp_path, "one file", width=320, scenes=_CHOSEN, cache=cache)
    streams = _probe(whole)
    total = sum(pictures_in(SCENES[index]) for index in _CHOSEN)
    assert int(streams["video"]["nb_read_frames"]) == total
    assert abs(Fraction(streams["audio"]["duration"]) - total * _FRAME) < _FRAME
    with av.open(str(whole)) as container:
        joined = [(frame.pts, frame.to_ndarray(format="gray")) for frame in container.decode(video=0)]
    assert [pts for pts, _ in joined] == [joined[0][0] + number * 1001 for number in range(total)]
    single = []
    for clip in clips:
        with av.open(str(clip)) as container:
            single += [frame.to_ndarray(format="gray") for frame in container.decode(video=0)]
    assert all(np.array_equal(a, b) for (_, a), b in zip(joined, single, strict=True))


def test_a_second_filming_takes_what_is_there(tmp_path, cache, clips, monkeypatch):
    def nobody(*_):
        raise AssertionError("a scene was filmed again")
    monkeypatch.setattr(film_it, "_Crew", nobody)
    shares = []
    again = film_demo(tmp_path, "files", shares.append, width=320, scenes=_CHOSEN, cache=cache)
    assert [clip.read_bytes() for clip in again] == [clip.read_bytes() for clip in clips]
    assert shares[-1] == 1.0


def test_a_cancelled_filming_leaves_nothing_half_written(tmp_path):
    asked = iter([False, False, True])
    with pytest.raises(Cancelled):
        film_demo(tmp_path / "to", cancelled=lambda: next(asked, True), width=320, scenes=_CHOSEN[:1],
                  cache=tmp_path / "cache")
    assert not [path for path in tmp_path.rglob("*") if path.is_file()]


def test_layouts_and_widths_that_do_not_exist_are_refused(tmp_path):
    with pytest.raises(ValueError, match="'three files' is not a layout"):
        film_demo(tmp_path, "three files")
    with pytest.raises(ValueError, match="333 pixels"):
        film_demo(tmp_path, width=333)


def _whistles(heard: np.ndarray) -> list[float]:
    """Seconds at which a tone about the whistle's pitch begins to stand out."""
    step = RATE // 100
    count = len(heard) // step - 4
    window = np.hanning(4 * step)
    loud = np.empty(count)
    hertz = np.fft.rfftfreq(4 * step, 1 / RATE)
    tone, others = np.abs(hertz - WHISTLE_HZ) < 200, (hertz > 1500) & (hertz < 3000)
    for number in range(count):
        spectrum = np.abs(np.fft.rfft(heard[number * step:number * step + 4 * step] * window)) ** 2
        loud[number] = spectrum[tone].mean() / (spectrum[others].mean() + 1e-9)
    on = loud > 12
    starts = [number for number in np.flatnonzero(on) if not on[max(number - 25, 0):number].any()]
    return [(start + 2) * step / RATE for start in starts]


@pytest.mark.parametrize("one", SCENES, ids=lambda one: one.name)
def test_the_whistle_blows_at_the_dead_ball_and_only_there(one):
    heard = sound(one, SCENES.index(one))
    assert abs(len(heard) / RATE - pictures_in(one) * _FRAME) < 1 / RATE
    assert np.abs(heard).max() < 1.0
    dead = one.at(MomentKind.DEAD_BALL)
    assert _whistles(heard.mean(axis=1)) == ([pytest.approx(dead, abs=0.05)] if dead else [])


def test_the_whistle_survives_the_encoder(clips):
    one = SCENES[_CHOSEN[0]]
    with av.open(str(clips[0])) as container:
        heard = np.concatenate([frame.to_ndarray().mean(axis=0) for frame in container.decode(audio=0)])
    assert _whistles(heard) == [pytest.approx(one.at(MomentKind.DEAD_BALL), abs=0.05)]


def test_painting_leaves_a_running_application_alone(qapp):
    from PySide6.QtGui import QGuiApplication
    from workstation.demo.painter import Painter

    picture = Painter(SCENES[0], 0, 320).paint(0)
    assert (picture.width(), picture.height()) == (320, 180)
    assert QGuiApplication.instance() is qapp


def test_the_game_file_is_used_again_and_an_older_one_kept(tmp_path, monkeypatch, qapp):
    def instead(to, layout, progress, cancelled, width, seed):
        to.mkdir(parents=True, exist_ok=True)
        path = to / film_it.ONE_FILE
        path.write_bytes(small.read_bytes())
        return [path]

    from workstation.demo import game_file
    small = tmp_path / "small.mp4"
    film_it.render_scene(_CHOSEN[1], small, 320)
    monkeypatch.setattr(game_file, "film_demo", instead)
    monkeypatch.setattr(game_file, "demo_game", lambda film, seed: game_file.Game(HEADING, film))
    made = write_demo_game(tmp_path / "demo", layout="one file", width=320)
    before = made.stat().st_mtime_ns
    assert write_demo_game(tmp_path / "demo", layout="one file", width=320) == made
    assert made.stat().st_mtime_ns == before
    (made.parent / "film in one file" / "demo film.txt").write_text("an earlier film\n")
    monkeypatch.setattr(game_file, "film_demo", lambda to, *_, **__: [to / film_it.ONE_FILE])
    assert write_demo_game(tmp_path / "demo", layout="one file", width=320) == made
    assert [path.name for path in made.parent.glob("*earlier 1*.game")]


def test_a_filming_that_fails_says_why(tmp_path, monkeypatch):
    """The folder for scenes goes away under the process that films into it."""
    monkeypatch.setattr(film_it, "film_version", lambda width: "gone")
    folder = tmp_path / "film-gone"
    folder.mkdir()
    popen = subprocess.Popen

    def and_then_gone(*arguments, **others):
        folder.rename(tmp_path / "elsewhere")
        monkeypatch.setattr(subprocess, "Popen", popen)
        return popen(*arguments, **others)
    monkeypatch.setattr(subprocess, "Popen", and_then_gone)
    monkeypatch.setattr(film_it.os, "cpu_count", lambda: 1)
    with pytest.raises(OSError, match="could not be filmed: .*No such file or directory"):
        film_demo(tmp_path / "to", width=320, scenes=_CHOSEN[:1], cache=tmp_path)
