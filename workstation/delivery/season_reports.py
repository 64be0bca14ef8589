"""The review reports of several games, a file each."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import partial
from pathlib import Path

from ..coverage.checker import check_game
from ..film.sources import relink
from ..film.writing import unused
from ..tagging.inspection import game_in
from .naming import safe_name
from .report_writing import write_report


def write_reports(games: Sequence[tuple[Path, str]], folder: Path,
                  progress: Callable[[float, float], None] | None = None,
                  cancelled: Callable[[], bool] = lambda: False, suffix: str = ".html") -> list[Path]:
    """Write the report of each game (its file, and what it is called) into *folder*, over nothing that is there.
    Raises what opening, checking and writing raise, and Cancelled."""
    folder.mkdir(parents=True, exist_ok=True)
    written = []
    for number, (path, name) in enumerate(games):
        if progress:
            progress(number, len(games))
        one = check_game(game_in(path).with_films(partial(relink, folders=[path.parent])))
        to = unused(folder, safe_name(name) or path.stem, suffix)
        written.append(write_report(one.game, one.steps, one.coverage, to, None, cancelled))
    return written
