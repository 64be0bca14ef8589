"""Copies of one game that were changed independently, on two machines for example: found when one of them is opened,
never merged.

A game file says in ``about`` which sittings changed it: a random name for each, and the revision that it found. One
copy is an older state of another if its sittings are the beginning of the other's; where both go on differently, both
were changed.
"""

from __future__ import annotations

import json
import re
import sqlite3
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from ..targets import GAME_SUFFIX, is_game_file
from . import store
from .backups import KEPT, backup_name

KEY = "sittings"
MOST = 1000
"""Sittings that are remembered; the oldest are forgotten first."""
MOST_LOOKED_AT = 50
"""Game files beside the opened one that are looked at."""

Sitting = tuple[str, int]


@dataclass(frozen=True, slots=True)
class Copy:
    """A copy of the same game; each holds changes that the other lacks. *since*: when it was last written."""

    path: Path
    changes: int
    since: datetime

    def __str__(self) -> str:
        return (f"{self.path.name} is the same game, changed apart from this one: it holds {self.changes} changes "
                f"that are not in here (last on {self.since:%Y-%m-%d %H:%M}), and not all of these.")


def sittings_of(about: Mapping[str, str]) -> list[Sitting]:
    """The sittings that changed a game, oldest first; none where they were not recorded or the record is damaged."""
    try:
        return [(name, first) for name, first in json.loads(about.get(KEY, "[]"))
                if isinstance(name, str) and type(first) is int]
    except (TypeError, ValueError, RecursionError):
        return []


def with_sitting(about: Mapping[str, str], name: str) -> str:
    """The record of sittings to store once the sitting of that *name* changes the file."""
    noted = sittings_of(about)
    if not noted or noted[-1][0] != name:
        noted.append((name, int(about["revision"])))
    return json.dumps(noted[-MOST:])


def changed_apart(path: Path, about: Mapping[str, str]) -> list[Copy]:
    """The copies and backups beside the game at *path* that hold changes it lacks, while it holds others."""
    beside = sorted(each for each in path.parent.glob(f"*{GAME_SUFFIX}") if each != path)[:MOST_LOOKED_AT]
    backups = [backup_name(path, number) for number in range(1, KEPT + 1)]
    found = []
    for other in (*beside, *backups):
        said = _about(other)
        if said and said["game"] == about["game"] and (changes := _apart(about, said)):
            found.append(Copy(other, changes, datetime.fromtimestamp(other.stat().st_mtime)))
    return found


def _apart(mine: Mapping[str, str], theirs: Mapping[str, str]) -> int:
    """How many changes *theirs* has since it left *mine*; 0 if one of them is an older state of the other."""
    here, there = sittings_of(mine), sittings_of(theirs)
    common = 0
    while common < min(len(here), len(there)) and here[common] == there[common]:
        common += 1
    left = [sitting[common][1] if common < len(sitting) else None for sitting in (here, there)]
    my_end, their_end = int(mine["revision"]), int(theirs["revision"])
    if left == [None, None]:
        return 0
    if left[0] is None:         # theirs goes on in another sitting; did mine go on after that?
        assert left[1] is not None
        return their_end - left[1] if my_end > left[1] else 0
    if left[1] is None:
        return their_end - left[0] if their_end > left[0] else 0
    return max(their_end - left[1], 1)


def _about(path: Path) -> dict[str, str] | None:
    if not path.is_file() or not is_game_file(path):
        return None
    try:
        with store.look(path) as connection:
            if store.schema_version(connection) != store.VERSION:
                return None
            said = store.about(connection)
    except (OSError, sqlite3.Error, store.Damage, ValueError):
        return None
    return said if re.fullmatch("[0-9]{1,18}", said["revision"]) else None
