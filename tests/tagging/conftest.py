from __future__ import annotations

import shutil
import tempfile
from pathlib import Path

import pytest

from tests.tagging.builders import at, source
from workstation.tagging.gamefile import GameFile
from workstation.tagging.model import Heading, Shot
from workstation.tagging.operations import AddShots, AddSources


@pytest.fixture
def tmp_path():
    """A folder in memory where the system has one: every action syncs the disk, and most tests are not about that."""
    memory = Path("/dev/shm")
    folder = Path(tempfile.mkdtemp(prefix="tagging-", dir=memory if memory.is_dir() else None))
    yield folder
    shutil.rmtree(folder)


@pytest.fixture
def file(tmp_path):
    """An open game with two sources and three shots of 10 s."""
    with GameFile.create(tmp_path / "Friday.game", Heading(home="Summit", visitors="Harbor")) as file:
        file.do(AddSources((source("s1", tmp_path), source("s2", tmp_path))))
        file.do(AddShots((Shot(0, at(0), at(10)), Shot(0, at(10), at(20)), Shot(0, at(30), at(40)))))
        yield file
