"""Count plays of the real games by their facts, and compare with the data's own team statistics.

    python -m tests.outside.real_games.statistics 2009 2013
    python -m tests.outside.real_games.statistics 2009 2013 --examples 5

The official counts come from the same files, and from other parts of them than the facts do: players' totals, the
official scorer's credits of each play (6 and 7: third down made or failed; 20: sack), and the data's drives. What is
called by another name there is brought together here:

* *runs* are the official rushing attempts, kneels among them. A snap that was not held is a run of no yards there; the
  facts count what it lost, so such plays are left out of *run yards*.
* *passes* are the official passing attempts: a spike is one, a sack is none. *pass yards* are without sacks.
* *third downs* are those on which the offense ran or passed and that are not played again; one is *made* by the play
  itself, not by a penalty.
* a *red-zone trip* is a drive with a snap from scrimmage at or inside the opponents' 20. The drives' own flag is the
  same for every drive of most games, so the data's drives and the yard lines printed in their rows are counted.
* rows whose description is missing ("play under review") are counted on neither side.
"""

from __future__ import annotations

import argparse
import gzip
import json
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, field
from math import floor

import pandas as pd

from workstation.season.definitions import derive
from workstation.season.facts import PASS, RUN, frame_of, rows_of
from workstation.tagging.model import Game as TaggedGame
from workstation.tagging.model import Heading, PlayTag

from .check import Report, check_game, rulebook_of
from .games import Game, folder, game_ids, read_game

COUNTS = ("runs", "run yards", "passes", "pass yards", "sacks", "third downs", "third downs made", "red-zone trips")


def tagged_game(game: Game) -> tuple[TaggedGame, list]:
    """A real game as a tagged one without film, and its steps."""
    steps = [step for _, step in check_game(game, Report())]
    heading = Heading(f"{game.visitors} at {game.home}", game.home, game.visitors,
                      f"{game.id[:4]}-{game.id[4:6]}-{game.id[6:8]}", rulebook="professional", season=game.season)
    return TaggedGame(heading, plays=tuple(PlayTag(number, float(number), step.play)
                                           for number, step in enumerate(steps, 1))), steps


def ours(game: Game) -> dict[str, Counter]:
    """The counts by the facts, by team."""
    tagged, steps = tagged_game(game)
    # Between the plays nothing is counted, and what is not filmed there is no row.
    frame = derive(frame_of(rows_of(tagged, steps, rulebook_of(game.season))))
    counts = {}
    for team in (game.home, game.visitors):
        plays = frame[frame["offense"] == team]
        runs = plays[plays["run_pass_kick"] == RUN]
        held = runs[~runs["bad_snap"]]
        passes = plays[plays["run_pass_kick"] == PASS]
        sacks, thrown = passes[passes["kind"] == "sack"], passes[passes["kind"] != "sack"]
        third = plays[(plays["down"] == 3) & plays["run_pass_kick"].isin((RUN, PASS)) & ~plays["down_repeated"]]
        near = plays[(plays["next"] == "scrimmage") & (plays["ball_on"] >= 80)]
        counts[team] = Counter({
            "runs": len(runs), "run yards": whole_yards(held["gain"]), "passes": len(thrown),
            "pass yards": whole_yards(thrown["gain"]), "sacks": len(sacks), "third downs": len(third),
            "third downs made": int(third["converted"].sum()), "red-zone trips": near["drive"].nunique()})
    return counts


def whole_yards(gains: pd.Series) -> int:
    """The sum of the gains, each in whole yards as the account prints them."""
    return int((gains + 0.5).map(floor).sum())


