"""The demo game, filmed once and kept where programs keep such things."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import platformdirs

from ..cancelling import Cancelled


def demo_folder() -> Path:
    """Where the demo game is kept for this person."""
    return Path(platformdirs.user_data_dir("film-workstation")) / "demo"


def prepare_demo(progress: Callable[[float, float], None]) -> Path:
    """Make sure the demo game is there; returns its game file. Work for a :class:`~.jobs.Job`."""
    folder = demo_folder()
    there = sorted(path for path in folder.glob("*.game") if "(earlier" not in path.name)
    if there and any((folder / "film").glob("*.MP4")):
        return there[0]     # as this person left it

    from workstation.demo.game_file import write_demo_game

    stopped = False

    def tell(share: float) -> None:
        nonlocal stopped
        try:
            progress(share, 1.0)
        except Cancelled:
            stopped = True

    return write_demo_game(folder, progress=tell, cancelled=lambda: stopped)
