"""Damaged footage ends in a picture or in a reason, never in a crash or a hang. More of it: tests/film/hostile.py."""

from __future__ import annotations

import pytest

from tests.film.hostile import attack
from tests.footage import KINDS


@pytest.mark.parametrize("kind", KINDS)
def test_mutations_are_read_or_refused_with_a_reason(kind, tmp_path, monkeypatch):
    monkeypatch.setenv("FILM_WORKSTATION_CACHE", str(tmp_path / "cache"))
    counts, failures = attack([kind], 6, seed=7, folder=tmp_path)
    assert failures == []
    assert sum(number for (stage, _), number in counts.items() if stage == "probe") == 6
