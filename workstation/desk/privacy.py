"""What this computer remembers about games besides their own files, and how it is forgotten."""

from __future__ import annotations

import os
import shutil
from contextlib import suppress
from pathlib import Path

from PySide6.QtCore import QSettings

from .. import log

ABOUT_GAMES = ("recent", "sequence/us", "season/folders", "season/sequence", "season/exports")
"""Settings that name games, their folders or teams."""


def keep_private(settings: QSettings) -> None:
    """Let only the user read the settings, which name games and their folders. Qt keeps the mode of a file that is
    there."""
    path = Path(settings.fileName())
    with suppress(OSError):
        path.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
        os.close(os.open(path, os.O_CREAT | os.O_RDWR, 0o600))
        path.chmod(0o600)


def forget(settings: QSettings) -> int:
    """Forget which games were opened, and throw away what was kept about their films (facts, indexes, found shots; it
    is found again when a film is next opened) and what the log says. Games, footage, keys and looks stay. Returns how
    many files kept about films were thrown away. Raises OSError if a file cannot be removed; the list
    of games is forgotten all the same."""
    from ..film.cache import folder  # imports film reading, which would delay the first paint

    for name in ABOUT_GAMES:
        settings.remove(name)
    settings.sync()
    kept = folder().parent      # of every version
    number = sum(len(files) for _, _, files in os.walk(kept))
    if kept.exists():
        shutil.rmtree(kept)
    log.forget()
    return number
