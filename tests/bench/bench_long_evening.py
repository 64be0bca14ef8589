"""Four hours of tagging and playing over a three-hour film: does the desk grow, leak or slow down?

    python tests/bench/bench_long_evening.py [--plays 150] [--spell 5] [--rest 2] [--size 1280x720] [--json]
        [--no-fresh] [--two-angles]

The real window, offscreen, on a film of 99 sources (one file under many ids), worked through the way a coordinator
does: each play is sought, played twice for ``--spell`` seconds, marked, stepped through, typed and kept; in between
corrections, undo and redo, keys at random, earlier plays again, the Review room with its findings and notes, the
Sequence room with an export in every form, a report. Only the pauses for thought are cut to a breath, so that four
hours go by in less than one. Prints what is in use, and how long things take, at the end of each eighth of the evening
(half an hour of the four); memory at rest always with the film at its beginning, so that the same pictures are kept:
what the system counts, and what of it is in use by the libraries (glibc keeps freed pieces for later).

What takes longer at the end may do so because the desk has run for long, or because the game is larger. So the last
eighth is then done once more, the same acts on the same game as it was before them, by a desk that was just started.
Prints what the last eighth is to the first, and to that. At the end of each eighth the file as it then lies on disk,
which is what a kill would leave, is opened and must hold the whole game. With ``--two-angles`` the game has an end zone
camera too: each play is also looked at from there, alone and side by side, marked there, and exported from both.
Threads and handles are also held by a test
(tests/desk/test_long_evening.py).
"""

from __future__ import annotations

import argparse
import ctypes
import gc
import json
import logging
import os
import re
import shutil
import sqlite3
import statistics
import subprocess
import sys
import tempfile
import time
from collections import Counter, defaultdict
from collections.abc import Callable, Iterable
from contextlib import closing
from dataclasses import replace
from pathlib import Path
from random import Random

sys.path.insert(0, str(Path(__file__).parents[2]))
os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
os.environ.setdefault("FILM_WORKSTATION_VLC", "--aout=dummy")

SOURCES = 99        # of 110 seconds: three hours
HOURS = 4
PARTS = 8
LINES = {           # what is typed where a play of that kind comes next
    "coin toss": ("coin toss home receive",),
    "try": ("try kick good", "try kick no good"),
    "scrimmage": ("run 4", "run -2", "pass 12", "pass incomplete", "sack -6", "run 3 holding own 30", "pass 2", "run 0",
                  "pass 7 fumble lost own 40", 'run 11 "good block"', "punt downed opp 12", "field goal good"),
}
KICKOFF = ("kickoff 5 25", "kickoff touchback")
THOUGHT = 0.8       # seconds of rest before each play is typed, for what are minutes in life
PATIENCE = 20       # seconds after which something that should have happened counts as not happening


