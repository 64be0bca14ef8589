"""Judge what is found in a folder of real clips against what was read off by eye.

The clips have no licence and are not here. Their lists are ``*.toml`` beside this file: each clip's digest, and what
happens in it when, in seconds from its first picture. Clips are known by their digest, whatever they are called; two
lists may hold the same one. Lists marked ``tuned_on`` were looked at while thresholds were set, the others were not.

Run: python -m tests.outside.real_film FOLDER
"""

from __future__ import annotations

import hashlib
import os
import sys
import tempfile
import tomllib
from dataclasses import dataclass, field
from pathlib import Path

from workstation.film.film import Film
from workstation.film.finding import Suggested, found_shots, survey
from workstation.film.probe import probe

LISTS = Path(__file__).parent
WITHIN = (0.2, 0.35, 0.6, 1.0)      # seconds
WHISTLE_WITHIN = 0.15               # seconds


@dataclass
class Truth:
    """One clip as read off by eye; ``wide_from`` is when all players are in the frame."""

    file: str
    sha256: str
    tuned_on: bool
    kind: str
    snap: float | None = None
    dead_ball: float | None = None
    whistles: list[float] | None = None
    cuts: list[float] = field(default_factory=list)
    wide_from: float | None = None
    decodable_from: float = 0.0
    note: str = ""


@dataclass
class Count:
    """Sums over clips."""

    clips: int = 0
    snaps: int = 0
    errors: list[float] = field(default_factory=list)
    silent: int = 0
    false_snaps: int = 0
    kinds: dict[str, int] = field(default_factory=dict)
    misnamed: int = 0
    whistles: tuple[int, int, int] = (0, 0, 0)      # right, found, true
    cuts: tuple[int, int, int] = (0, 0, 0)
    wide: tuple[int, int] = (0, 0)                  # right, found


def truths() -> dict[str, Truth]:
    """All clips of the lists by digest."""
    known: dict[str, Truth] = {}
    for path in sorted(LISTS.glob("*.toml")):
        listed = tomllib.loads(path.read_text())
        for clip in listed["clip"]:
            known.setdefault(clip["sha256"], Truth(tuned_on=listed["tuned_on"], **clip))
    return known


def matched(said: list[float], true: list[float], within: float) -> tuple[int, int, int]:
    """Right, found and true; each true time counts once."""
    return sum(any(abs(one - at) <= within for one in said) for at in true), len(said), len(true)


def judge(path: Path, truth: Truth, count: Count) -> str:
    """Survey one clip, add to the sums and return a line that says what was found."""
    source = probe(path, "clip")
    found = survey(source)

    def times(kind: Suggested) -> list[tuple[float, float]]:
        return [(float((one.at.pts - source.start_pts) * source.time_base), one.confidence)
                for one in found.suggestions if one.kind is kind]

    snaps, wides = times(Suggested.SNAP), times(Suggested.FULL_WIDE)
    count.clips += 1
    line = f"{truth.file:32}"
    if truth.snap is not None:
        count.snaps += 1
        if snaps:
            error = min((at - truth.snap for at, _ in snaps), key=abs)
            count.errors.append(error)
            line += f" snap {error:+.2f} s (said with {snaps[0][1]:.2f})"
        else:
            count.silent += 1
            line += " snap: silent"
    elif snaps:
        count.false_snaps += len(snaps)
        line += f" snap at {snaps[0][0]:.2f} s where there is none (said with {snaps[0][1]:.2f})"
    for shot in found_shots(Film((source,)), {"clip": found}):
        name = str(shot.kind or "none")
        count.kinds[name] = count.kinds.get(name, 0) + 1
        if shot.kind is not None and shot.kind != truth.kind:
            count.misnamed += 1
            line += f"; named {name}"
    if truth.whistles is not None:
        count.whistles = tuple(map(sum, zip(count.whistles, matched(found.whistles.tolist(), truth.whistles,
                                                                    WHISTLE_WITHIN), strict=True)))
    cuts = [float((pts - source.start_pts) * source.time_base) for pts in found.cuts]
    count.cuts = tuple(map(sum, zip(count.cuts, matched(cuts, truth.cuts, 0.02), strict=True)))
    for at, _ in wides:
        right = (truth.wide_from is not None and at >= truth.wide_from - 0.35 and at >= truth.decodable_from
                 and (truth.snap is None or at <= truth.snap))
        count.wide = count.wide[0] + right, count.wide[1] + 1
        line += f"; full wide at {at:.2f} s {'right' if right else 'wrong'}"
    return line


def table(count: Count) -> str:
    """The sums in words."""
    within = ", ".join(f"{sum(abs(error) <= limit for error in count.errors)} within {limit} s" for limit in WITHIN)
    wrong = sum(abs(error) > WITHIN[-1] for error in count.errors)
    kinds = ", ".join(f"{number} {kind}" for kind, number in sorted(count.kinds.items()))
    return (f"{count.clips} clips, {count.snaps} snaps: {within}, {wrong} wrong by more, {count.silent} silent; "
            f"{count.false_snaps} where there is none\n"
            f"  kinds: {kinds}; {count.misnamed} misnamed\n"
            f"  whistles: {count.whistles[0]} of {count.whistles[2]}, {count.whistles[1]} suggested; "
            f"cuts: {count.cuts[0]} of {count.cuts[2]}, {count.cuts[1]} suggested; "
            f"full wide: {count.wide[0]} right of {count.wide[1]}")


def main(folder: Path) -> None:
    """Judge every known clip under a folder and print one line each and the sums."""
    known = truths()
    counts = {True: Count(), False: Count()}
    seen: set[str] = set()
    for path in sorted(one for one in folder.rglob("*") if one.is_file()):
        digest = hashlib.sha256(path.read_bytes()).hexdigest()
        if digest in known and digest not in seen:
            seen.add(digest)
            print(judge(path, known[digest], counts[known[digest].tuned_on]), flush=True)
    print(f"{len(known) - len(seen)} clips of the lists are not in {folder}")
    for tuned, words in ((True, "tuned on"), (False, "held back")):
        print(f"{words}: {table(counts[tuned])}")


if __name__ == "__main__":
    if len(sys.argv) != 2:
        sys.exit(__doc__)
    with tempfile.TemporaryDirectory() as cache:
        os.environ["FILM_WORKSTATION_CACHE"] = cache
        main(Path(sys.argv[1]))
