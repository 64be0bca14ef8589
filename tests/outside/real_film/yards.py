"""Judge the yards that are measured in a folder of real clips against lines and numbers that were read off by eye.

The clips have no licence and are not here; their lists are ``yard_lines/*.toml`` and know them by their digest. A
measurement is right where its stated error holds the truth, and wrong elsewhere: by a line or more (the lines were
mixed up) or by less. What is refused is counted with its reason.

Run: python -m tests.outside.real_film.yards FOLDER
"""

from __future__ import annotations

import hashlib
import os
import sys
import tempfile
import tomllib
from collections import Counter
from pathlib import Path

from workstation.film.probe import probe
from workstation.film.yards_between import GroundSpot, yards_between

LISTS = Path(__file__).parent / "yard_lines"
MIXED_UP = 2.5      # yards, half of what lies between two lines


def main(folder: Path) -> None:
    """Measure every known clip under a folder and print one line each and the sums."""
    known = {clip["sha256"]: (clip, listed["tuned_on"]) for path in sorted(LISTS.glob("*.toml"))
             for listed in (tomllib.loads(path.read_text()),) for clip in listed["clip"]}
    sums: dict[bool, Counter[str]] = {True: Counter(), False: Counter()}
    for path in sorted(one for one in folder.rglob("*") if one.is_file()):
        clip, tuned = known.pop(hashlib.sha256(path.read_bytes()).hexdigest(), (None, False))
        if clip is None:
            continue
        source = probe(path, "clip")
        for spots in clip["spots"]:
            first, second = (GroundSpot(source.start_pts + round(at / source.time_base), right, down)
                             for at, right, down in (spots["first"], spots["second"]))
            told = yards_between(source, first, second)
            if told.yards is None:
                verdict, words = "refused", f"refused: {told.why}"
            else:
                off = told.yards - spots["yards"]
                verdict = ("lines mixed up" if abs(off) > MIXED_UP else
                           "right" if abs(off) <= told.error else "outside the stated error")
                words = f"{told.yards:+.2f}, give or take {told.error:.2f}: {off:+.2f} off, {verdict}"
                sums[tuned]["within half a yard"] += abs(off) <= 0.5
            sums[tuned][verdict] += 1
            print(f"{clip['file']:16} {spots['lines']:22} {spots['yards']:+4} {words}", flush=True)
    print(f"{len(known)} clips of the lists are not in the folder")
    for tuned, words in ((True, "tuned on"), (False, "held back")):
        print(f"{words}: " + ", ".join(f"{number} {verdict}" for verdict, number in sorted(sums[tuned].items())))


if __name__ == "__main__":
    if len(sys.argv) != 2:
        sys.exit(__doc__)
    with tempfile.TemporaryDirectory() as cache:
        os.environ["FILM_WORKSTATION_CACHE"] = cache
        main(Path(sys.argv[1]))
