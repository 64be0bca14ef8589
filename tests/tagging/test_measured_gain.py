"""What is said of yards that were measured, and what is taken of them."""

from __future__ import annotations

import pytest

from workstation.football.field import Team
from workstation.football.plays import BallEvent, EventKind, Outcome, Play, PlayKind, Score
from workstation.football.rulebook import load_rulebook
from workstation.football.situation import Next, Situation
from workstation.football.tracker import fold
from workstation.tagging.measured_gain import measured_gain, takes_gain, told_of_spot, with_gain

BOOK = load_rulebook("nfhs")


def step(play: Play, to_gain: float | None = 10.0):
    return fold(BOOK, Situation(Next.SCRIMMAGE, Team.HOME, 2, to_gain, 36.0), play)


def test_a_gain_is_told_with_its_error_and_its_tag():
    told = measured_gain(step(Play(PlayKind.RUN, gain=7)), 6.5, 0.4, goes_right=True).told
    assert told[0] == "6.5 yards, give or take 0.4; tagged: 7"
    assert told[1] == "The tag fits what is seen."
    assert told[2].startswith("Short of the line to gain by 3.5 yards, give or take 0.6")


def test_a_play_without_a_gain_says_so_and_is_not_held_against_the_line_to_gain():
    told = measured_gain(step(Play(PlayKind.PASS, Outcome.INCOMPLETE)), 14.2, 0.2, goes_right=True).told
    assert told == ("14.2 yards, give or take 0.2", "The play as it is tagged has no gain that could be set.")


def test_an_offense_that_goes_left_gains_to_the_left():
    assert measured_gain(step(Play(PlayKind.RUN, gain=7)), -6.5, 0.4, goes_right=False).gain == 6.5
    assert measured_gain(step(Play(PlayKind.RUN, gain=-3)), 3.2, 0.4, goes_right=False).told[0] == (
        "A loss of 3.2 yards, give or take 0.4; tagged: -3")


def test_where_nobody_said_which_way_the_offense_goes_the_tag_says_it():
    assert measured_gain(step(Play(PlayKind.PASS, Outcome.COMPLETE, gain=50)), -49.8, 0.4, None).gain == 49.8
    assert measured_gain(step(Play(PlayKind.SACK, gain=-7)), 6.5, 0.4, None).gain == -6.5
    assert measured_gain(step(Play(PlayKind.RUN)), -3.0, 0.4, None).gain == 3.0
    assert told_of_spot(-0.7, 0.5, None) == "To the left of the line by 0.7 yards, give or take 0.5."


def test_a_tag_that_the_error_does_not_explain_is_named():
    told = measured_gain(step(Play(PlayKind.RUN, gain=9)), 6.5, 0.4, goes_right=True).told
    assert told[1] == "The tag does not fit: 2.5 yards apart, more than the error explains."


@pytest.mark.parametrize(("yards", "close"), [(9.3, False), (9.6, True), (10.3, True), (11.0, False)])
def test_what_the_error_covers_is_too_close_to_say(yards, close):
    line = measured_gain(step(Play(PlayKind.RUN, gain=9)), yards, 0.3, goes_right=True).told[-1]
    assert ("too close to say" in line) is close
    assert line.startswith("Beyond" if yards > 10 else "Short of")


def test_a_distance_that_was_measured_on_is_not_rounded():
    assert measured_gain(step(Play(PlayKind.RUN, gain=9), 9.5), 9.0, 0.3, goes_right=True).beyond_error == 0.3
    assert measured_gain(step(Play(PlayKind.RUN, gain=9), 9.0), 9.0, 0.3, goes_right=True).beyond_error > 0.5


def test_a_spot_beside_a_line():
    assert told_of_spot(-0.7, 0.5, goes_right=True) == "Short of the line by 0.7 yards, give or take 0.5."
    assert told_of_spot(-0.3, 0.5, goes_right=True) == (
        "Short of the line by 0.3 yards, give or take 0.5: too close to say.")
    assert told_of_spot(-1.0, 0.0, goes_right=False) == "Beyond the line by 1.0 yard, give or take 0.1."


@pytest.mark.parametrize(("play", "takes"), [
    (Play(PlayKind.RUN, gain=7), True), (Play(PlayKind.PASS, Outcome.COMPLETE, gain=7), True),
    (Play(PlayKind.SACK, gain=-7), True), (Play(PlayKind.PASS, Outcome.INCOMPLETE), False),
    (Play(PlayKind.PUNT, kick_to=80), False), (Play(PlayKind.RUN, gain=7, score=Score.TOUCHDOWN), False),
    (Play(PlayKind.RUN, gain=7, events=(BallEvent(EventKind.FUMBLE),)), False), (Play(PlayKind.RUN, spot=43), False)])
def test_only_a_gain_that_is_one_number_is_taken(play, takes):
    assert takes_gain(play) is takes
    if takes:
        assert with_gain(play, 6.5499).gain == 6.5
    else:
        with pytest.raises(ValueError, match="has no gain to set"):
            with_gain(play, 6.5)
