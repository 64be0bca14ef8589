"""The game file: one SQLite file per game, in which no action is ever lost.

>>> with GameFile.create("Friday.game", Heading(home="Harbor", visitors="Summit")) as file:  # doctest: +SKIP
...     file.do(AddRecord(Moment(0, MomentKind.SNAP, Instant("s1", 90000))))
...     file.undo()
"""

from __future__ import annotations

import getpass
import json
import os
import platform
import secrets
import sqlite3
import threading
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from dataclasses import asdict, dataclass
from datetime import UTC, datetime
from pathlib import Path
from typing import Self, TypeVar

from filelock import FileLock, Timeout

from .. import targets
from ..film.film import Source
from ..targets import GAME_SUFFIX as SUFFIX
from . import copies, rules, soundness, store
from .backups import Backups, image_of, original_of, stamp, write_copy
from .inspection import DamagedGameFile, GameFileError, NewerGameFile, NotAGameFile, inspect, plain_reason, recognise
from .model import Game, Heading
from .operations import Operation, TakeGame
from .records import TYPE, Change, Edit, GameDraft, Id, InvalidOperation, Kind, Records
from .serialise import unreadable
from .whereabouts import Whereabouts

__all__ = ["SUFFIX", "CannotSave", "DamagedGameFile", "GameFile", "GameFileError", "Holder", "InvalidOperation",
           "NewerGameFile", "NotAGameFile", "ReadOnly"]

T = TypeVar("T")


class CannotSave(Exception):
    """The action could not be saved; the game is as it was before it, on disk and here."""


class ReadOnly(CannotSave):
    """The game was opened for reading only; the message says why."""


@dataclass(frozen=True, slots=True)
class Holder:
    """Who has a game file open for writing. ``since`` is ISO 8601, UTC."""

    host: str
    pid: int
    user: str
    since: str

    def __str__(self) -> str:
        since = datetime.fromisoformat(self.since).astimezone()
        return f"{self.user} on {self.host} (process {self.pid}, since {since:%Y-%m-%d %H:%M})"


