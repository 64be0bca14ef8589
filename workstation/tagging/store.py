"""The SQLite side of a game file: its schema, durability on disk, and conversion of records to rows and back."""

from __future__ import annotations

import json
import os
import re
import shutil
import sqlite3
import tempfile
import uuid
import zlib
from collections.abc import Iterable, Iterator
from contextlib import closing, contextmanager
from dataclasses import replace
from pathlib import Path
from typing import Any

from ..film.film import Source
from ..targets import APPLICATION_ID
from . import soundness
from .records import TYPE, Edit, Id, Kind, Records, Values
from .serialise import Unreadable, from_plain, to_plain

VERSION = 4
"""Schema version (PRAGMA user_version). A step up needs an entry in MIGRATIONS."""

LARGEST_VALUE = 16 * 1024 * 1024
"""Bytes of the largest value that is read or written; no tag is longer."""

SCHEMA = """
CREATE TABLE about (key TEXT PRIMARY KEY, value TEXT NOT NULL, sum INTEGER) WITHOUT ROWID;
CREATE TABLE record (kind TEXT, id, body TEXT, sum INTEGER, PRIMARY KEY (kind, id)) WITHOUT ROWID;
CREATE TABLE action (number INTEGER PRIMARY KEY, description TEXT NOT NULL, at TEXT NOT NULL, sum INTEGER);
CREATE TABLE edit (action INTEGER, place INTEGER, kind TEXT NOT NULL, id NOT NULL, before TEXT, after TEXT,
                   sum INTEGER, PRIMARY KEY (action, place)) WITHOUT ROWID;
"""
# SQLite finds broken structure by itself; checksums find what it cannot, such as a flipped bit inside a text.

MIGRATIONS: dict[int, str] = {
    1: """
    ALTER TABLE about ADD COLUMN sum INTEGER;
    ALTER TABLE record ADD COLUMN sum INTEGER;
    ALTER TABLE action ADD COLUMN sum INTEGER;
    ALTER TABLE edit ADD COLUMN sum INTEGER;
    UPDATE about SET sum = checksum(key, value);
    UPDATE record SET sum = checksum(kind, id, body);
    UPDATE action SET sum = checksum(number, description, at);
    UPDATE edit SET sum = checksum(action, place, kind, id, before, after);
    """,
    2: "",      # new kinds of record, vocabulary and coming, and own words in plays: older programs read none of them
    3: "",      # further angles and matches are records of new kinds, which an older program could not read
}
"""SQL that lifts a file from the version of its key to the next one."""

JOURNAL = "WAL"
"""How SQLite keeps a commit whole: a write-ahead log, whose commits are the quickest that are safe."""

VFS = ""
"""SQLite's own name for the file layer to use; empty for the system's."""

_JSON = json.JSONEncoder(separators=(",", ":"), allow_nan=False)


class Damage(Exception):
    """The file is a game file but damaged."""


class TooNew(Exception):
    """The file's schema version is newer than this program's."""


def connect(path: Path, mode: str, immutable: bool = False) -> sqlite3.Connection:
    """Open *path* with SQLite's *mode* (``ro``, ``rw``, ``rwc``), set up to distrust what is in it. *immutable*
    files are read without a lock and without creating a log beside them."""
    uri = f"{path.absolute().as_uri()}?mode={mode}" + (f"&vfs={VFS}" if VFS else "") + "&immutable=1" * immutable
    connection = sqlite3.connect(uri, uri=True, isolation_level=None, check_same_thread=False, timeout=2)
    connection.setlimit(sqlite3.SQLITE_LIMIT_LENGTH, LARGEST_VALUE)
    equip(connection)
    for pragma in ("trusted_schema=OFF", "cell_size_check=ON", "fullfsync=ON", "checkpoint_fullfsync=ON"):
        connection.execute(f"PRAGMA {pragma}")
    return connection


def equip(connection: sqlite3.Connection) -> None:
    """Give SQL the function ``checksum`` that row sums are made with."""
    connection.create_function("checksum", -1, _checksum, deterministic=True)


