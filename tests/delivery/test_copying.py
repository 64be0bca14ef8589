"""Copied segments show exactly the source's pictures: compared by hash, with two independent readers."""

from __future__ import annotations

import hashlib
import json
import subprocess
from itertools import pairwise
from pathlib import Path

import av
import numpy as np
import pytest

from tests.delivery.conftest import segment_of
from tests.film import clips
from tests.footage import make, run
from workstation.delivery.copying import CannotCopy, copy_part
from workstation.delivery.export import export_segments
from workstation.delivery.rendering import render
from workstation.delivery.segment import Part
from workstation.film.index import index_of
from workstation.film.probe import probe


def hashes(path: Path) -> list[str]:
    """A digest of every picture, by a full decode in file order."""
    with av.open(str(path)) as container:
        return [hashlib.md5(frame.to_ndarray(format="rgb24").tobytes()).hexdigest()
                for frame in container.decode(video=0)]


def framemd5(path: Path) -> list[str]:
    """The same by the ffmpeg program."""
    lines = run("ffmpeg", "-loglevel", "error", "-i", str(path), "-map", "0:v", "-fps_mode", "passthrough",
                "-f", "framemd5", "-").splitlines()
    return [line.split(",")[-1].strip() for line in lines if not line.startswith("#")]


SPANS = ((0, 7), (1, 2), (13, 31), (29, 62), (45, 46), (30, 75))


def test_first_last_and_every_picture_between_are_the_source_s(source, tmp_path):
    everything, by_ffmpeg = hashes(source.path), framemd5(source.path)
    assert len(everything) == len(index_of(source)) == len(by_ffmpeg)
    for first, last in SPANS:
        part = segment_of(source, first, last).parts[0]
        copied = copy_part(part, tmp_path / f"{first}-{last}.mp4")
        assert hashes(copied.path) == everything[first:last]
        assert framemd5(copied.path) == by_ffmpeg[first:last]


@pytest.mark.parametrize("kind", clips.ALL_KINDS)
def test_the_same_for_every_kind_of_file_that_the_film_is_tested_on(kind, tmp_path_factory, tmp_path):
    path = clips.made(kind, tmp_path_factory.getbasetemp() / "clips")
    source = probe(path, "s")
    pts, everything = index_of(source).pts, hashes(path)[-len(index_of(source)):]
    refused = 0
    for first, last in ((0, 7), (1, 2), (13, 31), (20, len(pts) - 1)):
        try:
            copied = copy_part(Part(source, int(pts[first]), int(pts[last])), tmp_path / "copy.mp4")
        except CannotCopy as why:
            assert kind == "intra_refresh.ts" and "bit by bit" in str(why)      # no picture in it stands by itself
            refused += 1
        else:
            assert hashes(copied.path) == everything[first:last]
    assert refused < 4


def test_duration_is_the_segment_s_to_the_frame(source, tmp_path):
    part = segment_of(source, 20, 60).parts[0]
    copied = copy_part(part, tmp_path / "copy.mp4")
    told = json.loads(run("ffprobe", "-v", "error", "-show_entries", "format=duration:stream=codec_type,duration",
                          "-of", "json", str(copied.path)))
    for entry in (told["format"], *told["streams"]):
        assert abs(float(entry["duration"]) - float(part.duration)) <= 1 / float(source.frame_rate)


def test_pictures_are_not_encoded_again(footage, tmp_path):
    source = probe(make("h264", footage), "h264")
    part = segment_of(source, 35, 50).parts[0]
    copied = copy_part(part, tmp_path / "copy.mp4")
    with av.open(str(source.path)) as container:
        originals = {bytes(packet) for packet in container.demux(video=0) if packet.size}
    with av.open(str(copied.path)) as container:
        packets = [bytes(packet) for packet in container.demux(video=0) if packet.size]
    assert len(packets) == 15 + copied.hidden_before + copied.hidden_after
    assert set(packets) <= originals


