"""The work of the camera without a screen: ``measure GAME``, and what ``check`` says of it."""

from __future__ import annotations

import argparse
import sys
from math import isnan, log
from pathlib import Path
from typing import TYPE_CHECKING

from .coverage.camera_work import camera_work_of
from .film.camera_work.measures import MEASURES
from .film.film_camera_work import measure_camera_work
from .film.sources import relink
from .tagging.gamefile import GameFile
from .tagging.model import Game
from .terminal import CommandParser, counting_bar, existing, print_table, say, say_json

if TYPE_CHECKING:
    from .coverage.camera_work import CameraWork
    from .coverage.summary import Summary
    from .tagging.model import Heading


def add_measure(made: CommandParser) -> None:
    """Give the ``measure`` command its arguments."""
    made.add_argument("game", type=Path, metavar="GAME", help="a game file")
    made.add_argument("--json", action="store_true", help="print the measures of each shot as JSON")
    made.set_defaults(work=_measure)


def _measure(arguments: argparse.Namespace) -> int:
    with GameFile.open(existing(arguments.game), read_only=True) as file:
        game = file.game
    film = relink(game.film, [arguments.game.parent])
    unread = measure_camera_work(film, counting_bar("measuring the camera work"), lambda: False)
    work = camera_work_of(game)
    if arguments.json:
        say_json(plain_measures(game, work))
    else:
        print_table(["measure", "usual", "worst", "in shot"],
                    [[row.measure.name, row.measure.said(row.typical), row.measure.said(row.worst),
                      str(row.worst_shot)] for row in (work.rows if work else ())])
    missing = [f"{source.path.name}: {source.problem}" for source in film.sources if source.problem]
    for line in (*missing, *unread):
        say(f"not measured: {line}", file=sys.stderr)
    return 1 if missing or unread else 0


def plain_measures(game: Game, work: CameraWork | None) -> list[dict[str, object]]:
    """The measures of each shot for JSON; shots that were not measured are left out."""
    if work is None:
        return []
    shots = {shot.id: shot for shot in game.shots}
    listed: list[dict[str, object]] = []
    for shot, passage in work.passages.items():
        kind, moves = shots[shot].kind, passage.movement
        listed.append({
            "shot": shot, "kind": str(kind) if kind else None, "seconds": round(passage.seconds, 3),
            "measures": {measure.name: {"typical": _rounded(measure.typical(passage), measure.scale),
                                        "worst": _rounded(measure.worst(passage), measure.scale),
                                        "unit": measure.unit.strip()} for measure in MEASURES},
            "spots_on_the_lens": len(work.spots_in(shots[shot])),
            "zooms": [{"at_seconds": round(move.start - passage.start, 2), "seconds": round(move.seconds, 2),
                       "magnification": round(move.magnification, 3),
                       "doublings_a_second": round(move.speed / log(2), 2),
                       "unevenness": round(move.unevenness, 2)} for move in moves.zooms],
            "zoom_turns_at_seconds": [round(turn - passage.start, 2) for turn in moves.reversals],
            "overshoots_at_seconds": [round(at - passage.start, 2) for at in moves.overshoots]})
    return listed


def _rounded(value: float | None, scale: float) -> float | None:
    return None if value is None else round(value * scale, 3)


def trend_rows(games: list[tuple[Heading, Summary]]) -> list[list[str]]:
    """A row for each measure with its worst in each game, for the table of the trend."""
    from .coverage.trend import camera_work_trend  # only here: pandas takes long to import

    return [[f"{measure}, worst ({unit})", *("" if isnan(value) else f"{value:.1f}" for value in found["worst"])]
            for (measure, unit), found in camera_work_trend(games).groupby(["measure", "unit"], sort=False)]
