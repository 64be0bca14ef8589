"""Batch export: many segments into a folder, with progress, cancel, and one failure never stopping the rest."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from functools import partial
from pathlib import Path

from ..cancelling import Cancelled
from ..film.faults import NoPicture
from ..film.index import index_of
from .copying import CannotCopy, copy_part, suffix_for
from .decoding import CannotDecode
from .naming import PATTERN, file_name
from .notices import NOTICE_NAME, notices_of, write_notices
from .rendering import Settings, render
from .segment import Segment


@dataclass(frozen=True, slots=True)
class ExportFailure:
    """A segment that could not be exported, and why."""

    label: str
    why: str


@dataclass
class Exported:
    """What came of a batch. ``files`` by segment, in order; ``notes`` are what a person should know."""

    files: list[tuple[Segment, Path]] = field(default_factory=list)
    failures: list[ExportFailure] = field(default_factory=list)
    notes: list[str] = field(default_factory=list)
    cancelled: bool = False


def undecodable_notes(segment: Segment) -> list[str]:
    """What to say of parts that begin with pictures that cannot be decoded whole. Reads indexes."""
    notes = []
    for part in segment.parts:
        if part.source.problem:
            continue
        try:
            index = index_of(part.source)
        except NoPicture:
            continue                # the export itself says so
        missing = index.whole_from - index.at(part.start)
        if missing > 0:
            notes.append(f"{segment.label or part.source.path.name}: {part.source.path.name} was cut inside a group of "
                         f"pictures, so its first {missing} here cannot be decoded and are grey or smeared. "
                         "Begin later, or take the recording that it was cut from.")
    return notes


def export_segments(segments: Sequence[Segment], to: Path, rendered: Settings | None = None, pattern: str = PATTERN,
                    progress: Callable[[float], None] | None = None, cancelled: Callable[[], bool] = lambda: False,
                    every_player: bool = False) -> Exported:
    """Write each segment to a file of its own in the folder ``to``: copied, or rendered with these settings.

    A copied segment that runs over several sources gives one file per source, because joining
    needs encoding; ``every_player`` is for copies, see :func:`.copying.copy_part`. Files that exist already are not
    touched: names go on counting. Raises PatternError for a bad name pattern and OSError if the folder cannot be made.
    """
    to.mkdir(parents=True, exist_ok=True)
    taken = {path.name.casefold() for path in to.iterdir()}
    done = Exported()
    total = float(sum(segment.duration for segment in segments)) or 1.0
    before = 0.0

    def tell(segment: Segment, inside: float) -> None:
        if progress:
            progress(min(1.0, (before + inside * float(segment.duration)) / total))

    for segment in segments:
        if cancelled():
            done.cancelled = True
            break
        tell(segment, 0)
        done.notes += undecodable_notes(segment)
        try:
            if rendered is None:
                for position, part in enumerate(segment.parts, 1):
                    fields = segment.fields
                    several = f" part {position}" if len(segment.parts) > 1 else ""
                    path = to / file_name(pattern + several, fields, suffix_for(part.source), taken)
                    copied = copy_part(part, path, every_player)
                    done.files.append((segment, path))
                    if copied.note:
                        done.notes.append(f"{path.name}: {copied.note}")
            else:
                path = to / file_name(pattern, segment.fields, ".mp4", taken)
                made = render([segment], path, rendered, None, partial(tell, segment), cancelled)
                done.notes += [f"{path.name}: {note}" for note in made.notes]
                done.files.append((segment, path))
        except Cancelled:
            done.cancelled = True
            break
        except (CannotCopy, CannotDecode, OSError) as error:
            done.failures.append(ExportFailure(segment.label, str(error)))
        before += float(segment.duration)
    notices = notices_of(segment for segment, _ in done.files)
    done.notes += notices
    write_notices(notices, to / NOTICE_NAME)
    return done
