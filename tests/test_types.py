"""The type checker finds nothing: strict over what knows no screen, basic over the desk (pyproject.toml)."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parent.parent


@pytest.mark.timeout(600)
@pytest.mark.parametrize("what", [[], ["-p", "workstation.desk"]], ids=["packages", "desk"])
def test_mypy_finds_nothing(what):
    done = subprocess.run([sys.executable, "-m", "mypy", *what], cwd=ROOT, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stdout
