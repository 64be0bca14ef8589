"""The demo game without rendering it: sources as a camera would have left them, and the tagged game on them."""

from __future__ import annotations

import os
from fractions import Fraction
from pathlib import Path

import pytest
from workstation.demo.film_it import ONE_FILE, clip_name, pictures_in
from workstation.demo.game_file import demo_game
from workstation.demo.script import SCENES

from workstation.film.film import Film, Source

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")


def _source(number: int, name: str, pictures: int) -> Source:
    return Source(f"s{number}", Path(name), 1, "", Fraction(1, 30000), 0, pictures * 1001, Fraction(30000, 1001), 1280,
                  720)


@pytest.fixture
def film_of():
    """Makes a film of scenes, a file each."""
    return lambda scenes: Film(tuple(_source(i + 1, clip_name(i), pictures_in(scene))
                                     for i, scene in enumerate(scenes)))


@pytest.fixture(params=["files", "one file"])
def demo(request):
    """The tagged demo game on either layout of its film."""
    if request.param == "files":
        sources = [_source(i + 1, clip_name(i), pictures_in(scene)) for i, scene in enumerate(SCENES)]
    else:
        sources = [_source(1, ONE_FILE, sum(pictures_in(scene) for scene in SCENES))]
    return demo_game(Film(tuple(sources)))
