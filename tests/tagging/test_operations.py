from __future__ import annotations

from dataclasses import replace

import pytest

from tests.tagging.builders import at, source
from workstation.football.plays import Play, PlayKind
from workstation.tagging.gamefile import InvalidOperation
from workstation.tagging.model import (
    Decision,
    Drawing,
    DrawingKind,
    Framing,
    Heading,
    Moment,
    MomentKind,
    Note,
    Sequence,
    SequenceItem,
    Shot,
    ShotKind,
    Shows,
    Verdict,
)
from workstation.tagging.operations import (
    AddPlay,
    AddRecord,
    AddShots,
    AddSources,
    ChangePlay,
    ChangeRecord,
    ChangeShots,
    ClearDecision,
    ConfirmShots,
    Decide,
    FilmPlay,
    MergeShots,
    MoveMoment,
    MovePlay,
    OrderSources,
    RelinkSources,
    RemovePlay,
    RemoveRecord,
    RemoveShots,
    RemoveSources,
    SetHeading,
    SplitShot,
    TakeGame,
)
from workstation.tagging.records import Kind

RUN, PASS, PUNT = Play(PlayKind.RUN), Play(PlayKind.PASS), Play(PlayKind.PUNT)


def kinds(file) -> list[PlayKind]:
    return [tag.play.kind for tag in file.game.plays]


def refused(file, operation, said: str) -> None:
    before = file.game
    with pytest.raises(InvalidOperation, match=said):
        file.do(operation)
    assert file.game is before


# --- sources


def test_sources_join_in_order_or_where_they_are_put(file, tmp_path):
    file.do(AddSources((source("s9", tmp_path),), at=1))
    assert [each.id for each in file.game.film.sources] == ["s1", "s9", "s2"]
    refused(file, AddSources((source("s10", tmp_path),), at=9), "no position 9")


def test_a_source_with_a_used_id_gets_a_new_one(file, tmp_path):
    change = file.do(AddSources((source("s2", tmp_path), source("", tmp_path))))
    assert [each.id for each in file.game.film.sources] == ["s1", "s2", "s3", "s4"]
    assert change.added("source") == ("s3", "s4")
    file.do(RemoveSources(("s3",)))
    file.do(AddSources((source("s3", tmp_path),)))
    assert [each.id for each in file.game.film.sources] == ["s1", "s2", "s4", "s5"]


def test_reordering_sources_moves_no_tag_off_its_picture(file):
    file.do(AddRecord(Moment(0, MomentKind.SNAP, at(3))))
    before = file.game
    file.do(OrderSources(("s2", "s1")))
    assert file.game.moments == before.moments
    assert file.game.film.time_of(at(3)) == before.film.time_of(at(3)) + 600
    refused(file, OrderSources(("s1",)), "every source")


def test_shots_follow_the_film_they_lie_on(file):
    file.do(AddShots((Shot(0, at(5, "s2"), at(9, "s2")),)))
    assert [shot.start.source for shot in file.game.shots] == ["s1", "s1", "s1", "s2"]
    file.do(OrderSources(("s2", "s1")))
    assert [shot.start.source for shot in file.game.shots] == ["s2", "s1", "s1", "s1"]


def test_a_tagged_source_is_not_removed_by_accident(file):
    file.do(AddPlay(RUN, shot=1))
    file.do(AddRecord(Note(0, at(2), "look")))
    refused(file, RemoveSources(("s1",)), "3 shots, 1 note tagged on s1")
    file.do(RemoveSources(("s1",), with_tags=True))
    assert (file.game.shots, file.game.notes) == ((), ())
    assert [tag.shot for tag in file.game.plays] == [None]
    file.undo()
    assert len(file.game.shots) == 3


def test_a_source_is_relinked_only_to_the_same_recording(file, tmp_path):
    moved = replace(source("s1", tmp_path), path=tmp_path / "other" / "s1.mp4")
    file.do(RelinkSources((moved,)))
    assert file.game.film.source("s1").path == moved.path
    refused(file, RelinkSources((replace(moved, start_pts=0),)), "another clock")
    refused(file, RelinkSources((replace(moved, duration_pts=90),)), "outside source s1")
    refused(file, RelinkSources((source("s7", tmp_path),)), "no source 's7'")


# --- shots


