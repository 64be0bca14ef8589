"""Size and start of the packaged program in a Debian without Python, as ``resources/packaging/try.sh`` finds them.

Needs root, debootstrap, xdotool and ImageMagick, and a package: ``PACKAGE`` and ``DEMO`` of the environment name a
``.deb`` and a demo game's folder; what is not named is made, which takes minutes.
"""

from __future__ import annotations

import os
import subprocess
import sys
import tempfile
from pathlib import Path

ROOT = Path(__file__).parents[2]
PACKAGING = ROOT / "resources" / "packaging"


def main() -> int:
    """Make what is missing, try the package, and print what was found; the script's status."""
    with tempfile.TemporaryDirectory() as scratch:
        package, demo = (Path(os.environ.get(name, "")) for name in ("PACKAGE", "DEMO"))
        if not package.is_file():
            subprocess.run([sys.executable, PACKAGING / "build.py", "deb", "--to", scratch], check=True,
                           stdout=subprocess.DEVNULL)
            (package,) = Path(scratch).glob("*.deb")
        if not os.environ.get("DEMO"):
            demo = Path(scratch) / "demo"
            subprocess.run([sys.executable, "-m", "workstation", "demo", "--to", demo], check=True, cwd=ROOT,
                           stdout=subprocess.DEVNULL)
        return subprocess.run(["bash", PACKAGING / "try.sh", package, demo], check=False, stderr=sys.stderr).returncode


if __name__ == "__main__":
    raise SystemExit(main())
