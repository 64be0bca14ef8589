"""The page about the index lists what is in it."""

from __future__ import annotations

import re
from dataclasses import fields
from pathlib import Path

from workstation.season.facts import COLUMNS
from workstation.season.index import IndexedGame

PAGE = (Path(__file__).parents[2] / "resources" / "season_index.md").read_text(encoding="utf-8")


def test_every_column_of_plays_stands_there_with_its_meaning():
    for column in COLUMNS:
        assert f"| `{column.name}` | {column.sort}" in PAGE and column.meaning in PAGE


def test_every_column_of_games_stands_there():
    games = PAGE[PAGE.index("## games.parquet"):PAGE.index("## plays")]
    assert {each.name for each in fields(IndexedGame)} <= set(re.findall(r"`(\w+)`", games))