def _checksum(*values: Any) -> int:
    return zlib.crc32(json.dumps(values).encode())


def make(path: Path, edits: Iterable[Edit], folder: Path) -> None:
    """Write a game file of these records at *path*, which must not exist; *folder* is where it will lie."""
    with closing(connect(path, "rwc")) as connection:
        connection.execute("PRAGMA synchronous=EXTRA")
        connection.executescript(
            f"BEGIN; PRAGMA application_id={APPLICATION_ID}; PRAGMA user_version={VERSION}; {SCHEMA};")
        write_about(connection, game=uuid.uuid4().hex, revision=0, position=0)
        write_records(connection, edits, folder)
        connection.execute("COMMIT")


def settle(connection: sqlite3.Connection) -> str:
    """Choose the journal that loses nothing at power loss; returns its name.

    Write-ahead logging with a sync at every commit; where the folder has no shared memory for that
    (network shares), a rollback journal whose removal is synced, too.
    """
    try:
        journal: str = connection.execute(f"PRAGMA journal_mode={JOURNAL}").fetchone()[0]
    except sqlite3.OperationalError:
        # a log left by a crash can be read without shared memory only by a sole owner
        connection.execute("PRAGMA locking_mode=EXCLUSIVE")
        journal = connection.execute("PRAGMA journal_mode=DELETE").fetchone()[0]
        connection.execute("PRAGMA locking_mode=NORMAL")
        connection.execute("SELECT count(*) FROM about").fetchone()
    connection.execute(f"PRAGMA synchronous={'FULL' if journal == 'wal' else 'EXTRA'}")
    return journal


@contextmanager
def look(path: Path) -> Iterator[sqlite3.Connection]:
    """A connection that reads *path* and leaves the file unchanged, even if it needs recovery.

    Where SQLite would have to write to read it (a journal left by a crash, a log in a folder that cannot be
    written), a private copy is read instead.
    """
    if not _beside(path, "-journal").exists():
        with closing(connect(path, "ro", _is_left_with_log_mode(path))) as connection:
            try:
                connection.execute("SELECT count(*) FROM sqlite_master").fetchone()
            except sqlite3.OperationalError:
                pass
            else:
                yield connection
                return
    with tempfile.TemporaryDirectory(prefix="game-") as folder:
        copy = Path(folder) / path.name
        for suffix in ("", "-wal", "-journal"):
            if _beside(path, suffix).exists():
                shutil.copyfile(_beside(path, suffix), _beside(copy, suffix))
        with closing(connect(copy, "rw")) as connection:
            connection.execute("PRAGMA locking_mode=EXCLUSIVE")  # needs no shared memory
            yield connection


def _is_left_with_log_mode(path: Path) -> bool:
    """Whether the file is in write-ahead mode without a log: nobody has it open, and reading would create one."""
    with path.open("rb") as stream:
        return is_settled(path) and stream.read(20)[18:] == b"\2\2"


def inspect(path: Path) -> tuple[Records, dict[str, str]]:
    """Check the whole file and read its records and :func:`about`, without changing it.

    An older version is lifted in memory. Raises :class:`Damage`, :class:`TooNew` or sqlite3.Error.
    """
    try:
        with look(path) as connection:
            version = schema_version(connection)
            if version > VERSION:
                raise TooNew(version)
            verify(connection)
            if version == VERSION:
                return _read_whole(connection, path.parent)
            with closing(sqlite3.connect(":memory:", isolation_level=None)) as lifted:
                equip(lifted)
                connection.backup(lifted)
                migrate(lifted)
                return _read_whole(lifted, path.parent)
    except UnicodeDecodeError as error:
        raise Damage("a text in it is altered") from error


def _read_whole(connection: sqlite3.Connection, folder: Path) -> tuple[Records, dict[str, str]]:
    check_columns(connection)
    said, records = about(connection), load(connection, folder)
    if found := soundness.problems(records):
        raise Damage(soundness.told(found))
    return records, said


