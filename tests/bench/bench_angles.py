"""How soon the exact picture of the next angle is on show, and whether two angles side by side keep up with playing.

    python -m tests.bench.bench_angles [SECONDS]

Two films of 720p at 30 pictures a second (keyframes a second apart, as cameras write them) are tied at their beginning.
Switching is measured from the key to the picture in the window, paused and while playing, and beside it a seek of
some shots' distance within one film, whose ratio may be compared. Side by side plays for SECONDS (60), one angle alone
for a sixth of that, as the reference; counted are the pictures that the clock passed and those of them that the window
painted. Processor seconds are those of the whole program, decoding and painting too.
"""

from __future__ import annotations

import os
import subprocess
import sys
import tempfile
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from random import Random
from time import perf_counter, process_time

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
os.environ.setdefault("FILM_WORKSTATION_VLC", "--aout=dummy")

PIECE = 10
PIECES = 7
LENGTH = PIECE * PIECES
RATE = 30
TIMES = 24


def film(folder: Path, name: str, pattern: str) -> Path:
    """A film of noise over a pattern, so that decoding it costs what decoding grass costs; the same ten seconds again
    and again, because encoding takes long."""
    piece, path = folder / f"{name}_piece.mp4", folder / f"{name}.mp4"
    quiet = ["ffmpeg", "-y", "-loglevel", "error"]
    subprocess.run([*quiet, "-f", "lavfi", "-i", f"{pattern}=size=1280x720:rate={RATE}:duration={PIECE}", "-vf",
                    "noise=alls=6:allf=t", "-c:v", "libx264", "-preset", "veryfast", "-crf", "27", "-g", str(RATE),
                    "-pix_fmt", "yuv420p", str(piece)], check=True)
    subprocess.run([*quiet, "-stream_loop", str(PIECES - 1), "-i", str(piece), "-c", "copy", str(path)], check=True)
    piece.unlink()
    return path


def game(folder: Path) -> Path:
    """Ten plays in a shot each, filmed by both."""
    from tests.tagging.two_angles import filmed_from_end_zone
    from workstation.film.sources import open_film
    from workstation.film.time import Instant
    from workstation.football.plays import Play, PlayKind
    from workstation.tagging.gamefile import GameFile
    from workstation.tagging.model import Game, Heading, PlayTag, Shot, ShotKind

    with ThreadPoolExecutor(2) as pool:
        paths = list(pool.map(film, [folder] * 2, ["high", "end"], ["testsrc2", "testsrc"]))
    here = open_film(paths[:1])
    there = open_film(paths[1:], [here.sources[0].id])

    def shots(film, first):
        (source,) = film.sources
        cut = source.duration_pts // 10
        return tuple(Shot(first + number, Instant(source.id, source.start_pts + number * cut),
                          Instant(source.id, source.start_pts + (number + 1) * cut) if number < 9 else source.end,
                          ShotKind.PLAY) for number in range(10))

    ours, theirs = shots(here, 1), shots(there, 11)
    made = filmed_from_end_zone(
        Game(Heading(), here, ours, plays=tuple(PlayTag(n, float(n), Play(PlayKind.RUN, gain=1), n)
                                                for n in range(1, 11))),
        there, theirs, [(n, 10 + n, ours[n - 1].start, theirs[n - 1].start) for n in range(1, 11)])
    path = folder / "two.game"
    GameFile.create(path, game=made).close()
    return path


def percentile(values: list[float], share: float) -> float:
    """The value below which so many of them lie."""
    return sorted(values)[min(int(len(values) * share), len(values) - 1)]


