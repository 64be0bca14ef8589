"""Cards are found where the system mounts them, and copied whole, without a trace on the card."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from workstation.cancelling import Cancelled
from workstation.film import cards


def made(folder: Path, **files: int) -> Path:
    for name, size in files.items():
        path = folder / name.replace("__", "/").replace("_", ".")
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(os.urandom(size))
    return folder


@pytest.fixture
def card(tmp_path):
    """Laid out as DCF and AVCHD cameras do."""
    return made(tmp_path / "media" / "FRIDAY", DCIM__100ABCDE__CLIP0001_MP4=3000, DCIM__100ABCDE__CLIP0002_MP4=2000,
                PRIVATE__AVCHD__BDMV__STREAM__00000_MTS=1000, PRIVATE__AVCHD__BDMV__CLIPINF__00000_CPI=10,
                DCIM__100ABCDE__NOTES_TXT=10)


def everything(folder):
    return {path.relative_to(folder): (path.read_bytes(), path.stat().st_mtime_ns)
            for path in folder.rglob("*") if path.is_file()}


def test_a_card_is_what_holds_film(card, tmp_path):
    assert cards.looked_through(card) == cards.Card(card, 3, 6000)
    assert cards.looked_through(made(tmp_path / "music", song_mp3=10)) is None
    assert cards.looked_through(tmp_path / "not there") is None


def test_a_whole_disk_is_no_card(card, monkeypatch):
    monkeypatch.setattr(cards, "_ENTRIES", 5)
    assert cards.looked_through(card) is None


@pytest.mark.skipif(os.name == "nt", reason="mounts")
def test_only_what_is_mounted_counts_in_either_place(tmp_path, monkeypatch):
    mounted = {tmp_path / "media" / "user" / "CARD", tmp_path / "mnt" / "stick"}
    for folder in (*mounted, tmp_path / "media" / "user" / "plain folder"):
        folder.mkdir(parents=True)
    monkeypatch.setattr(cards, "_WHERE", (str(tmp_path / "media"), str(tmp_path / "mnt"), str(tmp_path / "none")))
    monkeypatch.setattr(Path, "is_mount", lambda self: self in mounted)
    assert set(cards.media()) == mounted


def test_a_copy_is_the_same_and_the_card_stays_as_it_was(card, tmp_path):
    (tmp_path / "to" / "FRIDAY").mkdir(parents=True)
    before, told = everything(card), []
    copied = cards.copy_card(cards.looked_through(card), tmp_path / "to", lambda done, of: told.append((done, of)))
    assert copied == tmp_path / "to" / "FRIDAY 2"       # never into what is there
    film = {path: what for path, what in before.items() if path.suffix in (".MP4", ".MTS")}
    assert everything(copied) == film and everything(card) == before
    assert told[-1] == (6000, 6000)


def test_a_stopped_copy_leaves_whole_files_only(card, tmp_path):
    (tmp_path / "to").mkdir()
    done = []
    with pytest.raises(Cancelled):
        cards.copy_card(cards.looked_through(card), tmp_path / "to", lambda now, of: done.append(now),
                        lambda: len(done) == 1)
    left = everything(tmp_path / "to")
    assert len(left) == 1 and [len(data) for data, _ in left.values()] == [3000]


def test_a_disk_without_room_is_told_before_anything_is_written(card, tmp_path):
    (tmp_path / "to").mkdir()
    with pytest.raises(OSError, match="has room for .* the card holds .* Make room"):
        cards.copy_card(cards.Card(card, 3, 1 << 60), tmp_path / "to", lambda done, of: None)
    assert list((tmp_path / "to").iterdir()) == []


@pytest.mark.parametrize(("size", "spoken"), [(12_340_000_000, "12.3 GB"), (480_000_000, "480 MB"), (10, "1 MB")])
def test_a_size_is_spoken(size, spoken):
    assert cards.spoken_size(size) == spoken
