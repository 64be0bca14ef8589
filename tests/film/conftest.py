"""Files as game cameras leave them, made once per run; see :mod:`tests.film.clips`."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from tests.film.clips import made, numbered_film


@pytest.fixture(autouse=True)
def own_cache(tmp_path, monkeypatch):
    """Nothing is kept outside of the test, and nothing is heard."""
    monkeypatch.setenv("FILM_WORKSTATION_CACHE", str(tmp_path / "kept"))
    monkeypatch.setenv("FILM_WORKSTATION_VLC", "--aout=dummy")


@pytest.fixture(scope="session")
def clips(tmp_path_factory):
    """A function from a kind's name to its file."""
    if shutil.which("ffmpeg") is None:
        pytest.skip("ffmpeg is not installed")
    folder = tmp_path_factory.mktemp("clips")

    return lambda name: made(name, folder)


@pytest.fixture
def own_clip(clips, tmp_path):
    """Like ``clips``, but a copy that the test may spoil."""
    def copy(name: str, to: str | None = None) -> Path:
        target = tmp_path / (to or name)
        target.parent.mkdir(parents=True, exist_ok=True)
        return Path(shutil.copy(clips(name), target))

    return copy


@pytest.fixture(scope="session")
def numbered(tmp_path_factory):
    """Three sources, numbered through: 0 to 149 and 150 to 299 as MP4, 300 to 449 as transport stream."""
    folder = tmp_path_factory.mktemp("numbered")
    return [numbered_film(folder / "a.mp4"), numbered_film(folder / "b.mp4", 150),
            numbered_film(folder / "c.ts", 300)]
