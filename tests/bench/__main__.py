"""Runs benchmarks and writes what they print into the results file, with machine, date and commit.

    python -m tests.bench                  # every quick benchmark
    python -m tests.bench tracker coverage # these; long ones (long_evening) only by name

``results.md`` beside this file keeps one section per benchmark, replaced at each run. Times in it are of one machine;
the ratios measured within one run are what may be compared.
"""

from __future__ import annotations

import datetime
import os
import platform
import re
import subprocess
import sys
from pathlib import Path

HERE = Path(__file__).parent
RESULTS = HERE / "results.md"
HEADING = "# Measured\n\nWritten by `python -m tests.bench`; each section by the run that its line names.\n"
ONLY_BY_NAME = {"camera_work", "demo", "long_evening", "long_evening_angles", "package", "season", "yards",
                "yards_of_real_film"}


def machine() -> str:
    """Processor, cores and memory as the system tells them, and the Python in use."""
    cpuinfo = Path("/proc/cpuinfo")
    named = re.search(r"model name\s*:\s*(.+)", cpuinfo.read_text()) if cpuinfo.exists() else None
    memory = os.sysconf("SC_PAGE_SIZE") * os.sysconf("SC_PHYS_PAGES") / 2**30
    return (f"{named[1].strip() if named else platform.processor() or platform.machine()}, {os.cpu_count()} cores, "
            f"{memory:.0f} GiB, {platform.system()}, Python {platform.python_version()}")


def commit() -> str:
    """The commit that is checked out, short; empty outside a checkout."""
    done = subprocess.run(["git", "rev-parse", "--short", "HEAD"], cwd=HERE, capture_output=True, text=True,
                          check=False)
    return done.stdout.strip()


def replaced(text: str, name: str, body: str) -> str:
    """``text`` with the section of one benchmark replaced, or added in the order of names."""
    sections = dict(re.findall(r"^## (\S+)\n(.*?)(?=^## |\Z)", text, re.MULTILINE | re.DOTALL))
    sections[name] = body
    return HEADING + "".join(f"\n## {each}\n{sections[each].rstrip()}\n" for each in sorted(sections))


def main() -> int:
    """Run the benchmarks named on the command line; the number of those that failed."""
    known = {path.stem.removeprefix("bench_"): path for path in sorted(HERE.glob("bench_*.py"))}
    names = sys.argv[1:] or [name for name in known if name not in ONLY_BY_NAME]
    if unknown := [name for name in names if name not in known]:
        print(f"no such benchmark: {', '.join(unknown)}; there are {', '.join(known)}", file=sys.stderr)
        return 2
    failed = 0
    for name in names:
        print(f"== {name}", flush=True)
        environment = {"QT_QPA_PLATFORM": "offscreen", **os.environ}
        done = subprocess.run([sys.executable, "-m", f"tests.bench.{known[name].stem}"], cwd=HERE.parents[1],
                              env=environment, stdout=subprocess.PIPE, text=True, check=False)
        print(done.stdout)
        if done.returncode:
            failed += 1
            continue
        load = os.getloadavg()[0]
        told = f"{datetime.date.today()}, commit {commit()}, load {load:.1f} at the end. {machine()}."
        text = RESULTS.read_text(encoding="utf-8") if RESULTS.exists() else ""
        RESULTS.write_text(replaced(text, name, f"\n{told}\n\n```\n{done.stdout.rstrip()}\n```\n"), encoding="utf-8")
    return failed


if __name__ == "__main__":
    raise SystemExit(main())
