"""Every kind of film in the table leaves the program as it came in: seeks, copies, renderings, stills, packs."""

from __future__ import annotations

import pytest

from tests.delivery.film_kinds import STAGES, Kind, Unmakable, check
from tests.delivery.film_kinds_table import TABLE


@pytest.mark.parametrize("kind", TABLE, ids=lambda kind: kind.name)
def test_kind(kind: Kind, tmp_path):
    try:
        told = check(kind, tmp_path)
    except Unmakable as why:
        pytest.skip(f"{kind.name} cannot be made here: {why}")
    assert set(told) == set(STAGES)
    for stage, result in told.items():
        expected = "refused" if stage in kind.refused else "right"
        assert result.startswith(expected), f"{stage}: {result}"


def test_the_table_is_wide_enough():
    assert len(TABLE) >= 60 and len({kind.name for kind in TABLE}) == len(TABLE)
