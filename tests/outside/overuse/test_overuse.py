"""Guard against overuse: on real games a marker is expected about as often as a good crew shows one.

Source of the plays: official play descriptions (see :mod:`.seasons`). That a good crew shows the
marker for a handful to some twenty snaps a game, nearly always after penalties, near the line to
gain and after breaks, is common practice, no source.
"""

from __future__ import annotations

import pytest

from tests.outside.overuse.seasons import official_steps, real_games, watch_games
from workstation.coverage.finding import Cause


@pytest.fixture(scope="module")
def overuse():
    return watch_games(real_games(2009, 2019, every=48))


def test_a_marker_is_expected_for_a_handful_to_some_twenty_snaps(overuse):
    assert len(overuse.markers) > 50
    assert 8 <= overuse.per_game <= 20
    assert overuse.within(5, 25) >= 0.9


def test_nearly_all_of_them_come_after_penalties_near_the_line_to_gain_and_after_breaks(overuse):
    assert overuse.share(Cause.PENALTY, Cause.NEAR_LINE_TO_GAIN, Cause.BREAK) >= 0.9
    assert min(overuse.share(cause) for cause in (Cause.PENALTY, Cause.NEAR_LINE_TO_GAIN, Cause.BREAK)) >= 0.1


def test_nothing_is_missing_from_a_film_of_every_play():
    """The guard would say nothing if the conversion lost plays: the viewer would then see gaps instead."""
    causes = watch_games(real_games(2011, 2011, every=32)).causes
    assert causes[Cause.MISSING_PLAY] == 0
    steps = official_steps(next(real_games(2011, 2011)))
    assert len(steps) > 150
