"""Keyframes that came before their time: believed where they keep their word, and only there."""

from __future__ import annotations

from fractions import Fraction
from itertools import accumulate

import av
import numpy as np
import pytest

from tests.film.clips import RATE
from tests.film.test_finding_cuts import BIG, field, players, view
from workstation.film.finding import cuts
from workstation.film.finding.early_keyframes import (
    cheapest_sample,
    early_keyframes,
    marks_every_shot,
    obvious_cut_keyframes,
    unlike_keyframes,
)
from workstation.film.finding.packets import Packets
from workstation.film.index import index_of
from workstation.film.probe import probe


def packets(lengths: list[int], shown: list[int], *, before_key: int = 100) -> Packets:
    """A film whose groups are so long and whose keyframes show scenes by number; the last eight packets of every group
    are ``before_key`` bytes large, keyframes 10,000."""
    keys = [0, *accumulate(lengths[:-1])]
    size = np.full(sum(lengths), 300, np.int64)
    for key in keys[1:]:
        size[key - 8:key] = before_key
    size[keys] = 10_000
    grids = {key: np.random.default_rng(scene).uniform(0, 255, (90, 160)).astype(np.float32)
             for key, scene in zip(keys, shown, strict=True)}
    return Packets(size, np.ones(len(size), bool), np.array(keys), grids)


def test_a_key_at_the_greatest_length_or_shifted_from_it_is_not_early():
    film = packets([250, 249, 80, 250, 247, 120, 250], [0] * 7)
    assert early_keyframes(film) == {579, 1196}


def test_a_key_just_before_its_time_is_early_where_keys_are_never_shifted():
    assert early_keyframes(packets([30] * 12 + [28] + [30] * 12, [0] * 25)) == {388}


def test_a_plain_key_shows_another_scene_after_calm():
    lengths = [40 + 3 * number for number in range(12)]
    keys = list(accumulate(lengths))
    another, alike = list(range(12)), [0] * 12
    film = packets(lengths, another)
    early = early_keyframes(film)
    assert obvious_cut_keyframes(film, early) == early == set(keys[:9])
    assert obvious_cut_keyframes(packets(lengths, alike), early) == set()
    assert obvious_cut_keyframes(packets(lengths, another, before_key=1_200), early) == set()
    assert cheapest_sample(early, film) == set(keys[:4])


def test_too_few_plain_keys_are_none():
    film = packets([50, 60, 70, 80, 90, 100, 110], list(range(7)))
    assert early_keyframes(film) and obvious_cut_keyframes(film, early_keyframes(film)) == set()


def test_where_a_recording_may_begin_with_a_key_that_was_due():
    film = packets([30, 30, 30, 30, 12, 30, 30, 30], [0, 0, 1, 1, 1, 2, 2, 2])
    assert set(film.keys[1:][film.regular].tolist()) == {30, 60, 90, 120, 162, 192} and early_keyframes(film) == {132}
    assert unlike_keyframes(film, early_keyframes(film)) & {30, 60, 90} == {60}


@pytest.mark.parametrize(("looked_at", "cuts", "seconds", "anew"), [
    ({1, 2, 3, 4, 5}, {1, 2, 3, 4, 9}, 100, True), ({1, 2, 3, 4, 5}, {1, 2, 3}, 100, False),
    ({1, 2, 3}, {1, 2, 3}, 100, False), ({1, 2, 3, 4}, {1, 2, 3, 4}, 1_000, False)])
def test_whether_a_camera_begins_anew_is_told_by_what_it_did(looked_at, cuts, seconds, anew):
    assert marks_every_shot(looked_at, cuts, seconds) is anew


def write(path, pictures, keys: set[int], group: int, options: str = "scenecut=0", *, late: int = 0):
    """Encode grey pictures with a keyframe at some of them, each so many 90,000ths of a second late, and at the latest
    after a group's length."""
    tick = Fraction(1, 90_000)
    with av.open(str(path), "w") as out:
        stream = out.add_stream("libx264", rate=RATE)
        stream.width, stream.height, stream.pix_fmt = 320, 180, "yuv420p"
        stream.codec_context.time_base = tick
        stream.options = {"preset": "veryfast", "g": str(group), "forced-idr": "1", "x264-params": options}
        for number, picture in enumerate(pictures):
            frame = av.VideoFrame.from_ndarray(np.asarray(picture).clip(0, 255).astype(np.uint8), format="gray")
            frame = frame.reformat(format="yuv420p")
            frame.pts, frame.time_base = round(number / RATE / tick) + late * sum(key <= number for key in keys), tick
            if number in keys:
                frame.pict_type = av.video.frame.PictureType.I
            for packet in stream.encode(frame):
                out.mux(packet)
        for packet in stream.encode(None):
            out.mux(packet)
    return path


def found_in(path, monkeypatch) -> tuple[list[int], int]:
    """Return the cuts found and how many groups were looked at whole for them."""
    whole = []
    passed = cuts.coarse_pass
    monkeypatch.setattr(cuts, "coarse_pass", lambda decoder, group, *rest: (
        whole.append(group.scan_all), passed(decoder, group, *rest))[1])
    source = probe(path, "film")
    return cuts.find_cuts(source, index_of(source)), sum(whole)


