"""Correcting matches: one is moved and the rest follows, as one action; a tie is corrected by pictures.

The rows are plays 1 to 6 and shots 1 to 6 of the further angle, each play filmed by the shot of its number, unless a
case says otherwise. What is right was written down from the description of the actions, before they were run.
"""

from __future__ import annotations

from dataclasses import replace

import pytest

from tests.tagging.two_cameras import ANGLE, Evening
from workstation.tagging.angle_matching import propose
from workstation.tagging.angles import ties_of
from workstation.tagging.gamefile import GameFile
from workstation.tagging.model import Evidence, Game, Match, ShotKind
from workstation.tagging.operations import TakeGame
from workstation.tagging.rematching import (
    CannotRematch,
    match_columns,
    matched_by_hand,
    moved_match,
    nudged_tie,
    said_by_matches,
    tied,
    unsaid_matches,
    with_hole,
    without_hole,
)

ROW = 100       # the ids of the further shots count on from here


def made(plays: int) -> Evening:
    evening = Evening(plays=plays, seed=21)
    (further,) = evening.game.angles
    shots = tuple(replace(shot, id=ROW + shot.id) for shot in further.shots)
    evening.game = replace(evening.game, angles=(replace(further, shots=shots),))
    return evening


@pytest.fixture(scope="module")
def evening() -> Evening:
    return made(6)


@pytest.fixture
def kept(evening, tmp_path):
    with GameFile.create(tmp_path / "two.game") as file:
        yield file


def matched(evening: Evening, films: dict[int, int]) -> Game:
    return replace(evening.game, matches=tuple(Match(ANGLE, play, ROW + shot, evidence=Evidence.SOUND)
                                               for play, shot in films.items()))


def after(kept: GameFile, game: Game, operation) -> dict[int, int]:
    """Who films what once *operation* is done; and one undo brings all of it back."""
    kept.do(TakeGame(game))
    kept.do(operation)
    films = {match.play: match.shot - ROW for match in kept.game.matches}
    kept.undo()
    assert kept.game.matches == game.matches
    return films


STRAIGHT = {number: number for number in range(1, 7)}

MOVED = [
    (STRAIGHT, moved_match, (3, 1), {1: 1, 2: 2, 3: 4, 4: 5, 5: 6}),
    (STRAIGHT, moved_match, (1, 1), {1: 2, 2: 3, 3: 4, 4: 5, 5: 6}),
    (STRAIGHT, moved_match, (6, 1), CannotRematch),
    (STRAIGHT, moved_match, (4, -1), {1: 1, 2: 2, 3: 3, 4: 3, 5: 4, 6: 5}),
    ({1: 1, 2: 1, 3: 2}, moved_match, (2, -1), CannotRematch),
    ({1: 2, 2: 2, 3: 3}, moved_match, (2, -1), CannotRematch),
    ({1: 1, 3: 3}, moved_match, (2, 1), CannotRematch),
    (STRAIGHT, with_hole, (3,), {1: 1, 2: 2, 4: 3, 5: 4, 6: 5}),
    (STRAIGHT, with_hole, (6,), {1: 1, 2: 2, 3: 3, 4: 4, 5: 5}),
    ({1: 1, 2: 3, 4: 4}, with_hole, (2,), {1: 1, 4: 3}),
    ({1: 1}, with_hole, (2,), CannotRematch),
    ({1: 1, 3: 2, 4: 3, 5: 4, 6: 5}, without_hole, (2,), {1: 1, 2: 2, 3: 3, 4: 4, 5: 5, 6: 6}),
    ({1: 1, 2: 2, 4: 6}, without_hole, (3,), {1: 1, 2: 2, 3: 6}),
    ({1: 1, 2: 2}, without_hole, (3,), {1: 1, 2: 2, 3: 3}),
    ({}, without_hole, (4,), {4: 1}),
    ({5: 6}, without_hole, (6,), CannotRematch),
    (STRAIGHT, without_hole, (3,), CannotRematch),
    (STRAIGHT, matched_by_hand, (3, ROW + 5), {**STRAIGHT, 3: 5}),
    (STRAIGHT, matched_by_hand, (3, None), {1: 1, 2: 2, 4: 4, 5: 5, 6: 6}),
]


@pytest.mark.parametrize(("before", "act", "arguments", "right"), MOVED)
def test_a_move_and_what_follows_are_one_action(evening, kept, before, act, arguments, right):
    game = matched(evening, before)
    if right is CannotRematch:
        with pytest.raises(CannotRematch):
            act(game, ANGLE, *arguments)
    else:
        assert after(kept, game, act(game, ANGLE, *arguments)) == right