def migrate(connection: sqlite3.Connection) -> None:
    """Lift the schema to VERSION, all of it or nothing."""
    version = schema_version(connection)
    if version < VERSION:
        steps = "".join(MIGRATIONS[step] for step in range(version, VERSION))
        connection.executescript(f"BEGIN IMMEDIATE; {steps}; PRAGMA user_version={VERSION}; COMMIT;")


def schema_version(connection: sqlite3.Connection) -> int:
    """Return the schema version that the database says it has; 0 if it was never set."""
    return int(connection.execute("PRAGMA user_version").fetchone()[0])


def verify(connection: sqlite3.Connection) -> None:
    """Raise :class:`Damage` if the file's structure is not whole."""
    found = [row[0] for row in connection.execute("PRAGMA integrity_check(5)")]
    if found != ["ok"]:
        raise Damage("; ".join(found))
    tables = {name for (name,) in connection.execute("SELECT name FROM sqlite_master")}
    if tables != set(_TABLES):
        raise Damage("its tables are not those of a game file")


def check_columns(connection: sqlite3.Connection) -> None:
    """Raise :class:`Damage` if a table has other columns or keys than the newest version, or the history is invalid."""
    for table, columns in _columns(connection).items():
        if columns != _COLUMNS[table]:
            raise Damage(f"its table {table!r} is not that of a game file")
    (strange,) = connection.execute(
        "SELECT count(*) FROM action WHERE typeof(description) != 'text' OR typeof(at) != 'text'").fetchone()
    if strange:
        raise Damage("its history is altered")


def _columns(connection: sqlite3.Connection) -> dict[str, tuple[tuple[str, int], ...]]:
    return {table: tuple((name, key) for _, name, _, _, _, key in connection.execute(f"PRAGMA table_info({table})"))
            for table in _TABLES}


_TABLES = ("about", "record", "action", "edit")
with closing(sqlite3.connect(":memory:")) as _fresh:
    _fresh.executescript(SCHEMA)
    _COLUMNS = _columns(_fresh)


def about(connection: sqlite3.Connection) -> dict[str, str]:
    """What the file says about itself: ``game`` (its own id), ``revision`` (counts every change), ``position``
    (the action of the history that was done last), and ``holder`` and ``draft`` if there are any."""
    said = {}
    for key, value, whole in connection.execute("SELECT key, value, sum = checksum(key, value) FROM about"):
        if not whole:
            raise Damage(f"what it says about its {key!r} is altered")
        said[key] = value
    if not {"game", "revision", "position"} <= said.keys():
        raise Damage("it does not say where its history stands")
    for key in ("revision", "position"):
        if not re.fullmatch("[0-9]{1,18}", said[key]):
            raise Damage(f"its {key} is {said[key][:40]!r}, which is no number")
    return said


def load(connection: sqlite3.Connection, folder: Path) -> Records:
    """Read all records; *folder* is where relative source paths begin."""
    values: dict[Kind, Values] = {kind: {} for kind in Kind}
    used: dict[Kind, set[Id]] = {kind: set() for kind in Kind}
    rows = connection.execute("SELECT kind, id, body, sum = checksum(kind, id, body) FROM record")
    for word, id, body, whole in rows:
        if not whole:
            raise Damage(f"{word} {id!r} is altered")
        try:
            kind = Kind(word)
            used[kind].add(id)
            if body is not None:
                values[kind][id] = from_text(kind, body, folder)
        except RecursionError:
            raise Damage(f"{word} {id!r} cannot be read: it is nested too deeply") from None
        except (ValueError, Unreadable) as error:
            raise Damage(f"{word} {id!r} cannot be read: {error}") from None
    return Records(values, used)


