"""From when until when a drawing shows. Written down before it was run: a drawing of one moment stays two seconds,
none outlasts its shot, and the film's own cuts end one as well."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from pathlib import Path

import pytest

from workstation.film.film import Film, Source
from workstation.film.time import Instant
from workstation.tagging.drawn import drawn_span
from workstation.tagging.model import Drawing, DrawingKind, Shot, ShotKind

FILM = Film(tuple(Source(id, Path(f"{id}.mp4"), 1, id, Fraction(1, 100), 0, 3000, Fraction(25), 64, 36) for id in "ab"))


def at(source: str, seconds: float) -> Instant:
    return Instant(source, round(seconds * 100))


def shot(start: Instant, end: Instant) -> Shot:
    return Shot(1, start, end, ShotKind.PLAY)


def end_of(drawn_at: Instant, until: Instant | None, *shots: Shot) -> float:
    span = drawn_span(FILM, shots, Drawing(1, DrawingKind.ARROW, drawn_at, ((0, 0), (1, 1)), until))
    assert span is not None
    return float(span[1])


@pytest.mark.parametrize(("drawn_at", "until", "shots", "expected"), [
    (at("a", 5), None, (), 7),
    (at("a", 5), None, (shot(at("a", 2), at("a", 9)),), 7),
    (at("a", 8), None, (shot(at("a", 2), at("a", 9)),), 9),                          # ends with its shot
    (at("a", 8), at("a", 18), (shot(at("a", 2), at("a", 9)),), 9),                   # however long it was to stay
    (at("a", 8), None, (shot(at("a", 2), at("a", 9)), shot(at("a", 9), at("a", 20))), 9),
    (at("a", 1), None, (shot(at("a", 2), at("a", 9)),), 2),                          # outside: to the next shot
    (at("a", 29), None, (), 30),                                                     # and to the end of its file
    (at("a", 29), None, (shot(at("a", 20), at("b", 5)),), 31),                       # a shot over two files goes on
    (at("a", 29), at("b", 8), (shot(at("a", 20), at("b", 5)),), 38),
])
def test_a_drawing_ends_with_its_shot(drawn_at, until, shots, expected):
    assert end_of(drawn_at, until, *shots) == expected


def test_a_drawing_on_footage_that_is_not_in_the_film_shows_nowhere():
    gone = Drawing(1, DrawingKind.ARROW, at("z", 5), ((0, 0), (1, 1)))
    assert drawn_span(FILM, (), gone) is None
    assert drawn_span(FILM, (), replace(gone, at=at("a", 5))) is not None
