"""What this computer remembers about games besides their own files, and how it is forgotten."""

from __future__ import annotations

import os
import shutil

from PySide6.QtCore import QSettings

from ..film.cache import folder

ABOUT_GAMES = ("recent", "sequence/us")     # settings that name games or teams


def forget(settings: QSettings) -> int:
    """Forget which games were opened, and throw away what was kept about their films (facts, indexes, found shots; it
    is found again when a film is next opened). Games, footage, keys and looks stay. Returns how many files were
    thrown away. Raises OSError if a file cannot be removed; the list of games is forgotten all the same."""
    for name in ABOUT_GAMES:
        settings.remove(name)
    settings.sync()
    kept = folder().parent      # of every version
    number = sum(len(files) for _, _, files in os.walk(kept))
    if kept.exists():
        shutil.rmtree(kept)
    return number
