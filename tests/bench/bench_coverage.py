"""How long it takes to check a whole game again after one tag was changed.

Prints milliseconds of processor time, and beside them how many times the tracker's fold of the
same game they are. The bar: 200 plays and 400 shots in at most 20 ms.
Run: python tests/bench/bench_coverage.py
"""

from __future__ import annotations

import statistics
import sys
import time
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[2]))

from tests.coverage.filming import PROFILE, RULEBOOK, Filming
from workstation.coverage.checker import check
from workstation.coverage.summary import summarise
from workstation.football.plays import Foul, FoulDecision, Outcome, PlayKind, Side
from workstation.football.situation import Next
from workstation.football.tracker import track
from workstation.tagging.model import Game, ShotKind

PLAYS, SHOTS = 200, 400
RUNS = 60


def big_game() -> Game:
    """A game of series that end in punts, touchdowns or field goals, with penalties and breaks on the way."""
    film = Filming()
    film.at()
    number = 0
    while len(film.plays) < PLAYS:
        number += 1
        before = film.steps()[-1].after if film.plays else None
        if before is None or before.next is Next.SCRIMMAGE:
            down = before.down if before else 1
            if down == 4 and before.ball_on < 65:
                film.punt()
            elif down == 4:
                film.play(PlayKind.FIELD_GOAL, Outcome.GOOD)
                film.scoreboard()
            elif number % 9 == 0:
                film.run(4, fouls=(Foul("holding", Side.OFFENSE, decision=FoulDecision.ACCEPTED),))
                film.signal()
                film.marker()
            elif number % 4 == 0:
                film.play(PlayKind.PASS, Outcome.COMPLETE, gain=14)
            elif number % 7 == 0:
                film.incomplete()
            else:
                film.run(3.5)
        elif before.next is Next.TRY:
            film.play(PlayKind.TRY_KICK, Outcome.GOOD)
        else:
            film.play(PlayKind.KICKOFF, Outcome.RETURNED, kick_to=90, spot=70)
        if number % 45 == 0:
            film.event(PlayKind.END_OF_PERIOD)
            film.scoreboard()
        while len(film.shots) < 2 * len(film.plays):
            film.shot(ShotKind.EXTRA if len(film.shots) % 5 else ShotKind.DOWN_MARKER, 3.0)
    return film.game


def milliseconds(work: Callable[[int], object]) -> float:
    """Median over several runs of the processor time of one run."""
    taken = []
    for run in range(RUNS):
        start = time.process_time()
        work(run)
        taken.append(1000 * (time.process_time() - start))
    return statistics.median(taken)


def main() -> None:
    game = big_game()
    steps = track(RULEBOOK, [tag.play for tag in game.plays])
    changed = []
    for run in range(RUNS):     # another play is changed each time, so nothing can be remembered
        at = 20 + run
        tag = replace(game.plays[at], play=replace(game.plays[at].play, clock=run))
        plays = (*game.plays[:at], tag, *game.plays[at + 1:])
        changed.append((replace(game, plays=plays), track(RULEBOOK, [each.play for each in plays])))
    coverage = check(game, steps, PROFILE, RULEBOOK)
    folding = milliseconds(lambda run: track(RULEBOOK, [tag.play for tag in changed[run][0].plays]))
    checking = milliseconds(lambda run: check(*changed[run], PROFILE, RULEBOOK))
    summing = milliseconds(lambda run: summarise(coverage))
    print(f"{len(game.plays)} plays, {len(game.shots)} shots, {len(game.moments)} moments; "
          f"{len(coverage.findings)} findings, {len(coverage.beliefs)} beliefs")
    print(f"fold every play again   {folding:7.2f} ms")
    print(f"check everything again  {checking:7.2f} ms   {checking / folding:5.2f} x the fold")
    print(f"sum up                  {summing:7.2f} ms   {summing / folding:5.2f} x the fold")


if __name__ == "__main__":
    main()
