"""How many small faults in the rules of football the tests notice: ``python -m tests.mutation 300 [seed] [module ...]``

Draws that many mutants at random from the tracker and what it is made of, puts each into a forked child of a pytest
session that has collected the tests, and runs the rulebook cases, the tests of the tracker, a few examples of each
property and every 60th real game, until one fails (a real game fails if more snaps, scores or impossible tags come out
wrong than without the fault). Prints every survivor: a survivor is a missing test, or a change without a difference.
"""

from __future__ import annotations

import importlib
import os
import random
import resource
import signal
import sys
import time
from collections import Counter
from pathlib import Path

import pytest
from hypothesis import settings

from tests.mutation.mutants import Mutant, mutants_of
from tests.outside.real_games.check import check_games
from tests.outside.real_games.games import Game, game_ids, read_game

MODULES = ("action", "byhand", "doubts", "enforcement", "penalty", "periods", "ruling", "tracker")
TESTS = ("tests/outside/rulebook_cases", "tests/football/test_enforcement.py", "tests/football/test_tracker.py", "tests/football/test_fine_points.py",
         "tests/football/test_properties.py")
EXAMPLES = 12        # of each property; the suite tries more
SECONDS = 60         # of processor time for one mutant: what takes longer runs for ever


def draw(number: int, seed: int, modules: tuple[str, ...]) -> tuple[list[Mutant], int]:
    """*number* mutants at random, and how many there are altogether."""
    every = []
    for name in modules:
        module = importlib.import_module(f"workstation.football.{name}")
        every += mutants_of(name, Path(module.__file__).read_text(encoding="utf-8"))
    return random.Random(seed).sample(every, min(number, len(every))), len(every)


def put_in(mutant: Mutant) -> None:
    """Let the running program behave as if it had been written with the fault."""
    module = importlib.import_module(f"workstation.football.{mutant.module}")
    before = dict(vars(module))
    exec(compile(mutant.tree(), module.__file__, "exec"), vars(module))     # noqa: S102 - our own source
    replaced = {id(old): vars(module).get(name) for name, old in before.items()
                if not name.startswith("__") and vars(module).get(name) is not old and callable(old)}
    for other in list(sys.modules.values()):
        if other is not module and (getattr(other, "__name__", "") or "").startswith(("workstation.", "tests.", "test_")):
            for name, value in list(vars(other).items()):
                if id(value) in replaced:
                    setattr(other, name, replaced[id(value)])


class Mutations:
    """Takes over pytest's run: the collected tests, once for each mutant."""

    def __init__(self, mutants: list[Mutant]):
        self.mutants = mutants
        self.survivors: list[Mutant] = []
        self.killed: Counter = Counter()

    def pytest_runtestloop(self, session: pytest.Session) -> bool:
        items = sorted(session.items, key=lambda item: "test_properties" in item.nodeid)
        for item in items:
            if kept := getattr(item.obj, "_hypothesis_internal_use_settings", None):
                item.obj._hypothesis_internal_use_settings = settings(kept, max_examples=EXAMPLES)
        self.games = [read_game(eid, season) for eid, season in game_ids(2009, 2013)[::60]]
        self.usual = wrong_in(self.games)
        if (how := self._run(session, items, None)) is not None:
            raise pytest.UsageError(f"the tests fail without any fault: {how}")
        began = time.monotonic()
        for number, mutant in enumerate(self.mutants, 1):
            how = self._run(session, items, mutant)
            if how is None:
                self.survivors.append(mutant)
                print(f"survived  {mutant}", flush=True)
            else:
                self.killed[how.partition("[")[0]] += 1
            if number % 10 == 0:
                print(f"          {number - len(self.survivors)} of {number} killed in "
                      f"{time.monotonic() - began:.0f} s", file=sys.stderr, flush=True)
        return True

    def _run(self, session: pytest.Session, items: list[pytest.Item], mutant: Mutant | None) -> str | None:
        """What killed the mutant; None if it lives."""
        reader, writer = os.pipe()
        if not (child := os.fork()):
            os.close(reader)
            code = 1
            try:
                hidden = os.open(os.devnull, os.O_WRONLY)
                os.dup2(hidden, 1), os.dup2(hidden, 2)
                resource.setrlimit(resource.RLIMIT_CPU, (SECONDS, SECONDS + 5))
                if mutant is not None:
                    put_in(mutant)
                for index, item in enumerate(items):
                    item.config.hook.pytest_runtest_protocol(item=item, nextitem=(*items, None)[index + 1])
                    if session.testsfailed:
                        os.write(writer, item.nodeid.encode()[:500])
                        break
                else:
                    if any(more > usual for more, usual in zip(wrong_in(self.games), self.usual)):
                        os.write(writer, b"real games")
                    else:
                        code = 0
            except BaseException as fault:      # noqa: BLE001 - a fault while importing is noticed, too
                os.write(writer, f"cannot be imported: {fault}".encode()[:500])
            finally:
                os._exit(code)
        os.close(writer)
        with os.fdopen(reader, errors="replace") as told:
            what = told.read()
        _, status = os.waitpid(child, 0)
        if os.WIFSIGNALED(status):
            return f"ended by {signal.Signals(os.WTERMSIG(status)).name}"
        return what if os.WEXITSTATUS(status) else None


def wrong_in(games: list[Game]) -> tuple[int, ...]:
    """What comes out wrong in real games: snaps, final scores, tags called impossible, rows set aside."""
    report = check_games(games)
    return len(report.mismatches), len(report.finals_wrong), len(report.problems), len(report.set_aside)


def main(arguments: list[str]) -> int:
    number = int(arguments[0]) if arguments else 300
    seed = int(arguments[1]) if len(arguments) > 1 else 1
    modules = tuple(arguments[2:]) or MODULES
    mutants, every = draw(number, seed, modules)
    mutations = Mutations(mutants)
    options = ["-qq", "-p", "no:cacheprovider", "-p", "no:timeout", "-p", "no:xdist", "-p", "no:randomly", "--tb=no",
               "-p", "no:pytest-qt", "-W", "ignore", "-s"]
    status = pytest.main([*options, *TESTS], plugins=[mutations])
    if mutations.killed or mutations.survivors:
        killed = sum(mutations.killed.values())
        print(f"{killed} of {len(mutants)} mutants killed ({killed / len(mutants):.1%}); drawn with seed {seed} from "
              f"{every} in {', '.join(modules)}")
        for how, count in Counter({_where(how): 0 for how in mutations.killed}).items():
            count = sum(number for each, number in mutations.killed.items() if _where(each) == how)
            print(f"  {count:4} by {how}")
    return int(status)


def _where(how: str) -> str:
    return how.partition("::")[0].partition(":")[0] if "::" in how else how.partition(":")[0]


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
