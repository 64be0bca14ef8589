"""A game with several angles: what belongs to which, and instants that show the same moment.

The layout of the game in these tests, in seconds. First angle: one file s1. End zone: one file e1 whose clock is its
own. Play 1: snap at 15 in s1, at 5 in e1. Play 2: snap at 75 in s1, at 66 in e1. Play 3 was missed by the end zone.
Plays 1 and 2 have a shot each in s1; in e1 one shot runs through both.
"""

from __future__ import annotations

from dataclasses import replace

import pytest

from tests.tagging.builders import at, source
from workstation.film.film import Film
from workstation.football.plays import Play, PlayKind
from workstation.tagging.angles import (
    FIRST,
    InStep,
    angle_of,
    beginning_in,
    decision_key,
    layout_from,
    play_at,
    same_moment,
    seen_from,
    ties_of,
)
from workstation.tagging.gamefile import GameFile, InvalidOperation
from workstation.tagging.layout import FilmLayout
from workstation.tagging.model import (
    Angle,
    AngleFilm,
    CameraPlace,
    Decision,
    Evidence,
    Game,
    Heading,
    Match,
    Moment,
    MomentKind,
    PlayTag,
    Shot,
    ShotKind,
    Verdict,
)
from workstation.tagging.operations import (
    AddPlay,
    AddRecord,
    AddShots,
    AddSources,
    ChangePlay,
    ChangeShots,
    ClearDecision,
    Decide,
    FilmPlay,
    MatchPlays,
    MergeShots,
    MoveMoment,
    RemoveAngle,
    RemovePlay,
    RemoveShots,
    RemoveSources,
    SetHeading,
    SplitShot,
    UnmatchPlays,
    in_angle,
    several,
)
from workstation.tagging.records import Kind

END_ZONE = 1


@pytest.fixture
def game(tmp_path) -> Game:
    return Game(
        heading=Heading(home="Summit", visitors="Harbor", crew="J. Doe", profile="default"),
        film=Film((source("s1", tmp_path),)),
        shots=(Shot(1, at(10), at(40), ShotKind.PLAY), Shot(2, at(70), at(90), ShotKind.PLAY),
               Shot(3, at(100), at(120), ShotKind.PLAY)),
        moments=(Moment(2, MomentKind.FULL_WIDE, at(13)), Moment(1, MomentKind.SNAP, at(15)),
                 Moment(3, MomentKind.SNAP, at(75))),
        plays=tuple(PlayTag(number, number, Play(PlayKind.RUN, gain=4), number) for number in (1, 2, 3)),
        angles=(AngleFilm(Angle(END_ZONE, "End zone", CameraPlace.END_ZONE, crew="R. Roe"),
                          Film((source("e1", tmp_path),)),
                          shots=(Shot(11, at(0, "e1"), at(90, "e1"), ShotKind.PLAY),)),),
        matches=(Match(END_ZONE, 1, 11, (at(15), at(5, "e1"))), Match(END_ZONE, 2, 11, (at(75), at(66, "e1")))),
    )


@pytest.fixture
def file(tmp_path, game):
    with GameFile.create(tmp_path / "a.game", game=game) as file:
        yield file


def marked(game: Game, kind: MomentKind) -> list[float]:
    return sorted(round(float(game.film.time_of(each.at)), 1) for each in game.moments if each.kind is kind)


def test_a_game_with_one_angle_is_seen_as_it_is(tmp_path):
    game = Game(film=Film((source("s1", tmp_path),)))
    assert seen_from(game) is game
    with pytest.raises(KeyError):
        seen_from(game, 1)


def test_every_part_is_found_under_its_angle(file, game):
    assert file.game == game


def test_from_the_end_zone_its_film_is_the_film(game):
    seen = seen_from(game, END_ZONE)
    assert seen.film == game.angles[0].film
    assert [tag.shot for tag in seen.plays] == [11, 11, None]
    assert (seen.heading.crew, seen.heading.angle, seen.heading.place) == ("R. Roe", "End zone", CameraPlace.END_ZONE)
    assert [tag.play for tag in seen.plays] == [tag.play for tag in game.plays]


def test_a_snap_marked_in_one_angle_holds_in_the_other(game):
    seen = seen_from(game, END_ZONE)
    assert marked(seen, MomentKind.SNAP) == [5, 66]
    assert marked(seen, MomentKind.FULL_WIDE) == []        # about the other camera's picture
    plays = FilmLayout(seen).plays
    assert [round(plays[id].snap.time, 1) for id in (1, 2)] == [5, 66]


def test_a_dead_ball_marked_in_the_end_zone_holds_in_the_first_angle(file):
    file.do(AddRecord(Moment(0, MomentKind.DEAD_BALL, at(12, "e1"))))
    assert marked(file.game, MomentKind.DEAD_BALL) == []
    seen = seen_from(file.game, FIRST)
    assert marked(seen, MomentKind.DEAD_BALL) == [22]
    assert round(FilmLayout(seen).plays[1].dead_ball.time, 1) == 22