def test_what_is_not_moved_keeps_its_evidence(evening, kept):
    kept.do(TakeGame(matched(evening, STRAIGHT)))
    kept.do(moved_match(kept.game, ANGLE, 4, 1))
    assert {match.play: match.evidence for match in kept.game.matches} == {
        1: Evidence.SOUND, 2: Evidence.SOUND, 3: Evidence.SOUND, 4: Evidence.PERSON, 5: Evidence.PERSON}


def test_the_rows_stand_above_each_other():
    game = matched(made(4), {1: 1, 2: 1, 4: 3})
    rows = [(column.play, column.shot and column.shot - ROW) for column in match_columns(game, ANGLE)]
    assert rows == [(1, 1), (2, 1), (3, None), (None, 2), (4, 3), (None, 4)]


def test_what_a_person_moved_is_tied_by_sound_when_it_is_matched_again(evening):
    game = replace(evening.game, matches=tuple(Match(ANGLE, play, ROW + play) for play in (2, 3)))
    found = {match.play: match for match in propose(game, ANGLE, evening.traces).matches}
    assert found[2].evidence is found[3].evidence is Evidence.PERSON
    ties = ties_of(replace(game, matches=tuple(found.values())), ANGLE)
    for play in (2, 3):
        assert abs(float(ties[play].further - ties[play].first) - evening.same[play]) <= 1001 / 30000


def test_a_tie_is_corrected_by_whole_pictures(evening, kept):
    game = replace(evening.game, matches=propose(evening.game, ANGLE, evening.traces).matches)
    kept.do(TakeGame(game))
    before = ties_of(kept.game, ANGLE)[3]
    kept.do(nudged_tie(kept.game, ANGLE, 3, 2))
    there = ties_of(kept.game, ANGLE)[3]
    assert there.first == before.first
    assert float(there.further - before.further) == pytest.approx(2 * 1001 / 30000, abs=1e-4)
    kept.do(nudged_tie(kept.game, ANGLE, 3, -2))
    assert ties_of(kept.game, ANGLE)[3] == before


def test_a_marked_moment_ties_and_its_order_is_free(evening, kept):
    kept.do(TakeGame(matched(evening, STRAIGHT)))
    here, there = evening.game.film.sources[2].first, evening.game.angles[0].film.sources[2].first
    for one, other in ((here, there), (there, here)):
        kept.do(tied(kept.game, 3, one, other))
        assert next(match for match in kept.game.matches if match.play == 3).same == (here, there)
        kept.undo()
    with pytest.raises(CannotRematch, match="same angle"):
        tied(kept.game, 3, here, evening.game.film.sources[3].first)
    with pytest.raises(CannotRematch, match="not matched"):
        tied(matched(evening, {}), 3, here, there)


def test_shots_matched_before_a_match_said_what_they_film_are_said_as_one_action(evening, kept):
    game = matched(evening, {play: play for play in range(1, 5)})
    (further,) = game.angles
    kinds = {1: ShotKind.PLAY, 2: None, 3: None, 4: ShotKind.EXTRA, 5: None, 6: None}       # 5 and 6 match nothing
    shots = tuple(replace(shot, kind=kinds[shot.id - ROW]) for shot in further.shots)
    by_hand = tuple(replace(match, evidence=Evidence.PERSON) if match.play == 3 else match for match in game.matches)
    kept.do(TakeGame(replace(game, angles=(replace(further, shots=shots),), matches=by_hand)))
    before = kept.game
    assert [match.play for match in unsaid_matches(before, ANGLE)] == [2, 3]
    kept.do(said_by_matches(before, ANGLE))
    said = {shot.id - ROW: (shot.kind, shot.confirmed) for shot in kept.game.angles[0].shots if shot.id - ROW in (2, 3)}
    assert said == {2: (ShotKind.PLAY, False), 3: (ShotKind.PLAY, True)}
    assert {shot.id - ROW: shot.kind for shot in kept.game.angles[0].shots} == {
        **kinds, 2: ShotKind.PLAY, 3: ShotKind.PLAY}
    assert kept.game.matches == before.matches and not unsaid_matches(kept.game, ANGLE)
    with pytest.raises(CannotRematch, match="has been said"):
        said_by_matches(kept.game, ANGLE)
    kept.undo()
    assert kept.game == before
