from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.delivery.conftest import segment_of
from workstation.delivery.cutting import widened
from workstation.delivery.export import export_segments
from workstation.delivery.naming import LONGEST, PatternError, file_name, safe_name
from workstation.delivery.rendering import Settings
from workstation.delivery.segment import NOTICES, Segment, parts_between
from workstation.film.time import Instant
from workstation.film.writing import unused
from workstation.tagging.model import ShotKind


def test_files_are_named_from_the_pattern_and_never_collide(film, tmp_path):
    segments = [segment_of(film.sources[0], at, at + 5) for at in (0, 10, 20)]
    done = export_segments(segments, tmp_path)
    assert [path.name for _, path in done.files] == [
        "001 2nd and 7 at own 36 run.mp4", "001 2nd and 7 at own 36 run (2).mp4", "001 2nd and 7 at own 36 run (3).mp4"]
    again = export_segments(segments[:1], tmp_path)
    assert again.files[0][1].name == "001 2nd and 7 at own 36 run (4).mp4"


def test_one_failure_does_not_stop_the_rest(film, tmp_path):
    good = segment_of(film.sources[0], 0, 5)
    gone = replace(film.sources[1], path=tmp_path / "not there.mp4", fingerprint="")
    bad = Segment(tuple(replace(part, source=gone) for part in segment_of(film.sources[1], 0, 5).parts),
                  {**good.fields, "label": "play 2"})
    done = export_segments([good, bad, good], tmp_path / "out")
    assert len(done.files) == 2
    assert [failure.label for failure in done.failures] == ["play 2"] and "not there.mp4" in done.failures[0].why
    assert sorted(path.name for path in (tmp_path / "out").iterdir()) == sorted(path.name for _, path in done.files)


def test_cancel_between_segments_keeps_what_is_complete(film, tmp_path):
    segments = [segment_of(film.sources[0], at, at + 5) for at in (0, 10, 20)]
    done = export_segments(segments, tmp_path, cancelled=lambda: len(list(tmp_path.iterdir())) >= 1)
    assert done.cancelled and len(done.files) == 1


def test_progress_tells_the_share(film, tmp_path):
    told = []
    export_segments([segment_of(film.sources[0], 0, 30), segment_of(film.sources[0], 30, 60)], tmp_path,
                    Settings(preset="ultrafast"), progress=told.append)
    assert told == sorted(told) and told[-1] == pytest.approx(1)


def test_a_segment_over_two_sources_copies_as_two_files_and_renders_as_one(film, tmp_path):
    start = Instant(film.sources[0].id, segment_of(film.sources[0], 100, 101).parts[0].start)
    end = Instant(film.sources[1].id, segment_of(film.sources[1], 20, 21).parts[0].start)
    segment = replace(segment_of(film.sources[0], 0, 1), parts=parts_between(film, start, end))
    assert [part.source.id for part in segment.parts] == ["h264", "hevc"]
    assert len(export_segments([segment], tmp_path / "copied").files) == 2
    assert len(export_segments([segment], tmp_path / "rendered", Settings(preset="ultrafast")).files) == 1


def test_sensitive_footage_brings_its_notice(film, tmp_path):
    segment = replace(segment_of(film.sources[0], 0, 5), notice=NOTICES[ShotKind.INJURY])
    assert NOTICES[ShotKind.INJURY] in export_segments([segment], tmp_path).notes


def test_handles_widen_to_the_film_s_ends_and_no_further(film):
    first, last = film.sources[0].first, film.sources[-1].end
    assert widened(film, first, last, 5, 5) == (first, last)
    begin, _ = widened(film, film.instant_at(3), last, 1, 0)
    assert film.time_of(begin) == 2


def test_empty_segment_is_refused(film):
    with pytest.raises(ValueError, match="empty"):
        parts_between(film, film.sources[0].first, film.sources[0].first)


def test_unknown_field_names_the_ones_there_are():
    with pytest.raises(PatternError, match=r"\{number\}"):
        file_name("{who}", {"number": "1"}, ".mp4", set())
    with pytest.raises(PatternError):
        file_name("{number.__class__}", {"number": "1"}, ".mp4", set())
    with pytest.raises(PatternError):
        file_name("{", {"number": "1"}, ".mp4", set())


@given(st.text(max_size=300))
def test_any_text_makes_a_name_that_stays_in_its_folder(text):
    name = safe_name(text)
    folder = Path("folder")
    assert (folder / name).parent == folder and name not in ("", ".", "..")
    assert len(name.encode()) <= LONGEST + 8
    assert not set(name) & set('<>:"/\\|?*\0\n') and not name.endswith((" ", "."))


@given(st.lists(st.text(alphabet="aAbB./", max_size=3), max_size=12))
def test_names_never_collide_whatever_the_tags(texts):
    taken: set[str] = set()
    names = [file_name("{kind}", {"kind": text}, ".mp4", taken) for text in texts]
    assert len({name.casefold() for name in names}) == len(names)


def test_cancel_inside_a_segment_keeps_what_is_complete_and_nothing_half_written(film, tmp_path):
    segments = [segment_of(film.sources[0], at, at + 25) for at in (0, 30)]
    told = []
    done = export_segments(segments, tmp_path, Settings(preset="ultrafast"), progress=told.append,
                           cancelled=lambda: bool(told) and told[-1] > 0.7)
    assert done.cancelled and [path for _, path in done.files] == list(tmp_path.iterdir())
    assert len(done.files) == 1 and not done.failures


def test_a_path_is_numbered_until_nothing_is_there(tmp_path):
    assert unused(tmp_path, "third down", ".mp4") == tmp_path / "third down.mp4"
    (tmp_path / "third down.mp4").touch()
    (tmp_path / "third down 2.mp4").mkdir()
    assert unused(tmp_path, "third down", ".mp4") == tmp_path / "third down 3.mp4"
    assert unused(tmp_path, "third down") == tmp_path / "third down"
