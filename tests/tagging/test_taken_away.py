"""A game file that other programs delete, replace, rename, cut or write over while it is open: nothing is lost."""

from __future__ import annotations

import os
import shutil
import stat
import subprocess
from pathlib import Path

import pytest

from tests.tagging.builders import at, full_game
from workstation.tagging.backups import listed
from workstation.tagging.gamefile import CannotSave, GameFile
from workstation.tagging.model import Note
from workstation.tagging.operations import AddRecord

ACTIONS = 12


@pytest.fixture
def path(tmp_path):
    path = tmp_path / "Friday.game"
    with GameFile.create(path, game=full_game(tmp_path)) as file:
        for number in range(60):        # more than one page, and a backup
            file.do(AddRecord(Note(0, at(number % 500), f"before {number} " + "x" * 200)))
    shutil.copyfile(path, tmp_path / "old copy")
    with GameFile.open(path) as file:
        file.do(AddRecord(Note(0, at(500), "on another day")))
    return path


def delete(path: Path) -> None:
    path.unlink()


def delete_all(path: Path) -> None:
    for suffix in ("", "-wal", "-shm"):
        path.with_name(path.name + suffix).unlink(missing_ok=True)


def rename(path: Path) -> None:
    path.rename(path.with_name("Friday (conflict).game"))


def replace(path: Path) -> None:
    shutil.copyfile(path.with_name("old copy"), path.with_name("new"))
    os.replace(path.with_name("new"), path)


def replace_all(path: Path) -> None:
    delete_all(path)
    replace(path)


def replace_by_text(path: Path) -> None:
    path.with_name("new").write_text("a note of a synchronising folder")
    os.replace(path.with_name("new"), path)


def overwrite(path: Path) -> None:
    shutil.copyfile(path.with_name("old copy"), path)       # into the same file


