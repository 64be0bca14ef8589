"""What a game of 2,000 plays and 10,000 shots costs beside one of 200 and 1,000: a sheet taken in, a play kept, a mark,
undo.

Run: python tests/bench/bench_large_game.py
Milliseconds of the processor in the thread that acts; the ratio is the large game to the small one, 10 where it is
linear. The desk's share is all that the session does until the screens are told, with the Tag room open on the game.
"""

from __future__ import annotations

import os
import statistics
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
sys.path.insert(0, str(Path(__file__).parents[2]))

from tests.tagging.builders import at, source
from workstation.film.film import Film
from workstation.football.plays import Play, PlayKind
from workstation.football.rulebook import load_rulebook
from workstation.football.sheet import SheetRow, read_rows, write_rows
from workstation.tagging.game_order import untagged
from workstation.tagging.gamefile import GameFile
from workstation.tagging.model import Game, Moment, MomentKind, Shot, ShotKind
from workstation.tagging.operations import AddPlay, AddRecord
from workstation.tagging.records import Kind
from workstation.tagging.row_matching import match, take_in

KINDS = (ShotKind.PLAY, ShotKind.DOWN_MARKER, ShotKind.SCOREBOARD, ShotKind.EXTRA, ShotKind.DOWN_MARKER)
TRIES = 15


def timed(work: Callable[[], object]) -> float:
    began = time.thread_time()
    work()
    return (time.thread_time() - began) * 1000


def main(plays: int, folder: Path) -> dict[str, float]:
    """Milliseconds by what was done."""
    film = Film((source("s1", folder, seconds=plays * len(KINDS) * 10 + 100),))
    shots = tuple(Shot(number + 1, at(number * 10), at(number * 10 + 9), KINDS[number % len(KINDS)])
                  for number in range(plays * len(KINDS)))
    rows = [SheetRow(Play(PlayKind.RUN, gain=float(number % 7))) for number in range(plays)]
    book = load_rulebook("nfhs")
    cells, found = write_rows(rows, book), {}
    path = folder / f"{plays}.game"
    with GameFile.create(path, game=Game(film=film, shots=shots)) as file:
        found["read the rows of a sheet"] = timed(lambda: read_rows(cells, book))
        pairing = []
        found["pair them with shots"] = timed(lambda: pairing.append(match(rows, untagged(file.game))))
        taken = []
        found["make one action of it"] = timed(lambda: taken.append(take_in(
            file.game, rows, pairing[0].shot_of, file.next_id(Kind.PLAY))))
        found["save it"] = timed(lambda: file.do(taken[0]))
    found["open the game again"] = timed(lambda: GameFile.open(path, read_only=True))
    return found | in_the_desk(path)


def in_the_desk(path: Path) -> dict[str, float]:
    from PySide6.QtCore import QSettings

    from workstation.desk.app import make_application
    from workstation.desk.window import MainWindow
    app = make_application()
    window = MainWindow(QSettings(str(path.with_suffix(".ini")), QSettings.Format.IniFormat))
    window.show()
    window.opening.open_game(path)
    until = time.monotonic() + 120
    while (window.session is None or window.room is None) and time.monotonic() < until:
        app.processEvents()
    session = window.session
    assert session is not None, window.message.text
    for _ in range(50):
        app.processEvents()
    found: dict[str, list[float]] = {}

    def each(name: str, work: Callable[[], object]) -> None:
        found.setdefault(name, []).append(timed(work))
        found.setdefault(f"{name}, with what follows on the screen",
                         []).append(found[name][-1] + timed(app.processEvents))

    for number in range(TRIES):
        each("keep a play", lambda: session.do(AddPlay(Play(PlayKind.RUN, gain=2.0), None)))
        each("mark a moment", lambda n=number: session.do(AddRecord(Moment(0, MomentKind.SNAP, at(n * 10 + 3)))))
        each("undo", session.undo)
        each("redo", session.redo)
    window.close()
    return {name: statistics.median(times) for name, times in found.items()}


if __name__ == "__main__":
    with tempfile.TemporaryDirectory() as place:
        small, large = main(200, Path(place)), main(2000, Path(place))
    print(f"{'':45}{'200 plays':>12}{'2,000 plays':>14}{'ratio':>8}")
    for name, took in large.items():
        print(f"{name:45}{small[name]:9.1f} ms{took:11.1f} ms{took / max(small[name], 0.01):8.1f}")
