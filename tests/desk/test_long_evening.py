"""A short piece of a long evening: the desk gathers neither threads nor file handles, and lets go of what it has
finished with. The whole evening, with memory and latencies: ``python tests/bench/bench_long_evening.py``."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
EVENING = (sys.executable, "-W", "ignore", ROOT / "tests/bench/bench_long_evening.py", "--json", "--plays", "16",
           "--spell", "0.2", "--rest", "0.5", "--size", "320x180", "--no-fresh")


@pytest.mark.skipif(not Path("/proc/self/fd").exists(), reason="counts threads and handles in /proc")
def test_nothing_gathers():
    done = subprocess.run(EVENING, capture_output=True, text=True, check=True, cwd=ROOT, timeout=240)
    evening = json.loads(done.stdout.splitlines()[-1])
    rows = evening["rows"]
    assert rows[-1]["changes"] > 40 and rows[-1]["plays"] > 5 and evening["done"]["play"] >= 32
    assert evening["done"]["exports"] == 8 and evening["done"]["reports"] == 1
    warm = rows[3:5]        # all rooms were entered, the decoder and the player have run
    for what in ("threads", "handles"):
        most = max(row[what] for row in warm)
        assert min(row[what] for row in rows[5:]) <= most + 2, [row[what] for row in rows]
    for what in ("Game", "VlcDeck"):
        assert max(row[what] for row in rows) <= 12, [row[what] for row in rows]


@pytest.mark.skipif(not Path("/proc/self/fd").exists(), reason="counts threads and handles in /proc")
def test_nothing_gathers_or_is_lost_with_two_angles():
    asked = list(EVENING)
    asked[asked.index("--plays") + 1] = "8"
    done = subprocess.run([*asked, "--two-angles"], capture_output=True, text=True, check=True, cwd=ROOT, timeout=240)
    evening = json.loads(done.stdout.splitlines()[-1])
    rows = evening["rows"]
    assert [row["lost"] for row in rows] == [0] * len(rows)         # the file as it lies on disk holds the whole game
    assert rows[-1]["changes"] > 40 and evening["done"]["switch"] == evening["done"]["beside"] == 16
    for what in ("threads", "handles"):
        counted = [row[what] for row in rows]
        assert min(counted[5:]) <= max(counted[3:5]) + 2, counted
    for what in ("Game", "VlcDeck"):
        assert max(row[what] for row in rows) <= 12, [row[what] for row in rows]
