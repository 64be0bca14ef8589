"""Hours of tagging and playing over a three-hour film, hurried: does the desk grow, leak or slow down?

    python tests/bench/bench_long_evening.py [MINUTES]

The real window, offscreen, on a film of 99 sources (one small file under many ids): plays typed and kept, shots and
moments marked, seeks all over the film, short spells of playing, undo, the three rooms in turn. No pauses for thought:
one minute here is many of a coordinator's. Prints memory, threads, file handles and latencies for each tenth of the
time, and what the last three tenths are to the third, when everything has been warm for a while. Only threads and
handles are held by a test (tests/desk/test_long_evening.py).
"""

from __future__ import annotations

import json
import os
import statistics
import sys
import tempfile
import time
from dataclasses import replace
from pathlib import Path
from random import Random

sys.path.insert(0, str(Path(__file__).parents[2]))
os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
os.environ.setdefault("FILM_WORKSTATION_VLC", "--aout=dummy")

SOURCES = 99        # of 110 seconds: three hours


def evening(folder: Path, seconds: float) -> list[dict]:
    """Drive the desk for *seconds*; returns what was measured at the end of each tenth."""
    from PySide6.QtTest import QTest

    from tests.desk.driver import act, open_desk, press, type_play
    from tests.desk.small_game import make_film, make_game
    from workstation.film.film import Film
    from workstation.tagging.gamefile import GameFile

    with GameFile.open(make_game(folder, make_film(folder))) as file:
        game = file.game
    (source,) = game.film.sources
    game = replace(game, film=Film((source, *(replace(source, id=f"{source.id}-{n}") for n in range(1, SOURCES)))))
    path = folder / "evening.game"
    GameFile.create(path, game=game).close()
    window = open_desk(path, folder / "desk.ini")
    choose, measured, began = Random(1), [], time.monotonic()
    keeping: list[float] = []
    seeking: list[float] = []
    acts = played = 0
    while len(measured) < 10:
        session = window.session
        acts += 1
        window.room.name == "Tag" and act(window, choose)
        if choose.random() < 0.25:      # keep a play, timed from the key to the call's return
            type_play(window, "run 3")
            start = time.perf_counter()
            press(window, "tag.commit")
            keeping.append(time.perf_counter() - start)
        if choose.random() < 0.3:       # a seek, timed until the exact picture is on show
            start = time.perf_counter()
            session.seek(session.film.instant_at(choose.uniform(0, float(session.film.duration) - 1)))
            while session.player.waiting and time.perf_counter() - start < 10:
                QTest.qWait(1)
            seeking.append(time.perf_counter() - start)
        if choose.random() < 0.1:
            session.play()
            QTest.qWait(250)
            session.pause()
            played += 1
        if choose.random() < 0.03:
            for room in ("Review", "Sequence", "Tag"):
                window.go_to(room)
                QTest.qWait(40)
        while len(session.game.plays) > 150:        # a game has so many; the evening goes on correcting them
            session.undo()
        QTest.qWait(1)
        if time.monotonic() - began >= seconds * (len(measured) + 1) / 10:
            QTest.qWait(500)
            measured.append({
                "seconds": round(time.monotonic() - began), "acts": acts, "spells of playing": played,
                "memory MB": _memory(), "threads": len(os.listdir("/proc/self/task")),
                "handles": len(os.listdir("/proc/self/fd")),
                "keep ms": round(1000 * statistics.median(keeping or [0]), 1),
                "seek ms": round(1000 * statistics.median(seeking or [0]), 1), "plays": len(session.game.plays)})
            keeping.clear(), seeking.clear()
    revision = window.session.file._revision
    window.close()
    measured[-1]["changes"] = revision
    return measured


def _memory() -> int:
    """Resident memory in MB."""
    pages = int(Path("/proc/self/statm").read_text().split()[1])
    return pages * os.sysconf("SC_PAGE_SIZE") >> 20


def main(arguments: list[str]) -> None:
    as_json = "--json" in arguments
    numbers = [float(argument) for argument in arguments if argument != "--json"]
    with tempfile.TemporaryDirectory() as place:
        measured = evening(Path(place), 60 * (numbers[0] if numbers else 10))
    if as_json:
        print(json.dumps(measured), flush=True)
        return
    names = [name for name in measured[0]]
    print("  ".join(f"{name:>9}" for name in names))
    for row in measured:
        print("  ".join(f"{row[name]:>{max(9, len(name))}}" for name in names))
    warm, late = measured[2], measured[7:]
    for name in ("memory MB", "threads", "handles", "keep ms", "seek ms"):
        print(f"{name}: last three tenths {statistics.mean(row[name] for row in late) / max(warm[name], 1e-9):.2f} "
              "times the third")
    print(f"{measured[-1]['changes']} changes saved")


if __name__ == "__main__":
    main(sys.argv[1:])
