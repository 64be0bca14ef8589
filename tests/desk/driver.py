"""Drives the real desk by real key presses, saying aloud what is saved, until somebody kills it.

Reads lines ``GAME SEED`` from standard input; each is driven in a forked child, so that the libraries are loaded once.
Says ``pid N``; ``ready R`` once the game is open; ``going R do|undo|redo`` before and ``done R POSITION DIGEST`` after
every change (from the call's return on, revision R must survive anything); ``dead`` when the child has ended.
"""

from __future__ import annotations

import importlib
import os
import sys
import threading
from pathlib import Path
from random import Random

PLAYS = ("run 4", "run -2", "run 0", "pass 12", "pass incomplete", "sack -6", "punt downed opp 12",
         "run 3 holding own 30",
         "field goal good", "kickoff 5 25", "try kick good", "spike", "pass 7 fumble lost own 40", "timeout home",
         "end of period", "run 11 \"good block\"", "pass 2 td", "nonsense 3", "run", "",
         "run 4, trips right, 11, lt", "doubles, 12", "pass 3, no pressure, x7")
KEYS = ("tag.previous_shot", "tag.next_shot", "tag.previous_play", "tag.next_play", "tag.to_snap", "tag.mark.snap",
        "tag.mark.dead_ball", "tag.mark.full_wide", "tag.mark.signal", "tag.frame_ahead", "tag.frame_back", "tag.ahead",
        "tag.back", "tag.split_shot", "tag.merge_shots", "tag.film_play", "tag.remove_moment", "tag.remove_play",
        "tag.new_shot", "tag.clear", "tag.toggle", "tag.confirm_shots", "desk.undo", "desk.redo", "desk.undo",
        "tag.shot.play", "tag.shot.down_marker", "tag.shot.scoreboard")
ANGLE_KEYS = ("desk.angle", "desk.beside", "desk.tie_later", "desk.tie_earlier", "desk.same_moment")


def press(window, id: str) -> None:
    """Press the key that an action has, where the focus is."""
    from PySide6.QtGui import QKeySequence
    from PySide6.QtTest import QTest

    pressed = QKeySequence(window.keys.keys(id)[0])[0]
    QTest.keyClick(window.focusWidget() or window, pressed.key(), pressed.keyboardModifiers())


def type_play(window, text: str) -> None:
    from PySide6.QtTest import QTest

    window.room.line.setFocus()
    window.room.line.selectAll()
    QTest.keyClicks(window.room.line, text)


def act(window, choose: Random) -> None:
    """One thing a coordinator might do next."""
    if choose.random() < 0.55:
        type_play(window, choose.choice(PLAYS))
        if choose.random() < 0.85:
            press(window, choose.choice(["tag.commit", "tag.commit", "tag.commit_stay"]))
    else:
        if choose.random() < 0.7:
            press(window, "tag.clear")
        has_angles = window.session is not None and window.session.whole.angles
        press(window, choose.choice((*KEYS, *ANGLE_KEYS) if has_angles else KEYS))


def open_desk(path: Path, settings: Path):
    """The desk's window with a game open and its first picture on show."""
    from PySide6.QtCore import QSettings
    from PySide6.QtTest import QTest

    from workstation.desk.app import make_application
    from workstation.desk.window import MainWindow

    make_application()
    window = MainWindow(QSettings(str(settings), QSettings.Format.IniFormat))
    window.show()
    window.activateWindow()
    window.opening.take_paths([path])
    for _ in range(8000):
        QTest.qWait(5)
        if window.session is not None and window.room is not None and not window.session.player.frame.isNull():
            return window
    raise RuntimeError(f"{path} did not open: session {window.session}, room {window.room}, {window.message.text}")


def say(*words) -> None:
    os.write(1, (" ".join(map(str, words)) + "\n").encode())


def drive(path: Path, seed: int) -> None:
    from PySide6.QtTest import QTest

    from tests.tagging.sitting import digest
    from workstation.tagging.gamefile import GameFile

    for name in ("do", "undo", "redo"):
        call = getattr(GameFile, name)

        def told(self, *arguments, name=name, call=call):
            say("going", self._revision + 1, name)
            change = call(self, *arguments)
            say("done", self._revision, self._position, digest(self.game))
            return change
        setattr(GameFile, name, told)
    window = open_desk(path, path.parent / "desk.ini")
    say("ready", window.session.file._revision)
    choose = Random(seed)
    while True:
        act(window, choose)
        QTest.qWait(choose.choice((0, 1, 5, 30, 800 if choose.random() < 0.1 else 0)))


def main() -> None:
    import av  # noqa: F401 - before the fork, so that no child loads it again
    import numpy  # noqa: F401

    from workstation.tagging.opening import load_film_parts

    load_film_parts()
    for module in ("tests.tagging.sitting", "workstation.coverage.checker", "workstation.desk.window",
                   "workstation.desk.tag.room", "workstation.desk.review.room", "workstation.desk.sequence.room"):
        importlib.import_module(module)
    assert threading.active_count() == 1, "a fork would lose the other threads"
    for line in sys.stdin:
        path, seed = line.rsplit(maxsplit=1)
        if not (child := os.fork()):
            try:
                drive(Path(path), int(seed))
            except BaseException:
                import traceback
                say("failed", traceback.format_exc().replace("\n", " | "))
            finally:
                os._exit(1)
        say("pid", child)
        os.waitpid(child, 0)
        say("dead")


if __name__ == "__main__":
    main()
