"""The end zone's film of the demo game: matched by the program's own functions, judged against the script's truth.

What the second camera did is said in :mod:`workstation.demo.end_zone` alone, and nothing of it is told to the game.
"""

from __future__ import annotations

import pytest
from workstation.demo.end_zone import APART, MISSED, RUNS_THROUGH, recorded_at, shots
from workstation.demo.film_it import film_demo, picture_at
from workstation.demo.game_file import add_end_zone
from workstation.demo.script import HEADING, SCENES
from workstation.demo.tracks import FPS

from workstation.film.sources import open_film
from workstation.film.time import Instant
from workstation.tagging.angles import seen_from, ties_of
from workstation.tagging.gamefile import GameFile
from workstation.tagging.layout import FilmLayout
from workstation.tagging.model import Game, Moment, MomentKind, PlayTag, Shot, ShotKind

_NAMES = ("home run for four", "home incomplete", "visitors run for three", "visitors run for two", "touchdown pass",
          "kneel")
_CHOSEN = tuple(index for index, one in enumerate(SCENES) if one.name in _NAMES)


def test_it_starts_and_stops_by_itself_misses_two_plays_and_runs_through_one():
    filmed = shots(SCENES)
    plays = [index for index, scene in enumerate(SCENES) if scene.kind is ShotKind.PLAY]
    missing = set(plays) - {index for shot in filmed for index in shot.scenes}
    assert {SCENES[index].name for index in missing} == set(MISSED)
    (joined,) = (shot for shot in filmed if len(shot.scenes) > 1)
    assert SCENES[joined.scenes[0]].name == RUNS_THROUGH and joined.scenes[1] == joined.scenes[0] + 1
    for shot in filmed:
        first, last = SCENES[shot.scenes[0]], SCENES[shot.scenes[-1]]
        assert shot.begins < APART * shot.scenes[0] + first.at(MomentKind.SNAP)
        assert shot.ends > APART * shot.scenes[-1] + last.at(MomentKind.DEAD_BALL)
    assert recorded_at(filmed[0], HEADING.date) > f"{HEADING.date}T19:01:"


@pytest.fixture(scope="module")
def matched(tmp_path_factory) -> Game:
    """The chosen scenes' plays on the first camera's film, and the end zone's added."""
    folder, cache = tmp_path_factory.mktemp("demo"), tmp_path_factory.mktemp("cache")
    film = open_film(film_demo(folder / "high", width=160, scenes=_CHOSEN, cache=cache))
    shot_of, moments, plays = [], [], []
    for place, (index, source) in enumerate(zip(_CHOSEN, film.sources, strict=True), 1):
        scene = SCENES[index]
        shot_of.append(Shot(place, source.first, source.end, ShotKind.PLAY))
        plays.append(PlayTag(place, float(place), scene.play, place))
        moments += [Moment(2 * place + at, kind,
                           Instant(source.id, source.start_pts + picture_at(scene.at(kind)) * 1001))
                    for at, kind in enumerate((MomentKind.SNAP, MomentKind.DEAD_BALL))]
    path = folder / "demo.game"
    GameFile.create(path, game=Game(HEADING, film, tuple(shot_of), tuple(moments), tuple(plays))).close()
    add_end_zone(path, folder / "end", scenes=_CHOSEN, cache=cache)
    with GameFile.open(path) as file:
        assert file.can_undo
        return file.game


def test_every_play_is_matched_with_the_shot_that_shows_it_and_the_missed_one_is_left_open(matched):
    filmed = shots(SCENES, _CHOSEN)
    right = {play: place for play, index in enumerate(_CHOSEN, 1) for place, shot in enumerate(filmed)
             if index in shot.scenes}
    order = {shot.id: place for place, shot in enumerate(matched.angles[0].shots)}
    assert {match.play: order[match.shot] for match in matched.matches} == right
    assert {SCENES[_CHOSEN[play - 1]].name for play in range(1, 7)} - {
        SCENES[_CHOSEN[match.play - 1]].name for match in matched.matches} == {"visitors run for two"}


def test_both_angles_stand_together_to_a_picture(matched):
    filmed, film = shots(SCENES, _CHOSEN), matched.angles[0].film
    order = {shot.id: place for place, shot in enumerate(matched.angles[0].shots)}
    ties = ties_of(matched, 1)
    for match in matched.matches:
        index, shot = _CHOSEN[match.play - 1], filmed[order[match.shot]]
        here = APART * index + float(ties[match.play].first - matched.film.starts_at(match.same[0].source))
        there = shot.begins + float(ties[match.play].further - film.starts_at(match.same[1].source))
        assert abs(here - there) <= 1.01 / FPS


def test_from_the_end_zone_each_play_has_the_snap_that_the_script_says(matched):
    filmed, seen = shots(SCENES, _CHOSEN), seen_from(matched, 1)
    order = {shot.id: place for place, shot in enumerate(matched.angles[0].shots)}
    for play, where in FilmLayout(seen).plays.items():
        index, shot = _CHOSEN[play - 1], filmed[order[where.shot.id]]
        snap = shot.begins + where.snap.time - float(seen.film.starts_at(where.snap.at.source))
        assert abs(snap - APART * index - SCENES[index].at(MomentKind.SNAP)) <= 2.01 / FPS
