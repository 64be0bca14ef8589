"""The cover page of a pack."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from reportlab.platypus import Flowable, KeepTogether

from ..tagging.model import Game
from .papers import HEADING, NOTICE, SMALL, TITLE, paragraph, picture, table, write_document
from .segment import Segment
from .still import Still


@dataclass(frozen=True)
class Cover:
    """What stands on the page. ``drawings`` says what was drawn and whether the film stands still for it;
    ``missing`` are files that could not be made, and why."""

    title: str
    segments: Sequence[Segment]
    stills: Sequence[tuple[Still, str]]
    notices: Sequence[str] = ()
    statement: str = ""
    drawings: str = ""
    missing: Sequence[tuple[str, str]] = ()


def write_cover(game: Game, cover: Cover, to: Path) -> Path:
    """Write the PDF: the plays in order with clock, score, foul, sources and times, the stills, the notices."""
    heading = game.heading
    played = ", ".join(filter(None, (heading.date, heading.venue, heading.level)))
    story: list[Flowable] = [paragraph(cover.title, TITLE),
             paragraph((f"{heading.visitors} at {heading.home}" if heading.home else heading.title)
                       + (f"  ({played})" if played else ""))]
    if heading.crew:
        story.append(paragraph(f"Filmed by {heading.crew}", SMALL))
    story += [paragraph(notice, NOTICE) for notice in cover.notices]
    if cover.missing:
        story += [paragraph(f"Not in this pack: {len(cover.missing)} of the originals", HEADING),
                  *(paragraph(f"{path}: {why}", NOTICE) for path, why in cover.missing)]
    if cover.statement:
        story += [paragraph("Why this is handed on", HEADING), paragraph(cover.statement)]
    rows = [["", "Play", "Quarter, clock", "Score before", "Situation", "Result", "Foul"]]
    for number, segment in enumerate(cover.segments, 1):
        told = segment.fields
        rows.append([str(number), segment.label, " ".join(filter(None, (told.get("quarter"), told.get("clock")))),
                     _score(told), told.get("situation", ""), told.get("result", ""),
                     told.get("foul", "") or "none"])
    story += [paragraph("The sequence", HEADING), table(rows, [7, 16, 24, 30, 35, 34, 34])]
    rows = [["", "Play", "Source", "From", "To"]]
    for number, segment in enumerate(cover.segments, 1):
        for part in segment.used:
            first = (part.start - part.source.start_pts) * part.source.time_base
            last = (part.end - part.source.start_pts) * part.source.time_base
            rows.append([str(number), segment.label, part.source.path.name, f"{float(first):.3f} s",
                         f"{float(last):.3f} s"])
    story += [paragraph("Where it lies in the camera's files", HEADING), table(rows, [7, 20, 93, 30, 30])]
    if cover.drawings:
        story += [paragraph("Drawings", HEADING), paragraph(cover.drawings)]
    if cover.stills:
        story.append(paragraph("Stills", HEADING))
        for taken, line in cover.stills:
            story.append(KeepTogether([picture(taken, 150, line), paragraph(
                f"{line}  ({taken.source.path.name}, frame {taken.frame}, {taken.seconds:.3f} s)", SMALL)]))
    story += [paragraph("How to trust it", HEADING), paragraph(
        "The folder “originals” holds the camera's own pictures, not encoded again" + (
            ", of all but those named above" if cover.missing else "") + ". manifest.json lists every file and every "
        "source with its SHA-256 digest. “Check a pack” in the desk's menu, or “python -m workstation verify”, "
        "compares them and names what was altered. Whoever made this pack was told the digest of manifest.json itself "
        "and can tell it to you by another way; with it nothing in the pack can be exchanged unnoticed.", SMALL)]
    write_document(str(to), cover.title, story)
    return to


def _score(told: dict[str, str]) -> str:
    visitors, _, home = told.get("score", "").partition("-")
    return f"{told['visitors']} {visitors}, {told['home']} {home}" if home else ""
