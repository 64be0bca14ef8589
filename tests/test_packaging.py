"""What is packed: the parts that need no build. The whole is tried by resources/packaging/build.py and try.sh."""

from __future__ import annotations

import configparser
import importlib.util
import subprocess
import sys
import xml.etree.ElementTree as ET
from pathlib import Path

import pytest

from workstation.targets import GAME_SUFFIX

ROOT = Path(__file__).parent.parent
PACKAGING = ROOT / "resources" / "packaging"


@pytest.fixture
def build():
    spec = importlib.util.spec_from_file_location("packaging_build", PACKAGING / "build.py")
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


def test_the_menu_entry_opens_the_file_type_that_is_registered():
    entry = configparser.ConfigParser(interpolation=None)
    entry.optionxform = str
    entry.read(PACKAGING / "film-workstation.desktop")
    kind = ET.parse(PACKAGING / "film-workstation.xml").getroot()[0]
    (glob,) = (each for each in kind if each.tag.endswith("glob"))
    assert entry["Desktop Entry"]["MimeType"] == f"{kind.get('type')};"
    assert entry["Desktop Entry"]["Exec"] == "film-workstation %f"
    assert glob.get("pattern") == f"*{GAME_SUFFIX}"


def test_the_packed_program_runs_its_own_parts_in_processes(tmp_path):
    """The demo's painters are started as ``PROGRAM -m MODULE ...``, which a packed program has to know."""
    done = subprocess.run([sys.executable, PACKAGING / "start.py", "-m", "workstation.football.notation.guide"],
                          capture_output=True, text=True, check=False, cwd=ROOT, env={"PYTHONPATH": str(ROOT)})
    assert done.returncode == 0, done.stderr
    assert done.stdout.startswith("#")
    version = subprocess.run([sys.executable, PACKAGING / "start.py", "--version"], capture_output=True, text=True,
                             check=False, cwd=ROOT, env={"PYTHONPATH": str(ROOT)})
    assert version.stdout.strip() == __import__("workstation").__version__


def test_every_library_is_named_with_its_licence(build, tmp_path):
    build.write_notices(tmp_path / "LICENCES.txt")
    written = (tmp_path / "LICENCES.txt").read_text(encoding="utf-8")
    for name in ("PySide6_Essentials", "av", "numpy", "pandas", "pyarrow", "python-vlc", "reportlab", "scipy"):
        assert f"\n{name} " in "\n" + written or f"\n{name.replace('_', '-')} " in "\n" + written, name
    assert "GNU" in written and "BSD" in written


@pytest.mark.skipif(not __import__("shutil").which("dpkg-deb"), reason="makes a Debian package")
def test_the_debian_package_holds_program_entry_icon_type_and_licences(build, tmp_path):
    folder = tmp_path / "film-workstation"
    folder.mkdir()
    (folder / "film-workstation").write_text("#!/bin/sh\n")
    (folder / "film-workstation").chmod(0o755)
    (folder / "LICENCES.txt").write_text("all of them\n")
    made = build.build_deb(tmp_path, folder, "1.2.3")
    listed = subprocess.run(["dpkg-deb", "--contents", made], capture_output=True, text=True, check=True).stdout
    for place in ("./opt/film-workstation/film-workstation", "./usr/bin/film-workstation -> /opt/film-workstation/",
                  "./usr/share/applications/film-workstation.desktop", "./usr/share/mime/packages/film-workstation.xml",
                  "./usr/share/icons/hicolor/scalable/apps/film-workstation.svg",
                  "./usr/share/doc/film-workstation/copyright"):
        assert place in listed, place
    fields = subprocess.run(["dpkg-deb", "--field", made, "Depends", "Version"], capture_output=True, text=True,
                            check=True).stdout
    assert "libvlc5" in fields and "1.2.3" in fields
