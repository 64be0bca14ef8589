"""Breakdowns against totals counted by hand from season_games.py."""

from __future__ import annotations

import json

import numpy as np
import pandas as pd
import pytest

from tests.season.season_games import DRIVE, game
from tests.season.test_facts import frame_for
from workstation.football.plays import Play, PlayKind
from workstation.season.breakdown import ALL, Breakdown, Plays, Recipe, Share, chosen, spoken_value
from workstation.season.definitions import Definitions
from workstation.season.faults import DefinitionError
from workstation.season.interval import wilson


def frame(plays=None):
    return frame_for(game(plays)).assign(game="a")


def test_wilson_against_published_values():
    """Newcombe, Statistics in Medicine 17 (1998), table I, method 3 (score, without continuity correction):
    81 of 263: 0.2553 to 0.3662; 15 of 148: 0.0624 to 0.1605; 0 of 20: 0 to 0.1611; 1 of 29: 0.0061 to 0.1718."""
    for hits, of, low, high in ((81, 263, 0.2553, 0.3662), (15, 148, 0.0624, 0.1605), (0, 20, 0, 0.1611),
                                (1, 29, 0.0061, 0.1718)):
        assert wilson(hits, of) == pytest.approx((low, high), abs=5e-5)


def test_the_drive_by_down():
    made = Breakdown(frame(), Recipe(rows=("down",)))
    assert made.row_keys == [("1",), ("2",), ("3",)]
    first, second, third = (made.cell((down,)) for down in "123")
    assert (first.count, first.runs, first.passes, first.mean_gain, first.median_gain, first.successes) == (
        2, 2, 0, 3.5, 3.5, 1)
    assert (second.count, second.runs, second.passes, second.mean_gain, second.successes) == (2, 0, 2, -2.5, 0)
    assert (third.count, third.mean_gain, third.successes, third.converted) == (2, 8.0, 1, 1)
    whole = made.cell()
    assert (whole.count, whole.run, whole.explosives) == (6, Share(2, 6, 10), 0)
    assert not whole.tells and whole.spoken().endswith("too few to tell")


def test_a_cell_knows_its_plays():
    made = Breakdown(frame(), Recipe(rows=("down",), columns=("run_pass_kick",)))
    assert made.plays(("3",), ("pass",))["number"].tolist() == [5, 8]
    assert made.plays(("3",))["number"].tolist() == [5, 8]
    assert made.plays(ALL, ("run",))["number"].tolist() == [3, 6]
    assert made.plays(("3",), ("run",)).empty and made.cell(("3",), ("run",)).count == 0


def test_totals_are_the_sums_of_their_cells():
    rng = np.random.default_rng(3)
    plays = [Play(PlayKind.RUN if rng.random() < 0.5 else PlayKind.SACK, gain=float(rng.integers(-4, 4)))
             for _ in range(60)]
    made = Breakdown(frame(plays), Recipe(rows=("down", "distance"), columns=("zone",), plays=Plays.SCRIMMAGE))
    assert sum(made.cell(row).count for row in made.row_keys) == made.cell().count == len(made.frame)
    for row in made.row_keys:
        assert sum(made.cell(row, column).count for column in made.column_keys) == made.cell(row).count
        assert all(made.cell(row, column).count == len(made.plays(row, column)) for column in made.column_keys)


def test_kneels_and_spikes_only_where_they_are_asked_for():
    plays = frame([*DRIVE[:1], Play(PlayKind.KNEEL, gain=-1)])
    assert Breakdown(plays, Recipe()).cell().count == 1
    assert Breakdown(plays, Recipe(plays=Plays.SCRIMMAGE)).cell().count == 2
    assert Breakdown(plays, Recipe(plays=Plays.KICKS)).cell().count == 1


def test_filters_and_words():
    assert Breakdown(frame(), Recipe(where={"down": ("2", "3")})).cell().count == 4
    assert Breakdown(frame(), Recipe(where={"down": ("3",), "success": ("yes",)})).cell().count == 1
    assert len(chosen(frame(), Recipe(words="gain of 9"))) == 1


def test_success_is_what_the_staff_says():
    half = Recipe(rows=("down",), definitions=Definitions(success=(0.3, 0.5, 1)))
    assert Breakdown(frame(), half).cell(("1",)).successes == 2


def test_an_unknown_column_is_refused_by_name():
    with pytest.raises(DefinitionError, match="weather"):
        Breakdown(frame(), Recipe(rows=("weather",)))


def test_a_recipe_comes_back_from_its_file():
    recipe = Recipe("third downs", ("down",), ("zone",), {"down": ("3",)}, "screen", Plays.SCRIMMAGE,
                    Definitions(distances=(2, 5), us="Harbor"))
    assert Recipe.of_json(json.loads(json.dumps(recipe.as_json()))) == recipe
    for wrong in ({}, {"name": 1}, {**recipe.as_json(), "plays": "some"},
                  {**recipe.as_json(), "definitions": {"few": 0}}, {**recipe.as_json(), "where": [1]}):
        with pytest.raises(DefinitionError):
            Recipe.of_json(wrong)


def test_nothing_to_count():
    empty = frame().iloc[:0]
    made = Breakdown(empty, Recipe(columns=("zone",)))
    assert made.row_keys == [] and made.cell().count == 0 and made.cell().spoken() == "no plays"


@pytest.mark.parametrize(("value", "said"), [(True, "yes"), (3.0, "3"), (2.5, "2.5"), ("trips", "trips")])
def test_values_are_spoken(value, said):
    assert spoken_value(value) == said


def test_categories_and_texts_count_alike():
    plays = frame()
    words = ("offense", "kind", "run_pass_kick", "next")
    coded = plays.assign(**{name: plays[name].astype("category") for name in words})
    one, other = (Breakdown(each, Recipe(rows=("kind",))) for each in (plays, coded))
    assert one.row_keys == other.row_keys and one.cells == other.cells
    assert isinstance(coded["kind"].dtype, pd.CategoricalDtype)
