"""Cards and other removable media with footage on them: found where the system mounts them, and copied from.

Where media are mounted is common practice: ``/media`` and ``/run/media`` (udisks), ``/Volumes``, and on Windows the
drives that the system calls removable.
"""

from __future__ import annotations

import os
import shutil
import sys
from collections.abc import Callable
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path

from ..cancelling import Cancelled
from .sources import COPIES, EXTENSIONS, find_files
from .writing import disk_error, unused, written_whole

_WHERE = ("/media", "/run/media", "/mnt", "/Volumes")
_ENTRIES = 20_000       # names looked at on one medium; a larger one is no card
_DEPTH = 6              # folders; XAVC and AVCHD lay recordings four deep
_REMOVABLE = 2          # GetDriveTypeW: DRIVE_REMOVABLE
_PIECE = 4 << 20        # bytes read at once


@dataclass(frozen=True)
class Card:
    """A medium with ``files`` film files of ``size`` bytes in all."""

    folder: Path
    files: int
    size: int

    @property
    def name(self) -> str:
        """What the card is called."""
        return self.folder.name or str(self.folder).rstrip("\\/:") or "card"

    @property
    def spoken(self) -> str:
        """``43 files, 12.3 GB``."""
        return f"{self.files} {'file' if self.files == 1 else 'files'}, {spoken_size(self.size)}"


def find_cards() -> list[Card]:
    """The media with footage that are mounted now. Reads the disk: not for the UI thread."""
    return [card for folder in media() if (card := looked_through(folder)) is not None]


def media() -> list[Path]:
    """Where removable media are mounted, with or without footage."""
    if sys.platform == "win32":
        import ctypes

        kind = ctypes.windll.kernel32.GetDriveTypeW
        return [Path(f"{letter}:\\") for letter in "DEFGHIJKLMNOPQRSTUVWXYZ" if kind(f"{letter}:\\") == _REMOVABLE]
    found = []
    for top in map(Path, _WHERE):
        for folder in _folders(top):
            inner = [folder] if folder.is_mount() else _folders(folder)     # a user's own folder, or the medium
            found += [each for each in inner if each.is_mount() and not each.is_symlink()]
    return found


def looked_through(folder: Path) -> Card | None:
    """The card in *folder*; None if it holds no film, cannot be read, or is too large to be a card."""
    files = size = entries = 0
    depth = len(folder.parts)
    for inside, folders, names in os.walk(folder):
        entries += len(names) + len(folders)
        if entries > _ENTRIES:
            return None
        folders[:] = [name for name in folders if name.lower() not in COPIES and not name.startswith(".")
                      and len(Path(inside).parts) - depth < _DEPTH]
        for name in names:
            if not name.startswith(".") and Path(name).suffix.lower() in EXTENSIONS:
                with suppress(OSError):
                    size += Path(inside, name).stat().st_size
                    files += 1
    return Card(folder, files, size) if files else None


def copy_card(card: Card, to: Path, progress: Callable[[float, float], object],
              cancelled: Callable[[], bool] = lambda: False) -> Path:
    """Copy a card's film files into a new folder in *to*, named after the card; returns that folder. The card is only
    read. Each file is there whole or not at all; stopped or failed copying leaves the files that are whole.

    Raises Cancelled; OSError with what to do about it.
    """
    free = shutil.disk_usage(to).free
    if free < card.size:
        raise OSError(f"{to} has room for {spoken_size(free)}, the card holds {spoken_size(card.size)}. Make room, or "
                      "choose another disk")
    target = unused(to, card.name, "")
    done = 0
    for source in find_files([card.folder]):
        copied = target / source.relative_to(card.folder)
        copied.parent.mkdir(parents=True, exist_ok=True)
        try:
            with written_whole(copied) as temporary:
                with source.open("rb") as read, temporary.open("wb") as write:
                    while piece := read.read(_PIECE):
                        if cancelled():
                            raise Cancelled
                        write.write(piece)
                        done += len(piece)
                        progress(done, card.size)
                shutil.copystat(source, temporary)
        except OSError as error:
            if error.errno is None:
                raise
            raise disk_error(copied, error.errno) from error
    return target


def spoken_size(size: int) -> str:
    """``12.3 GB``, ``480 MB``."""
    return f"{size / 1e9:.1f} GB" if size >= 1e9 else f"{max(size // 1_000_000, 1)} MB"


def _folders(folder: Path) -> list[Path]:
    try:
        return sorted(each for each in folder.iterdir() if each.is_dir())
    except OSError:
        return []
