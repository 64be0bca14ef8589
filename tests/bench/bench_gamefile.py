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
from collections.abc import Callable
from fractions import Fraction
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[2]))

from workstation.film.film import Source
from workstation.film.time import Instant
from workstation.football.plays import Play, PlayKind
from workstation.tagging.gamefile import GameFile
from workstation.tagging.model import MomentKind, Shot, ShotKind
from workstation.tagging.operations import AddMoment, AddPlay, AddShots, AddSources, ChangePlay


def timed(work: Callable[[], object]) -> float:
    start = time.perf_counter()
    work()
    return (time.perf_counter() - start) * 1000


def show(what: str, times: list[float], bare: float) -> None:
    median = statistics.median(times)
    print(f"{what:34} median {median:7.2f} ms   95 % {sorted(times)[int(len(times) * 0.95)]:7.2f} ms"
          f"   {median / bare:5.1f} x a bare commit")


def bare_commits(folder: Path) -> float:
    connection = sqlite3.connect(folder / "bare.sqlite", isolation_level=None)
    connection.executescript("PRAGMA journal_mode=WAL; PRAGMA synchronous=FULL; CREATE TABLE t (x)")
    times = [timed(lambda: connection.execute("INSERT INTO t VALUES (?)", ["x" * 300])) for _ in range(200)]
    connection.close()
    return statistics.median(times)


def main(folder: Path) -> None:
    bare = bare_commits(folder)
    print(f"{'a bare commit':34} median {bare:7.2f} ms")
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
    print(f"add 400 shots in one action {timed(lambda: file.do(AddShots(tuple(shots)))):14.2f} ms")
    play_shots = [shot for shot in file.game.shots if shot.kind is ShotKind.PLAY]
    moments, plays = [], []
    for shot in play_shots:
        for kind, after in ((MomentKind.FULL_WIDE, 2), (MomentKind.SNAP, 5), (MomentKind.DEAD_BALL, 12)):
            at = Instant("s1", shot.start.pts + after * second)
            moments.append(timed(lambda kind=kind, at=at: file.do(AddMoment(kind, at))))
        plays.append(timed(lambda shot=shot: file.do(AddPlay(Play(PlayKind.RUN, gain=4), shot.id))))
    show("mark a moment", moments, bare)
    show("tag a play", plays, bare)
    ids = [tag.id for tag in file.game.plays]
    show("change a play",
         [timed(lambda id=id: file.do(ChangePlay(id, Play(PlayKind.PASS, gain=7)))) for id in ids], bare)
    show("undo", [timed(file.undo) for _ in range(200)], bare)
    show("redo", [timed(file.redo) for _ in range(200)], bare)
    show("keep what is being typed", [timed(lambda n=n: file.keep_draft(f"run {n}")) for n in range(200)], bare)
    print(f"close {timed(file.close):36.2f} ms")
    files = []
    show("open", [timed(lambda: files.append(GameFile.open(path, read_only=True))) for _ in range(20)], bare)
    print(f"size {path.stat().st_size / 1024:37.0f} KiB for {len(files[-1].game.plays)} plays, "
          f"{len(files[-1].game.shots)} shots, {len(files[-1].game.moments)} moments and their history")


if __name__ == "__main__":
    if len(sys.argv) > 1:
        main(Path(sys.argv[1]))
    else:
        with tempfile.TemporaryDirectory() as place:
            main(Path(place))
