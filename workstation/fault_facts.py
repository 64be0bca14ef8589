"""What helps to find a fault: versions, the system and the end of the log."""

from __future__ import annotations

import os
import platform
import re
import sys
from importlib import metadata
from pathlib import Path

from . import __version__, log

PACKAGES = ("PySide6-Essentials", "PySide6-Addons", "python-vlc", "av", "numpy", "scipy", "pandas", "pyarrow",
            "OpenTimelineIO", "reportlab", "pillow", "openpyxl")


def versions() -> list[str]:
    """The program and what it stands on, one a line."""
    lines = [f"film workstation {__version__}", f"Python {platform.python_version()}"]
    for name in PACKAGES:
        try:
            lines.append(f"{name} {metadata.version(name)}")
        except metadata.PackageNotFoundError:
            lines.append(f"{name}: not known")
    return lines


def system() -> list[str]:
    """The machine, without its name and its user's."""
    lines = [f"{platform.system()} {platform.release()} on {platform.machine()}, {os.cpu_count()} processors"]
    try:
        lines.append(platform.freedesktop_os_release()["PRETTY_NAME"])
    except (OSError, KeyError):
        lines.append(platform.platform(terse=True))
    lines.append(f"started as {'a program of its own' if getattr(sys, 'frozen', False) else 'a Python package'}")
    return lines


def fault_facts(more: tuple[str, ...] = (), named: bool = False) -> str:
    """The whole text; *more* are lines about the desk. Names of people and places of films only if *named*."""
    lines = log.recent()
    shown = [_without_home(line) for line in lines] if named else log.discreet(lines)
    parts = [("Versions", versions()), ("System", system()), ("The desk", list(more)),
             (f"The last {len(shown)} lines of the log", shown)]
    return "\n\n".join("\n".join([title, *(f"  {line}" for line in body)]) for title, body in parts if body) + "\n"


def _without_home(line: str) -> str:
    """The user's own folder as ``~``: even where films are named, nobody needs that name."""
    return re.sub(re.escape(str(Path.home())) + r"(?=[/\\]|$)", "~", line) if len(str(Path.home())) > 1 else line
