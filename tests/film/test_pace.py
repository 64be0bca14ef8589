"""Counting the pictures that a player shows. Expected by hand: 60 a second for 5 s, all, every other one, too few."""

from __future__ import annotations

import pytest

from workstation.film.playback.pace import Pace


def run(every: float, seconds: float = 6.0) -> list[float]:
    pace = Pace()
    pace.begin()
    return [told for number in range(round(seconds / every))
            if (told := pace.shown(100 + number * every, 60.0)) is not None]


def test_a_player_that_keeps_up_is_not_spoken_of():
    assert run(1 / 60) == [] and run(1 / 50) == []


@pytest.mark.parametrize(("a_second", "share"), [(30, 0.5), (20, 1 / 3), (12, 0.2)])
def test_too_small_a_share_is_told_once(a_second, share):
    assert run(1 / a_second) == [pytest.approx(share, rel=0.05)]


def test_a_short_look_says_nothing():
    assert run(1 / 10, seconds=3) == []


def test_what_came_before_a_seek_does_not_count():
    pace = Pace()
    pace.begin()
    for number in range(30):
        assert pace.shown(number / 10, 60.0) is None
    pace.begin()
    assert [pace.shown(50 + number / 60, 60.0) for number in range(300)] == [None] * 300


def test_a_player_that_shows_nothing_more_is_told_too():
    pace = Pace()
    pace.begin()
    assert pace.judged(9, 60.0) is None         # nothing was shown: playing has not begun
    assert pace.shown(10, 60.0) is None and pace.judged(13, 60.0) is None
    assert pace.judged(14, 60.0) == 0
