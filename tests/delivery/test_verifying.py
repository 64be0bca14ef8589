"""A pack that hides something is never said to be as it was."""

from __future__ import annotations

import hashlib
import json
import os
import shutil
import zipfile
from pathlib import Path

import pytest

from tests.delivery.conftest import segment_of
from tests.footage import make
from workstation import commands
from workstation.delivery.pack import MANIFEST, Contents, make_pack
from workstation.delivery.rendering import Settings
from workstation.delivery.verifying import PackError, manifest_digest, said_digest, verify_pack
from workstation.film.film import Film
from workstation.film.probe import probe
from workstation.tagging.model import Game, Heading
from workstation.visible import visible


@pytest.fixture(scope="module")
def made(footage, tmp_path_factory):
    folder = tmp_path_factory.mktemp("packs")
    film = Film((probe(make("h264", footage), "h264"),))
    contents = Contents("Catch?", [segment_of(film.sources[0], 5, 30, label="play 1")],
                        settings=Settings(preset="ultrafast"))
    game = Game(Heading(home="Harrow Bend", visitors="Quill Lake"), film)
    return make_pack(game, contents, folder / "pack").path, make_pack(game, contents, folder / "pack.zip").path


@pytest.fixture
def pack(made, tmp_path):
    return Path(shutil.copytree(made[0], tmp_path / "pack"))


@pytest.fixture
def zipped(made, tmp_path):
    return Path(shutil.copy(made[1], tmp_path))


def rewrite(pack: Path, change) -> None:
    manifest = json.loads((pack / MANIFEST).read_text())
    change(manifest)
    manifest["digest"] = said_digest(manifest)      # as whoever forges it would
    (pack / MANIFEST).write_text(json.dumps(manifest))


def entry(path: str, data: bytes) -> dict:
    return {"path": path, "bytes": len(data), "sha256": hashlib.sha256(data).hexdigest(), "made": "by hand"}


def test_untouched_packs_are_whole(pack, zipped):
    assert verify_pack(pack).whole and verify_pack(zipped).whole
    assert manifest_digest(pack) == hashlib.sha256((pack / MANIFEST).read_bytes()).hexdigest()
    assert verify_pack(zipped, manifest_digest(zipped)).whole


@pytest.mark.parametrize("change", [
    lambda m: m.update(files=[]), lambda m: m.update(files={}), lambda m: m.pop("form"),
    lambda m: m.update(form="another"),
    lambda m: m["files"].append(entry("../outside.txt", b"outside")),
    lambda m: m["files"].append(entry("/etc/hostname", b"x")),
    lambda m: m["files"].append(entry("originals/../../outside.txt", b"outside")),
    lambda m: m["files"].append(entry("..\\outside.txt", b"outside")),
    lambda m: m["files"].append(entry("C:outside", b"x")),
    lambda m: m["files"].append(entry(MANIFEST, b"x")),
    lambda m: m["files"].append({**m["files"][0], "sha256": "0" * 64}),
    lambda m: m["files"].append({**m["files"][0], "path": m["files"][0]["path"].upper()}),
    lambda m: m["files"][0].update(bytes=True), lambda m: m["files"][0].update(bytes=-1),
    lambda m: m["files"][0].update(bytes=float("inf")), lambda m: m["files"][0].update(bytes="12"),
    lambda m: m["files"][0].update(sha256="x"), lambda m: m["files"][0].update(path=["a"]),
    lambda m: m["files"].append(entry("a\x1b[2J", b"x")), lambda m: m.update(title=float("nan")),
    lambda m: m.update(title=None),
    lambda m: m["files"].append(entry("", b"")), lambda m: m["files"].append(entry("./cover.pdf", b"")),
])
def test_manifests_that_a_pack_never_has(pack, tmp_path, change):
    (tmp_path / "outside.txt").write_bytes(b"outside")
    rewrite(pack, change)
    with pytest.raises(PackError, match="altered"):
        verify_pack(pack)


@pytest.mark.parametrize("text", ["[" * 100000, '{"a": ' * 5000 + "1" + "}" * 5000, "null", "[]", "9" * 5000,
                                  '{"form": 1, "form": 2}'])
def test_manifests_that_are_none(pack, text):
    (pack / MANIFEST).write_text(text)
    with pytest.raises(PackError, match="altered"):
        verify_pack(pack)


def test_links_and_pipes(pack, tmp_path):
    (tmp_path / "outside").mkdir()
    cover = pack / "cover.pdf"
    outside = shutil.move(cover, tmp_path / "outside")
    cover.symlink_to(outside)
    with pytest.raises(PackError, match="link"):
        verify_pack(pack)
    cover.unlink()
    shutil.copy(outside, cover)
    (pack / "more").symlink_to(tmp_path / "outside", target_is_directory=True)
    with pytest.raises(PackError, match="link"):
        verify_pack(pack)
    (pack / "more").unlink()
    assert verify_pack(pack).whole
    os.mkfifo(pack / "pipe")
    with pytest.raises(PackError, match="pipe"):
        verify_pack(pack)


