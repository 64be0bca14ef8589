"""Killed at any instant, a game file holds every action whose call had returned.

The suite kills a few times; for the full count run ``python -m tests.tagging.test_kill 200``.
This shows what survives the death of the process. What survives the loss of power rests on SQLite's
synced commits (https://www.sqlite.org/atomiccommit.html), which a test without a plug cannot pull.
"""

from __future__ import annotations

import subprocess
import sys
import tempfile
import time
from pathlib import Path
from random import Random

import pytest

from tests.tagging.builders import full_game
from tests.tagging.sitting import digest
from workstation.tagging.backups import listed
from workstation.tagging.gamefile import GameFile

ROOT = Path(__file__).parents[2]


def kill_often(folder: Path, times: int, journal: str, seed: int) -> dict[str, int]:
    """Let a tagger tag in one game file and kill it *times* times, checking the file after each.

    Returns what was counted on the way. Raises AssertionError if anything was lost.
    """
    path = folder / f"{journal}.game"
    GameFile.create(path, game=full_game(folder)).close()
    choose = Random(seed)
    states = [digest(full_game(folder))]  # digest at each position of the history
    revision = 0
    counted = {"kills": 0, "actions": 0, "in the middle of saving": 0, "before the first action": 0}
    for _ in range(times):
        child = subprocess.Popen(
            [sys.executable, "-m", "tests.tagging.tagger", path, str(choose.random())[2:], journal, ",".join(states)],
            cwd=ROOT, stdout=subprocess.PIPE, text=True,
        )
        said = []
        if choose.random() < 0.9:
            wanted = f"done {revision + choose.randrange(1, 30)}"
            while said[-1:] != [wanted]:
                said.append(child.stdout.readline().strip())
                assert said[-1], "the tagger died by itself"
        time.sleep(choose.uniform(0, 0.01) if said else choose.uniform(0.2, 0.8))  # the latter: while it starts
        child.kill()
        said += child.communicate()[0].splitlines()
        last_done, going = revision, None
        for line in said:
            words = line.split()
            if words[:1] == ["going"] and len(words) == 4 and len(words[3]) == 16:
                going = (int(words[1]), int(words[2]), words[3])
            elif words[:1] == ["done"] and going and line == f"done {going[0]}":
                last_done = going[0]
                states = _settled(states, going)
        with GameFile.open(path) as file:  # opening checks the file's integrity
            assert file.why_read_only is None
            revision = file._revision
            assert last_done <= revision <= (going[0] if going else last_done)
            if revision > last_done:
                states = _settled(states, going)
                counted["in the middle of saving"] += 1
            assert digest(file.game) == states[file._position]
        assert listed(path), "no healthy backup"
        counted["kills"] += 1
        counted["actions"] = revision
        counted["before the first action"] += going is None
    with GameFile.open(path) as file:
        while file.undo():
            assert digest(file.game) == states[file._position]
        assert file.game == full_game(folder)
    return counted


def _settled(states: list[str], going: tuple[int, int, str]) -> list[str]:
    _, position, after = going
    if position < len(states) and states[position] == after:
        return states  # an undo or redo: what lies ahead stays
    return [*states[:position], after]


@pytest.mark.parametrize(("journal", "times"), [("wal", 18), ("delete", 7)])
def test_nothing_is_lost_when_the_process_is_killed(tmp_path, journal, times):
    counted = kill_often(tmp_path, times, journal, seed=7)
    assert counted["kills"] == times
    assert counted["actions"] > times


if __name__ == "__main__":
    for name in ("wal", "delete"):
        with tempfile.TemporaryDirectory() as place:
            print(name, kill_often(Path(place), int(sys.argv[1]), name, seed=int(time.time())))
