"""A short piece of a long evening: the desk gathers neither threads nor file handles. More of it, with memory and
latencies: ``python tests/bench/bench_long_evening.py 60``."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]


@pytest.mark.skipif(not Path("/proc/self/fd").exists(), reason="counts threads and handles in /proc")
def test_threads_and_handles_do_not_gather():
    done = subprocess.run([sys.executable, "-W", "ignore", ROOT / "tests/bench/bench_long_evening.py", "0.4", "--json"],
                          capture_output=True, text=True, check=True, cwd=ROOT, timeout=240)
    measured = json.loads(done.stdout.splitlines()[-1])
    assert measured[-1]["changes"] > 10 and measured[-1]["spells of playing"] > 2
    warm = measured[3:6]        # all rooms were entered, the decoder and the player have run
    for what in ("threads", "handles"):
        most = max(row[what] for row in warm)
        assert min(row[what] for row in measured[7:]) <= most + 2, [row[what] for row in measured]
