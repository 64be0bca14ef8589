"""Exports beside the ffmpeg command doing the same: interleaved runs, the best of each, and the processor's time of
both, which says more on a busy machine. Run: python -m tests.bench delivery"""

from __future__ import annotations

import os
import subprocess
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

from workstation.delivery.copying import copy_part
from workstation.delivery.rendering import Settings, render
from workstation.delivery.segment import Part, Segment
from workstation.film.index import index_of
from workstation.film.probe import probe

SEGMENTS = 100
RUNS = 2


def ffmpeg(*arguments: str) -> None:
    subprocess.run(["ffmpeg", "-y", "-loglevel", "error", *arguments], check=True)


def best_of(*works: Callable[[], object]) -> list[tuple[float, float]]:
    """The least seconds on the wall and on the processor, those of programs it calls included, of each work; run in
    turns."""
    best = [(float("inf"), float("inf")) for _ in works]
    for _ in range(RUNS):
        for number, work in enumerate(works):
            wall, before = time.perf_counter(), os.times()
            work()
            wall, after = time.perf_counter() - wall, os.times()
            took = wall, sum(after[:4]) - sum(before[:4])
            best[number] = min(best[number][0], took[0]), min(best[number][1], took[1])
    return best


def main() -> None:
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        film = folder / "film.mp4"
        ffmpeg("-f", "lavfi", "-i", "testsrc2=size=1280x720:rate=30000/1001:duration=240", "-f", "lavfi", "-i",
               "sine=frequency=440:duration=240", "-c:v", "libx264", "-preset", "veryfast", "-g", "60", "-pix_fmt",
               "yuv420p", "-c:a", "aac", str(film))
        source = probe(film, "film")
        pts = index_of(source).pts
        spans = [(10 + 70 * number, 10 + 70 * number + 65) for number in range(SEGMENTS)]

        def copy_ours() -> None:
            for number, (first, last) in enumerate(spans):
                copy_part(Part(source, int(pts[first]), int(pts[last])), folder / f"ours{number}.mp4")

        def copy_theirs() -> None:
            for number, (first, last) in enumerate(spans):
                start, end = (float(pts[at] * source.time_base) for at in (first, last))
                ffmpeg("-ss", f"{start:.6f}", "-i", str(film), "-t", f"{end - start:.6f}", "-c", "copy",
                       str(folder / f"theirs{number}.mp4"))

        (ours, ours_busy), (theirs, theirs_busy) = best_of(copy_ours, copy_theirs)
        print(f"copied, {SEGMENTS} segments: ours {ours:.2f} s, loop of ffmpeg {theirs:.2f} s, ratio "
              f"{ours / theirs:.2f} (at most 0.4), by processor time {ours_busy / theirs_busy:.2f}", flush=True)

        first, last = int(pts[30]), int(pts[30 + 1800])
        seconds = (last - first) * source.time_base

        def render_ours() -> None:
            render([Segment((Part(source, first, last),), {})], folder / "ours.mp4", Settings(quality=18))

        def render_theirs() -> None:
            ffmpeg("-ss", f"{float(first * source.time_base):.6f}", "-i", str(film), "-t", f"{float(seconds):.6f}",
                   "-c:v", "libx264", "-crf", "18", "-preset", "veryfast", "-pix_fmt", "yuv420p", "-c:a", "aac", "-ar",
                   "48000", "-ac", "2", "-movflags", "+faststart", str(folder / "theirs.mp4"))

        (ours, ours_busy), (theirs, theirs_busy) = best_of(render_ours, render_theirs)
        print(f"rendered, {float(seconds):.0f} s of 720p: ours {ours:.2f} s, ffmpeg {theirs:.2f} s, "
              f"speed {theirs / ours:.2f} of ffmpeg's (at least 0.95), by processor time "
              f"{theirs_busy / ours_busy:.2f}")


if __name__ == "__main__":
    main()
