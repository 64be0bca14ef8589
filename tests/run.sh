#!/usr/bin/env bash
# Set up and run every test, offscreen, with real libVLC. Arguments go to pytest.
# With AUDIT_DEPENDENCIES=1 the pinned dependencies are audited first, with LINT=1 style and types are checked.
set -euo pipefail
source "$(dirname "${BASH_SOURCE[0]}")/../demo/setup.sh"
set_up "[test]" "${player_packages[@]}" ffmpeg poppler-utils chromium
export QT_QPA_PLATFORM=offscreen
cd "$root"
if [ -n "${AUDIT_DEPENDENCIES:-}" ]; then "$python" tests/audit.py; fi
if [ -n "${LINT:-}" ]; then PYTHON="$python" bash tests/lint.sh; fi
exec "$python" -m pytest "$@"
