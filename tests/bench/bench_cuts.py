"""Cuts beside PySceneDetect's ContentDetector with its defaults, same file, same run: F1 to the picture and speed, the
frame index included and nothing kept from before. On real moving pictures cut by hand, on fields painted with seeds on
which nothing was tuned, and on the demo film. Making the films takes most of the time.
Run: python -m tests.bench cuts"""

from __future__ import annotations

import os
import tempfile
import time
from itertools import accumulate
from pathlib import Path

from scenedetect import ContentDetector, detect
from workstation.demo.film_it import film_demo, pictures_in
from workstation.demo.script import SCENES

from tests.outside.finding.composed import compose, pieces, true_cuts
from tests.outside.finding.painted import paint_all, painted_film
from tests.outside.finding.takes import film_takes, takes
from tests.outside.finding.takes import true_cuts as take_cuts
from workstation.film.finding.cuts import find_cuts
from workstation.film.index import index_of
from workstation.film.probe import probe

SEEDS = (201, 202, 203, 204)       # of painted fields: none of them was looked at while thresholds were set
REAL_SEED = 61                          # likewise, of how real pictures are cut and filmed again
ENCODERS = ("adaptive", "fixed", "keys a picture early")


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


def compare(name: str, films: list[tuple[Path, list[int]]]) -> None:
    """Print F1 and speed over some films of one kind."""
    right = found = true = theirs_right = theirs_found = 0
    wall = processor = their_wall = their_processor = 0.0
    for path, cuts in films:
        ours_found, *ours_took = timed(lambda path=path: ours(path))
        reference, *theirs_took = timed(lambda path=path: theirs(path))
        right, found, true = right + len(set(ours_found) & set(cuts)), found + len(ours_found), true + len(cuts)
        theirs_right, theirs_found = theirs_right + len(set(reference) & set(cuts)), theirs_found + len(reference)
        wall, processor = wall + ours_took[0], processor + ours_took[1]
        their_wall, their_processor = their_wall + theirs_took[0], their_processor + theirs_took[1]
    print(f"{name}: {true} cuts; F1 {2 * right / (found + true):.3f} ({true - right} missed, "
          f"{found - right} invented), reference {2 * theirs_right / (theirs_found + true):.3f}; "
          f"{their_wall / wall:.1f} times as fast as it, by "
          f"processor time {their_processor / processor:.1f} times", flush=True)


def main() -> None:
    with tempfile.TemporaryDirectory() as name:
        os.environ["FILM_WORKSTATION_CACHE"] = str(Path(name) / "kept")
        painted: dict[str, list[tuple[Path, list[int]]]] = {encoder: [] for encoder in ENCODERS}
        for seed in SEEDS:
            folder, field = Path(name) / str(seed), painted_film(seed)
            folder.mkdir()
            for encoder, path in zip(ENCODERS, paint_all(field, list(ENCODERS), folder), strict=True):
                painted[encoder].append((path, field.cuts))
        for encoder, films in painted.items():
            compare(f"painted fields, 360p, {encoder}", films)
        film = pieces(seed=REAL_SEED)
        for encoding in ("fixed groups", "groups at cuts", "HEVC"):
            compare(f"dense cuts in real footage, {encoding}", [(compose(film, encoding, Path(name)), true_cuts(film))])
        long = takes(count=6, seed=REAL_SEED)
        for camera in ("360p, groups of 30 joined", "360p, groups at cuts", "720p, groups of 30 joined"):
            compare(f"long takes of real footage, {camera}", [(film_takes(long, camera, Path(name)), take_cuts(long))])
        restless = takes(count=5, seed=REAL_SEED, restless=True)
        compare("whips and flashes in real footage, 360p, groups at cuts",
                [(film_takes(restless, "360p, groups at cuts", Path(name)), take_cuts(restless))])
        demo = film_demo(Path(name), layout="one file", width=640)[0]
        compare("demo film in one file, 360p", [(demo, list(accumulate(map(pictures_in, SCENES)))[:-1])])


if __name__ == "__main__":
    main()