def test_sound_comes_along_in_step(footage, tmp_path):
    """A click at a known time is heard at the same distance from the first picture."""
    clicked = footage / "clicked.mp4"
    run("ffmpeg", "-y", "-loglevel", "error", "-f", "lavfi", "-i", "testsrc2=size=192x108:rate=25:duration=4",
        "-f", "lavfi", "-i", "aevalsrc=between(t\\,2.5\\,2.52)*sin(2*PI*1000*t):s=48000:d=4",
        "-c:v", "libx264", "-g", "50", "-c:a", "aac", str(clicked))
    source = probe(clicked, "clicked")
    copied = copy_part(segment_of(source, 30, 90).parts[0], tmp_path / "copy.mp4")     # begins at 1.2 s
    with av.open(str(copied.path)) as container:
        loud = [float(frame.pts * frame.time_base) for frame in container.decode(audio=0)
                if abs(frame.to_ndarray()).max() > 0.2]
    assert abs(loud[0] - 1.3) < 0.03        # within one AAC frame (21 ms)


@pytest.mark.parametrize("codec", ["ffv1"])
def test_codec_without_a_place_in_mp4_says_so_and_leaves_nothing(footage, tmp_path, codec):
    odd = footage / f"{codec}.mkv"
    run("ffmpeg", "-y", "-loglevel", "error", "-f", "lavfi", "-i", "testsrc2=size=64x64:rate=25:duration=1",
        "-c:v", codec, str(odd))
    source = probe(odd, codec)
    with pytest.raises(CannotCopy, match="export it rendered"):
        copy_part(Part(source, source.start_pts, source.end.pts), tmp_path / "copy.mp4")
    assert not list(tmp_path.iterdir())


@pytest.mark.parametrize("write", [
    lambda source, to: copy_part(segment_of(source, 0, 5).parts[0], to),
    lambda source, to: render([segment_of(source, 0, 5)], to)])
def test_a_source_is_never_written_over(footage, tmp_path, write):
    own = tmp_path / "own.mp4"
    own.write_bytes(make("h264", footage).read_bytes())
    before = own.read_bytes()
    (tmp_path / "link.mp4").symlink_to(own)
    for to in (own, tmp_path / "link.mp4"):
        with pytest.raises(FileExistsError, match="never written over"):
            write(probe(own, "own"), to)
    assert own.read_bytes() == before


@pytest.fixture
def foreign(tmp_path):
    """Pictures and sound of which an MP4 file can hold one, the other, or neither: PICTURE, SOUND -> source."""
    def made(picture: str, sound: str):
        path = tmp_path / f"{picture} {sound}.mkv"
        run("ffmpeg", "-y", "-loglevel", "error", "-f", "lavfi", "-i", "testsrc2=size=96x64:rate=25:duration=2", "-f",
            "lavfi",
            "-i", "sine=duration=2", "-c:v", picture, "-pix_fmt", "yuv420p", "-g", "10", "-c:a", sound, str(path))
        return probe(path, picture)
    return made


def test_pictures_that_have_no_place_in_the_file_are_refused_with_a_way_out(foreign, tmp_path):
    part = segment_of(foreign("ffv1", "aac"), 5, 20).parts[0]
    with pytest.raises(CannotCopy, match="ffv1 pictures have no place in an MP4 file; export it rendered"):
        copy_part(part, tmp_path / "copy.mp4")
    assert not (tmp_path / "copy.mp4").exists()


def test_sound_that_has_no_place_in_the_file_is_encoded_and_said(foreign, tmp_path):
    source = foreign("libx264", "libvorbis")
    copied = copy_part(segment_of(source, 5, 20).parts[0], tmp_path / "copy.mp4")
    assert "The sound (vorbis) has no place" in copied.note and "encoded as AAC" in copied.note
    assert hashes(copied.path) == hashes(source.path)[5:20]
    with av.open(str(copied.path)) as container:
        assert container.streams.audio[0].codec_context.name == "aac"
    (note,) = export_segments([segment_of(source, 5, 20)], tmp_path / "all").notes
    assert "encoded as AAC" in note


