"""How quick exact frames are: python tests/bench/bench_frames.py

At 1080p, GOP 60, libx264 with three B-frames, made here with ffmpeg:

- random exact seek against a bare PyAV keyframe-seek-and-decode of the same pictures, alternating, in one run;
- stepping back and forward at 30 steps a second (a held key) and as fast as it goes, turned into pixels each time;
- how much the process grows while doing so;
- a game of 200 files: from nothing to its first picture, before and after indexing;
- playing on libVLC: from a seek to its first picture, and the gap at a boundary between two files.
"""

from __future__ import annotations

import os
import random
import shutil
import statistics
import subprocess
import sys
import tempfile
import threading
import time
from itertools import pairwise
from pathlib import Path

import av

sys.path.insert(0, str(Path(__file__).parents[2]))

from workstation.film.film import Film
from workstation.film.frames import FrameReader
from workstation.film.index import index_of
from workstation.film.picture import Picture, converted
from workstation.film.probe import probe
from workstation.film.sources import open_film
from workstation.film.time import Instant
from workstation.tagging.new_game import read_footage


def main() -> None:
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        os.environ["FILM_WORKSTATION_CACHE"] = str(folder / "kept")
        long = folder / "long.mp4"
        make(long, 1920, 1080, 15)
        print(f"load average: {os.getloadavg()[0]:.1f} on {os.cpu_count()} cores "
              "(on a busy machine times say little; ratios and counts hold)")
        seeking(long)
        stepping(long)
        large = folder / "large.mp4"
        make(large, 3840, 2160, 12)
        print("2160p at 60 a second:")
        stepping(large, large=True)
        many(folder)
        playing(folder)


def make(path: Path, width: int, height: int, seconds: float) -> None:
    """A moving, noisy picture: about as hard to decode as grass and a crowd."""
    subprocess.run(
        ["ffmpeg", "-v", "error", "-y", "-f", "lavfi", "-i", f"testsrc2=size={width}x{height}:rate=60000/1001",
         "-f", "lavfi", "-i", "sine=frequency=440", "-t", str(seconds), "-vf", "noise=alls=12:allf=t",
         "-c:v", "libx264", "-preset", "superfast", "-b:v", {720: "3M", 1080: "16M", 2160: "60M"}[height],
         "-g", "60", "-bf", "3", "-pix_fmt", "yuv420p", "-c:a", "aac", path], check=True)


def seeking(path: Path, times: int = 40) -> None:
    source = probe(path, "s1")
    index = index_of(source)
    numbers = random.Random(1).sample(range(60, len(index)), times)
    ours, bare = [], []
    with FrameReader(Film((source,))) as reader, av.open(str(path)) as container:
        stream = container.streams.video[0]
        stream.thread_type = "AUTO"
        reader.frame_at(source.first)
        for number in numbers:
            wanted = int(index.pts[number])
            for turn in (("bare", "ours") if number % 2 else ("ours", "bare")):
                began = time.perf_counter()
                if turn == "bare":
                    container.seek(wanted, stream=stream, backward=True)
                    frame = next(f for f in container.decode(stream) if f.pts >= wanted)
                    converted(frame, "bgra", 4)
                    bare.append(time.perf_counter() - began)
                else:
                    reader.frame_at(Instant("s1", wanted)).bgra()
                    ours.append(time.perf_counter() - began)
                    reader.rest()       # the other one is to have the processor to itself
                    time.sleep(0.02)
    each = sorted(a / b for a, b in zip(ours, bare, strict=True))
    print(f"random exact seek: {ms(statistics.median(ours))}, bare PyAV {ms(statistics.median(bare))}: "
          f"ratio of sums {sum(ours) / sum(bare):.2f}, median ratio {statistics.median(each):.2f} (bar: at most 1.3)")


