"""What may be written onto: footage, game files and a pack's originals never, other files only when that was asked for.

Everything that writes a file for a person writes it through :func:`.film.writing.written_whole`, which asks here. What
a game knows as its footage is told by :func:`protect`; a game file, its log and its backups are known by name and
header.
"""

from __future__ import annotations

import os
import re
import stat
import threading
from collections.abc import Iterable
from pathlib import Path

GAME_SUFFIX = ".game"
APPLICATION_ID = 0x46494C4D
"""Marks an SQLite file as ours (its header, bytes 68 to 71): "FILM" in ASCII."""
PACK_MANIFEST = "manifest.json"
PACK_FORM = "disputed sequence pack, form 1"

_GAME_NAME = re.compile(r"\.game(-wal|-shm|-journal|\.backup(-\d+)?|\.lock|\.restored|\.\d+\.new)?", re.IGNORECASE)
_PACK_DEPTH = 2         # folders from a pack's own to its innermost files

_protected: dict[str, str] = {}         # absolute paths, by themselves and by where they lead, in one case
_guard = threading.Lock()


class TargetRefused(FileExistsError):
    """Nothing may be written there; the message says why and what to do. Nothing was written."""


def protect(paths: Iterable[Path]) -> None:
    """Note files that this program must never write onto, whether they are there now or not."""
    for path in {os.path.abspath(path) for path in paths} - set(_protected.values()):
        real = os.path.realpath(path)
        with _guard:
            _protected[path.casefold()] = _protected[real.casefold()] = path


def refuse_protected(to: Path) -> None:
    """Raise :class:`TargetRefused` if *to* reaches, by whatever name, something that is never written over."""
    where = Path(os.path.realpath(to))
    if any(_GAME_NAME.fullmatch(name[name.lower().find(GAME_SUFFIX):]) for name in (to.name, where.name)
           if GAME_SUFFIX in name.lower()):
        raise TargetRefused(f"{to} is the name of a game file or of what belongs to one; choose another name.")
    try:
        found = os.stat(to)
    except OSError:
        found = None
    if _is_protected(where, found):
        raise TargetRefused(f"{to} is the camera's own file; choose another name, footage is never written over.")
    if found is None:
        return
    if not stat.S_ISREG(found.st_mode):
        what = "a folder" if stat.S_ISDIR(found.st_mode) else "a device or a pipe"
        raise TargetRefused(f"{to} is {what}; name a file.")
    if is_game_file(to):
        raise TargetRefused(f"{to} is a game file; choose another name, games are never written over.")
    if _is_in_pack(where):
        raise TargetRefused(f"{to} belongs to a pack; choose another name, a pack is never written over.")


def refuse_existing(to: Path, overwrite: bool) -> None:
    """Raise :class:`TargetRefused` if *to* may not be written, or is there and *overwrite* was not asked for."""
    refuse_protected(to)
    if not overwrite and os.path.lexists(to):
        raise TargetRefused(f"{to} exists already; choose another name, or say --overwrite to replace it.")


def _is_protected(where: Path, found: os.stat_result | None) -> bool:
    with _guard:
        if str(where).casefold() in _protected:
            return True
        protected = set(_protected.values()) if found is not None else ()
    return found is not None and any(_is_same(path, found) for path in protected)


def _is_same(path: str, found: os.stat_result) -> bool:
    try:
        return os.path.samestat(os.stat(path), found)
    except OSError:
        return False


def is_game_file(path: Path) -> bool:
    """Whether a file carries the header of one of our games."""
    try:
        with path.open("rb") as stream:
            header = stream.read(72)
    except OSError:
        return False
    return header.startswith(b"SQLite format 3\0") and header[68:72] == APPLICATION_ID.to_bytes(4, "big")


def _is_in_pack(where: Path) -> bool:
    for folder in list(where.parents)[:_PACK_DEPTH]:
        try:
            with (folder / PACK_MANIFEST).open("rb") as stream:
                if f'"{PACK_FORM}"'.encode() in stream.read(4096):
                    return True
        except OSError:
            continue
    return False