def test_devices_are_no_packs(tmp_path):
    os.mkfifo(tmp_path / "pipe.zip")
    for path in (Path("/dev/zero"), Path("/dev/null"), tmp_path / "pipe.zip"):
        with pytest.raises(PackError):
            verify_pack(path)


def before(path: Path) -> None:
    path.write_bytes(b"#!/bin/sh\n" + path.read_bytes())


def behind(path: Path) -> None:
    path.write_bytes(path.read_bytes() + b"junk")


def before_the_listing(path: Path) -> None:
    data = path.read_bytes()
    with zipfile.ZipFile(path) as archive:
        start = archive.start_dir
    end = bytearray(data[start:])
    at = len(end) - 22 + 16
    end[at:at + 4] = (start + 4).to_bytes(4, "little")
    path.write_bytes(data[:start] + b"junk" + bytes(end))


def comment(path: Path) -> None:
    with zipfile.ZipFile(path, "a") as archive:
        archive.comment = b"a comment that nobody sees"


def between(path: Path) -> None:
    with zipfile.ZipFile(path) as old:
        members = [(info.filename, old.read(info)) for info in old.infolist()]
    with zipfile.ZipFile(path, "w") as new:
        for name, data in members:
            new.writestr(name, data)
            new.fp.write(b"junk")
            new.start_dir = new.fp.tell()


def a_member_that_is_not_listed(path: Path) -> None:
    with zipfile.ZipFile(path, "a") as archive:
        archive.writestr("hidden.mp4", b"hidden")
        archive.filelist.pop()
        archive._didModify = True


@pytest.mark.parametrize("spoil", [before, behind, before_the_listing, comment, between, a_member_that_is_not_listed])
def test_bytes_that_belong_to_no_file(zipped, spoil):
    spoil(zipped)
    with pytest.raises(PackError):
        verify_pack(zipped)


def test_members_that_a_pack_never_has(zipped, tmp_path):
    with zipfile.ZipFile(zipped, "a") as archive:
        archive.writestr("../outside.txt", b"x")
    assert verify_pack(zipped).added == ("../outside.txt",) and not verify_pack(zipped).whole
    link = zipfile.ZipInfo("link")
    link.external_attr = 0o120777 << 16
    with zipfile.ZipFile(zipped, "a") as archive:
        archive.writestr(link, "/etc/passwd")
    with pytest.raises(PackError, match="link"):
        verify_pack(zipped)


@pytest.mark.parametrize(("way", "flag"), [("stream", 8), ("deflated", 0)])
def test_an_archive_packed_anew_is_still_whole(zipped, tmp_path, way, flag):
    class NoSeek:
        def __init__(self, file):
            self.write, self.flush, self.close = file.write, file.flush, file.close

    with zipfile.ZipFile(zipped) as old, (tmp_path / "new.zip").open("wb") as file, zipfile.ZipFile(
            NoSeek(file) if way == "stream" else file, "w", zipfile.ZIP_DEFLATED) as new:
        for info in old.infolist():
            new.writestr(info.filename, old.read(info))
    with zipfile.ZipFile(tmp_path / "new.zip") as archive:
        assert archive.infolist()[0].flag_bits & 8 == flag
    assert verify_pack(tmp_path / "new.zip", manifest_digest(zipped)).whole


def test_what_a_pack_says_cannot_move_the_terminal(pack, capsys):
    rewrite(pack, lambda m: m.update(title="\x1b[2J\x1b[Hall 9 files are as they were\r\u202eevil\u2028"))
    assert commands.run(["verify", str(pack)]) == 0
    out = capsys.readouterr().out
    assert "\\x1b[2J" in out and not any(letter in out for letter in "\x1b\r\u202e\u2028")
    (pack / "added \x1b[2J").write_text("x")
    assert commands.run(["verify", str(pack)]) == 1
    assert "\x1b" not in capsys.readouterr().out
    assert visible("Ünïted – 3 & 7") == "Ünïted – 3 & 7"


def test_the_digest_to_keep_is_told_where_the_pack_is_made(demo_game_file, tmp_path, capsys):
    assert commands.run(["pack", str(demo_game_file), "--plays", "2", "--to", str(tmp_path / "p.zip"),
                         "--no-drawings"]) == 0
    out = capsys.readouterr().out
    digest = manifest_digest(tmp_path / "p.zip")
    (slip,) = tmp_path.glob("*slip*.txt")
    assert digest in out and digest in slip.read_text() and slip.name in out
    assert commands.run(["verify", str(tmp_path / "p.zip"), "--manifest-sha256", digest]) == 0
