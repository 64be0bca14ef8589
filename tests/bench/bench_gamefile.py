"""How long an action takes until it is safe on disk, beside what the disk alone takes for it.

Run: python tests/bench/bench_gamefile.py [FOLDER]
A long game: 3 h of film, 200 play shots and as many of the down marker, 200 plays tagged one by one.
Times in milliseconds; the ratio is to a bare SQLite commit of one row with the same journal on the same disk.
"""

from __future__ import annotations

import sqlite3
import statistics
import sys
import tempfile
import time
from collections.abc import Callable, Iterable
from fractions import Fraction
from functools import partial
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[2]))

from workstation.film.film import Source
from workstation.film.time import Instant
from workstation.football.plays import Play, PlayKind
from workstation.tagging.gamefile import GameFile
from workstation.tagging.model import Moment, MomentKind, Shot, ShotKind
from workstation.tagging.operations import AddPlay, AddRecord, AddShots, AddSources, ChangePlay


def timed(work: Callable[[], object]) -> float:
    start = time.perf_counter()
    work()
    return (time.perf_counter() - start) * 1000


class Disk:
    """A bare commit of one row, made right after every action, so that both meet the disk in the same mood."""

    def __init__(self, folder: Path):
        self.connection = sqlite3.connect(folder / "bare.sqlite", isolation_level=None)
        self.connection.executescript("PRAGMA journal_mode=WAL; PRAGMA synchronous=FULL; CREATE TABLE t (x)")

    def compare(self, what: str, actions: Iterable[Callable[[], object]]) -> None:
        times, bare = [], []
        for action in actions:
            times.append(timed(action))
            bare.append(timed(lambda: self.connection.execute("INSERT INTO t VALUES (?)", ["x" * 300])))
        median = statistics.median(times)
        print(f"{what:24} median {median:7.2f} ms   95 % {sorted(times)[int(len(times) * 0.95)]:7.2f} ms"
              f"   {median / statistics.median(bare):5.2f} x a bare commit ({statistics.median(bare):.2f} ms)")


def main(folder: Path) -> None:
    disk = Disk(folder)
    second = 90_000
    hours = 3 * 3600 * second
    source = Source("s1", folder / "film.mp4", 1, "x", Fraction(1, second), 0, hours, Fraction(30), 1920, 1080)
    path = folder / "bench.game"
    file = GameFile.create(path)
    file.do(AddSources((source,)))
    shots = []
    for number in range(200):
        start = number * 50 * second
        shots.append(Shot(0, Instant("s1", start), Instant("s1", start + 8 * second), ShotKind.DOWN_MARKER))
        shots.append(Shot(0, Instant("s1", start + 10 * second), Instant("s1", start + 40 * second), ShotKind.PLAY))
    print(f"add 400 shots in one action {timed(lambda: file.do(AddShots(tuple(shots)))):11.2f} ms")
    play_shots = [shot for shot in file.game.shots if shot.kind is ShotKind.PLAY]
    moments = [
        AddRecord(Moment(0, kind, Instant("s1", shot.start.pts + after * second)))
        for shot in play_shots
        for kind, after in ((MomentKind.FULL_WIDE, 2), (MomentKind.SNAP, 5), (MomentKind.DEAD_BALL, 12))
    ]
    run, throw = Play(PlayKind.RUN, gain=4), Play(PlayKind.PASS, gain=7)
    disk.compare("mark a moment", (partial(file.do, moment) for moment in moments))
    disk.compare("tag a play", (partial(file.do, AddPlay(run, shot.id)) for shot in play_shots))
    disk.compare("change a play", (partial(file.do, ChangePlay(tag.id, throw)) for tag in file.game.plays))
    disk.compare("undo", [file.undo] * 200)
    disk.compare("redo", [file.redo] * 200)
    disk.compare("keep what is being typed", (partial(file.keep_draft, f"run {number}") for number in range(200)))
    print(f"close {timed(file.close):33.2f} ms")
    disk.compare("open for reading", [partial(GameFile.open, path, read_only=True)] * 20)
    game = GameFile.open(path, read_only=True).game
    print(f"size {path.stat().st_size / 1024:34.0f} KiB for {len(game.plays)} plays, {len(game.shots)} shots, "
          f"{len(game.moments)} moments and their history")


if __name__ == "__main__":
    if len(sys.argv) > 1:
        main(Path(sys.argv[1]))
    else:
        with tempfile.TemporaryDirectory() as place:
            main(Path(place))