def truncate(path: Path) -> None:
    os.truncate(path, path.stat().st_size // 2)


def empty(path: Path) -> None:
    os.truncate(path, 0)


def take_the_log(path: Path) -> None:
    path.with_name(path.name + "-wal").unlink()


WAYS = (delete, delete_all, rename, replace, replace_all, replace_by_text, overwrite, truncate, empty, take_the_log)


def notes(path: Path) -> list[str]:
    with GameFile.open(path, read_only=True) as file:
        return [note.text for note in file.game.notes]


def saved_somewhere(folder: Path, wanted: set[str]) -> Path | None:
    """The newest game in the folder that holds all of *wanted* and opens."""
    for path in sorted(folder.glob("*.game"), key=lambda path: path.stat().st_mtime, reverse=True):
        try:
            if wanted <= set(notes(path)):
                return path
        except Exception:
            continue
    return None


@pytest.mark.parametrize("way", WAYS, ids=lambda way: way.__name__)
@pytest.mark.parametrize("when", [0, 3, ACTIONS], ids=["at once", "in between", "before closing"])
def test_what_is_called_saved_is_found_again(path, way, when):
    said, told = [], []
    file = GameFile.open(path)
    for number in range(ACTIONS):
        if number == when:
            way(path)
        file.do(AddRecord(Note(0, at(number), f"after {number}")))
        said.append(f"after {number}")
        told.append(file.moved)
    if when == ACTIONS:
        way(path)
    undone = file.undo() is not None
    if undone:
        said.pop()
    file.close()
    found = saved_somewhere(path.parent, set(said))
    if way is overwrite and file.moved is None:     # the log held all that the older copy lacks: it is one game again
        assert found == path
        with GameFile.open(path) as again:
            while again.undo():
                pass
            assert len(again.game.notes) == len(full_game(path.parent).notes)
        return
    assert file.moved and str(file.path) in file.moved and str(path) in file.moved
    assert not any(told[:when]) and all(told[when:])
    assert found == file.path and ".rescued-" in found.name
    assert len(notes(found)) == len(set(notes(found)))
    with GameFile.open(found) as again:     # it goes on like any game
        assert not again.read_only
        again.do(AddRecord(Note(0, at(1), "later")))
    if way in (replace, replace_all, overwrite):    # what the other program put there is left as it put it
        assert path.read_bytes() == path.with_name("old copy").read_bytes()
        assert not path.with_name("Friday.game-wal").exists()
        notes(path)


def test_touching_the_file_is_no_loss(path):
    with GameFile.open(path) as file:
        file.do(AddRecord(Note(0, at(1), "one")))
        os.utime(path, (1, 1))
        file.do(AddRecord(Note(0, at(2), "two")))
        assert file.moved is None
    assert {"one", "two"} <= set(notes(path))


def test_without_room_for_a_rescue_the_action_is_refused_and_the_game_kept(path, monkeypatch, tmp_path):
    file = GameFile.open(path)
    moved = tmp_path.with_name(f"{tmp_path.name} moved")
    tmp_path.rename(moved)
    monkeypatch.setattr(Path, "home", lambda: tmp_path / "nowhere")
    with pytest.raises(CannotSave, match="no rescue file"):
        file.do(AddRecord(Note(0, at(1), "one")))
    tmp_path.mkdir()
    file.do(AddRecord(Note(0, at(1), "one")))
    file.close()
    assert "one" in notes(file.path)
    moved.joinpath("x").touch()


def test_the_rescue_goes_home_where_the_folder_is_gone(path, monkeypatch, tmp_path):
    home = tmp_path.with_name(f"{tmp_path.name} home")
    home.mkdir()
    monkeypatch.setattr(Path, "home", lambda: home)
    file = GameFile.open(path)
    sources = [source.path for source in file.game.film.sources]
    moved = tmp_path.with_name(f"{tmp_path.name} moved")
    tmp_path.rename(moved)
    file.do(AddRecord(Note(0, at(1), "one")))
    file.close()
    moved.rename(tmp_path)
    assert file.path.parent == home
    with GameFile.open(file.path, read_only=True) as again:
        assert "one" in {note.text for note in again.game.notes}
        assert [source.path for source in again.game.film.sources] == sources


def test_backups_are_copied_from_what_is_open_with_its_mode(path):
    path.chmod(0o600)
    with GameFile.open(path) as file:
        for number in range(120):
            file.do(AddRecord(Note(0, at(number), f"new {number}")))
        file._backups._thread.join()
        path.rename(path.with_name("elsewhere.game"))
        shutil.copyfile(path.with_name("old copy"), path)
    for backup in path.parent.glob("*.backup-*"):
        assert stat.S_IMODE(backup.stat().st_mode) == 0o600
    newest = listed(file.path)[0]
    assert "new 119" in notes(newest.path)
    assert stat.S_IMODE(file.path.stat().st_mode) == 0o600


def test_a_network_folder_that_goes_away_and_comes_back(tmp_path, monkeypatch):
    share, again, home = tmp_path / "share", tmp_path / "again", tmp_path / "home"
    for folder in (share, again, home):
        folder.mkdir()
    if subprocess.run(["mount", "-t", "tmpfs", "tmpfs", str(share)], check=False, capture_output=True).returncode:
        pytest.skip("mounting needs root")
    monkeypatch.setattr(Path, "home", lambda: home)
    mounted = True
    try:
        path = share / "Friday.game"
        file = GameFile.create(path, game=full_game(share))
        sources = [source.path for source in file.game.film.sources]
        file.do(AddRecord(Note(0, at(1), "before")))
        subprocess.run(["mount", "--bind", str(share), str(again)], check=True)
        subprocess.run(["umount", "-l", str(share)], check=True)
        mounted = False
        assert not list(share.iterdir())
        file.do(AddRecord(Note(0, at(2), "while it was away")))
        assert file.path.parent == home and str(path) in file.moved
        subprocess.run(["mount", "--bind", str(again), str(share)], check=True)
        mounted = True
        file.do(AddRecord(Note(0, at(3), "when it was back")))
        file.close()
        assert {"before", "while it was away", "when it was back"} <= set(notes(file.path))
        assert "before" in notes(path)      # as the share had it
        with GameFile.open(file.path, read_only=True) as rescued:
            assert [source.path for source in rescued.game.film.sources] == sources
    finally:
        subprocess.run(["umount", "-l", str(again)], check=False, capture_output=True)
        if mounted:
            subprocess.run(["umount", "-l", str(share)], check=False)
