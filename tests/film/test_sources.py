"""From a card to an ordered film, and back to it after the files have moved."""

from __future__ import annotations

import random
import threading
from pathlib import Path

import pytest

from workstation.cancelling import Cancelled
from workstation.film.faults import FilmError, MissingFile
from workstation.film.film import Film
from workstation.film.film_indexes import FilmIndexes
from workstation.film.fingerprint import SAMPLE, fingerprint
from workstation.film.frames import FrameReader
from workstation.film.index import BackgroundIndexer
from workstation.film.probe import probe
from workstation.film.sources import find_files, in_camera_order, open_film, recheck, relink

AVCHD = ["00000.MTS", "00001.MTS", "00002.MTS", "00010.MTS", "00100.MTS"]


@pytest.mark.parametrize("names", [
    AVCHD,
    ["clip1.mp4", "clip2.mp4", "clip10.mp4"],
    ["C0001.MP4", "C0002.MP4", "C0010.MP4"],
    ["DSCF9998.MOV", "DSCF9999.MOV", "DSCF0001.MOV", "DSCF0002.MOV"],       # the counter ran over (DCF: 0001 to 9999)
    ["MVI_9999.MP4", "MVI_0000.MP4"],
    ["IMG_0001.MOV", "IMG_0002.MOV", "IMG_9000.MOV"],                       # high numbers, but no overrun
    ["GH010034.MP4", "GH020034.MP4", "GH010035.MP4"],                       # parts of one recording together
    ["GOPR0034.MP4", "GP010034.MP4", "GP020034.MP4", "GOPR0035.MP4"],
    ["100MEDIA/DSC_9999.MP4", "101MEDIA/DSC_0001.MP4"],
    ["first half.mp4", "second half.mp4"],
])
def test_order_is_the_cameras(names):
    for seed in range(5):
        shuffled = random.Random(seed).sample([Path("card", name) for name in names], len(names))
        assert [path.relative_to("card").as_posix() for path in in_camera_order(shuffled)] == names


def test_a_full_counter_without_a_gap_stays():
    names = [Path(f"A{number:04}.MP4") for number in range(1, 10000)]
    assert in_camera_order(reversed(names)) == names


def test_finding_files_passes_over_what_is_no_recording(tmp_path):
    for name in ("PRIVATE/AVCHD/BDMV/STREAM/00001.MTS", "PRIVATE/AVCHD/BDMV/STREAM/00000.MTS",
                 "PRIVATE/M4ROOT/CLIP/C0001.MP4", "PRIVATE/M4ROOT/SUB/C0001S03.MP4",
                 "PRIVATE/M4ROOT/THMBNL/C0001T01.JPG", "DCIM/100/._hidden.mp4", ".Trashes/gone.mp4", "notes.txt"):
        (tmp_path / name).parent.mkdir(parents=True, exist_ok=True)
        (tmp_path / name).write_bytes(b"x")
    assert [path.name for path in find_files([tmp_path])] == ["00000.MTS", "00001.MTS", "C0001.MP4"]
    assert find_files([tmp_path / "notes.txt", tmp_path / "notes.txt"]) == [tmp_path / "notes.txt"]
    with pytest.raises(MissingFile, match="nowhere"):
        find_files([tmp_path / "nowhere"])


def test_open_film(clips, own_clip, tmp_path):
    own_clip("closed_gop.mp4", "card/00002.mp4")
    own_clip("open_gop.mp4", "card/00010.mp4")
    (tmp_path / "card/00003.mp4").write_bytes(b"broken")
    told = []
    film = open_film([tmp_path / "card"], taken=["s1", "s3"], progress=lambda done, total: told.append((done, total)))
    assert [source.path.name for source in film.sources] == ["00002.mp4", "00003.mp4", "00010.mp4"]
    assert [source.id for source in film.sources] == ["s2", "s4", "s5"]
    assert [bool(source.problem) for source in film.sources] == [False, True, False]
    assert told == [(1, 3), (2, 3), (3, 3)]
    assert film.duration == film.sources[0].duration + film.sources[2].duration


