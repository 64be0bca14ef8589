"""How long the timeline takes to repaint: 3 hours of film, 500 shots, 250 plays, 150 findings, 1920 pixels wide.

Run it by hand: ``QT_QPA_PLATFORM=offscreen python tests/bench/bench_timeline.py``
"""

from __future__ import annotations

import os
import statistics
import sys
import tempfile
import time
from pathlib import Path

import numpy as np

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
sys.path[:0] = [str(Path(__file__).parents[2]), str(Path(__file__).parents[1] / "desk")]

from big_game import big_game
from PySide6.QtCore import QSettings
from PySide6.QtGui import QImage
from PySide6.QtWidgets import QApplication

from workstation.desk.jobs import Jobs
from workstation.desk.keys import KeyMap
from workstation.desk.room import Desk
from workstation.desk.theme import Theme
from workstation.desk.timeline.lanes import Basis
from workstation.desk.timeline.view import TimelineView
from workstation.film.film_sound import Sound
from workstation.tagging.layout import FilmLayout


def spent(work, times: int) -> list[tuple[float, float]]:
    """Milliseconds by the wall clock, and of this thread's processor time (which other work on the machine leaves
    alone)."""
    taken = []
    for n in range(times):
        before, worked = time.perf_counter(), time.thread_time()
        work(n)
        taken.append(((time.perf_counter() - before) * 1000, (time.thread_time() - worked) * 1000))
    return taken


def told(name: str, taken: list[tuple[float, float]]) -> None:
    wall, worked = (sorted(column) for column in zip(*taken, strict=True))
    print(f"{name:42} median {statistics.median(wall):6.2f} ms (processor {statistics.median(worked):5.2f})"
          f"   95 % {wall[int(len(wall) * 0.95)]:6.2f} ms ({worked[int(len(worked) * 0.95)]:5.2f})")


def main() -> None:
    app = QApplication([])
    theme = Theme(app)
    theme.apply(dark=True)
    settings = QSettings(str(Path(tempfile.mkdtemp()) / "desk.ini"), QSettings.Format.IniFormat)
    view = TimelineView(Desk(KeyMap(settings), theme, Jobs(), settings))
    view.resize(1920, 240)
    game, steps, coverage = big_game()
    told("prepare the whole game after a change",
         spent(lambda n: view._show(Basis(game, steps, coverage, FilmLayout(game))), 20))
    view.lane("sound")._film = game.film
    picture = QImage(320, 180, QImage.Format.Format_RGB888)
    picture.fill(0x335533)
    view._thumbnail = lambda at: picture
    rng = np.random.default_rng(1)
    view.lane("sound").show(game.film,
                            Sound(0.05, rng.uniform(-60, 0, 3 * 3600 * 20), np.sort(rng.uniform(0, 3 * 3600, 260))))
    view.choose("findings", "finding 70")
    view.show()
    app.processEvents()

    def repaint(_):
        view._stale = True
        view.grab()

    for name, window in (("whole film", None), ("one hour", 3600), ("ten minutes", 600), ("one minute", 60),
                         ("two seconds, single pictures", 2)):
        view.show_whole()
        if window:
            view.show_span(5000, 5000 + window)
        told(f"repaint everything: {name}", spent(repaint, 60))
    view.show_span(5000, 5600)

    def scroll(n):
        view._move(view.scale.panned(17 if n % 400 < 200 else -17))
        view.repaint()
        app.processEvents()

    told("scroll step in ten minutes (60 Hz: 16.7)", spent(scroll, 300))

    def play(n):
        view.time = 5000 + n / 30
        view.repaint()

    told("move the playhead only", spent(play, 200))
    grow = spent(lambda n: (view.zoom(1.05 if n % 80 < 40 else 1 / 1.05, 900), view.repaint()), 240)
    told("zoom step", grow)


if __name__ == "__main__":
    main()