class GameFile:
    """An open game. Every action is one transaction, on disk before :meth:`do` returns.

    May be used from any thread, one action at a time. ``why_read_only`` is None when the game can be changed, else the
    message that says why it can't; ``holder`` is who has it open, if that is why.

    If another program moves or overwrites the file, work goes on in a rescue file, which ``path`` then names; ``moved``
    then holds the message for the user.
    """

    def __init__(self, path: Path, records: Records, about: dict[str, str], why_read_only: str | None = None):
        self.path = path
        self.why_read_only = why_read_only
        self.holder: Holder | None = None
        self.journal = ""
        self.moved: str | None = None
        self.copies_apart: list[copies.Copy] = []
        self._sitting = secrets.token_hex(8)
        self._folder = path.parent
        self._records = records
        self._game = records.game()
        targets.protect(source.path for source in self._game.sources)
        self._about = about
        self._guard = threading.RLock()
        self._connection: sqlite3.Connection | None = None
        self._lock: FileLock | None = None
        self._backups: Backups | None = None
        self._whereabouts: Whereabouts | None = None
        self._steps: tuple[str | None, str | None] = (None, None)

    # --- open and close

    @classmethod
    def create(cls, path: str | os.PathLike[str], heading: Heading | None = None, game: Game | None = None) -> GameFile:
        """Make a new game file and open it: an empty one under *heading*, or one that holds *game* already.

        The file is made completely or not at all. Raises FileExistsError if there is something at *path*,
        :class:`InvalidOperation` if *game* breaks a rule, :class:`CannotSave` if it can't be written there.
        """
        path = Path(path).expanduser().absolute()
        if not path.parent.is_dir():
            raise CannotSave(f"{path}: there is no folder {path.parent}")
        for taken in (path, *(path.with_name(path.name + suffix) for suffix in ("-wal", "-journal"))):
            if taken.exists():
                raise FileExistsError(f"{taken}: there is a file already; a new game needs a new name")
        draft = GameDraft(Records(), Game())
        TakeGame(game or Game(heading or Heading())).apply(draft)
        _obey(draft)
        beside = path.with_name(f".{path.name}.{os.getpid()}.new")
        try:
            beside.unlink(missing_ok=True)
            store.make(beside, draft.edits(), path.parent)
            os.rename(beside, path)
            store.sync_folder(path.parent)
        except (OSError, sqlite3.Error) as error:
            raise CannotSave(f"{path}: a game file cannot be made here: {plain_reason(error)}") from error
        finally:
            with suppress(OSError):
                beside.unlink(missing_ok=True)
        return cls.open(path)

    @classmethod
    def open(cls, path: str | os.PathLike[str], read_only: bool = False) -> GameFile:
        """Open a game file.

        If somebody else has it open, or the folder cannot be written, it opens for reading only and
        ``why_read_only`` says why. Raises FileNotFoundError or a :class:`GameFileError`; the file is then untouched.
        """
        path = Path(path).expanduser().absolute()
        recognise(path)
        if read_only:
            return cls(path, *inspect(path), "it was opened for reading only")
        if original := original_of(path):
            return cls(path, *inspect(path), f"it is a backup of {original.name}; restore it to go on with it")
        if not (os.access(path, os.W_OK) and os.access(path.parent, os.W_OK)):
            return cls(path, *inspect(path), "the file or its folder cannot be written; copy it to change it")
        lock = FileLock(path.with_name(f".{path.name}.lock"), thread_local=False)
        try:
            lock.acquire(blocking=False)
        except Timeout:
            file = cls(path, *inspect(path))
            file.holder = _read_holder(file._about)
            file.why_read_only = f"it is open for changes by {file.holder or 'another desk'}"
            return file
        except OSError as error:
            reason = f"the folder cannot be written ({error.strerror}); copy the game to change it"
            return cls(path, *inspect(path), reason)
        try:
            file = cls(path, *inspect(path))
            file._open_for_writing(lock)
        except BaseException:
            lock.release()
            raise
        if file.read_only:
            lock.release()
        return file

    def close(self) -> None:
        """Close the file, leaving one tidy file and its backups. Closing twice is harmless."""
        with self._guard:
            if self._connection is None:
                return
            with suppress(CannotSave):
                self._stay_at_path()
            connection = self._connection
            try:
                if self._backups is not None:
                    self._backups.finish(self._revision)
                with suppress(sqlite3.Error):
                    connection.execute("DELETE FROM about WHERE key = 'holder'")
                    connection.execute("PRAGMA journal_mode=DELETE")
            finally:
                self._connection = None
                self.why_read_only = "it is closed"
                connection.close()
                if self._lock is not None:
                    self._lock.release()

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_: object) -> None:
        self.close()

    # --- the game

    @property
    def game(self) -> Game:
        """The game as it is now: an immutable snapshot."""
        return self._game

    @property
    def read_only(self) -> bool:
        """Whether the game is open without a connection to write with."""
        return self._connection is None

    @property
    def backup_problem(self) -> str | None:
        """Why the last rolling backup could not be written, or None."""
        return self._backups.problem if self._backups else None

    def next_id(self, kind: Kind) -> int:
        """The id that the next new record of that kind gets."""
        return self._records.next_id(kind)

    def used_ids(self, kind: Kind) -> frozenset[Id]:
        """The ids that records of that kind have or had; ids are not reused."""
        return frozenset(self._records.used[kind])

    def do(self, operation: Operation) -> Change:
        """Do an operation as one action that can be undone, and return what it changed.

        Raises :class:`InvalidOperation` if it can't be done, :class:`CannotSave` if it can't be saved;
        nothing has changed then. An operation that changes nothing leaves no trace in the history.
        """
        with self._guard:
            return self._commit(operation)

    def undo(self) -> Change | None:
        """Take back the last action; None if there is nothing to undo."""
        with self._guard:
            return self._step(self._position, backward=True)

    def redo(self) -> Change | None:
        """Do again what was undone last; None if there is nothing to redo."""
        with self._guard:
            return self._step(self._position + 1, backward=False)

    @property
    def can_undo(self) -> str | None:
        """What :meth:`undo` would take back ("tag play 12"), or None."""
        return self._steps[0]

    @property
    def can_redo(self) -> str | None:
        """What :meth:`redo` would do again, or None."""
        return self._steps[1]

    def look_for_copies(self) -> list[copies.Copy]:
        """Find the copies of this game beside it that were changed apart from it, on another machine say; they are kept
        in ``copies_apart``. Reads other files."""
        self.copies_apart = copies.changed_apart(self.path, self._about)
        return self.copies_apart

    @property
    def draft(self) -> str:
        """The half-typed entry kept last; empty if there is none."""
        return self._about.get("draft", "")

    def keep_draft(self, text: str) -> None:
        """Keep what is being typed, so that a crash doesn't take it. Not an action; it can't be undone."""
        with self._guard:
            if text != self.draft:
                self._write(lambda connection: store.write_about(connection, draft=text))
                self._about["draft"] = text
                self._stay_at_path()

    # --- within

    @property
    def _position(self) -> int:
        return int(self._about["position"])

    @property
    def _revision(self) -> int:
        return int(self._about["revision"])

    def _open_for_writing(self, lock: FileLock) -> None:
        """Take the file for changes; it stays read-only, and says why, if the disk does not allow them."""
        try:
            connection = store.connect(self.path, "rw")
            backups = Backups(self.path, lambda: image_of(connection))
            try:
                self.journal = store.settle(connection)
                if store.schema_version(connection) < store.VERSION:
                    backups.keep(self._revision)
                    if backups.problem:
                        raise CannotSave(f"it must be brought up to date first, but {backups.problem}")
                    store.migrate(connection)
                store.write_about(connection, holder=_holder_now())
                self._steps = _read_steps(connection, self._position)
                whereabouts = Whereabouts(self.path)
            except BaseException:
                connection.close()
                raise
        except (sqlite3.Error, OSError, CannotSave) as error:
            self.why_read_only = plain_reason(error)
            return
        self._connection, self._lock, self._backups, self._whereabouts = connection, lock, backups, whereabouts
        backups.start(self._about["game"], self._revision)

    def _commit(self, operation: Operation) -> Change:
        self._writable()
        draft = GameDraft(self._records, self._game)
        operation.apply(draft)
        edits = _obey(draft)
        description = operation.describe(self._game)
        if edits:
            self._save(draft.records, draft.game, edits, description, self._position + 1)
        return Change(description, edits)

    def _step(self, number: int, backward: bool) -> Change | None:
        connection = self._writable()
        try:
            action = store.read_action(connection, number, self._folder)
        # invalid UTF-8 raises a ValueError
        except (ValueError, TypeError, sqlite3.Error, store.Damage) as error:
            raise CannotSave(f"{self.path}: the history cannot be followed further: {error}") from error
        if action is None:
            return None
        description, edits = action
        if backward:
            edits = tuple(Edit(edit.kind, edit.id, edit.after, edit.before) for edit in edits)
        records = self._records.after(edits)
        kinds = {edit.kind for edit in edits}
        found = list(soundness.edit_problems(edits)) or [
            f"{edit.kind} {edit.id!r} is not as that step left it" for edit in edits
            if store.to_text(edit.kind, edit.before, self._folder)
            != store.to_text(edit.kind, self._records.values[edit.kind].get(edit.id), self._folder)]
        if not found and kinds & {Kind.FILM, Kind.SOURCE, Kind.ANGLE}:
            found = list(soundness.film_problems(records))
        if not found:
            game = records.game(self._game, kinds)
            found = rules.problems(game, edits)
        if found:
            raise CannotSave(f"{self.path}: the history cannot be followed further: {soundness.told(found)}")
        self._save(records, game, edits, None, number - backward)
        return Change(description, edits)

    def _save(self, records: Records, game: Game, edits: tuple[Edit, ...], description: str | None, position: int
              ) -> None:
        """Write to disk, then make the records current. *description* None leaves the history as it is."""
        about = {"revision": str(self._revision + 1), "position": str(position),
                 copies.KEY: copies.with_sitting(self._about, self._sitting)}

        def write(connection: sqlite3.Connection) -> tuple[str | None, str | None]:
            store.write_records(connection, edits, self._folder)
            if description is not None:
                store.write_action(connection, position, description, _now(), edits, self._folder)
            store.write_about(connection, **about)
            return _read_steps(connection, position)

        steps = self._write(write)
        if any(edit.kind is Kind.SOURCE for edit in edits):
            targets.protect(source.path for source in game.sources)
        self._records, self._game, self._steps = records, game, steps
        self._about |= about
        self._stay_at_path()
        if self._backups is not None:
            self._backups.note(self._revision)

    def _write(self, write: Callable[[sqlite3.Connection], T]) -> T:
        """Write in one transaction; in the rescue file if the file was moved or overwritten meanwhile."""
        self._writable()
        self._stay_at_path()
        try:
            with self._transaction() as connection:
                written = write(connection)
        except CannotSave:
            if not self._stay_at_path():
                raise
            with self._transaction() as connection:
                written = write(connection)
        if self._whereabouts is not None:
            self._whereabouts.note_own_write()
        return written

    # --- a file that other programs take away

    def _stay_at_path(self) -> bool:
        """Make sure that what was saved is found at ``path``: if it would not be, go on in a rescue file.

        Returns whether it had to. Raises :class:`CannotSave` if no rescue file can be written either.
        """
        connection, whereabouts = self._connection, self._whereabouts
        if connection is None or whereabouts is None or (why := whereabouts.problem(self._is_as_known)) is None:
            return False
        lost, reasons = self.path, []
        folders = (lost.parent, Path.home()) if whereabouts.has_its_folder else (Path.home(), lost.parent)
        for folder in dict.fromkeys(folders):
            try:
                self._go_on_in(folder / f"{lost.stem}.rescued-{stamp()}{lost.suffix}", connection, whereabouts)
            except (OSError, sqlite3.Error, store.Damage, Timeout) as error:
                reasons.append(f"{folder}: {plain_reason(error)}")
            else:
                self.moved = (f"{lost}: {why}. Everything up to now is in {self.path}, and what follows is kept there.")
                return True
        raise CannotSave(f"{lost}: not saved: {why}, and no rescue file could be written ({'; '.join(reasons)}). "
                         "Make a folder where it was, or free some room, and do it again.")

    def _is_as_known(self) -> bool:
        """Whether the file at the path, when read again, holds exactly this game."""
        try:
            records, about = store.inspect(self.path)
        except (OSError, sqlite3.Error, store.Damage, store.TooNew):
            return False
        known = (self._about["game"], self._about["revision"])
        return (about["game"], about["revision"]) == known and self._is_same(records)

    def _is_same(self, records: Records) -> bool:
        """Whether *records* are those of this game. Paths of sources are compared by the file they lead to."""
        def told(source: Source) -> str | None:
            return store.to_text(Kind.SOURCE, source, self._folder)

        mine, theirs = dict(self._records.values), dict(records.values)
        sources = [{id: told(source) for id, source in each.pop(Kind.SOURCE).items()} for each in (mine, theirs)]
        return mine == theirs and sources[0] == sources[1]

    def _go_on_in(self, path: Path, lost: sqlite3.Connection, was: Whereabouts) -> None:
        """Write all that is known to a new game file, with its history if that can still be read, and go on in it."""
        about = self._about
        try:
            if path.parent != self._folder:
                raise OSError("source paths are told from the folder")
            write_copy(image_of(lost), path, was.mode)
            if not self._is_same(store.inspect(path)[0]):
                raise store.Damage("it is not what was said")
        except (OSError, sqlite3.Error, store.Damage, store.TooNew):
            path.unlink(missing_ok=True)
            store.make(path, self._records.as_edits(), path.parent)
            path.chmod(was.mode)
            about = store.inspect(path)[1] | ({"draft": self.draft} if self.draft else {})
        lock = FileLock(path.with_name(f".{path.name}.lock"), thread_local=False)
        lock.acquire(blocking=False)
        connection = store.connect(path, "rw")
        try:
            self.journal = store.settle(connection)
            store.write_about(connection, holder=_holder_now(), **({"draft": self.draft} if self.draft else {}))
            steps = _read_steps(connection, int(about["position"]))
            whereabouts = Whereabouts(path)
            store.sync_folder(path.parent)
        except BaseException:
            connection.close()
            lock.release()
            raise
        was.discard_log()
        with suppress(sqlite3.Error):
            lost.close()
        if self._lock is not None:
            self._lock.release()
        self._connection, self._lock, self._whereabouts = connection, lock, whereabouts
        self.path, self._folder, self._about, self._steps = path, path.parent, dict(about), steps
        self._backups = Backups(path, lambda: image_of(connection))

    @contextmanager
    def _transaction(self) -> Iterator[sqlite3.Connection]:
        connection = self._writable()
        try:
            connection.execute("BEGIN IMMEDIATE")
            yield connection
            connection.execute("COMMIT")
        except BaseException as error:
            if connection.in_transaction:
                with suppress(sqlite3.Error):
                    connection.execute("ROLLBACK")
            if isinstance(error, sqlite3.Error | OSError):
                raise CannotSave(f"{self.path}: not saved: {plain_reason(error)}") from error
            raise

    def _writable(self) -> sqlite3.Connection:
        if self._connection is None:
            raise ReadOnly(f"{self.path} cannot be changed: {self.why_read_only}")
        return self._connection


