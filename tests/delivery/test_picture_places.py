"""Where several pictures stand in one: on the screen and in what is rendered."""

from __future__ import annotations

from fractions import Fraction
from itertools import combinations

import pytest

from workstation.delivery.picture_places import SMALL, PicturePlace, corners, tiles, two_apart

WIDE = Fraction(16, 9)


def overlap(one: PicturePlace, other: PicturePlace) -> bool:
    return not (one.left + one.width <= other.left or other.left + other.width <= one.left
                or one.top + one.height <= other.top or other.top + other.height <= one.top)


def is_inside(one: PicturePlace, width: int, height: int) -> bool:
    return one.left >= 0 and one.top >= 0 and one.left + one.width <= width and one.top + one.height <= height


@pytest.mark.parametrize("size", [(160, 90), (640, 360), (720, 576), (1080, 1920), (1920, 1080), (3840, 2160)])
@pytest.mark.parametrize("number", [2, 3, 4, 5])
def test_small_pictures_lie_in_the_large_one_and_not_on_each_other(size, number):
    large, *small = corners(number, *size)
    assert large == (0, 0, *size) and len(small) == number - 1
    for each in small:
        assert is_inside(each, *size) and all(side % 2 == 0 and side > 0 for side in each)
        assert each.width <= SMALL * size[0] and abs(each.width / each.height - size[0] / size[1]) < 0.15
        assert each.left >= size[0] / 2 or number > 2
    assert not any(overlap(*pair) for pair in combinations(small, 2))


@pytest.mark.parametrize("size", [(160, 90), (720, 576), (1920, 1080)])
@pytest.mark.parametrize("number", [2, 3, 4])
def test_pictures_beside_each_other_do_not_overlap(size, number):
    places = tiles(number, *size)
    assert all(is_inside(each, *size) for each in places) and not any(overlap(*p) for p in combinations(places, 2))


def area(place: PicturePlace, form: Fraction) -> Fraction:
    """Of a picture of a form, as large as a place has room for."""
    width = min(Fraction(place.width), place.height * form)
    return width * width / form


@pytest.mark.parametrize(("size", "form", "beside"), [
    ((640, 200), WIDE, True), ((1200, 600), WIDE, True), ((600, 600), WIDE, False), ((300, 200), WIDE, False),
    ((400, 300), Fraction(9, 16), True), ((240, 135), WIDE, True)])
def test_two_pictures_stand_so_that_they_are_largest(size, form, beside):
    one, other = two_apart(*size, 4, form)
    assert not overlap(one, other) and is_inside(one, *size) and is_inside(other, *size)
    assert (one.top == other.top) is beside
    width, height = size
    half, level = PicturePlace(0, 0, (width - 4) // 2, height), PicturePlace(0, 0, width, (height - 4) // 2)
    assert area(one, form) == area(other, form) == max(area(half, form), area(level, form))
