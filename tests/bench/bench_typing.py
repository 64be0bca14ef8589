"""Types twenty real games into the real Tag room and prints what it took, beside a spreadsheet.

    python -m tests.bench.bench_typing [GAMES]
"""

from __future__ import annotations

import os
import sys
import tempfile
from collections import Counter
from pathlib import Path
from statistics import median
from time import perf_counter

from PySide6.QtCore import QSettings
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from tests.desk.typing_effort import line_seconds, plays_of, sample, spreadsheet_seconds, type_game
from tests.outside.rulebook_cases.test_rulebook_cases import situation
from tests.outside.spoken_lines.test_spoken_lines import CASES
from workstation.desk.window import MainWindow
from workstation.football.notation import read
from workstation.football.rulebook import load_rulebook
from workstation.tagging.gamefile import GameFile
from workstation.tagging.model import Heading


def main(count: int) -> None:
    os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
    app = QApplication.instance() or QApplication([])
    app.setStyle("Fusion")
    counts, sheet_keys, sheet_seconds, kinds, unequal = [], [], [], {}, 0
    typing = 0.0
    with tempfile.TemporaryDirectory() as folder:
        window = MainWindow(QSettings(f"{folder}/desk.ini", QSettings.Format.IniFormat))
        window.show()
        window.activateWindow()
        for game, rulebook in sample(count):
            plays = plays_of(game, rulebook)
            path = Path(folder, f"{game.id}.game")
            GameFile.create(path, Heading(game.id, game.home, game.visitors, rulebook=rulebook.name,
                                          season=rulebook.season)).close()
            window.opening.open_game(path)
            while window.session is None or window.session.file.path != path:
                QTest.qWait(5)
            start = perf_counter()
            keys = type_game(window.room, plays, rulebook)
            typing += perf_counter() - start
            unequal += [tag.play for tag in window.session.game.plays] != plays
            counts += keys
            for play, pressed in zip(plays, keys, strict=True):
                kinds.setdefault(play.kind.value, []).append(pressed)
                pressed_there, seconds = spreadsheet_seconds(play, rulebook)
                sheet_keys.append(pressed_there)
                sheet_seconds.append(seconds)
            print(f"{game.visitors} at {game.home}, {game.season}: {len(plays)} plays, "
                  f"{sum(keys) / len(keys):.2f} keys a play", flush=True)
        window.close()
    total = len(counts)
    print(f"\n{count} games, {total} plays, {unequal} games whose tags differ from the direct conversion")
    print(f"mean {sum(counts) / total:.2f} keys a play, median {sorted(counts)[total // 2]}, most {max(counts)}")
    for keys, plays in sorted(Counter(counts).items()):
        print(f"{keys:4} keys {plays:5}  {'#' * max(1, round(plays / total * 120))}")
    for kind, pressed in sorted(kinds.items(), key=lambda item: -len(item[1])):
        print(f"{kind:22}{len(pressed):5} plays {sum(pressed) / len(pressed):6.2f} keys")
    line = sum(map(line_seconds, counts)) / total
    sheet = sum(sheet_seconds) / total
    print(f"keystroke-level model: line {line:.2f} s a play, spreadsheet {sheet:.2f} s "
          f"({sum(sheet_keys) / total:.1f} keys): {sheet / line:.1f} times as long")
    print(f"one reading of a line as it stands after each key: median {read_after_each_key():.3f} ms")
    print(f"the window took {typing / sum(counts) * 1000:.1f} ms a key in all, saving and drawing included")


def read_after_each_key() -> float:
    """Milliseconds that a reading takes, words offered included, in the middle of those after each key of the spoken
    lines in tests/outside/spoken_lines."""
    times = []
    for _, case in CASES:
        book = load_rulebook(case["rulebook"])
        before = situation(case["before"], book, case)
        for keys in range(1, len(case["line"]) + 1):
            start = perf_counter()
            _ = read(case["line"][:keys], before, book).options
            times.append(perf_counter() - start)
    return median(times) * 1000


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 20)
