"""The index of a folder of games: the facts of all plays as a Parquet data set beside them (resources/season_index.md).

It is derived from the games: whatever is missing, stale or of another form is made again. Pandas counts what pyarrow
reads, quickly enough at 170,000 plays; a database engine was three times as fast in a benchmark, but would be one more
dependency, and the facts would be defined twice. Other programs may read the files.
"""

from __future__ import annotations

import hashlib
import json
import os
import zlib
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from concurrent.futures import ProcessPoolExecutor
from contextlib import contextmanager, suppress
from dataclasses import dataclass, fields, replace
from itertools import repeat
from multiprocessing import get_context
from pathlib import Path
from typing import Any

import pyarrow as pa
import pyarrow.parquet as pq
from filelock import FileLock, Timeout

from ..film.writing import written_whole
from ..football.rulebook import load_rulebook
from ..football.tracker import track
from ..tagging.backups import original_of
from ..tagging.gamefile import SUFFIX
from ..tagging.inspection import GameFileError, game_in
from ..tagging.model import Heading
from .facts import COLUMNS, OWN_WORD, Sort, rows_of

FOLDER = ".season-index"        # in the folder of games
GAMES = "games.parquet"
FORM = 1                        # version of the index; one of another version is rebuilt
PARTS = 32                      # files that the plays are spread over, by a hash of the game's name
_FORM_KEY = b"season index form"
WAIT = 30.0                     # seconds to wait while another desk writes
_SEVERAL = 40                   # games to read from which several processes are quicker
_TYPES = {Sort.WORDS: pa.string(), Sort.TEXT: pa.string(), Sort.WHOLE: pa.int32(), Sort.NUMBER: pa.float64(),
          Sort.YES_NO: pa.bool_()}
GAME = "game"                   # the column of plays that names the game's file
_FACTS = [(GAME, pa.string()), *((column.name, _TYPES[column.sort]) for column in COLUMNS)]
_READ_AS_CODES = [GAME, *(column.name for column in COLUMNS if column.sort is Sort.WORDS)]


class CannotIndex(OSError):
    """The index cannot be written; the text says where and what to do."""


@dataclass(frozen=True)
class IndexedGame:
    """A game file as the index knows it. ``file`` is its path from the folder. ``stamp`` tells whether it may have
    changed, ``digest`` whether it has. ``left_out`` says why nothing is known of its plays, empty if it is known."""

    file: str
    stamp: str = ""
    digest: str = ""
    title: str = ""
    home: str = ""
    visitors: str = ""
    date: str = ""
    venue: str = ""
    level: str = ""
    crew: str = ""
    rulebook: str = ""
    rulebook_season: int = 0        # 0: the newest
    plays: int = 0
    shots: int = 0
    film_files: int = 0
    film_found: int = 0             # files found when last looked for
    film_folders: str = ""          # where they lie, if not beside the game, as a JSON list
    film_stamp: str = ""            # when these folders last changed
    own_words: str = ""             # names of words of the staff's own, as a JSON list
    left_out: str = ""

    @property
    def part(self) -> int:
        """The part of the index that its plays are in."""
        return zlib.crc32(self.file.encode("utf-8", "surrogatepass")) % PARTS


@dataclass(frozen=True)
class Updated:
    """What bringing an index up to date came to, in numbers of games."""

    read: int = 0
    unchanged: int = 0
    gone: int = 0
    left_out: tuple[IndexedGame, ...] = ()


def game_files(folder: Path) -> Iterator[Path]:
    """Every game file in a folder and those below it, in the order of their names; without backups and hidden files.
    Raises OSError if the folder itself cannot be read."""
    os.listdir(folder)
    for root, folders, names in os.walk(folder):
        folders[:] = sorted(name for name in folders if not name.startswith("."))
        for name in sorted(names):
            path = Path(root, name)
            if name.endswith(SUFFIX) and not name.startswith(".") and original_of(path) is None:
                yield path


