"""Checks that a file is an undamaged game file, before anything is written to it."""

from __future__ import annotations

import errno
import sqlite3
from pathlib import Path

from ..targets import APPLICATION_ID
from . import store
from .backups import Backup, listed
from .model import Game
from .records import Records

_MAGIC = b"SQLite format 3\x00"


class GameFileError(Exception):
    """A game file cannot be used; the message says what, where and what to do. The file is as it was.

    ``backups`` are the healthy rolling backups beside it, newest first.
    """

    def __init__(self, path: Path, reason: str):
        self.path = path
        self.reason = reason
        self.backups: tuple[Backup, ...] = listed(path)
        offer = ""
        if self.backups:
            newest = self.backups[0]
            offer = f" A backup from {newest.saved:%Y-%m-%d %H:%M} is beside it: {newest.path.name} ({newest.holds})."
        super().__init__(f"{path}: {reason}{offer}")


class NotAGameFile(GameFileError):
    """The file is not a game file."""


class NewerGameFile(GameFileError):
    """Written by a newer version of this program."""


class DamagedGameFile(GameFileError):
    """The game file is damaged."""


def recognise(path: Path) -> None:
    """Look at the first bytes only, so that SQLite never touches a file that isn't ours."""
    if not path.exists():
        raise FileNotFoundError(f"{path}: there is no such file")
    if not path.is_file():
        what = "a folder" if path.is_dir() else "a pipe or a device"
        raise NotAGameFile(path, f"this is {what}, not a game file")
    try:
        with path.open("rb") as stream:
            header = stream.read(100)
    except OSError as error:
        raise GameFileError(path, f"it cannot be read: {error.strerror}") from error
    if not header:
        raise DamagedGameFile(path, "the file is empty.")
    if not header.startswith(_MAGIC[: len(header)]):
        raise NotAGameFile(path, "this is not a game file.")
    if len(header) < 100:
        raise DamagedGameFile(path, "the file ends in its first bytes.")
    if int.from_bytes(header[68:72], "big") != APPLICATION_ID:
        raise NotAGameFile(path, "this is another program's SQLite database, not a game file.")
    _check_version(path, int.from_bytes(header[60:64], "big"))
    page = int.from_bytes(header[16:18], "big") or 1
    if path.stat().st_size % page and store.is_settled(path):
        raise DamagedGameFile(path, "the end of the file is missing.")


def _check_version(path: Path, version: int) -> None:
    if version > store.VERSION:
        raise NewerGameFile(path, f"written by a newer version of this program (file version {version}, this program "
                                  f"reads up to {store.VERSION}); update the program to open it.")
    if version < 1:
        raise DamagedGameFile(path, "it carries no file version.")


def inspect(path: Path) -> tuple[Records, dict[str, str]]:
    """Check the whole file and read its records and what it says about itself, without changing it."""
    try:
        return store.inspect(path)
    except store.TooNew as error:
        _check_version(path, error.args[0])
        raise
    except store.Damage as damage:
        raise DamagedGameFile(path, f"the file is damaged: {damage}.") from damage
    except sqlite3.OperationalError as error:
        if _error_name(error).startswith(("SQLITE_BUSY", "SQLITE_LOCKED")):
            raise GameFileError(path, "another program holds the file; try again when it has let go.") from error
        raise DamagedGameFile(path, f"it cannot be read: {error}.") from error
    except sqlite3.Error as error:
        reason = f"{error}" if _error_name(error) != "SQLITE_TOOBIG" else (
            f"it holds a value of more than {store.LARGEST_VALUE // 2**20} MiB, which is no tag")
        raise DamagedGameFile(path, f"the file is damaged: {reason}.") from error


def game_in(path: Path) -> Game:
    """The game in a file, which stays as it is. Raises OSError and :class:`GameFileError`.

    Opening a :class:`.gamefile.GameFile` guards its footage for as long as the program runs; this does not, and is
    meant for reading many games.
    """
    recognise(path)
    return inspect(path)[0].game()


def plain_reason(error: Exception) -> str:
    """What went wrong with the disk, for a person, and what to do."""
    name = _error_name(error)
    if name == "SQLITE_FULL" or getattr(error, "errno", None) == errno.ENOSPC:
        return "the disk is full; make room and try again"
    if name.startswith(("SQLITE_BUSY", "SQLITE_LOCKED")):
        return "another program holds the file; try again when it has let go"
    if name.startswith("SQLITE_READONLY"):
        return "the file or its folder cannot be written"
    if name.startswith("SQLITE_IOERR"):
        return "the disk does not answer as it should (was it unplugged, or full?)"
    if name == "SQLITE_TOOBIG":
        return "one of its texts is too long"
    return str(error)


def _error_name(error: Exception) -> str:
    """SQLite's word for what went wrong; empty where the error is not SQLite's own."""
    return getattr(error, "sqlite_errorname", None) or ""
