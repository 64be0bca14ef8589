"""What comes of background work arrives on the UI thread, once, and nowhere else are threads started."""

from __future__ import annotations

import ast
import os
import subprocess
import sys
import threading
from pathlib import Path

import pytest
from PySide6.QtCore import QObject

from workstation import desk
from workstation.cancelling import Cancelled
from workstation.desk.jobs import Job, Progress


@pytest.fixture
def ended(qtbot):
    """Runs work to its end; returns what arrived, and in which threads."""
    owner = QObject()

    def run(work, act=lambda job: None):
        heard = []

        def hear(word):
            return lambda *said: heard.append((word, *said, threading.current_thread() is threading.main_thread()))
        job = Job("a test", work, hear("result"), hear("error"), hear("cancelled"), parent=owner)
        with qtbot.waitSignal(job.ended):
            job.start()
            act(job)
        return heard
    return run


def test_a_result_arrives_on_the_ui_thread(ended):
    at = []
    assert ended(lambda progress: at.append(threading.current_thread()) or 5) == [("result", 5, True)]
    assert at[0] is not threading.main_thread()


def test_an_error_arrives_in_its_words(ended):
    def work(progress):
        raise OSError("the disk is full")
    assert ended(work) == [("error", "the disk is full", True)]


def test_cancelled_work_is_said_to_be(ended):
    begun = threading.Event()

    def work(progress):
        begun.set()
        while True:
            progress(0)
    assert ended(work, lambda job: begun.wait(5) and job.cancel()) == [("cancelled", True)]


def test_an_owner_that_is_gone_hears_nothing_and_its_work_ends(qtbot):
    owner, heard, go_on = QObject(), [], threading.Event()
    job = Job("a test", lambda progress: go_on.wait(5), heard.append, parent=owner).start()
    owner.deleteLater()
    with qtbot.waitSignal(owner.destroyed):
        pass
    go_on.set()
    job.wait(5)
    qtbot.waitUntil(lambda: not job._thread.is_alive())
    assert heard == []


DELETED_MEANWHILE = """
import os
os.environ["QT_QPA_PLATFORM"] = "offscreen"
import shiboken6
from PySide6.QtCore import QCoreApplication, QObject
from workstation.desk import jobs

application, jobs._BETWEEN = QCoreApplication([]), 0.0
for turn in range(40):
    owner, reporting = QObject(), []

    def work(progress):
        while True:
            reporting.append(progress.report(1, 2))

    job = jobs.Job("a test", work, parent=owner).start()
    while not reporting:
        application.processEvents()
    shiboken6.delete(owner)
    job._thread.join(20)
    assert not job._thread.is_alive()
    application.processEvents()
print("well")
"""

HEARD_MEANWHILE = """
import os
os.environ["QT_QPA_PLATFORM"] = "offscreen"
import threading
from types import SimpleNamespace
import numpy, shiboken6
from PySide6.QtCore import QObject, Signal
from PySide6.QtWidgets import QApplication, QStackedWidget
from workstation.desk.beside import Beside, BesideMode
from workstation.desk.first_look import FirstLook
from workstation.desk.player import Player

PICTURE = SimpleNamespace(bgra=lambda: numpy.zeros((2, 2, 4), numpy.uint8), instant=1)

class Session(QObject):
    position_changed, game_changed = Signal(), Signal(object)
    angle, numbers, next_angle, playing = 0, [0, 1], 1, True
    whole = SimpleNamespace(angles=[SimpleNamespace(angle=SimpleNamespace(id=1), film=None)], film=None)
    def name_of(self, angle): return ""
    def moment_in(self, angle): return 1

def player(owner):
    made = Player(owner)
    return lambda: (made._on_playing(True), made._on_problem("a", "b"), made._on_slow("a", 0.5))

def beside(owner):
    asked, session = [], Session(owner)
    session.player = SimpleNamespace(fetch_beside=lambda film, at, done: asked.append(done) or True)
    made = Beside(session, owner)
    made.show(BesideMode.EQUAL)
    def report():
        made._newest = None
        asked[0](PICTURE)
    return report

def first_look(owner):
    pages = QStackedWidget()
    owner.destroyed.connect(lambda: shiboken6.delete(pages))
    made = FirstLook(pages)
    return lambda: made.show_picture(PICTURE)

def loop(make):
    for turn in range(40):
        owner, told, is_over = QObject(), [], threading.Event()
        report = make(owner)

        def work():
            while not is_over.is_set():
                told.append(report())

        workers = [threading.Thread(target=work) for _ in range(2)]
        for worker in workers:
            worker.start()
        while len(told) < 3:
            application.processEvents()
        shiboken6.delete(owner)
        count = len(told)
        while len(told) < count + 3 and any(worker.is_alive() for worker in workers):
            pass
        assert all(worker.is_alive() for worker in workers), "a report failed"
        is_over.set()
        for worker in workers:
            worker.join(20)
        application.processEvents()

application = QApplication([])
loop(WHO)
print("well")
"""


def _run(script: str) -> tuple[int, str, str]:
    done = subprocess.run([sys.executable, "-c", script], capture_output=True, text=True, check=False,
                          timeout=300, env={**os.environ, "PYTHONPATH": os.pathsep.join(filter(None, sys.path))})
    return done.returncode, done.stdout.strip(), done.stderr[-600:]


def test_an_owner_that_goes_while_its_work_reports_takes_nothing_along():
    done = _run(DELETED_MEANWHILE)
    assert done[:2] == (0, "well"), done[2]


@pytest.mark.parametrize("who", ["player", "beside", "first_look"])
def test_who_goes_while_threads_of_the_film_report_takes_nothing_along(who):
    done = _run(HEARD_MEANWHILE.replace("WHO", who))
    assert done[:2] == (0, "well"), done[2]


def test_progress_reports_the_share_and_raises_once_cancelled():
    told = []
    progress = Progress(lambda share, left: told.append((share, left)))
    progress(1, 4)
    assert told == [(0.25, pytest.approx(0, abs=1))]
    progress.cancel()
    progress.report(2, 4)           # work that asks is not interrupted
    assert progress.cancelled()
    with pytest.raises(Cancelled):
        progress(3, 4)


def test_only_jobs_starts_threads():
    own = {"Thread", "ThreadPoolExecutor", "QThread", "QThreadPool", "QRunnable", "Timer"}
    started = {}
    for path in Path(desk.__file__).parent.rglob("*.py"):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            name = node.attr if isinstance(node, ast.Attribute) else node.id if isinstance(node, ast.Name) else ""
            if name in own:
                started.setdefault(path.name, set()).add(name)
    assert started == {"jobs.py": {"Thread"}}
