"""What a survey of the demo film suggests, against the demo's script; kept, and put on the whole film."""

from __future__ import annotations

import errno
import os
import subprocess
from statistics import median

import pytest
from workstation.demo.film_it import film_demo, pictures_in
from workstation.demo.script import SCENES

from workstation.film.faults import NoPicture
from workstation.film.film import Film
from workstation.film.film_sound import joined_sound
from workstation.film.finding import Suggested, cached_survey, found_shots, survey
from workstation.film.probe import probe
from workstation.tagging.model import MomentKind

WITHIN = {Suggested.FULL_WIDE: 0.35, Suggested.SNAP: 0.6, Suggested.DEAD_BALL: 0.2}     # seconds


@pytest.fixture(scope="module")
def demo(tmp_path_factory):
    return film_demo(tmp_path_factory.mktemp("demo"), layout="one file", width=320)[0]


def test_a_survey_of_the_demo_film(demo):
    source = probe(demo, "film")
    found = survey(source)
    times = {kind: [] for kind in Suggested}
    begins = 0.0
    for scene in SCENES:
        for kind in Suggested:
            if scene.at(MomentKind(kind)) is not None:
                times[kind].append(begins + scene.at(MomentKind(kind)))
        begins += pictures_in(scene) * 1001 / 30000
    for kind, true in times.items():
        said = [float((one.at.pts - source.start_pts) * source.time_base) for one in found.suggestions
                if one.kind is kind]
        right = sum(any(abs(at - one) <= WITHIN[kind] for one in said) for at in true)
        assert right >= 0.85 * len(true) and right >= 0.85 * len(
            said), f"{kind}: {right} of {len(said)}, {len(true)} true"
        if kind is Suggested.SNAP:      # the players' first movement, not the camera's some tenths later
            assert abs(median(min((one - at for one in said), key=abs) for at in true)) < 0.1

    again = cached_survey(source)
    assert again.parts == found.parts and again.suggestions == found.suggestions

    film = Film((source,))
    shots = found_shots(film, {"film": found})
    assert len(shots) == len(SCENES) and shots[0].start == source.first and shots[-1].end == source.end
    kinds = [(str(scene.kind), shot.kind) for scene, shot in zip(SCENES, shots, strict=True)]
    assert all(said in (true, None) for true, said in kinds)       # what is named is named rightly
    close_ups = [said for true, said in kinds if true in ("down marker", "scoreboard")]
    plays = [said for true, said in kinds if true == "play"]
    assert sum(said is not None for said in close_ups) >= 0.9 * len(close_ups)
    assert sum(said is not None for said in plays) >= 0.9 * len(plays)
    sound = joined_sound(film, {"film": found})
    assert len(sound.levels) == pytest.approx(float(film.duration) / sound.every, abs=1)
    assert joined_sound(film, {}).levels.max() == -90 and len(found_shots(film, {})) == 1


def test_pictures_that_change_their_size_are_surveyed(tmp_path):
    """As damaged footage may, and recordings that somebody put one behind the other."""
    parts = []
    for begins, (name, size) in enumerate((("a.ts", "320x180"), ("b.ts", "160x96"))):
        subprocess.run(["ffmpeg", "-loglevel", "error", "-f", "lavfi", "-i", f"testsrc2=size={size}:rate=25:duration=2",
                        "-c:v", "libx264", "-g", "25", "-output_ts_offset", str(begins * 2), str(tmp_path / name)],
                       check=True)
        parts.append((tmp_path / name).read_bytes())
    both = tmp_path / "both.ts"
    both.write_bytes(b"".join(parts))
    found = survey(probe(both, "film"))
    assert len(found.parts) == 2 and len(found.levels) == 0


def test_a_disk_that_fails_while_one_looks_is_told_of_its_source(clips, monkeypatch):
    """A card that is pulled: the other sources are still surveyed, for it is their own error."""
    def read(self):
        raise OSError(errno.EIO, os.strerror(errno.EIO))

    source = probe(clips("closed_gop.mp4"), "s1")
    with monkeypatch.context() as patch:
        patch.setattr("workstation.film.finding.selective_decoder.SelectiveDecoder.read", read)
        with pytest.raises(NoPicture, match="closed_gop.mp4 cannot be read from its disk"):
            survey(source)
    assert cached_survey(source) is None
    survey(source)
