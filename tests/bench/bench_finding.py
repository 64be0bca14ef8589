"""Finding shots beside PySceneDetect's ContentDetector with its defaults, same file, same run: F1 to the picture and
speed, the frame index included and nothing kept from before; and how near the moments suggested in the demo film come.
Making the films takes some minutes. Run: python tests/bench/bench_finding.py [width]"""

from __future__ import annotations

import os
import sys
import tempfile
import time
from itertools import accumulate
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[2]))

from scenedetect import ContentDetector, detect
from workstation.demo.film_it import film_demo, pictures_in
from workstation.demo.script import SCENES

from tests.outside.finding.composed import compose, f1, pieces, true_cuts
from tests.outside.finding.takes import film_takes, takes
from tests.outside.finding.takes import true_cuts as take_cuts
from workstation.film.finding import Suggested, survey
from workstation.film.finding.cuts import find_cuts
from workstation.film.index import index_of
from workstation.film.probe import probe
from workstation.tagging.model import MomentKind

WITHIN = (0.1, 0.2, 0.35, 0.6)      # seconds


def timed(work) -> tuple[list[int], float, float]:
    """Return what the work found, and its seconds on the wall and on the processor."""
    wall, processor = time.perf_counter(), time.process_time()
    found = work()
    return found, time.perf_counter() - wall, time.process_time() - processor


def ours(path: Path) -> list[int]:
    source = probe(path, "film")
    return find_cuts(source, index_of(source))


def theirs(path: Path) -> list[int]:
    return [start.frame_num for start, _ in detect(str(path), ContentDetector())][1:]


def compare(name: str, path: Path, true: list[int]) -> None:
    found, wall, processor = timed(lambda: ours(path))
    reference, their_wall, their_processor = timed(lambda: theirs(path))
    print(f"{name}: {len(true)} cuts; F1 {f1(found, true):.3f} (at least 0.99), reference {f1(reference, true):.3f}; "
          f"{wall:.1f} s against {their_wall:.1f} s: {their_wall / wall:.1f} times as fast (at least 4), "
          f"by processor time {their_processor / processor:.1f} times", flush=True)


def moments(path: Path) -> None:
    """Precision and recall of the suggested moments of the demo film, which is drawn: real footage was not tried."""
    source = probe(path, "film")
    found = survey(source).suggestions
    begins = [0.0, *accumulate(pictures_in(scene) * 1001 / 30000 for scene in SCENES)]
    for kind in Suggested:
        true = [begin + at for begin, scene in zip(begins, SCENES, strict=False)
                if (at := scene.at(MomentKind(kind))) is not None]
        said = [float((one.at.pts - source.start_pts) * source.time_base) for one in found if one.kind is kind]
        right = {within: sum(any(abs(at - one) <= within for one in said) for at in true) for within in WITHIN}
        print(f"{kind}, {len(true)} in the demo film: precision / recall " + ", ".join(
            f"{count / len(said):.2f} / {count / len(true):.2f} within {within} s" for within, count in right.items()))


def main() -> None:
    width = int(sys.argv[1]) if len(sys.argv) > 1 else 1280
    with tempfile.TemporaryDirectory() as name:
        os.environ["FILM_WORKSTATION_CACHE"] = str(Path(name) / "kept")
        film = pieces()
        for encoding in ("fixed groups", "groups at cuts", "HEVC"):
            compare(f"dense cuts in real footage, {encoding}", compose(film, encoding, Path(name)), true_cuts(film))
        long = takes()
        for camera in ("720p, groups of 60", "720p, groups of 30 joined", "720p, groups of 30 begun anew",
                       "720p, groups at cuts"):
            compare(f"long takes of real footage, {camera}", film_takes(long, camera, Path(name)), take_cuts(long))
        restless = takes(seed=4, restless=True)
        compare("whips and flashes in real footage, 360p, groups at cuts",
                film_takes(restless, "360p, groups at cuts", Path(name)), take_cuts(restless))
        demo = film_demo(Path(name), layout="one file", width=width)[0]
        starts = list(accumulate(pictures_in(scene) for scene in SCENES))
        compare(f"demo film in one file, {width} wide", demo, starts[:-1])
        moments(demo)


if __name__ == "__main__":
    main()
