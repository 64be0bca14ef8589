"""Game files that are whole for SQLite and carry right sums, but say what cannot be: every way in and out is tried on
each.

``python -m tests.tagging.hostile 5000 [seed]`` alters values (type, range, reference), rows, tables and history, and
asks of each file: opening (to read, to write, with undo to the end), check, JSON, edit list, sheet, and all that the
desk does before it shows a game. Each ends in a right result or in an error of our own words; nothing is written by
reading; nothing takes ten seconds. The work is done in a child process with 3 GiB, so that a crash is one loss and not
the end.
"""

from __future__ import annotations

import contextlib
import hashlib
import io
import json
import multiprocessing
import os
import resource
import shutil
import signal
import sqlite3
import sys
import tempfile
import traceback
from collections import Counter
from contextlib import closing
from pathlib import Path
from random import Random
from typing import Any

from tests.tagging.builders import at, full_game, source
from workstation.tagging import store
from workstation.tagging.gamefile import GameFile
from workstation.tagging.model import Note
from workstation.tagging.operations import AddRecord, AddSources

SECONDS = 10
MEMORY = 3 << 30
BATCH = 250

LEAVES: tuple[Any, ...] = (
    None, True, False, 0, 1, -1, 2, 3, 40, 41, 999999999, -999999999, 2**31, 2**40, 2**53, 2**62, 2**63 - 1, 2**63,
    -2**63, 10**30,
    0.0, -0.0, 0.5, -7.25, 1e-300, 1e18, 1e299, 1e308, "", " ", "s1", "s2", "s3", "home", "x" * 5000, "a\0b",
    "\x1b[2J\x1b[H",
    "=1+1", "\u202eevil", "\n\n", "../../../etc/passwd", "/dev/zero", "1/0", "0", "-1/90000", "1/90000",
    "1/" + "9" * 40,
    "9" * 40, "30000/1001", "Infinity", "NaN", "1e5", [], {}, [[]], [None], ["s1", "s1"], [1, 2],
    {"source": "s1", "pts": 0},
    {"source": "s9", "pts": 900}, {"source": "s1", "pts": 2**70}, "nfhs", "no such rulebook", "2026-13-45", "period",
    "over", "play", "kickoff", "run", "coin toss", "try by kick",
)


def altered(choose: Random, value: Any, names: tuple[str, ...]) -> Any:
    """*value* with one of its parts replaced, doubled, removed, nested or given another name."""
    if isinstance(value, dict) and value and choose.random() < 0.8:
        key = choose.choice(sorted(value))
        changed = dict(value)
        way = choose.random()
        if way < 0.7:
            changed[key] = altered(choose, value[key], names)
        elif way < 0.8:
            del changed[key]
        elif way < 0.95:
            changed[choose.choice(names)] = choose.choice(LEAVES)
        else:
            changed[choose.choice(names)] = changed.pop(key)
        return changed
    if isinstance(value, list) and value and choose.random() < 0.8:
        place = choose.randrange(len(value))
        changed = list(value)
        way = choose.random()
        if way < 0.7:
            changed[place] = altered(choose, value[place], names)
        elif way < 0.8:
            changed += [value[place]] * choose.choice((1, 2, 300))
        else:
            del changed[place]
        return changed
    if isinstance(value, int | float) and not isinstance(value, bool) and choose.random() < 0.4:
        return value + choose.choice((1, -1, 1000, -100000, 10**9, 0.5))
    return choose.choice(LEAVES)


def names_in(bodies: list[Any]) -> tuple[str, ...]:
    found = set()

    def walk(value: Any) -> None:
        if isinstance(value, dict):
            found.update(value)
            for each in value.values():
                walk(each)
        elif isinstance(value, list):
            for each in value:
                walk(each)
    for body in bodies:
        walk(body)
    from dataclasses import fields

    from workstation.film.film import Source
    from workstation.football.plays import Foul, Play, SituationOverride
    from workstation.tagging.model import Heading, Moment, Shot
    for kind in (Source, Play, SituationOverride, Foul, Heading, Shot, Moment):
        found.update(each.name for each in fields(kind))
    return tuple(sorted(found))


