"""The desk, killed at any instant while somebody tags by keyboard, loses at most the play that is being typed.

The suite kills a few times; for the full count run ``python -m tests.desk.test_kill 200``, with
``two`` behind it on a game with two angles.
"""

from __future__ import annotations

import os
import select
import signal
import subprocess
import sys
import tempfile
import time
from collections import Counter
from pathlib import Path
from random import Random

import pytest

from tests.desk.small_game import make_film, make_game, with_end_zone
from tests.tagging.sitting import digest
from workstation.tagging.gamefile import GameFile

ROOT = Path(__file__).parents[2]


class Driver:
    """The other process, and what it says."""

    def __init__(self) -> None:
        self._complaints = tempfile.TemporaryFile()     # noqa: SIM115 - closed with the driver
        self._process = subprocess.Popen(
            [sys.executable, "-X", "faulthandler", "-W", "ignore", "-m", "tests.desk.driver"], cwd=ROOT,
            stdin=subprocess.PIPE, stdout=subprocess.PIPE, stderr=self._complaints,
            env=os.environ | {"QT_QPA_PLATFORM": "offscreen", "FILM_WORKSTATION_VLC": "--aout=dummy",
                              "OPENBLAS_NUM_THREADS": "1"})
        self._rest = b""

    def start(self, path: Path, seed: int) -> int:
        """Let a desk be driven; returns its process id."""
        self._process.stdin.write(f"{path} {seed}\n".encode())
        self._process.stdin.flush()
        word, number = self.line().split()
        assert word == "pid"
        return int(number)

    def line(self, seconds: float = 120) -> str:
        """The next line said; AssertionError after *seconds* of silence."""
        until = time.monotonic() + seconds
        while b"\n" not in self._rest:
            ready, _, _ = select.select([self._process.stdout], [], [], max(0, until - time.monotonic()))
            assert ready, "the desk says nothing any more"
            more = os.read(self._process.stdout.fileno(), 65536)
            assert more, "the driver died"
            self._rest += more
        line, _, self._rest = self._rest.partition(b"\n")
        return line.decode(errors="replace")

    def complaints(self) -> str:
        """The last that was written on standard error: where a desk that ended by itself was."""
        self._complaints.seek(0)
        return self._complaints.read().decode(errors="replace")[-8000:]

    def close(self) -> None:
        self._process.kill()
        self._process.communicate()
        self._complaints.close()


def kill_often(folder: Path, times: int, seed: int, two_angles: bool = False) -> Counter:
    """Tag in one game, kill the desk *times* times, and look at the file after each. Raises if anything is lost."""
    with GameFile.open(make_game(folder, make_film(folder))) as file:
        game = with_end_zone(file.game) if two_angles else file.game
    path = folder / "evening.game"
    with GameFile.create(path, game=game) as file:      # so that no undo takes the film away
        revision, state = file._revision, digest(file.game)
    choose, counted, driver = Random(seed), Counter(), Driver()
    try:
        for _ in range(times):
            child = driver.start(path, choose.randrange(1 << 30))
            said: list[str] = []
            if choose.random() < 0.9:
                wanted = choose.randrange(1, 15)
                while sum(line.startswith("done") for line in said) < wanted:
                    said.append(driver.line())
                    assert not said[-1].startswith(("failed", "dead")), f"{said[-1]}\n{driver.complaints()}"
                time.sleep(choose.uniform(0, 0.3))      # typing, saving, seeking, checking
            else:
                time.sleep(choose.uniform(0.1, 2))      # opening
                counted["while opening or soon after"] += 1
            os.kill(child, signal.SIGKILL)
            while (line := driver.line()) != "dead":
                assert not line.startswith("failed"), line
                said.append(line)
            going = None
            for words in map(str.split, said):
                if words[0] == "going":
                    going = words[2]
                elif words[0] == "done" and len(words) == 4:
                    going = None
                    counted["changes"] += int(words[1]) > revision      # nothing changes when nothing can be undone
                    revision, state = int(words[1]), words[3]
            with GameFile.open(path) as file:       # opening checks the file's integrity
                assert file.why_read_only is None
                assert revision <= file._revision <= revision + (going is not None), (
                    "a change is lost, or came from nowhere")
                counted["a half-typed play was kept"] += bool(file.draft)
                if file._revision > revision:       # saved, but killed before the call returned
                    counted["in the middle of saving"] += 1
                    kept = digest(file.game)
                    file.redo() if going == "undo" else file.undo()
                    assert digest(file.game) == state
                    file.undo() if going == "undo" else file.redo()
                    assert digest(file.game) == kept
                    state = kept
                assert digest(file.game) == state
                revision = file._revision
            counted["kills"] += 1
    finally:
        driver.close()
    return counted


@pytest.mark.parametrize("two_angles", [False, True])
def test_nothing_is_lost_when_the_desk_is_killed(tmp_path, two_angles):
    counted = kill_often(tmp_path, 5, seed=11, two_angles=two_angles)
    assert counted["kills"] == 5
    assert counted["changes"] > 5


if __name__ == "__main__":
    with tempfile.TemporaryDirectory() as place:
        began = time.monotonic()
        counted = kill_often(Path(place), int(sys.argv[1]), int(began), sys.argv[2:] == ["two"])
        print(dict(counted), f"in {time.monotonic() - began:.0f} s")
