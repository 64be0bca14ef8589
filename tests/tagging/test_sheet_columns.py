"""Which headings ask nothing, and what is proposed for the others. Expectations: common practice, no source."""

from __future__ import annotations

import pytest

from workstation.delivery.sheets import plays_sheet
from workstation.football.rulebook import load_rulebook
from workstation.football.sheet import COLUMNS
from workstation.football.tracker import track
from workstation.tagging.gamefile import GameFile
from workstation.tagging.sheet_columns import OWN_WORD, ColumnMatching, SheetCells


def matching(*headings, rows=(), own=None):
    return ColumnMatching.proposed(SheetCells("a sheet", headings, tuple(rows)), own)


def test_the_sheet_that_we_write_asks_nothing(demo_game_file):
    with GameFile.open(demo_game_file) as file:
        game = file.game
    steps = track(load_rulebook(game.heading.rulebook, game.heading.season), [tag.play for tag in game.plays])
    headings = tuple(plays_sheet(game, steps).columns)
    own = {word.name for word in game.vocabulary.words}
    found = matching(*headings, rows=[tuple("x" for _ in headings)], own=own)
    assert found.is_clear
    taken = [column for column in found.columns if column and column != OWN_WORD]
    assert taken == [name for name in headings if name in COLUMNS]


@pytest.mark.parametrize(("headings", "columns"), [
    (("Type", "Yards", "Penalty"), ("kind", "gain", "fouls")),
    (("kind", "Result"), ("kind", "outcome")),
    (("kind", "outcome", "Result"), ("kind", "outcome", None)),
    (("Play", "Yards Gained", "Weather"), ("kind", "gain", None)),
    (("play", "kind"), (None, "kind")),
    (("Call", "Time left"), ("line", "clock")),
    (("kind", "type"), ("kind", None)),
])
def test_near_headings_are_proposed_once_each(headings, columns):
    assert matching(*headings).columns == columns


def test_what_is_proposed_or_left_out_asks_first():
    assert not matching("Type", "Yards").is_clear
    assert not matching("kind", "Weather").is_clear
    assert not matching("kind", "", rows=[("run", "blitz")]).is_clear
    assert matching("kind", "", rows=[("run", "")]).is_clear
    assert matching("Kind", "Kick to", "set down", "shot").is_clear


def test_an_unread_cell_is_mended_where_it_stands_and_the_sheet_stays_as_it_is():
    cells = SheetCells("a sheet", ("kind", "gain"), (("run", "4"), ("run", "six")))
    found = ColumnMatching.proposed(cells).with_cell(1, 1, "6")
    assert [row.play.gain for row in found.read(load_rulebook("nfhs"))] == [4, 6]
    assert cells.rows[1][1] == "six"


def test_headings_of_own_words_ask_nothing_and_others_are_kept_as_such():
    cells = SheetCells("a sheet", ("kind", "Formation", "wind", "down", "empty"), (("run", "trips", "cross", "1", ""),))
    found = ColumnMatching.proposed(cells, ["formation", "play call"])
    assert found.columns == ("kind", "own word", "own word", None, None) and not found.is_clear     # "wind" is new
    row, = found.read(load_rulebook("nfhs"))
    assert row.others == {"Formation": "trips", "wind": "cross"}
    assert found.with_column(2, None).read(load_rulebook("nfhs"))[0].others == {"Formation": "trips"}
    known = SheetCells("a sheet", ("kind", "play_call"), (("run", "iz"),))
    assert ColumnMatching.proposed(known, ["formation", "play call"]).is_clear
