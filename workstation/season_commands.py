"""The work on a season without a screen: ``season FOLDER games|find|breakdown|trend|sequence|report|index``."""

from __future__ import annotations

import argparse
import json
import sys
from math import isnan
from pathlib import Path
from typing import TYPE_CHECKING, Any

from .football.speaking import spoken_clock
from .targets import refuse_existing
from .terminal import (
    CommandParser,
    Wrong,
    bar_for,
    chosen_angles,
    commands_of,
    counting_bar,
    drawings,
    handles,
    in_one_picture,
    names_in,
    overwriting,
    print_table,
    rendered_form,
    rendering_of,
    say,
    say_json,
    sequence_form,
    tell_written,
)
from .visible import visible

if TYPE_CHECKING:       # pandas takes longer than the other commands may wait
    import pandas as pd

    from .season.breakdown import Breakdown, Recipe
    from .season.shelf import Shelf


def add_season(made: CommandParser) -> None:
    """Give the ``season`` command its arguments; ``work`` of what is parsed does it."""
    made.add_argument("folder", type=Path, metavar="FOLDER", help="a folder of game files, and those in it")
    made.add_argument("--also", type=Path, action="append", default=[], metavar="FOLDER",
                      help="one more folder of the same season; may be given several times")
    made.add_argument("--us", default="", metavar="TEAM",
                      help="our own team; default: the one that plays in most of several games")
    command, _ = commands_of(made, "what to do", "WHAT")

    def choosing(one: CommandParser, plays: bool = True) -> None:
        one.add_argument("--games", action="append", metavar="GAME",
                         help="only this game, by title, file, date or a part of one; may be given several times")
        if not plays:
            return
        one.add_argument("--where", action="append", default=[], metavar="COLUMN=VALUE[,VALUE]",
                         help="only plays with one of these values: down=3, distance=goal, 'word formation=trips'; may "
                              "be given several times")
        one.add_argument("--words", default="", help="only plays of which all these words were said")
        one.add_argument("--plays", choices=tuple(_PLAYS), default="called",
                         help="called: runs and passes without kneels and spikes; default: %(default)s")

    command("games", _games, "List the games: opponents, dates, crews, whether their film is there.")
    command("index", _index, "Read all games again, and write their index anew.")
    command("columns", _columns, "List what plays can be found and counted by.")

    one = command("find", _find, "List the plays that fit.")
    choosing(one)
    one.set_defaults(plays="all")
    one.add_argument("--json", action="store_true", help="print JSON: every fact of each play")

    one = command("breakdown", _breakdown, "Count plays in rows and columns.")
    choosing(one)
    one.add_argument("--rows", type=names_in, default=None, metavar="COLUMN[,COLUMN]", help="default: down,distance")
    one.add_argument("--columns", type=names_in, default=None, metavar="COLUMN[,COLUMN]", help="default: none")
    one.add_argument("--saved", metavar="NAME", help="a breakdown that was saved, by name or file")
    one.add_argument("--save", metavar="NAME", help="save this breakdown under a name")
    one.add_argument("--to", type=Path, metavar="FILE", help="write it as .xlsx, .csv or .parquet, or one page of .pdf")
    one.add_argument("--json", action="store_true", help="print JSON")
    overwriting(one)

    one = command("trend", _trend, "Print how the filming of each practice went, game by game.")
    choosing(one, plays=False)

    one = command("report", _report, "Write the review report of each game into a folder.")
    choosing(one, plays=False)
    one.add_argument("--to", type=Path, required=True, metavar="DIR")
    one.add_argument("--form", choices=("html", "pdf"), default="html", help="default: %(default)s")

    one = command("sequence", _sequence,
                  "Join the plays that fit into one film (.mp4) or describe them (.otio, .edl, .vtt, .srt).")
    choosing(one)
    one.set_defaults(plays="all")
    handles(one)
    chosen_angles(one)
    one.add_argument("--to", type=Path, required=True, metavar="FILE")
    one.add_argument("--captions", action="store_true", help="game, situation and score below the picture")
    rendered_form(one)
    drawings(one)
    overwriting(one)


_PLAYS = {"called": "CALLED", "scrimmage": "SCRIMMAGE", "kicks": "KICKS", "all": "ALL"}


def _shelf(arguments: argparse.Namespace, anew: bool = False) -> Shelf:
    from .season.shelf import Shelf

    folders = [arguments.folder, *arguments.also]
    missing = [folder for folder in folders if not folder.is_dir()]
    if missing:
        raise Wrong(f"{missing[0]} is not a folder; name the folder of the games")
    shelf = Shelf(folders)
    shelf.update(counting_bar("reading games"), anew)
    for game in shelf.left_out:
        say(f"left out: {visible(str(game.path))}: {game.known.left_out}", file=sys.stderr)
    if not shelf.usable:
        raise Wrong(f"there are no games in {', '.join(map(str, folders))}")
    return shelf


