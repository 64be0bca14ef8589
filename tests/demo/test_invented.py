"""Invented games of other seeds: played by the rules, all different, fit to be filmed."""

from __future__ import annotations

import pytest
from workstation.demo.game_file import demo_game
from workstation.demo.invented import script_of
from workstation.demo.painter import Painter
from workstation.demo.script import HEADING, SCENES

from workstation.film.film import Film
from workstation.football.rulebook import load_rulebook
from workstation.football.tracker import track


def test_seed_zero_is_the_demo_game():
    assert script_of(0).heading == HEADING and script_of(0).scenes == SCENES


@pytest.mark.parametrize("seed", [-1, 10_000])
def test_no_such_seed(seed):
    with pytest.raises(ValueError, match="choose a seed"):
        script_of(seed)


@pytest.mark.parametrize("seed", range(1, 31))
def test_every_play_can_come_where_it_does(seed, film_of):
    script = script_of(seed)
    game = demo_game(film_of(script.scenes), seed)
    steps = track(load_rulebook("nfhs"), [tag.play for tag in game.plays])
    assert [step.problems for step in steps if step.problems] == []
    filmed = [(step.before, next(scene for scene in script.scenes if scene.play is step.play))
              for step in steps if any(scene.play is step.play for scene in script.scenes)]
    assert [before for before, scene in filmed if (before.down, before.ball_on, before.offense) != (
        scene.truth.down, scene.truth.ball_on, scene.truth.offense)] == []
    assert HEADING.home in (game.heading.home, game.heading.visitors) and game.heading.date > HEADING.date


def test_seeds_differ_and_stay_the_same():
    one, other = script_of(1), script_of(2)
    assert one.scenes != other.scenes and one.heading.date != other.heading.date
    script_of.cache_clear()
    assert script_of(1) == one


@pytest.mark.parametrize("seed", [1, 2, 3])
def test_every_scene_can_be_painted(seed, qapp):
    script = script_of(seed)
    for number, scene in enumerate(script.scenes):
        assert len(Painter(scene, number, 320, script.heading)) > 0


def test_own_words_are_said_of_its_runs_and_passes(film_of):
    game = demo_game(film_of(script_of(4).scenes), 4)
    said = [tag for tag in game.plays if tag.words]
    assert said and {str(tag.play.kind) for tag in said} == {"run", "pass"}
    assert isinstance(game.film, Film)