SHOTS = [40 + 7 * number % 30 for number in range(20)]


def test_keys_that_keep_their_word_are_believed(tmp_path, monkeypatch):
    true = list(accumulate(SHOTS))[:-1]
    pictures = [players(view(field(scene)), scene, number / 4) for scene, length in enumerate(SHOTS)
                for number in range(length)]
    found, whole = found_in(write(tmp_path / "film.mp4", pictures, set(true), 250), monkeypatch)
    assert found == true and whole < len(true) / 2


@pytest.mark.parametrize("away", [-3, -2, -1])
def test_a_key_some_pictures_before_the_cut_does_not_stand_for_it(away, tmp_path, monkeypatch):
    """Each shot pans in its middle, and the next goes on from where the camera then stood, so that the keys differ more
    than what the cut changes. Most keys are where they should be, so that they are believed."""
    true = list(accumulate(SHOTS))[:-1]
    pictures, stood = [], 300.0
    for scene, length in enumerate(SHOTS):
        goes = 6 * (-1) ** scene
        for number in range(length):
            right = stood + goes * min(max(number - 12, 0), length - 27)
            pictures.append(players(view(BIG, right=right), scene, number / 4))
        stood += goes * (length - 27)
    keys = {cut + away if number % 5 == 2 else cut for number, cut in enumerate(true)}
    found, _ = found_in(write(tmp_path / "film.mp4", pictures, keys, 250), monkeypatch)
    assert found == true


def test_keys_that_do_not_keep_it_are_not_believed(tmp_path, monkeypatch):
    """The camera is turned quickly to something else and rests; the key comes while it rests."""
    pictures, keys = [], set()
    for scene, length in enumerate(SHOTS):
        pictures += [view(BIG, right=20 + 640 * (number if scene % 2 else 24 - number) / 24) for number in range(25)]
        pictures += [pictures[-1]] * length
        keys.add(len(pictures) - 8)
    found, _ = found_in(write(tmp_path / "film.mp4", pictures, keys, 250), monkeypatch)
    assert found == []


def test_a_camera_that_begins_anew_at_any_time(tmp_path, monkeypatch):
    """Its groups are 30 pictures long, so one recording in thirty begins where a keyframe was due."""
    shots = [75, 100, 60, 82, 90, 77, 101]
    true = list(accumulate(shots))[:-1]
    pictures = [players(view(BIG, right=20 + scene * 350 % 650 + 2 * number), scene, number / 4)
                for scene, length in enumerate(shots) for number in range(length)]
    found, _ = found_in(write(tmp_path / "film.mp4", pictures, set(true), 30), monkeypatch)
    assert found == true


def test_where_recordings_were_joined_the_pictures_tell_whether_the_camera_was_stopped(tmp_path, monkeypatch):
    """A camera begins another file when one is full, and goes on filming; or it was stopped while nothing was moved."""
    joins = set(accumulate([75, 100, 60, 82, 95]))
    pictures = [players(view(BIG, right=20 + number), 1, number / 4) for number in range(480)]
    assert found_in(write(tmp_path / "on.mp4", pictures, joins, 30, late=700), monkeypatch)[0] == []
    pictures = [players(view(BIG, right=20 + number), sum(join <= number for join in joins), number / 4)
                for number in range(480)]
    found, whole = found_in(write(tmp_path / "stopped.mp4", pictures, joins, 30, late=700), monkeypatch)
    assert found == sorted(joins) and whole == 1            # the last group, which nothing follows


def test_a_camera_that_begins_anew_in_the_middle_of_movement(tmp_path, monkeypatch):
    """What is filmed moves so fast that the first picture stands out from those after it by little only."""
    shots = [75, 100, 64, 82, 77, 101, 50]
    true = list(accumulate(shots))[:-1]
    pictures = [view(BIG, right=20 + scene * 350 % 650 + 2 * number) if scene != 3 else
                view(field(9), right=20 + 40 * min(number, 12) + 2 * max(number - 12, 0),
                     down=60 + 40 * (min(number, 12) % 2))
                for scene, length in enumerate(shots) for number in range(length)]
    path = write(tmp_path / "film.mp4", pictures, set(true), 30)
    assert found_in(path, monkeypatch)[0] == true
    monkeypatch.setattr(cuts._CutFinder, "check_keyframes", lambda self, keys, flashes: None)
    assert found_in(path, monkeypatch)[0] == [*true[:2], *true[3:]]


@pytest.mark.parametrize("lasts", [1, 2, 3, 4])
def test_flashes_before_an_encoder_that_watches_are_no_cuts(lasts, tmp_path, monkeypatch):
    flashes = [range(at, at + lasts) for at in range(50, 900, 70)]
    pictures = [players(view(BIG), 1, number / 4) + (120 if any(number in flash for flash in flashes) else 0)
                for number in range(900)]
    found, _ = found_in(write(tmp_path / "film.mp4", pictures, set(), 250, "scenecut=40:bframes=1"), monkeypatch)
    assert found == []