def test_moving_a_moment_moves_it_in_every_angle(file):
    file.do(MoveMoment(1, at(4, "e1")))
    assert marked(seen_from(file.game, END_ZONE), MomentKind.SNAP) == [4, 66]
    assert marked(seen_from(file.game), MomentKind.SNAP) == [14, 75]


def test_what_an_angle_marked_itself_stands_before_what_another_one_did(file):
    file.do(AddRecord(Moment(0, MomentKind.SNAP, at(5.3, "e1"))))
    assert marked(seen_from(file.game, END_ZONE), MomentKind.SNAP) == [5.3, 66]
    assert marked(seen_from(file.game), MomentKind.SNAP) == [15, 75]


def test_the_same_moment_in_the_other_angle(game):
    assert same_moment(game, at(17), 1, END_ZONE) == at(7, "e1")._replace(pts=near(7))
    assert same_moment(game, at(68, "e1"), 2, FIRST).source == "s1"
    assert round(float(game.film.time_of(same_moment(game, at(68, "e1"), 2, FIRST))), 1) == 77
    assert same_moment(game, at(105), 3, END_ZONE) is None       # missed
    assert same_moment(game, at(3), 1, END_ZONE) is None         # before its film begins
    assert same_moment(game, at(17), 1, FIRST) == at(17)


def test_a_moment_before_its_recording_began_is_not_in_the_recording_before(game, tmp_path):
    end_zone = game.angles[0]
    clips = replace(end_zone, film=Film((source("e1", tmp_path), source("e2", tmp_path))),
                    shots=(*end_zone.shots, Shot(12, at(0, "e2"), at(20, "e2"), ShotKind.PLAY)))
    game = replace(game, angles=(clips,),
                   matches=(game.matches[0], Match(END_ZONE, 2, 12, (at(75), at(2, "e2")))))
    assert same_moment(game, at(76), 2, END_ZONE).source == "e2"
    assert same_moment(game, at(72), 2, END_ZONE) is None
    assert same_moment(game, at(0, "e2"), 2, FIRST).source == "s1"


def near(seconds: float) -> int:
    """The tick of the picture on show at that second of a file of 30000/1001 frames a second, which begins at 900."""
    frame = int(seconds * 30000 / 1001 + 1e-9)
    return 900 + int(frame * 90000 * 1001 / 30000 + 0.5)


def test_without_a_tie_both_marked_snaps_are_the_tie(file):
    file.do(MatchPlays((Match(END_ZONE, 1, 11),)))
    assert 1 not in ties_of(file.game, END_ZONE)
    file.do(RemovePlay(2))      # one snap, one play in the end zone's shot
    file.do(AddRecord(Moment(0, MomentKind.SNAP, at(6, "e1"))))
    tie = ties_of(file.game, END_ZONE)[1]
    assert (float(tie.first), float(tie.further)) == (15, 6)


def test_decisions_belong_to_the_angle_they_were_made_about(file):
    key = "marker shot expected: play 2"
    file.do(Decide(Decision(key, Verdict.AGREED)))
    file.do(Decide(Decision(decision_key(END_ZONE, key), Verdict.WAIVED, "no chain crew on that side")))
    assert [each.verdict for each in seen_from(file.game).decisions] == [Verdict.AGREED]
    assert seen_from(file.game, END_ZONE).decisions == (Decision(key, Verdict.WAIVED, "no chain crew on that side"),)


def test_removing_an_angle_with_what_was_said_about_it_and_undoing(file, game):
    with pytest.raises(InvalidOperation, match="1 shot tagged on e1"):
        file.do(RemoveAngle(END_ZONE))
    file.do(RemoveAngle(END_ZONE, with_tags=True))
    assert (file.game.angles, file.game.matches) == ((), ())
    assert file.game.plays == game.plays
    file.undo()
    assert file.game == game


def test_a_further_angle_grows_like_the_first(file, tmp_path):
    file.do(AddRecord(Angle(0, "Sideline", CameraPlace.SIDELINE)))
    file.do(AddSources((source("", tmp_path), source("", tmp_path)), angle=2))
    sideline = file.game.angles[1]
    assert [len(each.film.sources) for each in file.game.recordings] == [1, 1, 2]
    first = sideline.film.sources[0].id
    file.do(AddShots((Shot(0, at(1, first), at(9, first), ShotKind.PLAY),)))
    assert len(file.game.angles[1].shots) == 1 and len(file.game.shots) == 3


