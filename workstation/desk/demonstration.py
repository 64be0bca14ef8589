"""The demo game, filmed once and kept where programs keep such things."""

from __future__ import annotations

from pathlib import Path

import platformdirs

from .jobs import Progress


def demo_folder() -> Path:
    """Where the demo game is kept for this person."""
    return Path(platformdirs.user_data_dir("film-workstation")) / "demo"


def prepare_demo(progress: Progress) -> Path:
    """Make sure the demo game is there; returns its game file. Work for a :class:`~.jobs.Job`."""
    folder = demo_folder()
    there = sorted(path for path in folder.glob("*.game") if "(earlier" not in path.name)
    if there and any((folder / "film").glob("*.MP4")):
        return there[0]     # as this person left it

    from workstation.demo.game_file import write_demo_game
    return write_demo_game(folder, progress=progress.report, cancelled=progress.cancelled)
