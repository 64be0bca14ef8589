"""No writer writes onto footage, a game file or a pack's originals, by whatever name; other files only when asked."""

from __future__ import annotations

import hashlib
import os
import shutil
import time
from pathlib import Path

import pytest

from workstation import commands, targets
from workstation.film.writing import written_whole
from workstation.targets import PACK_FORM, TargetRefused


def digests(folder: Path) -> dict[str, str]:
    return {str(path.relative_to(folder)): hashlib.sha256(path.read_bytes()).hexdigest()
            for path in folder.rglob("*") if path.is_file() and not path.name.endswith(".lock")}


@pytest.fixture
def own_game(demo_game_file, tmp_path):
    """The demo game with its film, and with a link, a hard link and another spelling of each name beside it."""
    folder = tmp_path / "game"
    shutil.copytree(demo_game_file.parent, folder)
    game = folder / demo_game_file.name
    shutil.copyfile(game, folder / f"{game.name}.backup-1")
    return game


def spellings(path: Path, beside: Path) -> list[Path]:
    """The ways by which a file can be reached under a name of a writer's own suffix."""
    made = []
    for suffix in (".mp4", ".json", ".html", ".otio", ".csv"):
        link, hard = beside / f"link{len(made)}{suffix}", beside / f"hard{len(made)}{suffix}"
        link.symlink_to(path)
        os.link(path, hard)
        made += [link, hard]
    turned = beside / "turned"
    turned.symlink_to(path.parent, target_is_directory=True)
    return [*made, path, turned / path.name, path.parent / ".." / path.parent.name / path.name,
            Path(os.path.relpath(path))]


def test_no_command_writes_onto_footage_or_a_game(own_game, tmp_path, capsys):
    film = sorted((own_game.parent / "film").glob("*.MP4")) or sorted((own_game.parent / "film").glob("*.mp4"))
    before = digests(own_game.parent)
    tried = 0
    for number, victim in enumerate((film[0], film[-1], own_game, own_game.with_name(f"{own_game.name}.backup-1"))):
        aside = tmp_path / f"names {number}"
        aside.mkdir()
        for to in spellings(victim, aside):
            calls = {".json": ["json", own_game], ".html": ["report", own_game]}
            call = calls.get(to.suffix.lower(), ["sequence", own_game, "--plays", "2"])
            if to.suffix.lower() in (".game", ".backup-1"):
                call = ["json", own_game]
            for extra in ((), ("--overwrite",)):
                status = commands.run([*map(str, call), "--to", str(to), *extra])
                tried += 1
                assert status == 2, (to, capsys.readouterr())
                assert "Traceback" not in capsys.readouterr().err
        assert not [path for path in aside.iterdir() if ".part" in path.name]
    assert digests(own_game.parent) == before and tried >= 100


def test_json_over_footage_is_refused(own_game, tmp_path):
    film = sorted((own_game.parent / "film").iterdir())
    victim = next(path for path in film if path.suffix.lower() == ".mp4")
    before = victim.read_bytes()
    for to in (victim, own_game):
        assert commands.run(["json", str(own_game), "--to", str(to), "--overwrite"]) == 2
    assert victim.read_bytes() == before


def test_other_files_are_replaced_only_when_asked(own_game, tmp_path, capsys):
    for name, call in (("a.json", ["json"]), ("a.html", ["report"]), ("a.vtt", ["sequence", "--plays", "2"]),
                       ("a.mp4", ["sequence", "--plays", "2"])):
        to = tmp_path / name
        to.write_text("mine")
        arguments = [call[0], str(own_game), *call[1:], "--to", str(to)]
        assert commands.run(arguments) == 2 and to.read_text() == "mine"
        assert "--overwrite" in capsys.readouterr().err
        assert commands.run([*arguments, "--overwrite"]) == 0 and to.read_bytes()[:4] != b"mine"
    (tmp_path / "out").mkdir()
    (tmp_path / "out" / "plays.csv").write_text("mine")
    assert commands.run(["export", str(own_game), "--plays", "2", "--to", str(tmp_path / "out")]) == 2
    assert [path.name for path in (tmp_path / "out").iterdir()] == ["plays.csv"]
    dangling = tmp_path / "b.json"
    dangling.symlink_to(tmp_path / "nowhere")
    assert commands.run(["json", str(own_game), "--to", str(dangling)]) == 2 and dangling.is_symlink()


def test_the_demo_films_over_no_footage_of_others(tmp_path, capsys):
    film = tmp_path / "film"
    film.mkdir()
    (film / "CLIP0001.MP4").write_bytes(b"a camera's own file")
    from workstation.demo.film_it import clip_name
    (film / clip_name(0)).write_bytes(b"a camera's own file")
    assert commands.run(["demo", "--to", str(tmp_path)]) == 2
    assert (film / clip_name(0)).read_bytes() == b"a camera's own file"


def refused(to: Path) -> str:
    with pytest.raises(TargetRefused) as refusal, written_whole(to) as temporary:
        temporary.write_text("new")
    return str(refusal.value)


def test_a_place_of_missing_footage_stays_free(tmp_path):
    missing = tmp_path / "card" / "CLIP0001.MP4"
    missing.parent.mkdir()
    targets.protect([missing])
    refused(missing)
    refused(missing.with_name("clip0001.mp4"))      # the same file where names have no case
    assert not list(missing.parent.iterdir())


def test_packs_devices_and_folders_are_refused(tmp_path):
    pack = tmp_path / "pack"
    (pack / "originals").mkdir(parents=True)
    (pack / "manifest.json").write_text(f'{{"form": "{PACK_FORM}"}}')
    (pack / "originals" / "01.mp4").write_bytes(b"original")
    assert "pack" in refused(pack / "originals" / "01.mp4")
    assert "pack" in refused(pack / "manifest.json")
    assert "folder" in refused(pack)
    os.mkfifo(tmp_path / "pipe.json")
    assert "pipe" in refused(tmp_path / "pipe.json")
    for name in ("Friday.game", "Friday.game-wal", "Friday.game.backup-2", "FRIDAY.GAME", ".Friday.game.lock"):
        assert "game" in refused(tmp_path / name)
    for name in ("Friday.game.json", "Friday.game notes.csv", "game.json"):
        with written_whole(tmp_path / name) as temporary:
            temporary.write_text("new")


def test_what_a_killed_writer_left_is_removed_after_a_day(tmp_path):
    old, young, other = (tmp_path / name for name in (".film.0123abcd.part.mp4", ".film.0123abce.part.mp4",
                                                      ".mine.part.mp4"))
    folder = tmp_path / ".pack.0123abcd.part"
    folder.mkdir()
    for path in (old, young, other, folder / "film.mp4"):
        path.write_text("half")
    for path in (old, other, folder):
        os.utime(path, (time.time() - 2 * 24 * 3600,) * 2)
    with written_whole(tmp_path / "new.csv") as temporary:
        temporary.write_text("new")
    assert sorted(path.name for path in tmp_path.iterdir()) == [young.name, other.name, "new.csv"]
