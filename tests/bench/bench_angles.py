"""How soon the exact picture of the next angle is on show, and whether two angles side by side keep up with playing.

    python -m tests.bench.bench_angles [SECONDS]

Two films of 720p at 30 pictures a second (keyframes a second apart, as cameras write them) are tied at their beginning.
Switching is measured from the key to the picture in the window, paused and while playing, and beside it a plain seek of
the same distance within one film, whose ratio may be compared. Side by side plays for SECONDS (60); counted are the
pictures of both films that the clock passed and those that were shown.
"""

from __future__ import annotations

import os
import subprocess
import sys
import tempfile
from pathlib import Path
from random import Random
from time import perf_counter

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
os.environ.setdefault("FILM_WORKSTATION_VLC", "--aout=dummy")

LENGTH = 90
RATE = 30
TIMES = 25


def film(folder: Path, name: str, pattern: str) -> Path:
    """A film of noise over a pattern, so that decoding it costs what decoding grass costs."""
    path = folder / f"{name}.mp4"
    subprocess.run(["ffmpeg", "-y", "-loglevel", "error", "-f", "lavfi", "-i",
                    f"{pattern}=size=1280x720:rate={RATE}:duration={LENGTH}", "-vf", "noise=alls=6:allf=t", "-c:v",
                    "libx264", "-preset", "veryfast", "-crf", "27", "-g", "30", "-pix_fmt", "yuv420p", str(path)],
                   check=True)
    return path


def game(folder: Path) -> Path:
    """Ten plays in a shot each, filmed by both."""
    from workstation.film.sources import open_film
    from workstation.film.time import Instant
    from workstation.football.plays import Play, PlayKind
    from workstation.tagging.gamefile import GameFile
    from workstation.tagging.model import (
        Angle,
        AngleFilm,
        CameraPlace,
        Game,
        Heading,
        Match,
        PlayTag,
        Shot,
        ShotKind,
    )

    here = open_film([film(folder, "high", "testsrc2")])
    there = open_film([film(folder, "end", "testsrc")], [here.sources[0].id])

    def shots(film, first):
        (source,) = film.sources
        cut = source.duration_pts // 10
        return tuple(Shot(first + number, Instant(source.id, source.start_pts + number * cut),
                          Instant(source.id, source.start_pts + (number + 1) * cut) if number < 9 else source.end,
                          ShotKind.PLAY) for number in range(10))

    ours, theirs = shots(here, 1), shots(there, 11)
    made = Game(Heading(), here, ours, plays=tuple(PlayTag(n, float(n), Play(PlayKind.RUN, gain=1), n)
                                                   for n in range(1, 11)),
                angles=(AngleFilm(Angle(1, "End zone", CameraPlace.END_ZONE), there, theirs),),
                matches=tuple(Match(1, n, 10 + n, (ours[n - 1].start, theirs[n - 1].start)) for n in range(1, 11)))
    path = folder / "two.game"
    GameFile.create(path, game=made).close()
    return path


def percentile(values: list[float], share: float) -> float:
    """The value below which so many of them lie."""
    return sorted(values)[min(int(len(values) * share), len(values) - 1)]


class _Desk:
    """The window on the game, and a loop that waits for what is shown."""

    def __init__(self, path: Path, settings: str):
        from PySide6.QtCore import QEventLoop, QSettings
        from PySide6.QtWidgets import QApplication

        from workstation.desk.app import make_application
        from workstation.desk.window import MainWindow

        make_application()
        self._process = QApplication.processEvents
        self._flags = QEventLoop.ProcessEventsFlag.WaitForMoreEvents
        self.window = MainWindow(QSettings(settings, QSettings.Format.IniFormat))
        self.window.resize(1600, 950)
        self.window.show()
        self.window.open_game(path)
        self.until(lambda: self.window.session is not None and not self.window.session.player.frame.isNull())
        self.session = self.window.session
        self.rest(3)

    def until(self, ready, most: float = 60.0) -> float:
        """Seconds until *ready*; raises TimeoutError."""
        begun = perf_counter()
        while not ready():
            self._process(self._flags, 20)
            if perf_counter() - begun > most:
                raise TimeoutError
        return perf_counter() - begun

    def seconds_to_next_angle(self) -> float:
        """From the key to the picture in the window."""
        shown: list[float] = []
        told = self.session.player.frame_changed.connect(lambda image: shown.append(perf_counter()))
        begun = perf_counter()
        self.session.see_next()
        self.until(lambda: bool(shown))
        self.session.player.frame_changed.disconnect(told)
        return shown[0] - begun

    def rest(self, seconds: float) -> None:
        end = perf_counter() + seconds
        while perf_counter() < end:
            self._process(self._flags, 20)


