#!/usr/bin/env bash
# Style and faults that a linter sees. Types are checked by tests/test_types.py.
set -euo pipefail
root="$(cd "$(dirname "${BASH_SOURCE[0]}")/.." && pwd)"
python="${PYTHON:-$root/.venv/bin/python}"
cd "$root"
"$python" -m ruff check workstation tests demo
