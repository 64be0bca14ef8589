"""Damaged, foreign, older and newer files: a clear word, the backup offered, the original untouched."""

from __future__ import annotations

import json
import os
import shutil
import sqlite3
from contextlib import closing
from dataclasses import replace
from pathlib import Path
from random import Random

import pytest

from tests.tagging.builders import at, full_game
from workstation.tagging import backups, store
from workstation.tagging.backups import listed, restore
from workstation.tagging.gamefile import (
    CannotSave,
    DamagedGameFile,
    GameFile,
    GameFileError,
    NewerGameFile,
    NotAGameFile,
)
from workstation.tagging.model import Game, Note
from workstation.tagging.operations import AddRecord, SetHeading
from workstation.tagging.serialise import from_plain

SAMPLES = Path(__file__).parent / "samples"


@pytest.fixture
def game_path(tmp_path):
    """A closed game file with a healthy backup beside it, and a short history."""
    path = tmp_path / "Friday.game"
    with GameFile.create(path, game=full_game(tmp_path)) as file:
        file.do(AddRecord(Note(0, at(5), "a note with a rare word: quincunx")))
        file.do(AddRecord(Note(0, at(6), "second")))
        file.undo()
    return path


def refused(path: Path, kind: type[GameFileError], said: str) -> GameFileError:
    """Opening fails with that error, whether for writing or reading, and leaves every file as it was."""
    before = {each.name: each.read_bytes() for each in path.parent.iterdir() if not each.name.endswith(".lock")}
    for read_only in (True, False):
        with pytest.raises(kind) as error:
            GameFile.open(path, read_only)
        assert said in str(error.value)
        assert str(path) in str(error.value)
    after = {each.name: each.read_bytes() for each in path.parent.iterdir() if not each.name.endswith(".lock")}
    assert after == before
    return error.value


def sql(path: Path, *statements: str) -> None:
    with closing(sqlite3.connect(path, isolation_level=None)) as connection:
        store.equip(connection)
        for statement in statements:
            connection.execute(statement)


def test_an_empty_file_offers_its_backup(game_path):
    game_path.write_bytes(b"")
    error = refused(game_path, DamagedGameFile, "the file is empty")
    assert "Friday.game.backup-1 (3 plays, 4 shots)" in str(error)
    assert [backup.path.name for backup in error.backups] == ["Friday.game.backup-1"]


def test_without_a_backup_none_is_promised(tmp_path):
    (tmp_path / "a.game").write_bytes(b"")
    assert "A backup" not in str(refused(tmp_path / "a.game", DamagedGameFile, "the file is empty"))


@pytest.mark.parametrize("kept", [1, 50, 100, 4096, 10_000, -1])
def test_a_truncated_file_is_told(game_path, kept):
    whole = game_path.read_bytes()
    game_path.write_bytes(whole[:kept])
    assert refused(game_path, DamagedGameFile, "").backups


def test_another_kind_of_file_is_no_game(game_path):
    game_path.write_bytes(b"\x00\x00\x00\x18ftypmp42" + bytes(200))
    refused(game_path, NotAGameFile, "this is not a game file")


def test_a_folder_is_no_game(tmp_path):
    (tmp_path / "a.game").mkdir()
    with pytest.raises(NotAGameFile, match="folder"):
        GameFile.open(tmp_path / "a.game")


def test_somebody_elses_database_is_no_game(tmp_path):
    path = tmp_path / "a.game"
    sql(path, "CREATE TABLE record (kind, id, body)", "INSERT INTO record VALUES ('shot', 1, '{}')")
    refused(path, NotAGameFile, "another program's SQLite database")


def test_another_application_id_is_no_game(game_path):
    sql(game_path, "PRAGMA application_id=42")
    refused(game_path, NotAGameFile, "another program's SQLite database")


def test_a_newer_file_asks_for_a_newer_program(game_path):
    sql(game_path, f"PRAGMA user_version={store.VERSION + 1}")
    refused(game_path, NewerGameFile, f"file version {store.VERSION + 1}, this program reads up to {store.VERSION}")


def test_a_field_of_the_future_is_not_thrown_away(game_path):
    """A field that this program doesn't know would be lost with the next change of that record."""
    sql(game_path, """UPDATE record SET body = json_set(body, '$.wind', 'north') WHERE kind = 'play' AND id = 1""",
        "UPDATE record SET sum = checksum(kind, id, body)")
    refused(game_path, DamagedGameFile, "play 1 cannot be read: wind: unknown field")


def test_a_note_too_long_to_be_one_is_not_read(game_path, monkeypatch):
    sql(game_path, f"""UPDATE record SET body = '"' || hex(zeroblob({store.LARGEST_VALUE // 2})) || '"'
        WHERE kind = 'note' AND id = 1""")
    refused(game_path, DamagedGameFile, "more than 16 MiB, which is no tag")


