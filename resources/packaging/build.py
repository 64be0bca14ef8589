"""Build what people install: ``python resources/packaging/build.py [wheel] [folder] [deb] --to DIST``.

Needs Python 3.11 or newer and the package registry; for the .deb also ``dpkg-deb``. Everything is made from the wheel,
in an environment of its own, so that what is packed is what an installer would give. On Windows and macOS the same
command makes the wheel and the folder (on macOS an application); neither could be tried yet, see DEVELOPERS.md.
"""

from __future__ import annotations

import argparse
import os
import shutil
import subprocess
import sys
import tempfile
import venv
from importlib import metadata
from pathlib import Path

from icu_data import trim

HERE = Path(__file__).parent
ROOT = HERE.parent.parent
NAME = "film-workstation"
# What the application folder links against and does not carry; libVLC is found where it is installed.
DEPENDS = ("libc6 (>= 2.28), libegl1, libgl1, libxkbcommon-x11-0, libxcb-cursor0, libxcb-icccm4, libxcb-image0, "
           "libxcb-keysyms1, libxcb-randr0, libxcb-render-util0, libxcb-shape0, libxcb-xinerama0, libxcb-xkb1, "
           "libdbus-1-3, libfontconfig1, libfreetype6, libglib2.0-0, libssl3, libstdc++6, fonts-dejavu-core, libvlc5, "
           "vlc-plugin-base")


_RULE = "\n\n" + "=" * 100 + "\n\n"
_INSIDE = """The licences of what the film workstation is packed with.

Inside the packages below are libraries of others: FFmpeg with x264 and x265 in av (GPL 2 or later), with LAME,
libvpx, dav1d, SVT-AV1, Opus, GnuTLS and others under their own; Qt in PySide6 (LGPL 3, linked dynamically: it may be
replaced by another build of the same version) with ICU, of whose language data most is left out; OpenBLAS (BSD) and the
Fortran library of GCC (GPL 3 with the runtime exception) in numpy; Apache Arrow (Apache 2) in pyarrow; FreeType,
HarfBuzz, libjpeg-turbo, libtiff, OpenJPEG, Little CMS, libwebp in pillow. Python itself is under the PSF licence,
SQLite is in the public domain. The sources of all of them are at their projects, under the versions named here."""


def run(*command: str | Path, **options: object) -> None:
    """Run a command; end with its status if it fails."""
    done = subprocess.run([str(each) for each in command], check=False, **options)      # type: ignore[call-overload]
    if done.returncode:
        sys.exit(f"{Path(str(command[0])).name} failed ({done.returncode}): {' '.join(map(str, command))}")


def build_wheel(to: Path, python: Path) -> Path:
    """Make the source archive and the wheel; returns the wheel."""
    run(python, "-m", "pip", "install", "-q", "-c", ROOT / ".constraints.txt", "hatchling")
    run(python, "-m", "hatchling", "build", "-d", to, cwd=ROOT)
    return max(to.glob("*.whl"), key=lambda path: path.stat().st_mtime)


def build_folder(to: Path, python: Path, wheel: Path, work: Path) -> Path:
    """Make the application folder; returns it."""
    run(python, "-m", "pip", "install", "-q", "-c", ROOT / ".constraints.txt", wheel, "pyinstaller")
    run(python, "-m", "PyInstaller", "--noconfirm", "--log-level", "WARN", "--distpath", to,
        "--workpath", work / "build", HERE / f"{NAME}.spec", cwd=work)
    folder = to / NAME
    if sys.platform == "linux":
        strip_symbols(folder)
        for library in folder.rglob("libicudata.so.*"):
            trim(library)
    run(python, HERE / "build.py", "--notices", folder / "LICENCES.txt")
    with (folder / "LICENCES.txt").open("a", encoding="utf-8") as notices:
        notices.write(_RULE.join(["", *system_notices(folder)]))
    return folder


def strip_symbols(folder: Path) -> None:
    """Take debugging symbols out of libraries. Those that wheels were repaired with (*.libs) are left as they are: they
    would not load any more. PyInstaller needs binutils too, so that they are there."""
    for path in folder.rglob("*.so*"):
        if not path.is_symlink() and not any(part.endswith(".libs") for part in path.parts):
            subprocess.run(["strip", "--strip-unneeded", path], check=False, stderr=subprocess.DEVNULL)


def write_notices(path: Path) -> None:
    """Write the licences of everything that is installed beside this interpreter."""
    pieces = []
    for found in sorted(metadata.distributions(), key=lambda one: one.name.lower()):
        if found.name.lower() in ("pip", "setuptools", "pyinstaller", "pyinstaller-hooks-contrib", "altgraph"):
            continue
        about = found.metadata
        classified = [each for each in about.get_all("Classifier") or [] if each.startswith("License :: ")]
        licence = about.get("License-Expression") or (about.get("License") or "").split("\n")[0] or "; ".join(
            each.removeprefix("License :: ") for each in classified)
        texts = [file.read_text() for file in found.files or [] if "dist-info" in str(file)
                 and file.name.upper().startswith(("LICENSE", "LICENCE", "COPYING", "NOTICE"))
                 and file.suffix.lower() in ("", ".txt", ".md", ".rst")]
        pieces.append("\n\n".join([f"{found.name} {found.version}\nLicence: {licence or 'see its project'}", *texts]))
    path.write_text(_RULE.join([_INSIDE, *pieces]) + "\n", encoding="utf-8")


