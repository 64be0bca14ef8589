"""The guide as two files: one page of HTML and a PDF."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from ..film.writing import written_whole
from ..targets import refuse_existing
from .guide import Chapter
from .guide_html import whole_html
from .guide_pdf import write_guide_pdf

NAMES = ("film workstation guide.html", "film workstation guide.pdf")


def write_guide(chapters: Sequence[Chapter], folder: Path, overwrite: bool = False) -> list[Path]:
    """Write both files into *folder*, made if need be; returns their paths. Raises OSError, FileExistsError too."""
    page, paper = (folder / name for name in NAMES)
    for path in (page, paper):
        refuse_existing(path, overwrite)
    folder.mkdir(parents=True, exist_ok=True)
    with written_whole(page) as temporary:
        temporary.write_text(whole_html(chapters), encoding="utf-8")
    write_guide_pdf(chapters, paper)
    return [page, paper]
