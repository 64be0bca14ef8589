"""Rooms are made part by part, and nothing that stands on Qt is read in another thread than the UI's."""

from __future__ import annotations

import os
import subprocess
import sys

from workstation.desk.rooms import ROOMS, RoomBuilder

# While a thread reads a module with classes that stand on Qt's, the UI thread may find no class for an object and end.
SITTING = """
import sys, threading
read_in = {}

class Finder:
    def find_spec(self, name, path=None, target=None):
        read_in[name] = threading.current_thread().name

sys.meta_path.insert(0, Finder())
from pathlib import Path
from PySide6.QtCore import QEventLoop, QObject, QSettings, QTimer
from workstation.desk.app import make_application
app = make_application()
from workstation.desk.window import MainWindow
window = MainWindow(QSettings(sys.argv[1] + "/desk.ini", QSettings.Format.IniFormat))
window.show()
if sys.argv[3] == "at once":
    window.opening.open_game(Path(sys.argv[2]))

def wait(milliseconds):
    loop = QEventLoop()
    QTimer.singleShot(milliseconds, loop.quit)
    loop.exec()

for _ in range(600):
    wait(50)
    if "Tag" in window.rooms and window.session is None and not window.jobs.running:
        window.opening.open_game(Path(sys.argv[2]))
    if len(window.rooms) == 3 and not window.session.player.frame.isNull():
        break
else:
    sys.exit("the rooms are not there")
window.close()
main = threading.main_thread().name
wrong = {name for name, module in list(sys.modules.items())
         for each in list(vars(module).values())
         if isinstance(each, type) and issubclass(each, QObject) and each.__module__ == name
         and read_in.get(name, main) != main}
print(sorted(wrong), len(read_in) > 100)
"""


def sit(tmp_path, game, when: str) -> str:
    done = subprocess.run([sys.executable, "-c", SITTING, str(tmp_path), str(game), when], check=False,
                          capture_output=True,
                          text=True, timeout=60, env={**os.environ, "QT_QPA_PLATFORM": "offscreen"})
    assert done.returncode == 0, done.stderr
    return done.stdout


def test_modules_on_qt_are_read_in_the_ui_thread_while_the_desk_warms_up(tmp_path, small_game):
    assert sit(tmp_path, small_game, "later") == "[] True\n"


def test_and_where_a_game_is_opened_at_once(tmp_path, small_game):
    assert sit(tmp_path, small_game, "at once") == "[] True\n"


def test_a_room_that_is_half_made_is_finished_when_it_is_entered(qtbot, opened):
    builder = RoomBuilder(opened.desk, opened.stack, lambda: True, opened)
    told = []
    for plan in ROOMS:
        builder.prepare(plan.name, lambda name=plan.name: told.append(name))
    builder._build_on()
    assert not builder.rooms and not told
    room = builder.room("Tag")
    assert builder.rooms == {"Tag": room} and room.line is room.panel.line
    qtbot.waitUntil(lambda: sorted(told) == ["Review", "Sequence", "Tag"], timeout=10000)
    assert builder.room("Tag") is room
