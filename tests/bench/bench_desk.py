"""How soon the window is there, how long the UI thread ever stands still, and how soon a key is answered.

    python -m tests.bench.bench_desk

A stall is the longest time between two turns of the event loop while one thing is done: by the clock on the wall,
without waiting for a free processor, and what of it was the UI thread's own work (see :mod:`tests.bench.stalls`).

An installed desk has its modules compiled; reading their source takes the interpreter from the UI thread for as long
as one module takes. So all is done twice, with a place of its own for compiled modules, and only the second is told.
"""

from __future__ import annotations

import os
import subprocess
import sys
import tempfile
from pathlib import Path
from time import perf_counter

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
os.environ.setdefault("FILM_WORKSTATION_VLC", "--aout=dummy")

START = """
from time import perf_counter
begun = perf_counter()
from PySide6.QtCore import QSettings
from workstation.desk.app import make_application
app = make_application()
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


def wait(milliseconds: int) -> None:
    """Let the event loop run. QTest.qWait would keep the interpreter to itself meanwhile, and starve all other
    threads."""
    from PySide6.QtCore import QEventLoop, QTimer
    loop = QEventLoop()
    QTimer.singleShot(milliseconds, loop.quit)
    loop.exec()


def main() -> None:
    from PySide6.QtCore import QSettings, Qt
    from PySide6.QtTest import QTest
    from workstation.demo.game_file import write_demo_game

    from tests.bench.stalls import Watch
    from workstation.desk.app import make_application

    with tempfile.TemporaryDirectory() as folder:
        print("window shown after", ", ".join(f"{seconds:.2f} s" for seconds in opening(folder)))
        path = write_demo_game(Path(folder, "demo"), width=640)
        make_application()
        from workstation.desk.window import MainWindow
        window = MainWindow(QSettings(f"{folder}/desk.ini", QSettings.Format.IniFormat))
        window.show()
        window.activateWindow()
        stalls: list[Watch] = []

        def watch(name: str) -> Watch:
            stalls.append(Watch(name))
            return stalls[-1]

        with watch("reading the parts, building the Tag room"):
            while "Tag" not in window.rooms:
                wait(5)
            wait(1500)
        with watch("opening the demo game"):
            window.opening.open_game(path)
            while window.session is None or window.session.player.frame.isNull():
                wait(5)
            wait(500)
        room, session = window.room, window.session
        room.go_to_row(7)
        wait(300)
        answers = []
        with watch("typing and keeping plays"):
            for text in ("r7", "p12", "i", "s4", "pu22 28"):
                for character in text:
                    begun = perf_counter()
                    QTest.keyClicks(room.line, character)
                    answers.append(perf_counter() - begun)
                    wait(15)
                for _ in range(2):      # again, if the line was warned about
                    QTest.keyClick(room.line, Qt.Key.Key_Return)
                    wait(60)
        with watch("undoing"):
            for _ in range(5):
                window.undo()
                wait(30)
        with watch("playing for three seconds, marking"):
            session.play()
            for key in "\\[]'":
                wait(700)
                QTest.keyClick(room.line, key)
            session.pause()
            wait(200)
        with watch("stepping 30 pictures"):
            for _ in range(30):
                session.step(1)
                wait(20)
        for name in ("Review", "Sequence", "Tag", "Review", "Sequence"):
            with watch(f"entering {name}"):
                window.ask_for(name)
                while window.room.name != name:
                    wait(5)
                wait(300)
        with watch("light and dark"):
            window.toggle_look()
            wait(500)
        with watch("closing the game"):
            window.close_game()
            wait(50)
        window.close()
        print(" on the wall   processor free   own work")
        for seen in stalls:
            print(
                f"{seen.wall * 1000:9.0f} ms {seen.free * 1000:13.0f} ms {seen.own * 1000:7.0f} ms  while {seen.name}")
        answers.sort()
        print(f"a typed character is answered in {answers[len(answers) // 2] * 1000:.1f} ms median, "
              f"{answers[-1] * 1000:.1f} ms at most")


def like_installed() -> None:
    """Run this again in processes that keep compiled modules, first to have them and then to measure."""
    with tempfile.TemporaryDirectory() as folder:
        environment = {**os.environ, "PYTHONPYCACHEPREFIX": folder, "PYTHONDONTWRITEBYTECODE": ""}
        command = [sys.executable, "-m", "tests.bench.bench_desk", "measure"]
        subprocess.run(command, env=environment, stdout=subprocess.DEVNULL, check=True)
        subprocess.run(command, env=environment, check=True)


if __name__ == "__main__":
    main() if "measure" in sys.argv else like_installed()
