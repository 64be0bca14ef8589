"""Find film files and open them as the ordered sources of a film.

File names follow DCF (JEITA CP-3461 / CIPA DC-009): folders 100 to 999, four free characters
and a number from 0001 to 9999 in each name, after which the camera begins again; and AVCHD,
whose recordings are numbered 00000 upwards and spanned over files at 2 or 4 GB.
"""

from __future__ import annotations

import os
import re
from collections.abc import Callable, Iterable
from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace
from itertools import count, islice, pairwise
from pathlib import Path
from typing import Any

from natsort import natsort_keygen, ns

from .. import targets
from ..cancelling import Cancelled
from .faults import FilmError, MissingFile, NoPicture, reason_for
from .film import Film, Source
from .fingerprint import fingerprint
from .probe import probe

EXTENSIONS = frozenset({".mts", ".m2ts", ".m2t", ".ts", ".mp4", ".m4v", ".mov", ".qt", ".avi", ".mpg", ".mpeg",
                        ".mxf", ".mkv", ".3gp", ".webm", ".wmv", ".dv"})
COPIES = frozenset({"sub", "thmbnl", "clipinf", "playlist"})   # low-resolution copies and lists beside the recordings

_natural = natsort_keygen(alg=ns.IGNORECASE)
_numbered = re.compile(r"(?P<prefix>.*?)(?P<number>\d+)$")
_chaptered = re.compile(r"(?P<maker>G[HXP])(?P<chapter>\d\d)(?P<number>\d{4})$", re.IGNORECASE)
_first_chapter = re.compile(r"GOPR(?P<number>\d{4})$", re.IGNORECASE)


def find_files(paths: Iterable[Path | str]) -> list[Path]:
    """Return the film files among files and folders, in the order the camera recorded them.

    Folders are searched to any depth; hidden files and a camera's low-resolution copies are skipped. A file that was
    named outright is taken whatever its extension. Raises MissingFile for a path that is not there.
    """
    found: dict[Path, None] = {}
    for path in map(Path, paths):
        if path.is_dir():
            for folder, folders, names in os.walk(path):
                folders[:] = [name for name in folders if name.lower() not in COPIES and not name.startswith(".")]
                for name in names:
                    if not name.startswith(".") and Path(name).suffix.lower() in EXTENSIONS:
                        found[Path(folder, name)] = None
        elif path.is_file():
            found[path] = None
        else:
            raise MissingFile(path)
    return in_camera_order(found)


def in_camera_order(paths: Iterable[Path]) -> list[Path]:
    """Sort files as a camera numbered them: folder by folder, naturally, across a wrapped counter,
    with the parts of one spanned recording together."""
    folders: dict[Path, list[Path]] = {}
    for path in paths:
        folders.setdefault(path.parent, []).append(path)
    return [path for folder in sorted(folders, key=lambda f: _natural(str(f)))
            for path in _unwrapped(sorted(folders[folder], key=_order))]


def _order(path: Path) -> tuple[Any, int, Any]:
    """Chaptered names carry the part before the recording's number (from memory of such cameras' manuals)."""
    if match := _chaptered.match(path.stem):
        maker = "GOPR" if match["maker"].upper() == "GP" else match["maker"].upper()
        return (_natural(f"{maker}{match['number']}"), int(match["chapter"]), _natural(path.name))
    if match := _first_chapter.match(path.stem):
        return (_natural(f"GOPR{match['number']}"), 0, _natural(path.name))
    return (_natural(path.stem), 0, _natural(path.name))


def _unwrapped(paths: list[Path]) -> list[Path]:
    """Begin after the widest gap if a four-digit-or-longer counter ran through its highest number."""
    matches = [match for path in paths if (match := _numbered.match(path.stem))]
    if len(matches) < max(len(paths), 2) or len({(m["prefix"].lower(), len(m["number"])) for m in matches}) != 1:
        return paths
    digits = len(matches[0]["number"])
    numbers = [int(m["number"]) for m in matches]
    top = 10 ** digits - 1
    if digits < 4 or numbers[-1] < top - 1 or numbers[0] > 1:
        return paths
    gaps = [later - earlier for earlier, later in pairwise(numbers)]
    widest = max(range(len(gaps)), key=gaps.__getitem__)
    return paths if gaps[widest] <= 1 else paths[widest + 1:] + paths[:widest + 1]


