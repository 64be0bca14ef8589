"""Sweep one threshold of finding over footage of known cuts, moments and whistles; print precision and recall for each
value. Without a name it lists all thresholds, their units and how they were set.

Run: python tests/bench/sweep_finding.py [NAME [FACTOR ...]]      (factors of the present value: 0.5 0.8 1 1.25 2)
"""

from __future__ import annotations

import os
import sys
import tempfile
from collections.abc import Iterator
from dataclasses import fields
from itertools import accumulate
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[2]))

from workstation.demo.film_it import film_demo, pictures_in
from workstation.demo.script import SCENES

from tests.outside.finding.composed import ENCODINGS, compose, pieces
from tests.outside.finding.composed import true_cuts as composed_cuts
from tests.outside.finding.takes import film_takes, takes
from tests.outside.finding.takes import true_cuts as take_cuts
from workstation.film.film import Film, Source
from workstation.film.finding import Suggested, found_shots, survey
from workstation.film.finding.cuts import find_cuts
from workstation.film.finding.settings import CUTS, KINDS, MOMENTS, SNAPS, WHISTLES
from workstation.film.index import index_of
from workstation.film.probe import probe
from workstation.tagging.model import MomentKind

GROUPS = {"cuts": CUTS, "snaps": SNAPS, "moments": MOMENTS, "kinds": KINDS, "whistles": WHISTLES}
FACTORS = (0.5, 0.8, 1.0, 1.25, 2.0)
CAMERAS = ("360p, a steady rate of bits", "360p, groups of 30 joined", "360p, groups at cuts")
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


def count_kinds(source: Source) -> Found:
    """How many shots of the demo film are named rightly, named at all, and of a kind that can be named."""
    shots = found_shots(Film((source,)), {source.id: survey(source)})
    nameable = {"play", "down marker", "scoreboard"}
    right = sum(shot.kind == str(scene.kind) for shot, scene in zip(shots, SCENES, strict=False))
    return right, sum(shot.kind is not None for shot in shots), sum(str(scene.kind) in nameable for scene in SCENES)


def sweep(name: str, factors: list[float], folder: Path) -> None:
    group, _, value, unit, reason = next(one for one in thresholds() if one[1] == name)
    demo = film_demo(folder / "demo", layout="one file", width=640)[0]
    if group == "cuts":
        films = cut_films(folder, demo)
        def count() -> Found:
            return count_cuts(films)
    else:
        kinds = {"whistles": (Suggested.DEAD_BALL,), "snaps": (Suggested.SNAP,)}.get(
            group, (Suggested.SNAP, Suggested.FULL_WIDE))
        source = probe(demo, "film")
        def count():
            return count_kinds(source) if group == "kinds" else count_moments(source, kinds)
    print(f"{name} = {value} ({unit}): {reason}")
    for factor in factors:
        if isinstance(value, tuple):
            tried: object = tuple(one * factor for one in value)
        else:
            tried = round(value * factor) if isinstance(value, int) else value * factor
        os.environ["FILM_WORKSTATION_CACHE"] = str(folder / f"cache {factor}")      # a survey is cached by file
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
        sweep(sys.argv[1], [float(one) for one in sys.argv[2:]] or list(FACTORS), Path(folder))


if __name__ == "__main__":
    main()