def write_action(connection: sqlite3.Connection, number: int, description: str, at: str, edits: Iterable[Edit],
                 folder: Path) -> None:
    """Record an action with its edits in the history, in place of whatever was undone before it."""
    connection.execute("DELETE FROM action WHERE number >= ?", [number])
    connection.execute("DELETE FROM edit WHERE action >= ?", [number])
    connection.execute("INSERT INTO action VALUES (?1, ?2, ?3, checksum(?1, ?2, ?3))", [number, description, at])
    connection.executemany(
        "INSERT INTO edit VALUES (?1, ?2, ?3, ?4, ?5, ?6, checksum(?1, ?2, ?3, ?4, ?5, ?6))",
        [(number, place, edit.kind, edit.id, to_text(edit.kind, edit.before, folder),
          to_text(edit.kind, edit.after, folder)) for place, edit in enumerate(edits)])


def write_records(connection: sqlite3.Connection, edits: Iterable[Edit], folder: Path) -> None:
    """Make *edits* in the records. A removed record leaves its id behind, so that it is never used again."""
    connection.executemany(
        """INSERT INTO record VALUES (?1, ?2, ?3, checksum(?1, ?2, ?3))
        ON CONFLICT DO UPDATE SET body = excluded.body, sum = excluded.sum""",
        [(edit.kind, edit.id, to_text(edit.kind, edit.after, folder)) for edit in edits])


def write_about(connection: sqlite3.Connection, **said: Any) -> None:
    """Store facts about the game file by their names, each with its checksum."""
    connection.executemany(
        """INSERT INTO about VALUES (?1, ?2, checksum(?1, ?2))
        ON CONFLICT DO UPDATE SET value = excluded.value, sum = excluded.sum""",
        [(key, str(value)) for key, value in said.items()])


def read_action(connection: sqlite3.Connection, number: int, folder: Path) -> tuple[str, tuple[Edit, ...]] | None:
    """Description and edits of an action of the history, or None if there is none of that number.

    Raises :class:`Damage` if it is not as it was written."""
    row = connection.execute(
        "SELECT description, sum = checksum(number, description, at) FROM action WHERE number = ?", [number]
    ).fetchone()
    if row is None:
        return None
    description, whole = row
    edits = []
    for word, id, before, after, edit_whole in connection.execute(
        """SELECT kind, id, before, after, sum = checksum(action, place, kind, id, before, after)
        FROM edit WHERE action = ? ORDER BY place""", [number]):
        whole = whole and edit_whole
        if not whole:
            break
        try:
            kind = Kind(word)
            edits.append(Edit(kind, id, from_text(kind, before, folder), from_text(kind, after, folder)))
        except RecursionError:
            raise Damage(f"step {number} of the history is nested too deeply") from None
    if not whole or not edits:
        raise Damage(f"step {number} of the history is altered")
    return description, tuple(edits)


def to_text(kind: Kind, value: Any, folder: Path) -> str | None:
    """Return a record as JSON; paths of sources are relative to `folder`, None stays None."""
    if value is None:
        return None
    if isinstance(value, Source):
        value = replace(value, path=relative_path(value.path, folder))
    return _JSON.encode(to_plain(value, TYPE[kind]))


def from_text(kind: Kind, text: str | None, folder: Path) -> Any:
    """Return the record that `to_text` wrote; paths are resolved against `folder`, None stays None."""
    if text is None:
        return None
    value = from_plain(TYPE[kind], json.loads(text))
    if isinstance(value, Source):
        value = replace(value, path=Path(os.path.normpath(folder / value.path)))
    return value


def relative_path(path: Path, folder: Path) -> Path:
    """*path* relative to *folder*; unchanged if it is on another drive."""
    try:
        return Path(os.path.relpath(path, folder))
    except ValueError:
        return path


def sync_folder(folder: Path) -> None:
    """Make renames in *folder* last through a power loss, where the system can."""
    if os.name == "posix":
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)


def is_settled(path: Path) -> bool:
    """Whether the file is free of a journal beside it, as a crash or an open desk leaves one."""
    return not any(_beside(path, suffix).exists() for suffix in ("-wal", "-journal"))


def _beside(path: Path, suffix: str) -> Path:
    return path.with_name(path.name + suffix)