@pytest.mark.parametrize(("sound", "suffix", "name"), [
    ("pcm_s16le", ".mov", "pcm_s16le"), ("libmp3lame", ".mp4", "mp3"), ("flac", ".mp4", "flac")])
def test_sound_goes_as_it_is_into_a_file_that_carries_it(foreign, tmp_path, sound, suffix, name):
    source = foreign("libx264", sound)
    done = export_segments([segment_of(source, 5, 20)], tmp_path / "all")
    ((_, path),) = done.files
    assert not done.notes and path.suffix == suffix
    assert hashes(path) == hashes(source.path)[5:20]
    told = json.loads(run("ffprobe", "-v", "error", "-show_streams", "-of", "json", str(path)))["streams"]
    (track,) = [stream for stream in told if stream["codec_type"] == "audio"]
    assert track["codec_name"] == name and abs(float(track["duration"]) - 0.6) < 0.001


def test_a_span_between_two_pictures_is_refused(footage, tmp_path):
    source = probe(make("h264", footage), "h264")
    pts = index_of(source).pts
    with pytest.raises(CannotCopy, match="no picture between"):
        copy_part(Part(source, int(pts[20]) + 1, int(pts[20]) + 2), tmp_path / "copy.mp4")
    assert not list(tmp_path.iterdir())


def test_every_span_of_a_program_stream_is_copied(footage, tmp_path):
    """Where two packets of its sound begin in one piece of it, both get one time: a muxer refuses that."""
    disc = footage / "disc.vob"
    run("ffmpeg", "-y", "-loglevel", "error", "-f", "lavfi", "-i", "testsrc2=size=352x288:rate=25:duration=6", "-f",
        "lavfi", "-i",
        "sine=duration=6", "-c:v", "mpeg2video", "-g", "15", "-bf", "2", "-b:v", "2M", "-c:a", "ac3", "-b:a", "448k",
        "-f", "vob", str(disc))
    with av.open(str(disc)) as container:
        times = [packet.pts for packet in container.demux(audio=0) if packet.size]
    assert len(set(times)) < len(times)         # else this is not such a stream
    source = probe(disc, "disc")
    for first in range(0, 110, 9):
        copied = copy_part(segment_of(source, first, first + 40).parts[0], tmp_path / "copy.mp4")
        with av.open(str(copied.path)) as container:
            starts = [packet.pts for packet in container.demux(audio=0) if packet.size]
        steps = {later - one for one, later in pairwise(starts)}
        assert steps <= {1535, 1536, 1537}      # AC-3 packets hold 1536 samples


@pytest.mark.parametrize("kind",
                         ["closed_gop.mp4", "open_gop.mp4", "open_gop.ts", "00001.MTS", "h264.avi", "rotated.mov",
                                  "hevc_8bit.mp4", "hevc_10bit.mov"])
def test_a_copy_for_every_player_hides_nothing(kind, tmp_path_factory, tmp_path):
    """Read without its edit list it holds the wanted pictures and no other; those that were not encoded again are the
    source's own, the others hardly differ."""
    path = clips.made(kind, tmp_path_factory.getbasetemp() / "clips")
    source = probe(path, "s")
    pts, originals = index_of(source).pts, [picture.astype(int) for picture in greys(path)]
    for first, last in ((5, 30), (13, 70), (30, 34), (47, 49)):
        copied = copy_part(Part(source, int(pts[first]), int(pts[last])), tmp_path / "copy.mp4", every_player=True)
        assert (copied.hidden_before, copied.hidden_after) == (0, 0)
        shown = [picture.astype(int) for picture in greys(copied.path, "-ignore_editlist", "1")]
        away = [abs(one - other).mean() for one, other in zip(shown, originals[first:last], strict=True)]
        again = int(copied.note.split(" pictures")[0]) if "encoded again" in copied.note else 0
        assert max(away) < 1.5 and sum(each > 0 for each in away) <= again
        assert probe(copied.path, "c").rotation == source.rotation