@pytest.mark.parametrize(
    ("shot", "said"),
    [
        (Shot(0, at(25), at(24)), "end before it starts"),
        (Shot(0, at(25), at(25)), "end before it starts"),
        (Shot(0, at(15), at(25)), "overlap"),
        (Shot(0, at(25), at(35)), "overlap"),
        (Shot(0, at(21), at(601)), "outside source"),
        (Shot(0, at(600), at(1, "s2")), "outside source"),
        (Shot(0, at(50, "s3"), at(51, "s3")), "no source 's3'"),
        (Shot(1, at(50), at(51)), "shot id 1 is taken"),
        (Shot(-4, at(50), at(51)), "ids run from 1"),
    ],
)
def test_shots_that_cannot_be_are_refused(file, shot, said):
    refused(file, AddShots((shot,)), said)


def test_a_shot_may_run_on_into_the_next_source(file):
    file.do(AddShots((Shot(0, at(590), at(4, "s2")),)))
    refused(file, OrderSources(("s2", "s1")), "end before it starts")


def test_a_shot_may_end_with_its_source(file):
    file.do(AddShots((Shot(0, at(590), at(600)),)))


def test_trimming_over_a_neighbour_is_refused(file):
    first = file.game.shots[0]
    file.do(ChangeShots((replace(first, start=at(1), kind=ShotKind.PLAY),)))
    assert file.game.shots[0].start == at(1)
    refused(file, ChangeShots((replace(first, end=at(10.5)),)), "shot 2 would overlap shot 1")
    refused(file, ChangeShots((replace(first, id=77),)), "no shot 77")


def test_trimming_two_neighbours_together_moves_their_edge(file):
    first, second, _ = file.game.shots
    file.do(ChangeShots((replace(first, end=at(12)), replace(second, start=at(12)))))
    assert file.game.shots[0].end == file.game.shots[1].start == at(12)


def test_a_removed_shot_leaves_its_play_unfilmed(file):
    file.do(AddPlay(RUN, shot=2))
    file.do(RemoveShots((2,)))
    assert file.game.plays[0].shot is None
    file.undo()
    assert file.game.plays[0].shot == 2


def test_a_split_shot_gives_its_play_to_the_part_with_the_snap(file):
    file.do(AddPlay(RUN, shot=1))
    file.do(AddRecord(Moment(0, MomentKind.SNAP, at(6))))
    file.do(SplitShot(1, at(4)))
    first, second = file.game.shots[:2]
    assert (first.start, first.end, second.start, second.end) == (at(0), at(4), at(4), at(10))
    assert file.game.plays[0].shot == second.id
    file.undo()
    file.do(SplitShot(1, at(8)))
    assert file.game.plays[0].shot == 1


def test_a_shot_with_two_jobs_splits_into_them(file):
    two = replace(file.game.shots[0], kind=ShotKind.PLAY, opens_on=ShotKind.DOWN_MARKER, framing=Framing.CLOSE_TO_WIDE)
    file.do(ChangeShots((two,)))
    file.do(AddPlay(RUN, shot=1))
    file.do(SplitShot(1, at(4)))
    marker, play = file.game.shots[:2]
    assert (marker.kind, marker.opens_on, marker.framing) == (ShotKind.DOWN_MARKER, None, Framing.CLOSE)
    assert (play.kind, play.opens_on, play.framing) == (ShotKind.PLAY, None, Framing.WIDE)
    assert file.game.plays[0].shot == play.id
    file.do(MergeShots((marker.id, play.id)))
    assert file.game.shots[0] == two
    assert file.game.plays[0].shot == 1


def test_a_shot_is_not_split_at_its_edge(file):
    refused(file, SplitShot(1, at(0)), "only be split inside")
    refused(file, SplitShot(1, at(10)), "only be split inside")
    refused(file, SplitShot(9, at(1)), "no shot 9")


def test_merged_shots_show_what_each_showed(file):
    first, second, _ = file.game.shots
    file.do(ChangeShots((
        replace(first, shows=frozenset({Shows.DOWN}), confirmed=False),
        replace(second, shows=frozenset({Shows.CLOCK}), confirmed=False),
    )))
    file.do(MergeShots((2, 1)))
    joined = file.game.shots[0]
    assert (joined.id, joined.start, joined.end, joined.confirmed) == (1, at(0), at(20), True)
    assert joined.shows == {Shows.DOWN, Shows.CLOCK}


def test_only_neighbours_merge(file):
    refused(file, MergeShots((1, 3)), "neighbouring")
    refused(file, MergeShots((1, 1)), "two shots")
    refused(file, MergeShots((1, 8)), "no shot 8")


def test_found_shots_are_confirmed(file):
    file.do(ChangeShots(tuple(replace(shot, confirmed=False) for shot in file.game.shots)))
    file.do(ConfirmShots((2,)))
    assert [shot.confirmed for shot in file.game.shots] == [False, True, False]
    assert file.do(ConfirmShots()).ids("shot") == (1, 3)


