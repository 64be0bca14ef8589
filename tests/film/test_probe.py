"""What one file is, checked against ffprobe where it knows."""

from __future__ import annotations

import json
import struct
import subprocess
from fractions import Fraction

import av
import numpy as np
import pytest

from tests.film.clips import ALL_KINDS, full_decode
from tests.footage import make
from workstation.film import cache
from workstation.film.avchd import UUID as AVCHD_UUID
from workstation.film.avchd import recorded
from workstation.film.faults import MissingFile
from workstation.film.index import _ROW, FrameIndex, _by_fields, _index, cached_index, index_of
from workstation.film.probe import probe


def ffprobe(path, entries):
    return json.loads(subprocess.run(
        ["ffprobe", "-v", "error", "-select_streams", "V:0", "-show_entries", entries, "-of", "json", path],
        check=True, capture_output=True, text=True).stdout)


@pytest.mark.parametrize("kind", ALL_KINDS)
def test_start_and_length_are_those_of_the_pictures(kind, clips):
    source = probe(clips(kind), "s1")
    assert source.problem is None
    frames = ffprobe(source.path, "frame=pts")["frames"]
    index = index_of(source)
    assert len(index) == len(frames) == len(full_decode(source.path))
    assert source.end.pts == index.end
    if not kind.endswith(".avi") and kind != "wrapping_clock.ts":   # ffprobe lacks timestamps there, or wraps
        times = [frame["pts"] for frame in frames]
        assert index.pts.tolist() == times
        assert source.start_pts == times[0]


@pytest.mark.parametrize(("kind", "facts"), [
    ("closed_gop.mp4", {"video_codec": "h264", "audio_codec": "aac", "interlaced": False, "rotation": 0}),
    ("00001.MTS", {"video_codec": "h264", "audio_codec": "ac3", "interlaced": True}),
    ("hevc_10bit.mov", {"video_codec": "hevc", "audio_codec": None}),
    ("mpeg2.avi", {"video_codec": "mpeg2video", "audio_codec": "mp2"}),
    ("timecode.mov", {"timecode": "01:00:00;00", "created": "2025-10-03T19:01:02.000000Z"}),
    ("anamorphic.mp4", {"pixel_aspect": Fraction(4, 3)}),
])
def test_facts(kind, facts, clips):
    source = probe(clips(kind), "s1")
    assert {name: getattr(source, name) for name in facts} == facts
    assert source.frame_rate == Fraction(30000, 1001)
    assert (source.width, source.height) == (320, 180)


def test_a_rotated_source_says_how_to_turn_it(clips):
    assert probe(clips("rotated.mov"), "s1").rotation in (90, 270)   # that it is the right one: test_frames


def test_a_late_start_is_kept(clips):
    source = probe(clips("late_start.ts"), "s1")
    assert 1234 < source.start_pts * source.time_base < 1238


def test_a_clock_that_wraps_goes_on(clips):
    source = probe(clips("wrapping_clock.ts"), "s1")
    index = index_of(source)
    raw = [frame["pts"] % 2**33 for frame in ffprobe(source.path, "frame=pts")["frames"]]
    assert raw != sorted(raw)
    assert (index.pts % 2**33).tolist() == raw
    assert (np.diff(index.pts) > 0).all()
    assert source.duration == pytest.approx(2.5, abs=0.1)


def test_a_missing_file_is_named(tmp_path):
    with pytest.raises(MissingFile, match=r"nothing\.mp4"):
        probe(tmp_path / "nothing.mp4", "s1")


def test_what_was_learned_is_kept_and_used(clips, monkeypatch):
    first = probe(clips("open_gop.ts"), "s1")
    monkeypatch.setattr("workstation.film.probe._examine", lambda path: pytest.fail("looked at the file again"))
    assert probe(clips("open_gop.ts"), "s1") == first
    index = index_of(first)
    monkeypatch.setattr("workstation.film.index._make", lambda *_: pytest.fail("indexed again"))
    again = index_of(first)
    assert isinstance(again, FrameIndex)
    assert again.pts.tolist() == index.pts.tolist()
    assert again.key_pts.tolist() == index.key_pts.tolist()


def test_a_spoiled_index_is_made_anew(clips):
    source = probe(clips("closed_gop.mp4"), "s1")
    index = index_of(source)
    (cache.folder() / f"{source.fingerprint}.npz").write_bytes(b"spoiled")
    assert cached_index(source) is None
    assert index_of(source).pts.tolist() == index.pts.tolist()


