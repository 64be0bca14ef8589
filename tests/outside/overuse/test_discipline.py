"""Six real games filmed as a mentor asks hear next to nothing; the same films damaged hear of every damage.

Source of the plays: official play descriptions (see :mod:`.seasons`); what the crew films and what is damaged is
written down in :mod:`.discipline` without asking the checker. The bars are common practice, no source.
"""

from __future__ import annotations

import random

import pytest

from tests.outside.overuse.discipline import DAMAGES, Examined, disciplined, examine, shot_game
from tests.outside.overuse.seasons import official_steps, real_games
from workstation.coverage.checker import check
from workstation.coverage.profile import load_profile
from workstation.coverage.summary import summarise
from workstation.football.rulebook import load_rulebook


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
    assert all(count <= 1 for count in examined.extra[name]), [line for line in examined.extras
                                                               if line.startswith(name)]


def test_a_dozen_overuses_reach_the_habits_beside_lost_signals_and_a_dozen_early_cuts():
    game = next(iter(real_games(2009, 2019, every=480)))
    steps, rulebook, profile = official_steps(game), load_rulebook("professional",
                                                                   game.season), load_profile(folders=())
    pieces, chance = disciplined(steps, profile), random.Random(16)
    for name in ("signal dropped", "cut early", "marker too many"):
        pieces, _ = DAMAGES[name][1](pieces, steps, chance)
    summary = summarise(check(shot_game(pieces, steps), steps, profile, rulebook))
    assert "Keep the marker for moments of doubt" in " ".join(habit.advice for habit in summary.habits)
    assert {"penalty signal expected", "marker shot not needed"} <= {rule for rule, _ in summary.weakest()}
    everything = summary.tally()
    assert everything.share > 0.85, "what one number over all practices would have hidden"
