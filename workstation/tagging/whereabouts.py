"""Checks that a game file's path still leads to the open file: other programs delete, replace, rename and truncate
files.

A commit succeeds even in a deleted file, so this is checked before anything counts as saved.
"""

from __future__ import annotations

import os
import stat
from collections.abc import Callable
from pathlib import Path

from ..targets import is_game_file


class Whereabouts:
    """The identity of an open game file and of its log: device and inode, its header, and when it was written last."""

    def __init__(self, path: Path):
        self.path = path
        self._log = path.with_name(path.name + "-wal")
        self._file = os.stat(path)
        self._folder = os.stat(path.parent)
        self._logged = _stat(self._log)

    @property
    def has_its_folder(self) -> bool:
        """Whether the folder is still the one it was; a disconnected network folder leaves an empty one of its name."""
        return _is_same(_stat(self.path.parent), self._folder)

    @property
    def mode(self) -> int:
        """Who may read and write the file, as it was opened."""
        return stat.S_IMODE(self._file.st_mode)

    def problem(self, holds_what_is_known: Callable[[], bool]) -> str | None:
        """Why what is saved now would not be found at the path, as a message; None if it will be.

        *holds_what_is_known* reads the file again and compares; asked only where another program wrote to it.
        """
        now = _stat(self.path)
        if now is None:
            return "it was deleted, moved or renamed"
        if not _is_same(now, self._file):
            return "another file was put in its place"
        if not is_game_file(self.path):
            return "another program wrote over it"
        if self._logged is not None and not self._owns_log():
            return "its log was deleted or replaced"
        if (now.st_mtime_ns, now.st_size) == (self._file.st_mtime_ns, self._file.st_size):
            return None
        if not holds_what_is_known():
            return "another program cut or changed it"
        self._file = now
        return None

    def note_own_write(self) -> None:
        """Take the file's time and size as left by a commit of one's own; its device and inode stay as they were."""
        now = _stat(self.path)
        if now is not None and _is_same(now, self._file) and now.st_size >= self._file.st_size:
            self._file = now

    def discard_log(self) -> None:
        """Empty and remove the log, if it is the one that belongs to the open file, so that nobody mixes it with
        another file at the path. Only when all that it holds is saved elsewhere."""
        if self._logged is None or not self._owns_log():
            return
        try:
            os.truncate(self._log, 0)
            self._log.unlink()
            self.path.with_name(self.path.name + "-shm").unlink(missing_ok=True)
        except OSError:
            pass

    def _owns_log(self) -> bool:
        return _is_same(_stat(self._log), self._logged)


def _is_same(one: os.stat_result | None, other: os.stat_result | None) -> bool:
    return one is not None and other is not None and os.path.samestat(one, other)


def _stat(path: Path) -> os.stat_result | None:
    try:
        return os.stat(path)
    except OSError:
        return None