@pytest.mark.skipif("LARGE_FILES" not in os.environ, reason="writes 1 GB; set LARGE_FILES to run it")
def test_a_note_of_a_gigabyte_is_not_read(tmp_path_factory):
    """As long as SQLite stores at all (SQLITE_MAX_LENGTH)."""
    game_path = tmp_path_factory.mktemp("large") / "a.game"
    GameFile.create(game_path, game=full_game(game_path.parent)).close()
    with closing(sqlite3.connect(game_path, isolation_level=None)) as connection:
        connection.execute("UPDATE record SET body = zeroblob(999990000) WHERE kind = 'note' AND id = 1")
    refused(game_path, DamagedGameFile, "more than 16 MiB")
    game_path.unlink()


@pytest.mark.parametrize(
    ("statement", "said"),
    [
        ("UPDATE record SET body = replace(body, 'quincunx', 'quincunz')", "note 4 is altered"),
        ("UPDATE about SET value = '99' WHERE key = 'position'", "'position' is altered"),
        ("DELETE FROM about WHERE key = 'revision'", "where its history stands"),
        ("DROP TABLE edit", "its tables"),
        ("CREATE TRIGGER t AFTER INSERT ON record BEGIN DELETE FROM record; END", "its tables"),
        ("UPDATE record SET body = '{', sum = checksum(kind, id, '{') WHERE kind = 'shot'", "shot 1 cannot be read"),
        ("UPDATE record SET kind = 'x', sum = checksum('x', id, body) WHERE kind = 'film'", "'x'"),
    ],
)
def test_altered_contents_are_told(game_path, statement, said):
    sql(game_path, statement)
    refused(game_path, DamagedGameFile, said)


def test_altered_history_still_opens_and_says_where_undo_ends(game_path):
    sql(game_path, "UPDATE edit SET after = replace(after, 'quincunx', 'quincunz')")
    with GameFile.open(game_path) as file:
        before = file.game
        assert file.can_undo == "write a note"
        with pytest.raises(CannotSave, match="step 1 of the history is altered"):
            file.undo()
        assert file.game is before
        file.do(AddRecord(Note(0, at(9), "work goes on")))


def test_any_flipped_bit_is_found_or_does_no_harm(game_path):
    """300 single flips where the file holds something: it is refused, or it is the game that was saved."""
    whole = game_path.read_bytes()
    with GameFile.open(game_path, read_only=True) as file:
        saved = file.game
    choose = Random(20261125)
    written = [place for place, byte in enumerate(whole) if byte]
    told = 0
    for _ in range(300):
        raw = bytearray(whole)
        raw[choose.choice(written)] ^= 1 << choose.randrange(8)
        game_path.write_bytes(raw)
        try:
            with GameFile.open(game_path, read_only=True) as file:
                assert file.game == saved
        except GameFileError:
            told += 1
        assert game_path.read_bytes() == raw
    assert told > 150  # the rest lies in the history, which is checked when it is used, or matters to nobody


def test_flipped_bits_never_break_undo(game_path):
    whole = game_path.read_bytes()
    choose = Random(7)
    undone = 0
    for _ in range(60):
        raw = bytearray(whole)
        raw[choose.randrange(len(raw))] ^= 1 << choose.randrange(8)
        game_path.write_bytes(raw)
        try:
            with GameFile.open(game_path) as file:
                if file.undo():
                    assert file.game == full_game(game_path.parent)
                    undone += 1
        except (GameFileError, CannotSave):
            pass
    assert undone


# --- backups


def test_a_damaged_file_moves_aside_for_its_backup(game_path):
    with GameFile.open(game_path, read_only=True) as file:
        saved = file.game
    game_path.write_bytes(b"SQLite format 3\x00 and then nothing good" + bytes(100))
    damaged = game_path.read_bytes()
    backup, = listed(game_path)
    aside = restore(backup, game_path)
    assert aside.read_bytes() == damaged
    with GameFile.open(game_path) as file:
        assert file.game == saved
        assert file.can_undo == "write a note"


def test_a_backup_is_looked_at_but_not_tagged_in(game_path):
    """It would be overwritten by the next backup, and the work with it."""
    backup, = listed(game_path)
    with GameFile.open(backup.path) as file:
        assert file.why_read_only == "it is a backup of Friday.game; restore it to go on with it"
        assert len(file.game.plays) == 3


def test_a_damaged_backup_is_not_offered(game_path):
    backup = game_path.with_name("Friday.game.backup-1")
    backup.write_bytes(backup.read_bytes()[:5000])
    assert listed(game_path) == ()


