"""Files that appear only once they are complete, and never in the place of what must not be written over."""

from __future__ import annotations

import errno
import os
import re
import secrets
import shutil
import time
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

from ..targets import refuse_protected

DISK_ERRORS = frozenset({errno.ENOSPC, errno.EDQUOT, errno.EROFS, errno.EFBIG})
"""What the system says only where the disk that is written to is the trouble."""

_LONGEST_STEM = 60              # characters of the target's name in the temporary one; names have 255 bytes
_PART = re.compile(r"\..{0,60}\.[0-9a-f]{8}\.part(\.\w{1,10})?")
_ABANDONED = 24 * 3600          # seconds without a write after which nobody is writing any more


@contextmanager
def written_whole(path: Path) -> Iterator[Path]:
    """Give a name beside ``path`` to write to; it replaces ``path`` when the block ends well, and is removed if not.

    Raises :class:`~..targets.TargetRefused` if ``path`` reaches footage, a game file or a pack.
    """
    refuse_protected(path)
    temporary = part_beside(path)
    try:
        yield temporary
        refuse_protected(path)          # what lies there may have changed since
        os.replace(temporary, path)
    finally:
        with suppress(OSError):
            temporary.unlink(missing_ok=True)


def disk_error(path: Path, number: int | None) -> OSError:
    """The error of that *number* while writing ``path``, in words for a person."""
    if number in (errno.ENOSPC, errno.EDQUOT):
        why = "the disk is full; make room and try again"
    elif number in (errno.EROFS, errno.EACCES, errno.EPERM):
        why = "its folder cannot be written; choose another"
    else:
        why = os.strerror(number or 0)
    error = OSError(f"{path.name} could not be written: {why}")
    error.errno = number
    return error


def part_beside(path: Path) -> Path:
    """A name beside ``path`` for what is not complete yet. What a killed program left under such names is removed."""
    remove_abandoned(path.parent)
    return path.with_name(f".{path.stem[:_LONGEST_STEM]}.{secrets.token_hex(4)}.part{path.suffix}")


def remove_abandoned(folder: Path) -> None:
    """Remove the incomplete files that this program, killed, left in ``folder`` a day ago or earlier."""
    with suppress(OSError):
        for entry in os.scandir(folder):
            if not _PART.fullmatch(entry.name):
                continue
            with suppress(OSError):
                if time.time() - entry.stat(follow_symlinks=False).st_mtime < _ABANDONED:
                    continue
                if entry.is_dir(follow_symlinks=False):
                    shutil.rmtree(entry.path)
                else:
                    os.unlink(entry.path)


def unused(folder: Path, stem: str, suffix: str = "") -> Path:
    """A path in ``folder`` at which nothing is: ``stem`` and ``suffix``, numbered from 2 on where that is taken."""
    path, number = folder / f"{stem}{suffix}", 2
    while path.exists():
        path, number = folder / f"{stem} {number}{suffix}", number + 1
    return path
