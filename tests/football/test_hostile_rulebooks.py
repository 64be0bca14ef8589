"""A short run of :mod:`.hostile_rulebooks`, and the values that a person may well write."""

from __future__ import annotations

import pytest

from tests.football.hostile_rulebooks import attack
from workstation.football.rulebook import FOLDER, RulebookError, read_rulebook


def test_any_rulebook_is_refused_or_played():
    counted, losses = attack(150, 20)
    assert not losses, losses[0]
    assert counted["played"] > 5 and counted["refused"] > 50


@pytest.mark.parametrize(("was", "now", "said"), [
    ('periods = { value = 4', 'periods = { value = 999999999', "expected 1 to 20"),
    ('downs = { value = 4', 'downs = { value = 0', "expected 2 to 4"),
    ('field_length = { value = 100', 'field_length = { value = 1e300', "expected 30 to 150"),
    ('kickoff_spot = { value = 40', 'kickoff_spot = { value = 140', "field's length"),
    ('periods = { value = 4', 'periods = { value = ' + '9' * 400, "a number of more than 20 digits"),
    ('periods = { value = 4', 'periods = { value = ' + '9' * 9000, "not a readable TOML file"),
])
def test_a_number_that_cannot_be_is_named_with_what_is_expected(tmp_path, was, now, said):
    text = (FOLDER / "nfhs.toml").read_text(encoding="utf-8")
    assert was in text
    path = tmp_path / "own.toml"
    path.write_text(text.replace(was, now, 1), encoding="utf-8")
    with pytest.raises(RulebookError) as error:
        read_rulebook(path)
    assert said in str(error.value) and len(str(error.value)) < 500