def test_backups_are_how_each_sitting_left_the_game(game_path):
    for number in range(4):
        with GameFile.open(game_path) as file:
            file.do(SetHeading(full_game(game_path).heading.__class__(title=f"sitting {number}")))
    titles = []
    for backup in listed(game_path):
        with GameFile.open(backup.path, read_only=True) as file:
            titles.append(file.game.heading.title)
    assert titles == ["sitting 3", "sitting 2", "sitting 1"]
    assert len(list(game_path.parent.glob("*backup*"))) == backups.KEPT


def test_a_long_sitting_is_backed_up_on_the_way(file):
    file._backups._thread and file._backups._thread.join()
    for number in range(backups.EVERY + 1):
        file.do(AddRecord(Note(0, at(number), "again")))
    file._backups._thread.join()
    newest = listed(file.path)[0]
    assert newest.revision >= backups.EVERY
    assert file.backup_problem is None


def test_opening_without_change_rotates_nothing(game_path):
    names = sorted(each.name for each in game_path.parent.glob("*backup*"))
    for _ in range(3):
        GameFile.open(game_path).close()
    assert sorted(each.name for each in game_path.parent.glob("*backup*")) == names


def test_a_backup_that_cannot_be_written_is_told_and_stops_nothing(file):
    file._backups._thread and file._backups._thread.join()
    file.path.with_name(f".{file.path.name}.backup").mkdir()
    file._backups.keep(file._revision + 1)
    assert "could not be written" in file.backup_problem
    file.do(AddRecord(Note(0, at(1), "work goes on")))


def test_the_backup_of_a_former_game_of_that_name_is_kept(tmp_path):
    path = tmp_path / "a.game"
    GameFile.create(path, game=full_game(tmp_path)).close()
    path.unlink()
    with GameFile.create(path) as file:  # as often changed as the former one: not at all
        assert file.game == Game()
    assert [backup.plays for backup in listed(path)] == [0, 3]


# --- older versions


def as_of(sample: Path, game: Game) -> Game:
    """What a file of the sample's version could hold of the game: version 4 is the first with angles."""
    return game if int(sample.stem.removeprefix("version-")) >= 4 else replace(game, angles=(), matches=())


@pytest.mark.parametrize("sample", sorted(SAMPLES.glob("version-*.game")), ids=lambda path: path.stem)
@pytest.mark.parametrize("read_only", [True, False])
def test_a_file_of_every_version_opens(tmp_path, sample, read_only):
    path = tmp_path / "a.game"
    shutil.copyfile(sample, path)
    plain = json.loads(sample.with_suffix(".json").read_text(encoding="utf-8"))
    for source in (source for each in (plain, *plain.get("angles", ())) for source in each["film"]["sources"]):
        source["path"] = str(tmp_path / source["path"])
    expected = from_plain(Game, plain)
    with GameFile.open(path, read_only) as file:
        assert file.game == expected
        if not read_only:
            assert (file.can_undo, file.can_redo) == ("write a note", "remove play 3")
            file.undo()
            assert file.game == as_of(sample, full_game(tmp_path))
            file.redo()
            file.redo()
            assert len(file.game.plays) == len(expected.plays) - 1
    if read_only:
        assert path.read_bytes() == sample.read_bytes()
    else:
        assert listed(path)


def test_there_is_a_sample_of_every_version():
    assert {path.stem for path in SAMPLES.glob("*.game")} == {f"version-{n}" for n in range(1, store.VERSION + 1)}


def test_a_lifted_file_has_the_schema_of_a_new_one(tmp_path):
    new, lifted = tmp_path / "new.game", tmp_path / "lifted.game"
    GameFile.create(new).close()
    shutil.copyfile(SAMPLES / "version-1.game", lifted)
    GameFile.open(lifted).close()
    columns = []
    for path in (new, lifted):
        with closing(sqlite3.connect(path)) as connection:
            tables = ("about", "record", "action", "edit")
            columns.append({
                table: {row[1:3] for row in connection.execute(f"PRAGMA table_info({table})")} for table in tables
            })
    assert columns[0] == columns[1]


def test_the_file_before_lifting_is_kept_as_a_backup(tmp_path):
    path = tmp_path / "a.game"
    shutil.copyfile(SAMPLES / "version-1.game", path)
    with GameFile.open(path), closing(sqlite3.connect(tmp_path / "a.game.backup-1")) as connection:
        assert store.schema_version(connection) == 1


def test_no_file_is_lifted_without_a_backup(tmp_path):
    path = tmp_path / "a.game"
    shutil.copyfile(SAMPLES / "version-1.game", path)
    (tmp_path / ".a.game.backup").mkdir()  # where the backup would be written
    with GameFile.open(path) as file:
        assert file.why_read_only.startswith("it must be brought up to date first, but the backup of a.game")
        assert len(file.game.plays) == 3
    (tmp_path / ".a.game.backup").rmdir()
    with GameFile.open(path) as file:
        assert file.why_read_only is None
