"""The disputed-sequence pack: what was shot, how it was made, and the means to see that nobody touched it since."""

from __future__ import annotations

import hashlib
import json
import os
import shutil
import zipfile
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path, PurePosixPath

from .. import __version__
from ..cancelling import Cancelled
from ..film.film import Film
from ..film.time import Instant
from ..film.writing import part_beside, written_whole
from ..tagging.model import Game
from ..targets import PACK_FORM as FORM
from ..targets import PACK_MANIFEST as MANIFEST
from ..targets import refuse_protected
from .captions import webvtt
from .copying import CannotCopy, copy_part, suffix_for
from .cover import Cover, write_cover
from .naming import file_name, safe_name
from .notices import NOTICE_NAME, notices_of, write_notices
from .overlay import Marks, drawn_on, spoken_freezes
from .rendering import Settings, render
from .segment import Segment
from .still import still, tools, write_png
from .verifying import PackError, said_digest

_MISSING = "missing: "
_TOLD = ("quarter", "clock", "score", "situation", "result", "foul")       # of a play, in the manifest
CAPTIONED = Settings(captions=True)


@dataclass(frozen=True, slots=True)
class Contents:
    """What goes into a pack. ``stills`` are instants to take pictures at, each with a line about it."""

    title: str
    segments: Sequence[Segment]
    stills: Sequence[tuple[Instant, str]] = ()
    statement: str = ""             # why the sequence is handed on, in the sender's words
    settings: Settings = CAPTIONED
    marks: Marks | None = None


@dataclass(frozen=True, slots=True)
class Packed:
    """Where a pack lies, what of it could not be made (a line each), and what else a person should know."""

    path: Path
    missing: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()


def make_pack(game: Game, contents: Contents, to: Path, progress: Callable[[float, str], None] | None = None,
              cancelled: Callable[[], bool] = lambda: False) -> Packed:
    """Make the pack ``to``: a folder, or one ZIP file if the name ends in ``.zip``.

    It is there as a whole or not at all; an original that cannot be copied is named on the cover, in the manifest and
    in what is returned. Raises PackError if ``to`` exists or nothing can be put
    in, Cancelled, and what rendering raises.
    """
    if to.exists():
        raise PackError(f"{to} exists already; choose another name, a pack is never written over.")
    if not contents.segments:
        raise PackError("The sequence is empty; put at least one play into it.")
    refuse_protected(to)
    work = part_beside(to)
    work.mkdir(parents=True)

    def tell(share: float, doing: str) -> None:
        if cancelled():
            raise Cancelled("The pack was stopped; nothing was written.")
        if progress:
            progress(share, doing)

    try:
        made, notes = _fill(game, contents, work, tell, cancelled)
        _write_manifest(game, contents, work, made, tell)
        if to.suffix.lower() == ".zip":
            with written_whole(to) as zipped:
                _zip(work, zipped)
        else:
            os.replace(work, to)
    finally:
        shutil.rmtree(work, ignore_errors=True)
    return Packed(to, tuple(f"{path} is not in the pack: {why}" for path, why in _missing(made)), notes)


def _missing(made: dict[str, str]) -> list[tuple[str, str]]:
    """The files that could not be made, and why."""
    return [(path, how.removeprefix(_MISSING)) for path, how in made.items() if how.startswith(_MISSING)]