def stamp_of(path: Path) -> str:
    """Size and time of a game file and of its log, in which another desk's changes may still be. Raises OSError."""
    told = []
    for each in (str(path), f"{path}-wal"):
        with suppress(FileNotFoundError):
            found = os.stat(each)
            told.append(f"{found.st_size}:{found.st_mtime_ns}")
    if not told:
        raise FileNotFoundError(f"{path}: there is no such file")
    return " ".join(told)


def digest_of(path: Path) -> str:
    """A digest of a game file and its log. Raises OSError."""
    digest = hashlib.blake2b(path.read_bytes(), digest_size=16)
    with suppress(FileNotFoundError):
        digest.update(path.with_name(path.name + "-wal").read_bytes())
    return digest.hexdigest()


def indexed(folder: Path, path: Path) -> tuple[IndexedGame, pa.Table | None]:
    """What the index holds of one game file; a file that cannot be used comes with the reason and without plays."""
    name = path.relative_to(folder).as_posix()
    try:
        stamp, digest = stamp_of(path), digest_of(path)
    except OSError as error:
        return IndexedGame(name, left_out=f"it cannot be read: {error.strerror or error}"), None
    known = IndexedGame(name, stamp, digest)
    try:
        game = game_in(path)
        rulebook = load_rulebook(game.heading.rulebook, game.heading.season)
        rows = rows_of(game, track(rulebook, [tag.play for tag in game.plays]), rulebook)
    except (GameFileError, OSError, ValueError) as error:      # errors of rulebooks and profiles are ValueErrors
        return replace(known, left_out=str(error).removeprefix(f"{path}: ")), None
    words = list(dict.fromkeys(each for row in rows for each in row if each.startswith(OWN_WORD)))
    heading: Heading = game.heading
    files = [source.path for source in game.film.sources]
    folders = json.dumps(sorted({str(file.parent) for file in files} - {str(path.parent)}), ensure_ascii=False)
    known = replace(
        known, title=heading.title, home=heading.home, visitors=heading.visitors, date=heading.date,
        venue=heading.venue, level=heading.level, crew=heading.crew, rulebook=heading.rulebook,
        rulebook_season=heading.season or 0, plays=len(rows), shots=len(game.shots), film_files=len(files),
        film_found=_found(path, files), film_folders=folders, film_stamp=_film_stamp(folders),
        own_words=json.dumps([word.removeprefix(OWN_WORD) for word in words], ensure_ascii=False))
    return known, _table(name, rows, words)


def _film_stamp(folders: str) -> str:
    """When the folders last changed, so that film that came or went is seen without looking for each file."""
    told = []
    for folder in json.loads(folders or "[]"):
        try:
            told.append(str(os.stat(folder).st_mtime_ns))
        except OSError:
            told.append("gone")
    return " ".join(told)


def _found(path: Path, files: Sequence[Path]) -> int:
    """How many of a game's files are where it knows them, or beside it."""
    return sum(file.exists() or (path.parent / file.name).exists() for file in files)


def _table(game: str, rows: Sequence[Mapping[str, Any]], words: Sequence[str]) -> pa.Table:
    arrays = [pa.array([game] * len(rows), pa.string())]
    arrays += [pa.array([row[name] for row in rows], kind) for name, kind in _FACTS[1:]]
    arrays += [pa.array([row.get(word, "") for row in rows], pa.string()) for word in words]
    return pa.Table.from_arrays(arrays, schema=_schema(words))


def _schema(words: Iterable[str] = ()) -> pa.Schema:
    return pa.schema([*_FACTS, *((word, pa.string()) for word in words)])


