"""Six real games filmed as a mentor asks hear next to nothing; the same films damaged hear of every damage.

Source of the plays: official play descriptions (see :mod:`.seasons`); what the crew films and what is damaged is
written down in :mod:`.discipline` without asking the checker. The bars are common practice, no source.
"""

from __future__ import annotations

import pytest

from tests.outside.overuse.discipline import DAMAGES, Examined, examine
from tests.outside.overuse.seasons import real_games


@pytest.fixture(scope="module")
def examined() -> Examined:
    return examine(list(real_games(2009, 2019, every=480))[:6])


def test_a_disciplined_film_hears_of_one_thing_at_most(examined):
    assert len(examined.false) == 6
    assert all(len(found) <= 1 for found in examined.false), [
        [finding.title for finding in found] for found in examined.false]


@pytest.mark.parametrize("name", DAMAGES)
def test_what_was_damaged_is_told(name, examined):
    assert examined.due[name] >= 30
    assert examined.came[name] / examined.due[name] >= 0.95


@pytest.mark.parametrize("name", DAMAGES)
def test_a_damage_is_told_once(name, examined):
    assert all(count <= 1 for count in examined.extra[name]), [line for line in examined.extras if line.startswith(name)]
