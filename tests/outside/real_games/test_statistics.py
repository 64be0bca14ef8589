"""Every sixteenth regular-season game of 2009 to 2013: plays counted by their facts against the data's own statistics.

All 1,280: ``python -m tests.outside.real_games.statistics 2009 2013``; the last run is in statistics_2009_2013.txt.
"""

from __future__ import annotations

import pytest

from .games import game_ids, read_game
from .statistics import COUNTS, compare


@pytest.fixture(scope="module")
def compared():
    return compare(read_game(eid, season) for eid, season in game_ids(2009, 2013)[::16])


@pytest.mark.parametrize("name", COUNTS)
def test_what_is_counted_is_what_the_scorer_counted(compared, name):
    assert compared.counted[name] > 300
    assert compared.summed(name) >= 0.99, compared.differ[name]


@pytest.mark.parametrize("name", COUNTS)
def test_nearly_every_team_game_agrees(compared, name):
    assert compared.share(name) >= 0.985, compared.why