def _chosen_games(shelf: Shelf, arguments: argparse.Namespace) -> list[Path]:
    """The files of the games that are named, all if none is."""
    if not arguments.games:
        return [game.path for game in shelf.usable]
    found, unknown = shelf.paths(arguments.games)
    if unknown:
        raise Wrong(f"{unknown[0]!r} names no game, or several; 'season {arguments.folder} games' lists them")
    return list(dict.fromkeys(found))


def _recipe(shelf: Shelf, arguments: argparse.Namespace) -> Recipe:
    from dataclasses import replace

    from .season.breakdown import Plays, Recipe
    from .season.saved import load

    saved = getattr(arguments, "saved", None)
    recipe = load(saved) if saved else Recipe(plays=Plays[_PLAYS[arguments.plays]])
    where = dict(recipe.where)
    for said in arguments.where:
        column, is_there, values = said.partition("=")
        if not is_there:
            raise Wrong(f"{said!r} says no value; say it like down=3")
        where[column.strip()] = names_in(values)
    us = arguments.us or recipe.definitions.us or shelf.likely_us()
    if arguments.us and arguments.us not in shelf.teams():
        raise Wrong(f"no game has a team {arguments.us!r}; there are {', '.join(shelf.teams())}")
    changed = {name: value for name in ("rows", "columns") if (value := getattr(arguments, name, None)) is not None}
    return replace(recipe, where=where, words=arguments.words or recipe.words,
                   definitions=replace(recipe.definitions, us=us), **changed)


def _plays(shelf: Shelf, arguments: argparse.Namespace) -> pd.DataFrame:
    from .season.breakdown import chosen

    recipe = _recipe(shelf, arguments)
    return chosen(shelf.frame(_chosen_games(shelf, arguments), said=bool(recipe.words)), recipe)


def _games(arguments: argparse.Namespace) -> int:
    shelf = _shelf(arguments)
    us = arguments.us or shelf.likely_us()
    print_table(["date", "game", f"{us} is" if us else "", "opponent" if us else "", "filmed by", "plays", "film",
                 "file"],
                [[game.known.date, game.name, game.where(us), game.opponent(us), game.known.crew,
                  str(game.known.plays), game.film, str(game.path)] for game in shelf.usable])
    return 1 if shelf.left_out else 0


def _index(arguments: argparse.Namespace) -> int:
    shelf = _shelf(arguments, anew=True)
    say(f"{len(shelf.usable)} games, {sum(game.known.plays for game in shelf.usable)} plays")
    return 1 if shelf.left_out else 0


def _columns(arguments: argparse.Namespace) -> int:
    from .season.definitions import meanings
    from .season.facts import OWN_WORD

    shelf = _shelf(arguments)
    words = [name.removeprefix(OWN_WORD) for name in shelf.frame().columns if name.startswith(OWN_WORD)]
    print_table(["column", "what it is"], [[name, meaning] for name, meaning in
                                           meanings({word: "one of the staff's own words" for word in words}).items()])
    return 0


def _find(arguments: argparse.Namespace) -> int:
    shelf = _shelf(arguments)
    plays = _plays(shelf, arguments)
    if arguments.json:
        told = plays.drop(columns="said", errors="ignore")
        say_json(json.loads(told.to_json(orient="records")))
        return 0
    names = {str(game.path): game.spoken for game in shelf.usable}
    print_table(["game", "play", "quarter", "clock", "offense", "down", "to gain", "play", "result"],
                [[names[str(row.game)], str(row.number), str(row.quarter), _clock(row.clock), str(row.offense),
                  _number(row.down), _number(round(row.yards_to_gain, 1)), str(row.kind), str(row.result)]
                 for row in plays.itertuples()])
    say(f"{len(plays)} plays in {plays['game'].nunique()} games")
    return 0


def _clock(seconds: Any) -> str:
    return spoken_clock(int(seconds)) if _number(seconds) else ""


def _number(value: Any) -> str:
    """A number that may be missing."""
    try:
        number = float(value)
    except TypeError:       # pandas' missing whole number
        return ""
    return "" if isnan(number) else f"{number:g}"


