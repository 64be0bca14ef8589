from __future__ import annotations

import hashlib
import json
import zipfile
from dataclasses import replace

import numpy as np
import pytest
from PIL import Image

from tests.delivery.conftest import segment_of
from tests.footage import run
from workstation.cancelling import Cancelled
from workstation.delivery.pack import MANIFEST, Contents, make_pack
from workstation.delivery.rendering import Settings
from workstation.delivery.segment import NOTICES
from workstation.delivery.still import still
from workstation.delivery.verifying import PackError, manifest_digest, verify_pack
from workstation.film.film import Film
from workstation.film.index import index_of
from workstation.film.probe import probe
from workstation.film.time import Instant
from workstation.tagging.model import Game, Heading, ShotKind


@pytest.fixture
def game(film):
    return Game(Heading(home="Harrow Bend", visitors="Quill Lake", date="2026-10-02"), film)


@pytest.fixture
def contents(film):
    catch = Instant(film.sources[0].id, int(index_of(film.sources[0]).pts[12]) + 1)
    return Contents("Catch or no catch?", [
        segment_of(film.sources[0], 5, 30, label="play 1"),
        replace(segment_of(film.sources[1], 5, 30, label="play 2"), notice=NOTICES[ShotKind.ALTERCATION])],
        stills=[(catch, "the ball touches the ground")], statement="We ask for a second look.",
        settings=Settings(preset="ultrafast", captions=True))


@pytest.fixture(params=["pack", "pack.zip"])
def pack(request, game, contents, tmp_path):
    return make_pack(game, contents, tmp_path / request.param).path


def test_pack_verifies_and_holds_what_it_promises(pack, film):
    verified = verify_pack(pack)
    assert verified.whole and verified.title == "Catch or no catch?"
    names = set(verified.intact)
    assert {"cover.pdf", "PLEASE READ FIRST.txt", "stills/01 h264 frame 13.png"} <= names
    assert sum(name.startswith("originals/") for name in names) == 2
    assert [path for path in pack.parent.iterdir()] == [pack]        # nothing half-written beside it


def test_manifest_tells_the_digest_of_every_source(game, contents, film, tmp_path):
    pack = make_pack(game, contents, tmp_path / "pack").path
    manifest = json.loads((pack / MANIFEST).read_text())
    told = {entry["name"]: entry["sha256"] for entry in manifest["sources"]}
    assert told == {source.path.name: hashlib.sha256(source.path.read_bytes()).hexdigest()
                    for source in film.sources[:2]}
    assert all(entry["made"] for entry in manifest["files"])


def test_every_kind_of_tampering_is_named(game, contents, tmp_path):
    pack = make_pack(game, contents, tmp_path / "pack").path
    still_file = next((pack / "stills").iterdir())
    data = bytearray(still_file.read_bytes())
    data[-20] ^= 1
    still_file.write_bytes(data)
    original = next((pack / "originals").iterdir())
    original.unlink()
    (pack / "originals" / "another.mp4").write_bytes(b"x")
    verified = verify_pack(pack)
    assert not verified.whole
    assert verified.altered == (f"stills/{still_file.name}",)
    assert verified.missing == (f"originals/{original.name}",)
    assert verified.added == ("originals/another.mp4",)


def test_altered_zip_is_named(game, contents, tmp_path):
    pack = make_pack(game, contents, tmp_path / "pack.zip").path
    changed = tmp_path / "changed.zip"
    with zipfile.ZipFile(pack) as old, zipfile.ZipFile(changed, "w") as new:
        for info in old.infolist():
            data = old.read(info)
            new.writestr(info.filename, data + b" " if info.filename == "cover.pdf" else data)
    assert verify_pack(changed).altered == ("cover.pdf",)


def test_a_rewritten_manifest_is_caught_by_a_digest_kept_apart(game, contents, tmp_path):
    pack = make_pack(game, contents, tmp_path / "pack").path
    kept = hashlib.sha256((pack / MANIFEST).read_bytes()).hexdigest()
    assert verify_pack(pack, kept).whole
    (pack / MANIFEST).write_text((pack / MANIFEST).read_text().replace("second look", "third look"))
    assert verify_pack(pack, kept).altered == (MANIFEST,)


def test_an_edited_caption_shows_without_any_digest_kept_apart(game, contents, tmp_path):
    pack = make_pack(game, contents, tmp_path / "pack").path
    written = (pack / MANIFEST).read_text()
    assert "2nd & 7 at own 36" in written
    (pack / MANIFEST).write_text(written.replace("2nd & 7 at own 36", "1st & 10 at opp 4"))
    assert verify_pack(pack).altered == (MANIFEST,)


def test_a_manifest_made_anew_is_caught_by_the_digest_kept_apart_only(game, contents, tmp_path):
    pack = make_pack(game, contents, tmp_path / "pack").path
    kept = manifest_digest(pack)
    forged = json.loads((pack / MANIFEST).read_text())
    forged["statement"] = "another"
    del forged["digest"]
    (pack / MANIFEST).write_text(json.dumps(forged))
    assert verify_pack(pack).whole and verify_pack(pack, kept).altered == (MANIFEST,)


@pytest.mark.parametrize("spoil", [
    lambda pack: (pack / MANIFEST).unlink(),
    lambda pack: (pack / MANIFEST).write_text("{"),
    lambda pack: (pack / MANIFEST).write_text('{"files": [{}]}')])
