# Sourced by demo/start.sh and tests/run.sh: system packages, virtual environment, pinned install.
# Usage: set_up EXTRA PACKAGE...   (EXTRA is "" or "[test]"; PACKAGEs are Debian's names)
# Leaves $python set. Quick when there is nothing to do.

root="$(cd "$(dirname "${BASH_SOURCE[0]}")/.." && pwd)"
python="$root/.venv/bin/python"

# libVLC plays; the rest is what Qt's xcb and offscreen platforms and its multimedia module link against.
player_packages=(libvlc5 vlc-plugin-base libegl1 libgl1 libxkbcommon-x11-0 libxcb-cursor0 libxcb-icccm4
    libxcb-image0 libxcb-keysyms1 libxcb-randr0 libxcb-render-util0 libxcb-shape0 libxcb-xinerama0 libxcb-xkb1
    libdbus-1-3 libfontconfig1 libpulse0 fonts-dejavu-core)

say() { printf '%s\n' "$*" >&2; }

install_system_packages() {
    command -v dpkg-query >/dev/null || { say "Not a Debian or Ubuntu system: see README.md for what to install by hand."; return 0; }
    local missing=() package
    for package in "$@"; do
        [ "$(dpkg-query -W -f '${db:Status-Status}' "$package" 2>/dev/null)" = installed ] || missing+=("$package")
    done
    [ ${#missing[@]} -eq 0 ] && return 0
    local as_root=()
    if [ "$(id -u)" -ne 0 ]; then
        if command -v sudo >/dev/null && sudo -n true 2>/dev/null; then as_root=(sudo)
        elif command -v sudo >/dev/null && [ -t 0 ]; then as_root=(sudo)
        else
            say "These system packages are missing and need an administrator:"
            say "    sudo apt-get install ${missing[*]}"
            say "Going on without them; without libVLC the film plays through the player built into Qt."
            return 0
        fi
    fi
    say "Installing system packages: ${missing[*]}"
    "${as_root[@]}" apt-get update -qq || true
    "${as_root[@]}" env DEBIAN_FRONTEND=noninteractive apt-get install -y -qq --no-install-recommends "${missing[@]}" >/dev/null || {
        say "Some system packages could not be installed. By hand:"
        say "    sudo apt-get install ${missing[*]}"
    }
}

set_up() {
    local extra="$1"; shift
    local venv_package=()
    python3 -c 'import ensurepip, venv' 2>/dev/null || venv_package=(python3-venv)
    install_system_packages "${venv_package[@]}" "$@"
    python3 -c 'import sys; sys.exit(sys.version_info < (3, 11))' || {
        say "Python 3.11 or newer is needed; python3 here is $(python3 -V 2>&1)."; return 1; }
    local stamp="$root/.venv/.installed$extra" want
    want="$(cat "$root/pyproject.toml" "$root/.constraints.txt" | cksum) $extra"
    if [ ! -x "$python" ] || [ "$(cat "$stamp" 2>/dev/null)" != "$want" ]; then
        say "Setting up the virtual environment in .venv (a few minutes the first time) ..."
        [ -x "$python" ] || python3 -m venv "$root/.venv"
        "$python" -m pip install --quiet --disable-pip-version-check -c "$root/.constraints.txt" -e "$root$extra" || return 1
        "$python" -m compileall -q "$root/workstation" "$root/demo"     # else the first window waits for it
        printf '%s' "$want" > "$stamp"
    fi
}