# --- moments


def test_moments_come_in_film_order_and_move(file):
    file.do(AddRecord(Moment(0, MomentKind.DEAD_BALL, at(9))))
    file.do(AddRecord(Moment(0, MomentKind.SNAP, at(3))))
    assert [moment.kind for moment in file.game.moments] == [MomentKind.SNAP, MomentKind.DEAD_BALL]
    assert file.do(MoveMoment(2, at(9.5))).description == "move snap"
    assert [moment.id for moment in file.game.moments] == [1, 2]
    file.do(RemoveRecord(Kind.MOMENT, 1))
    assert [moment.id for moment in file.game.moments] == [2]


def test_one_moment_of_a_kind_at_a_picture(file):
    file.do(AddRecord(Moment(0, MomentKind.SNAP, at(3))))
    file.do(AddRecord(Moment(0, MomentKind.FULL_WIDE, at(3))))
    refused(file, AddRecord(Moment(0, MomentKind.SNAP, at(3))), "snap is already marked at this picture")
    refused(file, AddRecord(Moment(0, MomentKind.SNAP, at(600))), "outside source")
    refused(file, RemoveRecord(Kind.MOMENT, 7), "no moment 7")


# --- plays


def test_a_play_takes_its_place_by_its_shot(file):
    file.do(AddPlay(RUN, shot=1))
    file.do(AddPlay(PUNT, shot=3))
    assert file.do(AddPlay(PASS, shot=2)).description == "tag play 2"
    assert kinds(file) == [PlayKind.RUN, PlayKind.PASS, PlayKind.PUNT]


def test_a_play_that_was_not_filmed_comes_last_or_where_it_is_put(file):
    file.do(AddPlay(RUN, shot=1))
    file.do(AddPlay(Play(PlayKind.TIMEOUT)))
    assert file.do(AddPlay(PASS, shot=2)).description == "tag play 3"
    file.do(AddPlay(Play(PlayKind.COIN_TOSS), after=0))
    assert kinds(file) == [PlayKind.COIN_TOSS, PlayKind.RUN, PlayKind.TIMEOUT, PlayKind.PASS]
    file.do(AddPlay(Play(PlayKind.NO_PLAY), after=1))
    assert kinds(file)[1:3] == [PlayKind.RUN, PlayKind.NO_PLAY]
    refused(file, AddPlay(RUN, after=66), "no play 66")
    refused(file, AddPlay(RUN, shot=66), "no shot 66")


def test_there_is_always_room_between_two_plays(file):
    file.do(AddPlay(RUN))
    file.do(AddPlay(PUNT))
    for _ in range(120):  # a float halves about 50 times
        file.do(AddPlay(PASS, after=1))
    assert kinds(file) == [PlayKind.RUN, *[PlayKind.PASS] * 120, PlayKind.PUNT]
    assert [tag.id for tag in file.game.plays] == [1, *range(122, 2, -1), 2]


def test_plays_move(file):
    for play in (RUN, PASS, PUNT):
        file.do(AddPlay(play))
    file.do(MovePlay(3, after=1))
    assert kinds(file) == [PlayKind.RUN, PlayKind.PUNT, PlayKind.PASS]
    file.do(MovePlay(2, after=0))
    assert kinds(file) == [PlayKind.PASS, PlayKind.RUN, PlayKind.PUNT]
    refused(file, MovePlay(1, after=1), "cannot follow itself")
    refused(file, MovePlay(9, after=1), "no play 9")


def test_a_play_is_changed_and_filmed_by_another_shot(file):
    file.do(AddPlay(RUN, shot=1))
    assert file.do(ChangePlay(1, PASS)).description == "change play 1"
    file.do(FilmPlay(1, 3))
    assert (file.game.plays[0].play, file.game.plays[0].shot) == (PASS, 3)
    file.do(FilmPlay(1, None))
    refused(file, FilmPlay(1, 9), "no shot 9")


def test_a_removed_play_leaves_its_sequences(file):
    file.do(AddPlay(RUN))
    file.do(AddPlay(PASS))
    file.do(AddRecord(Sequence(0, "both", (SequenceItem(1), SequenceItem(2, 1.5)))))
    file.do(RemovePlay(1))
    assert file.game.sequences[0].items == (SequenceItem(2, 1.5),)
    file.undo()
    assert len(file.game.sequences[0].items) == 2


# --- notes, drawings, decisions, sequences, heading


