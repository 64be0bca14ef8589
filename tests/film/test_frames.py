"""Exact pictures: what is asked for in random order is what a full decode shows, in every kind of file."""

from __future__ import annotations

import os
import queue
import random
import subprocess
import threading
import time
from fractions import Fraction
from itertools import pairwise
from pathlib import Path
from types import SimpleNamespace

import numpy as np
import pytest

from tests.delivery.film_kinds_table import with_matrix
from tests.film.clips import ALL_KINDS, full_decode, picture_hash
from workstation.film.decoder import Decoder
from workstation.film.faults import NoPicture
from workstation.film.film import Film
from workstation.film.frames import FrameReader
from workstation.film.index import index_of
from workstation.film.probe import probe
from workstation.film.sources import open_film
from workstation.film.time import Instant


@pytest.fixture
def reading():
    """A function from files to a reader of their film; closes what it opened."""
    readers = []

    def read(*paths, **options):
        film = Film(tuple(probe(path, f"s{n}") for n, path in enumerate(paths, 1)))
        readers.append(FrameReader(film, **options))
        return readers[-1]

    yield read
    for reader in readers:
        reader.close()


def places(reader, source=0):
    """Instants of all pictures of a source."""
    source = reader.film.sources[source]
    return [Instant(source.id, int(pts)) for pts in index_of(source).pts]


@pytest.mark.parametrize("kind", ALL_KINDS)
def test_random_order_gives_what_a_full_decode_gives(kind, clips, reading):
    truth = full_decode(clips(kind))
    reader = reading(clips(kind))
    instants = places(reader)
    assert len(instants) == len(truth)
    order = list(range(len(truth)))
    random.Random(kind).shuffle(order)
    wrong = []
    for number in order:
        picture = reader.frame_at(instants[number])
        if picture.instant != instants[number] or picture_hash(picture.frame) != truth[number]:
            wrong.append(number)
    assert wrong == []


@pytest.mark.parametrize("kind", ["open_gop.mp4", "open_gop.ts", "00001.MTS", "hevc_8bit.mp4", "mpeg2.mpg"])
def test_a_small_memory_gives_the_same_pictures(kind, clips, reading):
    truth = full_decode(clips(kind))
    reader = reading(clips(kind), memory_limit=2 << 20)
    instants = places(reader)
    backwards = [picture_hash(reader.frame_at(instant).frame) for instant in reversed(instants)]
    assert backwards == truth[::-1]


@pytest.mark.parametrize("kind", ["closed_gop.mp4", "open_gop.ts", "variable_rate.mp4", "edit_list.mp4"])
def test_a_long_file_shows_exact_pictures_before_it_is_indexed(kind, clips, reading, monkeypatch):
    monkeypatch.setattr("workstation.film.film_indexes.INDEXED_AT_ONCE", 0)
    monkeypatch.setattr("workstation.film.film_indexes.BackgroundIndexer", lambda *_, **__: None)
    truth = full_decode(clips(kind))
    reader = reading(clips(kind))
    reader._indexes.indexing = {0: _Never()}
    instants = places(reader)
    monkeypatch.setattr("workstation.film.film_indexes.cached_index", lambda source: None)
    for number in random.Random(5).sample(range(len(truth)), 12):
        picture = reader.frame_at(instants[number])
        assert (picture.instant, picture_hash(picture.frame)) == (instants[number], truth[number])


class _Never:
    def cancel(self):
        pass


def test_an_instant_between_pictures_shows_the_one_before(clips, reading):
    reader = reading(clips("variable_rate.mp4"))
    instants = places(reader)
    for here, following in pairwise(instants):
        assert reader.frame_at(Instant(here.source, following.pts - 1)).instant == here
    assert reader.frame_at(Instant("s1", instants[0].pts - 500)).instant == instants[0]
    assert reader.frame_at(Instant("s1", instants[-1].pts + 10**9)).instant == instants[-1]