def _fill(game: Game, contents: Contents, work: Path, tell: Callable[[float, str], None],
          cancelled: Callable[[], bool]) -> tuple[dict[str, str], tuple[str, ...]]:
    """Make the files; returns how each was made, by its path in the pack, and what a person should know of them."""
    made: dict[str, str] = {}
    settings = contents.settings
    film = work / f"{safe_name(contents.title)}.mp4"
    rendered = render(contents.segments, film, settings, contents.marks,
                  lambda share: tell(0.7 * share, "rendering the sequence"), cancelled)
    parts = [part for segment in contents.segments for part in segment.used]
    drawn = len(contents.marks.in_parts(parts)) if contents.marks else 0
    stands = spoken_freezes(contents.marks, parts)
    notes = [f"{film.name}: {note}" for note in rendered.notes]
    made[film.name] = (f"rendered: decoded and encoded again as {rendered.encoder} (rate factor {settings.quality}, "
                       f"preset {settings.preset}) and AAC"
                       + (", caption strip below the picture" if settings.captions else "")
                       + (f", {drawn} drawing{'' if drawn == 1 else 's'} painted in" if drawn else ", no drawings")
                       + (f". {stands}" if stands else ". It runs as it was filmed."))
    captions = film.with_suffix(".vtt")
    captions.write_text(webvtt(rendered.cues), encoding="utf-8")
    made[captions.name] = "captions of the sequence (WebVTT)"

    originals = work / "originals"
    taken: set[str] = set()
    originals.mkdir()
    for number, segment in enumerate(contents.segments, 1):
        for part in segment.used:
            tell(0.7 + 0.15 * number / len(contents.segments), "copying the originals")
            name = file_name("{number} {label}", {**segment.fields, "number": f"{number:02}"}, suffix_for(part.source),
                             taken)
            try:
                copied = copy_part(part, originals / name)
            except CannotCopy as why:
                made[f"originals/{name}"] = f"{_MISSING}{why}"
                continue
            made[f"originals/{name}"] = (
                f"copied without encoding from {part.source.path.name}; the edit list hides {copied.hidden_before} "
                f"pictures of run-up and {copied.hidden_after} after the end"
                + (f". {copied.note}" if copied.note else ""))
            notes += [f"{name}: {copied.note}"] if copied.note else []

    pictures, shown = work / "stills", []
    for number, (instant, line) in enumerate(contents.stills, 1):
        tell(0.85 + 0.05 * number / len(contents.stills), "taking the stills")
        pictures.mkdir(exist_ok=True)
        picture = still(Film(game.sources), instant)
        name = file_name("{number} {source} frame {frame}", {
            "number": f"{number:02}", "source": picture.source.path.stem, "frame": str(picture.frame)}, ".png", taken)
        write_png(picture, line, pictures / name)
        how = f"frame {picture.frame} of {picture.source.path.name}, timestamp {picture.seconds:.6f} s, "
        made[f"stills/{name}"] = f"{how}as decoded (PNG, lossless)"
        painted = drawn_on(picture, contents.marks) if contents.marks else None
        if painted is not None:
            with_drawings = f"{name.removesuffix('.png')} with drawings.png"
            write_png(painted, f"{line} With drawings.", pictures / with_drawings)
            made[f"stills/{with_drawings}"] = f"{how}drawings painted in (PNG, lossless)"
        shown.append((painted or picture, line))

    notices = notices_of(contents.segments)
    if notices:
        write_notices(notices, work / NOTICE_NAME)
        made[NOTICE_NAME] = "notice of discretion"
    tell(0.92, "writing the cover page")
    write_cover(game, Cover(contents.title, contents.segments, shown, notices, contents.statement,
                            _spoken_drawings(drawn, stands), _missing(made)), work / "cover.pdf")
    made["cover.pdf"] = "cover page"
    return made, tuple(notes)


def _spoken_drawings(drawn: int, stands: str) -> str:
    """What the cover says of drawings and of where the film stands still."""
    if not drawn:
        return "The rendered film shows the pictures as filmed; nothing was drawn on them."
    return (f"{'One drawing is' if drawn == 1 else f'{drawn} drawings are'} painted into the rendered film and into "
            "the stills beside the plain ones; the originals have none. "
            f"{stands or 'The film runs on while they show.'}")


def _write_manifest(game: Game, contents: Contents, work: Path, made: dict[str, str],
                    tell: Callable[[float, str], None]) -> None:
    sources = {part.source.id: part.source for segment in contents.segments for part in segment.used}
    files = []
    for path, how in made.items():
        if how.startswith(_MISSING):
            continue
        file = work / PurePosixPath(path)
        files.append({"path": path, "bytes": file.stat().st_size, "sha256": _digest_of(file), "made": how})
    listed = []
    for number, source in enumerate(sources.values(), 1):
        tell(0.95 + 0.05 * number / len(sources), f"taking the digest of {source.path.name}")
        listed.append({"name": source.path.name, "bytes": source.path.stat().st_size, "sha256": _digest_of(source.path),
                       "video_codec": source.video_codec, "timecode": source.timecode, "created": source.created})
    manifest = {
        "form": FORM,
        "title": contents.title,
        "statement": contents.statement,
        "game": {"home": game.heading.home, "visitors": game.heading.visitors, "date": game.heading.date,
                 "venue": game.heading.venue, "rulebook": game.heading.rulebook},
        "made": datetime.now(UTC).isoformat(timespec="seconds"),
        "tool": f"film-workstation {__version__}, {tools()}",
        "segments": [{"label": segment.label, "caption": segment.caption, "notice": segment.notice,
                      **{name: segment.fields.get(name, "") for name in _TOLD},
                      **({"angle": segment.fields["angle"], "beside": [each.name for each in segment.beside],
                          **({"inset": True} if segment.inset else {})}
                         if "angle" in segment.fields else {}), "parts": [
            {"source": part.source.path.name, "start": part.start, "end": part.end,
             "time_base": str(part.source.time_base)} for part in segment.used]} for segment in contents.segments],
        "files": files,
        "not_made": [{"path": path, "why": why} for path, why in _missing(made)],
        "sources": listed,
    }
    manifest["digest"] = said_digest(manifest)
    (work / MANIFEST).write_text(json.dumps(manifest, indent=2, ensure_ascii=False) + "\n", encoding="utf-8")


def _digest_of(path: Path) -> str:
    with path.open("rb") as file:
        return hashlib.file_digest(file, "sha256").hexdigest()


def _zip(folder: Path, to: Path) -> None:
    with zipfile.ZipFile(to, "w", zipfile.ZIP_STORED) as archive:       # video does not shrink
        for path in sorted(folder.rglob("*")):
            if path.is_file():
                archive.write(path, path.relative_to(folder).as_posix())