@pytest.mark.parametrize(("operation", "said"), [
    (AddRecord(Angle(0, "  ")), "it has no text"),
    (AddRecord(Angle(0, "high")), "another angle is called"),
    (AddSources((), angle=9), "there is no angle 9"),
    (MatchPlays((Match(9, 1, 11),)), "there is no angle 9"),
    (MatchPlays((Match(END_ZONE, 8, 11),)), "there is no play 8"),
    (MatchPlays((Match(END_ZONE, 1, 2),)), "that angle has no shot 2"),
    (MatchPlays((Match(END_ZONE, 1, 11, (at(5, "e1"), at(15))),)), "there is no source 'e1'"),
    (MergeShots((1, 11)), "different angles"),
    (AddShots((Shot(0, at(590), at(9, "e1")),)), "there is no source 'e1'"),
])
def test_what_cannot_be_is_refused_and_leaves_the_game_as_it_was(file, game, operation, said):
    with pytest.raises(InvalidOperation, match=said):
        file.do(operation)
    assert file.game == game


def test_matches_follow_shots_that_are_cut_joined_and_removed(file):
    file.do(SplitShot(11, at(50, "e1")))
    assert [(match.play, match.shot) for match in file.game.matches] == [(1, 11), (2, 12)]
    file.do(MergeShots((11, 12)))
    assert [(match.play, match.shot) for match in file.game.matches] == [(1, 11), (2, 11)]
    file.do(RemoveShots((11,)))
    assert file.game.matches == ()


def test_taking_the_first_angles_file_away_leaves_matches_untied(file):
    file.do(RemoveSources(("s1",), with_tags=True))
    assert [match.same for match in file.game.matches] == [None, None]


def test_the_first_angle_has_a_name_and_a_place(game):
    assert angle_of(game, FIRST) == Angle(FIRST, "High", CameraPlace.HIGH_WIDE, "J. Doe", "default")
    assert angle_of(game, END_ZONE).name == "End zone"


def test_a_play_tagged_on_a_shot_of_a_further_angle_is_matched_and_placed_by_that_angles_film(file):
    file.do(AddShots((Shot(20, at(95, "e1"), at(110, "e1"), ShotKind.PLAY),)))
    change = file.do(AddPlay(Play(PlayKind.PASS), shot=20))
    (new,) = change.ids(Kind.PLAY)
    assert [tag.id for tag in file.game.plays] == [1, 2, 3, new]     # play 3, not filmed there, stays before it
    assert next(tag for tag in file.game.plays if tag.id == new).shot is None
    assert Match(END_ZONE, new, 20) in file.game.matches


def test_what_is_done_in_an_angle_is_done_to_that_angle(file, game):
    def do(operation):
        return file.do(in_angle(operation, END_ZONE, file.game))

    do(FilmPlay(3, 11))
    assert [match.play for match in file.game.matches] == [1, 2, 3]
    do(FilmPlay(3, None))
    assert [match.play for match in file.game.matches] == [1, 2]
    assert [tag.shot for tag in file.game.plays] == [1, 2, 3]
    do(Decide(Decision("handshake expected", Verdict.AGREED)))
    assert [each.finding for each in seen_from(file.game, END_ZONE).decisions] == ["handshake expected"]
    assert seen_from(file.game).decisions == ()
    do(ClearDecision("handshake expected"))
    assert file.game.decisions == ()
    seen = seen_from(file.game, END_ZONE).heading
    do(SetHeading(replace(seen, crew="somebody else", title="Friday", angle="Tower")))
    assert (file.game.heading.crew, file.game.heading.title, file.game.heading.angle) == ("J. Doe", "Friday", "High")
    assert angle_of(file.game, END_ZONE) == Angle(END_ZONE, "Tower", CameraPlace.END_ZONE, "somebody else")
    do(several("add a file", [AddSources((source("", file.path.parent),))]))
    assert [len(each.film.sources) for each in file.game.recordings] == [1, 2]


@pytest.fixture
def unsnapped(game) -> Game:
    """The same game without a snap: only the ties say which of the two plays in the end zone's shot runs when."""
    return replace(game, moments=())


@pytest.mark.parametrize(("at_second", "right"), [(0, 1), (5, 1), (40, 1), (60, 1), (61.5, 2), (66, 2), (89, 2)])
def test_of_two_plays_in_one_shot_the_ties_say_which_runs(unsnapped, at_second, right):
    assert play_at(unsnapped, END_ZONE, at(at_second, "e1")) == right        # play 2's own shot begins at 61 there


def test_each_of_two_plays_in_one_shot_begins_at_its_own_moment(unsnapped):
    film = unsnapped.angles[0].film
    # The first angle's shots of them begin 5 s before what ties them: at 0 and at 61 of the end zone's film.
    assert [round(float(film.time_of(beginning_in(unsnapped, play, END_ZONE))), 1) for play in (1, 2)] == [0, 61]
    assert beginning_in(unsnapped, 3, END_ZONE) is None
    assert beginning_in(unsnapped, 2, FIRST) == at(70)


