"""Damage: the film stays open, the bad source says why, everything else works."""

from __future__ import annotations

import errno
import os
import shlex
import subprocess
from dataclasses import replace
from fractions import Fraction

import av
import pytest

from tests.film.clips import ffmpeg, full_decode, picture_hash
from workstation.film import cache, decoder, index
from workstation.film.faults import NoPicture, reason_for
from workstation.film.film import Film
from workstation.film.frames import FrameReader
from workstation.film.index import index_of
from workstation.film.mono_sound import mono_samples
from workstation.film.probe import open_container, probe
from workstation.film.sources import recheck
from workstation.film.time import Instant


def cut(path, share):
    os.truncate(path, int(path.stat().st_size * share))
    return path


@pytest.fixture
def damaged(own_clip, tmp_path):
    """A function from a kind of damage to the file."""
    def make(kind):
        path = tmp_path / f"{kind}.mp4"
        if kind == "empty":
            path.write_bytes(b"")
        elif kind == "text":
            path.write_text("not a film at all\n" * 200)
        elif kind == "noise":
            path.write_bytes(bytes(range(256)) * 400)
        elif kind == "unfinished":          # cut before the list of pictures at the end
            own_clip("closed_gop.mp4", path.name)
            cut(path, 0.6)
        elif kind == "only sound":
            own_clip("closed_gop.mp4", "whole.mp4")
            subprocess.run(["ffmpeg", "-v", "error", "-i", tmp_path / "whole.mp4", "-vn", "-c", "copy", path],
                           check=True)
        elif kind == "unknown codec":
            data = own_clip("closed_gop.mp4", path.name).read_bytes()
            path.write_bytes(data.replace(b"avc1", b"zzzz").replace(b"avcC", b"zzzC"))
        elif kind == "cover picture":
            own_clip("closed_gop.mp4", "whole.mp4")
            subprocess.run(["ffmpeg", "-v", "error", "-i", tmp_path / "whole.mp4", "-f", "lavfi", "-i",
                            "color=red:size=64x64:rate=1:duration=1", "-map", "0:a", "-map", "1:v", "-c:a", "copy",
                            "-c:v", "mjpeg", "-frames:v", "1", "-disposition:v", "attached_pic", path], check=True)
        return path

    return make


@pytest.mark.parametrize(("kind", "said"), [
    ("empty", "is empty"),
    ("text", "damaged or is not a film"),
    ("noise", "damaged or is not a film"),
    ("unfinished", "never finished"),
    ("only sound", "sound but no picture"),
    ("cover picture", "sound but no picture"),
    ("unknown codec", "no decoder"),
])
def test_a_bad_file_says_what_is_wrong(kind, said, damaged, clips):
    bad = probe(damaged(kind), "s2")
    assert said in bad.problem
    assert bad.path.name in bad.problem
    film = Film((probe(clips("closed_gop.mp4"), "s1"), bad, probe(clips("open_gop.mp4"), "s3")))
    with FrameReader(film) as reader:
        with pytest.raises(NoPicture) as caught:
            reader.frame_at(Instant("s2", 0))
        assert (caught.value.source, caught.value.reason) == ("s2", bad.problem)
        for good in (film.sources[0], film.sources[2]):
            assert reader.frame_at(good.first).instant == good.first


@pytest.mark.parametrize("kind", ["open_gop.ts", "mpeg2.avi", "mpeg2.mpg"])
def test_a_file_that_breaks_off_is_shown_up_to_there(kind, own_clip):
    whole = full_decode(own_clip(kind))
    path = cut(own_clip(kind), 0.55)
    source = probe(path, "s1")
    assert source.problem is None
    truth = full_decode(path)
    with FrameReader(Film((source,))) as reader:
        index = index_of(source)
        assert len(whole) * 0.3 < len(index) <= len(whole)
        for number in (0, 10, len(truth) - 5, 5):
            picture = reader.frame_at(Instant("s1", int(index.pts[number])))
            assert picture_hash(picture.frame) == truth[number] == whole[number]
        assert reader.frame_at(Instant("s1", int(index.pts[-1])))       # whatever the last one is, it does not hang


