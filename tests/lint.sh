#!/usr/bin/env bash
# Style, faults a linter sees, and types: strict in every package but the desk.
set -euo pipefail
root="$(cd "$(dirname "${BASH_SOURCE[0]}")/.." && pwd)"
python="${PYTHON:-$root/.venv/bin/python}"
cd "$root"
"$python" -m ruff check workstation tests demo
"$python" -m mypy workstation