def official(game: Game) -> dict[str, Counter]:
    """The counts of the data's own statistics, by team."""
    with gzip.open(folder() / "gamecenter-json" / f"{game.id}.json.gz") as file:
        data = json.load(file)[game.id]
    counts = {}
    for side in ("home", "away"):
        stats = data[side]["stats"]
        counts[data[side]["abbr"]] = Counter({
            "runs": sum(each["att"] for each in stats.get("rushing", {}).values()),
            "run yards": sum(each["yds"] for each in stats.get("rushing", {}).values()),
            "passes": sum(each["att"] for each in stats.get("passing", {}).values()),
            "pass yards": sum(each["yds"] for each in stats.get("passing", {}).values())})
    for number, drive in data["drives"].items():
        if number == "crntdrv":
            continue
        near = {play["posteam"] for play in drive["plays"].values() if play["down"] and _in_red_zone(play)}
        for team in near & set(counts):
            counts[team]["red-zone trips"] += 1
        for play in drive["plays"].values():
            untold = _UNTOLD in play["desc"]
            for credits in play["players"].values():
                for credit in credits:
                    if untold and credit["clubcode"] in counts:
                        _take_off(counts[credit["clubcode"]], credit)
                        continue
                    name = {6: "third downs made", 7: "third downs failed", 20: "sacks"}.get(credit["statId"])
                    if name and credit["clubcode"] in counts:
                        counts[credit["clubcode"]][name] += 1
    for each in counts.values():
        each["third downs"] = each["third downs made"] + each.pop("third downs failed", 0)
    return counts


_UNTOLD = "play under review"
_RUSHES, _PASSES, _CAUGHT = (10, 11), (14, 15, 16, 19), (15, 16)


def _take_off(counts: Counter, credit: dict) -> None:
    """Take a credit of a row without a description out of the totals."""
    number, yards = credit["statId"], credit["yards"]
    counts["runs"] -= number in _RUSHES
    counts["run yards"] -= yards if number in (*_RUSHES, 12, 13) else 0
    counts["passes"] -= number in _PASSES
    counts["pass yards"] -= yards if number in (*_CAUGHT, 17, 18) else 0


def _in_red_zone(play: dict) -> bool:
    side, _, yards = play["yrdln"].partition(" ")
    return side != play["posteam"] and yards.isdigit() and int(yards) <= 20


@dataclass
class Compared:
    """Per count: how many team games agree, and those that differ, as (game, team, ours, official)."""

    right: Counter = field(default_factory=Counter)
    differ: dict[str, list[tuple[str, str, int, int]]] = field(
        default_factory=lambda: {name: [] for name in COUNTS})
    counted: Counter = field(default_factory=Counter)
    off: Counter = field(default_factory=Counter)        # the sum of the differences

    def share(self, name: str) -> float:
        """Team games that agree, of all."""
        return self.right[name] / (self.right[name] + len(self.differ[name]))

    def summed(self, name: str) -> float:
        """What was counted, less the differences, as a share of what was counted officially."""
        return 1 - self.off[name] / self.counted[name]


def compare(games: Iterator[Game]) -> Compared:
    """Count and compare games."""
    compared = Compared()
    for game in games:
        mine, theirs = ours(game), official(game)
        for team in (game.home, game.visitors):
            for name in COUNTS:
                a, b = mine[team][name], theirs[team][name]
                compared.counted[name] += abs(b)
                compared.off[name] += abs(a - b)
                if a == b:
                    compared.right[name] += 1
                else:
                    compared.differ[name].append((game.id, team, a, b))
    return compared


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("first", type=int)
    parser.add_argument("last", type=int)
    parser.add_argument("--examples", type=int, default=0)
    parser.add_argument("--every", type=int, default=1)
    arguments = parser.parse_args()
    ids = game_ids(arguments.first, arguments.last)[::arguments.every]
    compared = compare(read_game(*each) for each in ids)
    print(f"{len(ids)} games, {2 * len(ids)} team games")
    print(f"{'count':20} {'right':>6} {'differ':>7} {'agree':>8} {'counted':>9} {'off by':>7} {'of the sum':>11}")
    for name in COUNTS:
        print(f"{name:20} {compared.right[name]:6} {len(compared.differ[name]):7} {compared.share(name):8.2%} "
              f"{compared.counted[name]:9} {compared.off[name]:7} {compared.summed(name):11.3%}")
        for example in compared.differ[name][:arguments.examples]:
            print("      ", *example)


if __name__ == "__main__":
    main()
