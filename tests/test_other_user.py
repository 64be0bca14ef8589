"""As a user who may not read or write everything (root may, so it hides this): plain words, nothing lost, nothing
written."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1]
NOBODY = 65534
# Everything is imported first: the libraries may lie where only root reads.
_AS = ("import os, sys, pkgutil, importlib, codecs; codecs.lookup('unicode-escape'); codecs.lookup('cp437'); "
       "codecs.lookup('utf-8-sig'); codecs.lookup('idna'); sys.path.insert(0, sys.argv[1]); from workstation import "
       "commands; import workstation.film, workstation.tagging, workstation.coverage, workstation.delivery, "
       "workstation.demo; [importlib.import_module(each.name) for package in (workstation.film, workstation.tagging, "
       "workstation.coverage, workstation.delivery, workstation.demo) for each in "
       "pkgutil.walk_packages(package.__path__, package.__name__ + '.') if 'qt' not in each.name]; os.setgroups([]); "
       f"os.setgid({NOBODY}); os.setuid({NOBODY}); os.environ['HOME'] = '/nonexistent'; "
       "sys.exit(commands.run(sys.argv[2:]))")

pytestmark = pytest.mark.skipif(not hasattr(os, "geteuid") or os.geteuid() != 0,
                                reason="only root can become another user")


def as_nobody(*arguments: str | Path) -> tuple[int, str]:
    done = subprocess.run([sys.executable, "-c", _AS, str(ROOT), *map(str, arguments)], capture_output=True, text=True,
                          cwd="/", check=False, env={**os.environ, "FILM_WORKSTATION_CACHE": "/nonexistent/cache"})
    assert "Traceback" not in done.stderr, done.stderr
    return done.returncode, done.stdout + done.stderr


@pytest.fixture
def place(demo_game_file, tmp_path_factory):
    import tempfile
    folder = Path(tempfile.mkdtemp())       # pytest's own folders are closed to others
    folder.chmod(0o755)
    shutil.copytree(demo_game_file.parent, folder / "demo")
    (folder / "open").mkdir()
    (folder / "open").chmod(0o777)
    yield folder
    shutil.rmtree(folder)


def test_what_may_not_be_read_or_written_is_told(place, demo_game_file):
    game = place / "demo" / demo_game_file.name
    clip = place / "demo" / "film" / "CLIP0003.MP4"
    to = place / "open"
    assert as_nobody("check", game)[0] == 0                                         # a game that may only be read
    assert as_nobody("json", game, "--to", to / "a.json")[0] == 0
    for arguments in (("json", game, "--to", place / "a.json"), ("report", game, "--to", place / "demo" / "a.html"),
                      ("sequence", game, "--plays", "3", "--to", place / "a.mp4"),
                      ("export", game, "--plays", "3", "--to", place / "x"),
                      ("from-json", to / "a.json", "--to", place / "b.game"),
                      ("pack", game, "--plays", "3", "--to", place / "p.zip"), ("demo", "--to", place / "more")):
        status, said = as_nobody(*arguments)
        assert status in (1, 2) and ("ermission denied" in said or "cannot be" in said), (arguments, said)
    clip.chmod(0)
    status, said = as_nobody("export", game, "--to", to / "film", "--plays", "1-4")
    assert status == 1 and "CLIP0003.MP4" in said
    game.chmod(0)
    status, said = as_nobody("check", game)
    assert status == 2 and "cannot be read" in said
    (to / "a.json").chmod(0)
    os.chown(to / "a.json", 0, 0)
    assert as_nobody("from-json", to / "a.json", "--to", to / "c.game")[0] == 2
    assert sorted(path.name for path in place.iterdir()) == ["demo", "open"]
    assert not [path for path in place.rglob("*") if ".part" in path.name or path.name.startswith("c.game")]


def test_a_game_in_a_closed_folder_opens_for_reading_and_says_why(place, demo_game_file):
    script = _AS.replace("commands.run(sys.argv[2:])", "0") .replace("sys.exit(", (
        "from workstation.tagging.gamefile import GameFile; file = GameFile.open(sys.argv[2]); "
        "print(file.why_read_only); sys.exit("))
    done = subprocess.run([sys.executable, "-c", script, str(ROOT), str(place / "demo" / demo_game_file.name)],
                          capture_output=True, text=True, cwd="/", check=False)
    assert "cannot be written" in done.stdout, done.stderr
