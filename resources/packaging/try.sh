#!/usr/bin/env bash
# Try the Debian package where there is neither Python nor a compiler: install it into a minimal Debian, open the demo on
# a virtual display, play, export, uninstall, and look what is left.
# Usage (as root): bash resources/packaging/try.sh PACKAGE.deb DEMO_FOLDER [MIRROR]
# Needs debootstrap, xdotool and ImageMagick outside; prints what it finds, and fails at the first thing that is wrong.
set -euo pipefail
package="$(realpath "$1")" demo="$(realpath "$2")" mirror="${3:-}"
display=:77 root="$(mktemp -d)"
leave() {
    pkill -f "Xvfb $display" 2>/dev/null || true
    umount "$root/proc" 2>/dev/null || true
    rm -rf "$root"
}
trap leave EXIT

debootstrap --variant=minbase stable "$root" ${mirror:+"$mirror"} >/dev/null
mount -t proc proc "$root/proc"
cp /etc/resolv.conf "$root/etc/"
cp "$package" "$root/srv/package.deb"
inside() { chroot "$root" "$@"; }
inside sh -c 'apt-get update -qq && DEBIAN_FRONTEND=noninteractive apt-get install -y -qq --no-install-recommends \
    /srv/package.deb xvfb xauth >/dev/null 2>&1'
! inside sh -c 'command -v python3 || command -v cc'
echo "installed, $(inside du -sm /opt/film-workstation | cut -f1) MB; no Python and no compiler there"

inside useradd -m -d /srv/coach coach
cp -r "$demo" "$root/srv/coach/demo"
inside chown -R coach /srv/coach
as_coach() { inside su - coach -c "$1"; }
as_coach 'film-workstation --version; film-workstation check demo/*.game | tail -1
    film-workstation sequence demo/*.game --plays 1-2 --to two.mp4 && test -s two.mp4 && echo "a sequence is written"'
(as_coach "Xvfb $display -screen 0 1280x800x24 >/dev/null 2>&1 & sleep 2
    DISPLAY=$display timeout 120 film-workstation demo/*.game >said.txt 2>&1" || true) &
sleep 2
begun=$(date +%s%N)
DISPLAY=$display timeout 60 xdotool search --sync --onlyvisible --name workstation >/dev/null
echo "window after $((($(date +%s%N) - begun) / 1000000)) ms"
sleep 15
before=$(DISPLAY=$display import -window root rgba:- | sha256sum)
DISPLAY=$display xdotool mousemove 45 394 click 1        # Play
sleep 5
after=$(DISPLAY=$display import -window root rgba:- | sha256sum)
[ "$before" != "$after" ] && echo "the picture moves"
grep -lq libvlccore /proc/[0-9]*/maps && echo "libVLC plays"
DISPLAY=$display xdotool key ctrl+q
sleep 4
[ ! -s "$root/srv/coach/said.txt" ] || { echo "it said:"; cat "$root/srv/coach/said.txt"; }

inside sh -c 'apt-get purge -y -qq film-workstation >/dev/null 2>&1'
left=$(inside find / -xdev -name '*film-workstation*' -not -path '/proc/*' -not -path '/srv/*')
[ -z "$left" ] && echo "uninstalled; nothing is left outside the user's own folders" || { echo "left: $left"; exit 1; }
