"""Matching the shots of two cameras: evenings made up with a known truth, each play right or left open, none wrong."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import numpy as np
import pytest

from tests.tagging.two_cameras import ANGLE, Evening
from workstation.cancelling import Cancelled
from workstation.film.mono_sound import RATE
from workstation.film.sound_alignment import lag_of, trace_of
from workstation.tagging.angle_matching import propose
from workstation.tagging.angles import ties_of
from workstation.tagging.model import Evidence, Match

ONE_PICTURE = 1001 / 30000
WITHOUT_SOUND = 0.25

WITH_SOUND = {
    "nothing special": dict(seed=1),
    "missed plays": dict(seed=2, missed=(4, 9)),
    "a shot through two plays": dict(seed=3, missed=(3,), joined=(6,)),
    "wind on one microphone": dict(seed=4, wind=3),
    "a storm on one microphone": dict(seed=5, wind=10, missed=(2,)),
    "a clock hours off": dict(seed=10, offset=-7213.0, joined=(2, 8)),
    "no clock": dict(seed=8, clocks=False, missed=(1, 14)),
    "no clock, wind, missed and joined": dict(seed=13, clocks=False, wind=4, missed=(1, 7), joined=(10,)),
    "a quarter of an hour, drifting": dict(seed=11, plays=24, missed=(10, 11), joined=(20,), drift=120e-6),
    "most plays missed": dict(seed=14, missed=(1, 2, 3, 5, 6, 7, 9, 10, 12)),
}
ONLY_CLOCKS = {
    "one camera deaf": dict(seed=6, heard=(True, False), snaps=True),
    "both cameras deaf": dict(seed=7, heard=(False, False), snaps=True, missed=(5,)),
    "deaf, hours off": dict(seed=15, heard=(False, False), snaps=True, offset=4321.0, missed=(2, 11)),
}



@cache
def evening_called(name: str) -> Evening:
    """The evening of that name, made once."""
    return Evening(**(WITH_SOUND | ONLY_CLOCKS)[name])


def judged(evening: Evening, matches: tuple[Match, ...]) -> tuple[int, list[Match]]:
    """How many of the matches are right, and those that are wrong."""
    wrong = [match for match in matches if evening.truth.get(match.play) != match.shot]
    return len(matches) - len(wrong), wrong


def worst_tie(evening: Evening, matches: tuple[Match, ...]) -> float:
    """Seconds by which the ties are off, at most."""
    ties = ties_of(replace(evening.game, matches=matches), ANGLE)
    return max(abs(float(ties[match.play].further - ties[match.play].first) - evening.same[match.play])
               for match in matches)


@pytest.mark.parametrize("name", WITH_SOUND)
def test_what_both_heard_matches_every_play_to_a_picture(name):
    evening = evening_called(name)
    found = propose(evening.game, ANGLE, evening.traces)
    right, wrong = judged(evening, found.matches)
    assert (right, wrong) == (len(evening.truth), [])
    assert set(found.open) == {tag.id for tag in evening.game.plays} - evening.truth.keys()
    assert worst_tie(evening, found.matches) <= ONE_PICTURE


@pytest.mark.parametrize("name", ONLY_CLOCKS)
def test_without_sound_clocks_match_and_snaps_tie(name):
    evening = evening_called(name)
    found = propose(evening.game, ANGLE, evening.traces)
    right, wrong = judged(evening, found.matches)
    assert (right, wrong) == (len(evening.truth), [])
    assert {match.evidence for match in found.matches} == {Evidence.CLOCK}
    assert worst_tie(evening, found.matches) <= WITHOUT_SOUND


def test_a_tie_by_clocks_alone_says_how_far_it_may_be_off():
    evening = Evening(seed=6, heard=(True, False))
    found = propose(evening.game, ANGLE, evening.traces)
    assert judged(evening, found.matches) == (len(evening.truth), [])
    assert worst_tie(evening, found.matches) <= min(match.uncertainty for match in found.matches)


@pytest.mark.parametrize("made", [dict(seed=9, clocks=False, heard=(True, False)),
                                  dict(seed=12, heard=(False, False), clocks=False, snaps=True)],
                         ids=["one deaf", "both deaf"])
def test_without_sound_and_clock_every_play_is_left_open(made):
    evening = Evening(**made)
    found = propose(evening.game, ANGLE, evening.traces)
    assert found.matches == () and found.clock is None
    assert set(found.open) == {tag.id for tag in evening.game.plays}


@pytest.mark.parametrize("seeds", [(21, 22), (23, 24), (25, 26)])
def test_files_of_another_game_match_nothing(seeds):
    """The further camera's files are another evening's: other sound, and other starts and stops."""
    here, elsewhere = Evening(seed=seeds[0]), Evening(seed=seeds[1], plays=17)
    mixed = replace(here.game, angles=elsewhere.game.angles)
    traces = {id: trace for id, trace in here.traces.items() if id.startswith("s")}
    traces |= {id: trace for id, trace in elsewhere.traces.items() if id.startswith("e")}
    assert propose(mixed, ANGLE, traces).matches == ()


def test_what_a_person_matched_stays_and_bounds_the_rest():
    evening = Evening(seed=2, missed=(4, 9))
    said = Match(ANGLE, 4, 2, None)        # a person insists that the second shot films play 4
    found = propose(replace(evening.game, matches=(said,)), ANGLE, evening.traces)
    by_play = {match.play: match for match in found.matches}
    assert by_play[4] is said
    shots = [by_play[play].shot for play in sorted(by_play)]
    assert shots == sorted(shots)
    assert 3 not in by_play                # its shot comes after the one that the person gave to play 4


def test_matching_can_be_stopped_and_tells_how_far_it_is():
    evening, told = Evening(seed=1, plays=6), []
    propose(evening.game, ANGLE, evening.traces, progress=told.append)
    assert told == sorted(told) and told[-1] == 1.0
    with pytest.raises(Cancelled):
        propose(evening.game, ANGLE, evening.traces, cancelled=lambda: True)


def test_the_drift_of_a_clock_is_told():
    evening = evening_called("a quarter of an hour, drifting")
    line = propose(evening.game, ANGLE, evening.traces).clock
    assert line is not None and line.offset == pytest.approx(3.4, abs=0.7)


@pytest.mark.parametrize("late", [-4.2, -0.7331, 0.0, 1.25, 6.004])
def test_a_lag_is_found_to_a_few_thousandths_of_a_second(late):
    chance = np.random.default_rng(5)
    sound = chance.standard_normal(30 * RATE).astype(np.float32)
    sound *= np.interp(np.arange(30 * RATE) / RATE, np.arange(31), chance.uniform(0.05, 1, 31)).astype(np.float32)
    begin = round(8 * RATE)
    lag = lag_of(trace_of(sound[begin:begin + 12 * RATE]),
                 trace_of(sound[begin + round(late * RATE):begin + round(late * RATE) + 10 * RATE]))
    assert lag.seconds == pytest.approx(late, abs=0.005)


def test_silence_and_scraps_have_no_lag():
    trace = trace_of(np.random.default_rng(1).standard_normal(10 * RATE).astype(np.float32))
    assert lag_of(trace, trace_of(np.zeros(10 * RATE, np.float32))) is None
    assert lag_of(trace, trace[:50]) is None
    assert lag_of(trace, trace_of(np.zeros(0, np.float32))) is None