def greys(path: Path, *options: str) -> list:
    """The luma of every picture, by the ffmpeg program."""
    with av.open(str(path)) as container:
        size = container.streams.video[0].width, container.streams.video[0].height
    raw = subprocess.run(["ffmpeg", "-loglevel", "error", "-noautorotate", *options, "-i", str(path), "-map", "0:v",
                          "-fps_mode",
                          "passthrough", "-pix_fmt", "gray", "-f", "rawvideo", "-"], check=True,
                         capture_output=True).stdout
    return list(np.frombuffer(raw, np.uint8).reshape(-1, size[1], size[0]))


@pytest.mark.parametrize(("suffix", "options"), [
    (".mp4", "keyint=24:open-gop=1:bframes=4:b-adapt=0:scenecut=0 -tag:v hev1"),
    (".mp4", "keyint=24:open-gop=1:bframes=8:b-pyramid=1:b-adapt=0:scenecut=0:rc-lookahead=20 -tag:v hvc1"),
    (".mp4", "keyint=24:open-gop=0:bframes=3:radl=2:scenecut=0 -tag:v hvc1"),
    (".mp4", "keyint=24:slices=3:wpp=1:open-gop=1 -tag:v hvc1 -color_range pc -colorspace bt709"),
    (".ts", "keyint=24:open-gop=1:bframes=4:b-adapt=0:scenecut=0:repeat-headers=1"),
    (".mkv", "keyint=24:open-gop=1:bframes=4:scenecut=0")])
def test_hevc_of_any_kind_of_group_is_joined(suffix, options, tmp_path):
    """Open groups begin with pictures that lean on the group before; these are encoded again, too."""
    path = tmp_path / f"source{suffix}"
    own, *more = options.split()
    run("ffmpeg", "-y", "-loglevel", "error", "-f", "lavfi", "-i", "testsrc2=size=192x128:rate=25:duration=4",
        "-f", "lavfi", "-i", "sine=duration=4", "-c:v", "libx265", "-preset", "ultrafast", "-x265-params",
        f"log-level=error:{own}", *more, "-pix_fmt", "yuv420p", "-c:a", "aac", str(path))
    source = probe(path, "s")
    pts, originals, by_us = index_of(source).pts, greys(path), by_this_build(path)
    assert len(pts) == len(originals) == len(by_us) == 100
    for first, last in ((5, 30), (13, 70), (30, 34), (22, 26), (47, 97), (24, 49)):
        copied = copy_part(Part(source, int(pts[first]), int(pts[last])), tmp_path / "copy.mp4", every_player=True)
        assert (copied.hidden_before, copied.hidden_after) == (0, 0), copied.note
        again = int(copied.note.split(" pictures")[0]) if "encoded again" in copied.note else 0
        for shown, wanted in ((greys(copied.path, "-ignore_editlist", "1"), originals[first:last]),
                              (by_this_build(copied.path), by_us[first:last])):
            away = [abs(one.astype(int) - other).mean() for one, other in zip(shown, wanted, strict=True)]
            assert max(away) < 1.5 and sum(each > 0 for each in away) <= again
        assert again < 60


def by_this_build(path: Path) -> list:
    """The luma of every picture by the libraries under test, edit list left out."""
    with av.open(str(path), options={"ignore_editlist": "1"}) as container:
        return [frame.to_ndarray()[:frame.height] for frame in container.decode(video=0)]


def test_what_cannot_be_joined_is_copied_with_its_run_up_hidden_and_said(footage, tmp_path):
    source = probe(make("mpeg2-avi", footage), "mpeg2")
    copied = copy_part(segment_of(source, 31, 45).parts[0], tmp_path / "copy.mp4", every_player=True)
    assert copied.hidden_before and "only H.264 and HEVC pictures can be joined" in copied.note
    assert hashes(copied.path) == hashes(source.path)[31:45]
