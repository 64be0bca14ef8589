"""A short run of :mod:`.hostile`."""

from __future__ import annotations

from tests.tagging.hostile import attack


def test_game_files_that_say_what_cannot_be_end_in_words_or_in_a_right_result():
    counted, losses = attack(120, 20)
    assert not losses, losses[0]
    assert counted["right"] > 50 and counted["refused"] > 300
