#!/usr/bin/env bash
# Set up and run every test, offscreen, with real libVLC. Arguments go to pytest.
set -euo pipefail
source "$(dirname "${BASH_SOURCE[0]}")/../demo/setup.sh"
set_up "[test]" "${player_packages[@]}" ffmpeg poppler-utils chromium
export QT_QPA_PLATFORM=offscreen
cd "$root"
exec "$python" -m pytest "$@"
