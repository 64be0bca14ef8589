from __future__ import annotations

import os
import shutil
import sqlite3
import subprocess
import sys
import time
from dataclasses import replace
from fractions import Fraction
from pathlib import Path

import pandas as pd
import pyarrow.parquet as pq
import pytest
from filelock import FileLock

from tests.season.season_games import DRIVE, PASS, RUN, game, write
from workstation.cancelling import Cancelled
from workstation.film.film import Film, Source
from workstation.football.plays import Play
from workstation.season.breakdown import Breakdown, Recipe, chosen
from workstation.season.index import FOLDER, GAMES, CannotIndex, SeasonIndex, game_files
from workstation.season.shelf import Shelf
from workstation.tagging.gamefile import GameFile
from workstation.tagging.operations import AddPlay
from workstation.tagging.own_words.definition import OwnWord, Vocabulary, WordKind, WordSaid

DATES = ("2026-09-04", "2026-09-11", "2026-09-18")


@pytest.fixture
def season(tmp_path):
    folder = tmp_path / "season"
    for number, date in enumerate(DATES):
        write(folder, f"week {number + 1}", game(visitors=f"Summit {number}", date=date, crew="Lee"))
    return folder


def test_the_first_index_knows_every_game(season):
    shelf = Shelf([season])
    assert shelf.games == ()
    (done,) = shelf.update()
    assert (done.read, done.unchanged, done.left_out) == (3, 0, ())
    assert [game.known.date for game in shelf.games] == list(DATES)
    frame = shelf.frame()
    assert len(frame) == 3 * len(DRIVE) + 3         # a kickoff each; what is not on film between plays is no play
    assert frame["game"].tolist() == sorted(frame["game"]) and frame.groupby("game", observed=True)["number"].apply(
        lambda numbers: numbers.is_monotonic_increasing).all()


def test_only_what_changed_is_read_again(season):
    index = SeasonIndex(season)
    index.update()
    assert index.update().read == 0
    with GameFile.open(season / "week 2.game") as file:
        file.do(AddPlay(Play(RUN, gain=2)))
        done = index.update()           # while it is open, and what was done is still in the log
    assert (done.read, done.unchanged) == (1, 2)
    shelf = Shelf([season])
    assert len(shelf.frame([season / "week 2.game"])) == len(DRIVE) + 2
    os.utime(season / "week 1.game")
    assert index.update().read <= 1     # week 2 was settled when it closed; week 1 is the same though its time is new
    assert index.update().read == 0


def test_the_shelf_sees_what_another_desk_indexed(season):
    shelf, other = Shelf([season]), Shelf([season])
    shelf.update()
    before = len(shelf.frame())
    write(season, "week 4", game(date="2026-09-25"))
    other.update()
    shelf.update()
    assert len(shelf.frame()) == before + len(DRIVE) + 1


def test_games_that_are_gone_are_forgotten(season):
    shelf = Shelf([season])
    shelf.update()
    (season / "week 1.game").unlink()
    (done,) = shelf.update()
    assert done.gone == 1 and len(shelf.games) == 2 and len(shelf.frame()) == 2 * (len(DRIVE) + 1)