def system_notices(folder: Path) -> list[str]:
    """The licences of the libraries in *folder* that come from this system's packages, where Debian names them."""
    if not shutil.which("dpkg"):
        return []
    owners: set[str] = set()
    for library in (folder / "_internal").glob("lib*.so*"):
        found = subprocess.run(["dpkg", "-S", f"*/{library.name}"], capture_output=True, text=True, check=False).stdout
        owners |= {line.partition(":")[0] for line in found.splitlines()}
    texts = [(owner, Path("/usr/share/doc", owner, "copyright")) for owner in sorted(owners)]
    return [f"{owner}, of the system that this was packed on\n\n{text.read_text(encoding='utf-8')}"
            for owner, text in texts if text.is_file()]


def build_deb(to: Path, folder: Path, version: str) -> Path:
    """Make the Debian package of an application folder; returns it."""
    with tempfile.TemporaryDirectory() as scratch:
        tree = Path(scratch) / "tree"
        home = tree / "opt" / NAME
        shutil.copytree(folder, home, symlinks=True)
        places = {
            f"{NAME}.desktop": f"usr/share/applications/{NAME}.desktop",
            f"{NAME}.xml": f"usr/share/mime/packages/{NAME}.xml",
            f"{NAME}.svg": f"usr/share/icons/hicolor/scalable/apps/{NAME}.svg",
        }
        for name, place in places.items():
            (tree / place).parent.mkdir(parents=True, exist_ok=True)
            shutil.copyfile(HERE / name, tree / place)
        (tree / "usr/bin").mkdir(parents=True)
        (tree / "usr/bin" / NAME).symlink_to(f"/opt/{NAME}/{NAME}")
        notices = tree / "usr/share/doc" / NAME
        notices.mkdir(parents=True)
        shutil.copyfile(home / "LICENCES.txt", notices / "copyright")
        size = sum(path.stat().st_size for path in tree.rglob("*") if path.is_file() and not path.is_symlink()) // 1024
        control = tree / "DEBIAN" / "control"
        control.parent.mkdir()
        control.write_text(
            f"Package: {NAME}\nVersion: {version}\nArchitecture: {architecture()}\nMaintainer: the film workstation "
            f"project <none@example.invalid>\nInstalled-Size: {size}\nDepends: {DEPENDS}\nSection: video\n"
            "Priority: optional\nDescription: review workstation for football game film\n Tag a game once; see what "
            "every viewer of its film needed to see, and hand on\n exact segments, sheets and reports.\n")
        for path in (each for each in tree.rglob("*") if not each.is_symlink()):
            if path.is_dir() or os.access(path, os.X_OK):
                path.chmod(0o755)
            else:
                path.chmod(0o644)
        made = to / f"{NAME}_{version}_{architecture()}.deb"
        run("dpkg-deb", "--root-owner-group", "-Zzstd", "--build", tree, made)
    return made


def architecture() -> str:
    """Debian's name of this machine's architecture."""
    return subprocess.run(["dpkg", "--print-architecture"], check=True, capture_output=True, text=True).stdout.strip()


def size_of(path: Path) -> str:
    """Millions of bytes of a file, or of all in a folder."""
    files = [path] if path.is_file() else [each for each in path.rglob("*") if each.is_file() and not each.is_symlink()]
    return f"{sum(each.stat().st_size for each in files) / 1e6:.1f} MB"


def main() -> None:
    """Build what the arguments name; everything that can be built here if they name nothing."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("what", nargs="*", choices=[[], "wheel", "folder", "deb"], help="default: all that can be")
    parser.add_argument("--to", type=Path, default=ROOT / ".cache" / "packages", metavar="DIST")
    parser.add_argument("--notices", type=Path, help=argparse.SUPPRESS)
    arguments = parser.parse_args()
    if arguments.notices:
        write_notices(arguments.notices)
        return
    what = set(arguments.what) or {"wheel", "folder", *(["deb"] if shutil.which("dpkg-deb") else [])}
    to = arguments.to.absolute()
    to.mkdir(parents=True, exist_ok=True)
    with tempfile.TemporaryDirectory() as scratch:
        work = Path(scratch)
        venv.create(work / "env", with_pip=True)
        python = work / "env" / ("Scripts/python.exe" if os.name == "nt" else "bin/python")
        wheel = build_wheel(to, python)
        print(f"{wheel}: {size_of(wheel)}")
        if what & {"folder", "deb"}:
            folder = build_folder(to, python, wheel, work)
            print(f"{folder}: {size_of(folder)}")
        if "deb" in what:
            made = build_deb(to, folder, wheel.name.split("-")[1])
            print(f"{made}: {size_of(made)}")


if __name__ == "__main__":
    main()