def test_an_index_that_promises_more_than_the_file_holds(own_clip, tmp_path):
    path = tmp_path / "early.mp4"
    subprocess.run(["ffmpeg", "-v", "error", "-i", own_clip("closed_gop.mp4"), "-c", "copy", "-movflags", "+faststart",
                    path],
                   check=True)
    whole = full_decode(path)
    source = probe(cut(path, 0.5), "s1")
    assert source.problem is None
    assert "ends early" in source.warning
    assert 0 < source.duration < 2.2
    index = index_of(source)
    with FrameReader(Film((source,))) as reader:
        for number in (20, 3, len(index) - 8):
            picture = reader.frame_at(Instant("s1", int(index.pts[number])))
            assert picture_hash(picture.frame) == whole[number]


@pytest.mark.parametrize("refusal", [av.error.InvalidDataError, av.error.ArgumentError, av.error.PatchWelcomeError])
def test_a_packet_that_the_decoder_refuses_costs_its_own_picture(refusal, clips, monkeypatch):
    """Damage in the settings within a packet makes it ask for what no decoder has."""
    class Refused:
        def __init__(self, packet):
            self.packet = packet

        def __getattr__(self, name):
            return getattr(self.packet, name)

        def decode(self):
            raise refusal(1, "refused")

    source = probe(clips("closed_gop.mp4"), "s1")
    made = index_of(source)
    land = decoder.Decoder._land
    monkeypatch.setattr(decoder.Decoder, "_land", lambda self, key: (
        Refused(packet) if packet.pts == made.pts[-1] else packet for packet in land(self, key)))
    reading = decoder.Decoder(source, made)
    reading.seek(0)
    assert [number for number, _ in iter(reading.read, None)] == list(range(len(made) - 1))
    reading.close()


def test_streams_that_come_up_while_reading_end_nothing(clips, monkeypatch):
    """PyAV then looks for them among those it knew, after the last packet."""
    class Grown:
        def __init__(self, container):
            self.container = container

        def __getattr__(self, name):
            return getattr(self.container, name)

        def demux(self, *streams):
            yield from self.container.demux(*streams)
            raise IndexError("list index out of range")

    opened = av.open
    monkeypatch.setattr(av, "open", lambda *how, **more: Grown(opened(*how, **more)))
    source = probe(clips("h264.avi"), "s1")         # indexed by its packets, by its first pictures, and by all of them
    made = index_of(source)
    reading = decoder.Decoder(source, made)
    reading.seek(0)
    assert [number for number, _ in iter(reading.read, None)] == list(range(75))
    reading.close()


def test_damage_in_the_middle_leaves_the_rest_exact(own_clip):
    path = own_clip("open_gop.ts")
    clean = full_decode(path)
    data = bytearray(path.read_bytes())
    middle = len(data) // 2 // 188 * 188
    data[middle:middle + 188 * 20] = bytes(188 * 20)
    path.write_bytes(data)
    truth = [(frame.pts, picture_hash(frame)) for frame in _decoded(path)]
    source = probe(path, "s1")
    with FrameReader(Film((source,))) as reader:
        picture = reader.frame_at(source.first)
        shown = {}
        while True:
            shown[picture.instant.pts] = picture_hash(picture.frame)
            following = reader.step(picture.instant, 1)
            if following == picture.instant:
                break
            later = reader.frame_at(following)
            if later.instant.pts <= picture.instant.pts:        # a lost picture: the one before stands
                later.instant = following
            picture = later
    assert len(shown) > 60
    early = [pts for pts, _ in truth[:20]]
    assert [shown[pts] for pts in early] == clean[:20]
    assert [shown[pts] for pts, _ in truth[-10:]] == [hash_ for _, hash_ in truth[-10:]]


