#!/usr/bin/env bash
# Try the Debian package where there is neither Python nor a compiler: install it into a minimal Debian, open the demo on
# a virtual display, play, export, uninstall, and look what is left.
# Usage (as root): bash resources/packaging/try.sh PACKAGE.deb DEMO_FOLDER [SUITE [MIRROR]]
# Needs debootstrap, xdotool and ImageMagick outside; prints what it finds, and fails at the first thing that is wrong.
set -euo pipefail
package="$(realpath "$1")" demo="$(realpath "$2")" suite="${3:-stable}" mirror="${4:-}"
display=:77 root="$(mktemp -d)" server="" desk=""
leave() {
    for process in $desk $server; do kill "$process" 2>/dev/null || true; done
    sleep 1
    umount "$root/proc" 2>/dev/null || true
    rm -rf --one-file-system "$root"
}
trap leave EXIT
wrong() { echo "WRONG: $*"; exit 1; }
inside() { chroot "$root" "$@"; }
as_coach() { inside su - coach -c "$1"; }
press() {       # there is no window manager to give the keyboard to the window
    xdotool windowfocus --sync "$(xdotool search --onlyvisible --name workstation | head -1)" key "$1"
}
files() { inside find / -xdev -not -path '/proc/*' -not -path '/srv/*' -not -path '/tmp/*' | LC_ALL=C sort; }

debootstrap --variant=minbase "$suite" "$root" ${mirror:+"$mirror"} >/dev/null 2>&1
chmod 755 "$root"
mount -t proc proc "$root/proc"
cp /etc/resolv.conf "$root/etc/"
inside useradd -m -d /srv/coach -s /bin/bash coach
# What the package needs comes first, so that installing and taking away the package alone can be compared.
inside sh -c 'apt-get update -qq'
cp "$package" "$root/srv/package.deb"
needed="$(dpkg-deb --field "$package" Depends | sed 's/([^)]*)//g; s/,/ /g')"
inside sh -c "DEBIAN_FRONTEND=noninteractive apt-get install -y -qq --no-install-recommends $needed xvfb xauth \
    xdg-utils shared-mime-info desktop-file-utils >/dev/null 2>&1"
files >"$root/srv/before"
inside sh -c 'DEBIAN_FRONTEND=noninteractive apt-get install -y -qq --no-install-recommends /srv/package.deb >/dev/null 2>&1'
! inside sh -c 'command -v python3 || command -v cc' || wrong "Python or a compiler is there"
bytes=$(inside du -sb /opt/film-workstation | cut -f1)
echo "installed into Debian $(cat "$root/etc/debian_version") without Python and compiler: $bytes bytes unpacked," \
    "$((bytes / 1000000)) MB, $((bytes / 1048576)) MiB (at most 350 MB); the package $(($(stat -c %s "$package") / 1000000)) MB"
[ "$bytes" -le 350000000 ] || wrong "larger than 350 MB"
inside sh -c 'ls /usr/share/applications/film-workstation.desktop /usr/share/mime/packages/film-workstation.xml \
    /usr/share/icons/hicolor/scalable/apps/film-workstation.svg >/dev/null' || wrong "no menu entry, file type or icon"

cp -r "$demo" "$root/srv/coach/demo"
inside chown -R coach /srv/coach
inside grep -q '^60:application/x-football-game-film:\*\.game$' /usr/share/mime/globs2 || wrong "no file type for games"
[ "$(as_coach 'XDG_CURRENT_DESKTOP=GNOME xdg-mime query default application/x-football-game-film')" = \
    film-workstation.desktop ] || wrong "a double click on a game opens nothing"
echo "in the menu; a double click on a game opens it"
as_coach 'set -e; cd demo
    film-workstation --version
    film-workstation check *.game | tail -1
    film-workstation sequence *.game --plays 1-2 --to ../two.mp4
    film-workstation sequence *.game --plays 3 --to ../three.otio
    film-workstation report *.game --to ../report.pdf
    film-workstation export *.game --to ../plays
    film-workstation pack *.game --plays 3-4 --to ../pack.zip
    film-workstation verify ../pack.zip
    film-workstation guide --to ../guide
    film-workstation season ../demo breakdown --rows down --to ../season.xlsx
    film-workstation season ../demo breakdown --rows down,distance --to ../season.pdf
    film-workstation measure *.game' >"$root/srv/coach/said" 2>&1 \
    || { tail -n 20 "$root/srv/coach/said"; wrong "a command failed"; }
for made in two.mp4 report.pdf three.otio plays pack.zip guide season.xlsx season.pdf; do
    [ -s "$root/srv/coach/$made" ] || [ -d "$root/srv/coach/$made" ] || wrong "no $made"
done
echo "checked, exported, measured, reported; a season counted: all there"

chroot "$root" su - coach -c "exec Xvfb $display -screen 0 1280x800x24" >/dev/null 2>&1 &
server=$!
sleep 3
export DISPLAY=$display
for start in first second third; do
    rm -f "$root/srv/coach/begun"
    chroot "$root" su - coach -c "date +%s%N >begun; DISPLAY=$display exec film-workstation demo/*.game" \
        >"$root/srv/coach/said" 2>&1 &
    desk=$!
    window=$(timeout 60 xdotool search --sync --onlyvisible --name workstation | head -1) || wrong "no window"
    now=$(date +%s%N)
    ticks=$(cut -d' ' -f14,15 "/proc/$(xdotool getwindowpid "$window")/stat" | tr ' ' +)
    echo "$start start: window after $(((now - $(cat "$root/srv/coach/begun")) / 1000000)) ms (at most 2000)," \
        "$(((ticks) * 10)) ms of it on a processor, load $(cut -d' ' -f1 /proc/loadavg)"
    if [ "$start" != third ]; then
        sleep 8
        press ctrl+q
        wait "$desk" || wrong "the desk ended badly: $(tail -n 3 "$root/srv/coach/said")"
        desk=""
    fi
done
sleep 20
before=$(import -window root rgba:- | sha256sum)
press ctrl+1
sleep 2
press space
sleep 5
after=$(import -window root rgba:- | sha256sum)
[ "$before" != "$after" ] || wrong "the picture does not move"
pid=$(xdotool getwindowpid "$(xdotool search --onlyvisible --name workstation | head -1)")
grep -q libvlccore "/proc/$pid/maps" || wrong "libVLC is not loaded"
echo "the picture moves, and libVLC plays"
press space
sleep 1
press ctrl+q
wait "$desk" || wrong "the desk ended badly"
desk=""
[ ! -s "$root/srv/coach/said" ] || { cat "$root/srv/coach/said"; wrong "it wrote to the terminal"; }
echo "nothing was written to the terminal"
kill "$server" && wait "$server" 2>/dev/null || true
server=""

inside sh -c 'apt-get purge -y -qq film-workstation >/dev/null 2>&1'
files >"$root/srv/after"
left=$(LC_ALL=C comm -13 "$root/srv/before" "$root/srv/after" | grep -v -E '^/var/(lib/dpkg|lib/apt|cache|log)|^/etc/.*-$|^/(home|run)' || true)
[ -z "$left" ] || wrong "left outside the user's own folders: $left"
echo "uninstalled; outside the user's own folders nothing is left. In them, besides the games and what was written:"
(cd "$root/srv/coach" && find .config .local .cache -type f -printf '%h\n' 2>/dev/null | sort | uniq -c)
