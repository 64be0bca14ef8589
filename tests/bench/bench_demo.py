"""How long the demo game takes to be filmed from both cameras, tagged and matched, with nothing cached.

    python -m tests.bench.bench_demo

Beside the time on the wall stands what the processors were used, over the cores that there are: with nothing else at
work the two are near each other, and the second is the least that these cores could do it in.
"""

from __future__ import annotations

import os
import resource
import subprocess
import sys
import tempfile
import time


def main() -> None:
    """Print what was measured."""
    with tempfile.TemporaryDirectory() as folder:
        environment = os.environ | {"XDG_CACHE_HOME": f"{folder}/cache",
                                    "FILM_WORKSTATION_CACHE": f"{folder}/cache/film"}
        began = time.perf_counter()
        subprocess.run([sys.executable, "-m", "workstation", "demo", "--to", f"{folder}/demo"], env=environment,
                       check=True, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
        took = time.perf_counter() - began
    used = resource.getrusage(resource.RUSAGE_CHILDREN)
    processor, cores = used.ru_utime + used.ru_stime, os.cpu_count() or 1
    print(f"the demo game from two cameras, matched: {took:.0f} s; {processor:.0f} processor seconds, on {cores} cores "
          f"at least {processor / cores:.0f} s")


if __name__ == "__main__":
    main()