def spoil(path: Path, choose: Random) -> str:
    """Alter the game file at *path*; returns what was done to it."""
    done = []
    with closing(sqlite3.connect(path, isolation_level=None)) as connection:
        store.equip(connection)
        rows = connection.execute("SELECT kind, id, body FROM record WHERE body IS NOT NULL").fetchall()
        names = names_in([json.loads(body) for _, _, body in rows])
        for _ in range(choose.choice((1, 1, 1, 2, 5))):
            kind, id, body = choose.choice(rows)
            where = "kind IS ? AND id IS ?"
            way = choose.random()
            try:
                if way < 0.62:
                    text = json.dumps(altered(choose, json.loads(body), names))
                    connection.execute(f"UPDATE record SET body = ? WHERE {where}", [text, kind, id])
                    done.append(f"{kind} {id!r}: {text[:300]}")
                elif way < 0.68:
                    other = choose.choice((0, -1, 7, 2**53, 2**62, "7", "", "s9", "x", b"x", 1.5, None, 10**15))
                    connection.execute(f"UPDATE record SET id = ? WHERE {where}", [other, kind, id])
                    done.append(f"{kind} {id!r} has the id {other!r}")
                elif way < 0.72:
                    other = choose.choice(("shot", "film", "source", "heading", "play", "nothing", "", b"shot", 5,
                                           None))
                    connection.execute(f"UPDATE record SET kind = ? WHERE {where}", [other, kind, id])
                    done.append(f"{kind} {id!r} is of the kind {other!r}")
                elif way < 0.76:
                    connection.execute(f"DELETE FROM record WHERE {where}", [kind, id])
                    done.append(f"{kind} {id!r} is gone")
                elif way < 0.80:
                    other = choose.choice((b"\xff\xfe", "[" * 1000 + "]" * 1000, "[" * 100000, "{", "", 5, 1.5, "NaN",
                                           "1e999", '{"a":' * 900 + "1" + "}" * 900, "9" * 5000, '"\\ud800"'))
                    connection.execute(f"UPDATE record SET body = ? WHERE {where}", [other, kind, id])
                    done.append(f"{kind} {id!r}: {other!r:.80}")
                elif way < 0.88:
                    key = choose.choice(("revision", "position", "game", "holder", "draft"))
                    other = choose.choice(("1e5", "-1", "", "9" * 30, "١", "x", "null", "[]", '{"host":1}', "\x1b[2J",
                                           '{"host":"h","pid":1,"user":"u","since":"never"}', "7", "2", b"\xff", 5,
                                           "0"))
                    connection.execute("INSERT INTO about VALUES (?, ?, 0) ON CONFLICT DO UPDATE SET value = "
                                       "excluded.value",
                                       [key, other])
                    done.append(f"about {key}: {other!r}")
                elif way < 0.95:
                    table = choose.choice(("action", "edit"))
                    column = choose.choice(("number", "description", "at") if table == "action" else
                                           ("action", "place", "kind", "id", "before", "after"))
                    other = choose.choice((None, 0, 1, -5, 2**62, "x", b"\xff", "{}", "[" * 3000, '{"id":1}', '"s1"',
                                           "shot", ""))
                    if column in ("before", "after") and choose.random() < 0.7:
                        (old,) = connection.execute(f"SELECT {column} FROM edit WHERE {column} IS NOT NULL "
                                                    "ORDER BY random() LIMIT 1").fetchone() or ("{}",)
                        with contextlib.suppress(ValueError):
                            other = json.dumps(altered(choose, json.loads(old), names))
                    connection.execute(f"UPDATE {table} SET {column} = ? WHERE rowid IN (SELECT rowid FROM {table} "
                                       "ORDER BY random() LIMIT 1)" if table == "action" else
                                       f"UPDATE edit SET {column} = ? WHERE action = (SELECT max(action) FROM edit)",
                                       [other])
                    done.append(f"{table}.{column}: {other!r:.200}")
                else:
                    statement = choose.choice((
                        "CREATE TABLE other (a)", "CREATE VIEW v AS SELECT * FROM record", "DROP TABLE edit",
                        "DELETE FROM about",
                        "ALTER TABLE record ADD COLUMN extra", "ALTER TABLE record RENAME COLUMN body TO text",
                        "CREATE TRIGGER t AFTER UPDATE ON about BEGIN DELETE FROM record; END",
                        ("CREATE TABLE r2 AS SELECT * FROM record; DROP TABLE record; ALTER TABLE r2 RENAME TO record; "
                         "INSERT INTO record SELECT * FROM record"),
                        "CREATE TABLE a2 AS SELECT * FROM about; DROP TABLE about; ALTER TABLE a2 RENAME TO about",
                        "PRAGMA user_version=1", "PRAGMA user_version=0", "PRAGMA user_version=77",
                        "PRAGMA journal_mode=WAL",
                        "DELETE FROM record", "DELETE FROM record WHERE kind='film'",
                        "DELETE FROM record WHERE kind='source'",
                        "PRAGMA page_size=512; VACUUM", "PRAGMA encoding='UTF-16'; VACUUM",
                        "PRAGMA auto_vacuum=1; VACUUM"))
                    connection.executescript(statement)
                    done.append(statement)
            except sqlite3.Error as error:
                done.append(f"({error})")
        with contextlib.suppress(sqlite3.Error, TypeError):
            if choose.random() < 0.97:      # one in thirty with a wrong sum
                connection.executescript("""
                    UPDATE about SET sum = checksum(key, value); UPDATE record SET sum = checksum(kind, id, body);
                    UPDATE action SET sum = checksum(number, description, at);
                    UPDATE edit SET sum = checksum(action, place, kind, id, before, after);""")
    return "\n  ".join(done)