def _obey(draft: GameDraft) -> tuple[Edit, ...]:
    """The draft's edits. Raises InvalidOperation if the game then breaks a rule or could not be read back."""
    edits = draft.edits()
    found = [f"{edit.kind} {edit.id}: {problem}" for edit in edits if edit.after is not None
             for problem in unreadable(TYPE[edit.kind], edit.after)]
    if found := found or rules.problems(draft.game, edits):
        raise InvalidOperation(*found)
    return edits


def _read_steps(connection: sqlite3.Connection, position: int) -> tuple[str | None, str | None]:
    """What could be undone and what could be redone at that position of the history."""
    query = "SELECT number, description FROM action WHERE number IN (?, ?)"
    found = dict(connection.execute(query, [position, position + 1]))
    return found.get(position), found.get(position + 1)


def _read_holder(about: dict[str, str]) -> Holder | None:
    try:
        holder = Holder(**json.loads(about["holder"]))
        return holder if str(holder).isprintable() else None
    except (KeyError, TypeError, ValueError, OverflowError, RecursionError, AttributeError):
        return None


def _holder_now() -> str:
    """This process as the holder of a game file, as JSON."""
    try:
        user = getpass.getuser()
    except (OSError, KeyError):
        user = "unknown"
    return json.dumps(asdict(Holder(platform.node(), os.getpid(), user, _now())))


def _now() -> str:
    return datetime.now(UTC).isoformat(timespec="seconds")
