"""Exports beside the ffmpeg command doing the same, in one run. Run: python tests/bench/bench_delivery.py"""

from __future__ import annotations

import subprocess
import sys
import tempfile
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[2]))

from workstation.delivery.copying import copy_part
from workstation.delivery.rendering import Settings, render
from workstation.delivery.segment import Part, Segment
from workstation.film.index import index_of
from workstation.film.probe import probe

SEGMENTS = 100


def ffmpeg(*arguments: str) -> None:
    subprocess.run(["ffmpeg", "-y", "-loglevel", "error", *arguments], check=True)


def timed(work) -> float:
    start = time.perf_counter()
    work()
    return time.perf_counter() - start


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

        theirs, ours = timed(copy_theirs), timed(copy_ours)
        print(f"copied, {SEGMENTS} segments: ours {ours:.2f} s, loop of ffmpeg {theirs:.2f} s, ratio "
              f"{ours / theirs:.2f} (at most 1)")

        first, last = int(pts[30]), int(pts[30 + 1800])
        seconds = (last - first) * source.time_base

        def render_ours() -> None:
            render([Segment((Part(source, first, last),), {})], folder / "ours.mp4", Settings(quality=18))

        def render_theirs() -> None:
            ffmpeg("-ss", f"{float(first * source.time_base):.6f}", "-i", str(film), "-t", f"{float(seconds):.6f}",
                   "-c:v", "libx264", "-crf", "18", "-preset", "veryfast", "-pix_fmt", "yuv420p", "-c:a", "aac", "-ar",
                   "48000", "-ac", "2", "-movflags", "+faststart", str(folder / "theirs.mp4"))

        theirs, ours = timed(render_theirs), timed(render_ours)
        print(f"rendered, {float(seconds):.0f} s of 720p: ours {ours:.2f} s, ffmpeg {theirs:.2f} s, "
              f"speed {theirs / ours:.2f} of ffmpeg's (at least 0.9)")


if __name__ == "__main__":
    main()
