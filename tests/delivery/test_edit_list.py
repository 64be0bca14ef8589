"""Edit lists and captions read back with independent readers."""

from __future__ import annotations

import json
import re
from dataclasses import replace
from fractions import Fraction

import opentimelineio as otio
import pytest
import srt
import webvtt as webvtt_reader

from tests.delivery.conftest import segment_of
from tests.footage import make, run
from workstation.delivery.captions import subrip, webvtt
from workstation.delivery.edit_list import cmx3600, mixed_rates, timeline
from workstation.delivery.rendering import Settings, render
from workstation.delivery.segment import cues_of
from workstation.delivery.text_formats import FORMS
from workstation.delivery.timecode import frame_count
from workstation.film.probe import probe


@pytest.fixture
def segments(footage):
    coded, plain = (probe(make(kind, footage), kind) for kind in ("timecode", "h264"))
    return [segment_of(coded, 30, 60, label="play 1"), segment_of(plain, 0, 90, label="play 2")]


EVENT = re.compile(r"^(\d{3})\s+(\S+)\s+B\s+C\s+(\S+) (\S+) (\S+) (\S+)$", re.MULTILINE)


def test_cmx_3600_counts_on_from_the_camera_s_time_code(segments):
    text = cmx3600("Third quarter", segments)
    assert text.startswith("TITLE: Third quarter\nFCM: DROP FRAME\n")
    (one, other) = EVENT.findall(text)
    assert one == ("001", "TIMECODE", "01:00:01;00", "01:00:02;00", "01:00:00;00", "01:00:01;00")
    assert other == ("002", "H264", "00:00:00;00", "00:00:03;00", "01:00:01;00", "01:00:04;00")
    rate = Fraction(30000, 1001)
    for event in (one, other):      # source and record lengths agree, as the form demands
        assert frame_count(event[3], rate) - frame_count(event[2], rate) == \
            frame_count(event[5], rate) - frame_count(event[4], rate)


def test_cmx_reels_are_unique_and_fit(segments, footage):
    twins = [replace(part.source, id=str(number)) for number, part in
             enumerate(part for _ in range(12) for part in segments[1].parts)]
    many = [replace(segments[1], parts=(replace(segments[1].parts[0], source=twin),)) for twin in twins]
    reels = [event[1] for event in EVENT.findall(cmx3600("x", many))]
    assert len(set(reels)) == 12 and all(re.fullmatch("[A-Z0-9]{1,8}", reel) for reel in reels)


def test_no_name_or_caption_makes_an_event_of_its_own(segments):
    event = "\n003  X        B     C        01:00:00;00 01:00:01;00 01:00:00;00 01:00:01;00"
    (part,) = segments[0].parts
    evil = replace(segments[0], caption=event, parts=(replace(part, source=replace(
        part.source, path=part.source.path.with_name(event))),))
    assert len(EVENT.findall(cmx3600(event, [evil, segments[1]]))) == 2


def test_cmx_holds_999_events(segments):
    with pytest.raises(ValueError, match="999"):
        cmx3600("x", segments * 500)


def test_opentimelineio_reads_back(segments, tmp_path):
    path = tmp_path / "sequence.otio"
    otio.adapters.write_to_file(timeline("Sequence", segments), str(path))
    read = otio.adapters.read_from_file(str(path))
    clips = list(read.find_clips())
    assert [clip.name for clip in clips] == ["play 1", "play 2"]
    assert clips[0].source_range.start_time == otio.opentime.from_timecode("01:00:01;00", 30000 / 1001)
    assert [clip.source_range.duration.value for clip in clips] == [30, 90]
    assert clips[0].markers[0].name == segments[0].caption
    assert clips[0].media_reference.available_range.contains(clips[0].source_range)


def test_webvtt_reads_back(segments, tmp_path):
    path = tmp_path / "captions.vtt"
    cues = cues_of([replace(segments[0], caption="4th & 1 <here>"), segments[1]])
    path.write_text(webvtt(cues), encoding="utf-8")
    cues = list(webvtt_reader.read(str(path)))
    assert [(cue.start, cue.end) for cue in cues] == [("00:00:00.000", "00:00:01.001"),
                                                      ("00:00:01.001", "00:00:04.004")]
    assert "4th &amp; 1 &lt;here&gt;" in cues[0].raw_text


def test_subrip_reads_back(segments):
    cues = list(srt.parse(subrip(cues_of(segments))))
    assert [cue.content for cue in cues] == [segment.caption for segment in segments]
    assert cues[1].end.total_seconds() == pytest.approx(4.004, abs=0.001)


def test_chapters_inside_the_mp4(segments, tmp_path):
    made = tmp_path / "sequence.mp4"
    render(segments, made, Settings(preset="ultrafast"))
    told = json.loads(run("ffprobe", "-v", "error", "-show_chapters", "-show_format", "-of", "json", str(made)))
    assert [chapter["tags"]["title"] for chapter in told["chapters"]] == [segment.caption for segment in segments]
    assert [float(chapter["start_time"]) for chapter in told["chapters"]] == pytest.approx([0, 1.001], abs=0.001)
    assert float(told["format"]["duration"]) == pytest.approx(4.004, abs=0.04)


@pytest.mark.parametrize(("suffix", "count"), [
    (".otio", lambda text: len(list(otio.adapters.read_from_string(text, "otio_json").find_clips()))),
    (".edl", lambda text: len(EVENT.findall(text))),
    (".vtt", lambda text: len(webvtt_reader.from_string(text))),
    (".srt", lambda text: len(list(srt.parse(text)))),
])
def test_every_form_is_found_by_its_suffix(segments, suffix, count):
    assert count(FORMS[suffix]("Third quarter", segments)) == len(segments) == 2


def test_a_time_code_that_cannot_be_read_counts_from_zero(segments):
    (part,) = segments[0].parts
    garbled = replace(segments[0], parts=(replace(part, source=replace(part.source, timecode="1 h")),))
    (event,) = EVENT.findall(cmx3600("x", [garbled]))
    assert event[2:4] == ("00:00:01;00", "00:00:02;00")


def test_footage_of_several_rates_is_said(segments, footage):
    assert mixed_rates(segments) == ()
    (said,) = mixed_rates([*segments, segment_of(probe(make("hevc", footage), "hevc"), 0, 20)])
    assert "29.97, 25 pictures a second" in said


def test_time_code_that_drops_nothing_is_counted_on_so(segments):
    (part,) = segments[0].parts
    plain = replace(segments[0], parts=(replace(part, source=replace(part.source, timecode="00:59:59:20")),))
    (event,) = EVENT.findall(cmx3600("x", [plain]))
    assert event[2:4] == ("01:00:00:20", "01:00:01:20")        # 30 and 60 pictures on, no number left out
