from __future__ import annotations

import json
from dataclasses import dataclass, make_dataclass
from enum import StrEnum
from fractions import Fraction
from pathlib import Path
from typing import NamedTuple

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from workstation.football.plays import Play, PlayKind
from workstation.tagging.serialise import Unreadable, from_plain, to_plain, unreadable

UNHURRIED = settings(deadline=None)  # a slow machine is no failure


class Colour(StrEnum):
    RED = "red"
    BLUE = "blue"


class Point(NamedTuple):
    x: str
    y: int


@dataclass(frozen=True)
class Inner:
    colour: Colour
    share: float = 0.5


@dataclass(frozen=True)
class Everything:
    text: str
    whole: int
    number: float
    truth: bool
    rate: Fraction
    path: Path
    point: Point
    inner: Inner
    words: frozenset[Colour] = frozenset()
    many: tuple[Inner, ...] = ()
    pair: tuple[float, float] = (0, 0)
    maybe: Inner | None = None


def everything():
    numbers = st.floats(-1e299, 1e299)
    inner = st.builds(Inner, st.sampled_from(Colour), numbers)
    return st.builds(
        Everything,
        text=st.text(),
        whole=st.integers(-(2**63) + 1, 2**63 - 1),
        number=numbers,
        truth=st.booleans(),
        rate=st.fractions(max_denominator=10**6),
        path=st.sampled_from([Path("a/b.mp4"), Path("../c"), Path("/d/e f")]),
        point=st.builds(Point, st.text(), st.integers(-1000, 1000)),
        inner=inner,
        words=st.frozensets(st.sampled_from(Colour)),
        many=st.lists(inner).map(tuple),
        pair=st.tuples(numbers, numbers),
        maybe=st.none() | inner,
    )


@UNHURRIED
@given(everything())
def test_values_come_back_the_same_through_json(value):
    assert from_plain(Everything, json.loads(json.dumps(to_plain(value)))) == value


@UNHURRIED
@given(st.from_type(Play))
def test_any_play_comes_back_the_same_or_is_known_not_to(play):
    if not unreadable(Play, play):
        assert from_plain(Play, json.loads(json.dumps(to_plain(play), allow_nan=False))) == play


@pytest.mark.parametrize(
    ("play", "said"),
    [
        (Play(PlayKind.RUN, gain=float("nan")), "gain: expected a number"),
        (Play(PlayKind.RUN, gain="4"), "gain: expected a number"),
        (Play("dance"), "not what it should be"),
        (Play(PlayKind.RUN, clock=2**70), "clock: expected a whole number"),
        (Play(PlayKind.RUN, comment="half \ud83c"), "half a character"),
        (Play(PlayKind.RUN, fouls=[]), "not be read back the same"),
        (None, "not what it should be"),
    ],
)
def test_what_could_not_be_read_again_is_known_before_it_is_written(play, said):
    assert said in "; ".join(unreadable(Play, play))


def test_what_has_its_default_is_left_out():
    assert to_plain(Inner(Colour.RED)) == {"colour": "red"}
    assert to_plain(Inner(Colour.RED, 0.25)) == {"colour": "red", "share": 0.25}


def test_a_field_added_later_reads_older_data():
    newer = make_dataclass("Newer", [("colour", Colour), ("share", float, 0.5), ("wind", str, "calm")], frozen=True)
    assert from_plain(newer, to_plain(Inner(Colour.BLUE))) == newer(Colour.BLUE, 0.5, "calm")


def test_everything_that_is_wrong_is_told_at_once_with_its_place():
    plain = {
        "text": 1, "whole": 1.5, "number": "1", "truth": 1, "rate": "1/0", "path": None, "point": {"x": "a"},
        "inner": {"colour": "green", "tint": 2}, "words": ["red", "pink"], "many": [{"colour": "red"}, 7],
        "pair": [1], "maybe": [],
    }
    with pytest.raises(Unreadable) as error:
        from_plain(Everything, plain, "here")
    assert [problem.split(":")[0] for problem in error.value.problems] == [
        "here.text", "here.whole", "here.number", "here.truth", "here.rate", "here.path", "here.point.y",
        "here.inner.tint", "here.inner.colour", "here.words[1]", "here.many[1]", "here.pair", "here.maybe",
    ]
    assert "one of 'red', 'blue', found 'green'" in str(error.value)


@pytest.mark.parametrize("bad", [True, "3", None, float("nan"), float("inf"), [3], 10**400])
def test_a_number_is_a_number(bad):
    with pytest.raises(Unreadable):
        from_plain(Inner, {"colour": "red", "share": bad})


def test_a_whole_number_may_be_written_with_a_point():
    assert from_plain(Point, {"x": "a", "y": 3.0}) == Point("a", 3)


def test_unions_that_no_reader_could_tell_apart_are_refused():
    ambiguous = make_dataclass("Ambiguous", [("value", int | str)])
    with pytest.raises(TypeError, match="no plain form"):
        to_plain(ambiguous(3))
