"""Which shots film plays that were tagged before there were any shots."""

from __future__ import annotations

from pathlib import Path

from tests.tagging.builders import source
from workstation.film.film import Film
from workstation.film.time import Instant
from workstation.football.plays import Play, PlayKind
from workstation.tagging.gamefile import GameFile
from workstation.tagging.model import Game, Heading, PlayTag, Shot, ShotKind
from workstation.tagging.new_play import filming_in_order


def game_of(kinds, plays):
    """Ten seconds a shot; *plays* are kinds of plays, each with the shot that films it or None."""
    camera = source("camera", Path("/card"))

    def at(place):
        return Instant("camera", 900 + place * 900_000)

    shots = tuple(Shot(number, at(number), at(number + 1), kind) for number, kind in enumerate(kinds, 1))
    tags = tuple(PlayTag(100 + number, float(number), Play(kind), shot) for number, (kind, shot) in enumerate(plays))
    return Game(Heading("A game", "Marlow", "Ridge"), Film((camera,)), shots, plays=tags)


def filmed(game, tmp_path):
    """The shots of the plays once they are filmed in order; None if there is nothing to do."""
    operation = filming_in_order(game)
    if operation is None:
        return None
    with GameFile.create(tmp_path / "a.game", game=game) as file:
        file.do(operation)
        return [tag.shot for tag in file.game.plays], [shot.kind for shot in file.game.shots]


TOSS, KICKOFF, RUN, TIMEOUT = PlayKind.COIN_TOSS, PlayKind.KICKOFF, PlayKind.RUN, PlayKind.TIMEOUT
PLAY, MARKER = ShotKind.PLAY, ShotKind.DOWN_MARKER


def test_each_play_gets_the_next_shot_that_may_show_it(tmp_path):
    game = game_of([None, PLAY, MARKER, PLAY, None, PLAY],
                   [(TOSS, None), (KICKOFF, None), (RUN, None), (TIMEOUT, None), (RUN, None)])
    shots, kinds = filmed(game, tmp_path)
    assert shots == [1, 2, 4, None, 5] and kinds[0] is ShotKind.COIN_TOSS and kinds[4] is None


def test_without_the_toss_what_nobody_named_before_the_first_play_films_none(tmp_path):
    assert filmed(game_of([None, None, PLAY, PLAY], [(KICKOFF, None), (RUN, None)]), tmp_path)[0] == [3, 4]


def test_plays_that_have_their_shots_keep_them_and_the_others_come_behind(tmp_path):
    game = game_of([PLAY, PLAY, PLAY, PLAY], [(KICKOFF, 2), (RUN, None), (RUN, 4), (RUN, None)])
    assert filmed(game, tmp_path)[0] == [2, 3, 4, None]


def test_there_is_nothing_to_do_without_shots_or_without_such_plays(tmp_path):
    assert filmed(game_of([], [(KICKOFF, None)]), tmp_path) is None
    assert filmed(game_of([PLAY], [(KICKOFF, 1)]), tmp_path) is None
    assert filmed(game_of([PLAY], [(TIMEOUT, None)]), tmp_path) is None
