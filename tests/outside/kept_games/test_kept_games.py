"""Real games go into a game file, a play sheet and JSON, and come out as they were.

Source of the plays: official play descriptions of 2009 to 2020 (see :mod:`tests.outside.real_games.games`).
"""

from __future__ import annotations

import csv
import io
from itertools import islice

import pytest

from tests.outside.real_games.convert import Converter
from tests.outside.real_games.games import every_game
from workstation.football.plays import Play
from workstation.football.rulebook import load_rulebook
from workstation.football.sheet import COLUMNS, write_rows
from workstation.tagging.exchange import read_json, write_json
from workstation.tagging.gamefile import GameFile
from workstation.tagging.model import Game, Heading, PlayTag
from workstation.tagging.operations import AddPlay
from workstation.tagging.records import Kind
from workstation.tagging.row_matching import match, take_in
from workstation.tagging.sheets import read_sheet


@pytest.fixture(scope="module")
def real_games() -> list[tuple[int, list[Play]]]:
    """Season and plays of every 250th game."""
    games = []
    for game in islice(every_game(2009, 2019), 0, None, 250):
        converter = Converter(game)
        games.append((game.season, [told.play for row in game.rows if (told := converter.convert(row))]))
    assert len(games) >= 8
    assert min(len(plays) for _, plays in games) > 100
    return games


def said(game: Game) -> list[Play]:
    return [tag.play for tag in game.plays]


def test_tagged_one_by_one_they_are_kept(real_games, tmp_path):
    for number, (_, plays) in enumerate(real_games[:4]):
        path = tmp_path / f"{number}.game"
        with GameFile.create(path) as file:
            for play in plays:
                file.do(AddPlay(play))
        with GameFile.open(path) as file:
            assert said(file.game) == plays
            while file.undo():
                pass
            assert said(file.game) == []


def test_they_come_back_through_json(real_games, tmp_path):
    for _, plays in real_games:
        tags = tuple(PlayTag(number, float(number), play) for number, play in enumerate(plays, 1))
        game = Game(Heading(rulebook="professional"), plays=tags)
        write_json(game, tmp_path / "game.json")
        assert read_json(tmp_path / "game.json") == game


def test_they_come_in_from_a_play_sheet(real_games, tmp_path):
    for number, (season, plays) in enumerate(real_games):
        rulebook = load_rulebook("professional", season)
        text = io.StringIO(newline="")
        sheet = csv.DictWriter(text, COLUMNS)
        sheet.writeheader()
        sheet.writerows(write_rows(plays, rulebook))
        path = tmp_path / f"{number}.csv"
        path.write_text(text.getvalue(), encoding="utf-8")
        rows = read_sheet(path, rulebook)
        with GameFile.create(tmp_path / f"{number}.game") as file:
            file.do(take_in(file.game, rows, match(rows, ()).shot_of, file.next_id(Kind.PLAY)))
            assert said(file.game) == plays
