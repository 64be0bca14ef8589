"""The table of kinds of film with what came of each: seeks, copy, rendering, still, pack."""

from __future__ import annotations

import os
import tempfile
from collections import Counter
from pathlib import Path

from tests.delivery.film_kinds import STAGES, Unmakable, check
from tests.delivery.film_kinds_table import TABLE


def main() -> None:
    counted: Counter[str] = Counter()
    print(f"{'':36}" + "".join(f"{stage:9}" for stage in STAGES))
    remarks = []
    with tempfile.TemporaryDirectory() as name:
        os.environ["FILM_WORKSTATION_CACHE"] = str(Path(name) / "cache")
        for number, kind in enumerate(TABLE):
            folder = Path(name) / str(number)
            folder.mkdir()
            try:
                told = check(kind, folder)
            except Unmakable:
                counted["cannot be made here"] += 1
                print(f"{kind.name:36}cannot be made here")
                continue
            words = [told[stage].partition(":")[0] for stage in STAGES]
            counted.update(words)
            print(f"{kind.name:36}" + "".join(f"{word:9}" for word in words))
            remarks += [f"{kind.name}, {stage}: {told[stage]}" for stage in STAGES if told[stage].startswith("wrong")]
    print(f"\n{len(TABLE)} kinds: " + ", ".join(f"{count} {word}" for word, count in counted.most_common()))
    print("\n".join(remarks))


if __name__ == "__main__":
    main()
