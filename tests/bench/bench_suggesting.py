"""What is suggested, against what is true: snaps, kinds and how far a confidence can be believed, on the painted film
at two sizes and on real film where a folder of it is named (REAL_FILM, see ``tests/outside/real_film``); whistles in
mixes at stated levels; and how long a survey takes beside decoding alone. Run: python -m tests.bench suggesting"""

from __future__ import annotations

import hashlib
import os
import tempfile
import time
from collections import Counter
from itertools import accumulate, pairwise
from pathlib import Path

import av
from workstation.demo.film_it import film_demo, pictures_in
from workstation.demo.script import SCENES

from tests.film.finding.close_ups import KINDS, film
from tests.film.finding.sounds import game
from tests.film.finding.test_sound_analysis import MIXES
from tests.outside.real_film.__main__ import truths
from workstation.film.film import Film
from workstation.film.finding import Suggested, found_shots, survey
from workstation.film.finding.sound_analysis import find_whistles
from workstation.film.probe import probe
from workstation.tagging.model import MomentKind
from workstation.tagging.suggestions import UNCERTAINTY

WITHIN = (0.2, 0.35, 0.6, 1.0)                  # seconds
CLOSE_UPS = range(101, 106)                     # seeds
WHISTLES = (11, 31, 32, 33)                     # seeds
BINS = (0.2, 0.4, 0.6, 0.8, 0.9, 1.01)

Told = list[tuple[float, float | None]]         # confidence, and the error in seconds (None: nothing is true there)


def count_snaps(name: str, told: Told, true: int) -> None:
    """Print how near the snaps told of came."""
    errors = [abs(error) for _, error in told if error is not None]
    print(f"{name}: {true} snaps, {len(errors)} told of: "
          + ", ".join(f"{sum(error <= limit for error in errors)} within {limit} s" for limit in WITHIN)
          + f"; {sum(error > 1 for error in errors)} wrong by more than 1 s; "
          f"{len(told) - len(errors)} where there is none")


def reliability(name: str, told: Told) -> None:
    """Print of the suggestions told with about p which share is right, to the uncertainty with which they are taken."""
    print(f"{name}: told with p / how many / right within {UNCERTAINTY} s")
    for least, most in pairwise(BINS):
        within = [error for p, error in told if least <= p < most]
        right = sum(error is not None and abs(error) <= UNCERTAINTY for error in within)
        if within:
            print(f"  {least:.1f} to {min(most, 1):.1f}   {len(within):3d}   {right / len(within):.2f}")


def painted(path: Path) -> tuple[Told, Counter[tuple[str, str | None]]]:
    """Survey the painted film; its snaps and the kinds of its shots, true and suggested."""
    source = probe(path, "film")
    found = survey(source)
    told: Told = []
    for begin, end, scene in zip([0.0, *(ends := list(accumulate(pictures_in(one) * 1001 / 30000 for one in SCENES)))],
                                 ends, SCENES, strict=False):
        true = scene.at(MomentKind.SNAP)
        for one in found.suggestions:
            at = float((one.at.pts - source.start_pts) * source.time_base)
            if one.kind is Suggested.SNAP and begin <= at < end:
                told.append((one.confidence, None if true is None else at - begin - true))
    shots = found_shots(Film((source,)), {"film": found})
    return told, Counter((str(scene.kind), shot.kind) for scene, shot in zip(SCENES, shots, strict=False))


def real(folder: Path, tuned_on: bool) -> tuple[Told, int, Counter[tuple[str, str | None]]]:
    """Survey the listed clips of a folder that were tuned on, or those that were not."""
    known, told, true, kinds = truths(), [], 0, Counter()
    for path in sorted(one for one in folder.rglob("*") if one.is_file()):
        truth = known.pop(hashlib.sha256(path.read_bytes()).hexdigest(), None)
        if truth is None or truth.tuned_on is not tuned_on:
            continue
        source = probe(path, "clip")
        found = survey(source)
        true += truth.snap is not None
        told += [(one.confidence, None if truth.snap is None else
                  float((one.at.pts - source.start_pts) * source.time_base) - truth.snap)
                 for one in found.suggestions if one.kind is Suggested.SNAP]
        kinds.update((truth.kind, shot.kind) for shot in found_shots(Film((source,)), {"clip": found}))
    return told, true, kinds


