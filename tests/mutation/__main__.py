"""How many small faults in the rules of football the tests notice: ``python -m tests.mutation 300 [seed] [module ...]``

Draws that many mutants at random (0: takes all) from the tracker and what it is made of, puts each into a forked child
of a pytest session that has collected the tests, and runs what reaches the changed statement - the rulebook cases, the
tests of the tracker, a few examples of each property, every 30th real game - until something fails. A real game fails
if a snap, score or tag comes out wrong that is right without the fault. Prints every survivor: a survivor is a missing
test, or a change without a difference (those count as survivors all the same).
"""

from __future__ import annotations

import ast
import importlib
import os
import random
import resource
import signal
import sys
import time
from collections import Counter
from collections.abc import Callable
from pathlib import Path

import pytest
from hypothesis import settings

from tests.mutation.mutants import Mutant, mutants_of
from tests.outside.real_games.check import check_games
from tests.outside.real_games.games import Game, game_ids, read_game

MODULES = ("action", "ball_path", "doubts", "enforcement", "kicks", "overrides", "penalty", "periods", "reading",
           "ruling", "tracker")
TESTS = ("tests/outside/rulebook_cases", "tests/football/test_enforcement.py", "tests/football/test_tracker.py",
         "tests/football/test_fine_points.py", "tests/football/test_between_plays.py",
         "tests/football/test_kicks.py", "tests/football/test_boundaries.py", "tests/football/test_fine_enforcement.py",
         "tests/football/test_contradictions.py", "tests/football/test_foul_properties.py",
         "tests/football/test_ruling_properties.py", "tests/football/test_properties.py")
EXAMPLES = 12        # of each property; the suite tries more
SECONDS = 30         # of processor time for one mutant: what takes longer runs for ever

Lines = set[tuple[str, int]]


def draw(number: int, seed: int, modules: tuple[str, ...]) -> tuple[list[Mutant], int]:
    """*number* mutants at random, and how many there are altogether."""
    every = []
    for name in modules:
        module = importlib.import_module(f"workstation.football.{name}")
        every += mutants_of(name, Path(module.__file__).read_text(encoding="utf-8"))
    return random.Random(seed).sample(every, min(number or len(every), len(every))), len(every)


def put_in(name: str, tree: ast.Module) -> None:
    """Let the running program behave as if the module of football of that *name* had been written as *tree*."""
    module = importlib.import_module(f"workstation.football.{name}")
    faulty = {word: value for word, value in vars(module).items() if word in ("__name__", "__package__", "__file__")}
    exec(compile(tree, module.__file__, "exec"), faulty)
    replaced = {id(was): word for word, was in vars(module).items()
                if not word.startswith("__") and faulty.get(word) is not was
                and (callable(was) or isinstance(was, (dict, tuple, set)))}
    for other in list(sys.modules.values()):
        if (other is not module
                and (getattr(other, "__name__", "") or "").startswith(("workstation.", "tests.", "test_"))):
            for word, value in list(vars(other).items()):
                if id(value) in replaced:
                    setattr(other, word, faulty[replaced[id(value)]])   # KeyError: it could not be imported


def reached(run: Callable[[], object]) -> Lines:
    """The lines of the mutated modules that *run* comes to, as module and number."""
    lines: Lines = set()
    names = {importlib.import_module(f"workstation.football.{name}").__file__: name for name in MODULES}

    def within(frame, event, _):
        lines.add((names[frame.f_code.co_filename], frame.f_lineno))
        return within

    sys.settrace(lambda frame, *_: within if frame.f_code.co_filename in names else None)
    try:
        run()
    finally:
        sys.settrace(None)
    return lines


class Attempt:
    """A test, or one real game: how to run it, which lines it reaches, and how long it takes."""

    def __init__(self, name: str, run: Callable[[], object]) -> None:
        self.name, self.run = name, run
        self.lines = reached(run)
        began = time.process_time()
        run()
        self.seconds = time.process_time() - began

    def reaches(self, mutant: Mutant) -> bool:
        return mutant.lines is None or any((mutant.module, line) in self.lines for line in mutant.lines)