class _Desk:
    """The window on the game, and an event loop that waits for what is shown. ``painted`` are the pictures of the film
    that plays, and of the one beside it, that were painted since they were cleared."""

    def __init__(self, path: Path, settings: str):
        from PySide6.QtCore import QEventLoop, QSettings, QTimer

        from workstation.desk.app import make_application
        from workstation.desk.window import MainWindow

        make_application()
        self._loop, self._timer = QEventLoop(), QTimer()
        self.window = MainWindow(QSettings(settings, QSettings.Format.IniFormat))
        self.window.resize(1600, 950)
        self.window.show()
        self.window.opening.open_game(path)
        self.until(lambda: self.window.session is not None and not self.window.session.player.frame.isNull())
        self.session = self.window.session
        self.painted: tuple[set, set] = set(), set()
        picture, before = self.window.room.picture, self.window.room.picture.overlay

        def over(painter, rect) -> None:
            if before is not None:
                before(painter, rect)
            beside = self.session.beside
            self.painted[0].add(self.session.position)
            if beside.at is not None:
                self.painted[1].add(beside.at)

        picture.overlay = over
        self.rest(2)

    def until(self, ready, most: float = 60.0) -> float:
        """Seconds until *ready*, which is asked every 4 ms; raises TimeoutError."""
        begun = perf_counter()

        def look() -> None:
            if ready() or perf_counter() - begun > most:
                self._loop.quit()

        told = self._timer.timeout.connect(look)
        self._timer.start(4)
        self._loop.exec()
        self._timer.stop()
        self._timer.timeout.disconnect(told)
        if not ready():
            raise TimeoutError
        return perf_counter() - begun

    def rest(self, seconds: float) -> None:
        """Let the window live for so long, as it does when nobody measures."""
        told = self._timer.timeout.connect(self._loop.quit)
        self._timer.start(round(seconds * 1000))
        self._loop.exec()
        self._timer.stop()
        self._timer.timeout.disconnect(told)

    def at_rest(self) -> None:
        self.until(lambda: not self.session.player.waiting)

    def seconds_to_next_angle(self) -> float:
        """From the key to the picture in the window."""
        shown: list[float] = []
        told = self.session.player.frame_changed.connect(lambda image: shown.append(perf_counter()))
        begun = perf_counter()
        self.session.see_next()
        self.until(lambda: bool(shown))
        self.session.player.frame_changed.disconnect(told)
        return shown[0] - begun


def switching(desk: _Desk) -> tuple[list[float], list[float], list[float]]:
    """Seconds to the next angle's picture, paused and while it plays, and to one of the same film some shots away."""
    session, choose = desk.session, Random(5)
    paused, playing, sought = [], [], []
    for _ in range(TIMES // 2):
        begun = perf_counter()
        session.seek_time(choose.uniform(2, LENGTH - 4))
        desk.at_rest()
        sought.append(perf_counter() - begun)
        for _ in range(2):
            desk.rest(0.3)
            paused.append(desk.seconds_to_next_angle())
            desk.at_rest()
    session.seek_time(3)
    desk.at_rest()
    session.play()
    desk.until(lambda: session.playing)
    for _ in range(TIMES):
        desk.rest(choose.uniform(0.5, 1.1))
        playing.append(desk.seconds_to_next_angle())
    session.pause()
    desk.at_rest()
    return paused, playing, sought


def playing(desk: _Desk, seconds: float, alone: bool) -> str:
    """Plays one angle alone, or two side by side, and counts their pictures."""
    from workstation.desk.beside import BesideMode
    session = desk.session
    session.seek_time(2)
    session.beside.show(BesideMode.OFF if alone else BesideMode.EQUAL)
    desk.until(lambda: not session.player.waiting and (alone or not session.beside.image.isNull()))
    session.play()
    desk.until(lambda: session.playing)
    desk.rest(1.5)
    for each in desk.painted:
        each.clear()
    begun, from_, used = perf_counter(), session.time, process_time()
    desk.rest(seconds)
    took, passed, used = perf_counter() - begun, float(session.time - from_), process_time() - used
    ours, theirs = map(len, desk.painted)
    session.pause()
    desk.at_rest()
    due = round(passed * RATE)
    return (f"{'one angle' if alone else 'side by side'}, {took:.1f} s: the clock passed {passed:.1f} s of film, {due} "
            f"pictures; dropped {max(due - ours, 0)}"
            + ("" if alone else f" of the one that plays, {max(due - theirs, 0)} of the one beside it")
            + f"; {used / took:.2f} processor seconds a second")


def main(seconds: float = 60.0) -> None:
    """Print what was measured."""
    with tempfile.TemporaryDirectory() as folder:
        os.environ["FILM_WORKSTATION_CACHE"] = f"{folder}/cache"
        desk = _Desk(game(Path(folder)), f"{folder}/desk.ini")
        paused, switched, sought = switching(desk)
        other = percentile(sought, 0.95)
        for name, values in (("paused", paused), ("playing", switched)):
            half, most = percentile(values, 0.5), percentile(values, 0.95)
            print(f"next angle, {name}: {len(values)} times, median {half * 1000:.0f} ms, p95 {most * 1000:.0f} ms; a "
                  f"seek in one film: p95 {other * 1000:.0f} ms; ratio {most / other:.2f}", flush=True)
        print(playing(desk, seconds / 6, alone=True), flush=True)
        print(playing(desk, seconds, alone=False), flush=True)
        desk.window.close()


if __name__ == "__main__":
    main(*map(float, sys.argv[1:2]))