@pytest.mark.parametrize("has_snaps", [True, False])
def test_of_a_shot_that_runs_through_two_plays_each_has_what_the_first_angle_shows(game, unsnapped, has_snaps):
    plays = layout_from(game if has_snaps else unsnapped, END_ZONE).plays
    assert [(round(plays[id].start, 1), round(plays[id].end, 1)) for id in (1, 2)] == [(0, 30), (61, 81)]


def test_with_snaps_each_of_them_begins_at_its_snap(game):
    film = game.angles[0].film
    assert [round(float(film.time_of(beginning_in(game, play, END_ZONE))), 1) for play in (1, 2)] == [5, 66]


@pytest.mark.parametrize(("at_second", "right"), [(5, 15), (29, 39), (66, 75), (80, 89), (45, None)])
def test_from_one_shot_of_two_plays_the_other_angle_shows_the_one_that_runs(unsnapped, at_second, right):
    there = InStep(unsnapped, END_ZONE, FIRST).at(at(at_second, "e1"))
    assert (round(float(unsnapped.film.time_of(there)), 1) if there else None) == right


def test_ties_are_worked_out_anew_only_after_a_change_of_what_they_follow_from(file):
    before = ties_of(file.game, END_ZONE)
    file.do(AddPlay(Play(PlayKind.PASS)))
    file.do(AddRecord(Moment(0, MomentKind.SNAP, at(103))))
    assert ties_of(file.game, END_ZONE) is before
    file.do(MatchPlays((Match(END_ZONE, 1, 11, (at(15), at(6, "e1"))),)))
    assert [tie.further for tie in ties_of(file.game, END_ZONE).values()] == [
        file.game.angles[0].film.time_of(at(second, "e1")) for second in (6, 66)]
    assert marked(seen_from(file.game, END_ZONE), MomentKind.SNAP) == [6, 66]


def test_a_tie_by_snaps_follows_the_snap_that_moves(file):
    file.do(MatchPlays((Match(END_ZONE, 1, 11), Match(END_ZONE, 2, 11))))
    file.do(AddRecord(Moment(0, MomentKind.SNAP, at(5, "e1"))))
    file.do(AddRecord(Moment(0, MomentKind.SNAP, at(66, "e1"))))
    assert [round(float(tie.first), 1) for tie in ties_of(file.game, END_ZONE).values()] == [15, 75]
    file.do(MoveMoment(1, at(16)))
    assert [round(float(tie.first), 1) for tie in ties_of(file.game, END_ZONE).values()] == [16, 75]
    file.undo()
    assert [round(float(tie.first), 1) for tie in ties_of(file.game, END_ZONE).values()] == [15, 75]


@pytest.fixture
def unsaid(file):
    """The end zone's shot, of which nobody has said what it films, and that matches nothing yet."""
    file.do(UnmatchPlays(END_ZONE))
    file.do(ChangeShots((replace(file.game.angles[0].shots[0], kind=None),)))
    return file


def said(file) -> tuple[ShotKind | None, bool]:
    (shot,) = file.game.angles[0].shots
    return shot.kind, shot.confirmed


@pytest.mark.parametrize(("evidence", "is_certain"), [(Evidence.SOUND, False), (Evidence.CLOCK, False),
                                                      (Evidence.PERSON, True)])
def test_a_shot_that_is_matched_with_a_play_is_a_shot_of_one_as_surely_as_it_is_matched(unsaid, evidence, is_certain):
    unsaid.do(MatchPlays((Match(END_ZONE, 1, 11, evidence=evidence),)))
    assert said(unsaid) == (ShotKind.PLAY, is_certain)
    unsaid.undo()
    assert said(unsaid) == (None, True) and not unsaid.game.matches


def test_what_a_person_says_of_a_matched_shot_stays(unsaid):
    unsaid.do(MatchPlays((Match(END_ZONE, 1, 11, evidence=Evidence.SOUND),)))
    unsaid.do(ChangeShots((replace(unsaid.game.angles[0].shots[0], kind=ShotKind.MEASUREMENT, confirmed=True),)))
    unsaid.do(MatchPlays((Match(END_ZONE, 1, 11, evidence=Evidence.SOUND),)))
    assert said(unsaid) == (ShotKind.MEASUREMENT, True)


def test_a_shot_matched_with_the_toss_films_the_toss(unsaid):
    unsaid.do(ChangePlay(1, Play(PlayKind.COIN_TOSS)))
    unsaid.do(MatchPlays((Match(END_ZONE, 1, 11, evidence=Evidence.SOUND),)))
    assert said(unsaid) == (ShotKind.COIN_TOSS, False)
