"""From a card, a folder or a few files to a game file beside them."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from pathlib import Path

from ..delivery.naming import unused
from ..film.film import Film
from ..tagging.gamefile import SUFFIX, GameFile
from ..tagging.model import Game, Heading
from .jobs import Cancelled


def read_footage(paths: Sequence[Path], taken: Sequence[str] = ()) -> Callable[..., Film]:
    """Work for :class:`~.jobs.Job` that looks at every camera file under *paths* and gives the film."""
    def work(progress: Callable[[float, float], None]) -> Film:
        from .session import load_film_parts
        load_film_parts()
        from ..film.sources import open_film
        stopped = False

        def cancelled() -> bool:
            nonlocal stopped
            try:
                progress(*done)
            except Cancelled:
                stopped = True
            return stopped

        done = (0, 1)

        def tell(count: int, of: int) -> None:
            nonlocal done
            done = (count, of)

        try:
            return open_film(paths, taken, progress=tell, cancelled=cancelled)
        except Exception:
            if stopped:
                raise Cancelled from None
            raise
    return work


def game_path(paths: Sequence[Path]) -> Path:
    """Where the game file of some footage goes: beside it, under its folder's (or only file's) name, never
    over another file."""
    first = paths[0]
    folder = first if first.is_dir() else first.parent
    name = first.stem if len(paths) == 1 and first.is_file() else folder.name or "game"
    name = re.sub(r"[^\w .-]+", " ", name).strip() or "game"
    return unused(folder, name, SUFFIX)


def start_game(film: Film, path: Path) -> GameFile:
    """Make the game file of a film. Raises CannotSave (a game file) with what to do about it."""
    return GameFile.create(path, game=Game(Heading(title=path.stem), film))
