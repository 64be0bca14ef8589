from __future__ import annotations

from itertools import combinations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.tagging.builders import at, source
from workstation.film.film import Film
from workstation.football.field import Team
from workstation.football.plays import Play, PlayKind
from workstation.football.sheet import SheetRow
from workstation.tagging import row_matching as matching
from workstation.tagging.game_order import untagged
from workstation.tagging.gamefile import GameFile
from workstation.tagging.model import Game, PlayTag, Shot, ShotKind
from workstation.tagging.records import Kind
from workstation.tagging.row_matching import RowMatch, match, pins_named, take_in

UNHURRIED = settings(deadline=None)  # a slow machine is no failure

RUN = SheetRow(Play(PlayKind.RUN, gain=3))
TIMEOUT = SheetRow(Play(PlayKind.TIMEOUT, team=Team.HOME))
TOSS = SheetRow(Play(PlayKind.COIN_TOSS))
MEASUREMENT = SheetRow(Play(PlayKind.MEASUREMENT))


def shots(*kinds: ShotKind | None) -> tuple[Shot, ...]:
    return tuple(Shot(10 + number, at(number * 10), at(number * 10 + 9), kind) for number, kind in enumerate(kinds))


def test_as_many_rows_as_shots_pair_up_surely():
    pairing = match([RUN] * 3, shots(None, ShotKind.PLAY, None))
    assert pairing.pairs == (RowMatch(0, 10), RowMatch(1, 11), RowMatch(2, 12))


def test_kinds_decide_what_films_what():
    film = shots(ShotKind.COIN_TOSS, ShotKind.DOWN_MARKER, ShotKind.PLAY, ShotKind.MEASUREMENT, ShotKind.PLAY)
    pairing = match([TOSS, RUN, MEASUREMENT, TIMEOUT, RUN], film)
    assert pairing.shot_of == {0: 10, 1: 12, 2: 13, 3: None, 4: 14}
    assert pairing.shots_without_row == (11,)
    assert all(pair.sure for pair in pairing.pairs)


def test_a_shot_with_two_jobs_films_its_play():
    two_jobs = Shot(7, at(0), at(9), ShotKind.PLAY, ShotKind.DOWN_MARKER)
    assert match([RUN], [two_jobs]).shot_of == {0: 7}


def test_a_foul_before_the_snap_is_filmed_by_the_play_shot_rather_than_by_the_signal():
    foul = SheetRow(Play(PlayKind.NO_PLAY))
    assert match([foul], shots(ShotKind.PLAY, ShotKind.PENALTY_SIGNAL)).pairs == (RowMatch(0, 10), RowMatch(None, 11))
    assert match([foul], shots(ShotKind.PENALTY_SIGNAL)).shot_of == {0: 10}
    assert match([foul, RUN], shots(ShotKind.PLAY)).shot_of == {0: None, 1: 10}


def test_a_gap_is_seen_and_not_pretended_to_be_sure():
    pairing = match([RUN] * 3, shots(None, None))
    assert len(pairing.rows_without_shot) == 1
    assert not any(pair.sure for pair in pairing.pairs if pair.row is not None)


def test_a_pin_makes_the_rest_fall_into_place():
    pairing = match([RUN] * 3, shots(None, None), {1: None})
    assert pairing.shot_of == {0: 10, 1: None, 2: 11}
    assert all(pair.sure for pair in pairing.pairs)


def test_an_extra_shot_is_seen():
    pairing = match([RUN, RUN], shots(None, None, None), {1: 12})
    assert pairing.shot_of[1] == 12
    assert len(pairing.shots_without_row) == 1


@pytest.mark.parametrize(
    ("pins", "said"),
    [({0: 11, 1: 10}, "cannot be filmed"), ({0: 10, 1: 10}, "cannot be filmed"), ({5: 10}, "row 5"), ({0: 99}, "99")],
)
def test_impossible_pins_are_refused(pins, said):
    with pytest.raises(ValueError, match=said):
        match([RUN, RUN], shots(None, None), pins)


