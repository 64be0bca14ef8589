"""The demo game, filmed once and kept where programs keep such things."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import platformdirs


def demo_folder() -> Path:
    """Where the demo game is kept for this person."""
    return Path(platformdirs.user_data_dir("film-workstation")) / "demo"


def prepare_demo(progress: Callable[[float], None] | None = None,
                 cancelled: Callable[[], bool] | None = None) -> Path:
    """Make sure the demo game is there; returns its game file. Raises Cancelled and what filming raises."""
    from .game_file import write_demo_game  # imported here: it loads the painter

    folder = demo_folder()
    there = sorted(path for path in folder.glob("*.game") if "(earlier" not in path.name)
    if there and any((folder / "film").glob("*.MP4")):
        return there[0]     # as this person left it
    return write_demo_game(folder, progress=progress, cancelled=cancelled, end_zone=True)