def digest(folder: Path) -> dict[str, str]:
    return {path.name: hashlib.sha256(path.read_bytes()).hexdigest() for path in sorted(folder.iterdir())
            if path.is_file() and not path.name.endswith(".lock")}


class Hang(BaseException):
    """Not an Exception, so that nothing swallows it."""


def _alarm(*_: object) -> None:
    raise Hang


def attempt(name: str, path: Path) -> str:
    """Do one of the things that are done with a game; returns "right" or "refused". Anything else that it raises is a
    loss."""
    from workstation import commands
    from workstation.football.rulebook import RulebookError
    from workstation.tagging.gamefile import CannotSave, GameFileError
    ours = (GameFileError, CannotSave, RulebookError)
    outside = path.parent.with_name(f"{path.parent.name} out")
    if name in ("check", "json", "vtt", "sheet"):
        calls = {"check": ["check", str(path), "--json"], "json": ["json", str(path), "--to", str(outside / "a.json")],
                 "vtt": ["sequence", str(path), "--plays", "1,2", "--to", str(outside / "a.vtt")],
                 "sheet": ["check", str(path), str(path)]}
        with contextlib.redirect_stdout(io.StringIO()) as out, contextlib.redirect_stderr(io.StringIO()) as error:
            status = commands.run(calls[name])
        if any(ord(letter) < 32 and letter not in "\n\t\r" for letter in out.getvalue() + error.getvalue()):
            raise AssertionError(f"control characters reach the terminal: {out.getvalue() + error.getvalue()!r:.300}")
        if name == "json" and status == 0:
            from workstation.tagging.exchange import read_json
            with GameFile.open(path, read_only=True) as file:
                assert read_json(outside / "a.json") == file.game
        return "right" if status == 0 else "refused"
    try:
        if name == "read":
            GameFile.open(path, read_only=True).close()
        elif name == "desk":
            _as_the_desk(path)
        else:
            with GameFile.open(path) as file:
                if file.read_only:
                    return "refused"
                while file.undo():
                    pass
                while file.redo():
                    pass
                if file.game.film.sources:
                    file.do(AddRecord(Note(0, file.game.film.sources[0].first, "still works")))
    except ours:
        return "refused"
    return "right"


def _as_the_desk(path: Path) -> None:
    """What the desk does with a game before and while it shows it, without its window."""
    from workstation.coverage.checker import check
    from workstation.coverage.profile import ProfileError, load_profile
    from workstation.football.rulebook import load_rulebook
    from workstation.football.speaking import spoken_situation
    from workstation.football.tracker import track
    from workstation.tagging.layout import FilmLayout
    from workstation.tagging.opening import load
    loaded = load(path)
    try:
        game = loaded.file.game
        rulebook = load_rulebook(game.heading.rulebook, game.heading.season)
        steps = track(rulebook, [tag.play for tag in game.plays])
        for step in steps:
            spoken_situation(step.before, rulebook.field_length)
        FilmLayout(game)
        for source in game.film.sources:
            assert all(number >= 0 for number in (*source.display_size, source.frame_ticks,
                                                  game.film.starts_at(source.id)))
        with contextlib.suppress(ProfileError):
            check(game, steps, load_profile(game.heading.profile), rulebook)
        _from_every_angle(game, steps, rulebook)
    finally:
        loaded.file.close()


