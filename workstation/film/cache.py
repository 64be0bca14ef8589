"""Cache facts and frame indexes of files on disk, by fingerprint. Safe to delete at any time."""

from __future__ import annotations

import contextlib
import json
import os
import tempfile
from io import BytesIO
from pathlib import Path
from typing import Any

import numpy as np
import platformdirs

VERSION = "2"   # raise when the meaning of anything cached changes; older files are then ignored


def folder() -> Path:
    """The cache folder; ``FILM_WORKSTATION_CACHE`` overrides the user's cache directory."""
    chosen = os.environ.get("FILM_WORKSTATION_CACHE")
    base = Path(chosen) if chosen else Path(platformdirs.user_cache_dir("film-workstation", appauthor=False))
    return base / "film" / VERSION


def load_facts(fingerprint: str) -> dict[str, Any] | None:
    """Return the cached facts of a file, or None."""
    try:
        facts: dict[str, Any] = json.loads((folder() / f"{fingerprint}.json").read_text("utf-8"))
        return facts
    except (OSError, ValueError):
        return None


def save_facts(fingerprint: str, facts: dict[str, Any]) -> None:
    """Store the facts of the file with this fingerprint as JSON."""
    _write(folder() / f"{fingerprint}.json", json.dumps(facts).encode())


def load_arrays(fingerprint: str) -> dict[str, np.ndarray] | None:
    """Return the cached arrays of a file, or None."""
    try:
        with np.load(folder() / f"{fingerprint}.npz", allow_pickle=False) as arrays:
            return {name: arrays[name] for name in arrays.files}
    except Exception:   # whatever is wrong with the cached copy, the file itself can be read again
        return None


def save_arrays(fingerprint: str, arrays: dict[str, np.ndarray]) -> None:
    """Store the arrays of the file with this fingerprint."""
    buffer = BytesIO()
    np.savez(buffer, allow_pickle=False, **arrays)
    _write(folder() / f"{fingerprint}.npz", buffer.getvalue())


def attempts(fingerprint: str) -> int:
    """Count the reads of a file that began and never ended."""
    try:
        return len((folder() / f"{fingerprint}.reading").read_bytes())
    except OSError:
        return 0


def begin_attempt(fingerprint: str) -> None:
    """Record that reading the file with this fingerprint has begun."""
    with contextlib.suppress(OSError):
        folder().mkdir(parents=True, exist_ok=True)
        with (folder() / f"{fingerprint}.reading").open("ab") as mark:
            mark.write(b"x")


def end_attempt(fingerprint: str) -> None:
    """Forget the recorded attempts: the file was read without a crash."""
    with contextlib.suppress(OSError):
        (folder() / f"{fingerprint}.reading").unlink(missing_ok=True)


def _write(path: Path, data: bytes) -> None:
    """Write beside, then rename. On a full or read-only disk nothing is cached."""
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        handle, beside = tempfile.mkstemp(dir=path.parent, prefix=".", suffix=".part")
    except OSError:
        return
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(data)
        os.replace(beside, path)
    except OSError:
        Path(beside).unlink(missing_ok=True)
