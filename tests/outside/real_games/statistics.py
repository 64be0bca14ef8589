"""Count plays of the real games by their facts, and compare with the data's own team statistics.

    python -m tests.outside.real_games.statistics 2009 2013
    python -m tests.outside.real_games.statistics 2009 2013 --list      # every team game that differs, and why

The official counts come from the same files, and from other parts of them than the facts do: players' totals, the
official scorer's credits of each play (6 and 7: third down made or failed; 20: sack), and the data's drives. What is
called by another name there is brought together here:

* *runs* are the official rushing attempts, kneels among them; *passes* the official passing attempts: a spike is one, a
  sack is none. *pass yards* are without sacks. (The college manual counts sacks and what they lose as rushing.)
* A snap that was not held is a run of no yards there, unless the player whom it was meant for recovers it himself and
  gains ground; the facts count what the play gained or lost, so such plays count here as they do there.
* Yards are whole there: a ball between two yard lines is told by the one farther from the nearer goal line.
* *third downs* are those on which the offense ran or passed and that are not played again; one is *made* by the play
  itself, not by a penalty.
* a *red-zone trip* is a drive with a snap from scrimmage at or inside the opponents' 20. The drives' own flag is the
  same for every drive of most games, so the data's drives and the yard lines printed in their rows are counted.
* rows whose description is missing ("play under review") are counted on neither side.

How fumbles, laterals and passes thrown beyond the line count is said in ``workstation/football/counting.py``.
"""

from __future__ import annotations

import argparse
import gzip
import json
import re
from collections import Counter, defaultdict
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from math import floor

from workstation.football.plays import EventKind
from workstation.football.step import Step
from workstation.season.definitions import derive
from workstation.season.facts import PASS, RUN, frame_of, rows_of
from workstation.tagging.model import Game as TaggedGame
from workstation.tagging.model import Heading, PlayTag

from .check import Report, check_game, rulebook_of
from .games import Game, Row, folder, game_ids, read_game

COUNTS = ("runs", "run yards", "passes", "pass yards", "sacks", "third downs", "third downs made", "red-zone trips")
_OF_PLAYERS = COUNTS[:4]      # what the data has totals of, beside its credits


@dataclass
class Sheet:
    """What was counted of a game: ``teams`` by team, ``plays`` by the row of the account and the team."""

    teams: dict[str, Counter] = field(default_factory=lambda: defaultdict(Counter))
    plays: dict[tuple[int, str], Counter] = field(default_factory=lambda: defaultdict(Counter))

    def count(self, row: int, team: str, **counted: int) -> None:
        """Count something of a play."""
        for name, number in counted.items():
            self.plays[row, team][name.replace("_", " ")] += number
            self.teams[team][name.replace("_", " ")] += number


def tagged_game(game: Game) -> tuple[TaggedGame, list[tuple[Row | None, Step]]]:
    """A real game as a tagged one without film, and its steps, each with its row."""
    folded = check_game(game, Report())
    heading = Heading(f"{game.visitors} at {game.home}", game.home, game.visitors,
                      f"{game.id[:4]}-{game.id[4:6]}-{game.id[6:8]}", rulebook="professional", season=game.season)
    return TaggedGame(heading, plays=tuple(PlayTag(number, float(number), step.play)
                                           for number, (_, step) in enumerate(folded, 1))), folded


def ours(game: Game) -> Sheet:
    """The counts by the facts."""
    tagged, folded = tagged_game(game)
    steps = [step for _, step in folded]
    # Between the plays nothing is counted, and what is not filmed there is no row.
    frame = derive(frame_of(rows_of(tagged, steps, rulebook_of(game.season))))
    sheet = Sheet()
    for play in frame[frame["run_pass_kick"].isin((RUN, PASS))].itertuples():
        (row, step), team = folded[play.number - 1], play.offense
        if play.run_pass_kick == RUN:
            sheet.count(row.id, team, runs=1, run_yards=_rushed(play.gain, step) if play.bad_snap else
                        _whole(play.ball_on, play.gain))
        elif play.kind == "sack":
            sheet.count(row.id, team, sacks=1)
        else:
            sheet.count(row.id, team, passes=1, pass_yards=_whole(play.ball_on, play.gain))
        if play.down == 3 and not play.down_repeated:
            sheet.count(row.id, team, third_downs=1, third_downs_made=int(play.converted))
    near = frame[(frame["next"] == "scrimmage") & (frame["ball_on"] >= 80)]
    for team in (game.home, game.visitors):
        sheet.teams[team]["red-zone trips"] = near.loc[near["offense"] == team, "drive"].nunique()
    return sheet