def make_evening(folder: Path, plays: int, size: str, two_angles: bool) -> Path:
    """A game with *plays* shots found on three hours of film, none of them tagged."""
    from tests.desk.small_game import make_film, with_end_zone
    from workstation.film.film import Film
    from workstation.film.time import Instant
    from workstation.tagging.gamefile import GameFile
    from workstation.tagging.model import Game, Heading, Shot, ShotKind

    (source,) = make_film(folder, size).sources
    film = Film((source, *(replace(source, id=f"{source.id}-{number}") for number in range(1, SOURCES))))
    shots, taken = [], Counter()
    for number in range(plays):
        part = film.sources[number * SOURCES // plays]
        begin, length = 5 + 16 * taken[part.id], 14         # seconds; a file holds six
        taken[part.id] += 1
        start, end = (part.start_pts + round(seconds / part.time_base) for seconds in (begin, begin + length))
        shots.append(Shot(number + 1, Instant(part.id, start), Instant(part.id, end), ShotKind.PLAY))
    game = Game(Heading("Harbor", "Summit"), film, tuple(shots))
    path = folder / "evening.game"
    GameFile.create(path, game=with_end_zone(game) if two_angles else game).close()
    return path


class Evening:
    """One coordinator at the desk; counts what was done and notes how long it took."""

    def __init__(self, window, folder: Path, spell: float, rest: float) -> None:
        self.window, self.folder, self.spell, self.rest = window, folder, spell, rest
        self.choose = Random()
        self.done: Counter[str] = Counter()
        self.took: dict[str, list[float]] = defaultdict(list)       # milliseconds
        self._pictures = 0
        self._session = window.session
        self._session.player.frame_changed.connect(self._count)

    def _count(self, _: object) -> None:
        self._pictures += 1

    def play(self, number: int) -> None:
        """Everything one play costs: its share of the visits to the other rooms, too."""
        shot = self._session.game.shots[number % len(self._session.game.shots)]
        start, length = shot.start, shot.end.pts - shot.start.pts
        self.seek(start.source, start.pts)
        self.mark("full_wide")
        for share, moment in ((0.3, "snap"), (0.7, "dead_ball")):
            self.watch()
            self.seek(start.source, start.pts + round(share * length))
            for key in ("tag.frame_back", "tag.frame_back", "tag.frame_ahead"):
                self.press(key)
            self.mark(moment)
        self.keep(self.choose.choice(LINES.get(self._session.situation.next, KICKOFF)))
        self.timed("undo", self._session.undo)
        self.timed("redo", self._session.redo)
        if self._session.whole.angles:
            self.from_the_other_angle(number)
        self.some_keys()
        self.to_first_angle()
        if number and self.choose.random() < 0.3:
            self.look_back(number)
        if number % 5 == 2:
            self.review(number)
        if number % 10 == 4:
            self.sequence()

    def from_the_other_angle(self, number: int) -> None:
        """Match the play of this shot with the other camera's, look at it from there, mark and tie it, see both."""
        from workstation.film.time import Instant
        from workstation.tagging.model import Match
        from workstation.tagging.operations import MatchPlays
        session, whole = self._session, self._session.whole
        shot = session.game.shots[number % len(session.game.shots)]
        other = whole.angles[0].shots[number % len(session.game.shots)]
        tag = next((each for each in session.game.plays if each.shot == shot.id), None)
        self.seek(shot.start.source, shot.start.pts)
        if tag is not None:
            session.do_on_whole(MatchPlays((Match(1, tag.id, other.id, (shot.start, other.start)),)))
        self.timed("switch", lambda: self.press("desk.angle"), lambda: not session.player.waiting)
        self.watch()
        self.mark("signal")
        self.press("desk.tie_later")
        self.press("desk.undo")
        self.press("desk.redo")
        self.timed("switch", lambda: self.press("desk.angle"), lambda: not session.player.waiting)
        for _ in range(2):
            self.timed("beside", lambda: self.press("desk.beside"),
                       lambda: not session.beside.image.isNull() or bool(session.beside.words))
            self.watch()
            session.seek(Instant(shot.start.source, shot.start.pts))
        self.press("desk.beside")

    def to_first_angle(self) -> None:
        """A key at random may have switched angles, or shown two."""
        from workstation.desk.beside import BesideMode
        self._session.see(0)
        if self._session.beside.mode is not BesideMode.OFF:
            self._session.beside.show(BesideMode.OFF)

    def seek(self, source: str, pts: int) -> None:
        """Go there, and wait for the exact picture."""
        from workstation.film.time import Instant
        self.timed("seek", lambda: self._session.seek(Instant(source, pts)), lambda: not self._session.player.waiting)

    def watch(self) -> None:
        """Play for a spell; timed until the player's first picture is on show."""
        before = self._pictures
        self.timed("play", self._session.play, lambda: self._pictures > before)
        pause(round(1000 * self.spell))
        self._session.pause()

    def keep(self, line: str) -> None:
        """Type a play and keep it, against a warning if there is one, which goes on to the next shot."""
        from tests.desk.driver import type_play
        self.press("tag.clear")
        pause(round(1000 * THOUGHT))
        type_play(self.window, line)
        self.timed("keep", lambda: self.press("tag.commit"))
        if self.window.room.line.text():
            self.press("tag.commit")

    def mark(self, moment: str) -> None:
        self.press("tag.clear")
        self.timed("mark", lambda: self.press(f"tag.mark.{moment}"))

    def some_keys(self) -> None:
        from tests.desk.driver import act
        for _ in range(3):
            act(self.window, self.choose)
        self.done["keys at random"] += 3

    def look_back(self, number: int) -> None:
        """See an earlier play again."""
        shot = self.choose.choice(self._session.game.shots[:number] or self._session.game.shots)
        self.seek(shot.start.source, shot.start.pts)
        self.watch()

    def review(self, number: int) -> None:
        self.enter("Review")
        for key in ("review.next", "review.next", "review.agree", "review.frame_ahead", "review.previous"):
            self.press(key)
            pause(40)
        self._session.pause()
        for shot in self.choose.choices(self._session.game.shots, k=3):
            self.seek(shot.start.source, shot.start.pts)
        self.watch()
        if number % 10 == 7:
            self.window.room.summary.save_report(self.folder / f"review {number}.html")
            self.wait(lambda: not self.window.jobs.running)
            self.done["reports"] += 1
        self.enter("Tag")

    def sequence(self) -> None:
        """Put the play that is on show into a sequence and write that in every form."""
        self.enter("Sequence")
        room = self.window.room
        self.press("sequence.new")
        room.add()
        if len(self._session.numbers) > 1:          # one after the other, and both in one picture, by turns
            views = room.editor.angles
            views.setCurrentIndex(views.count() - 1 - (2 if self.done["exports"] % 16 else 0))
            views.activated.emit(views.currentIndex())
        room.exporting.begin_in(self.folder / "exports")
        for form in range(room.exporting.form.count()):
            room.exporting.form.setCurrentIndex(form)
            room.export()
            self.wait(lambda: room.exporting.job is None, 300)
            self.done["exports"] += 1
        self.enter("Tag")

    def enter(self, room: str) -> None:
        self.timed("room", lambda: self.window.go_to(room), lambda: self.window.room.name == room)

    def press(self, key: str) -> None:
        from tests.desk.driver import press
        press(self.window, key)
        self.done["keys"] += 1

    def timed(self, what: str, act: Callable[[], object], until: Callable[[], bool] = lambda: True) -> None:
        begin, processor = time.perf_counter(), time.thread_time()
        act()
        self.wait(until)
        self.took[what].append(1000 * (time.perf_counter() - begin))
        self.took[f"{what}, processor"].append(1000 * (time.thread_time() - processor))
        self.done[what] += 1

    def settle(self) -> None:
        """Rest until memory does not change any more: pictures around this one were decoded, what was freed given
        back."""
        late, seen = time.monotonic() + 15 * self.rest, [0]
        while (len(seen) < 3 or abs(seen[-1] - seen[-2]) > 2) and time.monotonic() < late:
            pause(round(1000 * self.rest))
            seen.append(_memory("VmRSS"))

    @staticmethod
    def wait(until: Callable[[], bool], patience: float = PATIENCE) -> None:
        late = time.monotonic() + patience
        while not until() and time.monotonic() < late:
            pause(1)

    def measured(self) -> dict[str, float]:
        """The most memory since the last time, what is in use now at rest, and the medians of what was timed, by the
        clock and by what the processor spent on it in the UI thread (others may be at work on this machine)."""
        row = {"peak MB": _memory("VmHWM")}
        self._session.pause()       # a key at random may have let it play
        self._session.seek(self._session.game.shots[0].start)
        self.settle()
        row |= {"memory MB": _memory("VmRSS"), "in use MB": _in_use(), "threads": len(os.listdir("/proc/self/task")),
               "handles": len(os.listdir("/proc/self/fd")), "plays": len(self._session.game.plays),
               "changes": self._session.file._revision}
        row |= _alive("Game", "VlcDeck")
        path = Path(self._session.file.path)
        row["file KB"] = path.stat().st_size >> 10
        row["lost"] = int(_as_killed(path) != _digest(self._session.file.game))
        two = ("switch", "beside") if self._session.whole.angles else ()
        for what in (f"{each}{of}" for each in ("keep", "mark", "undo", "redo", "seek", "play", "room", *two)
                     for of in ("", ", processor")):
            row[f"{what} ms"] = round(statistics.median(self.took.get(what) or [0]), 1)
        self.took.clear()
        return row


def evening(game: Path, plays: int, spell: float, rest: float, parts: Iterable[int], told: Callable[[dict], None],
            before_last: Path | None = None) -> Counter[str]:
    """Spend those eighths of the evening; *told* gets what was measured after each, and *before_last* the game as it is
    when the last begins. Returns how often what was done."""
    from tests.desk.driver import open_desk

    logging.disable(logging.ERROR)      # keys at random are refused now and then; that is theirs to say
    window = open_desk(game, game.with_suffix(".ini"))
    person, began = Evening(window, game.parent, spell, rest), time.monotonic()
    for part in parts:
        if part == PARTS - 1 and before_last is not None:
            with closing(sqlite3.connect(game)) as old, closing(sqlite3.connect(before_last)) as new:
                old.backup(new)
        person.choose.seed(part)
        for number in range(part * plays // PARTS, (part + 1) * plays // PARTS):
            person.play(number)
        told({"hours": HOURS * (part + 1) / PARTS, "minutes": round((time.monotonic() - began) / 60, 1)}
             | person.measured())
    window.close()
    return person.done


def pause(milliseconds: int) -> None:
    """Let the event loop run. QTest.qWait would keep the interpreter to itself meanwhile, and starve the other
    threads."""
    from PySide6.QtCore import QEventLoop, QTimer
    loop = QEventLoop()
    QTimer.singleShot(milliseconds, loop.quit)
    loop.exec()


def _digest(game) -> str:
    from tests.tagging.sitting import digest
    return digest(game)


def _as_killed(path: Path) -> str:
    """What is found in the file as it lies on disk now, with its log, as after the death of the process."""
    from workstation.tagging.gamefile import GameFile
    copy = path.with_name("killed.game")        # beside it, since films are found from where a game lies
    for ending in ("", "-wal"):
        copy.with_name(copy.name + ending).unlink(missing_ok=True)
        if path.with_name(path.name + ending).exists():
            shutil.copy(path.with_name(path.name + ending), copy.with_name(copy.name + ending))
    with GameFile.open(copy, read_only=True) as file:
        return _digest(file.game)


def _alive(*names: str) -> dict[str, int]:
    """How many objects of each class there are: games that were changed since and players that were stopped go."""
    gc.collect()
    there = Counter(type(each).__name__ for each in gc.get_objects())
    return {name: there[name] for name in names}


def _memory(which: str) -> int:
    """Resident memory in MB: now (VmRSS), or at the most since last asked (VmHWM)."""
    found = re.search(rf"{which}:\s+(\d+) kB", Path("/proc/self/status").read_text())
    if which == "VmHWM":
        Path("/proc/self/clear_refs").write_text("5")       # begins it anew, proc(5)
    return int(found[1]) >> 10


class _Counts(ctypes.Structure):
    """mallinfo2(3)"""

    _fields_ = [(name, ctypes.c_size_t) for name in (
        "arena", "ordblks", "smblks", "hblks", "hblkhd", "usmblks", "fsmblks", "uordblks", "fordblks", "keepcost")]


def _in_use() -> int:
    """What all arenas have handed out and not got back, in MB; 0 where the C library does not tell."""
    ask = getattr(ctypes.CDLL(None), "mallinfo2", None)
    if ask is None:
        return 0
    ask.restype = _Counts
    told = ask()
    return told.uordblks + told.hblkhd >> 20


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--plays", type=int, default=150)
    parser.add_argument("--spell", type=float, default=5, help="seconds of playing at a time")
    parser.add_argument("--rest", type=float, default=2,
                        help="seconds in which memory has to stay the same to count as at rest")
    parser.add_argument("--size", default="1280x720")
    parser.add_argument("--json", action="store_true", help="one line with everything, nothing else")
    parser.add_argument("--no-fresh", action="store_true", help="leave out the desk that does the last eighth afresh")
    parser.add_argument("--two-angles", action="store_true", help="a game with an end zone camera beside the high one")
    parser.add_argument("--last-of", type=Path, metavar="GAME",
                        help="only the last eighth, of this game as it is before it")
    asked = parser.parse_args()
    rows: list[dict] = []

    def told(row: dict) -> None:
        if not asked.json:
            if not rows:
                print("  ".join(row))
            print("  ".join(f"{value:>{len(name)}}" for name, value in row.items()), flush=True)
        rows.append(row)

    if asked.last_of:
        done = evening(asked.last_of, asked.plays, asked.spell, asked.rest, [PARTS - 1], told)
    else:
        with tempfile.TemporaryDirectory() as place:
            before_last = None if asked.no_fresh else Path(place) / "afresh.game"
            game = make_evening(Path(place), asked.plays, asked.size, asked.two_angles)
            done = evening(game, asked.plays, asked.spell, asked.rest, range(PARTS), told, before_last)
            if before_last is not None:
                afresh = subprocess.run([sys.executable, *sys.argv, "--json", "--last-of", before_last],
                                        capture_output=True, text=True, check=True).stdout
                told(json.loads(afresh.splitlines()[-1])["rows"][0])
    if asked.json:
        print(json.dumps({"rows": rows, "done": done}), flush=True)
        return
    compare(rows)
    print(", ".join(f"{number} {what}" for what, number in done.items()))


def compare(rows: list[dict]) -> None:
    """Print what the last eighth is to the first, and to the desk that did it afresh."""
    evening, afresh = rows[:PARTS], rows[PARTS:]
    for name in evening[0]:
        if evening[0][name] and name.endswith(("MB", "ms", "threads", "handles")):
            beside = "".join(f", {evening[-1][name] / max(row[name], 1e-9):.2f} times a fresh desk on the same game"
                             for row in afresh)
            print(f"{name}: {evening[-1][name] / evening[0][name]:.2f} times the first half hour{beside}; "
                  f"at most {max(row[name] for row in evening)}")


if __name__ == "__main__":
    main()
