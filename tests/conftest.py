from __future__ import annotations

import os
import shutil
import tempfile
from pathlib import Path

import pytest
from filelock import FileLock

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
os.environ.setdefault("FILM_WORKSTATION_STATE", tempfile.mkdtemp(prefix="state-"))     # not the log of who tests
os.environ.setdefault("FILM_WORKSTATION_VLC", "--aout=dummy")     # no sound card here


@pytest.fixture(scope="session")
def _small_demo(tmp_path_factory) -> Path:
    """The demo game filmed small, once for all test processes."""
    from workstation.demo.game_file import write_demo_game

    shared = tmp_path_factory.getbasetemp().parent / "small-demo"
    with FileLock(f"{shared}.lock"):
        return write_demo_game(shared, width=320)


@pytest.fixture
def demo_game_file(_small_demo, tmp_path) -> Path:
    """A tagged demo game of one's own, with its film, to change at will."""
    folder = tmp_path / "demo"
    shutil.copytree(_small_demo.parent, folder, ignore=shutil.ignore_patterns(".*", "*backup*"))
    return folder / _small_demo.name
