"""The review report as a file."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from pathlib import Path

from ..coverage.coverage import Coverage
from ..film.writing import written_whole
from ..football.step import Step
from ..tagging.model import Game
from .report import gather
from .report_html import html
from .report_pdf import write_pdf


def form_of(to: Path) -> str:
    """``.html`` or ``.pdf``, as the report's name asks for; raises ValueError for another suffix."""
    suffix = to.suffix.lower()
    if suffix not in (".html", ".pdf"):
        raise ValueError(f"{to.name}: a report is written as .html or .pdf")
    return suffix


def write_report(game: Game, steps: Sequence[Step], coverage: Coverage, to: Path,
                 progress: Callable[[float], None] | None = None,
                 cancelled: Callable[[], bool] = lambda: False) -> Path:
    """Write the report as ``.html`` (one self-contained file) or ``.pdf``, by the suffix of ``to``.

    Raises ValueError for another suffix, Cancelled, and OSError.
    """
    suffix = form_of(to)
    report = gather(game, steps, coverage, progress, cancelled)
    with written_whole(to) as temporary:
        if suffix == ".html":
            temporary.write_text(html(report), encoding="utf-8")
        else:
            write_pdf(report, temporary)
    if progress:
        progress(1.0)
    return to