def print_kinds(name: str, kinds: Counter[tuple[str, str | None]]) -> None:
    """Print what shots of each kind were named."""
    print(f"{name}, kinds: " + "; ".join(f"{number} {true} named {said or 'nothing'}"
                                         for (true, said), number in sorted(kinds.items(), key=str)))


def close_ups(folder: Path) -> None:
    """Painted close-ups of seeds on which nothing was tuned: camera, light, colours and place by chance."""
    kinds: Counter[tuple[str, str | None]] = Counter()
    for kind in KINDS:
        for seed in CLOSE_UPS:
            source = film(kind, seed, folder / f"{kind} {seed}.mp4")
            kinds.update((str(kind), shot.kind) for shot in found_shots(Film((source,)), {"clip": survey(source)}))
    right = sum(number for (true, said), number in kinds.items() if true == said)
    print_kinds(f"painted close-ups by seed ({right} of {kinds.total()} named rightly)", kinds)


def whistles() -> None:
    """Precision and recall in each mix, on seeds on which nothing was tuned."""
    for level in (-20, -26):
        rows = []
        for name, beside in MIXES.items():
            right = found = wanted = 0
            for seed in WHISTLES:
                sound, true = game(seed, 60, level, beside)
                said = find_whistles(sound)
                right += sum(any(abs(one.at - at) < 0.1 for one in said) for at in true)
                found, wanted = found + len(said), wanted + len(true)
            rows.append((name, right, found, wanted))
        right, found, wanted = (sum(row[column] for row in rows) for column in (1, 2, 3))
        print(f"whistles at {level} dB: precision {right / found:.2f}, recall {right / wanted:.2f} ("
              + ", ".join(f"{name} {r} of {f} for {t}" for name, r, f, t in rows) + ")")


def speed(path: Path) -> None:
    """How long a survey takes beside decoding every picture once, by processor time."""
    before = time.process_time()
    with av.open(str(path)) as container:
        seconds = sum(1 for _ in container.decode(video=0)) / float(container.streams.video[0].average_rate)
    decoding = time.process_time() - before
    os.environ["FILM_WORKSTATION_CACHE"] = tempfile.mkdtemp()
    before = time.process_time()
    survey(probe(path, "film"))
    taken = time.process_time() - before
    print(f"survey of {seconds:.0f} s, 1280 wide: {taken:.1f} s of the processor, decoding alone {decoding:.1f} s: "
          f"ratio {taken / decoding:.2f}; {seconds / taken:.1f} times real time on one core")


def main() -> None:
    with tempfile.TemporaryDirectory() as name:
        os.environ["FILM_WORKSTATION_CACHE"] = str(Path(name) / "cache")
        everything: Told = []
        true = sum(scene.at(MomentKind.SNAP) is not None for scene in SCENES)
        for width in (320, 640):
            path = film_demo(Path(name) / str(width), layout="one file", width=width)[0]
            told, kinds = painted(path)
            count_snaps(f"painted film, {width} wide", told, true)
            print_kinds(f"painted film, {width} wide", kinds)
            everything += told
        reliability("painted film", everything)
        if folder := os.environ.get("REAL_FILM"):
            for tuned, words in ((True, "real film tuned on"), (False, "real film held back")):
                told, true, kinds = real(Path(folder), tuned)
                count_snaps(words, told, true)
                print_kinds(words, kinds)
                reliability(words, told)
                everything += told
            reliability("all", everything)
        close_ups(Path(name))
        whistles()
        speed(film_demo(Path(name) / "wide", layout="one file", width=1280, scenes=tuple(range(1, 7)))[0])


if __name__ == "__main__":
    main()