def stepping(path: Path, large: bool = False) -> None:
    """``large``: as the desk steps, with frames kept small."""
    source = probe(path, "s1")
    start = Instant("s1", int(index_of(source).pts[450]))
    settle()
    before = memory()
    peak = [before]
    stop = threading.Event()

    def watch() -> None:
        while not stop.wait(0.01):
            peak[0] = max(peak[0], memory())

    watcher = threading.Thread(target=watch)
    watcher.start()
    with FrameReader(Film((source,)), keep_small=large) as reader:
        for way, name in ((-1, "back"), (1, "forward")):
            for pace, told in ((1 / 30, "30 a second"), (0.0, "as fast as it goes")):
                at, spent, waited = start, [], 0
                reader.frame_at(at).bgra()
                time.sleep(0.5)         # a person looks before they step
                for _ in range(300):
                    began = time.perf_counter()
                    at = reader.step(at, way)
                    picture = reader.cached(at, whole=not large)
                    waited += picture is None
                    (picture or reader.frame_at(at, whole=not large)).bgra()
                    spent.append(time.perf_counter() - began)
                    time.sleep(max(pace - spent[-1], 0))
                spent = sorted(spent[1:])
                print(f"step {name}, {told}: median {ms(statistics.median(spent))}, "
                      f"p95 {ms(spent[int(len(spent) * 0.95)])}, worst {ms(spent[-1])}; "
                      f"{waited} of 300 had to be decoded first (bar for back: p95 at most "
                      f"{33 if large else 16} ms)")
        held = reader._cache.bytes
    stop.set()
    watcher.join()
    print(f"memory: grew by at most {(peak[0] - before) / 2**20:.0f} MiB, of it {held / 2**20:.0f} MiB of pictures "
          "(bar: at most 600 MiB)")


def many(folder: Path, files: int = 200) -> None:
    game = folder / "game"
    game.mkdir()
    one = folder / "one.mp4"
    make(one, 1280, 720, 3)
    for number in range(files):
        copy = game / f"{number:05}.mp4"
        shutil.copy(one, copy)
        with copy.open("ab") as file:       # a free box of its own makes every file another
            file.write((16).to_bytes(4) + b"free" + number.to_bytes(8))
    began = time.perf_counter()
    with av.open(str(one)) as container:
        converted(next(container.decode(video=0)), "bgra", 4)
    bare = time.perf_counter() - began
    shown = []
    began = time.perf_counter()

    def show(picture: Picture) -> None:
        picture.bgra()
        shown.append(time.perf_counter() - began)

    film = read_footage([game], first=show)
    print(f"{files} files never seen: first picture after {ms(shown[0])} (bar: at most 300 ms), "
          f"{shown[0] / bare:.1f} x that of one file in bare PyAV; all read after {ms(time.perf_counter() - began)}")
    with FrameReader(film) as reader:
        reader.frame_at(film.sources[0].first).bgra()
        began = time.perf_counter()
        reader.index_all()
        while any(reader.index(source.id) is None for source in film.sources):
            time.sleep(0.01)
        print(f"{files} files indexed behind it in {ms(time.perf_counter() - began)}")
    began = time.perf_counter()
    film = open_film([game])
    with FrameReader(film) as reader:
        reader.frame_at(film.sources[0].first).bgra()
        print(f"{files} files once indexed: first picture after {ms(time.perf_counter() - began)} (bar: at most 1 s)")
        began = time.perf_counter()
        reader.frame_at(film.sources[150].end).bgra()
        print(f"  and a picture in another file after {ms(time.perf_counter() - began)}")


def playing(folder: Path) -> None:
    from workstation.film.playback import Playback, best_engine

    os.environ.setdefault("FILM_WORKSTATION_VLC", "--aout=dummy")
    film = open_film([folder / "game" / "00000.mp4", folder / "game" / "00001.mp4"])
    shown: list[tuple[float, Instant, bool]] = []
    playback = Playback(best_engine(), on_picture=lambda picture, exact: shown.append(
        (time.perf_counter(), picture.instant, exact)))
    playback.load(film)
    time.sleep(1)
    second = int(1 / film.sources[0].time_base)
    waits, gaps = [], []
    for turn in range(8):
        shown.clear()
        began = time.perf_counter()
        playback.play(Instant("s1", film.sources[0].start_pts + (4 + turn) * second // 5))
        time.sleep(3.2 - (4 + turn) / 5)
        playback.pause()
        played = [(when, instant) for when, instant, exact in shown if not exact]
        waits.append(played[0][0] - began)
        gaps += [b[0] - a[0] for a, b in pairwise(played) if a[1].source != b[1].source]
        time.sleep(0.5)
    playback.close()
    if gaps:
        print(f"{playback.engine.name} at 720p: first picture {ms(statistics.median(waits))} after a seek while "
              f"resting; from file to file {ms(statistics.median(gaps))}, worst {ms(max(gaps))} "
              f"(one picture lasts {ms(float(1 / film.sources[0].frame_rate))})")


def settle() -> None:
    import ctypes
    import gc

    gc.collect()
    if sys.platform == "linux":
        ctypes.CDLL(None).malloc_trim(0)


def memory() -> int:
    """Resident bytes of this process (Linux)."""
    try:
        return int(Path("/proc/self/statm").read_text().split()[1]) * os.sysconf("SC_PAGE_SIZE")
    except OSError:
        return 0


def ms(seconds: float) -> str:
    return f"{seconds * 1000:.1f} ms"


if __name__ == "__main__":
    main()
