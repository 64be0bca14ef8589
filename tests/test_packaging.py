"""What is packed: the parts that need no build. The whole is tried by resources/packaging/build.py and try.sh."""

from __future__ import annotations

import configparser
import importlib.util
import re
import runpy
import subprocess
import sys
import types
import xml.etree.ElementTree as ET
from pathlib import Path

import pytest

from workstation.targets import GAME_SUFFIX

ROOT = Path(__file__).parent.parent
PACKAGING = ROOT / "resources" / "packaging"


@pytest.fixture
def build(monkeypatch):
    monkeypatch.syspath_prepend(str(PACKAGING))
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


COMPARE = """
import ctypes, sys
words, code = ctypes.CDLL("libicui18n.so." + sys.argv[1]), ctypes.c_int(0)
open_ = words["ucol_open_" + sys.argv[1]]
open_.restype = ctypes.c_void_p
for language in (b"", b"en_US", b"de_DE"):
    opened = ctypes.c_void_p(open_(language, ctypes.byref(code)))
    said = [words["ucol_strcoll_" + sys.argv[1]](opened, a.encode("utf-16-le"), len(a), b.encode("utf-16-le"), len(b))
            for a, b in (("a", "B"), ("B", "a"), ("zebra", "\u00e4pfel"), ("e", "\u00e9"), ("10", "9"))]
    print(language, code.value <= 0, said)
"""


@pytest.mark.skipif(sys.platform != "linux", reason="Qt brings ICU along on Linux only")
def test_the_trimmed_language_data_still_sorts_and_is_small(build, tmp_path):
    import PySide6

    for library in (Path(PySide6.__file__).parent / "Qt" / "lib").glob("libicu*"):
        (tmp_path / library.name).write_bytes(library.read_bytes())
    (data,) = tmp_path.glob("libicudata.so.*")
    said = []
    for _ in range(2):
        said.append(subprocess.run([sys.executable, "-c", COMPARE, data.suffix[1:]], capture_output=True, text=True,
                                   check=True, env={"LD_LIBRARY_PATH": str(tmp_path)}).stdout)
        build.trim(data)
    assert said[0] == said[1] and said[0].count("True [-1, 1, 1, -1, -1]") == 3
    assert data.stat().st_size < 4_000_000


def test_what_stands_in_for_a_left_out_library_has_what_is_asked_of_it_at_the_start():
    """scipy.ndimage and scipy.fft load with the stand-in, and nothing in the program asks scipy for more."""
    code = ("import sys, runpy, types; stand_in = types.ModuleType('scipy.special');"
            f"stand_in.__dict__.update(runpy.run_path({str(PACKAGING / 'scipy_special.py')!r}));"
            "sys.modules['scipy.special'] = stand_in; import scipy.ndimage, scipy.fft;"
            "print(sorted({name.split('.')[1] for name in sys.modules if name.startswith('scipy.')"
            " and not name.split('.')[1].startswith('_')}))")
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "['fft', 'ndimage', 'special', 'version']"
    asked = {match for path in (ROOT / "workstation").rglob("*.py")
             for match in re.findall(r"^\s*(?:from|import) scipy\S*(?: import .*)?", path.read_text(), re.MULTILINE)}
    assert all(re.search(r"ndimage|import fft", line) for line in asked), asked


@pytest.mark.parametrize("system", ["linux", "darwin", "win32"])
def test_the_description_of_the_folder_is_the_right_one_on_every_system(monkeypatch, system):
    """Run with stand-ins for what PyInstaller does: what is left out, where the player built into Qt stays, and on
    macOS an application that opens games. Whether PyInstaller then makes a folder that runs is tried on Linux alone."""
    hooks = types.ModuleType("PyInstaller.utils.hooks")
    hooks.collect_data_files = hooks.collect_submodules = hooks.copy_metadata = lambda name, **_: []
    for name, module in (("PyInstaller", types.ModuleType("PyInstaller")),
                         ("PyInstaller.utils", types.ModuleType("PyInstaller.utils")),
                         ("PyInstaller.utils.hooks", hooks)):
        monkeypatch.setitem(sys.modules, name, module)
    files = ["av.libs/libavcodec-5e6b81c2.so.62", "PySide6/Qt/lib/libavcodec.so.61", "PySide6/Qt/lib/libQt6Core.so.6",
             "PySide6/Qt/lib/libQt6Multimedia.so.6", "PySide6/Qt/lib/libQt6Pdf.so.6", "pyarrow/libarrow.so.2600",
             "pyarrow/libarrow_flight.so.2600", "pyarrow/table.pxi", "scipy.libs/libscipy_openblas-6cdc3b4a.so",
             "numpy.libs/libscipy_openblas64_-32a4b2a6.so", "libvlc.so.5", "scipy/tests/test.py"]
    made = {}

    class Analysis:
        def __init__(self, scripts, **options):
            self.scripts, self.pure, self.datas = scripts, [], []
            self.binaries = [(name, f"/somewhere/{name}", "BINARY") for name in files]
            made["excluded"] = options["excludes"]

    def collect(*parts, **_):
        made["files"] = [row[0] for row in parts[1]]

    with monkeypatch.context() as patched:
        patched.setattr(sys, "platform", system)
        runpy.run_path(str(PACKAGING / "film-workstation.spec"), init_globals={
            "SPECPATH": str(PACKAGING), "Analysis": Analysis, "PYZ": lambda pure: made.update(pure=pure),
            "EXE": lambda *_, **options: made.update(program=options), "COLLECT": collect,
            "BUNDLE": lambda *_, **options: made.update(bundle=options)})
    kept = {"av.libs/libavcodec-5e6b81c2.so.62", "PySide6/Qt/lib/libQt6Core.so.6", "pyarrow/libarrow.so.2600",
            "numpy.libs/libscipy_openblas64_-32a4b2a6.so"}
    player = {"PySide6/Qt/lib/libavcodec.so.61", "PySide6/Qt/lib/libQt6Multimedia.so.6"}
    assert set(made["files"]) == (kept if system == "linux" else kept | player)
    assert ("PySide6.QtMultimedia" in made["excluded"]) == (system == "linux")
    assert [row[0] for row in made["pure"]] == ["scipy.special"] and made["program"]["name"] == "film-workstation"
    assert ("bundle" in made) == (system == "darwin")
    if system == "darwin":
        (opened,) = made["bundle"]["info_plist"]["CFBundleDocumentTypes"]
        assert opened["CFBundleTypeExtensions"] == [GAME_SUFFIX.lstrip(".")]
