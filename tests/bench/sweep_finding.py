"""Sweep one threshold of finding, or all of a group, over footage of known cuts, moments and kinds and sound of known
whistles; print precision and recall for each value. Without a name it lists all thresholds, their units and how they
were set. Nothing that is kept for judging is swept over.

Run: python tests/bench/sweep_finding.py [NAME|GROUP [FACTOR ...]]      (factors of the present value: 0.5 0.8 1 1.25 2)
"""

from __future__ import annotations

import os
import sys
import tempfile
from collections.abc import Callable, Iterator
from dataclasses import fields
from itertools import accumulate
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[2]))

import numpy as np
from workstation.demo.film_it import film_demo, pictures_in
from workstation.demo.script import SCENES

from tests.film.finding.close_ups import KINDS as CLOSE_UPS
from tests.film.finding.close_ups import film as film_close_up
from tests.film.finding.sounds import game
from tests.film.finding.test_sound_analysis import MIXES
from tests.outside.finding.composed import ENCODINGS, compose, pieces
from tests.outside.finding.composed import true_cuts as composed_cuts
from tests.outside.finding.takes import film_takes, takes
from tests.outside.finding.takes import true_cuts as take_cuts
from workstation.film.film import Film, Source
from workstation.film.finding import Suggested, found_shots, survey
from workstation.film.finding.cuts import find_cuts
from workstation.film.finding.settings import CUTS, KINDS, MOMENTS, SNAPS, WHISTLES
from workstation.film.finding.sound_analysis import find_whistles
from workstation.film.index import index_of
from workstation.film.probe import probe
from workstation.tagging.model import MomentKind

GROUPS = {"cuts": CUTS, "snaps": SNAPS, "moments": MOMENTS, "kinds": KINDS, "whistles": WHISTLES}
FACTORS = (0.5, 0.8, 1.0, 1.25, 2.0)
CAMERAS = ("360p, a steady rate of bits", "360p, groups of 30 joined", "360p, groups at cuts")
SOUNDS = (21, 22, 23, 24)       # seeds of mixes, each at both levels
LEVELS = (-20, -26)             # decibels
PAINTED = (1, 2, 3)             # seeds of close-ups
PLAYS = tuple(range(1, 9))      # scenes of the demo film, plays most of them
WITHIN = 0.35       # seconds by which a moment may be off

Found = tuple[int, int, int]        # right, found, true


def thresholds() -> Iterator[tuple[str, str, object, str, str]]:
    for group, settings in GROUPS.items():
        for one in fields(settings):
            yield group, one.name, getattr(settings, one.name), one.metadata["unit"], one.metadata["reason"]


def cut_films(folder: Path, demo: Path) -> list[tuple[Source, list[int]]]:
    """Films of known cuts: hard cuts in moving footage, long takes, whips and flashes, and the painted demo film."""
    film, long, restless = pieces(count=20), takes(count=6, seed=5), takes(count=5, seed=8, restless=True)
    made = [(compose(film, encoding, folder), composed_cuts(film)) for encoding in ENCODINGS]
    for number, camera in enumerate(CAMERAS):
        own = folder / str(number)
        own.mkdir()
        made.append((film_takes(long, camera, own), take_cuts(long)))
    made.append((film_takes(restless, CAMERAS[-1], folder), take_cuts(restless)))
    made.append((demo, list(accumulate(pictures_in(scene) for scene in SCENES))[:-1]))
    return [(probe(path, "film"), true) for path, true in made]


def count_cuts(films: list[tuple[Source, list[int]]]) -> Found:
    right = found = wanted = 0
    for source, true in films:
        cuts = find_cuts(source, index_of(source))
        right, found, wanted = right + len(set(cuts) & set(true)), found + len(cuts), wanted + len(true)
    return right, found, wanted


