"""The whole program in a process of its own: nothing but its own words on the terminal, whatever plays."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parent.parent.parent
PLAYED = """
import os, sys
from pathlib import Path
from PySide6.QtCore import QTimer
from workstation.desk import app, window
from workstation.film import playback

usual = playback.best_engine
playback.best_engine = lambda prefer=None: usual(sys.argv[2])

class Watched(window.MainWindow):
    def show_as_left(self):
        super().show_as_left()
        self.turns = 0
        self.watch = QTimer(self)
        self.watch.timeout.connect(self.look)
        self.watch.start(50)

    def look(self):
        if self.session is None or self.session.player.frame.isNull():
            return
        self.turns += 1
        if self.turns == 1:
            self.session.toggle()
            os.write(2, b"a library's own words")
        if self.turns == 60:
            assert self.session.player.engine_name, "no player"
            print("played through", self.session.player.engine_name.split()[0])
            self.close()

window.MainWindow = Watched
sys.exit(app.run(Path(sys.argv[1])))
"""


@pytest.mark.parametrize(("player", "name"), [("vlc", "VLC"), ("qt", "the")])
def test_the_terminal_hears_nothing_of_libraries(small_game, tmp_path, player, name):
    if player == "vlc":
        pytest.importorskip("vlc")
    environment = {key: value for key, value in os.environ.items() if key != "FILM_WORKSTATION_VLC"}    # no sound card
    done = subprocess.run([sys.executable, "-c", PLAYED, str(small_game), player], cwd=ROOT, capture_output=True,
                          text=True, timeout=200, check=False,
                          env={**environment, "FILM_WORKSTATION_STATE": str(tmp_path / "state"),
                               "HOME": str(tmp_path), "XDG_CONFIG_HOME": str(tmp_path / "config")})
    assert (done.stdout, done.stderr) == (f"played through {name}\n", "")
    assert done.returncode == 0
    assert "a library's own words" in (tmp_path / "state" / "desk.log").read_text()
