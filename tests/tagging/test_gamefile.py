from __future__ import annotations

import json
import os
import platform
import shutil
import sqlite3
import subprocess
import sys
import threading
from contextlib import suppress
from dataclasses import replace
from pathlib import Path

import pytest

from tests.tagging.builders import at, full_game, source
from workstation.football.plays import Play, PlayKind
from workstation.tagging import rules, store
from workstation.tagging.gamefile import CannotSave, GameFile, InvalidOperation, ReadOnly
from workstation.tagging.model import Heading, Moment, MomentKind, Note
from workstation.tagging.operations import AddPlay, AddRecord, AddSources, RemoveRecord, SetHeading, several
from workstation.tagging.records import Kind

SNAP = AddRecord(Moment(0, MomentKind.SNAP, at(3)))


def test_a_new_game_holds_its_heading_and_nothing_to_undo(tmp_path):
    with GameFile.create(tmp_path / "a.game", Heading(title="Friday")) as file:
        assert file.game.heading.title == "Friday"
        assert (file.can_undo, file.can_redo, file.undo(), file.redo()) == (None, None, None, None)


def test_a_whole_game_goes_in_and_comes_out_the_same(tmp_path):
    with GameFile.create(tmp_path / "a.game", game=full_game(tmp_path)) as file:
        assert file.game == full_game(tmp_path)
    with GameFile.open(tmp_path / "a.game") as file:
        assert file.game == full_game(tmp_path)


@pytest.mark.parametrize("name", ["Fri #1? 50%.game", "Überfüllt 🏈.game", "no suffix", "'; DROP TABLE record;.game"])
def test_any_name_will_do(tmp_path, name):
    with GameFile.create(tmp_path / name, game=full_game(tmp_path)) as file:
        file.do(AddRecord(Note(0, at(1), "x")))
    with GameFile.open(tmp_path / name) as file:
        assert file.can_undo == "write a note"


def test_a_new_game_takes_nobodys_place(tmp_path):
    (tmp_path / "a.game").write_text("mine")
    with pytest.raises(FileExistsError, match=r"a\.game"):
        GameFile.create(tmp_path / "a.game")
    (tmp_path / "b.game-wal").write_text("what is left of another game")
    with pytest.raises(FileExistsError, match=r"b\.game-wal"):
        GameFile.create(tmp_path / "b.game")
    assert sorted(each.name for each in tmp_path.iterdir()) == ["a.game", "b.game-wal"]


def test_a_game_that_breaks_a_rule_leaves_no_file(tmp_path):
    game = full_game(tmp_path)
    broken = replace(game, moments=(*game.moments, Moment(9, MomentKind.SNAP, at(5, "s9"))))
    with pytest.raises(InvalidOperation, match="no source 's9'"):
        GameFile.create(tmp_path / "a.game", game=broken)
    assert list(tmp_path.iterdir()) == []


def test_a_folder_that_is_not_there_is_told(tmp_path):
    with pytest.raises(CannotSave, match="no folder"):
        GameFile.create(tmp_path / "nowhere" / "a.game")
    with pytest.raises(FileNotFoundError, match=r"b\.game: there is no such file"):
        GameFile.open(tmp_path / "b.game")


def test_a_change_says_what_it_touched(file):
    change = file.do(SNAP)
    assert change.description == "mark snap"
    assert change.kinds == {Kind.MOMENT}
    assert change.added(Kind.MOMENT) == change.ids(Kind.MOMENT) == (1,)
    assert change.removed(Kind.MOMENT) == ()
    back = file.undo()
    assert back.description == "mark snap"
    assert back.removed(Kind.MOMENT) == (1,)
    assert back.added(Kind.MOMENT) == ()


def test_what_did_not_change_is_the_same_object(file):
    before = file.game
    file.do(SNAP)
    assert file.game.shots is before.shots
    assert file.game.film is before.film
    assert before.moments == ()


def test_an_action_without_effect_leaves_no_trace(file):
    said = file.can_undo
    assert file.do(SetHeading(file.game.heading)).edits == ()
    assert file.can_undo == said


def test_undo_and_redo_speak_of_what_they_would_do(file):
    file.do(SNAP)
    file.do(AddPlay(Play(PlayKind.RUN), shot=1))
    assert (file.can_undo, file.can_redo) == ("tag play 1", None)
    file.undo()
    assert (file.can_undo, file.can_redo) == ("mark snap", "tag play 1")
    file.do(AddRecord(Note(0, at(1), "instead")))
    assert (file.can_undo, file.can_redo) == ("write a note", None)


def test_history_survives_a_restart(file):
    file.do(SNAP)
    file.do(AddRecord(Note(0, at(1), "text")))
    file.undo()
    snapshot = file.game
    file.close()
    with GameFile.open(file.path) as again:
        assert again.game == snapshot
        assert (again.can_undo, again.can_redo) == ("mark snap", "write a note")
        again.redo()
        assert len(again.game.notes) == 1
        while again.undo():
            pass
        assert again.game.film.sources == ()