def _decoded(path):
    with av.open(str(path)) as container:
        for packet in container.demux(container.streams.video[0]):
            try:
                yield from packet.decode()
            except av.error.InvalidDataError:
                continue


def test_a_file_that_vanishes_while_open(own_clip, clips):
    path = own_clip("closed_gop.mp4")
    film = Film((probe(path, "s1"), probe(clips("open_gop.mp4"), "s2")))
    index = index_of(film.sources[0])
    with FrameReader(film) as reader:
        reader.frame_at(film.sources[1].first)
        path.unlink()
        with pytest.raises(NoPicture, match="not there any more"):
            reader.frame_at(Instant("s1", int(index.pts[40])))
        assert reader.frame_at(film.sources[1].end).instant.source == "s2"
        assert reader.step(film.sources[1].first, -1).source == "s1"       # its pictures are still known by number
    assert "not there" in recheck(film).sources[0].problem


def test_a_card_pulled_while_reading(own_clip, clips, monkeypatch):
    """The system's answer for a device that is gone, from the middle of a decode."""
    film = Film((probe(own_clip("closed_gop.mp4"), "s1"), probe(clips("open_gop.mp4"), "s2")))
    index = index_of(film.sources[0])
    real = decoder.Decoder.read

    def pulled(self):
        if self.source.id == "s1":
            raise OSError(errno.EIO, "Input/output error")
        return real(self)

    monkeypatch.setattr(decoder.Decoder, "read", pulled)
    with FrameReader(film) as reader:
        with pytest.raises(NoPicture, match="card reader"):
            reader.frame_at(Instant("s1", int(index.pts[40])))
        assert reader.frame_at(film.sources[1].first).instant == film.sources[1].first
        monkeypatch.setattr(decoder.Decoder, "read", real)      # and put back in
        assert reader.frame_at(Instant("s1", int(index.pts[40]))).instant.pts == index.pts[40]


def test_a_file_without_permission(own_clip):
    path = own_clip("closed_gop.mp4")
    assert "permission" in reason_for(PermissionError(errno.EACCES, "denied"), path)


@pytest.mark.parametrize("goes", ["nowhere", "to the beginning"])
def test_a_damaged_list_of_places(clips, monkeypatch, goes):
    """A container that will not go where it is sent is read from as near as it goes, or says that it is damaged."""

    class Stubborn:
        def __init__(self, path):
            self._container = open_container(path)

        def __getattr__(self, name):
            return getattr(self._container, name)

        def seek(self, to, **how):
            if goes == "nowhere" or to > first:
                raise av.error.PermissionError(errno.EPERM, "Operation not permitted")
            self._container.seek(to, **how)

    path = clips("closed_gop.mp4")
    source = probe(path, "s1")
    index = index_of(source)
    first, wanted = int(index.key_dts[0]), int(index.pts[40])
    monkeypatch.setattr(decoder, "open_container", Stubborn)
    with FrameReader(Film((source,))) as reader:
        if goes == "nowhere":
            with pytest.raises(NoPicture, match="damaged here"):
                reader.frame_at(Instant("s1", wanted))
        else:
            assert picture_hash(reader.frame_at(Instant("s1", wanted)).frame) == full_decode(path)[40]
    said = reason_for(av.error.PermissionError(errno.EPERM, "Operation not permitted"), path)
    assert "permission to read" not in said and "cannot be read" in said


def test_sound_whose_times_leap_hours_ahead_is_not_made_up_of_hours_of_silence(tmp_path):
    path = tmp_path / "leap.mkv"
    subprocess.run(["ffmpeg", "-v", "error", "-f", "lavfi", "-i", "testsrc2=size=64x64:rate=25:duration=30", "-f",
                    "lavfi",
                    "-i", "sine=duration=30,asetpts=PTS+gte(T\\,1)*7200/TB", "-c:v", "mpeg4", "-c:a", "pcm_s16le",
                    "-map", "0:v", "-map", "1:a", path], check=True)
    source = replace(probe(path, "s1"), duration_pts=30_000)        # the sound's, too, else: two hours
    assert source.time_base == Fraction(1, 1000)
    lengths = [len(samples) for samples in mono_samples(source)]
    assert max(lengths) <= 10 * 16_000 and sum(lengths) <= 60 * 16_000