def test_stepping_crosses_sources_both_ways(clips, reading):
    reader = reading(clips("closed_gop.mp4"), clips("00001.MTS"), clips("variable_rate.mp4"))
    everything = [instant for source in range(3) for instant in places(reader, source)]
    at, forward = everything[0], [everything[0]]
    for _ in everything[1:]:
        at = reader.step(at, 1)
        forward.append(at)
    assert forward == everything
    back = [at]
    for _ in everything[1:]:
        at = reader.step(at, -1)
        back.append(at)
    assert back == everything[::-1]
    for n in (7, 80, 130):
        assert reader.step(everything[3], n) == everything[3 + n]
        assert reader.step(everything[-3], -n) == everything[-3 - n]
    assert reader.step(everything[0], -5) == everything[0]
    assert reader.step(everything[-1], 5) == everything[-1]


def test_stepping_passes_over_a_bad_source(clips, reading, tmp_path):
    bad = tmp_path / "bad.mp4"
    bad.write_bytes(b"no film")
    reader = reading(clips("closed_gop.mp4"), bad, clips("open_gop.mp4"))
    last, first = places(reader, 0)[-1], places(reader, 2)[0]
    assert reader.step(last, 1) == first
    assert reader.step(first, -1) == last
    with pytest.raises(NoPicture, match=r"bad\.mp4"):
        reader.frame_at(Instant("s2", 0))
    assert reader.frame_at(first).instant == first


def test_what_was_decoded_ahead_is_there_for_the_next_steps(clips, reading):
    reader = reading(clips("closed_gop.mp4"))
    instants = places(reader)
    reader.frame_at(instants[30])
    _until(lambda: all(reader.around(instants[30], 20, 20)) and len(reader.around(instants[30], 20, 20)) == 41)
    assert reader.cached(instants[20]).instant == instants[20]
    assert reader.cached(instants[40]).instant == instants[40]


def test_decoding_ahead_crosses_to_the_next_source(clips, reading):
    reader = reading(clips("closed_gop.mp4"), clips("open_gop.mp4"))
    following = places(reader, 1)
    reader.frame_at(places(reader, 0)[-1])
    _until(lambda: len(reader.around(following[0], 0, 5)) == 6)


def test_the_cache_keeps_to_its_bytes(clips, reading):
    reader = reading(clips("closed_gop.mp4"), memory_limit=4 << 20)
    for instant in places(reader):
        reader.frame_at(instant)
        with reader._changed:           # the reading thread goes on around the picture
            assert reader._cache.bytes <= 4 << 20
            assert reader._cache.bytes == sum(sum(plane.buffer_size for plane in picture.frame.planes)
                                              for picture in reader._cache._frames.values())


def test_the_latest_wish_is_served(clips, reading):
    reader = reading(clips("closed_gop.mp4"))
    instants = places(reader)
    served, done = [], threading.Event()

    def got(picture):
        served.append(picture.instant)
        if picture.instant == instants[70]:
            done.set()

    for number in range(0, 71, 5):
        reader.fetch(instants[number], got)
    assert done.wait(20)
    assert served == sorted(served) and served[-1] == instants[70]


