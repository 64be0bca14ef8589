#!/usr/bin/env bash
# Set up, film the demo game, and open the desk on it; without a display do the same job headless.
# Usage: bash demo/start.sh [FOLDER]
set -euo pipefail
source "$(dirname "${BASH_SOURCE[0]}")/setup.sh"
set_up "" "${player_packages[@]}"

to="${1:-$root/.cache/demo-game}"
cd "$root"
game="$("$python" -m workstation demo --to "$to")"

if [ -n "${DISPLAY:-}${WAYLAND_DISPLAY:-}" ] || [ "$(uname)" = Darwin ]; then
    exec "$python" -m workstation "$game"
fi
say "No display here, so the same job runs headless."
"$python" -m workstation check "$game"
rm -rf "$to/export"        # a run before this one; exports never write over files
"$python" -m workstation export "$game" --to "$to/export"
say "The film, the tagged game, the segments and the sheet are in $to"