@pytest.mark.parametrize("missing", [("key_pts", "key_dts", "key_pos", "key_size"), ("pts",)])
def test_a_kept_index_without_a_picture_to_begin_with_is_made_anew(missing, clips):
    source = probe(clips("closed_gop.mp4"), "a")
    made = index_of(source)
    arrays = cache.load_arrays(source.fingerprint)
    cache.save_arrays(source.fingerprint,
                      {name: array[:0] if name in missing else array for name, array in arrays.items()})
    assert cached_index(source) is None
    again = index_of(source)
    assert np.array_equal(again.key_pts, made.key_pts) and np.array_equal(again.pts, made.pts)
    assert len(cached_index(source)) == len(made)


def test_h264_in_avi_is_timed_by_decoding(clips):
    index = index_of(probe(clips("h264.avi"), "s1"))
    assert index.retimed
    assert index.pts.tolist() == list(range(int(index.pts[0]), int(index.pts[0]) + len(index)))


def test_two_packets_of_one_picture_count_once(clips):
    """Field-coded H.264: libx264 cannot make it, so the packets are written out by hand."""
    rows = np.zeros(12, _ROW)
    rows["pts"] = [0, 1800, 10800, 12600, 3600, 5400, 7200, 9000, 21600, 23400, 14400, 16200]
    rows["shown"], rows["key"][0] = True, True
    thinned = _by_fields(rows, [0, 3600, 7200, 10800])
    assert sorted(thinned["pts"].tolist()) == [0, 3600, 7200, 10800, 14400, 21600]
    assert _by_fields(rows, [0, 1800, 3600]) is None
    index = _index(probe(clips("closed_gop.mp4"), "s1"), thinned, None)
    assert index.at(5400) == 1


def test_an_avchd_cameras_clock_is_read_from_its_pictures(clips, tmp_path):
    """Layout as ExifTool documents it (exiftool.org/TagNames/H264.html, MDPM); no camera's file is at hand."""
    message = (AVCHD_UUID + bytes([3, 0x13, 0x07, 0x42, 0x00, 0x01, 0x18, 0x2A, 0x20, 0x25, 0x10,
                                   0x19, 0x03, 0x19, 0x04, 0x59]))
    escaped = message.replace(b"\0\0", b"\0\0\3")
    unit = b"\0\0\0\1\x06\x05" + bytes([len(message)]) + escaped + b"\x80"
    path = tmp_path / "00007.MTS"
    with av.open(str(clips("00001.MTS"))) as source, av.open(str(path), "w", format="mpegts") as target:
        stream = source.streams.video[0]
        copied = target.add_stream_from_template(stream)
        for number, packet in enumerate(source.demux(stream)):
            if packet.dts is None:
                continue
            if number == 0:
                data = bytes(packet)
                after = data.index(b"\0\0\0\1", 4)           # behind the access unit delimiter
                changed = av.Packet(data[:after] + unit + data[after:])
                changed.pts, changed.dts, changed.time_base, changed.is_keyframe = (
                    packet.pts, packet.dts, packet.time_base, True)
                packet = changed
            packet.stream = copied
            target.mux(packet)
    source = probe(path, "s1")
    assert source.problem is None
    assert source.timecode == "01:00:42:07"
    assert source.created == "2025-10-03T19:04:59-05:00"
    assert index_of(source).pts.size == index_of(probe(clips("00001.MTS"), "s2")).pts.size


@pytest.mark.parametrize("spoiled", [b"", AVCHD_UUID, AVCHD_UUID + b"\x05", AVCHD_UUID + bytes([1, 0x18, 1, 2]),
                                     AVCHD_UUID + bytes([2, 0x18, 0, 0x20, 0x25, 0xAB, 0x19, 3, 0x19, 4, 0x59]),
                                     AVCHD_UUID + bytes([2, 0x18, 0, 0x20, 0x25, 0x13, 0x19, 3, 0x19, 4, 0x59])])
def test_nonsense_in_place_of_a_camera_clock_is_not_believed(spoiled):
    assert recorded(b"\0\0\1\x06\x05\x30" + spoiled) == (None, None)


@pytest.mark.parametrize(("width", "height"), [(67108865, 1), (1, 5), (0, 1), (2**32 - 1, 2**31)])
def test_pixels_of_a_shape_that_no_camera_has_are_taken_for_square(tmp_path, width, height):
    data = make("anamorphic", tmp_path).read_bytes()
    at = data.index(b"pasp") + 4        # ISO/IEC 14496-12, 12.1.4: hSpacing, vSpacing
    path = tmp_path / "damaged.mp4"
    path.write_bytes(data[:at] + struct.pack(">II", width, height) + data[at + 8:])
    assert probe(tmp_path / "anamorphic.mp4", "whole").pixel_aspect == Fraction(4, 3)
    source = probe(path, "damaged")
    assert source.problem is None and source.display_size in ((192, 108), (256, 108))      # the pictures say it, too