def _from_every_angle(game, steps, rulebook) -> None:
    """What the desk does with a game of several angles: seeing it from each, the rows, what stands side by side."""
    from workstation.coverage.checker import check
    from workstation.coverage.profile import ProfileError, load_profile
    from workstation.delivery.segment import play_segments
    from workstation.delivery.text_formats import FORMS
    from workstation.tagging.angles import InStep, film_of, seen_from
    from workstation.tagging.model import SequenceItem
    from workstation.tagging.rematching import CannotRematch, match_columns, moved_match, nudged_tie, with_hole
    numbers = [0, *(each.angle.id for each in game.angles)]
    for number in numbers[1:]:
        seen = seen_from(game, number)
        with contextlib.suppress(ProfileError):
            check(seen, steps, load_profile(seen.heading.profile), rulebook)
        for one, other in ((0, number), (number, 0)):
            in_step = InStep(game, one, other)
            for each in film_of(game, one).sources:
                in_step.at(each.first)
        for column in match_columns(game, number):
            for act, more in ((moved_match, (1,)), (with_hole, ()), (nudged_tie, (-1,))):
                if column.play is not None:
                    with contextlib.suppress(CannotRematch):
                        act(game, number, column.play, *more)
        items = [SequenceItem(tag.id, angles=(0, number), beside=True) for tag in game.plays]
        segments = play_segments(game, steps, items)
        for form in FORMS.values():
            with contextlib.suppress(ValueError):
                form("all", segments)


ATTEMPTS = ("read", "check", "json", "vtt", "sheet", "desk", "write")
ONLY_READ = {"read", "check", "json", "vtt", "sheet"}


def batch(seed: int, first: int, rounds: int, pipe) -> None:
    resource.setrlimit(resource.RLIMIT_AS, (MEMORY, MEMORY))
    signal.signal(signal.SIGALRM, _alarm)
    work = Path(tempfile.mkdtemp(dir="/dev/shm" if os.path.isdir("/dev/shm") else None))
    folder, outside = work / "game", work / "game out"
    made = make(work / "made")
    try:
        for number in range(first, first + rounds):
            pipe.send(("begin", number, None))
            choose = Random(f"{seed} {number}")
            shutil.rmtree(folder, ignore_errors=True)
            shutil.rmtree(outside, ignore_errors=True)
            shutil.copytree(made.parent, folder)
            outside.mkdir()
            path = folder / made.name
            what = spoil(path, choose)
            results = []
            for name in ATTEMPTS:
                before = digest(folder)
                signal.alarm(SECONDS)
                try:
                    result = attempt(name, path)
                    signal.alarm(0)
                    after = digest(folder)
                    if (name in ONLY_READ or (result == "refused" and name != "write")) and after != before:
                        raise AssertionError("something was written")
                    results.append(result)
                except Hang:
                    pipe.send(("loss", number, (name, what, f"a hang of {SECONDS} s")))
                except BaseException:
                    signal.alarm(0)
                    pipe.send(("loss", number, (name, what, traceback.format_exc(limit=-6))))
            pipe.send(("end", number, results))
    finally:
        shutil.rmtree(work, ignore_errors=True)


def make(folder: Path) -> Path:
    """A game with one of everything and a short history."""
    folder.mkdir()
    path = folder / "Friday.game"
    with GameFile.create(path, game=full_game(folder)) as file:
        file.do(AddRecord(Note(0, at(5), "one")))
        file.do(AddSources((source("s7", folder),)))
        file.do(AddRecord(Note(0, at(6), "two")))
        file.undo()
    for backup in folder.glob("*.backup-*"):
        backup.unlink()
    return path


def attack(rounds: int, seed: int) -> tuple[Counter, list[tuple[int, str, str, str]]]:
    """Spoil and try *rounds* files; returns how the tries ended, and every loss: its number, the try, what was done,
    why."""
    counted, losses, number = Counter(), [], 0
    while number < rounds:
        ours, theirs = multiprocessing.Pipe()
        child = multiprocessing.get_context("spawn").Process(
            target=batch, args=(seed, number, min(BATCH, rounds - number), theirs))
        child.start()
        theirs.close()
        with contextlib.suppress(EOFError):
            while True:
                if not ours.poll(SECONDS * 10):
                    child.kill()
                    losses.append((number, "any", "", "a hang that no signal ends"))
                    break
                word, number, told = ours.recv()
                if word == "end":
                    counted.update(told)
                    number += 1
                elif word == "loss":
                    losses.append((number, *told))
                    counted["lost"] += 1
        child.join()
        if child.exitcode:
            losses.append((number, "any", "", f"the process ended with {child.exitcode}"))
            number += 1
    return counted, losses


if __name__ == "__main__":
    wanted = int(sys.argv[1]) if len(sys.argv) > 1 else 500
    seed = int(sys.argv[2]) if len(sys.argv) > 2 else Random().randrange(10**6)
    counted, losses = attack(wanted, seed)
    for number, name, what, why in losses[:40]:
        print(f"--- {number}, {name}:\n  {what}\n{why}")
    print(f"seed {seed}: {wanted} files, {dict(counted)}, {len(losses)} losses")
    sys.exit(bool(losses))
