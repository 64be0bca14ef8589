"""Makes a game file beside the camera files of a card, a folder or a few files."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from contextlib import suppress
from pathlib import Path
from typing import TYPE_CHECKING

from ..film.film import Film, Source
from ..film.writing import unused
from .gamefile import SUFFIX, GameFile
from .inspection import GameFileError
from .model import Game, Heading
from .opening import load_film_parts

if TYPE_CHECKING:
    from ..film.picture import Picture


def read_footage(paths: Sequence[Path], taken: Sequence[str] = (),
                 progress: Callable[[int, int], None] | None = None,
                 cancelled: Callable[[], bool] = lambda: False,
                 first: Callable[[Picture], None] | None = None) -> Film:
    """Look at every camera file under *paths*; no source gets an id in *taken*. *first* gets the film's first picture
    before more is read. Not for the UI thread. Raises what :func:`..film.sources.open_film` raises."""
    load_film_parts()
    from ..film.faults import NoPicture
    from ..film.frames import FrameReader
    from ..film.sources import open_film

    def show(source: Source) -> None:
        with suppress(NoPicture), FrameReader(Film((source,))) as reader:
            reader.rest()
            if first is not None:
                first(reader.frame_at(source.first))

    return open_film(paths, taken, progress=progress, cancelled=cancelled, first=None if first is None else show)


def game_begun_on(film: Film, paths: Sequence[Path]) -> Path | None:
    """The game file beside *paths*, changed last, whose film holds some of *film* already; None if there is none."""
    fingerprints = {source.fingerprint for source in film.sources} - {None, ""}
    games = sorted(_folder_of(paths).glob(f"*{SUFFIX}"), key=lambda path: path.stat().st_mtime, reverse=True)
    for path in games:
        with suppress(GameFileError, OSError), GameFile.open(path, read_only=True) as file:
            if any(source.fingerprint in fingerprints for source in file.game.film.sources):
                return path
    return None


def _folder_of(paths: Sequence[Path]) -> Path:
    return paths[0] if paths[0].is_dir() else paths[0].parent


def game_path(paths: Sequence[Path]) -> Path:
    """Where the game file of some footage goes: beside it, named after it, never over another file."""
    first, folder = paths[0], _folder_of(paths)
    name = first.stem if len(paths) == 1 and first.is_file() else folder.name or "game"
    name = re.sub(r"[^\w .-]+", " ", name).strip() or "game"
    return unused(folder, name, SUFFIX)


def start_game(film: Film, path: Path) -> GameFile:
    """Make the game file of a film. Raises CannotSave (a game file) with what to do about it."""
    return GameFile.create(path, game=Game(Heading(title=path.stem), film))