def test_ids_are_never_used_again(file):
    file.do(SNAP)
    file.do(RemoveRecord(Kind.MOMENT, 1))
    assert file.do(SNAP).added(Kind.MOMENT) == (2,)
    file.undo()
    file.close()
    with GameFile.open(file.path) as again:
        assert again.next_id(Kind.MOMENT) == 3
        with pytest.raises(InvalidOperation, match="moment id 2 is taken or was used before"):
            again.do(replace(SNAP, value=replace(SNAP.value, id=2)))


def test_an_operation_that_cannot_be_done_changes_nothing(file):
    before = file.game, file.can_undo
    with pytest.raises(InvalidOperation, match="no shot 77"):
        file.do(several("half of it", [SNAP, AddPlay(Play(PlayKind.RUN), shot=77)]))
    assert (file.game, file.can_undo) == before
    file.close()
    with GameFile.open(file.path) as again:
        assert (again.game, again.can_undo) == before


def test_several_make_one_action(file):
    shot, play = file.game.shots[0].id, file.next_id(Kind.PLAY)
    file.do(several("tag play 1", [SNAP, AddPlay(Play(PlayKind.RUN), shot, id=play)]))
    assert file.can_undo == "tag play 1"
    file.undo()
    assert (file.game.moments, file.game.plays) == ((), ())


def test_sources_move_with_their_folder(tmp_path):
    old = tmp_path / "old"
    old.mkdir()
    with GameFile.create(old / "a.game") as file:
        file.do(AddSources((source("s1", old),)))
        assert file.game.film.sources[0].path == old / "card" / "s1.mp4"
        file.do(SNAP)
    assert str(tmp_path).encode() not in (old / "a.game").read_bytes()
    shutil.move(old, tmp_path / "new")
    with GameFile.open(tmp_path / "new" / "a.game") as file:
        assert file.game.film.sources[0].path == tmp_path / "new" / "card" / "s1.mp4"
        file.undo()
        file.undo()
        file.redo()
        assert file.game.film.sources[0].path == tmp_path / "new" / "card" / "s1.mp4"