def test_many_threads_get_their_own_picture(clips, reading):
    truth = full_decode(clips("open_gop.mp4"))
    reader = reading(clips("open_gop.mp4"))
    instants = places(reader)
    wrong = []

    def ask(seed):
        for number in random.Random(seed).sample(range(len(truth)), 15):
            if picture_hash(reader.frame_at(instants[number]).frame) != truth[number]:
                wrong.append(number)

    threads = [threading.Thread(target=ask, args=(seed,)) for seed in range(4)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert wrong == []


def test_a_closed_reader_says_so(clips, reading):
    reader = reading(clips("closed_gop.mp4"))
    first = places(reader)[0]
    reader.frame_at(first)
    reader.close()
    reader.close()
    with pytest.raises(ValueError, match="closed"):
        reader.frame_at(places(reader)[50])


def test_a_rotated_picture_stands_upright_as_ffmpeg_turns_it(clips, reading):
    reader = reading(clips("rotated.mov"))
    source = reader.film.sources[0]
    assert source.display_size == (180, 320)
    ours = reader.frame_at(source.first).rgb()
    theirs = np.frombuffer(subprocess.run(
        ["ffmpeg", "-v", "error", "-i", source.path, "-frames:v", "1", "-f", "rawvideo", "-pix_fmt", "rgb24", "-"],
        check=True, capture_output=True).stdout, np.uint8).reshape(320, 180, 3)
    assert ours.shape == theirs.shape
    assert np.abs(ours.astype(int) - theirs).mean() < 2


def test_an_anamorphic_picture_is_shown_with_square_pixels(clips, reading):
    reader = reading(clips("anamorphic.mp4"))
    source = reader.film.sources[0]
    assert (source.width, source.height, source.pixel_aspect) == (320, 180, Fraction(4, 3))
    assert source.display_size == (427, 180)
    assert reader.frame_at(source.first).rgb().shape == (180, 427, 3)


@pytest.mark.parametrize(("size", "matrix"), [("1280x720", "bt709"), ("320x180", "smpte170m")])
def test_colours_come_out_as_they_went_in(size, matrix, reading, tmp_path):
    """Red is red: the matrix is BT.709 for high definition and BT.601 below (ITU-R BT.709, BT.601)."""
    path = tmp_path / "red.mp4"
    name = "bt709" if matrix == "bt709" else "bt601"
    subprocess.run(["ffmpeg", "-v", "error", "-f", "lavfi", "-i", f"color=0xC01020:size={size}:rate=25:duration=0.2",
                    "-vf", f"scale=out_color_matrix={name},format=yuv420p", "-c:v", "libx264", "-qp", "1", path],
                   check=True)
    reader = reading(path)
    picture = reader.frame_at(reader.film.sources[0].first)
    assert np.abs(picture.rgb()[50, 50].astype(int) - (0xC0, 0x10, 0x20)).max() <= 3
    assert np.abs(picture.bgra()[50, 50, 2::-1].astype(int) - (0xC0, 0x10, 0x20)).max() <= 3


def test_an_interlaced_picture_is_shown_without_combs(clips, reading):
    """Against ffmpeg's own yadif, which keeps the first field's lines as well."""
    reader = reading(clips("00001.MTS"))
    instants = places(reader)
    theirs = np.frombuffer(subprocess.run(
        ["ffmpeg", "-v", "error", "-i", clips("00001.MTS"), "-vf", "yadif", "-frames:v", "30", "-f", "rawvideo",
         "-pix_fmt", "rgb24", "-"], check=True, capture_output=True).stdout, np.uint8).reshape(-1, 180, 320, 3)
    picture = reader.frame_at(instants[20])
    assert picture.interlaced
    ours = picture.rgb().astype(int)
    assert (picture.bgra()[:, :, 2::-1] == ours).mean() > 0.98
    picture.interlaced = False
    woven = picture.rgb().astype(int)
    assert (ours[::2] == woven[::2]).all()
    assert np.abs(ours - theirs[20]).mean() < 0.75 * np.abs(woven - theirs[20]).mean()


def test_a_film_of_a_folder_can_be_read(clips, tmp_path):
    film = open_film([clips("closed_gop.mp4"), clips("hevc_8bit.mp4")])
    with FrameReader(film) as reader:
        end = film.instant_at(film.duration)
        assert reader.frame_at(end).instant == reader.step(film.sources[0].first, 10**6)


def _until(condition, seconds=20):
    waiter = threading.Event()
    for _ in range(int(seconds / 0.02)):
        if condition():
            return
        waiter.wait(0.02)
    raise AssertionError("it did not come about in time")


def test_memory_is_tidied_up_once_when_nobody_waits_and_nothing_plays(clips, monkeypatch):
    tidied, waits = [], queue.SimpleQueue()

    class Condition(threading.Condition):
        def wait(self, timeout=None):
            waits.put(timeout)
            return super().wait(timeout)

    def sleeps():
        """The worker waits without a time limit: nothing more will happen by itself."""
        while waits.get(timeout=20) is not None:
            pass

    monkeypatch.setattr("workstation.film.frames.threading",
                        SimpleNamespace(Condition=Condition, Event=threading.Event))
    monkeypatch.setattr("workstation.film.frame_worker.REST", 0.05)
    monkeypatch.setattr("workstation.film.frame_worker.release_freed_memory", lambda: tidied.append(1))
    source = probe(clips("closed_gop.mp4"), "s1")
    with FrameReader(Film((source,))) as reader:
        sleeps()
        assert tidied == []                     # nothing was read yet
        reader.frame_at(source.first)
        while not waits.empty():
            waits.get()
        reader.rest()                           # a player begins, perhaps just after a rest
        sleeps()
        while not waits.empty():
            waits.get()
        before = len(tidied)
        reader.frame_at(source.end)
        sleeps()
        assert len(tidied) == before + 1


@pytest.mark.skipif(not Path("/proc/self/fd").exists(), reason="which files are open is only told by Linux")
def test_at_rest_only_the_file_at_hand_is_open(clips, tmp_path, monkeypatch, reading):
    """The other's decoder would keep the memory of all its pictures that have been let go of."""
    rested = threading.Event()
    monkeypatch.setattr("workstation.film.frame_worker.REST", 600)
    monkeypatch.setattr("workstation.film.frame_worker.release_freed_memory", rested.set)
    paths = [tmp_path / "a.mp4", tmp_path / "b.mp4"]
    for path in paths:
        path.write_bytes(clips("closed_gop.mp4").read_bytes())
    reader = reading(*paths)

    def opened():
        held = [Path(os.readlink(link)) for link in Path("/proc/self/fd").iterdir() if os.path.lexists(link)]
        return [path for path in paths if path in held]

    first, last = (reader.film.sources[n].first for n in (0, 1))
    before = picture_hash(reader.frame_at(first).frame)
    reader.frame_at(last)
    assert opened() == paths
    monkeypatch.setattr("workstation.film.frame_worker.REST", 0.05)
    reader.cached(last)         # whoever looks wakes it
    assert rested.wait(20) and opened() == paths[1:]
    assert picture_hash(reader.frame_at(reader.step(last, -1)).frame) == full_decode(paths[0])[-1]
    assert picture_hash(reader.frame_at(first).frame) == before


def test_large_film_is_kept_small_until_somebody_asks_for_the_whole_frame(tmp_path):
    path = tmp_path / "large.mp4"
    subprocess.run(["ffmpeg", "-v", "error", "-y", "-f", "lavfi", "-i", "testsrc2=size=320x1600:rate=25:duration=2",
                    "-c:v", "libx264",
                    "-preset", "ultrafast", "-g", "25", "-bf", "2", "-pix_fmt", "yuv420p", str(path)], check=True)
    source = probe(path, "s")
    pts = index_of(source).pts
    hashes = full_decode(path)
    with FrameReader(Film((source,)), keep_small=True) as reader:
        at = Instant("s", int(pts[30]))
        assert picture_hash(reader.frame_at(at).frame) == hashes[30]
        before = Instant("s", int(pts[29]))
        deadline = time.monotonic() + 20
        while reader.cached(before, whole=False) is None and time.monotonic() < deadline:
            time.sleep(0.01)
        small = reader.cached(before, whole=False)
        assert small.small and small.instant == before and (small.frame.width, small.frame.height) == (160, 800)
        assert reader.cached(before) is None
        whole = reader.frame_at(before)
        assert not whole.small and picture_hash(whole.frame) == hashes[29]
        shrunk = whole.rgb().reshape(800, 2, 160, 2, 3).mean((1, 3))
        other = reader.frame_at(Instant("s", int(pts[5]))).rgb().reshape(800, 2, 160, 2, 3).mean((1, 3))
        # The same picture, not another one's.
        assert np.abs(shrunk - small.rgb()).mean() < 0.7 * np.abs(other - small.rgb()).mean()
    with FrameReader(Film((source,))) as reader:
        reader.frame_at(at)
        time.sleep(0.3)
        assert all(not picture.small for picture in reader.around(at, 10, 10))


def _large_film(path):
    """Four seconds of tall film, a keyframe each second."""
    subprocess.run(["ffmpeg", "-v", "error", "-y", "-f", "lavfi", "-i", "testsrc2=size=320x1600:rate=25:duration=4",
                    "-c:v", "libx264", "-preset", "ultrafast", "-g", "25", "-bf", "2", "-pix_fmt", "yuv420p",
                    str(path)], check=True)
    return probe(path, "s")


def test_the_group_before_the_playhead_of_large_film_is_decoded_before_it_is_needed(tmp_path):
    source = _large_film(tmp_path / "large.mp4")
    pts = index_of(source).pts
    with FrameReader(Film((source,)), memory_limit=16 << 20, keep_small=True) as reader:
        reader.frame_at(Instant("s", int(pts[60])))
        at = reader.step(Instant("s", int(pts[60])), -1)
        reader.frame_at(at, whole=False)
        before = [Instant("s", int(each)) for each in pts[25:59]]
        deadline = time.monotonic() + 20
        while len(reader.around(at, 34, 0)) < 35 and time.monotonic() < deadline:
            time.sleep(0.02)
        around = reader.around(at, 34, 0)
        assert [picture.instant for picture in around] == [*before, at]
        assert {(picture.frame.width, picture.frame.height) for picture in around[:-1]} == {(106, 533)}
        assert reader._cache.bytes <= reader._cache.limit
        # One whole frame at most is kept beside the one that was asked for.
        assert sum(not picture.small for picture in reader.around(at, 100, 100)) <= 2


def test_decoding_ahead_of_large_film_turns_with_whoever_steps_back(tmp_path, monkeypatch):
    source = _large_film(tmp_path / "large.mp4")
    pts = index_of(source).pts
    decoded = queue.Queue()
    with FrameReader(Film((source,)), keep_small=True) as reader:
        def read(decoder, plain=Decoder.read):
            got = plain(decoder)
            decoded.put(got[0])
            if got[0] == 63:
                assert reader.cached(Instant("s", int(pts[59])), whole=False) is not None
            return got

        monkeypatch.setattr(Decoder, "read", read)
        reader.frame_at(Instant("s", int(pts[60])))
        order = [decoded.get(timeout=20) for _ in range(50, 66)]
    assert order == [*range(50, 64), 25, 26]


def test_a_small_frame_serves_whoever_steps_and_the_whole_one_whoever_asks(tmp_path):
    path = tmp_path / "large.mp4"
    subprocess.run(["ffmpeg", "-v", "error", "-y", "-f", "lavfi", "-i", "testsrc2=size=320x1600:rate=25:duration=1",
                    "-c:v", "libx264", "-preset", "ultrafast", "-g", "25", "-pix_fmt", "yuv420p", str(path)],
                   check=True)
    source = probe(path, "s")
    pts, hashes = index_of(source).pts, full_decode(path)
    with FrameReader(Film((source,)), keep_small=True) as reader:
        reader.frame_at(Instant("s", int(pts[12])))
        here = Instant("s", int(pts[11]))
        deadline = time.monotonic() + 20
        while reader.cached(here, whole=False) is None and time.monotonic() < deadline:
            time.sleep(0.01)
        assert reader.frame_at(here, whole=False).small
        for number in (11, 3, 20, 12):
            whole = reader.frame_at(Instant("s", int(pts[number])))
            assert not whole.small and picture_hash(whole.frame) == hashes[number]


@pytest.mark.parametrize("matrix", [(1, 0, 0, 1), (0, 1, -1, 0), (-1, 0, 0, -1), (0, -1, 1, 0),
                                    (-1, 0, 0, 1), (1, 0, 0, -1), (0, -1, -1, 0), (0, 1, 1, 0)])
def test_film_that_is_turned_or_mirrored_stands_as_ffmpeg_stands_it(tmp_path, matrix):
    flat, path = tmp_path / "flat.mp4", tmp_path / "standing.mp4"
    subprocess.run(["ffmpeg", "-v", "error", "-y", "-f", "lavfi", "-i", "testsrc=size=160x96:rate=25:duration=0.4",
                    "-c:v", "libx264", "-preset", "ultrafast", "-pix_fmt", "yuv420p", str(flat)], check=True)
    with_matrix(*matrix)(flat, path)
    raw = subprocess.run(["ffmpeg", "-v", "error", "-i", str(path), "-frames:v", "1", "-f", "rawvideo", "-pix_fmt",
                          "rgb24", "-"], check=True, capture_output=True).stdout
    source = probe(path, "s")
    with FrameReader(Film((source,))) as reader:
        ours = reader.frame_at(source.first).rgb().astype(int)
    theirs = np.frombuffer(raw, np.uint8).reshape(ours.shape).astype(int)
    assert np.abs(ours - theirs).mean() < 2
    assert source.mirrored == (matrix[0] * matrix[3] - matrix[1] * matrix[2] < 0)