def switching(desk: _Desk, is_playing: bool) -> tuple[list[float], list[float]]:
    """Seconds to the next angle's picture, and to a picture of the same film as far away as a shot, by turns."""
    session, choose = desk.session, Random(5)
    switched, sought = [], []
    for _ in range(TIMES):
        at = choose.uniform(2, LENGTH - 12)
        session.seek_time(at)
        desk.until(lambda: not session.player.waiting)
        desk.rest(0.6)
        if is_playing:
            session.play()
            desk.until(lambda: session.playing)
            desk.rest(1.5)
        switched.append(desk.seconds_to_next_angle())
        desk.rest(0.3)
        session.pause()
        desk.until(lambda: not session.player.waiting)
        begun = perf_counter()
        session.seek_time((at + LENGTH / 2) % (LENGTH - 2))
        desk.until(lambda: not session.player.waiting)
        sought.append(perf_counter() - begun)
        if session.angle:
            session.see_next()
            desk.until(lambda: not session.player.waiting)
    return switched, sought


def playing(desk: _Desk, seconds: float, alone: bool) -> str:
    """Plays one angle alone, or two side by side, and counts their pictures."""
    from workstation.desk.beside import BesideMode
    session = desk.session
    ours, theirs = set(), set()
    session.seek_time(5)
    session.beside.show(BesideMode.OFF if alone else BesideMode.EQUAL)
    desk.until(lambda: not session.player.waiting and (alone or not session.beside.image.isNull()))
    session.position_changed.connect(lambda at: ours.add(at.pts))
    session.beside.changed.connect(lambda: theirs.add(session.beside.at.pts) if session.beside.at else None)
    session.play()
    desk.until(lambda: session.playing)
    desk.rest(2)
    ours.clear()
    theirs.clear()
    begun, from_ = perf_counter(), session.time
    desk.rest(seconds)
    took, passed = perf_counter() - begun, float(session.time - from_)
    session.pause()
    due = round(passed * RATE)
    return (f"{'one angle' if alone else 'side by side'}, {took:.1f} s: the clock passed {passed:.1f} s of film, {due} "
            f"pictures; dropped {max(due - len(ours), 0)}"
            + ("" if alone else f" of the one that plays, {max(due - len(theirs), 0)} of the one beside it"))


def main(seconds: float = 60.0) -> None:
    """Print what was measured."""
    with tempfile.TemporaryDirectory() as folder:
        os.environ["FILM_WORKSTATION_CACHE"] = f"{folder}/cache"
        desk = _Desk(game(Path(folder)), f"{folder}/desk.ini")
        for name, is_playing in (("paused", False), ("playing", True)):
            switched, sought = switching(desk, is_playing)
            half, most = percentile(switched, 0.5), percentile(switched, 0.95)
            other = percentile(sought, 0.95)
            print(f"next angle, {name}: median {half * 1000:.0f} ms, p95 {most * 1000:.0f} ms; a seek in one film: p95 "
                  f"{other * 1000:.0f} ms; ratio {most / other:.2f}", flush=True)
        print(playing(desk, seconds, alone=True), flush=True)
        print(playing(desk, seconds, alone=False), flush=True)
        desk.window.close()


if __name__ == "__main__":
    main(*map(float, sys.argv[1:2]))