def _rushed(gain: float, step: Step) -> int:
    """What the official scorer gives a run after a snap that was not held."""
    himself = any(event.kind is EventKind.OWN_RECOVERY for event in step.play.events)
    return _whole(step.before.ball_on, max(gain, 0.0)) if himself else 0


def _whole(start: float, gain: float) -> int:
    """A gain in whole yards, as the account prints it."""
    return int(gain) if float(gain).is_integer() else _line(start + gain) - _line(start)


def _line(spot: float) -> int:
    """The yard line by which a spot is told; a ball that is not in the end zone lies a yard from it at least."""
    if not 0 < spot < 100:
        return round(spot)
    return max(floor(spot + 0.5), 1) if spot <= 50 else 100 - max(floor(100 - spot + 0.5), 1)


def official(game: Game) -> Sheet:
    """The counts of the data's own statistics: by team its totals, by play its credits."""
    data = _data(game)
    sheet, teams = Sheet(), {game.home, game.visitors}
    for number, drive in data["drives"].items():
        if number == "crntdrv":
            continue
        near = {play["posteam"] for play in drive["plays"].values() if play["down"] and _in_red_zone(play)}
        for team in near & teams:
            sheet.teams[team]["red-zone trips"] += 1
        for row, play in drive["plays"].items():
            for credit in (each for credits in play["players"].values() for each in credits):
                if credit["clubcode"] in teams:
                    sheet.count(int(row), credit["clubcode"], **_counted(credit["statId"], credit["yards"]))
    for side in ("home", "away"):
        stats, team = data[side]["stats"], sheet.teams[data[side]["abbr"]]
        for name, of, what in (("runs", "rushing", "att"), ("run yards", "rushing", "yds"),
                               ("passes", "passing", "att"), ("pass yards", "passing", "yds")):
            team[name] = sum(each[what] for each in stats.get(of, {}).values())
    untold = {(row, team) for row, team in sheet.plays if _UNTOLD in _rows(data)[row]["desc"]}
    for row, team in untold:
        sheet.teams[team].subtract(sheet.plays.pop((row, team)))
    return sheet


def _counted(stat: int, yards: int) -> dict[str, int]:
    """What one of the scorer's credits counts for."""
    counted = {"runs": stat in _RUSHES, "run_yards": yards if stat in (*_RUSHES, 12, 13) else 0,
               "passes": stat in _PASSES, "pass_yards": yards if stat in (*_CAUGHT, 17, 18) else 0,
               "sacks": stat == 20, "third_downs": stat in (6, 7), "third_downs_made": stat == 6}
    return {name: int(number) for name, number in counted.items() if number}


def _data(game: Game) -> dict:
    with gzip.open(folder() / "gamecenter-json" / f"{game.id}.json.gz") as file:
        return json.load(file)[game.id]


def _rows(data: dict) -> dict[int, dict]:
    return {int(row): play for number, drive in data["drives"].items() if number != "crntdrv"
            for row, play in drive["plays"].items()}


_UNTOLD = "play under review"
_RUSHES, _PASSES, _CAUGHT = (10, 11), (14, 15, 16, 19), (15, 16)


def _in_red_zone(play: dict) -> bool:
    side, _, yards = play["yrdln"].partition(" ")
    return side != play["posteam"] and yards.isdigit() and int(yards) <= 20


# -- why they differ -------------------------------------------------------------------------------------------------

TOTALS = "the data's own credits, play by play, are what we count; its totals are others"
CREDITED = "a down of another number is credited, or one twice, or none"
ON_THE_LINE = "a foul of the offense on the line itself: the account lets the play stand for no yards"
BEYOND = "the account lets a play stand, or takes it away, against where its own row marks the penalty off"
LOOSE = "a ball loose more than once, or thrown backward: who is credited with what"
SNAP = "a snap that was not held: the scorer credits it otherwise than most others of its kind"
HALF = "half a yard, after half the distance to the goal line"
DRIVES = "the data's drives are parted otherwise"
CONTRADICTED = "the row's credits contradict its description"