def test_a_source_named_from_here_is_found_from_anywhere(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    (tmp_path / "games").mkdir()
    with GameFile.create("games/a.game") as file:
        file.do(AddSources((replace(source("s1", tmp_path), path=Path("card/s1.mp4")),)))
        monkeypatch.chdir("/")
        assert file.game.film.sources[0].path == tmp_path / "card" / "s1.mp4"


def test_the_half_typed_entry_is_kept(file):
    assert file.draft == ""
    file.keep_draft("run 4, hold")
    assert file.can_undo == "add 3 shots"
    file.close()
    with GameFile.open(file.path) as again:
        assert again.draft == "run 4, hold"
        again.keep_draft("")
    with GameFile.open(file.path) as again:
        assert again.draft == ""


def test_a_closed_game_says_so(file):
    file.close()
    file.close()
    with pytest.raises(ReadOnly, match="it is closed"):
        file.do(SNAP)
    with pytest.raises(ReadOnly, match="it is closed"):
        file.undo()


def test_a_closed_game_is_one_file_with_its_backup(file):
    file.do(SNAP)
    folder = file.path.parent
    file.close()
    visible = sorted(each.name for each in folder.iterdir() if not each.name.startswith("."))
    assert visible == ["Friday.game", "Friday.game.backup-1"]


def test_the_second_opener_reads_and_is_told_who_writes(file):
    file.do(SNAP)
    with GameFile.open(file.path) as second:
        assert second.read_only
        assert second.game == file.game
        assert (second.holder.host, second.holder.pid) == (platform.node(), os.getpid())
        assert second.holder.user in second.why_read_only
        assert str(os.getpid()) in second.why_read_only
        assert second.can_undo is None
        with pytest.raises(ReadOnly, match="open for changes by"):
            second.do(SNAP)
    file.do(AddRecord(Note(0, at(2), "the first one goes on")))
    file.close()
    with GameFile.open(file.path) as third:
        assert not third.read_only
        assert len(third.game.notes) == 1


def test_another_process_reads_and_is_told_too(file):
    script = f"from workstation.tagging.gamefile import GameFile; print(GameFile.open({str(file.path)!r}).holder.pid)"
    root = Path(__file__).parents[2]
    said = subprocess.run([sys.executable, "-c", script], cwd=root, capture_output=True, text=True, check=True).stdout
    assert int(said) == os.getpid()


def test_opened_for_reading_it_needs_no_lock(file):
    with GameFile.open(file.path, read_only=True) as reader:
        assert reader.why_read_only == "it was opened for reading only"
        assert reader.game == file.game
    file.do(SNAP)


def test_threads_take_turns(file):
    def tag(number: int) -> None:
        for second in range(20):
            file.do(AddRecord(Moment(0, MomentKind.SIGNAL, at(100 + 20 * number + second))))

    threads = [threading.Thread(target=tag, args=(number,)) for number in range(4)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert [moment.id for moment in sorted(file.game.moments, key=lambda each: each.id)] == list(range(1, 81))


# --- disks and folders that do not behave


def test_every_commit_is_synced(file):
    """What survives a power loss rests on this; see https://www.sqlite.org/pragma.html#pragma_synchronous."""
    assert file.journal == "wal"
    assert file._connection.execute("PRAGMA synchronous").fetchone() == (2,)  # FULL
    assert file._connection.execute("PRAGMA fullfsync").fetchone() == (1,)


def test_a_folder_without_shared_memory_gets_another_journal(tmp_path, monkeypatch):
    """SQLite's dot-file layer has no shared memory, as some network folders have none (sqlite.org/wal.html)."""
    monkeypatch.setattr(store, "VFS", "unix-dotfile")
    with GameFile.create(tmp_path / "a.game", game=full_game(tmp_path)) as file:
        assert file.journal == "delete"
        assert file._connection.execute("PRAGMA synchronous").fetchone() == (3,)  # EXTRA
        file.do(AddRecord(Note(0, at(1), "kept")))
        file.undo()
        file.redo()
    with GameFile.open(tmp_path / "a.game") as file:
        assert (file.why_read_only, file.can_undo) == (None, "write a note")


def test_a_log_left_by_a_crash_is_read_where_there_is_no_shared_memory(tmp_path, monkeypatch):
    crashed = _crashed(tmp_path)
    monkeypatch.setattr(store, "VFS", "unix-dotfile")
    with GameFile.open(crashed) as file:
        assert file.journal == "delete"
        assert [note.text for note in file.game.notes][-1] == "only in the log"
        file.do(AddRecord(Note(0, at(599.5, "s2"), "and on")))
    with GameFile.open(crashed) as file:
        assert [note.text for note in file.game.notes][-2:] == ["only in the log", "and on"]


def test_a_log_left_by_a_crash_is_not_lost_by_reading(tmp_path):
    crashed = _crashed(tmp_path)
    before = crashed.read_bytes()
    with GameFile.open(crashed, read_only=True) as file:
        assert [note.text for note in file.game.notes][-1] == "only in the log"
    assert crashed.read_bytes() == before
    with GameFile.open(crashed) as file:
        assert [note.text for note in file.game.notes][-1] == "only in the log"


def _crashed(folder: Path) -> Path:
    """A game file as a crash leaves it: the last action only in the write-ahead log."""
    with GameFile.create(folder / "a.game", game=full_game(folder)) as file:
        file._connection.execute("PRAGMA wal_checkpoint(TRUNCATE)")
        file.do(AddRecord(Note(0, at(599, "s2"), "only in the log")))
        (folder / "crashed").mkdir()
        for suffix in ("", "-wal"):
            shutil.copy(folder / f"a.game{suffix}", folder / "crashed" / f"a.game{suffix}")
    return folder / "crashed" / "a.game"


def _mounted(*how: str | Path) -> bool:
    return subprocess.run(["mount", *how], capture_output=True, check=False).returncode == 0


@pytest.fixture
def small_disk(tmp_path):
    """A file system of 1 MiB, as root; skips where it can't be had."""
    place = tmp_path / "disk"
    place.mkdir()
    if not _mounted("-t", "tmpfs", "-o", "size=1m", "tmpfs", place):
        pytest.skip("mounting a small file system needs root")
    yield place
    subprocess.run(["umount", "-l", place], check=True)


def test_a_full_disk_loses_nothing_and_says_so(small_disk):
    path = small_disk / "a.game"
    with GameFile.create(path, game=full_game(small_disk)) as file:
        file._backups._thread.join()
        for number in range(1000):
            before = file.game
            try:
                file.do(AddRecord(Note(0, at(5), f"{number}: " + "x" * 20_000)))
            except CannotSave as error:
                assert "the disk is full" in str(error)
                break
        else:
            pytest.fail("the disk never filled up")
        assert number > 3
        assert file.game is before
        assert f"{number}" not in [note.text.split(":")[0] for note in file.game.notes]
        with GameFile.open(path, read_only=True) as reader:
            assert reader.game == before
        for other in small_disk.glob("*backup*"):
            other.unlink()
        file.do(AddRecord(Note(0, at(5), "there is room again")))
        after = file.game
        (small_disk / "filler").write_bytes(b"x" * 100)
        with suppress(OSError), (small_disk / "filler").open("ab", buffering=0) as filler:
            while True:
                filler.write(b"x" * 4096)
        file._backups.keep(file._revision)
        assert "could not be written" in file.backup_problem
        assert not list(small_disk.glob(".*.backup*"))
        (small_disk / "filler").unlink()
    with GameFile.open(path) as file:
        assert file.game == after


def test_a_new_game_on_a_full_disk_is_refused(small_disk):
    (small_disk / "filler").write_bytes(b"x" * (1024 * 1024 - 8192))
    with pytest.raises(CannotSave, match="the disk is full"):
        GameFile.create(small_disk / "a.game")
    assert [each.name for each in small_disk.iterdir()] == ["filler"]


def test_a_full_page_budget_is_a_full_disk(file):
    """The same through SQLite's own limit, where no file system can be mounted."""
    pages = file._connection.execute("PRAGMA page_count").fetchone()[0]
    file._connection.execute(f"PRAGMA max_page_count={pages + 2}")
    before = file.game
    with pytest.raises(CannotSave, match="the disk is full"):
        file.do(AddRecord(Note(0, at(5), "x" * 50_000)))
    assert file.game is before
    file._connection.execute("PRAGMA max_page_count=100000")
    file.do(AddRecord(Note(0, at(5), "x" * 50_000)))


def test_a_folder_that_cannot_be_written_opens_for_reading(tmp_path):
    crashed = _crashed(tmp_path)
    if os.getuid() == 0:
        folder = crashed.parent
        if not _mounted("--bind", "-o", "ro", folder, folder):
            pytest.skip("root can write everywhere, and a read-only mount cannot be had")
    else:
        crashed.parent.chmod(0o555)
    try:
        with GameFile.open(crashed) as file:
            assert "cannot be written" in file.why_read_only
            assert [note.text for note in file.game.notes][-1] == "only in the log"
            with pytest.raises(ReadOnly, match="copy it to change it"):
                file.do(SNAP)
    finally:
        if os.getuid() == 0:
            subprocess.run(["umount", folder], check=True)
        else:
            crashed.parent.chmod(0o755)


def test_a_text_too_long_for_any_game_is_refused(file):
    with pytest.raises(InvalidOperation, match="too long"):
        file.do(AddRecord(Note(0, at(1), "x" * 1_000_001)))
    assert len(json.dumps("🏈")) * rules.MAX_TEXT < store.LARGEST_VALUE  # the longest text as it is stored
    file.do(AddRecord(Note(0, at(1), "🏈" * 100_000)))
    with pytest.raises(CannotSave, match="too long"):
        file.do(SetHeading(Heading(title="x" * store.LARGEST_VALUE)))
    file.close()
    with GameFile.open(file.path) as again:
        assert again.game == file.game


def test_an_action_that_sqlite_refuses_is_not_half_done(file):
    before = file.game
    rival = sqlite3.connect(file.path, isolation_level=None)
    rival.execute("BEGIN IMMEDIATE")
    file._connection.execute("PRAGMA busy_timeout=10")
    with pytest.raises(CannotSave, match="another program holds the file"):
        file.do(SNAP)
    assert file.game is before
    rival.execute("ROLLBACK")
    rival.close()
    file.do(SNAP)


@pytest.mark.parametrize("gain", [float("nan"), float("inf"), "4", 10**400])
def test_what_could_not_be_read_again_is_never_written(file, gain):
    with pytest.raises(InvalidOperation, match="gain: expected a number"):
        file.do(AddPlay(Play(PlayKind.RUN, gain=gain)))
    file.close()
    with GameFile.open(file.path) as again:
        assert again.game.plays == ()


def test_a_failure_halfway_leaves_nothing_of_the_action(file, monkeypatch):
    before = file.game

    def fail(*_, **__):
        raise sqlite3.OperationalError("disk I/O error")

    with monkeypatch.context() as broken:
        broken.setattr(store, "write_about", fail)  # the last of what an action writes
        with pytest.raises(CannotSave, match="disk I/O error"):
            file.do(SNAP)
    assert file.game is before
    with GameFile.open(file.path, read_only=True) as reader:
        assert reader.game == before
    file.do(SNAP)
    file.close()
    with GameFile.open(file.path) as again:
        assert [moment.id for moment in again.game.moments] == [1]
        assert again.can_undo == "mark snap"


@pytest.mark.skipif(not Path("/proc/self/fd").is_dir(), reason="counts open files through /proc")
def test_closing_lets_go_of_everything(tmp_path):
    path = tmp_path / "a.game"
    GameFile.create(path, game=full_game(tmp_path)).close()

    def sitting() -> tuple[int, int]:
        with GameFile.open(path) as file:
            file.do(AddRecord(Note(0, at(1), "x")))
            with GameFile.open(path):
                pass
        return len(os.listdir("/proc/self/fd")), threading.active_count()

    first = sitting()
    for _ in range(10):
        assert sitting() == first
