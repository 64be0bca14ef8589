"""A pass over a source: kept by fingerprint, stopped when asked, in words where a file cannot be read."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import numpy as np
import pytest

from tests.footage import make
from workstation.cancelling import Cancelled
from workstation.film.camera_work.passage import Passage
from workstation.film.camera_work.record import cached_record, measure
from workstation.film.faults import NoPicture
from workstation.film.film import Film
from workstation.film.film_camera_work import measure_camera_work
from workstation.film.probe import probe


@pytest.fixture(autouse=True)
def own_cache(tmp_path, monkeypatch):
    monkeypatch.setenv("FILM_WORKSTATION_CACHE", str(tmp_path / "cache"))


def test_it_is_kept_and_read_again(tmp_path):
    source = probe(make("h264", tmp_path), "a")
    assert cached_record(source) is None
    shares = []
    made = measure(source, progress=shares.append)
    assert shares == sorted(shares) and shares[-1] > 0.9
    again = cached_record(source)
    assert again is not None
    np.testing.assert_array_equal(made.motion, again.motion)
    np.testing.assert_array_equal(made.pts, again.pts)
    assert len(made.pts) == pytest.approx(4 * 29.97, abs=2)
    assert len(made.sound) == pytest.approx(40, abs=1)


def test_a_stop_keeps_nothing(tmp_path):
    source = probe(make("h264", tmp_path), "a")
    with pytest.raises(Cancelled):
        measure(source, cancelled=lambda: True)
    assert cached_record(source) is None


@pytest.mark.parametrize("kind", ["interlaced-ts", "hevc-10bit", "mpeg2-avi", "variable-rate", "no-sound",
                                  "anamorphic"])
def test_every_kind_of_file_is_measured(tmp_path, kind):
    source = probe(make(kind, tmp_path), "a")
    passage = Passage(source, measure(source), source.start_pts, source.end.pts)
    assert passage.is_measured and passage.seconds == pytest.approx(4, abs=0.2)
    assert passage.has_sound == (kind not in ("no-sound", "hevc-10bit"))
    assert passage.burnt.known.size and (passage.burnt.known <= 1).all()


def test_above_forty_pictures_a_second_every_second_one_is_enough(tmp_path):
    source = probe(make("no-sound", tmp_path), "a")
    assert source.frame_rate == 50
    assert Fraction(len(measure(source).pts), 4) <= 26


def test_a_file_that_cannot_be_read_is_named_and_the_others_are_measured(tmp_path):
    good = probe(make("h264", tmp_path), "good")
    gone = replace(probe(make("no-sound", tmp_path), "gone"), path=tmp_path / "gone.mp4", fingerprint="gone")
    with pytest.raises(NoPicture):
        measure(gone)
    told = measure_camera_work(Film((gone, good)), lambda done, of: None, lambda: False)
    assert len(told) == 1 and "gone.mp4" in told[0]
    assert cached_record(good) is not None
