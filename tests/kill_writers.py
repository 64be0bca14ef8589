"""Kills (SIGKILL) while indexing, exporting, rendering, packing, taking in a sheet and making a game of JSON.

``python -m tests.kill_writers 20 [seed]``: each kind of work, done by a command in a process of its own, is killed that
often at a random instant of the time that it takes. Afterwards footage and game are as they were, every file that has
its name is whole, and the same work, done again, succeeds.
"""

from __future__ import annotations

import hashlib
import json
import os
import shutil
import signal
import subprocess
import sys
import tempfile
import time
from collections import Counter
from pathlib import Path
from random import Random

ROOT = Path(__file__).parents[1]
_TAKE_IN = """
import sys
from pathlib import Path
from workstation.tagging.gamefile import GameFile
from workstation.tagging.records import Kind
from workstation.tagging.game_order import untagged
from workstation.tagging.row_matching import match, take_in
from workstation.tagging.sheets import read_sheet
from workstation.football.rulebook import load_rulebook
with GameFile.open(Path(sys.argv[1])) as file:
    rows = read_sheet(Path(sys.argv[2]), load_rulebook(file.game.heading.rulebook))
    file.do(take_in(file.game, rows, match(rows, untagged(file.game)).shot_of, file.next_id(Kind.PLAY)))
"""


def digests(folder: Path) -> dict[str, str]:
    return {str(path.relative_to(folder)): hashlib.sha256(path.read_bytes()).hexdigest() for path in folder.rglob("*")
            if path.is_file() and path.suffix.lower() == ".mp4"}


def is_whole(path: Path) -> bool:
    if path.suffix == ".mp4":
        done = subprocess.run(["ffmpeg", "-v", "error", "-xerror", "-i", str(path), "-f", "null", "-"],
                              capture_output=True, check=False)
        return done.returncode == 0 and not done.stderr
    if path.suffix == ".json":
        return bool(json.loads(path.read_text()))
    if path.suffix == ".zip":
        from workstation.delivery.verifying import verify_pack
        return verify_pack(path).whole
    return path.stat().st_size > 0


def attack(rounds: int, seed: int, demo: Path) -> tuple[Counter, list[str]]:
    from workstation.tagging.gamefile import GameFile
    choose, counted, losses = Random(seed), Counter(), []
    film = demo.parent
    with GameFile.open(demo, read_only=True) as file:
        game = file.game
    original = digests(film)
    with tempfile.TemporaryDirectory() as place:
        work = Path(place)
        subprocess.run([sys.executable, "-m", "workstation", "json", str(demo), "--to", str(film / "whole.json")],
                       cwd=ROOT, check=True, capture_output=True)
        sheet = work / "plays.csv"
        sheet.write_text("kind,gain\n" + "run,3\n" * 1500)
        out, tagged, cache = work / "out", film / "killed.game", work / "cache"
        kinds = {
            "index": ["-m", "workstation", "export", str(demo), "--plays", "3-6", "--to", str(out), "--overwrite"],
            "export": ["-m", "workstation", "export", str(demo), "--plays", "3-8", "--to", str(out), "--overwrite"],
            "render": ["-m", "workstation", "sequence", str(demo), "--plays", "3", "--to", str(out / "a.mp4"),
                       "--overwrite"],
            "pack": ["-m", "workstation", "pack", str(demo), "--plays", "3", "--to", str(out / "a.zip")],
            "from-json": ["-m", "workstation", "from-json", str(film / "whole.json"), "--to", str(tagged)],
            "sheet": ["-c", _TAKE_IN, str(tagged), str(sheet)],
        }
        for kind, call in kinds.items():
            environment = {**os.environ, "FILM_WORKSTATION_CACHE": str(cache)}

            def fresh(kind: str = kind) -> None:
                for folder in (out, *((cache,) if kind == "index" else ())):
                    shutil.rmtree(folder, ignore_errors=True)
                out.mkdir()
                for leftover in film.glob("*killed*"):
                    leftover.unlink()
                if kind == "sheet":
                    with GameFile.create(tagged, game=game):
                        pass

            def start(call: list[str] = call, environment: dict = environment) -> subprocess.Popen:
                return subprocess.Popen([sys.executable, *call], cwd=ROOT, env=environment, stdout=subprocess.DEVNULL,
                                        stderr=subprocess.PIPE)

            fresh()
            began = time.monotonic()
            if start().wait():
                raise RuntimeError(f"{kind} does not work at all")
            takes = time.monotonic() - began
            for number in range(rounds):
                fresh()
                process = start()
                time.sleep(takes * choose.uniform(0.1, 1.0))
                finished = process.poll() is not None
                process.send_signal(signal.SIGKILL)
                process.wait()
                counted[f"{kind} finished before" if finished else f"{kind} killed"] += 1
                for path in (*out.rglob("*"), *film.glob("killed.game*")):
                    if path.is_file() and ".part" not in path.name and not is_whole(path):
                        losses.append(f"{kind} {number}: {path.name} is not whole")
                if kind == "sheet" or tagged.exists():
                    with GameFile.open(tagged) as file:
                        if file.read_only or len(file.game.plays) not in (len(game.plays), len(game.plays) + 1500):
                            losses.append(f"{kind} {number}: {len(file.game.plays)} plays, read only: "
                                          f"{file.why_read_only}")
                if (kind == "from-json" and tagged.exists()) or (kind == "pack" and (out / "a.zip").exists()):
                    continue        # made before the kill, and never written over
                again = start()
                if again.wait():
                    losses.append(f"{kind} {number}: does not work again: {again.stderr.read().decode()[-300:]}")
            if digests(film) != original:
                losses.append(f"{kind}: footage was changed")
                break
        for leftover in (*film.glob("*killed*"), film / "whole.json"):
            leftover.unlink(missing_ok=True)
    return counted, losses


if __name__ == "__main__":
    wanted = int(sys.argv[1]) if len(sys.argv) > 1 else 5
    seed = int(sys.argv[2]) if len(sys.argv) > 2 else Random().randrange(10**6)
    with tempfile.TemporaryDirectory() as place:
        from workstation.demo.game_file import write_demo_game
        counted, losses = attack(wanted, seed, write_demo_game(Path(place) / "demo", width=480))
    for line in losses[:40]:
        print(line)
    print(f"seed {seed}: {dict(counted)}, {len(losses)} losses")
    sys.exit(bool(losses))