def _breakdown(arguments: argparse.Namespace) -> int:
    from dataclasses import replace

    from .delivery.breakdown_paper import write_breakdown
    from .delivery.breakdown_sheet import breakdown_sheet, write_breakdown_sheet
    from .season.breakdown import Breakdown
    from .season.saved import save

    if arguments.to and arguments.to.suffix.lower() not in (".csv", ".xlsx", ".parquet", ".pdf"):
        raise Wrong(f"{arguments.to.name}: a breakdown is written as .xlsx, .csv, .parquet or .pdf")
    shelf = _shelf(arguments)
    recipe = _recipe(shelf, arguments)
    if arguments.save:
        recipe = replace(recipe, name=arguments.save)
        say(f"saved as {save(recipe)}")
    games = _chosen_games(shelf, arguments)
    made = Breakdown(shelf.frame(games, said=bool(recipe.words)), recipe)
    if arguments.to:
        refuse_existing(arguments.to, arguments.overwrite)
        if arguments.to.suffix.lower() == ".pdf":
            names = {game.path: game.spoken for game in shelf.usable}
            say(write_breakdown(made, [names[path] for path in games], arguments.to))
        else:
            say(write_breakdown_sheet(made, arguments.to))
    elif arguments.json:
        say_json(json.loads(breakdown_sheet(made).to_json(orient="records")))
    else:
        _print(made)
    return 0


def _print(made: Breakdown) -> None:
    from .delivery.breakdown_plots import spoken_key
    from .season.breakdown import ALL, spoken_column

    say(made.recipe.spoken())
    head = " · ".join(map(spoken_column, made.recipe.rows)) or "all"
    lines = []
    for row in [*made.row_keys, ALL]:
        for column in [*made.column_keys, ALL] if made.recipe.columns else [ALL]:
            cell = made.cell(row, column)
            if cell.count:
                gain = "" if cell.mean_gain is None else f"{cell.mean_gain:.1f}"
                lines.append([spoken_key(row), *([spoken_key(column)] if made.recipe.columns else []), str(cell.count),
                              cell.run.spoken(), cell.success.spoken(), cell.explosive.spoken(), gain,
                              "" if cell.tells else "too few"])
    across = [" · ".join(map(spoken_column, made.recipe.columns))] if made.recipe.columns else []
    print_table([head, *across, "plays", "run, range", "success, range", "explosive, range", "mean gain", ""], lines)


def _trend(arguments: argparse.Namespace) -> int:
    from .season.games_trend import read_trend, spoken_share

    shelf = _shelf(arguments)
    found = read_trend(_chosen_games(shelf, arguments), counting_bar("checking games"))
    print_table(["practice", *found.games],
                [[name, *(" ".join(filter(None, (spoken_share(cell) if cell.share is not None else "", cell.words)))
                          for cell in cells)] for name, cells in found.rows])
    for line in found.left_out:
        say(f"left out: {line}", file=sys.stderr)
    return 1 if found.left_out else 0


def _report(arguments: argparse.Namespace) -> int:
    from .delivery.season_reports import write_reports

    shelf = _shelf(arguments)
    names = {game.path: game.spoken for game in shelf.usable}
    for written in write_reports([(path, names[path]) for path in _chosen_games(shelf, arguments)], arguments.to,
                                 counting_bar("writing reports"), suffix=f".{arguments.form}"):
        say(written)
    return 0


def _sequence(arguments: argparse.Namespace) -> int:
    from .delivery.sequence import SequenceRequest, write_sequence
    from .season.joined import join

    to, form = arguments.to, sequence_form(arguments.to)
    refuse_existing(to, arguments.overwrite)
    shelf = _shelf(arguments)
    plays = [(Path(row.game), int(row.play)) for row in _plays(shelf, arguments).itertuples() if row.filmed]
    if not plays:
        raise Wrong("no play that fits is on film, so there is nothing to write")
    made = join([path for path, _ in plays])
    angles, sound = arguments.angles, arguments.sound_of or ""
    unknown = made.unknown((*angles, *filter(None, [sound])))
    if unknown:
        raise Wrong(f"no angle of these games is called {unknown[0]!r}; there is {', '.join(made.angle_names)}")
    beside = in_one_picture(arguments)
    items = [item for path, play in plays if (item := made.item(
        path, play, angles, beside, sound, arguments.handles, arguments.inset)) is not None]
    if lacking := made.lacking(items, angles):
        say(f"{lacking}; each is shown as it was filmed", file=sys.stderr)
    request = SequenceRequest(made.game, made.steps, to.stem, items, form, arguments.captions, origins=made.origins,
                              **rendering_of(arguments))
    try:
        return tell_written(write_sequence(request, to, bar_for("rendering")))
    except ValueError as error:         # more events than the form holds
        raise Wrong(str(error)) from None
