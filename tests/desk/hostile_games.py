"""The desk's own window is given game files that say what cannot be: it shows them or says why not, and stays alive.

``python -m tests.desk.hostile_games 300 [seed]``: files from :mod:`tests.tagging.hostile` are opened one after the
other in one window, offscreen; those that open are shown in all three rooms. The window works in a child; a crash is
one loss.
"""

from __future__ import annotations

import multiprocessing
import os
import shutil
import sys
import tempfile
import time
import traceback
from collections import Counter
from pathlib import Path
from random import Random

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

from tests.tagging.hostile import digest, make, spoil

SECONDS = 10
BATCH = 100


def batch(seed: int, first: int, rounds: int, pipe) -> None:
    from PySide6.QtCore import QSettings

    from workstation.desk.app import make_application
    from workstation.desk.rooms import ROOMS
    from workstation.desk.window import MainWindow
    work = Path(tempfile.mkdtemp(dir="/dev/shm" if os.path.isdir("/dev/shm") else None))
    raised: list[str] = []
    sys.excepthook = lambda *error: raised.append("".join(traceback.format_exception(*error)[-8:]))
    app = make_application()
    window = MainWindow(QSettings(str(work / "desk.ini"), QSettings.Format.IniFormat))
    window.show()
    made = make(work / "made")

    def turn(until, seconds: float = SECONDS) -> bool:
        end = time.monotonic() + seconds
        while not until():
            if time.monotonic() > end:
                return False
            app.processEvents()
            time.sleep(0.001)
        return True

    for number in range(first, first + rounds):
        choose = Random(f"{seed} {number}")
        folder = work / f"game {number}"
        shutil.copytree(made.parent, folder)
        path = folder / made.name
        # most spoilt files are refused alike; the desk is for those that may open
        what = spoil(path, choose)
        pipe.send(("begin", number, what))
        before = digest(folder)
        window.message.hide()
        window.opening.open_game(path)
        if not turn(lambda: not window.jobs.running):
            pipe.send(("loss", number, f"{what}\nstill opening after {SECONDS} s"))
        turn(lambda: window.session is not None or window.message.isVisible(), 2)
        if window.session is None:
            if not window.message.isVisible():
                raised.append("neither opened nor refused")
            if digest(folder) != before:
                raised.append("something was written though it was refused")
            result = "refused"
        else:
            for plan in ROOMS:
                window.ask_for(plan.name)
                turn(lambda name=plan.name: window.room is window.rooms.get(name) and window.room is not None, 5)
                for _ in range(5):
                    app.processEvents()
            window.game.undo()
            window.game.redo()
            turn(lambda: window.session.coverage is not None or window.message.isVisible(), 3)
            window.close_game()
            result = "shown"
        if raised:
            pipe.send(("loss", number, what + "\n" + "\n".join(raised)))
            raised.clear()
        pipe.send(("end", number, result))
        shutil.rmtree(folder, ignore_errors=True)
    window.close()
    shutil.rmtree(work, ignore_errors=True)
    pipe.send(("done", number, ""))
    pipe.close()
    os._exit(0)


def attack(rounds: int, seed: int) -> tuple[Counter, list[tuple[int, str]]]:
    counted, losses, number = Counter(), [], 0
    while number < rounds:
        ours, theirs = multiprocessing.Pipe()
        child = multiprocessing.get_context("spawn").Process(
            target=batch, args=(seed, number, min(BATCH, rounds - number), theirs))
        child.start()
        theirs.close()
        what = ""
        try:
            while True:
                if not ours.poll(60):
                    child.kill()
                    losses.append((number, f"{what}\nthe window hangs"))
                    number += 1
                    break
                word, number, told = ours.recv()
                if word == "begin":
                    what = told
                elif word == "loss":
                    losses.append((number, told))
                elif word == "end":
                    counted[told] += 1
                    number += 1
                elif word == "done":
                    number += 1
                    break
        except EOFError:
            child.join()
            losses.append((number, f"{what}\nthe desk ended with {child.exitcode}"))
            number += 1
        child.join(20)
    return counted, losses


if __name__ == "__main__":
    wanted = int(sys.argv[1]) if len(sys.argv) > 1 else 100
    seed = int(sys.argv[2]) if len(sys.argv) > 2 else Random().randrange(10**6)
    counted, losses = attack(wanted, seed)
    for number, why in losses[:20]:
        print(f"--- {number}: {why}")
    print(f"seed {seed}: {wanted} files, {dict(counted)}, {len(losses)} losses")
    sys.exit(bool(losses))
