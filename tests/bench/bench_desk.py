"""How soon the window is there, how long the UI thread ever stands still, and how soon a key is answered.

    QT_QPA_PLATFORM=offscreen python -m tests.bench.bench_desk

A stall is the longest time between two turns of the event loop while one thing is done, seen by a timer
that wants a turn every 5 ms. Beside it, the most processor time that the UI thread itself used between two
turns: on a busy machine the difference is waiting for others.
"""

from __future__ import annotations

import subprocess
import sys
import tempfile
from pathlib import Path
from time import perf_counter, thread_time

START = """
from time import perf_counter
begun = perf_counter()
from PySide6.QtCore import QSettings
from PySide6.QtWidgets import QApplication
app = QApplication([])
app.setStyle("Fusion")
from workstation.desk.window import MainWindow
window = MainWindow(QSettings({path!r}, QSettings.Format.IniFormat))
window.show()
app.processEvents()
print(perf_counter() - begun)
"""


def opening(folder: str) -> list[float]:
    """Seconds from the start of the program to the shown window, first run dropped."""
    took = []
    for _ in range(4):
        run = subprocess.run([sys.executable, "-c", START.format(path=f"{folder}/start.ini")], capture_output=True,
                             text=True, check=True)
        took.append(float(run.stdout))
    return took[1:]


class Watch:
    """Measures the longest stall of the event loop while it is open, and names it."""

    def __init__(self, name: str, report: list[tuple[str, float, float]]):
        from PySide6.QtCore import QTimer
        self._name, self._report = name, report
        self._timer = QTimer(interval=5, timeout=self._turn)

    def _turn(self) -> None:
        now, used = perf_counter(), thread_time()
        self._longest = max(self._longest, now - self._last)
        self._most = max(self._most, used - self._used)
        self._last, self._used = now, used

    def __enter__(self) -> None:
        self._last, self._used, self._longest, self._most = perf_counter(), thread_time(), 0.0, 0.0
        self._timer.start()

    def __exit__(self, *_) -> None:
        self._turn()
        self._timer.stop()
        self._report.append((self._name, self._longest, self._most))


def main() -> None:
    from PySide6.QtCore import QSettings, Qt
    from PySide6.QtTest import QTest
    from PySide6.QtWidgets import QApplication
    from workstation.demo.game_file import write_demo_game

    with tempfile.TemporaryDirectory() as folder:
        print("window shown after", ", ".join(f"{seconds:.2f} s" for seconds in opening(folder)))
        path = write_demo_game(Path(folder, "demo"), width=640)
        app = QApplication.instance() or QApplication([])
        app.setStyle("Fusion")
        from workstation.desk.window import MainWindow
        window = MainWindow(QSettings(f"{folder}/desk.ini", QSettings.Format.IniFormat))
        window.show()
        window.activateWindow()
        stalls: list[tuple[str, float, float]] = []
        with Watch("reading the parts, building the Tag room", stalls):
            while "Tag" not in window.rooms:
                QTest.qWait(5)
            QTest.qWait(1500)
        with Watch("opening the demo game", stalls):
            window.open_game(path)
            while window.session is None or window.session.player.frame.isNull():
                QTest.qWait(5)
            QTest.qWait(500)
        room, session = window.room, window.session
        room.go_to_row(7)
        QTest.qWait(300)
        answers = []
        with Watch("typing and keeping plays", stalls):
            for text in ("r7", "p12", "i", "s4", "pu22 28"):
                for character in text:
                    begun = perf_counter()
                    QTest.keyClicks(room.line, character)
                    answers.append(perf_counter() - begun)
                    QTest.qWait(15)
                QTest.keyClick(room.line, Qt.Key.Key_Return)
                QTest.keyClick(room.line, Qt.Key.Key_Return)
                QTest.qWait(60)
        with Watch("undoing", stalls):
            for _ in range(5):
                window.undo()
                QTest.qWait(30)
        with Watch("playing for three seconds, marking", stalls):
            session.play()
            for key in "\\[]'":
                QTest.qWait(700)
                QTest.keyClick(room.line, key)
            session.pause()
            QTest.qWait(200)
        with Watch("stepping 30 pictures", stalls):
            for _ in range(30):
                session.step(1)
                QTest.qWait(20)
        for name in ("Review", "Sequence", "Tag", "Review", "Sequence"):
            with Watch(f"entering {name}", stalls):
                window.go_to(name)
                QTest.qWait(300)
        with Watch("light and dark", stalls):
            window.toggle_look()
            QTest.qWait(50)
        with Watch("closing the game", stalls):
            window.close_game()
            QTest.qWait(50)
        window.close()
        print("   stall   own processor time")
        for name, longest, most in stalls:
            print(f"{longest * 1000:8.1f} {most * 1000:8.1f} ms  while {name}")
        answers.sort()
        print(f"a typed character is answered in {answers[len(answers) // 2] * 1000:.1f} ms median, "
              f"{answers[-1] * 1000:.1f} ms at most")


if __name__ == "__main__":
    main()
