"""Are pinned dependencies known to be vulnerable, withdrawn by their makers, or at odds with each other?

    python tests/audit.py

Exits with 1 only where something is known to be wrong. The vulnerability service and the package index lie outside,
and a build must not hang on them: what could not be asked is said aloud, and never called audited.
"""

from __future__ import annotations

import json
import os
import subprocess
import sys
import venv
from collections.abc import Callable, Iterable
from pathlib import Path
from typing import NamedTuple

ROOT = Path(__file__).parents[1]
PINS = ROOT / ".constraints.txt"
OWN = ROOT / ".venv" / "audit"
PIP = (sys.executable, "-m", "pip")
# In an environment of its own: the first brings thirty packages that nothing else needs, and an environment is made
# with a pip that may be too old to tell what was withdrawn.
AUDITOR = "pip-audit==2.10.1", "pip>=24.1"
PATIENCE = 300      # seconds

Told = tuple[str, bool, list[str]]      # name as it is compared, whether an answer was had, what is wrong


class Result(NamedTuple):
    """``wrong`` fails the build, line by line; ``told`` says of how many packages something was learned."""

    wrong: list[str]
    told: str


def vulnerabilities(answer: str, pins: dict[str, str]) -> Result:
    """Read pip-audit's JSON; a package that it skips or does not speak of was not audited."""
    def read(package: dict) -> Told:
        found = package.get("vulns")
        return plain(package["name"]), found is not None, [
            f"VULNERABLE: {package['name']} {package['version']}: {each['id']}, "
            f"mended in {', '.join(each['fix_versions']) or 'no version yet'}" for each in found or ()]
    return _gather("AUDITED", pins, read, lambda: json.loads(answer)["dependencies"])


def withdrawals(answer: str, pins: dict[str, str]) -> Result:
    """Read pip's installation report (``is_yanked`` is PEP 592); a file in a folder of this machine cannot tell."""
    def read(package: dict) -> Told:
        of = package["metadata"]
        return plain(of["name"]), not package["download_info"]["url"].startswith("file:"), [
            f"WITHDRAWN: {of['name']} {of['version']}"] * bool(package["is_yanked"])
    return _gather("ASKED WHETHER WITHDRAWN", pins, read, lambda: json.loads(answer)["install"])


def _gather(what: str, pins: dict[str, str], read: Callable[[dict], Told],
            packages: Callable[[], Iterable[dict]]) -> Result:
    wrong, asked, why = [], set(), "the service could not be reached, or does not know them"
    try:
        for package in packages():
            name, answered, lines = read(package)
            wrong += lines
            if answered:
                asked.add(name)
    except (ValueError, KeyError, TypeError, AttributeError) as error:
        asked, why = set(), f"the answer could not be read ({type(error).__name__}: {error})"
    missing = sorted(pins.keys() - asked)
    some = f": {', '.join(missing)}" if asked and missing else ""
    return Result(wrong, f"NOT {what}: {len(missing)} of {len(pins)} packages, {why}{some}" if missing or not pins
                  else f"{what.lower()}: all {len(pins)} packages")


def pinned(text: str) -> dict[str, str]:
    """Versions by name, of lines that say ``name==version``."""
    return {plain(name): version.strip() for name, sign, version in (line.partition("==") for line in text.splitlines())
            if sign}


def plain(name: str) -> str:
    """A name as it is compared (PEP 503)."""
    return name.strip().lower().replace("_", "-").replace(".", "-")


def _ask(*command: object, **surroundings: str) -> str:
    """What a command prints; where it fails, the last thing it complains of goes to the log."""
    try:
        done = subprocess.run([str(each) for each in command], check=False, capture_output=True, text=True,
                              timeout=PATIENCE, env=os.environ | surroundings)
    except (OSError, subprocess.TimeoutExpired) as error:
        print(error, file=sys.stderr)
        return ""
    if done.returncode:
        print(*done.stderr.strip().splitlines()[-1:], file=sys.stderr)
    return done.stdout


def _ask_auditor() -> str:
    return _ask(OWN / "bin/pip-audit", "--format=json", "--no-deps", "--disable-pip", "-r", PINS)


def _ask_index() -> str:
    """What pip would install, from the index alone: folders with wheels, which a machine may have, do not tell."""
    alone = {"PIP_CONFIG_FILE": os.devnull, "PIP_FIND_LINKS": ""}
    for line in _ask(*PIP, "config", "list").splitlines():      # those from the environment come last
        setting, _, value = line.partition("=")
        if (name := setting.rpartition(".")[2]) in ("index-url", "cert", "proxy"):
            alone[f"PIP_{name.replace('-', '_').upper()}"] = value.strip("'")
    return _ask(OWN / "bin/python", "-m", "pip", "install", "--quiet", "--dry-run", "--ignore-installed", "--no-deps",
                "--report=-", "-r", PINS, **alone)


def _set_up() -> None:
    if not (OWN / "bin/pip-audit").exists():
        venv.create(OWN, with_pip=True)
        _ask(OWN / "bin/python", "-m", "pip", "install", "--quiet", "--upgrade", *AUDITOR)


def main() -> int:
    _set_up()
    pins = pinned(PINS.read_text())
    results = vulnerabilities(_ask_auditor(), pins), withdrawals(_ask_index(), pins)
    for result in results:
        print(*result.wrong, result.told, sep="\n", flush=True)
    agree = subprocess.run([*PIP, "check"], check=False).returncode == 0
    return 0 if agree and not any(result.wrong for result in results) else 1


if __name__ == "__main__":
    sys.exit(main())