def test_damaged_and_foreign_files_are_named_and_left_out(season):
    (season / "noise.game").write_bytes(b"\x00noise" * 50)
    with sqlite3.connect(season / "other.game") as other:
        other.execute("CREATE TABLE t (x)")
    broken = (season / "week 3.game").read_bytes()
    (season / "broken.game").write_bytes(broken[: len(broken) // 2 // 4096 * 4096 + 100])
    (season / "empty.game").write_bytes(b"")
    write(season, "no such rules", game(rulebook="nobody"))
    shelf = Shelf([season])
    (done,) = shelf.update()
    assert [game.file for game in done.left_out] == ["broken.game", "empty.game", "no such rules.game", "noise.game",
                                                     "other.game"]
    assert all(game.left_out for game in done.left_out) and len(shelf.usable) == 3
    assert len(shelf.frame()) == 3 * (len(DRIVE) + 1)
    assert SeasonIndex(season).update().read == 0       # nor read again while they are as they were
    shutil.copy(season / "week 1.game", season / "broken.game")
    assert SeasonIndex(season).update().read == 1


def test_film_that_comes_and_goes_is_seen(season, tmp_path):
    cards = tmp_path / "cards"
    cards.mkdir()
    for name in ("a.mp4", "b.mp4"):
        (cards / name).write_bytes(b"film")
    sources = tuple(Source(name, cards / name, 4, name, Fraction(1, 1000), 0, 1000, Fraction(30), 64, 36)
                    for name in ("a.mp4", "b.mp4"))
    write(season, "filmed", replace(game(date="2026-10-02"), film=Film(sources)))
    shelf = Shelf([season])
    shelf.update()
    assert [each.film for each in shelf.games] == ["no film"] * 3 + ["film"]
    (cards / "b.mp4").unlink()
    shelf.update()
    assert shelf.games[-1].film == "1 of 2 files"
    shutil.rmtree(cards)
    (done,) = shelf.update()
    assert shelf.games[-1].film == "0 of 2 files" and done.read == 1 and shelf.update()[0].read == 0


def test_backups_hidden_files_and_other_folders(season):
    shutil.copy(season / "week 1.game", season / "week 1.game.backup-1")
    shutil.copy(season / "week 1.game", season / ".hidden.game")
    shutil.copytree(season, season / "away")
    assert len(list(game_files(season))) == 6


@pytest.mark.parametrize("harm", ["no games", "no part", "damaged games", "damaged part", "other form", "all gone"])
def test_whatever_is_wrong_with_the_index_is_made_again(season, harm):
    shelf = Shelf([season])
    shelf.update()
    whole = shelf.frame()
    games, parts = season / FOLDER / GAMES, sorted((season / FOLDER / "plays").rglob("*.parquet"))
    if harm == "no games":
        games.unlink()
    elif harm == "no part":
        parts[0].unlink()
    elif harm == "damaged games":
        games.write_bytes(games.read_bytes()[:200])
    elif harm == "damaged part":
        parts[0].write_bytes(b"PAR1 nothing")
    elif harm == "other form":
        pq.write_table(pq.read_table(games, partitioning=None).replace_schema_metadata({}), games)
    else:
        shutil.rmtree(season / FOLDER)
    again = Shelf([season])
    again.update()
    pd.testing.assert_frame_equal(again.frame(), whole)


def test_stopping_leaves_a_good_index(season):
    def stop(done, of):
        if done == 2:
            raise Cancelled

    with pytest.raises(Cancelled):
        SeasonIndex(season).update(stop)
    shelf = Shelf([season])
    assert len(shelf.frame()) <= len(DRIVE) + 1
    shelf.update()
    assert len(shelf.frame()) == 3 * (len(DRIVE) + 1)


def test_killed_while_indexing_it_is_made_again(season):
    """SIGKILL at some instants of a first index: what stays is an index that is brought up to date."""
    for number in range(24):
        shutil.copy(season / "week 1.game", season / f"copy {number:02}.game")
    whole = Shelf([season])
    whole.update()
    expected = whole.frame()
    script = ("import sys; from pathlib import Path; from workstation.season.index import SeasonIndex\n"
              "print('begun', flush=True); SeasonIndex(Path(sys.argv[1])).update(processes=1)")
    call = [sys.executable, "-c", script, str(season)]
    for after in (0.05, 0.2, 0.4):
        shutil.rmtree(season / FOLDER)
        with subprocess.Popen(call, stdout=subprocess.PIPE, cwd=Path(__file__).parents[2]) as process:
            process.stdout.readline()
            time.sleep(after)
            process.kill()
        shelf = Shelf([season])
        shelf.update()
        pd.testing.assert_frame_equal(shelf.frame(), expected)


def test_two_desks_do_not_write_at_once(season, monkeypatch):
    index = SeasonIndex(season)
    index.update()
    write(season, "week 4")
    monkeypatch.setattr("workstation.season.index.WAIT", 0.1)
    with FileLock(season / FOLDER / ".lock"), pytest.raises(CannotIndex, match="another desk"):
        index.update()
    assert index.update().read == 1


def test_a_folder_that_cannot_be_written_is_indexed_elsewhere(season, tmp_path, monkeypatch):
    monkeypatch.setattr("os.access", lambda path, mode: not str(path).startswith(str(season)))
    index = SeasonIndex(season, tmp_path / "elsewhere")
    assert index.update().read == 3
    assert not (season / FOLDER).exists() and (tmp_path / "elsewhere").exists()


def test_a_missing_folder_is_said(tmp_path):
    with pytest.raises(FileNotFoundError):
        SeasonIndex(tmp_path / "nowhere").update()


def test_several_folders_and_one_in_the_other(season, tmp_path):
    other = tmp_path / "other"
    write(other, "week 9", game(date="2026-10-30", home="Quarry", visitors="Harbor"))
    shelf = Shelf([season, other, season])
    shelf.update()
    assert len(shelf.games) == 4 and len(shelf.frame()) == 4 * (len(DRIVE) + 1)
    assert shelf.likely_us() == "Harbor"
    assert [game.where("Harbor") for game in shelf.games] == ["home", "home", "home", "away"]
    assert shelf.paths(["2026-10-30", "week 1", "Summit"]) == ([other / "week 9.game", season / "week 1.game"],
                                                              ["Summit"])


def test_many_games_are_read_by_two_processes(season, monkeypatch):
    monkeypatch.setattr("workstation.season.index._SEVERAL", 2)
    one, two = Shelf([season]), Shelf([season])
    one.update()
    frame = one.frame()
    two.update(anew=True)
    pd.testing.assert_frame_equal(two.frame(), frame)


def test_own_words_of_one_game_only(season):
    made = game(DRIVE[:3], date="2026-09-25")
    tags = [replace(tag, words=(WordSaid("formation", ("trips",)),)) if tag.play.kind in (RUN, PASS) else tag
            for tag in made.plays]
    words = Vocabulary("", (OwnWord("formation", WordKind.TEXT),))
    write(season, "week 4", replace(made, plays=tuple(tags), vocabulary=words))
    shelf = Shelf([season])
    shelf.update()
    made = Breakdown(shelf.frame(), Recipe(rows=("word formation",)))
    assert {key: made.cell(key).count for key in made.row_keys} == {("trips",): 3, ("not said",): 18}


def test_a_search_over_games_reads_what_was_said(season):
    shelf = Shelf([season])
    shelf.update()
    found = chosen(shelf.frame(said=True), Recipe(words="3rd gain of 9"))
    assert found["down"].tolist() == [3, 3, 3]
    assert "said" not in shelf.frame().columns


# -- as other engines read it ---------------------------------------------------------------------------------------


def by_hand(shelf):
    """Third downs made, of all, by game."""
    frame = shelf.frame()
    third = frame[(frame["down"] == 3) & frame["run_pass_kick"].isin(["run", "pass"])]
    by_game = third.groupby("game", observed=True)
    return {str(game): (len(rows), int(rows["first_down"].sum())) for game, rows in by_game}


def test_duckdb_reads_the_index_as_it_is(season):
    duckdb = pytest.importorskip("duckdb")
    shelf = Shelf([season])
    shelf.update()
    rows = duckdb.sql(f"""
        SELECT plays.game, count(*), sum(first_down::int)
        FROM read_parquet('{season / FOLDER}/plays/*/*.parquet', hive_partitioning = true, union_by_name = true) plays
        JOIN read_parquet('{season / FOLDER / GAMES}') games ON games.file = plays.game AND games.left_out = ''
        WHERE down = 3 AND run_pass_kick IN ('run', 'pass') GROUP BY plays.game""").fetchall()
    assert {str(season / game): (count, made) for game, count, made in rows} == by_hand(shelf)


def test_pyarrow_reads_the_index_as_a_partitioned_data_set(season):
    import pyarrow.dataset as ds

    shelf = Shelf([season])
    shelf.update()
    data = ds.dataset(season / FOLDER / "plays", partitioning="hive")
    table = data.to_table(filter=(ds.field("down") == 3) & ds.field("run_pass_kick").isin(["run", "pass"]))
    found = {}
    for row in table.to_pylist():
        count, made = found.get(row["game"], (0, 0))
        found[row["game"]] = count + 1, made + row["first_down"]
    assert {str(season / game): counts for game, counts in found.items()} == by_hand(shelf)


def test_nothing_is_written_into_a_game(season):
    before = {path: path.read_bytes() for path in season.iterdir()}
    shelf = Shelf([season])
    shelf.update()
    shelf.update(anew=True)
    assert {path: path.read_bytes() for path in season.iterdir() if path.name != FOLDER} == before
