"""A run of practice: what is asked about, collected, kept and taken back. No film is needed for it."""

from __future__ import annotations

import pytest

from tests.coverage.filming import PROFILE, RULEBOOK, Filming
from workstation.coverage.answer import PracticeAnswer
from workstation.coverage.exercise import begin
from workstation.coverage.practice import PracticeSession, gaps, keep_session, read_sessions
from workstation.tagging.layout import FilmLayout


@pytest.fixture
def film() -> Filming:
    film = Filming()
    film.at(1, 10, 40)
    for gain in (3, 2, 5, 4):
        film.run(gain)
    return film


@pytest.fixture
def exercise(film):
    return begin(film.game, gaps(film.game, film.steps(), PROFILE, RULEBOOK))


def test_the_first_gap_is_asked_about_at_once_and_each_other_after_its_passage(film, exercise):
    assert exercise.asking and exercise.passage is None and exercise.gap.before is None
    following = exercise.answer(PracticeAnswer.NOTHING)
    assert not following.asking and following.place == 1
    shot = next(shot for shot in film.game.shots if shot.id == film.game.plays[0].shot)
    assert following.passage == (shot.start, shot.end)
    assert following.answer(PracticeAnswer.MARKER) is following, "it answers nothing while the passage is watched"
    assert following.collect(PracticeAnswer.MARKER) is following
    assert following.arrive().answer(PracticeAnswer.MARKER).place == 2


def test_several_answers_are_collected_and_taken_back(exercise):
    both = exercise.collect(PracticeAnswer.MARKER).collect(PracticeAnswer.BOARD)
    assert both.answer().answers[both.gap.after] == {PracticeAnswer.MARKER, PracticeAnswer.BOARD}
    assert both.answer(PracticeAnswer.SIGNAL).answers[both.gap.after] == {PracticeAnswer.MARKER, PracticeAnswer.BOARD,
                                                                          PracticeAnswer.SIGNAL}
    assert both.collect(PracticeAnswer.BOARD).answer().answers[both.gap.after] == {PracticeAnswer.MARKER}
    assert both.answer(PracticeAnswer.NOTHING).answers[both.gap.after] == {PracticeAnswer.MARKER, PracticeAnswer.BOARD}
    assert both.collect(PracticeAnswer.NOTHING).given == frozenset()
    assert exercise.answer() is exercise, "without an answer it stays"


def test_a_run_ends_behind_the_last_gap_and_can_be_taken_back_to_where_it_began(exercise):
    run = exercise
    while not run.is_over:
        run = run.arrive().answer(PracticeAnswer.NOTHING)
    assert run.gap is None and len(run.answers) == len(run.gaps) == run.result().gaps
    assert run.arrive() is run and run.answer(PracticeAnswer.BOARD) is run
    while run.can_go_back:
        before = len(run.answers)
        run = run.back()
        assert run.asking and len(run.answers) == before - 1
    assert run.answers == {} and run.back() is run and run.place == 0


def test_it_begins_where_the_film_stands(film):
    found = gaps(film.game, film.steps(), PROFILE, RULEBOOK)
    layout = FilmLayout(film.game)
    third = begin(film.game, found, layout.time(found[2].at) - 0.5)
    assert third.place == third.begun == 2 and not third.can_go_back
    assert begin(film.game, found, 1e6).place == len(found) - 1
    assert begin(film.game, ()).is_over


def test_a_run_that_goes_on_takes_the_place_of_itself_on_disk(tmp_path):
    path = tmp_path / "game.practice.json"
    other = PracticeSession("Alex", "2026-09-04", {1: frozenset({PracticeAnswer.NOTHING})})
    begun = PracticeSession("Kim", "2026-09-04", {1: frozenset({PracticeAnswer.MARKER})})
    later = PracticeSession("Kim", "2026-09-04",
                            {1: frozenset({PracticeAnswer.MARKER}), 2: frozenset({PracticeAnswer.BOARD})})
    for session, instead in ((other, None), (begun, None), (later, begun)):
        keep_session(path, session, instead)
    assert read_sessions(path) == [other, later]
    keep_session(path, begun, begun)            # one that is not there is added
    assert read_sessions(path) == [other, later, begun]
