"""Guard against overuse: on real games a marker is expected about as often as a good crew shows one.

Source of the plays: official play descriptions (see :mod:`.seasons`). That a good crew shows the
marker for a handful to some fifteen snaps a game, nearly always after penalties, near the line to
gain and after breaks, is common practice, no source.
"""

from __future__ import annotations

import pytest

from tests.outside.overuse.seasons import filmed, official_steps, real_games, watch_games
from workstation.coverage.checker import check
from workstation.coverage.finding import Cause
from workstation.coverage.profile import load_profile
from workstation.football.rulebook import load_rulebook


@pytest.fixture(scope="module")
def overuse():
    return watch_games(real_games(2009, 2019, every=48))


def test_a_marker_is_expected_for_a_handful_to_some_fifteen_snaps(overuse):
    assert len(overuse.markers) > 50
    assert 5 <= overuse.per_game <= 15.5
    assert overuse.within(5, 25) >= 0.9


def test_nearly_all_of_them_come_after_penalties_near_the_line_to_gain_and_after_breaks(overuse):
    assert overuse.share(Cause.PENALTY, Cause.NEAR_LINE_TO_GAIN, Cause.BREAK) >= 0.9
    assert min(overuse.share(cause) for cause in (Cause.PENALTY, Cause.NEAR_LINE_TO_GAIN)) >= 0.1
    assert 0.02 <= overuse.share(Cause.BREAK) <= 0.1, "the end of a period; a timeout is cut from the film"


def test_hardly_a_play_is_missing(overuse):
    """The guard would say nothing if the conversion lost plays: the viewer would then see gaps instead.
    The account itself leaves out a play now and then, and there the viewer is rightly unsure."""
    assert overuse.share(Cause.MISSING_PLAY) < 0.01
    assert overuse.snaps / len(overuse.markers) > 130


def test_a_crew_that_does_as_it_is_told_hears_no_more():
    """Showing the marker wherever it was expected leaves nothing expected, and none of it is overuse."""
    profile = load_profile(folders=())
    for game in real_games(2012, 2014, every=64):
        steps, rulebook = official_steps(game), load_rulebook("professional", game.season)
        told = {finding.play for finding in check(filmed(steps), steps, profile, rulebook).findings
                if finding.rule == "marker shot expected"}
        after = [finding.rule for finding in check(filmed(steps, told), steps, profile, rulebook).findings]
        assert told
        assert "marker shot expected" not in after
        assert "marker shot not needed" not in after
