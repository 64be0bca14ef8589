"""The house rules that a machine can hold: which way imports point, what lies at the top, what Qt may touch."""

from __future__ import annotations

import ast
import re
import subprocess
from functools import cache
from pathlib import Path

import pytest

ROOT = Path(__file__).parent.parent
#: What each package may import of the others (not itself).
MAY_IMPORT = {
    "football": set(),
    "film": set(),
    "tagging": {"football", "film"},
    "coverage": {"tagging", "football", "film"},
    "season": {"coverage", "tagging", "football", "film"},
    "delivery": {"season", "coverage", "tagging", "football", "film"},
    "desk": {"delivery", "season", "coverage", "tagging", "football", "film", "demo"},
}


def modules(package: str) -> list[Path]:
    return sorted((ROOT / "workstation" / package).rglob("*.py"))


@cache
def imported(path: Path) -> frozenset[str]:
    """Dotted names of everything a module imports, inside functions too, with relative ones made absolute."""
    here = path.relative_to(ROOT).with_suffix("").parts
    names = set()
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            names |= {alias.name for alias in node.names}
        elif isinstance(node, ast.ImportFrom):
            base = ".".join(here[:-node.level]) if node.level else ""
            module = ".".join(filter(None, (base, node.module)))
            names |= {module} | {f"{module}.{alias.name}" for alias in node.names}
    return frozenset(names)


@pytest.mark.parametrize("package", MAY_IMPORT)
def test_imports_point_one_way(package):
    wrong = [f"{path.relative_to(ROOT)}: {name}" for path in modules(package) for name in imported(path)
             if (match := re.match(r"workstation\.(\w+)", name)) and match[1] in {*MAY_IMPORT, "demo"}
             and match[1] != package and match[1] not in MAY_IMPORT[package]]
    assert modules(package) and wrong == []


@pytest.mark.parametrize("package", ["football", "tagging", "coverage", "season", "delivery"])
def test_only_the_desk_and_the_player_know_qt(package):
    assert [str(path) for path in modules(package) if any(name.startswith("PySide6") for name in imported(path))] == []


def test_in_film_only_playback_may_import_qt_and_never_widgets():
    users = {path.name for path in modules("film") if any(name.startswith("PySide6") for name in imported(path))}
    assert users <= {"qt_engine.py", "qt_thread.py"}
    assert not any("QtWidgets" in name for path in modules("film") for name in imported(path))


#: Modules of the desk without Qt that are a screen's own small helpers, each with what it is for.
SCREEN_HELPERS = {
    "actions.py": "the table of what can be done, by key, menu or button",
    "review/drawing_grip.py": "which end of a drawing the pointer has hold of",
    "severities.py": "how a severity looks and is said on screens",
    "tag/entry_state.py": "which play stands in the line and what each key does next",
    "timeline/blocks.py": "what a lane paints, as arrays",
    "timeline/lanes/shot_edges.py": "dragging the edges of shots",
    "timeline/scale.py": "film seconds to pixels",
}


def test_nothing_lives_in_the_desk_that_is_not_a_screen():
    """What needs no Qt belongs to the package that owns it; the exceptions are named one by one."""
    without = {str(path.relative_to(ROOT / "workstation" / "desk")) for path in modules("desk")
               if path.name != "__init__.py" and not reaches_qt(path)}
    assert without == set(SCREEN_HELPERS)


def reaches_qt(path: Path) -> bool:
    return any(name.startswith(("PySide6", "shiboken6")) for name in imported(path))


def test_no_module_imports_itself_by_way_of_others():
    """Imports inside functions and under TYPE_CHECKING count too. A package's ``__init__`` stands for itself."""
    names = {".".join(path.relative_to(ROOT).with_suffix("").parts).removesuffix(".__init__"): path
             for package in (*MAY_IMPORT, "") for path in modules(package)}
    graph = {name: {each for each in imported(path) if each in names and each != name} for name, path in names.items()}
    circles = [sorted(group) for group in strongly_connected(graph) if len(group) > 1]
    assert circles == []


def strongly_connected(graph: dict[str, set[str]]) -> list[set[str]]:
    """Tarjan's strongly connected components (SIAM Journal on Computing 1(2), 1972)."""
    index: dict[str, int] = {}
    low: dict[str, int] = {}
    stack: list[str] = []
    groups: list[set[str]] = []

    def visit(node: str) -> None:
        index[node] = low[node] = len(index)
        stack.append(node)
        for each in graph[node]:
            if each not in index:
                visit(each)
                low[node] = min(low[node], low[each])
            elif each in stack:
                low[node] = min(low[node], index[each])
        if low[node] == index[node]:
            groups.append(set(stack[stack.index(node):]))
            del stack[stack.index(node):]

    for node in graph:
        if node not in index:
            visit(node)
    return groups


def test_no_class_name_is_defined_twice():
    """One meaning, one name; a leading underscore makes no other name."""
    defined: dict[str, list[str]] = {}
    for path in sorted((ROOT / "workstation").rglob("*.py")):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.ClassDef):
                defined.setdefault(node.name.lstrip("_"), []).append(f"{path.relative_to(ROOT)}:{node.lineno}")
    assert len(defined) > 500 and {name: places for name, places in defined.items() if len(places) > 1} == {}


def test_football_reads_no_files_and_no_clock():
    banned = {"time", "datetime", "os", "sqlite3", "random", "socket", "urllib"}
    wrong = [f"{path.name}: {name}" for path in modules("football") for name in imported(path)
             if name.split(".")[0] in banned]
    assert wrong == []


def test_nothing_reaches_for_the_network():
    banned = {"urllib", "http", "requests", "ftplib", "smtplib", "PySide6.QtNetwork", "PySide6.QtWebEngineCore"}
    wrong = [f"{path.relative_to(ROOT)}: {name}" for package in (*MAY_IMPORT, "") for path in modules(package)
             for name in imported(path) if any(name == module or name.startswith(f"{module}.") for module in banned)]
    assert wrong == []


def tracked() -> list[Path]:
    done = subprocess.run(["git", "ls-files", "-z"], cwd=ROOT, capture_output=True, check=False)
    if done.returncode:
        pytest.skip("not a git checkout")
    return [ROOT / name for name in done.stdout.decode().split("\0") if name and (ROOT / name).is_file()]


def test_top_level_holds_what_it_should():
    allowed = {"README.md", "DEVELOPERS.md", "pyproject.toml", "workstation", "tests", "resources", "demo"}
    tops = {path.relative_to(ROOT).parts[0] for path in tracked()}
    assert {top for top in tops if not top.startswith(".")} == allowed


def test_no_path_of_a_machine_and_no_registry_is_named():
    machine = re.compile("/" + "(?:work|root|farm)/|/" + r"home/[a-z]+/|py" + r"pi\.org|npm" + r"js\.|deb"
                         + r"ian\.org")
    wrong = [f"{path.relative_to(ROOT)}: {match[0]}" for path in tracked() if path.suffix in
             {".py", ".md", ".toml", ".sh", ".html", ".json", ".txt", ".csv", ""} and path.name != "test_house.py"
             if (match := machine.search(path.read_text(encoding="utf-8", errors="replace")))]
    assert wrong == []
