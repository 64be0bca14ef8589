"""A lighter copy plays in the place of its original, and is taken for nothing else."""

from __future__ import annotations

import hashlib
import subprocess
from dataclasses import replace
from fractions import Fraction

import av
import numpy as np
import pytest

from workstation.cancelling import Cancelled
from workstation.film import playing_copy
from workstation.film.film import Film
from workstation.film.frames import FrameReader
from workstation.film.index import index_of
from workstation.film.playback.engines import Engines
from workstation.film.playback.paced_engine import PacedEngine
from workstation.film.playback.state import PlaybackState
from workstation.film.playing_copy import delete_lighter, has_lighter, lightened, lighter, make_lighter
from workstation.film.probe import probe
from workstation.film.time import Instant


@pytest.fixture
def large(tmp_path, monkeypatch):
    monkeypatch.setenv("FILM_WORKSTATION_CACHE", str(tmp_path / "cache"))

    def make(name="large.mp4", size="640x1100", seconds=2, turned=0, rate="30000/1001"):
        path = tmp_path / name
        subprocess.run(["ffmpeg", "-v", "error", "-y", "-f", "lavfi", "-i", f"testsrc2=size={size}:rate={rate}",
                        "-f", "lavfi", "-i", "sine=frequency=440:beep_factor=3", "-t", str(seconds), "-c:v", "libx264",
                        "-preset", "ultrafast", "-bf", "2", "-pix_fmt", "yuv420p", "-c:a", "aac", str(path)],
                       check=True)
        if turned:
            other = path.with_stem(f"turned{turned}")
            subprocess.run(["ffmpeg", "-v", "error", "-y", "-i", str(path), "-c", "copy",
                            "-metadata:s:v", f"rotate={360 - turned}", str(other)], check=True)
            path = other
        return probe(path, "s")

    monkeypatch.setattr(playing_copy, "LINES", 400)
    monkeypatch.setattr(playing_copy, "LARGE", 400)
    return make


def test_a_copy_has_every_picture_at_its_own_time(large):
    source = large()
    assert has_lighter(source) and lighter(source) is None
    told = []
    assert make_lighter([source], lambda done, of: told.append(done / of)) == 1
    copy = lighter(source)
    assert (copy.id, copy.start_pts, copy.duration_pts) == (source.id, source.start_pts, source.duration_pts)
    assert (copy.width, copy.height) == (320, 550)
    made = index_of(probe(copy.path, "c")).pts * float(probe(copy.path, "c").time_base)
    pts = (index_of(source).pts - source.start_pts) * float(source.time_base)
    assert np.allclose(made - made[0], pts, atol=1e-4) and abs(made[0]) < 1e-4
    assert told == sorted(told) and told[-1] > 0.9
    with av.open(str(copy.path)) as opened:
        heard = sum(frame.samples for frame in opened.decode(audio=0)) / 48000
    assert heard == pytest.approx(2, abs=0.06)


@pytest.mark.parametrize("turned", [0, 90, 180, 270])
def test_a_copy_is_upright_and_shows_the_same(large, turned):
    source = large(turned=turned)
    assert source.rotation == turned
    make_lighter([source])
    copy = lighter(source)
    with FrameReader(Film((source,))) as reader, FrameReader(Film((probe(copy.path, "c"),))) as of_copy:
        for number in (0, 17, 40):
            whole = reader.frame_at(Instant("s", int(index_of(source).pts[number]))).rgb()
            small = of_copy.frame_at(Instant("c", int(index_of(probe(copy.path, "c")).pts[number]))).rgb()
            assert small.shape[:2] == (copy.height, copy.width) == (whole.shape[0] // 2, whole.shape[1] // 2)
            shrunk = whole.reshape(small.shape[0], 2, small.shape[1], 2, 3).mean((1, 3))
            assert np.abs(shrunk - small).mean() < 6


def test_a_changed_original_is_not_played_from_its_old_copy(large, tmp_path):
    source = large()
    make_lighter([source])
    data = bytearray(source.path.read_bytes())
    data[len(data) // 2] ^= 1
    source.path.write_bytes(bytes(data) + b"more")
    assert lighter(source) is None
    assert lighter(replace(source, fingerprint="")) is None
    source.path.unlink()
    assert lighter(source) is None


def test_deleting_copies_harms_nothing(large):
    source = large()
    make_lighter([source])
    assert lightened(Film((source,))) == (source,)
    assert delete_lighter([source]) > 1000 and delete_lighter([source]) == 0
    assert lighter(source) is None and lightened(Film((source,))) == ()
    assert make_lighter([source]) == 1 and make_lighter([source]) == 0


def test_a_stopped_copy_leaves_nothing(large):
    source = large()
    calls = []

    def stop():
        calls.append(1)
        return len(calls) > 5

    with pytest.raises(Cancelled):
        make_lighter([source], cancelled=stop)
    assert list(playing_copy.folder().iterdir()) == [] and lighter(source) is None


def test_small_and_interlaced_footage_is_not_copied(large):
    source = large(size="320x240")
    assert not has_lighter(source) and make_lighter([source]) == 0
    assert not has_lighter(replace(source, height=2000, width=4000, interlaced=True))
    assert has_lighter(replace(source, height=2000, width=4000))
    assert not has_lighter(replace(source, height=2000, width=4000, problem="gone"))


class _Recording(PacedEngine):
    def __init__(self):
        super().__init__()
        self.opened = []

    def open(self, source, place, speed):
        self.opened.append(source)
        return super().open(source, place, speed)


def test_only_a_player_gets_the_copy(large):
    source = large()
    make_lighter([source])
    player, film = _Recording(), Film((source,))
    with FrameReader(film) as reader:
        state = PlaybackState()
        state.load(film, reader)
        player.reader = reader
        engines = Engines(player, state, lambda event: None)
        engines.open(source.first, player).close()
        assert player.opened == [source]            # frames from the reader are the original's
        engines.paced = PacedEngine()
        engines.open(source.first, player).close()
        assert player.opened[1:] == [lighter(source)]
        delete_lighter([source])
        engines.open(source.first, player).close()
        assert player.opened[2:] == [source]
        whole = reader.frame_at(source.first)
        assert (whole.frame.width, whole.frame.height) == (source.width, source.height)


def test_mirrored_film_is_decoded_here_instead_of_in_a_player(large):
    source = replace(large(), mirrored=True)
    player, film = _Recording(), Film((source,))
    with FrameReader(film) as reader:
        state = PlaybackState()
        state.load(film, reader)
        engines = Engines(player, state, lambda event: None)
        engines.paced = PacedEngine()
        assert engines.choose(source.first) is engines.paced


def digest(path):
    return hashlib.sha256(path.read_bytes()).hexdigest()


def test_exports_are_the_same_with_and_without_a_copy(large, tmp_path):
    from workstation.delivery.copying import copy_part
    from workstation.delivery.rendering import Settings, render
    from workstation.delivery.segment import Part, Segment

    source = large()
    ticks = round(Fraction(1) / source.time_base)
    part = Part(source, source.start_pts + ticks // 2, source.start_pts + ticks)
    made = []
    for _ in range(2):
        rendered, copied = tmp_path / "rendered.mp4", tmp_path / "copied.mp4"
        render([Segment((part,), {})], rendered, Settings(preset="ultrafast"))
        copy_part(part, copied)
        with FrameReader(Film((source,))) as reader:
            picture = reader.frame_at(source.first).rgb().tobytes()
        made.append((digest(rendered), digest(copied), hashlib.sha256(picture).hexdigest()))
        make_lighter([source])
    assert lighter(source) is not None and made[0] == made[1]