def causes(game: Game, team: str, name: str, mine: Sheet, theirs: Sheet) -> list[tuple[str, str]]:
    """Why a number of a team differs: a cause for each play that does, with what is said of it."""
    if name == "red-zone trips":
        return [(DRIVES, "")]
    rows = _rows(_data(game))
    plays = [row for row, play in rows.items() if _UNTOLD not in play["desc"]
             and mine.plays[row, team][name] != theirs.plays[row, team][name]]
    found = [(_cause(rows[row], name, mine.plays[row, team], theirs.plays[row, team]),
              f"row {row}: {mine.plays[row, team][name]}, {theirs.plays[row, team][name]}: {rows[row]['desc']}")
             for row in plays]
    credited = sum(play[name] for (_, whose), play in theirs.plays.items() if whose == team)
    if name in _OF_PLAYERS and credited != theirs.teams[team][name]:
        found.append((TOTALS, ""))
    return found or [(TOTALS, "")]


def _cause(row: dict, name: str, mine: Mapping[str, int], theirs: Mapping[str, int]) -> str:
    text = row["desc"]
    if name.startswith("third"):
        return CREDITED if "PENALTY" not in text or row["down"] != 3 else BEYOND
    if "Aborted" in text:
        return SNAP
    enforced = re.search(r"PENALTY on [^,]*, [^,]+, \d+ yards?, enforced at ([A-Z]+ \d+|50)(?! - No Play)", text)
    if enforced and row["yrdln"] == enforced[1] and theirs["runs"] + theirs["passes"] > mine["runs"] + mine["passes"]:
        return ON_THE_LINE
    if "FUMBLES" in text or "ateral" in text or "ackward" in text:
        return LOOSE
    if "PENALTY" in text or "Penalty" in text:
        return BEYOND
    return HALF if abs(mine[name] - theirs[name]) == 1 and name.endswith("yards") else CONTRADICTED


@dataclass
class Compared:
    """Per count: how many team games agree, and those that differ, as (game, team, ours, official); with *causes* why
    they do, as (game, team, count, cause, row)."""

    right: Counter = field(default_factory=Counter)
    differ: dict[str, list[tuple[str, str, int, int]]] = field(
        default_factory=lambda: {name: [] for name in COUNTS})
    counted: Counter = field(default_factory=Counter)
    off: Counter = field(default_factory=Counter)        # the sum of the differences
    why: list[tuple[str, str, str, str, str]] = field(default_factory=list)

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
                a, b = mine.teams[team][name], theirs.teams[team][name]
                compared.counted[name] += abs(b)
                compared.off[name] += abs(a - b)
                if a == b:
                    compared.right[name] += 1
                else:
                    compared.differ[name].append((game.id, team, a, b))
                    compared.why += [(game.id, team, name, *each) for each in causes(game, team, name, mine, theirs)]
    return compared


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("first", type=int)
    parser.add_argument("last", type=int)
    parser.add_argument("--every", type=int, default=1)
    parser.add_argument("--list", action="store_true", help="every play that makes a team game differ")
    arguments = parser.parse_args()
    ids = game_ids(arguments.first, arguments.last)[::arguments.every]
    compared = compare(read_game(*each) for each in ids)
    print(f"{len(ids)} games, {2 * len(ids)} team games")
    print(f"{'count':20} {'right':>6} {'differ':>7} {'agree':>8} {'counted':>9} {'off by':>7} {'of the sum':>11}")
    for name in COUNTS:
        print(f"{name:20} {compared.right[name]:6} {len(compared.differ[name]):7} {compared.share(name):8.2%} "
              f"{compared.counted[name]:9} {compared.off[name]:7} {compared.summed(name):11.3%}")
    print("\nWhy team games differ, by count:")
    for cause in dict.fromkeys(each[3] for each in sorted(compared.why, key=lambda each: each[3])):
        by = Counter(each[2] for each in compared.why if each[3] == cause)
        print(f"  {cause}: " + ", ".join(f"{name} {by[name]}" for name in COUNTS if by[name]))
    if arguments.list:
        print()
        for game, team, name, cause, row in compared.why:
            print(f"{game} {team} {name}: {cause}{'; ' if row else ''}{row[:200]}")


if __name__ == "__main__":
    main()