def count_moments(source: Source, kinds: tuple[Suggested, ...]) -> Found:
    suggestions = survey(source).suggestions
    begins = [0.0, *accumulate(pictures_in(scene) * 1001 / 30000 for scene in SCENES)]
    right = found = wanted = 0
    for kind in kinds:
        true = [begin + at for begin, scene in zip(begins, SCENES, strict=False)
                if (at := scene.at(MomentKind(kind))) is not None]
        said = [float((one.at.pts - source.start_pts) * source.time_base) for one in suggestions if one.kind is kind]
        right += sum(any(abs(at - one) <= WITHIN for one in said) for at in true)
        found, wanted = found + len(said), wanted + len(true)
    return right, found, wanted


Kinds = list[tuple[Source, str]]


def kind_films(folder: Path) -> Kinds:
    """Painted close-ups by seed, and scenes of the demo film, each with its kind."""
    made = [(film_close_up(kind, seed, folder / f"{kind} {seed}.mp4"), str(kind))
            for kind in CLOSE_UPS for seed in PAINTED]
    scenes = film_demo(folder / "scenes", width=640, scenes=PLAYS)
    return made + [(probe(path, "clip"), str(SCENES[number].kind)) for number, path in zip(PLAYS, scenes, strict=True)]


def count_kinds(films: Kinds) -> Found:
    """How many shots are named rightly, named at all, and there."""
    said = [(true, found_shots(Film((source,)), {source.id: survey(source)})[0].kind) for source, true in films]
    return sum(true == kind for true, kind in said), sum(kind is not None for _, kind in said), len(said)


def count_whistles(games: list[tuple[np.ndarray, list[float]]]) -> Found:
    """Whistles of both sorts in all mixes."""
    right = found = wanted = 0
    for sound, true in games:
        said = find_whistles(sound)
        right += sum(any(abs(one.at - at) < 0.1 for one in said) for at in true)
        found, wanted = found + len(said), wanted + len(true)
    return right, found, wanted


def counting(group: str, folder: Path) -> Callable[[], Found]:
    """What counts over the footage or the sound of a group, made once."""
    if group == "whistles":
        games = [game(seed, 60, level, beside) for seed in SOUNDS for level in LEVELS for beside in MIXES.values()]
        return lambda: count_whistles(games)
    if group == "kinds":
        films = kind_films(folder)
        return lambda: count_kinds(films)
    demo = film_demo(folder / "demo", layout="one file", width=640)[0]
    if group == "cuts":
        cuts = cut_films(folder, demo)
        return lambda: count_cuts(cuts)
    kinds = (Suggested.SNAP,) if group == "snaps" else (Suggested.SNAP, Suggested.FULL_WIDE)
    source = probe(demo, "film")
    return lambda: count_moments(source, kinds)


def sweep(names: list[str], factors: list[float], folder: Path) -> None:
    """Print precision and recall for each value of some thresholds of one group."""
    group = next(one[0] for one in thresholds() if one[1] == names[0])
    count = counting(group, folder)
    tries = 0
    for name in names:
        _, _, value, unit, reason = next(one for one in thresholds() if one[:2] == (group, name))
        print(f"{name} = {value} ({unit}): {reason}")
        for factor in factors:
            if isinstance(value, tuple):
                tried: object = tuple(one * factor for one in value)
            else:
                tried = round(value * factor) if isinstance(value, int) else value * factor
            tries += 1
            os.environ["FILM_WORKSTATION_CACHE"] = str(folder / f"cache {tries}")      # a survey is cached by file
            setattr(GROUPS[group], name, tried)
            try:
                right, found, true = count()
            finally:
                setattr(GROUPS[group], name, value)
            print(f"  {tried}: precision {right / max(found, 1):.3f}, recall {right / true:.3f} "
                  f"({right} right of {found} found, {true} true)", flush=True)


def main() -> None:
    if len(sys.argv) < 2:
        for group, name, value, unit, reason in thresholds():
            print(f"{group:9} {name:20} {value!s:18} {unit}: {reason}")
        return
    with tempfile.TemporaryDirectory() as folder:
        names = [one.name for one in fields(GROUPS[sys.argv[1]])] if sys.argv[1] in GROUPS else [sys.argv[1]]
        sweep(names, [float(one) for one in sys.argv[2:]] or list(FACTORS), Path(folder))


if __name__ == "__main__":
    main()
