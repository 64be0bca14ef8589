"""The log holds what the terminal does not show, for its user alone; what is copied from it names nobody."""

from __future__ import annotations

import logging
import os
import stat
import subprocess
import sys
from pathlib import Path

import pytest

from workstation import log
from workstation.fault_facts import fault_facts

ROOT = Path(__file__).parent.parent


def run(tmp_path, code: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run([sys.executable, "-c", code], cwd=ROOT, capture_output=True, text=True, timeout=120,
                          check=False, env={**os.environ, "FILM_WORKSTATION_STATE": str(tmp_path / "state")})


def test_records_warnings_and_what_libraries_write_go_to_the_log_and_the_programs_own_to_the_terminal(tmp_path):
    done = run(tmp_path, """
import logging, os, sys, warnings
from workstation import log
assert log.start()
logging.getLogger("workstation.film").warning("no sound from %s", "Anna.mp4")
warnings.warn("an old way")
os.write(2, b"ALSA lib: cannot find card\\n")
print("to the terminal", file=sys.stderr)
print("result")
""")
    assert (done.returncode, done.stdout, done.stderr) == (0, "result\n", "to the terminal\n")
    written = (tmp_path / "state" / "desk.log").read_text()
    assert "no sound from ‹Anna.mp4›" in written and "an old way" in written and "ALSA lib: cannot find card" in written
    assert stat.S_IMODE((tmp_path / "state").stat().st_mode) == 0o700
    assert stat.S_IMODE((tmp_path / "state" / "desk.log").stat().st_mode) == 0o600


def test_the_log_begins_a_next_file_and_keeps_three(tmp_path):
    done = run(tmp_path, """
import logging, os
from workstation import log
log.SIZE = 2000
log.start()
for number in range(400):
    logging.getLogger("a").warning("line %d", number)
os.write(2, b"x" * 3000)
log.tend()
os.write(2, b"after")
""")
    assert (done.returncode, done.stderr) == (0, "")
    files = sorted((tmp_path / "state").iterdir())
    assert [file.name for file in files] == ["desk.log", "desk.log.1", "desk.log.2", "desk.log.3"]
    assert files[0].read_text() == "after" and all(stat.S_IMODE(file.stat().st_mode) == 0o600 for file in files)
    assert max(file.stat().st_size for file in files[2:]) <= 2000


def test_an_error_that_nothing_handles_is_in_the_log_and_one_line_says_where(tmp_path):
    done = run(tmp_path, "from workstation import log\nlog.start()\nraise ValueError('Quillhaven')")
    assert done.returncode == 1
    assert done.stderr == f"Something went wrong. What happened is in {tmp_path / 'state' / 'desk.log'}.\n"
    assert "ValueError: ‹Quillhaven›" in (tmp_path / "state" / "desk.log").read_text()


def test_where_no_log_can_be_written_the_program_goes_on(tmp_path):
    (tmp_path / "state").write_text("a file in the way")
    done = run(tmp_path, "import logging\nfrom workstation import log\nassert not log.start()\n"
                         "logging.getLogger('a').error('not on the terminal')\nprint('on')")
    assert (done.returncode, done.stdout, done.stderr) == (0, "on\n", "")


SECRETS = ("Quillhaven", "Anna", "Ostley", "/media/anna", "Lee")


@pytest.fixture
def told(tmp_path, monkeypatch):
    """A log of everything that a record may be told."""
    monkeypatch.setenv("FILM_WORKSTATION_STATE", str(tmp_path / "state"))
    handler = log._LogFile(_made(log.path()), encoding="utf-8")
    handler.setFormatter(log._Formatter(log._FORM))
    logger = logging.getLogger("told")
    logger.addHandler(handler)
    logger.setLevel(logging.INFO)
    logger.warning("no sound from %s: %s", "Anna at Ostley.mp4", OSError("no /media/anna/card"))
    logger.error("two lines: %s", "first\nQuillhaven at Ostley\n/media/anna\nlast")
    try:
        try:
            raise KeyError("Lee ›")
        except KeyError as error:
            raise ValueError("one\n  Quillhaven:\n    Anna\nOstley Bend") from error
    except ValueError:
        logger.exception("job failed: %s", "Opening Quillhaven.game")
    handler.stream.write("[h264 @ 0x55] /media/anna/Ostley.mp4 broken\n")
    handler.stream.flush()
    yield
    logger.removeHandler(handler)
    handler.close()


def _made(path: Path) -> Path:
    path.parent.mkdir(parents=True)
    return path


def test_what_helps_to_find_a_fault_names_nobody_and_no_file(told):
    text = fault_facts(("window 1280 x 800",))
    assert [secret for secret in SECRETS if secret in text] == []
    assert str(Path.home()) not in text.replace(str(log.folder()), "")
    for kept in ("told: no sound from ‹…›: ‹…›", "told: job failed: ‹…›", "ValueError: ‹…›",
                 'File "test_log.py", line', "window 1280 x 800", "film workstation ", "Python 3",
                 "PySide6-Essentials 6"):
        assert kept in text, kept


def test_what_helps_to_find_a_fault_names_files_where_that_is_wanted(told):
    text = fault_facts(named=True)
    assert [secret for secret in SECRETS if secret not in text] == []


def test_forgetting_empties_the_log(told):
    log.path().with_name("desk.log.1").write_text("Anna")
    assert log.forget() == 2
    assert log.path().read_text() == "" and not log.path().with_name("desk.log.1").exists()
