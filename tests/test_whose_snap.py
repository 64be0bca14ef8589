"""Whose snap a mark is: every part of the program gives the same answer for one shot that films two plays.

Expected, from the rules: the ball is dead from the first dead-ball mark after its snap until it is snapped again
(NFHS 4-2, NCAA 4-1), so with snaps at 4 and 16 s and dead balls at 8, 20 and 22 s the first play runs from 4 to 8
and the second from 16 to 20. The mark at 22 s comes while the ball is dead.
"""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest

from tests.tagging.builders import at, source
from workstation.coverage.footage import Footage
from workstation.delivery.segment import play_segments
from workstation.delivery.sequence import stills_of
from workstation.delivery.sheets import plays_sheet
from workstation.desk.review.compare import side_of
from workstation.desk.timeline.lanes import Basis
from workstation.desk.timeline.lanes.plays import PlaysLane
from workstation.film.film import Film
from workstation.football.field import Team
from workstation.football.plays import Outcome, Play, PlayKind
from workstation.football.rulebook import load_rulebook
from workstation.football.tracker import track
from workstation.tagging.gamefile import GameFile
from workstation.tagging.layout import FilmLayout
from workstation.tagging.model import Game, Moment, MomentKind, PlayTag, SequenceItem, Shot, ShotKind
from workstation.tagging.operations import SplitShot, TakeGame

EXPECTED = {1: (4.0, 8.0), 2: (16.0, 20.0)}
WHOLE = {1: (0.0, 16.0), 2: (8.0, 30.0)}          # from where the play before is over to the next snap


@pytest.fixture
def game(tmp_path) -> Game:
    marks = [(MomentKind.SNAP, 4), (MomentKind.DEAD_BALL, 8), (MomentKind.FULL_WIDE, 12), (MomentKind.SNAP, 16),
             (MomentKind.DEAD_BALL, 20), (MomentKind.DEAD_BALL, 22)]
    return Game(film=Film((source("s1", tmp_path, 40),)), shots=(Shot(1, at(0), at(30), ShotKind.PLAY),),
                moments=tuple(Moment(id, kind, at(seconds)) for id, (kind, seconds) in enumerate(marks, 1)),
                plays=(PlayTag(1, 1.0, Play(PlayKind.KICKOFF, Outcome.RETURNED, team=Team.HOME, kick_to=90, spot=75),
                               1),
                       PlayTag(2, 2.0, Play(PlayKind.RUN, gain=3), 1)))


def steps_of(game: Game):
    return track(load_rulebook("nfhs"), [tag.play for tag in game.plays])


def seconds(game: Game, instant) -> float:
    return float(game.film.time_of(instant))


def test_film_layout_and_coverage(game):
    layout = FilmLayout(game)
    assert {id: play.action for id, play in layout.plays.items()} == EXPECTED
    assert {id: (play.start, play.end) for id, play in layout.plays.items()} == WHOLE
    assert layout.plays[1].full_wide is None and layout.plays[2].full_wide.time == 12
    snaps = Footage(game, steps_of(game)).filmed
    assert {snap.tag.id: (snap.snap.time, snap.dead_ball.time) for snap in snaps} == EXPECTED
    assert [layout.play_at(time) for time in (0, 7.9, 8, 40)] == [1, 1, 2, 2]


def test_timeline_and_sheet(game):
    lane = PlaysLane(None)
    blocks = lane.blocks_of(Basis(game, steps_of(game), None, FilmLayout(game)))
    assert {id: (blocks.start[row], blocks.end[row]) for row, id in enumerate(blocks.ids)} == EXPECTED
    sheet = plays_sheet(game, steps_of(game))
    assert dict(zip((1, 2), zip(sheet["snap"], sheet["dead_ball"], strict=True), strict=True)) == EXPECTED


def test_comparison_aligns_each_play_on_its_own_snap(game):
    for play, (snap, _) in EXPECTED.items():
        side = side_of(game, play)
        assert side.marked and seconds(game, side.snap) == snap
        assert (seconds(game, side.start), seconds(game, side.end)) == WHOLE[play]


def test_segments_and_stills_of_a_pack(game):
    for play, marks in EXPECTED.items():
        segments = play_segments(game, steps_of(game), [SequenceItem(play)])
        assert segments[0].duration == Fraction(WHOLE[play][1] - WHOLE[play][0])
        assert [seconds(game, instant) for instant, _ in stills_of(game, segments)] == list(marks)
    trimmed = play_segments(game, steps_of(game), [SequenceItem(1, -5.0, 0.0)])
    assert [seconds(game, instant) for instant, _ in stills_of(game, trimmed)] == [8]     # the snap was cut away


def test_the_snap_to_go_to_is_that_of_the_play_at_hand(game):
    layout = FilmLayout(game)
    assert [seconds(game, layout.snap_of_shot(1, time)) for time in (1, 5, 9, 25)] == [4, 4, 16, 16]
    untagged = FilmLayout(replace(game, plays=()))
    assert [seconds(game, untagged.snap_of_shot(1, time)) for time in (1, 25)] == [4, 4]


@pytest.mark.parametrize(("cut", "shots"), [(10, {1: 1, 2: 2}), (2, {1: 2, 2: 2}), (25, {1: 1, 2: 1})])
def test_splitting_the_shot_sends_each_play_with_its_snap(game, tmp_path, cut, shots):
    with GameFile.create(tmp_path / "one.game") as file:
        file.do(TakeGame(game))
        file.do(SplitShot(1, at(cut)))
        assert {tag.id: tag.shot for tag in file.game.plays} == shots


def test_marks_that_cannot_be_told_apart_belong_to_nobody(game):
    """Two plays and one snap: it may be either's."""
    layout = FilmLayout(replace(game, moments=game.moments[3:]))
    assert [(play.snap, play.dead_ball, play.start, play.end)
            for play in layout.plays.values()] == [(None, None, 0, 30)] * 2


def test_an_event_in_the_shot_takes_no_snap(game):
    timeout = PlayTag(3, 1.5, Play(PlayKind.TIMEOUT, team=Team.HOME), 1)
    layout = FilmLayout(replace(game, plays=(game.plays[0], timeout, game.plays[1])))
    assert {id: layout.plays[id].action for id in (1, 2)} == EXPECTED and layout.plays[3].snap is None


def test_a_dead_ball_behind_the_last_picture_is_still_in_its_shot(game):
    moved = replace(game, moments=(*game.moments[:4], Moment(9, MomentKind.DEAD_BALL, at(30))))
    assert FilmLayout(moved).plays[2].dead_ball.time == 30
    followed = replace(moved, shots=(*moved.shots, Shot(2, at(30), at(35))))
    assert FilmLayout(followed).plays[2].dead_ball is None
