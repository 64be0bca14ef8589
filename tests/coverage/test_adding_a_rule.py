"""Adding a rule touches one file and one profile entry, nothing else."""

from __future__ import annotations

import pytest

from tests.coverage.filming import Filming, places
from workstation.coverage import rules
from workstation.coverage.profile import load_profile

RULE = '''
from workstation.coverage.rule import Rule


class NoShortShots(Rule):
    title = "No short shots"
    label = "longer shot"
    reason = "A viewer needs a moment to see what a shot shows."

    least: float

    def judge(self, screening):
        for take in screening.footage.takes:
            if take.tagged and take.seconds < self.least:
                yield self.finding(screening, f"shot {take.shot.id}", take.shot.start, title="Shot too short",
                                   why=self.reason, habit="Let every shot stand for a moment.", period=1,
                                   shot=take.shot.id)
'''


@pytest.fixture
def one_more_rule(tmp_path, monkeypatch):
    (tmp_path / "no_short_shots.py").write_text(RULE)
    monkeypatch.setattr(rules, "__path__", [*rules.__path__, str(tmp_path)])
    for known in (rules.rule_names, rules.rule_class):
        known.cache_clear()
    yield tmp_path
    for known in (rules.rule_names, rules.rule_class):
        known.cache_clear()


def test_one_file_and_one_entry(one_more_rule):
    profile = one_more_rule / "crew.toml"
    profile.write_text('based_on = "default"\n[rules.no_short_shots]\nseverity = "note"\nleast = 2.0\n')
    film = Filming()
    film.at(2, 6, 40)
    film.run(5)
    film.expect("no short shots")
    film.marker(seconds=1.0)
    film.run(3)
    assert places(film.check(load_profile(profile, folders=()))) == film.expected
    assert places(film.check()) == []
