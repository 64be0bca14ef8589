"""How long it takes to find plays among 200, by filters and by words. Run it by hand."""

from __future__ import annotations

import statistics
import sys
import time
from pathlib import Path

sys.path[:0] = [str(Path(__file__).parents[2]), str(Path(__file__).parents[1] / "desk")]

from big_game import big_game

from workstation.season.finder import FactBook, counted, find


def median(work, times: int = 200) -> float:
    taken = []
    for _ in range(times):
        before = time.perf_counter()
        work()
        taken.append((time.perf_counter() - before) * 1000)
    return statistics.median(taken)


def main() -> None:
    game, steps, coverage = big_game(shots=400, plays=200)
    print(f"work out the facts of {len(game.plays)} plays   "
          f"{median(lambda: FactBook().of(game, steps, coverage), 20):7.3f} ms")
    facts = FactBook().of(game, steps, coverage)
    filters = list(counted(facts))
    asked = [each for each in filters if "down" in each.words or "runs" in each.words][:4]
    print(f"find by {len(asked)} filters                   {median(lambda: find(facts, asked)):7.3f} ms")
    print(f"find by filters and two words        {median(lambda: find(facts, asked, 'run own')):7.3f} ms")
    print(f"count all {len(filters)} filters                  {median(lambda: counted(facts)):7.3f} ms")


if __name__ == "__main__":
    main()