def test_a_sheet_may_name_its_shots(tmp_path):
    game = Game(film=Film((source("s1", tmp_path),)), shots=shots(None, None, None))
    rows = [SheetRow(RUN.play, {"Shot": "3"}), SheetRow(RUN.play, {"Shot": ""}), SheetRow(RUN.play, {"Shot": "99"})]
    assert pins_named(rows, game) == {0: 12}


kinds = st.sampled_from([None, *ShotKind])
plays = st.sampled_from(list(PlayKind)).map(lambda kind: SheetRow(Play(kind)))


@UNHURRIED
@given(st.lists(plays, max_size=7), st.lists(kinds, max_size=7))
def test_every_row_and_shot_comes_once_and_in_order(rows, shot_kinds):
    film = shots(*shot_kinds)
    pairs = match(rows, film).pairs
    assert [pair.row for pair in pairs if pair.row is not None] == list(range(len(rows)))
    assert [pair.shot for pair in pairs if pair.shot is not None] == [shot.id for shot in film]


def alignments(rows: int, film: int):
    """Every way to pair that many rows and shots in order, as {row: shot or None}."""
    for size in range(min(rows, film) + 1):
        for chosen in combinations(range(rows), size):
            for places in combinations(range(film), size):
                yield dict.fromkeys(range(rows)) | dict(zip(chosen, places, strict=True))


@UNHURRIED
@given(st.lists(plays, max_size=4), st.lists(kinds, max_size=4))
def test_the_pairing_is_the_best_of_all_and_says_where_it_is_not_the_only_one(rows, shot_kinds):
    film = shots(*shot_kinds)

    def score(shot_of):
        paired = sum(
            matching._row_gap(rows[row].play) if place is None else matching._worth(rows[row].play, film[place])
            for row, place in shot_of.items()
        )
        spare = [shot for place, shot in enumerate(film) if place not in shot_of.values()]
        return paired + sum(matching._shot_gap(shot) for shot in spare)

    everything = list(alignments(len(rows), len(film)))
    best = max(map(score, everything))
    winners = [shot_of for shot_of in everything if score(shot_of) == best]
    pairing = match(rows, film)
    places = {shot.id: place for place, shot in enumerate(film)} | {None: None}
    assert {row: places[shot] for row, shot in pairing.shot_of.items()} in winners
    for pair in pairing.pairs:
        if pair.row is not None:
            assert pair.sure == (len({winner[pair.row] for winner in winners}) == 1)
        else:
            assert pair.sure == all(places[pair.shot] not in winner.values() for winner in winners)


def test_taking_in_tags_every_row_in_its_place(file):
    rows = [TOSS, RUN, TIMEOUT, RUN]
    first, second, third = file.game.shots
    file.do(take_in(file.game, rows, {0: None, 1: first.id, 2: None, 3: third.id}, file.next_id(Kind.PLAY)))
    assert [(tag.play.kind, tag.shot) for tag in file.game.plays] == [
        (PlayKind.COIN_TOSS, None), (PlayKind.RUN, first.id), (PlayKind.TIMEOUT, None), (PlayKind.RUN, third.id)]
    assert file.game.shots[0].kind is ShotKind.PLAY
    assert [shot.id for shot in untagged(file.game)] == [second.id]
    assert file.can_undo == "take in a sheet of 4 plays"
    file.undo()
    assert file.game.plays == ()
    assert file.game.shots[0].kind is None


def test_rows_go_between_the_plays_there_are(tmp_path):
    film = Film((source("s1", tmp_path),))
    there = PlayTag(1, 1.0, Play(PlayKind.PUNT), 11)
    game = Game(film=film, shots=shots(None, None, None), plays=(there,))
    with GameFile.create(tmp_path / "a.game", game=game) as file:
        file.do(take_in(file.game, [RUN, TIMEOUT, RUN], {0: 10, 1: None, 2: 12}, file.next_id(Kind.PLAY)))
        assert [(tag.play.kind, tag.shot) for tag in file.game.plays] == [
            (PlayKind.RUN, 10), (PlayKind.TIMEOUT, None), (PlayKind.PUNT, 11), (PlayKind.RUN, 12)]
