"""Files that appear only once they are complete."""

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