def open_film(paths: Iterable[Path | str], taken: Iterable[str] = (), *,
              progress: Callable[[int, int], None] | None = None,
              cancelled: Callable[[], bool] = lambda: False,
              first: Callable[[Source], None] | None = None) -> Film:
    """Make a film of files and folders.

    ``taken`` are source ids that the game has used already. ``progress(done, total)`` is called
    after each file, ``first(source)`` with the first that can be shown, before any after it is read.
    Raises MissingFile, FilmError if there is no film file at all, Cancelled if ``cancelled`` says so.
    """
    paths = list(paths)
    files = find_files(paths)
    if not files:
        where = ", ".join(str(path) for path in paths) or "an empty selection"
        raise FilmError(f"No film files in {where}. Choose the folder that the card was copied to.")
    used = set(taken)
    ids = list(islice((id for number in count(1) if (id := f"s{number}") not in used), len(files)))
    sources: list[Source] = []
    while first is not None and len(sources) < len(files) and not cancelled():
        sources.append(probe(files[len(sources)], ids[len(sources)]))
        if sources[-1].problem is None:
            first(sources[-1])
            break
    with ThreadPoolExecutor(max_workers=min(4, os.cpu_count() or 1)) as pool:
        try:
            for source in pool.map(probe, files[len(sources):], ids[len(sources):]):
                sources.append(source)
                if progress:
                    progress(len(sources), len(files))
                if cancelled():
                    raise Cancelled("Opening the film was stopped.")
        except BaseException:
            pool.shutdown(wait=False, cancel_futures=True)
            raise
    return Film(tuple(sources))


def recheck(film: Film) -> Film:
    """The film with the ``problem`` of every source brought up to date with what is on disk now.

    Notices sources that are gone, files that other footage has replaced, and files that can
    be read again. Reads fingerprints only: quick for hundreds of files.
    """
    return Film(tuple(_recheck(source) for source in film.sources))


def require_readable(source: Source) -> None:
    """Raise NoPicture, with the reason, unless the file of ``source`` is there and is the one that was tagged."""
    problem = _recheck(source).problem
    if problem:
        raise NoPicture(source.id, problem)


def _recheck(source: Source) -> Source:
    try:
        size = source.path.stat().st_size
        same = size == source.size and fingerprint(source.path) == source.fingerprint
    except OSError as error:
        return replace(source, problem=reason_for(error, source.path))
    if not same:
        return replace(source, problem=_changed(source, size))
    if source.problem is None:
        return source
    fresh = probe(source.path, source.id)
    return fresh if fresh.problem or not source.duration_pts else replace(source, problem=None)


def _changed(source: Source, size: int) -> str:
    name = source.path.name
    if size < source.size:
        return (f"{name} is not as it was tagged: {source.size - size:,} of its {source.size:,} bytes are missing. "
                "It was cut short, or other footage stands in its place. Copy it from the card again.")
    return f"{name} is not the file that was tagged: other footage stands in its place. Put the right file back."


def relink(film: Film, folders: Iterable[Path | str]) -> Film:
    """Find moved footage again in ``folders`` by fingerprint, whatever it is called now.

    Only sources whose file is missing or replaced are looked for; a source that is not found
    keeps its path and says so in ``problem``. Raises MissingFile for a folder that is not there.
    """
    film = recheck(film)
    lost = {source.id: source for source in film.sources if source.problem and source.fingerprint}
    sizes = {source.size for source in lost.values()}
    here: dict[str, Path] = {}
    for path in find_files(folders) if lost else ():
        try:
            if path.stat().st_size in sizes:
                here.setdefault(fingerprint(path), path)
        except OSError:
            continue
    found = Film(tuple(_relinked(source, here.get(source.fingerprint)) if source.id in lost else source
                       for source in film.sources))
    targets.protect(source.path for source in found.sources)
    return found


def _relinked(source: Source, path: Path | None) -> Source:
    if path is None:
        return source
    if not source.duration_pts:     # it was bad before it moved: look again
        return probe(path, source.id)
    return replace(source, path=path, problem=None)