class RealGame:
    """A real game that fails if anything comes out wrong that did not before."""

    def __init__(self, game: Game) -> None:
        self.game = game
        self.usual: set | None = None

    def __call__(self) -> None:
        report = check_games([self.game])
        wrong = {(mismatch.row.id, mismatch.what) for mismatch in report.mismatches}
        wrong |= {("final", score) for _, score in report.finals_wrong}
        wrong |= {(row.id, text) for _, row, text in [*report.problems, *report.set_aside]}
        if self.usual is None:
            self.usual = wrong
        assert wrong <= self.usual


class Mutations:
    """Takes over pytest's run: the collected tests, once for each mutant."""

    def __init__(self, mutants: list[Mutant]):
        self.mutants = mutants
        self.survivors: list[Mutant] = []
        self.killed: Counter = Counter()

    def pytest_runtestloop(self, session: pytest.Session) -> bool:
        began = time.monotonic()
        attempts = []
        for item in session.items:
            if kept := getattr(item.obj, "_hypothesis_internal_use_settings", None):
                item.obj._hypothesis_internal_use_settings = settings(kept, max_examples=EXAMPLES)
            values = item.callspec.params if hasattr(item, "callspec") else {}
            attempts.append(Attempt(item.nodeid, lambda test=item.obj, values=values: test(**values)))
        for eid, season in game_ids(2009, 2013)[::30]:
            attempts.append(Attempt("real games", RealGame(read_game(eid, season))))
        attempts.sort(key=lambda attempt: attempt.seconds)      # what is quick first, the properties last
        print(f"          {len(attempts)} tests and games, {sum(each.seconds for each in attempts):.1f} s for all, "
              f"learnt in {time.monotonic() - began:.0f} s", file=sys.stderr, flush=True)
        for name in MODULES:
            source = Path(importlib.import_module(f"workstation.football.{name}").__file__).read_text(encoding="utf-8")
            if how := self._run(name, ast.parse(source), attempts):
                raise pytest.UsageError(f"with {name} written anew, without any fault, this fails: {how}")
        for number, mutant in enumerate(self.mutants, 1):
            how = self._run(mutant.module, mutant.tree(), [attempt for attempt in attempts if attempt.reaches(mutant)])
            if how is not None:
                self.killed[how.partition("[")[0]] += 1
            else:
                self.survivors.append(mutant)
                print(f"survived  {mutant}", flush=True)
            if number % 50 == 0:
                print(f"          {sum(self.killed.values())} of {number} killed in {time.monotonic() - began:.0f} s",
                      file=sys.stderr, flush=True)
        return True

    def _run(self, module: str, tree: ast.Module, attempts: list[Attempt]) -> str | None:
        """What failed with *module* written as *tree*; None if nothing did."""
        reader, writer = os.pipe()
        if not (child := os.fork()):
            os.close(reader)
            killer = ""
            try:
                hidden = os.open(os.devnull, os.O_WRONLY)
                os.dup2(hidden, 1), os.dup2(hidden, 2)
                resource.setrlimit(resource.RLIMIT_CPU, (SECONDS, SECONDS + 5))
                killer = "cannot be imported"
                put_in(module, tree)
                for attempt in attempts:
                    killer = attempt.name
                    attempt.run()
                killer = ""
            except BaseException:
                pass
            finally:
                os.write(writer, killer.encode()[:500])
                os._exit(bool(killer))
        os.close(writer)
        with os.fdopen(reader, errors="replace") as told:
            what = told.read()
        _, status = os.waitpid(child, 0)
        if os.WIFSIGNALED(status):
            return f"ended by {signal.Signals(os.WTERMSIG(status)).name}"
        return what if os.WEXITSTATUS(status) else None


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
        by: Counter = Counter()
        for how, count in mutations.killed.items():
            by[how.partition("::")[0]] += count
        for how, count in by.most_common():
            print(f"  {count:4} by {how}")
    return int(status)


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
