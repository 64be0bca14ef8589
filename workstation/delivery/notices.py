"""The notice that lies beside files which are to be shared with discretion."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from pathlib import Path

from ..film.writing import written_whole
from .segment import Segment

NOTICE_NAME = "PLEASE READ FIRST.txt"


def notices_of(segments: Iterable[Segment]) -> tuple[str, ...]:
    """Every notice once, in the order of the segments."""
    return tuple(dict.fromkeys(segment.notice for segment in segments if segment.notice))


def write_notices(notices: Sequence[str], to: Path) -> None:
    """Write the notices to ``to``, after what is there already; nothing where there are none. Raises OSError."""
    if not notices:
        return
    known = to.read_text(encoding="utf-8").strip().split("\n\n") if to.exists() else []
    with written_whole(to) as temporary:
        temporary.write_text("\n\n".join(dict.fromkeys((*known, *notices))) + "\n", encoding="utf-8")


def beside(film: Path) -> Path:
    """Where the notice about one film lies."""
    return film.with_name(f"{film.stem} - {NOTICE_NAME}")
