"""Rolling backups: whole copies of a game file beside it, the newest three, written in the background.

``Friday.game.backup-1`` is the newest. The first backup after opening moves the older ones down, later ones of the same
sitting replace it; so number 2 is how the sitting before was left, and number 3 the one before. They are copied through
the open connection, never by path, and have the game file's access rights.
"""

from __future__ import annotations

import os
import sqlite3
import stat
import threading
from collections.abc import Callable
from contextlib import closing, suppress
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from . import store
from .records import Kind

KEPT = 3
EVERY = 50
"""Actions between two backups of a sitting."""


@dataclass(frozen=True, slots=True)
class Backup:
    """A healthy backup and what it holds."""

    path: Path
    saved: datetime
    game: str
    revision: int
    plays: int
    shots: int

    @property
    def holds(self) -> str:
        """The number of plays and shots in the backup, in words."""
        return f"{self.plays} plays, {self.shots} shots"


def listed(path: Path) -> tuple[Backup, ...]:
    """The healthy backups beside the game file *path*, newest first."""
    found = (_read(backup_name(path, number)) for number in range(1, KEPT + 1))
    return tuple(backup for backup in found if backup)


def original_of(path: Path) -> Path | None:
    """The game file that *path* is a backup of, by its name; None if it is none."""
    name, dot, number = path.name.rpartition(".backup-")
    return path.with_name(name) if dot and number in map(str, range(1, KEPT + 1)) else None


def restore(backup: Backup, path: Path) -> Path | None:
    """Put a backup in the place of the game file *path*; returns where the file that was there is now.

    Nothing is deleted: a damaged file moves aside, with its journal if it has one.
    """
    fresh = path.with_name(f".{path.name}.restored")
    with closing(store.connect(backup.path, "ro")) as reading:
        write_copy(image_of(reading), fresh, stat.S_IMODE(backup.path.stat().st_mode))
    aside, now = None, stamp()
    for suffix in ("-wal", "-journal", "-shm", ""):
        old = path.with_name(path.name + suffix)
        if old.exists():
            aside = path.with_name(f"{path.stem}.damaged-{now}{path.suffix}{suffix}")
            os.rename(old, aside)
    os.rename(fresh, path)
    store.sync_folder(path.parent)
    return aside


def stamp() -> str:
    """The current time as it is written in the names of files that were put aside or rescued."""
    return datetime.now().strftime("%Y-%m-%d-%H%M%S")


class Backups:
    """Writes the backups of one open game file; *image* gives the file as bytes, in the caller's thread."""

    def __init__(self, path: Path, image: Callable[[], bytes]):
        self.path = path
        self._image = image
        self._mode = stat.S_IMODE(path.stat().st_mode)
        self.problem: str | None = None
        self._rotated = False
        self._kept: int | None = None
        self._due = EVERY
        self._thread: threading.Thread | None = None

    def start(self, game: str, revision: int) -> None:
        """Back up the file as it was opened, unless the newest backup already has it."""
        for number in range(1, KEPT + 1):
            with suppress(OSError):     # no more access rights than the game file has
                mode = stat.S_IMODE(backup_name(self.path, number).stat().st_mode)
                if mode & ~self._mode:
                    os.chmod(backup_name(self.path, number), mode & self._mode)
        newest = _read(backup_name(self.path, 1))
        if newest and (newest.game, newest.revision) == (game, revision):
            self._kept = revision
        self._due = revision if self._kept is None else revision + EVERY
        self.note(revision)

    def note(self, revision: int) -> None:
        """Note that the file is now at *revision*; back it up in the background once enough actions have passed."""
        if revision >= self._due and (self._thread is None or not self._thread.is_alive()):
            self._due = revision + EVERY
            self._thread = threading.Thread(target=self._keep, args=(revision, self._image()), name="game backup",
                                            daemon=True)
            self._thread.start()

    def finish(self, revision: int) -> None:
        """Wait for a backup in progress, and back up what has changed since."""
        if self._thread is not None:
            self._thread.join()
        self.keep(revision)

    def keep(self, revision: int) -> None:
        """Write a backup now, unless there is one of *revision*."""
        if revision != self._kept:
            self._keep(revision, self._image())

    def _keep(self, revision: int, image: bytes) -> None:
        fresh = self.path.with_name(f".{self.path.name}.backup")
        try:
            write_copy(image, fresh, self._mode)
            if not self._rotated:
                for number in range(KEPT, 1, -1):
                    if backup_name(self.path, number - 1).exists():
                        os.replace(backup_name(self.path, number - 1), backup_name(self.path, number))
                self._rotated = True
            os.replace(fresh, backup_name(self.path, 1))
            store.sync_folder(self.path.parent)
            self._kept, self.problem = revision, None
        except (OSError, sqlite3.Error, store.Damage) as error:
            self.problem = f"the backup of {self.path.name} could not be written: {error}"
            for leftover in (fresh, fresh.with_name(fresh.name + "-journal")):
                with suppress(OSError):
                    leftover.unlink(missing_ok=True)  # on a full disk the game itself needs the space


def backup_name(path: Path, number: int) -> Path:
    """The file of a game's backup; 1 is the newest."""
    return path.with_name(f"{path.name}.backup-{number}")


def image_of(connection: sqlite3.Connection) -> bytes:
    """All that a game file holds, its log included, as the bytes of one file."""
    return connection.serialize()


def write_copy(image: bytes, target: Path, mode: int) -> None:
    """Write a game file's image as one tidy file whose integrity is checked, with that *mode*."""
    with suppress(FileNotFoundError):
        target.unlink()
    handle = os.open(target, os.O_CREAT | os.O_EXCL | os.O_WRONLY | getattr(os, "O_BINARY", 0), 0o600)
    with os.fdopen(handle, "wb") as stream:
        stream.write(image)
        stream.flush()
        os.fsync(stream.fileno())
    with suppress(OSError):
        os.chmod(target, mode)
    with closing(store.connect(target, "rw")) as writing:
        writing.execute("PRAGMA synchronous=FULL")
        writing.execute("PRAGMA journal_mode=DELETE")
        writing.execute("DELETE FROM about WHERE key = 'holder'")
        store.verify(writing)


def _read(path: Path) -> Backup | None:
    try:
        if not path.is_file() or path.stat().st_size == 0:
            return None
        records, about = store.inspect(path)
        saved = datetime.fromtimestamp(path.stat().st_mtime)
    except (OSError, sqlite3.Error, store.Damage, store.TooNew):
        return None
    plays, shots = len(records.values[Kind.PLAY]), len(records.values[Kind.SHOT])
    return Backup(path, saved, about["game"], int(about["revision"]), plays, shots)
