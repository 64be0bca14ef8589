"""Cuts inside one file: the demo film, and small films that tempt a finder to see cuts where there are none."""

from __future__ import annotations

from itertools import accumulate

import av
import numpy as np
import pytest
from workstation.demo.film_it import film_demo, pictures_in
from workstation.demo.script import SCENES

from tests.film.clips import RATE
from workstation.cancelling import Cancelled
from workstation.film.decoder import Decoder
from workstation.film.finding.cuts import find_cuts
from workstation.film.finding.selective_decoder import selective_decoder
from workstation.film.index import index_of
from workstation.film.probe import probe


def found_in(path) -> list[int]:
    source = probe(path, "film")
    return find_cuts(source, index_of(source))


def test_all_shots_of_the_demo_film_in_one_file(tmp_path):
    path = film_demo(tmp_path, layout="one file", width=320)[0]
    assert found_in(path) == list(accumulate(pictures_in(scene) for scene in SCENES))[:-1]


def field(seed: int = 0) -> np.ndarray:
    """A large picture with lines, grass and a crowd to point a camera at."""
    chance = np.random.default_rng(seed)
    ground = 90 + 12 * chance.standard_normal((90, 160)).repeat(8, 0).repeat(8, 1)
    ground[:, ::60] = 210
    ground[:160] = chance.uniform(20, 230, (20, 160)).repeat(8, 0).repeat(8, 1)
    return ground.clip(0, 255).astype(np.float32)


def players(picture: np.ndarray, seed: int, step: float = 0.0) -> np.ndarray:
    """Twenty-two of them, at places of their own, that run as ``step`` grows."""
    chance = np.random.default_rng(seed)
    picture = picture.copy()
    for number in range(22):
        y, x = chance.uniform(60, 165), chance.uniform(10, 300)
        run = chance.uniform(-1, 1, 2) * step
        top, left = int(y + run[0]) % 160, int(x + run[1]) % 310
        picture[top:top + 14, left:left + 6] = 240 if number % 2 else 15
    return picture


def view(big: np.ndarray, right: float = 300, down: float = 60, width: float = 320) -> np.ndarray:
    """What a camera sees that is 320x180 pixels and looks at a part of the big picture."""
    rows = (down + np.arange(180) * width / 320).astype(int).clip(0, big.shape[0] - 1)
    columns = (right + np.arange(320) * width / 320).astype(int).clip(0, big.shape[1] - 1)
    return big[rows][:, columns]


def write(path, pictures, group: int = 30):
    """Encode grey pictures the way a camera does: groups of fixed length."""
    with av.open(str(path), "w") as out:
        stream = out.add_stream("libx264", rate=RATE)
        stream.width, stream.height, stream.pix_fmt = 320, 180, "yuv420p"
        stream.options = {"preset": "veryfast", "g": str(group), "x264-params": "scenecut=0"}
        for number, picture in enumerate(pictures):
            frame = av.VideoFrame.from_ndarray(np.asarray(picture).clip(0, 255).astype(np.uint8), format="gray")
            frame.pts, frame.time_base = number, 1 / RATE
            for packet in stream.encode(frame.reformat(format="yuv420p")):
                out.mux(packet)
        for packet in stream.encode(None):
            out.mux(packet)
    return path


BIG = field()


@pytest.mark.parametrize("cut", [75, 90, 91, 119])
def test_the_same_framing_with_other_places_of_the_players_is_a_cut(cut, tmp_path):
    """The camera stood still while it was stopped; 90 lies on a keyframe."""
    still = view(BIG)
    pictures = [players(still, 1, number / 4) for number in range(cut)]
    pictures += [players(still, 2, number / 8) for number in range(150 - cut)]
    assert found_in(write(tmp_path / "film.mp4", pictures)) == [cut]


def _pan():
    return [view(BIG, right=20 + 5 * number) for number in range(150)]


def _zoom_out():
    return [view(BIG, 640 - width / 2, 300 - width * 180 / 640, width)
            for width in (60 + 440 * min(max(number - 40, 0) / 60, 1) for number in range(150))]


def _flash():
    return [players(view(BIG), 1) + (120 if number in (50, 51, 89, 90) else 0) for number in range(150)]


def _fade_to_black():
    return [players(view(BIG), 1, number / 4) * min((150 - number) / 40, 1) for number in range(150)]


def _dissolve():
    before, after = players(view(BIG), 1), view(field(5), right=500)
    return [before + (after - before) * min(max(number - 60, 0) / 30, 1) for number in range(150)]


@pytest.mark.parametrize("film", [_pan, _zoom_out, _flash, _fade_to_black, _dissolve])
def test_no_cut_is_seen_in(film, tmp_path):
    assert found_in(write(tmp_path / "film.mp4", film())) == []


def test_a_film_of_keyframes_only(tmp_path):
    pictures = [view(BIG, right=20 + number) for number in range(40)] + [view(field(5)) for _ in range(40)]
    assert found_in(write(tmp_path / "film.mp4", pictures, group=1)) == [40]


@pytest.mark.parametrize("kind",
                         ["open_gop.ts", "00001.MTS", "hevc_10bit.mov", "variable_rate.mp4", "h264.avi", "mpeg2.mpg",
                                  "intra_refresh.ts", "rotated.mov"])
def test_one_recording_of_any_kind_of_file_is_one_shot(kind, clips):
    assert found_in(clips(kind)) == []


def test_a_group_that_ends_before_the_next_keyframe_is_read_once(tmp_path, monkeypatch):
    source = probe(write(tmp_path / "groups.mp4", [view(BIG, 300 + at) for at in range(90)]), "film")
    opened = []
    monkeypatch.setattr(Decoder, "_open", lambda self, threads, was=Decoder._open: (opened.append(threads),
                                                                                    was(self, threads)))
    with selective_decoder(source, index_of(source)) as decoder:
        for _ in range(2):
            assert [number for number, _ in decoder.grids(range(25, 30), 30)] == list(range(25, 30))
    assert len(opened) == 1


def test_can_be_called_off(clips):
    source = probe(clips("closed_gop.mp4"), "film")
    index = index_of(source)
    with pytest.raises(Cancelled):
        find_cuts(source, index, cancelled=lambda: True)
