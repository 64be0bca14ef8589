"""Fold whole seasons of real games and report, class by class, how the predictions compare.

    python -m tests.outside.real_games 2009 2013
    python -m tests.outside.real_games 2009 2013 --examples 10 --set-aside
"""

from __future__ import annotations

import argparse
import time
from collections import defaultdict

from .causes import cause
from .check import Mismatch, Report, check_games
from .games import every_game


def main() -> None:
    parser = argparse.ArgumentParser(prog="python -m tests.outside.real_games", description=__doc__.splitlines()[0])
    parser.add_argument("first", type=int, help="first season, from 2009")
    parser.add_argument("last", type=int, help="last season, to 2019")
    parser.add_argument("--examples", type=int, default=0, metavar="N", help="show N mismatches of every cause")
    parser.add_argument("--set-aside", action="store_true", help="list every snap set aside, with the reason")
    arguments = parser.parse_args()
    start = time.process_time()
    report = check_games(every_game(arguments.first, arguments.last))
    if not report.games:
        parser.error(f"no regular-season games of {arguments.first} to {arguments.last}; the package has 2009 to 2019")
    summary(report)
    print(f"{time.process_time() - start:.0f} s of processor time, reading and converting included\n")
    classes(report)
    by_cause(report, arguments.examples)
    if arguments.set_aside:
        print("\nSet aside, one by one:")
        for game, row, reason in report.set_aside:
            print(f"  {game.id} row {row.id}: {reason}")


def summary(report: Report) -> None:
    snaps, wrong = sum(report.snaps.values()), len(report.mismatches)
    plain, plain_wrong = report.plain[True], sum(mismatch.plain for mismatch in report.mismatches)
    aside = len(report.set_aside)
    right_finals = report.games - len(report.finals_wrong)
    print(f"{report.games} games, {snaps} snaps compared, {aside} set aside ({aside / (snaps + aside):.3%}; at most "
          "0.3 %)")
    print(f"after plain plays: {1 - plain_wrong / plain:.3%} of {plain} right (the bar is 99.9 %)")
    print(f"after all plays:   {1 - wrong / snaps:.3%} of {snaps} right (the bar is 99.5 %)")
    print(f"final scores folded right without help: {right_finals} of {report.games} = "
          f"{right_finals / report.games:.2%} (the bar is 99 %)")


def classes(report: Report) -> None:
    print(f"{'after':40} {'snaps':>7} {'wrong':>6}   right")
    for sort, snaps in report.snaps.most_common():
        wrong = report.wrong[sort]
        print(f"{sort:40} {snaps:7} {wrong:6} {1 - wrong / snaps:8.2%}" if snaps else sort)


def by_cause(report: Report, examples: int) -> None:
    sorted_out: dict[tuple[str, str], list[Mismatch]] = defaultdict(list)
    for mismatch in report.mismatches:
        sorted_out[cause(mismatch)].append(mismatch)
    print(f"\n{len(report.mismatches)} mismatches by cause")
    for (whose, why), found in sorted(sorted_out.items(), key=lambda item: (item[0][0], -len(item[1]))):
        print(f"{len(found):5}  {whose}: {why}")
        for mismatch in found[:examples]:
            before = mismatch.before
            print(f"       {mismatch.game.id} row {mismatch.row.id}, after: "
                  f"{before.text[:300] if before else mismatch.sort}")
            print(f"         {mismatch.what}: predicted {mismatch.predicted}; printed {mismatch.official}")


if __name__ == "__main__":
    main()
