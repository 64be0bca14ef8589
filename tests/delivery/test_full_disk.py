"""A disk that is full while something is written is told as that, and nothing half-written stays."""

from __future__ import annotations

import subprocess
from fractions import Fraction

import pytest

from tests.delivery.conftest import segment_of
from tests.footage import run
from workstation.delivery.copying import copy_part
from workstation.delivery.export import export_segments
from workstation.delivery.pack import Contents, make_pack
from workstation.delivery.rendering import Settings, render
from workstation.film.probe import probe
from workstation.tagging.model import Game


@pytest.fixture
def tiny_disk(tmp_path):
    place = tmp_path / "disk"
    place.mkdir()
    done = subprocess.run(["mount", "-t", "tmpfs", "-o", "size=64k", "tmpfs", str(place)], check=False,
                          capture_output=True)
    if done.returncode:
        pytest.skip("no right to mount a small disk")
    yield place
    subprocess.run(["umount", str(place)], check=False)


@pytest.fixture(scope="module")
def large(tmp_path_factory):
    """Four seconds that take far more than the disk has."""
    path = tmp_path_factory.mktemp("large") / "large.mp4"
    run("ffmpeg", "-y", "-loglevel", "error", "-f", "lavfi", "-i", "testsrc2=size=640x360:rate=25:duration=4", "-c:v",
        "libx264", "-crf", "5", "-g", "10", str(path))
    return probe(path, "large")


def test_every_writer_of_film_says_that_the_disk_is_full(tiny_disk, large):
    segment = segment_of(large, 0, 90)
    for write in (lambda: copy_part(segment.parts[0], tiny_disk / "a.mp4"),
                  lambda: render([segment], tiny_disk / "a.mp4", Settings(quality=5, preset="ultrafast")),
                  lambda: make_pack(Game(), Contents("a", [segment]), tiny_disk / "pack")):
        with pytest.raises(OSError, match="the disk is full; make room") as error:
            write()
        assert "rendered instead" not in str(error.value) and "Errno" not in str(error.value)
        assert not list(tiny_disk.iterdir())
    done = export_segments([segment, segment_of(large, 0, 90, label="play 2")], tiny_disk)
    assert [failure.label for failure in done.failures] == ["play 1", "play 2"]
    assert all("the disk is full" in failure.why for failure in done.failures) and not list(tiny_disk.iterdir())
    assert Fraction(large.duration) > 3
