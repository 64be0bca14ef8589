"""The slow part of opening a game file; may run in any thread.

This module imports no Qt, directly or indirectly: PySide looks up an object's class without holding the interpreter
lock, and may crash the process while another thread defines a subclass of a Qt class. So modules with such classes are
imported in the UI thread only.
"""

from __future__ import annotations

import importlib
import threading
from collections.abc import Sequence
from contextlib import suppress
from pathlib import Path
from typing import NamedTuple

from ..film.film import Film
from ..football.notation import learn
from ..football.rulebook import load_rulebook
from .gamefile import GameFile
from .operations import RelinkSources
from .own_words.files import VocabularyError, vocabulary_of
from .own_words.line import known_to

_loading = threading.Lock()


def load_film_parts() -> None:
    """Import the modules that decode film, once. They import each other in a circle, and two threads that start with
    different ones would each see a partly initialised module."""
    with _loading:
        for module in ("av", "workstation.film.frames", "workstation.film.playback", "workstation.film.sources"):
            importlib.import_module(module)


Troubles = dict[str, str]
"""Why footage cannot be shown, by the ids of its sources."""


def troubles_of(film: Film) -> Troubles:
    """Return the problem of each source that has one, by the source's id."""
    return {source.id: source.problem for source in film.sources if source.problem}


class Loaded(NamedTuple):
    """A game file ready for a session, and what is wrong with its footage on disk."""

    file: GameFile
    troubles: Troubles


def find_footage(file: GameFile, folders: Sequence[Path]) -> Troubles:
    """Look in *folders* for the game's footage that is not where it was, and record where it is now. Returns the
    problems that remain, by source. Not for the UI thread."""
    from ..film.sources import relink
    film = Film(file.game.sources)
    if not film.sources:
        return {}
    found = relink(film, folders)
    moved = tuple(new for new, old in zip(found.sources, film.sources, strict=True) if new.path != old.path)
    if moved and not file.read_only:
        file.do(RelinkSources(moved))
    return troubles_of(found)


def load(path: Path) -> Loaded:
    """Open a game file and find footage that moved along with it. Errors are those of game file and rulebook."""
    load_film_parts()
    file = GameFile.open(path)
    try:
        file.look_for_copies()
        rulebook = load_rulebook(file.game.heading.rulebook, file.game.heading.season)
        learn(rulebook)
        known_to(rulebook)
        with suppress(VocabularyError):         # reported when the words are used
            vocabulary_of(file.game)
        troubles = find_footage(file, [file.path.parent])
    except Exception:
        file.close()
        raise
    return Loaded(file, troubles)