def test_a_file_that_ended_the_program_twice_is_left_alone(own_clip):
    path = own_clip("closed_gop.mp4")
    source = probe(path, "s1")
    (cache.folder() / f"{source.fingerprint}.json").unlink()
    cache.begin_attempt(source.fingerprint)
    assert probe(path, "s1").problem is None
    (cache.folder() / f"{source.fingerprint}.json").unlink()
    cache.begin_attempt(source.fingerprint)
    cache.begin_attempt(source.fingerprint)
    assert "left alone" in probe(path, "s1").problem


def test_an_error_nobody_thought_of_is_an_answer(clips, monkeypatch):
    film = Film((probe(clips("closed_gop.mp4"), "s1"), probe(clips("open_gop.mp4"), "s2")))
    with FrameReader(film) as reader:
        with monkeypatch.context() as patch, pytest.raises(NoPicture, match="division by zero"):
            patch.setattr(decoder.Decoder, "seek", lambda *_: 1 / 0)
            reader.frame_at(film.sources[0].first)
        assert reader.frame_at(film.sources[1].first).instant == film.sources[1].first


@pytest.mark.parametrize("later_begins", [1234.5, 1233.2, 1200, 100])
def test_recordings_put_behind_one_another_in_one_file_are_told_and_the_advice_helps(later_begins, own_clip, tmp_path):
    first, later = own_clip("late_start.ts", "first.ts"), tmp_path / "later.ts"
    ffmpeg(["-i", first.name, "-c", "copy", "-output_ts_offset", str(later_begins - 1.4), later.name], tmp_path)
    pictures = len(index_of(probe(first, "first")))
    joined = tmp_path / "joined.ts"
    joined.write_bytes(first.read_bytes() + later.read_bytes())
    source = probe(joined, "joined")
    with pytest.raises(NoPicture, match="clock begins again") as told:
        index_of(source)
    command = told.value.reason.partition("one clock: ")[2]
    subprocess.run([*shlex.split(command), "-loglevel", "error"], cwd=tmp_path, check=True)
    assert len(index_of(probe(tmp_path / "joined.mp4", "mended"))) == 2 * pictures


@pytest.mark.parametrize("later_by", [2, 600])
def test_a_recording_that_was_paused_has_one_clock(later_by, own_clip, tmp_path):
    first, later = own_clip("late_start.ts", "first.ts"), tmp_path / "later.ts"
    ffmpeg(["-i", first.name, "-c", "copy", "-output_ts_offset", str(1235.6 + later_by), later.name], tmp_path)
    pictures = len(index_of(probe(first, "first")))
    paused = tmp_path / "paused.ts"
    paused.write_bytes(first.read_bytes() + later.read_bytes())
    assert len(index_of(probe(paused, "paused"))) == 2 * pictures


@pytest.mark.parametrize("seconds", [-20, 40, 50_000])
def test_a_few_pictures_with_damaged_times_do_not_make_a_clock_begin_again(seconds, own_clip, monkeypatch):
    source = probe(own_clip("late_start.ts", "damaged.ts"), "damaged")
    whole = index._packets

    def damaged(*given):
        rows = whole(*given)
        rows["dts"][40:45] += seconds * 90_000
        return rows
    monkeypatch.setattr(index, "_packets", damaged)
    assert len(index_of(source)) == 75


def test_a_file_without_any_keyframe_says_so(own_clip, monkeypatch):
    source = probe(own_clip("closed_gop.mp4", "none.mp4"), "none")
    whole = index._packets

    def without_keys(*given):
        rows = whole(*given)
        rows["key"] = False
        return rows
    monkeypatch.setattr(index, "_packets", without_keys)
    with pytest.raises(NoPicture, match="Copy it from the card again"):
        index_of(source)
