"""Copies of one game that were changed apart are told when one is opened, and stay apart; older states are no news."""

from __future__ import annotations

import shutil

import pytest

from tests.tagging.builders import at, full_game
from workstation import commands
from workstation.tagging.backups import listed
from workstation.tagging.gamefile import GameFile
from workstation.tagging.model import Note
from workstation.tagging.operations import AddRecord


def change(path, *texts, undo=0):
    with GameFile.open(path) as file:
        for number, text in enumerate(texts):
            file.do(AddRecord(Note(0, at(number), text)))
        for _ in range(undo):
            file.undo()


def apart(path) -> dict[str, int]:
    with GameFile.open(path, read_only=True) as file:
        return {copy.path.name: copy.changes for copy in file.look_for_copies()}


@pytest.fixture
def path(tmp_path):
    path = tmp_path / "Friday.game"
    GameFile.create(path, game=full_game(tmp_path)).close()
    change(path, "first evening")
    return path


def test_two_copies_changed_apart_name_each_other(path, capsys):
    other = path.with_name("Friday (laptop).game")
    shutil.copyfile(path, other)
    assert apart(path) == apart(other) == {}
    change(path, "here", "and here")
    assert apart(path) == apart(other) == {}            # one is an older state of the other
    change(other, "there")
    before = {each: each.read_bytes() for each in (path, other)}
    assert apart(path)[other.name] == 1 and apart(other)[path.name] == 2
    assert commands.run(["check", str(path)]) == 0
    assert "beware: Friday (laptop).game is the same game, changed apart" in capsys.readouterr().err
    assert {each: each.read_bytes() for each in before} == before


def test_undo_and_another_way_are_not_changes_apart(path):
    shutil.copyfile(path, path.with_name("yesterday.game"))
    change(path, "a", "b", undo=3)
    change(path, "c")
    assert apart(path) == apart(path.with_name("yesterday.game")) == {}


def test_a_game_that_a_synchronising_folder_replaced_is_told_by_its_backup(path, tmp_path):
    away = tmp_path / "laptop" / path.name
    away.parent.mkdir()
    shutil.copyfile(path, away)
    change(path, "here")
    change(away, "there", "too")
    shutil.copyfile(away, path)
    assert apart(path) == {"Friday.game.backup-1": 1}
    assert "here" in {note.text for note in GameFile.open(listed(path)[0].path, read_only=True).game.notes}


def test_a_copy_made_in_the_middle_of_a_sitting(path):
    other = path.with_name("copy.game")
    with GameFile.open(path) as file:
        file.do(AddRecord(Note(0, at(1), "before the copy")))
        shutil.copyfile(path, other)
        shutil.copyfile(path.with_name("Friday.game-wal"), path.with_name("copy.game-wal"))
        assert apart(other) == {}
        file.do(AddRecord(Note(0, at(2), "after the copy")))
    assert apart(path) == apart(other) == {}
    change(other, "apart", "and again")
    assert apart(path) == {other.name: 2}
    assert apart(other)[path.name] == 1


def test_other_games_and_games_of_old_are_no_copies(path):
    GameFile.create(path.with_name("Saturday.game"), game=full_game(path.parent)).close()
    change(path.with_name("Saturday.game"), "other")
    path.with_name("notes.game").write_text("not a game")
    assert apart(path) == {}
