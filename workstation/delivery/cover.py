"""The cover page of a pack."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from reportlab.platypus import KeepTogether

from ..tagging.model import Game
from .papers import HEADING, NOTICE, SMALL, TITLE, document, number_pages, paragraph, picture, table
from .segment import Segment
from .still import Still


def write_cover(game: Game, title: str, segments: Sequence[Segment], stills: Sequence[tuple[Still, str]],
                notices: Sequence[str], statement: str, missing: Sequence[tuple[str, str]], to: Path) -> Path:
    """Write the PDF: what the sequence is, its plays in order with sources and times, the stills, the notices.
    ``missing`` are files that could not be made, and why."""
    heading = game.heading
    played = ", ".join(filter(None, (heading.date, heading.venue, heading.level)))
    story = [paragraph(title, TITLE), paragraph(f"{heading.visitors} at {heading.home}" + (f"  ({played})" if played else ""))]
    if heading.crew:
        story.append(paragraph(f"Filmed by {heading.crew}", SMALL))
    story += [paragraph(notice, NOTICE) for notice in notices]
    if missing:
        story += [paragraph(f"Not in this pack: {len(missing)} of the originals", HEADING),
                  *(paragraph(f"{path}: {why}", NOTICE) for path, why in missing)]
    if statement:
        story += [paragraph("Why this is handed on", HEADING), paragraph(statement)]
    rows = [["", "Play", "Situation", "Result", "Source", "From", "To"]]
    for number, segment in enumerate(segments, 1):
        for part in segment.parts:
            first = (part.start - part.source.start_pts) * part.source.time_base
            last = (part.end - part.source.start_pts) * part.source.time_base
            rows.append([str(number), segment.label, segment.fields.get("situation", ""), segment.fields.get("result", ""),
                         part.source.path.name, f"{float(first):.3f} s", f"{float(last):.3f} s"])
    story += [paragraph("The sequence", HEADING), table(rows, [8, 20, 40, 38, 38, 18, 18])]
    if stills:
        story.append(paragraph("Stills", HEADING))
        for taken, line in stills:
            story.append(KeepTogether([picture(taken, 150), paragraph(
                f"{line}  ({taken.source.path.name}, frame {taken.frame}, {taken.seconds:.3f} s)", SMALL)]))
    story += [paragraph("How to trust it", HEADING), paragraph(
        "The folder “originals” holds the camera's own pictures, not encoded again" + (
            ", of all but those named above" if missing else "") + ". manifest.json lists every file and every "
        "source with its SHA-256 digest; “python -m workstation verify” compares them and names what was altered.", SMALL)]
    document(str(to), title).build(story, onFirstPage=number_pages, onLaterPages=number_pages)
    return to
