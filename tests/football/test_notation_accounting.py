"""The second look at certain readings: it agrees with right ones and notices plays that were distorted."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import replace

import pytest

from tests.outside.rulebook_cases.test_rulebook_cases import situation
from tests.outside.spoken_lines.test_spoken_lines import CASES
from tests.outside.spoken_lines.wrong_plays import measure
from workstation.football.field import Team
from workstation.football.notation import Answer, Custom, read
from workstation.football.notation.accounting import unaccounted
from workstation.football.notation.line import Line
from workstation.football.plays import Play
from workstation.football.rulebook import load_rulebook

US = Custom(us=Team.HOME)
LEAST_NOTICED = {"gain": 0.98, "event side": 0.95, "kick_to side": 0.98, "score gone": 0.97, "foul gone": 0.97}
"""Of each kind of distortion, the share that must be noticed: a little less than what is."""
MOST_TICKED = 0.02
"""Of all plays with one thing changed, the share that may keep the tick; 65 % before facts were asked for their words."""


def distorted(play: Play, length: float) -> Iterator[tuple[str, Play]]:
    """The play with one thing of it lost, moved to the other side of the field or changed, each with what was done."""
    if play.gain is not None:
        yield "gain", replace(play, gain=play.gain + 7)
    if play.kick_to is not None and abs(play.kick_to - length / 2) > 1:
        yield "kick_to side", replace(play, kick_to=length - play.kick_to)
    if play.score is not None:
        yield "score gone", replace(play, score=None)
    for place, event in enumerate(play.events):
        if event.spot is not None and abs(event.spot - length / 2) > 1:
            moved = replace(event, spot=length - event.spot)
            yield "event side", replace(play, events=(*play.events[:place], moved, *play.events[place + 1 :]))
    for place in range(len(play.fouls)):
        yield "foul gone", replace(play, fouls=play.fouls[:place] + play.fouls[place + 1 :])


def test_distorted_plays_are_noticed_and_right_ones_hardly_ever():
    noticed, total = Counter(), Counter()
    for _, case in CASES:
        book = load_rulebook(case["rulebook"], case.get("season"))
        before = situation(case["before"], book, case)
        entry = read(case["line"], before, book, US)
        if entry.answer is not Answer.CERTAIN:
            continue
        line = Line(case["line"], before, book, US)
        assert not unaccounted(line, entry.draft, entry.play), case["line"]
        for what, play in distorted(entry.play, book.field_length):
            total[what] += 1
            noticed[what] += bool(unaccounted(line, entry.draft, play))
    assert sum(total.values()) > 500
    assert {what: round(noticed[what] / total[what], 2) for what in total if noticed[what] < LEAST_NOTICED[what] * total[what]} == {}


def test_plays_with_one_thing_changed_hardly_ever_keep_the_tick():
    made, ticked, _, lines = measure()
    assert lines > 2000 and sum(made.values()) > 30000
    assert sum(ticked.values()) <= MOST_TICKED * sum(made.values()), ticked.most_common(5)


@pytest.mark.parametrize("text", ["run for", "run for 6, holding on the", "keeper for a", "touchdown run of"])
def test_a_line_that_ends_on_a_word_that_announces_something_is_never_certain(text):
    book = load_rulebook("nfhs")
    before = situation("2nd & 8 at own 30", book, {})
    assert read(text, before, book, US).answer is not Answer.CERTAIN


@pytest.mark.parametrize("text", ["run 6, maybe 7", "punt to opp 20, not downed", "run for 6 or a pass for 6"])
def test_words_that_leave_open_are_never_certain(text):
    book = load_rulebook("nfhs")
    before = situation("4th & 8 at own 30", book, {})
    assert read(text, before, book, US).answer is not Answer.CERTAIN