class SeasonIndex:
    """The index of one folder of games. Where the folder cannot be written, *elsewhere* is where it is kept."""

    def __init__(self, folder: Path, elsewhere: Path | None = None):
        self.folder = folder.absolute()
        self.place = self.folder / FOLDER
        self._games: tuple[object, list[IndexedGame]] | None = None     # as last read, with the state of the file then
        if elsewhere is not None and not os.access(self.place if self.place.exists() else self.folder, os.W_OK):
            self.place = elsewhere / hashlib.blake2b(os.fsencode(self.folder), digest_size=8).hexdigest()

    # -- reading

    def games(self) -> list[IndexedGame]:
        """The games as the index last saw them, in the order of their files; none if there is none of this form."""
        try:
            found = (self.place / GAMES).stat()
            stamp = found.st_size, found.st_mtime_ns, found.st_ino
            if self._games is None or self._games[0] != stamp:
                self._games = stamp, self._read_games()
        except (OSError, pa.ArrowException):
            return []
        return list(self._games[1])

    def _read_games(self) -> list[IndexedGame]:
        with pq.ParquetFile(self.place / GAMES) as file:
            if (file.schema_arrow.metadata or {}).get(_FORM_KEY) != _FORM_MARK:
                return []
            columns = file.read(use_threads=False).to_pydict()
        return [IndexedGame(*row) for row in zip(*(columns[each.name] for each in fields(IndexedGame)), strict=True)]

    def part_path(self, part: int) -> Path:
        """Where a part of the plays is."""
        return self.place / "plays" / f"part={part:02d}" / "plays.parquet"

    def read_part(self, part: int, columns: Sequence[str] | None = None) -> pa.Table | None:
        """A part of the plays, words as codes, *columns* alone if they are named; None if it lacks or is damaged."""
        try:
            with pq.ParquetFile(self.part_path(part)) as file:
                names = file.schema_arrow.names
            wanted = None if columns is None else [name for name in columns if name in names]
            codes = [name for name in names if name in _READ_AS_CODES or name.startswith(OWN_WORD)]
            return pq.read_table(self.part_path(part), columns=wanted, read_dictionary=codes, partitioning=None,
                                 use_threads=False)
        except (OSError, pa.ArrowException):
            return None

    def _is_whole(self, part: int) -> bool:
        """Whether a part is there and can be read as far as its footer tells."""
        try:
            pq.read_metadata(self.part_path(part))
        except (OSError, pa.ArrowException):
            return False
        return True

    # -- bringing up to date

    def update(self, progress: Callable[[float, float], None] | None = None, anew: bool = False,
               processes: int = 2) -> Updated:
        """Bring the index up to date with the games; *anew* reads all of them again. ``progress(done, of)`` may raise
        to stop; what is written by then stays valid. Many games are read in several *processes*.

        Raises OSError if the folder cannot be read, :class:`CannotIndex` if the index cannot be written or another desk
        is at it.
        """
        before_name = len(str(self.folder)) + 1
        paths = {str(path)[before_name:].replace(os.sep, "/"): path for path in game_files(self.folder)}
        before = {} if anew else {game.file: game for game in self.games()}
        known, stale = self._compared(paths, before)
        gone = {game.part for name, game in before.items() if name not in paths}
        touched = {game.part for game in map(IndexedGame, stale)} | gone
        missing = {part for part in {game.part for game in known.values() if game.plays} if not self._is_whole(part)}
        touched |= missing
        lost = [name for name, game in known.items() if game.part in missing]
        for name in lost:
            del known[name]
        stale += lost
        if touched or known != before:
            self._make_place()
            try:
                with FileLock(self.place / ".lock", timeout=WAIT):
                    self._write(known, stale, touched, paths, progress, processes)
            except Timeout:
                raise CannotIndex(f"{self.place}: another desk is writing the index; try again in a moment") from None
        return Updated(len(stale), len(paths) - len(stale), len(set(before) - set(paths)),
                       tuple(game for _, game in sorted(known.items()) if game.left_out))

    def _compared(self, paths: Mapping[str, Path], before: Mapping[str, IndexedGame]
                  ) -> tuple[dict[str, IndexedGame], list[str]]:
        """The games that are as they were, and the names of those that have to be read."""
        known, stale = {}, []
        for name, path in paths.items():
            game = before.get(name)
            try:
                stamp = stamp_of(path)
                if game is not None and game.stamp != stamp and game.digest == digest_of(path):
                    game = replace(game, stamp=stamp)
            except OSError:
                game = None
            if game is not None and game.stamp and game.stamp == stamp and (
                    game.film_stamp == _film_stamp(game.film_folders)):
                known[name] = game
            else:
                stale.append(name)
        return known, stale

    def _make_place(self) -> None:
        try:
            (self.place / "plays").mkdir(parents=True, exist_ok=True)
        except OSError as error:
            raise CannotIndex(f"{self.place}: the index cannot be written ({error.strerror}); make the folder "
                              "writable") from error

    def _write(self, known: dict[str, IndexedGame], stale: Sequence[str], touched: set[int],
               paths: Mapping[str, Path], progress: Callable[[float, float], None] | None, processes: int) -> None:
        """Read the stale games part by part, to limit memory, and write each part."""
        by_part: dict[int, list[str]] = {part: [] for part in sorted(touched)}
        for name in stale:
            by_part[IndexedGame(name).part].append(name)
        order, done = [name for names in by_part.values() for name in names], 0
        try:
            with _reading(self.folder, [paths[name] for name in order], processes) as read:
                for part, names in by_part.items():
                    tables, games = [], []
                    for _ in names:
                        game, table = next(read)
                        games.append(game)
                        tables += [table] if table is not None else []
                        done += 1
                        if progress:
                            progress(done, len(stale))
                    self._write_part(part, set(names), known, tables)
                    known.update((game.file, game) for game in games)
        except BaseException:
            with suppress(OSError):         # keeps what was read so far
                self._write_games(known)
            raise
        self._write_games(known)

    def _write_part(self, part: int, read: set[str], known: Mapping[str, IndexedGame], tables: list[pa.Table]) -> None:
        """Write a part: its games that are *known* and were not *read* now as they were, and *tables*."""
        old = self.read_part(part)
        if old is not None and (old.schema.metadata or {}).get(_FORM_KEY) == _FORM_MARK:
            keep = pa.array([name for name, game in known.items() if game.part == part and name not in read],
                            pa.string())
            kept = old.filter(pa.compute.is_in(old[GAME].cast(pa.string()), keep))
            tables = [kept.cast(_plain(kept.schema)), *tables]
        path = self.part_path(part)
        if not tables or not sum(table.num_rows for table in tables):
            path.unlink(missing_ok=True)
            return
        path.parent.mkdir(exist_ok=True)
        joined = pa.concat_tables(tables, promote_options="default").replace_schema_metadata(_MARKED)
        with written_whole(path) as temporary:
            pq.write_table(joined, temporary, compression="zstd", use_dictionary=True)

    def _write_games(self, known: Mapping[str, IndexedGame]) -> None:
        games = [game for _, game in sorted(known.items())]
        schema = pa.schema([(each.name, pa.int32() if each.type == "int" else pa.string())
                            for each in fields(IndexedGame)], _MARKED)
        arrays = [pa.array([getattr(game, each.name) for game in games], each.type) for each in schema]
        with written_whole(self.place / GAMES) as temporary:
            pq.write_table(pa.Table.from_arrays(arrays, schema=schema), temporary, compression="zstd")


_FORM_MARK = hashlib.blake2b(repr((FORM, PARTS, _FACTS, [(each.name, each.type) for each in fields(IndexedGame)])
                                  ).encode(), digest_size=8).hexdigest().encode()
_MARKED = {_FORM_KEY: _FORM_MARK}


def _plain(schema: pa.Schema) -> pa.Schema:
    """The schema with words as text instead of codes."""
    return pa.schema([(each.name, each.type.value_type if pa.types.is_dictionary(each.type) else each.type)
                      for each in schema], schema.metadata)


@contextmanager
def _reading(folder: Path, paths: Sequence[Path], processes: int
             ) -> Iterator[Iterator[tuple[IndexedGame, pa.Table | None]]]:
    """What the index holds of each game, in order; read in other processes if there are many."""
    if processes < 2 or len(paths) < _SEVERAL:
        yield (indexed(folder, path) for path in paths)
        return
    pool = ProcessPoolExecutor(processes, get_context("spawn"))
    try:
        yield pool.map(indexed, repeat(folder), paths, chunksize=4)
    finally:
        pool.shutdown(cancel_futures=True)
