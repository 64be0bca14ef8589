"""What an MP4 file shows is limited in place, in either width of its fields (ISO/IEC 14496-12)."""

from __future__ import annotations

import struct
from fractions import Fraction

import pytest

from workstation.delivery.edit_box import limit_shown

WIDE = ">Q", 8
NARROW = ">I", 4


def box(kind: bytes, body: bytes, large: bool = False) -> bytes:
    """A box, with its size in 32 bits or in the 64 of a large one (4.2)."""
    if large:
        return struct.pack(">I4sQ", 1, kind, len(body) + 16) + body
    return struct.pack(">I4s", len(body) + 8, kind) + body


def full(kind: bytes, version: int, body: bytes) -> bytes:
    return box(kind, bytes((version, 0, 0, 0)) + body)


def movie(version: int, edits: bytes, large: bool = False) -> bytes:
    """A file with one track, counting a thousand to the second, which shows nine seconds."""
    form, width = (WIDE, NARROW)[not version]
    mvhd = full(b"mvhd", version, bytes(2 * width) + struct.pack(">I", 1000) + struct.pack(form, 9000) + bytes(80))
    tkhd = full(b"tkhd", version, bytes(2 * width + 8) + struct.pack(form, 9000) + bytes(60))
    track = box(b"trak", tkhd + box(b"edts", edits))
    return box(b"ftyp", b"isom") + box(b"mdat", b"pictures", large) + box(b"moov", mvhd + track)


def edit_list(version: int, *entries: tuple[int, int]) -> bytes:
    form = ">Qq" if version else ">Ii"
    return full(b"elst", version, struct.pack(">I", len(entries)) + b"".join(
        struct.pack(form, *entry) + struct.pack(">HH", 1, 0) for entry in entries))


@pytest.mark.parametrize("version", [0, 1])
@pytest.mark.parametrize("large", [False, True])
def test_durations_are_rewritten_and_nothing_else(tmp_path, version, large):
    path = tmp_path / "it.mp4"
    path.write_bytes(movie(version, edit_list(version, (9000, 512)), large))
    limit_shown(path, {0: Fraction(5, 2)})
    form = (WIDE, NARROW)[not version][0]
    assert path.read_bytes() == movie(version, edit_list(version, (2500, 512)), large).replace(
        struct.pack(form, 9000), struct.pack(form, 2500))


@pytest.mark.parametrize("version", [0, 1])
def test_an_empty_edit_before_it_counts_into_what_is_shown(tmp_path, version):
    path = tmp_path / "it.mp4"
    path.write_bytes(movie(version, edit_list(version, (700, -1), (9000, 512))))
    limit_shown(path, {0: Fraction(5, 2)})
    assert edit_list(version, (700, -1), (1800, 512)) in path.read_bytes()
    limit_shown(path, {0: Fraction(1, 2)})      # shorter than the delay: nothing is left to show, not less than nothing
    assert edit_list(version, (700, -1), (0, 512)) in path.read_bytes()


@pytest.mark.parametrize(("made", "words"), [
    (b"", "no movie header"),
    (box(b"moov", b""), "no movie header"),
    (movie(0, b""), "no edit list in track 1"),
    (movie(0, edit_list(0, (1, 0)))[:-60], "runs past its container"),
    (box(b"ftyp", b"isom") + struct.pack(">I4s", 4, b"moov"), "runs past its container"),
])
def test_a_file_that_has_no_such_place_is_refused(tmp_path, made, words):
    path = tmp_path / "it.mp4"
    path.write_bytes(made)
    with pytest.raises(ValueError, match=words):
        limit_shown(path, {0: Fraction(1)})
    assert path.read_bytes() == made


def test_a_track_that_is_not_there_is_named(tmp_path):
    path = tmp_path / "it.mp4"
    path.write_bytes(movie(0, edit_list(0, (9000, 0))))
    with pytest.raises(ValueError, match="track 2"):
        limit_shown(path, {1: Fraction(1)})


def test_the_last_box_may_run_to_the_end_of_the_file(tmp_path):
    path, whole = tmp_path / "it.mp4", movie(0, edit_list(0, (9000, 512)))
    at = whole.index(b"moov") - 4
    path.write_bytes(whole[:at] + struct.pack(">I", 0) + whole[at + 4:])
    limit_shown(path, {0: Fraction(1)})
    assert edit_list(0, (1000, 512)) in path.read_bytes()
