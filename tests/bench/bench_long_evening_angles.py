"""The long evening on a game with two angles, with short spells of playing: :mod:`tests.bench.bench_long_evening`."""

from __future__ import annotations

import sys

from tests.bench.bench_long_evening import main

if __name__ == "__main__":
    sys.argv += ["--two-angles", "--no-fresh", "--spell", "0.3", "--rest", "0.5", "--size", "640x360"]
    main()
