"""Painted close-ups of one seed, each named as what it is. More seeds: ``python -m tests.bench suggesting``."""

from __future__ import annotations

import pytest

from tests.film.finding.close_ups import KINDS, film
from workstation.film.film import Film
from workstation.film.finding import found_shots, survey


@pytest.mark.parametrize("kind", KINDS, ids=str)
def test_a_painted_close_up_is_named(kind, tmp_path):
    source = film(kind, 3, tmp_path / "clip.mp4")
    assert [shot.kind for shot in found_shots(Film((source,)), {"clip": survey(source)})] == [str(kind)]