def test_notes(file):
    file.do(AddRecord(Note(0, at(3), "look", at(4))))
    file.do(ChangeRecord(Note(1, at(5), "look again")))
    assert file.game.notes == (Note(1, at(5), "look again"),)
    refused(file, AddRecord(Note(0, at(3), "  ")), "no text")
    refused(file, AddRecord(Note(0, at(3), "x", at(2))), "end before it starts")
    refused(file, AddRecord(Note(0, at(3), "half \ud83c")), "half a character")
    refused(file, ChangeRecord(Note(2, at(5), "none")), "no note 2")


def test_drawings(file):
    circle = Drawing(0, DrawingKind.CIRCLE, at(3), ((0.5, 0.5), (0.6, 0.5)))
    file.do(AddRecord(circle))
    file.do(ChangeRecord(replace(circle, id=1, until=at(5))))
    assert file.game.drawings[0].until == at(5)
    refused(file, AddRecord(replace(circle, points=())), "no points")
    refused(file, AddRecord(replace(circle, points=((0.5, 1.01),))), "in the picture")
    refused(file, AddRecord(replace(circle, points=((float("nan"), 0),))), "expected a number")
    refused(file, AddRecord(replace(circle, kind=DrawingKind.TEXT)), "no text")


def test_decisions(file):
    file.do(Decide(Decision("key", Verdict.AGREED)))
    file.do(Decide(Decision("key", Verdict.WAIVED, "rain")))
    assert file.game.decisions == (Decision("key", Verdict.WAIVED, "rain"),)
    refused(file, Decide(Decision("key", Verdict.WAIVED, " ")), "a waiver needs a reason")
    refused(file, Decide(Decision("key")), "say agreed, waived or a comment")
    refused(file, Decide(Decision("", Verdict.AGREED)), "needs the key")
    file.do(ClearDecision("key"))
    assert file.game.decisions == ()
    refused(file, ClearDecision("key"), "no decision 'key'")


def test_sequences(file):
    file.do(AddPlay(RUN))
    file.do(AddRecord(Sequence(0, "one")))
    file.do(ChangeRecord(Sequence(1, "two", (SequenceItem(1),))))
    assert file.game.sequences == (Sequence(1, "two", (SequenceItem(1),)),)
    refused(file, AddRecord(Sequence(0, "bad", (SequenceItem(9),))), "no play 9")
    refused(file, AddRecord(Sequence(0, "bad", (SequenceItem(1, float("inf")),))), "lead_in: expected a number")


def test_the_heading(file):
    file.do(SetHeading(Heading("Friday", date="2026-09-04")))
    assert file.game.heading.title == "Friday"
    refused(file, SetHeading(Heading(date="4.9.2026")), "write it like 2026-09-04")
    refused(file, SetHeading(Heading(rulebook=" ")), "a rulebook is needed")


def test_a_whole_game_goes_only_into_an_empty_file(file):
    refused(file, TakeGame(file.game), "not empty")


def test_what_is_undone_has_a_name_that_people_use(file):
    said = []
    for operation in (
        AddPlay(RUN, shot=1), ChangePlay(1, PASS), FilmPlay(1, None), AddPlay(RUN), MovePlay(2, 0),
        AddRecord(Note(0, at(1), "x")), AddRecord(Moment(0, MomentKind.CHAINS_SET, at(1))),
        MergeShots((1, 2)), RemoveShots((1, 3)), RemovePlay(1),
    ):
        file.do(operation)
        said.append(file.can_undo)
    assert said == [
        "tag play 1", "change play 1", "set play 1 as not filmed", "tag play 2", "move play 2", "write a note",
        "mark chains set", "merge 2 shots", "remove 2 shots", "remove play 2",
    ]


class Forgetful:
    """An operation that removes a record and forgets what hangs on it."""

    def __init__(self, kind: Kind, id: int | str):
        self.kind, self.id = kind, id

    def describe(self, game) -> str:
        return "forget"

    def apply(self, draft) -> None:
        draft.remove(self.kind, self.id)


def test_the_rules_hold_whatever_an_operation_forgets(file):
    file.do(AddPlay(RUN, shot=1))
    file.do(AddRecord(Sequence(0, "one", (SequenceItem(1),))))
    refused(file, Forgetful(Kind.PLAY, 1), "sequence 'one': there is no play 1")
    refused(file, Forgetful(Kind.SHOT, 1), "play 1: there is no shot 1")


def test_no_source_comes_between_the_parts_of_a_shot(file, tmp_path):
    file.do(AddSources((source("s3", tmp_path),)))
    file.do(AddShots((Shot(0, at(590), at(4, "s2")), Shot(0, at(50, "s3"), at(60, "s3")))))
    refused(file, OrderSources(("s1", "s3", "s2")), "shot 5 would overlap shot 4")
