"""Damaged footage of every kind through everything that reads it. ``python -m tests.film.hostile 300``

Each mutation (bytes flipped, cut short, chunks swapped, a chunk doubled, a run of zeros) of a small file is
probed, indexed, asked for exact frames, searched for shots and exported, in a child process with a limit on memory.
A mutation passes if the child says how it went: everything worked, or an error of our own that names the file.
"""

from __future__ import annotations

import json
import os
import random
import resource
import subprocess
import sys
import tempfile
import time
from collections import Counter
from pathlib import Path

SECONDS = 10            # for one mutation, all stages together, of the processor's time
PATIENCE = 120          # of the wall's: a busy machine is not the footage's fault, a standstill is
MEMORY = 3 << 30        # address space of the child; libraries and their threads reserve most of it


def mutate(data: bytes, chance: random.Random) -> bytes:
    """Damage a file the way cards and hands do."""
    out = bytearray(data)
    way = chance.choice(("flip", "flip", "cut", "swap", "double", "zero"))
    at, length = chance.randrange(len(out)), chance.randrange(1, max(2, len(out) // 8))
    if way == "flip":
        for _ in range(chance.choice((1, 8, 64, 512))):
            out[chance.randrange(len(out))] ^= 1 << chance.randrange(8)
    elif way == "cut":
        del out[max(1, at):]
    elif way == "swap":
        other = chance.randrange(len(out))
        out[at:at + length], out[other:other + length] = out[other:other + length], out[at:at + length]
    elif way == "double":
        out[at:at] = out[at:at + length]
    else:
        out[at:at + length] = bytes(len(out[at:at + length]))
    return bytes(out)


def read_everything(path: Path, folder: Path) -> dict[str, str]:
    """Put one file through every stage; returns stage -> how it went. Anything but an error of our own raises."""
    from workstation.delivery.copying import CannotCopy, copy_part
    from workstation.delivery.decoding import CannotDecode
    from workstation.delivery.rendering import Settings, render
    from workstation.delivery.segment import Part, Segment
    from workstation.film.faults import FilmError
    from workstation.film.film import Film
    from workstation.film.finding import survey
    from workstation.film.frames import FrameReader
    from workstation.film.index import index_of
    from workstation.film.probe import probe
    from workstation.film.time import Instant

    went = {}
    source = probe(path, "s")
    went["probe"] = source.problem or "fine"
    if source.problem:
        return went
    pts: list[int] = []
    try:
        pts = index_of(source).pts.tolist()
        went["index"] = "fine"
    except FilmError as error:
        went["index"] = str(error)
    reader = FrameReader(Film((source,)))
    try:
        for at in random.Random(1).sample(pts, min(5, len(pts))):
            reader.frame_at(Instant("s", at))
        went["frames"] = "fine"
    except FilmError as error:
        went["frames"] = str(error)
    finally:
        reader.close()
    try:
        survey(source)
        went["finding"] = "fine"
    except FilmError as error:
        went["finding"] = str(error)
    if len(pts) > 8:
        part = Part(source, pts[2], pts[8])
        for stage, work in (("copied", lambda: copy_part(part, folder / "copied.mp4")),
                            ("rendered", lambda: render([Segment((part,), {})], folder / "rendered.mp4",
                                                        Settings(preset="ultrafast")))):
            try:
                work()
                went[stage] = "fine"
            except (CannotCopy, CannotDecode, FilmError, OSError) as error:
                went[stage] = str(error) or repr(error)
    return went


def child() -> None:
    """Read paths from standard input, one a line; answer each with one line of JSON."""
    resource.setrlimit(resource.RLIMIT_AS, (MEMORY, MEMORY))
    for line in sys.stdin:
        path = Path(line.strip())
        try:
            answer = {"went": read_everything(path, path.parent)}
        except BaseException as error:
            answer = {"failed": f"{type(error).__name__}: {error}"}
        print(json.dumps(answer), flush=True)


class Reader:
    """A child that survives as long as the footage lets it."""

    def __init__(self) -> None:
        self._start()

    def _start(self) -> None:
        self._process = subprocess.Popen([sys.executable, "-W", "ignore", "-m", "tests.film.hostile", "--child"],
                                         stdin=subprocess.PIPE, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL,
                                         text=True)
        self.read_first = True

    def __call__(self, path: Path) -> dict:
        import select

        self._process.stdin.write(f"{path}\n")
        self._process.stdin.flush()
        # starting Python and its libraries is not the footage's fault
        limit = SECONDS + (20 if self.read_first else 0)
        self.read_first = False
        began, late = self._processor(), time.monotonic() + PATIENCE
        while not select.select([self._process.stdout], [], [], 1)[0]:
            if (spent := self._processor() - began) > limit or time.monotonic() > late:
                self.close()
                self._start()
                return {"failed": f"hung, after {spent:.0f} s of the processor's time"}
        line = self._process.stdout.readline()
        if not line:
            code = self._process.wait()
            self._start()
            return {"failed": f"the process died ({code})"}
        return json.loads(line)

    def _processor(self) -> float:
        """Seconds of all its threads (proc(5), utime and stime)."""
        fields = Path(f"/proc/{self._process.pid}/stat").read_text().rpartition(")")[2].split()
        return (int(fields[11]) + int(fields[12])) / os.sysconf("SC_CLK_TCK")

    def close(self) -> None:
        self._process.kill()
        self._process.wait()


def attack(kinds: list[str], mutations: int, seed: int, folder: Path) -> tuple[Counter, list[str]]:
    """Run ``mutations`` of each kind; returns how often each stage was fine or refused, and the failures."""
    from tests.footage import make

    counts: Counter = Counter()
    failures: list[str] = []
    reader = Reader()
    try:
        for kind in kinds:
            whole = make(kind, folder, seconds=1.5, size="96x64")
            data = whole.read_bytes()
            for number in range(mutations):
                chance = random.Random(f"{kind} {seed} {number}")
                path = folder / f"mutation{whole.suffix}"
                path.write_bytes(mutate(data, chance))
                answer = reader(path)
                if "failed" in answer:
                    failures.append(f"{kind} {seed} {number}: {answer['failed']}")
                for stage, how in answer.get("went", {}).items():
                    counts[stage, "fine" if how == "fine" else "said why"] += 1
    finally:
        reader.close()
    return counts, failures


def main(arguments: list[str]) -> int:
    from tests.footage import KINDS

    if arguments == ["--child"]:
        child()
        return 0
    mutations = int(arguments[0]) if arguments else 300
    kinds = arguments[1:] or list(KINDS)
    began = time.monotonic()
    with tempfile.TemporaryDirectory() as name:
        counts, failures = attack(kinds, mutations, seed=int(began), folder=Path(name))
    for (stage, how), number in sorted(counts.items()):
        print(f"{stage:10} {how:10} {number}")
    print(f"{mutations} mutations of each of {len(kinds)} kinds in {time.monotonic() - began:.0f} s, {len(failures)} "
          "failures")
    print("\n".join(failures))
    return bool(failures)


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