def test_no_manifest_no_verdict(game, contents, tmp_path, spoil):
    pack = make_pack(game, contents, tmp_path / "pack").path
    spoil(pack)
    with pytest.raises(PackError, match="pack"):
        verify_pack(pack)


def test_what_is_not_a_pack(tmp_path):
    (tmp_path / "x.zip").write_bytes(b"not a zip")
    for path in (tmp_path / "x.zip", tmp_path / "nowhere"):
        with pytest.raises(PackError):
            verify_pack(path)


def test_a_pack_is_never_written_over(game, contents, tmp_path):
    (tmp_path / "pack").mkdir()
    with pytest.raises(PackError, match="never written over"):
        make_pack(game, contents, tmp_path / "pack")


def test_cancel_leaves_nothing(game, contents, tmp_path):
    with pytest.raises(Cancelled):
        make_pack(game, contents, tmp_path / "pack", cancelled=lambda: True)
    assert not list(tmp_path.iterdir())


def test_stills_are_the_exact_picture_and_say_where_from(game, contents, film, tmp_path):
    pack = make_pack(game, contents, tmp_path / "pack").path
    with Image.open(pack / "stills" / "01 h264 frame 13.png") as image:
        assert image.text["Frame"] == "13" and image.text["Source"] == "h264.mp4"
        pixels = np.asarray(image)
    raw = tmp_path / "13.rgb"
    run("ffmpeg", "-loglevel", "error", "-i", str(film.sources[0].path), "-vf", "select=eq(n\\,12),"
        "zscale=min=170m:rin=limited:pin=170m:tin=709:m=gbr:r=full:p=170m:t=709,format=gbrp,format=rgb24", "-frames:v",
        "1", "-f", "rawvideo", str(raw))
    theirs = np.frombuffer(raw.read_bytes(), np.uint8).reshape(pixels.shape)
    # zimg's conversion, another library than the one under test
    assert np.abs(pixels.astype(int) - theirs).max() <= 2


def test_stills_of_anamorphic_footage_have_square_pixels(footage):
    from tests.footage import make
    from workstation.film.film import Film
    from workstation.film.probe import probe

    source = probe(make("anamorphic", footage), "a")
    assert still(Film((source,)), source.first).image.shape[:2] == source.display_size[::-1]


def test_cover_page_reads_as_written(game, contents, tmp_path):
    pack = make_pack(game, contents, tmp_path / "pack").path
    text = run("pdftotext", "-layout", str(pack / "cover.pdf"), "-")
    for words in ("Catch or no catch?", "Quill Lake at Harrow Bend", "We ask for a second look.", "h264.mp4",
                  "the ball touches the ground", "altercation"):
        assert words in text


def test_a_pack_needs_something_in_it(game, tmp_path):
    with pytest.raises(PackError, match="empty"):
        make_pack(game, Contents("nothing", ()), tmp_path / "pack")
    assert not list(tmp_path.iterdir())


def test_an_original_that_cannot_be_copied_is_told_as_missing_and_the_pack_is_whole(game, tmp_path):
    path = tmp_path / "lossless.mkv"
    run("ffmpeg", "-y", "-loglevel", "error", "-f", "lavfi", "-i", "testsrc2=size=96x64:rate=25:duration=1", "-c:v",
        "ffv1", str(path))
    source = probe(path, "lossless")
    told = []
    packed = make_pack(replace(game, film=Film((source,))), Contents(
        "a play ✓", [segment_of(source, 2, 10)], settings=Settings(preset="ultrafast")), tmp_path / "pack",
        progress=lambda share, doing: told.append((share, doing)))
    pack = packed.path
    manifest = json.loads((pack / MANIFEST).read_text())
    (missing,) = manifest["not_made"]
    assert missing["path"].startswith("originals/") and "ffv1 pictures have no place" in missing["why"]
    assert verify_pack(pack).whole and not list((pack / "originals").iterdir())
    (said,) = packed.missing
    assert missing["path"] in said and missing["why"] in said
    cover = run("pdftotext", "-layout", str(pack / "cover.pdf"), "-")
    assert "Not in this pack: 1 of the originals" in cover and missing["path"] in cover and "a play ✓" in cover
    assert [share for share, _ in told] == sorted(share for share, _ in told) and told[-1][1].endswith("lossless.mkv")


def test_a_swollen_or_doubled_file_is_named(game, contents, tmp_path):
    pack = make_pack(game, contents, tmp_path / "pack").path
    with (pack / "cover.pdf").open("ab") as file:
        file.write(b" " * 4_000_000)
    assert verify_pack(pack).altered == ("cover.pdf",)
    zipped = make_pack(game, contents, tmp_path / "pack.zip").path
    with pytest.warns(UserWarning, match="Duplicate"), zipfile.ZipFile(zipped, "a") as archive:
        archive.writestr("cover.pdf", b"another")
    with pytest.raises(PackError, match="two files of one name"):
        verify_pack(zipped)


def test_a_cover_page_says_only_what_is_known(game, contents, tmp_path):
    bare = replace(contents, stills=(), statement="", segments=contents.segments[:1])
    crewed = replace(game, heading=replace(game.heading, crew="North tower"))
    text = run("pdftotext", "-layout", str(make_pack(crewed, bare, tmp_path / "pack").path / "cover.pdf"), "-")
    assert "Filmed by North tower" in text
    assert "Why this is handed on" not in text and "Stills" not in text