def test_open_film_says_what_is_missing(tmp_path):
    with pytest.raises(FilmError, match="No film files"):
        open_film([tmp_path])
    (tmp_path / "a.mp4").write_bytes(b"x")
    with pytest.raises(Cancelled):
        open_film([tmp_path], cancelled=lambda: True)


def test_reordering_moves_no_instant(clips):
    film = open_film([clips("closed_gop.mp4"), clips("open_gop.mp4")])
    turned = Film(film.sources[::-1])
    assert [source.id for source in turned.sources] == ["s2", "s1"]
    first = film.sources[0].first
    assert film.time_of(first) == 0
    assert turned.time_of(first) == film.sources[1].duration


def test_fingerprint_knows_size_head_middle_and_tail(tmp_path):
    data = bytearray(random.Random(1).randbytes(5 * SAMPLE))
    path = tmp_path / "f"

    def of(changed):
        path.write_bytes(changed)
        return fingerprint(path)

    same = of(data)
    assert of(data) == same
    assert of(data + b"x") != same
    for place in (0, SAMPLE - 1, len(data) // 2, len(data) - 1):
        other = bytearray(data)
        other[place] ^= 1
        assert of(other) != same
    assert of(b"") != of(b"x")


def test_moved_footage_is_found_again_whatever_it_is_called(own_clip, tmp_path):
    film = Film((probe(own_clip("closed_gop.mp4", "card/1.mp4"), "s1"),
                 probe(own_clip("open_gop.mp4", "card/2.mp4"), "s2"), probe(own_clip("mpeg2.avi", "card/3.avi"), "s3")))
    (tmp_path / "disk/deep").mkdir(parents=True)
    (tmp_path / "card/1.mp4").rename(tmp_path / "disk/2.mp4")
    (tmp_path / "card/2.mp4").rename(tmp_path / "disk/deep/other name.mp4")
    (tmp_path / "card/3.avi").unlink()

    gone = recheck(film)
    assert all("not there" in source.problem for source in gone.sources)

    back = relink(gone, [tmp_path / "disk"])
    assert [source.path.name for source in back.sources] == ["2.mp4", "other name.mp4", "3.avi"]
    assert [source.problem is None for source in back.sources] == [True, True, False]
    for before, after in zip(film.sources[:2], back.sources, strict=False):
        assert (after.id, after.first, after.duration) == (before.id, before.first, before.duration)


def test_replaced_footage_is_noticed(own_clip, tmp_path, clips):
    film = Film((probe(own_clip("closed_gop.mp4", "card/1.mp4"), "s1"),
                 probe(own_clip("open_gop.mp4", "card/2.mp4"), "s2")))
    (tmp_path / "card/1.mp4").write_bytes(clips("hevc_8bit.mp4").read_bytes())
    now = recheck(film)
    assert "other footage" in now.sources[0].problem
    assert now.sources[1] == film.sources[1]
    (tmp_path / "card/1.mp4").write_bytes(clips("closed_gop.mp4").read_bytes())
    assert recheck(now) == film


def test_relinking_touches_nothing_that_is_well(own_clip, tmp_path):
    film = Film((probe(own_clip("closed_gop.mp4", "a/1.mp4"), "s1"),))
    own_clip("closed_gop.mp4", "b/1.mp4")
    assert relink(film, [tmp_path / "b"]) == film


def test_indexing_in_the_background_tells_and_stops(clips, tmp_path):
    film = open_film([clips("closed_gop.mp4"), clips("open_gop.mp4"), clips("mpeg2.avi")])
    made = []
    indexing = BackgroundIndexer(film.sources, on_index=lambda source, index: made.append((source.id, len(index))))
    assert indexing.wait(30)
    assert made == [("s1", 75), ("s2", 75), ("s3", 75)]


def test_indexing_goes_on_past_a_vanished_file(own_clip, tmp_path):
    film = Film((probe(own_clip("closed_gop.mp4", "1.mp4"), "s1"), probe(own_clip("open_gop.mp4", "2.mp4"), "s2")))
    (tmp_path / "1.mp4").unlink()
    made = {}
    assert BackgroundIndexer(film.sources, on_index=lambda source, index: made.update({source.id: index})).wait(30)
    assert "not there" in made["s1"].reason
    assert len(made["s2"]) == 75


def test_cancelled_indexing_stops(clips):
    film = open_film([clips("closed_gop.mp4")])
    asked = []
    indexing = BackgroundIndexer([*film.sources] * 500, on_index=lambda source,
                                 index: asked.append(source) or indexing_box[0].cancel())
    indexing_box = [indexing]
    indexing.cancel()
    assert len(asked) < 500


def test_the_first_file_that_can_be_shown_is_told_before_any_after_it_is_read(own_clip, tmp_path, monkeypatch):
    (tmp_path / "a").mkdir()
    (tmp_path / "a" / "1.mp4").write_bytes(b"no film at all")
    for number in (2, 3, 4):
        own_clip("closed_gop.mp4", f"a/{number}.mp4")
    read, told = [], []
    monkeypatch.setattr("workstation.film.sources.probe", lambda path, id: read.append(path.name) or probe(path, id))
    film = open_film([tmp_path / "a"], first=lambda source: told.append((source, list(read))))
    assert told == [(film.sources[1], ["1.mp4", "2.mp4"])]
    assert [source.path.name for source in film.sources] == sorted(read) == ["1.mp4", "2.mp4", "3.mp4", "4.mp4"]


def test_what_is_needed_most_is_indexed_first(own_clip, tmp_path, monkeypatch):
    for number in range(9):
        path = own_clip("closed_gop.mp4", f"a/{number}.mp4")
        path.write_bytes(path.read_bytes() + (16).to_bytes(4) + b"free" + number.to_bytes(8))
    film, order, all_made = open_film([tmp_path / "a"]), [], threading.Event()
    add = FilmIndexes.add

    def note(self, source, index):
        add(self, source, index)
        order.append(source.path.stem)
        if len(order) == len(film.sources):
            all_made.set()

    monkeypatch.setattr(FilmIndexes, "add", note)
    monkeypatch.setattr("workstation.film.prefetch.Prefetch.next_batch", lambda self: None)
    with FrameReader(film) as reader:
        reader.in_view(["s8", "s7", "gone"])
        reader.frame_at(film.sources[3].first)
        reader.index_all()
        assert all_made.wait(30)
    assert order == ["3", "4", "7", "6", "0", "1", "2", "5", "8"]


def test_while_a_player_needs_the_processor_only_what_plays_is_indexed(own_clip, tmp_path, monkeypatch):
    for number in range(5):
        path = own_clip("closed_gop.mp4", f"a/{number}.mp4")
        path.write_bytes(path.read_bytes() + (16).to_bytes(4) + b"free" + number.to_bytes(8))
    film, made = open_film([tmp_path / "a"]), threading.Semaphore(0)
    add = FilmIndexes.add
    monkeypatch.setattr(FilmIndexes, "add", lambda *given: (add(*given), made.release()))
    monkeypatch.setattr("workstation.film.prefetch.Prefetch.next_batch", lambda self: None)
    with FrameReader(film) as reader:
        reader.frame_at(film.sources[1].first)
        reader.rest()
        reader.index_all()
        assert made.acquire(timeout=30) and made.acquire(timeout=30)      # the second was made for the frame
        assert not made.acquire(timeout=0.5)
        assert [reader.index(source.id) is not None for source in film.sources] == [False, True, True, False, False]
        reader.rest(False)
        assert all(made.acquire(timeout=30) for _ in range(3))
