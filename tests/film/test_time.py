from __future__ import annotations

import pytest

from workstation.film.time import spoken_time


@pytest.mark.parametrize(("seconds", "words", "with_tenths"), [
    (0, "0:00", "0:00.0"), (-3, "0:00", "0:00.0"), (59.44, "0:59", "0:59.4"), (59.5, "1:00", "0:59.5"),
    (59.96, "1:00", "1:00.0"), (3599.6, "1:00:00", "59:59.6"), (3599.96, "1:00:00", "1:00:00.0"),
    (3723.44, "1:02:03", "1:02:03.4")])
def test_film_time_is_rounded_half_up_and_never_shows_sixty(seconds, words, with_tenths):
    assert (spoken_time(seconds), spoken_time(seconds, tenths=True)) == (words, with_tenths)
