"""Files that appear only once they are complete, under names that nothing has yet."""

from __future__ import annotations

import os
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path


@contextmanager
def written_whole(path: Path) -> Iterator[Path]:
    """Give a name beside ``path`` to write to; it replaces ``path`` when the block ends well, and is removed if not."""
    temporary = path.with_name(f".{path.stem}.part{path.suffix}")
    try:
        yield temporary
        os.replace(temporary, path)
    finally:
        temporary.unlink(missing_ok=True)


def unused(folder: Path, stem: str, suffix: str = "") -> Path:
    """A path in ``folder`` at which nothing is: ``stem`` and ``suffix``, numbered from 2 on where that is taken."""
    path, number = folder / f"{stem}{suffix}", 2
    while path.exists():
        path, number = folder / f"{stem} {number}{suffix}", number + 1
    return path
